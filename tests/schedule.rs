//! Cable schedules into a job and out of it.

mod export;
mod numbering;
mod plan;
mod rooms;
mod support;
