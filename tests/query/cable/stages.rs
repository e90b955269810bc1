//! The one thing that a cable wants next, from planned to done, and by the ways aside.

use super::*;

fn next(mill: &Mill, code: &str) -> Next {
    seen(mill, code).next
}

/// A cable that is pulled, marked at both ends and landed at the rack.
fn landed() -> Mill {
    let mut mill = mill();
    pulls(&mut mill, "KIT1-A", PullOutcome::Pulled);
    for end in [near(&mill, "KIT1-A"), mill.far("KIT1-A")] {
        marks(&mut mill, end);
    }
    mill.land("KIT1-A", "B07");
    mill
}

#[test]
fn a_home_run_is_pulled_marked_landed_tested_and_put_in_its_plate() {
    let mut mill = mill();
    assert_eq!(next(&mill, "KIT1-A"), Next::Pull);
    pulls(&mut mill, "KIT1-A", PullOutcome::Pulled);
    assert_eq!(next(&mill, "KIT1-A"), Next::Mark);
    let ends = [near(&mill, "KIT1-A"), mill.far("KIT1-A")];
    marks(&mut mill, ends[0]);
    assert_eq!(next(&mill, "KIT1-A"), Next::Mark, "one end is marked");
    marks(&mut mill, ends[1]);
    assert_eq!(next(&mill, "KIT1-A"), Next::Land(Side::Far));
    mill.land("KIT1-A", "B07");
    assert_eq!(next(&mill, "KIT1-A"), Next::Test);
    tests(&mut mill, "KIT1-A", TestOutcome::Passed, "");
    assert_eq!(next(&mill, "KIT1-A"), Next::Land(Side::Near));
    plugs(&mut mill, "KIT1-A", 'A');
    assert_eq!(next(&mill, "KIT1-A"), Next::Nothing);
}

#[test]
fn what_is_landed_is_not_to_be_pulled() {
    let mut mill = mill();
    mill.land("KIT1-A", "B07");
    let cable = seen(&mill, "KIT1-A");
    assert_eq!(cable.next, Next::Mark);
    let said: Vec<&str> = cable.pull.iter().map(|said| &*said.words).collect();
    assert_eq!(said, ["pulled"]);
}

#[test]
fn what_went_wrong_is_settled_first() {
    for outcome in [PullOutcome::Short, PullOutcome::Stuck, PullOutcome::Damaged] {
        let mut mill = mill();
        pulls(&mut mill, "KIT1-A", outcome);
        assert_eq!(next(&mill, "KIT1-A"), Next::Settle, "{outcome:?}");
        pulls(&mut mill, "KIT1-A", PullOutcome::Pulled);
        assert_eq!(next(&mill, "KIT1-A"), Next::Mark, "{outcome:?}");
    }
    let mut mill = landed();
    tests(&mut mill, "KIT1-A", TestOutcome::Passed, "");
    tests(&mut mill, "KIT1-A", TestOutcome::Failed, "");
    assert_eq!(next(&mill, "KIT1-A"), Next::Settle);
    tests(&mut mill, "KIT1-A", TestOutcome::Passed, "");
    assert_eq!(next(&mill, "KIT1-A"), Next::Land(Side::Near));
}

#[test]
fn a_lost_tag_is_made_again_before_anything_else() {
    let mut mill = landed();
    let end = near(&mill, "KIT1-A");
    mill.does(&Want::LoseTag { end });
    assert_eq!(next(&mill, "KIT1-A"), Next::Mark);
    marks(&mut mill, end);
    assert_eq!(next(&mill, "KIT1-A"), Next::Test);
}

#[test]
fn nobody_tests_what_is_spare_or_dead() {
    for dead in [false, true] {
        let mut mill = landed();
        let (end, reason) = (near(&mill, "KIT1-A"), "For later".to_owned());
        let kept = String::new();
        mill.does(&if dead {
            Want::Dead { end, reason }
        } else {
            Want::Spare { end, kept, reason }
        });
        assert_eq!(next(&mill, "KIT1-A"), Next::Nothing, "dead: {dead}");
        let far = mill.far("KIT1-A");
        mill.does(&Want::Lift { end: far });
        assert_eq!(next(&mill, "KIT1-A"), Next::Land(Side::Far));
    }
}

#[test]
fn a_cancelled_cable_wants_nothing_until_it_is_wanted_again() {
    let mut mill = mill();
    let cable = mill.cable("KIT1-A");
    let reason = "Wall stays shut".to_owned();
    mill.does(&Want::CancelCable { cable, reason });
    let shown = seen(&mill, "KIT1-A");
    assert_eq!(shown.next, Next::Nothing);
    assert_eq!(shown.cancelled.as_deref(), Some("Wall stays shut"));
    mill.does(&Want::RestoreCable { cable });
    let shown = seen(&mill, "KIT1-A");
    assert_eq!((shown.next, shown.cancelled), (Next::Pull, None));
}

#[test]
fn a_tie_line_has_a_rack_at_either_end() {
    let mut mill = mill();
    mill.rack(2, "A", "Studio rack");
    mill.panel(
        "2A",
        "D",
        bothends::domain::medium::Connector::Modular,
        24,
        None,
    );
    mill.does(&Want::AddTie {
        near: mill.rack_id("1A"),
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: "Between the racks".to_owned(),
    });
    let code = "1A/2A-1";
    let tie = seen(&mill, code);
    assert_eq!((tie.kind, tie.outlet), ("tie line", None));
    assert_eq!((tie.code.as_str(), tie.room.as_str()), (code, ""));
    let at = tie.ends.each_ref().map(|end| end.at.as_str());
    assert_eq!(at, ["Main rack", "Studio rack"]);
    assert_eq!(tie.next, Next::Pull);
    pulls(&mut mill, code, PullOutcome::Pulled);
    for end in [near(&mill, code), mill.far(code)] {
        marks(&mut mill, end);
    }
    mill.land(code, "D01");
    tests(&mut mill, code, TestOutcome::Passed, "");
    assert_eq!(next(&mill, code), Next::Land(Side::Near));
    mill.does(&Want::Land {
        end: near(&mill, code),
        place: Place::rear(mill.position("B24")),
        fitting: Fitting::Direct,
    });
    let tie = seen(&mill, code);
    assert_eq!(tie.next, Next::Nothing);
    assert_eq!(end(&tie.ends[0]), "B24: Landed: landed on B24");
}

#[test]
fn a_local_run_leaves_another_outlet() {
    let mut mill = mill();
    mill.outlets("KITS", "keypad", 1);
    mill.does(&Want::RouteLocal {
        cable: mill.cable("KITS1-A"),
        from: mill.outlet_id("KIT", 1),
    });
    let run = seen(&mill, "KITS1-A");
    assert_eq!(
        (run.kind, run.room.as_str()),
        ("local run", "Kitchen store")
    );
    let at = run.ends.each_ref().map(|end| end.at.as_str());
    assert_eq!(at, ["KITS1", "KIT1"]);
    pulls(&mut mill, "KITS1-A", PullOutcome::Pulled);
    for end in [near(&mill, "KITS1-A"), mill.far("KITS1-A")] {
        marks(&mut mill, end);
    }
    assert_eq!(next(&mill, "KITS1-A"), Next::Land(Side::Far));
    let end = mill.far("KITS1-A");
    mill.does(&Want::Land {
        end,
        place: Place::Jack {
            outlet: mill.outlet_id("KIT", 1),
            jack: Letter::new('C').expect("a letter"),
        },
        fitting: Fitting::Direct,
    });
    let run = seen(&mill, "KITS1-A");
    assert_eq!((run.next, run.panel), (Next::Test, None));
    assert_eq!(run.ends[1].place, "KIT1 C");
}
