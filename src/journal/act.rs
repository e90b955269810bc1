//! An act: one thing that one person did, with the facts that belong together.

use std::fmt;
use std::rc::Rc;

use thin_vec::ThinVec;

use super::fact::Fact;
use crate::domain::ids::{ActId, ThingId};

/// The counter that orders acts for display. It never exceeds what every reader of JSON can hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Lamport(u64);

impl Lamport {
    /// The highest counter: 2^53 - 1.
    pub const MAX: Self = Self((1 << 53) - 1);

    /// Checks a counter; none beyond [`Lamport::MAX`].
    #[must_use]
    pub fn new(value: u64) -> Option<Self> {
        (value <= Self::MAX.0).then_some(Self(value))
    }

    /// The number.
    #[must_use]
    pub fn get(self) -> u64 {
        self.0
    }

    /// The next counter; none at the end, since it must not wrap.
    #[must_use]
    pub fn next(self) -> Option<Self> {
        Self::new(self.0 + 1)
    }
}

/// Milliseconds since 1970 by the clock of the phone that wrote. Plain data: nothing is decided
/// by it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WallTime(pub u64);

/// One fact of one act.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FactRef {
    /// The act.
    pub act: ActId,
    /// The fact's place in it, from 0.
    pub fact: u32,
}

impl fmt::Debug for FactRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.act, self.fact)
    }
}

/// Where an act stands in the order of display: by counter, then by writer and number, so that
/// every phone shows the same order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stamp {
    /// The counter.
    pub lamport: Lamport,
    /// The act.
    pub act: ActId,
}

/// One act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Act {
    /// Who wrote it, and its number.
    pub id: ActId,
    /// Its counter.
    pub lamport: Lamport,
    /// When, by that phone's clock.
    pub wall: WallTime,
    /// Initials and device of the person, as they were set then.
    pub by: Rc<str>,
    /// Every thing that the facts name, so that an older version knows what an unknown fact touches.
    pub about: ThinVec<ThingId>,
    /// The facts of earlier acts that no longer hold because of this one.
    pub replaces: ThinVec<FactRef>,
    /// The acts that this one takes back.
    pub strikes: ThinVec<ActId>,
    /// What happened.
    pub facts: ThinVec<Fact>,
}

impl Act {
    /// Where the act stands in the order of display.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        Stamp {
            lamport: self.lamport,
            act: self.id,
        }
    }
}

/// What a command wants to have written, before it has a place among the acts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    id: ActId,
    minted: u32,
    /// The facts.
    pub facts: Vec<Fact>,
    /// Where among the facts those stand that replace nothing, so that what is said otherwise holds too.
    pub(super) beside: Vec<usize>,
    /// Facts to replace beyond the live values of the fields that `facts` set.
    pub also_replaces: Vec<FactRef>,
    /// The acts to take back.
    pub strikes: Vec<ActId>,
}

impl Draft {
    /// An empty draft of the act that will be `id`.
    #[must_use]
    pub fn new(id: ActId) -> Self {
        Self {
            id,
            minted: 0,
            facts: Vec::new(),
            beside: Vec::new(),
            also_replaces: Vec::new(),
            strikes: Vec::new(),
        }
    }

    /// The id of a new thing, to be added by a fact of this draft.
    pub fn mint<I: From<ThingId>>(&mut self) -> I {
        let id = ThingId::added_by(self.id, self.minted);
        self.minted += 1;
        I::from(id)
    }

    /// Adds a fact.
    pub fn push(&mut self, fact: Fact) {
        self.facts.push(fact);
    }

    /// Adds a fact that stands beside what is said of its field: where they differ, people are asked.
    pub fn push_beside(&mut self, fact: Fact) {
        self.beside.push(self.facts.len());
        self.facts.push(fact);
    }

    /// The act that the draft will be.
    #[must_use]
    pub fn id(&self) -> ActId {
        self.id
    }

    /// Whether there is nothing to write.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.facts.is_empty() && self.strikes.is_empty()
    }
}
