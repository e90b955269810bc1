//! Files that people carry in and out.

mod picking;
mod saving;
mod sending;

pub use picking::{PickedFile, pick, pick_pictures};
pub use saving::{Outgoing, Saved, save};
pub use sending::{TextSent, send_text};
