//! Taking back: a struck act counts as absent, and a strike may itself be taken back.

use bothends::domain::ids::ActId;
use bothends::domain::place::{Place, Side};
use bothends::journal::{CableFact, EndFact, Fact, JobFact, RoomFact};

use super::support::{
    Kitchen, Phone, Raw, act_id, at_end, feeds, landed, marked, merged, met, taken,
};

fn name(phone: &mut Phone, kitchen: Kitchen, name: &str) -> ActId {
    phone.writes([Fact::Room(kitchen.room, RoomFact::Named(name.to_owned()))])
}

fn names(phones: &[&Phone], kitchen: Kitchen) -> Vec<String> {
    let journal = met(phones);
    let room = journal.registry().rooms.get(kitchen.room).unwrap();
    let mut names: Vec<String> = room.name.distinct().into_iter().cloned().collect();
    names.sort();
    names
}

#[test]
fn a_strike_brings_back_what_was_replaced_and_a_strike_of_the_strike_takes_it_away_again() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let renamed = name(&mut phone, kitchen, "Galley");
    assert_eq!(names(&[&phone], kitchen), ["Galley"]);
    let mut top = renamed;
    for round in 0..6 {
        top = phone.strikes([top]);
        let expected = if round % 2 == 0 { "Kitchen" } else { "Galley" };
        assert_eq!(names(&[&phone], kitchen), [expected], "round {round}");
        assert_eq!(phone.journal.is_struck(renamed), round % 2 == 0);
    }
}

#[test]
fn what_a_struck_act_replaced_stays_dead_when_another_live_act_replaced_it_too() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    let galley = name(&mut first, kitchen, "Galley");
    let larder = name(&mut second, kitchen, "Larder");
    first.hears(&second);
    assert_eq!(names(&[&first], kitchen), ["Galley", "Larder"]);
    first.strikes([galley]);
    assert_eq!(names(&[&first], kitchen), ["Larder"]);
    let both = first.strikes([larder]);
    assert_eq!(names(&[&first], kitchen), ["Kitchen"]);
    first.strikes([both]);
    assert_eq!(names(&[&first, &second], kitchen), ["Larder"]);
}

#[test]
fn two_who_strike_the_same_act_strike_it_once() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let galley = name(&mut first, kitchen, "Galley");
    let mut second = Phone::beside(2, &first);
    let one = first.strikes([galley]);
    let other = second.strikes([galley]);
    assert_eq!(names(&[&first, &second], kitchen), ["Kitchen"]);
    // Taking one of the two back leaves the other in force.
    first.hears(&second);
    first.strikes([one]);
    assert_eq!(names(&[&first, &second], kitchen), ["Kitchen"]);
    first.strikes([other]);
    assert_eq!(names(&[&first, &second], kitchen), ["Galley"]);
}

#[test]
fn an_act_with_several_facts_is_taken_back_whole() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let other = kitchen.further(&mut phone, 'D');
    // Two crossed names, swapped in one act.
    let swap = phone.writes([
        feeds(kitchen.cable, kitchen.outlet, 'D'),
        feeds(other, kitchen.outlet, 'C'),
    ]);
    let code = |phone: &Phone, cable| phone.registry().cable_code(cable).unwrap().text;
    assert_eq!(code(&phone, kitchen.cable), "KIT2-D");
    phone.strikes([swap]);
    assert_eq!(code(&phone, kitchen.cable), "KIT2-C");
    assert_eq!(code(&phone, other), "KIT2-D");
    met(&[&phone]);
}

#[test]
fn one_act_may_strike_several() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let job = phone.writes([Fact::Job(JobFact::Named("Marrowby Mill".to_owned()))]);
    let galley = name(&mut phone, kitchen, "Galley");
    let both = phone.strikes([job, galley]);
    let journal = met(&[&phone]);
    assert_eq!(journal.registry().job.name.get(), None);
    assert_eq!(names(&[&phone], kitchen), ["Kitchen"]);
    phone.strikes([both]);
    let journal = met(&[&phone]);
    let name = journal.registry().job.name.get().map(String::as_str);
    assert_eq!(name, Some("Marrowby Mill"));
    assert_eq!(names(&[&phone], kitchen), ["Galley"]);
}

#[test]
fn a_double_claim_after_an_undo_is_an_ordinary_disagreement() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let other = kitchen.further(&mut phone, 'D');
    let position = kitchen.position(7);
    phone.writes([at_end(kitchen.cable, Side::Far, landed(position))]);
    let moved = phone.writes([at_end(
        kitchen.cable,
        Side::Far,
        landed(kitchen.position(8)),
    )]);
    phone.writes([at_end(other, Side::Far, landed(position))]);
    phone.strikes([moved]);
    let journal = met(&[&phone]);
    let index = &journal.registry().index;
    assert_eq!(index.landed.get(&Place::rear(position)).len(), 2);
    assert_eq!(index.landed.get(&Place::rear(kitchen.position(8))), &[]);
    assert_eq!(index.landed.crowded().count(), 1);
}

#[test]
fn striking_the_adding_withdraws_the_cable_and_keeps_what_others_said_of_it() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    let added = ActId {
        writer: bothends::domain::ids::WriterId(kitchen.cable.0.origin),
        n: kitchen.cable.0.n,
    };
    first.strikes([added]);
    second.writes([Fact::Cable(
        kitchen.cable,
        CableFact::Noted("behind the stove".to_owned()),
    )]);
    second.writes([at_end(
        kitchen.cable,
        Side::Far,
        landed(kitchen.position(7)),
    )]);
    let both = met(&[&first, &second]);
    let registry = both.registry();
    let cable = registry.cables.get(kitchen.cable).unwrap();
    assert!(cable.added.is_empty(), "withdrawn");
    assert_eq!(cable.notes.iter().count(), 1);
    let landed = registry.index.landed.get(&Place::rear(kitchen.position(7)));
    assert_eq!(landed.len(), 1);
}

#[test]
fn a_lost_tag_that_was_not_lost_is_taken_back() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let lost = phone.writes([at_end(kitchen.cable, Side::Near, EndFact::TagLost)]);
    phone.strikes([lost]);
    let journal = met(&[&phone]);
    let cable = journal.registry().cables.get(kitchen.cable).unwrap();
    let end = cable.end(kitchen.cable, Side::Near).unwrap();
    assert!(end.lost.is_empty());
    assert!(!end.lost.is_untouched());
}

#[test]
fn a_long_chain_of_strikes_is_taken_in_without_exhausting_the_stack() {
    // A chain as a hostile file might hold it: each act strikes the one before.
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let mut top = name(&mut phone, kitchen, "Galley");
    for _ in 0..6_000 {
        top = phone.strikes([top]);
    }
    let room = phone.registry().rooms.get(kitchen.room).unwrap();
    // An even number of strikes leaves the renaming in force.
    assert_eq!(room.name.get().map(String::as_str), Some("Galley"));
}

#[test]
fn strikes_that_reach_an_act_by_many_ways_settle_it_once() {
    // Each act strikes the two before it. Followed way by way, the last of eighty would turn the
    // first some 10^16 times. Of three acts in a row, then, the last lives and two are struck.
    let mut lines = vec![Raw::new(act_id(1, 1), 1).line()];
    for n in 2..=80_u32 {
        let before = [n - 1, n.saturating_sub(2)];
        let targets = before.into_iter().filter(|n| *n > 0);
        let act = Raw::new(act_id(1, n), u64::from(n));
        lines.push(act.strikes(targets.map(|n| act_id(1, n))).line());
        let journal = taken(&lines);
        for m in 1..=n {
            assert_eq!(
                journal.is_struck(act_id(1, m)),
                (n - m) % 3 != 0,
                "{m} of {n}"
            );
        }
    }
    merged(&[lines]);
}

#[test]
fn the_code_of_a_withdrawn_cable_stays_taken() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    // Added and named in one act, as the command does it.
    let marked_one = kitchen.further(&mut phone, 'D');
    let marked_act = phone.last();
    phone.writes([at_end(marked_one, Side::Near, marked("KIT2-D"))]);
    let plain = kitchen.further(&mut phone, 'E');
    let plain_act = phone.last();
    phone.strikes([marked_act]);
    phone.strikes([plain_act]);
    let journal = met(&[&phone]);
    let index = &journal.registry().index;
    let found = |code: &str| index.cables_by_code.get(&code.to_owned()).to_vec();
    assert_eq!(found("KIT2-D"), [marked_one]);
    assert_eq!(found("KIT2-E"), [plain]);
}
