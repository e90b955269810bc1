//! The photographs by themselves.

use super::photographs::{KINDS, Kind, STEPS, photograph, photographs};

#[test]
fn a_photograph_is_the_same_each_time_and_another_for_each_seed() {
    let one = photograph(1, Kind::Mixed, 3);
    let again = photograph(1, Kind::Mixed, 3);
    let other = photograph(2, Kind::Mixed, 3);
    assert_eq!(one.grey, again.grey);
    assert_eq!(one.text, again.text);
    assert_ne!(one.grey, other.grey);
    assert_eq!(one.grey.len(), one.width * one.height);
}

#[test]
fn the_photographs_of_a_seed_begin_with_the_first_step_of_the_first_kind() {
    let first = photographs(1).next().expect("there are many");
    assert_eq!((first.kind, first.step), (Kind::Tilted, 1));
    assert_eq!(first.grey, photograph(1, KINDS[0], 1).grey);
    assert_eq!(KINDS.len() * STEPS as usize, 150);
}
