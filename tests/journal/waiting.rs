//! Acts that name what is not here yet, missing numbers, and lines that cannot be read.

use bothends::domain::ids::ActId;
use bothends::journal::{CableFact, EndFact, EndOfPull, Fact, Gap, JobFact, RoomFact, Taken};

use super::support::{
    Kitchen, Phone, Picture, Raw, act_id, fact_of, landed, merged, taken, writer,
};

/// Every order of a few lines.
fn orders(lines: &[String]) -> Vec<Vec<String>> {
    if lines.len() < 2 {
        return vec![lines.to_vec()];
    }
    let mut all = Vec::new();
    for at in 0..lines.len() {
        let mut rest = lines.to_vec();
        let first = rest.remove(at);
        for mut order in orders(&rest) {
            order.insert(0, first.clone());
            all.push(order);
        }
    }
    all
}

fn named(name: &str) -> Fact {
    Fact::Job(JobFact::Named(name.to_owned()))
}

#[test]
fn an_act_waits_for_the_acts_that_it_names_in_whatever_order_they_come() {
    // 1 is replaced by 2, 2 is struck by 3, 3 is struck by 4.
    let lines = [
        Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line(),
        Raw::new(act_id(2, 1), 2)
            .facts([named("Marrowby Mill")])
            .replaces([fact_of(act_id(1, 1), 0)])
            .line(),
        Raw::new(act_id(3, 1), 3).strikes([act_id(2, 1)]).line(),
        Raw::new(act_id(4, 1), 4).strikes([act_id(3, 1)]).line(),
    ];
    let expected = Picture::of(&taken(&lines));
    assert_eq!(expected.history.len(), 4);
    assert!(expected.dump.contains("Marrowby Mill"));
    for order in orders(&lines) {
        let bundles: Vec<Vec<String>> = order.into_iter().map(|line| vec![line]).collect();
        assert_eq!(Picture::of(&merged(&bundles)), expected);
    }
}

#[test]
fn an_act_waits_for_the_things_that_it_names_and_so_does_what_names_it() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    let renamed = second.writes([Fact::Room(kitchen.room, RoomFact::Named("Galley".into()))]);
    let struck = second.strikes([renamed]);
    let all: Vec<String> = second
        .journal
        .lines()
        .iter()
        .map(|&line| line.into())
        .collect();
    // Without the adding of the room, the outlet, the cable and everything after them waits.
    let (adding, rest): (Vec<String>, Vec<String>) = all
        .iter()
        .cloned()
        .partition(|line| line.contains("RoomAdded"));
    let waiting = merged(std::slice::from_ref(&rest));
    // The rack and its panel name nothing of the kitchen and count already.
    assert_eq!(
        waiting.health().waiting,
        [act_id(1, 2), act_id(1, 3), renamed, struck]
    );
    assert_eq!(waiting.len(), 2);
    assert!(waiting.registry().outlets.is_empty());
    let whole = merged(&[rest, adding]);
    assert_eq!(whole.health().waiting, Vec::<ActId>::new());
    assert_eq!(Picture::of(&whole), Picture::of(&second.journal));
}

#[test]
fn what_becomes_of_each_line_is_said() {
    let one = Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line();
    let other = Raw::new(act_id(1, 1), 1).facts([named("Mole")]).line();
    let strike = Raw::new(act_id(1, 2), 2).strikes([act_id(1, 1)]).line();
    let mut journal = taken::<&str>(&[]);
    let mut take = |line: &str| journal.take([line]).remove(0);
    assert_eq!(take(&strike), Taken::Waits(act_id(1, 2)));
    assert_eq!(take(&one), Taken::New(act_id(1, 1)));
    assert_eq!(take(&one), Taken::Known(act_id(1, 1)));
    assert_eq!(take(&strike), Taken::Known(act_id(1, 2)));
    assert_eq!(take(&other), Taken::Clashes(act_id(1, 1)));
    // The same file once more brings nothing.
    assert_eq!(take(&one), Taken::Known(act_id(1, 1)));
    assert_eq!(take(&other), Taken::Known(act_id(1, 1)));
    assert_eq!(take("Kitchen, 2 x Cat 6"), Taken::Unreadable);
    assert_eq!(take("Kitchen, 2 x Cat 6"), Taken::KnownUnreadable);
    let versions = journal.versions();
    assert_eq!(versions.len(), 1);
    assert_eq!(versions[0].len(), 2);
}

#[test]
fn gaps_are_told_by_writer_and_range_and_hold_nobody_up() {
    let line = |phone, n| {
        let lamport = u64::from(n);
        let fact = named(&format!("{phone} {n}"));
        Raw::new(act_id(phone, n), lamport).facts([fact]).line()
    };
    let waits = Raw::new(act_id(2, 6), 90).strikes([act_id(9, 1)]).line();
    let journal = merged(&[
        vec![line(1, 1), line(1, 2), line(1, 5)],
        vec![line(2, 3), line(1, 9), waits],
    ]);
    let gap = |phone, first, last| Gap {
        writer: writer(phone),
        first,
        last,
    };
    let expected = [gap(1, 3, 4), gap(1, 6, 8), gap(2, 1, 2), gap(2, 4, 5)];
    assert_eq!(journal.health().gaps, expected);
    assert_eq!(journal.len(), 5);
    let filled = merged(&[
        journal
            .lines()
            .iter()
            .map(|&line| line.to_owned())
            .collect(),
        vec![line(1, 3), line(1, 4), line(2, 1), line(2, 2)],
    ]);
    assert_eq!(filled.health().gaps, [gap(1, 6, 8), gap(2, 4, 5)]);
}

#[test]
fn the_highest_numbers_make_no_trouble() {
    let highest = Raw::new(act_id(1, u32::MAX), 1).line();
    let lowest = Raw::new(act_id(1, 0), 1).line();
    let journal = merged(&[vec![highest], vec![lowest]]);
    let gap = Gap {
        writer: writer(1),
        first: 1,
        last: u32::MAX - 1,
    };
    assert_eq!(journal.health().gaps, [gap]);
}

#[test]
fn lines_that_cannot_be_read_are_kept_once_and_to_the_letter() {
    let odd = ["", "{", "null", "Küche 2 C", "{\"v\":1}", "[1,2,3]"];
    let good = Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line();
    let mut lines: Vec<String> = odd.iter().map(|&line| line.to_owned()).collect();
    lines.push(good);
    let journal = merged(&[lines.clone(), lines]);
    assert_eq!(journal.health().unreadable, odd.len());
    assert_eq!(journal.len(), 1);
    assert!(!journal.is_empty());
}

#[test]
fn a_phone_that_reads_its_own_acts_back_goes_on_after_the_last() {
    let mut phone = Phone::new(1);
    Kitchen::wired_by(&mut phone);
    let last = phone.last();
    let mut again = Phone::new(1);
    again.hears(&phone);
    assert_eq!(again.writes([named("Mill")]), act_id(1, last.n + 1));
    // Acts of its own that wait have used up their numbers too.
    let mut third = Phone::new(1);
    third
        .journal
        .take([&*Raw::new(act_id(1, 40), 3).strikes([act_id(9, 1)]).line()]);
    assert_eq!(third.writes([named("Mill")]), act_id(1, 41));
}

#[test]
fn a_draft_that_waits_leaves_no_trace_in_what_it_spoke_of() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let before = phone.registry().dump();
    let nobody = bothends::domain::ids::ThingId::added_by(act_id(9, 1), 0);
    let leg = bothends::domain::label::LegNumber::new(2);
    let end = bothends::domain::place::End {
        cable: kitchen.cable,
        side: bothends::domain::place::Side::Far,
        leg,
    };
    let pull = kitchen.cable.0.into();
    let open = bothends::domain::work::Availability::Open;
    phone.writes([
        Fact::Room(nobody.into(), RoomFact::Added),
        Fact::Room(kitchen.room, RoomFact::InUnit(nobody.into())),
        Fact::PositionKept(kitchen.position(3), open),
        Fact::End(EndOfPull { end, pull }, EndFact::Planned(None)),
        Fact::End(EndOfPull { end, pull }, landed(kitchen.position(3))),
        Fact::Cable(kitchen.cable, CableFact::InJacket(unknown(2).into())),
    ]);
    assert_eq!(phone.registry().dump(), before);
    assert_eq!(phone.journal.health().waiting, [phone.last()]);
    merged(&[phone.journal.lines()]);
}

fn unknown(index: u32) -> bothends::domain::ids::ThingId {
    bothends::domain::ids::ThingId::added_by(act_id(9, 1), index)
}
