//! How tags lie on paper.

mod fit;
mod label;
mod leaf;
mod pdf;
mod proof;
