//! A row of a list that opens to change what it shows.

use super::{code, number_field, text_field};
use crate::app::plan::{PlanForm, Planned, is_open, room_part};
use crate::app::{Action, Field, Form, Model};
use crate::query::wall;
use crate::ui::{Html, sending, tap};
use crate::view::{Words, markup};

/// A row that opens with a tap; `inside` is drawn while it is open.
pub(in crate::ui) fn opening(
    model: &Model,
    thing: Planned,
    face: Face,
    inside: impl FnOnce() -> Html,
) -> Html {
    let open = is_open(model, thing);
    let tap = tap(Action::Submit(Form::Plan(PlanForm::Open(thing))));
    markup! {
        <li class="row">
            <button type="button" class="row-button" aria-expanded={open.to_string()} onclick={tap}>
                <span class="row-lead">{ face.lead }</span>
                <span class="row-text">{ face.text }</span>
                <span class="row-note">{ face.note }{ " " }<span aria-hidden="true">{ if open { "▾" } else { "▸" } }</span></span>
            </button>
            if open {
                <div class="opened">{ inside() }</div>
            }
        </li>
    }
}

/// What a row shows while it is closed.
pub(in crate::ui) struct Face {
    /// A code or a mark at its left.
    pub lead: Html,
    /// Its words.
    pub text: Words,
    /// Its note at the right.
    pub note: Words,
}

/// A form of one kind with its button.
pub(in crate::ui) fn plan_form(form: PlanForm, fields: Html, submit: impl Into<Words>) -> Html {
    markup! {
        <form class="form" onsubmit={sending(Form::Plan(form))}>
            { fields }
            <button type="submit" class="button">{ submit.into() }</button>
        </form>
    }
}

/// The form that renames an open thing, and gives a floor its number.
pub(in crate::ui) fn rename_form(model: &Model, thing: Planned) -> Html {
    let is_floor = matches!(thing, Planned::Floor(_));
    let fields = markup! {
        <>
            { text_field(model, Field::EditName, "Name", "") }
            if is_floor {
                { floor_number(model, Field::EditCode) }
            }
        </>
    };
    let words = if is_floor {
        "Change this floor"
    } else {
        "Change the name"
    };
    plan_form(PlanForm::Rename(thing), fields, words)
}

/// The number of a floor.
pub(in crate::ui) fn floor_number(model: &Model, field: Field) -> Html {
    number_field(
        model,
        field,
        "Its number, if it has one",
        "Racks on it are named by it, such as 2A. Floors are walked by number.",
    )
}

/// The form that gives an open thing another code.
pub(in crate::ui) fn recode_form(
    model: &Model,
    thing: Planned,
    label: &'static str,
    hint: &'static str,
) -> Html {
    let field = text_field(model, Field::EditCode, label, hint);
    let words = format!("Change the {}", label.to_lowercase());
    plan_form(PlanForm::Recode(thing), field, words)
}

/// A card with a heading and what stands in it.
pub(in crate::ui) fn card(id: &'static str, heading: impl Into<Words>, inside: Html) -> Html {
    markup! {
        <section class="card" aria-labelledby={id}>
            <h2 id={id}>{ heading.into() }</h2>
            { inside }
        </section>
    }
}

/// What an empty field above stands for.
pub(in crate::ui) fn left_empty(proposal: Option<String>) -> Html {
    match proposal {
        None => markup! {},
        Some(text) => {
            markup! { <p class="hint proposal">{ "Left empty, it is " }{ code(text) }{ "." }</p> }
        }
    }
}

/// The field for the code of a new room, with the one that it gets otherwise.
pub(in crate::ui) fn room_code_field(model: &Model) -> Html {
    let (_, unit) = room_part(model);
    let name = model.fields.get(Field::RoomName);
    let proposed = model
        .registry()
        .and_then(|registry| wall::proposed_code(registry, name, unit));
    markup! {
        <>
            { text_field(model, Field::RoomCode, "Code on its tags", "Two to five letters. One is proposed from the name.") }
            { left_empty(proposed.map(|code| code.to_string())) }
        </>
    }
}
