//! Where ends belong and where they are.

use super::ids::{
    CableId, ConduitId, DeviceId, JointId, OutletId, PanelId, RackId, RoomId, ThingId,
};
use super::label::{LegNumber, Letter, PositionNumber};

/// Which end of a cable: the one at the place whose code the run carries, or the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// At the outlet that the run feeds; for a tie line, at the rack that its code names first.
    Near,
    /// At the rack; for a local run, at the outlet that it leaves.
    Far,
}

impl Side {
    /// Both sides.
    pub const BOTH: [Self; 2] = [Self::Near, Self::Far];

    /// The other side.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Near => Self::Far,
            Self::Far => Self::Near,
        }
    }
}

/// One end of a cable, or one leg of an end that is split by conductors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct End {
    /// The cable.
    pub cable: CableId,
    /// Which end.
    pub side: Side,
    /// Which leg, when the end is split.
    pub leg: Option<LegNumber>,
}

impl End {
    /// The whole end of a cable.
    #[must_use]
    pub fn whole(cable: CableId, side: Side) -> Self {
        Self {
            cable,
            side,
            leg: None,
        }
    }
}

/// A position of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// The panel.
    pub panel: PanelId,
    /// The position on it.
    pub number: PositionNumber,
}

/// The two sides of a position: cables and ties end on the rear, patch cords on the front. A rack has
/// the same two sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Where cables and ties are terminated.
    Rear,
    /// Where patch cords are plugged in.
    Front,
}

/// A place that an end can be terminated at.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// A jack in the plate of an outlet, lettered like the cable that it was meant for.
    Jack {
        /// The outlet.
        outlet: OutletId,
        /// The jack in its plate.
        jack: Letter,
    },
    /// A position of a panel.
    Position {
        /// Which.
        position: Position,
        /// Rear or front.
        face: Face,
    },
    /// A device's port or terminal, without a panel between.
    Device {
        /// The device.
        device: DeviceId,
        /// The port as it is printed on the device.
        port: String,
    },
    /// One way of a splice, barrel, splitter or surge arrester.
    Joint {
        /// The joint.
        joint: JointId,
        /// Which of its ways, from 1.
        way: u8,
    },
}

impl Place {
    /// The rear of a panel position.
    #[must_use]
    pub fn rear(position: Position) -> Self {
        Self::Position {
            position,
            face: Face::Rear,
        }
    }

    /// The front of a panel position.
    #[must_use]
    pub fn front(position: Position) -> Self {
        Self::Position {
            position,
            face: Face::Front,
        }
    }
}

/// Where a conduit begins or ends.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ConduitEnd {
    /// At the box of an outlet.
    Outlet(OutletId),
    /// At a rack.
    Rack(RackId),
    /// Somewhere in a room.
    Room(RoomId),
    /// Anywhere else, in words; empty: not said.
    Words(String),
}

impl ConduitEnd {
    /// The thing that it is at; none where that is said in words.
    #[must_use]
    pub fn thing(&self) -> Option<ThingId> {
        match self {
            Self::Outlet(id) => Some(id.0),
            Self::Rack(id) => Some(id.0),
            Self::Room(id) => Some(id.0),
            Self::Words(_) => None,
        }
    }
}

/// A place that has a tag of its own, whatever is landed there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TaggedPlace {
    /// An outlet: inside its box or behind its plate.
    Outlet(OutletId),
    /// A panel.
    Panel(PanelId),
    /// A rack, by the code of its space.
    Rack(RackId),
    /// A conduit.
    Conduit(ConduitId),
    /// A box or spool that cable is drawn from, by its number.
    Box(u16),
}

/// How a cable sits on a connector of another kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fitting {
    /// Straight on.
    Direct,
    /// With an adapter between, because the kinds differ.
    Adapter,
    /// With a plug on the cable itself, and no jack.
    Plug,
}

/// What has become of an end.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Placement {
    /// Terminated at its place.
    Landed {
        /// Where.
        place: Place,
        /// How.
        fitting: Fitting,
    },
    /// Taken off, or known not to be terminated.
    Lifted,
    /// Left coiled on purpose.
    Spare {
        /// Where the coil is.
        kept: String,
        /// Why.
        reason: String,
    },
    /// Out of use.
    Dead {
        /// Why.
        reason: String,
    },
}

/// What a run is called after.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RunName {
    /// The outlet that it feeds, and its letter there.
    Feeds {
        /// The outlet.
        outlet: OutletId,
        /// The letter.
        letter: Letter,
    },
    /// The two racks that it ties.
    Ties {
        /// The rack named first.
        near: RackId,
        /// The other rack.
        far: RackId,
        /// Which of the ties between the two, from 1.
        number: u16,
    },
}

/// Where the far end of a run that feeds an outlet goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Leaves {
    /// To a rack: a home run. The rack may not be chosen yet.
    Rack(Option<RackId>),
    /// From another outlet: a local run, declared as such.
    Outlet(OutletId),
}

/// What kind of run follows from where its two ends belong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RunKind {
    /// Wall and rack.
    HomeRun,
    /// Two racks.
    TieLine,
    /// Two places in the field.
    LocalRun,
}

impl RunKind {
    /// The trade's word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HomeRun => "home run",
            Self::TieLine => "tie line",
            Self::LocalRun => "local run",
        }
    }
}
