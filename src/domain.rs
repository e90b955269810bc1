//! The nouns of the trade as pure values: no input or output, no clock, no dice, no serialisation.

/// Who wrote what, and which thing is meant.
pub mod ids;
/// The codes on tags, panels and plates.
pub mod label;
/// Lengths with their units.
pub mod length;
/// What a cable is made of, and what it can be terminated on.
pub mod medium;
/// What hangs where in a rack.
pub mod mount;
/// Sorting that is compiled once.
pub mod order;
/// The kinds of outlet and the cables that each gets.
pub mod outlet_type;
/// Photographs and plans.
pub mod picture;
/// Which colour goes on which pin of an 8P8C jack.
pub mod pinout;
/// Where ends belong and where they are.
pub mod place;
/// Maps and sets that are compiled small.
pub mod sorted;
/// What a person typed: shown so that nothing in it hides, and compared as people compare names.
pub mod text;
/// What happens to cables, ends and positions on site.
pub mod work;
