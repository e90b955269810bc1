//! What was done, as a text to send in the evening.

use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, id};
use crate::ui::{Html, typing};
use crate::view::markup;

/// Draws the text, which can be added to.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Summary of the day");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Wall);
    let field = Field::Evening;
    let text = model.fields.get(field).to_owned();
    let is_written = !text.trim().is_empty();
    page.body = markup! {
        <>
            <div class="field">
                <label for={id(field)}>{ "Done, blocked, questions, what to bring. Add what is missing." }</label>
                <textarea id={id(field)} rows="16" value={text.clone()} oninput={typing(field)} />
            </div>
            if is_written {
                { button("Write it anew", Action::Submit(Form::Evening), Tone::Quiet) }
            }
        </>
    };
    page.actions = if is_written {
        button("Send as text", Action::SendText(text), Tone::Main)
    } else {
        button(
            "Write the summary",
            Action::Submit(Form::Evening),
            Tone::Main,
        )
    };
    framed(model, page)
}
