//! What hangs where in a rack: rack units as IEC 60297 counts them, and what is built without.

use super::ids::{BlockId, DeviceId, PanelId, RackId, ThingId};
use super::place::Face;

/// The height of a rack unit in micrometres: 1.75 inches are 44.45 mm (EIA-310, IEC 60297).
pub const UNIT_MICRONS: i32 = 44_450;

/// The most positions in one row of a panel: 24 in one rack unit is customary (common practice, no
/// source).
pub const ROW: u16 = 24;

/// How many rack units: 1 to 60.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Units(u8);

impl Units {
    /// One.
    pub const ONE: Self = Self(1);

    /// Checks a count of rack units; none outside 1 to 60.
    #[must_use]
    pub fn new(count: u8) -> Option<Self> {
        (1..=60).contains(&count).then_some(Self(count))
    }

    /// The count.
    #[must_use]
    pub fn get(self) -> u8 {
        self.0
    }

    /// What a panel of so many positions takes where nobody says otherwise: one for each row.
    #[must_use]
    pub fn of_positions(count: u16) -> Self {
        let rows = count.div_ceil(ROW).clamp(1, 60);
        Self(u8::try_from(rows).unwrap_or(1))
    }
}

/// How a rack is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RackBuild {
    /// Open or closed, with so many rack units, counted from the bottom.
    Units(Units),
    /// A structured enclosure in a wall, without rack units.
    Enclosure,
    /// A board on a wall.
    Board,
    /// A rail that terminals are snapped on.
    Rail,
}

impl RackBuild {
    /// How many rack units it has; none where it is built without.
    #[must_use]
    pub fn units(self) -> Option<Units> {
        match self {
            Self::Units(units) => Some(units),
            Self::Enclosure | Self::Board | Self::Rail => None,
        }
    }
}

/// Where something hangs in a rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mount {
    /// The rack.
    pub rack: RackId,
    /// The rack unit of its lower edge, 1 the lowest; none: not said, or the rack has none.
    pub unit: Option<u8>,
    /// How many rack units it takes.
    pub height: Units,
    /// Whether it hangs on the front rails or on the rear ones.
    pub face: Face,
}

/// What fills a part of a rack and is neither a panel nor a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BlockKind {
    /// A plate that closes an opening.
    Blank,
    /// A shelf.
    Shelf,
    /// A guide that cables are led through.
    CableGuide,
}

impl BlockKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Blank, Self::Shelf, Self::CableGuide];

    /// The trade's word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Blank => "Blank",
            Self::Shelf => "Shelf",
            Self::CableGuide => "Cable guide",
        }
    }
}

/// Something that can hang in a rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mountable {
    /// A panel, always on the front rails.
    Panel(PanelId),
    /// A device.
    Device(DeviceId),
    /// A blank, a shelf, a cable guide.
    Block(BlockId),
}

impl Mountable {
    /// The thing that it is.
    #[must_use]
    pub fn thing(self) -> ThingId {
        match self {
            Self::Panel(id) => id.0,
            Self::Device(id) => id.0,
            Self::Block(id) => id.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rack_unit_is_44_45_mm() {
        // Published: EIA-310 and IEC 60297, 1.75 in = 44.45 mm exactly; 42 of them 1866.9 mm.
        assert_eq!(UNIT_MICRONS, 25_400 * 175 / 100);
        assert_eq!(42 * UNIT_MICRONS, 1_866_900);
    }

    #[test]
    fn a_panel_takes_a_unit_for_each_row_of_24() {
        // Common practice, no source: 24 ports in one rack unit, 48 in two.
        for (positions, units) in [(1, 1), (24, 1), (25, 2), (48, 2), (96, 4)] {
            assert_eq!(Units::of_positions(positions).get(), units, "{positions}");
        }
        assert_eq!(Units::new(0), None);
        assert_eq!(Units::new(61), None);
    }
}
