//! Outlet types: the usual ones, and the job's own with their cables.

use crate::app::plan::{PlanForm, TypeStart, changed_type, listed_cables};
use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::query::plan::{self, TypePlan};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::medium::medium_fields;
use crate::ui::parts::opening::{card, plan_form};
use crate::ui::parts::{Tone, button, code, page_of, pager, text_field};
use crate::ui::{Html, sending, tap};
use crate::view::markup;

/// Draws the outlet types.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let types = plan::types(open.journal.registry());
    let mut page = Page::new("Outlet types");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    page.body = markup! {
        <>
            <p class="hint">{ "A type says which cables an outlet gets. What is changed here counts for outlets that are added from now on." }</p>
            { editor(model, &types) }
            <section aria-labelledby="types">
                <h2 id="types">{ "Types of this job" }</h2>
                { for page_of(&types, model.page).iter().map(type_row) }
                { pager(model.page, types.len()) }
            </section>
        </>
    };
    framed(model, page)
}

fn type_row(kind: &TypePlan) -> Html {
    let count = match kind.cables.len() {
        1 => "1 cable".to_owned(),
        count => format!("{count} cables"),
    };
    let (start, words) = match kind.kind {
        OutletKind::Usual(key) => (TypeStart::Usual(key), "Make an own type from it"),
        OutletKind::Own(id) => (TypeStart::Own(id), "Change its name or cables"),
    };
    let own = matches!(kind.kind, OutletKind::Own(_));
    let key = kind.words.clone();
    markup! {
        <details class="more" key={key}>
            <summary>
                <span class="type-words">{ &kind.words }</span>
                <span class="type-note">{ if own { "own, " } else { "" } }{ count }</span>
            </summary>
            <ul class="type-cables">{ for kind.cables.iter().map(|cable| markup! { <li>{ cable_words(cable) }</li> }) }</ul>
            { button(words, Action::Submit(Form::Plan(PlanForm::StartType(start))), Tone::Quiet) }
        </details>
    }
}

/// Letter, medium and purpose of a cable.
fn cable_words(cable: &PlannedCable) -> Html {
    let words = if cable.purpose.is_empty() {
        cable.medium.to_string()
    } else {
        format!("{}, {}", cable.purpose, cable.medium)
    };
    markup! {
        <>
            { code(cable.letter.map_or_else(|| "–".to_owned(), |letter| letter.get().to_string())) }
            { " " }{ words }
        </>
    }
}

/// The list of cables that is being made or changed.
fn editor(model: &Model, types: &[TypePlan]) -> Html {
    let cables = listed_cables(&model.fields);
    let changed = changed_type(model);
    let name = types
        .iter()
        .find(|kind| changed.is_some_and(|id| kind.kind == OutletKind::Own(id)))
        .map(|kind| kind.words.clone());
    let heading = name.as_ref().map_or_else(
        || "A type of your own".to_owned(),
        |name| format!("The cables of {name}"),
    );
    let form = |form| Action::Submit(Form::Plan(form));
    card(
        "own-type",
        heading,
        markup! {
            <>
                if cables.is_empty() {
                    <p class="hint">{ "Put its cables on the list one by one, or begin with a type below." }</p>
                }
                <ul class="rows">
                    { for cables.iter().enumerate().map(|(place, cable)| markup! {
                        <li class="row listed">
                            <p>{ cable_words(cable) }</p>
                            <button type="button" class="small" onclick={tap(form(PlanForm::DropCable { place }))}
                                aria-label={format!("Take cable {} off the list", place + 1)}>{ "Off" }</button>
                        </li>
                    }) }
                </ul>
                { plan_form(PlanForm::ListCable, cable_fields(model), "Put this cable on the list") }
                <form class="form" onsubmit={sending(Form::Plan(PlanForm::SaveType))}>
                    { text_field(model, Field::TypeName, "Name of the type", "Such as “Reading corner”") }
                    <button type="submit" class="button main">{ "Save this type" }</button>
                </form>
                if !cables.is_empty() {
                    { button("Let this list go", form(PlanForm::LeaveType), Tone::Quiet) }
                }
            </>
        },
    )
}

fn cable_fields(model: &Model) -> Html {
    markup! {
        <>
            { medium_fields(model) }
            { text_field(model, Field::CablePurpose, "What it is for", "Stands in words on its tag") }
            { text_field(model, Field::TypeLetter, "Its letter, if it always has the same", "Left empty, it gets the next free one.") }
        </>
    }
}
