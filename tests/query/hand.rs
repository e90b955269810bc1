//! The keypad offers exactly the codes that exist, and a cable in the hand finds its position.

use std::collections::BTreeSet;

use bothends::command::Want;
use bothends::domain::label::LegNumber;
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::place::{End, Place, Placement, RunKind, Side};
use bothends::names;
use bothends::query::hand::{hand, in_hand, without_last_key};

use crate::mill::Mill;

/// `KIT 2/3`: the label of each key with its open cables and all of them, then the hits.
fn keys(mill: &Mill, typed: &str) -> String {
    let hand = hand(mill.registry(), typed);
    let keys = hand
        .next
        .iter()
        .map(|key| format!("{} {}/{}", key.label, key.open, key.cables));
    let hits = hand
        .hits
        .iter()
        .map(|id| names::cable(mill.registry(), *id));
    keys.chain(hits).collect::<Vec<_>>().join(", ")
}

fn wired() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 10);
    mill.outlets("KITS", "camera", 1);
    mill
}

#[test]
fn every_key_leads_on_and_at_most_three_keys_lead_to_a_cable() {
    let mill = wired();
    for (typed, expected) in [
        ("", "KIT 20/20, KITS 1/1"),
        (
            "KIT",
            "1 2/2, 2 2/2, 3 2/2, 4 2/2, 5 2/2, 6 2/2, 7 2/2, 8 2/2, 9 2/2, 10 2/2",
        ),
        ("KIT1", "A 1/1, B 1/1"),
        ("KIT10", "A 1/1, B 1/1"),
        ("KIT10-B", "KIT10-B"),
        ("KITS", "1 1/1"),
        ("KITS1", "A 1/1"),
        ("KIT11", ""),
        ("KI", ""),
        ("KIT1-", ""),
        ("DIN", ""),
    ] {
        assert_eq!(keys(&mill, typed), expected, "after “{typed}”");
    }
}

#[test]
fn walking_all_keys_finds_every_cable_once() {
    let mut mill = wired();
    mill.rack(2, "A", "Loft rack");
    let [near, far] = ["1A", "2A"].map(|space| mill.rack_id(space));
    mill.does(&Want::AddTie {
        near,
        far,
        medium: Medium::from_key("cat6-utp").expect("a key"),
        purpose: "Tie".to_owned(),
    });
    let registry = mill.registry();
    let mut found = BTreeSet::new();
    let mut waiting = vec![String::new()];
    while let Some(typed) = waiting.pop() {
        for key in hand(registry, &typed).next {
            assert_eq!(without_last_key(&key.typed), typed);
            for id in &key.hits {
                assert_eq!(names::cable(registry, *id), key.typed);
                assert!(found.insert(*id), "{} is found twice", key.typed);
            }
            waiting.push(key.typed);
        }
    }
    assert_eq!(found.len(), 22);
    assert_eq!(keys(&mill, ""), "1A 1/1, KIT 20/20, KITS 1/1");
    assert_eq!(keys(&mill, "1A"), "2A 1/1");
    assert_eq!(keys(&mill, "1A/2A"), "1 1/1");
    assert_eq!(keys(&mill, "1A/2A-1"), "1A/2A-1");
}

#[test]
fn what_is_landed_or_cancelled_is_counted_so() {
    let mut mill = wired();
    mill.land("KIT2-A", "B01");
    assert_eq!(keys(&mill, "KIT2"), "A 0/1, B 1/1");
    mill.does(&Want::CancelCable {
        cable: mill.cable("KIT2-B"),
        reason: "Not wanted".to_owned(),
    });
    assert_eq!(keys(&mill, "KIT2"), "A 0/1");
    mill.does(&Want::Lift {
        end: mill.far("KIT2-A"),
    });
    assert_eq!(keys(&mill, "KIT2"), "A 1/1");
}

#[test]
fn a_cable_in_the_hand_finds_its_position_and_who_sits_on_it() {
    let mut mill = wired();
    mill.fill("B");
    let found = in_hand(mill.registry(), mill.cable("KIT4-A")).expect("a cable");
    assert_eq!(found.kind, RunKind::HomeRun);
    let [tail] = found.tails.as_slice() else {
        panic!("one tail: {found:?}");
    };
    assert_eq!(tail.planned, Some(Place::rear(mill.position("B07"))));
    assert!(tail.is_open() && tail.taken_by.is_empty());

    mill.land("KIT1-A", "B07");
    let found = in_hand(mill.registry(), mill.cable("KIT4-A")).expect("a cable");
    assert_eq!(found.tails[0].taken_by, [mill.far("KIT1-A")]);
    let found = in_hand(mill.registry(), mill.cable("KIT1-A")).expect("a cable");
    assert_eq!(
        found.tails[0].landed(),
        Some(&Place::rear(mill.position("B07")))
    );
}

#[test]
fn a_split_end_has_a_tail_for_each_leg_and_a_local_run_none() {
    let mut mill = wired();
    mill.does(&Want::SplitEnd {
        end: mill.far("KIT1-A"),
        legs: LegNumber::new(2).expect("a count"),
    });
    let found = in_hand(mill.registry(), mill.cable("KIT1-A")).expect("a cable");
    let legs: Vec<_> = found.tails.iter().map(|tail| tail.end.leg).collect();
    assert_eq!(legs, [LegNumber::new(1), LegNumber::new(2)]);
    let away: Vec<_> = found.away.iter().map(|tail| tail.end).collect();
    assert_eq!(away, [End::whole(mill.cable("KIT1-A"), Side::Near)]);

    mill.does(&Want::RouteLocal {
        cable: mill.cable("KIT2-A"),
        from: mill.outlet_id("KIT", 3),
    });
    let found = in_hand(mill.registry(), mill.cable("KIT2-A")).expect("a cable");
    assert_eq!((found.kind, found.tails.len()), (RunKind::LocalRun, 0));
    assert_eq!(found.away.len(), 2);
    assert_eq!(keys(&mill, "KIT2"), "A 0/1, B 1/1");
}

#[test]
fn two_that_are_landed_on_one_position_both_wait_for_somebody() {
    let mut mill = wired();
    let mut other = mill.phone(8);
    mill.land("KIT2-A", "B01");
    other.land("KIT3-A", "B01");
    mill.hears(&other);
    assert_eq!(keys(&mill, "KIT2"), "A 1/1, B 1/1");
    assert_eq!(keys(&mill, "KIT3"), "A 1/1, B 1/1");
}

#[test]
fn a_spare_tail_waits_for_nobody() {
    let mut mill = wired();
    mill.does(&Want::Spare {
        end: mill.far("KIT1-B"),
        kept: "above the rack".to_owned(),
        reason: "FUTURE".to_owned(),
    });
    assert_eq!(keys(&mill, "KIT1"), "A 1/1, B 0/1");
    let found = in_hand(mill.registry(), mill.cable("KIT1-B")).expect("a cable");
    assert_eq!(found.tails[0].end.side, Side::Far);
    assert!(matches!(
        found.tails[0].placement,
        Some(Placement::Spare { .. })
    ));
}

#[test]
fn a_position_of_a_panel_that_was_taken_back_is_no_place_to_go() {
    let mut mill = wired();
    let before = mill.journal.len();
    mill.panel("1A", "K", Connector::Modular, 24, Some(14));
    let added = mill.journal.history()[before].id;
    let (end, position) = (mill.far("KIT1-A"), mill.position("K06"));
    let place = Some(Place::rear(position));
    mill.does(&Want::PlanEnd { end, place });
    let planned = |mill: &Mill| {
        let found = in_hand(mill.registry(), end.cable).expect("a cable");
        found.tails[0].planned.clone()
    };
    assert_eq!(planned(&mill), Some(Place::rear(position)));
    mill.does(&Want::Undo { act: added });
    assert_eq!(planned(&mill), None);
}
