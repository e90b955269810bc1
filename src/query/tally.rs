//! How far the work is, room by room.

use crate::domain::order::Order;
use rustc_hash::FxHashMap;

use super::run::{Course, Marked, Pulled, Run, Standpoint, Tested, is_cable_wanted, shown_outlet};
use crate::domain::ids::RoomId;
use crate::domain::place::Side;
use crate::journal::Registry;

/// Counts of wanted runs. Each count can reach that of the cables, and does when nothing is left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// The runs.
    pub cables: usize,
    /// Those that lie from end to end.
    pub pulled: usize,
    /// Those that bear their code at both ends.
    pub marked: usize,
    /// Those whose near end is landed, or left spare or dead on purpose; of a split end, every leg.
    pub near_settled: usize,
    /// The same of the far end.
    pub far_settled: usize,
    /// Those whose last test was passed, or that nobody tests because an end is out of use.
    pub tested: usize,
}

/// The counts of one room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoomTally {
    /// The room whose outlets the runs feed; none for tie lines and runs of no room.
    pub room: Option<RoomId>,
    /// The counts.
    pub tally: Tally,
}

/// Counts the wanted runs by the room that they feed: rooms in walking order, those of no room
/// last. A run whose outlet is gone, or a local run that is open, is not counted: it is not known
/// whether it is to be pulled.
#[must_use]
pub fn tally(registry: &Registry) -> Vec<RoomTally> {
    let mut counts: FxHashMap<Option<RoomId>, Tally> = FxHashMap::default();
    for (id, cable) in registry.cables.iter() {
        let run = Run::new(registry, id, cable);
        if is_cable_wanted(cable) && run.course() == Course::Clear {
            let outlet = shown_outlet(cable).and_then(|outlet| registry.outlets.get(outlet));
            let numbering = outlet.and_then(|outlet| outlet.number.get());
            let room = numbering.map(|numbering| numbering.room);
            counts.entry(room).or_default().count(&run);
        }
    }
    let mut rooms: Vec<_> = counts
        .into_iter()
        .map(|(room, tally)| RoomTally { room, tally })
        .collect();
    rooms.order_by_key(|row| {
        let room = row.room.and_then(|room| registry.rooms.get(room));
        let order = room.and_then(|room| room.order.get().copied());
        let code = room.and_then(|room| room.code.get().copied());
        (
            row.room.is_none(),
            order.ok_or(()),
            code.ok_or(()),
            row.room,
        )
    });
    rooms
}

impl Tally {
    fn count(&mut self, run: &Run<'_>) {
        let settled = |side| run.standpoint(side) != Standpoint::Open;
        let marked = Side::BOTH
            .iter()
            .all(|side| run.marked(*side) == Marked::Yes);
        self.cables += 1;
        self.pulled += usize::from(run.pulled() == Pulled::Yes);
        self.marked += usize::from(marked);
        self.near_settled += usize::from(settled(Side::Near));
        self.far_settled += usize::from(settled(Side::Far));
        self.tested += usize::from(run.tested() != Tested::Failed && !run.wants_test());
    }
}
