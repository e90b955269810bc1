//! Job files: a job taken out as a file, and a file taken in, into the open job or as a job of its
//! own.

use super::ports::{JobCard, StoredLine, Trouble};
use super::{Effect, JobList, Model, Notice, Route, Screen, stored};
use crate::domain::ids::JobId;
use crate::exchange::csv::Form;
use crate::exchange::jobfile::{self, Header};
use crate::journal::{Taken, line_hash, line_id};
use crate::schedule;

/// What is taken out of the open job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakeOut {
    /// Everything, for another phone or for safety.
    JobFile,
    /// The cables for a spreadsheet, with dangerous first characters quoted.
    Spreadsheet,
    /// The cables as they are.
    Raw,
}

/// Takes something out of the open job.
pub(super) fn take_out(model: &Model, what: TakeOut) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let registry = open.journal.registry();
    let (ending, kind, bytes) = match what {
        TakeOut::JobFile => {
            let text = jobfile::write(open.journal.job(), open.name(), open.journal.lines());
            ("jobfile.txt", "text/plain", text.into_bytes())
        }
        TakeOut::Spreadsheet => (
            "csv",
            "text/csv",
            schedule::export(registry, Form::Spreadsheet),
        ),
        TakeOut::Raw => ("raw.csv", "text/csv", schedule::export(registry, Form::Raw)),
    };
    vec![Effect::HandOut {
        name: open.file_name(ending),
        kind,
        bytes,
    }]
}

/// What is said where a job is opened that is on the list.
const HERE: &str = "This job was on this device already. It is open now.";

/// Takes a job file in: into the open job when it is of that job, else as a job of its own.
pub(super) fn take_in(model: &mut Model, bytes: &[u8]) -> Vec<Effect> {
    let read = jobfile::read(bytes);
    let told: Vec<String> = read.findings.iter().map(ToString::to_string).collect();
    let Some(header) = read.header else {
        let why = if told.is_empty() {
            "This is no job file.".to_owned()
        } else {
            told.join(" ")
        };
        model.notice = Some(Notice::Told(why));
        return Vec::new();
    };
    let mut lines = read.lines;
    let same_job = model
        .open
        .as_ref()
        .is_some_and(|open| open.journal.job() == header.job);
    if !same_job {
        // With no better copy here, what looks altered is better than nothing.
        lines.extend(read.doubtful);
        return open_as_job(model, &header, &lines, told);
    }
    let Some(open) = &mut model.open else {
        return Vec::new();
    };
    let taken = open.take(lines.iter().map(String::as_str));
    let new = taken
        .iter()
        .filter(|taken| !matches!(taken, Taken::Known(_)))
        .count();
    let mut words = vec![match new {
        0 => "Everything in this file was here already.".to_owned(),
        1 => "1 new record was taken in.".to_owned(),
        _ => format!("{new} new records were taken in."),
    }];
    words.extend(told);
    let batch = model.saving.begin(&header.job.0.to_string(), keyed(&lines));
    let mut effects = vec![Effect::Save(batch)];
    effects.extend(super::listed(model));
    if model.route == Route::Jobs {
        // Whoever picks a job on the list wants to be in it.
        words.insert(0, HERE.to_owned());
        effects.extend(super::go(model, Screen::Wall));
    }
    model.notice = Some(Notice::Told(words.join(" ")));
    effects
}

/// Opens the demo job, which is stored like any other.
pub(super) fn demo_fetched(model: &mut Model, fetched: Result<Vec<u8>, Trouble>) -> Vec<Effect> {
    match fetched {
        Ok(bytes) => take_in(model, &bytes),
        Err(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
    }
}

/// Stores a job file as a job of its own, and opens it once it is on the disk.
fn open_as_job(
    model: &mut Model,
    header: &Header,
    lines: &[String],
    mut told: Vec<String>,
) -> Vec<Effect> {
    let card = JobCard {
        id: header.job.0.to_string(),
        name: header.name.clone(),
    };
    let batch = model.saving.begin(&card.id, keyed(lines));
    model.opens_when_saved = Some((batch.token, header.job));
    let mut effects = Vec::new();
    match &mut model.jobs {
        JobList::Here(jobs) if jobs.iter().any(|job| job.id == card.id) => {
            // It keeps its name: the one of the file may be older.
            told.insert(0, HERE.to_owned());
        }
        JobList::Here(jobs) => {
            put(jobs, &card);
            effects.push(Effect::PutJob(card));
        }
        JobList::Reading | JobList::Failed(_) => effects.push(Effect::PutJob(card)),
    }
    if !told.is_empty() {
        model.notice = Some(Notice::Told(told.join(" ")));
    }
    // After the card, so that no lines are stored of a job that is on no list.
    effects.push(Effect::Save(batch));
    effects
}

/// Puts a job on the list, in the place of what the list had of it.
pub(super) fn put(jobs: &mut Vec<JobCard>, card: &JobCard) {
    jobs.retain(|job| job.id != card.id);
    jobs.push(card.clone());
}

/// The job that waits for a batch to be on the disk, once it is.
pub(super) fn opens_now(model: &mut Model, token: u64) -> Vec<Effect> {
    match model.opens_when_saved {
        Some((awaited, job)) if awaited == token => {
            model.opens_when_saved = None;
            open_stored(model, job)
        }
        _ => Vec::new(),
    }
}

fn open_stored(model: &mut Model, job: JobId) -> Vec<Effect> {
    let route = Route::Job {
        job,
        screen: Screen::Wall,
    };
    let notice = model.notice.take();
    model.open = None;
    let mut effects = super::turn_to(model, route);
    model.notice = notice;
    effects.push(Effect::SetHash(route.print()));
    effects
}

/// Lines with their keys. A line that cannot be read is stored too, under its digest alone.
fn keyed(lines: &[String]) -> Vec<StoredLine> {
    let keyed = lines.iter().map(|line| match line_id(line) {
        Some(id) => stored(id, line),
        None => StoredLine {
            writer: "unreadable".to_owned(),
            n: 0,
            hash: line_hash(line),
            line: line.clone(),
        },
    });
    keyed.collect()
}
