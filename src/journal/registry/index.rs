//! Answers that would otherwise need a walk over the whole job, kept true act by act.

use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashMap, FxHasher};
use thin_vec::ThinVec;

/// A many-to-many index: what is found under a key, and under which keys a thing stands.
///
/// Things under one key are kept in order, so that every phone lists them alike.
#[derive(Clone)]
pub struct Lookup<K, V> {
    found: Lists<K, V>,
    /// For each thing the places in `found` of the keys that it stands under.
    under: Lists<V, u32>,
}

impl<K, V> Default for Lookup<K, V> {
    fn default() -> Self {
        Self {
            found: Lists::default(),
            under: Lists::default(),
        }
    }
}

impl<K: Eq + Hash, V: Copy + Eq + Hash + Ord> Lookup<K, V> {
    /// Everything under a key.
    #[must_use]
    pub fn get(&self, key: &K) -> &[V] {
        self.found.find(key).map_or(&[], |at| self.found.list(at))
    }

    /// The keys under which more than one thing stands, in no order that means anything.
    pub fn crowded(&self) -> impl Iterator<Item = (&K, &[V])> {
        self.found
            .lists
            .iter()
            .filter(|(_, things)| things.len() > 1)
            .map(|(key, things)| (key, things.as_slice()))
    }

    /// All keys in use, in no order that means anything.
    pub fn keys(&self) -> impl Iterator<Item = &K> {
        let used = self.found.lists.iter();
        used.filter(|(_, things)| !things.is_empty())
            .map(|(key, _)| key)
    }

    /// Puts a thing under exactly these keys.
    #[inline(never)]
    pub(super) fn set(&mut self, thing: V, keys: Vec<K>) {
        let under = match self.under.find(&thing) {
            Some(under) => under,
            None if keys.is_empty() => return,
            None => self.under.make(thing),
        };
        let places: ThinVec<u32> = keys
            .into_iter()
            .map(|key| match self.found.find(&key) {
                Some(place) => place,
                None => self.found.make(key),
            })
            .collect();
        let places_now = self.under.list_mut(under);
        if *places_now == places {
            return;
        }
        for place in std::mem::replace(places_now, places) {
            let things = self.found.list_mut(place);
            if let Ok(at) = things.binary_search(&thing) {
                things.remove(at);
            }
        }
        for place in self.under.list(under) {
            let things = self.found.list_mut(*place);
            if let Err(at) = things.binary_search(&thing) {
                // Most keys have one thing, and a job has very many keys.
                if things.is_empty() {
                    things.reserve_exact(1);
                }
                things.insert(at, thing);
            }
        }
    }
}

/// A list for each of many values. A list that became empty keeps its place, so that places are
/// good for ever.
#[derive(Clone)]
struct Lists<A, B> {
    lists: Vec<(A, ThinVec<B>)>,
    places: Places,
}

impl<A, B> Default for Lists<A, B> {
    fn default() -> Self {
        Self {
            lists: Vec::new(),
            places: Places::default(),
        }
    }
}

impl<A: Eq + Hash, B> Lists<A, B> {
    fn find(&self, of: &A) -> Option<u32> {
        let mut next = self.places.newest(hash(of));
        while let Some(place) = next {
            if self.lists[place as usize].0 == *of {
                return Some(place);
            }
            next = self.places.older(place);
        }
        None
    }

    /// An empty list for a value that has none.
    fn make(&mut self, of: A) -> u32 {
        let place = self.places.add(hash(&of));
        self.lists.push((of, ThinVec::new()));
        place
    }

    fn list(&self, place: u32) -> &[B] {
        &self.lists[place as usize].1
    }

    fn list_mut(&mut self, place: u32) -> &mut ThinVec<B> {
        &mut self.lists[place as usize].1
    }
}

fn hash(of: &impl Hash) -> u64 {
    let mut hasher = FxHasher::default();
    of.hash(&mut hasher);
    hasher.finish()
}

/// Where the lists of values are, by the hashes of the values alone: so there is one such type for
/// values of all types. Values with one hash are linked, the newest first.
#[derive(Clone, Default)]
struct Places {
    newest: FxHashMap<u64, u32>,
    older: Vec<Option<u32>>,
}

impl Places {
    #[inline(never)]
    fn newest(&self, hash: u64) -> Option<u32> {
        self.newest.get(&hash).copied()
    }

    fn older(&self, place: u32) -> Option<u32> {
        self.older[place as usize]
    }

    #[inline(never)]
    fn add(&mut self, hash: u64) -> u32 {
        let place = u32::try_from(self.older.len()).unwrap_or(u32::MAX);
        self.older.push(self.newest.insert(hash, place));
        place
    }
}

#[cfg(test)]
mod tests {
    use std::hash::{Hash, Hasher};

    use super::Lookup;

    /// A key whose hash is that of every other.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    struct Alike(u8);

    impl Hash for Alike {
        fn hash<H: Hasher>(&self, state: &mut H) {
            state.write_u8(0);
        }
    }

    #[test]
    fn keys_with_one_hash_are_told_apart() {
        let mut lookup = Lookup::default();
        lookup.set(10, vec![Alike(1), Alike(2)]);
        lookup.set(11, vec![Alike(2), Alike(3)]);
        assert_eq!(lookup.get(&Alike(1)), [10]);
        assert_eq!(lookup.get(&Alike(2)), [10, 11]);
        assert_eq!(lookup.get(&Alike(3)), [11]);
        assert!(lookup.get(&Alike(4)).is_empty());
    }

    #[test]
    fn a_thing_stands_under_the_keys_that_it_was_put_under_last() {
        let mut lookup = Lookup::default();
        lookup.set(2, vec!["a", "b"]);
        lookup.set(1, vec!["b", "b"]);
        assert_eq!(lookup.crowded().collect::<Vec<_>>(), [(&"b", &[1, 2][..])]);
        lookup.set(2, vec!["c"]);
        lookup.set(1, Vec::new());
        lookup.set(3, Vec::new());
        assert_eq!(lookup.keys().collect::<Vec<_>>(), [&"c"]);
        assert_eq!(lookup.get(&"c"), [2]);
        assert_eq!(lookup.crowded().count(), 0);
        lookup.set(1, vec!["b"]);
        assert_eq!(lookup.get(&"b"), [1]);
    }
}
