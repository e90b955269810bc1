//! What people want to have written: checked against the registry, it becomes an act or a refusal
//! in words, with the ways out that reality may need.

use crate::domain::ids::{
    ActId, BlockId, CableId, ConduitId, DeviceId, FloorId, JacketId, JointId, LooseEndId, OutletId,
    OutletTypeId, PanelId, PictureId, RackId, RoomId, UnitId,
};
use crate::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use crate::domain::length::FootageMark;
use crate::domain::medium::Medium;
use crate::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::picture::{Digest, Point, Shows};
use crate::domain::place::{ConduitEnd, End, Fitting, Place, Position, TaggedPlace};
use crate::domain::work::{
    Availability, CoverCheck, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot,
    Waiting, WallBox,
};
pub use crate::journal::CopperTest;
use crate::journal::{Draft, FactRef, Found, Journal, PanelMake, Registry};

mod bench;
mod check;
mod codes;
mod conduit;
/// Patch cords, and what stands behind them.
mod cord;
mod correct;
mod done;
mod fill;
mod land;
mod loose;
mod mark;
mod picture;
mod plan;
mod print;
mod rack;
mod rough;
mod same;
mod tags;
mod tails;
mod twice;
mod undo;

pub use done::done_words;

/// Everything that a person can want.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum Want {
    /// Call the job something.
    NameJob { name: String },
    /// Say how the jacks of the job are wired.
    ChoosePinout { pinout: Pinout },
    /// Say which web address stands before the text of the tags; empty: none.
    SetTagAddress { address: String },
    /// Add a building or unit.
    AddUnit { name: String },
    /// Rename a building or unit.
    RenameUnit { unit: UnitId, name: String },
    /// Add a floor.
    AddFloor { name: String, number: Option<u8> },
    /// Give a floor this name and this number.
    RenameFloor {
        floor: FloorId,
        name: String,
        number: Option<u8>,
    },
    /// Add a room at the end of the walking order.
    AddRoom {
        name: String,
        code: RoomCode,
        floor: Option<FloorId>,
        unit: Option<UnitId>,
    },
    /// Rename a room.
    RenameRoom { room: RoomId, name: String },
    /// Give a room another code.
    RecodeRoom { room: RoomId, code: RoomCode },
    /// Put a room on a floor, or on none.
    PutRoomOnFloor {
        room: RoomId,
        floor: Option<FloorId>,
    },
    /// Put a room in a building or unit, or in none.
    PutRoomInUnit { room: RoomId, unit: Option<UnitId> },
    /// Give a room its place in the walking order.
    OrderRoom { room: RoomId, order: u32 },
    /// Let two rooms change places in the walking order.
    SwapRooms { one: RoomId, other: RoomId },
    /// Add an outlet type.
    AddOutletType {
        name: String,
        cables: Vec<PlannedCable>,
    },
    /// Change the name of an outlet type, and its cables for outlets added from now on.
    ChangeOutletType {
        kind: OutletTypeId,
        name: String,
        cables: Vec<PlannedCable>,
    },
    /// Add an outlet with the cables of its type.
    AddOutlet {
        room: RoomId,
        kind: OutletKind,
        purpose: String,
        rack: Option<RackId>,
    },
    /// Say what an outlet is for.
    SetOutletPurpose { outlet: OutletId, purpose: String },
    /// Say where exactly an outlet is.
    PlaceOutlet { outlet: OutletId, spot: Spot },
    /// Say what box an outlet has.
    BoxOutlet { outlet: OutletId, wall_box: WallBox },
    /// Give an outlet another room or number.
    MoveOutlet {
        outlet: OutletId,
        room: RoomId,
        number: OutletNumber,
    },
    /// Take an outlet and its cables out of the job.
    CancelOutlet { outlet: OutletId, reason: String },
    /// Remark on an outlet.
    NoteOutlet { outlet: OutletId, note: String },
    /// Add a cable to an outlet.
    AddCable {
        outlet: OutletId,
        medium: Medium,
        purpose: String,
        rack: Option<RackId>,
    },
    /// Add a tie line.
    AddTie {
        near: RackId,
        far: RackId,
        medium: Medium,
        purpose: String,
    },
    /// Say what a cable is made of.
    SetMedium { cable: CableId, medium: Medium },
    /// Say what a cable is for.
    SetPurpose { cable: CableId, purpose: String },
    /// Send runs home to a rack.
    RouteHome {
        cables: Vec<CableId>,
        rack: Option<RackId>,
    },
    /// Declare a run local: it leaves another outlet.
    RouteLocal { cable: CableId, from: OutletId },
    /// Put cables into one jacket.
    ShareJacket {
        cables: Vec<CableId>,
        jacket: Option<JacketId>,
    },
    /// Take a cable out of the job.
    CancelCable { cable: CableId, reason: String },
    /// Bring a cancelled cable back.
    RestoreCable { cable: CableId },
    /// Keep an old name of a cable.
    KnowCableAs { cable: CableId, name: String },
    /// Remark on a cable.
    NoteCable { cable: CableId, note: String },

    /// Say how a pull went.
    ReportPull {
        cables: Vec<CableId>,
        outcome: PullOutcome,
    },
    /// Say which box a cable is drawn from.
    DrawFrom { cable: CableId, number: u16 },
    /// Note the length mark at an end.
    ReadFootage { end: End, mark: FootageMark },
    /// Mark ends with their codes.
    MarkEnds {
        ends: Vec<End>,
        kind: MarkKind,
        copies: u8,
    },
    /// Tags were printed: a set of so many alike for each cable, one for each place, and panel strips
    /// with the words of all their fields, a line for each position. `tags` counts the labels.
    PrintTags {
        stock: String,
        tags: u16,
        set: u8,
        cables: Vec<CableId>,
        places: Vec<TaggedPlace>,
        strips: Vec<(PanelId, String)>,
    },
    /// The printed tags of places are on.
    FixPlaceTags { places: Vec<TaggedPlace> },
    /// A tag is gone.
    LoseTag { end: End },
    /// A tag was scanned where its end is.
    SeeEnd { end: End, at: String },
    /// Note a test of the copper.
    TestCable { cable: CableId, test: CopperTest },

    /// Say where an end belongs.
    PlanEnd { end: End, place: Option<Place> },
    /// Say where several ends belong, all at once.
    PlanEnds { places: Vec<(End, Position)> },
    /// Give the next free positions of a panel to the cables that suit it, in walking order.
    FillPanel { panel: PanelId },
    /// Terminate an end.
    Land {
        end: End,
        place: Place,
        fitting: Fitting,
    },
    /// Terminate an end where another one is recorded: it is here, I see it; the other is not.
    LandInstead {
        end: End,
        place: Place,
        fitting: Fitting,
    },
    /// Terminate several ends where they belong.
    LandAsPlanned { ends: Vec<End> },
    /// Terminate several ends in the plate of an outlet, each in its jack.
    LandInPlate {
        outlet: OutletId,
        jacks: Vec<JackEnd>,
    },
    /// Take an end off.
    Lift { end: End },
    /// Leave an end coiled on purpose.
    Spare {
        end: End,
        kept: String,
        reason: String,
    },
    /// Put an end out of use.
    Dead { end: End, reason: String },
    /// Divide an end by conductors.
    SplitEnd { end: End, legs: LegNumber },
    /// Make the legs of a split end one end again.
    JoinLegs { end: End },

    /// These ends were taken for each other: what is called the first is really the second, and so on in a
    /// ring; two are crossed.
    Uncross { ends: Vec<End>, how: Correction },
    /// Two runs are one cable that was noted twice.
    SameCable { stays: CableId, goes: CableId },
    /// Two outlets are one that was noted twice, each with its cables.
    SameOutlet { stays: OutletId, goes: OutletId },
    /// Two rooms are one that was noted twice.
    SameRoom { stays: RoomId, goes: RoomId },
    /// A cable whose adding was taken back is not there, whatever somebody said of work on it.
    WorkGone { cable: CableId },
    /// A cable whose adding was taken back is there: that is taken back in its turn.
    ThereAllTheSame { cable: CableId, strike: ActId },
    /// Work on copper that does not lie there now is past.
    WorkPast { cable: CableId },
    /// Work on copper that does not lie there now was done on what lies there.
    WorkHere { cable: CableId },
    /// Of something written down in two versions, one is what happened: it is written down anew.
    WriteAgain { act: ActId, version: usize },
    /// A cable came out at another outlet.
    CameOutAt {
        cable: CableId,
        outlet: OutletId,
        how: Correction,
    },
    /// A run is pulled anew.
    Repull { cable: CableId, reason: String },

    /// Add a rack.
    AddRack {
        space: SpaceCode,
        name: String,
        room: Option<RoomId>,
    },
    /// Rename a rack.
    RenameRack { rack: RackId, name: String },
    /// Give a rack another space code.
    RespaceRack { rack: RackId, space: SpaceCode },
    /// Add a panel.
    AddPanel {
        rack: RackId,
        make: PanelMake,
        letters: PanelLetters,
        unit: Option<u8>,
    },
    /// Give a panel other letters.
    LetterPanel {
        panel: PanelId,
        letters: PanelLetters,
    },
    /// Let two panels change their letters.
    SwapLetters { one: PanelId, other: PanelId },
    /// Say where a panel stands, and what it is for.
    PlacePanel {
        panel: PanelId,
        rack: RackId,
        unit: Option<u8>,
        purpose: String,
    },
    /// Say what a position is kept for.
    KeepPosition {
        position: Position,
        kept: Availability,
    },
    /// Say what a patch cord joins the front of a position to; none: the cord is taken out.
    Patch {
        position: Position,
        to: Option<Place>,
    },
    /// Say so although something else is said to be there: I see it, the other is not.
    PatchInstead { position: Position, to: Place },
    /// Put another panel in the place of one, with all that is landed and listed on it; the fitting is
    /// that of the cables which do not fit its connector.
    ReplacePanel {
        panel: PanelId,
        make: PanelMake,
        fitting: Fitting,
    },
    /// Say which model a device is, and its serial number; never a password.
    DescribeDevice {
        device: DeviceId,
        model: String,
        serial: String,
    },
    /// Add a device that cables land on without a panel.
    AddDevice { name: String, room: Option<RoomId> },
    /// Add a joint.
    AddJoint {
        kind: JointKind,
        name: String,
        room: Option<RoomId>,
    },

    /// Say how a rack is built.
    BuildRack { rack: RackId, build: RackBuild },
    /// Say how many rack units a panel takes.
    SizePanel { panel: PanelId, height: Units },
    /// Hang a blank, a shelf or a cable guide in a rack.
    AddBlock {
        kind: BlockKind,
        name: String,
        mount: Mount,
    },
    /// Name a blank, a shelf or a cable guide; empty: by its kind. With a mount, it is hung there too.
    RenameBlock {
        block: BlockId,
        name: String,
        mount: Option<Mount>,
    },
    /// Hang something in a rack, or elsewhere in it.
    Hang { what: Mountable, mount: Mount },
    /// Take something out of its rack; a panel stays in it, at no rack unit.
    TakeOut { what: Mountable },
    /// Hang something where others hang, who move up for it, or down where there is no room above.
    MakeRoom { change: Box<Self> },

    /// Add a conduit, or say anew how one is laid. Without a number a new one gets the next free one, and
    /// one that is there keeps its own.
    LayConduit {
        conduit: Option<ConduitId>,
        number: Option<u16>,
        laid: Laid,
    },
    /// Give a conduit the next number that none ever had.
    RenumberConduit { conduit: ConduitId },
    /// Say whether a pull string lies in a conduit.
    StringConduit { conduit: ConduitId, lying: Lying },
    /// Take a conduit out of the job.
    CancelConduit { conduit: ConduitId, reason: String },
    /// Bring a cancelled conduit back.
    RestoreConduit { conduit: ConduitId },
    /// Say whether a cable lies in a conduit.
    PassConduit {
        cable: CableId,
        conduit: ConduitId,
        lying: Lying,
    },

    /// Number an end whose cable is not known.
    AddLooseEnd { found: Found },
    /// Number the tails that nobody knows on a stretch of positions; the note is what is written on
    /// one.
    NumberTails {
        panel: PanelId,
        stretch: [PositionNumber; 2],
        note: String,
    },
    /// Say what is known of a loose end.
    DescribeLooseEnd { loose: LooseEndId, found: Found },
    /// Give a loose end the next number that none ever had.
    RenumberLooseEnd { loose: LooseEndId },
    /// A loose end is this end of a known cable.
    JoinLooseEnd { loose: LooseEndId, end: End },
    /// Two loose ends are the two ends of one cable, which gets a code at an outlet.
    JoinLooseEnds {
        near: LooseEndId,
        far: LooseEndId,
        outlet: OutletId,
        medium: Medium,
    },
    /// Loose ends are joined as a toner has shown, which proves the copper too.
    Toned { join: Box<Self> },
    /// That proved wrong.
    PartLooseEnd { loose: LooseEndId },

    /// Say what a numbered box or spool on site holds; none: it is not there any more.
    HoldBox { number: u16, medium: Option<Medium> },
    /// Say from which boxes cables are drawn, all at once.
    DealBoxes { deals: Vec<(CableId, u16)> },
    /// Say which sheet of the plans shows a floor.
    PutFloorOnSheet { floor: FloorId, sheet: String },
    /// Say how much cable is coiled behind an outlet, and where.
    LeaveSlack { outlet: OutletId, slack: Slack },
    /// Say whom an outlet waits for.
    LetOutletWait { outlet: OutletId, waiting: Waiting },
    /// Say with which change order an outlet came.
    OrderOutlet { outlet: OutletId, order: String },
    /// Say with which change order a cable came.
    OrderCable { cable: CableId, order: String },
    /// Bring a cancelled outlet back with the cables that were cancelled with it.
    RestoreOutlet { outlet: OutletId },
    /// Let another outlet have the cables of one that is given up.
    MergeOutlets { from: OutletId, into: OutletId },
    /// Give some cables of an outlet an outlet of their own beside it.
    SplitOutlet {
        outlet: OutletId,
        cables: Vec<CableId>,
    },
    /// Sign that the walls of a room may be closed.
    OkToCover {
        room: RoomId,
        counted: u16,
        checks: Vec<CoverCheck>,
        note: String,
    },
    /// Say that the walls of a room must not be closed yet.
    NotToCover { room: RoomId, reason: String },
    /// Say that the walls of a room are closed.
    CloseWalls { room: RoomId },

    /// Keep a picture of something.
    AddPicture { digest: Digest, shows: Shows },
    /// Remark on a picture.
    NotePicture { picture: PictureId, note: String },
    /// Say what is seen where on a picture.
    PointOut {
        picture: PictureId,
        points: Vec<Point>,
    },
    /// Put a picture away.
    DropPicture { picture: PictureId, reason: String },

    /// Take back something done.
    Undo { act: ActId },
    /// Settle who a device's port belongs to: name it anew.
    RenameDevice { device: DeviceId, name: String },
    /// Name a joint anew.
    RenameJoint { joint: JointId, name: String },
    /// Give a cable another letter at its outlet.
    Reletter { cable: CableId, letter: Letter },

    /// Where people disagree, one of them was right: what this fact says holds alone.
    KeepSaid { fact: FactRef },
    /// The code that stands on a cable is out of date: the old tags come off, and it is marked anew
    /// with the code that its outlet and letter give now.
    TagsAnew { cable: CableId },
    /// It is right that the tags of a cable say another code than the one that its outlet and letter
    /// give now.
    KeepTag { cable: CableId },
    /// An outlet is moved, merged or split, and the tags of its cables stay as they are, which is
    /// not asked about any more.
    WithOldTags { change: Box<Self> },
    /// An outlet is moved, merged or split, and the tags of its cables come off, so that their codes
    /// follow it.
    WithNewTags { change: Box<Self> },
}

/// An end with the jack of a plate that it is terminated on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JackEnd {
    /// The end.
    pub end: End,
    /// The jack.
    pub jack: Letter,
}

/// How a conduit is laid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Where it begins and where it ends.
    pub ends: [ConduitEnd; 2],
    /// How wide it is, as people call it; empty: not said.
    pub size: String,
    /// A remark; empty: none.
    pub note: String,
}

/// What is put right when something lies otherwise than it is recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Correction {
    /// The tags on the cables are changed; the record was right.
    TagsMove,
    /// The record is changed; the tags stay.
    RecordChanges,
}

/// Why something was not written, and what can be done instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong, where, and what to do.
    pub words: String,
    /// What reality may need instead, each one tap.
    pub ways_out: Vec<WayOut>,
    /// The panel to look at first, where that is the way on.
    pub see: Option<PanelId>,
    /// What of it is to be put right, where that is one thing.
    pub fault: Option<Fault>,
}

/// What of a want is to be put right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A text that is missing.
    Missing,
    /// A name that something else has.
    Name,
    /// A code, a letter or a number that something else has.
    Code,
    /// The rack unit.
    Unit,
}

/// One way out of a refusal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayOut {
    /// What the button says.
    pub label: String,
    /// What it does.
    pub want: Box<Want>,
}

impl Refusal {
    /// A refusal without a way out.
    #[must_use]
    pub fn new(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            ways_out: Vec::new(),
            see: None,
            fault: None,
        }
    }

    fn of(fault: Fault, words: impl Into<String>) -> Self {
        Self {
            fault: Some(fault),
            ..Self::new(words)
        }
    }

    fn or(mut self, label: impl Into<String>, want: Want) -> Self {
        self.ways_out.push(WayOut {
            label: label.into(),
            want: Box::new(want),
        });
        self
    }
}

/// Checks what a person wants and says what is to be written.
///
/// # Errors
/// When it cannot be done as the registry stands.
pub fn draft(want: &Want, journal: &Journal) -> Result<Draft, Refusal> {
    attempt(want, journal).map_err(|mut refusal| {
        // A way out that would be refused in its turn is none.
        refusal
            .ways_out
            .retain(|way| attempt(&way.want, journal).is_ok());
        refusal
    })
}

fn attempt(want: &Want, journal: &Journal) -> Result<Draft, Refusal> {
    let desk = Desk {
        journal,
        registry: journal.registry(),
    };
    let mut draft = journal.draft();
    desk.write(want, &mut draft)?;
    // These speak of what is not in the job, on purpose.
    if !matches!(
        want,
        Want::WorkGone { .. } | Want::ThereAllTheSame { .. } | Want::WriteAgain { .. }
    ) {
        desk.refuse_gone(&draft)?;
    }
    desk.refuse_newer(&draft)?;
    if desk.changes_nothing(&draft) {
        return Err(Refusal::new(
            "There is nothing to change: it is so already.",
        ));
    }
    desk.insist_on_things(&mut draft);
    Ok(draft)
}

/// What a command sees.
struct Desk<'a> {
    journal: &'a Journal,
    registry: &'a Registry,
}

type Done = Result<(), Refusal>;

impl Desk<'_> {
    fn write(&self, want: &Want, draft: &mut Draft) -> Done {
        self.plan(want, draft)
            .or_else(|| self.outlet(want, draft))
            .or_else(|| self.cable(want, draft))
            .or_else(|| self.mark(want, draft))
            .or_else(|| self.print(want, draft))
            .or_else(|| self.land(want, draft))
            .or_else(|| self.correct(want, draft))
            .or_else(|| self.same(want, draft))
            .or_else(|| self.rack(want, draft))
            .or_else(|| self.loose(want, draft))
            .or_else(|| self.rough(want, draft))
            .or_else(|| self.picture(want, draft))
            .or_else(|| self.conduit(want, draft))
            .or_else(|| self.cord(want, draft))
            .or_else(|| self.bench(want, draft))
            .unwrap_or(Ok(()))
    }
}

/// Something that people must say in words.
fn words<'a>(text: &'a str, what: &str) -> Result<&'a str, Refusal> {
    if text.trim().is_empty() {
        let words = format!("{what} is empty. Write it in a few words.");
        return Err(Refusal::of(Fault::Missing, words));
    }
    Ok(text)
}
