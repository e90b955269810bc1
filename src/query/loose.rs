//! Loose ends: ends that exist while their cable is not known.

use crate::domain::ids::{LooseEndId, RoomId};
use crate::domain::order::Order;
use crate::domain::place::End;
use crate::journal::Registry;
use crate::{names, walk};

/// One loose end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LooseRow {
    /// Its id.
    pub id: LooseEndId,
    /// The number on its own tag.
    pub number: u16,
    /// Where it is, in words.
    pub place: String,
    /// What it is made of and what is written on it.
    pub about: String,
    /// The cable end that it turned out to be.
    pub joined: Option<End>,
    /// That end in words.
    pub joined_words: String,
}

/// The loose ends by number, those whose cable is not known first.
#[must_use]
pub fn loose_ends(registry: &Registry) -> Vec<LooseRow> {
    let rows = registry.loose_ends.iter().filter_map(|(id, row)| {
        let number = *row.number.get()?;
        let found = row.found.get();
        let room = found.and_then(|found| found.room);
        let room = room.map(|room| names::room(registry, room));
        let place = found.map(|found| found.place.trim().to_owned());
        let place: Vec<String> = [room, place].into_iter().flatten().collect();
        let place: Vec<String> = place.into_iter().filter(|text| !text.is_empty()).collect();
        let medium = found.and_then(|found| found.medium.as_ref());
        let medium = medium.map(ToString::to_string);
        let note = found.map(|found| found.note.trim().to_owned());
        let about: Vec<String> = [medium, note].into_iter().flatten().collect();
        let about: Vec<String> = about.into_iter().filter(|text| !text.is_empty()).collect();
        let joined = joined(registry, id);
        Some(LooseRow {
            id,
            number,
            place: place.join(", "),
            about: about.join(", "),
            joined,
            joined_words: joined.map_or_else(String::new, |end| names::end(registry, end)),
        })
    });
    let mut rows: Vec<LooseRow> = rows.collect();
    rows.order_by_key(|row| (row.joined.is_some(), row.number, row.id));
    rows
}

/// The cable end that a loose end turned out to be.
#[must_use]
pub(super) fn joined(registry: &Registry, id: LooseEndId) -> Option<End> {
    let end = registry.loose_ends.get(id)?.joined.get().copied()??;
    let cable = registry.cables.get(end.cable)?;
    (!cable.added.is_empty()).then_some(end)
}

/// The rooms that a loose end may be in, with their names, in the walking order.
#[must_use]
pub fn rooms(registry: &Registry) -> Vec<(RoomId, String)> {
    let rooms = walk::rooms(registry).into_iter();
    rooms.map(|id| (id, names::room(registry, id))).collect()
}
