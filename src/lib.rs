//! The registry of every cable end of a low-voltage job.
//!
//! The modules below stand in reading order; each may use only those that its row in
//! `DEVELOPERS.md` names, and `tests/architecture.rs` holds them to it.

/// The nouns of the trade, their ids, names, lengths and places, and the rules that relate them.
pub mod domain;
/// Files that people carry in and out: each read gives a value and a list of findings.
pub mod exchange;
