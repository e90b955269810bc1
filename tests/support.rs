//! Jobs to test with.

pub(crate) mod large;
pub(crate) mod marrowby;
