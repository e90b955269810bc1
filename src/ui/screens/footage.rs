//! Length marks of an outlet's cables or of a bundle, typed one after the other.

use crate::app::wall::{WallForm, footage_cable, footage_ends};
use crate::app::{Action, Field, FootageOf, Form, Model, OpenJob, Screen};
use crate::domain::length::{FootageMark, LengthUnit};
use crate::domain::place::Side;
use crate::names;
use crate::query::wall::EndHere;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty, id, invalid};
use crate::ui::{Html, sending, tap, typing};
use crate::view::markup;

/// Draws the marks at one end.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, of: FootageOf, side: Side) -> Html {
    let registry = open.journal.registry();
    let own = footage_ends(registry, of);
    let now = footage_cable(model, &own, side);
    let now = own.iter().find(|end| Some(end.end.cable) == now);
    let mut page = Page::new("");
    let (title, back) = match of {
        FootageOf::Outlet(outlet) => (
            code(names::outlet(registry, outlet)),
            Screen::Outlet(outlet),
        ),
        FootageOf::Bundle(_) => (markup! { { "the bundle in hand" } }, Screen::Pull),
    };
    page.title = markup! { <>{ "Footage at " }{ title }</> };
    page.above = format!("Length marks {}", at_words(side));
    page.back = Some(back);
    page.body = markup! {
        <>
            { asked(model, &own, of, side, now) }
            <ul class="rows">{ for own.iter().map(|end| row(end, now)) }</ul>
        </>
    };
    page.actions = actions(of, back, side, &own, now);
    framed(model, page)
}

fn at_words(side: Side) -> &'static str {
    match side {
        Side::Near => "at the wall",
        Side::Far => "at the other end",
    }
}

fn mark(end: &EndHere, side: Side) -> Option<FootageMark> {
    match side {
        Side::Near => end.near_footage,
        Side::Far => end.far_footage,
    }
}

/// What is doubtful about the marks of a cable.
fn doubt(end: &EndHere) -> Option<String> {
    let marks = end.near_footage.zip(end.far_footage);
    let doubtful = marks.filter(|_| end.is_doubtful);
    doubtful.map(|(near, far)| names::doubt(near, far))
}

/// The big field for the mark that is asked for.
fn asked(model: &Model, own: &[EndHere], of: FootageOf, side: Side, now: Option<&EndHere>) -> Html {
    let Some(end) = now else {
        let words = if own.is_empty() {
            "No cable is here to be read. Plan one at the outlet, or deal a bundle, first."
        } else {
            "Every cable has its mark at this end. Tap one to read it again."
        };
        return empty(words, markup! {});
    };
    let unit = match model.unit {
        LengthUnit::Feet => "feet",
        LengthUnit::Metres => "metres",
    };
    let form = Form::Wall(WallForm::Footage { of, side });
    let field = Field::Footage;
    markup! {
        <form class="form footage" onsubmit={sending(form)}>
            <label for={id(field)}>{ code(end.code.clone()) }{ format!(" {}, in {unit}", at_words(side)) }</label>
            if let Some(doubt) = doubt(end) {
                <p class="caution" role="status">{ format!("▲ {doubt}. The same mark once more keeps it as it is.") }</p>
            }
            if !end.jacket.is_empty() {
                <p class="hint">{ format!("Counts for {} too: one jacket.", end.jacket.join(", ")) }</p>
            }
            <input id={id(field)} class="big-number" type="text" inputmode="numeric" enterkeyhint="next" autocomplete="off"
                aria-invalid={invalid(model, field)}
                value={model.fields.get(field).to_owned()} oninput={typing(field)} />
            <div class="actions-pair">
                <button type="submit" class="button main">{ "Keep, next cable" }</button>
                { button("No mark to read", Action::Submit(Form::Wall(WallForm::PassFootage { of, side })), Tone::Quiet) }
            </div>
            { unit_button(model) }
        </form>
    }
}

fn unit_button(model: &Model) -> Html {
    let (to, label) = match model.unit {
        LengthUnit::Feet => (LengthUnit::Metres, "This jacket is printed in metres"),
        LengthUnit::Metres => (LengthUnit::Feet, "This jacket is printed in feet"),
    };
    button(label, Action::SetUnit(to), Tone::Quiet)
}

fn row(end: &EndHere, now: Option<&EndHere>) -> Html {
    let shown =
        |mark: Option<FootageMark>| mark.map_or_else(|| "–".to_owned(), |mark| mark.to_string());
    let length = match (doubt(end), end.length, end.near_footage) {
        (Some(doubt), ..) => ["▲ ", &doubt].concat(),
        (None, Some(length), Some(mark)) => {
            let excess = if end.is_too_long {
                " ▲ above 90 m"
            } else {
                ""
            };
            format!("= {}{excess}", length.of_run(mark.unit))
        }
        _ => String::new(),
    };
    let is_now = now.is_some_and(|now| now.end == end.end);
    let choose = Action::Submit(Form::Wall(WallForm::OpenRow(end.end.cable)));
    markup! {
        <li class="row" key={end.end.cable.0.to_string()}>
            <button type="button" class="row-button" aria-current={is_now.then_some("true")} onclick={tap(choose)}>
                <span class="row-lead code">{ &end.code }</span>
                <span class="row-text">{ format!("wall {}, other end {}", shown(end.near_footage), shown(end.far_footage)) }</span>
                <span class="row-note">{ length }</span>
            </button>
        </li>
    }
}

/// Once all marks at this end are in, the other end is the main action.
fn actions(
    of: FootageOf,
    back: Screen,
    side: Side,
    own: &[EndHere],
    now: Option<&EndHere>,
) -> Html {
    let other = side.other();
    let to = Screen::Footage { of, side: other };
    let label_back = match of {
        FootageOf::Outlet(_) => "Back to the outlet",
        FootageOf::Bundle(_) => "Back to the pull",
    };
    let label = format!("Marks {}", at_words(other));
    let missing_there = own.iter().any(|end| mark(end, other).is_none());
    let tone = if now.is_none() && missing_there {
        Tone::Main
    } else {
        Tone::Quiet
    };
    markup! {
        <div class="actions-pair">
            { button(label, Action::Go(to), tone) }
            if now.is_none() && !missing_there {
                { button(label_back, Action::Go(back), Tone::Main) }
            }
        </div>
    }
}
