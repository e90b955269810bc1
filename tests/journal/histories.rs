//! Random histories of up to five phones that write, strike, copy and hear each other in any way
//! at all: whoever has heard the same lines sees the same job, to the byte.

use bothends::domain::ids::{ActId, Bits80, ThingId};
use bothends::journal::{
    Fact, FactRef, FloorFact, OutletFact, RackFact, RoomFact, Signature, WallTime,
};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::TestCaseResult;

use super::made::{Source, any_fact, runner};
use super::support::{Phone, Picture, Raw, act_id, taken, taken_singly};

const PHONES: u8 = 5;

/// What happens next in a history.
#[derive(Clone, Debug)]
enum Step {
    /// A phone writes facts of the small universe, lawful or not, and strikes acts that it knows.
    Writes {
        phone: Index,
        facts: Vec<Fact>,
        strikes: Vec<Index>,
        wall: u64,
    },
    /// A phone hears some of the lines of another, in an order of their own.
    Hears {
        phone: Index,
        other: Index,
        kept: u64,
        turn: Index,
    },
    /// A phone hears a line that no honest phone writes: some counter, links to whatever it knows
    /// and to what it does not, perhaps under a number that is taken.
    Forged {
        phone: Index,
        n: u32,
        copied: Option<Index>,
        lamport: u64,
        replaces: Vec<(Index, u32)>,
        strikes: Vec<Index>,
        facts: Vec<Fact>,
    },
}

/// Few things, so that facts meet. Some are added at the start, others whenever it comes; an id
/// stands for one kind mostly, since facts of every kind draw from the same few.
fn universe() -> Source {
    let thing = |(n, index)| ThingId {
        origin: Bits80(*b"schedule#1"),
        n,
        index,
    };
    let text = prop_oneof!["[ab]", Just("KIT2-C".to_owned())];
    Source {
        thing: (1..=3_u32, 0..=1_u32).prop_map(thing).boxed(),
        text: text.boxed(),
    }
}

fn step() -> impl Strategy<Value = Step> {
    let fact = || any_fact(&universe());
    let writes = (
        any::<Index>(),
        vec(fact(), 0..4),
        prop_oneof![3 => Just(vec![]), 2 => vec(any::<Index>(), 1..3)],
        prop_oneof![Just(0), Just(1 << 52), any::<u32>().prop_map(u64::from)],
    )
        .prop_map(|(phone, facts, strikes, wall)| Step::Writes {
            phone,
            facts,
            strikes,
            wall,
        });
    let hears = (any::<Index>(), any::<Index>(), any::<u64>(), any::<Index>()).prop_map(
        |(phone, other, kept, turn)| Step::Hears {
            phone,
            other,
            kept,
            turn,
        },
    );
    let forged = (
        any::<Index>(),
        0..6_u32,
        prop_oneof![4 => Just(None), 1 => any::<Index>().prop_map(Some)],
        0..40_u64,
        vec((any::<Index>(), 0..3_u32), 0..3),
        vec(any::<Index>(), 0..3),
        vec(fact(), 0..3),
    )
        .prop_map(
            |(phone, n, copied, lamport, replaces, strikes, facts)| Step::Forged {
                phone,
                n,
                copied,
                lamport,
                replaces,
                strikes,
                facts,
            },
        );
    prop_oneof![6 => writes, 3 => hears, 1 => forged]
}

/// Phones that all begin with the same few things.
fn start() -> Vec<Phone> {
    let mut first = Phone::new(1);
    let id = |n, index| ThingId {
        origin: Bits80(*b"schedule#1"),
        n,
        index,
    };
    first.writes([
        Fact::Floor(id(1, 0).into(), FloorFact::Added),
        Fact::Room(id(1, 0).into(), RoomFact::Added),
        Fact::Outlet(id(1, 1).into(), OutletFact::Added),
        Fact::Rack(id(2, 0).into(), RackFact::Added),
        Fact::Cable(id(2, 1).into(), bothends::journal::CableFact::Added),
    ]);
    let others = (2..=PHONES).map(|number| Phone::beside(number, &first));
    let others: Vec<Phone> = others.collect();
    let mut phones = vec![first];
    phones.extend(others);
    phones
}

/// An act that a phone knows, or one that nobody knows.
fn some_act(phone: &Phone, index: Index) -> ActId {
    let mut known: Vec<ActId> = phone.journal.history().iter().map(|act| act.id).collect();
    known.push(act_id(99, 1));
    *index.get(&known)
}

fn happen(phones: &mut [Phone], step: &Step, all: &mut Vec<String>) {
    match step {
        Step::Writes {
            phone,
            facts,
            strikes,
            wall,
        } => {
            let phone = &mut phones[phone.index(usize::from(PHONES))];
            let mut draft = phone.journal.draft();
            draft.facts.clone_from(facts);
            let strikes = strikes.iter().map(|index| some_act(phone, *index));
            draft.strikes.extend(strikes);
            let signature = Signature {
                by: "J.D.".to_owned(),
                wall: WallTime(*wall),
            };
            let written = phone.journal.write(draft, signature);
            all.push(written.expect("in turn and in range").line);
        }
        Step::Hears {
            phone,
            other,
            kept,
            turn,
        } => {
            let lines = phones[other.index(usize::from(PHONES))].journal.lines();
            let chosen = lines.iter().enumerate();
            let chosen = chosen.filter(|(at, _)| kept >> (at % 64) & 1 == 1);
            let mut chosen: Vec<String> = chosen.map(|(_, line)| (*line).to_owned()).collect();
            if !chosen.is_empty() {
                let by = turn.index(chosen.len());
                chosen.rotate_left(by);
            }
            let phone = &mut phones[phone.index(usize::from(PHONES))];
            phone.journal.take(chosen.iter().map(String::as_str));
        }
        Step::Forged {
            phone,
            n,
            copied,
            lamport,
            replaces,
            strikes,
            facts,
        } => {
            let phone = &mut phones[phone.index(usize::from(PHONES))];
            let id = match copied {
                Some(index) => some_act(phone, *index),
                None => act_id(66, *n),
            };
            let replaces = replaces.iter().map(|(index, fact)| FactRef {
                act: some_act(phone, *index),
                fact: *fact,
            });
            let strikes = strikes.iter().map(|index| some_act(phone, *index));
            let line = Raw::new(id, *lamport)
                .replaces(replaces)
                .strikes(strikes)
                .facts(facts.iter().cloned())
                .line();
            phone.journal.take([line.as_str()]);
            all.push(line);
        }
    }
}

fn shuffled(lines: &[String], keys: &[u16]) -> Vec<String> {
    let mut keyed: Vec<(u16, &String)> = lines
        .iter()
        .enumerate()
        .map(|(at, line)| (keys[at % keys.len()].wrapping_mul(at as u16 | 1), line))
        .collect();
    keyed.sort();
    keyed.into_iter().map(|(_, line)| line.clone()).collect()
}

fn holds(steps: &[Step], keys: &[u16]) -> TestCaseResult {
    let mut phones = start();
    let mut all: Vec<String> = phones[0]
        .journal
        .lines()
        .iter()
        .map(|&l| l.into())
        .collect();
    for step in steps {
        happen(&mut phones, step, &mut all);
    }
    // Kept act by act, each phone's registry is what its lines give when taken in anew.
    for phone in &phones {
        let lines = phone.journal.lines();
        let picture = Picture::of(&phone.journal);
        prop_assert_eq!(&picture, &Picture::of(&taken(&lines)));
        prop_assert_eq!(&picture, &Picture::of(&taken_singly(&lines)));
    }
    // Any order, any grouping, any repetition of all the lines gives the same.
    let whole = taken(&all);
    let picture = Picture::of(&whole);
    let orders = [
        all.iter().rev().cloned().collect(),
        shuffled(&all, keys),
        [shuffled(&all, &keys[1..]), all.clone()].concat(),
    ];
    for lines in &orders {
        prop_assert_eq!(&picture, &Picture::of(&taken(lines)));
        prop_assert_eq!(&picture, &Picture::of(&taken_singly(lines)));
    }
    let shuffled = &orders[1];
    let mut grouped = taken::<&str>(&[]);
    for bundle in shuffled.chunks(usize::from(keys[0]) % 7 + 2) {
        grouped.take(bundle.iter().map(String::as_str));
    }
    prop_assert_eq!(&picture, &Picture::of(&grouped));
    for phone in &mut phones {
        phone.journal.take(shuffled.iter().map(String::as_str));
        prop_assert_eq!(&picture, &Picture::of(&phone.journal));
    }
    // No line is ever lost, and none is made up.
    all.sort_unstable();
    all.dedup();
    let mut kept = picture.lines;
    kept.sort_unstable();
    prop_assert_eq!(all, kept);
    Ok(())
}

#[test]
fn whoever_heard_the_same_lines_sees_the_same_job() {
    let histories = (vec(step(), 1..50), vec(any::<u16>(), 2..9));
    let checked = runner(300).run(&histories, |(steps, keys)| holds(&steps, &keys));
    if let Err(failure) = checked {
        panic!("{failure}");
    }
}
