//! Where exactly an outlet is: wall, height, distance from a corner.

use super::text;
use crate::app::forms::{refuse_at, take};
use crate::app::{Effect, Field, Model, World};
use crate::command::Want;
use crate::domain::ids::OutletId;
use crate::domain::length::Millimetres;
use crate::domain::work::Spot;

const FIELDS: [Field; 4] = [
    Field::OutletWall,
    Field::OutletHeight,
    Field::OutletOffset,
    Field::OutletOffsetFrom,
];

/// Puts what is known into the fields.
pub(super) fn fill(model: &mut Model, spot: Spot) {
    let unit = model.unit;
    let length = |length: Option<Millimetres>| length.map(|length| length.in_words(unit));
    let (height, offset) = (length(spot.height), length(spot.offset));
    model.fields.set(Field::OutletWall, spot.wall);
    model
        .fields
        .set(Field::OutletHeight, height.unwrap_or_default());
    model
        .fields
        .set(Field::OutletOffset, offset.unwrap_or_default());
    model.fields.set(Field::OutletOffsetFrom, spot.offset_from);
}

/// Reads a length field; an empty one is none.
pub(super) fn length(
    model: &Model,
    field: Field,
    what: &str,
) -> Result<Option<Millimetres>, String> {
    let typed = text(model, field);
    if typed.is_empty() {
        return Ok(None);
    }
    Millimetres::read(&typed, model.unit)
        .map(Some)
        .map_err(|bad| format!("{what}: {bad}"))
}

/// Says where an outlet is.
pub(super) fn take_spot(model: &mut Model, outlet: OutletId, world: &impl World) -> Vec<Effect> {
    let height = match length(model, Field::OutletHeight, "Height") {
        Ok(height) => height,
        Err(words) => return refuse_at(model, Field::OutletHeight, &words),
    };
    let offset = match length(model, Field::OutletOffset, "Distance") {
        Ok(offset) => offset,
        Err(words) => return refuse_at(model, Field::OutletOffset, &words),
    };
    let spot = Spot {
        wall: text(model, Field::OutletWall),
        height,
        offset,
        offset_from: text(model, Field::OutletOffsetFrom),
    };
    take(
        model,
        Want::PlaceOutlet { outlet, spot },
        &FIELDS,
        None,
        world,
    )
}
