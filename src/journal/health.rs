//! What the set of all acts has to say of itself.

use rustc_hash::FxHashSet;

use super::Journal;
use crate::domain::ids::{ActId, ThingId, WriterId};
use crate::domain::order::Order;

/// What the set itself has to say: nothing of this loses anything, all of it wants a look.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Health {
    /// Acts that wait for others.
    pub waiting: Vec<ActId>,
    /// Writers of whom numbers are missing, as the first and last missing number.
    pub gaps: Vec<Gap>,
    /// Writers and numbers with two contents, of which nobody wrote one down anew since.
    pub clashes: Vec<ActId>,
    /// Links that point forward, and so count for nothing.
    pub ignored_links: Vec<ActId>,
    /// Things that a newer version changed.
    pub newer: Vec<ThingId>,
    /// Lines that could not be read.
    pub unreadable: usize,
}

/// Missing numbers of one writer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Gap {
    /// The writer.
    pub writer: WriterId,
    /// The first missing number.
    pub first: u32,
    /// The last missing number.
    pub last: u32,
}

impl Journal {
    /// What the set itself has to say.
    #[cold]
    #[must_use]
    pub fn health(&self) -> Health {
        let mut waiting: Vec<ActId> = self.waiting.keys().copied().collect();
        waiting.put_in_order();
        let mut ignored_links: Vec<ActId> = self.ignored_links.iter().copied().collect();
        ignored_links.put_in_order();
        Health {
            gaps: self.gaps(),
            waiting,
            clashes: self.open_clashes(),
            ignored_links,
            newer: self.registry.newer_things(),
            unreadable: self.unreadable.len(),
        }
    }

    /// The clashes that nobody settled since: who writes one version down anew takes the record itself back.
    fn open_clashes(&self) -> Vec<ActId> {
        let mut open: Vec<ActId> = self.clashes.keys().copied().collect();
        if !open.is_empty() {
            let live = self.entries.iter().filter(|entry| entry.strikes == 0);
            let settled: FxHashSet<ActId> = live
                .flat_map(|entry| entry.act.strikes.iter().copied())
                .collect();
            open.retain(|id| !settled.contains(id));
        }
        open
    }

    fn gaps(&self) -> Vec<Gap> {
        let apart = self.waiting.keys().chain(self.clashes.keys()).copied();
        let counted = self.entries.iter().map(|entry| entry.act.id);
        let mut ids: Vec<ActId> = counted.chain(apart).collect();
        ids.put_in_order();
        let mut gaps = Vec::new();
        let mut before: Option<ActId> = None;
        for id in ids {
            let expected = before
                .filter(|before| before.writer == id.writer)
                .map_or(1, |before| before.n + 1);
            if id.n > expected {
                gaps.push(Gap {
                    writer: id.writer,
                    first: expected,
                    last: id.n - 1,
                });
            }
            before = Some(id);
        }
        gaps
    }
}
