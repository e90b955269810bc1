//! Units, floors and rooms.

use super::{EDITS, chosen, refuse, refuse_at, take, text};
use crate::app::{Action, Effect, Field, Model, Screen, World, update};
use crate::command::Want;
use crate::domain::ids::{FloorId, RoomId, UnitId};
use crate::domain::label::RoomCode;
use crate::query::wall;

/// The value of the choice of no floor or no unit.
pub const NOWHERE: &str = "-";

/// The floor and the unit that a new room gets: as chosen where rooms are planned, else those of
/// the room that is walked last.
#[must_use]
pub fn room_part(model: &Model) -> (Option<FloorId>, Option<UnitId>) {
    let (floor, unit) = model.registry().map(wall::last_part).unwrap_or_default();
    if model.screen() != Some(Screen::Rooms) {
        return (floor, unit);
    }
    let is_nowhere = |field| model.fields.get(field) == NOWHERE;
    (
        chosen(model, Field::RoomFloor).or(floor.filter(|_| !is_nowhere(Field::RoomFloor))),
        chosen(model, Field::RoomUnit).or(unit.filter(|_| !is_nowhere(Field::RoomUnit))),
    )
}

/// Reads a room code.
pub(super) fn room_code(code: &str) -> Result<RoomCode, String> {
    RoomCode::new(code).map_err(|bad| format!("{bad}. It stands first on every tag."))
}

/// Reads the number of a floor; an empty field is none.
pub(super) fn floor_number(typed: &str) -> Result<Option<u8>, String> {
    match typed.parse::<u8>() {
        _ if typed.is_empty() => Ok(None),
        Ok(number) if number <= 99 => Ok(Some(number)),
        Ok(_) | Err(_) => Err(format!(
            "“{typed}” is not a floor number. Write 0 to 99, such as 0 for a cellar, or leave it empty."
        )),
    }
}

/// Puts the sheet of the plans that shows a floor into its field.
pub(super) fn fill_sheet(model: &mut Model, floor: FloorId) {
    let floors = model.registry().map(|registry| &registry.floors);
    let sheet = floors.and_then(|floors| floors.get(floor)?.sheet.get());
    let sheet = sheet.cloned().unwrap_or_default();
    model.fields.set(Field::FloorSheet, sheet);
}

pub(super) fn add_floor(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let number = match floor_number(&text(model, Field::FloorNumber)) {
        Ok(number) => number,
        Err(words) => return refuse_at(model, Field::FloorNumber, &words),
    };
    let name = text(model, Field::FloorName);
    let fields = [Field::FloorName, Field::FloorNumber];
    take(model, Want::AddFloor { name, number }, &fields, None, world)
}

/// A new room stands at the end of the walking order of its floor.
pub(super) fn add_room(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let name = text(model, Field::RoomName);
    if name.is_empty() {
        return refuse_at(
            model,
            Field::RoomName,
            "Give the room a name, as people on site call it.",
        );
    }
    let (floor, unit) = room_part(model);
    let typed = text(model, Field::RoomCode).to_uppercase();
    let proposed = model
        .registry()
        .filter(|_| typed.is_empty())
        .and_then(|registry| wall::proposed_code(registry, &name, unit));
    let code = match proposed.map_or_else(|| room_code(&typed), Ok) {
        Ok(code) => code,
        Err(words) => return refuse_at(model, Field::RoomCode, &words),
    };
    let want = Want::AddRoom {
        name,
        code,
        floor,
        unit,
    };
    // Floor and unit stay chosen: the next room is most likely beside this one.
    let [name, code] = [Field::RoomName, Field::RoomCode];
    take(model, want, &[name, code], None, world)
}

/// Puts the floor and the unit of a room into the fields.
pub(super) fn fill(model: &mut Model, room: RoomId) {
    let row = model
        .registry()
        .and_then(|registry| registry.rooms.get(room));
    let floor = row
        .and_then(|row| row.floor.get())
        .map(|id| id.0.to_string());
    let unit = row
        .and_then(|row| row.unit.get())
        .map(|id| id.0.to_string());
    model
        .fields
        .set(Field::EditFloor, floor.unwrap_or_default());
    model.fields.set(Field::EditUnit, unit.unwrap_or_default());
}

/// Puts a room where it was chosen to be. What was not changed is not written.
pub(super) fn put_room(model: &mut Model, room: RoomId, world: &impl World) -> Vec<Effect> {
    let row = model
        .registry()
        .and_then(|registry| registry.rooms.get(room));
    let (was_on, was_in) = row.map_or((None, None), |row| {
        (row.floor.get().copied(), row.unit.get().copied())
    });
    let floor: Option<FloorId> = chosen(model, Field::EditFloor);
    let unit: Option<UnitId> = chosen(model, Field::EditUnit);
    let floor = (floor != was_on).then_some(Want::PutRoomOnFloor { room, floor });
    let unit = (unit != was_in).then_some(Want::PutRoomInUnit { room, unit });
    let wants: Vec<Want> = floor.into_iter().chain(unit).collect();
    if wants.is_empty() {
        return refuse(model, "Choose another floor or unit for this room first.");
    }
    let mut effects = Vec::new();
    for want in wants {
        let done = update(model, Action::Do { want, then: None }, world);
        if done.is_empty() {
            return effects;
        }
        effects.extend(done);
    }
    model.fields.clear(&EDITS);
    effects
}
