//! Two phones that do not know of each other: what one takes out while the other works on it, what both note,
//! and what is written down in two versions; each with its ways out on the punch list.

use bothends::app::mend::{Step, health};
use bothends::command::Want;
use bothends::domain::ids::{CableId, OutletId, RoomId};
use bothends::domain::label::{OutletNumber, RoomCode, SpaceCode};
use bothends::domain::medium::Medium;
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::journal::{Fact, Journal, RoomFact, WallTime};
use bothends::query::deeds::{DeedState, deeds};
use bothends::query::{Thing, What};
use bothends::{names, walk};

use super::asked::{asked_alike, takes, told};
use crate::mill::Mill;

fn on_cancelled(what: &What) -> bool {
    matches!(what, What::WorkOnCancelled { .. })
}

/// A camera that one outlet more of the kitchen gets.
fn outlet(mill: &Mill) -> Want {
    Want::AddOutlet {
        room: mill.room_id("KIT"),
        kind: OutletKind::usual("camera").expect("a usual type"),
        purpose: "Over the door".to_owned(),
        rack: Some(mill.rack_id("1A")),
    }
}

fn kitchen() -> Mill {
    let mut mill = Mill::new();
    let want = outlet(&mill);
    mill.does(&want);
    mill
}

fn marks(mill: &Mill, code: &str, side: Side) -> Want {
    Want::MarkEnds {
        ends: vec![End::whole(mill.cable(code), side)],
        kind: MarkKind::Pen,
        copies: 1,
    }
}

#[test]
fn work_of_which_whoever_cancelled_a_cable_knew_nothing_is_on_the_list_with_both_sides() {
    for late in [false, true] {
        let mut lead = kitchen();
        let code = "KIT1-A";
        let cable = lead.cable(code);
        let mark = marks(&lead, code, Side::Near);
        lead.does(&mark);
        let mut tech = lead.phone(8);
        // Whichever of the two counters is ahead.
        let busy = if late { &mut lead } else { &mut tech };
        for name in ["Galley", "Larder", "Galley"] {
            busy.does(&Want::RenameRoom {
                room: busy.room_id("KIT"),
                name: name.to_owned(),
            });
        }
        let reason = "The builder wants none".to_owned();
        lead.does(&Want::CancelCable { cable, reason });
        assert!(told(&lead, on_cancelled).is_empty(), "the mark was known");
        let pulled = Want::ReportPull {
            cables: vec![cable],
            outcome: PullOutcome::Pulled,
        };
        tech.does(&pulled);
        lead.hears(&tech);
        tech.hears(&lead);
        for phone in [&mut lead, &mut tech] {
            let [mending] = &told(phone, on_cancelled)[..] else {
                panic!("late {late}");
            };
            let words = mending.detail.join(" ");
            assert!(words.contains("The builder wants none"), "{words}");
            assert!(words.contains("pulled"), "{words}");
            assert!(!words.contains("marked"), "what was known: {words}");
        }
        let mending = told(&lead, on_cancelled).remove(0);
        let mut other = lead.phone(9);
        takes(&mut lead, &mending, "It stays cancelled");
        assert!(told(&lead, on_cancelled).is_empty());
        takes(&mut other, &mending, "It is still wanted");
        assert!(told(&other, on_cancelled).is_empty());
        // The two of them disagree now, and that is seen.
        lead.hears(&other);
        let is_disputed = |what: &What| matches!(what, What::Disputed { .. });
        assert_eq!(told(&lead, is_disputed).len(), 1);
    }
}

#[test]
fn a_cable_that_is_joined_to_another_asks_again_where_somebody_works_on_the_one_that_goes() {
    let mut mill = kitchen();
    let want = outlet(&mill);
    mill.does(&want);
    let (stays, goes) = (mill.cable("KIT1-A"), mill.cable("KIT2-A"));
    let mut tech = mill.phone(8);
    let mark = marks(&tech, "KIT2-A", Side::Far);
    mill.does(&Want::SameCable { stays, goes });
    tech.does(&mark);
    mill.hears(&tech);
    assert_eq!(told(&mill, on_cancelled).len(), 1);
}

#[test]
fn a_cable_whose_adding_was_taken_back_says_who_worked_on_it_and_can_be_let_go() {
    let mut mill = kitchen();
    let adding = mill.journal.history().last().expect("an act").id;
    let mut tech = mill.phone(8);
    let mark = marks(&tech, "KIT1-A", Side::Near);
    mill.does(&Want::Undo { act: adding });
    tech.does(&mark);
    mill.hears(&tech);
    let withdrawn = |what: &What| matches!(what, What::WorkOnWithdrawn { .. });
    let mending = told(&mill, withdrawn).remove(0);
    let words = mending.detail.join(" ");
    assert!(words.contains("Taken back by"), "{words}");
    assert!(words.contains("marked"), "{words}");
    let mut other = mill.phone(9);
    takes(&mut mill, &mending, "It is gone");
    assert!(told(&mill, withdrawn).is_empty());
    // Somebody who says otherwise disagrees with that, and no work is lost by it.
    takes(&mut other, &mending, "It is a cable all the same");
    assert!(told(&other, withdrawn).is_empty());
    mill.hears(&other);
    let is_disputed = |what: &What| matches!(what, What::Disputed { .. });
    let disputed = told(&mill, is_disputed);
    assert_eq!(disputed.len(), 1);
    assert_eq!(disputed[0].detail.len(), 2, "{:?}", disputed[0].detail);
    let row = mill.registry().cables.get(mill.cable("KIT1-A"));
    assert!(!row.expect("a cable").work().is_empty());
}

#[test]
fn an_outlet_that_is_cancelled_while_somebody_moves_it_or_notes_on_it_is_disagreed_about() {
    for moves in [false, true] {
        let lead_at = kitchen();
        let mut lead = lead_at.phone(8);
        lead.room("Pantry", "PAN");
        let mut tech = lead.phone(9);
        let outlet = lead.outlet_id("KIT", 1);
        let reason = "Not needed".to_owned();
        lead.does(&Want::CancelOutlet { outlet, reason });
        let room = tech.room_id("PAN");
        let want = if moves {
            let number = OutletNumber::new(1).expect("a number");
            Want::MoveOutlet {
                outlet,
                room,
                number,
            }
        } else {
            let note = "The client insists".to_owned();
            Want::NoteOutlet { outlet, note }
        };
        tech.does(&want);
        lead.hears(&tech);
        let is_of_outlet = |what: &What| matches!(what, What::Disputed { thing: Thing::Outlet(id), .. } if *id == outlet);
        let disputed = told(&lead, is_of_outlet);
        assert_eq!(disputed.len(), 1, "moves {moves}");
        assert_eq!(disputed[0].detail.len(), 2);
    }
}

fn twice(what: &What) -> bool {
    matches!(
        what,
        What::OutletCodeTwice { .. } | What::CodeTwice { .. } | What::RoomCodeTwice { .. }
    )
}

/// The outlets that are in the job.
fn wanted(mill: &Mill) -> Vec<OutletId> {
    let rows = mill.registry().outlets.iter();
    let rows = rows.filter(|(_, row)| walk::is_wanted_outlet(row));
    rows.map(|(id, _)| id).collect()
}

#[test]
fn one_outlet_noted_on_two_phones_becomes_one_with_the_work_of_both() {
    let base = Mill::new();
    let want = outlet(&base);
    let (mut first, mut second) = (base.phone(8), base.phone(9));
    first.does(&want);
    let mark = marks(&first, "KIT1-A", Side::Near);
    first.does(&mark);
    second.does(&want);
    let pulled = Want::ReportPull {
        cables: vec![second.cable("KIT1-A")],
        outcome: PullOutcome::Pulled,
    };
    second.does(&pulled);
    first.hears(&second);
    let [mending] = &told(&first, twice)[..] else {
        panic!("one finding");
    };
    let mut other = first.phone(10);
    takes(&mut first, mending, "These are the same outlet");
    assert!(told(&first, twice).is_empty());
    assert!(told(&first, on_cancelled).is_empty());
    assert_eq!(wanted(&first).len(), 1);
    let cable = first.cable("KIT1-A");
    let row = first.registry().cables.get(cable).expect("a cable");
    assert!(walk::is_wanted_cable(row));
    let copper = row.copper(row.pull(cable)).expect("its copper");
    assert_eq!(copper.outcome.get(), Some(&PullOutcome::Pulled));
    assert_eq!(copper.ends[0].marks.iter().count(), 1);
    // Somebody who gives one of them another number meanwhile disagrees with that.
    takes(&mut other, mending, "“Over the door”");
    first.hears(&other);
    let is_disputed = |what: &What| matches!(what, What::Disputed { .. });
    assert!(!told(&first, is_disputed).is_empty());
}

/// Who gives one of two outlets of one code another number or room says that there are two.
#[test]
fn two_outlets_of_one_code_that_are_one_to_one_phone_and_two_to_another_are_asked_about() {
    let any = |what: &What| matches!(what, What::Disputed { .. });
    let number = OutletNumber::new(5).expect("a number");
    for (stays_moves, how) in [
        (true, "number"),
        (false, "number"),
        (true, "room"),
        (true, "tags"),
    ] {
        let mut base = Mill::new();
        base.room("Pantry", "PAN");
        let (mut first, mut second) = (base.phone(8), base.phone(9));
        for phone in [&mut first, &mut second] {
            let want = outlet(phone);
            phone.does(&want);
        }
        first.hears(&second);
        second.hears(&first);
        let [mending] = &told(&first, twice)[..] else {
            panic!("one finding");
        };
        takes(&mut first, mending, "These are the same outlet");
        let [stays] = wanted(&first)[..] else {
            panic!("one outlet stays");
        };
        let both = wanted(&second);
        let goes = *both.iter().find(|id| **id != stays).expect("two");
        let outlet = if stays_moves { stays } else { goes };
        let moves = |room| Want::MoveOutlet {
            outlet,
            room,
            number,
        };
        let moves = match how {
            "number" => moves(second.room_id("KIT")),
            "room" => moves(second.room_id("PAN")),
            _ => Want::WithNewTags {
                change: Box::new(moves(second.room_id("KIT"))),
            },
        };
        second.does(&moves);
        let words = &deeds(&second.journal)[0].words;
        assert!(!words.contains("wanted"), "{words}");
        let asked = asked_alike(&mut first, &mut second, any);
        let [disputed] = &asked[..] else {
            panic!("{how}: {asked:#?}");
        };
        assert_eq!(disputed.detail.len(), 2, "both sides: {disputed:#?}");
        let mut third = first.phone(10);
        takes(&mut third, disputed, "Keep cancelled");
        assert!(told(&third, any).is_empty());
        assert_eq!(wanted(&third), [stays]);
        takes(&mut first, disputed, "Keep wanted");
        assert!(told(&first, any).is_empty());
        assert_eq!(wanted(&first).len(), 2);
        assert!(told(&first, twice).is_empty());
    }
}

#[test]
fn two_outlets_of_two_rooms_of_one_code_are_two_to_whoever_gives_a_room_a_code() {
    let any = |what: &What| {
        matches!(
            what,
            What::Disputed {
                thing: Thing::Outlet(_),
                ..
            }
        )
    };
    let is_room = |what: &What| matches!(what, What::RoomCodeTwice { .. });
    let is_outlet = |what: &What| matches!(what, What::OutletCodeTwice { .. });
    for way in ["Pantry", "These are the same room"] {
        let [mut first, mut second] = two_pantries();
        first.hears(&second);
        second.hears(&first);
        let mending = told(&first, is_outlet).remove(0);
        takes(&mut first, &mending, "These are the same outlet");
        let mending = told(&second, is_room).remove(0);
        takes(&mut second, &mending, way);
        let words = &deeds(&second.journal)[0].words;
        assert!(!words.contains("wanted"), "{words}");
        let asked = asked_alike(&mut first, &mut second, any);
        if way == "These are the same room" {
            // Whoever makes one of both says nothing of the outlets.
            assert!(asked.is_empty(), "{asked:#?}");
            assert_eq!(wanted(&first).len(), 1);
            continue;
        }
        let [disputed] = &asked[..] else {
            panic!("{way}: {asked:#?}");
        };
        assert!(disputed.title.contains("still wanted"), "{disputed:#?}");
        takes(&mut first, disputed, "Keep wanted");
        assert!(told(&first, any).is_empty());
        assert_eq!(wanted(&first).len(), 2);
    }
}

#[test]
fn of_outlets_of_one_code_without_a_purpose_it_is_said_once_who_added_them() {
    let base = Mill::new();
    let (mut first, mut second) = (base.phone(8), base.phone(9));
    for phone in [&mut first, &mut second] {
        phone.outlets("KIT", "data", 1);
    }
    first.hears(&second);
    let mending = told(&first, twice).remove(0);
    let lines = mending.detail.iter();
    let lines: Vec<&String> = lines.filter(|line| line.contains("added by")).collect();
    assert_eq!(lines.len(), 2, "{:?}", mending.detail);
    for line in lines {
        assert_eq!(line.matches("added by").count(), 1, "{line}");
        assert!(line.ends_with(": none of its cables is marked."), "{line}");
    }
}

/// Who did the last of it, so that it is seen whose act is named.
#[test]
fn a_code_that_moved_names_what_moved_it_last() {
    let moved = |what: &What| matches!(what, What::CodeMoved { .. });
    let at = |hour: u64| WallTime(1_772_409_600_000 + hour * 3_600_000);
    let mut mill = kitchen();
    let mark = marks(&mill, "KIT1-A", Side::Near);
    mill.does(&mark);
    let from = mill.outlet_id("KIT", 1);
    let number = |number| OutletNumber::new(number).expect("a number");
    let renumber = Want::MoveOutlet {
        outlet: from,
        room: mill.room_id("KIT"),
        number: number(4),
    };
    mill.does_at(at(1), &renumber);
    let why = |mill: &Mill, words: &str, hour: &str| {
        let detail = told(mill, moved).remove(0).detail;
        let line = detail.iter().find(|line| line.starts_with(words));
        let line = line.unwrap_or_else(|| panic!("no “{words}” in {detail:?}"));
        assert!(line.contains(hour), "{line}");
        let of = detail.iter().filter(|line| line.contains(" another "));
        assert_eq!(of.count(), 1, "{detail:?}");
    };
    why(&mill, "Its outlet has another number or room", "01:00");
    let room = mill.room_id("KIT");
    let code = RoomCode::new("KIN").expect("a code");
    mill.does_at(at(2), &Want::RecodeRoom { room, code });
    why(&mill, "Its room has another code", "02:00");
    mill.does_at(
        at(3),
        &Want::AddOutlet {
            room,
            kind: OutletKind::usual("data").expect("a usual type"),
            purpose: String::new(),
            rack: None,
        },
    );
    let into = mill.outlet_id("KIN", 5);
    mill.does_at(at(4), &Want::MergeOutlets { from, into });
    why(&mill, "It has another outlet or letter", "04:00");
    // Who says again what the name follows from changes nothing.
    let cable = walk::fed(mill.registry(), into).into_iter();
    let own = |id: &CableId| {
        told(&mill, moved)[0]
            .fixes
            .iter()
            .any(|fix| matches!(&fix.step, Step::Do(Want::KeepTag { cable }) if cable == id))
    };
    let (merged, others): (Vec<CableId>, Vec<CableId>) = cable.partition(own);
    let (stays, goes) = (merged[0], others[0]);
    mill.does_at(at(5), &Want::SameCable { stays, goes });
    why(&mill, "It has another outlet or letter", "04:00");
}

#[test]
fn a_tie_line_whose_code_moved_names_the_rack() {
    let mut mill = Mill::new();
    mill.rack(2, "B", "Second rack");
    let (near, far) = (mill.rack_id("1A"), mill.rack_id("2B"));
    mill.does(&Want::AddTie {
        near,
        far,
        medium: Medium::stock().into_iter().next().expect("one"),
        purpose: String::new(),
    });
    let (cable, _) = mill.registry().cables.iter().next().expect("the tie");
    mill.does(&Want::MarkEnds {
        ends: vec![End::whole(cable, Side::Near)],
        kind: MarkKind::Pen,
        copies: 1,
    });
    let space = SpaceCode::new(2, "C").expect("a space");
    mill.does(&Want::RespaceRack { rack: far, space });
    let moved = |what: &What| matches!(what, What::CodeMoved { .. });
    let detail = told(&mill, moved).remove(0).detail;
    let line = "A rack of it has another space, MW";
    assert!(
        detail.iter().any(|words| words.starts_with(line)),
        "{detail:?}"
    );
}

#[test]
fn an_outlet_that_is_out_of_the_job_claims_its_code_only_where_a_tag_says_it() {
    for marked in [false, true] {
        let base = Mill::new();
        let want = outlet(&base);
        let (mut first, mut second) = (base.phone(8), base.phone(9));
        first.does(&want);
        second.does(&want);
        if marked {
            let mark = marks(&second, "KIT1-A", Side::Near);
            second.does(&mark);
        }
        let outlet = second.outlet_id("KIT", 1);
        let reason = "Noted twice".to_owned();
        second.does(&Want::CancelOutlet { outlet, reason });
        first.hears(&second);
        assert_eq!(told(&first, twice).len(), usize::from(marked));
    }
}

/// Two phones that each noted the pantry with an outlet.
fn two_pantries() -> [Mill; 2] {
    let base = Mill::new();
    [8, 9].map(|number| {
        let mut phone = base.phone(number);
        phone.room("Pantry", "PAN");
        let want = Want::AddOutlet {
            room: phone.room_id("PAN"),
            kind: OutletKind::usual("data").expect("a usual type"),
            purpose: String::new(),
            rack: None,
        };
        phone.does(&want);
        phone
    })
}

#[test]
fn one_room_noted_on_two_phones_becomes_one_with_the_outlets_of_both() {
    let [mut first, mut second] = two_pantries();
    first.hears(&second);
    let is_room = |what: &What| matches!(what, What::RoomCodeTwice { .. });
    let mending = told(&first, is_room).remove(0);
    let words = mending.detail.join(" ");
    assert_eq!(words.matches("added by").count(), 2, "{words}");
    assert_eq!(words.matches("1 outlet").count(), 2, "{words}");
    takes(&mut first, &mending, "These are the same room");
    assert!(told(&first, is_room).is_empty());
    let code = RoomCode::new("PAN").expect("a code");
    let rooms = first.registry().index.rooms_by_code.get(&code);
    let [room]: [RoomId; 1] = rooms.to_vec().try_into().expect("one room");
    let there = first.registry().index.outlets_in.get(&room);
    let mut codes: Vec<String> = there
        .iter()
        .map(|id| names::outlet(first.registry(), *id))
        .collect();
    codes.sort_unstable();
    // Each keeps the code that it had; whether they are one is a question of its own.
    assert_eq!(codes, ["PAN1", "PAN1"]);
    let is_outlet = |what: &What| matches!(what, What::OutletCodeTwice { .. });
    assert_eq!(told(&first, is_outlet).len(), 1);
    // An outlet that came into the room that went, before anybody there heard of it, follows in one tap.
    let goes = |id: &RoomId| *id != room;
    let late = second.registry().rooms.iter().map(|(id, _)| id);
    let gone = |id: &RoomId| {
        let row = first.registry().rooms.get(*id);
        row.is_some_and(|row| row.added.is_empty())
    };
    let old = late.filter(goes).find(gone);
    let old = old.expect("that of the other phone went");
    let kind = OutletKind::usual("camera").expect("a usual type");
    second.does(&Want::AddOutlet {
        room: old,
        kind,
        purpose: String::new(),
        rack: None,
    });
    first.hears(&second);
    let alone = |what: &What| matches!(what, What::OutletWithoutRoom { .. });
    let mending = told(&first, alone).remove(0);
    takes(&mut first, &mending, "It is in Pantry");
    assert!(told(&first, alone).is_empty());
    assert_eq!(first.registry().index.outlets_in.get(&room).len(), 3);
    // To take back that both are one is told as what it is.
    let history = first.journal.history();
    let merging = history.iter().rev().find(|act| {
        let mut facts = act.replaces.iter();
        facts.any(|fact| fact.act.n == old.0.n && fact.act.writer.0 == old.0.origin)
    });
    let act = merging.expect("the act that made one of both").id;
    first.does(&Want::Undo { act });
    assert!(!deeds(&first.journal)[0].words.contains(": ."));
}

#[test]
fn two_rooms_of_one_code_that_are_one_to_one_phone_and_two_to_another_are_asked_about() {
    let [mut first, mut second] = two_pantries();
    first.hears(&second);
    second.hears(&first);
    let is_room = |what: &What| matches!(what, What::RoomCodeTwice { .. });
    let mending = told(&first, is_room).remove(0);
    takes(&mut first, &mending, "These are the same room");
    takes(&mut second, &mending, "Pantry");
    let words = &deeds(&second.journal)[0].words;
    assert_eq!(words, "Pantry: its code is PNT.");
    // On either phone.
    let any = |what: &What| matches!(what, What::Disputed { .. } | What::OutletWithoutRoom { .. });
    let asked = asked_alike(&mut first, &mut second, any);
    let [disputed, alone] = &asked[..] else {
        panic!("{asked:#?}");
    };
    assert_eq!(disputed.detail.len(), 2, "both sides: {disputed:#?}");
    let by = alone
        .detail
        .iter()
        .find(|words| words.starts_with("Taken back by"));
    assert!(by.is_some(), "{alone:#?}");
    // To the one it is one room, to the other it is not; each way settles it.
    let mut third = first.phone(10);
    takes(&mut third, disputed, "Keep Pantry PNT1");
    assert!(told(&third, any).is_empty());
    takes(&mut first, alone, "Pantry is a room of its own");
    assert!(told(&first, any).is_empty());
    assert!(told(&first, is_room).is_empty());
    let of = |code: &str| {
        first
            .registry()
            .index
            .outlets_in
            .get(&first.room_id(code))
            .len()
    };
    assert_eq!([of("PAN"), of("PNT")], [1, 1]);
}

/// A journal of one phone and the line of its last act with other words.
fn altered(mill: &Mill) -> (Vec<String>, String) {
    let lines: Vec<String> = mill
        .journal
        .lines()
        .iter()
        .map(ToString::to_string)
        .collect();
    let other = lines.iter().find(|line| line.contains("\"Pantry\""));
    let other = other.expect("the room").replace("\"Pantry\"", "\"Larder\"");
    (lines, other)
}

#[test]
fn of_two_versions_one_is_written_down_anew_and_what_waited_for_it_counts() {
    let mut mill = Mill::new();
    mill.room("Pantry", "PAN");
    let want = Want::AddOutlet {
        room: mill.room_id("PAN"),
        kind: OutletKind::usual("data").expect("a usual type"),
        purpose: String::new(),
        rack: None,
    };
    mill.does(&want);
    let (lines, other) = altered(&mill);
    let mut both = mill.phone(8);
    both.journal.take([other.as_str()]);
    assert_eq!(both.journal.health().clashes.len(), 1);
    assert!(!both.journal.health().waiting.is_empty());
    let list = health(&both.journal);
    let versions = list
        .iter()
        .find(|mending| mending.title.contains("two versions"));
    let versions = versions.expect("it is told").clone();
    let states = deeds(&both.journal).into_iter().map(|deed| deed.state);
    let twice = states.filter(|state| *state == DeedState::InTwoVersions);
    assert_eq!(twice.count(), 2, "both are in the history");
    // Somebody who says the same by himself has settled nothing.
    let pantry = mill.room_id("PAN");
    let name = "Larder".to_owned();
    let mut third = mill.phone(9);
    third.does(&Want::RenameRoom { room: pantry, name });
    let said = third.journal.lines();
    let said = *said.last().expect("a line");
    both.journal.take([said]);
    assert_eq!(both.journal.health().clashes.len(), 1);
    takes(&mut both, &versions, "True is what");
    assert_eq!(both.journal.health().clashes, []);
    let newest = &deeds(&both.journal)[0];
    assert!(newest.words.contains("added"), "{}", newest.words);
    assert!(!newest.words.contains("taken back"), "{}", newest.words);
    assert_eq!(both.journal.health().waiting, []);
    let rooms = both.registry().rooms.iter();
    let names: Vec<&String> = rooms.filter_map(|(_, row)| row.name.get()).collect();
    assert!(
        names
            .iter()
            .any(|name| *name == "Pantry" || *name == "Larder"),
        "{names:?}"
    );
    let code = RoomCode::new("PAN").expect("a code");
    assert_eq!(both.registry().index.rooms_by_code.get(&code).len(), 1);
    // In every order of arrival.
    let mut backwards = Journal::new(both.journal.job(), both.journal.writer());
    let all: Vec<String> = both
        .journal
        .lines()
        .iter()
        .map(ToString::to_string)
        .collect();
    backwards.take(all.iter().rev().map(String::as_str));
    assert_eq!(backwards.registry().dump(), both.registry().dump());
    assert!(all.len() > lines.len());
    let is_added = |act: &&bothends::journal::Act| {
        let mut facts = act.facts.iter();
        facts.any(|fact| matches!(fact, Fact::Room(_, RoomFact::Added)))
    };
    assert!(both.journal.history().iter().any(is_added));
}
