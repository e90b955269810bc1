//! History: what was done, by whom, the newest first, each with its undo.

use crate::app::{Action, Field, Model, OpenJob};
use crate::command::Want;
use crate::query::deeds::{Deed, DeedState};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{empty, page_of, pager, text_field};
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the history.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let text = model.fields.get(Field::HistoryText);
    let all = open.deeds();
    let deeds: Vec<&Deed> = if text.trim().is_empty() {
        all.iter().collect()
    } else {
        all.iter().filter(|deed| deed.holds_text(text)).collect()
    };
    let mut page = Page::new("What was done");
    page.above = open.name().to_owned();
    page.back = Some(crate::app::Screen::Job);
    page.body = markup! {
        <>
            { text_field(model, Field::HistoryText, "Show only what names", "A code, a word, or initials") }
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

/// One thing done, with its undo.
pub(in crate::ui) fn deed_row(deed: &Deed) -> Html {
    markup! {
        <li class="row deed">
            <div class="deed-words">
                <p>{ &deed.words }</p>
                <p class="deed-who">{ &deed.who }</p>
                if deed.state == DeedState::Holds && deed.beside > 0 {
                    <p>{ format!("Undo takes back this and {} more that was done with it.", deed.beside) }</p>
                }
            </div>
            { match deed.state {
                DeedState::TakenBack => markup! { <span class="state deed-back">{ "↶ taken back" }</span> },
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
