//! The order in which people walk a job: floors from below, rooms as ordered, outlets by number,
//! cables by letter. Every list that is read aloud or worked down goes this way.

use crate::domain::order::Order;
use rustc_hash::FxHashSet;

use crate::domain::ids::{CableId, FloorId, OutletId, RackId, RoomId};
use crate::domain::place::RunName;
use crate::journal::{Cable, Outlet, Registry};

/// The rooms of the job, without the withdrawn ones. Floors without a number come after those
/// that have one, in the order in which their first rooms come, and rooms on no floor come last.
#[must_use]
pub fn rooms(registry: &Registry) -> Vec<RoomId> {
    let mut rooms: Vec<_> = registry
        .rooms
        .iter()
        .filter(|(_, room)| !room.added.is_empty())
        .collect();
    rooms.order_by_key(|(id, room)| {
        (
            room.order.get().copied().unwrap_or(u32::MAX),
            room.code.get().copied(),
            *id,
        )
    });
    let mut floors: Vec<FloorId> = Vec::new();
    for floor in rooms.iter().filter_map(|(_, room)| room.floor.get()) {
        if !floors.contains(floor) {
            floors.push(*floor);
        }
    }
    rooms.order_by_key(|(_, room)| {
        let floor = room.floor.get();
        let row = floor.and_then(|floor| registry.floors.get(*floor));
        let number = row.and_then(|row| row.number.get()).copied();
        let place = row.and_then(|_| floors.iter().position(|one| Some(one) == floor));
        (row.is_none(), number.is_none(), number, place)
    });
    rooms.into_iter().map(|(id, _)| id).collect()
}

/// Whether an outlet is in the job and wanted.
#[must_use]
pub fn is_wanted_outlet(outlet: &Outlet) -> bool {
    !outlet.added.is_empty() && !outlet.standing.is_cancelled()
}

/// Whether a cable is in the job and wanted.
#[must_use]
pub fn is_wanted_cable(cable: &Cable) -> bool {
    !cable.added.is_empty() && !cable.standing.is_cancelled()
}

/// The wanted outlets of a room, by number.
#[must_use]
pub fn outlets(registry: &Registry, room: RoomId) -> Vec<OutletId> {
    let outlets = registry.index.outlets_in.get(&room).iter().copied();
    let mut outlets: Vec<_> = outlets
        .filter_map(|id| {
            let outlet = registry.outlets.get(id)?;
            // An outlet about whose number people disagree is listed where it is shown to be.
            let numbering = outlet
                .number
                .get()
                .filter(|numbering| numbering.room == room)?;
            is_wanted_outlet(outlet).then_some((numbering.number, id))
        })
        .collect();
    outlets.put_in_order();
    outlets.into_iter().map(|(_, id)| id).collect()
}

/// The wanted cables that feed an outlet, by letter.
#[must_use]
pub fn fed(registry: &Registry, outlet: OutletId) -> Vec<CableId> {
    let cables = registry.index.fed.get(&outlet).iter().copied();
    let mut cables: Vec<_> = cables
        .filter_map(|id| {
            let cable = registry
                .cables
                .get(id)
                .filter(|cable| is_wanted_cable(cable))?;
            match cable.name.get()? {
                RunName::Feeds { outlet: of, letter } if *of == outlet => Some((*letter, id)),
                RunName::Feeds { .. } | RunName::Ties { .. } => None,
            }
        })
        .collect();
    cables.put_in_order();
    cables.into_iter().map(|(_, id)| id).collect()
}

/// The wanted local runs that leave an outlet.
#[must_use]
pub fn out_to(registry: &Registry, outlet: OutletId) -> Vec<CableId> {
    let cables = registry.index.out_to.get(&outlet).iter().copied();
    let mut cables: Vec<_> = cables
        .filter(|id| registry.cables.get(*id).is_some_and(is_wanted_cable))
        .collect();
    cables.order_by_key(|id| {
        let name = registry.cables.get(*id).and_then(|row| row.name.get());
        let feeds = match name {
            Some(RunName::Feeds { outlet, letter }) => {
                Some((registry.outlet_code(*outlet), *letter))
            }
            Some(RunName::Ties { .. }) | None => None,
        };
        (feeds, *id)
    });
    cables
}

/// All wanted cables: room by room, outlet by outlet, then the tie lines, then those whose outlet
/// or room is no longer in the job, so that none is hidden.
#[must_use]
pub fn cables(registry: &Registry) -> Vec<CableId> {
    let rooms = rooms(registry);
    let outlets = rooms.into_iter().flat_map(|room| outlets(registry, room));
    let mut cables: Vec<CableId> = outlets.flat_map(|outlet| fed(registry, outlet)).collect();
    cables.extend(ties(registry));
    let known: FxHashSet<CableId> = cables.iter().copied().collect();
    let strays = registry
        .cables
        .iter()
        .filter(|(id, cable)| is_wanted_cable(cable) && !known.contains(id));
    let mut strays: Vec<CableId> = strays.map(|(id, _)| id).collect();
    strays.put_in_order();
    cables.extend(strays);
    cables
}

/// The wanted tie lines, by the racks that they join and their number.
#[must_use]
pub fn ties(registry: &Registry) -> Vec<CableId> {
    let ties = registry.cables.iter().filter(|(_, cable)| {
        is_wanted_cable(cable) && matches!(cable.name.get(), Some(RunName::Ties { .. }))
    });
    let mut ties: Vec<CableId> = ties.map(|(id, _)| id).collect();
    ties.order_by_key(|id| {
        let name = registry.cables.get(*id).and_then(|row| row.name.get());
        let label = name.and_then(|name| registry.label_of(*name));
        (label, *id)
    });
    ties
}

/// The racks, by space.
#[must_use]
pub fn racks(registry: &Registry) -> Vec<RackId> {
    let mut racks: Vec<_> = registry
        .racks
        .iter()
        .filter(|(_, rack)| !rack.added.is_empty())
        .collect();
    racks.order_by_key(|(id, rack)| (rack.space.get().copied(), *id));
    racks.into_iter().map(|(id, _)| id).collect()
}

/// The other cables in the jacket of one, without the withdrawn ones.
pub fn jacket_mates(registry: &Registry, cable: CableId) -> impl Iterator<Item = CableId> + '_ {
    let jacket = registry.cables.get(cable).and_then(|row| row.jacket.get());
    let mates = jacket.map(|jacket| registry.index.in_jacket.get(jacket));
    let mates = mates.unwrap_or_default().iter().copied();
    mates.filter(move |mate| {
        let row = registry.cables.get(*mate);
        *mate != cable && row.is_some_and(|row| !row.added.is_empty())
    })
}
