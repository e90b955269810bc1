//! One cable at the outlet: a row that says how it stands, and the exceptions below it once opened.

use super::{Desk, fix};
use crate::app::wall::{PEN_COPIES, WallForm, WallPart, open_row};
use crate::app::{Action, Field, Form, RackForm, Screen};
use crate::command::{JackEnd, Want};
use crate::domain::place::{Fitting, Place};
use crate::domain::work::MarkKind;
use crate::query::wall::{Belongs, EndHere, MarkState, Settled};
use crate::ui::parts::{Shape, Tone, button, known, state, text_field};
use crate::ui::wording::ends as words;
use crate::ui::{Html, sending, tap};
use crate::view::markup;

/// Draws a cable's row.
pub(super) fn row(desk: Desk<'_>, end: &EndHere) -> Html {
    let is_open = open_row(desk.model) == Some(end.end.cable);
    let toggle = Action::Submit(Form::Wall(WallForm::OpenRow(end.end.cable)));
    let medium = end.medium.as_ref().map(ToString::to_string);
    let made = [medium.unwrap_or_default(), end.purpose.clone()];
    let made: Vec<String> = made.into_iter().filter(|word| !word.is_empty()).collect();
    let far = match end.belongs {
        Belongs::Own | Belongs::Visitor => format!("other end: {}", end.other_place),
        Belongs::Out => format!("out to {}", end.other_place),
    };
    markup! {
        <li class="row" key={end.end.cable.0.to_string()}>
            <button type="button" class="row-button cable" aria-expanded={is_open.to_string()} onclick={tap(toggle)}>
                <span class="cable-code code">{ &end.code }</span>
                <span class="cable-made">{ made.join(", ") }</span>
                <span class="cable-far">{ far }</span>
                <span class="cable-states">{ states(end) }</span>
            </button>
            if is_open {
                <div class="cable-open">
                    { details(desk, end) }
                    { fix::draw(desk, end) }
                </div>
            }
        </li>
    }
}

/// How it stands, most important first.
fn states(end: &EndHere) -> Html {
    let (mark, mark_words) = words::mark(end.mark);
    let (pull, pull_words) = words::pull(end.pull);
    let (here, here_words) = words::settled(&end.here);
    let other = match end.other_mark {
        MarkState::Yes(_) => "marked at both ends".to_owned(),
        MarkState::No | MarkState::Lost | MarkState::Printed => mark_words.to_owned(),
    };
    let shown = if matches!(end.mark, MarkState::Yes(_)) {
        other
    } else {
        mark_words.to_owned()
    };
    markup! {
        <>
            if end.disputed {
                { state(Shape::Alarm, "disputed") }
            }
            { state(mark, shown) }
            { state(pull, pull_words) }
            if end.here != Settled::Open {
                { state(here, here_words) }
            }
            { for words::proofs(&end.proofs).map(|(shape, words)| state(shape, words)) }
            if let Some(length) = end.length {
                <span class="state">{ length.of_run(unit_of(end)) }</span>
            }
        </>
    }
}

/// The unit of the marks, which is that of the length.
fn unit_of(end: &EndHere) -> crate::domain::length::LengthUnit {
    end.near_footage
        .or(end.far_footage)
        .map_or(crate::domain::length::LengthUnit::Feet, |mark| mark.unit)
}

/// What is known beside the row, and what can be done in one tap.
fn details(desk: Desk<'_>, end: &EndHere) -> Html {
    markup! {
        <>
            { known(&known_of(end)) }
            <div class="wall-grid">
                { mark_button(desk, end) }
                { for pull_buttons(desk, end) }
                { landed_button(desk, end) }
                { for other_ends(desk, end) }
            </div>
        </>
    }
}

fn known_of(end: &EndHere) -> Vec<String> {
    let mut lines = vec![format!(
        "At the other end, {}: {}.",
        end.other_place,
        words::mark(end.other_mark).1
    )];
    lines.push(format!("It is a {}.", end.kind.words()));
    if end.disputed {
        lines.push("People disagree where it ends here: see Punch list.".to_owned());
    }
    for (where_read, mark) in [
        ("at its outlet", end.near_footage),
        ("at the other end", end.far_footage),
    ] {
        lines.extend(mark.map(|mark| format!("Length mark {where_read}: {mark}.")));
    }
    if !end.jacket.is_empty() {
        lines.push(format!("In one jacket with {}.", end.jacket.join(", ")));
    }
    lines.extend(words::order(&end.order).map(|order| format!("It came with {order}.")));
    let from = end.drawn_from;
    lines.extend(from.map(|number| format!("Drawn from box {number}.")));
    let repull = end.repull.as_ref();
    lines.extend(repull.map(|why| format!("Pulled anew: {why}. Older tags are void.")));
    lines.extend(
        end.known_as
            .iter()
            .map(|name| format!("Also written “{name}”.")),
    );
    lines.extend(end.notes.iter().cloned());
    lines
}

fn mark_button(desk: Desk<'_>, end: &EndHere) -> Html {
    if end.is_marked() {
        return desk.doing("Not marked, or tag lost", Want::LoseTag { end: end.end });
    }
    let want = Want::MarkEnds {
        ends: vec![end.end],
        kind: MarkKind::Pen,
        copies: PEN_COPIES,
    };
    desk.doing("Mark this one", want)
}

fn pull_buttons(desk: Desk<'_>, end: &EndHere) -> Vec<Html> {
    let now = words::pull(end.pull).1;
    let others = words::OUTCOMES.into_iter().filter(|(outcome, _)| {
        words::pull(crate::query::wall::PullState::Trouble(*outcome)).1 != now
    });
    others
        .map(|(outcome, label)| {
            let cables = vec![end.end.cable];
            desk.doing(label, Want::ReportPull { cables, outcome })
        })
        .collect()
}

fn landed_button(desk: Desk<'_>, end: &EndHere) -> Html {
    match end.here {
        Settled::Open => {
            let jack = JackEnd {
                end: end.end,
                jack: end.jack,
            };
            let want = Want::LandInPlate {
                outlet: desk.id,
                jacks: vec![jack],
            };
            desk.doing(format!("Terminated on jack {}", end.jack), want)
        }
        Settled::Landed(_) | Settled::Spare(_) | Settled::Dead(_) => {
            desk.doing("Not terminated here", Want::Lift { end: end.end })
        }
    }
}

/// How else a cable may end at the wall, each in one tap.
fn other_ends(desk: Desk<'_>, end: &EndHere) -> Vec<Html> {
    if end.here != Settled::Open {
        return Vec::new();
    }
    let of = end.end;
    let plug = Want::Land {
        end: of,
        place: Place::Jack {
            outlet: desk.id,
            jack: end.jack,
        },
        fitting: Fitting::Plug,
    };
    let spare = |kept: &str, reason: &str| Want::Spare {
        end: of,
        kept: kept.to_owned(),
        reason: reason.to_owned(),
    };
    vec![
        desk.doing("A plug on the cable, no jack", plug),
        desk.doing(
            "Coiled behind a blank plate",
            spare("behind a blank plate", "not in use yet"),
        ),
        desk.doing(
            "Buried behind the board",
            spare("behind the board, without a plate", "covered, not in use"),
        ),
        markup! {
            <form class="form" onsubmit={sending(Form::Rack(RackForm::LandAt(of)))}>
                { text_field(desk.model, Field::LandPosition, "On a device or a joint", "Such as “OUT 1 of Amplifier 1”, or the name of a joint") }
                <button type="submit" class="button">{ "It is on that" }</button>
            </form>
        },
    ]
}

/// The way to both ends of the cable.
pub(super) fn both_ends(end: &EndHere) -> Html {
    let to = Action::Go(Screen::Cable(end.end.cable));
    button("Both ends of this cable", to, Tone::Quiet)
}

/// A part that needs nothing but a text and a button.
pub(super) fn text_form(form: WallForm, field: Html, submit: &'static str) -> Html {
    markup! {
        <form class="form" onsubmit={sending(Form::Wall(form))}>
            { field }
            <button type="submit" class="button">{ submit }</button>
        </form>
    }
}

/// The buttons that open the parts in which a cable is put right.
pub(super) const FIXES: [(WallPart, &str); 13] = [
    (WallPart::Crossed, "Crossed with\u{a0}…"),
    (WallPart::Elsewhere, "Came out elsewhere\u{a0}…"),
    (WallPart::Repull, "Pull again\u{a0}…"),
    (WallPart::DrawnFrom, "From another box\u{a0}…"),
    (WallPart::Made, "Medium, purpose\u{a0}…"),
    (WallPart::Jacket, "In one jacket with\u{a0}…"),
    (WallPart::Local, "Where it comes from\u{a0}…"),
    (WallPart::Spare, "Spare\u{a0}…"),
    (WallPart::Dead, "Dead\u{a0}…"),
    (WallPart::CancelCable, "Cancel it\u{a0}…"),
    (WallPart::OrderCable, "Change order\u{a0}…"),
    (WallPart::OldName, "Old name\u{a0}…"),
    (WallPart::NoteCable, "Note\u{a0}…"),
];
