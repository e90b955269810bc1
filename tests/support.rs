//! Jobs and seeds to test with, and a world that stands still.

pub(crate) mod large;
pub(crate) mod marrowby;
pub(crate) mod seeds;
pub(crate) mod still;
