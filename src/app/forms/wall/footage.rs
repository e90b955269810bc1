//! Length marks, typed one after the other.

use crate::app::forms::{refuse, refuse_at, take};
use crate::app::{Action, Effect, Field, FootageOf, Model, Screen, World, update};
use crate::command::Want;
use crate::domain::ids::CableId;
use crate::domain::length::{FootageMark, LengthUnit};
use crate::domain::place::{End, Side};
use crate::journal::Registry;
use crate::query::pull;
use crate::query::wall::{self, EndHere};

/// The cables in question, with their marks. A local run that leaves an outlet is read at the outlet
/// that it feeds.
#[must_use]
pub fn footage_ends(registry: &Registry, of: FootageOf) -> Vec<EndHere> {
    match of {
        FootageOf::Outlet(outlet) => {
            let ends = wall::ends(registry, outlet).into_iter();
            ends.filter(|end| end.end.side == Side::Near).collect()
        }
        FootageOf::Bundle(cable) => {
            let strands = pull::bundle_with(registry, cable).map(|dealt| dealt.bundle.strands);
            let strands = strands.unwrap_or_default().into_iter();
            let cables = strands.filter_map(|strand| strand.cables.into_iter().next());
            cables
                .filter_map(|cable| wall::near_end(registry, cable))
                .collect()
        }
    }
}

fn own(model: &Model, of: FootageOf) -> Vec<EndHere> {
    let registry = model.registry();
    registry.map_or_else(Vec::new, |registry| footage_ends(registry, of))
}

fn mark(end: &EndHere, side: Side) -> Option<FootageMark> {
    match side {
        Side::Near => end.near_footage,
        Side::Far => end.far_footage,
    }
}

/// The cable whose mark is asked for: the one that was chosen, else the first without one.
#[must_use]
pub fn footage_cable(model: &Model, ends: &[EndHere], side: Side) -> Option<CableId> {
    let chosen = super::open_row(model);
    let chosen = ends.iter().find(|end| Some(end.end.cable) == chosen);
    let found = chosen.or_else(|| ends.iter().find(|end| mark(end, side).is_none()));
    found.map(|end| end.end.cable)
}

/// What to type, behind what is wrong.
const TO_TYPE: &str = "Type the whole number printed on the jacket, for example 412.";

/// Reads a typed mark. A unit behind the number goes before the one in use. A comma or a space may
/// part thousands, three digits behind each; anywhere else it may be a decimal comma, and is not
/// guessed at.
///
/// # Errors
/// When it is no whole number, or none that is printed, with the sentence for the person.
pub fn read_mark(text: &str, unit: LengthUnit) -> Result<FootageMark, String> {
    let plain = text.trim().to_lowercase();
    if plain.is_empty() {
        return Err(TO_TYPE.to_owned());
    }
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
    let why = match whole(number.trim()) {
        Some(value) if value <= FootageMark::HIGHEST => return Ok(FootageMark { value, unit }),
        Some(_) => "is more than any jacket carries, which is five digits.",
        None => "is no length mark.",
    };
    Err(format!("“{}” {why} {TO_TYPE}", text.trim()))
}

/// A whole number, at most the highest there is; none when it is not plain which.
fn whole(text: &str) -> Option<u32> {
    let mut value: u32 = 0;
    let mut digits = 0;
    let mut is_parted = false;
    for c in text.chars() {
        if let Some(digit) = c.to_digit(10) {
            value = value.saturating_mul(10).saturating_add(digit);
            digits += 1;
        } else if (c == ',' || c.is_whitespace())
            && (digits == 3 || !is_parted && (1..3).contains(&digits))
        {
            (digits, is_parted) = (0, true);
        } else {
            return None;
        }
    }
    (digits == 3 || !is_parted && digits > 0).then_some(value)
}

/// Takes the mark in the field and goes on to the next cable, but stays where it is doubtful.
pub(super) fn take_mark(
    model: &mut Model,
    of: FootageOf,
    side: Side,
    world: &impl World,
) -> Vec<Effect> {
    let ends = own(model, of);
    let Some(cable) = footage_cable(model, &ends, side) else {
        return refuse(
            model,
            "Every cable here has its mark. Tap one to read it again.",
        );
    };
    let mark = match read_mark(model.fields.get(Field::Footage), model.unit) {
        Ok(mark) => mark,
        Err(words) => return refuse_at(model, Field::Footage, &words),
    };
    let want = Want::ReadFootage {
        end: End::whole(cable, side),
        mark,
    };
    let mut effects = take(model, want, &[Field::Footage], None, world);
    if !effects.is_empty() {
        // What is doubtful is told beside the field, which stays with its cable.
        let is_doubtful = |end: &EndHere| end.end.cable == cable && end.is_doubtful;
        if own(model, of).iter().any(is_doubtful) {
            model.fields.set(Field::OpenRow, cable.0.to_string());
        } else {
            turn(model, &ends, side, cable);
        }
        effects.push(Effect::FocusField(Field::Footage));
    }
    effects
}

/// Goes on to the next cable without a mark; behind the last one from the wall to the other end, and
/// from there back to where the marks belong.
pub(super) fn pass(
    model: &mut Model,
    of: FootageOf,
    side: Side,
    world: &impl World,
) -> Vec<Effect> {
    let ends = own(model, of);
    if let Some(cable) = footage_cable(model, &ends, side) {
        turn(model, &ends, side, cable);
    }
    if super::open_row(model).is_none() {
        let is_open = |end: &EndHere| mark(end, Side::Far).is_none();
        let to = match (side, of) {
            (Side::Near, _) if ends.iter().any(is_open) => Screen::Footage {
                of,
                side: Side::Far,
            },
            (_, FootageOf::Outlet(outlet)) => Screen::Outlet(outlet),
            (_, FootageOf::Bundle(_)) => Screen::Pull,
        };
        return update(model, Action::Go(to), world);
    }
    vec![Effect::FocusField(Field::Footage)]
}

fn turn(model: &mut Model, ends: &[EndHere], side: Side, from: CableId) {
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
