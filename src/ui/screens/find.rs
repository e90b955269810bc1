//! Find: any part of a code, a room, a purpose, an old name or a position.

use yew::{Html, html};

use crate::app::{Action, Field, Model, OpenJob, Screen};
use crate::domain::place::Face;
use crate::query::find::{Hit, Target, row, search};
use crate::ui::Ui;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty, id, page_of, pager};

/// Draws the search.
pub(in crate::ui) fn draw(ui: &Ui, model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Find");
    page.above = open.name().to_owned();
    page.body = html! { <>{ input(ui, model) }{ answer(ui, model, open) }</> };
    framed(ui, model, page)
}

fn input(ui: &Ui, model: &Model) -> Html {
    html! {
        <div class="field find-field">
            <label for={id(Field::Find)}>{ "Code, room, purpose, old name or position" }</label>
            <input id={id(Field::Find)} class="code" type="text" inputmode="search" enterkeyhint="search"
                autocomplete="off" autocapitalize="characters" spellcheck="false"
                value={model.fields.get(Field::Find).to_owned()} oninput={ui.typed(Field::Find)} />
        </div>
    }
}

fn answer(ui: &Ui, model: &Model, open: &OpenJob) -> Html {
    let text = model.fields.get(Field::Find);
    let registry = open.journal.registry();
    if text.trim().is_empty() {
        return empty(
            "Type what you see or know: KIT2-C, kit2c, B07, a room, a purpose, or what somebody once wrote on the cable.",
            button(
                ui,
                "A cable without a name? Loose ends",
                Action::Go(Screen::Loose),
                Tone::Quiet,
            ),
        );
    }
    let answer = search(open.search_index(), registry, open.journal.job(), text);
    let count = answer.hits.len();
    let shown = page_of(&answer.hits, model.page);
    html! {
        <>
            <div class="find-said" role="status" aria-live="polite">
                <p class="find-count">{ counted(count) }</p>
                { for answer.said.iter().map(|words| html! {
                    <p class="say"><b aria-hidden="true">{ "! " }</b>{ words }</p>
                }) }
            </div>
            if count == 0 {
                <p class="hint">{ "Try fewer letters, or only the room. A cable that nobody knows is a loose end." }</p>
                { button(ui, "Loose ends", Action::Go(Screen::Loose), Tone::Quiet) }
            } else {
                <ul class="rows">{ for shown.iter().map(|hit| found(ui, open, *hit, text)) }</ul>
                { pager(ui, model.page, count) }
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

fn found(ui: &Ui, open: &OpenJob, hit: Hit, text: &str) -> Html {
    let row = row(open.journal.registry(), hit, text);
    html! {
        <li class="row">
            <button type="button" class="row-button find-row" onclick={ui.go(screen(hit.target))}>
                <span class="find-code">{ code(row.code) }</span>
                <span class="find-ends">{ row.ends }</span>
                if !row.why.is_empty() {
                    <span class="find-why">{ row.why }</span>
                }
            </button>
        </li>
    }
}

fn screen(target: Target) -> Screen {
    match target {
        Target::Cable(id) => Screen::Cable(id),
        Target::Outlet(id) => Screen::Outlet(id),
        Target::Room(id) => Screen::Room(id),
        Target::Rack(_) => Screen::Rack,
        Target::Panel(panel) => Screen::Panel {
            panel,
            face: Face::Rear,
        },
        Target::Position(position) => Screen::Panel {
            panel: position.panel,
            face: Face::Rear,
        },
        Target::LooseEnd(_) => Screen::Loose,
    }
}
