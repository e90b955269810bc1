//! The registry of every cable end of a low-voltage job.
//!
//! The modules below stand in reading order; each may use only those that its row in
//! `DEVELOPERS.md` names, and `tests/architecture.rs` holds them to it.

/// The nouns of the trade, their ids, names, lengths and places, and the rules that relate them.
pub mod domain;

/// What people did on a job, as a set that phones can merge, and the registry that follows from it.
pub mod journal;
/// The browser behind the ports, in the browser only.
#[cfg(target_arch = "wasm32")]
pub mod platform;
