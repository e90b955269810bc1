//! The browser behind the ports of `app`: it moves texts and bytes and reads what the device says.
//!
//! It knows nothing of cables or jobs beyond their ids, so it cannot decide anything. Compiled for
//! the browser only. An answer of the browser that is not what was asked for is a
//! [`Trouble`](crate::app::ports::Trouble), or nothing where it may be lost; never a panic.

mod browser;
/// The time of day.
pub mod clock;
/// Random bits.
pub mod dice;
/// Files that come with the app.
pub mod fetch;
/// Files that people carry in and out.
pub mod files;
/// A listener that ends with its owner.
pub mod listening;
/// The part of the address behind `#`.
pub mod location;
/// The title of the page and where the keyboard is.
pub mod page;
/// What happens when the program meets its own mistake.
pub mod panic;
/// Papers, made in another thread.
pub mod papers;
/// Whether the browser promises to keep what is stored, and how much room there is.
pub mod persist;
/// Pictures: made smaller, and shown.
pub mod pictures;
/// The camera, and the reader of tags.
pub mod scanner;
/// What may be lost.
pub mod settings;
/// Reading a text aloud.
pub mod speech;
/// The store of all jobs.
pub mod store;
/// Other tabs on the same job.
pub mod tabs;
mod trouble;
