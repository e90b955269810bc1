//! The drawing of a rack, to scale: 19 inches wide, rack units of 1.75 inches.

use crate::app::{Action, Screen};
use crate::domain::mount::ROW;
use crate::domain::place::Face;
use crate::query::elevation::{Elevation, Piece, is_beside, is_hidden, panel_of};
use crate::query::rack::{SlotState, place_in_row};
use crate::ui::parts::panel::state_words;
use crate::ui::{Html, go, tap};
use crate::view::{Node, classes, markup, when};

/// The width of what hangs in the rack, in units of the drawing.
const WIDE: usize = 720;
/// The height of a rack unit: 482.6 mm are to 44.45 mm as 720 to 66.
const UNIT: usize = 66;
/// The numbers beside it.
const EDGE: usize = 52;
/// How much of it is cut off on both sides where the drawing is large.
const CUT: usize = 22;
/// The middle of what is left of it.
const MIDDLE: usize = usize::midpoint(CUT, EDGE);
/// From position to position, and what stands before the first.
const PITCH: usize = 26;
const LEAD: usize = 92;
const CLOSE: usize = 8;
/// A longer name is cut: the list has all of it.
const LONGEST: usize = 34;
/// How wide a thing is drawn that hangs behind a panel, and how long its name is then.
const BESIDE: usize = WIDE * 2 / 5;
const SHORTER: usize = 20;
/// How the panel is drawn beside it: as high as ever, and three fifths as wide, to its right end.
const SQUEEZED: &str = "translate(308.8 0) scale(0.6 1)";
/// The width of a digit of their numbers.
const DIGIT: usize = 8;
/// The most positions that can be tapped in one drawing; panels beyond are opened as a whole.
const MOST: usize = 1_200;

/// Draws what is seen from a face.
pub(super) fn drawing(of: &Elevation, face: Face, is_large: bool) -> Html {
    let units = usize::from(of.units.unwrap_or(0));
    let stacked: usize = of.pieces.iter().map(|piece| high(piece) * UNIT).sum();
    let tall = if units > 0 { units * UNIT } else { stacked };
    // What hangs at no rack unit is drawn below the others, under words that say so.
    let is_seen = |piece: &Piece| piece.hung.face == face || panel_of(piece).is_some();
    let outside = |piece: &&Piece| units > 0 && piece.hung.unit.is_none() && is_seen(piece);
    let outside = of.pieces.iter().filter(outside);
    let outside: usize = outside.map(|piece| high(piece) * UNIT).sum();
    let whole = tall + outside + if outside > 0 { UNIT } else { 0 };
    let wide = WIDE + 2 * EDGE;
    let mut blocks: Vec<Html> = Vec::new();
    let mut letters: Vec<Html> = Vec::new();
    let mut left = if is_large { MOST } else { 0 };
    let mut y = if units > 0 { tall + UNIT } else { 0 };
    // What hangs on this side covers what is behind it.
    for own in [false, true] {
        for piece in &of.pieces {
            if (piece.hung.face == face) != own && units > 0 {
                continue;
            }
            let top = match (of.units, piece.hung.reach()) {
                (Some(units), Some((_, top))) if piece.is_drawn(units) => {
                    usize::from(units - top) * UNIT
                }
                (None, _) | (Some(_), None) if own || units > 0 && is_seen(piece) => {
                    y += high(piece) * UNIT;
                    y - high(piece) * UNIT
                }
                _ => continue,
            };
            let taps = piece.slots.len() <= left;
            left -= if taps { piece.slots.len() } else { 0 };
            let is_behind = units > 0 && !own && panel_of(piece).is_none();
            let seen = Seen {
                taps,
                is_behind,
                is_hidden: is_behind && is_hidden(of, piece),
                is_beside: face == Face::Rear && is_beside(of, piece),
                is_large,
            };
            blocks.push(block(piece, face, top, seen));
            if is_large {
                letters.push(letter(piece, face, top));
            }
        }
    }
    let cut = if is_large { CUT } else { 0 };
    let from = if is_large {
        CUT.to_string()
    } else {
        "-2".to_owned()
    };
    let view = |wide: usize| format!("{from} -2 {wide} {}", whole + 4);
    let drawn = markup! {
        <svg class="rack-drawing" aria-hidden="true" viewBox={view(wide + 4 - 2 * cut)}>
            <rect class="rack-frame" x={EDGE.to_string()} y="0" width={WIDE.to_string()} height={tall.to_string()} />
            if units > 0 {
                <path class="rack-lines" d={lines(units)} />
            }
            if units > 0 && !is_large {
                { for (1..=units).map(|unit| numbers(unit, units)) }
            }
            if outside > 0 {
                <text class="rack-name" x={EDGE.to_string()} y={(tall + UNIT - 18).to_string()}>{ "At no rack unit" }</text>
            }
            { for blocks }
        </svg>
    };
    if !is_large {
        return drawn;
    }
    markup! {
        <div class="rack-sheet">
            { drawn }
            <svg class={classes(["rack-edge", when(face == Face::Rear, "from-rear")])} aria-hidden="true" viewBox={view(EDGE + 2 - cut)}>
                { for letters }
                { for (1..=units).map(|unit| {
                    let y = (units + 1 - unit) * UNIT - 10;
                    markup! { <text class="rack-number" x={MIDDLE.to_string()} y={y.to_string()}>{ unit.to_string() }</text> }
                }) }
            </svg>
        </div>
    }
}

/// The letters of a panel on the edge that stays in view while the positions pass by.
fn letter(piece: &Piece, face: Face, top: usize) -> Html {
    let Some(panel) = panel_of(piece) else {
        return Node::Nothing;
    };
    let letters = if is_short(piece) {
        piece.name.trim_start_matches("Panel ")
    } else {
        ""
    };
    markup! {
        <g class="rack-block">
            <rect x={(CUT + 1).to_string()} y={(top + 2).to_string()} width={(EDGE - CUT - 3).to_string()} height={(high(piece) * UNIT - 4).to_string()} rx="4" onclick={go(Screen::Panel { panel, face })} />
            <text class="rack-letters" x={MIDDLE.to_string()} y={(top + 34).to_string()}>{ letters.to_owned() }</text>
        </g>
    }
}

/// Whether a panel has letters that have room on the edge; else words stand in their place.
fn is_short(piece: &Piece) -> bool {
    piece.name.trim_start_matches("Panel ").len() < 3
}

fn high(piece: &Piece) -> usize {
    usize::from(piece.hung.height.get())
}

/// The lines between the rack units.
fn lines(units: usize) -> String {
    let mut path = String::new();
    for unit in 1..units {
        path.push_str(&format!("M{EDGE} {}h{WIDE}", unit * UNIT));
    }
    path
}

/// The number of a rack unit on both sides.
fn numbers(unit: usize, units: usize) -> Html {
    let y = ((units - unit) * UNIT + UNIT / 2 + 9).to_string();
    let right = (EDGE + WIDE + EDGE / 2).to_string();
    markup! {
        <>
            <text class="rack-number" x={(EDGE / 2).to_string()} y={y.clone()}>{ unit.to_string() }</text>
            <text class="rack-number" x={right} y={y}>{ unit.to_string() }</text>
        </>
    }
}

/// How a piece is seen.
#[derive(Clone, Copy)]
struct Seen {
    taps: bool,
    is_behind: bool,
    /// Something before it covers it, so that its name has no room.
    is_hidden: bool,
    /// It shares its units with what hangs on the other rails, and both are worked on from here.
    is_beside: bool,
    is_large: bool,
}

fn block(piece: &Piece, face: Face, top: usize, seen: Seen) -> Html {
    let height = high(piece) * UNIT;
    let class = classes([
        "rack-block",
        when(seen.is_behind, "is-behind"),
        when(piece.clashes, "is-clash"),
    ]);
    let inset = if piece.clashes { 14 } else { 2 };
    let is_panel = panel_of(piece).is_some();
    let wide = if seen.is_beside && !is_panel {
        BESIDE
    } else {
        WIDE
    };
    let x = (EDGE + inset).to_string();
    let open = panel_of(piece).map(|panel| go(Screen::Panel { panel, face }));
    let body = markup! {
        <rect x={x} y={(top + 2).to_string()} width={(wide - 2 * inset).to_string()} height={(height - 4).to_string()} rx="4" onclick={open} />
    };
    let name = match panel_of(piece) {
        // They stand on the edge that stays in view.
        Some(_) if seen.is_large && is_short(piece) => Node::Nothing,
        Some(_) => lead(piece, face, top + height / 2),
        None if seen.is_hidden => Node::Nothing,
        None => {
            let behind = if seen.is_behind { "Behind: " } else { "" };
            let longest = if seen.is_beside { SHORTER } else { LONGEST };
            let mut words: String = piece.name.chars().take(longest).collect();
            if words.len() < piece.name.len() {
                words.push('…');
            }
            let y = (top + height / 2 + 12).to_string();
            let class = classes(["rack-name", when(seen.is_beside, "in-words")]);
            markup! { <text class={class} x={(EDGE + 24).to_string()} y={y}>{ [behind, &words].concat() }</text> }
        }
    };
    // From the rear the first position is on the right, and so is what is left of the panel.
    let squeezed = (seen.is_beside && is_panel).then_some(SQUEEZED);
    markup! {
        <g class={class} transform={squeezed}>
            { body }
            { name }
            { positions(piece, face, top, seen) }
        </g>
    }
}

/// The letters of a panel, at the end where its first position is.
fn lead(piece: &Piece, face: Face, middle: usize) -> Html {
    let letters = piece.name.trim_start_matches("Panel ");
    let x = match face {
        Face::Front => EDGE + LEAD / 2,
        Face::Rear => EDGE + WIDE - LEAD / 2,
    };
    let class = classes(["rack-letters", when(letters.len() > 2, "in-words")]);
    markup! { <text class={class} x={x.to_string()} y={(middle + 15).to_string()}>{ letters.to_owned() }</text> }
}

/// The positions of a panel: one path for each state, and one place to tap for each position where
/// they can be tapped.
fn positions(piece: &Piece, face: Face, top: usize, seen: Seen) -> Html {
    let Some(make) = piece.make else {
        return Node::Nothing;
    };
    let taps = seen.taps;
    // Where the letters stand on the edge, the positions begin beside them.
    let lead = if seen.is_large && is_short(piece) {
        CLOSE
    } else {
        LEAD
    };
    let mut paths: [String; 6] = Default::default();
    let mut places: Vec<Html> = Vec::new();
    // The digits of all numbers as one text, each with a place of its own.
    let (mut digits, mut xs, mut ys) = (String::new(), String::new(), String::new());
    for slot in &piece.slots {
        let at = place_in_row(make.positions, slot.position.number, face);
        let row = (high(piece) * UNIT - 8) / at.rows.max(1);
        let half = (row / 2).saturating_sub(2).min(10);
        // From the rear the first position is on the right, beside the letters.
        let x = match face {
            Face::Front => EDGE + lead + (at.from_left - 1) * PITCH,
            Face::Rear => EDGE + WIDE - lead - at.from_right * PITCH,
        };
        let (x, y) = (x + PITCH / 2, top + 4 + (at.row - 1) * row + row / 2);
        let state = SlotState::ALL.iter().position(|one| *one == slot.state);
        shape(&mut paths[state.unwrap_or(0)], slot.state, [x, y, half]);
        if taps {
            let position = slot.position;
            let number = format!("{:02}", position.number.get());
            for (place, digit) in number.chars().enumerate() {
                digits.push(digit);
                xs.push_str(&format!("{} ", x - DIGIT + place * DIGIT));
                ys.push_str(&format!("{} ", y + row / 2 - 1));
            }
            let choose = tap(Action::Go(Screen::Position { position, face }));
            places.push(markup! {
                <rect class="rack-tap" data-position={position.number.get().to_string()} x={(x - PITCH / 2).to_string()} y={(y - row / 2).to_string()}
                    width={PITCH.to_string()} height={row.to_string()} onclick={choose} />
            });
        }
    }
    let drawn = paths.into_iter().zip(CLASSES);
    let drawn = drawn.filter(|(path, _)| !path.is_empty());
    markup! {
        <>
            { for drawn.map(|(path, class)| markup! { <path class={class} d={path} /> }) }
            if taps {
                <text class="rack-digits" x={xs} y={ys}>{ digits }</text>
            }
            { for places }
        </>
    }
}

/// What each shape means.
pub(super) fn legend() -> Html {
    let one = |(state, class): (SlotState, &'static str)| {
        let mut path = String::new();
        shape(&mut path, state, [14, 14, 10]);
        markup! {
            <li>
                <svg class="slot-mark" viewBox="0 0 28 28" aria-hidden="true"><path class={class} d={path} /></svg>
                { state_words(state) }
            </li>
        }
    };
    markup! { <ul class="legend">{ for SlotState::ALL.into_iter().zip(CLASSES).map(one) }</ul> }
}

/// The classes of the states, in the order of the legend.
const CLASSES: [&str; 6] = [
    "rack-state is-free",
    "rack-state is-planned",
    "rack-state is-landed",
    "rack-state is-reserved",
    "rack-state is-bad",
    "rack-state is-clash",
];

/// Adds the shape of a state, the same as in the legend: `r` is half its width.
fn shape(path: &mut String, state: SlotState, [x, y, r]: [usize; 3]) {
    let (left, top, side) = (x - r, y - r, 2 * r);
    let small = r / 2;
    path.push_str(&match state {
        SlotState::Free => {
            let across = 2 * small;
            format!(
                "M{} {y}a{small} {small} 0 1 0 {across} 0a{small} {small} 0 1 0-{across} 0z",
                x - small
            )
        }
        SlotState::Planned => format!(
            "M{left} {top}h{side}v{side}h-{side}zM{} {y}h{}",
            x - small,
            2 * small
        ),
        SlotState::Landed => format!("M{left} {top}h{side}v{side}h-{side}z"),
        SlotState::Reserved => format!("M{x} {top}l{r} {r}l-{r} {r}l-{r} -{r}z"),
        SlotState::Bad => format!("M{left} {top}l{side} {side}m0 -{side}l-{side} {side}"),
        SlotState::Clash => format!("M{x} {top}l{r} {side}h-{side}z"),
    });
}

/// A row has room for all its positions.
const _: () = assert!(LEAD + ROW as usize * PITCH <= WIDE);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_drawing_is_to_scale() {
        // Published: EIA-310 and IEC 60297, a panel is 19 in (482.6 mm) wide, a unit 44.45 mm high.
        let high = WIDE * 44_450 / 482_600;
        assert_eq!(UNIT, high);
    }

    #[test]
    fn a_panel_ends_where_what_hangs_beside_it_begins() {
        // Arithmetic: three fifths of the width, with the right edge where it was.
        let left = (EDGE + WIDE) * 2;
        let squeezed = format!("translate({}.{} 0) scale(0.6 1)", left / 5, left % 5 * 2);
        assert_eq!(SQUEEZED, squeezed);
        assert_eq!(BESIDE + WIDE * 3 / 5, WIDE);
    }
}
