//! How far the work is: of the job, of all walls together, room by room, and by change orders.
//!
//! Every screen that counts cables reads this. A cable is counted once wherever it is counted: in
//! each room where an end of it comes out, however many ends that are, and once in the whole job.

use rustc_hash::FxHashMap;

use super::rack::planned_place;
use super::run::{Marked, Pulled, Run, Standpoint, Tested, change_order, shown_outlet};
use crate::domain::ids::{OutletId, RoomId};
use crate::domain::place::{End, Leaves, Place, RunKind, Side};
use crate::journal::Registry;
use crate::walk;

/// Counts of wanted runs. Each count can reach that of the cables, and does when nothing is left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// The runs.
    pub cables: usize,
    /// Those that lie from end to end.
    pub pulled: usize,
    /// Those of which every end that is meant bears its code: in a room the ends there, at the
    /// walls the ends at outlets, in the whole job both.
    pub marked: usize,
    /// Those whose ends at outlets, as far as they are meant, are landed, or left spare or dead on
    /// purpose; of a split end, every leg. Of a tie line both ends, as it has none at an outlet.
    pub wall_settled: usize,
    /// The same of the ends at racks. A local run has none there, so that nothing of it is left.
    pub rack_settled: usize,
    /// Those whose last test was passed, or that nobody tests because an end is out of use.
    pub tested: usize,
}

/// The counts of one room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoomTally {
    /// The room where ends come out; none for tie lines and runs of no room.
    pub room: Option<RoomId>,
    /// The counts.
    pub tally: Tally,
}

/// The counts of one change order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderTally {
    /// Its number as it was written; empty for the runs that came with none.
    pub order: String,
    /// The counts, of each run both ends.
    pub tally: Tally,
}

/// How far the work is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tallies {
    /// The job: each run once, and of each both ends.
    pub whole: Tally,
    /// All rooms together: each run with an end in a room once, and of each the ends there.
    pub walls: Tally,
    /// Room by room in walking order, what is in no room last. A run with ends in two rooms is in
    /// both.
    pub rooms: Vec<RoomTally>,
    /// Change order by change order, a shorter number first, what came with none last. Each run of
    /// the job is in one of them.
    pub orders: Vec<OrderTally>,
}

/// Where an end comes out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    /// At a rack.
    Rack,
    /// At an outlet, in this room, or in none.
    Wall(Option<RoomId>),
    /// At an outlet that is not in the job.
    Nowhere,
}

/// Which ends are meant in a count.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Scope {
    /// Both.
    Whole,
    /// Those in any room.
    Walls,
    /// Those in one room.
    Room(RoomId),
}

impl Scope {
    fn holds(self, at: At) -> bool {
        match (self, at) {
            (Self::Whole, _) | (Self::Walls, At::Wall(Some(_))) => true,
            (Self::Room(room), At::Wall(is)) => is == Some(room),
            (Self::Room(_) | Self::Walls, _) => false,
        }
    }
}

/// Counts the wanted runs. One that comes out at no wanted outlet and is no tie line is not
/// counted: it is not known whether it is to be pulled.
#[must_use]
pub fn tally(registry: &Registry) -> Tallies {
    let mut all = Tallies::default();
    let mut counts: FxHashMap<Option<RoomId>, Tally> = FxHashMap::default();
    for (id, cable) in registry.cables.iter() {
        let run = Run::new(registry, id, cable);
        let at = Side::BOTH.map(|side| comes_out(&run, side));
        let is_tie = at == [At::Rack; 2];
        if !walk::is_wanted_cable(cable)
            || !(is_tie || at.iter().any(|at| matches!(at, At::Wall(_))))
        {
            continue;
        }
        all.whole.count(&run, at, Scope::Whole);
        let order = all.of_order(change_order(registry, cable));
        order.count(&run, at, Scope::Whole);
        let [near, far] = at.map(|at| match at {
            At::Wall(room) => room,
            At::Rack | At::Nowhere => None,
        });
        let mut count = |room: Option<RoomId>| {
            let scope = room.map_or(Scope::Whole, Scope::Room);
            counts.entry(room).or_default().count(&run, at, scope);
        };
        if near.or(far).is_none() {
            count(None);
            continue;
        }
        all.walls.count(&run, at, Scope::Walls);
        if near.is_some() {
            count(near);
        }
        if far.is_some() && far != near {
            count(far);
        }
    }
    let rooms = walk::rooms(registry).into_iter().map(Some).chain([None]);
    let rooms = rooms.filter_map(|room| {
        let tally = counts.get(&room).copied()?;
        Some(RoomTally { room, tally })
    });
    all.rooms = rooms.collect();
    all
}

/// Where an end comes out. What was planned for the near end goes before the outlet that it feeds,
/// as where it came out elsewhere it stays.
fn comes_out(run: &Run<'_>, side: Side) -> At {
    let outlet = match (run.kind(), side) {
        (RunKind::TieLine, _) | (RunKind::HomeRun, Side::Far) => return At::Rack,
        (_, Side::Near) => match planned_place(run.registry, End::whole(run.id, side)) {
            Some(Place::Jack { outlet, .. }) => Some(*outlet),
            _ => shown_outlet(run.cable),
        },
        (RunKind::LocalRun, Side::Far) => match run.cable.leaves.get() {
            Some(Leaves::Outlet(from)) => Some(*from),
            Some(Leaves::Rack(_)) | None => None,
        },
    };
    outlet.map_or(At::Nowhere, |outlet| wall_of(run.registry, outlet))
}

fn wall_of(registry: &Registry, outlet: OutletId) -> At {
    let Some(row) = registry
        .outlets
        .get(outlet)
        .filter(|row| walk::is_wanted_outlet(row))
    else {
        return At::Nowhere;
    };
    let room = row.number.get().map(|numbering| numbering.room);
    At::Wall(room.filter(|room| {
        let row = registry.rooms.get(*room);
        row.is_some_and(|row| !row.added.is_empty())
    }))
}

impl Tallies {
    fn of_order(&mut self, order: &str) -> &mut Tally {
        // Numbers grow longer: 9 stands before 10, and CO 9 before CO 10.
        let behind = |row: &OrderTally| {
            let is = row.order.as_str();
            (is.is_empty(), is.len(), is) >= (order.is_empty(), order.len(), order)
        };
        let rows = &mut self.orders;
        let at = rows.iter().position(behind).unwrap_or(rows.len());
        if rows.get(at).is_none_or(|row| row.order != order) {
            let order = order.to_owned();
            let tally = Tally::default();
            rows.insert(at, OrderTally { order, tally });
        }
        &mut rows[at].tally
    }
}

impl Tally {
    /// Counts a run, of whose ends those are meant that are in a scope.
    fn count(&mut self, run: &Run<'_>, at: [At; 2], scope: Scope) {
        let [near, far] = Side::BOTH.map(|side| run.standpoint(side) != Standpoint::Open);
        // Of both ends as they are at a wall or a rack; of a run that has none there, both.
        let settled = |meant: [bool; 2]| match meant {
            [true, false] => near,
            [false, true] => far,
            _ => near && far,
        };
        let here = at.map(|at| scope.holds(at));
        let marked = Side::BOTH.map(|side| run.marked(side) == Marked::Yes);
        self.cables += 1;
        self.pulled += usize::from(run.pulled() == Pulled::Yes);
        self.marked += usize::from((marked[0] || !here[0]) && (marked[1] || !here[1]));
        let at_wall = [0, 1].map(|end| here[end] && at[end] != At::Rack);
        self.wall_settled += usize::from(settled(at_wall));
        let at_rack = at.map(|at| at == At::Rack);
        self.rack_settled += usize::from(at_rack == [false; 2] || settled(at_rack));
        self.tested += usize::from(run.tested() != Tested::Failed && !run.wants_test());
    }
}
