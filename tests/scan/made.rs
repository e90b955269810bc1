//! The photographs by themselves.

use super::photographs::{Kind, photograph};

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
