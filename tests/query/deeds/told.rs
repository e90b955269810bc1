//! The words for everything that people want, kind by kind.

use bothends::command::{CopperTest, Laid, Want};
use bothends::domain::label::{LegNumber, Letter, OutletNumber, PanelLetters, RoomCode, SpaceCode};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use bothends::domain::outlet_type::{OutletKind, PlannedCable};
use bothends::domain::place::{ConduitEnd, Face, Fitting, Place, TaggedPlace};
use bothends::domain::work::{
    Availability, JointKind, Lying, MarkKind, Pinout, PullOutcome, Spot, TestMethod, TestOutcome,
    WallBox,
};
use bothends::journal::Found;
use bothends::query::deeds::deeds_of;

use super::{last, mill, near, says, text};

fn letter(letter: char) -> Letter {
    Letter::new(letter).expect("a letter")
}

#[test]
fn work_on_the_house_is_told() {
    let mut mill = mill();
    let kitchen = mill.room_id("KIT");
    let store = mill.room_id("KITS");
    let outlet = mill.outlet_id("KIT", 1);
    let code = RoomCode::new("KTC").expect("a code");
    let cables = vec![PlannedCable {
        letter: None,
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    }];
    let name = |words| Want::NameJob { name: text(words) };
    let floor = Want::AddFloor {
        name: text("Ground floor"),
        number: Some(0),
    };
    let unit = Want::AddUnit {
        name: text("Flat A"),
    };
    let kind = Want::AddOutletType {
        name: text("Kiln"),
        cables: cables.clone(),
    };
    says(&mut mill, &name("Mill"), "The job: called Mill.");
    let pinout = Want::ChoosePinout { pinout: Pinout::B };
    says(&mut mill, &pinout, "The job: jacks are wired T568B.");
    let address = Want::SetTagAddress {
        address: text("https://registry.example"),
    };
    says(&mut mill, &address, "The job: the address on tags was set.");
    says(
        &mut mill,
        &floor,
        "Ground floor: added; Ground floor: floor number 0.",
    );
    says(&mut mill, &unit, "Flat A: added.");
    says(&mut mill, &kind, "Kiln: added.");
    let floor = mill.registry().floors.iter().next().expect("a floor").0;
    let unit = mill.registry().units.iter().next().expect("a unit").0;
    let kinds = &mill.registry().outlet_types;
    let kind = kinds.iter().next().expect("a type").0;
    let room = kitchen;
    for (want, words) in [
        (
            Want::RenameFloor {
                floor,
                name: text("Street level"),
                number: Some(0),
            },
            "Street level: called Street level.",
        ),
        (
            Want::RenameFloor {
                floor,
                name: text("Street level"),
                number: Some(1),
            },
            "Street level: floor number 1.",
        ),
        (
            Want::RenameFloor {
                floor,
                name: text("Ground level"),
                number: None,
            },
            "Ground level: called Ground level; taken back: Ground level: floor number 1.",
        ),
        (
            Want::RenameUnit {
                unit,
                name: text("Flat B"),
            },
            "Flat B: called Flat B.",
        ),
        (
            Want::AddRoom {
                name: text("Hall"),
                code: RoomCode::new("HAL").expect("a code"),
                floor: Some(floor),
                unit: Some(unit),
            },
            "Hall: added; Hall: its code is HAL; Hall: in Ground level; and 1 more.",
        ),
        (
            Want::PutRoomOnFloor {
                room,
                floor: Some(floor),
            },
            "Kitchen: in Ground level.",
        ),
        (
            Want::PutRoomOnFloor { room, floor: None },
            "Taken back: Kitchen: in Ground level.",
        ),
        (
            Want::PutRoomInUnit {
                room,
                unit: Some(unit),
            },
            "Kitchen: in Flat B.",
        ),
        (
            Want::PutRoomInUnit { room, unit: None },
            "Taken back: Kitchen: in Flat B.",
        ),
        (
            Want::OrderRoom { room, order: 9 },
            "Kitchen: number 9 on the walk.",
        ),
        (
            Want::SwapRooms {
                one: room,
                other: store,
            },
            "Kitchen: number 2 on the walk; Kitchen store: number 9 on the walk.",
        ),
        (
            Want::RenameRoom {
                room,
                name: text("Scullery"),
            },
            "Scullery: called Scullery.",
        ),
        (
            Want::RecodeRoom { room, code },
            "Scullery: its code is KTC.",
        ),
        (
            Want::ChangeOutletType {
                kind,
                name: text("Kiln"),
                cables: [cables.clone(), cables.clone()].concat(),
            },
            "Kiln: its cables were chosen.",
        ),
        (
            Want::ChangeOutletType {
                kind,
                name: text("Big kiln"),
                cables: [cables.clone(), cables].concat(),
            },
            "Big kiln: called Big kiln.",
        ),
        (
            Want::AddOutlet {
                room: store,
                kind: OutletKind::Own(kind),
                purpose: text("big kiln"),
                rack: None,
            },
            "KITS1: added; KITS1: for big kiln; KITS1-A: added; and 1 more.",
        ),
        (
            Want::SetOutletPurpose {
                outlet,
                purpose: text("oven"),
            },
            "KTC1: for oven.",
        ),
        (
            Want::SetOutletPurpose {
                outlet,
                purpose: String::new(),
            },
            "KTC1: its purpose was emptied.",
        ),
        (
            Want::PlaceOutlet {
                outlet,
                spot: Spot {
                    wall: text("North"),
                    ..Spot::default()
                },
            },
            "KTC1: its exact place was noted.",
        ),
        (
            Want::BoxOutlet {
                outlet,
                wall_box: WallBox::Ring,
            },
            "KTC1: its box was noted.",
        ),
        (
            Want::NoteOutlet {
                outlet,
                note: text("Behind the tiles"),
            },
            "KTC1: note: Behind the tiles.",
        ),
        (
            Want::MoveOutlet {
                outlet,
                room,
                number: OutletNumber::new(4).expect("a number"),
            },
            "KTC4: outlet 4 of Scullery.",
        ),
        (
            Want::MoveOutlet {
                outlet,
                room: store,
                number: OutletNumber::new(3).expect("a number"),
            },
            "KITS3: outlet 3 of Kitchen store; KITS3: its exact place is to be noted anew.",
        ),
        (
            Want::CancelOutlet {
                outlet,
                reason: text("No wall"),
            },
            "KITS3: cancelled: No wall; KITS3-A: cancelled: No wall; KITS3-B: cancelled: No wall.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
}

#[test]
fn work_on_cables_is_told() {
    let mut mill = mill();
    mill.outlets("KITS", "data", 1);
    let outlet = mill.outlet_id("KIT", 1);
    let store = mill.outlet_id("KITS", 1);
    let [cable, other] = ["KIT1-A", "KIT1-B"].map(|code| mill.cable(code));
    let rack = mill.rack_id("1A");
    let test = |outcome| CopperTest {
        method: TestMethod::WireMap,
        outcome,
        note: String::new(),
    };
    let reason = || text("Beam in the way");
    for (want, words) in [
        (
            Want::AddCable {
                outlet,
                medium: Medium::indoor(Kind::Cat6Utp),
                purpose: text("camera"),
                rack: Some(rack),
            },
            "KIT1-C: added.",
        ),
        (
            Want::SetMedium {
                cable,
                medium: Medium::indoor(Kind::Rg6),
            },
            "KIT1-A: RG-6.",
        ),
        (
            Want::SetPurpose {
                cable,
                purpose: text("oven"),
            },
            "KIT1-A: for oven.",
        ),
        (
            Want::SetPurpose {
                cable,
                purpose: String::new(),
            },
            "KIT1-A: its purpose was emptied.",
        ),
        (
            Want::RouteLocal { cable, from: store },
            "KIT1-A: out of KITS1.",
        ),
        (
            Want::RouteHome {
                cables: vec![cable],
                rack: Some(rack),
            },
            "KIT1-A: home to Main rack.",
        ),
        (
            Want::RouteHome {
                cables: vec![cable],
                rack: None,
            },
            "KIT1-A: home to a rack not chosen.",
        ),
        (
            Want::ShareJacket {
                cables: vec![cable, other],
                jacket: None,
            },
            "A shared jacket: added; KIT1-A: in a shared jacket; KIT1-B: in a shared jacket.",
        ),
        (
            Want::CancelCable {
                cable,
                reason: reason(),
            },
            "KIT1-A: cancelled: Beam in the way.",
        ),
        (Want::RestoreCable { cable }, "KIT1-A: wanted."),
        (
            Want::KnowCableAs {
                cable,
                name: text("Oven 1"),
            },
            "KIT1-A: also called “Oven 1”.",
        ),
        (
            Want::NoteCable {
                cable,
                note: text("Over the beam"),
            },
            "KIT1-A: note: Over the beam.",
        ),
        (
            Want::Reletter {
                cable: other,
                letter: letter('F'),
            },
            "KIT1-F: letter F at KIT1.",
        ),
        (
            Want::ReportPull {
                cables: vec![cable],
                outcome: PullOutcome::Stuck,
            },
            "KIT1-A: stuck; KIT1-F: stuck.",
        ),
        (
            Want::DrawFrom { cable, number: 3 },
            "KIT1-A: drawn from box 3.",
        ),
        (
            Want::TestCable {
                cable,
                test: test(TestOutcome::Failed),
            },
            "KIT1-A: test failed.",
        ),
        (
            Want::TestCable {
                cable,
                test: test(TestOutcome::Passed),
            },
            "KIT1-A: test passed.",
        ),
        (
            Want::Repull {
                cable,
                reason: reason(),
            },
            "KIT1-A: to be pulled anew, its old tags are void: Beam in the way; KIT1-F: to be pulled anew, its old tags are void: Beam in the way.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
}

#[test]
fn work_on_ends_is_told() {
    let mut mill = mill();
    let (one, far) = (near(&mill, "KIT1-A"), mill.far("KIT1-A"));
    let place = Place::rear(mill.position("B07"));
    let mark = FootageMark {
        value: 482,
        unit: LengthUnit::Feet,
    };
    for (want, words) in [
        (
            Want::PlanEnd {
                end: far,
                place: Some(place.clone()),
            },
            "KIT1-A at Main rack belongs on B07.",
        ),
        (
            Want::Land {
                end: far,
                place,
                fitting: Fitting::Direct,
            },
            "KIT1-A at Main rack is landed on B07.",
        ),
        (
            Want::Lift { end: far },
            "KIT1-A at Main rack is not landed.",
        ),
        (
            Want::Spare {
                end: far,
                kept: text("ceiling"),
                reason: text("FUTURE"),
            },
            "KIT1-A at Main rack is spare: FUTURE.",
        ),
        (
            Want::Dead {
                end: far,
                reason: text("Cut"),
            },
            "KIT1-A at Main rack is dead: Cut.",
        ),
        (
            Want::MarkEnds {
                ends: vec![one],
                kind: MarkKind::Printed,
                copies: 2,
            },
            "KIT1-A at KIT1 had its tag printed as KIT1-A.",
        ),
        (Want::LoseTag { end: one }, "KIT1-A at KIT1 lost its tag."),
        (
            Want::SeeEnd {
                end: one,
                at: text("the ceiling"),
            },
            "KIT1-A at KIT1 was seen at the ceiling.",
        ),
        (
            Want::ReadFootage { end: one, mark },
            "KIT1-A at KIT1 reads 482 ft.",
        ),
        (
            Want::Lift { end: far },
            "KIT1-A at Main rack is not landed.",
        ),
        (
            Want::SplitEnd {
                end: far,
                legs: LegNumber::new(2).expect("two"),
            },
            "KIT1-A at Main rack was split into 2 legs; KIT1-A.1 at Main rack belongs on B07.",
        ),
        (
            Want::JoinLegs { end: far },
            "KIT1-A at Main rack belongs on B07; taken back: KIT1-A at Main rack was split into 2 legs; taken back: KIT1-A.1 at Main rack belongs on B07.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
    let last = last(&mill);
    assert_eq!(deeds_of(&mill.journal, far.cable)[0].words, last);
}

#[test]
fn work_at_the_rack_is_told() {
    let mut mill = mill();
    let rack = mill.rack_id("1A");
    let panel = mill.panel_id("B");
    let room = Some(mill.room_id("KIT"));
    let position = mill.position("C03");
    let keep = |kept| Want::KeepPosition { position, kept };
    let [from, front] = ["C03", "C04"].map(|at| mill.position(at));
    let patch = |to: Option<&str>| Want::Patch {
        position: from,
        to: to.map(|_| Place::front(front)),
    };
    for (want, words) in [
        (
            Want::AddRack {
                space: SpaceCode::new(2, "A").expect("a space"),
                name: text("Attic rack"),
                room,
            },
            "Attic rack: added; Attic rack: its space is 2A; Attic rack: in Kitchen.",
        ),
        (
            Want::RenameRack {
                rack,
                name: text("Cellar rack"),
            },
            "Cellar rack: called Cellar rack.",
        ),
        (
            Want::RespaceRack {
                rack,
                space: SpaceCode::new(0, "A").expect("a space"),
            },
            "Cellar rack: its space is 0A.",
        ),
        (
            Want::LetterPanel {
                panel,
                letters: PanelLetters::new("E").expect("letters"),
            },
            "Panel E: its letter is E, before B.",
        ),
        (
            Want::PlacePanel {
                panel,
                rack: mill.rack_id("1A"),
                unit: Some(12),
                purpose: text("the flats"),
            },
            "Panel E: at rack unit 12; Panel E: for the flats.",
        ),
        (
            keep(Availability::Reserved {
                reason: text("aerial"),
            }),
            "C03: reserved: aerial.",
        ),
        (
            keep(Availability::Bad {
                reason: text("bent"),
            }),
            "C03: bad: bent.",
        ),
        (keep(Availability::Open), "C03: free for use."),
        (patch(Some("C04")), "C03: patched to the front of C04."),
        (patch(None), "C03: not patched."),
        (
            Want::AddDevice {
                name: text("Doorbell"),
                room,
            },
            "Doorbell: added; Doorbell: in Kitchen.",
        ),
        (
            Want::AddJoint {
                kind: JointKind::Splice,
                name: text("Splice 1"),
                room,
            },
            "Splice 1: added; Splice 1: in Kitchen.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
    let device = mill.registry().devices.iter().next().expect("a device").0;
    let joint = mill.registry().joints.iter().next().expect("a joint").0;
    let name = || text("By the door");
    let words = "By the door: called By the door.";
    says(
        &mut mill,
        &Want::RenameDevice {
            device,
            name: name(),
        },
        words,
    );
    says(
        &mut mill,
        &Want::RenameJoint {
            joint,
            name: name(),
        },
        words,
    );
    let tie = Want::AddTie {
        near: rack,
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    };
    says(&mut mill, &tie, "0A/2A-1: added.");
    mill.panel("2A", "F", Connector::F, 8, None);
    assert_eq!(last(&mill), "Panel F: 8 ports, F.");
}

#[test]
fn loose_ends_are_told() {
    let mut mill = mill();
    let found = |place| Found {
        place: text(place),
        room: Some(mill.room_id("KIT")),
        ..Found::default()
    };
    let (ceiling, nowhere) = (found("the ceiling"), found(""));
    says(
        &mut mill,
        &Want::AddLooseEnd { found: ceiling },
        "Loose end 1: numbered; loose end 1: at the ceiling.",
    );
    let loose = mill.registry().loose_ends.iter().next().expect("one").0;
    let end = mill.far("KIT1-A");
    for (want, words) in [
        (
            Want::DescribeLooseEnd {
                loose,
                found: nowhere,
            },
            "Loose end 1: in Kitchen.",
        ),
        (
            Want::JoinLooseEnd { loose, end },
            "Loose end 1: it is KIT1-A at Main rack.",
        ),
        (
            Want::PartLooseEnd { loose },
            "Loose end 1: parted from its cable.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
}

#[test]
fn conduits_are_told() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 1);
    let laid = |note| Laid {
        ends: [
            ConduitEnd::Outlet(outlet),
            ConduitEnd::Words(text("the gate")),
        ],
        size: text("25 mm"),
        note: text(note),
    };
    let add = Want::LayConduit {
        conduit: None,
        number: None,
        laid: laid(""),
    };
    says(
        &mut mill,
        &add,
        "CD1: numbered CD1; CD1: from KIT1; CD1: to the gate.",
    );
    let conduit = mill.registry().conduits.iter().next().expect("one").0;
    let cable = mill.cable("KIT1-A");
    let pass = |lying| Want::PassConduit {
        cable,
        conduit,
        lying,
    };
    for (want, words) in [
        (
            Want::LayConduit {
                conduit: Some(conduit),
                number: Some(1),
                laid: laid("In the screed"),
            },
            "CD1: note: In the screed.",
        ),
        (Want::RenumberConduit { conduit }, "CD2: numbered CD2."),
        (
            Want::StringConduit {
                conduit,
                lying: Lying::In,
            },
            "CD2: a pull string lies in it.",
        ),
        (pass(Lying::In), "KIT1-A: lies in CD2."),
        (pass(Lying::Out), "KIT1-A: does not lie in CD2."),
        (
            Want::CancelConduit {
                conduit,
                reason: text("crushed"),
            },
            "CD2: cancelled: crushed.",
        ),
        (Want::RestoreConduit { conduit }, "CD2: wanted."),
    ] {
        says(&mut mill, &want, words);
    }
}

#[test]
fn what_hangs_in_a_rack_is_told() {
    let mut mill = mill();
    let rack = mill.rack_id("1A");
    let units = |count| Units::new(count).expect("a count");
    let at = |unit, height, face| Mount {
        rack,
        unit,
        height: units(height),
        face,
    };
    let build = |build| Want::BuildRack { rack, build };
    let panel = mill.panel_id("B");
    let shelf = Want::AddBlock {
        kind: BlockKind::Shelf,
        name: text("Router shelf"),
        mount: at(Some(5), 2, Face::Front),
    };
    for (want, words) in [
        (
            build(RackBuild::Units(units(42))),
            "Main rack: it has 42 rack units.",
        ),
        (
            Want::SizePanel {
                panel,
                height: units(2),
            },
            "Panel B: 2 rack units high.",
        ),
        (
            shelf,
            "Router shelf: added; Router shelf: at units 5 to 6 of Main rack, front.",
        ),
        (
            Want::AddDevice {
                name: text("Router"),
                room: None,
            },
            "Router: added.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
    let block = mill.registry().blocks.iter().next().expect("a shelf").0;
    let device = mill.registry().devices.iter().next().expect("a device").0;
    let (block, device) = (Mountable::Block(block), Mountable::Device(device));
    for (want, words) in [
        (
            Want::Hang {
                what: device,
                mount: at(Some(9), 1, Face::Rear),
            },
            "Router: at unit 9 of Main rack, rear.",
        ),
        (Want::TakeOut { what: device }, "Router: in no rack."),
        (
            Want::TakeOut { what: block },
            "Router shelf: taken out of its rack.",
        ),
        (
            Want::Hang {
                what: block,
                mount: at(None, 2, Face::Front),
            },
            "Router shelf: back in its rack; Router shelf: in Main rack.",
        ),
        (build(RackBuild::Board), "Main rack: it is a board."),
        (
            build(RackBuild::Enclosure),
            "Main rack: it is a structured enclosure.",
        ),
        (build(RackBuild::Rail), "Main rack: it is a terminal rail."),
    ] {
        says(&mut mill, &want, words);
    }
}

#[test]
fn printed_tags_are_told() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 1);
    let (panel, rack) = (mill.panel_id("B"), mill.rack_id("1A"));
    let print = |tags, racks, strips| Want::PrintTags {
        stock: text("white wraps"),
        tags,
        set: 1,
        cables: Vec::new(),
        places: racks,
        strips,
    };
    let mut cables = print(24, Vec::new(), Vec::new());
    let Want::PrintTags { cables: chosen, .. } = &mut cables else {
        unreachable!("it prints");
    };
    chosen.push(mill.cable("KIT1-A"));
    for (want, words) in [
        (
            cables,
            "The job: sheet 1 was printed, 24 tags on white wraps; KIT1-A at KIT1 had its tag printed as KIT1-A.",
        ),
        (
            print(1, vec![TaggedPlace::Rack(rack)], Vec::new()),
            "The job: sheet 2 was printed, 1 tag on white wraps; Main rack: tag printed as 1A.",
        ),
        (
            print(1, Vec::new(), vec![(panel, text("KITCHEN"))]),
            "The job: sheet 3 was printed, 1 tag on white wraps; Panel B: its strip was printed.",
        ),
        (
            Want::FixPlaceTags {
                places: vec![TaggedPlace::Outlet(outlet), TaggedPlace::Panel(panel)],
            },
            "KIT1: tag fixed as KIT1; Panel B: tag fixed as B.",
        ),
    ] {
        says(&mut mill, &want, words);
    }
}
