//! Proposed room codes against a measure of their own.

use bothends::domain::sorted::SortedSet;

use bothends::codes::propose::propose_room_code;
use bothends::domain::label::RoomCode;
use proptest::prelude::*;

use super::any_code;

/// The number of letters to change, leave out or put in, by the table of Wagner and Fischer
/// (1974): another way than the code's own, which tries all neighbours.
fn edits(one: &str, other: &str) -> usize {
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.bytes().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in other.bytes().enumerate() {
            let changed = diagonal + usize::from(a != b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[other.len()]
}

#[test]
fn the_measure_itself() {
    // The usual textbook pair, and neighbours.
    for (one, other, distance) in [
        ("KITTEN", "SITTING", 3),
        ("KIT", "KIT", 0),
        ("KIT", "KTI", 2),
        ("KIT", "AKIT", 1),
        ("AKIT", "BKIT", 1),
    ] {
        assert_eq!(edits(one, other), distance, "{one} {other}");
    }
}

const NUMBERS: [&str; 10] = [
    "NIL", "ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE",
];

/// Whether a code is two letters from another; that of a room with a number may differ from those of
/// its noun in the letter behind alone.
fn are_apart(name: &str, code: RoomCode, other: RoomCode) -> bool {
    let (code, other) = (code.as_str(), other.as_str());
    let stem = &code[..code.len() - 1];
    let name = name.to_uppercase();
    let is_numbered = name.chars().any(|character| character.is_ascii_digit())
        || NUMBERS.iter().any(|number| name.contains(number));
    let rest = other.strip_prefix(stem);
    let is_alike = rest.is_some_and(|rest| rest.len() <= 1);
    code != other && (edits(code, other) > 1 || is_numbered && is_alike)
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[A-Za-z]{1,9}( [A-Za-z]{1,9}){0,2}( [0-9])?",
        Just("Bedroom".to_owned()),
    ]
}

fn taken() -> impl Strategy<Value = SortedSet<RoomCode>> {
    let codes = proptest::collection::vec(any_code::room(), 0..80);
    codes.prop_map(SortedSet::from_iter)
}

proptest! {
    #[test]
    fn a_proposal_is_two_letters_from_every_code_in_use(
        name in name(),
        taken in taken(),
    ) {
        let code = propose_room_code(&name, None, &taken);
        prop_assert!(code.as_str().len() >= 3);
        for other in taken.iter() {
            prop_assert!(are_apart(&name, code, *other), "{} {}", code, other);
        }
        prop_assert_eq!(propose_room_code(&name, None, &taken), code);
    }

    #[test]
    fn rooms_planned_one_after_the_other_stay_apart(
        names in proptest::collection::vec(name(), 1..60),
    ) {
        let mut taken = SortedSet::new();
        for name in &names {
            let code: RoomCode = propose_room_code(name, None, &taken);
            for other in taken.iter() {
                prop_assert!(are_apart(name, code, *other), "{} {}", code, other);
            }
            taken.insert(code);
        }
    }

    #[test]
    fn only_the_letter_of_the_flat_may_be_all_that_differs(
        name in name(),
        prefix in any::<char>(),
        letter in proptest::char::range('A', 'Z'),
        taken in taken(),
    ) {
        let code = propose_room_code(&name, Some(letter), &taken);
        prop_assert!(code.as_str().starts_with(letter));
        for other in taken.iter() {
            let same_stem = code.as_str()[1..] == other.as_str()[1..];
            let far = are_apart(&name, code, *other);
            prop_assert!(far || (same_stem && code != *other), "{} {}", code, other);
        }
        // Any character at all is taken for a prefix without harm.
        prop_assert!(!taken.contains(&propose_room_code(&name, Some(prefix), &taken)));
    }
}
