//! The plate of an outlet, drawn with the cables that come out there. The shape of a jack says what
//! kind of cable it takes, its filling whether it is terminated, the bar under its letter, as with a
//! pen, whether the cable bears its code.

use crate::domain::ids::CableId;
use crate::domain::medium::{Kind, Medium};
use crate::domain::work::WallBox;
use crate::query::wall::{Belongs, EndHere, Settled};
use crate::ui::Html;
use crate::ui::wording::ends as words;
use crate::view::{classes, markup, when};

/// How wide and high the field of one jack is.
const CELL: (usize, usize) = (96, 142);
/// The margin of the plate, and how far the cables are seen above it.
const MARGIN: usize = 14;
const TAIL: usize = 30;
/// How many jacks stand side by side.
const ACROSS: usize = 4;

/// The families of cables, each with a jack of its own shape.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Family {
    Data,
    Coax,
    Speaker,
    Control,
    Fibre,
    Other,
}

fn family(medium: Option<&Medium>) -> Family {
    match medium.map(|medium| &medium.kind) {
        Some(Kind::Cat6Utp | Kind::Cat6Ftp | Kind::Cat6aFtp) => Family::Data,
        Some(Kind::Rg6 | Kind::Rg59) => Family::Coax,
        Some(Kind::Speaker(_)) => Family::Speaker,
        Some(Kind::Control(_) | Kind::ShadePower | Kind::ShadeData) => Family::Control,
        Some(Kind::Fibre { .. }) => Family::Fibre,
        Some(Kind::Own(_)) | None => Family::Other,
    }
}

impl Family {
    fn class(self) -> &'static str {
        match self {
            Self::Data => "data",
            Self::Coax => "coax",
            Self::Speaker => "speaker",
            Self::Control => "control",
            Self::Fibre => "fibre",
            Self::Other => "other",
        }
    }
}

/// The plate of an outlet in full, with the jack of one cable marked where that is asked for.
pub(in crate::ui) fn plate(
    code: &str,
    wall_box: Option<WallBox>,
    ends: &[EndHere],
    marked: Option<CableId>,
) -> Html {
    let across = ends.len().clamp(1, ACROSS);
    let rows = ends.len().div_ceil(across).max(1);
    let width = across * CELL.0 + 2 * MARGIN;
    let height = rows * CELL.1 + 2 * MARGIN + TAIL;
    let place = |at: usize| {
        let x = MARGIN + (at % across) * CELL.0 + CELL.0 / 2;
        let y = TAIL + MARGIN + (at / across) * CELL.1;
        (x, y)
    };
    markup! {
        <svg class={classes(["plate", when(rows == 1, "low")])} role="img" aria-label={spoken(code, wall_box, ends)} viewBox={format!("0 0 {width} {height}")}>
            { for ends.iter().enumerate().map(|(at, end)| tail(end, place(at).0 + (at / across) * 9)) }
            { outline(wall_box, width, height) }
            { for ends.iter().enumerate().map(|(at, end)| jack(end, place(at))) }
            { for ends.iter().enumerate().filter(|(_, end)| marked == Some(end.end.cable)).map(|(at, _)| frame_of(place(at))) }
        </svg>
    }
}

/// A frame round the field of a jack, so that it is found without its colour too.
fn frame_of((x, y): (usize, usize)) -> Html {
    let (width, height) = (CELL.0 - 8, CELL.1 - 6);
    markup! {
        <rect class="jack-here" x={(x - width / 2).to_string()} y={(y + 3).to_string()} width={width.to_string()} height={height.to_string()} rx="8" />
    }
}

/// What the drawing says, for those who hear it.
fn spoken(code: &str, wall_box: Option<WallBox>, ends: &[EndHere]) -> String {
    let wall_box = wall_box.map(words::wall_box);
    let wall_box = wall_box.map_or_else(String::new, |words| format!(", {words}"));
    let ends = ends
        .iter()
        .map(|end| format!("{} {}", label(end), words::in_short(end)));
    let ends: Vec<String> = ends.collect();
    format!("Plate of {code}{wall_box}: {}", ends.join(", "))
}

/// What stands under a jack: its letter, or the whole code of a cable of another outlet.
fn label(end: &EndHere) -> String {
    match end.belongs {
        Belongs::Own => end.jack.to_string(),
        Belongs::Visitor | Belongs::Out => end.code.clone(),
    }
}

/// The cable as it comes down the wall.
fn tail(end: &EndHere, x: usize) -> Html {
    let class = classes(["tail", family(end.medium.as_ref()).class()]);
    markup! { <line class={class} x1={x.to_string()} x2={x.to_string()} y1="0" y2={(TAIL + MARGIN + 24).to_string()} /> }
}

/// The plate's edge, by the kind of box.
fn outline(wall_box: Option<WallBox>, width: usize, height: usize) -> Html {
    let (w, h) = (width - 4, height - TAIL - 4);
    let edge = |class: &'static str, inset: usize| {
        markup! {
            <rect class={class} x={(2 + inset).to_string()} y={(TAIL + 2 + inset).to_string()} rx="10"
                width={(w - 2 * inset).to_string()} height={(h - 2 * inset).to_string()} />
        }
    };
    match wall_box {
        Some(WallBox::Gangs(count)) => {
            let gangs = usize::from(count.max(1));
            let screws = (0..gangs).flat_map(|gang| {
                let x = 2 + w * (2 * gang + 1) / (2 * gangs);
                [TAIL + 9, height - 9].map(|y| (x, y))
            });
            markup! {
                <>
                    { edge("plate-edge", 0) }
                    { for screws.map(|(x, y)| markup! { <circle class="screw" cx={x.to_string()} cy={y.to_string()} r="3.5" /> }) }
                </>
            }
        }
        Some(WallBox::Ring) => markup! { <>{ edge("plate-edge", 0) }{ edge("plate-ring", 6) }</> },
        Some(WallBox::None) => edge("plate-hole", 0),
        None => edge("plate-edge unknown", 0),
    }
}

fn jack(end: &EndHere, (x, y): (usize, usize)) -> Html {
    let label = label(end);
    let state = match &end.here {
        Settled::Open => "open",
        Settled::Landed(_) => "landed",
        Settled::Spare(_) => "spare",
        Settled::Dead(_) => "dead",
    };
    let alarm = when(end.wants_a_look(), "alarm");
    let class = classes(["jack", state, alarm]);
    let small = when(label.len() > 2, "long");
    let word = words::in_short(end);
    let half = if label.len() > 2 { 42 } else { 16 };
    markup! {
        <g class={class} transform={format!("translate({x} {y})")}>
            <g transform="translate(0 34)">{ symbol(family(end.medium.as_ref())) }
                if matches!(end.here, Settled::Dead(_)) {
                    <path class="cross" d="M-26 -22 L26 22 M26 -22 L-26 22" />
                }
            </g>
            <text class={classes(["jack-letter", small])} x="0" y="88">{ label }</text>
            if end.is_marked() {
                <rect class="pen-bar" x={format!("-{half}")} y="93" width={(2 * half).to_string()} height="5" />
            }
            <text class="jack-word">{ for word.splitn(2, ' ').enumerate().map(|(line, word)| markup! {
                <tspan x="0" y={(115 + line * 17).to_string()}>{ word }</tspan>
            }) }</text>
        </g>
    }
}

/// A jack round the middle of its field, about 44 units wide.
fn symbol(family: Family) -> Html {
    match family {
        Family::Data => markup! {
            <>
                <path class="body" d="M-22 -20 H22 V14 H10 V21 H-10 V14 H-22 Z" />
                <path class="pins" d="M-12 -20 V-9 M-4 -20 V-9 M4 -20 V-9 M12 -20 V-9" />
            </>
        },
        Family::Coax => markup! {
            <>
                <circle class="body" r="21" />
                <circle class="pins round" r="12" />
                <circle class="dot" r="4" />
            </>
        },
        Family::Speaker => markup! {
            <>
                <circle class="body" cx="-14" r="12" />
                <circle class="body" cx="14" r="12" />
                <path class="pins" d="M-19 0 H-9 M-14 -5 V5 M9 0 H19" />
            </>
        },
        Family::Control => markup! {
            <>
                <rect class="body" x="-24" y="-16" width="48" height="32" />
                <path class="pins" d="M-8 -16 V16 M8 -16 V16 M-19 0 H-13 M-3 0 H3 M13 0 H19" />
            </>
        },
        Family::Fibre => markup! {
            <>
                <rect class="body" x="-22" y="-16" width="20" height="32" />
                <rect class="body" x="2" y="-16" width="20" height="32" />
                <circle class="dot" cx="-12" r="4" />
                <circle class="dot" cx="12" r="4" />
            </>
        },
        Family::Other => markup! { <path class="body" d="M0 -22 L22 0 L0 22 L-22 0 Z" /> },
    }
}

/// How many jacks a small plate shows.
const SMALL: usize = 8;

/// The plate small, for a row in a list: marked cables filled.
pub(in crate::ui) fn small_plate(ends: &[EndHere]) -> Html {
    let glyph = |(at, end): (usize, &EndHere)| {
        let x = 11 + (at % 4) * 14;
        let y = if ends.len() > 4 {
            11 + (at / 4) * 14
        } else {
            18
        };
        let class = if end.is_marked() { "full" } else { "hollow" };
        markup! { <g class={class} transform={format!("translate({x} {y})")}>{ small_symbol(family(end.medium.as_ref())) }</g> }
    };
    markup! {
        <svg class="small-plate" aria-hidden="true" viewBox="0 0 64 36">
            <rect class="plate-edge" x="1" y="1" width="62" height="34" rx="5" />
            { for ends.iter().take(SMALL).enumerate().map(glyph) }
        </svg>
    }
}

fn small_symbol(family: Family) -> Html {
    match family {
        Family::Data => markup! { <rect x="-5" y="-5" width="10" height="10" /> },
        Family::Coax => markup! { <circle r="5" /> },
        Family::Speaker => {
            markup! { <><circle cx="-3" r="2.6" /><circle cx="3.4" r="2.6" /></> }
        }
        Family::Control => markup! { <rect x="-5.5" y="-3" width="11" height="6" /> },
        Family::Fibre => {
            markup! { <><rect x="-5" y="-4" width="4" height="8" /><rect x="1" y="-4" width="4" height="8" /></> }
        }
        Family::Other => markup! { <path d="M0 -6 L6 0 L0 6 L-6 0 Z" /> },
    }
}
