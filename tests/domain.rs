//! The nouns of the trade, checked against outside sources.

/// Pins and colours of the eight-position jack.
mod pinout;
