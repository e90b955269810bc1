//! Length marks, typed one after the other.

use crate::app::forms::{refuse, take};
use crate::app::{Effect, Field, Model, World};
use crate::command::Want;
use crate::domain::ids::{CableId, OutletId};
use crate::domain::length::{FootageMark, LengthUnit};
use crate::domain::place::{End, Side};
use crate::query::wall::{self, EndHere};

/// The cables that an outlet gets, with their marks. A local run that leaves here is read at the
/// outlet that it feeds.
fn own(model: &Model, outlet: OutletId) -> Vec<EndHere> {
    let ends = model
        .registry()
        .map(|registry| wall::ends(registry, outlet))
        .unwrap_or_default();
    ends.into_iter()
        .filter(|end| end.end.side == Side::Near)
        .collect()
}

fn mark(end: &EndHere, side: Side) -> Option<FootageMark> {
    match side {
        Side::Near => end.near_footage,
        Side::Far => end.far_footage,
    }
}

/// The cable whose mark is asked for: the one that was chosen, else the first without one.
#[must_use]
pub fn footage_cable(model: &Model, outlet: OutletId, side: Side) -> Option<CableId> {
    let ends = own(model, outlet);
    let chosen = super::open_row(model);
    let chosen = ends.iter().find(|end| Some(end.end.cable) == chosen);
    let found = chosen.or_else(|| ends.iter().find(|end| mark(end, side).is_none()));
    found.map(|end| end.end.cable)
}

/// Reads a typed mark. A unit behind the number goes before the one in use; spaces and commas
/// between thousands do not matter.
///
/// # Errors
/// When it is no whole number, with the sentence for the person.
pub fn read_mark(text: &str, unit: LengthUnit) -> Result<FootageMark, String> {
    let plain = text.trim().to_lowercase();
    let units = [
        ("feet", LengthUnit::Feet),
        ("ft", LengthUnit::Feet),
        ("'", LengthUnit::Feet),
        ("m", LengthUnit::Metres),
    ];
    let said = units
        .iter()
        .find_map(|(word, unit)| Some((plain.strip_suffix(word)?, *unit)));
    let (number, unit) = said.unwrap_or((plain.as_str(), unit));
    let digits: String = number
        .chars()
        .filter(|c| !c.is_whitespace() && *c != ',')
        .collect();
    let is_number = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    match digits.parse() {
        Ok(value) if is_number => Ok(FootageMark { value, unit }),
        Ok(_) | Err(_) => Err(format!(
            "“{}” is no length mark. Type the number as it is printed on the jacket, like 0482.",
            text.trim()
        )),
    }
}

/// Takes the mark in the field and goes on to the next cable.
pub(super) fn take_mark(
    model: &mut Model,
    outlet: OutletId,
    side: Side,
    world: &impl World,
) -> Vec<Effect> {
    let Some(cable) = footage_cable(model, outlet, side) else {
        return refuse(
            model,
            "Every cable here has its mark. Tap one to read it again.",
        );
    };
    let mark = match read_mark(model.fields.get(Field::Footage), model.unit) {
        Ok(mark) => mark,
        Err(words) => return refuse(model, &words),
    };
    let want = Want::ReadFootage {
        end: End::whole(cable, side),
        mark,
    };
    let effects = take(model, want, &[Field::Footage], None, world);
    if !effects.is_empty() {
        turn(model, outlet, side, cable);
    }
    effects
}

/// Goes on to the next cable without a mark.
pub(super) fn pass(model: &mut Model, outlet: OutletId, side: Side) -> Vec<Effect> {
    if let Some(cable) = footage_cable(model, outlet, side) {
        turn(model, outlet, side, cable);
    }
    Vec::new()
}

fn turn(model: &mut Model, outlet: OutletId, side: Side, from: CableId) {
    let ends = own(model, outlet);
    let behind = ends.iter().skip_while(|end| end.end.cable != from).skip(1);
    let next = behind
        .filter(|end| mark(end, side).is_none())
        .map(|end| end.end.cable)
        .next();
    model.fields.clear(&[Field::OpenRow]);
    if let Some(next) = next {
        model.fields.set(Field::OpenRow, next.0.to_string());
    }
}
