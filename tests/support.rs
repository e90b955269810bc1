//! Jobs and seeds to test with, and a world that stands still.

/// The clock of measurements.
pub(crate) mod clock;
/// Many flags to print.
pub(crate) mod flags;
/// Hostile input by seed.
pub(crate) mod fuzz;
pub(crate) mod large;
pub(crate) mod marrowby;
/// The app with a job open.
pub(crate) mod opened;
/// A job of any size, made fast.
pub(crate) mod plain;
/// Many racks.
pub(crate) mod racks;
pub(crate) mod seeds;
pub(crate) mod still;
/// The text of a tag.
pub(crate) mod tag_text;
/// A job without positions.
pub(crate) mod unplaced;
