//! Values as they are held in the registry: with the facts that they come from, so that taking an
//! act back or replacing a value costs no more than the act itself.

use std::collections::BTreeMap;
use std::fmt;

use super::act::{FactRef, Stamp};

/// A value, the fact that it comes from, and how many live acts have replaced or struck it.
#[derive(Clone, PartialEq, Eq)]
struct Held<T> {
    stamp: Stamp,
    fact: u32,
    dead: u32,
    value: T,
}

/// All values of one field in the order of display, the dead ones included.
#[derive(Clone)]
struct Values<T>(Vec<Held<T>>);

impl<T> Default for Values<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T> Values<T> {
    fn put(&mut self, at: Stamp, fact: u32, value: T) {
        let place = self
            .0
            .partition_point(|held| (held.stamp, held.fact) < (at, fact));
        // Most fields are set once; room for one is a quarter of what a list takes by itself.
        if self.0.is_empty() {
            self.0.reserve_exact(1);
        }
        self.0.insert(
            place,
            Held {
                stamp: at,
                fact,
                dead: 0,
                value,
            },
        );
    }

    fn adjust(&mut self, at: FactRef, change: Change) {
        if let Some(held) = self
            .0
            .iter_mut()
            .find(|held| held.stamp.act == at.act && held.fact == at.fact)
        {
            match change {
                Change::Dies => held.dead += 1,
                Change::Revives => held.dead -= 1,
            }
        }
    }

    fn live(&self) -> impl DoubleEndedIterator<Item = &Held<T>> {
        self.0.iter().filter(|held| held.dead == 0)
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
        let fact = FactRef {
            act: held.stamp.act,
            fact: held.fact,
        };
        Self {
            value: &held.value,
            stamp: held.stamp,
            fact,
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

    /// The last value in the order of display, live or not: what it was before it was taken back.
    pub(super) fn latest_ever(&self) -> Option<&T> {
        self.0.0.last().map(|held| &held.value)
    }

    /// Whether people disagree.
    #[must_use]
    pub fn disputed(&self) -> bool {
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
                    .map(|held| (&held.value, held.stamp.act, held.fact)),
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
                    .map(|held| (&held.value, held.stamp.act, held.fact)),
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
    pub(super) fn of<K: Ord, T: Default>(self, map: &mut BTreeMap<K, T>, key: K) -> Option<&mut T> {
        match self {
            Self::Make => Some(map.entry(key).or_default()),
            Self::Find => map.get_mut(&key),
        }
    }
}

impl Op<'_> {
    pub(super) fn set<T: Clone>(&mut self, register: &mut Register<T>, value: &T) {
        if let Self::Gather(found) = self {
            found.extend(register.0.live().map(|held| Said::of(held).fact));
        } else {
            self.apply(&mut register.0, value);
        }
    }

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
        match self {
            Self::Put { stamp, fact } => values.put(*stamp, *fact, value.clone()),
            Self::Adjust(at, change) => values.adjust(*at, *change),
            Self::Gather(_) => {}
        }
    }
}
