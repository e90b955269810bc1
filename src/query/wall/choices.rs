//! What can be chosen where a room or an outlet is added, or something is put right.

use crate::domain::order::Order;
use crate::domain::sorted::SortedSet;

use crate::codes::propose::propose_room_code;
use crate::domain::ids::{CableId, JacketId, OutletId, RackId, RoomId, UnitId};
use crate::domain::label::{OutletNumber, RoomCode};
use crate::domain::outlet_type::{OutletKind, UsualType};
use crate::domain::place::{End, Leaves};
use crate::domain::work::Standing;
use crate::journal::Registry;
use crate::query::run::{Run, Standpoint, room_of};
use crate::{names, walk};

/// An outlet type to choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KindChoice {
    /// The type.
    pub kind: OutletKind,
    /// Its words.
    pub words: String,
    /// How many cables an outlet of it gets.
    pub cables: usize,
}

/// Another outlet or cable that a correction may name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target<T> {
    /// Which.
    pub id: T,
    /// Its code.
    pub code: String,
    /// What it is called beside the code.
    pub name: String,
}

/// A room that an outlet may move to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TargetRoom {
    /// The room.
    pub room: RoomId,
    /// What it is called.
    pub name: String,
    /// The number that the outlet would get there.
    pub number: OutletNumber,
    /// The code that it would get.
    pub code: String,
}

/// The outlet types: the job's own first, then the usual ones.
#[must_use]
pub fn kinds(registry: &Registry) -> Vec<KindChoice> {
    let own = registry.outlet_types.iter();
    let mut own: Vec<KindChoice> = own
        .filter(|(_, row)| !row.added.is_empty())
        .map(|(id, row)| KindChoice {
            kind: OutletKind::Own(id),
            words: names::outlet_kind(registry, OutletKind::Own(id)),
            cables: row.cables.get().map_or(0, Vec::len),
        })
        .collect();
    own.order_by_key(|one| one.words.clone());
    let usual = UsualType::all().iter().map(|usual| KindChoice {
        kind: OutletKind::Usual(usual.key),
        words: usual.words.to_owned(),
        cables: usual.cables().len(),
    });
    own.into_iter().chain(usual).collect()
}

/// The racks with what they are called.
#[must_use]
pub fn racks(registry: &Registry) -> Vec<Target<RackId>> {
    let racks = walk::racks(registry).into_iter();
    racks
        .map(|id| {
            let space = registry.racks.get(id).and_then(|row| row.space.get());
            Target {
                id,
                code: space.map(ToString::to_string).unwrap_or_default(),
                name: names::rack(registry, id),
            }
        })
        .collect()
}

/// The rack that a new outlet's cables most likely run to: the only one, or the one that somebody
/// chose last.
#[must_use]
pub fn default_rack(registry: &Registry) -> Option<RackId> {
    let racks = walk::racks(registry);
    if let [only] = racks.as_slice() {
        return Some(*only);
    }
    let chosen = registry.cables.iter().filter_map(|(_, cable)| {
        let said = cable.leaves.said()?;
        match said.value {
            Leaves::Rack(Some(rack)) if racks.contains(rack) => Some((said.stamp, *rack)),
            Leaves::Rack(_) | Leaves::Outlet(_) => None,
        }
    });
    chosen.max_by_key(|(stamp, _)| *stamp).map(|(_, rack)| rack)
}

/// The code that a new room is proposed; none for a room without a name.
#[must_use]
pub fn proposed_code(registry: &Registry, name: &str, unit: Option<UnitId>) -> Option<RoomCode> {
    if name.trim().is_empty() {
        return None;
    }
    let rooms = registry.rooms.iter();
    // The codes of withdrawn rooms too: they may stand on tags.
    let taken: SortedSet<RoomCode> = rooms
        .flat_map(|(_, room)| room.code.distinct())
        .copied()
        .collect();
    Some(propose_room_code(
        name,
        unit.and_then(|unit| unit_letter(registry, unit)),
        &taken,
    ))
}

/// The letter of a unit: the last word of its name where that is one letter, as in “Flat A”.
fn unit_letter(registry: &Registry, unit: UnitId) -> Option<char> {
    let name = registry.units.get(unit)?.name.get()?;
    let last = name.split_whitespace().next_back()?;
    let mut letters = last.chars();
    let letter = letters.next().filter(char::is_ascii_alphabetic)?;
    letters.next().is_none().then_some(letter)
}

/// The cables that one may be crossed with at its near end: those of its outlet, then those of the
/// other outlets of the room.
#[must_use]
pub fn mates(registry: &Registry, cable: CableId, outlet: OutletId) -> Vec<Target<CableId>> {
    let room = room_of(registry, outlet);
    let others = room.map(|room| walk::outlets(registry, room));
    let others = others.unwrap_or_default().into_iter();
    let outlets = std::iter::once(outlet).chain(others.filter(|other| *other != outlet));
    let cables = outlets.flat_map(|outlet| walk::fed(registry, outlet));
    cables
        .filter(|other| *other != cable)
        .map(|id| Target {
            id,
            code: names::cable(registry, id),
            name: called(registry, id),
        })
        .collect()
}

/// What it takes to put two cables into one jacket: those that are put in, and the jacket that one of
/// them has already.
#[must_use]
pub fn one_jacket(
    registry: &Registry,
    one: CableId,
    other: CableId,
) -> (Vec<CableId>, Option<JacketId>) {
    let jacket = |cable| {
        let row = registry.cables.get(cable);
        row.and_then(|row| row.jacket.get()).copied()
    };
    match (jacket(one), jacket(other)) {
        (Some(jacket), _) => (vec![other], Some(jacket)),
        (None, Some(jacket)) => (vec![one], Some(jacket)),
        (None, None) => (vec![one, other], None),
    }
}

/// Medium and purpose of a cable in words.
fn called(registry: &Registry, id: CableId) -> String {
    let Some(row) = registry.cables.get(id) else {
        return String::new();
    };
    let medium = row.medium.get().map(ToString::to_string);
    let words = [medium, row.purpose.get().cloned()];
    let words: Vec<String> = words.into_iter().flatten().collect();
    words.join(", ")
}

/// The outlets of a room that were cancelled, by number, each with the reason.
#[must_use]
pub fn cancelled_in(registry: &Registry, room: RoomId) -> Vec<Target<OutletId>> {
    let there = registry.index.outlets_in.get(&room).iter();
    let mut there: Vec<_> = there
        .filter_map(|id| {
            let row = registry
                .outlets
                .get(*id)
                .filter(|row| !row.added.is_empty())?;
            let number = row.number.get().filter(|number| number.room == room)?;
            Some((
                number.number,
                target(*id, names::outlet(registry, *id), row.standing.get())?,
            ))
        })
        .collect();
    there.order_by_key(|(number, target)| (*number, target.id));
    there.into_iter().map(|(_, target)| target).collect()
}

/// The cables of an outlet that were cancelled, by code, each with the reason.
#[must_use]
pub fn cancelled_at(registry: &Registry, outlet: OutletId) -> Vec<Target<CableId>> {
    let fed = registry.index.fed.get(&outlet).iter();
    let mut fed: Vec<_> = fed
        .filter_map(|id| {
            let row = registry
                .cables
                .get(*id)
                .filter(|row| !row.added.is_empty())?;
            target(*id, names::cable(registry, *id), row.standing.get())
        })
        .collect();
    fed.order_by_key(|target| (target.code.clone(), target.id));
    fed
}

fn target<T>(id: T, code: String, standing: Option<&Standing>) -> Option<Target<T>> {
    match standing {
        Some(Standing::Cancelled { reason }) => Some(Target {
            id,
            code,
            name: reason.clone(),
        }),
        Some(Standing::Wanted) | None => None,
    }
}

/// Whether some cable of an outlet bears a code, which it keeps unless its tags come off.
#[must_use]
pub fn any_coded(registry: &Registry, outlet: OutletId) -> bool {
    let mut fed = walk::fed(registry, outlet).into_iter();
    fed.any(|cable| {
        let row = registry.cables.get(cable);
        row.is_some_and(|row| Registry::first_mark(row).is_some())
    })
}

/// Whether one of two ends is landed, so that a record of theirs could be wrong.
#[must_use]
pub fn any_landed(registry: &Registry, ends: &[End]) -> bool {
    ends.iter().any(|end| {
        registry.cables.get(end.cable).is_some_and(|cable| {
            Run::new(registry, end.cable, cable).standpoint(end.side) == Standpoint::Landed
        })
    })
}

/// The other outlets of the job, those of the same room first.
#[must_use]
pub fn targets(registry: &Registry, from: OutletId) -> Vec<Target<OutletId>> {
    let room = room_of(registry, from);
    let mut rooms = walk::rooms(registry);
    rooms.order_by_key(|other| Some(*other) != room);
    let outlets = rooms
        .into_iter()
        .flat_map(|room| walk::outlets(registry, room));
    outlets
        .filter(|outlet| *outlet != from)
        .map(|id| Target {
            id,
            code: names::outlet(registry, id),
            name: super::called(registry, id),
        })
        .collect()
}

/// The rooms that an outlet may move to, with the number that is free there; its own room first.
#[must_use]
pub fn target_rooms(registry: &Registry, outlet: OutletId) -> Vec<TargetRoom> {
    let own = room_of(registry, outlet);
    let mut rooms = walk::rooms(registry);
    rooms.order_by_key(|other| Some(*other) != own);
    rooms
        .into_iter()
        .filter_map(|room| {
            let number = next_number(registry, room)?;
            Some(TargetRoom {
                room,
                name: names::room(registry, room),
                number,
                code: format!("{}{}", super::room_code(registry, room), number.get()),
            })
        })
        .collect()
}

/// The number after the highest that any outlet of the room has or had.
fn next_number(registry: &Registry, room: RoomId) -> Option<OutletNumber> {
    let numbers = registry.outlets.iter().flat_map(|(_, outlet)| {
        let numbers = outlet.number.distinct().into_iter();
        numbers
            .filter(|numbering| numbering.room == room)
            .map(|numbering| numbering.number.get())
            .collect::<Vec<_>>()
    });
    OutletNumber::new(numbers.max().unwrap_or(0).checked_add(1)?)
}
