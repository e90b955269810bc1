//! The next text for the pen: each tap goes on to the next, the last one notes all that were
//! written. What was written is kept apart until then, so that a cable that was passed over, or
//! never came on the screen, is not taken for marked.

use super::go;
use crate::app::{Action, Effect, Field, Model, Screen, World, update};
use crate::command::Want;
use crate::domain::ids::{OutletId, ThingId};
use crate::domain::place::End;
use crate::domain::work::MarkKind;
use crate::query::wall;

/// How often a code is written on an end with a pen: twice where the plate will be, and once more
/// behind the likely cut. Common practice, no source.
pub const PEN_COPIES: u8 = 3;

/// Whether the text on the screen was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wrote {
    /// It was.
    Yes,
    /// It is passed over.
    Skipped,
}

/// The ends of an outlet that are left for the pen, in the order in which they are shown.
#[must_use]
pub fn pen_left(model: &Model, outlet: OutletId) -> Vec<wall::EndHere> {
    let ends = model
        .registry()
        .map(|registry| wall::ends(registry, outlet))
        .unwrap_or_default();
    ends.into_iter().filter(|end| !end.is_marked()).collect()
}

/// The ends of an outlet that were written but not noted yet.
#[must_use]
pub fn pen_written(model: &Model, outlet: OutletId) -> Vec<End> {
    let mut words = model.fields.get(Field::PenWritten).split(' ');
    if words.next() != Some(outlet.0.to_string().as_str()) {
        return Vec::new();
    }
    let cables: Vec<ThingId> = words.filter_map(|word| word.parse().ok()).collect();
    pen_left(model, outlet)
        .into_iter()
        .map(|end| end.end)
        .filter(|end| cables.contains(&end.cable.0))
        .collect()
}

fn remember(model: &mut Model, outlet: OutletId, written: &[End]) {
    let cables = written.iter().map(|end| end.cable.0.to_string());
    let words: Vec<String> = std::iter::once(outlet.0.to_string())
        .chain(cables)
        .collect();
    model.fields.set(Field::PenWritten, words.join(" "));
}

/// Goes on to the next text; from the last one back to the outlet, with all written ones noted.
pub(super) fn next(
    model: &mut Model,
    outlet: OutletId,
    place: usize,
    wrote: Wrote,
    world: &impl World,
) -> Vec<Effect> {
    let left = pen_left(model, outlet);
    let Some(shown) = left.get(place) else {
        return stop(model, outlet, world);
    };
    let mut written = pen_written(model, outlet);
    written.retain(|end| *end != shown.end);
    if wrote == Wrote::Yes {
        written.push(shown.end);
    }
    remember(model, outlet, &written);
    let next = place + 1;
    if next < left.len() {
        return go(
            model,
            Screen::Pen {
                outlet,
                place: next,
            },
            world,
        );
    }
    stop(model, outlet, world)
}

/// Notes what was written, and goes back to the outlet.
pub(super) fn stop(model: &mut Model, outlet: OutletId, world: &impl World) -> Vec<Effect> {
    let ends = pen_written(model, outlet);
    let back = Screen::Outlet(outlet);
    if ends.is_empty() {
        model.fields.clear(&[Field::PenWritten]);
        return go(model, back, world);
    }
    let want = Want::MarkEnds {
        ends,
        kind: MarkKind::Pen,
        copies: PEN_COPIES,
    };
    let then = Some(back);
    let effects = update(model, Action::Do { want, then }, world);
    if !effects.is_empty() {
        model.fields.clear(&[Field::PenWritten]);
    }
    effects
}
