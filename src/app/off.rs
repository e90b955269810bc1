//! Taking a job off this device, once every record of it lies elsewhere too, or when nothing was
//! written into it but what it is called.

use super::crew::alone_words;
use super::ports::{JobCard, Trouble};
use super::saving::Saved;
use super::{Effect, JobList, Model, Notice, OpenJob, Opening, Question, alone, crew, tags, turn};
use crate::command::Refusal;
use crate::domain::ids::JobId;

/// Asks whether the open job is to go, or says what has to be done first.
pub(super) fn ask(model: &mut Model) -> Vec<Effect> {
    if let Some(open) = &model.open {
        let name = open.name();
        let pictures = match open.journal.registry().pictures.len() {
            0 => "",
            _ => ", and every picture",
        };
        model.notice = Some(match hindrance(model, open) {
            Some(Hindrance::Unsaved) => {
                let words = "Not everything is saved yet. Wait until it is, and try again.";
                Notice::Refused(Refusal::new(words))
            }
            // No file holds what is torn, so the job stays for good.
            Some(Hindrance::Torn) => {
                let what = "a part of this job".to_owned();
                Notice::Trouble(Trouble::Unreadable(what))
            }
            Some(Hindrance::Alone) => Notice::Asked {
                words: format!(
                    "{} and would be lost. Take the whole job out as a file first, and see that it lies on another device.",
                    alone_words(model)
                ),
                question: Question::FileFirst,
            },
            None => Notice::Asked {
                words: format!(
                    "“{name}” goes off this device with every record{pictures}. Only its file brings it back."
                ),
                question: Question::Leaving,
            },
        });
    }
    Vec::new()
}

/// Why a job stays.
enum Hindrance {
    /// Not everything is on the disk.
    Unsaved,
    /// Something that is stored cannot be read.
    Torn,
    /// Something of it lies nowhere else.
    Alone,
}

fn hindrance(model: &Model, open: &OpenJob) -> Option<Hindrance> {
    if let Saved::Saving | Saved::Failed(_) = model.saved() {
        return Some(Hindrance::Unsaved);
    }
    if open.torn > 0 {
        return Some(Hindrance::Torn);
    }
    // What names nothing is about the job itself: its name, its address, its pinout.
    let journal = &open.journal;
    let is_bare =
        || journal.len() == journal.held() && journal.acts().all(|act| act.about.is_empty());
    (alone(model) > 0 && !is_bare()).then_some(Hindrance::Alone)
}

/// Takes the open job off, where that was asked and nothing came in since that speaks against it.
pub(super) fn take_off(model: &mut Model) -> Vec<Effect> {
    let asked = matches!(
        model.notice,
        Some(Notice::Asked {
            question: Question::Leaving,
            ..
        })
    );
    let open = model.open.as_ref().filter(|_| asked);
    let Some(job) = open
        .filter(|open| hindrance(model, open).is_none())
        .map(|open| open.journal.job())
    else {
        return ask(model);
    };
    let mut effects = put_away(model, job);
    effects.push(Effect::TakeOff(job));
    effects
}

/// A job is off the disk, through this window or another.
pub(super) fn taken_off(model: &mut Model, job: JobId) -> Vec<Effect> {
    let open = model.open.as_ref().map(|open| open.journal.job());
    let opening = model.opening.as_ref().map(Opening::job);
    let mut effects = if [open, opening].contains(&Some(job)) {
        put_away(model, job)
    } else {
        Vec::new()
    };
    let id = job.0.to_string();
    let mut words = "The job is no longer on this device.".to_owned();
    if let JobList::Here(jobs) = &mut model.jobs
        && let Some(at) = jobs.iter().position(|card| card.id == id)
    {
        let JobCard { name, .. } = jobs.remove(at);
        words = format!("“{name}” is no longer on this device.");
    }
    model.notice = Some(Notice::Told(words));
    effects.extend(crew::forget(model, job));
    effects
}

/// Leaves a job and whatever was begun in it, for the list.
fn put_away(model: &mut Model, job: JobId) -> Vec<Effect> {
    model.incoming.take_if(|incoming| incoming.is_of(job));
    model.packing.take_if(|packing| packing.is_of(job));
    model.scan.waiting = None;
    let mut effects = tags::leave(model);
    effects.extend(turn::to_jobs(model));
    // What was begun on the screen that was open, too.
    model.left.retain(|(route, _)| route.job() != Some(job));
    model.begun.retain(|(of, _)| *of != job);
    model.open = None;
    model.opening = None;
    effects
}
