//! What a job file would bring into a job that has work in it, before anything of it is taken in: by
//! whom, how much, and about what people would disagree then.

use super::{Parcel, not_here};
use crate::app::mend::{DAY, missing};
use crate::app::{OpenJob, Screen, mend};
use crate::domain::ids::{ActId, JobId, RoomId};
use crate::journal::{Journal, Taken};
use crate::names;
use crate::query::crew::{kinds, rooms_of};
use crate::query::deeds::person;
use crate::query::{Finding, Gate, check};

/// What a job file would bring in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Incoming {
    pub(super) parcel: Parcel,
    /// The screen that somebody came from.
    pub(super) from: Screen,
    /// Whether nothing of the job is here yet.
    pub is_new: bool,
    /// What it holds, by kinds.
    pub kinds: Vec<String>,
    /// What would still be missing, in words.
    pub missing: Vec<String>,
    /// Who did how much of what is new.
    pub people: Vec<(String, usize)>,
    /// How many records are here already.
    pub here: usize,
    /// How many speak of something that is not here, and wait for it.
    pub waits: usize,
    /// How many have another text under the number of one that is here: neither would count.
    pub clashes: usize,
    /// How many cannot be read; they are kept.
    pub unreadable: usize,
    /// What would contradict itself, or go wrong, in words.
    pub disagreements: Vec<String>,
    /// The rooms in which others were at work, and who.
    pub rooms: Vec<(RoomId, String)>,
    /// What those rooms are called, each with who worked there.
    pub room_names: Vec<String>,
}

impl Incoming {
    /// How many new records there are.
    #[must_use]
    pub fn fresh(&self) -> usize {
        let counted: usize = self.people.iter().map(|(_, count)| count).sum();
        counted + self.waits + self.clashes + self.unreadable
    }

    /// What the job is called.
    #[must_use]
    pub fn job_name(&self) -> &str {
        &self.parcel.name
    }

    /// Whether it belongs to this job.
    #[must_use]
    pub fn is_of(&self, job: JobId) -> bool {
        self.parcel.job == job
    }

    /// What is said of the file.
    #[must_use]
    pub fn told(&self) -> &[String] {
        &self.parcel.told
    }

    /// How many pictures come along.
    #[must_use]
    pub fn pictures(&self) -> usize {
        self.parcel.pictures.len()
    }

    /// How many lines may be altered; they are asked about once the others are in.
    #[must_use]
    pub fn doubtful(&self) -> usize {
        self.parcel.doubtful.len()
    }
}

/// Tries a parcel on a copy of the open job.
pub(super) fn weigh(open: &OpenJob, mut parcel: Parcel, from: Option<Screen>) -> Incoming {
    let journal = &open.journal;
    let mut both = Journal::new(journal.job(), journal.writer());
    both.take(journal.lines());
    let taken = both.take(parcel.lines.iter().map(String::as_str));
    parcel.doubtful = not_here(&both, parcel.doubtful);
    let mut incoming = Incoming {
        parcel,
        from: from.unwrap_or(Screen::Job),
        is_new: journal.is_empty(),
        kinds: Vec::new(),
        missing: Vec::new(),
        people: Vec::new(),
        here: 0,
        waits: 0,
        clashes: 0,
        unreadable: 0,
        disagreements: Vec::new(),
        rooms: Vec::new(),
        room_names: Vec::new(),
    };
    let mut fresh: Vec<ActId> = Vec::new();
    for taken in taken {
        match taken {
            Taken::Known(_) | Taken::KnownUnreadable => incoming.here += 1,
            Taken::Clashes(_) => incoming.clashes += 1,
            Taken::Unreadable => incoming.unreadable += 1,
            Taken::New(id) | Taken::Waits(id) => fresh.push(id),
        }
    }
    for id in &fresh {
        // What waited for a later line of the same file waits no more.
        match both.act(*id) {
            None => incoming.waits += 1,
            Some(act) => {
                let by = person(&act.by);
                match incoming.people.iter_mut().find(|(known, _)| known == by) {
                    Some((_, count)) => *count += 1,
                    None => incoming.people.push((by.to_owned(), 1)),
                }
            }
        }
    }
    let urgent = |journal: &Journal| {
        let mut all = check(journal.registry());
        all.retain(|finding| finding.gate == Gate::Now);
        all
    };
    let before = urgent(journal);
    let is_new = |finding: &Finding| !before.contains(finding);
    let found = urgent(&both).into_iter().filter(is_new);
    let words = found.map(|finding| mend::describe(&both, &finding).title);
    incoming.disagreements = words.collect();
    if incoming.clashes > 0 {
        let words = "A record comes in another version than one that is here or in this file. Neither counts then, and both are shown on the punch list.";
        incoming.disagreements.push(words.to_owned());
    }
    incoming.kinds = kinds(&both, &fresh);
    let told = |journal| -> Vec<String> {
        let missing = missing(journal).into_iter();
        missing
            .map(|mending| [&mending.title, " ", &mending.detail.join(" ")].concat())
            .collect()
    };
    let before = told(journal);
    incoming.missing = told(&both);
    incoming.missing.retain(|words| !before.contains(words));
    if incoming.is_new {
        // Somebody was at work in every room of it; what counts is where they may be still.
        let wall = |id: &ActId| both.act(*id).map_or(0, |act| act.wall.0);
        let newest = fresh.iter().map(wall).max().unwrap_or(0);
        fresh.retain(|id| wall(id).saturating_add(DAY) > newest);
    }
    incoming.rooms = rooms_of(&both, &fresh);
    let names = incoming.rooms.iter();
    let names =
        names.map(|(room, by)| [&names::room(both.registry(), *room), ": ", by.as_str()].concat());
    incoming.room_names = names.collect();
    incoming
}
