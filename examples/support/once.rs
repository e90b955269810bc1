//! What `bench` measures in processes of their own, each of which does one thing once in memory that was new.

use std::error::Error;
use std::mem::forget;
use std::process::{Command, Stdio};
use std::time::Duration;

use bothends::journal::wire;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::support::clock::{ROUNDS, middle, timed};
use super::support::plain::{JOB, opened, plain_job, texts};
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
}

impl Once {
    const ALL: [Self; 3] = [Self::Open, Self::Read, Self::Parse];

    fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Read => "read",
            Self::Parse => "parse",
        }
    }

    pub(crate) fn named(name: &str) -> Result<Self, String> {
        let named = Self::ALL.into_iter().find(|once| once.name() == name);
        named.ok_or_else(|| format!("nothing is called {name}"))
    }

    /// How long it takes; what it makes is forgotten with the process.
    pub(crate) fn timed(self, cables: usize) -> Duration {
        let lines = plain_job(cables);
        match self {
            Self::Open => {
                let texts = texts(&lines);
                timed(|| forget(opened(JOB, texts))).0
            }
            Self::Read => timed(|| forget(each(&lines, wire::read))).0,
            Self::Parse => timed(|| forget(each(&lines, parsed))).0,
        }
    }

    /// The median of five processes.
    fn median(self, cables: usize) -> Result<Duration, Box<dyn Error>> {
        let times: Result<Vec<Duration>, _> =
            (0..ROUNDS).map(|_| alone(self.name(), cables)).collect();
        Ok(middle(times?))
    }
}

/// What takes as long as it does because the memory for it is new.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(crate) struct New {
    pub(crate) open: Figure,
    pub(crate) open_by_reading: Figure,
}

impl New {
    pub(crate) fn measured(cables: usize) -> Result<Self, Box<dyn Error>> {
        let open = Once::Open.median(cables)?;
        Ok(Self {
            open: Figure::beside(open, Once::Parse.median(cables)?),
            open_by_reading: Figure::beside(open, Once::Read.median(cables)?),
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
