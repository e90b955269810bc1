//! Rooms, floors and units of a schedule: those of the job, and those that it would add.

use crate::domain::sorted::{SortedMap, SortedSet};

use super::Reason;
use crate::codes::{propose, strict};
use crate::domain::ids::{Bits80, FloorId, RoomId, ThingId, UnitId};
use crate::domain::label::{BadCode, RoomCode};
use crate::domain::text::folded;
use crate::exchange::schedule::{Column, Row};
use crate::journal::{Fact, FloorFact, Registry, RoomFact, UnitFact};
use crate::names;

/// A room of the job, or one that a row added, with what its floor and its unit are called.
struct Known {
    id: RoomId,
    name: String,
    floor: Option<String>,
    unit: Option<String>,
}

/// What is known of rooms while the rows are gone through.
pub(super) struct Rooms {
    by_code: SortedMap<RoomCode, Known>,
    /// Several rooms may have one name, as bathrooms of two flats do.
    codes_by_name: SortedMap<String, Vec<RoomCode>>,
    floors: SortedMap<String, ThingId>,
    units: SortedMap<String, ThingId>,
    last_order: u32,
    /// Where all that this file ever added comes from.
    origin: Bits80,
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
    pub(super) fn of(registry: &Registry, origin: Bits80) -> Self {
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
                let floor = room
                    .floor
                    .get()
                    .and_then(|floor| registry.floors.get(*floor));
                let unit = room.unit.get().and_then(|unit| registry.units.get(*unit));
                let known = Known {
                    id,
                    name,
                    floor: floor
                        .and_then(|floor| floor.name.get())
                        .map(|name| folded(name)),
                    unit: unit
                        .and_then(|unit| unit.name.get())
                        .map(|name| folded(name)),
                };
                Some((code, known))
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
            .filter_map(|(id, floor)| Some((folded(floor.name.get()?), id.0)))
            .collect();
        let units = registry
            .units
            .iter()
            .filter_map(|(id, unit)| Some((folded(unit.name.get()?), id.0)))
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
            origin,
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
        let named = self.codes_by_name.get(&folded(name)).into_iter().flatten();
        let named: Vec<RoomCode> = named
            .copied()
            .filter(|code| self.suits(*code, row))
            .collect();
        match named.as_slice() {
            [code] => return Ok(*code),
            several @ [_, _, ..] => {
                let codes: Vec<String> = several.iter().map(ToString::to_string).collect();
                return Err(format!(
                    "{} rooms are called “{name}”: {}. Write the code of the one that is meant into the row.",
                    several.len(),
                    names::listed(&codes)
                ));
            }
            [] => {}
        }
        if let Ok(code) = RoomCode::new(name)
            && self.suits(code, row)
        {
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

    /// Whether a row may speak of the room of a code: flats and floors have rooms of one name.
    ///
    /// What a row calls a floor or a flat otherwise than the job may be another name of the same. It is
    /// another one where the job has both, and in a file, that calls each by one name.
    fn suits(&self, code: RoomCode, row: &Row) -> bool {
        let Some(room) = self.by_code.get(&code) else {
            return true;
        };
        let differs = |own: &Option<String>, column, known: &SortedMap<String, ThingId>| {
            let (Some(own), Some(said)) = (own, row.cell(column).map(folded)) else {
                return false;
            };
            let is_of_job = |id: &ThingId| id.origin != self.origin;
            *own != said && (!is_of_job(&room.id.0) || known.get(&said).is_some_and(is_of_job))
        };
        !differs(&room.floor, Column::Floor, &self.floors)
            && !differs(&room.unit, Column::Unit, &self.units)
    }

    /// The name of the room of a code, where a row calls the room something else.
    pub(super) fn unlike(&self, code: RoomCode, row: &Row) -> Option<&str> {
        let said = folded(row.cell(Column::Room)?);
        let name = &self.by_code.get(&code)?.name;
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
        if let Some(room) = self.by_code.get(&code) {
            return (room.id, Vec::new(), Vec::new());
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
            let known = FloorId(*self.floors.or_insert(folded(floor), ids.floor.0));
            if known == ids.floor {
                facts.push(Fact::Floor(known, FloorFact::Added));
                facts.push(Fact::Floor(known, FloorFact::Named(floor.to_owned())));
                words.push(format!("Floor {floor}"));
            }
            facts.push(Fact::Room(room, RoomFact::OnFloor(known)));
        }
        if let Some(unit) = cell(Column::Unit) {
            let known = UnitId(*self.units.or_insert(folded(unit), ids.unit.0));
            if known == ids.unit {
                facts.push(Fact::Unit(known, UnitFact::Added));
                facts.push(Fact::Unit(known, UnitFact::Named(unit.to_owned())));
                words.push(format!("Unit {unit}"));
            }
            facts.push(Fact::Room(room, RoomFact::InUnit(known)));
        }
        name_room(&mut self.codes_by_name, &name, code);
        let known = Known {
            id: room,
            name,
            floor: cell(Column::Floor).map(folded),
            unit: cell(Column::Unit).map(folded),
        };
        self.by_code.insert(code, known);
        (room, facts, words)
    }
}

/// A space code as people write it.
pub(super) fn space(text: &str) -> Option<crate::domain::label::SpaceCode> {
    strict::space(&text.to_uppercase()).ok()
}
