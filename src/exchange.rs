//! Files that people carry in and out. Every read gives a value and a list of findings, or one
//! fault in words; nothing here panics on any input, and nothing knows the screen or the browser.

/// A job file with pictures.
pub mod bundle;
/// The comma-separated form itself: bytes to rows and back.
pub mod csv;
/// The demo job as it travels with the app.
pub mod heads;
/// The job file: everything that people did on a job, to be merged on another phone.
pub mod jobfile;
/// What a phone has of a job.
pub mod known;
/// A cable schedule: which column of a sheet holds what, and its rows as texts by column.
pub mod schedule;
