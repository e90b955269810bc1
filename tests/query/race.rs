//! The check of a job beside the same questions in `SQLite`, by the clock.
//!
//! Both begin with all that they need in memory: ours with the stored lines, which it has to read yet,
//! and `SQLite` with rows, which is a start for it. Then each keeps what it would keep between two
//! checks: ours the registry; `SQLite` the tables, of each field the last value, and the indexes.

use std::time::Duration;

use bothends::journal::{EndFact, Fact, Journal, wire};
use bothends::query::{check, tally};
use serde::{Deserialize, Serialize};

use super::flat::Ids;
use super::reference::{Reference, Rows};
use crate::support::clock::{ROUNDS, median, median_with, middle, timed};
use crate::support::plain::{opened, texts};

/// `SQLite` is asked no more once it took this long.
const PATIENCE: Duration = Duration::from_secs(60);

/// How long something took here and in `SQLite`.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(crate) struct Pair {
    pub(crate) ours: Duration,
    pub(crate) theirs: Duration,
}

/// The figures of one job.
#[derive(Serialize, Deserialize)]
pub(crate) struct Race {
    /// What both found.
    pub(crate) findings: usize,
    /// How often `SQLite` was asked.
    pub(crate) rounds: usize,
    /// All findings, from what is kept.
    pub(crate) kept: Pair,
    /// All findings, from bare facts.
    pub(crate) bare: Pair,
    /// How far each room is, from what is kept.
    pub(crate) progress: Pair,
}

/// What one round took in `SQLite`.
struct Asked {
    kept: Duration,
    bare: Duration,
    progress: Duration,
}

/// Checks a job both ways, five times each; the median counts. None of its lines may take another back.
/// The registry that is kept is the one that was opened before anything else was.
pub(crate) fn race(journal: &Journal, lines: &[String]) -> Race {
    let registry = journal.registry();
    let kept = median(|| check(registry));
    let progress = median(|| tally(registry));
    let findings = check(registry).len();
    let bare = median_with(
        || texts(lines),
        |texts| {
            let journal = opened(journal.job(), texts);
            let findings = check(journal.registry());
            (journal, findings)
        },
    );
    let rows = rows(lines);
    let mut asked: Vec<Asked> = Vec::new();
    while asked.len() < ROUNDS && asked.last().is_none_or(|last| last.bare < PATIENCE) {
        asked.push(ask(&rows, findings));
    }
    let pair = |ours: Duration, theirs: fn(&Asked) -> Duration| Pair {
        ours,
        theirs: middle(asked.iter().map(theirs).collect()),
    };
    Race {
        findings,
        rounds: asked.len(),
        kept: pair(kept, |asked| asked.kept),
        bare: pair(bare, |asked| asked.bare),
        progress: pair(progress, |asked| asked.progress),
    }
}

/// The facts of the lines as rows.
fn rows(lines: &[String]) -> Rows {
    let (mut by, mut facts) = (Vec::new(), Vec::new());
    for line in lines {
        let act = wire::read(line).expect("a line");
        assert!(act.replaces.is_empty() && act.strikes.is_empty(), "{line}");
        by.extend(act.facts.iter().map(|_| act.id));
        facts.extend(act.facts);
    }
    let placed: Vec<(i64, Fact)> = (1..)
        .zip(&facts)
        .filter(|(_, fact)| matches!(fact, Fact::End(_, EndFact::Placed(_))))
        .map(|(ord, fact)| (ord, fact.clone()))
        .collect();
    Rows::of(
        &mut Ids::default(),
        by.into_iter().zip(&facts),
        &[],
        &placed,
    )
}

fn ask(rows: &Rows, findings: usize) -> Asked {
    let (filled, reference) = timed(|| Reference::fill(rows));
    let (indexed, ()) = timed(|| reference.index());
    let (asked, ()) = timed(|| reference.ask());
    let (fetched, found) = timed(|| reference.fetch());
    assert_eq!(found.len(), findings, "both find as much");
    let (progress, ()) = timed(|| reference.count());
    drop(reference.tallies());
    Asked {
        kept: asked + fetched,
        bare: filled + indexed + asked + fetched,
        progress,
    }
}
