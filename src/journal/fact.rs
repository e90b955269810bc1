//! What an act says happened, in the trade's words.
//!
//! A fact sets one single-valued field, or adds one line to a list, or brings one thing into
//! being. So a later act can name exactly what it replaces, and nothing more.

use crate::domain::ids::{
    ActId, BlockId, CableId, ConduitId, DeviceId, FloorId, JacketId, JointId, LooseEndId, OutletId,
    OutletTypeId, PanelId, PictureId, PullId, RackId, RoomId, ThingId, UnitId,
};
use crate::domain::label::{LegNumber, OutletNumber, PanelLetters, RoomCode, SpaceCode};
use crate::domain::length::FootageMark;
use crate::domain::medium::{Connector, Medium};
use crate::domain::mount::{BlockKind, Mount, RackBuild, Units};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::picture::{Digest, Point, Shows};
use crate::domain::place::{ConduitEnd, End, Leaves, Place, Placement, Position, RunName, Side};
use crate::domain::work::{
    Availability, CoverCheck, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot,
    Standing, TestMethod, TestOutcome, Waiting, WallBox,
};

/// One fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fact {
    /// About the job as a whole.
    Job(JobFact),
    /// About a building or unit.
    Unit(UnitId, UnitFact),
    /// About a floor.
    Floor(FloorId, FloorFact),
    /// About a room.
    Room(RoomId, RoomFact),
    /// About an outlet type of the job's own.
    OutletType(OutletTypeId, OutletTypeFact),
    /// About an outlet.
    Outlet(OutletId, OutletFact),
    /// About a cable run.
    Cable(CableId, CableFact),
    /// About one pull of a run.
    Pull(PullRef, PullFact),
    /// About one end of one pull.
    End(EndOfPull, EndFact),
    /// A jacket that holds several cables exists.
    JacketAdded(JacketId),
    /// About a rack.
    Rack(RackId, RackFact),
    /// About a panel.
    Panel(PanelId, PanelFact),
    /// What a position is kept for.
    PositionKept(Position, Availability),
    /// What a patch cord joins the front of a position to: a port of a device, or the front of another
    /// position; none: there is no cord.
    PositionPatched(Position, Option<Place>),
    /// About a device.
    Device(DeviceId, DeviceFact),
    /// About a joint.
    Joint(JointId, JointFact),
    /// About a loose end.
    LooseEnd(LooseEndId, LooseEndFact),
    /// About a picture.
    Picture(PictureId, PictureFact),
    /// About a conduit.
    Conduit(ConduitId, ConduitFact),
    /// About a blank, a shelf or a cable guide.
    Block(BlockId, BlockFact),
    /// A kind of fact that only a newer version knows.
    Unknown {
        /// Its kind, as written.
        kind: String,
    },
}

/// One pull of one run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PullRef {
    /// The run.
    pub cable: CableId,
    /// The pull.
    pub pull: PullId,
}

/// One end of one pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EndOfPull {
    /// The end.
    pub end: End,
    /// The copper that it is an end of.
    pub pull: PullId,
}

/// About the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobFact {
    /// What it is called.
    Named(String),
    /// How its jacks are wired.
    PinoutChosen(Pinout),
    /// What stands before the text of a tag, so that any camera opens the registry; empty: nothing.
    TagAddressSet(String),
    /// What a numbered box or spool on site holds; none: it is not there any more.
    BoxHolds {
        /// The number on the box.
        number: u16,
        /// The cable in it.
        medium: Option<Medium>,
    },
    /// Tags were printed.
    TagsPrinted(PrintedSheet),
    /// A numbered box or spool has a tag of its own.
    BoxTagged {
        /// The number on the box.
        number: u16,
        /// How the tag got there.
        kind: MarkKind,
        /// Its code as printed.
        text: String,
    },
}

/// A sheet or roll of tags that was printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedSheet {
    /// Which of the job, from 1. Two phones that do not meet may print one number both: these are
    /// two sheets, and no disagreement.
    pub number: u16,
    /// What they are printed on, in plain words.
    pub stock: String,
    /// How many labels, strips included.
    pub tags: u16,
}

/// About a building or unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitFact {
    /// It exists.
    Added,
    /// What it is called.
    Named(String),
}

/// About a floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FloorFact {
    /// It exists.
    Added,
    /// What it is called.
    Named(String),
    /// Its number, as space codes use it.
    Numbered(u8),
    /// The sheet of the plans that shows it.
    OnSheet(String),
}

/// About a room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RoomFact {
    /// It exists.
    Added,
    /// What it is called.
    Named(String),
    /// Its short code.
    Coded(RoomCode),
    /// The floor that it is on.
    OnFloor(FloorId),
    /// The building or unit that it is in.
    InUnit(UnitId),
    /// Its place in the walking order.
    Ordered(u32),
    /// Whether its walls may be closed.
    Covering(Cover),
}

/// Whether the walls of a room may be closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cover {
    /// Not yet, for a reason.
    NotYet {
        /// Why.
        reason: String,
    },
    /// Somebody signed that they may.
    Ok(CoverOk),
    /// They are closed.
    Closed,
}

/// What was signed for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoverOk {
    /// How many cables were counted.
    pub counted: u16,
    /// What was looked at, in the order of the list.
    pub checks: Vec<CoverCheck>,
    /// Why it may be covered although something is missing.
    pub note: String,
    /// Up to which act of each writer the job was known to whoever signed. What is not among these
    /// came after, or from somebody else, and opens the question again.
    pub known: Vec<ActId>,
}

/// About an outlet type of the job's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OutletTypeFact {
    /// It exists.
    Added,
    /// What it is called.
    Named(String),
    /// The cables that it gets.
    Holds(Vec<PlannedCable>),
}

/// About an outlet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OutletFact {
    /// It exists.
    Added,
    /// Its room and its number there.
    Numbered {
        /// The room.
        room: RoomId,
        /// The number.
        number: OutletNumber,
    },
    /// Its type.
    Typed(OutletKind),
    /// What it is for.
    Purposed(String),
    /// Where exactly it is.
    Placed(Spot),
    /// What box it has.
    Boxed(WallBox),
    /// Whether it is still wanted.
    Stands(Standing),
    /// A remark.
    Noted(String),
    /// The cable left coiled behind it.
    Slack(Slack),
    /// Whether it waits for somebody.
    Waits(Waiting),
    /// The change order that it came with; empty: none.
    ChangeOrdered(String),
    /// It has a tag of its own, with its code as printed.
    Tagged(Mark),
}

/// About a cable run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CableFact {
    /// It exists.
    Added,
    /// What it is called after.
    Named(RunName),
    /// Where its far end goes.
    Leaves(Leaves),
    /// What it is made of.
    MadeOf(Medium),
    /// What it is for.
    Purposed(String),
    /// The jacket that it shares with others.
    InJacket(JacketId),
    /// Whether it is still wanted.
    Stands(Standing),
    /// It is not wanted any more, said by somebody who knew of some work on it. Work of which nobody knew
    /// who took it out of the job opens the question again.
    Cancelled {
        /// Why.
        reason: String,
        /// What had been done on its copper, as far as that was known.
        known: Vec<ActId>,
    },
    /// A name that somebody wrote on it or in a list.
    KnownAs(String),
    /// It is right so: its tag says one code, and the run is called another since.
    TagKept {
        /// What stands on the tag.
        tag: String,
        /// What the run is called.
        called: String,
    },
    /// A remark.
    Noted(String),
    /// It was pulled anew: the code stays, the old copper with its tags and tests is past.
    Repulled {
        /// The new pull.
        pull: PullId,
        /// Why.
        reason: String,
        /// What had been done on its copper, as far as that was known; none where an older version wrote it.
        known: Option<Vec<ActId>>,
    },
    /// The change order that it came with; empty: none.
    ChangeOrdered(String),
    /// Whether it lies in a conduit.
    PassesThrough {
        /// The conduit.
        conduit: ConduitId,
        /// Whether it does.
        lying: Lying,
    },
}

/// About one pull.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PullFact {
    /// How it went.
    Reported(PullOutcome),
    /// The box or spool that it was drawn from.
    DrawnFrom(u16),
    /// A test of the copper.
    Tested(CopperTest),
}

/// A test of the copper between two ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopperTest {
    /// How.
    pub method: TestMethod,
    /// With what outcome.
    pub outcome: TestOutcome,
    /// A remark, such as the name of the result file.
    pub note: String,
}

/// About one end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EndFact {
    /// Where it belongs; none: not decided.
    Planned(Option<Place>),
    /// What has become of it.
    Placed(Placement),
    /// It was divided by conductors into so many legs.
    Split(LegNumber),
    /// It bears its code. The text is frozen here: a later rename never changes it.
    Marked(Mark),
    /// Its tag is gone.
    TagLost,
    /// Its tag was scanned there.
    Seen {
        /// Where, in words.
        at: String,
    },
    /// The length mark on the jacket.
    Footage(FootageMark),
}

/// A code on a cable end, or on the tag of a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// How it got there.
    pub kind: MarkKind,
    /// How many times.
    pub copies: u8,
    /// The code as written.
    pub text: String,
}

/// About a rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RackFact {
    /// It exists.
    Added,
    /// The telecom space that it is.
    InSpace(SpaceCode),
    /// What people call it.
    Named(String),
    /// The room that it stands in.
    InRoom(RoomId),
    /// It has a tag of its own, with the code of its space as printed.
    Tagged(Mark),
    /// How it is built.
    Built(RackBuild),
}

/// About a panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PanelFact {
    /// It exists, with this connector and so many positions, 1 to 96.
    Added(PanelMake),
    /// The rack that it is in.
    InRack(RackId),
    /// Its letters.
    Lettered(PanelLetters),
    /// The rack unit of its lower edge, from the bottom; none: it is not mounted by units.
    AtUnit(Option<u8>),
    /// What it is for.
    Purposed(String),
    /// It has a tag of its own, with its letters as printed.
    Tagged(Mark),
    /// A strip for its positions was printed: the words of all fields, a line for each position.
    StripPrinted(String),
    /// How many rack units it takes, where its rows say otherwise.
    High(Units),
}

/// What a panel is, for as long as it exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelMake {
    /// What its positions offer.
    pub connector: Connector,
    /// How many.
    pub positions: PanelSize,
}

/// How many positions a panel has: 1 to 96.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PanelSize(u16);

impl PanelSize {
    /// Checks a count of positions; none outside 1 to 96.
    #[must_use]
    pub fn new(count: u16) -> Option<Self> {
        (1..=96).contains(&count).then_some(Self(count))
    }

    /// The count.
    #[must_use]
    pub fn get(self) -> u16 {
        self.0
    }
}

/// About a device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DeviceFact {
    /// It exists.
    Added,
    /// What it is called.
    Named(String),
    /// The room that it is in.
    InRoom(RoomId),
    /// Which model it is; empty: not said.
    Model(String),
    /// Its serial number, as it stands on it; empty: not said.
    Serial(String),
    /// Where it hangs in a rack; none: in no rack.
    Mounted(Option<Mount>),
}

/// About a blank, a shelf or a cable guide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BlockFact {
    /// It exists, of this kind.
    Added(BlockKind),
    /// What it is called; empty: by its kind.
    Named(String),
    /// Where it hangs.
    Mounted(Mount),
    /// Whether it is still there.
    Stands(Standing),
}

/// About a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JointFact {
    /// It exists, of this kind.
    Added(JointKind),
    /// What it is called, and where.
    Named(String),
    /// The room that it is in.
    InRoom(RoomId),
}

/// About a loose end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LooseEndFact {
    /// It exists, with the number on its own tag.
    Added {
        /// The number.
        number: u16,
    },
    /// Where it was found and what is known of it.
    Found(Box<Found>),
    /// Which cable end it turned out to be.
    Joined(End),
    /// That proved wrong, or is not known any more.
    Parted,
}

/// About a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureFact {
    /// It exists, with these bytes.
    Added(Digest),
    /// What it shows.
    Shows(Shows),
    /// A remark; empty: none.
    Noted(String),
    /// What can be seen where on it.
    Points(Vec<Point>),
    /// Whether it is still wanted.
    Stands(Standing),
}

/// About a conduit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ConduitFact {
    /// It exists, with its number, from 1.
    Added {
        /// The number.
        number: u16,
    },
    /// Where it begins, or where it ends.
    Reaches {
        /// Near: where it begins.
        side: Side,
        /// Where that is.
        at: ConduitEnd,
    },
    /// How wide it is, as people call it; empty: not said.
    Sized(String),
    /// Whether a string lies in it to pull a cable with.
    PullString(Lying),
    /// A remark; empty: none.
    Noted(String),
    /// Whether it is still wanted.
    Stands(Standing),
    /// It has a tag of its own, with its code as printed.
    Tagged(Mark),
}

/// What is known of a loose end.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// Where, in words.
    pub place: String,
    /// In which room or at which rack's room, where that is known.
    pub room: Option<RoomId>,
    /// What it is made of, where that can be seen.
    pub medium: Option<Medium>,
    /// What is written on it, or a remark.
    pub note: String,
}

impl Fact {
    /// The thing that the fact adds.
    #[must_use]
    pub fn adds(&self) -> Option<ThingId> {
        match self {
            Self::Unit(id, UnitFact::Added) => Some(id.0),
            Self::Floor(id, FloorFact::Added) => Some(id.0),
            Self::Room(id, RoomFact::Added) => Some(id.0),
            Self::OutletType(id, OutletTypeFact::Added) => Some(id.0),
            Self::Outlet(id, OutletFact::Added) => Some(id.0),
            Self::Cable(id, CableFact::Added) => Some(id.0),
            Self::Cable(_, CableFact::Repulled { pull, .. }) => Some(pull.0),
            Self::JacketAdded(id) => Some(id.0),
            Self::Rack(id, RackFact::Added) => Some(id.0),
            Self::Panel(id, PanelFact::Added(_)) => Some(id.0),
            Self::Device(id, DeviceFact::Added) => Some(id.0),
            Self::Joint(id, JointFact::Added(_)) => Some(id.0),
            Self::LooseEnd(id, LooseEndFact::Added { .. }) => Some(id.0),
            Self::Picture(id, PictureFact::Added(_)) => Some(id.0),
            Self::Conduit(id, ConduitFact::Added { .. }) => Some(id.0),
            Self::Block(id, BlockFact::Added(_)) => Some(id.0),
            _ => None,
        }
    }

    /// The thing that the fact is about; none for the job itself and for an unknown fact.
    #[must_use]
    pub fn subject(&self) -> Option<ThingId> {
        match self {
            Self::Job(_) | Self::Unknown { .. } => None,
            Self::Unit(id, _) => Some(id.0),
            Self::Floor(id, _) => Some(id.0),
            Self::Room(id, _) => Some(id.0),
            Self::OutletType(id, _) => Some(id.0),
            Self::Outlet(id, _) => Some(id.0),
            Self::Cable(id, _) => Some(id.0),
            Self::Pull(pull, _) => Some(pull.cable.0),
            Self::End(end, _) => Some(end.end.cable.0),
            Self::JacketAdded(id) => Some(id.0),
            Self::Rack(id, _) => Some(id.0),
            Self::Panel(id, _) => Some(id.0),
            Self::PositionKept(position, _) | Self::PositionPatched(position, _) => {
                Some(position.panel.0)
            }
            Self::Device(id, _) => Some(id.0),
            Self::Joint(id, _) => Some(id.0),
            Self::LooseEnd(id, _) => Some(id.0),
            Self::Picture(id, _) => Some(id.0),
            Self::Conduit(id, _) => Some(id.0),
            Self::Block(id, _) => Some(id.0),
        }
    }

    /// Hands every thing that the fact names, its subject included, to `name`.
    pub fn mentions(&self, name: &mut dyn FnMut(ThingId)) {
        if let Some(subject) = self.subject() {
            name(subject);
        }
        match self {
            Self::Room(_, RoomFact::OnFloor(floor)) => name(floor.0),
            Self::Room(_, RoomFact::InUnit(unit)) => name(unit.0),
            Self::Outlet(_, OutletFact::Numbered { room, .. })
            | Self::Rack(_, RackFact::InRoom(room))
            | Self::Device(_, DeviceFact::InRoom(room))
            | Self::Joint(_, JointFact::InRoom(room)) => name(room.0),
            Self::LooseEnd(_, LooseEndFact::Found(found)) => {
                found.room.into_iter().for_each(|room| name(room.0));
            }
            Self::Outlet(_, OutletFact::Typed(OutletKind::Own(kind))) => name(kind.0),
            Self::Cable(_, CableFact::Named(RunName::Feeds { outlet, .. }))
            | Self::Cable(_, CableFact::Leaves(Leaves::Outlet(outlet))) => name(outlet.0),
            Self::Cable(_, CableFact::Named(RunName::Ties { near, far, .. })) => {
                name(near.0);
                name(far.0);
            }
            Self::Cable(_, CableFact::Leaves(Leaves::Rack(Some(rack))))
            | Self::Panel(_, PanelFact::InRack(rack)) => {
                name(rack.0);
            }
            Self::Cable(_, CableFact::InJacket(jacket)) => name(jacket.0),
            Self::Cable(_, CableFact::PassesThrough { conduit, .. }) => name(conduit.0),
            Self::Conduit(_, ConduitFact::Reaches { at, .. }) => {
                at.thing().into_iter().for_each(name);
            }
            Self::Cable(_, CableFact::Repulled { pull, .. })
            | Self::Pull(PullRef { pull, .. }, _) => name(pull.0),
            Self::End(EndOfPull { pull, .. }, fact) => {
                name(pull.0);
                if let EndFact::Planned(Some(place))
                | EndFact::Placed(Placement::Landed { place, .. }) = fact
                {
                    name(place_thing(place));
                }
            }
            Self::PositionPatched(_, Some(place)) => name(place_thing(place)),
            Self::LooseEnd(_, LooseEndFact::Joined(end)) => name(end.cable.0),
            Self::Device(_, DeviceFact::Mounted(Some(mount)))
            | Self::Block(_, BlockFact::Mounted(mount)) => name(mount.rack.0),
            Self::Picture(_, PictureFact::Shows(shows)) => name(shows.thing()),
            Self::Picture(_, PictureFact::Points(points)) => {
                points.iter().for_each(|point| name(point.what.thing()));
            }
            _ => {}
        }
    }
}

/// The thing that a place is part of.
fn place_thing(place: &Place) -> ThingId {
    match place {
        Place::Jack { outlet, .. } => outlet.0,
        Place::Position { position, .. } => position.panel.0,
        Place::Device { device, .. } => device.0,
        Place::Joint { joint, .. } => joint.0,
    }
}
