//! What the registry answers.

/// A cable in the hand.
mod hand;
/// A small job for these tests.
mod mill;
/// Racks, panels and positions.
mod rack;
