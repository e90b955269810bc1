//! The jobs on this device.

use crate::app::ports::JobCard;
use crate::app::{Action, Field, Form, JobList, Model, Purpose};
use crate::domain::ids::{Bits80, JobId};
use crate::ui::frame::{Page, plain};
use crate::ui::parts::{Tone, button, empty, row, text_field};
use crate::ui::{Html, sending};
use crate::view::markup;

/// Draws the list of jobs.
pub(in crate::ui) fn draw(model: &Model) -> Html {
    let mut page = Page::new("Jobs on this device");
    page.above = "Bothends".to_owned();
    page.body = markup! {
        <>
            { list(model) }
            <section class="card" aria-labelledby="new-job">
                <h2 id="new-job">{ "New job" }</h2>
                <form onsubmit={sending(Form::NewJob)}>
                    { text_field(model, Field::JobName, "Name of the job", "The house or the street, as you call it") }
                    <button type="submit" class="button main">{ "Start this job" }</button>
                </form>
            </section>
        </>
    };
    page.actions = markup! {
        <div class="actions-pair">
            { button("Look round in the demo job", Action::OpenDemo, Tone::Quiet) }
            { button("Open a job file", Action::PickFile(Purpose::JobFile), Tone::Quiet) }
        </div>
    };
    plain(model, page)
}

fn list(model: &Model) -> Html {
    match &model.jobs {
        JobList::Reading => markup! { <p role="status">{ "Reading …" }</p> },
        JobList::Failed(trouble) => {
            markup! { <p class="notice refused">{ trouble.to_string() }</p> }
        }
        JobList::Here(jobs) if jobs.is_empty() => empty(
            "No job here yet. Start one below, or look round in the demo job first.",
            markup! {},
        ),
        JobList::Here(jobs) => {
            markup! { <ul class="rows">{ for jobs.iter().map(job_row) }</ul> }
        }
    }
}

fn job_row(job: &JobCard) -> Html {
    match job.id.parse::<Bits80>() {
        Ok(id) => row(Action::OpenJob(JobId(id)), markup! {}, job.name.clone(), ""),
        Err(_) => {
            markup! { <li class="row"><p>{ format!("{} cannot be opened.", job.name) }</p></li> }
        }
    }
}
