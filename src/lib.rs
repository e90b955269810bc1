//! The registry of every cable end of a low-voltage job.
//!
//! The modules below stand in reading order; each may use only those that its row in
//! `DEVELOPERS.md` names, and `tests/architecture.rs` holds them to it.

/// The running app as pure values.
pub mod app;
/// What people want to have written.
pub mod command;
/// The nouns of the trade, their ids, names, lengths and places, and the rules that relate them.
pub mod domain;
/// Files that people carry in and out.
pub mod exchange;
/// What people did on a job, as a set that phones can merge, and the registry that follows from it.
pub mod journal;
/// How things are called.
pub mod names;
/// The order in which people walk a job.
pub mod walk;
