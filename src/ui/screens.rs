//! One file a screen.

pub(super) mod job;
pub(super) mod jobs;
