//! Texts from phone to phone as series of codes.

mod series;
mod vectors;
