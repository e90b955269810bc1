//! Which lines are on the disk and which are not yet.

use super::ports::{JobCard, StoredLine, Trouble};

/// One batch of lines on its way to the disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// Tells batches apart.
    pub token: u64,
    /// The job that the lines belong to.
    pub job: String,
    /// The lines.
    pub lines: Vec<StoredLine>,
    /// What the list of jobs calls it, stored with the lines or not at all: no job is listed of which
    /// nothing is stored, and no lines are stored of one that is not listed.
    pub listed: Option<JobCard>,
}

/// Everything that is not on the disk yet. It stays here until the store says that it is.
#[derive(Debug, Default)]
pub struct Saving {
    batches: Vec<Batch>,
    last_token: u64,
    trouble: Option<Trouble>,
    saved_once: bool,
}

/// What the screen says about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// Nothing was changed since the job was opened.
    Untouched,
    /// Something is on its way.
    Saving,
    /// Everything is on the disk.
    Saved,
    /// Something could not be stored.
    Failed(Trouble),
}

impl Saving {
    /// Takes lines in, to be stored.
    pub fn begin(&mut self, job: &str, lines: Vec<StoredLine>, listed: Option<JobCard>) -> Batch {
        self.last_token += 1;
        let batch = Batch {
            token: self.last_token,
            job: job.to_owned(),
            lines,
            listed,
        };
        self.batches.push(batch.clone());
        batch
    }

    /// A batch is on the disk.
    pub fn done(&mut self, token: u64) {
        self.batches.retain(|batch| batch.token != token);
        self.saved_once = true;
        if self.batches.is_empty() {
            self.trouble = None;
        }
    }

    /// A batch could not be stored. It is kept.
    pub fn failed(&mut self, trouble: Trouble) {
        self.trouble = Some(trouble);
    }

    /// Everything that is not stored yet, to try again.
    pub fn again(&mut self) -> Vec<Batch> {
        // A store that is newer than this build stays so until the page is loaded anew.
        self.trouble
            .take_if(|trouble| *trouble != Trouble::NewerStore);
        self.batches.clone()
    }

    /// What the screen says.
    #[must_use]
    pub fn state(&self) -> Saved {
        match (&self.trouble, self.batches.is_empty()) {
            (Some(trouble), _) => Saved::Failed(trouble.clone()),
            (None, false) => Saved::Saving,
            (None, true) if self.saved_once => Saved::Saved,
            (None, true) => Saved::Untouched,
        }
    }
}
