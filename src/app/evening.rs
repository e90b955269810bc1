//! The summary of a day as a text that is sent to the office or the builder.

use super::{OpenJob, Person};
use crate::journal::WallTime;
use crate::names;
use crate::query::Tally;
use crate::query::cover::{CoverState, RoomToCover};
use crate::query::deeds::outcome_words;
use crate::query::evening::{Evening, evening};

/// How far back a day's work reaches: sixteen hours, so that no time zone needs to be known.
const DAY_MS: u64 = 16 * 3_600_000;

/// The summary. Each paragraph is left out where there is nothing to say in it.
#[must_use]
pub(super) fn text(open: &OpenJob, person: &Person, now: WallTime) -> String {
    let since = WallTime(now.0.saturating_sub(DAY_MS));
    let state = evening(&open.journal, since);
    // The work of all is told, so all are named who did some.
    let signed = if state.by.is_empty() {
        person.initials.clone()
    } else {
        names::listed(&state.by)
    };
    let head = [open.name(), &names::day(now), &signed];
    let head: Vec<&str> = head.into_iter().filter(|word| !word.is_empty()).collect();
    let mut lines = vec![head.join(", ")];
    lines.push(format!("Done: {}.", done(&state)));
    let Tally {
        cables,
        pulled,
        marked,
        tested,
        ..
    } = state.whole;
    lines.push(format!(
        "In all: {cables} cables, {pulled} pulled, {marked} marked at both ends, {tested} tested."
    ));
    let blocked = state.blocked.iter();
    let blocked = blocked.map(|(code, outcome)| format!("{code} {}", outcome_words(*outcome)));
    let failed = state
        .failed
        .iter()
        .map(|code| format!("{code} failed its test"));
    paragraph(&mut lines, "Blocked", blocked.chain(failed).collect());
    paragraph(&mut lines, "Questions", state.questions);
    let uncovered = state.uncovered.iter().map(uncovered).collect();
    paragraph(&mut lines, "Not to be covered yet", uncovered);
    let bring = state.bring.iter();
    let bring = bring.map(|no_box| match no_box.codes.len() {
        1 => format!("{} for 1 cable", no_box.medium),
        count => format!("{} for {count} cables", no_box.medium),
    });
    paragraph(&mut lines, "Boxes to bring", bring.collect());
    lines.join("\n")
}

fn done(state: &Evening) -> String {
    let counts = [
        (state.pulled, "cable pulled", "cables pulled"),
        (state.marked, "end marked", "ends marked"),
        (state.landed, "end landed", "ends landed"),
        (state.tested, "cable tested", "cables tested"),
    ];
    let counts = counts.into_iter().filter(|(count, ..)| *count > 0);
    let mut words: Vec<String> = counts
        .map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }))
        .collect();
    let covered = state.covered.iter();
    words.extend(covered.map(|room| match room.ok_words() {
        Some(ok) => format!("{} is {ok}", room.name),
        None => format!("{} is closed", room.name),
    }));
    if words.is_empty() {
        return "nothing was recorded".to_owned();
    }
    words.join(", ")
}

/// A room that must not be covered, with why.
fn uncovered(room: &RoomToCover) -> String {
    let why = match &room.state {
        CoverState::NotYet(reason) => reason.as_str(),
        CoverState::Reopened { why, .. } => {
            let first = why.first().map_or("changed", String::as_str);
            return format!("{} (signed, and changed since: {first})", room.name);
        }
        CoverState::Closed { since } => {
            let mut left = room.things_left();
            if let Some(first) = since.first() {
                left = [&left, ", changed since: ", first].concat();
            }
            return format!(
                "{} (closed already with {left}: look before the plaster dries)",
                room.name
            );
        }
        CoverState::Open | CoverState::Ok { .. } => return room.name.clone(),
    };
    format!("{} ({why})", room.name)
}

/// How many things one paragraph names.
const NAMED: usize = 20;

fn paragraph(lines: &mut Vec<String>, title: &str, mut of: Vec<String>) {
    if of.is_empty() {
        return;
    }
    if of.len() > NAMED {
        let more = of.len() - NAMED;
        of.truncate(NAMED);
        of.push(format!("and {more} more"));
    }
    let words = of.join("; ");
    lines.push(names::stopped(format!("{title}: {words}")));
}
