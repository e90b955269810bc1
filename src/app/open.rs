//! An open job: what people did, and what follows from it, worked out once per change.

use std::cell::OnceCell;

use super::ports::Trouble;
use crate::journal::{CannotWrite, Draft, Journal, Signature, Taken, Written};
use crate::query::deeds::{Deed, deeds};
use crate::query::find::{Indexing, SearchIndex};
use crate::query::{Item, check, cover, items};

/// How many things are put into the index of the search before the page is looked after again.
const INDEXED_AT_ONCE: usize = 1000;

/// An open job.
pub struct OpenJob {
    /// What people did.
    pub journal: Journal,
    /// How much of what is stored of it is no text, so that it is in no file of the job.
    pub torn: usize,
    /// Grows with every change, so that what was worked out before is known to be stale.
    changes: u64,
    /// What was worked out since the last change.
    worked_out: WorkedOut,
}

/// What follows from the acts and is asked for at every redraw; each worked out when it is first
/// asked for after a change.
#[derive(Default)]
struct WorkedOut {
    search: OnceCell<SearchIndex>,
    indexing: Option<Indexing>,
    items: OnceCell<Vec<Item>>,
    deeds: OnceCell<Vec<Deed>>,
    uncovered: OnceCell<usize>,
}

impl OpenJob {
    /// A job as it was read.
    #[must_use]
    pub fn new(journal: Journal) -> Self {
        Self {
            journal,
            torn: 0,
            changes: 0,
            worked_out: WorkedOut::default(),
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

    fn changed(&mut self) {
        self.changes += 1;
        self.worked_out = WorkedOut::default();
    }

    /// Every text that can be looked for.
    #[must_use]
    pub fn search_index(&self) -> &SearchIndex {
        let registry = self.journal.registry();
        self.worked_out
            .search
            .get_or_init(|| SearchIndex::build(registry))
    }

    /// Works a little on the index of the search, so that the first key finds it ready; whether
    /// there is more to do.
    pub fn prepare_search(&mut self) -> bool {
        let registry = self.journal.registry();
        let WorkedOut {
            search, indexing, ..
        } = &mut self.worked_out;
        if search.get().is_some() {
            return false;
        }
        let Some(begun) = indexing else {
            *indexing = Some(Indexing::begin(registry));
            return true;
        };
        let Some(whole) = begun.go_on(registry, INDEXED_AT_ONCE) else {
            return true;
        };
        *indexing = None;
        search.get_or_init(|| whole);
        false
    }

    /// The punch list, of all gates.
    #[must_use]
    pub fn punch_list(&self) -> &[Item] {
        let registry = self.journal.registry();
        self.worked_out.items.get_or_init(|| items(check(registry)))
    }

    /// How many rooms nobody has said OK to cover for, as they stand.
    #[must_use]
    pub fn uncovered(&self) -> usize {
        let count = || {
            cover::rooms(&self.journal)
                .iter()
                .filter(|room| room.is_open())
                .count()
        };
        *self.worked_out.uncovered.get_or_init(count)
    }

    /// What was done, the newest first.
    #[must_use]
    pub fn deeds(&self) -> &[Deed] {
        self.worked_out.deeds.get_or_init(|| deeds(&self.journal))
    }

    /// Takes in lines that were written elsewhere.
    pub fn take<'a>(&mut self, lines: impl IntoIterator<Item = &'a str>) -> Vec<Taken> {
        self.changed();
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
        self.changed();
        Ok(written)
    }

    /// The name of a file about this job: its own name, then whatever tells the file from others, in
    /// small letters and digits with one dash between.
    #[must_use]
    pub fn file_name(&self, more: &[&str], ending: &str) -> String {
        let mut name = String::new();
        for part in [self.name()].iter().chain(more) {
            let mut dash_waits = !name.is_empty();
            for character in part.chars() {
                if !character.is_alphanumeric() {
                    dash_waits = !name.is_empty();
                    continue;
                }
                if std::mem::take(&mut dash_waits) {
                    name.push('-');
                }
                name.extend(character.to_lowercase());
            }
        }
        [name.as_str(), ending].join(".")
    }
}
