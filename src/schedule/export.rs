//! The cables of a job as a schedule that reads back.

use crate::domain::sorted::SortedMap;

use crate::domain::ids::CableId;
use crate::domain::medium::{Kind, Medium};
use crate::domain::outlet_type::{OutletKind, UsualType};
use crate::domain::place::{Leaves, Place, Placement, Position, RunName, Side};
use crate::exchange::csv::Form;
use crate::exchange::schedule::{self, Column};
use crate::journal::{Cable, Registry, side_index};
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
    if let Some(position) = position_of(registry, id, cable) {
        put(
            Column::Position,
            names::link_code(registry, position).map(|code| code.to_string()),
        );
    }
    match cable.leaves.get() {
        Some(Leaves::Rack(Some(rack))) => {
            let space = registry.racks.get(*rack).and_then(|rack| rack.space.get());
            put(Column::Rack, space.map(ToString::to_string));
        }
        Some(Leaves::Outlet(from)) => put(
            Column::From,
            registry.outlet_code(*from).map(|code| code.to_string()),
        ),
        Some(Leaves::Rack(None)) | None => {}
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
            .and_then(|kind| kind_words(registry, *kind)),
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

fn kind_words(registry: &Registry, kind: OutletKind) -> Option<String> {
    match kind {
        OutletKind::Usual(key) => UsualType::get(key).map(|usual| usual.words.to_owned()),
        OutletKind::Own(id) => registry.outlet_types.get(id)?.name.get().cloned(),
    }
}

/// Where the far end is, or else where it belongs.
fn position_of(registry: &Registry, id: CableId, cable: &Cable) -> Option<Position> {
    let landed = cable
        .end(id, Side::Far)
        .and_then(|end| end.placement.whole.get());
    let planned = cable.planned[side_index(Side::Far)].whole.get();
    let ((Some(Placement::Landed { place, .. }), _) | (_, Some(Some(place)))) = (landed, planned)
    else {
        return None;
    };
    match place {
        Place::Position { position, .. } => registry.panels.get(position.panel).map(|_| *position),
        Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => None,
    }
}

fn joined<'a>(texts: impl Iterator<Item = &'a String>) -> Option<String> {
    let texts: Vec<&str> = texts.map(String::as_str).collect();
    (!texts.is_empty()).then(|| texts.join("; "))
}
