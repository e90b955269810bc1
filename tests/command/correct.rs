//! Corrections: crossed pairs, the wrong outlet, re-pulls.

use bothends::command::{Correction, Want};
use bothends::domain::label::LegNumber;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::CopperTest;

use super::support::Site;

fn crossed(site: &Site, a: &str, b: &str, how: Correction) -> Want {
    Want::Uncross {
        ends: vec![site.far(a), site.far(b)],
        how,
    }
}

#[test]
fn a_crossed_pair_changes_places_in_the_record() {
    let mut site = Site::wired_mill();
    let same = crossed(&site, "KIT1-A", "KIT1-A", Correction::RecordChanges);
    site.refuses(same, "A crossed pair is two cables");
    let want = crossed(&site, "KIT1-A", "DIN1-A", Correction::RecordChanges);
    let refusal = site.refuses(want.clone(), "Neither KIT1-A nor DIN1-A is landed here");
    assert_eq!(refusal.ways_out[0].label, "Tags changed over");
    site.does(site.land(site.far("KIT1-A"), "B07"));
    site.undo_restores(&want);
    site.does(want.clone());
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far lifted");
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far landed B07");
    site.does(site.land(site.far("KIT1-A"), "B08"));
    site.does(want);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far landed B08");
}

#[test]
fn a_tag_is_to_be_looked_at_where_the_record_of_its_end_changed() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    site.does(Want::MarkEnds {
        ends: vec![site.far("KIT1-A")],
        kind: MarkKind::Pen,
        copies: 2,
    });
    site.does(crossed(
        &site,
        "KIT1-A",
        "DIN1-A",
        Correction::RecordChanges,
    ));
    let notes = |code| {
        let row = site
            .registry()
            .cables
            .get(site.cable(code))
            .expect("a cable");
        row.notes
            .iter()
            .map(|said| said.value.clone())
            .collect::<Vec<_>>()
    };
    let note = "Record changed over with DIN1-A at Main rack: see that its tag there says KIT1-A";
    assert_eq!(notes("KIT1-A"), [note]);
    assert!(notes("DIN1-A").is_empty(), "it bears no tag there");
}

#[test]
fn three_in_a_ring_change_places_and_plans_in_the_record_at_once() {
    let mut site = Site::wired_mill();
    site.adds_outlet("KIT", "data");
    let codes = ["KIT1-A", "DIN1-A", "KIT2-A"];
    for (code, position) in codes.into_iter().zip(["B07", "B08", "B09"]) {
        site.does(site.plan(site.far(code), position));
        site.does(site.land(site.far(code), position));
    }
    let ends = codes.map(|code| site.far(code)).to_vec();
    let how = Correction::RecordChanges;
    let twice = vec![ends[0], ends[1], ends[0]];
    site.refuses(Want::Uncross { ends: twice, how }, "A crossed pair is two");
    let want = Want::Uncross { ends, how };
    site.undo_restores(&want);
    site.does(want);
    // What is called the first is really the second, which therefore comes out where the first was.
    for (code, position) in [("DIN1-A", "B07"), ("KIT2-A", "B08"), ("KIT1-A", "B09")] {
        let said = format!("{code}: near bare, far planned {position} landed {position}");
        assert_eq!(site.state(code), said);
    }
}

#[test]
fn the_plans_of_a_crossed_pair_change_over_where_it_was_landed_by_them() {
    let mut site = Site::wired_mill();
    for (code, position) in [("KIT1-A", "B07"), ("DIN1-A", "B08")] {
        site.does(site.plan(site.far(code), position));
    }
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let want = crossed(&site, "KIT1-A", "DIN1-A", Correction::RecordChanges);
    site.undo_restores(&want);
    site.does(want);
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far planned B08 lifted"
    );
    assert_eq!(
        site.state("DIN1-A"),
        "DIN1-A: near bare, far planned B07 landed B07"
    );
    // Landed against the plan, the plan may still be what is wanted.
    site.does(site.land(site.far("KIT1-A"), "B12"));
    site.does(site.land(site.far("DIN1-A"), "B11"));
    let want = crossed(&site, "KIT1-A", "DIN1-A", Correction::RecordChanges);
    site.does(want);
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far planned B08 landed B11"
    );
}

#[test]
fn a_crossed_pair_changes_tags_and_the_record_stays() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let want = crossed(&site, "KIT1-A", "DIN1-A", Correction::TagsMove);
    site.undo_restores(&want);
    site.does(want);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
    for (code, other) in [("KIT1-A", "DIN1-A"), ("DIN1-A", "KIT1-A")] {
        let row = site.registry().cables.get(site.cable(code));
        let note = row.and_then(|row| row.notes.last()).expect("a note");
        assert!(
            note.starts_with(&format!("Tags changed over with {other}")),
            "{note}"
        );
    }
}

#[test]
fn a_crossed_pair_of_two_media_has_an_adapter_where_it_needs_one() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "tv");
    site.does(site.land(site.far("KIT1-B"), "B01"));
    site.does(site.land(site.far("KIT1-D"), "C01"));
    let want = crossed(&site, "KIT1-B", "KIT1-D", Correction::RecordChanges);
    site.does(want);
    assert!(site.state("KIT1-B").ends_with("landed C01 with adapter"));
    assert!(site.state("KIT1-D").ends_with("landed B01 with adapter"));
}

#[test]
fn split_ends_are_not_crossed_as_a_whole() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B01"));
    site.does(Want::SplitEnd {
        end: site.far("DIN1-A"),
        legs: LegNumber::new(2).expect("two"),
    });
    site.does(site.land(site.leg("DIN1-A", 1), "B02"));
    let want = crossed(&site, "KIT1-A", "DIN1-A", Correction::RecordChanges);
    site.refuses(want, "DIN1-A is split into 2 legs here");
}

#[test]
fn a_cable_that_came_out_elsewhere_is_named_anew_or_keeps_its_code() {
    let mut site = Site::wired_mill();
    site.does(site.mark(site.near("KIT1-B")));
    site.does(site.plan(site.near("KIT1-B"), "jack B of KIT1"));
    site.does(site.land(site.near("KIT1-B"), "jack B of KIT1"));
    let renamed = site.came_out("KIT1-B", "DIN1", Correction::TagsMove);
    site.undo_restores(&renamed);
    let cable = site.cable("KIT1-B");
    site.does(renamed);
    // The letters C and E of the two tries that were taken back are not given again.
    assert_eq!(
        site.state_of(cable),
        "DIN1-F: near planned jack F of DIN1 lifted, far bare"
    );
    let known = site
        .registry()
        .cables
        .get(cable)
        .expect("a cable")
        .known_as
        .last();
    assert_eq!(known.map(String::as_str), Some("KIT1-B"));
    // Its old code is not another run's.
    let want = site.add_cable("KIT1", Kind::Cat6Utp);
    site.does(want);
    assert_eq!(site.codes("KIT1"), "KIT1-A KIT1-C");

    site.does(site.mark(site.near("KIT1-A")));
    let keeps = site.came_out("KIT1-A", "DIN1", Correction::RecordChanges);
    site.undo_restores(&keeps);
    site.does(keeps);
    assert!(
        site.state("KIT1-A")
            .starts_with("KIT1-A: near marked KIT1-A planned jack")
    );
    assert!(site.state("KIT1-A").contains("of DIN1"));
    // And back again.
    let back = site.came_out("KIT1-A", "KIT1", Correction::RecordChanges);
    site.does(back);
    assert!(site.state("KIT1-A").contains("of KIT1"));
}

#[test]
fn only_a_run_to_another_outlet_came_out_elsewhere() {
    let mut site = Site::wired_mill();
    for how in [Correction::TagsMove, Correction::RecordChanges] {
        let want = site.came_out("KIT1-A", "KIT1", how);
        site.refuses(want, "KIT1-A belongs to KIT1 already");
    }
    site.does(Want::RouteLocal {
        cable: site.cable("KIT1-A"),
        from: site.outlet("DIN1"),
    });
    let want = site.came_out("KIT1-A", "DIN1", Correction::TagsMove);
    site.refuses(want, "KIT1-A leaves DIN1");
    site.adds_rack(2, "A", "Studio rack");
    site.does(Want::AddTie {
        near: site.rack("1A"),
        far: site.rack("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    let want = site.came_out("1A/2A-1", "DIN1", Correction::TagsMove);
    site.refuses(want, "1A/2A-1 is a tie line");
}

#[test]
fn a_repull_keeps_the_code_and_nothing_of_the_old_copper() {
    let mut site = Site::wired_mill();
    let cable = site.cable("KIT1-A");
    site.does(Want::ReportPull {
        cables: vec![cable],
        outcome: PullOutcome::Pulled,
    });
    site.does(site.mark(site.near("KIT1-A")));
    site.does(site.plan(site.far("KIT1-A"), "B07"));
    site.does(site.land(site.far("KIT1-A"), "B07"));
    site.does(Want::TestCable {
        cable,
        test: CopperTest {
            method: TestMethod::WireMap,
            outcome: TestOutcome::Passed,
            note: String::new(),
        },
    });
    let before = "KIT1-A, pulled, tested 1: near marked KIT1-A, far planned B07 landed B07";
    assert_eq!(site.state("KIT1-A"), before);
    let repull = |reason: &str| Want::Repull {
        cable,
        reason: reason.to_owned(),
    };
    site.refuses(repull(" "), "The reason for the new pull is empty");
    site.undo_restores(&repull("Drilled through"));
    site.does(repull("Drilled through"));
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far planned B07");
    // The code stays frozen, and the place is free again.
    site.refuses(
        Want::Reletter {
            cable,
            letter: super::support::letter("C"),
        },
        "stays its code",
    );
    site.does(site.land(site.far("KIT1-B"), "B07"));
    let again = site.does(repull("Short"));
    site.undoes(again);
    let refusal = site.refuses(
        Want::LandAsPlanned {
            ends: vec![site.far("KIT1-A")],
        },
        "B07 is taken: KIT1-B",
    );
    site.takes(&refusal, 1);
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far planned B07 landed B07"
    );
}
