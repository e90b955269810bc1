//! The kinds of finding, in the trade's words.

use crate::domain::ids::{
    BlockId, CableId, ConduitId, DeviceId, FloorId, JointId, LooseEndId, OutletId, OutletTypeId,
    PanelId, PictureId, RackId, RoomId, UnitId,
};
use crate::domain::mount::Mountable;
use crate::domain::place::{End, Face, Place, Position};
use crate::domain::work::PullOutcome;

/// What stands between the job and a gate. The order of the kinds is the order of the list.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// More than one end is landed on a place that takes one: a port, a jack in a plate, a
    /// device's port, a way of a joint. A terminal may be shared and is never meant here.
    DoubleClaim {
        /// The place.
        place: Place,
        /// The ends, by id.
        ends: Vec<End>,
    },
    /// More than one patch cord is plugged in at one front or port, or one beside a cable that is
    /// landed there.
    PatchedTwice {
        /// The front or port.
        place: Place,
        /// The positions whose fronts the cords come from, by id; its own first where it is a front
        /// that is patched to something else.
        from: Vec<Position>,
        /// The cables that are landed there, by id.
        ends: Vec<End>,
    },
    /// One end is said to be landed at several places. It can be at one only.
    EndAtTwoPlaces {
        /// The end, or the leg of a split end.
        end: End,
        /// The places.
        places: Vec<Place>,
    },
    /// People disagree about what has become of an end: landed and spare, straight on and with an
    /// adapter; or split, and landed or out of use as a whole.
    EndDisputed {
        /// The end, or the leg of a split end.
        end: End,
    },
    /// One label code stands for several runs, and at least one of them is wanted. A run that was
    /// withdrawn or cancelled still holds its code. Not meant are runs of several outlets that share
    /// one code themselves.
    CodeTwice {
        /// The runs, by id.
        cables: Vec<CableId>,
    },
    /// One outlet code stands for several outlets, and at least one of them is wanted.
    OutletCodeTwice {
        /// The outlets, by id.
        outlets: Vec<OutletId>,
    },
    /// Two rooms have one code.
    RoomCodeTwice {
        /// The rooms, by id.
        rooms: Vec<RoomId>,
    },
    /// Two panels have the same letters, so that `B07` is two ports.
    PanelLettersTwice {
        /// The panels, by id.
        panels: Vec<PanelId>,
    },
    /// Two racks are said to be one telecom space, so that a TIA-606 identifier is two positions.
    SpaceTwice {
        /// The racks, by id.
        racks: Vec<RackId>,
    },
    /// Things on one side of a rack take the same rack units, or each meets one that does.
    UnitsShared {
        /// The rack.
        rack: RackId,
        /// Its front or its rear.
        face: Face,
        /// The things, panels first, then devices, by id.
        things: Vec<Mountable>,
    },
    /// A thing reaches below the first rack unit or above the last one of its rack.
    OutsideRack {
        /// The rack.
        rack: RackId,
        /// The thing.
        thing: Mountable,
    },
    /// Two loose ends are said to be one end of one cable.
    JoinedTwice {
        /// The cable end.
        end: End,
        /// The loose ends, by id.
        loose: Vec<LooseEndId>,
    },
    /// One number stands on several loose ends, and nobody knows the cable of any of them.
    LooseNumberTwice {
        /// The loose ends, by id.
        loose: Vec<LooseEndId>,
    },
    /// One number stands for several conduits, and at least one of them is wanted.
    ConduitNumberTwice {
        /// The conduits, by id.
        conduits: Vec<ConduitId>,
    },
    /// People disagree about something that has one answer.
    Disputed {
        /// About what thing.
        thing: Thing,
        /// About what of it.
        field: Field,
    },
    /// What is written on the cable that lies there now is not the run's code, or not the same at
    /// both ends. A tag that was lost no longer counts.
    MarksDiffer {
        /// The run.
        cable: CableId,
    },
    /// The code that stands on the cable is not the one that its outlet and letter give now: it
    /// was marked, and the outlet moved or was renumbered since. Not meant is a tag of which
    /// somebody said that it is right beside this very name.
    CodeMoved {
        /// The run.
        cable: CableId,
    },
    /// Somebody worked on a cable whose adding was taken back.
    WorkOnWithdrawn {
        /// The run.
        cable: CableId,
    },
    /// A cable was cancelled, and an end of it is still landed, or somebody worked on it who did not know; or
    /// whoever cancelled it did not know of that work.
    WorkOnCancelled {
        /// The run.
        cable: CableId,
    },
    /// Somebody worked on copper that does not lie there any more, unknown to whoever pulled it anew; or on a pull that
    /// was taken back, or that is not the one that lies there now.
    WorkAstray {
        /// The run.
        cable: CableId,
    },
    /// An end belongs or is landed on a position that is not there: the number is beyond the
    /// panel's last, or the panel was taken out.
    NoSuchPosition {
        /// The end, or the leg of a split end.
        end: End,
        /// The position.
        position: Position,
    },
    /// An end is landed on a position that is out of use.
    LandedOnBad {
        /// The end, or the leg of a split end.
        end: End,
        /// The position.
        position: Position,
    },
    /// An end is landed on a position that is kept for something.
    LandedOnReserved {
        /// The end, or the leg of a split end.
        end: End,
        /// The position.
        position: Position,
    },
    /// A cable is terminated straight on a connector that is not made for it, or a local run on a panel.
    Misfit {
        /// The end, or the leg of a split end.
        end: End,
        /// The position.
        position: Position,
    },
    /// The pull went wrong: too short, stuck or damaged.
    PullTrouble {
        /// The run.
        cable: CableId,
        /// How it went.
        outcome: PullOutcome,
    },
    /// The length marks of both ends give no cable, more than a box holds, or are of two units, and
    /// neither was read twice alike.
    MarksDoubtful {
        /// The run.
        cable: CableId,
    },
    /// The last test of the cable that lies there now failed.
    TestFailed {
        /// The run.
        cable: CableId,
    },

    /// The run has no code yet: its outlet has no number, its room no code, or its rack no
    /// telecom space.
    CableWithoutCode {
        /// The run.
        cable: CableId,
    },
    /// Nobody said what the cable is made of.
    CableWithoutMedium {
        /// The run.
        cable: CableId,
    },
    /// It is not settled to which rack a home run goes, or a rack of a tie line was taken out.
    NoRackChosen {
        /// The run.
        cable: CableId,
    },
    /// An outlet gets no cable, and none leaves it.
    OutletWithoutCables {
        /// The outlet.
        outlet: OutletId,
    },
    /// An outlet is in no room, or in one that was taken back: nobody walking the rooms meets it.
    OutletWithoutRoom {
        /// The outlet.
        outlet: OutletId,
    },
    /// A room with outlets has no code, so that none of its cables has one.
    RoomWithoutCode {
        /// The room.
        room: RoomId,
    },
    /// More than one end is meant for a place that takes one.
    PlannedTwice {
        /// The place.
        place: Place,
        /// The ends, by id.
        ends: Vec<End>,
    },
    /// A local run of which one place in the field is not named, or is an outlet that was
    /// cancelled or taken back. Its other work shows once that is settled.
    LocalRunOpen {
        /// The run.
        cable: CableId,
    },
    /// A home run that feeds no outlet, or one that was cancelled or taken back, while the run
    /// itself is still wanted. Its other work shows once that is settled.
    OutletGone {
        /// The run.
        cable: CableId,
    },

    /// The cable is not pulled, nor any other in the jacket that it shares.
    NotPulled {
        /// The run.
        cable: CableId,
    },
    /// The length marks of a category cable give more than a permanent link may have, 90 m (ANSI/TIA-568 and
    /// ISO/IEC 11801), and no certification was passed.
    TooLong {
        /// The run.
        cable: CableId,
    },
    /// An end bears no code: never marked on the cable that lies there now, or its tag was lost.
    NotMarked {
        /// The end.
        end: End,
    },
    /// Nobody knows yet which cable a loose end belongs to.
    LooseEndOpen {
        /// The loose end.
        loose: LooseEndId,
    },

    /// An end is neither landed nor left spare or dead on purpose; of a split end, this leg.
    NotLanded {
        /// The end, or the leg of a split end.
        end: End,
    },
    /// No test of the cable that lies there now was passed.
    NotVerified {
        /// The run.
        cable: CableId,
    },

    /// An end was left coiled without a word why.
    SpareWithoutReason {
        /// The end, or the leg of a split end.
        end: End,
    },
    /// An end was put out of use without a word why.
    DeadWithoutReason {
        /// The end, or the leg of a split end.
        end: End,
    },
}

/// What people may disagree about a thing of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    /// The job as a whole.
    Job,
    /// A building or unit.
    Unit(UnitId),
    /// A floor.
    Floor(FloorId),
    /// A room.
    Room(RoomId),
    /// An outlet type of the job's own.
    OutletType(OutletTypeId),
    /// An outlet.
    Outlet(OutletId),
    /// A cable run.
    Cable(CableId),
    /// An end of a run, or a leg of it.
    End(End),
    /// A rack.
    Rack(RackId),
    /// A panel.
    Panel(PanelId),
    /// A position of a panel.
    Position(Position),
    /// A device.
    Device(DeviceId),
    /// A joint.
    Joint(JointId),
    /// A loose end.
    LooseEnd(LooseEndId),
    /// A picture.
    Picture(PictureId),
    /// A box or spool on site, by its number.
    Box(u16),
    /// A conduit.
    Conduit(ConduitId),
    /// A cable in a conduit.
    Passage(CableId, ConduitId),
    /// A blank, a shelf or a cable guide.
    Block(BlockId),
}

/// What has one answer only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Field {
    /// What it is called; of a cable: after which outlet and letter, or which racks.
    Name,
    /// How the jacks of the job are wired.
    Pinout,
    /// The address before the text of a tag.
    TagAddress,
    /// Its number: of a floor, of an outlet in its room, on the tag of a loose end, of a conduit.
    Number,
    /// Its short code.
    Code,
    /// The floor that it is on.
    Floor,
    /// The building or unit that it is in.
    Unit,
    /// Its place in the walking order.
    Order,
    /// The cables that an outlet of this type gets.
    Cables,
    /// Its type, or its kind.
    Kind,
    /// What it is for.
    Purpose,
    /// Where exactly it is.
    Spot,
    /// Its box.
    WallBox,
    /// Whether it is still wanted.
    Standing,
    /// Where its far end goes.
    Leaves,
    /// What it is made of; of a box or spool: what is in it.
    Medium,
    /// The jacket that it shares.
    Jacket,
    /// Which pull lies there now.
    Repull,
    /// How the pull that lies there now went.
    Outcome,
    /// The box or spool that the pull that lies there now was drawn from.
    DrawnFrom,
    /// Where the end belongs.
    Planned,
    /// Into how many legs the end is split.
    Split,
    /// The telecom space.
    Space,
    /// The room that it stands in.
    Room,
    /// What its positions offer, and how many there are.
    Make,
    /// The rack that it is in.
    Rack,
    /// Its letters.
    Letters,
    /// Its height in the rack.
    RackUnit,
    /// What a position is kept for.
    Kept,
    /// What its front is patched to.
    Patched,
    /// Which model it is.
    Model,
    /// Its serial number.
    Serial,
    /// Where it was found, and what is known of it.
    Found,
    /// Which cable end it turned out to be.
    Joined,
    /// The sheet of the plans that shows it.
    Sheet,
    /// Whether its walls may be closed.
    Cover,
    /// The cable left coiled behind it.
    Slack,
    /// Whether it waits for somebody.
    Waits,
    /// The change order that it came with.
    ChangeOrder,
    /// What it shows.
    Shows,
    /// The remark on it.
    Note,
    /// What is seen where on it.
    Points,
    /// Where it begins.
    From,
    /// Where it ends.
    To,
    /// How wide it is.
    Size,
    /// Whether a pull string lies in it.
    PullString,
    /// Whether a cable lies in a conduit.
    Lying,
    /// How a rack is built.
    Build,
    /// How many rack units it takes.
    Height,
    /// Where it hangs in a rack.
    Mount,
}
