//! Answers that would otherwise need a walk over the whole job, kept true act by act.

use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashMap, FxHasher};
use thin_vec::ThinVec;

/// What is found under a key. Things under one key are kept in order, so that every phone lists them alike.
#[derive(Clone)]
pub struct Lookup<K, V> {
    /// A list that became empty keeps its place, so that places are good for ever.
    lists: Vec<(K, ThinVec<V>)>,
    places: Places,
}

impl<K, V> Default for Lookup<K, V> {
    fn default() -> Self {
        Self {
            lists: Vec::new(),
            places: Places::default(),
        }
    }
}

impl<K, V> Lookup<K, V> {
    /// The keys under which more than one thing stands, in no order that means anything.
    pub fn crowded(&self) -> impl Iterator<Item = (&K, &[V])> {
        let crowded = self.lists.iter().filter(|(_, things)| things.len() > 1);
        crowded.map(|(key, things)| (key, things.as_slice()))
    }

    /// All keys in use, in no order that means anything.
    pub fn keys(&self) -> impl Iterator<Item = &K> {
        let used = self.lists.iter().filter(|(_, things)| !things.is_empty());
        used.map(|(key, _)| key)
    }
}

impl<K: Eq + Hash, V> Lookup<K, V> {
    /// Everything under a key.
    #[must_use]
    pub fn get(&self, key: &K) -> &[V] {
        let place = self.find(hash(key), key);
        place.map_or(&[], |place| &self.lists[place as usize].1)
    }

    fn find(&self, hash: u64, key: &K) -> Option<u32> {
        let mut next = self.places.newest(hash);
        while let Some(place) = next {
            if self.lists[place as usize].0 == *key {
                return Some(place);
            }
            next = self.places.older(place);
        }
        None
    }

    /// The place of a key, made if it has none.
    #[inline(never)]
    pub(super) fn place(&mut self, key: K) -> u32 {
        let hash = hash(&key);
        self.find(hash, &key).unwrap_or_else(|| {
            self.lists.push((key, ThinVec::new()));
            self.places.add(hash)
        })
    }
}

impl<K, V: Ord> Lookup<K, V> {
    /// Whether a thing stands at a place from now on.
    pub(super) fn turn(&mut self, place: u32, thing: V, stands: bool) {
        turn(&mut self.lists[place as usize].1, thing, stands);
    }
}

// Out of line, because there are more indexes than kinds of things in them.
#[inline(never)]
fn turn<V: Ord>(things: &mut ThinVec<V>, thing: V, stands: bool) {
    match (things.binary_search(&thing), stands) {
        (Err(at), true) => {
            // Most keys have one thing, and a job has very many keys.
            if things.is_empty() {
                things.reserve_exact(1);
            }
            things.insert(at, thing);
        }
        (Ok(at), false) => {
            things.remove(at);
        }
        (Ok(_), true) | (Err(_), false) => {}
    }
}

fn hash(of: &impl Hash) -> u64 {
    let mut hasher = FxHasher::default();
    of.hash(&mut hasher);
    hasher.finish()
}

/// Where the lists of keys are, by the hashes of the keys alone: so there is one such type for
/// keys of all types. Keys with one hash are linked, the newest first.
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
        for (key, thing) in [(1, 10), (2, 10), (3, 11), (2, 11)] {
            let place = lookup.place(Alike(key));
            lookup.turn(place, thing, true);
        }
        assert_eq!(lookup.get(&Alike(1)), [10]);
        assert_eq!(lookup.get(&Alike(2)), [10, 11]);
        assert_eq!(lookup.get(&Alike(3)), [11]);
        assert!(lookup.get(&Alike(4)).is_empty());
    }

    #[test]
    fn a_thing_stands_once_at_a_place_and_in_order() {
        let mut lookup = Lookup::default();
        let (a, b) = (lookup.place("a"), lookup.place("b"));
        assert_eq!(lookup.place("a"), a);
        for (place, thing) in [(a, 2), (b, 2), (b, 1), (b, 1)] {
            lookup.turn(place, thing, true);
        }
        assert_eq!(lookup.crowded().collect::<Vec<_>>(), [(&"b", &[1, 2][..])]);
        for (place, thing) in [(a, 2), (b, 2), (b, 3)] {
            lookup.turn(place, thing, false);
        }
        assert_eq!(lookup.keys().collect::<Vec<_>>(), [&"b"]);
        assert_eq!(lookup.get(&"b"), [1]);
        assert_eq!(lookup.get(&"a"), [] as [i32; 0]);
    }
}
