//! The running app as pure values: its model, the closed list of what can happen, and what the
//! outside is asked to do about it.

/// What the app needs of the outside.
pub mod ports;
