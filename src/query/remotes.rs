//! Numbered remotes: plugged into the jacks of outlets, and read at the rack, one cable after the
//! other. A number that comes out where its cable does proves the copper between.

use super::rack::{landed_place, planned_place};
use super::run::{Run, Tested};
use super::wall::{PullState, ends};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::medium::{Kind, Medium};
use crate::domain::order::Order;
use crate::domain::place::End;
use crate::domain::work::{TestMethod, TestOutcome};
use crate::journal::Registry;
use crate::names;

/// How many remotes a set has. Common practice, no source.
pub const REMOTES: u8 = 8;

/// A remote in a jack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remote {
    /// The number on it.
    pub number: u8,
    /// The cable of the jack.
    pub cable: CableId,
    /// Its code.
    pub code: String,
    /// The other end of that cable, where the tester goes.
    pub end: End,
    /// The position of that end; none where it is not landed.
    pub position: Option<String>,
    /// Whether that end is landed there.
    pub landed: bool,
    /// Whether a remote proved this cable already.
    pub proved: bool,
    /// Whether it was read last and found bad.
    pub failed: bool,
}

/// The ends in an outlet's jacks that remotes go into, in the order of the jacks: only those of cables that
/// are pulled, since nothing comes out of the others.
#[must_use]
pub fn jacks(registry: &Registry, outlet: OutletId) -> Vec<End> {
    let all = ends(registry, outlet).into_iter();
    let fit = all.filter(|here| {
        let takes_one = here.medium.as_ref().is_some_and(takes_one);
        here.end.leg.is_none() && takes_one && here.pull == PullState::Pulled
    });
    fit.map(|here| here.end).collect()
}

/// A remote of a number in the jack of an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plugged {
    /// The number on it.
    pub number: u8,
    /// The end in the jack.
    pub end: End,
}

/// The numbers of a set that are not among these, in their order.
pub fn free(taken: &[u8]) -> impl Iterator<Item = u8> {
    (1..=REMOTES).filter(|number| !taken.contains(number))
}

/// The remotes that are plugged in, in the order of their numbers, with what is known of their cables.
#[must_use]
pub fn dealt(registry: &Registry, plugged: &[Plugged]) -> Vec<Remote> {
    let mut plugged = plugged.to_vec();
    plugged.order_by_key(|one| one.number);
    let remotes = plugged.into_iter().map(|Plugged { number, end }| {
        let cable = end.cable;
        let end = End::whole(cable, end.side.other());
        let landed = landed_place(registry, end);
        let place = landed.or_else(|| planned_place(registry, end));
        let last = last_by_remote(registry, cable);
        Remote {
            number,
            cable,
            code: names::cable(registry, cable),
            end,
            position: place.map(|place| names::place(registry, place)),
            landed: landed.is_some(),
            proved: last == Some(TestOutcome::Passed),
            failed: last == Some(TestOutcome::Failed),
        }
    });
    remotes.collect()
}

/// Whether a remote goes into the jack of a cable: into one for pairs or for coax.
fn takes_one(medium: &Medium) -> bool {
    medium.is_category() || matches!(medium.kind, Kind::Rg6 | Kind::Rg59)
}

/// What the last test of a cable said, where that was by remote and still holds.
fn last_by_remote(registry: &Registry, id: CableId) -> Option<TestOutcome> {
    let cable = registry.cables.get(id)?;
    let run = Run::new(registry, id, cable);
    let last = run.copper?.tests.last()?;
    let holds = last.method == TestMethod::Remote && !matches!(run.tested(), Tested::Moved(_));
    holds.then_some(last.outcome)
}

/// What the tester says of a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is the cable that it is called.
    Right,
    /// It is this other cable: the two are crossed.
    Crossed(CableId),
    /// No jack has a remote of this number.
    NoSuchRemote,
}

/// What the number that the tester shows at the far end of a cable says.
#[must_use]
pub fn verdict(remotes: &[Remote], cable: CableId, number: u8) -> Verdict {
    let shown = remotes.iter().find(|remote| remote.number == number);
    match shown {
        None => Verdict::NoSuchRemote,
        Some(remote) if remote.cable == cable => Verdict::Right,
        Some(remote) => Verdict::Crossed(remote.cable),
    }
}

/// What comes of following the numbers that the tester showed, from one cable to the one that it is, to
/// the one that that one is, and so on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mixed {
    /// They go round: each of these is really the next, and the last the first. Two are crossed.
    Ring(Vec<Remote>),
    /// What this one shows is not known yet.
    Unread(Remote),
    /// This one shows what cannot be: nothing, a number that is in no jack, or one that another shows too.
    Doubtful(Remote),
}

/// Who is mixed up with whom, told from a cable whose number was wrong. `shown` is what the tester showed of
/// a cable that this did not prove.
#[must_use]
pub fn mixed(
    remotes: &[Remote],
    from: &Remote,
    shown: impl Fn(CableId) -> Option<Option<u8>>,
) -> Mixed {
    let mut ring = vec![from.clone()];
    loop {
        let last = &ring[ring.len() - 1];
        let number = match shown(last.cable) {
            Some(number) => number,
            None if last.proved => return Mixed::Doubtful(last.clone()),
            None => return Mixed::Unread(last.clone()),
        };
        let next = remotes.iter().find(|remote| Some(remote.number) == number);
        match next {
            Some(next) if next.cable == from.cable => return Mixed::Ring(ring),
            Some(next) if ring.iter().all(|one| one.cable != next.cable) => ring.push(next.clone()),
            Some(_) | None => return Mixed::Doubtful(last.clone()),
        }
    }
}
