//! What tags are wanted of, how a person wishes them, and what came of it.

use super::{Microns, Shape, Tag};
use crate::domain::ids::{CableId, OutletId, PanelId, RoomId};
use crate::domain::place::TaggedPlace;

/// What tags are wanted of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The cables that are still to be pulled and have no printed tag.
    ToPull,
    /// All cables without a printed tag.
    Untagged,
    /// All cables of a room.
    Room(RoomId),
    /// All cables of an outlet.
    Outlet(OutletId),
    /// One cable.
    Cable(CableId),
    /// All cables.
    All,
    /// The outlets, for inside their boxes or behind their plates.
    Outlets,
    /// The racks and the panels.
    Racks,
    /// The conduits, and the boxes that cable is drawn from.
    Conduits,
    /// The plates, for behind their windows.
    Inserts,
    /// The panels, for their strips.
    Strips,
    /// One outlet, for inside its box.
    Place(OutletId),
    /// One panel.
    Panel(PanelId),
    /// The strips of one panel.
    Strip(PanelId),
    /// The places whose printed tags say what is not so any more.
    OldPlaces,
    /// The panels whose printed strips do.
    OldStrips,
}

impl Choice {
    /// Whether such tags can go on labels of a shape.
    #[must_use]
    pub fn takes(self, shape: Shape) -> bool {
        match self {
            Self::ToPull
            | Self::Untagged
            | Self::Room(_)
            | Self::Outlet(_)
            | Self::Cable(_)
            | Self::All => {
                matches!(shape, Shape::Wrap { .. } | Shape::Flag { .. } | Shape::Flat)
            }
            Self::Outlets
            | Self::Racks
            | Self::Conduits
            | Self::Place(_)
            | Self::Panel(_)
            | Self::OldPlaces => {
                matches!(shape, Shape::Flat | Shape::Flag { .. })
            }
            Self::Inserts => matches!(shape, Shape::Insert | Shape::Flat),
            Self::Strips | Self::Strip(_) | Self::OldStrips => {
                matches!(shape, Shape::Strip { .. })
            }
        }
    }

    /// Whether they are strips of panels.
    #[must_use]
    pub fn is_strips(self) -> bool {
        matches!(self, Self::Strips | Self::Strip(_) | Self::OldStrips)
    }

    /// Whether they are tags of cables, which come in sets.
    #[must_use]
    pub fn is_cables(self) -> bool {
        match self {
            Self::ToPull
            | Self::Untagged
            | Self::Room(_)
            | Self::Outlet(_)
            | Self::Cable(_)
            | Self::All => true,
            Self::Outlets
            | Self::Racks
            | Self::Conduits
            | Self::Inserts
            | Self::Strips
            | Self::Place(_)
            | Self::Panel(_)
            | Self::Strip(_)
            | Self::OldPlaces
            | Self::OldStrips => false,
        }
    }
}

/// What a person wishes for the tags.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wishes {
    /// How many identical tags each cable gets.
    pub set: u16,
    /// Whether the position stands on the tag of a cable that is landed.
    pub with_position: bool,
    /// The outside diameter of all the cables, where it is not the usual one.
    pub diameter: Option<Microns>,
    /// From port to port of all the panels, where it is not the usual one.
    pub pitch: Option<Microns>,
}

/// The tags of a choice in the order of the work, and of which things they are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// The tags.
    pub tags: Vec<Tag>,
    /// The cables that have tags among them.
    pub cables: Vec<CableId>,
    /// The places.
    pub places: Vec<TaggedPlace>,
    /// The strips, with all their words.
    pub strips: Vec<(PanelId, String)>,
    /// What gets no tag and why, in words.
    pub left_out: Vec<String>,
    /// The cables among them whose rack nobody chose, so that their tags name no far place.
    pub unplaced: Vec<CableId>,
    /// Tags with a character that no label can show; a pen can write it.
    pub by_hand: Vec<Tag>,
}
