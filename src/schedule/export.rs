//! The cables of a job as a schedule that reads back.

use crate::domain::sorted::SortedMap;

use crate::domain::ids::CableId;
use crate::domain::medium::{Kind, Medium, Sharing};
use crate::domain::place::{End, Leaves, Place, Placement, Position, RunName, Side};
use crate::exchange::csv::Form;
use crate::exchange::schedule::{self, Column};
use crate::journal::{Registry, side_index};
use crate::{names, walk};

type Cells = SortedMap<Column, String>;

/// Writes every wanted cable of a job, one row each, in walking order.
#[must_use]
pub fn export(registry: &Registry, form: Form) -> Vec<u8> {
    let rows = walk::cables(registry)
        .into_iter()
        .filter_map(|id| row(registry, id));
    schedule::write(rows, form)
}

fn row(registry: &Registry, id: CableId) -> Option<Cells> {
    let cable = registry.cables.get(id)?;
    let mut cells = Cells::new();
    let mut put = |column, text: Option<String>| {
        if let Some(text) = text.filter(|text| !text.is_empty()) {
            cells.insert(column, text);
        }
    };
    put(Column::Code, registry.cable_code(id).map(|code| code.text));
    put(Column::Medium, cable.medium.get().map(medium_words));
    put(Column::Purpose, cable.purpose.get().cloned());
    put(
        Column::OldName,
        joined(cable.known_as.iter().map(|said| said.value)),
    );
    put(
        Column::Notes,
        joined(cable.notes.iter().map(|said| said.value)),
    );
    let link = |side| {
        let end = End::whole(id, side);
        let position = position_of(registry, end).filter(|at| is_its_own(registry, end, *at))?;
        Some(names::link_code(registry, position)?.to_string())
    };
    put(Column::Position, link(Side::Far));
    match (cable.name.get(), cable.leaves.get()) {
        (Some(RunName::Ties { .. }), _) => put(Column::From, link(Side::Near)),
        (_, Some(Leaves::Outlet(from))) => put(
            Column::From,
            registry.outlet_code(*from).map(|code| code.to_string()),
        ),
        (_, Some(Leaves::Rack(_)) | None) => {
            let rack = registry.home_rack(id);
            let space = rack.and_then(|rack| registry.racks.get(rack)?.space.get());
            put(Column::Rack, space.map(ToString::to_string));
        }
    }
    if let Some(RunName::Feeds { outlet, letter }) = cable.name.get() {
        put(Column::Letter, Some(letter.to_string()));
        outlet_cells(registry, *outlet, &mut put);
    }
    Some(cells)
}

fn outlet_cells(
    registry: &Registry,
    id: crate::domain::ids::OutletId,
    put: &mut impl FnMut(Column, Option<String>),
) {
    let Some(outlet) = registry.outlets.get(id) else {
        return;
    };
    put(
        Column::OutletType,
        outlet
            .kind
            .get()
            .map(|kind| names::outlet_kind(registry, *kind))
            // What no type says stands in words; it is read back as words too.
            .or_else(|| outlet.purpose.get().cloned()),
    );
    put(
        Column::Spot,
        outlet.spot.get().map(|spot| spot.wall.clone()),
    );
    let Some(numbering) = outlet.number.get() else {
        return;
    };
    put(Column::Outlet, Some(numbering.number.get().to_string()));
    let Some(room) = registry.rooms.get(numbering.room) else {
        return;
    };
    put(Column::Room, room.name.get().cloned());
    put(Column::RoomCode, room.code.get().map(ToString::to_string));
    let floor = room
        .floor
        .get()
        .and_then(|floor| registry.floors.get(*floor));
    put(
        Column::Floor,
        floor.and_then(|floor| floor.name.get()).cloned(),
    );
    let unit = room.unit.get().and_then(|unit| registry.units.get(*unit));
    put(Column::Unit, unit.and_then(|unit| unit.name.get()).cloned());
}

fn medium_words(medium: &Medium) -> String {
    match &medium.kind {
        Kind::Own(words) => format!("Own: {words}"),
        _ => medium.to_string(),
    }
}

/// The position where an end is, or else where it belongs.
pub(super) fn position_of(registry: &Registry, end: End) -> Option<Position> {
    let cable = registry.cables.get(end.cable)?;
    let landed = cable
        .end(end.cable, end.side)
        .and_then(|end| end.placement.whole.get());
    let planned = cable.planned[side_index(end.side)].whole.get();
    let ((Some(Placement::Landed { place, .. }), _) | (_, Some(Some(place)))) = (landed, planned)
    else {
        return None;
    };
    match place {
        Place::Position { position, .. } => registry.panels.get(position.panel).map(|_| *position),
        Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => None,
    }
}

/// Whether a position is to be written for an end: a schedule gives it to one cable, the one that is
/// landed there before one that only belongs there.
fn is_its_own(registry: &Registry, end: End, position: Position) -> bool {
    let make = registry
        .panels
        .get(position.panel)
        .and_then(|row| row.make.get());
    let is_shared = make.is_some_and(|make| make.connector.sharing() == Sharing::Shared);
    let place = Place::rear(position);
    let landed = registry.index.landed.get(&place);
    let mut planned = registry.index.planned.get(&place).iter();
    let is_wanted = |end: &&End| {
        let row = registry.cables.get(end.cable);
        row.is_some_and(walk::is_wanted_cable)
    };
    let first = landed.first().or_else(|| planned.find(is_wanted));
    is_shared || landed.contains(&end) || first == Some(&end)
}

pub(super) fn joined<'a>(texts: impl Iterator<Item = &'a String>) -> Option<String> {
    let texts: Vec<&str> = texts.map(String::as_str).collect();
    (!texts.is_empty()).then(|| texts.join("; "))
}
