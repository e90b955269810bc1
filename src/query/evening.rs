//! What was done since a time, what is blocked, what is asked, and what to bring: for the summary that
//! is sent in the evening.

use super::cover::{self, RoomToCover};
use super::pull::{self, NoBox};
use super::run::{Pulled, Run, Tested};
use super::tally::{Tally, tally};
use crate::domain::ids::{CableId, RoomId};
use crate::domain::order::Order;
use crate::domain::place::{End, Placement};
use crate::domain::work::{PullOutcome, TestOutcome};
use crate::journal::{Cover, EndFact, Fact, Journal, PullFact, RoomFact, WallTime};
use crate::{names, walk};

/// The state of a job in the evening.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Evening {
    /// Who did it, by their initials; what nobody signed is left out.
    pub by: Vec<String>,
    /// Cables that were pulled, and lie there still.
    pub pulled: usize,
    /// Ends that were marked.
    pub marked: usize,
    /// Ends that were landed.
    pub landed: usize,
    /// Cables whose test was passed.
    pub tested: usize,
    /// Rooms that were signed for, which still holds.
    pub covered: Vec<RoomToCover>,
    /// Cables whose pull went wrong, by code, with how.
    pub blocked: Vec<(String, PullOutcome)>,
    /// Cables whose last test failed, by code.
    pub failed: Vec<String>,
    /// Outlets that wait for somebody, with for whom and why.
    pub questions: Vec<String>,
    /// Rooms that must not be covered yet.
    pub uncovered: Vec<RoomToCover>,
    /// What no box on site gives.
    pub bring: Vec<NoBox>,
    /// How far the whole job is.
    pub whole: Tally,
}

/// Things each counted once, however often they were done.
fn count<T: Ord>(mut things: Vec<T>) -> usize {
    things.put_in_order();
    things.dedup();
    things.len()
}

/// Whether somebody signed with this phone and with initials.
fn is_with_initials(signed: &str, phone: &str) -> bool {
    let initials = signed.strip_suffix(phone);
    initials.is_some_and(|initials| initials.ends_with(", "))
}

/// Looks at a job. What was taken back does not count.
#[must_use]
pub fn evening(journal: &Journal, since: WallTime) -> Evening {
    let registry = journal.registry();
    let (mut pulled, mut tested): (Vec<CableId>, Vec<CableId>) = Default::default();
    let (mut marked, mut landed): (Vec<End>, Vec<End>) = Default::default();
    let mut signed: Vec<RoomId> = Vec::new();
    let mut by: Vec<String> = Vec::new();
    for act in journal.history() {
        if act.wall < since || journal.is_struck(act.id) {
            continue;
        }
        let name = act.by.trim();
        if !name.is_empty() && !by.iter().any(|known| known == name) {
            by.push(name.to_owned());
        }
        for fact in &act.facts {
            match fact {
                Fact::Pull(pull, PullFact::Reported(PullOutcome::Pulled)) => {
                    pulled.push(pull.cable);
                }
                Fact::Pull(pull, PullFact::Tested(test)) if test.outcome == TestOutcome::Passed => {
                    tested.push(pull.cable);
                }
                Fact::End(of, EndFact::Marked(_)) => marked.push(of.end),
                Fact::End(of, EndFact::Placed(Placement::Landed { .. })) => landed.push(of.end),
                Fact::Room(room, RoomFact::Covering(Cover::Ok(_))) => signed.push(*room),
                _ => {}
            }
        }
    }
    // What turned out damaged or stuck later in the day is told as that alone.
    pulled.retain(|cable| pull::is_pulled(registry, *cable));
    by.put_in_order();
    // A phone that was given its initials during the day is one all the same; two initials may be two people.
    let all = by.clone();
    by.retain(|name| !all.iter().any(|other| is_with_initials(other, name)));
    let mut evening = Evening {
        by,
        pulled: count(pulled),
        marked: count(marked),
        landed: count(landed),
        tested: count(tested),
        whole: tally(registry).whole,
        ..Evening::default()
    };
    for id in walk::cables(registry) {
        let Some(row) = registry.cables.get(id) else {
            continue;
        };
        let run = Run::new(registry, id, row);
        if let Pulled::Trouble(outcome) = run.pulled() {
            evening.blocked.push((names::cable(registry, id), outcome));
        }
        if run.tested() == Tested::Failed {
            evening.failed.push(names::cable(registry, id));
        }
    }
    let pulls = pull::pulls(registry);
    evening.bring = pulls.bring();
    evening.questions = pull::waiting(registry);
    let rooms = cover::rooms(journal).into_iter();
    let (open, closed): (Vec<_>, Vec<_>) = rooms.partition(RoomToCover::is_open);
    evening.uncovered = open;
    let covered = closed.into_iter();
    evening.covered = covered.filter(|room| signed.contains(&room.room)).collect();
    evening
}
