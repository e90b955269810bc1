//! Answers that would otherwise need a walk over the whole job, kept true act by act.

use std::hash::Hash;

use rustc_hash::FxHashMap;

/// A many-to-many index: what is found under a key, and under which keys a thing stands.
///
/// Things under one key are kept in order, so that every phone lists them alike.
#[derive(Clone)]
pub struct Lookup<K, V> {
    found: FxHashMap<K, Vec<V>>,
    keys: FxHashMap<V, Vec<K>>,
}

impl<K, V> Default for Lookup<K, V> {
    fn default() -> Self {
        Self {
            found: FxHashMap::default(),
            keys: FxHashMap::default(),
        }
    }
}

impl<K: Clone + Eq + Hash, V: Copy + Eq + Hash + Ord> Lookup<K, V> {
    /// Everything under a key.
    #[must_use]
    pub fn get(&self, key: &K) -> &[V] {
        self.found.get(key).map_or(&[], Vec::as_slice)
    }

    /// The keys under which more than one thing stands, in no order that means anything.
    pub fn crowded(&self) -> impl Iterator<Item = (&K, &[V])> {
        self.found
            .iter()
            .filter(|(_, things)| things.len() > 1)
            .map(|(key, things)| (key, things.as_slice()))
    }

    /// All keys in use, in no order that means anything.
    pub fn keys(&self) -> impl Iterator<Item = &K> {
        self.found.keys()
    }

    /// Puts a thing under exactly these keys.
    pub(super) fn set(&mut self, thing: V, keys: Vec<K>) {
        match self.keys.get(&thing) {
            Some(before) if *before == keys => return,
            None if keys.is_empty() => return,
            _ => {}
        }
        for key in self.keys.remove(&thing).unwrap_or_default() {
            if let Some(things) = self.found.get_mut(&key) {
                things.retain(|other| *other != thing);
                if things.is_empty() {
                    self.found.remove(&key);
                }
            }
        }
        for key in &keys {
            let things = self.found.entry(key.clone()).or_default();
            if let Err(place) = things.binary_search(&thing) {
                things.insert(place, thing);
            }
        }
        if !keys.is_empty() {
            self.keys.insert(thing, keys);
        }
    }
}
