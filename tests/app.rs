//! What people do on the screens, without a browser.

/// A cable schedule on its way in.
mod import;
/// The list of jobs.
mod jobs;
/// The punch list in words.
mod mend;
/// The forms of planning.
mod plan;
/// The forms and ways of the rack.
mod rack;
/// The job that the browser tests of the rack start from.
mod rack_job;
mod wall;
