//! The acts of the golden sample, as values.

use bothends::domain::ids::{
    ActId, Bits80, BlockId, CableId, ConduitId, DeviceId, FloorId, JacketId, JointId, LooseEndId,
    OutletId, OutletTypeId, PanelId, PictureId, PullId, RackId, RoomId, ThingId, UnitId, WriterId,
};
use bothends::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::length::{FootageMark, LengthUnit, Millimetres};
use bothends::domain::medium::{Connector, Kind, Medium, Sheath};
use bothends::domain::mount::{BlockKind, Mount, RackBuild, Units};
use bothends::domain::outlet_type::{OutletKind, PlannedCable, UsualType};
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::domain::place::{
    ConduitEnd, End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side,
};
use bothends::domain::work::{
    Availability, CoverCheck, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot,
    Standing, TestMethod, TestOutcome, Waiting, WaitsFor, WallBox,
};
use bothends::journal::{
    Act, BlockFact, CableFact, ConduitFact, CopperTest, Cover, CoverOk, DeviceFact, EndFact,
    EndOfPull, Fact, FactRef, FloorFact, Found, JobFact, JointFact, Lamport, LooseEndFact, Mark,
    OutletFact, OutletTypeFact, PanelFact, PanelMake, PanelSize, PictureFact, PrintedSheet,
    PullFact, PullRef, RackFact, RoomFact, UnitFact, WallTime,
};

const WRITER: WriterId = WriterId(Bits80(*b"HelloHello"));

fn act(n: u32) -> ActId {
    ActId { writer: WRITER, n }
}

/// Things that the acts of the sample add: numbers 1 and on of the first act.
fn thing(index: u32) -> ThingId {
    ThingId::added_by(act(1), index)
}

const UNIT: u32 = 0;
const FLOOR: u32 = 1;
const ROOM: u32 = 2;
const TYPE: u32 = 3;
const OUTLET: u32 = 4;
const CABLE: u32 = 5;
const JACKET: u32 = 6;
const RACK: u32 = 7;
const PANEL: u32 = 8;
const DEVICE: u32 = 9;
const JOINT: u32 = 10;
const LOOSE: u32 = 11;
const FAR_RACK: u32 = 12;
const PULL: u32 = 13;

fn words(text: &str) -> String {
    text.to_owned()
}

fn letter(letter: char) -> Letter {
    Letter::new(letter).expect("a letter")
}

fn position() -> Position {
    Position {
        panel: PanelId(thing(PANEL)),
        number: PositionNumber::new(7).expect("a position"),
    }
}

/// Every fact of the sample, act by act.
fn facts() -> Vec<Vec<Fact>> {
    vec![
        added(),
        of_job_and_house(),
        of_outlets(),
        of_cables(),
        of_media(),
        of_pulls(),
        of_ends(),
        of_racks_and_panels(),
        of_connectors(),
        of_devices_and_joints(),
        of_loose_ends(),
    ]
}

fn added() -> Vec<Fact> {
    let make = PanelMake {
        connector: Connector::Modular,
        positions: PanelSize::new(96).expect("a size"),
    };
    let repulled = CableFact::Repulled {
        pull: PullId(thing(PULL)),
        reason: words("Drilled through behind the stove"),
        known: None,
    };
    vec![
        Fact::Unit(UnitId(thing(UNIT)), UnitFact::Added),
        Fact::Floor(FloorId(thing(FLOOR)), FloorFact::Added),
        Fact::Room(RoomId(thing(ROOM)), RoomFact::Added),
        Fact::OutletType(OutletTypeId(thing(TYPE)), OutletTypeFact::Added),
        Fact::Outlet(OutletId(thing(OUTLET)), OutletFact::Added),
        Fact::Cable(CableId(thing(CABLE)), CableFact::Added),
        Fact::JacketAdded(JacketId(thing(JACKET))),
        Fact::Rack(RackId(thing(RACK)), RackFact::Added),
        Fact::Rack(RackId(thing(FAR_RACK)), RackFact::Added),
        Fact::Panel(PanelId(thing(PANEL)), PanelFact::Added(make)),
        Fact::Device(DeviceId(thing(DEVICE)), DeviceFact::Added),
        Fact::Joint(JointId(thing(JOINT)), JointFact::Added(JointKind::Splice)),
        Fact::LooseEnd(
            LooseEndId(thing(LOOSE)),
            LooseEndFact::Added { number: 65_535 },
        ),
        Fact::Cable(CableId(thing(CABLE)), repulled),
    ]
}

fn of_job_and_house() -> Vec<Fact> {
    let unit = UnitId(thing(UNIT));
    let floor = FloorId(thing(FLOOR));
    let room = RoomId(thing(ROOM));
    vec![
        Fact::Job(JobFact::Named(words("Marrowby Mill"))),
        Fact::Job(JobFact::PinoutChosen(Pinout::A)),
        Fact::Job(JobFact::PinoutChosen(Pinout::B)),
        Fact::Job(JobFact::TagAddressSet(words("HTTPS://MILL.EXAMPLE/"))),
        Fact::Unit(unit, UnitFact::Named(words("Flat 2"))),
        Fact::Floor(floor, FloorFact::Named(words("First floor"))),
        Fact::Floor(floor, FloorFact::Numbered(255)),
        Fact::Room(room, RoomFact::Named(words("Küche “north” \\ \u{1} 🍳"))),
        Fact::Room(
            room,
            RoomFact::Coded(RoomCode::new("KIT").expect("a room code")),
        ),
        Fact::Room(room, RoomFact::OnFloor(floor)),
        Fact::Room(room, RoomFact::InUnit(unit)),
        Fact::Room(room, RoomFact::Ordered(4_294_967_295)),
    ]
}

fn of_outlets() -> Vec<Fact> {
    let outlet = OutletId(thing(OUTLET));
    let own = OutletTypeId(thing(TYPE));
    let planned = |letter, medium, purpose: &str| PlannedCable {
        letter,
        medium,
        purpose: words(purpose),
    };
    let holds = vec![
        planned(Some(letter('D')), Medium::indoor(Kind::Rg6), "Aerial"),
        planned(None, Medium::speaker(16, 4), ""),
    ];
    let usual = UsualType::all()
        .iter()
        .map(|usual| OutletFact::Typed(OutletKind::Usual(usual.key)));
    let boxes = (1..=6)
        .map(WallBox::Gangs)
        .chain([WallBox::Ring, WallBox::None]);
    let spot = Spot {
        wall: words("North"),
        height: Some(Millimetres(300)),
        offset: Some(Millimetres(-25)),
        offset_from: words("Door jamb"),
    };
    let reason = words("Moved to the hall");
    let mut facts = vec![
        OutletFact::Numbered {
            room: RoomId(thing(ROOM)),
            number: OutletNumber::new(99).expect("a number"),
        },
        OutletFact::Typed(OutletKind::Own(own)),
        OutletFact::Purposed(words("Television")),
        OutletFact::Placed(spot),
        OutletFact::Placed(Spot::default()),
        OutletFact::Stands(Standing::Wanted),
        OutletFact::Stands(Standing::Cancelled { reason }),
        OutletFact::Noted(words("Behind the plinth")),
    ];
    facts.extend(usual);
    facts.extend(boxes.map(OutletFact::Boxed));
    let of_types = [
        OutletTypeFact::Named(words("Cinema wall")),
        OutletTypeFact::Holds(holds),
        OutletTypeFact::Holds(Vec::new()),
    ];
    of_types
        .map(|fact| Fact::OutletType(own, fact))
        .into_iter()
        .chain(facts.into_iter().map(|fact| Fact::Outlet(outlet, fact)))
        .collect()
}

fn of_cables() -> Vec<Fact> {
    let outlet = OutletId(thing(OUTLET));
    let (near, far) = (RackId(thing(RACK)), RackId(thing(FAR_RACK)));
    let reason = words("Wireless instead");
    let mut facts: Vec<CableFact> = Letter::all()
        .map(|letter| CableFact::Named(RunName::Feeds { outlet, letter }))
        .collect();
    facts.extend([
        CableFact::Named(RunName::Ties {
            near,
            far,
            number: 12,
        }),
        CableFact::Leaves(Leaves::Rack(None)),
        CableFact::Leaves(Leaves::Rack(Some(near))),
        CableFact::Leaves(Leaves::Outlet(outlet)),
        CableFact::Purposed(words("Picture")),
        CableFact::InJacket(JacketId(thing(JACKET))),
        CableFact::Stands(Standing::Wanted),
        CableFact::Stands(Standing::Cancelled { reason }),
        CableFact::KnownAs(words("TV-3")),
        CableFact::Noted(words("Tight bend at the joist")),
    ]);
    let cable = CableId(thing(CABLE));
    facts
        .into_iter()
        .map(|fact| Fact::Cable(cable, fact))
        .collect()
}

fn of_media() -> Vec<Fact> {
    let own = |words: &str| Medium::indoor(Kind::Own(words.to_owned()));
    let mut media = Medium::stock();
    media.extend([own("Ladder line"), own("")]);
    let buried = media.clone().into_iter().map(|medium| Medium {
        sheath: Sheath::DirectBurial,
        ..medium
    });
    let media = media.iter().cloned().chain(buried);
    let cable = CableId(thing(CABLE));
    media
        .map(|medium| Fact::Cable(cable, CableFact::MadeOf(medium)))
        .collect()
}

fn of_pulls() -> Vec<Fact> {
    let cable = CableId(thing(CABLE));
    let first = PullRef {
        cable,
        pull: PullId(cable.0),
    };
    let later = PullRef {
        cable,
        pull: PullId(thing(PULL)),
    };
    let outcomes = [
        PullOutcome::Pulled,
        PullOutcome::Short,
        PullOutcome::Stuck,
        PullOutcome::Damaged,
    ];
    let methods = [
        TestMethod::Toner,
        TestMethod::WireMap,
        TestMethod::Remote,
        TestMethod::Continuity,
        TestMethod::Certification,
    ];
    let tested = |method, outcome, note: &str| {
        PullFact::Tested(CopperTest {
            method,
            outcome,
            note: words(note),
        })
    };
    let mut facts = vec![Fact::Pull(first, PullFact::DrawnFrom(65_535))];
    facts.extend(outcomes.map(|outcome| Fact::Pull(first, PullFact::Reported(outcome))));
    facts.extend(methods.map(|method| Fact::Pull(later, tested(method, TestOutcome::Passed, ""))));
    facts.push(Fact::Pull(
        later,
        tested(TestMethod::WireMap, TestOutcome::Failed, "Pair 3 open"),
    ));
    facts
}

fn of_ends() -> Vec<Fact> {
    let cable = CableId(thing(CABLE));
    let (outlet, panel_position) = (OutletId(thing(OUTLET)), position());
    let places = [
        Place::Jack {
            outlet,
            jack: letter('C'),
        },
        Place::Position {
            position: panel_position,
            face: Face::Rear,
        },
        Place::Position {
            position: panel_position,
            face: Face::Front,
        },
        Place::Device {
            device: DeviceId(thing(DEVICE)),
            port: words("LAN 1"),
        },
        Place::Joint {
            joint: JointId(thing(JOINT)),
            way: 255,
        },
    ];
    let landed = |place: &Place, fitting| {
        let place = place.clone();
        EndFact::Placed(Placement::Landed { place, fitting })
    };
    let marked = |kind| {
        EndFact::Marked(Mark {
            kind,
            copies: 2,
            text: words("KIT2-C"),
        })
    };
    let read = |value, unit| EndFact::Footage(FootageMark { value, unit });
    let mut facts = vec![EndFact::Planned(None)];
    facts.extend(places.iter().cloned().map(Some).map(EndFact::Planned));
    facts.extend(places.iter().map(|place| landed(place, Fitting::Direct)));
    facts.extend([
        landed(&places[1], Fitting::Adapter),
        EndFact::Placed(Placement::Lifted),
        EndFact::Placed(Placement::Spare {
            kept: words("Coiled above the rack"),
            reason: words("FUTURE"),
        }),
        EndFact::Placed(Placement::Dead {
            reason: words("Cut by the plumber"),
        }),
        EndFact::Split(LegNumber::new(16).expect("a leg")),
        marked(MarkKind::Pen),
        marked(MarkKind::Printed),
        marked(MarkKind::Fixed),
        EndFact::TagLost,
        EndFact::Seen {
            at: words("Main rack"),
        },
        read(4_294_967_295, LengthUnit::Feet),
        read(0, LengthUnit::Metres),
    ]);
    let whole = EndOfPull {
        end: End::whole(cable, Side::Near),
        pull: PullId(cable.0),
    };
    let leg = EndOfPull {
        end: End {
            cable,
            side: Side::Far,
            leg: LegNumber::new(2),
        },
        pull: PullId(thing(PULL)),
    };
    let on_leg = Fact::End(leg, landed(&places[1], Fitting::Direct));
    let on_whole = facts.into_iter().map(|fact| Fact::End(whole, fact));
    on_whole.chain([on_leg]).collect()
}

fn of_racks_and_panels() -> Vec<Fact> {
    let rack = RackId(thing(RACK));
    let panel = PanelId(thing(PANEL));
    let space = SpaceCode::new(1, "A").expect("a space");
    let letters = PanelLetters::new("AB").expect("panel letters");
    let reason = || words("Alarm");
    vec![
        Fact::Rack(rack, RackFact::InSpace(space)),
        Fact::Rack(rack, RackFact::Named(words("Main rack"))),
        Fact::Rack(rack, RackFact::InRoom(RoomId(thing(ROOM)))),
        Fact::Panel(panel, PanelFact::InRack(rack)),
        Fact::Panel(panel, PanelFact::Lettered(letters)),
        Fact::Panel(panel, PanelFact::AtUnit(Some(40))),
        Fact::Panel(panel, PanelFact::AtUnit(None)),
        Fact::Panel(panel, PanelFact::Purposed(words("Data"))),
        Fact::PositionKept(position(), Availability::Open),
        Fact::PositionKept(position(), Availability::Reserved { reason: reason() }),
        Fact::PositionKept(position(), Availability::Bad { reason: reason() }),
    ]
}

fn of_connectors() -> Vec<Fact> {
    let panel = PanelId(thing(PANEL));
    let positions = PanelSize::new(1).expect("a size");
    let make = |connector| {
        PanelFact::Added(PanelMake {
            connector,
            positions,
        })
    };
    Connector::all()
        .map(|connector| Fact::Panel(panel, make(connector)))
        .collect()
}

fn of_devices_and_joints() -> Vec<Fact> {
    let room = RoomId(thing(ROOM));
    let device = DeviceId(thing(DEVICE));
    let joint = JointId(thing(JOINT));
    let kinds = [
        JointKind::Splice,
        JointKind::Barrel,
        JointKind::Splitter,
        JointKind::SurgeArrester,
    ];
    let mut facts = vec![
        Fact::Device(device, DeviceFact::Named(words("Amplifier"))),
        Fact::Device(device, DeviceFact::InRoom(room)),
        Fact::Joint(joint, JointFact::Named(words("Above the hall ceiling"))),
        Fact::Joint(joint, JointFact::InRoom(room)),
    ];
    facts.extend(kinds.map(|kind| Fact::Joint(joint, JointFact::Added(kind))));
    facts
}

fn of_patch_cords() -> Vec<Fact> {
    let device = DeviceId(thing(DEVICE));
    let port = Place::Device {
        device,
        port: "LAN 1".to_owned(),
    };
    vec![
        Fact::PositionPatched(position(), Some(port)),
        Fact::PositionPatched(position(), Some(Place::front(position()))),
        Fact::PositionPatched(position(), None),
        Fact::Device(device, DeviceFact::Model(words("Eight ports"))),
        Fact::Device(device, DeviceFact::Serial(words("MM-0417"))),
    ]
}

fn of_loose_ends() -> Vec<Fact> {
    let loose = LooseEndId(thing(LOOSE));
    let found = Found {
        place: words("Bundle left of the rack"),
        room: Some(RoomId(thing(ROOM))),
        medium: Some(Medium::indoor(Kind::Cat6Utp)),
        note: words("“TV 3” in pencil"),
    };
    let facts = [
        LooseEndFact::Found(Box::new(found)),
        LooseEndFact::Found(Box::default()),
        LooseEndFact::Joined(End::whole(CableId(thing(CABLE)), Side::Near)),
        LooseEndFact::Joined(End {
            cable: CableId(thing(CABLE)),
            side: Side::Far,
            leg: LegNumber::new(1),
        }),
        LooseEndFact::Parted,
    ];
    facts.map(|fact| Fact::LooseEnd(loose, fact)).into()
}

/// The acts of the sample.
pub(super) fn the_sample() -> Vec<Act> {
    let mut acts: Vec<Act> = (1..)
        .zip(facts())
        .map(|(n, facts)| sample_act(n, facts))
        .collect();
    let last = u32::try_from(acts.len()).expect("few acts");
    // One with both kinds of link and nothing else, with the highest counter and time, and one
    // that takes it back.
    let mut linked = sample_act(last + 1, Vec::new());
    linked.replaces.push(FactRef {
        act: act(2),
        fact: 1,
    });
    linked.strikes.extend([act(3), act(5)]);
    linked.by = "".into();
    acts.push(linked);
    let mut highest = sample_act(last + 2, Vec::new());
    highest.lamport = Lamport::MAX;
    highest.wall = WallTime(Lamport::MAX.get());
    highest.strikes.push(act(last + 1));
    acts.push(highest);
    acts.push(sample_act(last + 3, of_the_rough_in()));
    acts.push(sample_act(last + 4, of_the_tags()));
    let kept = CableFact::TagKept {
        tag: "KIT1-A".to_owned(),
        called: "KIT4-A".to_owned(),
    };
    acts.push(sample_act(
        last + 5,
        vec![Fact::Cable(CableId(thing(CABLE)), kept)],
    ));
    acts.push(sample_act(last + 6, of_the_conduits(last + 6)));
    acts.push(sample_act(last + 7, of_patch_cords()));
    acts.push(sample_act(last + 8, of_the_bench(last + 8)));
    let plugged = EndFact::Placed(Placement::Landed {
        place: Place::Jack {
            outlet: OutletId(thing(OUTLET)),
            jack: letter('A'),
        },
        fitting: Fitting::Plug,
    });
    let end = EndOfPull {
        end: End::whole(CableId(thing(CABLE)), Side::Near),
        pull: PullId(thing(CABLE)),
    };
    acts.push(sample_act(last + 9, vec![Fact::End(end, plugged)]));
    let cancelled = |known| CableFact::Cancelled {
        reason: words("No camera after all"),
        known,
    };
    let said = [
        cancelled(Vec::new()),
        cancelled(vec![act(5), act(last + 9)]),
    ];
    let said = said.map(|fact| Fact::Cable(CableId(thing(CABLE)), fact));
    acts.push(sample_act(last + 10, said.into()));
    let repulled = CableFact::Repulled {
        pull: PullId(thing(PULL)),
        reason: words("Crushed by a joist hanger"),
        known: Some(vec![act(5), act(last + 10)]),
    };
    let repulled = Fact::Cable(CableId(thing(CABLE)), repulled);
    acts.push(sample_act(last + 11, vec![repulled]));
    acts
}

/// What came with the rack drawn in rack units.
fn of_the_bench(n: u32) -> Vec<Fact> {
    let units = |count| Units::new(count).expect("a count of rack units");
    let rack = RackId(thing(RACK));
    let mount = |unit, height, face| Mount {
        rack,
        unit,
        height: units(height),
        face,
    };
    let builds = [
        RackBuild::Units(units(42)),
        RackBuild::Enclosure,
        RackBuild::Board,
        RackBuild::Rail,
    ];
    let mut facts: Vec<Fact> = builds
        .map(|build| Fact::Rack(rack, RackFact::Built(build)))
        .into();
    let panel = PanelId(thing(PANEL));
    facts.push(Fact::Panel(panel, PanelFact::High(units(2))));
    let device = DeviceId(thing(DEVICE));
    let mounts = [Some(mount(Some(5), 1, Face::Rear)), None];
    facts.extend(mounts.map(|mount| Fact::Device(device, DeviceFact::Mounted(mount))));
    let blocks = BlockKind::ALL.into_iter().zip(0_u32..);
    facts.extend(blocks.map(|(kind, index)| {
        let block = BlockId(ThingId::added_by(act(n), index));
        Fact::Block(block, BlockFact::Added(kind))
    }));
    let about = [
        BlockFact::Named(words("Shelf for the “router”")),
        BlockFact::Mounted(mount(Some(60), 60, Face::Front)),
        BlockFact::Mounted(mount(None, 1, Face::Rear)),
        BlockFact::Stands(Standing::Cancelled {
            reason: words("Bent"),
        }),
        BlockFact::Stands(Standing::Wanted),
    ];
    let block = BlockId(ThingId::added_by(act(n), 1));
    facts.extend(about.map(|fact| Fact::Block(block, fact)));
    facts
}

/// What came with conduits, and with tags of boxes.
fn of_the_conduits(n: u32) -> Vec<Fact> {
    let conduit = ConduitId(ThingId::added_by(act(n), 0));
    let reaches = |side, at| ConduitFact::Reaches { side, at };
    let about = [
        ConduitFact::Added { number: 65_535 },
        reaches(Side::Near, ConduitEnd::Outlet(OutletId(thing(OUTLET)))),
        reaches(Side::Near, ConduitEnd::Room(RoomId(thing(ROOM)))),
        reaches(Side::Far, ConduitEnd::Words(words("Above the “gate”"))),
        reaches(Side::Far, ConduitEnd::Rack(RackId(thing(RACK)))),
        ConduitFact::Sized(words("25 mm")),
        ConduitFact::PullString(Lying::In),
        ConduitFact::PullString(Lying::Out),
        ConduitFact::Noted(words("In the screed")),
        ConduitFact::Stands(Standing::Cancelled {
            reason: words("Crushed"),
        }),
        ConduitFact::Stands(Standing::Wanted),
        ConduitFact::Tagged(Mark {
            kind: MarkKind::Printed,
            copies: 1,
            text: words("CD65535"),
        }),
    ];
    let mut facts: Vec<Fact> = about.map(|fact| Fact::Conduit(conduit, fact)).into();
    let passes = |lying| CableFact::PassesThrough { conduit, lying };
    let cable = CableId(thing(CABLE));
    facts.extend([Lying::In, Lying::Out].map(|lying| Fact::Cable(cable, passes(lying))));
    facts.push(Fact::Job(JobFact::BoxTagged {
        number: 3,
        kind: MarkKind::Fixed,
        text: words("BOX3"),
    }));
    facts
}

/// What came with printed tags.
fn of_the_tags() -> Vec<Fact> {
    let tag = |kind, text| Mark {
        kind,
        copies: 1,
        text: words(text),
    };
    let outlet = |mark| Fact::Outlet(OutletId(thing(OUTLET)), OutletFact::Tagged(mark));
    let rack = |mark| Fact::Rack(RackId(thing(RACK)), RackFact::Tagged(mark));
    let panel = |fact| Fact::Panel(PanelId(thing(PANEL)), fact);
    let (printed, fixed) = (MarkKind::Printed, MarkKind::Fixed);
    vec![
        Fact::Job(JobFact::TagsPrinted(PrintedSheet {
            number: 3,
            stock: words("Self-laminating wraps, 25 × 32 mm"),
            tags: 24,
        })),
        outlet(tag(printed, "KIT2")),
        outlet(tag(fixed, "KIT2")),
        rack(tag(printed, "1A")),
        panel(PanelFact::Tagged(tag(printed, "B"))),
        panel(PanelFact::StripPrinted(words("KITCHEN TV\n\nHALL"))),
    ]
}

/// What came with the second version of the program that wrote this form.
fn of_the_rough_in() -> Vec<Fact> {
    let room = RoomId(thing(ROOM));
    let outlet = OutletId(thing(OUTLET));
    let cable = CableId(thing(CABLE));
    let picture = PictureId(ThingId::added_by(act(14), 0));
    let holds = |number, medium| Fact::Job(JobFact::BoxHolds { number, medium });
    let ok = CoverOk {
        counted: 23,
        checks: CoverCheck::ALL.to_vec(),
        note: words("Without the shade cables, which come from the attic"),
        known: vec![act(3), act(5)],
    };
    let slack = |length, place| OutletFact::Slack(Slack { length, place });
    let waits = |whom| {
        OutletFact::Waits(Waiting {
            whom,
            words: words("Left or right of the stove?"),
        })
    };
    let point = |what, x, y, offset| Point {
        what,
        at: Spotted::new(x, y).expect("on the picture"),
        offset,
    };
    let pictured = [
        PictureFact::Added(Digest([0xa5; 32])),
        PictureFact::Shows(Shows::Room(room)),
        PictureFact::Shows(Shows::LooseEnd(LooseEndId(thing(LOOSE)))),
        PictureFact::Shows(Shows::Plan(FloorId(thing(FLOOR)))),
        PictureFact::Shows(Shows::Outlet(outlet)),
        PictureFact::Noted(words("Before the insulation")),
        PictureFact::Points(vec![
            point(Seen::Cable(cable), 0, 10_000, words("16 in from the jamb")),
            point(Seen::Outlet(outlet), 5_000, 1, String::new()),
        ]),
        PictureFact::Stands(Standing::Cancelled {
            reason: words("Blurred"),
        }),
        PictureFact::Stands(Standing::Wanted),
    ];
    let mut facts = vec![
        holds(8, Some(Medium::indoor(Kind::Rg6))),
        holds(8, None),
        Fact::Floor(FloorId(thing(FLOOR)), FloorFact::OnSheet(words("E2.1"))),
        Fact::Room(room, RoomFact::Covering(Cover::Ok(ok))),
        Fact::Room(
            room,
            RoomFact::Covering(Cover::NotYet {
                reason: words("A box is loose"),
            }),
        ),
        Fact::Room(room, RoomFact::Covering(Cover::Closed)),
        Fact::Outlet(outlet, slack(Some(Millimetres(600)), words("in the box"))),
        Fact::Outlet(outlet, slack(None, String::new())),
        Fact::Outlet(outlet, OutletFact::ChangeOrdered(words("CO 7"))),
        Fact::Cable(cable, CableFact::ChangeOrdered(words("CO 7"))),
    ];
    let whom = [
        WaitsFor::Hold,
        WaitsFor::Builder,
        WaitsFor::Client,
        WaitsFor::Others,
        WaitsFor::Nobody,
    ];
    facts.extend(whom.map(|whom| Fact::Outlet(outlet, waits(whom))));
    facts.extend(pictured.map(|fact| Fact::Picture(picture, fact)));
    facts
}

fn sample_act(n: u32, facts: Vec<Fact>) -> Act {
    let mut about = Vec::new();
    for fact in &facts {
        fact.mentions(&mut |thing| about.push(thing));
    }
    about.sort_unstable();
    about.dedup();
    Act {
        id: act(n),
        lamport: Lamport::new(u64::from(n)).expect("in range"),
        wall: WallTime(1_700_000_000_000 + u64::from(n)),
        by: "J.D., phone in the van".into(),
        about: about.into(),
        replaces: [].into(),
        strikes: [].into(),
        facts: facts.into(),
    }
}
