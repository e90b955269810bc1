//! Racks in a list, folded shut but for one: which is open, and what the list comes to.

use super::{Field, Model};
use crate::domain::ids::{PanelId, RackId};
use crate::query::rack;

/// How many rows a page of a list has.
pub const PAGE_ROWS: usize = 30;

/// A line of the list. Racks and their panels are told by their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// A rack in one line.
    Rack {
        /// Which.
        at: usize,
        /// Whether it is open.
        is_open: bool,
    },
    /// What an open rack says of itself.
    Whole(usize),
    /// A panel of an open rack.
    Panel(usize, usize),
}

/// How a rack stands in the field of the open one; panels may stand in none.
#[must_use]
pub fn key(rack: Option<RackId>) -> String {
    rack.map_or_else(|| "none".to_owned(), |rack| rack.0.to_string())
}

/// The lines of a list of racks, each with how many panels it has. The only rack of a job is not
/// folded.
#[must_use]
pub fn lines(model: &Model, racks: &[(Option<RackId>, usize)]) -> Vec<Line> {
    let open = model.fields.get(Field::OpenRack);
    let mut lines = Vec::new();
    for (at, (rack, panels)) in racks.iter().enumerate() {
        let is_only = racks.len() == 1;
        let is_open = is_only || key(*rack) == open;
        if !is_only {
            lines.push(Line::Rack { at, is_open });
        }
        if is_open {
            if rack.is_some() {
                lines.push(Line::Whole(at));
            }
            lines.extend((0..*panels).map(|panel| Line::Panel(at, panel)));
        }
    }
    lines
}

/// A rack is opened, or the open one is closed: its line is on the page that is shown, since those
/// before it are folded then.
pub(super) fn turned(model: &mut Model, text: &str) {
    let which = match text {
        "" => model.fields.get(Field::OpenRack),
        open => open,
    };
    let racks = model.registry().map(rack::racks).unwrap_or_default();
    let at = racks.iter().position(|rack| key(rack.rack) == which);
    model.page = at.unwrap_or(0) / PAGE_ROWS;
}

/// Opens a rack in the list.
pub(super) fn open(model: &mut Model, rack: RackId) {
    let rack = key(Some(rack));
    turned(model, &rack);
    model.fields.set(Field::OpenRack, rack);
}

/// Opens the rack of a panel, with the page on which the panel is.
pub(super) fn show(model: &mut Model, panel: PanelId) {
    let racks = model.registry().map(rack::racks).unwrap_or_default();
    let place = racks.iter().enumerate().find_map(|(at, rack)| {
        let place = rack.panels.iter().position(|other| *other == panel)?;
        Some((rack.rack, Line::Panel(at, place)))
    });
    let Some((rack, line)) = place else {
        return;
    };
    model.fields.set(Field::OpenRack, key(rack));
    let racks: Vec<_> = racks.iter().map(|of| (of.rack, of.panels.len())).collect();
    let at = lines(model, &racks).iter().position(|other| *other == line);
    model.page = at.unwrap_or(0) / PAGE_ROWS;
}
