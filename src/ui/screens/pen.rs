//! What to write with the pen, filling the screen. A tap anywhere goes on to the next text.

use crate::app::wall::{PenText, WallForm, Wrote, pen_text};
use crate::app::{Action, Form, Model, OpenJob, Screen};
use crate::domain::ids::OutletId;
use crate::query::wall::{self, EndHere};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty};
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the text that is next.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, outlet: OutletId, place: usize) -> Html {
    let Some(PenText { end, place, of }) = pen_text(model, outlet, place) else {
        return nothing_left(model, open, outlet);
    };
    let mut page = Page::new("");
    page.title = markup! { <>{ "Write " }{ code(as_written(&end.code)) }</> };
    page.above = format!("With the pen, {} of {of}", place + 1);
    page.back = Some(Screen::Outlet(outlet));
    let form = |wrote| {
        Action::Submit(Form::Wall(WallForm::Pen {
            outlet,
            place,
            wrote,
        }))
    };
    page.body = markup! {
        <button type="button" class="pen-fill" data-once="" onclick={tap(form(Wrote::Yes))}>
            <span class="pen-what">{ what(&end) }</span>
            { text(&as_written(&end.code)) }
            <span class="pen-next">{ "Written: tap here" }</span>
            { how() }
        </button>
    };
    page.actions = button("Skip this one", form(Wrote::Skipped), Tone::Quiet);
    framed(model, page)
}

fn nothing_left(model: &Model, open: &OpenJob, outlet: OutletId) -> Html {
    let mut page = Page::new("Nothing left to write here");
    page.above = "With the pen".to_owned();
    page.back = Some(Screen::Outlet(outlet));
    page.body = empty(
        "Every cable that comes out here bears its code. Go on to the next outlet.",
        markup! {},
    );
    page.actions = match wall::next_outlet(open.journal.registry(), Some(outlet)) {
        Some(next) => button(
            format!("Next outlet: {}", next.code),
            Action::GoOn(Screen::Outlet(next.outlet)),
            Tone::Main,
        ),
        None => button("To the rooms", Action::Go(Screen::Wall), Tone::Main),
    };
    framed(model, page)
}

/// A code as the pen writes it: with a gap for the dash, which smears.
fn as_written(code: &str) -> String {
    code.replace('-', " ")
}

/// Which cable it is, in words.
fn what(end: &EndHere) -> String {
    let medium = end.medium.as_ref().map(ToString::to_string);
    let words = [medium.unwrap_or_default(), end.purpose.clone()];
    let words: Vec<String> = words.into_iter().filter(|word| !word.is_empty()).collect();
    words.join(", ")
}

/// The text as large as the screen allows, with the bar under it that tells which way up it is.
fn text(words: &str) -> Html {
    // A character of a fixed-width face is about 0.6 as wide as it is high; the length is forced,
    // so that another face fits as well.
    let width = words.chars().count() * 60;
    markup! {
        <svg class="pen-text" aria-hidden="true" viewBox={format!("0 0 {} 118", width + 20)}>
            <text x="10" y="84" textLength={width.to_string()} lengthAdjust="spacingAndGlyphs">{ words.to_owned() }</text>
            <rect x="10" y="100" width={width.to_string()} height="9" />
        </svg>
    }
}

/// How often and where it is written. Common practice, no source.
fn how() -> Html {
    markup! {
        <span class="pen-how">
            <svg aria-hidden="true" viewBox="0 0 340 44">
                <line class="jacket" x1="0" x2="340" y1="22" y2="22" />
                <rect class="mark" x="96" y="12" width="34" height="20" />
                <rect class="mark" x="222" y="12" width="34" height="20" />
                <rect class="mark" x="272" y="12" width="34" height="20" />
                <path class="cut" d="M182 4 V40 M176 10 L188 34 M188 10 L176 34" />
            </svg>
            <span>{ "Twice near the end, 150 mm (6 in) apart." }</span>
            <span>{ "Once more 1 m (3 ft) or further back, behind the likely cut." }</span>
            <span>{ "Bar under the text. Silver on a black jacket." }</span>
        </span>
    }
}
