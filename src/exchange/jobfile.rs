//! The job file: an open text form, one JSON value a line, that carries what people did on a job
//! from phone to phone. `docs/formats.md` describes it.
//!
//! The lines of the job stand in it to the letter. The last line counts them and carries digests,
//! so that a file that was cut off or altered on its way is told from a whole one. The digests
//! show damage. They do not show forgery, and initials are a claim, not proof.

use crate::domain::ids::JobId;

mod finding;
mod reading;
mod writing;

pub use finding::Finding;
pub use reading::{Limits, read, read_within};
pub use writing::write;

/// The word that marks the first and the last line as ours.
const FORMAT: &str = "bothends-job";

/// The version that is written, and the newest that is fully understood.
const VERSION: u32 = 1;

/// What the first line of a job file says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// The version of the format.
    pub version: u32,
    /// The job.
    pub job: JobId,
    /// What the job was called when the file was written.
    pub name: String,
}

impl Header {
    /// Tells when the file is of another job than the one that is open here: such lines are never
    /// merged.
    #[must_use]
    pub fn other_job(&self, open: JobId) -> Option<Finding> {
        (self.job != open).then(|| Finding::OtherJob {
            name: self.name.clone(),
            key: self.job.key(),
            open: open.key(),
        })
    }
}

/// What a job file gave.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// What the first line says; none when it cannot be read, and then nobody knows which job the
    /// lines belong to.
    pub header: Option<Header>,
    /// The lines that are whole, as they were stored, for [`crate::journal::Journal::take`].
    pub lines: Vec<String>,
    /// Lines that can be read, but come from somebody whose digest does not match, or stand after
    /// the end. Taking in an altered line beside the true one makes both count for nothing, so
    /// these are for the case that no better copy exists.
    pub doubtful: Vec<String>,
    /// What is to be said about the file; nothing when it is whole.
    pub findings: Vec<Finding>,
}
