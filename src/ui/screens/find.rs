//! Find: any part of a code, a room, a purpose, an old name or a position.

use crate::app::plan::PlanForm;
use crate::app::scan::screen;
use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::query::find::{Answer, FoundIn, Hit, Target, row, search};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty, id, page_of, pager};
use crate::ui::{Html, tap, typing};
use crate::view::{Touch, markup};

/// Draws the search.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Find");
    page.above = open.name().to_owned();
    let text = model.fields.get(Field::Find);
    let found = search(
        open.search_index(),
        open.journal.registry(),
        open.journal.job(),
        text,
    );
    page.body = markup! { <>{ input(model, &found) }{ answer(model, open, &found) }</> };
    framed(model, page)
}

/// Enter goes to what was found where that is one thing, or one that is called just so.
fn input(model: &Model, found: &Answer) -> Html {
    let text = model.fields.get(Field::Find).to_owned();
    let only = match found.hits.as_slice() {
        [only] => Some(only),
        // Two cables of one code, or on one position, are to be chosen from.
        [first, second, ..]
            if first.found_in == FoundIn::Exact
                && !(second.found_in == FoundIn::Exact
                    && matches!(
                        (first.target, second.target),
                        (Target::Cable(_), Target::Cable(_))
                    )) =>
        {
            Some(first)
        }
        _ => None,
    };
    let enter = only.map_or(
        Action::Typed {
            field: Field::Find,
            text: text.clone(),
        },
        |hit| action(hit.target),
    );
    markup! {
        <form class="field find-field" onsubmit={Touch::Sent(enter)}>
            <label for={id(Field::Find)}>{ "Code, room, purpose, old name or position" }</label>
            <input id={id(Field::Find)} class="code" type="text" inputmode="search" enterkeyhint="search"
                autocomplete="off" autocapitalize="characters" spellcheck="false"
                value={text} oninput={typing(Field::Find)} />
        </form>
    }
}

fn answer(model: &Model, open: &OpenJob, answer: &Answer) -> Html {
    let text = model.fields.get(Field::Find);
    if text.trim().is_empty() {
        return empty(
            "Type what you see or know: KIT2-C, kit2c, B07, a room, a purpose, or what somebody once wrote on the cable.",
            button(
                "A cable without a name? Loose ends",
                Action::Go(Screen::Loose),
                Tone::Quiet,
            ),
        );
    }
    let count = answer.hits.len();
    let shown = page_of(&answer.hits, model.page);
    markup! {
        <>
            <div class="find-said" role="status" aria-live="polite">
                <p class="find-count">{ counted(count) }</p>
                { for answer.said.iter().map(|words| markup! {
                    <p class="say"><b aria-hidden="true">{ "! " }</b>{ words }</p>
                }) }
            </div>
            if count == 0 {
                <p class="hint">{ "Try fewer letters, or only the room. A cable that nobody knows is a loose end." }</p>
                { button("Loose ends", Action::Go(Screen::Loose), Tone::Quiet) }
            } else {
                <ul class="rows">{ for shown.iter().map(|hit| found(open, *hit, text)) }</ul>
                { pager(model.page, count) }
            }
        </>
    }
}

fn counted(count: usize) -> String {
    match count {
        0 => "Nothing found.".to_owned(),
        1 => "1 found.".to_owned(),
        count => format!("{count} found."),
    }
}

fn found(open: &OpenJob, hit: Hit, text: &str) -> Html {
    let row = row(open.journal.registry(), hit, text);
    markup! {
        <li class="row">
            <button type="button" class="row-button find-row" onclick={tap(action(hit.target))}>
                <span class="find-code">{ code(row.code) }</span>
                <span class="find-ends">{ row.ends }</span>
                if !row.why.is_empty() {
                    <span class="find-why">{ row.why }</span>
                }
            </button>
        </li>
    }
}

pub(super) fn action(target: Target) -> Action {
    match target {
        Target::LooseEnd(id) => Action::Typed {
            field: Field::LooseOpen,
            text: id.0.to_string(),
        },
        Target::Conduit(id) => Action::Submit(Form::Plan(PlanForm::ShowConduit(id))),
        _ => Action::Go(screen(target)),
    }
}
