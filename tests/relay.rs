//! Texts from phone to phone as series of codes.

mod day;
mod series;
mod vectors;
