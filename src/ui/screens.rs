//! One file a screen.

pub(super) mod cable;
pub(super) mod cover;
pub(super) mod crew;
/// One rack as it stands.
pub(super) mod elevation;
pub(super) mod evening;
pub(super) mod feeds;
pub(super) mod find;
pub(super) mod footage;
pub(super) mod hand;
pub(super) mod hand_cable;
pub(super) mod history;
pub(super) mod import;
pub(super) mod incoming;
pub(super) mod job;
pub(super) mod jobs;
pub(super) mod loose;
pub(super) mod outlet;
pub(super) mod panel;
pub(super) mod pen;
pub(super) mod pictures;
pub(super) mod propose;
pub(super) mod pull;
pub(super) mod punch;
pub(super) mod rack;
pub(super) mod racks;
/// Numbered remotes.
pub(super) mod remotes;
pub(super) mod room;
pub(super) mod rooms;
/// The scanner, and what it read.
pub(super) mod scan;
/// What was read, and what is next.
pub(super) mod scanned;
/// Tags, and label stocks.
pub(super) mod tags;
/// Outlet types.
pub(super) mod types;
pub(super) mod wall;
