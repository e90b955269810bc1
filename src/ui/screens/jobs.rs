//! The jobs on this device.

use yew::{Html, html};

use crate::app::ports::JobCard;
use crate::app::{Action, Field, Form, JobList, Model, Purpose};
use crate::domain::ids::{Bits80, JobId};
use crate::ui::Ui;
use crate::ui::frame::{Page, plain};
use crate::ui::parts::{Tone, button, empty, row, text_field};

/// Draws the list of jobs.
pub(in crate::ui) fn draw(ui: &Ui, model: &Model) -> Html {
    let mut page = Page::new("Jobs on this device");
    page.above = "Bothends".to_owned();
    page.body = html! {
        <>
            { list(ui, model) }
            <section class="card" aria-labelledby="new-job">
                <h2 id="new-job">{ "New job" }</h2>
                <form onsubmit={ui.submit(Form::NewJob)}>
                    { text_field(ui, model, Field::JobName, "Name of the job", "The house or the street, as you call it") }
                    <button type="submit" class="button main">{ "Start this job" }</button>
                </form>
            </section>
        </>
    };
    page.actions = html! {
        <div class="actions-pair">
            { button(ui, "Look round in the demo job", Action::OpenDemo, Tone::Quiet) }
            { button(ui, "Open a job file", Action::PickFile(Purpose::JobFile), Tone::Quiet) }
        </div>
    };
    plain(ui, model, page)
}

fn list(ui: &Ui, model: &Model) -> Html {
    match &model.jobs {
        JobList::Reading => html! { <p role="status">{ "Reading …" }</p> },
        JobList::Failed(trouble) => html! { <p class="notice refused">{ trouble.to_string() }</p> },
        JobList::Here(jobs) if jobs.is_empty() => empty(
            "No job here yet. Start one below, or look round in the demo job first.",
            html! {},
        ),
        JobList::Here(jobs) => {
            html! { <ul class="rows">{ for jobs.iter().map(|job| job_row(ui, job)) }</ul> }
        }
    }
}

fn job_row(ui: &Ui, job: &JobCard) -> Html {
    match job.id.parse::<Bits80>() {
        Ok(id) => row(
            ui,
            Action::OpenJob(JobId(id)),
            html! {},
            job.name.clone(),
            "",
        ),
        Err(_) => {
            html! { <li class="row"><p>{ format!("{} cannot be opened.", job.name) }</p></li> }
        }
    }
}
