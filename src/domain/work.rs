//! What happens to cables, ends and positions on site.

use std::fmt;

use super::length::Millimetres;

/// How a pull went.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PullOutcome {
    /// It lies from end to end.
    Pulled,
    /// It does not reach.
    Short,
    /// It is stuck on the way.
    Stuck,
    /// The jacket or the conductors are hurt.
    Damaged,
}

/// Whether something lies in a conduit: a cable, or a string to pull one with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lying {
    /// It does.
    In,
    /// It does not.
    Out,
}

/// How an end is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    /// Written on the jacket.
    Pen,
    /// A printed tag exists.
    Printed,
    /// The printed tag is on the cable.
    Fixed,
}

/// How the copper between two ends was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TestMethod {
    /// Tone generator and probe.
    Toner,
    /// Wire map of all conductors.
    WireMap,
    /// Numbered remotes.
    Remote,
    /// Continuity or resistance of a pair, coax or speaker loop.
    Continuity,
    /// A category test with its result on file.
    Certification,
}

/// How a test came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TestOutcome {
    /// As it should be.
    Passed,
    /// Not so.
    Failed,
}

/// What a position is kept for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Availability {
    /// Free for use.
    Open,
    /// Kept for something.
    Reserved {
        /// For what.
        reason: String,
    },
    /// Out of use.
    Bad {
        /// Why.
        reason: String,
    },
}

/// The wiring of every 8P8C jack of the job (TIA-568).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pinout {
    /// T568A.
    A,
    /// T568B.
    B,
}

/// The box behind a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WallBox {
    /// A box of one to six gangs.
    Gangs(u8),
    /// A low-voltage ring.
    Ring,
    /// None: the cable comes out of the wall.
    None,
}

/// Where exactly an outlet is.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// Which wall, in words.
    pub wall: String,
    /// Height above the finished floor.
    pub height: Option<Millimetres>,
    /// Distance from the nearest corner or jamb.
    pub offset: Option<Millimetres>,
    /// Which corner or jamb, in words.
    pub offset_from: String,
}

/// Cable left coiled behind an outlet, for those who terminate it and for later.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Slack {
    /// How much.
    pub length: Option<Millimetres>,
    /// Where the coil is, in words.
    pub place: String,
}

/// Whom an outlet waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WaitsFor {
    /// Nobody: it can be worked on.
    Nobody,
    /// It is on hold.
    Hold,
    /// An answer of the builder.
    Builder,
    /// An answer of the client.
    Client,
    /// Others do it.
    Others,
}

/// Whether an outlet waits, and with what question.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Waiting {
    /// For whom.
    pub whom: WaitsFor,
    /// The question or the reason.
    pub words: String,
}

impl fmt::Display for Waiting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.whom {
            WaitsFor::Nobody => "waits for nobody",
            WaitsFor::Hold => "on hold",
            WaitsFor::Builder => "question for the builder",
            WaitsFor::Client => "question for the client",
            WaitsFor::Others => "by others",
        })?;
        match self.words.trim() {
            "" => Ok(()),
            words => write!(f, ": {words}"),
        }
    }
}

/// What somebody looked at before the board went up, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CoverCheck {
    /// The cables were counted.
    Counted,
    /// Every cable bears its code.
    Marked,
    /// The open walls were photographed.
    Photographed,
    /// The boxes are in place.
    Boxes,
    /// Nail plates are on where a screw could reach a cable.
    NailPlates,
    /// The slack coils are noted.
    Slack,
}

impl CoverCheck {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 6] = [
        Self::Counted,
        Self::Marked,
        Self::Photographed,
        Self::Boxes,
        Self::NailPlates,
        Self::Slack,
    ];
}

/// What joins cables in the field.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JointKind {
    /// Conductor to conductor.
    Splice,
    /// Connector to connector.
    Barrel,
    /// One to several.
    Splitter,
    /// Protection on the way.
    SurgeArrester,
}

impl JointKind {
    /// What it is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Splice => "splice",
            Self::Barrel => "barrel",
            Self::Splitter => "splitter",
            Self::SurgeArrester => "surge arrester",
        }
    }
}

/// Whether a run or an outlet is still wanted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// It is.
    Wanted,
    /// It was taken out of the job; its code stays taken.
    Cancelled {
        /// Why.
        reason: String,
    },
}
