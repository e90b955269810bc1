//! One file a screen.

pub(super) mod cable;
pub(super) mod find;
pub(super) mod history;
pub(super) mod job;
pub(super) mod jobs;
pub(super) mod loose;
pub(super) mod punch;
