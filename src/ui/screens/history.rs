//! History: what was done, by whom, the newest first, each with its undo.

use crate::app::{Action, Field, Model, OpenJob};
use crate::command::Want;
use crate::domain::order::Order;
use crate::query::deeds::{Deed, DeedState};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{PAGE_ROWS, choice, empty, page_of, pager, text_field};
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the history.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let text = model.fields.get(Field::HistoryText);
    let all = open.deeds();
    let by = model.fields.get(Field::HistoryBy);
    let is_wanted = |deed: &&Deed| {
        (by.is_empty() || deed.by == by) && (text.trim().is_empty() || deed.holds_text(text))
    };
    let deeds: Vec<&Deed> = all.iter().filter(is_wanted).collect();
    let mut page = Page::new("What was done");
    page.above = open.name().to_owned();
    page.back = Some(crate::app::Screen::Job);
    page.body = markup! {
        <>
            { text_field(model, Field::HistoryText, "Show only what names", "A code, a word, or a day such as 2026-03-14") }
            { people(model, all) }
            if deeds.len() < all.len() {
                <p>{ format!("{} of {} shown.", deeds.len(), all.len()) }</p>
            }
            if deeds.is_empty() {
                { empty("Nothing that was done names this. A shorter word finds more.", markup! {}) }
            } else {
                <ul class="rows">{ for page_of(&deeds, model.page).iter().map(|deed| deed_row(deed)) }</ul>
                { pager(model.page, deeds.len()) }
            }
        </>
    };
    framed(model, page)
}

/// Whose work is shown; asked only where several worked.
fn people(model: &Model, all: &[Deed]) -> Html {
    let mut known: Vec<&str> = Vec::new();
    for deed in all {
        if !known.contains(&deed.by.as_str()) {
            known.push(&deed.by);
        }
    }
    if known.len() < 2 {
        return markup! {};
    }
    known.put_in_order();
    let everybody = [(String::new(), "Everybody".to_owned())];
    let options = known.into_iter().map(|by| (by.to_owned(), by.to_owned()));
    let options = everybody.into_iter().chain(options);
    markup! {
        <>
            { choice(model, Field::HistoryBy, "Done by", options) }
            <p class="hint">{ "The newest first, as far as the phones knew of each other. Each time is by the clock of that phone." }</p>
        </>
    }
}

/// What was done about one thing, folded away until somebody asks.
pub(in crate::ui) fn folded(deeds: &[Deed]) -> Html {
    if deeds.is_empty() {
        return markup! {};
    }
    let shown = &deeds[..deeds.len().min(PAGE_ROWS)];
    markup! {
        <details class="more">
            <summary>{ format!("What was done here ({})", deeds.len()) }</summary>
            <ul class="rows">{ for shown.iter().map(deed_row) }</ul>
        </details>
    }
}

/// One thing done, with its undo.
pub(in crate::ui) fn deed_row(deed: &Deed) -> Html {
    markup! {
        <li class="row deed">
            <div class="deed-words">
                <p>{ &deed.words }</p>
                <p class="deed-who">{ &deed.who }</p>
                if deed.state == DeedState::Holds && deed.beside > 0 {
                    <p>{ format!("Undo takes back this and {} more that {} done with it.", deed.beside, if deed.beside == 1 { "was" } else { "were" }) }</p>
                }
            </div>
            { match deed.state {
                DeedState::TakenBack => markup! { <span class="state deed-back">{ "↶ taken back" }</span> },
                DeedState::InTwoVersions => markup! { <span class="state deed-back">{ "≠ in two versions" }</span> },
                DeedState::Holds => {
                    let want = Want::Undo { act: deed.act };
                    markup! {
                        <button type="button" class="small" aria-label={format!("Undo: {}", deed.words)}
                            onclick={tap(Action::Do { want, then: None })}>{ "Undo" }</button>
                    }
                }
            } }
        </li>
    }
}
