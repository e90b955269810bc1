//! A panel as it is seen: its positions side by side, from the front or mirrored from the rear.
//!
//! The drawing is for the eye and the finger. The list beside it says the same in words, so the
//! drawing itself is hidden from those who listen.

use crate::app::{Action, OpenJob, Screen};
use crate::domain::label::PositionNumber;
use crate::domain::place::{End, Face};
use crate::names;
use crate::query::rack::{Group, PlaceInRow, Slot, SlotState};
use crate::ui::{Html, tap};
use crate::view::{classes, markup, when};

/// Width and height of a position in units of the drawing.
const WIDE: usize = 30;
const HIGH: usize = 100;
/// A panel of few positions is not drawn larger than one of so many.
const LEAST: usize = 8;
/// Height of a row of the small drawing.
const SMALL_ROW: usize = 52;
/// A longer code is drawn narrower, so that it stays below its number.
const LONGEST: usize = 7;

/// Draws the positions of a panel, some of them framed; a tap on one chooses it.
pub(in crate::ui) fn panel(
    open: &OpenJob,
    groups: &[Group],
    slots: &[Slot],
    face: Face,
    framed: &[PositionNumber],
) -> Html {
    let port = |number: PositionNumber, at: usize| {
        let slot = slots.get(usize::from(number.get()) - 1);
        slot.map(|slot| {
            let class = when(framed.contains(&number), "chosen");
            port(open, slot, at * WIDE, face, class)
        })
    };
    markup! {
        <div class="panel-rows" aria-hidden="true">
            { for groups.iter().map(|group| {
                let width = group.width.max(LEAST) * WIDE;
                markup! {
                    <svg class={classes(["ports", when(starts_lower_row(group), "lower-row")])} viewBox={format!("0 0 {width} {HIGH}")}>
                        { for cells(group).map(|(at, number)| port(number, at).unwrap_or_default()) }
                    </svg>
                }
            }) }
        </div>
    }
}

/// Whether a group begins a row below another, which a narrow screen sets apart from a half.
fn starts_lower_row(group: &Group) -> bool {
    group.row > 1 && group.starts_row
}

/// What a narrow screen does with a row; nothing where a row is in one piece.
pub(in crate::ui) fn halves(groups: &[Group]) -> Html {
    if groups.iter().all(|group| group.starts_row) {
        return markup! {};
    }
    markup! { <span class="halves">{ " Each row is shown in two halves, the left one above." }</span> }
}

/// The positions of a group with their places from the left, from 0.
fn cells(group: &Group) -> impl Iterator<Item = (usize, PositionNumber)> + '_ {
    let cells = group.cells.iter().enumerate();
    cells.filter_map(|(at, number)| number.map(|number| (at, number)))
}

fn port(open: &OpenJob, slot: &Slot, x: usize, face: Face, chosen: &'static str) -> Html {
    let number = slot.position.number.get();
    let position = slot.position;
    let choose = Action::Go(Screen::Position { position, face });
    let code = slot.shown().map(|end| end_code(open, end));
    let class = classes(["port", state_class(slot.state), chosen]);
    markup! {
        <g class={class} data-position={number.to_string()} onclick={tap(choose)}>
            <rect class="port-body" x={(x + 2).to_string()} y="2" width={(WIDE - 4).to_string()} height={(HIGH - 4).to_string()} rx="3" />
            <text class="port-number" x={(x + WIDE / 2).to_string()} y="18">{ number }</text>
            if let Some(code) = code {
                <text class="port-code" textLength={(code.len() > LONGEST).then_some("54")} lengthAdjust="spacingAndGlyphs" transform={format!("translate({} 76) rotate(-90)", x + WIDE / 2 + 4)}>{ code }</text>
            }
            { mark_at(slot.state, x + WIDE / 2, HIGH - 13) }
        </g>
    }
}

/// Draws a panel small, its rows whole as they hang in the rack, with one position marked. Ports
/// stand in sixes with a little air between, so that the eye can count them. Common practice, no
/// source.
pub(in crate::ui) fn small_panel(
    places: &[(PositionNumber, PlaceInRow)],
    face: Face,
    marked: PositionNumber,
) -> Html {
    let Some((_, first)) = places.first() else {
        return markup! {};
    };
    // The last row may be shorter than the others.
    let width = six_start(first.from_left + first.from_right - 2) + WIDE;
    let ports = places.iter().map(|(number, at)| {
        let x = match face {
            Face::Front => six_start(at.from_left - 1),
            Face::Rear => width - six_start(at.from_right - 1) - WIDE,
        };
        small_port(x, (at.row - 1) * SMALL_ROW, *number == marked)
    });
    markup! {
        <svg class="small-ports" aria-hidden="true" viewBox={format!("0 0 {width} {}", first.rows * SMALL_ROW)}>
            { for ports }
        </svg>
    }
}

/// Where the port begins that has so many before it.
fn six_start(before: usize) -> usize {
    before * WIDE + before / 6 * (WIDE / 3)
}

/// The marked one is taller than its row, so that it is found without its colour too.
fn small_port(x: usize, y: usize, here: bool) -> Html {
    let inset = if here { 0 } else { 9 };
    markup! {
        <rect class={classes(["port-body", when(here, "here")])} x={(x + 2).to_string()} y={(y + inset).to_string()} width={(WIDE - 4).to_string()} height={(SMALL_ROW - 4 - 2 * inset).to_string()} rx="3" />
    }
}

/// What each mark means.
pub(in crate::ui) fn legend() -> Html {
    markup! {
        <ul class="legend">
            { for SlotState::ALL.iter().map(|state| markup! { <li>{ slot_state(*state) }</li> }) }
        </ul>
    }
}

/// A state as its mark with its word.
pub(in crate::ui) fn slot_state(state: SlotState) -> Html {
    markup! {
        <span class={classes(["slot-state", state_class(state)])}>
            <svg class="slot-mark" viewBox="0 0 20 20" aria-hidden="true">{ mark_at(state, 10, 10) }</svg>
            { state_words(state) }
        </span>
    }
}

pub(in crate::ui) fn state_words(state: SlotState) -> &'static str {
    match state {
        SlotState::Free => "free",
        SlotState::Planned => "listed",
        SlotState::Landed => "landed",
        SlotState::Reserved => "reserved",
        SlotState::Bad => "bad",
        SlotState::Clash => "disputed",
    }
}

fn state_class(state: SlotState) -> &'static str {
    match state {
        SlotState::Free => "is-free",
        SlotState::Planned => "is-planned",
        SlotState::Landed => "is-landed",
        SlotState::Reserved => "is-reserved",
        SlotState::Bad => "is-bad",
        SlotState::Clash => "is-clash",
    }
}

/// The mark of a state, a shape of its own for each.
fn mark_at(state: SlotState, x: usize, y: usize) -> Html {
    let at = format!("translate({x} {y})");
    let shape = match state {
        SlotState::Free => markup! { <circle r="4" /> },
        SlotState::Planned => markup! { <><circle r="7" /><circle class="solid" r="3" /></> },
        SlotState::Landed => markup! {
            <><rect class="solid" x="-8" y="-8" width="16" height="16" rx="2" /><path class="tick" d="M-4.5 0.5 L-1.5 4 L4.5 -4" /></>
        },
        SlotState::Reserved => markup! { <path d="M0 -8 L8 0 L0 8 L-8 0 Z" /> },
        SlotState::Bad => markup! { <path d="M-6 -6 L6 6 M6 -6 L-6 6" /> },
        SlotState::Clash => markup! {
            <><path class="solid" d="M0 -9 L9 8 L-9 8 Z" /><path class="tick" d="M0 -3 L0 3 M0 5 L0 6.5" /></>
        },
    };
    markup! { <g class="mark" transform={at}>{ shape }</g> }
}

/// The code of an end: `KIT2-C`, or `KIT2-C.1` for a leg.
pub(in crate::ui) fn end_code(open: &OpenJob, end: End) -> String {
    names::end_code(open.journal.registry(), end)
}
