//! Outlets, rooms and loose ends.

use super::{Gate, List, What};
use crate::domain::ids::LooseEndId;
use crate::domain::order::Order;
use crate::journal::{Outlet, Registry};
use crate::walk::{is_wanted_cable, is_wanted_outlet};

/// Goes through outlets, rooms and loose ends.
pub(super) fn find(list: &mut List<'_>) {
    outlets(list);
    rooms(list);
    loose_ends(list);
}

fn outlets(list: &mut List<'_>) {
    let registry = list.registry;
    let index = &registry.index;
    for (id, outlet) in registry.outlets.iter() {
        if !is_wanted_outlet(outlet) {
            continue;
        }
        let mut cables = index.fed.get(&id).iter().chain(index.out_to.get(&id));
        let has_cables = cables.any(|cable| {
            let cable = registry.cables.get(*cable);
            cable.is_some_and(is_wanted_cable)
        });
        if !has_cables {
            let what = What::OutletWithoutCables { outlet: id };
            list.add(Gate::BeforePull, Some(id), what);
        }
        if is_in_no_room(registry, outlet) {
            let what = What::OutletWithoutRoom { outlet: id };
            list.add(Gate::BeforePull, Some(id), what);
        }
    }
}

/// Whether an outlet is wanted and in no room, or in one that was taken back.
pub(super) fn is_in_no_room(registry: &Registry, outlet: &Outlet) -> bool {
    let numbering = outlet.number.get();
    let room = numbering.and_then(|numbering| registry.rooms.get(numbering.room));
    is_wanted_outlet(outlet) && room.is_none_or(|room| room.added.is_empty())
}

fn rooms(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, room) in registry.rooms.iter() {
        if room.added.is_empty() || room.code.get().is_some() {
            continue;
        }
        // A room without outlets needs no code.
        let mut outlets = registry.index.outlets_in.get(&id).iter();
        let in_use = outlets.any(|outlet| {
            let outlet = registry.outlets.get(*outlet);
            outlet.is_some_and(is_wanted_outlet)
        });
        if in_use {
            list.add(Gate::BeforePull, None, What::RoomWithoutCode { room: id });
        }
    }
}

fn loose_ends(list: &mut List<'_>) {
    let registry = list.registry;
    let mut numbers: Vec<(u16, LooseEndId)> = Vec::new();
    for (id, loose) in registry.loose_ends.iter() {
        let Some(number) = loose.number.get() else {
            continue;
        };
        let end = loose.joined.get().copied().flatten();
        let cable = end.and_then(|end| registry.cables.get(end.cable));
        // Joined to a cable whose adding was taken back, it is as unknown as before.
        if cable.is_none_or(|cable| cable.added.is_empty()) {
            list.add(Gate::BeforeBoard, None, What::LooseEndOpen { loose: id });
            numbers.push((*number, id));
        }
    }
    numbers.put_in_order();
    for same in numbers.chunk_by(|one, other| one.0 == other.0) {
        if same.len() > 1 {
            let loose = same.iter().map(|(_, id)| *id).collect();
            list.add(Gate::Now, None, What::LooseNumberTwice { loose });
        }
    }
}
