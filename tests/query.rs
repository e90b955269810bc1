//! What the registry answers.

/// A cable in the hand.
mod hand;
/// Racks, panels and positions.
mod rack;
