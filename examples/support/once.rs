//! What `bench` measures in processes of their own, each of which does one thing once in memory that was new.

use std::error::Error;
use std::hint::black_box;
use std::mem::forget;
use std::process::{Command, Stdio};
use std::time::Duration;

use bothends::journal::{Journal, Registry, wire};
use bothends::query::propose::propose;
use bothends::query::{check, tally};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::SMALLER;
use super::support::clock::{ROUNDS, middle, timed};
use super::support::plain::{JOB, opened, plain_job, texts};
use super::support::unplaced;
use super::table::Figure;

/// What a process is told, before what and how many cables, that measures and prints that for the other.
pub(crate) const ALONE: &str = "alone";

/// Measured in another process, where nothing was in memory before.
pub(crate) fn alone<T: DeserializeOwned>(what: &str, cables: usize) -> Result<T, Box<dyn Error>> {
    let measured = Command::new(std::env::current_exe()?)
        .args([ALONE, what, &cables.to_string()])
        .stderr(Stdio::inherit())
        .output()?;
    if !measured.status.success() {
        return Err(format!("{what} of {cables} cables was not measured").into());
    }
    Ok(serde_json::from_slice(&measured.stdout)?)
}

/// What a process does with the lines of a job, once.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Once {
    Open,
    Read,
    Parse,
    Check,
    Rooms,
    Propose,
}

impl Once {
    const ALL: [Self; 6] = [
        Self::Open,
        Self::Read,
        Self::Parse,
        Self::Check,
        Self::Rooms,
        Self::Propose,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Read => "read",
            Self::Parse => "parse",
            Self::Check => "check",
            Self::Rooms => "rooms",
            Self::Propose => "propose",
        }
    }

    pub(crate) fn named(name: &str) -> Result<Self, String> {
        let named = Self::ALL.into_iter().find(|once| once.name() == name);
        named.ok_or_else(|| format!("nothing is called {name}"))
    }

    /// How long it takes; what it makes is forgotten with the process.
    pub(crate) fn timed(self, cables: usize) -> Duration {
        let lines = || plain_job(cables);
        match self {
            Self::Open => {
                let texts = texts(&lines());
                timed(|| forget(opened(JOB, texts))).0
            }
            Self::Read => {
                let lines = lines();
                timed(|| forget(each(&lines, wire::read))).0
            }
            Self::Parse => {
                let lines = lines();
                timed(|| forget(each(&lines, parsed))).0
            }
            Self::Check => uncached(&opened(JOB, texts(&lines())), check),
            Self::Rooms => uncached(&opened(JOB, texts(&lines())), tally),
            Self::Propose => uncached(&unplaced::open_job(cables), propose),
        }
    }

    /// The median of five processes.
    fn median(self, cables: usize) -> Result<Duration, Box<dyn Error>> {
        let times: Result<Vec<Duration>, _> =
            (0..ROUNDS).map(|_| alone(self.name(), cables)).collect();
        Ok(middle(times?))
    }
}

/// How many bytes are looked at so that nothing else is left in the caches of a core: many times as many as
/// they hold.
const OVER_ALL_CACHES: usize = 256 << 20;

/// How long a question takes to an open job of which nothing is in the caches. Asked five times over, a job of
/// 1,000 cables lies in them and a larger one does not.
fn uncached<T>(journal: &Journal, ask: impl FnOnce(&Registry) -> T) -> Duration {
    let other = vec![1_u8; OVER_ALL_CACHES];
    black_box(other.iter().fold(0_u8, |sum, byte| sum.wrapping_add(*byte)));
    timed(|| forget(ask(journal.registry()))).0
}

/// What is measured once in each process: what takes as long as it does because the memory for it is new, and
/// what is asked with nothing of the job in the caches.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(crate) struct New {
    pub(crate) open: Figure,
    pub(crate) open_by_reading: Figure,
    pub(crate) check: Figure,
    pub(crate) rooms: Figure,
    /// None where there are too many.
    pub(crate) proposal: Option<Figure>,
}

impl New {
    pub(crate) fn measured(cables: usize) -> Result<Self, Box<dyn Error>> {
        let open = Once::Open.median(cables)?;
        Ok(Self {
            open: Figure::beside(open, Once::Parse.median(cables)?),
            open_by_reading: Figure::beside(open, Once::Read.median(cables)?),
            check: Figure::alone(Once::Check.median(cables)?),
            rooms: Figure::alone(Once::Rooms.median(cables)?),
            proposal: (cables <= SMALLER)
                .then(|| Once::Propose.median(cables).map(Figure::alone))
                .transpose()?,
        })
    }
}

/// All lines read, and kept until the last one is.
pub(crate) fn each<'a, T>(lines: &'a [String], read: impl Fn(&'a str) -> T) -> Vec<T> {
    lines.iter().map(|line| read(line)).collect()
}

/// A line as JSON.
pub(crate) fn parsed(line: &str) -> serde_json::Result<serde_json::Value> {
    serde_json::from_str(line)
}
