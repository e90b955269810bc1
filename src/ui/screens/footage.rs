//! Length marks of an outlet's cables, typed one after the other.

use crate::app::wall::{WallForm, footage_cable};
use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::domain::ids::OutletId;
use crate::domain::length::{FootageMark, LengthUnit};
use crate::domain::place::Side;
use crate::query::wall::{self, EndHere, OutletView};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty, id};
use crate::ui::{Html, sending, tap, typing};
use crate::view::markup;

/// Draws the marks at one end.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, outlet: OutletId, side: Side) -> Html {
    let view = wall::outlet(open.journal.registry(), outlet);
    let Some(view) = view else {
        let mut page = Page::new("This outlet is not in the job");
        page.actions = button("To the rooms", Action::Go(Screen::Wall), Tone::Main);
        return framed(model, page);
    };
    let own: Vec<&EndHere> = view
        .ends
        .iter()
        .filter(|end| end.end.side == Side::Near)
        .collect();
    let now = footage_cable(model, outlet, side);
    let now = own.iter().find(|end| Some(end.end.cable) == now).copied();
    let mut page = Page::new("");
    page.title = markup! { <>{ "Footage at " }{ code(view.code.clone()) }</> };
    page.above = format!("Length marks {}", at_words(side));
    page.back = Some(Screen::Outlet(outlet));
    page.body = markup! {
        <>
            { asked(model, &view, side, now) }
            <ul class="rows">{ for own.iter().map(|end| row(end, now)) }</ul>
        </>
    };
    page.actions = actions(outlet, side, &own, now);
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

/// The big field for the mark that is asked for.
fn asked(model: &Model, view: &OutletView, side: Side, now: Option<&EndHere>) -> Html {
    let Some(end) = now else {
        return match view.ends.as_slice() {
            [] => empty(
                "No cable comes out here yet. Add one at the outlet first.",
                markup! {},
            ),
            _ => empty(
                "Every cable has its mark at this end. Tap one to read it again.",
                markup! {},
            ),
        };
    };
    let Some(Screen::Footage { outlet, .. }) = model.screen() else {
        return markup! {};
    };
    let unit = match model.unit {
        LengthUnit::Feet => "feet",
        LengthUnit::Metres => "metres",
    };
    let form = Form::Wall(WallForm::Footage { outlet, side });
    let field = Field::Footage;
    markup! {
        <form class="form footage" onsubmit={sending(form)}>
            <label for={id(field)}>{ code(end.code.clone()) }{ format!(" {}, in {unit}", at_words(side)) }</label>
            if !end.jacket.is_empty() {
                <p class="hint">{ format!("Counts for {} too: one jacket.", end.jacket.join(", ")) }</p>
            }
            <input id={id(field)} class="big-number" type="text" inputmode="numeric" enterkeyhint="next" autocomplete="off"
                value={model.fields.get(field).to_owned()} oninput={typing(field)} />
            <div class="actions-pair">
                <button type="submit" class="button main">{ "Keep, next cable" }</button>
                { button("No mark to read", Action::Submit(Form::Wall(WallForm::PassFootage { outlet, side })), Tone::Quiet) }
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
    let length = match (end.length, end.near_footage, end.far_footage) {
        (Some(length), Some(mark), _) => format!("= {}", length.of_run(mark.unit)),
        (None, Some(_), Some(_)) => "▲ feet and metres: read one again".to_owned(),
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
fn actions(outlet: OutletId, side: Side, own: &[&EndHere], now: Option<&EndHere>) -> Html {
    let other = side.other();
    let to = Screen::Footage {
        outlet,
        side: other,
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
                { button("Back to the outlet", Action::Go(Screen::Outlet(outlet)), Tone::Main) }
            }
        </div>
    }
}
