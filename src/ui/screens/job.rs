//! The job: what it consists of, who works on it, how far it is.

use yew::{Html, html};

use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::ui::Ui;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, row, text_field};

/// Draws the job.
pub(in crate::ui) fn draw(ui: &Ui, model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new(open.name());
    page.above = "Job".to_owned();
    page.body = html! {
        <>
            <ul class="rows">
                { row(ui, Action::Go(Screen::Rooms), html! {}, "Rooms and floors", "") }
                { row(ui, Action::Go(Screen::Types), html! {}, "Outlet types", "") }
                { row(ui, Action::Go(Screen::Racks), html! {}, "Racks and panels", "") }
            </ul>
            <section class="card" aria-labelledby="person">
                <h2 id="person">{ "Who works with this device" }</h2>
                <form onsubmit={ui.submit(Form::Person)}>
                    { text_field(ui, model, Field::Initials, "Your initials", "They stand beside everything that you do") }
                    { text_field(ui, model, Field::DeviceName, "Name of this device", "") }
                    <button type="submit" class="button">{ "Keep" }</button>
                </form>
            </section>
        </>
    };
    page.actions = button(ui, "All jobs", Action::GoToJobs, Tone::Quiet);
    framed(ui, model, page)
}
