//! Places and codes that several things claim.
//!
//! A claim is never stored: it follows from where ends are and what things are called, so it is
//! gone as soon as one side gives way.

use super::{Gate, List, What, outlet_of_place};
use crate::domain::ids::{CableId, ConduitId, OutletId, RackId};
use crate::domain::medium::Sharing;
use crate::domain::mount::Mountable;
use crate::domain::order::Order;
use crate::domain::place::{End, Face, Place, Position};
use crate::domain::sorted::SortedSet;
use crate::journal::{Hung, Registry};
use crate::query::run::shown_outlet;
use crate::walk::{is_wanted_cable, is_wanted_outlet};

/// Goes through everything that stands under one place or code.
pub(super) fn find(list: &mut List<'_>) {
    places(list);
    cords(list);
    codes(list);
    loose_ends(list);
    conduits(list);
    units(list);
}

/// Whether a place takes one end or more. Nothing is known of a panel that is not there; that is a
/// finding of its own.
fn sharing(registry: &Registry, place: &Place) -> Sharing {
    match place {
        Place::Position { position, .. } => {
            let panel = registry.panels.get(position.panel);
            let make = panel.and_then(|panel| panel.make.get());
            make.map_or(Sharing::Shared, |make| make.connector.sharing())
        }
        Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => Sharing::Single,
    }
}

fn is_wanted(registry: &Registry, cable: CableId) -> bool {
    registry.cables.get(cable).is_some_and(is_wanted_cable)
}

fn places(list: &mut List<'_>) {
    let registry = list.registry;
    // Copper of a cancelled or withdrawn run still fills the port that it is landed on.
    for (place, ends) in registry.index.landed.crowded() {
        if sharing(registry, place) == Sharing::Single {
            let what = What::DoubleClaim {
                place: place.clone(),
                ends: ends.to_vec(),
            };
            list.add(Gate::Now, outlet_of_place(place), what);
        }
    }
    for (place, ends) in registry.index.planned.crowded() {
        let ends: Vec<End> = ends
            .iter()
            .copied()
            .filter(|end| is_wanted(registry, end.cable))
            .collect();
        if ends.len() > 1 && sharing(registry, place) == Sharing::Single {
            let what = What::PlannedTwice {
                place: place.clone(),
                ends,
            };
            list.add(Gate::BeforePull, outlet_of_place(place), what);
        }
    }
}

/// What several cords, or a cord and a cable, are said to be plugged into.
fn cords(list: &mut List<'_>) {
    let registry = list.registry;
    let mut places: Vec<Place> = registry.index.patched.keys().cloned().collect();
    for (panel, row) in registry.panels.iter() {
        let numbers = row.patched.keys().copied();
        places.extend(numbers.map(|number| Place::front(Position { panel, number })));
    }
    places.put_in_order();
    places.dedup();
    let mut crowded = Vec::new();
    for place in &places {
        let from = plugged(registry, place);
        let ends = registry.index.landed.get(place);
        if !from.is_empty() && from.len() + ends.len() > 1 {
            crowded.push(What::PatchedTwice {
                place: place.clone(),
                from,
                ends: ends.to_vec(),
            });
        }
    }
    for what in crowded {
        list.add(Gate::Now, None, what);
    }
}

/// The positions whose fronts the cords at a place come from. A cord between two fronts may have been
/// noted from both, and is one.
fn plugged(registry: &Registry, place: &Place) -> Vec<Position> {
    let mut from = registry.index.patched.get(place).to_vec();
    if let Place::Position {
        position,
        face: Face::Front,
    } = place
    {
        let panel = registry.panels.get(position.panel);
        let is_there = panel.is_some_and(|panel| panel.make.get().is_some());
        let back = |to: &Place| from.iter().any(|other| Place::front(*other) == *to);
        let mut own = registry.cord_goes_to(*position).into_iter();
        if is_there && own.any(|to| !back(to)) {
            from.insert(0, *position);
        }
    }
    from
}

fn codes(list: &mut List<'_>) {
    let registry = list.registry;
    let index = &registry.index;
    for (_, cables) in index.cables_by_code.crowded() {
        let cables = claimants(cables, |id| cable_claim(registry, id));
        if cables.len() > 1 && !of_outlets_of_one_code(registry, &cables) {
            list.add(Gate::Now, None, What::CodeTwice { cables });
        }
    }
    for (_, outlets) in index.outlets_by_code.crowded() {
        let outlets = claimants(outlets, |id| outlet_claim(registry, id));
        if outlets.len() > 1 {
            list.add(Gate::Now, None, What::OutletCodeTwice { outlets });
        }
    }
    for (_, rooms) in index.rooms_by_code.crowded() {
        let rooms = rooms.to_vec();
        list.add(Gate::Now, None, What::RoomCodeTwice { rooms });
    }
    for (_, panels) in index.panels_by_letters.crowded() {
        let panels = panels.to_vec();
        list.add(Gate::Now, None, What::PanelLettersTwice { panels });
    }
    for (_, racks) in index.racks_by_space.crowded() {
        let racks = racks.to_vec();
        list.add(Gate::Now, None, What::SpaceTwice { racks });
    }
}

/// Whether cables share their code because their outlets share theirs, which is a finding of its
/// own and mends both.
fn of_outlets_of_one_code(registry: &Registry, cables: &[CableId]) -> bool {
    let row = |id: &CableId| registry.cables.get(*id);
    let outlets = cables.iter().map(|id| row(id).and_then(shown_outlet));
    let Some(outlets) = outlets.collect::<Option<SortedSet<OutletId>>>() else {
        return false;
    };
    let mut groups = registry.index.outlets_by_code.crowded();
    outlets.len() == cables.len()
        && groups.any(|(_, group)| {
            let group = claimants(group, |id| outlet_claim(registry, id));
            outlets.iter().all(|id| group.contains(id))
        })
}

/// How far a thing that is called by a code claims it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Claim {
    /// It is in the job.
    Wanted,
    /// It is out of the job, and its code may be read on a tag.
    Tagged,
    /// It is out of the job, and no tag says its code.
    None,
}

/// The things that claim one code against each other; none where all are out of the job.
fn claimants<I: Copy>(things: &[I], claim: impl Fn(I) -> Claim) -> Vec<I> {
    if !things.iter().any(|id| claim(*id) == Claim::Wanted) {
        return Vec::new();
    }
    let things = things.iter().copied();
    things.filter(|id| claim(*id) != Claim::None).collect()
}

fn cable_claim(registry: &Registry, id: CableId) -> Claim {
    match registry.cables.get(id) {
        Some(row) if is_wanted_cable(row) => Claim::Wanted,
        Some(row) if Registry::first_mark(row).is_some() => Claim::Tagged,
        _ => Claim::None,
    }
}

fn outlet_claim(registry: &Registry, id: OutletId) -> Claim {
    let Some(row) = registry.outlets.get(id) else {
        return Claim::None;
    };
    let row_of = |cable: &CableId| registry.cables.get(*cable);
    let mut fed = registry.index.fed.get(&id).iter().filter_map(row_of);
    if is_wanted_outlet(row) {
        Claim::Wanted
    } else if !row.tags.is_empty() || fed.any(|row| Registry::first_mark(row).is_some()) {
        Claim::Tagged
    } else {
        Claim::None
    }
}

fn loose_ends(list: &mut List<'_>) {
    let registry = list.registry;
    for (end, loose) in registry.index.loose_by_end.crowded() {
        let cable = registry.cables.get(end.cable);
        let what = What::JoinedTwice {
            end: *end,
            loose: loose.to_vec(),
        };
        list.add(Gate::Now, cable.and_then(shown_outlet), what);
    }
}

/// Two phones may have given one number both.
fn conduits(list: &mut List<'_>) {
    let registry = list.registry;
    let numbers = registry.conduit_numbers();
    for same in numbers.chunk_by(|one, other| one.0 == other.0) {
        let is_wanted = |(_, id): &(u16, ConduitId)| !registry.is_conduit_cancelled(*id);
        if same.len() > 1 && same.iter().any(is_wanted) {
            let conduits = same.iter().map(|(_, id)| *id).collect();
            list.add(Gate::Now, None, What::ConduitNumberTwice { conduits });
        }
    }
}

/// Two phones may have hung two things on one place, or one of them said anew how high the rack is.
fn units(list: &mut List<'_>) {
    let registry = list.registry;
    let hung = registry.hung();
    for of_rack in hung.chunk_by(|one, other| one.rack == other.rack) {
        let rack = of_rack[0].rack;
        if !registry.counts_units(rack) {
            continue;
        }
        let top = registry.rack_units(rack);
        for face in [Face::Front, Face::Rear] {
            let on_face = of_rack.iter().filter(|hung| hung.face == face);
            let placed: Vec<(&Hung, u8, u8)> = on_face
                .filter_map(|hung| hung.reach().map(|(low, high)| (hung, low, high)))
                .collect();
            for (hung, low, high) in &placed {
                if *low == 0 || top.is_some_and(|top| *high > top.get()) {
                    let thing = hung.what;
                    list.add(Gate::Now, None, What::OutsideRack { rack, thing });
                }
            }
            // From the lowest up, what begins below the highest unit so far meets what is there.
            let mut reached = 0;
            let mut together: Vec<Mountable> = Vec::new();
            for (hung, low, high) in placed {
                if low > reached {
                    share(list, rack, face, std::mem::take(&mut together));
                }
                together.push(hung.what);
                reached = reached.max(high);
            }
            share(list, rack, face, together);
        }
    }
}

fn share(list: &mut List<'_>, rack: RackId, face: Face, mut things: Vec<Mountable>) {
    if things.len() > 1 {
        things.put_in_order();
        list.add(Gate::Now, None, What::UnitsShared { rack, face, things });
    }
}
