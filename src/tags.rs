//! What is to be printed: labels as they are bought, what stands on each tag, and the order that a
//! printer is given. How it lies on paper is left to `papers`.

/// Lengths on paper.
mod microns;
/// Labels as they are bought.
mod stock;

/// The characters that a label can show.
mod characters;
/// What tags are wanted of.
mod choice;
/// What stands on a tag.
mod content;
/// Papers of a rack.
mod leaf;
/// What is printed in one go.
mod order;
/// What was printed and is not so any more.
mod outdated;
/// How far apart the ports of a panel are.
mod ports;

pub use characters::{code_of, lacking};
pub use choice::{Choice, Chosen, Wishes};
pub use content::{chosen, pen_list, strip_words};
pub use leaf::{
    BOOKLET, Booklet, Leaf, LeafKind, Readers, door_card, elevations, is_guarded, panel_map,
    panel_maps,
};
pub use microns::Microns;
pub use order::{Badge, Dots, Look, Order, Tag, UnreadableOrder};
pub use outdated::{Outdated, StaleStrip, StaleTag, outdated};
pub use ports::Ports;
pub use stock::{BadStock, Feed, Grid, Shape, Stock, built_in};
