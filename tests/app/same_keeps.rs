//! What was noted twice becomes one, and all that only the other one of the two knew is known of that one.

use bothends::command::Want;
use bothends::domain::ids::{CableId, OutletId};
use bothends::domain::label::{LegNumber, Letter, OutletNumber};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::Connector;
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Side};
use bothends::domain::work::{
    Lying, PullOutcome, Slack, Spot, TestMethod, TestOutcome, Waiting, WaitsFor, WallBox,
};
use bothends::journal::{Cable, Copper, CopperTest, Outlet, WallTime};
use bothends::query::deeds::sayer;
use bothends::query::{What, check};

use super::asked::{asked_alike, takes};
use crate::mill::Mill;

/// Everything that one can say of an outlet and its first cable.
fn says_all(mill: &mut Mill, outlet: OutletId, cable: CableId) {
    let rack = mill.rack_id("1B");
    mill.conduit("behind the stove", &[]);
    let conduit = mill.registry().conduits_numbered(1)[0];
    let (near, far) = (End::whole(cable, Side::Near), End::whole(cable, Side::Far));
    let leg = |leg| End {
        leg: LegNumber::new(leg),
        ..far
    };
    let text = str::to_owned;
    let picture = {
        mill.does(&Want::AddPicture {
            digest: Digest([7; 32]),
            shows: Shows::Outlet(outlet),
        });
        let pictures = mill.registry().pictures.iter();
        pictures.last().expect("a picture").0
    };
    let at = Spotted::new(2000, 3000).expect("on the picture");
    let point = |what| Point {
        what,
        at,
        offset: text("by the stud"),
    };
    for want in [
        Want::PlaceOutlet {
            outlet,
            spot: Spot {
                wall: text("north"),
                ..Spot::default()
            },
        },
        Want::BoxOutlet {
            outlet,
            wall_box: WallBox::Gangs(2),
        },
        Want::LeaveSlack {
            outlet,
            slack: Slack {
                length: None,
                place: text("in the box"),
            },
        },
        Want::LetOutletWait {
            outlet,
            waiting: Waiting {
                whom: WaitsFor::Builder,
                words: text("Tile?"),
            },
        },
        Want::OrderOutlet {
            outlet,
            order: text("CO 4"),
        },
        Want::NoteOutlet {
            outlet,
            note: text("behind the stove"),
        },
        Want::RouteHome {
            cables: vec![cable],
            rack: Some(rack),
        },
        Want::NoteCable {
            cable,
            note: text("long way round"),
        },
        Want::OrderCable {
            cable,
            order: text("CO 5"),
        },
        Want::DrawFrom { cable, number: 3 },
        Want::ReadFootage {
            end: near,
            mark: FootageMark {
                value: 120,
                unit: LengthUnit::Feet,
            },
        },
        Want::TestCable {
            cable,
            test: CopperTest {
                method: TestMethod::WireMap,
                outcome: TestOutcome::Passed,
                note: String::new(),
            },
        },
        Want::PassConduit {
            cable,
            conduit,
            lying: Lying::In,
        },
        Want::SplitEnd {
            end: far,
            legs: LegNumber::new(2).expect("two legs"),
        },
        Want::Land {
            end: leg(2),
            place: Place::rear(mill.position("D03")),
            fitting: Fitting::Direct,
        },
        Want::PointOut {
            picture,
            points: vec![point(Seen::Outlet(outlet)), point(Seen::Cable(cable))],
        },
    ] {
        mill.does(&want);
    }
}

fn told(mill: &Mill, outlet: OutletId, cable: CableId) -> (&Outlet, &Cable, &Copper) {
    let outlet = mill.registry().outlets.get(outlet).expect("an outlet");
    let row = mill.registry().cables.get(cable).expect("a cable");
    let copper = row.copper(row.pull(cable)).expect("work on it");
    (outlet, row, copper)
}

#[test]
fn all_that_only_the_other_one_knew_is_known_of_the_one_that_stays() {
    let mut base = Mill::new();
    base.rack(1, "B", "Side rack");
    base.panel("1B", "D", Connector::Modular, 24, Some(20));
    let (mut lead, mut tech) = (base.phone(8), base.phone(9));
    for phone in [&mut lead, &mut tech] {
        phone.outlets("KIT", "data", 1);
    }
    let (stays, kept) = (lead.outlet_id("KIT", 1), lead.cable("KIT1-A"));
    let (goes, gone) = (tech.outlet_id("KIT", 1), tech.cable("KIT1-A"));
    says_all(&mut tech, goes, gone);
    lead.hears(&tech);
    lead.does(&Want::SameOutlet { stays, goes });
    let asked = asked_alike(&mut lead, &mut tech, |what| {
        matches!(what, What::Disputed { .. } | What::EndDisputed { .. })
    });
    assert!(asked.is_empty(), "{asked:#?}");
    let (outlet, row, copper) = told(&lead, stays, kept);
    let was = told(&lead, goes, gone);
    assert_eq!(outlet.spot.get(), was.0.spot.get());
    assert_eq!(outlet.wall_box.get(), Some(&WallBox::Gangs(2)));
    assert_eq!(outlet.slack.get(), was.0.slack.get());
    assert_eq!(outlet.waits.get(), was.0.waits.get());
    assert_eq!(outlet.change_order.get().map(String::as_str), Some("CO 4"));
    let notes = outlet.notes.iter().chain(row.notes.iter());
    let notes: Vec<&String> = notes.map(|said| said.value).collect();
    assert_eq!(notes, ["behind the stove", "long way round"]);
    assert_eq!(
        row.leaves.get(),
        Some(&Leaves::Rack(Some(lead.rack_id("1B"))))
    );
    assert_eq!(row.change_order.get().map(String::as_str), Some("CO 5"));
    assert_eq!(row.conduits.iter().count(), 1);
    assert_eq!(copper.drawn_from.get(), Some(&3));
    assert_eq!(copper.tests.iter().count(), 1);
    let [near, far] = &copper.ends;
    assert_eq!(near.footage.iter().count(), 1);
    assert_eq!(far.split.get().map(|legs| legs.get()), Some(2));
    let leg = far.placement.get(LegNumber::new(2));
    let at = lead.position("D03");
    let landed = leg.and_then(|placed| placed.get());
    assert!(
        matches!(landed, Some(Placement::Landed { place, .. }) if *place == Place::rear(at)),
        "{landed:?}"
    );
    let pictures = lead.registry().pictures.iter();
    let points = pictures.last().and_then(|(_, row)| row.points.get());
    let seen: Vec<Seen> = points.into_iter().flatten().map(|at| at.what).collect();
    assert_eq!(seen, [Seen::Outlet(stays), Seen::Cable(kept)]);
    // What is at one place is there once, and what was said again holds once.
    let twice = check(lead.registry()).into_iter();
    let twice = twice.filter(|found| matches!(found.what, What::DoubleClaim { .. }));
    assert_eq!(twice.count(), 0);
    assert_eq!(lead.registry().dump(), tech.registry().dump());
}

type Does<'a> = &'a dyn Fn(&mut Mill, OutletId, CableId);

/// Two phones that each noted the outlet KIT1, with what each did about its first cable.
fn two_outlets(does: [Does<'_>; 2]) -> [(Mill, OutletId, CableId); 2] {
    let base = Mill::new();
    let phones = [8, 9].map(|number| {
        let mut phone = base.phone(number);
        phone.outlets("KIT", "data", 1);
        let (outlet, cable) = (phone.outlet_id("KIT", 1), phone.cable("KIT1-A"));
        (phone, outlet, cable)
    });
    let [(mut lead, stays, kept), (mut tech, goes, gone)] = phones;
    does[0](&mut lead, stays, kept);
    does[1](&mut tech, goes, gone);
    lead.hears(&tech);
    [(lead, stays, kept), (tech, goes, gone)]
}

fn pulls(mill: &mut Mill, cable: CableId, feet: u32) {
    mill.does(&Want::ReportPull {
        cables: vec![cable],
        outcome: PullOutcome::Pulled,
    });
    mill.does(&Want::ReadFootage {
        end: End::whole(cable, Side::Near),
        mark: FootageMark {
            value: feet,
            unit: LengthUnit::Feet,
        },
    });
}

#[test]
fn a_jack_of_the_other_outlet_is_that_of_the_one_that_stays() {
    let jack = Letter::new('A').expect("a letter");
    let [(mut lead, stays, kept), (mut tech, goes, gone)] = two_outlets([
        &|mill, _, cable| {
            pulls(mill, cable, 310);
            mill.does(&Want::Spare {
                end: End::whole(cable, Side::Near),
                kept: "behind a blank plate".to_owned(),
                reason: "later".to_owned(),
            });
        },
        &|mill, outlet, cable| {
            pulls(mill, cable, 120);
            mill.does(&Want::KnowCableAs {
                cable,
                name: "Q-17".to_owned(),
            });
            mill.does(&Want::Land {
                end: End::whole(cable, Side::Near),
                place: Place::Jack { outlet, jack },
                fitting: Fitting::Direct,
            });
        },
    ]);
    // Both are pulled, so they are not taken for one cable unasked.
    let later = WallTime(1_772_409_600_000 + 7_200_000);
    lead.does_at(later, &Want::SameOutlet { stays, goes });
    let same = Want::SameCable {
        stays: kept,
        goes: gone,
    };
    lead.does_at(later, &same);
    let asked = asked_alike(&mut lead, &mut tech, |what| {
        matches!(what, What::Disputed { .. } | What::EndDisputed { .. })
    });
    let [item] = &asked[..] else {
        panic!("one question: {asked:#?}");
    };
    assert!(
        item.detail.iter().any(|words| words.contains("jack A")),
        "{item:#?}"
    );
    // Whoever answers is not who read the marks and landed the end.
    let (_, row, copper) = told(&lead, stays, kept);
    let placed = copper.ends[0].placement.whole.all().map(|said| said.fact);
    let read = copper.ends[0].footage.iter().map(|said| said.fact);
    for fact in placed.chain(read) {
        let by = sayer(&lead.journal, fact);
        assert!(by.ends_with("2026-03-02 00:00"), "{by}");
    }
    let read = copper.ends[0].footage.iter();
    let mut read: Vec<u32> = read.map(|said| said.value.value).collect();
    read.sort_unstable();
    assert_eq!(read, [120, 310]);
    assert_eq!(row.known_as.iter().count(), 1);
}

#[test]
fn that_the_one_that_goes_was_wanted_once_is_no_word_on_the_one_that_stays() {
    let nothing: Does<'_> = &|_, _, _| {};
    let [(mut lead, stays, kept), (_, goes, gone)] = two_outlets([nothing, &|mill, _, cable| {
        let reason = "Not wanted".to_owned();
        mill.does(&Want::CancelCable { cable, reason });
        mill.does(&Want::RestoreCable { cable });
    }]);
    let later = WallTime(1_772_409_600_000 + 7_200_000);
    lead.does_at(later, &Want::SameOutlet { stays, goes });
    let row = |cable| lead.registry().cables.get(cable).expect("a cable");
    assert!(!bothends::walk::is_wanted_cable(row(gone)));
    let said: Vec<_> = row(kept).standing.all().map(|said| said.fact).collect();
    assert!(!said.is_empty());
    for fact in said {
        let by = sayer(&lead.journal, fact);
        assert!(by.ends_with("2026-03-02 02:00"), "{by}");
    }
}

#[test]
fn an_outlet_that_is_kept_after_all_has_its_cables_again() {
    let nothing: Does<'_> = &|_, _, _| {};
    let [(mut lead, stays, _), (mut tech, goes, gone)] = two_outlets([nothing, nothing]);
    let fed = |mill: &Mill, outlet| bothends::walk::fed(mill.registry(), outlet).len();
    let cables = fed(&tech, goes);
    assert!(cables > 1);
    tech.hears(&lead);
    tech.does(&Want::MoveOutlet {
        outlet: goes,
        room: tech.room_id("KIT"),
        number: OutletNumber::new(6).expect("a number"),
    });
    lead.does(&Want::SameOutlet { stays, goes });
    let asked = asked_alike(&mut lead, &mut tech, |what| {
        matches!(what, What::Disputed { .. })
    });
    let [item] = &asked[..] else {
        panic!("one question: {asked:#?}");
    };
    takes(&mut tech, item, "Keep wanted");
    assert_eq!(fed(&tech, goes), cables);
    assert_eq!(fed(&tech, stays), cables);
    assert_eq!(tech.cable("KIT6-A"), gone);
    let row = tech.registry().cables.get(gone).expect("a cable");
    assert!(bothends::walk::is_wanted_cable(row));
}
