//! Values as they are held in the registry: with the facts that they come from, so that taking an
//! act back or replacing a value costs no more than the act itself.

use crate::domain::sorted::SortedMap;
use std::fmt;

use thin_vec::ThinVec;

use super::act::{FactRef, Stamp};

/// The fact that a value comes from, and how many live acts have replaced or struck it.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Head {
    stamp: Stamp,
    fact: u32,
    dead: u32,
}

impl Head {
    fn fact_ref(&self) -> FactRef {
        FactRef {
            act: self.stamp.act,
            fact: self.fact,
        }
    }
}

/// A value with where it comes from.
#[derive(Clone, PartialEq, Eq)]
struct Held<T> {
    head: Head,
    value: T,
}

/// The heads of the values of one field, of whatever type the values are. What is decided by the
/// heads alone is compiled once and not once for every type.
trait Heads {
    fn count(&self) -> usize;
    fn head(&mut self, at: usize) -> &mut Head;
}

impl<T> Heads for ThinVec<Held<T>> {
    fn count(&self) -> usize {
        self.len()
    }

    fn head(&mut self, at: usize) -> &mut Head {
        &mut self[at].head
    }
}

/// All values of one field in the order of display, the dead ones included.
#[derive(Clone)]
struct Values<T>(ThinVec<Held<T>>);

impl<T> Default for Values<T> {
    fn default() -> Self {
        Self(ThinVec::new())
    }
}

impl<T> Values<T> {
    fn live(&self) -> impl DoubleEndedIterator<Item = &Held<T>> {
        self.0.iter().filter(|held| held.head.dead == 0)
    }
}

/// Whether a value loses or regains its hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Change {
    /// One more live act has replaced or struck it.
    Dies,
    /// One live act fewer.
    Revives,
}

/// A value with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said<'a, T> {
    /// The value.
    pub value: &'a T,
    /// The act that says so.
    pub stamp: Stamp,
    /// The fact in it.
    pub fact: FactRef,
}

impl<'a, T> Said<'a, T> {
    fn of(held: &'a Held<T>) -> Self {
        Self {
            value: &held.value,
            stamp: held.head.stamp,
            fact: held.head.fact_ref(),
        }
    }
}

/// A field with one value: whatever was neither replaced nor struck. Two live values that differ
/// are a disagreement, and both are kept.
#[derive(Clone)]
pub struct Register<T>(Values<T>);

impl<T> Default for Register<T> {
    fn default() -> Self {
        Self(Values::default())
    }
}

impl<T: PartialEq> Register<T> {
    /// The value to show: of several live ones the last in the order of display.
    #[must_use]
    pub fn get(&self) -> Option<&T> {
        self.0.live().next_back().map(|held| &held.value)
    }

    /// The value to show, with where it comes from.
    #[must_use]
    pub fn said(&self) -> Option<Said<'_, T>> {
        self.0.live().next_back().map(Said::of)
    }

    /// All live values, in the order of display.
    pub fn all(&self) -> impl Iterator<Item = Said<'_, T>> {
        self.0.live().map(Said::of)
    }

    /// The live values, each once; more than one is a disagreement.
    #[must_use]
    pub fn distinct(&self) -> Vec<&T> {
        let mut values: Vec<&T> = Vec::new();
        for held in self.0.live() {
            if !values.contains(&&held.value) {
                values.push(&held.value);
            }
        }
        values
    }

    /// The value to show; where none is live any more, what it was before it was taken back.
    #[must_use]
    pub fn known(&self) -> Option<&T> {
        self.get().or_else(|| self.latest_ever())
    }

    /// The last value in the order of display, live or not: what it was before it was taken back.
    pub(super) fn latest_ever(&self) -> Option<&T> {
        self.0.0.last().map(|held| &held.value)
    }

    /// Every value that the field ever had, the replaced and struck ones too, in the order of
    /// display.
    pub fn ever(&self) -> impl Iterator<Item = &T> {
        self.0.0.iter().map(|held| &held.value)
    }

    /// The same with where each comes from.
    pub fn ever_said(&self) -> impl Iterator<Item = Said<'_, T>> {
        self.0.0.iter().map(Said::of)
    }

    /// Whether people disagree.
    #[must_use]
    pub fn disputed(&self) -> bool {
        // Nearly always there is one value at most, and that one need not be looked at.
        if self.0.0.len() < 2 {
            return false;
        }
        let mut live = self.0.live();
        live.next()
            .is_some_and(|first| live.any(|other| other.value != first.value))
    }
}

/// A list that only grows, apart from what was struck.
#[derive(Clone)]
pub struct Log<T>(Values<T>);

impl<T> Default for Log<T> {
    fn default() -> Self {
        Self(Values::default())
    }
}

impl<T> Log<T> {
    /// The live lines, in the order of display.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = Said<'_, T>> {
        self.0.live().map(Said::of)
    }

    /// The last live line.
    #[must_use]
    pub fn last(&self) -> Option<&T> {
        self.0.live().next_back().map(|held| &held.value)
    }

    /// Whether nothing live is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.live().next().is_none()
    }

    /// Whether anything was ever in it, struck or not.
    #[must_use]
    pub fn is_untouched(&self) -> bool {
        self.0.0.is_empty()
    }
}

impl<T: fmt::Debug> fmt::Debug for Register<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list()
            .entries(
                self.0
                    .live()
                    .map(|held| (&held.value, held.head.stamp.act, held.head.fact)),
            )
            .finish()
    }
}

impl<T: fmt::Debug> fmt::Debug for Log<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list()
            .entries(
                self.0
                    .live()
                    .map(|held| (&held.value, held.head.stamp.act, held.head.fact)),
            )
            .finish()
    }
}

/// What is being done to the field that a fact speaks of.
pub(super) enum Op<'a> {
    /// The fact is new.
    Put {
        /// The act that it is part of.
        stamp: Stamp,
        /// Its place there.
        fact: u32,
    },
    /// The fact loses or regains its hold.
    Adjust(FactRef, Change),
    /// The live values that a further value of this field would replace are gathered.
    Gather(&'a mut Vec<FactRef>),
}

/// What to do about a part of a row that is not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Parts {
    /// Make it.
    Make,
    /// Leave it.
    Find,
}

impl Parts {
    /// The part under a key, made if that is wanted.
    pub(super) fn of<K: Ord, T: Default>(
        self,
        map: &mut SortedMap<K, T>,
        key: K,
    ) -> Option<&mut T> {
        match self {
            Self::Make => Some(map.or_default(key)),
            Self::Find => map.get_mut(&key),
        }
    }
}

impl Op<'_> {
    // Out of line, because it is called for every field there is.
    #[inline(never)]
    pub(super) fn set<T: Clone>(&mut self, register: &mut Register<T>, value: &T) {
        if let Self::Gather(found) = self {
            gather(&mut register.0.0, found);
        } else {
            self.apply(&mut register.0, value);
        }
    }

    #[inline(never)]
    pub(super) fn add<T: Clone>(&mut self, log: &mut Log<T>, value: &T) {
        self.apply(&mut log.0, value);
    }

    /// Whether rows and parts that are not there yet are to be made; gathering leaves no trace.
    pub(super) fn parts(&self) -> Parts {
        match self {
            Self::Put { .. } | Self::Adjust(..) => Parts::Make,
            Self::Gather(_) => Parts::Find,
        }
    }

    fn apply<T: Clone>(&mut self, values: &mut Values<T>, value: &T) {
        if let Some(Place { at, head }) = self.place(&mut values.0) {
            let value = value.clone();
            // Most fields are set once, and a job has very many.
            if values.0.is_empty() {
                values.0.reserve_exact(1);
            }
            values.0.insert(at, Held { head, value });
        }
    }

    /// Where among the values of a field a new one goes, if there is a new one; a change is made
    /// here and now.
    fn place(&self, heads: &mut dyn Heads) -> Option<Place> {
        match self {
            Self::Put { stamp, fact } => {
                let head = Head {
                    stamp: *stamp,
                    fact: *fact,
                    dead: 0,
                };
                Some(Place {
                    at: place_of(heads, head),
                    head,
                })
            }
            Self::Adjust(at, change) => {
                adjust(heads, *at, *change);
                None
            }
            Self::Gather(_) => None,
        }
    }
}

/// Where a value goes in a field.
struct Place {
    at: usize,
    head: Head,
}

fn place_of(heads: &mut dyn Heads, new: Head) -> usize {
    let (mut low, mut high) = (0, heads.count());
    while low < high {
        let middle = usize::midpoint(low, high);
        let head = heads.head(middle);
        if (head.stamp, head.fact) < (new.stamp, new.fact) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    low
}

fn adjust(heads: &mut dyn Heads, of: FactRef, change: Change) {
    for at in 0..heads.count() {
        let head = heads.head(at);
        if head.fact_ref() == of {
            match change {
                Change::Dies => head.dead += 1,
                Change::Revives => head.dead -= 1,
            }
            return;
        }
    }
}

fn gather(heads: &mut dyn Heads, found: &mut Vec<FactRef>) {
    for at in 0..heads.count() {
        let head = heads.head(at);
        if head.dead == 0 {
            found.push(head.fact_ref());
        }
    }
}
