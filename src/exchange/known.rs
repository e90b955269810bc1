//! What a phone has of a job, as a text: up to which number of each writer nothing is missing. The
//! other phone then shows what it lacks, and no more.
//!
//! The first line is `bothends-known 1 JOB`, each further one `WRITER NUMBER`.

use crate::domain::ids::{ActId, Bits80, JobId, WriterId};
use crate::domain::order::Order;

/// What the first line begins with; the digit is the version.
const HEAD: &str = "bothends-known 1 ";

/// The most lines that are read: more openings of one job than there will ever be.
const MOST: usize = 100_000;

/// What a phone has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Known {
    /// The job.
    pub job: JobId,
    /// The last act of each writer before which none is missing, by id.
    pub last: Vec<ActId>,
}

impl Known {
    /// The text.
    #[must_use]
    pub fn print(&self) -> String {
        let mut text = format!("{HEAD}{}\n", self.job.0);
        for id in &self.last {
            text.push_str(&format!("{} {}\n", id.writer.0, id.n));
        }
        text
    }

    /// Reads the text; none where it is something else. A line that makes no sense is left out: too
    /// much is shown then, and nothing is lost.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut lines = text.strip_prefix(HEAD)?.lines();
        let job = JobId(lines.next()?.trim().parse::<Bits80>().ok()?);
        let last = lines.filter_map(|line| {
            let (writer, n) = line.split_once(' ')?;
            let writer = WriterId(writer.parse::<Bits80>().ok()?);
            let n = n.parse().ok()?;
            Some(ActId { writer, n })
        });
        let mut last: Vec<ActId> = last.take(MOST).collect();
        last.put_in_order();
        Some(Self { job, last })
    }

    /// Whether an act is known there.
    #[must_use]
    pub fn has(&self, id: ActId) -> bool {
        // The first that is no smaller is of the same writer, or there is none.
        let at = self.last.partition_point(|last| *last < id);
        let last = self.last.get(at);
        last.is_some_and(|last| last.writer == id.writer)
    }
}
