//! What is to be done next with a cable by somebody who stands at an end of it, its tag in view.

use super::{Here, Scanned};
use crate::domain::ids::CableId;
use crate::domain::place::{End, Place, RunName, Side};
use crate::journal::Registry;
use crate::query::cable::Next;
use crate::query::printed::end_tag;
use crate::query::rack::planned_place;
use crate::query::run::{Marked, Run, Standpoint};
use crate::{names, walk};

/// What is next at an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NextHere {
    /// What is next for the cable as a whole: nobody said where he stands, or somebody must decide or pull
    /// first.
    OfCable,
    /// Mark this end.
    Mark(End),
    /// Say that its printed tag is on.
    Fix(End),
    /// Print a new tag for it.
    Print,
    /// Land this end; on this place, where one is meant.
    Land(End, Option<Place>),
    /// Test it.
    Test,
    /// Nothing here.
    Nothing,
}

/// What is next for whoever scanned a cable. `next` is what is next for the cable as a whole.
#[must_use]
pub fn next_here(
    registry: &Registry,
    id: CableId,
    scanned: &Scanned,
    here: Here,
    next: Next,
) -> NextHere {
    let is_void = scanned.void;
    let side = match here {
        Here::End(side) => side,
        Here::Unknown if is_void && matches!(next, Next::Nothing | Next::Land(_) | Next::Test) => {
            return NextHere::Print;
        }
        Here::Unknown if next == Next::Nothing => return NextHere::Nothing,
        Here::Unknown => return NextHere::OfCable,
        // What is to be decided or pulled first is so wherever one stands.
        Here::Elsewhere if matches!(next, Next::Settle | Next::Pull) => return NextHere::OfCable,
        Here::Elsewhere => return NextHere::Nothing,
    };
    let Some(cable) = registry.cables.get(id) else {
        return NextHere::Nothing;
    };
    if matches!(next, Next::Settle | Next::Pull) {
        return NextHere::OfCable;
    }
    if !walk::is_wanted_cable(cable) {
        return NextHere::Nothing;
    }
    let run = Run::new(registry, id, cable);
    let end = End::whole(id, side);
    let tag = end_tag(registry, end);
    match run.marked(side) {
        Marked::No if tag.lost => return NextHere::Print,
        Marked::No => return NextHere::Mark(end),
        Marked::Yes | Marked::Printed if is_void || tag.void.is_some() => return NextHere::Print,
        Marked::Printed => return NextHere::Fix(end),
        Marked::Yes => {}
    }
    if run.standpoint(side) == Standpoint::Open {
        let is_split = run
            .end(side)
            .is_some_and(|record| record.split.get().is_some());
        let place = meant(registry, end).filter(|_| !is_split);
        return NextHere::Land(end, place);
    }
    if run.wants_test() {
        return NextHere::Test;
    }
    NextHere::Nothing
}

/// Where an end is to be landed: where it belongs, or in the jack of its own letter.
fn meant(registry: &Registry, end: End) -> Option<Place> {
    let planned = planned_place(registry, end).cloned();
    let name = registry
        .cables
        .get(end.cable)
        .and_then(|row| row.name.get());
    planned.or(match (end.side, name) {
        (Side::Near, Some(RunName::Feeds { outlet, letter })) => Some(Place::Jack {
            outlet: *outlet,
            jack: *letter,
        }),
        _ => None,
    })
}

/// A place to land on, as it is said on a button.
#[must_use]
pub fn landed_words(registry: &Registry, place: &Place) -> String {
    let at = names::place(registry, place);
    match place {
        Place::Jack { .. } => format!("Landed in {at}"),
        Place::Position { .. } | Place::Device { .. } | Place::Joint { .. } => {
            format!("Landed on {at}")
        }
    }
}
