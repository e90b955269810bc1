//! Facts to their stored form, kind by kind.

use std::fmt;

use super::ids::Ids;
use super::object::Object;
use super::text::Str;
use super::words::Word;
use super::{FactV1, PlaceV1, PlannedV1, PointV1, SpotV1};
use crate::domain::ids::{PullId, ThingId};
use crate::domain::label::LegNumber;
use crate::domain::mount::{Mount, RackBuild};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::picture::{Point, Seen, Shows};
use crate::domain::place::{ConduitEnd, End, Face, Leaves, Place, Placement, Position, RunName};
use crate::domain::work::{Availability, CoverCheck, Spot, Standing, WallBox};
use crate::journal::fact::{
    BlockFact, CableFact, ConduitFact, Cover, DeviceFact, EndFact, EndOfPull, Fact, FloorFact,
    JobFact, JointFact, LooseEndFact, Mark, OutletFact, OutletTypeFact, PanelFact, PictureFact,
    PullFact, PullRef, RackFact, RoomFact, UnitFact,
};

/// Fills a stored fact in place, field by field. The fields are many and a fact uses few of them,
/// so that a shape handed on by value would be copied at every step.
impl<'a> FactV1<'a> {
    /// A fact of a kind about the job.
    fn plain(&mut self, kind: &'a str) -> &mut Self {
        self.k = Str::from(kind);
        self
    }

    /// A fact of a kind about a thing.
    fn about(&mut self, kind: &'static str, of: impl Into<ThingId>) -> &mut Self {
        self.of = id(of.into());
        self.plain(kind)
    }

    /// A fact of a kind about one end of a pull.
    fn about_end(&mut self, kind: &'static str, of: EndOfPull) -> &mut Self {
        self.about_pull(
            kind,
            PullRef {
                cable: of.end.cable,
                pull: of.pull,
            },
        )
        .side(of.end)
    }

    /// A fact of a kind about a pull, which is not named if it is the first: that one has the
    /// cable's own id.
    fn about_pull(&mut self, kind: &'static str, of: PullRef) -> &mut Self {
        if of.pull.0 != of.cable.0 {
            self.pull(of.pull);
        }
        self.about(kind, of.cable)
    }

    fn pull(&mut self, pull: PullId) -> &mut Self {
        self.pull = id(pull.0);
        self
    }

    fn side(&mut self, end: End) -> &mut Self {
        self.side = Some(Str::from(end.side.word()));
        self.leg = end.leg.map(LegNumber::get);
        self
    }

    fn to(&mut self, to: impl Into<ThingId>) -> &mut Self {
        self.to = id(to.into());
        self
    }

    fn to2(&mut self, to: impl Into<ThingId>) -> &mut Self {
        self.to2 = id(to.into());
        self
    }

    fn coded(&mut self, code: &'a str) -> &mut Self {
        self.code = Some(Str::from(code));
        self
    }

    fn coded_as(&mut self, code: &dyn fmt::Display) -> &mut Self {
        self.code = Some(Str::from(code.to_string()));
        self
    }

    fn n(&mut self, n: u32) -> &mut Self {
        self.n = Some(n);
        self
    }

    fn text(&mut self, text: &'a str) -> &mut Self {
        self.text = Some(Str::from(text));
        self
    }

    fn note(&mut self, note: &'a str) -> &mut Self {
        self.note = Some(Str::from(note));
        self
    }

    fn marked(&mut self, mark: &'a Mark) -> &mut Self {
        self.coded(mark.kind.word())
            .n(u32::from(mark.copies))
            .text(&mark.text)
    }

    /// The height goes as a text, since the number is that of the rack unit.
    fn mounted(&mut self, mount: &Mount) -> &mut Self {
        self.n = mount.unit.map(u32::from);
        self.text = Some(Str::from(mount.height.get().to_string()));
        self.to(mount.rack).coded(mount.face.word())
    }

    fn at(&mut self, at: &'a Place) -> &mut Self {
        self.at = Some(Box::new(place(at)));
        self
    }

    fn spot(&mut self, at: &'a Spot) -> &mut Self {
        self.spot = Some(Box::new(spot(at)));
        self
    }

    fn cables(&mut self, cables: &'a [PlannedCable]) -> &mut Self {
        self.cables = Some(cables.iter().map(planned).collect());
        self
    }
}

fn id<'a>(id: ThingId) -> Option<Str<'a>> {
    Some(Str::from(id.to_string()))
}

pub(super) fn fact(fact: &Fact) -> FactV1<'_> {
    let mut shape = FactV1::default();
    fill(&mut shape, fact);
    shape
}

fn fill<'a, 'o>(out: &'o mut FactV1<'a>, fact: &'a Fact) -> &'o mut FactV1<'a> {
    match fact {
        Fact::Job(JobFact::Named(name)) => out.plain("JobNamed").text(name),
        Fact::Job(JobFact::PinoutChosen(pinout)) => out.plain("PinoutChosen").coded(pinout.word()),
        Fact::Job(JobFact::TagAddressSet(address)) => out.plain("TagAddressSet").text(address),
        Fact::Job(JobFact::BoxHolds { number, medium }) => {
            if let Some(medium) = medium {
                out.coded_as(&medium.key());
            }
            out.plain("BoxHolds").n(u32::from(*number))
        }
        Fact::Job(JobFact::TagsPrinted(sheet)) => out
            .plain("TagsPrinted")
            .coded_as(&sheet.tags)
            .n(u32::from(sheet.number))
            .text(&sheet.stock),
        Fact::Job(JobFact::BoxTagged { number, kind, text }) => out
            .plain("BoxTagged")
            .coded(kind.word())
            .n(u32::from(*number))
            .text(text),
        Fact::Unit(of, UnitFact::Added) => out.about("UnitAdded", *of),
        Fact::Unit(of, UnitFact::Named(name)) => out.about("UnitNamed", *of).text(name),
        Fact::Floor(of, FloorFact::Added) => out.about("FloorAdded", *of),
        Fact::Floor(of, FloorFact::Named(name)) => out.about("FloorNamed", *of).text(name),
        Fact::Floor(of, FloorFact::Numbered(number)) => {
            out.about("FloorNumbered", *of).n(u32::from(*number))
        }
        Fact::Floor(of, FloorFact::OnSheet(sheet)) => out.about("FloorOnSheet", *of).text(sheet),
        Fact::Room(of, fact) => room(out, (*of).into(), fact),
        Fact::OutletType(of, OutletTypeFact::Added) => out.about("OutletTypeAdded", *of),
        Fact::OutletType(of, OutletTypeFact::Named(name)) => {
            out.about("OutletTypeNamed", *of).text(name)
        }
        Fact::OutletType(of, OutletTypeFact::Holds(cables)) => {
            out.about("OutletTypeHolds", *of).cables(cables)
        }
        Fact::Outlet(of, fact) => outlet(out, (*of).into(), fact),
        Fact::Cable(of, fact) => cable(out, (*of).into(), fact),
        Fact::Pull(of, fact) => pull(out, *of, fact),
        Fact::End(of, fact) => end(out, *of, fact),
        Fact::JacketAdded(of) => out.about("JacketAdded", *of),
        Fact::Rack(of, RackFact::Added) => out.about("RackAdded", *of),
        Fact::Rack(of, RackFact::InSpace(space)) => out
            .about("RackInSpace", *of)
            .n(u32::from(space.floor()))
            .coded_as(&space.letters()),
        Fact::Rack(of, RackFact::Named(name)) => out.about("RackNamed", *of).text(name),
        Fact::Rack(of, RackFact::InRoom(room)) => out.about("RackInRoom", *of).to(*room),
        Fact::Rack(of, RackFact::Tagged(mark)) => out.about("RackTagged", *of).marked(mark),
        Fact::Rack(of, RackFact::Built(build)) => rack_built(out, (*of).into(), *build),
        Fact::Panel(of, fact) => panel(out, (*of).into(), fact),
        Fact::PositionKept(position, kept) => position_kept(out, *position, kept),
        Fact::Device(of, DeviceFact::Added) => out.about("DeviceAdded", *of),
        Fact::Device(of, DeviceFact::Named(name)) => out.about("DeviceNamed", *of).text(name),
        Fact::PositionPatched(position, to) => {
            let number = u32::from(position.number.get());
            let out = out.about("PositionPatched", position.panel).n(number);
            match to {
                Some(to) => out.at(to),
                None => out,
            }
        }
        Fact::Device(of, DeviceFact::Model(model)) => out.about("DeviceModel", *of).text(model),
        Fact::Device(of, DeviceFact::Serial(serial)) => out.about("DeviceSerial", *of).text(serial),
        Fact::Device(of, DeviceFact::InRoom(room)) => out.about("DeviceInRoom", *of).to(*room),
        Fact::Device(of, DeviceFact::Mounted(None)) => out.about("DeviceMounted", *of),
        Fact::Device(of, DeviceFact::Mounted(Some(mount))) => {
            out.about("DeviceMounted", *of).mounted(mount)
        }
        Fact::Joint(of, JointFact::Added(kind)) => out.about("JointAdded", *of).coded(kind.word()),
        Fact::Joint(of, JointFact::Named(name)) => out.about("JointNamed", *of).text(name),
        Fact::Joint(of, JointFact::InRoom(room)) => out.about("JointInRoom", *of).to(*room),
        Fact::LooseEnd(of, fact) => loose_end(out, (*of).into(), fact),
        Fact::Picture(of, fact) => picture(out, (*of).into(), fact),
        Fact::Conduit(of, fact) => conduit(out, (*of).into(), fact),
        Fact::Block(of, fact) => block(out, (*of).into(), fact),
        // Never drafted: no command makes an unknown fact, and stored lines are not rewritten.
        Fact::Unknown { kind } => out.plain(kind),
    }
}

fn room<'a, 'o>(out: &'o mut FactV1<'a>, of: ThingId, fact: &'a RoomFact) -> &'o mut FactV1<'a> {
    match fact {
        RoomFact::Added => out.about("RoomAdded", of),
        RoomFact::Named(name) => out.about("RoomNamed", of).text(name),
        RoomFact::Coded(code) => out.about("RoomCoded", of).coded_as(code),
        RoomFact::OnFloor(floor) => out.about("RoomOnFloor", of).to(*floor),
        RoomFact::InUnit(unit) => out.about("RoomInUnit", of).to(*unit),
        RoomFact::Ordered(order) => out.about("RoomOrdered", of).n(*order),
        RoomFact::Covering(Cover::NotYet { reason }) => {
            out.about("RoomNotToCover", of).note(reason)
        }
        RoomFact::Covering(Cover::Ok(ok)) => {
            let checks: Vec<&str> = ok.checks.iter().copied().map(CoverCheck::word).collect();
            out.text = Some(Str::from(checks.join(" ")));
            out.known = Some(Ids::of(&ok.known));
            out.about("RoomOkToCover", of)
                .n(u32::from(ok.counted))
                .note(&ok.note)
        }
        RoomFact::Covering(Cover::Closed) => out.about("RoomClosed", of),
    }
}

fn outlet<'a, 'o>(
    out: &'o mut FactV1<'a>,
    of: ThingId,
    fact: &'a OutletFact,
) -> &'o mut FactV1<'a> {
    match fact {
        OutletFact::Added => out.about("OutletAdded", of),
        OutletFact::Numbered { room, number } => out
            .about("OutletNumbered", of)
            .to(*room)
            .n(u32::from(number.get())),
        OutletFact::Typed(OutletKind::Usual(key)) => out.about("OutletTyped", of).coded(key),
        OutletFact::Typed(OutletKind::Own(kind)) => out.about("OutletTyped", of).to(*kind),
        OutletFact::Purposed(purpose) => out.about("OutletPurposed", of).text(purpose),
        OutletFact::Placed(place) => out.about("OutletPlaced", of).spot(place),
        OutletFact::Boxed(WallBox::Gangs(gangs)) => out
            .about("OutletBoxed", of)
            .coded("gangs")
            .n(u32::from(*gangs)),
        OutletFact::Boxed(WallBox::Ring) => out.about("OutletBoxed", of).coded("ring"),
        OutletFact::Boxed(WallBox::None) => out.about("OutletBoxed", of).coded("none"),
        OutletFact::Stands(Standing::Wanted) => out.about("OutletWanted", of),
        OutletFact::Stands(Standing::Cancelled { reason }) => {
            out.about("OutletCancelled", of).note(reason)
        }
        OutletFact::Noted(note) => out.about("OutletNoted", of).text(note),
        OutletFact::Slack(slack) => {
            let millimetres = slack.length.map(|length| length.0.unsigned_abs());
            out.n = millimetres;
            out.about("OutletSlack", of).text(&slack.place)
        }
        OutletFact::Waits(waiting) => out
            .about("OutletWaits", of)
            .coded(waiting.whom.word())
            .text(&waiting.words),
        OutletFact::ChangeOrdered(order) => out.about("OutletChangeOrdered", of).text(order),
        OutletFact::Tagged(mark) => out.about("OutletTagged", of).marked(mark),
    }
}

fn cable<'a, 'o>(out: &'o mut FactV1<'a>, of: ThingId, fact: &'a CableFact) -> &'o mut FactV1<'a> {
    match fact {
        CableFact::Added => out.about("CableAdded", of),
        CableFact::Named(RunName::Feeds { outlet, letter }) => {
            out.about("CableFeeds", of).to(*outlet).coded_as(letter)
        }
        CableFact::Named(RunName::Ties { near, far, number }) => out
            .about("CableTies", of)
            .to(*near)
            .to2(*far)
            .n(u32::from(*number)),
        CableFact::Leaves(Leaves::Rack(None)) => out.about("CableToRack", of),
        CableFact::Leaves(Leaves::Rack(Some(rack))) => out.about("CableToRack", of).to(*rack),
        CableFact::Leaves(Leaves::Outlet(outlet)) => out.about("CableFromOutlet", of).to(*outlet),
        CableFact::MadeOf(medium) => out.about("CableMadeOf", of).coded_as(&medium.key()),
        CableFact::Purposed(purpose) => out.about("CablePurposed", of).text(purpose),
        CableFact::InJacket(jacket) => out.about("CableInJacket", of).to(*jacket),
        CableFact::Stands(Standing::Wanted) => out.about("CableWanted", of),
        CableFact::Stands(Standing::Cancelled { reason }) => {
            out.about("CableCancelled", of).note(reason)
        }
        CableFact::Cancelled { reason, known } => {
            out.known = Some(Ids::of(known));
            out.about("CableCancelled", of).note(reason)
        }
        CableFact::KnownAs(name) => out.about("CableKnownAs", of).text(name),
        CableFact::TagKept { tag, called } => out.about("CableTagKept", of).text(tag).note(called),
        CableFact::Noted(note) => out.about("CableNoted", of).text(note),
        CableFact::Repulled {
            pull,
            reason,
            known,
        } => {
            out.known = known.as_deref().map(Ids::of);
            out.about("CableRepulled", of).pull(*pull).note(reason)
        }
        CableFact::ChangeOrdered(order) => out.about("CableChangeOrdered", of).text(order),
        CableFact::PassesThrough { conduit, lying } => out
            .about("CablePasses", of)
            .to(*conduit)
            .coded(lying.word()),
    }
}

fn pull<'a, 'o>(out: &'o mut FactV1<'a>, of: PullRef, fact: &'a PullFact) -> &'o mut FactV1<'a> {
    match fact {
        PullFact::Reported(outcome) => out.about_pull("PullReported", of).coded(outcome.word()),
        PullFact::DrawnFrom(number) => out.about_pull("DrawnFromBox", of).n(u32::from(*number)),
        PullFact::Tested(test) => out
            .about_pull("CopperTested", of)
            .coded(test.method.word())
            .text(test.outcome.word())
            .note(&test.note),
    }
}

fn end<'a, 'o>(out: &'o mut FactV1<'a>, of: EndOfPull, fact: &'a EndFact) -> &'o mut FactV1<'a> {
    match fact {
        EndFact::Planned(None) => out.about_end("EndPlanned", of),
        EndFact::Planned(Some(to)) => out.about_end("EndPlanned", of).at(to),
        EndFact::Placed(Placement::Landed { place: to, fitting }) => {
            out.about_end("EndLanded", of).at(to).coded(fitting.word())
        }
        EndFact::Placed(Placement::Lifted) => out.about_end("EndLifted", of),
        EndFact::Placed(Placement::Spare { kept, reason }) => {
            out.about_end("EndSpared", of).text(kept).note(reason)
        }
        EndFact::Placed(Placement::Dead { reason }) => out.about_end("EndDead", of).note(reason),
        EndFact::Split(legs) => out.about_end("EndSplit", of).n(u32::from(legs.get())),
        EndFact::Marked(mark) => out.about_end("EndMarked", of).marked(mark),
        EndFact::TagLost => out.about_end("TagLost", of),
        EndFact::Seen { at } => out.about_end("EndSeen", of).text(at),
        EndFact::Footage(read) => out
            .about_end("FootageRead", of)
            .n(read.value)
            .coded(read.unit.word()),
    }
}

fn panel<'a, 'o>(out: &'o mut FactV1<'a>, of: ThingId, fact: &'a PanelFact) -> &'o mut FactV1<'a> {
    match fact {
        PanelFact::Added(make) => out
            .about("PanelAdded", of)
            .coded(make.connector.key())
            .n(u32::from(make.positions.get())),
        PanelFact::InRack(rack) => out.about("PanelInRack", of).to(*rack),
        PanelFact::Lettered(letters) => out.about("PanelLettered", of).coded_as(letters),
        PanelFact::AtUnit(None) => out.about("PanelAtUnit", of),
        PanelFact::AtUnit(Some(unit)) => out.about("PanelAtUnit", of).n(u32::from(*unit)),
        PanelFact::Purposed(purpose) => out.about("PanelPurposed", of).text(purpose),
        PanelFact::Tagged(mark) => out.about("PanelTagged", of).marked(mark),
        PanelFact::StripPrinted(words) => out.about("PanelStripPrinted", of).text(words),
        PanelFact::High(height) => out.about("PanelHigh", of).n(u32::from(height.get())),
    }
}

fn position_kept<'a, 'o>(
    out: &'o mut FactV1<'a>,
    position: Position,
    kept: &'a Availability,
) -> &'o mut FactV1<'a> {
    let number = u32::from(position.number.get());
    match kept {
        Availability::Open => out.about("PositionOpen", position.panel).n(number),
        Availability::Reserved { reason } => out
            .about("PositionReserved", position.panel)
            .n(number)
            .note(reason),
        Availability::Bad { reason } => out
            .about("PositionBad", position.panel)
            .n(number)
            .note(reason),
    }
}

fn loose_end<'a, 'o>(
    out: &'o mut FactV1<'a>,
    of: ThingId,
    fact: &'a LooseEndFact,
) -> &'o mut FactV1<'a> {
    match fact {
        LooseEndFact::Added { number } => out.about("LooseEndAdded", of).n(u32::from(*number)),
        LooseEndFact::Found(found) => {
            if let Some(room) = found.room {
                out.to(room);
            }
            if let Some(medium) = &found.medium {
                out.coded_as(&medium.key());
            }
            out.about("LooseEndFound", of)
                .text(&found.place)
                .note(&found.note)
        }
        LooseEndFact::Joined(end) => out.about("LooseEndJoined", of).to(end.cable).side(*end),
        LooseEndFact::Parted => out.about("LooseEndParted", of),
    }
}

fn picture<'a, 'o>(
    out: &'o mut FactV1<'a>,
    of: ThingId,
    fact: &'a PictureFact,
) -> &'o mut FactV1<'a> {
    match fact {
        PictureFact::Added(digest) => out.about("PictureAdded", of).coded_as(digest),
        PictureFact::Shows(shows) => {
            let kind = match shows {
                Shows::Outlet(_) => "outlet",
                Shows::Room(_) => "room",
                Shows::LooseEnd(_) => "loose-end",
                Shows::Plan(_) => "plan",
            };
            out.about("PictureShows", of).coded(kind).to(shows.thing())
        }
        PictureFact::Noted(note) => out.about("PictureNoted", of).text(note),
        PictureFact::Points(points) => {
            out.points = Some(points.iter().map(point).collect());
            out.about("PicturePoints", of)
        }
        PictureFact::Stands(Standing::Wanted) => out.about("PictureWanted", of),
        PictureFact::Stands(Standing::Cancelled { reason }) => {
            out.about("PictureDropped", of).note(reason)
        }
    }
}

fn conduit<'a, 'o>(
    out: &'o mut FactV1<'a>,
    of: ThingId,
    fact: &'a ConduitFact,
) -> &'o mut FactV1<'a> {
    match fact {
        ConduitFact::Added { number } => out.about("ConduitAdded", of).n(u32::from(*number)),
        ConduitFact::Reaches { side, at } => {
            out.side = Some(Str::from(side.word()));
            let out = out.about("ConduitReaches", of);
            match at {
                ConduitEnd::Outlet(to) => out.coded("outlet").to(*to),
                ConduitEnd::Rack(to) => out.coded("rack").to(*to),
                ConduitEnd::Room(to) => out.coded("room").to(*to),
                ConduitEnd::Words(words) => out.text(words),
            }
        }
        ConduitFact::Sized(size) => out.about("ConduitSized", of).text(size),
        ConduitFact::PullString(lying) => out.about("ConduitString", of).coded(lying.word()),
        ConduitFact::Noted(note) => out.about("ConduitNoted", of).text(note),
        ConduitFact::Stands(Standing::Wanted) => out.about("ConduitWanted", of),
        ConduitFact::Stands(Standing::Cancelled { reason }) => {
            out.about("ConduitCancelled", of).note(reason)
        }
        ConduitFact::Tagged(mark) => out.about("ConduitTagged", of).marked(mark),
    }
}

fn rack_built<'a, 'o>(
    out: &'o mut FactV1<'a>,
    of: ThingId,
    build: RackBuild,
) -> &'o mut FactV1<'a> {
    out.n = build.units().map(|units| u32::from(units.get()));
    out.about("RackBuilt", of).coded(match build {
        RackBuild::Units(_) => "units",
        RackBuild::Enclosure => "enclosure",
        RackBuild::Board => "board",
        RackBuild::Rail => "rail",
    })
}

fn block<'a, 'o>(out: &'o mut FactV1<'a>, of: ThingId, fact: &'a BlockFact) -> &'o mut FactV1<'a> {
    match fact {
        BlockFact::Added(kind) => out.about("BlockAdded", of).coded(kind.word()),
        BlockFact::Named(name) => out.about("BlockNamed", of).text(name),
        BlockFact::Mounted(mount) => out.about("BlockMounted", of).mounted(mount),
        BlockFact::Stands(Standing::Wanted) => out.about("BlockWanted", of),
        BlockFact::Stands(Standing::Cancelled { reason }) => {
            out.about("BlockTakenOut", of).note(reason)
        }
    }
}

fn point(point: &Point) -> Object<PointV1<'_>> {
    let kind = match point.what {
        Seen::Cable(_) => "cable",
        Seen::Outlet(_) => "outlet",
    };
    Object(PointV1 {
        kind: Str::from(kind),
        of: Str::from(point.what.thing().to_string()),
        x: point.at.x,
        y: point.at.y,
        offset: Str::from(&*point.offset),
    })
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
        letter: cable.letter.map(|letter| Str::from(letter.to_string())),
        medium: Str::from(cable.medium.key()),
        purpose: Str::from(&*cable.purpose),
    })
}
