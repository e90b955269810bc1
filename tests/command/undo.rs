//! Taking back: each thing once, back to how it was, and never into a double claim.

use bothends::command::{Correction, Laid, Want};
use bothends::domain::ids::{ActId, Bits80, WriterId};
use bothends::domain::label::LegNumber;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::outlet_type::PlannedCable;
use bothends::domain::place::{ConduitEnd, End, Fitting, Side};
use bothends::domain::work::{
    Availability, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot, Waiting, WaitsFor,
    WallBox,
};
use bothends::journal::Found;

use super::support::{Site, letter, outlet_number, panel_letters, room_code};

/// A mill where something of everything exists.
fn busy_mill() -> Site {
    let mut site = Site::wired_mill();
    site.adds_rack(2, "A", "Studio rack");
    site.does(Want::AddUnit {
        name: "Studio".to_owned(),
    });
    site.does(Want::AddFloor {
        name: "Ground".to_owned(),
        number: Some(1),
    });
    site.does(Want::AddDevice {
        name: "Gate station".to_owned(),
        room: None,
    });
    site.does(Want::AddJoint {
        kind: JointKind::Barrel,
        name: "Barrel".to_owned(),
        room: None,
    });
    site.adds_loose_end("Attic", "");
    site.does(Want::LayConduit {
        conduit: None,
        number: None,
        laid: laid("Attic"),
    });
    let conduit = site.registry().conduits.iter().next().expect("one").0;
    site.does(Want::PassConduit {
        cable: site.cable("KIT1-A"),
        conduit,
        lying: Lying::In,
    });
    site.adds_loose_end("Rack", "red tape");
    site.does(site.land(site.far("KIT1-A"), "B01"));
    site.does(site.plan(site.far("KIT1-B"), "B02"));
    site.does(site.land(site.far("DIN1-A"), "B03"));
    site.does(site.land(site.near("DIN1-B"), "jack B of DIN1"));
    site
}

fn laid(from: &str) -> Laid {
    Laid {
        ends: [from, "Cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
        size: String::new(),
        note: String::new(),
    }
}

#[test]
fn everything_that_is_done_can_be_undone() {
    let site = busy_mill();
    let registry = site.registry();
    let unit = registry.units.iter().next().expect("a unit").0;
    let floor = registry.floors.iter().next().expect("a floor").0;
    let device = registry.devices.iter().next().expect("a device").0;
    let joint = registry.joints.iter().next().expect("a joint").0;
    let conduit = registry.conduits.iter().next().expect("a conduit").0;
    let mut loose: Vec<_> = registry.loose_ends.iter().map(|(id, _)| id).collect();
    loose.sort();
    let (room, outlet, rack, panel) = (
        site.room("KIT"),
        site.outlet("KIT1"),
        site.rack("1A"),
        site.panel("B"),
    );
    let (a, b) = (site.cable("KIT1-A"), site.cable("KIT1-B"));
    let [a_near, a_far, b_far] = [site.near("KIT1-A"), site.far("KIT1-A"), site.far("KIT1-B")];
    let text = |text: &str| text.to_owned();
    let medium = || Medium::indoor(Kind::Cat6Utp);
    let cables = vec![PlannedCable {
        letter: None,
        medium: medium(),
        purpose: text(""),
    }];
    let place = site.place("B05");
    let found = Found {
        place: text("Cellar"),
        ..Found::default()
    };
    let wants = [
        Want::NameJob {
            name: text("Marrowby Mill"),
        },
        Want::ChoosePinout { pinout: Pinout::B },
        Want::AddUnit {
            name: text("Flat 2"),
        },
        Want::RenameUnit {
            unit,
            name: text("Pottery studio"),
        },
        Want::AddFloor {
            name: text("Loft"),
            number: None,
        },
        Want::RenameFloor {
            floor,
            name: text("Mill floor"),
            number: Some(7),
        },
        Want::SetTagAddress {
            address: text("https://registry.example"),
        },
        Want::AddRoom {
            name: text("Hall"),
            code: room_code("HAL"),
            floor: Some(floor),
            unit: Some(unit),
        },
        Want::RenameRoom {
            room,
            name: text("Galley"),
        },
        Want::RecodeRoom {
            room,
            code: room_code("GAL"),
        },
        Want::PutRoomOnFloor {
            room,
            floor: Some(floor),
        },
        Want::PutRoomInUnit {
            room,
            unit: Some(unit),
        },
        Want::OrderRoom { room, order: 7 },
        Want::AddOutletType {
            name: text("Desk"),
            cables,
        },
        site.add_outlet("KIT", "tv"),
        Want::SetOutletPurpose {
            outlet,
            purpose: text("Worktop"),
        },
        Want::PlaceOutlet {
            outlet,
            spot: Spot {
                wall: text("North"),
                ..Spot::default()
            },
        },
        Want::BoxOutlet {
            outlet,
            wall_box: WallBox::Gangs(2),
        },
        Want::MoveOutlet {
            outlet,
            room: site.room("DIN"),
            number: outlet_number(9),
        },
        Want::CancelOutlet {
            outlet,
            reason: text("No island"),
        },
        Want::NoteOutlet {
            outlet,
            note: text("Tiles"),
        },
        site.add_cable("KIT1", Kind::Rg6),
        Want::AddTie {
            near: rack,
            far: site.rack("2A"),
            medium: medium(),
            purpose: text(""),
        },
        Want::SetMedium {
            cable: a,
            medium: Medium::indoor(Kind::Rg6),
        },
        Want::SetPurpose {
            cable: a,
            purpose: text("Fridge"),
        },
        Want::RouteHome {
            cables: vec![a],
            rack: Some(rack),
        },
        Want::RouteLocal {
            cable: b,
            from: site.outlet("DIN1"),
        },
        Want::ShareJacket {
            cables: vec![a, b],
            jacket: None,
        },
        Want::CancelCable {
            cable: a,
            reason: text("No"),
        },
        Want::KnowCableAs {
            cable: a,
            name: text("W12"),
        },
        Want::NoteCable {
            cable: a,
            note: text("Blue"),
        },
        Want::ReportPull {
            cables: vec![a, b],
            outcome: PullOutcome::Short,
        },
        Want::DrawFrom {
            cable: a,
            number: 3,
        },
        Want::MarkEnds {
            ends: vec![a_near, a_far],
            kind: MarkKind::Printed,
            copies: 2,
        },
        Want::LoseTag { end: a_far },
        Want::SeeEnd {
            end: a_far,
            at: text("Rack"),
        },
        Want::PlanEnd {
            end: a_far,
            place: Some(place.clone()),
        },
        Want::PlanEnd {
            end: b_far,
            place: None,
        },
        Want::FillPanel { panel },
        Want::Land {
            end: b_far,
            place: place.clone(),
            fitting: Fitting::Direct,
        },
        Want::LandInstead {
            end: b_far,
            place: site.place("B01"),
            fitting: Fitting::Direct,
        },
        Want::LandAsPlanned { ends: vec![b_far] },
        Want::Lift { end: a_far },
        Want::Spare {
            end: a_far,
            kept: text("Coil"),
            reason: text("Later"),
        },
        Want::Dead {
            end: a_far,
            reason: text("Nail"),
        },
        Want::SplitEnd {
            end: b_far,
            legs: LegNumber::new(2).expect("two"),
        },
        Want::Uncross {
            ends: vec![End::whole(a, Side::Far), b_far],
            how: Correction::RecordChanges,
        },
        Want::Uncross {
            ends: vec![End::whole(a, Side::Far), b_far],
            how: Correction::TagsMove,
        },
        site.came_out("DIN1-B", "KIT1", Correction::TagsMove),
        site.came_out("DIN1-B", "KIT1", Correction::RecordChanges),
        Want::Repull {
            cable: a,
            reason: text("Drilled"),
        },
        Want::RenameRack {
            rack,
            name: text("Cellar rack"),
        },
        Want::RespaceRack {
            rack,
            space: bothends::domain::label::SpaceCode::new(3, "B").expect("a space"),
        },
        Want::LetterPanel {
            panel,
            letters: panel_letters("X"),
        },
        Want::PlacePanel {
            panel,
            rack,
            unit: Some(9),
            purpose: text("The flats"),
        },
        Want::KeepPosition {
            position: site.position("B09"),
            kept: Availability::Reserved {
                reason: text("Guest"),
            },
        },
        Want::AddDevice {
            name: text("Strike"),
            room: Some(room),
        },
        Want::AddJoint {
            kind: JointKind::Splice,
            name: text("Splice"),
            room: Some(room),
        },
        Want::AddLooseEnd {
            found: found.clone(),
        },
        Want::DescribeLooseEnd {
            loose: loose[0],
            found,
        },
        Want::JoinLooseEnd {
            loose: loose[0],
            end: End::whole(b, Side::Near),
        },
        Want::JoinLooseEnds {
            near: loose[0],
            far: loose[1],
            outlet,
            medium: medium(),
        },
        Want::RenameDevice {
            device,
            name: text("Bell"),
        },
        Want::RenameJoint {
            joint,
            name: text("Barrel, attic"),
        },
        Want::Reletter {
            cable: b,
            letter: letter("K"),
        },
        Want::LayConduit {
            conduit: None,
            number: Some(9),
            laid: laid("Gate"),
        },
        Want::LayConduit {
            conduit: Some(conduit),
            number: Some(1),
            laid: laid("Gate"),
        },
        Want::RenumberConduit { conduit },
        Want::StringConduit {
            conduit,
            lying: Lying::In,
        },
        Want::CancelConduit {
            conduit,
            reason: text("Crushed"),
        },
        Want::PassConduit {
            cable: b,
            conduit,
            lying: Lying::In,
        },
        Want::PassConduit {
            cable: a,
            conduit,
            lying: Lying::Out,
        },
        Want::RenumberLooseEnd { loose: loose[0] },
        Want::PutFloorOnSheet {
            floor,
            sheet: text("E2.1"),
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
                whom: WaitsFor::Client,
                words: text("Left or right?"),
            },
        },
        Want::OrderOutlet {
            outlet,
            order: text("CO 7"),
        },
        Want::OrderCable {
            cable: a,
            order: text("CO 7"),
        },
        Want::MergeOutlets {
            from: outlet,
            into: site.outlet("DIN1"),
        },
        Want::SplitOutlet {
            outlet,
            cables: vec![b],
        },
    ];
    for want in wants {
        busy_mill().undo_restores(&want);
    }
}

#[test]
fn nothing_is_taken_back_twice_and_taking_back_is_taken_back() {
    let mut site = Site::wired_mill();
    let landed = site.does(site.land(site.far("KIT1-A"), "B07"));
    let undone = site.undoes(landed);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far bare");
    site.refuses(Want::Undo { act: landed }, "This was taken back already");
    let redone = site.undoes(undone);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
    site.refuses(Want::Undo { act: undone }, "This was taken back already");
    site.undoes(redone);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far bare");
    let unknown = ActId {
        writer: WriterId(Bits80([9; 10])),
        n: 1,
    };
    site.refuses(Want::Undo { act: unknown }, "not known here");
}

#[test]
fn taking_back_does_not_land_a_second_end() {
    let land_b = |site: &mut Site| {
        let want = site.land(site.far("KIT1-B"), "B07");
        site.does(want)
    };
    // What frees the place, so that another end takes it; then it is taken back.
    let lift: fn(&mut Site) -> ActId = |site| {
        site.does(Want::Lift {
            end: site.far("KIT1-A"),
        })
    };
    let moved: fn(&mut Site) -> ActId = |site| site.does(site.land(site.far("KIT1-A"), "B08"));
    let repull: fn(&mut Site) -> ActId = |site| {
        site.does(Want::Repull {
            cable: site.cable("KIT1-A"),
            reason: "Short".to_owned(),
        })
    };
    let undo: fn(&mut Site) -> ActId = |site| {
        let landed = site.journal.history().last().expect("an act").id;
        site.undoes(landed)
    };
    for free in [lift, moved, repull, undo] {
        let mut site = Site::wired_mill();
        site.does(site.land(site.far("KIT1-A"), "B07"));
        let freed = free(&mut site);
        let taken = land_b(&mut site);
        let refusal = site.refuses(
            Want::Undo { act: freed },
            "Taking this back would land KIT1-A at B07 again, but KIT1-B is landed there since 2026-03-02 by P1.",
        );
        // Once the place is free again it may be taken back.
        let undone = site.undoes(taken);
        let freed_undone = site.undoes(freed);
        assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
        site.undoes(freed_undone);
        site.undoes(undone);
        site.takes(&refusal, 1);
        assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
        assert_eq!(site.state("KIT1-B"), "KIT1-B: near bare, far lifted");
    }
}

#[test]
fn a_double_claim_that_was_settled_comes_back_with_one_undo() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    site.does(site.land(site.far("KIT1-A"), "B07"));
    other.does(other.land(other.far("KIT1-B"), "B07"));
    site.meets(&mut other);
    let place = site.place("B07");
    for settled in ["KIT1-A", "KIT1-B"] {
        let end = site.far(settled);
        let act = site.does(Want::LandInstead {
            end,
            place: place.clone(),
            fitting: Fitting::Direct,
        });
        assert_eq!(site.registry().index.landed.get(&place), [end]);
        site.undoes(act);
        assert_eq!(site.registry().index.landed.get(&place).len(), 2);
    }
}

#[test]
fn a_double_claim_of_two_phones_stays_visible_and_may_be_taken_back() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let theirs = other.does(other.land(other.far("KIT1-B"), "B07"));
    site.meets(&mut other);
    let place = site.place("B07");
    let mut both = [site.far("KIT1-A"), site.far("KIT1-B")];
    both.sort();
    assert_eq!(site.registry().index.landed.get(&place), both);
    site.undoes(theirs);
    assert_eq!(
        site.registry().index.landed.get(&place),
        [site.far("KIT1-A")]
    );
}
