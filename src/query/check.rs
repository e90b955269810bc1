//! The check of a whole job: everything that stands between it and the next gate.
//!
//! The check reads the registry alone. So it says the same after an import, a merge or an undo as
//! after work done here, and on every phone that holds the same acts. Where people disagree, the
//! disagreement is a finding, and everything else is judged by the value that screens show.

use crate::domain::order::Order;
use rustc_hash::FxHashMap;

use crate::domain::ids::OutletId;
use crate::domain::place::Place;
use crate::journal::Registry;

/// What the ends and copper of one run lack or contradict.
mod cables;
/// Places and codes that several things claim.
mod claims;
/// Fields with two live values.
mod disputes;
/// Outlets, rooms and loose ends.
mod places;
/// The kinds of finding.
mod what;

pub(super) use disputes::in_racks;
pub use what::{Field, Thing, What};

/// A point in the building after which something can no longer be put right cheaply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gate {
    /// No gate: two things contradict each other, or something went wrong, and waiting makes it
    /// worse.
    Now,
    /// Before cables are pulled.
    BeforePull,
    /// Before the board goes up and hides them.
    BeforeBoard,
    /// Before trim: plates, devices and the rack are finished.
    BeforeTrim,
    /// Before the job is handed over.
    BeforeHandover,
}

/// One item of the punch list.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Finding {
    /// When it is due.
    pub gate: Gate,
    /// The outlet under which it is listed; none for what concerns the rack or the job.
    pub outlet: Option<OutletId>,
    /// What it is.
    pub what: What,
}

/// Checks the whole job. The findings stand by gate, then in the walking order of outlets (those
/// of no outlet first), then by kind.
#[must_use]
pub fn check(registry: &Registry) -> Vec<Finding> {
    let mut list = List {
        registry,
        ranks: walking_order(registry),
        found: Vec::new(),
    };
    claims::find(&mut list);
    disputes::find(&mut list);
    cables::find(&mut list);
    places::find(&mut list);
    list.finish()
}

/// What is due at a gate: what belongs to it or to an earlier one.
pub fn due(findings: &[Finding], at: Gate) -> impl Iterator<Item = &Finding> {
    findings.iter().filter(move |finding| finding.gate <= at)
}

/// The findings so far, each with its rank in the walking order.
struct List<'a> {
    registry: &'a Registry,
    ranks: FxHashMap<OutletId, u32>,
    found: Vec<(Gate, u32, Finding)>,
}

impl List<'_> {
    fn add(&mut self, gate: Gate, outlet: Option<OutletId>, what: What) {
        let rank = outlet.map_or(0, |outlet| self.rank(outlet));
        self.add_ranked(gate, Group { outlet, rank }, what);
    }

    /// Adds a finding of a group whose rank is known, which saves looking it up each time.
    fn add_ranked(&mut self, gate: Gate, group: Group, what: What) {
        let finding = Finding {
            gate,
            outlet: group.outlet,
            what,
        };
        self.found.push((gate, group.rank, finding));
    }

    fn rank(&self, outlet: OutletId) -> u32 {
        self.ranks.get(&outlet).copied().unwrap_or(u32::MAX)
    }

    fn finish(mut self) -> Vec<Finding> {
        // The heads are short and lie side by side; what stands under one of them is little.
        self.found.order_by_key(|(gate, rank, _)| (*gate, *rank));
        let groups = self
            .found
            .chunk_by_mut(|one, other| (one.0, one.1) == (other.0, other.1));
        for group in groups.filter(|group| !group.is_sorted()) {
            group.put_in_order();
        }
        self.found.dedup();
        self.found
            .into_iter()
            .map(|(_, _, finding)| finding)
            .collect()
    }
}

/// An outlet as a heading of the list.
#[derive(Clone, Copy)]
struct Group {
    outlet: Option<OutletId>,
    rank: u32,
}

/// The outlets as somebody walks past them: rooms by their place in the walking order, then by
/// code, and outlets by number in their room. What has no place stands at the end.
fn walking_order(registry: &Registry) -> FxHashMap<OutletId, u32> {
    let mut walk: Vec<_> = registry
        .outlets
        .iter()
        .map(|(id, outlet)| {
            let numbering = outlet.number.get();
            let room = numbering.and_then(|numbering| registry.rooms.get(numbering.room));
            let order = room.and_then(|room| room.order.get().copied());
            let code = room.and_then(|room| room.code.get().copied());
            let place = numbering.map(|numbering| (numbering.room, numbering.number));
            (last(order), last(code), last(place), id)
        })
        .collect();
    walk.put_in_order();
    // Rank 0 is for what belongs to no outlet.
    (1..).zip(walk).map(|(rank, (.., id))| (id, rank)).collect()
}

/// Sorts what is missing behind everything that is there.
fn last<T>(value: Option<T>) -> Result<T, ()> {
    value.ok_or(())
}

/// The outlet under which findings about a place stand.
fn outlet_of_place(place: &Place) -> Option<OutletId> {
    match place {
        Place::Jack { outlet, .. } => Some(*outlet),
        Place::Position { .. } | Place::Device { .. } | Place::Joint { .. } => None,
    }
}
