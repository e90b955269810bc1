//! Facts to their stored form, kind by kind.

use super::object::Object;
use super::text::Str;
use super::words::Word;
use super::{FactV1, PlaceV1, PlannedV1, SpotV1};
use crate::domain::ids::{PullId, ThingId};
use crate::domain::label::LegNumber;
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::place::{Face, Leaves, Place, Placement, Position, RunName};
use crate::domain::work::{Availability, Spot, Standing, WallBox};
use crate::journal::fact::{
    CableFact, DeviceFact, EndFact, EndOfPull, Fact, FloorFact, JobFact, JointFact, LooseEndFact,
    OutletFact, OutletTypeFact, PanelFact, PullFact, PullRef, RackFact, RoomFact, UnitFact,
};

type Text<'a> = Option<Str<'a>>;

fn id<'a>(id: impl Into<ThingId>) -> Text<'a> {
    Some(Str::from(id.into().to_string()))
}

fn text(text: &str) -> Text<'_> {
    Some(Str::from(text))
}

fn owned<'a>(value: impl ToString) -> Text<'a> {
    Some(Str::from(value.to_string()))
}

fn word<'a>(value: impl Word) -> Text<'a> {
    Some(Str::from(value.word()))
}

/// A fact of a kind about a thing, with no fields yet.
fn about<'a>(kind: &'static str, of: impl Into<ThingId>) -> FactV1<'a> {
    FactV1 {
        k: Str::from(kind),
        of: id(of),
        ..FactV1::default()
    }
}

/// A fact of a kind about the job.
fn plain(kind: &str) -> FactV1<'_> {
    FactV1 {
        k: Str::from(kind),
        ..FactV1::default()
    }
}

pub(super) fn fact(fact: &Fact) -> FactV1<'_> {
    match fact {
        Fact::Job(JobFact::Named(name)) => FactV1 {
            text: text(name),
            ..plain("JobNamed")
        },
        Fact::Job(JobFact::PinoutChosen(pinout)) => FactV1 {
            code: word(*pinout),
            ..plain("PinoutChosen")
        },
        Fact::Job(JobFact::TagAddressSet(address)) => FactV1 {
            text: text(address),
            ..plain("TagAddressSet")
        },
        Fact::Unit(of, UnitFact::Added) => about("UnitAdded", *of),
        Fact::Unit(of, UnitFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("UnitNamed", *of)
        },
        Fact::Floor(of, FloorFact::Added) => about("FloorAdded", *of),
        Fact::Floor(of, FloorFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("FloorNamed", *of)
        },
        Fact::Floor(of, FloorFact::Numbered(number)) => FactV1 {
            n: Some(u32::from(*number)),
            ..about("FloorNumbered", *of)
        },
        Fact::Room(of, fact) => room((*of).into(), fact),
        Fact::OutletType(of, OutletTypeFact::Added) => about("OutletTypeAdded", *of),
        Fact::OutletType(of, OutletTypeFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("OutletTypeNamed", *of)
        },
        Fact::OutletType(of, OutletTypeFact::Holds(cables)) => FactV1 {
            cables: Some(cables.iter().map(planned).collect()),
            ..about("OutletTypeHolds", *of)
        },
        Fact::Outlet(of, fact) => outlet((*of).into(), fact),
        Fact::Cable(of, fact) => cable((*of).into(), fact),
        Fact::Pull(of, fact) => pull(*of, fact),
        Fact::End(of, fact) => end(*of, fact),
        Fact::JacketAdded(of) => about("JacketAdded", *of),
        Fact::Rack(of, RackFact::Added) => about("RackAdded", *of),
        Fact::Rack(of, RackFact::InSpace(space)) => FactV1 {
            n: Some(u32::from(space.floor())),
            code: owned(space.letters()),
            ..about("RackInSpace", *of)
        },
        Fact::Rack(of, RackFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("RackNamed", *of)
        },
        Fact::Rack(of, RackFact::InRoom(room)) => FactV1 {
            to: id(*room),
            ..about("RackInRoom", *of)
        },
        Fact::Panel(of, fact) => panel((*of).into(), fact),
        Fact::PositionKept(position, kept) => position_kept(*position, kept),
        Fact::Device(of, DeviceFact::Added) => about("DeviceAdded", *of),
        Fact::Device(of, DeviceFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("DeviceNamed", *of)
        },
        Fact::Device(of, DeviceFact::InRoom(room)) => FactV1 {
            to: id(*room),
            ..about("DeviceInRoom", *of)
        },
        Fact::Joint(of, JointFact::Added(kind)) => FactV1 {
            code: word(*kind),
            ..about("JointAdded", *of)
        },
        Fact::Joint(of, JointFact::Named(name)) => FactV1 {
            text: text(name),
            ..about("JointNamed", *of)
        },
        Fact::Joint(of, JointFact::InRoom(room)) => FactV1 {
            to: id(*room),
            ..about("JointInRoom", *of)
        },
        Fact::LooseEnd(of, fact) => loose_end((*of).into(), fact),
        // Never drafted: no command makes an unknown fact, and stored lines are not rewritten.
        Fact::Unknown { kind } => plain(kind),
    }
}

fn room(of: ThingId, fact: &RoomFact) -> FactV1<'_> {
    match fact {
        RoomFact::Added => about("RoomAdded", of),
        RoomFact::Named(name) => FactV1 {
            text: text(name),
            ..about("RoomNamed", of)
        },
        RoomFact::Coded(code) => FactV1 {
            code: owned(code),
            ..about("RoomCoded", of)
        },
        RoomFact::OnFloor(floor) => FactV1 {
            to: id(*floor),
            ..about("RoomOnFloor", of)
        },
        RoomFact::InUnit(unit) => FactV1 {
            to: id(*unit),
            ..about("RoomInUnit", of)
        },
        RoomFact::Ordered(order) => FactV1 {
            n: Some(*order),
            ..about("RoomOrdered", of)
        },
    }
}

fn outlet(of: ThingId, fact: &OutletFact) -> FactV1<'_> {
    match fact {
        OutletFact::Added => about("OutletAdded", of),
        OutletFact::Numbered { room, number } => FactV1 {
            to: id(*room),
            n: Some(u32::from(number.get())),
            ..about("OutletNumbered", of)
        },
        OutletFact::Typed(OutletKind::Usual(key)) => FactV1 {
            code: text(key),
            ..about("OutletTyped", of)
        },
        OutletFact::Typed(OutletKind::Own(kind)) => FactV1 {
            to: id(*kind),
            ..about("OutletTyped", of)
        },
        OutletFact::Purposed(purpose) => FactV1 {
            text: text(purpose),
            ..about("OutletPurposed", of)
        },
        OutletFact::Placed(place) => FactV1 {
            spot: Some(spot(place)),
            ..about("OutletPlaced", of)
        },
        OutletFact::Boxed(WallBox::Gangs(gangs)) => FactV1 {
            code: text("gangs"),
            n: Some(u32::from(*gangs)),
            ..about("OutletBoxed", of)
        },
        OutletFact::Boxed(WallBox::Ring) => FactV1 {
            code: text("ring"),
            ..about("OutletBoxed", of)
        },
        OutletFact::Boxed(WallBox::None) => FactV1 {
            code: text("none"),
            ..about("OutletBoxed", of)
        },
        OutletFact::Stands(Standing::Wanted) => about("OutletWanted", of),
        OutletFact::Stands(Standing::Cancelled { reason }) => FactV1 {
            note: text(reason),
            ..about("OutletCancelled", of)
        },
        OutletFact::Noted(note) => FactV1 {
            text: text(note),
            ..about("OutletNoted", of)
        },
    }
}

fn cable(of: ThingId, fact: &CableFact) -> FactV1<'_> {
    match fact {
        CableFact::Added => about("CableAdded", of),
        CableFact::Named(RunName::Feeds { outlet, letter }) => FactV1 {
            to: id(*outlet),
            code: owned(letter),
            ..about("CableFeeds", of)
        },
        CableFact::Named(RunName::Ties { near, far, number }) => FactV1 {
            to: id(*near),
            to2: id(*far),
            n: Some(u32::from(*number)),
            ..about("CableTies", of)
        },
        CableFact::Leaves(Leaves::Rack(rack)) => FactV1 {
            to: rack.and_then(id),
            ..about("CableToRack", of)
        },
        CableFact::Leaves(Leaves::Outlet(outlet)) => FactV1 {
            to: id(*outlet),
            ..about("CableFromOutlet", of)
        },
        CableFact::MadeOf(medium) => FactV1 {
            code: owned(medium.key()),
            ..about("CableMadeOf", of)
        },
        CableFact::Purposed(purpose) => FactV1 {
            text: text(purpose),
            ..about("CablePurposed", of)
        },
        CableFact::InJacket(jacket) => FactV1 {
            to: id(*jacket),
            ..about("CableInJacket", of)
        },
        CableFact::Stands(Standing::Wanted) => about("CableWanted", of),
        CableFact::Stands(Standing::Cancelled { reason }) => FactV1 {
            note: text(reason),
            ..about("CableCancelled", of)
        },
        CableFact::KnownAs(name) => FactV1 {
            text: text(name),
            ..about("CableKnownAs", of)
        },
        CableFact::Noted(note) => FactV1 {
            text: text(note),
            ..about("CableNoted", of)
        },
        CableFact::Repulled { pull, reason } => FactV1 {
            pull: id(*pull),
            note: text(reason),
            ..about("CableRepulled", of)
        },
    }
}

/// The pull, unless it is the first, which has the cable's own id.
fn pull_id<'a>(cable: ThingId, pull: PullId) -> Text<'a> {
    if pull.0 == cable { None } else { id(pull) }
}

fn pull(of: PullRef, fact: &PullFact) -> FactV1<'_> {
    let base = |kind| FactV1 {
        pull: pull_id(of.cable.0, of.pull),
        ..about(kind, of.cable)
    };
    match fact {
        PullFact::Reported(outcome) => FactV1 {
            code: word(*outcome),
            ..base("PullReported")
        },
        PullFact::DrawnFrom(number) => FactV1 {
            n: Some(u32::from(*number)),
            ..base("DrawnFromBox")
        },
        PullFact::Tested(test) => FactV1 {
            code: word(test.method),
            text: word(test.outcome),
            note: text(&test.note),
            ..base("CopperTested")
        },
    }
}

fn end(of: EndOfPull, fact: &EndFact) -> FactV1<'_> {
    let base = |kind| FactV1 {
        side: word(of.end.side),
        leg: of.end.leg.map(LegNumber::get),
        pull: pull_id(of.end.cable.0, of.pull),
        ..about(kind, of.end.cable)
    };
    match fact {
        EndFact::Planned(to) => FactV1 {
            at: to.as_ref().map(place),
            ..base("EndPlanned")
        },
        EndFact::Placed(Placement::Landed { place: to, fitting }) => FactV1 {
            at: Some(place(to)),
            code: word(*fitting),
            ..base("EndLanded")
        },
        EndFact::Placed(Placement::Lifted) => base("EndLifted"),
        EndFact::Placed(Placement::Spare { kept, reason }) => FactV1 {
            text: text(kept),
            note: text(reason),
            ..base("EndSpared")
        },
        EndFact::Placed(Placement::Dead { reason }) => FactV1 {
            note: text(reason),
            ..base("EndDead")
        },
        EndFact::Split(legs) => FactV1 {
            n: Some(u32::from(legs.get())),
            ..base("EndSplit")
        },
        EndFact::Marked(mark) => FactV1 {
            code: word(mark.kind),
            n: Some(u32::from(mark.copies)),
            text: text(&mark.text),
            ..base("EndMarked")
        },
        EndFact::TagLost => base("TagLost"),
        EndFact::Seen { at } => FactV1 {
            text: text(at),
            ..base("EndSeen")
        },
        EndFact::Footage(read) => FactV1 {
            n: Some(read.value),
            code: word(read.unit),
            ..base("FootageRead")
        },
    }
}

fn panel(of: ThingId, fact: &PanelFact) -> FactV1<'_> {
    match fact {
        PanelFact::Added(make) => FactV1 {
            code: text(make.connector.key()),
            n: Some(u32::from(make.positions.get())),
            ..about("PanelAdded", of)
        },
        PanelFact::InRack(rack) => FactV1 {
            to: id(*rack),
            ..about("PanelInRack", of)
        },
        PanelFact::Lettered(letters) => FactV1 {
            code: owned(letters),
            ..about("PanelLettered", of)
        },
        PanelFact::AtUnit(unit) => FactV1 {
            n: unit.map(u32::from),
            ..about("PanelAtUnit", of)
        },
        PanelFact::Purposed(purpose) => FactV1 {
            text: text(purpose),
            ..about("PanelPurposed", of)
        },
    }
}

fn position_kept(position: Position, kept: &Availability) -> FactV1<'_> {
    let base = |kind| FactV1 {
        n: Some(u32::from(position.number.get())),
        ..about(kind, position.panel)
    };
    match kept {
        Availability::Open => base("PositionOpen"),
        Availability::Reserved { reason } => FactV1 {
            note: text(reason),
            ..base("PositionReserved")
        },
        Availability::Bad { reason } => FactV1 {
            note: text(reason),
            ..base("PositionBad")
        },
    }
}

fn loose_end(of: ThingId, fact: &LooseEndFact) -> FactV1<'_> {
    match fact {
        LooseEndFact::Added { number } => FactV1 {
            n: Some(u32::from(*number)),
            ..about("LooseEndAdded", of)
        },
        LooseEndFact::Found(found) => FactV1 {
            text: text(&found.place),
            note: text(&found.note),
            to: found.room.and_then(id),
            code: found.medium.as_ref().and_then(|medium| owned(medium.key())),
            ..about("LooseEndFound", of)
        },
        LooseEndFact::Joined(end) => FactV1 {
            to: id(end.cable),
            side: word(end.side),
            leg: end.leg.map(LegNumber::get),
            ..about("LooseEndJoined", of)
        },
        LooseEndFact::Parted => about("LooseEndParted", of),
    }
}

fn place(place: &Place) -> Object<PlaceV1<'_>> {
    let (kind, of, no): (_, ThingId, _) = match place {
        Place::Jack { outlet, jack } => ("jack", (*outlet).into(), Str::from(jack.to_string())),
        Place::Position { position, face } => {
            let kind = match face {
                Face::Rear => "rear",
                Face::Front => "front",
            };
            (
                kind,
                position.panel.into(),
                Str::from(position.number.get().to_string()),
            )
        }
        Place::Device { device, port } => ("device", (*device).into(), Str::from(port.as_str())),
        Place::Joint { joint, way } => ("joint", (*joint).into(), Str::from(way.to_string())),
    };
    Object(PlaceV1 {
        kind: Str::from(kind),
        of: Str::from(of.to_string()),
        no,
    })
}

fn spot(spot: &Spot) -> Object<SpotV1<'_>> {
    Object(SpotV1 {
        wall: Str::from(&*spot.wall),
        height: spot.height.map(|height| height.0),
        offset: spot.offset.map(|offset| offset.0),
        from: Str::from(&*spot.offset_from),
    })
}

fn planned(cable: &PlannedCable) -> Object<PlannedV1<'_>> {
    Object(PlannedV1 {
        letter: cable.letter.and_then(owned),
        medium: Str::from(cable.medium.key()),
        purpose: Str::from(&*cable.purpose),
    })
}
