//! What was done, in words: every fact that this version knows has its own, and only what it does
//! not know is called so.

use bothends::command::{Correction, Want};
use bothends::domain::ids::{ActId, Bits80, JobId, ThingId, WriterId};
use bothends::domain::label::{OutletNumber, RoomCode};
use bothends::domain::place::{End, Side};
use bothends::domain::work::MarkKind;
use bothends::exchange::jobfile;
use bothends::journal::{Act, Fact, Journal, Lamport, WallTime, wire};
use bothends::query::deeds::{DeedState, deeds, deeds_at, deeds_of, what_was_done_to};
use bothends::walk;
use proptest::collection::vec;
use proptest::strategy::Strategy;

use super::generator::{JOB, generate};
use crate::journal::made::{Source, any_fact};
use crate::mill::Mill;
use crate::support::large::{self, large_job};
use crate::support::marrowby;
use crate::support::seeds::runner;

/// The words for everything that people want.
mod told;

const NEWER: &str = "newer version";

/// A mill with one outlet of the data type in the kitchen: `KIT1` with two cables.
fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill
}

fn last(mill: &Mill) -> String {
    deeds(&mill.journal).remove(0).words
}

/// Does what is wanted and expects its words in the history.
#[track_caller]
fn says(mill: &mut Mill, want: &Want, words: &str) {
    mill.does(want);
    assert_eq!(last(mill), words, "{want:?}");
}

fn text(words: &str) -> String {
    words.to_owned()
}

fn near(mill: &Mill, code: &str) -> End {
    End::whole(mill.cable(code), Side::Near)
}

#[test]
fn tags_that_come_off_leave_void_marks() {
    let mut mill = mill();
    mill.outlets("KITS", "data", 1);
    let cable = mill.cable("KIT1-A");
    let ends = Side::BOTH.map(|side| End::whole(cable, side));
    let marks = Want::MarkEnds {
        ends: ends.to_vec(),
        kind: MarkKind::Pen,
        copies: 2,
    };
    mill.does(&marks);
    mill.does(&Want::MoveOutlet {
        outlet: mill.outlet_id("KIT", 1),
        room: mill.room_id("KIT"),
        number: OutletNumber::new(5).expect("a number"),
    });
    says(
        &mut mill,
        &Want::KeepTag { cable },
        "KIT1-A: called KIT5-A, its tag stays KIT1-A.",
    );
    says(
        &mut mill,
        &Want::TagsAnew { cable },
        "The old marks KIT1-A are void; KIT5-A: also called “KIT1-A”.",
    );
    assert_eq!(deeds_of(&mill.journal, cable)[0].words, last(&mill));
    mill.does(&marks);
    let outlet = mill.outlet_id("KITS", 1);
    let how = Correction::TagsMove;
    says(
        &mut mill,
        &Want::CameOutAt { cable, outlet, how },
        "The old marks KIT5-A are void; KITS1-C: letter C at KITS1; KITS1-C: also called “KIT5-A”.",
    );
    // Another cable hears nothing of it.
    let other = mill.cable("KIT5-B");
    let words = deeds_of(&mill.journal, other).into_iter();
    assert_eq!(
        words.map(|deed| deed.words).collect::<Vec<_>>(),
        ["KIT5-B: added."]
    );
}

#[test]
fn of_an_act_about_two_cables_each_is_told_what_concerns_it() {
    let mut mill = mill();
    let ends = ["KIT1-A", "KIT1-B"].map(|code| near(&mill, code));
    mill.does(&Want::MarkEnds {
        ends: ends.to_vec(),
        kind: MarkKind::Pen,
        copies: 1,
    });
    let act = mill.journal.history().last().expect("an act").id;
    assert!(last(&mill).contains("KIT1-A") && last(&mill).contains("KIT1-B"));
    for (end, [own, other]) in ends
        .iter()
        .zip([["KIT1-A", "KIT1-B"], ["KIT1-B", "KIT1-A"]])
    {
        let words = what_was_done_to(&mill.journal, act, end.cable);
        assert!(words.contains(own) && !words.contains(other), "{words}");
    }
}

#[test]
fn what_a_thing_was_called_when_it_was_added_is_told_once_that_changed() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 1);
    let added = mill.journal.history().last().expect("an act").id;
    let words = |mill: &Mill| {
        let mut deeds = deeds(&mill.journal).into_iter();
        deeds.find(|deed| deed.act == added).expect("it").words
    };
    assert_eq!(words(&mill), "KIT1: added; KIT1-A: added; KIT1-B: added.");
    mill.does(&Want::MoveOutlet {
        outlet,
        room: mill.room_id("KITS"),
        number: OutletNumber::new(7).expect("a number"),
    });
    assert_eq!(
        words(&mill),
        "KITS7: added; KITS7: outlet 1 of Kitchen; KITS7-A: added; and 1 more."
    );
}

#[test]
fn what_is_not_there_any_more_keeps_the_name_it_had() {
    let mut mill = mill();
    let undo_last = |mill: &mut Mill| {
        let act = mill.journal.history().last().expect("an act").id;
        mill.does(&Want::Undo { act });
    };
    mill.does(&Want::AddRoom {
        name: text("Hall"),
        code: RoomCode::new("HAL").expect("a code"),
        floor: None,
        unit: None,
    });
    undo_last(&mut mill);
    let words = |mill: &Mill| {
        let deeds = deeds(&mill.journal).into_iter().take(2);
        deeds.map(|deed| deed.words).collect::<Vec<String>>()
    };
    let hall = words(&mill);
    assert!(hall[0].starts_with("Taken back: Hall: added"), "{hall:?}");
    assert!(hall[1].starts_with("Hall: added"), "{hall:?}");
    mill.outlets("KIT", "tv", 1);
    undo_last(&mut mill);
    let outlet = words(&mill);
    let all = ["Taken back: KIT2: added; ", "; and ", " more."];
    assert!(
        all.iter().all(|part| outlet[0].contains(part)),
        "{outlet:?}"
    );
    assert!(outlet[1].contains("KIT2-A: added"), "{outlet:?}");
}

#[test]
fn what_was_taken_back_is_told_by_what_it_was() {
    let mut mill = mill();
    mill.land("KIT1-A", "B07");
    let act = mill.journal.history().last().expect("an act").id;
    let words = "Taken back: KIT1-A at Main rack is landed on B07.";
    says(&mut mill, &Want::Undo { act }, words);
    let states: Vec<DeedState> = deeds(&mill.journal)
        .iter()
        .map(|deed| deed.state)
        .take(2)
        .collect();
    assert_eq!(states, [DeedState::Holds, DeedState::TakenBack]);
    let act = mill.journal.history().last().expect("an act").id;
    let words = "It is so again: KIT1-A at Main rack is landed on B07.";
    says(&mut mill, &Want::Undo { act }, words);
}

#[test]
fn what_is_told_of_one_cable_says_how_much_else_would_be_taken_back() {
    let mut mill = mill();
    mill.outlets("KIT", "data", 1);
    let beside = |mill: &Mill, code: &str| {
        let deeds = deeds_of(&mill.journal, mill.cable(code));
        deeds.iter().map(|deed| deed.beside).collect::<Vec<_>>()
    };
    // The outlet itself and the other cable.
    assert_eq!(beside(&mill, "KIT2-A"), [2]);
    mill.land("KIT2-A", "B07");
    assert_eq!(beside(&mill, "KIT2-A"), [0, 2]);
    assert!(deeds(&mill.journal).iter().all(|deed| deed.beside == 0));
}

/// Each act with its words, against what it says.
fn only_unknown_facts_are_newer(journal: &Journal) -> usize {
    let deeds = deeds(journal);
    for deed in &deeds {
        let act = journal.act(deed.act).expect("it is in the journal");
        let unknown = |fact: &Fact| matches!(fact, Fact::Unknown { .. });
        let struck = act.strikes.iter().filter_map(|id| journal.act(*id));
        let mut facts = struck.flat_map(|act| &act.facts).chain(&act.facts);
        if !facts.any(unknown) {
            assert!(!deed.words.contains(NEWER), "{}: {act:?}", deed.words);
        }
        assert!(deed.words.len() > 5, "{:?}: {act:?}", deed.words);
        assert!(!deed.words.contains(": ;"), "{:?}", deed.words);
    }
    deeds.len()
}

#[test]
fn in_large_jobs_and_random_ones_every_act_has_words() {
    let reader = WriterId(Bits80(*b"aReader000"));
    let demo: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let mut jobs = vec![
        (marrowby::JOB, jobfile::read(demo).lines),
        (large::JOB, large_job(300, 1)),
    ];
    jobs.extend((0..20).map(|seed| (JOB, generate(seed).lines)));
    let mut told = 0;
    for (job, lines) in jobs {
        let mut journal = Journal::new(job, reader);
        journal.take(lines.iter().map(String::as_str));
        told += only_unknown_facts_are_newer(&journal);
        for cable in walk::cables(journal.registry()) {
            for deed in deeds_of(&journal, cable) {
                assert!(!deed.words.contains(NEWER), "{}", deed.words);
            }
        }
    }
    assert!(told > 1500, "{told} acts");
}

#[test]
fn any_fact_alone_has_words_unless_only_a_newer_version_knows_it() {
    let id = ActId {
        writer: WriterId(Bits80([7; 10])),
        n: 1,
    };
    // Things of the act itself, since it would wait for others.
    let source = Source {
        thing: (0..4_u32)
            .prop_map(move |index| ThingId::added_by(id, index))
            .boxed(),
        ..Source::anything()
    };
    let facts = vec(any_fact(&source), 1..3);
    let acts = facts.prop_map(move |facts| Act {
        id,
        lamport: Lamport::new(1).expect("a counter"),
        wall: WallTime(0),
        by: "".into(),
        about: [].into(),
        replaces: [].into(),
        strikes: [].into(),
        facts: facts.into(),
    });
    let done = runner(2000).run(&acts, |act| {
        let mut journal = Journal::new(JobId(Bits80([1; 10])), WriterId(Bits80([2; 10])));
        journal.take([wire::write(&act).as_str()]);
        let words = deeds(&journal).remove(0).words;
        let unknown = |fact: &Fact| matches!(fact, Fact::Unknown { .. });
        assert_eq!(
            words.contains(NEWER),
            act.facts.iter().any(unknown),
            "{words}"
        );
        Ok(())
    });
    done.unwrap_or_else(|failure| panic!("{failure}"));
}

#[test]
fn an_earlier_time_than_what_it_knew_is_told_as_that_phones_clock() {
    let mut mill = mill();
    let cable = mill.cable("KIT1-A");
    let pen = |kind| Want::MarkEnds {
        ends: vec![End::whole(cable, Side::Near)],
        kind,
        copies: 2,
    };
    mill.does(&pen(MarkKind::Pen));
    let who = |mill: &Mill| deeds(&mill.journal).remove(0).who;
    assert!(!who(&mill).ends_with("clock"), "{}", who(&mill));
    // The clock of the next phone stands in 1970.
    mill.does_at(WallTime(0), &pen(MarkKind::Fixed));
    assert_eq!(who(&mill), "MW, 1970-01-01 00:00 by that phone's clock");
}

#[test]
fn the_history_of_a_position_tells_what_came_and_what_left() {
    let mut mill = mill();
    mill.land("KIT1-A", "B01");
    mill.land("KIT1-A", "B02");
    let words = |code: &str| -> Vec<String> {
        let deeds = deeds_at(&mill.journal, mill.position(code));
        deeds.into_iter().map(|deed| deed.words).collect()
    };
    assert_eq!(words("B01").len(), 2, "{:?}", words("B01"));
    assert!(
        words("B01")[0].contains("B02"),
        "it says where to: {:?}",
        words("B01")
    );
    assert_eq!(words("B02").len(), 1);
    assert_eq!(words("B03"), [""; 0]);
}

#[test]
fn panels_that_swap_letters_are_told_with_those_that_they_had() {
    let mut mill = mill();
    let [one, other] = ["B", "C"].map(|letters| mill.panel_id(letters));
    let swap = Want::SwapLetters { one, other };
    says(
        &mut mill,
        &swap,
        "Panel C: its letter is C, before B; Panel B: its letter is B, before C.",
    );
    // Swapped back, the first deed says the letters that it gave.
    mill.does(&swap);
    let told: Vec<String> = deeds(&mill.journal)
        .into_iter()
        .take(2)
        .map(|deed| deed.words)
        .collect();
    assert_eq!(
        told,
        [
            "Panel B: its letter is B, before C; Panel C: its letter is C, before B.",
            "Panel B: its letter is C, before B; Panel C: its letter is B, before C."
        ]
    );
}
