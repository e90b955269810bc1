//! The nouns of the trade and what is recorded of a job: the part of Bothends that opens a job, and so the
//! part that has to be fast.
//!
//! A package of its own (`src/Cargo.toml`) for one reason: Cargo says by package how something is compiled, and
//! the app is compiled to be small but for this. Nothing else knows of it: the app has both modules as its own.

/// The nouns of the trade, their ids, names, lengths and places, and the rules that relate them.
pub mod domain;

/// What people did on a job, as a set that phones can merge, and the registry that follows from it.
pub mod journal;
