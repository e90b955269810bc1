//! Maps and sets that are compiled small.
//!
//! Every pair of types in a `BTreeMap` costs some two kilobytes of program on a phone, mostly to
//! split and join nodes. Nearly all maps here hold a handful of entries, and for those a sorted list
//! is as fast. What may grow with a whole journal, in whatever order a file brings it, stays in the
//! maps of the standard library: a list that grows at its front takes time with its square.

use std::borrow::Borrow;
use std::cmp::Ordering;

use thin_vec::ThinVec;

use super::order::Order;

/// A map whose entries lie one after the other in the order of their keys.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SortedMap<K, V> {
    /// In the order of the keys, no key twice.
    entries: ThinVec<(K, V)>,
}

impl<K, V> Default for SortedMap<K, V> {
    fn default() -> Self {
        Self::new()
    }
}

impl<K, V> SortedMap<K, V> {
    /// A map that holds nothing.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            entries: ThinVec::new(),
        }
    }

    /// How many entries it holds.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether it holds nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The entries in the order of their keys.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&K, &V)> + ExactSizeIterator {
        self.entries.iter().map(|(key, value)| (key, value))
    }

    /// The keys in order.
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &K> + ExactSizeIterator {
        self.entries.iter().map(|(key, _)| key)
    }

    /// The values in the order of their keys.
    pub fn values(&self) -> impl DoubleEndedIterator<Item = &V> + ExactSizeIterator {
        self.entries.iter().map(|(_, value)| value)
    }
}

impl<K: Ord, V> SortedMap<K, V> {
    fn place<Q: Ord + ?Sized>(&self, key: &Q) -> Result<usize, usize>
    where
        K: Borrow<Q>,
    {
        place(self.entries.len(), &mut |at| {
            self.entries[at].0.borrow().cmp(key)
        })
    }

    /// The value of a key.
    #[must_use]
    pub fn get<Q: Ord + ?Sized>(&self, key: &Q) -> Option<&V>
    where
        K: Borrow<Q>,
    {
        self.place(key).ok().map(|at| &self.entries[at].1)
    }

    /// The value of a key, to change it.
    pub fn get_mut<Q: Ord + ?Sized>(&mut self, key: &Q) -> Option<&mut V>
    where
        K: Borrow<Q>,
    {
        let at = self.place(key).ok()?;
        Some(&mut self.entries[at].1)
    }

    /// Whether it holds a key.
    #[must_use]
    pub fn contains_key<Q: Ord + ?Sized>(&self, key: &Q) -> bool
    where
        K: Borrow<Q>,
    {
        self.place(key).is_ok()
    }

    /// Puts a value in, and gives back the one that it replaces.
    pub fn insert(&mut self, key: K, value: V) -> Option<V> {
        match self.place(&key) {
            Ok(at) => Some(std::mem::replace(&mut self.entries[at].1, value)),
            Err(at) => {
                self.entries.insert(at, (key, value));
                None
            }
        }
    }

    /// Takes a value out.
    pub fn remove<Q: Ord + ?Sized>(&mut self, key: &Q) -> Option<V>
    where
        K: Borrow<Q>,
    {
        let at = self.place(key).ok()?;
        Some(self.entries.remove(at).1)
    }

    /// The value of a key, which is this one if there was none.
    pub fn or_insert(&mut self, key: K, value: V) -> &mut V {
        let at = match self.place(&key) {
            Ok(at) => at,
            Err(at) => {
                self.entries.insert(at, (key, value));
                at
            }
        };
        &mut self.entries[at].1
    }

    /// The value of a key, which is the usual one if there was none.
    pub fn or_default(&mut self, key: K) -> &mut V
    where
        V: Default,
    {
        self.or_insert(key, V::default())
    }
}

/// Where an entry is, or where it belongs.
fn place(count: usize, compare: &mut dyn FnMut(usize) -> Ordering) -> Result<usize, usize> {
    let (mut from, mut to) = (0, count);
    while from < to {
        let middle = usize::midpoint(from, to);
        match compare(middle) {
            Ordering::Less => from = middle + 1,
            Ordering::Equal => return Ok(middle),
            Ordering::Greater => to = middle,
        }
    }
    Err(from)
}

/// Of several values of one key the last counts.
impl<K: Ord, V> FromIterator<(K, V)> for SortedMap<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(entries: I) -> Self {
        let mut entries: ThinVec<(K, V)> = entries.into_iter().collect();
        // Equal keys keep their order when they are sorted: the last first, and the first stays.
        entries.reverse();
        entries.order_by(|one, other| one.0.cmp(&other.0));
        entries.dedup_by(|later, earlier| later.0 == earlier.0);
        Self { entries }
    }
}

impl<K, V> IntoIterator for SortedMap<K, V> {
    type Item = (K, V);
    type IntoIter = thin_vec::IntoIter<(K, V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.into_iter()
    }
}

/// A set whose members lie one after the other in their order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SortedSet<T> {
    members: SortedMap<T, ()>,
}

impl<T> Default for SortedSet<T> {
    fn default() -> Self {
        Self::new()
    }
}

impl<T> SortedSet<T> {
    /// A set that holds nothing.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            members: SortedMap::new(),
        }
    }

    /// How many members it has.
    #[must_use]
    pub fn len(&self) -> usize {
        self.members.len()
    }

    /// Whether it has none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.members.is_empty()
    }

    /// The members in order.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &T> + ExactSizeIterator {
        self.members.keys()
    }
}

impl<T: Ord> SortedSet<T> {
    /// Puts a member in; whether it is a new one.
    pub fn insert(&mut self, member: T) -> bool {
        self.members.insert(member, ()).is_none()
    }

    /// Whether this is a member.
    #[must_use]
    pub fn contains<Q: Ord + ?Sized>(&self, member: &Q) -> bool
    where
        T: Borrow<Q>,
    {
        self.members.contains_key(member)
    }
}

impl<T: Ord> FromIterator<T> for SortedSet<T> {
    fn from_iter<I: IntoIterator<Item = T>>(members: I) -> Self {
        Self {
            members: members.into_iter().map(|member| (member, ())).collect(),
        }
    }
}

impl<T> IntoIterator for SortedSet<T> {
    type Item = T;
    type IntoIter = std::iter::Map<thin_vec::IntoIter<(T, ())>, fn((T, ())) -> T>;

    fn into_iter(self) -> Self::IntoIter {
        self.members.entries.into_iter().map(|(member, ())| member)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use super::*;

    /// A fixed walk through small keys, so that most of them come again.
    fn walk(count: usize) -> impl Iterator<Item = (u32, usize)> {
        let mut state = 7_u32;
        (0..count).map(move |at| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 27, at)
        })
    }

    #[test]
    fn maps_hold_what_those_of_the_standard_library_hold() {
        for count in 0..90 {
            let (mut ours, mut theirs) = (SortedMap::new(), BTreeMap::new());
            for (key, value) in walk(count) {
                assert_eq!(ours.get(&key), theirs.get(&key));
                match value % 4 {
                    0 => assert_eq!(ours.remove(&key), theirs.remove(&key)),
                    1 => {
                        *ours.or_default(key) += value;
                        *theirs.entry(key).or_default() += value;
                    }
                    _ => assert_eq!(ours.insert(key, value), theirs.insert(key, value)),
                }
            }
            assert!(ours.iter().eq(theirs.iter()), "{count}");
            assert_eq!(ours.len(), theirs.len());
            let collected: SortedMap<u32, usize> = walk(count).collect();
            let wanted: BTreeMap<u32, usize> = walk(count).collect();
            assert!(collected.iter().eq(wanted.iter()), "{count}");
            assert!(collected.into_iter().eq(wanted), "{count}");
        }
    }

    #[test]
    fn sets_hold_what_those_of_the_standard_library_hold() {
        for count in 0..90 {
            let keys = || walk(count).map(|(key, _)| key);
            let (ours, theirs): (SortedSet<u32>, BTreeSet<u32>) =
                (keys().collect(), keys().collect());
            assert!(ours.iter().eq(theirs.iter()), "{count}");
            let mut one_by_one = SortedSet::new();
            let mut wanted = BTreeSet::new();
            for key in keys() {
                assert_eq!(one_by_one.insert(key), wanted.insert(key));
            }
            assert_eq!(one_by_one, ours);
            assert!((0..40).all(|key| ours.contains(&key) == theirs.contains(&key)));
            assert!(ours.into_iter().eq(theirs));
        }
    }
}
