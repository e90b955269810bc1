//! Two contents under one writer and number: both are kept and carried, and neither counts.

use bothends::domain::ids::ActId;
use bothends::journal::{Fact, JobFact, RoomFact};

use super::support::{Kitchen, Phone, Picture, Raw, act_id, fact_of, merged};

fn named(name: &str) -> Fact {
    Fact::Job(JobFact::Named(name.to_owned()))
}

fn owned(phone: &Phone) -> Vec<String> {
    phone
        .journal
        .lines()
        .iter()
        .map(|&line| line.into())
        .collect()
}

#[test]
fn neither_of_two_contents_counts_and_what_replaced_one_counts_all_the_same() {
    // A profile was restored from a copy, and both copies went on writing.
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let mut copy = Phone::new(1);
    copy.hears(&phone);
    let clash = phone.writes([Fact::Room(kitchen.room, RoomFact::Named("Galley".into()))]);
    let later = phone.writes([Fact::Room(kitchen.room, RoomFact::Named("Larder".into()))]);
    copy.writes([Fact::Room(kitchen.room, RoomFact::Named("Pantry".into()))]);
    let both = merged(&[owned(&phone), owned(&copy)]);
    let health = both.health();
    assert_eq!(health.clashes, [clash]);
    assert_eq!(health.waiting, [], "what it replaced will never count");
    assert_eq!(health.ignored_links, []);
    assert_eq!(health.gaps, [], "the number is there, if twice");
    assert_eq!(
        both.frontier(),
        [later],
        "nor is what follows unknown for it"
    );
    let room = both.registry().rooms.get(kitchen.room).unwrap();
    // What stood before the two is said again, beside what was said after them.
    assert!(both.act(later).is_some());
    assert_eq!(room.name.distinct(), ["Kitchen", "Larder"]);
    assert_eq!(both.lines().len(), owned(&phone).len() + 1);
}

#[test]
fn three_contents_and_every_order_give_the_same() {
    let lines: Vec<String> = ["Mill", "Mole", "Mull"]
        .iter()
        .map(|name| Raw::new(act_id(1, 1), 1).facts([named(name)]).line())
        .collect();
    let dependent = Raw::new(act_id(2, 1), 2)
        .facts([named("Marrowby Mill")])
        .replaces([fact_of(act_id(1, 1), 0)])
        .line();
    let mut pictures = Vec::new();
    for first in 0..4 {
        let mut order: Vec<Vec<String>> = lines.iter().map(|line| vec![line.clone()]).collect();
        order.insert(first, vec![dependent.clone()]);
        for turn in 0..4 {
            order.rotate_left(turn);
            pictures.push(Picture::of(&merged(&order)));
        }
    }
    for picture in &pictures {
        assert_eq!(picture, &pictures[0]);
    }
    assert_eq!(pictures[0].lines.len(), 4);
    assert_eq!(pictures[0].history.len(), 1, "what pointed to it");
    assert_eq!(pictures[0].health.waiting, []);
}

#[test]
fn a_clash_among_waiting_acts_is_a_clash_too() {
    let strike = |target| Raw::new(act_id(1, 1), 5).strikes([target]).line();
    let journal = merged(&[
        vec![strike(act_id(8, 1))],
        vec![strike(act_id(9, 1))],
        vec![Raw::new(act_id(9, 1), 1).facts([named("Mill")]).line()],
    ]);
    assert_eq!(journal.health().clashes, [act_id(1, 1)]);
    assert_eq!(journal.health().waiting, Vec::<ActId>::new());
    assert!(!journal.is_struck(act_id(9, 1)));
}

#[test]
fn a_clash_takes_back_strikes_things_and_reports_with_it() {
    // The act that clashes had added a room, struck an act and pointed forward.
    let mut phone = Phone::new(1);
    let name = phone.writes([named("Mill")]);
    let mut copy = Phone::new(2);
    copy.hears(&phone);
    let mut twin = Phone::new(2);
    twin.hears(&phone);
    let mut draft = copy.journal.draft();
    let room: bothends::domain::ids::RoomId = draft.mint();
    copy.writes([Fact::Room(room, RoomFact::Added)]);
    copy.strikes([name]);
    copy.writes([Fact::Room(room, RoomFact::Named("Kitchen".into()))]);
    twin.writes([named("Mole")]);
    let journal = merged(&[owned(&copy), owned(&twin)]);
    // Only the first number of the two copies clashes; the strike stands, the room is gone.
    assert_eq!(journal.health().clashes, [act_id(2, 1)]);
    assert_eq!(journal.health().waiting, [act_id(2, 3)]);
    assert!(journal.is_struck(name));
    assert!(journal.registry().rooms.is_empty());
}
