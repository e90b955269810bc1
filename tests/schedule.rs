//! Cable schedules into a job and out of it.

mod export;
mod plan;
mod support;
