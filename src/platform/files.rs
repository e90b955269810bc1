//! Files that people carry in and out.

mod picking;
mod saving;

pub use picking::{PickedFile, pick};
pub use saving::{Outgoing, Saved, save};
