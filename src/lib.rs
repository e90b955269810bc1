//! The registry of every cable end of a low-voltage job.
//!
//! The modules below stand in reading order; each may use only those that its row in
//! `DEVELOPERS.md` names, and `tests/architecture.rs` holds them to it.

/// The nouns of the trade, their ids, names, lengths and places, and the rules that relate them.
pub mod domain;

/// The codes on tags, panels and plates as text: printed, read, typed, proposed and drawn as QR.
pub mod codes;
