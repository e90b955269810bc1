//! One cable with both its ends, as whoever stands at either needs it.

use bothends::command::Want;
use bothends::domain::ids::{Bits80, WriterId};
use bothends::domain::label::{LegNumber, Letter};
use bothends::domain::length::{FootageMark, LengthUnit, Millimetres};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Fitting, Place, Side};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::{CopperTest, Found, Journal};
use bothends::query::cable::{
    CableView, Dated, EndState, EndView, Measured, Next, OutletOrRack, tests_for, view,
};

use crate::mill::Mill;

/// What is still to do, stage by stage.
mod stages;

/// The signature of every act of the mill.
const WHO: &str = "MW, 2026-03-02 00:00";

/// The mill with an outlet of two data cables in the kitchen.
fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill
}

fn seen(mill: &Mill, code: &str) -> CableView {
    view(&mill.journal, mill.cable(code)).expect("a cable")
}

fn near(mill: &Mill, code: &str) -> End {
    End::whole(mill.cable(code), Side::Near)
}

fn marks(mill: &mut Mill, end: End) {
    let (ends, kind) = (vec![end], MarkKind::Pen);
    let copies = 2;
    mill.does(&Want::MarkEnds { ends, kind, copies });
}

fn pulls(mill: &mut Mill, code: &str, outcome: PullOutcome) {
    let cables = vec![mill.cable(code)];
    mill.does(&Want::ReportPull { cables, outcome });
}

fn tests(mill: &mut Mill, code: &str, outcome: TestOutcome, note: &str) {
    let cable = mill.cable(code);
    let test = CopperTest {
        method: TestMethod::WireMap,
        outcome,
        note: note.to_owned(),
    };
    mill.does(&Want::TestCable { cable, test });
}

fn reads(mill: &mut Mill, end: End, value: u32, unit: LengthUnit) {
    let mark = FootageMark { value, unit };
    mill.does(&Want::ReadFootage { end, mark });
}

/// Puts the near end of a cable into a jack of `KIT1`.
fn plugs(mill: &mut Mill, code: &str, jack: char) {
    mill.does(&Want::Land {
        end: near(mill, code),
        place: Place::Jack {
            outlet: mill.outlet_id("KIT", 1),
            jack: Letter::new(jack).expect("a letter"),
        },
        fitting: Fitting::Direct,
    });
}

fn dated(words: &str) -> Dated {
    Dated {
        words: words.to_owned(),
        who: WHO.to_owned(),
    }
}

fn words(lines: &[Dated]) -> Vec<&str> {
    lines.iter().map(|line| line.words.as_str()).collect()
}

/// `B07: Landed: landed on B07`.
fn end(end: &EndView) -> String {
    let standing = words(&end.standing).join("; ");
    format!("{}: {:?}: {standing}", end.place, end.state)
}

#[test]
fn a_planned_cable_shows_where_it_comes_from_and_belongs() {
    let mut mill = mill();
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(
        [&cable.code, &cable.purpose, &cable.room],
        ["KIT1-A", "Data", "Kitchen"]
    );
    assert_eq!(cable.kind, "home run");
    assert_eq!(cable.outlet, Some(mill.outlet_id("KIT", 1)));
    assert_eq!((cable.panel, cable.cancelled), (None, None));
    assert_eq!(cable.ends[0].at, "KIT1");
    assert_eq!(cable.ends[1].at, "Main rack");
    assert_eq!(end(&cable.ends[0]), "KIT1: Open: ");
    assert_eq!(end(&cable.ends[1]), "Main rack: Open: ");

    let cable = mill.cable("KIT1-A");
    let rack = Some(mill.rack_id("1A"));
    mill.does(&Want::RouteHome {
        cables: vec![cable],
        rack,
    });
    let place = Some(Place::rear(mill.position("B07")));
    let far = mill.far("KIT1-A");
    mill.does(&Want::PlanEnd { end: far, place });
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.ends[1].at, "Main rack");
    assert_eq!(cable.panel, Some(mill.panel_id("B")));
    assert_eq!(
        end(&cable.ends[1]),
        "B07: Planned: belongs on B07, not landed yet"
    );
    assert_eq!(cable.ends[1].standing[0].who, "", "a plan has no witness");
}

#[test]
fn both_ends_say_how_they_stand_and_who_said_so() {
    let mut mill = mill();
    mill.land("KIT1-A", "B07");
    plugs(&mut mill, "KIT1-A", 'A');
    let [one, other] = seen(&mill, "KIT1-A").ends;
    assert_eq!((one.side, other.side), (Side::Near, Side::Far));
    assert_eq!(end(&one), "KIT1 A: Landed: landed on jack A of KIT1");
    assert_eq!(end(&other), "B07: Landed: landed on B07");
    assert_eq!(other.standing, [dated("landed on B07")]);

    let far = mill.far("KIT1-A");
    mill.does(&Want::Lift { end: far });
    let [_, far_end] = seen(&mill, "KIT1-A").ends;
    assert_eq!(end(&far_end), "Main rack: Open: not landed");
    mill.does(&Want::Spare {
        end: far,
        kept: "Above the rack".to_owned(),
        reason: "For later".to_owned(),
    });
    let [_, far_end] = seen(&mill, "KIT1-A").ends;
    assert_eq!(end(&far_end), "Main rack: Spare: spare: For later");
    mill.does(&Want::Dead {
        end: far,
        reason: "Cut short".to_owned(),
    });
    let [_, far_end] = seen(&mill, "KIT1-A").ends;
    assert_eq!(end(&far_end), "Main rack: Dead: dead: Cut short");
}

#[test]
fn a_lifted_end_still_shows_where_it_belongs() {
    let mut mill = mill();
    let far = mill.far("KIT1-A");
    let place = Some(Place::rear(mill.position("B07")));
    mill.does(&Want::PlanEnd { end: far, place });
    mill.land("KIT1-A", "B08");
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "B08: Landed: landed on B08, but belongs on B07"
    );
    mill.does(&Want::Lift { end: far });
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "B07: Planned: not landed; belongs on B07, not landed yet"
    );
}

#[test]
fn two_phones_that_disagree_are_both_heard() {
    let mut mill = mill();
    let mut other = Mill {
        journal: Journal::new(mill.journal.job(), WriterId(Bits80([2; 10]))),
    };
    other.journal.take(mill.journal.lines());
    mill.land("KIT1-A", "B07");
    other.land("KIT1-A", "B09");
    mill.journal.take(other.journal.lines());
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.ends[1].state, EndState::Disputed);
    assert_eq!(
        cable.ends[1].standing,
        [dated("landed on B07"), dated("landed on B09")]
    );
    assert_eq!(cable.next, Next::Settle);
}

#[test]
fn a_split_end_tells_of_each_leg() {
    let mut mill = mill();
    mill.outlets("KIT", "keypad", 1);
    let far = mill.far("KIT1-A");
    let legs = LegNumber::new(2).expect("two");
    mill.does(&Want::SplitEnd { end: far, legs });
    for (leg, position) in [(1, "T01"), (2, "T02")] {
        let leg = LegNumber::new(leg);
        mill.does(&Want::Land {
            end: End { leg, ..far },
            place: Place::rear(mill.position(position)),
            fitting: Fitting::Adapter,
        });
    }
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "T01 and T02: Landed: leg 1: landed on T01 with an adapter; leg 2: landed on T02 with an adapter"
    );
}

#[test]
fn a_split_end_is_landed_once_every_leg_is_settled() {
    let mut mill = mill();
    let far = mill.far("KIT1-A");
    let legs = LegNumber::new(2).expect("two");
    mill.does(&Want::SplitEnd { end: far, legs });
    let [one, other] = [1, 2].map(|leg| End {
        leg: LegNumber::new(leg),
        ..far
    });
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "Main rack: Open: leg 1: not landed; leg 2: not landed"
    );
    mill.does(&Want::Land {
        end: other,
        place: Place::rear(mill.position("T02")),
        fitting: Fitting::Adapter,
    });
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "T02: Open: leg 1: not landed; leg 2: landed on T02 with an adapter"
    );
    mill.does(&Want::PlanEnd {
        end: one,
        place: Some(Place::rear(mill.position("T01"))),
    });
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "T02: Planned: leg 1: belongs on T01, not landed yet; leg 2: landed on T02 with an adapter"
    );
    let reason = "Not needed".to_owned();
    mill.does(&Want::Dead { end: one, reason });
    assert_eq!(
        end(&seen(&mill, "KIT1-A").ends[1]),
        "T02: Landed: leg 1: dead: Not needed; leg 2: landed on T02 with an adapter"
    );
}

#[test]
fn a_place_that_another_end_claims_is_said_on_both() {
    let mut mill = mill();
    let far = mill.far("KIT1-B");
    let place = Place::rear(mill.position("B07"));
    let planned = Some(place.clone());
    mill.does(&Want::PlanEnd {
        end: far,
        place: planned,
    });
    let mut other = Mill {
        journal: Journal::new(mill.journal.job(), WriterId(Bits80([2; 10]))),
    };
    other.journal.take(mill.journal.lines());
    mill.land("KIT1-A", "B07");
    let cable = seen(&mill, "KIT1-B");
    assert_eq!(
        end(&cable.ends[1]),
        "B07: Planned: belongs on B07, not landed yet; KIT1-A is landed there"
    );
    assert_eq!(cable.ends[1].standing[1], dated("KIT1-A is landed there"));
    other.land("KIT1-B", "B07");
    mill.journal.take(other.journal.lines());
    for (code, rival) in [("KIT1-A", "KIT1-B"), ("KIT1-B", "KIT1-A")] {
        let cable = seen(&mill, code);
        assert_eq!(
            end(&cable.ends[1]),
            format!("B07: Disputed: landed on B07; {rival} is landed there")
        );
        assert_eq!(cable.ends[0].state, EndState::Open);
        assert_eq!(cable.next, Next::Settle);
    }
    // A terminal may be shared, and then nobody is in the way.
    mill.outlets("KITS", "keypad", 2);
    for code in ["KITS1-A", "KITS2-A"] {
        mill.does(&Want::Land {
            end: mill.far(code),
            place: Place::rear(mill.position("T01")),
            fitting: Fitting::Adapter,
        });
        assert_eq!(
            end(&seen(&mill, code).ends[1]),
            "T01: Landed: landed on T01 with an adapter"
        );
    }
}

#[test]
fn each_end_says_whether_it_is_at_an_outlet_or_a_rack() {
    let mut mill = mill();
    mill.outlets("KITS", "data", 1);
    mill.rack(2, "A", "Attic rack");
    let [kitchen, store] = ["KIT", "KITS"].map(|room| Some(mill.outlet_id(room, 1)));
    let at = |mill: &Mill, code| {
        let ends = seen(mill, code).ends;
        ends.map(|end| (end.outlet_or_rack, end.at))
    };
    let rack = |name: &str| (OutletOrRack::Rack, name.to_owned());
    let outlet = |id, code: &str| (OutletOrRack::Outlet(id), code.to_owned());
    assert_eq!(
        at(&mill, "KIT1-A"),
        [outlet(kitchen, "KIT1"), rack("a rack not chosen")]
    );
    mill.does(&Want::RouteLocal {
        cable: mill.cable("KIT1-A"),
        from: store.expect("an outlet"),
    });
    assert_eq!(
        at(&mill, "KIT1-A"),
        [outlet(kitchen, "KIT1"), outlet(store, "KITS1")]
    );
    mill.does(&Want::AddTie {
        near: mill.rack_id("1A"),
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    assert_eq!(
        at(&mill, "1A/2A-1"),
        [rack("Main rack"), rack("Attic rack")]
    );
}

#[test]
fn marks_lost_tags_and_sightings_stand_newest_first() {
    let mut mill = mill();
    let end = near(&mill, "KIT1-A");
    marks(&mut mill, end);
    mill.does(&Want::LoseTag { end });
    mill.does(&Want::SeeEnd {
        end,
        at: "Kitchen ceiling".to_owned(),
    });
    mill.does(&Want::MarkEnds {
        ends: vec![end],
        kind: MarkKind::Fixed,
        copies: 1,
    });
    let [one, other] = seen(&mill, "KIT1-A").ends;
    assert_eq!(
        one.marks,
        [
            dated("tag fixed as KIT1-A"),
            dated("seen at Kitchen ceiling"),
            dated("tag lost"),
            dated("marked with a pen as KIT1-A"),
        ]
    );
    assert_eq!(other.marks, []);
}

#[test]
fn the_length_is_between_the_last_marks_of_both_ends() {
    let mut mill = mill();
    let (one, other) = (near(&mill, "KIT1-A"), mill.far("KIT1-A"));
    reads(&mut mill, one, 482, LengthUnit::Feet);
    assert_eq!(seen(&mill, "KIT1-A").length, None, "one mark is no length");
    reads(&mut mill, other, 612, LengthUnit::Feet);
    // 1 ft is 304.8 mm by definition of the international foot.
    let measured = |millimetres, unit| {
        let length = Millimetres(millimetres);
        Some(Measured { length, unit })
    };
    let feet = LengthUnit::Feet;
    assert_eq!(seen(&mill, "KIT1-A").length, measured(39_624, feet));
    // It was misread, and the second reading counts; the first stays to be seen.
    reads(&mut mill, other, 582, LengthUnit::Feet);
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.length, measured(30_480, feet));
    assert_eq!(cable.ends[1].footage, [dated("582 ft"), dated("612 ft")]);
    reads(&mut mill, other, 150, LengthUnit::Metres);
    assert_eq!(seen(&mill, "KIT1-A").length, None, "two units make none");
}

#[test]
fn the_pull_tests_notes_and_old_names_are_told() {
    let mut mill = mill();
    let cable = mill.cable("KIT1-A");
    pulls(&mut mill, "KIT1-A", PullOutcome::Pulled);
    mill.does(&Want::DrawFrom { cable, number: 3 });
    tests(&mut mill, "KIT1-A", TestOutcome::Failed, " pair 2 open ");
    tests(&mut mill, "KIT1-A", TestOutcome::Passed, "");
    for note in ["Runs over the beam", "Red tape"] {
        let note = note.to_owned();
        mill.does(&Want::NoteCable { cable, note });
    }
    let name = "Oven 1".to_owned();
    mill.does(&Want::KnowCableAs { cable, name });
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.pull, [dated("pulled"), dated("from box 3")]);
    assert_eq!(
        cable.tests,
        [
            dated("wire map passed"),
            dated("wire map failed: pair 2 open")
        ]
    );
    assert_eq!(words(&cable.notes), ["Red tape", "Runs over the beam"]);
    assert_eq!(cable.old_names, [dated("Oven 1")]);
    assert_eq!(cable.void_pulls, []);
}

#[test]
fn a_new_pull_leaves_only_the_void_tags_of_the_old_one() {
    use bothends::codes::tag::PullMark;
    let mut mill = mill();
    let (one, other) = (near(&mill, "KIT1-A"), mill.far("KIT1-A"));
    pulls(&mut mill, "KIT1-A", PullOutcome::Pulled);
    marks(&mut mill, one);
    reads(&mut mill, one, 10, LengthUnit::Feet);
    reads(&mut mill, other, 90, LengthUnit::Feet);
    mill.land("KIT1-A", "B07");
    tests(&mut mill, "KIT1-A", TestOutcome::Passed, "");
    let cable = mill.cable("KIT1-A");
    let old = PullMark::of(cable.0.into());
    let reason = "Drilled through".to_owned();
    mill.does(&Want::Repull { cable, reason });

    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.code, "KIT1-A");
    assert_eq!(
        (cable.pull, cable.tests, cable.length),
        (vec![], vec![], None)
    );
    assert_eq!(
        cable.ends.each_ref().map(|end| end.state),
        [EndState::Open; 2]
    );
    assert_eq!(cable.ends[0].marks, []);
    let void = format!("tags from before that are void, 1 test on it is past (they carry {old})");
    assert_eq!(
        words(&cable.void_pulls),
        ["pulled anew: Drilled through", void.as_str()]
    );
    assert_eq!(cable.void_pulls[0].who, WHO);
    assert_eq!(cable.next, Next::Pull);
}

#[test]
fn a_loose_end_that_was_joined_is_named_at_its_end() {
    let mut mill = mill();
    let place = "Above the door".to_owned();
    let found = Found {
        place,
        ..Found::default()
    };
    mill.does(&Want::AddLooseEnd { found });
    let loose = mill.registry().loose_ends.iter().next().expect("one").0;
    let end = mill.far("KIT1-A");
    mill.does(&Want::JoinLooseEnd { loose, end });
    let loose_of = |mill: &Mill| seen(mill, "KIT1-A").ends.map(|end| end.loose);
    assert_eq!(loose_of(&mill), [None, Some(loose)]);
    mill.does(&Want::PartLooseEnd { loose });
    assert_eq!(loose_of(&mill), [None, None]);
}

#[test]
fn what_was_never_added_or_was_withdrawn_is_not_shown() {
    let mut mill = mill();
    let cable = mill.cable("KIT1-A");
    let act = mill.journal.history().last().expect("an act").id;
    mill.does(&Want::Undo { act });
    assert_eq!(view(&mill.journal, cable), None);
    let unknown = bothends::domain::ids::CableId(mill.rack_id("1A").0);
    assert_eq!(view(&mill.journal, unknown), None);
}

#[test]
fn the_tests_that_are_offered_suit_what_the_cable_is_made_of() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    let fibre = mill.cable("KIT1-C");
    let medium = Medium::indoor(Kind::Fibre { strands: 6 });
    mill.does(&Want::SetMedium {
        cable: fibre,
        medium,
    });
    let offered = |code: &str| tests_for(mill.registry(), mill.cable(code)).to_vec();
    assert_eq!(offered("KIT1-A"), [TestMethod::Toner, TestMethod::WireMap]);
    assert_eq!(
        offered("KIT1-D"),
        [TestMethod::Toner, TestMethod::Continuity]
    );
    assert_eq!(
        offered("KIT1-C"),
        [TestMethod::Continuity],
        "no tone goes through glass"
    );
}
