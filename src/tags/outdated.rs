//! What was printed and is not so any more: tags of places that are called otherwise since, and strips
//! of panels on which something else is landed.

use super::strip_words;
use crate::domain::ids::PanelId;
use crate::domain::order::Order;
use crate::domain::place::TaggedPlace;
use crate::journal::Registry;
use crate::query::printed::{StripState, Void, place_tag, strip_state};
use crate::query::rack::racks;

/// All of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outdated {
    /// Tags of places, in the order of the places.
    pub places: Vec<StaleTag>,
    /// Strips, in the order of the racks.
    pub strips: Vec<StaleStrip>,
}

/// A tag that says what its place is not called any more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StaleTag {
    /// Of what.
    pub place: TaggedPlace,
    /// What stands on it.
    pub says: String,
    /// What the place is called now.
    pub now: String,
}

/// A strip that says what is not there any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StaleStrip {
    /// Of which panel.
    pub panel: PanelId,
    /// At how many positions.
    pub positions: usize,
}

/// What of a job's tags of places and strips is out of date.
#[must_use]
pub fn outdated(registry: &Registry) -> Outdated {
    let mut all: Vec<TaggedPlace> = Vec::new();
    all.extend(
        registry
            .outlets
            .iter()
            .map(|(id, _)| TaggedPlace::Outlet(id)),
    );
    all.extend(registry.panels.iter().map(|(id, _)| TaggedPlace::Panel(id)));
    all.extend(registry.racks.iter().map(|(id, _)| TaggedPlace::Rack(id)));
    all.extend(
        registry
            .conduits
            .iter()
            .map(|(id, _)| TaggedPlace::Conduit(id)),
    );
    all.put_in_order();
    let places = all.into_iter().filter_map(|place| {
        let tag = place_tag(registry, place);
        let Some(Void::Recoded { text }) = tag.void else {
            return None;
        };
        Some(StaleTag {
            place,
            says: tag.text,
            now: text,
        })
    });
    let panels = racks(registry).into_iter().flat_map(|rack| rack.panels);
    let strips = panels.filter_map(|panel| {
        match strip_state(registry, panel, &strip_words(registry, panel)?) {
            StripState::Stale { positions, .. } => Some(StaleStrip { panel, positions }),
            StripState::NeverPrinted | StripState::Current { .. } => None,
        }
    });
    Outdated {
        places: places.collect(),
        strips: strips.collect(),
    }
}
