//! The next text for the pen: each tap notes the text as written and goes on to the next. It is noted
//! at once, so that a phone that is put away or runs empty in between forgets nothing.

use super::go;
use crate::app::{Action, Effect, Model, Screen, World, update};
use crate::command::Want;
use crate::domain::ids::OutletId;
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

/// A text for the pen.
pub struct PenText {
    /// The end that it belongs on.
    pub end: wall::EndHere,
    /// Its place among the ends of the outlet, from 0.
    pub place: usize,
    /// How many ends come out there.
    pub of: usize,
}

/// The first end of an outlet, from a place on, that does not bear its code.
#[must_use]
pub fn pen_text(model: &Model, outlet: OutletId, from: usize) -> Option<PenText> {
    let ends = wall::ends(model.registry()?, outlet);
    let of = ends.len();
    let mut left = ends.into_iter().enumerate().skip(from);
    let (place, end) = left.find(|(_, end)| !end.is_marked())?;
    Some(PenText { end, place, of })
}

/// Notes the text, if it was written, and goes on to the next; from the last one back to the outlet.
pub(super) fn next(
    model: &mut Model,
    outlet: OutletId,
    place: usize,
    wrote: Wrote,
    world: &impl World,
) -> Vec<Effect> {
    let shown = pen_text(model, outlet, place);
    let next = shown.as_ref().map_or(place, |shown| shown.place) + 1;
    let then = match pen_text(model, outlet, next) {
        Some(text) => Screen::Pen {
            outlet,
            place: text.place,
        },
        None => Screen::Outlet(outlet),
    };
    match shown.filter(|_| wrote == Wrote::Yes) {
        None => go(model, then, world),
        Some(shown) => {
            let want = Want::MarkEnds {
                ends: vec![shown.end.end],
                kind: MarkKind::Pen,
                copies: PEN_COPIES,
            };
            let then = Some(then);
            update(model, Action::Do { want, then }, world)
        }
    }
}
