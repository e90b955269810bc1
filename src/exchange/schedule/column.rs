//! The columns that a cable schedule can have.

/// What one column of a cable schedule holds. The order is that of our own files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Column {
    /// The label code of the cable, `KIT2-C`, or whatever the schedule calls the cable.
    Code,
    /// The floor on which the room is.
    Floor,
    /// The flat, unit or building.
    Unit,
    /// The room in words.
    Room,
    /// The short code of the room.
    RoomCode,
    /// The number of the outlet in its room.
    Outlet,
    /// The kind of outlet: "TV", "camera".
    OutletType,
    /// Where in its room the outlet is: "north wall".
    Spot,
    /// The letter of the cable at its outlet.
    Letter,
    /// The kind of cable: "Cat 6A shielded".
    Medium,
    /// What the cable is for.
    Purpose,
    /// The place that a local run leaves, in place of a rack.
    From,
    /// The rack or the space in which it stands.
    Rack,
    /// The panel in the rack.
    Panel,
    /// The port, terminal or whole position (`1A-B07`) at which the cable ends.
    Position,
    /// The name that the cable had before.
    OldName,
    /// The length; the unit may stand in the heading.
    Length,
    /// Anything else in words.
    Notes,
}

impl Column {
    /// All columns in the order of our own files.
    pub const ALL: [Self; 18] = [
        Self::Code,
        Self::Floor,
        Self::Unit,
        Self::Room,
        Self::RoomCode,
        Self::Outlet,
        Self::OutletType,
        Self::Spot,
        Self::Letter,
        Self::Medium,
        Self::Purpose,
        Self::From,
        Self::Rack,
        Self::Panel,
        Self::Position,
        Self::OldName,
        Self::Length,
        Self::Notes,
    ];

    /// The heading in our own files, also the name of the column on the screen.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::Code => "Label code",
            Self::Floor => "Floor",
            Self::Unit => "Unit",
            Self::Room => "Room",
            Self::RoomCode => "Room code",
            Self::Outlet => "Outlet number",
            Self::OutletType => "Outlet type",
            Self::Spot => "Place on the wall",
            Self::Letter => "Letter",
            Self::Medium => "Cable type",
            Self::Purpose => "Purpose",
            Self::From => "Leaves from",
            Self::Rack => "Rack",
            Self::Panel => "Panel",
            Self::Position => "Position",
            Self::OldName => "Old name",
            Self::Length => "Length",
            Self::Notes => "Notes",
        }
    }
}
