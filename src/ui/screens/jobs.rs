//! The jobs on this device.

use crate::app::ports::JobCard;
use crate::app::{Action, Field, Form, JobList, Model, Purpose};
use crate::domain::ids::{Bits80, JobId};
use crate::ui::frame::{Page, plain};
use crate::ui::parts::caution::guide;
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
            { button("Scan a tag", Action::ToScan, Tone::Quiet) }
            { button("Look round in the demo job", Action::OpenDemo, Tone::Quiet) }
            { button("Open a job file", Action::PickFile(Purpose::JobFile), Tone::Quiet) }
            { guide(model) }
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
            markup! { <ul class="rows">{ for jobs.iter().map(|job| job_row(job, jobs)) }</ul> }
        }
    }
}

/// Jobs of one name are told apart by the key that stands on their tags.
fn job_row(job: &JobCard, all: &[JobCard]) -> Html {
    match job.id.parse::<Bits80>() {
        Ok(id) => {
            let id = JobId(id);
            let twins = all.iter().filter(|other| other.name == job.name).count() > 1;
            let key = twins.then(|| format!("tags with {}", id.key()));
            let open = Action::OpenJob(id);
            row(open, markup! {}, job.name.clone(), key.unwrap_or_default())
        }
        Err(_) => {
            markup! { <li class="row"><p>{ format!("{} cannot be opened.", job.name) }</p></li> }
        }
    }
}
