//! What the registry answers, checked case by case and against `SQLite`.

/// One cable with both its ends.
mod cable;
/// The punch list against the same questions asked in SQL.
mod check_against_sqlite;
/// The same counts on every screen.
mod counts;
/// What was done, in words.
mod deeds;
/// Small jobs told in a few words, for tests to read.
mod desk;
/// Looking things up.
mod find;
/// One row of a flat table from one fact.
mod flat;
/// Seeded jobs of people who disagree, undo and err.
mod generator;
/// A cable in the hand.
mod hand;
/// Small cases for each kind of finding.
mod kinds;
/// What length marks say.
mod lengths;
/// Which tags hold.
mod printed;
/// How far cables are proved, and what opens a proof again.
mod proof;
/// Where the cables that have no position yet might land.
mod propose;
/// Bundles for the boxes at hand.
mod pull;
/// The check beside `SQLite`, by the clock.
mod race;
/// Racks, panels and positions.
mod rack;
/// `SQLite` as the outside reference.
mod reference;
/// Numbered remotes.
mod remotes;
/// What a scanned tag says.
mod scan;
/// The time that a large job takes.
mod speed;
/// What feeds what.
mod stations;
/// The wall.
mod wall;
