//! An open job: what people did, and what follows from it, worked out once per change.

use super::ports::Trouble;
use crate::journal::{CannotWrite, Draft, Journal, Signature, Taken, Written};

/// An open job.
pub struct OpenJob {
    /// What people did.
    pub journal: Journal,
    /// Grows with every change, so that what was worked out before is known to be stale.
    changes: u64,
}

impl OpenJob {
    /// A job as it was read.
    #[must_use]
    pub fn new(journal: Journal) -> Self {
        Self {
            journal,
            changes: 0,
        }
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &str {
        self.journal
            .registry()
            .job
            .name
            .get()
            .map_or("A job without a name", String::as_str)
    }

    /// How often it changed since it was opened.
    #[must_use]
    pub fn changes(&self) -> u64 {
        self.changes
    }

    /// Takes in lines that were written elsewhere.
    pub fn take<'a>(&mut self, lines: impl IntoIterator<Item = &'a str>) -> Vec<Taken> {
        self.changes += 1;
        self.journal.take(lines)
    }

    /// Writes a draft down.
    ///
    /// # Errors
    /// When no number is left for it.
    pub fn write(&mut self, draft: Draft, signature: Signature) -> Result<Written, Trouble> {
        let written = self
            .journal
            .write(draft, signature)
            .map_err(|why| match why {
                CannotWrite::CounterExhausted => {
                    Trouble::Other("no number is left to write under".to_owned())
                }
                CannotWrite::OutOfTurn => {
                    Trouble::Other("something else was written first".to_owned())
                }
            })?;
        self.changes += 1;
        Ok(written)
    }

    /// The name of a file about this job.
    #[must_use]
    pub fn file_name(&self, ending: &str) -> String {
        let plain: String = self
            .name()
            .chars()
            .map(|c| {
                if c.is_ascii_alphanumeric() {
                    c.to_ascii_lowercase()
                } else {
                    '-'
                }
            })
            .collect();
        format!("{}.{ending}", plain.trim_matches('-'))
    }
}
