//! Sorting that is compiled once.
//!
//! The standard library's sorts are compiled anew for every type that they meet, about three
//! kilobytes each, and this program sorts some fifty types on a phone. Here one merge sort works on
//! places in a slice, and only what compares two elements and what moves them differs by type.

use std::cmp::Ordering;

/// Puts slices in order. Equal elements keep their order.
pub trait Order<T> {
    /// Puts the elements in their own order.
    fn put_in_order(&mut self)
    where
        T: Ord;

    /// Puts the elements in the order of their keys; each key is worked out once.
    fn order_by_key<K: Ord>(&mut self, key: impl FnMut(&T) -> K);

    /// Puts the elements in the order that a comparison tells.
    fn order_by(&mut self, compare: impl FnMut(&T, &T) -> Ordering);
}

impl<T> Order<T> for [T] {
    fn put_in_order(&mut self)
    where
        T: Ord,
    {
        self.order_by(T::cmp);
    }

    fn order_by(&mut self, mut compare: impl FnMut(&T, &T) -> Ordering) {
        // Most lists are of one element or none, and there are very many of them.
        if self.len() < 2 {
            return;
        }
        let after = &mut |one: usize, other: usize| compare(&self[one], &self[other]).is_gt();
        let places = places(self.len(), after);
        arrange(self, places);
    }

    fn order_by_key<K: Ord>(&mut self, key: impl FnMut(&T) -> K) {
        if self.len() < 2 {
            return;
        }
        let keys: Vec<K> = self.iter().map(key).collect();
        let places = places(self.len(), &mut |one, other| keys[one] > keys[other]);
        arrange(self, places);
    }
}

/// Which element comes to each place: a merge sort from the bottom up, in runs of 1, 2, 4, …
fn places(count: usize, after: &mut dyn FnMut(usize, usize) -> bool) -> Vec<usize> {
    let mut from: Vec<usize> = (0..count).collect();
    let mut to = from.clone();
    let mut run = 1;
    while run < count {
        for start in (0..count).step_by(2 * run) {
            let middle = (start + run).min(count);
            let end = (middle + run).min(count);
            // Much is in order before it is sorted, as it was gathered in an order that means something.
            if middle == end || !after(from[middle - 1], from[middle]) {
                to[start..end].copy_from_slice(&from[start..end]);
                continue;
            }
            let (mut left, mut right) = (start, middle);
            for place in &mut to[start..end] {
                let take_right = left == middle || (right < end && after(from[left], from[right]));
                let taken = if take_right { &mut right } else { &mut left };
                *place = from[*taken];
                *taken += 1;
            }
        }
        std::mem::swap(&mut from, &mut to);
        run *= 2;
    }
    from
}

/// Moves every element to its place, round by round through the circles of the exchange.
fn arrange<T>(slice: &mut [T], mut places: Vec<usize>) {
    for start in 0..places.len() {
        let mut at = start;
        loop {
            let next = std::mem::replace(&mut places[at], at);
            if next == start || next == at {
                break;
            }
            slice.swap(at, next);
            at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slices_come_out_as_the_standard_library_sorts_them() {
        // A fixed walk through all lengths up to 70 with many equal keys.
        let mut state = 1_u32;
        for count in 0..70 {
            let next = |state: &mut u32| {
                *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                *state >> 28
            };
            let made: Vec<(u32, usize)> =
                (0..count).map(|place| (next(&mut state), place)).collect();
            let (mut ours, mut theirs) = (made.clone(), made.clone());
            ours.order_by_key(|(key, _)| *key);
            theirs.sort_by_key(|(key, _)| *key);
            assert_eq!(ours, theirs, "stable, {count}");
            let mut reversed: Vec<_> = made.into_iter().rev().collect();
            reversed.put_in_order();
            theirs.sort_unstable();
            assert_eq!(reversed, theirs, "{count}");
        }
    }
}
