//! What this device remembers of the other phones on a job: in which rooms they were at work when
//! their work came in last, and how much of the job is on this phone alone. None of it is part of
//! the job, and nothing is lost when the browser forgets it.

use super::{Effect, Model};
use crate::domain::ids::{Bits80, JobId, RoomId, ThingId};
use crate::query::crew::{BETWEEN, was_in};

/// From how many records on somebody is reminded to give a file out.
pub const REMIND_FROM: usize = 100;

/// What is remembered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Crew {
    jobs: Vec<OfJob>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct OfJob {
    job: JobId,
    /// How many records are elsewhere too: they came from there, or left in a file.
    elsewhere: usize,
    /// Who else was at work in a room, each until his next work comes in.
    rooms: Vec<(RoomId, String)>,
}

impl Crew {
    /// Reads what was kept: a line for each job, its parts with tabs between. What makes no sense is
    /// left out.
    #[must_use]
    pub fn read(kept: &str) -> Self {
        let jobs = kept.lines().filter_map(|line| {
            let mut parts = line.split('\t');
            let job = JobId(parts.next()?.parse::<Bits80>().ok()?);
            let elsewhere = parts.next()?.parse().ok()?;
            let rooms = parts.filter_map(|part| {
                let (room, by) = part.split_once(' ')?;
                Some((RoomId(room.parse::<ThingId>().ok()?), by.to_owned()))
            });
            let rooms = rooms.collect();
            Some(OfJob {
                job,
                elsewhere,
                rooms,
            })
        });
        Self {
            jobs: jobs.collect(),
        }
    }

    fn print(&self) -> String {
        let mut text = String::new();
        for of in &self.jobs {
            text.push_str(&format!("{}\t{}", of.job.0, of.elsewhere));
            for (room, by) in &of.rooms {
                let by = by.replace(['\t', '\n'], " ");
                text.push_str(&format!("\t{} {by}", room.0));
            }
            text.push('\n');
        }
        text
    }

    fn of(&self, job: JobId) -> Option<&OfJob> {
        self.jobs.iter().find(|of| of.job == job)
    }

    fn of_mut(&mut self, job: JobId) -> &mut OfJob {
        let at = self.jobs.iter().position(|of| of.job == job);
        let at = at.unwrap_or_else(|| {
            self.jobs.push(OfJob {
                job,
                elsewhere: 0,
                rooms: Vec::new(),
            });
            self.jobs.len() - 1
        });
        &mut self.jobs[at]
    }

    /// Who else was at work in a room when their work came in last.
    #[must_use]
    pub fn in_room(&self, job: JobId, room: RoomId) -> Option<&str> {
        let rooms = &self.of(job)?.rooms;
        let found = rooms.iter().find(|(known, _)| *known == room);
        found.map(|(_, by)| by.as_str())
    }
}

/// How many records of the open job are on this phone alone, as far as it knows.
#[must_use]
pub fn alone(model: &Model) -> usize {
    model.open.as_ref().map_or(0, |open| {
        let elsewhere = model.crew.of(open.journal.job());
        let elsewhere = elsewhere.map_or(0, |of| of.elsewhere);
        // What cannot even be read as text is a record still.
        (open.journal.held() + open.torn).saturating_sub(elsewhere)
    })
}

/// The same in words.
#[must_use]
pub fn alone_words(model: &Model) -> String {
    match alone(model) {
        1 => "1 record is on this device alone".to_owned(),
        count => format!("{count} records are on this device alone"),
    }
}

/// New records of a job came from elsewhere.
pub(super) fn came(model: &mut Model, job: JobId, records: usize) -> Effect {
    model.crew.of_mut(job).elsewhere += records;
    kept(model)
}

/// Others were at work in these rooms. What is remembered of somebody whose work did not come in now stays.
pub(super) fn merged(model: &mut Model, job: JobId, rooms: &[(RoomId, String)]) {
    let of = model.crew.of_mut(job);
    let came = |by: &str| {
        rooms
            .iter()
            .any(|(_, all)| all.split(BETWEEN).any(|one| one == by))
    };
    let mut now = rooms.to_vec();
    for (room, all) in of.rooms.drain(..) {
        for by in all.split(BETWEEN).filter(|by| !came(by)) {
            was_in(&mut now, room, by);
        }
    }
    of.rooms = now;
}

/// A file with so many records of a job left this device.
pub(super) fn given_out(model: &mut Model, job: JobId, records: usize) -> Vec<Effect> {
    let of = model.crew.of_mut(job);
    of.elsewhere = of.elsewhere.max(records);
    vec![kept(model)]
}

/// A job is no longer on this device: what comes of it later is counted anew.
pub(super) fn forget(model: &mut Model, job: JobId) -> Option<Effect> {
    let jobs = &mut model.crew.jobs;
    let at = jobs.iter().position(|of| of.job == job)?;
    jobs.remove(at);
    Some(kept(model))
}

fn kept(model: &Model) -> Effect {
    Effect::Keep {
        key: "crew",
        value: model.crew.print(),
    }
}
