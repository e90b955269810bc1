//! Who worked in which room, by what was done there.

use super::deeds::person;
use super::run::{room_of, shown_outlet};
use crate::domain::ids::{ActId, RoomId, ThingId};
use crate::domain::order::Order;
use crate::domain::place::Placement;
use crate::journal::{
    CableFact, EndFact, Fact, Journal, OutletFact, PictureFact, PullFact, Registry, RoomFact,
};

/// The rooms that some acts are about, each with everybody who did something there.
#[must_use]
pub fn rooms_of(journal: &Journal, acts: &[ActId]) -> Vec<(RoomId, String)> {
    let registry = journal.registry();
    let mut found: Vec<(RoomId, String)> = Vec::new();
    for act in acts.iter().filter_map(|id| journal.act(*id)) {
        let things = act.facts.iter().filter_map(Fact::subject);
        for room in things.filter_map(|thing| room_with(registry, thing)) {
            let by = person(&act.by);
            was_in(&mut found, room, by);
        }
    }
    found.put_in_order();
    found
}

/// What stands between the names of several who were at work in a room.
pub const BETWEEN: &str = "; ";

/// Adds somebody to those who were at work in a room, once.
pub fn was_in(rooms: &mut Vec<(RoomId, String)>, room: RoomId, by: &str) {
    match rooms.iter_mut().find(|(known, _)| *known == room) {
        None => rooms.push((room, by.to_owned())),
        Some((_, all)) if all.split(BETWEEN).any(|known| known == by) => {}
        Some((_, all)) => {
            all.push_str(BETWEEN);
            all.push_str(by);
        }
    }
}

/// What is counted of the work that comes in: of one, of several.
const KINDS: [[&str; 2]; 6] = [
    ["room", "rooms"],
    ["outlet", "outlets"],
    ["cable", "cables"],
    ["end landed", "ends landed"],
    ["test", "tests"],
    ["picture", "pictures"],
];

/// What some acts are about, each kind with how many there are of it.
#[must_use]
pub fn kinds(journal: &Journal, acts: &[ActId]) -> Vec<String> {
    let mut counts = [0; KINDS.len()];
    let acts = acts.iter().filter_map(|id| journal.act(*id));
    for fact in acts.flat_map(|act| &act.facts) {
        let kind = match fact {
            Fact::Room(_, RoomFact::Added) => 0,
            Fact::Outlet(_, OutletFact::Added) => 1,
            Fact::Cable(_, CableFact::Added) => 2,
            Fact::End(_, EndFact::Placed(Placement::Landed { .. })) => 3,
            Fact::Pull(_, PullFact::Tested(_)) => 4,
            Fact::Picture(_, PictureFact::Added(_)) => 5,
            _ => continue,
        };
        counts[kind] += 1;
    }
    let both = counts.into_iter().zip(KINDS);
    let there = both.filter(|(count, _)| *count > 0);
    there
        .map(|(count, [one, many])| format!("{count} {}", if count == 1 { one } else { many }))
        .collect()
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
