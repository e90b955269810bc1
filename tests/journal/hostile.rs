//! Lines that would break a careless reader: refused or unknown, kept, and never a panic.

use bothends::journal::{Fact, Taken, readable, wire};
use proptest::prelude::*;
use proptest::sample::Index;

use super::support::{Picture, merged, taken, taken_singly};
use crate::support::seeds::runner;

const SAMPLE: &str = include_str!("../corpus/journals/v1/every-kind.jsonl");

/// Lines that are no act: refused and kept.
const REFUSED: &str = include_str!("../corpus/hostile/refused.jsonl");

/// Lines of which each is an act with one fact that is not known: carried, and honoured as far as
/// its links go.
const UNKNOWN: &str = include_str!("../corpus/hostile/unknown.jsonl");

/// Lines of which each is an act that counts, whatever else stands in it.
const COUNTED: &str = include_str!("../corpus/hostile/counted.jsonl");

#[test]
fn refused_lines_are_refused_with_a_reason_and_kept() {
    for line in REFUSED.lines() {
        let refused = wire::read(line).expect_err(line);
        assert!(!refused.0.is_empty(), "{line}");
        assert!(refused.to_string().starts_with("this line cannot be read"));
        let mut journal = taken::<&str>(&[]);
        assert_eq!(journal.take([line]), [Taken::Unreadable], "{line}");
        assert_eq!(journal.lines(), [line]);
    }
    let lines: Vec<&str> = REFUSED.lines().collect();
    let journal = merged(std::slice::from_ref(&lines));
    assert_eq!(journal.health().unreadable, lines.len());
}

#[test]
fn unknown_lines_give_an_unknown_fact_and_are_carried() {
    for line in UNKNOWN.lines() {
        let act = wire::read(line).expect(line);
        assert_eq!(act.facts.len(), 1, "{line}");
        assert!(matches!(act.facts[0], Fact::Unknown { .. }), "{line}");
        assert_eq!(taken(&[line]).lines(), [line]);
    }
}

#[test]
fn counted_lines_count() {
    for line in COUNTED.lines() {
        let act = wire::read(line).expect(line);
        assert!(
            act.facts
                .iter()
                .all(|fact| !matches!(fact, Fact::Unknown { .. })),
            "{line}"
        );
        assert_eq!(taken(&[line]).lines(), [line]);
    }
}

/// A line with `depth` brackets somewhere in it.
fn nested(template: &str, open: &str, close: &str, depth: usize) -> String {
    template.replace('@', &(open.repeat(depth) + &close.repeat(depth)))
}

#[test]
fn deep_nesting_does_not_exhaust_the_stack() {
    let envelope = "{\"v\":1,\"writer\":\"91JPRV3F91JPRV3F\",\"n\":1,\"lamport\":1,\"wall\":0,";
    let places = [
        "@".to_owned(),
        format!("{envelope}\"later\":@}}"),
        format!("{envelope}\"about\":@}}"),
        format!("{envelope}\"facts\":@}}"),
        format!("{envelope}\"facts\":[@]}}"),
        format!("{envelope}\"facts\":[{{\"k\":\"JobNamed\",\"text\":@}}]}}"),
        format!("{envelope}\"facts\":[{{\"k\":\"JobNamed\",\"text\":\"Mill\",\"later\":@}}]}}"),
        format!("{envelope}\"facts\":[{{\"k\":@}}]}}"),
    ];
    for place in &places {
        for (open, close) in [("[", "]"), ("{\"a\":", "}"), ("[", ""), ("{\"a\":[", "]}")] {
            let line = nested(place, open, close, 200_000);
            let journal = taken_singly(&[line.as_str(), line.as_str()]);
            assert_eq!(journal.lines(), [line.as_str()]);
        }
    }
}

/// What one mutation does to the bytes of the sample.
#[derive(Clone, Debug)]
enum Change {
    Set(Index, u8),
    Delete(Index, Index),
    Repeat(Index, Index),
    Word(Index, &'static str),
}

const WORDS: [&str; 12] = [
    "null",
    "-1",
    "1e999",
    "18446744073709551616",
    "\"\\ud800\"",
    "\\u0000",
    "{}",
    "[]",
    "\"",
    "91JPRV3F91JPRV3F-1-4",
    "\"strikes\":[\"91JPRV3F91JPRV3F-2\"],",
    "\n",
];

fn change() -> impl Strategy<Value = Change> {
    prop_oneof![
        (any::<Index>(), any::<u8>()).prop_map(|(at, byte)| Change::Set(at, byte)),
        (any::<Index>(), any::<Index>()).prop_map(|(at, count)| Change::Delete(at, count)),
        (any::<Index>(), any::<Index>()).prop_map(|(at, count)| Change::Repeat(at, count)),
        (any::<Index>(), prop::sample::select(&WORDS[..]))
            .prop_map(|(at, word)| Change::Word(at, word)),
    ]
}

fn mutate(bytes: &mut Vec<u8>, change: &Change) {
    if bytes.is_empty() {
        return;
    }
    match change {
        Change::Set(at, byte) => {
            let at = at.index(bytes.len());
            bytes[at] = *byte;
        }
        Change::Delete(at, count) => {
            let at = at.index(bytes.len());
            let count = count.index(40.min(bytes.len() - at));
            bytes.drain(at..at + count);
        }
        Change::Repeat(at, count) => {
            let at = at.index(bytes.len());
            let count = count.index(40.min(bytes.len() - at));
            let copy = bytes[at..at + count].to_vec();
            bytes.splice(at..at, copy);
        }
        Change::Word(at, word) => {
            let at = at.index(bytes.len());
            bytes.splice(at..at, word.bytes());
        }
    }
}

#[test]
fn mutated_samples_never_panic_and_fold_alike_in_both_directions() {
    let mutations = prop::collection::vec(change(), 1..12);
    let checked = runner(2_000).run(&mutations, |changes| {
        let mut bytes = SAMPLE.as_bytes().to_vec();
        for change in &changes {
            mutate(&mut bytes, change);
        }
        let text = String::from_utf8_lossy(&bytes);
        // Beside the sample itself, so that a changed line also clashes with its unchanged twin.
        let mut lines: Vec<&str> = text.lines().collect();
        if changes.len() % 2 == 0 {
            lines.extend(SAMPLE.lines());
        }
        let picture = Picture::of(&taken(&lines));
        lines.reverse();
        prop_assert_eq!(&picture, &Picture::of(&taken(&lines)));
        lines.sort_unstable();
        lines.dedup();
        let mut kept = picture.lines;
        kept.sort_unstable();
        prop_assert_eq!(lines, kept);
        Ok(())
    });
    if let Err(failure) = checked {
        panic!("{failure}");
    }
}

#[test]
fn a_damaged_byte_takes_its_own_line_along_and_no_other() {
    let stored = "{\"a\":1}\n{\"b\":\"Küche\"}\n{\"c\":3}";
    assert_eq!(readable(stored.as_bytes().to_vec()), (stored.to_owned(), 0));
    let at = stored.find("Küche").expect("a name") + 1;
    for bad in [0xFF, 0xC3, b'\x80'] {
        let mut bytes = stored.as_bytes().to_vec();
        // Of the two bytes of a letter one is gone, and the other is another.
        bytes.remove(at + 1);
        bytes[at] = bad;
        let (text, torn) = readable(bytes);
        assert_eq!(text, "{\"a\":1}\n{\"c\":3}\n", "{bad:#x}");
        assert_eq!(torn, 1, "{bad:#x}");
    }
}
