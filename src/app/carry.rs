//! Job files: a job taken out as a file, and a file taken in, into the open job or as a job of its
//! own.

use super::ports::{JobCard, StoredLine, Trouble};
use super::turn::{go, go_on_saying, to_jobs, turn_to};
use super::write::{list, listed, stored};
use super::{
    Effect, JobList, Model, Notice, Question, Route, Screen, crew, import, pictures, scan,
};
use crate::codes::tag::JobKey;
use crate::domain::ids::JobId;
use crate::exchange::bundle::Carried;
use crate::exchange::csv::Form;
use crate::exchange::jobfile::{self, Header};
use crate::exchange::{bundle, heads};
use crate::journal::{Journal, Taken, line_hash, line_id};
use crate::schedule;

/// What a file would bring in.
mod incoming;
/// A job with its pictures on its way out.
pub(super) mod packing;

pub use incoming::Incoming;
pub use packing::{PackAction, Packing};

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
    let records = match what {
        TakeOut::JobFile => open.journal.held(),
        TakeOut::Spreadsheet | TakeOut::Raw => 0,
    };
    vec![Effect::HandOut {
        name: open.file_name(&[], ending),
        kind,
        bytes,
        records,
    }]
}

/// What is said where a job is opened that is on the list.
const HERE: &str = "This job was on this device already. It is open now.";

/// A job file on its way into a job that is still being read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parcel {
    job: JobId,
    /// What the file calls the job.
    name: String,
    /// Whether it goes into an empty job without a look: it came with the app.
    at_once: bool,
    /// The lines that are whole.
    lines: Vec<String>,
    /// The lines that may be altered.
    doubtful: Vec<String>,
    /// What is said of all this.
    told: Vec<String>,
    /// The pictures that come along.
    pictures: Vec<Carried>,
}

impl Parcel {
    /// The job that it belongs to.
    pub(super) fn job(&self) -> JobId {
        self.job
    }
}

/// Takes a job file in: into its job when that is open, else it opens that job first, so that what
/// is known is never covered by a worse copy.
pub(super) fn take_in(model: &mut Model, bytes: &[u8]) -> Vec<Effect> {
    receive(model, bytes, false)
}

fn receive(model: &mut Model, bytes: &[u8], at_once: bool) -> Vec<Effect> {
    let bundle = bundle::read(bytes);
    let read = jobfile::read(bundle.as_ref().map_or(bytes, |bundle| bundle.job));
    let mut told: Vec<String> = read.findings.iter().map(ToString::to_string).collect();
    let mut pictures = Vec::new();
    if let Some(bundle) = bundle {
        told.extend(bundle.findings.iter().map(ToString::to_string));
        pictures = bundle.pictures;
    }
    let Some(header) = read.header else {
        model.notice = Some(Notice::Told(told.join(" ")));
        return Vec::new();
    };
    let mut parcel = Parcel {
        job: header.job,
        name: header.name.clone(),
        at_once,
        lines: read.lines,
        doubtful: read.doubtful,
        told,
        pictures,
    };
    if let Some(words) = of_another_job(model, &header) {
        let question = Question::OtherJob(parcel.job);
        model.notice = Some(Notice::Asked { words, question });
        model.parcel = Some(parcel);
        return Vec::new();
    }
    // It keeps its name: the one of the file may be older.
    if model.route == Route::Jobs && is_listed(model, parcel.job) {
        parcel.told.insert(0, HERE.to_owned());
    }
    let mut effects = Vec::new();
    // A tag that asked for the file is answered once its job is open.
    let scanned = scan::waits_for_job(model);
    let open = model.open.as_ref();
    if open.is_some_and(|open| open.journal.job() == parcel.job) {
        if scanned {
            effects.extend(go(model, Screen::Scan));
        } else if model.route == Route::Jobs {
            // Whoever picks a job on the list wants to be in it.
            effects.extend(go(model, Screen::Wall));
        }
        effects.extend(unpack(model, parcel));
        return effects;
    }
    let screen = if scanned { Screen::Scan } else { Screen::Wall };
    let route = Route::Job {
        job: parcel.job,
        screen,
    };
    model.open = None;
    model.opening = None;
    effects.extend(turn_to(model, route));
    effects.push(Effect::SetHash(route.print()));
    model.parcel = Some(parcel);
    effects
}

/// What is said before a file leads out of the job in which somebody is at work; nothing where a tag
/// of the other job asked for it.
fn of_another_job(model: &Model, header: &Header) -> Option<String> {
    let open = model.open.as_ref().filter(|_| model.screen().is_some())?;
    let asked = model.scan.answer.as_ref().and_then(|tag| tag.other_job);
    if asked == Some(JobKey::of(header.job)) {
        return None;
    }
    let finding = header.other_job(open.journal.job())?;
    Some(finding.to_string())
}

fn is_listed(model: &Model, job: JobId) -> bool {
    let id = job.0.to_string();
    matches!(&model.jobs, JobList::Here(jobs) if jobs.iter().any(|card| card.id == id))
}

/// Takes a file that came by itself: a job file; or a cable schedule, where a job is open.
pub(super) fn arrived(model: &mut Model, file: Option<Vec<u8>>) -> Vec<Effect> {
    let Some(bytes) = file else {
        let words = "No file came along. Choose it here: Open a job file.";
        model.notice = Some(Notice::Told(words.to_owned()));
        return Vec::new();
    };
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes);
    let is_job = text.trim_ascii_start().starts_with(b"{");
    let is_in_job = model.open.is_some() && model.screen().is_some();
    if is_job || !is_in_job {
        return take_in(model, &bytes);
    }
    let mut effects = go(model, Screen::Import);
    effects.extend(import::picked(model, "The file", &bytes));
    effects
}

/// Takes in what waited for the job that is open now.
pub(super) fn opened(model: &mut Model) -> Vec<Effect> {
    match model.parcel.take() {
        Some(parcel) => unpack(model, parcel),
        None => Vec::new(),
    }
}

fn unpack(model: &mut Model, parcel: Parcel) -> Vec<Effect> {
    let Some(open) = model
        .open
        .as_ref()
        .filter(|open| open.journal.job() == parcel.job)
    else {
        return Vec::new();
    };
    let is_new = open.journal.is_empty();
    if is_new && parcel.at_once {
        return put_in(model, parcel);
    }
    let incoming = incoming::weigh(open, parcel, model.screen());
    if incoming.fresh() == 0 && incoming.pictures() == 0 {
        return put_in(model, incoming.parcel);
    }
    model.incoming = Some(incoming);
    go(model, Screen::Incoming)
}

/// What is looked at, if it belongs to the open job.
fn looked_at(model: &mut Model) -> Option<Incoming> {
    let job = model.open.as_ref()?.journal.job();
    model
        .incoming
        .take_if(|incoming| incoming.parcel.job == job)
}

/// Takes in what was looked at.
pub(super) fn accept(model: &mut Model) -> Vec<Effect> {
    let Some(incoming) = looked_at(model) else {
        return Vec::new();
    };
    crew::merged(model, incoming.parcel.job, &incoming.rooms);
    let mut effects = put_in(model, incoming.parcel);
    effects.extend(go_on_saying(model, incoming.from));
    effects
}

/// Leaves what was looked at where it came from.
pub(super) fn leave(model: &mut Model) -> Vec<Effect> {
    let Some(incoming) = looked_at(model) else {
        return Vec::new();
    };
    let words =
        Notice::Told("Nothing was taken in. The file can be opened again at any time.".to_owned());
    let effects = if incoming.is_new {
        model.open = None;
        model.scan.waiting = None;
        to_jobs(model)
    } else {
        go(model, incoming.from)
    };
    model.notice = Some(words);
    effects
}

/// Takes in everything that is whole, and has what is new stored.
fn put_in(model: &mut Model, parcel: Parcel) -> Vec<Effect> {
    let Some(open) = model.open.as_mut() else {
        return Vec::new();
    };
    let was_empty = open.journal.is_empty();
    let taken = open.take(parcel.lines.iter().map(String::as_str));
    let both = parcel.lines.iter().zip(&taken);
    let fresh =
        both.filter(|(_, taken)| !matches!(taken, Taken::Known(_) | Taken::KnownUnreadable));
    let fresh: Vec<&String> = fresh.map(|(line, _)| line).collect();
    let doubtful = not_here(&open.journal, parcel.doubtful);
    let is_here = doubtful.is_empty();
    let mut words = parcel.told;
    if !is_here && !was_empty {
        // What is to be said of the file was said before it was taken in.
        let these = match doubtful.len() {
            1 => "1 line of this file may have been changed on its way: its own check does not match. Take it".to_owned(),
            count => format!("Some of {count} lines of this file were changed on their way, or left out: its own check does not match. Take them"),
        };
        words = vec![these + " in only if there is no better copy."];
    }
    if !was_empty {
        words.push(match fresh.len() {
            0 if parcel.pictures.is_empty() && is_here => {
                "Everything in this file was here already.".to_owned()
            }
            0 if !is_here => "Nothing else in it is new.".to_owned(),
            0 => "No record in this file is new.".to_owned(),
            1 => "1 new record was taken in.".to_owned(),
            new => format!("{new} new records were taken in."),
        });
    }
    match parcel.pictures.len() {
        0 => {}
        1 => words.push("1 picture came along.".to_owned()),
        count => words.push(format!("{count} pictures came along.")),
    }
    let words = words.join(" ");
    model.notice = if !doubtful.is_empty() {
        let question = Question::Doubtful(doubtful);
        Some(Notice::Asked { words, question })
    } else if words.is_empty() {
        None
    } else {
        Some(Notice::Told(words))
    };
    let is_named = model
        .registry()
        .is_some_and(|registry| registry.job.name.get().is_some());
    let card = if is_named {
        listed(model)
    } else if is_listed(model, parcel.job) {
        None
    } else {
        // Where its name is not to be read, that of the file is better than none.
        let id = parcel.job.0.to_string();
        let name = parcel.name;
        list(model, JobCard { id, name })
    };
    let job = parcel.job.0.to_string();
    let batch = model.saving.begin(&job, keyed(&fresh), card);
    let came = crew::came(model, parcel.job, fresh.len());
    let mut effects = vec![Effect::Save(batch), came];
    effects.extend(pictures::come_along(model, parcel.job, parcel.pictures));
    effects
}

/// Without the lines that are here: what looks altered and is here as it was written is of no use to anybody.
fn not_here(journal: &Journal, mut doubtful: Vec<String>) -> Vec<String> {
    doubtful.retain(|line| line_id(line).is_none_or(|id| journal.act(id).is_none()));
    doubtful
}

/// Has the lines that may be altered looked at, because somebody wants them all the same.
pub(super) fn take_doubtful(model: &mut Model) -> Vec<Effect> {
    let (
        Some(Notice::Asked {
            question: Question::Doubtful(doubtful),
            ..
        }),
        Some(open),
    ) = (model.notice.take(), &model.open)
    else {
        return Vec::new();
    };
    let parcel = Parcel {
        job: open.journal.job(),
        name: open.name().to_owned(),
        at_once: false,
        lines: doubtful,
        doubtful: Vec::new(),
        told: vec!["These records look altered.".to_owned()],
        pictures: Vec::new(),
    };
    // They are looked at like everything else that comes in.
    unpack(model, parcel)
}

/// Opens the demo job, which is stored like any other.
pub(super) fn demo_fetched(model: &mut Model, fetched: Result<Vec<u8>, Trouble>) -> Vec<Effect> {
    match fetched {
        Ok(bytes) => match std::str::from_utf8(&bytes) {
            Ok(short) => receive(model, heads::in_full(short).as_bytes(), true),
            Err(_) => receive(model, &bytes, true),
        },
        Err(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
    }
}

/// Puts a job on the list, in the place of what the list had of it.
pub(super) fn put(jobs: &mut Vec<JobCard>, card: &JobCard) {
    jobs.retain(|job| job.id != card.id);
    jobs.push(card.clone());
}

/// Lines with their keys. A line that cannot be read is stored too, under its digest alone.
fn keyed(lines: &[&String]) -> Vec<StoredLine> {
    let keyed = lines.iter().map(|line| match line_id(line) {
        Some(id) => stored(id, line),
        None => StoredLine {
            writer: "unreadable".to_owned(),
            n: 0,
            hash: line_hash(line),
            line: (*line).clone(),
        },
    });
    keyed.collect()
}
