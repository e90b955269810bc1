//! Read-only answers about a job: what is wrong, what is left to do, and how far the work is.
//!
//! An answer is plain data made of ids. It holds no sentence for the screen, changes nothing and
//! remembers nothing: asked twice of one registry, it is the same twice.

/// One cable with both its ends.
pub mod cable;
mod check;
/// Conduits and boxes with their cables.
pub mod conduit;
/// Which walls may be closed.
pub mod cover;
/// Who worked where.
pub mod crew;
/// What was done, in words.
pub mod deeds;
/// One rack as it stands.
pub mod elevation;
/// The state of a job in the evening.
pub mod evening;
/// Looking things up.
pub mod find;
/// A cable in the hand: which one is it, and where does it go?
pub mod hand;
/// Loose ends.
pub mod loose;
/// Pictures.
pub mod pictures;
/// What a job is planned from.
pub mod plan;
/// Printed tags.
pub mod printed;
/// How far cables are proved.
pub mod proof;
/// Where the cables that have no position yet might land.
pub mod propose;
/// The pull: bundles, boxes, what is in hand.
pub mod pull;
mod punch;
/// Racks, panels and positions.
pub mod rack;
/// Numbered remotes.
pub mod remotes;
mod run;
/// What a tag says, and where one stands.
pub mod scan;
/// What feeds what.
pub mod stations;
mod tally;
/// What somebody at the wall needs to see.
pub mod wall;

pub use check::{Field, Finding, Gate, Thing, What, check, due};
pub use punch::{Item, begin_with, due_at, items};
pub use run::{room_of, shown_outlet};
pub use tally::{OrderTally, RoomTally, Tallies, Tally, tally};
