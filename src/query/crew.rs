//! Who worked in which room, by what was done there.

use super::deeds::person;
use super::run::{room_of, shown_outlet};
use crate::domain::ids::{ActId, RoomId, ThingId};
use crate::domain::order::Order;
use crate::journal::{Fact, Journal, Registry};

/// The rooms that some acts are about, each with everybody who did something there.
#[must_use]
pub fn rooms_of(journal: &Journal, acts: &[ActId]) -> Vec<(RoomId, String)> {
    let registry = journal.registry();
    let mut found: Vec<(RoomId, String)> = Vec::new();
    for act in acts.iter().filter_map(|id| journal.act(*id)) {
        let things = act.facts.iter().filter_map(Fact::subject);
        for room in things.filter_map(|thing| room_with(registry, thing)) {
            let by = person(&act.by);
            let seen = found.iter_mut().find(|(known, _)| *known == room);
            match seen {
                None => found.push((room, by.to_owned())),
                Some((_, all)) if all.split("; ").any(|known| known == by) => {}
                Some((_, all)) => {
                    all.push_str("; ");
                    all.push_str(by);
                }
            }
        }
    }
    found.put_in_order();
    found
}

/// The room that a thing is in: itself, or that of its outlet.
fn room_with(registry: &Registry, thing: ThingId) -> Option<RoomId> {
    if registry.rooms.get(thing.into()).is_some() {
        return Some(thing.into());
    }
    let cable = registry.cables.get(thing.into());
    let outlet = cable.and_then(shown_outlet).unwrap_or(thing.into());
    room_of(registry, outlet)
}
