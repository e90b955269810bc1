//! What the set of everything done says about itself: nothing of it loses anything, all of it
//! wants a look.

use crate::domain::sorted::SortedSet;

use super::Mending;
use crate::app::{Model, OpenJob, REMIND_FROM, Screen, alone, alone_words};
use crate::command::Want;
use crate::journal::{Journal, WallTime};
use crate::names;
use crate::query::deeds::{person, versions, who};

/// So many versions are told.
const VERSIONS: usize = 8;

pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 {
        format!("1 {one}")
    } else {
        format!("{count} {many}")
    }
}

/// What is not here yet and is needed, in plain words; empty when nothing is missing.
#[must_use]
pub fn missing(journal: &Journal) -> Vec<Mending> {
    let health = journal.health();
    let mut list = Vec::new();
    let mut say = |title: String, why: &str| {
        let mending = Mending::new(title).because(why);
        list.push(mending.or_go("What was done", Screen::History));
    };
    if !health.waiting.is_empty() {
        say(
            format!(
                "{} for the work of another phone.",
                counted(health.waiting.len(), "record waits", "records wait")
            ),
            if health.clashes.is_empty() {
                "They speak of something that is not on this device yet. Take in the job file of the other phones."
            } else {
                "They speak of something that is not on this device yet, or is here in two versions. Take in the job file of the other phones, or settle those."
            },
        );
    }
    if !health.gaps.is_empty() {
        let missing: u64 = health
            .gaps
            .iter()
            .map(|gap| u64::from(gap.last - gap.first) + 1)
            .sum();
        let phones: SortedSet<_> = health.gaps.iter().map(|gap| gap.writer).collect();
        let mut whose: Vec<String> = Vec::new();
        for phone in phones {
            let by = person(journal.written_by(phone)).to_owned();
            if !whose.contains(&by) {
                whose.push(by);
            }
        }
        say(
            format!(
                "{} missing, of the work of {}.",
                counted(
                    usize::try_from(missing).unwrap_or(usize::MAX),
                    "record is",
                    "records are"
                ),
                names::listed(&whose)
            ),
            "A file that was taken in was not whole, or an older one is still to come. Ask for a new job file of that phone.",
        );
    }
    list
}

/// What is incomplete or contradicts itself in the records, in plain words; empty when all is
/// well.
#[must_use]
pub fn health(journal: &Journal) -> Vec<Mending> {
    let health = journal.health();
    let mut list = missing(journal);
    if !health.clashes.is_empty() {
        let mut mending = Mending::new(format!(
            "{} here in two versions.",
            counted(health.clashes.len(), "record is", "records are")
        ))
        .because("Both are kept and neither counts, since nobody can tell which is true, and what rests on them waits. An altered file, a copied or a restored phone can do this. Say which is true: it is written down anew.");
        for (act, version, words) in versions(journal, &health.clashes)
            .into_iter()
            .take(VERSIONS)
        {
            let want = Want::WriteAgain { act, version };
            mending = mending
                .because(words.clone())
                .or(format!("True is what {words}"), want);
        }
        list.push(mending);
    }
    let mut say = |title: String, why: &str| {
        let mending = Mending::new(title).because(why);
        list.push(mending.or_go("What was done", Screen::History));
    };
    if !health.ignored_links.is_empty() {
        say(
            format!(
                "{} to something that came later.",
                counted(health.ignored_links.len(), "record points", "records point")
            ),
            "That part of it counts for nothing. A damaged or altered file can do this.",
        );
    }
    if !health.newer.is_empty() {
        say(
            format!(
                "A newer version of this app changed {}.",
                counted(health.newer.len(), "thing", "things")
            ),
            "They are shown as far as this version knows, and cannot be changed here. Update the app on this device.",
        );
    }
    if health.unreadable > 0 {
        say(
            format!(
                "{} not be read.",
                counted(health.unreadable, "record can", "records can")
            ),
            "They are kept as they are and go into every file of this job. A newer version may read them.",
        );
    }
    list
}

/// A day, in milliseconds.
pub const DAY: u64 = 24 * 3600 * 1000;

/// Records that say a time of more than a day ahead: a clock is wrong, here or there. Nothing is
/// decided by it.
#[must_use]
pub fn clocks(model: &Model) -> Option<Mending> {
    let journal = &model.open.as_ref()?.journal;
    let ahead = journal.later_than(WallTime(model.now.0.saturating_add(DAY)));
    let last = ahead.last()?;
    let title = format!(
        "{} a time more than a day ahead of this device.",
        counted(ahead.len(), "record says", "records say")
    );
    let whose = format!("The last one is by {}.", who(journal, last.id));
    let why = "One of the clocks is wrong. Nothing is decided by it; look at the date and time of both devices.";
    let mending = Mending::new(title).because(whose).because(why);
    Some(mending.or_go("What was done", Screen::History))
}

/// The reminder that much of the job is on this phone alone.
#[must_use]
pub fn reminder(model: &Model) -> Option<Mending> {
    let has_pictures = model
        .registry()
        .is_some_and(|registry| !registry.pictures.is_empty());
    (alone(model) >= REMIND_FROM).then(|| {
        let mending = Mending::new([&alone_words(model), "."].concat())
            .because("A phone that falls off a ladder takes them along. Give the job out as a file, to another phone or to keep.");
        let mending = if has_pictures {
            mending.because("Its pictures come along only in the file with pictures.")
        } else {
            mending
        };
        mending.or_go("Give it out", Screen::Job)
    })
}

/// The rooms that must not be covered yet, whatever the rest of the list says.
#[must_use]
pub fn walls(open: &OpenJob) -> Option<Mending> {
    let (title, whose) = match open.uncovered() {
        0 => return None,
        1 => ("1 room must not be covered yet.".to_owned(), "its"),
        count => (format!("{count} rooms must not be covered yet."), "their"),
    };
    let why = format!("Nobody has signed for {whose} walls, or something changed since.");
    Some(
        Mending::new(title)
            .because(why)
            .or_go("Not to be covered yet", Screen::Covers),
    )
}
