//! What is checked of everything that is wanted: a newer version's changes, and no change at all.

use bothends::command::Want;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::work::{PullOutcome, Spot};
use bothends::journal::{Taken, wire};

use super::support::Site;

/// An act of a newer version that did something unknown to a cable.
fn newer_line(site: &Site, code: &str) -> String {
    let mut donor = Site::phone(7);
    donor.journal.take(site.journal.lines());
    let act = donor.does(Want::NoteCable {
        cable: site.cable(code),
        note: "Glows".to_owned(),
    });
    let lines = donor.journal.lines();
    let line = lines
        .iter()
        .find(|line| wire::read(line).is_ok_and(|read| read.id == act));
    let line = line.expect("the line").replace("CableNoted", "CableGlows");
    assert!(line.contains("CableGlows"), "{line}");
    line
}

#[test]
fn what_a_newer_version_changed_is_not_edited() {
    let mut site = Site::wired_mill();
    let landed = site.does(site.land(site.far("KIT1-A"), "B01"));
    let line = newer_line(&site, "KIT1-A");
    assert!(matches!(
        site.journal.take([line.as_str()])[..],
        [Taken::New(_)]
    ));
    let cable = site.cable("KIT1-A");
    for want in [
        site.land(site.far("KIT1-A"), "B02"),
        site.mark(site.near("KIT1-A")),
        Want::NoteCable {
            cable,
            note: "Red".to_owned(),
        },
        Want::ReportPull {
            cables: vec![cable],
            outcome: PullOutcome::Pulled,
        },
        Want::Lift {
            end: site.far("KIT1-A"),
        },
        Want::LandInstead {
            end: site.far("KIT1-B"),
            place: site.place("B01"),
            fitting: bothends::domain::place::Fitting::Direct,
        },
        Want::Undo { act: landed },
    ] {
        site.refuses(want, "A newer version of this app has changed this");
    }
    // Its neighbours are free.
    site.does(site.land(site.far("KIT1-B"), "B02"));
}

#[test]
fn a_want_that_changes_nothing_is_not_written() {
    let mut site = Site::wired_mill();
    let (room, outlet, cable) = (site.room("KIT"), site.outlet("KIT1"), site.cable("KIT1-A"));
    let rack = Some(site.rack("1A"));
    let wants = [
        Want::NameJob {
            name: "Marrowby Mill".to_owned(),
        },
        Want::RenameRoom {
            room,
            name: "Galley".to_owned(),
        },
        Want::OrderRoom { room, order: 3 },
        Want::SetOutletPurpose {
            outlet,
            purpose: "Worktop".to_owned(),
        },
        Want::PlaceOutlet {
            outlet,
            spot: Spot {
                wall: "North".to_owned(),
                ..Spot::default()
            },
        },
        Want::SetMedium {
            cable,
            medium: Medium::indoor(Kind::Cat6Ftp),
        },
        Want::SetPurpose {
            cable,
            purpose: "Fridge".to_owned(),
        },
        Want::RouteHome {
            cables: vec![cable],
            rack,
        },
        Want::KnowCableAs {
            cable,
            name: "W12".to_owned(),
        },
        Want::ReportPull {
            cables: vec![cable],
            outcome: PullOutcome::Pulled,
        },
        Want::DrawFrom { cable, number: 3 },
        site.plan(site.far("KIT1-A"), "B01"),
        Want::Lift {
            end: site.far("KIT1-A"),
        },
        Want::CancelCable {
            cable,
            reason: "No".to_owned(),
        },
        Want::RestoreCable { cable },
        Want::CancelOutlet {
            outlet,
            reason: "No".to_owned(),
        },
    ];
    for want in wants {
        site.does(want.clone());
        site.refuses(want, "There is nothing to change: it is so already.");
    }
    for want in [
        Want::LandAsPlanned { ends: Vec::new() },
        Want::MarkEnds {
            ends: Vec::new(),
            kind: bothends::domain::work::MarkKind::Pen,
            copies: 1,
        },
        Want::PlanEnd {
            end: site.near("KIT1-A"),
            place: None,
        },
        Want::SetPurpose {
            cable: site.cable("DIN1-A"),
            purpose: String::new(),
        },
    ] {
        // The type gave the last one a purpose, and nothing said is not the same as nothing wanted.
        if matches!(want, Want::SetPurpose { .. }) {
            site.does(want.clone());
        }
        site.refuses(want, "it is so already");
    }
}

#[test]
fn saying_it_again_settles_what_two_phones_said() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    let room = site.room("KIT");
    let rename = |name: &str| Want::RenameRoom {
        room,
        name: name.to_owned(),
    };
    site.does(rename("Galley"));
    other.does(rename("Scullery"));
    site.meets(&mut other);
    let row = |site: &Site| {
        site.registry()
            .rooms
            .get(room)
            .map(|row| row.name.disputed())
    };
    assert_eq!(row(&site), Some(true));
    site.does(rename("Scullery"));
    assert_eq!(row(&site), Some(false));
}
