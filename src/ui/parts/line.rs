//! A cable as a line from plate to position: what stands at either end, large.

use super::Shape;
use crate::query::cable::{EndState, EndView, OutletOrRack};
use crate::ui::Html;
use crate::view::{classes, markup};

/// How an end stands, as a word and a shape.
pub(in crate::ui) fn end_state(state: EndState) -> (Shape, &'static str) {
    match state {
        EndState::Landed => (Shape::Full, "landed"),
        EndState::Planned => (Shape::Hollow, "not landed"),
        EndState::Open => (Shape::Hollow, "no place yet"),
        EndState::Spare => (Shape::Half, "spare"),
        EndState::Dead => (Shape::Half, "dead"),
        EndState::Disputed => (Shape::Alarm, "disputed"),
    }
}

/// Draws the line. The picture repeats what the words beside it say, so it is hidden from those
/// who have the page read to them, and they hear one sentence in its place.
pub(in crate::ui) fn line(ends: &[EndView; 2], code: &str) -> Html {
    let [near, far] = ends;
    markup! {
        <div class="line">
            { end(near) }
            <svg class="line-cable" viewBox="0 0 120 40" preserveAspectRatio="none" aria-hidden="true" focusable="false">
                { half(near.state, "M0 20 C20 20 30 8 60 20") }
                { half(far.state, "M60 20 C90 32 100 20 120 20") }
            </svg>
            { end(far) }
            <p class="visually-hidden">
                { format!("{code} runs from {} to {}.", near.place, far.place) }
            </p>
        </div>
    }
}

/// One half of the cable: whole where the end is landed, broken where it is not.
fn half(state: EndState, path: &'static str) -> Html {
    let class = match state {
        EndState::Landed => "whole",
        EndState::Planned | EndState::Open | EndState::Disputed => "broken",
        EndState::Spare | EndState::Dead => "ended",
    };
    markup! { <path class={class} d={path} /> }
}

fn end(end: &EndView) -> Html {
    let size = match end.place.chars().count() {
        0..=5 => "short",
        6..=9 => "middle",
        _ => "long",
    };
    markup! {
        <div class={classes(["line-end", size])} aria-hidden="true">
            { glyph(end.outlet_or_rack, end.state) }
            <span class="code line-place">{ &end.place }</span>
        </div>
    }
}

/// A plate with a jack for an end at an outlet, a panel with one port filled for one at a rack.
fn glyph(at: OutletOrRack, state: EndState) -> Html {
    let filled = state == EndState::Landed;
    match at {
        OutletOrRack::Outlet(_) => markup! {
            <svg class="line-glyph" viewBox="0 0 48 48" focusable="false">
                <rect class="edge" x="11" y="3" width="26" height="42" rx="3" />
                <circle class="dot" cx="24" cy="8" r="1.5" />
                <circle class="dot" cx="24" cy="40" r="1.5" />
                <rect class={port(filled)} x="17" y="17" width="14" height="14" />
            </svg>
        },
        OutletOrRack::Rack => markup! {
            <svg class="line-glyph" viewBox="0 0 48 48" focusable="false">
                <rect class="edge" x="2" y="12" width="44" height="24" rx="2" />
                { for [0, 1, 2, 3].map(|place| markup! {
                    <rect class={port(filled && place == 1)} x={(6 + place * 10).to_string()} y="19" width="7" height="10" />
                }) }
            </svg>
        },
    }
}

fn port(filled: bool) -> &'static str {
    if filled { "port filled" } else { "port" }
}
