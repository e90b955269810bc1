//! Random histories of up to five phones that write, strike, copy and hear each other in any way
//! at all, each with a clock that is wrong by hours: whoever has heard the same lines sees the same
//! job, to the byte.

use bothends::domain::ids::{ActId, Bits80, PullId, ThingId};
use bothends::domain::label::{LegNumber, PanelLetters, PositionNumber};
use bothends::domain::medium::Connector;
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Position, RunName, Side};
use bothends::journal::{
    CableFact, EndFact, EndOfPull, Fact, FactRef, FloorFact, LooseEndFact, OutletFact, PanelFact,
    PanelMake, PanelSize, RackFact, RoomFact, Signature, WallTime,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::TestCaseResult;

use super::made::{Source, any_fact};
use super::support::{
    Phone, Picture, Raw, act_id, letter, marked, numbered, room_code, space, taken, taken_singly,
};
use crate::support::seeds::each_seed;

const PHONES: u8 = 5;

/// Seeds that failed once, and those that stand for them.
const KEPT: &str = include_str!("../corpus/seeds/histories.txt");

const HOUR: u64 = 3_600_000;

/// What a clock shows.
#[derive(Clone, Copy, Debug)]
enum Clock {
    /// The time, as wrong as that phone's clock is, so many minutes after the act before.
    After(u8),
    /// Something that no clock should.
    Broken(u64),
}

/// What happens next in a history.
#[derive(Clone, Debug)]
enum Step {
    /// A phone writes facts of the small universe, lawful or not, and strikes acts that it knows.
    Writes {
        phone: Index,
        facts: Vec<Fact>,
        strikes: Vec<Index>,
        clock: Clock,
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

fn id(n: u32, index: u32) -> ThingId {
    ThingId {
        origin: Bits80(*b"schedule#1"),
        n,
        index,
    }
}

/// Few things, so that facts meet. The first three are added at the start, as things of every kind
/// at once; the last is added whenever it comes.
fn universe() -> Source {
    let things = prop_oneof![
        12 => Just(id(1, 0)),
        8 => Just(id(1, 1)),
        4 => Just(id(2, 0)),
        1 => Just(id(2, 1)),
    ];
    let text = prop_oneof!["[ab]", Just("AA1-A".to_owned())];
    Source {
        thing: things.boxed(),
        text: text.boxed(),
    }
}

/// Facts that the index follows, with few values, so that codes and places meet.
fn indexed() -> impl Strategy<Value = Fact> {
    fn of<I: From<ThingId> + std::fmt::Debug>() -> impl Strategy<Value = I> {
        universe().thing.prop_map(I::from)
    }
    let end = || {
        let side = select(vec![Side::Near, Side::Far]);
        let leg = prop_oneof![3 => Just(None), 1 => Just(LegNumber::new(1))];
        (of(), side, leg).prop_map(|(cable, side, leg)| End { cable, side, leg })
    };
    let place = || {
        (of(), 1..=2_u16).prop_map(|(panel, number)| {
            let number = PositionNumber::new(number).expect("a position");
            Place::rear(Position { panel, number })
        })
    };
    let code = select(vec!["AA", "BB"]);
    let letters = || select(vec!["A", "B"]);
    let placed = prop_oneof![
        place().prop_map(|place| {
            let fitting = Fitting::Direct;
            EndFact::Placed(Placement::Landed { place, fitting })
        }),
        Just(EndFact::Placed(Placement::Lifted)),
        option::of(place()).prop_map(EndFact::Planned),
        universe().text.prop_map(|text| marked(&text)),
    ];
    let at_end = (end(), any::<bool>(), of(), placed).prop_map(|(end, first, other, fact)| {
        let pull: PullId = if first { end.cable.0.into() } else { other };
        Fact::End(EndOfPull { end, pull }, fact)
    });
    let named = prop_oneof![
        3 => (of(), select(vec!['A', 'B'])).prop_map(|(outlet, code)| RunName::Feeds {
            outlet,
            letter: letter(code),
        }),
        1 => (of(), of(), 1..=1_u16).prop_map(|(near, far, number)| RunName::Ties {
            near,
            far,
            number,
        }),
    ];
    let leaves = prop_oneof![
        option::of(of()).prop_map(Leaves::Rack),
        of().prop_map(Leaves::Outlet),
    ];
    let of_cable = prop_oneof![
        3 => named.prop_map(CableFact::Named),
        1 => leaves.prop_map(CableFact::Leaves),
        1 => of().prop_map(CableFact::InJacket),
        1 => of().prop_map(|pull| CableFact::Repulled { pull, reason: String::new(), known: None }),
    ];
    prop_oneof![
        (of(), code).prop_map(|(room, code)| Fact::Room(room, RoomFact::Coded(room_code(code)))),
        (of(), of(), 1..=2_u8).prop_map(|(outlet, room, number)| numbered(outlet, room, number)),
        (of(), of_cable).prop_map(|(cable, fact)| Fact::Cable(cable, fact)),
        at_end,
        (of(), letters()).prop_map(|(rack, code)| Fact::Rack(rack, RackFact::InSpace(space(code)))),
        (of(), letters()).prop_map(|(panel, code)| {
            let letters = PanelLetters::new(code).expect("panel letters");
            Fact::Panel(panel, PanelFact::Lettered(letters))
        }),
        (of(), of()).prop_map(|(panel, rack)| Fact::Panel(panel, PanelFact::InRack(rack))),
        (of(), end()).prop_map(|(loose, end)| Fact::LooseEnd(loose, LooseEndFact::Joined(end))),
    ]
}

/// A fact that adds a thing of some kind.
fn adding(kind: u8, id: ThingId) -> Fact {
    let make = || PanelMake {
        connector: Connector::Modular,
        positions: PanelSize::new(24).expect("a size"),
    };
    match kind {
        0 => Fact::Room(id.into(), RoomFact::Added),
        1 => Fact::Outlet(id.into(), OutletFact::Added),
        2 => Fact::Cable(id.into(), CableFact::Added),
        3 => Fact::Rack(id.into(), RackFact::Added),
        4 => Fact::Panel(id.into(), PanelFact::Added(make())),
        5 => Fact::JacketAdded(id.into()),
        6 => Fact::LooseEnd(id.into(), LooseEndFact::Added { number: 4 }),
        _ => Fact::Floor(id.into(), FloorFact::Added),
    }
}

fn step() -> impl Strategy<Value = Step> {
    let fact = || {
        let added = (0..8_u8, universe().thing).prop_map(|(kind, id)| adding(kind, id));
        prop_oneof![4 => indexed(), 2 => any_fact(&universe()), 1 => added]
    };
    let writes = (
        any::<Index>(),
        vec(fact(), 0..4),
        prop_oneof![3 => Just(vec![]), 2 => vec(any::<Index>(), 1..3)],
        prop_oneof![
            6 => any::<u8>().prop_map(Clock::After),
            1 => prop_oneof![Just(0), Just(1 << 52), any::<u32>().prop_map(u64::from)]
                .prop_map(Clock::Broken),
        ],
    )
        .prop_map(|(phone, facts, strikes, clock)| Step::Writes {
            phone,
            facts,
            strikes,
            clock,
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

/// Phones that all begin with the same few things, each with its clock wrong by so many hours.
fn start(hours: &[i8]) -> Vec<Phone> {
    let mut first = Phone::new(1);
    // One act for each kind, so that each can be taken back by itself.
    for kind in 0..8 {
        let things = [id(1, 0), id(1, 1), id(2, 0)];
        first.writes(things.map(|thing| adding(kind, thing)));
    }
    let others = (2..=PHONES).map(|number| Phone::beside(number, &first));
    let others: Vec<Phone> = others.collect();
    let mut phones = vec![first];
    phones.extend(others);
    for (phone, hours) in phones.iter_mut().zip(hours) {
        let wrong = u64::from(hours.unsigned_abs()) * HOUR;
        phone.wall = match *hours < 0 {
            true => phone.wall - wrong,
            false => phone.wall + wrong,
        };
    }
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
            clock,
        } => {
            let wall = match clock {
                Clock::Broken(wall) => *wall,
                // The same time passes on every phone.
                Clock::After(minutes) => {
                    for phone in &mut *phones {
                        phone.wall += u64::from(*minutes) * 60_000;
                    }
                    phones[phone.index(usize::from(PHONES))].wall
                }
            };
            let phone = &mut phones[phone.index(usize::from(PHONES))];
            let mut draft = phone.journal.draft();
            draft.facts.clone_from(facts);
            let strikes = strikes.iter().map(|index| some_act(phone, *index));
            draft.strikes.extend(strikes);
            let signature = Signature {
                by: "J.D.".to_owned(),
                wall: WallTime(wall),
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

/// Lines in groups of a few, now and then a group twice.
fn grouped<'a>(mut lines: &'a [String], keys: &[u16]) -> Vec<&'a [String]> {
    let mut groups = Vec::new();
    for key in keys.iter().cycle() {
        if lines.is_empty() {
            break;
        }
        let (group, rest) = lines.split_at(lines.len().min(usize::from(key % 9) + 1));
        groups.push(group);
        groups.extend((key % 4 == 0).then_some(group));
        lines = rest;
    }
    groups
}

fn holds(hours: &[i8], steps: &[Step], keys: &[u16]) -> TestCaseResult {
    let mut phones = start(hours);
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
    let mut in_groups = taken::<&str>(&[]);
    for group in grouped(shuffled, keys) {
        in_groups.take(group.iter().map(String::as_str));
    }
    prop_assert_eq!(&picture, &Picture::of(&in_groups));
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
    let hours = vec(-72..=72_i8, usize::from(PHONES));
    let histories = (hours, vec(step(), 1..80), vec(any::<u16>(), 2..9));
    each_seed(KEPT, 500, &histories, |(hours, steps, keys)| {
        holds(&hours, &steps, &keys)
    });
}
