//! What is to be printed, and for whom.

mod content;
pub(crate) mod order;
mod stock;
