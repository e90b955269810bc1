//! A cable schedule into a job, and out of it.
//!
//! On the way in, the rows become facts: what would be added, what is here already, and which rows
//! cannot be used, each with its line and reason. The ids of what is added derive from the job, the
//! digest of the file and the row, so that the same schedule taken in on two phones is one set of
//! cables, and taken in twice adds nothing.

use sha2::{Digest, Sha256};

use crate::domain::ids::{Bits80, JobId};
use crate::journal::Fact;

/// What the cells of one row say.
mod cells;
/// Out of a job.
mod export;
/// What becomes of each row.
mod planner;
/// Racks and panels.
mod rack;
/// Rooms, floors and units.
mod rooms;

pub use export::export;
pub use planner::plan;

/// Why a row cannot be used, in words.
type Reason = String;

/// What taking a schedule in would do.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// What would be written down for the good rows.
    pub facts: Vec<Fact>,
    /// Each row, in the order of the file.
    pub rows: Vec<Outcome>,
    /// What would be added beside cables: rooms, outlets, racks, panels, in words.
    pub beside: Vec<String>,
    /// Whether some of the cables came from this very file before and were taken back since.
    pub taken_back: bool,
    /// Whether the file leaves the numbers of its outlets to us.
    pub numbers: bool,
}

/// What becomes of one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// Its line in the file, as an editor shows it.
    pub line: u32,
    /// What.
    pub what: What,
}

/// What becomes of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// A cable is added.
    Adds {
        /// Its code.
        code: String,
        /// What it is made of.
        says: String,
    },
    /// The cable is here already; nothing is changed.
    Here {
        /// Its code.
        code: String,
        /// That it is, and what is otherwise than the row says.
        says: String,
    },
    /// The row cannot be used.
    Bad {
        /// What is wrong and what to do.
        reason: String,
    },
}

impl Plan {
    /// How many cables would be added.
    #[must_use]
    pub fn adds(&self) -> usize {
        self.rows
            .iter()
            .filter(|row| matches!(row.what, What::Adds { .. }))
            .count()
    }

    /// How many cables are here already.
    #[must_use]
    pub fn here(&self) -> usize {
        self.rows
            .iter()
            .filter(|row| matches!(row.what, What::Here { .. }))
            .count()
    }

    /// The rows that cannot be used.
    pub fn bad(&self) -> impl Iterator<Item = (u32, &str)> {
        self.rows.iter().filter_map(|row| match &row.what {
            What::Bad { reason } => Some((row.line, reason.as_str())),
            What::Adds { .. } | What::Here { .. } => None,
        })
    }
}

/// The bits that stand in the place of a writer for everything that a file adds to a job.
#[must_use]
pub fn origin(job: JobId, file: &[u8]) -> Bits80 {
    let mut digest = Sha256::new();
    digest.update(job.0.to_string().as_bytes());
    digest.update(Sha256::digest(file));
    let mut bits = [0; 10];
    bits.copy_from_slice(&digest.finalize()[..10]);
    Bits80(bits)
}
