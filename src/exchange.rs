//! Files that people carry in and out. Every read gives a value and a list of findings; nothing
//! here panics on any input, and nothing knows the screen or the browser.

/// The job file: everything that people did on a job, to be merged on another phone.
pub mod jobfile;
