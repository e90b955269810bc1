//! The tags of places: what belongs on them, and what was printed.

use super::Registry;
use crate::domain::label::{box_code, conduit_code};
use crate::domain::place::TaggedPlace;
use crate::journal::fact::Mark;
use crate::journal::register::Log;

impl Registry {
    /// The code of a place as a tag of it is printed: `KIT2`, `B`, `1A`, `CD1`; none while it has none.
    #[must_use]
    pub fn place_code(&self, place: TaggedPlace) -> Option<String> {
        Some(match place {
            TaggedPlace::Outlet(id) => self.outlet_code(id)?.to_string(),
            TaggedPlace::Panel(id) => self.panels.get(id)?.letters.get()?.to_string(),
            TaggedPlace::Rack(id) => self.racks.get(id)?.space.get()?.to_string(),
            TaggedPlace::Conduit(id) => conduit_code(*self.conduits.get(id)?.number.get()?),
            // No tag can say that it is box 0.
            TaggedPlace::Box(number) => box_code(Some(number).filter(|number| *number > 0)?),
        })
    }

    /// The tags that a place ever had; none for a place that nobody told of.
    #[must_use]
    pub fn place_tags(&self, place: TaggedPlace) -> Option<&Log<Mark>> {
        match place {
            TaggedPlace::Outlet(id) => self.outlets.get(id).map(|row| &row.tags),
            TaggedPlace::Panel(id) => self.panels.get(id).map(|row| &row.tags),
            TaggedPlace::Rack(id) => self.racks.get(id).map(|row| &row.tags),
            TaggedPlace::Conduit(id) => self.conduits.get(id).map(|row| &row.tags),
            TaggedPlace::Box(number) => self.job.box_tags.get(&number),
        }
    }
}
