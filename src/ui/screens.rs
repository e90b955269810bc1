//! One file a screen.

pub(super) mod hand;
pub(super) mod hand_cable;
pub(super) mod job;
pub(super) mod jobs;
pub(super) mod panel;
pub(super) mod rack;
