//! The acts that a chain of taking back reaches, each once and the latest first.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::Stamp;
use super::kept::Entry;

/// Whether an act was taken back.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    Live,
    Struck,
}

impl Standing {
    pub(super) fn of(entry: &Entry) -> Self {
        if entry.strikes == 0 {
            Self::Live
        } else {
            Self::Struck
        }
    }
}

/// The acts that are reached, with how each stood before. An act may be noted along many ways; what was noted
/// of it first is how it stood.
#[derive(Default)]
pub(super) struct Reached {
    heap: BinaryHeap<(Stamp, Reverse<usize>, Standing)>,
    noted: usize,
}

impl Reached {
    pub(super) fn note(&mut self, act: Stamp, was: Standing) {
        self.noted += 1;
        self.heap.push((act, Reverse(self.noted), was));
    }

    /// Takes out the latest act.
    pub(super) fn pop_last(&mut self) -> Option<(Stamp, Standing)> {
        let (act, _, was) = self.heap.pop()?;
        while self.heap.peek().is_some_and(|(other, ..)| *other == act) {
            self.heap.pop();
        }
        Some((act, was))
    }
}
