//! The registry of every cable end of a low-voltage job.
//!
//! The modules below stand in reading order; each may use only those that its row in
//! `DEVELOPERS.md` names, and `tests/architecture.rs` holds them to it.

// Drawings are written with a macro that takes them up one piece at a time.
#![recursion_limit = "512"]

/// Smaller and quicker than the allocator that the target has by default: opening a large job asks for
/// memory some twenty times per line.
#[cfg(target_arch = "wasm32")]
#[global_allocator]
static MEMORY: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();

// The nouns of the trade, and what is recorded of a job: they are compiled as a package of their own.
pub use bothends_record::{domain, journal};

/// How things are called.
pub mod names;

/// The order in which people walk a job.
pub mod walk;

/// What stands on tags and what people type, read and printed, and the QR code for it.
pub mod codes;

/// The reader of tags: a grey picture in, the text of a code out. Built into a module of its own.
pub mod scan;

/// What is to be printed: labels, tags, and the order that a printer is given.
pub mod tags;

/// How it lies on paper. Built into a module of its own, which is loaded to print.
pub mod papers;

/// What people want to have written.
pub mod command;

/// Read-only answers for screens, as plain data.
pub mod query;

/// Files that people carry in and out: each read gives a value and a list of findings.
pub mod exchange;

/// A cable schedule into a job, and out of it.
pub mod schedule;

/// A text from phone to phone as a running series of codes.
pub mod relay;

/// The running app as pure values.
pub mod app;

/// What a screen shows, as plain values.
pub mod view;

/// What the app shows.
pub mod ui;

/// The browser behind the ports of the app.
#[cfg(target_arch = "wasm32")]
pub mod platform;

/// What happened on the page, as what it means.
#[cfg(target_arch = "wasm32")]
pub mod touched;

/// Drawings onto the page, and touches back.
#[cfg(target_arch = "wasm32")]
pub mod paint;

/// The composition root.
#[cfg(target_arch = "wasm32")]
pub mod shell;
