//! How tags lie on paper.

mod fit;
mod label;
mod pdf;
mod proof;
