//! Rooms, floors and units of a schedule: those of the job, and those that it would add.

use crate::domain::sorted::{SortedMap, SortedSet};

use super::Reason;
use crate::codes::{propose, strict};
use crate::domain::ids::{FloorId, RoomId, UnitId};
use crate::domain::label::{BadCode, RoomCode};
use crate::domain::text::folded;
use crate::exchange::schedule::{Column, Row};
use crate::journal::{Fact, FloorFact, Registry, RoomFact, UnitFact};
use crate::names;

/// What is known of rooms while the rows are gone through.
pub(super) struct Rooms {
    by_code: SortedMap<RoomCode, (RoomId, String)>,
    /// Several rooms may have one name, as bathrooms of two flats do.
    codes_by_name: SortedMap<String, Vec<RoomCode>>,
    floors: SortedMap<String, FloorId>,
    units: SortedMap<String, UnitId>,
    last_order: u32,
}

/// The ids that whatever a row adds would have.
#[derive(Clone, Copy)]
pub(super) struct NewIds {
    pub(super) room: RoomId,
    pub(super) floor: FloorId,
    pub(super) unit: UnitId,
}

/// Adds the code of a room to those of its name. Two rooms of one name and one code are one choice: which of
/// them is meant is a disagreement of the job, and not of the row.
fn name_room(codes: &mut SortedMap<String, Vec<RoomCode>>, name: &str, code: RoomCode) {
    let codes = codes.or_insert(folded(name), Vec::new());
    if !codes.contains(&code) {
        codes.push(code);
    }
}

impl Rooms {
    pub(super) fn of(registry: &Registry) -> Self {
        let live = || {
            registry
                .rooms
                .iter()
                .filter(|(_, room)| !room.added.is_empty())
        };
        let by_code = live()
            .filter_map(|(id, room)| {
                let code = *room.code.get()?;
                let name = room
                    .name
                    .get()
                    .map_or_else(|| code.to_string(), Clone::clone);
                Some((code, (id, name)))
            })
            .collect();
        let mut codes_by_name: SortedMap<String, Vec<RoomCode>> = SortedMap::new();
        for (_, room) in live() {
            if let (Some(name), Some(code)) = (room.name.get(), room.code.get()) {
                name_room(&mut codes_by_name, name, *code);
            }
        }
        let floors = registry
            .floors
            .iter()
            .filter_map(|(id, floor)| Some((folded(floor.name.get()?), id)))
            .collect();
        let units = registry
            .units
            .iter()
            .filter_map(|(id, unit)| Some((folded(unit.name.get()?), id)))
            .collect();
        let last_order = live()
            .filter_map(|(_, room)| room.order.get().copied())
            .max()
            .unwrap_or(0);
        Self {
            by_code,
            codes_by_name,
            floors,
            units,
            last_order,
        }
    }

    /// The code of the room that a row names by code or in words; a room that is new gets a code
    /// from its name.
    pub(super) fn code_for(&self, row: &Row) -> Result<RoomCode, Reason> {
        if let Some(text) = row.cell(Column::RoomCode) {
            return RoomCode::new(&text.to_uppercase()).map_err(|bad: BadCode| format!("{bad}."));
        }
        let Some(name) = row.cell(Column::Room) else {
            return Err(
                "The row says no room. Write a label code such as KIT2-C, or the room.".to_owned(),
            );
        };
        match self.codes_by_name.get(&folded(name)).map(Vec::as_slice) {
            Some([code]) => return Ok(*code),
            Some(several @ [_, _, ..]) => {
                let codes: Vec<String> = several.iter().map(ToString::to_string).collect();
                return Err(format!(
                    "{} rooms are called “{name}”: {}. Write the code of the one that is meant into the row.",
                    several.len(),
                    names::listed(&codes)
                ));
            }
            Some([]) | None => {}
        }
        if let Ok(code) = RoomCode::new(name) {
            return Ok(code);
        }
        let taken: SortedSet<RoomCode> = self.by_code.keys().copied().collect();
        let unit = row
            .cell(Column::Unit)
            .and_then(|unit| unit.chars().rfind(char::is_ascii_alphabetic));
        Ok(propose::propose_room_code(
            name,
            unit.map(|letter| letter.to_ascii_uppercase()),
            &taken,
        ))
    }

    /// The name of the room of a code, where a row calls the room something else.
    pub(super) fn unlike(&self, code: RoomCode, row: &Row) -> Option<&str> {
        let said = folded(row.cell(Column::Room)?);
        let (_, name) = self.by_code.get(&code)?;
        let same = said == folded(name) || said == folded(&code.to_string());
        (!same).then_some(name)
    }

    /// The room of a code, added where there is none.
    pub(super) fn room(
        &mut self,
        code: RoomCode,
        row: Option<&Row>,
        ids: NewIds,
    ) -> (RoomId, Vec<Fact>, Vec<String>) {
        if let Some((room, _)) = self.by_code.get(&code) {
            return (*room, Vec::new(), Vec::new());
        }
        let cell = |column| row.and_then(|row| row.cell(column));
        let name = cell(Column::Room).map_or_else(|| code.to_string(), str::to_owned);
        self.last_order = self.last_order.saturating_add(1);
        let room = ids.room;
        let mut facts = vec![
            Fact::Room(room, RoomFact::Added),
            Fact::Room(room, RoomFact::Named(name.clone())),
            Fact::Room(room, RoomFact::Coded(code)),
            Fact::Room(room, RoomFact::Ordered(self.last_order)),
        ];
        let mut words = vec![format!("Room {code}, {name}")];
        if let Some(floor) = cell(Column::Floor) {
            let known = *self.floors.or_insert(folded(floor), ids.floor);
            if known == ids.floor {
                facts.push(Fact::Floor(known, FloorFact::Added));
                facts.push(Fact::Floor(known, FloorFact::Named(floor.to_owned())));
                words.push(format!("Floor {floor}"));
            }
            facts.push(Fact::Room(room, RoomFact::OnFloor(known)));
        }
        if let Some(unit) = cell(Column::Unit) {
            let known = *self.units.or_insert(folded(unit), ids.unit);
            if known == ids.unit {
                facts.push(Fact::Unit(known, UnitFact::Added));
                facts.push(Fact::Unit(known, UnitFact::Named(unit.to_owned())));
                words.push(format!("Unit {unit}"));
            }
            facts.push(Fact::Room(room, RoomFact::InUnit(known)));
        }
        name_room(&mut self.codes_by_name, &name, code);
        self.by_code.insert(code, (room, name));
        (room, facts, words)
    }
}

/// A space code as people write it.
pub(super) fn space(text: &str) -> Option<crate::domain::label::SpaceCode> {
    strict::space(&text.to_uppercase()).ok()
}
