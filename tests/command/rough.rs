//! Rough-in: boxes, outlets merged and split, and the day the board goes up.

use bothends::command::{Correction, Want, done_words};
use bothends::domain::ids::ActId;
use bothends::domain::label::{Letter, OutletNumber};
use bothends::domain::length::Millimetres;
use bothends::domain::medium::Kind;
use bothends::domain::picture::{Digest, Shows};
use bothends::domain::place::{End, Fitting, Place, Side};
use bothends::domain::work::{CoverCheck, PullOutcome, Slack, Waiting, WaitsFor, WallBox};
use bothends::journal::Registry;
use bothends::names;
use bothends::query::cover::{self, CoverState, Missing, RoomToCover};
use bothends::query::wall::{self, Settled};
use bothends::query::{What, cable, check};

use super::support::Site;

fn near(site: &Site, cable: &str) -> End {
    End::whole(site.cable(cable), Side::Near)
}

fn kitchen(site: &Site) -> RoomToCover {
    cover::room(&site.journal, site.room("KIT")).expect("a room with outlets")
}

fn sign(site: &Site, checks: &[CoverCheck], note: &str) -> Want {
    Want::OkToCover {
        room: site.room("KIT"),
        counted: 2,
        checks: checks.to_vec(),
        note: note.to_owned(),
    }
}

fn pulled(site: &Site) -> Want {
    Want::ReportPull {
        cables: vec![site.cable("KIT1-A"), site.cable("KIT1-B")],
        outcome: PullOutcome::Pulled,
    }
}

/// The kitchen of the wired mill with everything done, its two cables counted and signed for.
fn signed_kitchen() -> (Site, ActId) {
    let mut site = Site::wired_mill();
    let outlet = site.outlet("KIT1");
    site.does(pulled(&site));
    for cable in ["KIT1-A", "KIT1-B"] {
        site.does(site.mark(near(&site, cable)));
    }
    let slack = Slack {
        length: Some(Millimetres(600)),
        place: "in the box".to_owned(),
    };
    site.does(Want::BoxOutlet {
        outlet,
        wall_box: WallBox::Gangs(1),
    });
    site.does(Want::LeaveSlack { outlet, slack });
    site.does(Want::AddPicture {
        digest: Digest([7; 32]),
        shows: Shows::Outlet(outlet),
    });
    let act = site.does(sign(&site, &CoverCheck::ALL, ""));
    (site, act)
}

fn why(site: &Site) -> Vec<String> {
    match kitchen(site).state {
        CoverState::Reopened { why, .. } => why,
        other => panic!("{other:?} is not reopened"),
    }
}

#[test]
fn what_is_missing_is_said_and_a_signature_wants_a_reason_for_it() {
    let mut site = Site::wired_mill();
    let codes = || vec!["KIT1-A".to_owned(), "KIT1-B".to_owned()];
    let outlet = || vec!["KIT1".to_owned()];
    let all = [
        Missing::NotPulled(codes()),
        Missing::NotMarked(codes()),
        Missing::NoPicture(outlet()),
        Missing::NoBox(outlet()),
        Missing::NoSlack(outlet()),
    ];
    assert_eq!(kitchen(&site).missing, all);
    assert_eq!(kitchen(&site).cables, 2);
    assert_eq!(kitchen(&site).shown(), []);
    site.refuses(
        sign(&site, &[CoverCheck::Counted], " "),
        "say in a few words",
    );
    site.undo_restores(&sign(
        &site,
        &[CoverCheck::Counted],
        "Board on three sides only",
    ));
    let question = Waiting {
        whom: WaitsFor::Client,
        words: "Left or right of the stove?".to_owned(),
    };
    site.does(Want::LetOutletWait {
        outlet: site.outlet("KIT1"),
        waiting: question,
    });
    let waits = Missing::Waits {
        outlet: "KIT1".to_owned(),
        words: "question for the client: Left or right of the stove?".to_owned(),
    };
    assert_eq!(kitchen(&site).missing.last(), Some(&waits));
}

#[test]
fn a_signed_room_is_open_again_once_something_in_its_walls_changed() {
    let (mut site, _) = signed_kitchen();
    let state = kitchen(&site);
    assert_eq!(state.missing, []);
    assert!(matches!(&state.state, CoverState::Ok { who, .. } if who.starts_with("P1, ")));
    assert!(!state.is_open());
    // Work at the rack and a further copy of a mark change nothing in the walls.
    site.does(site.mark(End::whole(site.cable("KIT1-A"), Side::Far)));
    site.does(site.mark(near(&site, "KIT1-A")));
    assert!(!kitchen(&site).is_open());
    site.does(site.add_cable("KIT1", Kind::Rg6));
    let changes = why(&site);
    assert_eq!(changes.len(), 1);
    assert!(changes[0].starts_with("KIT1-D: added"), "{changes:?}");
    assert!(changes[0].contains("P1, "), "{changes:?}");
}

#[test]
fn a_signed_room_stays_on_the_list_when_its_last_outlet_is_gone() {
    for gone in [true, false] {
        let (mut site, _) = signed_kitchen();
        let outlet = site.outlet("KIT1");
        site.does(if gone {
            Want::CancelOutlet {
                outlet,
                reason: "Not wanted".to_owned(),
            }
        } else {
            Want::MoveOutlet {
                outlet,
                room: site.room("DIN"),
                number: OutletNumber::new(9).expect("a number"),
            }
        });
        assert_eq!(why(&site).len(), 1);
        let rooms = cover::rooms(&site.journal);
        assert!(rooms.iter().any(|room| room.room == site.room("KIT")));
    }
}

#[test]
fn tags_changed_over_at_the_wall_open_a_signed_room() {
    let (mut site, _) = signed_kitchen();
    let (a, b) = (site.near("KIT1-A"), site.near("KIT1-B"));
    let [far_a, far_b] = ["KIT1-A", "KIT1-B"].map(|code| site.far(code));
    let how = Correction::TagsMove;
    site.does(Want::Uncross {
        ends: vec![far_a, far_b],
        how,
    });
    assert!(!kitchen(&site).is_open(), "at the rack");
    site.does(Want::Uncross {
        ends: vec![a, b],
        how,
    });
    let changes = why(&site);
    assert_eq!(changes.len(), 1);
    assert!(changes[0].contains("ags changed over"), "{changes:?}");
}

#[test]
fn new_tags_and_a_crossed_record_open_a_signed_room() {
    let mut site = Site::wired_mill();
    let room = site.room("KIT");
    let cable = site.cable("KIT1-A");
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| site.near(code));
    site.does(site.mark(a));
    let outlet = site.outlet("KIT1");
    let number = OutletNumber::new(5).expect("a number");
    site.does(Want::MoveOutlet {
        outlet,
        room,
        number,
    });
    let some = "The rest comes on Friday";
    let ok = |site: &Site| sign(site, &[CoverCheck::Boxes], some);
    site.does(ok(&site));
    site.does(Want::TagsAnew { cable });
    let changes = why(&site);
    assert_eq!(changes.len(), 1);
    assert!(
        changes[0].starts_with("The old marks KIT1-A are void. P1, "),
        "{changes:?}"
    );
    // Landing as it should be opens nothing; that it was the other one does.
    site.does(ok(&site));
    let [jack_a, jack_b] = ['A', 'B'].map(|jack| Place::Jack {
        outlet,
        jack: Letter::new(jack).expect("a letter"),
    });
    for (end, place) in [(a, jack_a), (b, jack_b)] {
        let fitting = Fitting::Direct;
        site.does(Want::Land {
            end,
            place,
            fitting,
        });
    }
    assert!(!kitchen(&site).is_open());
    let how = Correction::RecordChanges;
    site.does(Want::Uncross {
        ends: vec![a, b],
        how,
    });
    let changes = why(&site);
    assert_eq!(changes.len(), 1);
    assert!(changes[0].contains("P1, "), "{changes:?}");
}

#[test]
fn taking_back_what_was_signed_for_opens_the_room_and_taking_that_back_closes_it() {
    let mut site = Site::wired_mill();
    let report = site.does(pulled(&site));
    site.does(sign(
        &site,
        &[CoverCheck::Counted],
        "Nothing is marked in this flat",
    ));
    assert!(!kitchen(&site).is_open());
    let undo = site.undoes(report);
    assert_eq!(why(&site).len(), 1);
    site.undoes(undo);
    assert!(!kitchen(&site).is_open());
    // Done and taken back since: nothing has changed.
    let added = site.does(site.add_cable("KIT1", Kind::Rg6));
    site.undoes(added);
    assert!(!kitchen(&site).is_open());
}

#[test]
fn what_another_phone_did_before_the_signature_opens_the_room_when_they_meet() {
    let (mut first, _) = signed_kitchen();
    let mut second = Site::phone(2);
    first.meets(&mut second);
    // Both work on; the second one does not know of the signature, nor the first of the change.
    first.undo_restores(&Want::NotToCover {
        room: first.room("KIT"),
        reason: "A box is loose".to_owned(),
    });
    let repull = Want::Repull {
        cable: second.cable("KIT1-B"),
        reason: "Drilled through".to_owned(),
    };
    second.does(repull);
    first.does(sign(&first, &CoverCheck::ALL, "Counted once more"));
    first.meets(&mut second);
    for site in [&first, &second] {
        let changes = why(site);
        assert_eq!(changes.len(), 1, "{changes:?}");
        assert!(changes[0].contains("pulled anew"), "{changes:?}");
        assert!(changes[0].contains("P2, "), "{changes:?}");
    }
    // Who signs now knows of it.
    let again = sign(
        &second,
        &[CoverCheck::Counted],
        "Pulled anew tomorrow, from the attic",
    );
    second.does(again);
    assert!(!kitchen(&second).is_open());
    second.does(Want::CloseWalls {
        room: second.room("KIT"),
    });
    second.does(second.add_cable("KIT1", Kind::Rg6));
    let CoverState::Closed { since } = kitchen(&second).state else {
        panic!("{:?} is not closed", kitchen(&second).state);
    };
    assert_eq!(since.len(), 1, "{since:?}");
    assert!(since[0].starts_with("KIT1-D: added"), "{since:?}");
    assert!(since[0].contains("P2, "), "{since:?}");
}

#[test]
fn two_who_sign_do_not_disagree_and_each_signature_must_hold() {
    let (mut first, _) = signed_kitchen();
    let mut second = Site::phone(2);
    first.meets(&mut second);
    let again = |site: &Site, note: &str| sign(site, &CoverCheck::ALL, note);
    first.does(again(&first, "North wall too"));
    second.does(again(&second, "South wall too"));
    first.meets(&mut second);
    let CoverState::Ok { who, ok } = kitchen(&first).state else {
        panic!("{:?}", kitchen(&first).state);
    };
    assert!(who.contains("P1, ") && who.contains(" and P2, "), "{who}");
    assert!(ok.note.contains("North wall too") && ok.note.contains("South wall too"));
    let disputed = |site: &Site| {
        let found = check(site.registry());
        found
            .iter()
            .any(|found| matches!(found.what, What::Disputed { .. }))
    };
    assert!(!disputed(&first));
    // What neither knew opens the room, and is said once; so does a Not yet beside an OK.
    let third = first.add_cable("KIT1", Kind::Rg6);
    first.does(third);
    assert_eq!(why(&first).len(), 1);
    first.does(again(&first, "Coax too"));
    second.does(Want::NotToCover {
        room: second.room("KIT"),
        reason: "A box is loose".to_owned(),
    });
    first.meets(&mut second);
    assert!(matches!(kitchen(&first).state, CoverState::NotYet(_)));
    assert!(disputed(&first));
}

#[test]
fn one_box_gives_one_cable_at_a_time() {
    let mut site = Site::wired_mill();
    let (a, b) = (site.cable("KIT1-A"), site.cable("KIT1-B"));
    let deal = |deals: &[_]| Want::DealBoxes {
        deals: deals.to_vec(),
    };
    site.refuses(deal(&[(a, 3), (b, 3)]), "cannot both be drawn from box 3");
    site.undo_restores(&deal(&[(a, 3), (b, 4)]));
    site.does(Want::ShareJacket {
        cables: vec![a, b],
        jacket: None,
    });
    site.does(deal(&[(a, 3), (b, 3)]));
    let drawn = |cable| {
        let row = site.registry().cables.get(cable)?;
        row.copper(row.pull(cable))?.drawn_from.get().copied()
    };
    assert_eq!([drawn(a), drawn(b)], [Some(3), Some(3)]);
}

#[test]
fn merged_outlets_keep_letters_that_are_free_and_old_names() {
    let mut site = Site::wired_mill();
    site.adds_outlet("KIT", "data");
    site.does(site.mark(near(&site, "KIT2-A")));
    let (from, into) = (site.outlet("KIT2"), site.outlet("KIT1"));
    let cables = [site.cable("KIT2-A"), site.cable("KIT2-B")];
    site.refuses(Want::MergeOutlets { from, into: from }, "with another one");
    let before = site.live();
    let act = site.does(Want::MergeOutlets { from, into });
    // A and B are taken there; what stands on a cable stays its code until it is marked anew.
    let called = |cable| names::cable(site.registry(), cable);
    assert_eq!(cables.map(called), ["KIT2-A", "KIT1-E"]);
    let row = site.registry().outlets.get(from).expect("the outlet");
    assert!(format!("{:?}", row.standing.get()).contains("Merged with KIT1"));
    site.undoes(act);
    assert_eq!(site.live(), before);
}

#[test]
fn a_split_outlet_leaves_some_of_its_cables() {
    let mut site = Site::wired_mill();
    let (outlet, cable) = (site.outlet("KIT1"), site.cable("KIT1-B"));
    let split = |cables: &[_]| Want::SplitOutlet {
        outlet,
        cables: cables.to_vec(),
    };
    site.refuses(split(&[]), "but not all");
    site.refuses(split(&[site.cable("KIT1-A"), cable]), "but not all");
    let before = site.live();
    let act = site.does(split(&[cable]));
    assert_eq!(names::cable(site.registry(), cable), "KIT2-B");
    site.undoes(act);
    assert_eq!(site.live(), before);
}

#[test]
fn with_new_tags_the_codes_of_the_cables_follow_their_outlet() {
    let mut site = Site::wired_mill();
    let outlet = site.outlet("KIT1");
    let cables = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    site.does(site.mark(site.near("KIT1-A")));
    site.does(site.mark(site.far("KIT1-A")));
    let called = |site: &Site| cables.map(|cable| names::cable(site.registry(), cable));
    let new_tags = |change| Want::WithNewTags {
        change: Box::new(change),
    };
    let moved = |site: &Site, room: &str, number| Want::MoveOutlet {
        outlet,
        room: site.room(room),
        number: OutletNumber::new(number).expect("a number"),
    };
    // As it was before, one act and one undo.
    let want = new_tags(moved(&site, "DIN", 4));
    site.undo_restores(&want);
    site.does(want.clone());
    assert_eq!(called(&site), ["DIN4-A", "DIN4-B"]);
    let row = site.registry().cables.get(cables[0]).expect("a cable");
    assert_eq!(row.known_as.last().map(String::as_str), Some("KIT1-A"));
    assert!(Registry::first_mark(row).is_none(), "to be marked anew");
    assert_eq!(
        done_words(&want, site.registry()),
        "The outlet is DIN4 now. The tags of its cables come off: mark them anew."
    );
    // Without them, what stands on a cable stays its code.
    site.does(site.mark(site.near("DIN4-A")));
    let want = moved(&site, "KIT", 7);
    site.does(want);
    assert_eq!(called(&site), ["DIN4-A", "KIT7-B"]);
    // Merged and split alike.
    let into = site.outlet("DIN1");
    let want = new_tags(Want::MergeOutlets { from: outlet, into });
    site.undo_restores(&want);
    site.does(want);
    assert!(called(&site).iter().all(|code| code.starts_with("DIN1-")));
    let want = new_tags(Want::SplitOutlet {
        outlet: into,
        cables: vec![cables[0]],
    });
    site.undo_restores(&want);
}

#[test]
fn a_change_order_goes_with_the_cables_of_an_outlet_that_is_merged_or_split() {
    let mut site = Site::wired_mill();
    let outlet = site.outlet("KIT1");
    let cables = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    let orders =
        |site: &Site| cables.map(|id| cable::view(&site.journal, id).expect("a cable").order);
    let order = |order: &str| order.to_owned();
    site.does(Want::OrderOutlet {
        outlet,
        order: order("CO 7"),
    });
    site.does(Want::SplitOutlet {
        outlet,
        cables: vec![cables[1]],
    });
    assert_eq!(orders(&site), ["CO 7", "CO 7"]);
    let beside = site.outlet("KIT2");
    site.does(Want::OrderOutlet {
        outlet,
        order: String::new(),
    });
    site.undo_restores(&Want::MergeOutlets {
        from: beside,
        into: outlet,
    });
    site.does(Want::MergeOutlets {
        from: beside,
        into: outlet,
    });
    assert_eq!(orders(&site), ["", "CO 7"]);
    // What came with an order of its own keeps that.
    let into = site.outlet("DIN1");
    site.does(Want::OrderOutlet {
        outlet,
        order: order("CO 9"),
    });
    site.does(Want::MergeOutlets { from: outlet, into });
    assert_eq!(orders(&site), ["CO 9", "CO 7"]);
}

#[test]
fn outlets_with_a_cable_between_them_are_merged_once_that_is_cancelled() {
    let mut site = Site::wired_mill();
    let (one, other) = (site.outlet("KIT1"), site.outlet("DIN1"));
    site.does(Want::RouteLocal {
        cable: site.cable("KIT1-A"),
        from: other,
    });
    for (from, into) in [(one, other), (other, one)] {
        let merge = Want::MergeOutlets { from, into };
        site.refuses(merge, "KIT1-A runs between these two outlets");
    }
    let merge = Want::MergeOutlets {
        from: one,
        into: other,
    };
    let refusal = site.refuses(merge.clone(), "Cancel it first");
    site.takes(&refusal, 1);
    site.does(merge);
    let row = site.registry().cables.get(site.cable("KIT1-A"));
    let standing = format!("{:?}", row.and_then(|row| row.standing.get()));
    assert!(
        standing.contains("Its two outlets became one"),
        "{standing}"
    );
}

#[test]
fn a_cable_leaves_its_jack_with_its_outlet() {
    let mut site = Site::wired_mill();
    let (outlet, cable) = (site.outlet("KIT1"), site.cable("KIT1-B"));
    site.does(site.land(site.near("KIT1-B"), "jack B of KIT1"));
    let here = |site: &Site| {
        let ends = wall::ends(site.registry(), site.outlet("KIT2"));
        ends.into_iter().map(|end| (end.code, end.here)).collect()
    };
    let split = Want::SplitOutlet {
        outlet,
        cables: vec![cable],
    };
    let before = site.live();
    let act = site.does(split);
    let seen: Vec<(String, Settled)> = here(&site);
    assert_eq!(seen, [("KIT2-B".to_owned(), Settled::Open)]);
    site.undoes(act);
    assert_eq!(site.live(), before);
}

#[test]
fn only_cables_of_an_outlet_are_split_off_it() {
    let mut site = Site::wired_mill();
    let outlet = site.outlet("KIT1");
    let cables = vec![site.cable("KIT1-B"), site.cable("DIN1-A")];
    site.refuses(
        Want::SplitOutlet { outlet, cables },
        "Choose some of its cables",
    );
}

#[test]
fn a_cancelled_outlet_comes_back_with_what_went_with_it() {
    let mut site = Site::wired_mill();
    let outlet = site.outlet("KIT1");
    let (a, b) = (site.cable("KIT1-A"), site.cable("KIT1-B"));
    site.does(Want::CancelCable {
        cable: a,
        reason: "One is enough".to_owned(),
    });
    site.refuses(Want::RestoreOutlet { outlet }, "wanted already");
    site.does(Want::CancelOutlet {
        outlet,
        reason: "By others".to_owned(),
    });
    site.undo_restores(&Want::RestoreOutlet { outlet });
    site.does(Want::RestoreOutlet { outlet });
    let standing = |cable| {
        let row = site.registry().cables.get(cable);
        format!("{:?}", row.and_then(|row| row.standing.get()))
    };
    assert!(standing(a).contains("One is enough"));
    assert_eq!(standing(b), "Some(Wanted)");
}

#[test]
fn what_was_signed_and_is_not_so_any_more_opens_a_room_again() {
    let (mut site, _) = signed_kitchen();
    let (picture, _) = site.registry().pictures.iter().next().expect("a picture");
    let reason = "Too dark".to_owned();
    site.does(Want::DropPicture { picture, reason });
    assert_eq!(why(&site).len(), 1, "{:?}", why(&site));
    let (mut site, _) = signed_kitchen();
    let slack = Slack {
        length: Some(Millimetres(900)),
        place: "behind the stud".to_owned(),
    };
    let outlet = site.outlet("KIT1");
    site.does(Want::LeaveSlack { outlet, slack });
    assert_eq!(why(&site).len(), 1, "{:?}", why(&site));
}
