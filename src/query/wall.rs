//! What somebody at the wall needs to see: rooms in walking order, the outlets of a room, and what
//! comes out of the wall at one of them.

use crate::domain::ids::{FloorId, OutletId, RoomId, UnitId};
use crate::domain::place::End;
use crate::domain::work::{Slack, Spot, Waiting, WallBox};
use crate::journal::Registry;
use crate::query::run::waits;
use crate::query::tally::{Tally, tally};
use crate::{names, walk};

/// What can be chosen where something is added or put right.
mod choices;
/// What comes out of the wall at an outlet.
mod ends;

pub use choices::{
    KindChoice, Target, TargetRoom, any_coded, any_landed, cancelled_at, cancelled_in,
    default_rack, kinds, mates, one_jacket, proposed_code, racks, target_rooms, targets,
};
pub use ends::{Away, Belongs, EndHere, MarkState, PullState, Settled, away, ends, near_end};

/// How far an outlet is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// The ends that come out of it.
    pub ends: usize,
    /// Those that bear their code here.
    pub marked: usize,
}

/// The rooms with how far they are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Walls {
    /// The rooms in walking order.
    pub rooms: Vec<RoomLine>,
    /// All of them together, each cable once.
    pub all: Tally,
}

/// A room in walking order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomLine {
    /// The room.
    pub room: RoomId,
    /// What it is called.
    pub name: String,
    /// Its code; empty while it has none.
    pub code: String,
    /// The building or unit and the floor that it is in, where they are known.
    pub part: String,
    /// Its outlets.
    pub outlets: usize,
    /// How far it is.
    pub tally: Tally,
}

/// An outlet in its room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutletLine {
    /// The outlet.
    pub outlet: OutletId,
    /// Its code.
    pub code: String,
    /// What it is called: its purpose, or the words of its type.
    pub name: String,
    /// Its box.
    pub wall_box: Option<WallBox>,
    /// What comes out of the wall there.
    pub ends: Vec<EndHere>,
    /// How far it is.
    pub progress: Progress,
    /// Whom it waits for, and with what question; none when it waits for nobody.
    pub waits: Option<Waiting>,
}

/// One room with its outlets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomView {
    /// What it is called.
    pub name: String,
    /// Its code; empty while it has none.
    pub code: String,
    /// Where it is: building or unit and floor.
    pub part: String,
    /// Its outlets by number.
    pub outlets: Vec<OutletLine>,
}

/// One outlet in full.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutletView {
    /// The room that it is in; none when it is nowhere.
    pub room: Option<RoomId>,
    /// What that room is called.
    pub room_name: String,
    /// Its code.
    pub code: String,
    /// The words of its type; empty when it has none.
    pub kind: String,
    /// What it is for; empty when nobody said.
    pub purpose: String,
    /// Its box.
    pub wall_box: Option<WallBox>,
    /// Where exactly it is.
    pub spot: Option<Spot>,
    /// The sheet of the plans that shows its floor; empty where nobody said.
    pub sheet: String,
    /// What comes out of the wall there, the cables that it feeds first, then what goes out to others.
    pub ends: Vec<EndHere>,
    /// Cables of its own that came out elsewhere.
    pub away: Vec<Away>,
    /// How far it is.
    pub progress: Progress,
    /// The cable coiled behind it.
    pub slack: Option<Slack>,
    /// Whom it waits for, and with what question; none when it waits for nobody.
    pub waits: Option<Waiting>,
    /// The change order that it came with; empty when it came with none.
    pub order: String,
    /// Remarks.
    pub notes: Vec<String>,
    /// Whether it is still wanted.
    pub standing: OutletStanding,
}

/// Whether an outlet is still wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutletStanding {
    /// It is.
    Wanted,
    /// It was taken out of the job.
    Cancelled,
}

/// An outlet where work is left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextOutlet {
    /// The outlet.
    pub outlet: OutletId,
    /// Its code.
    pub code: String,
    /// The room that it is in.
    pub room: String,
}

impl Progress {
    /// Counts ends.
    #[must_use]
    pub fn of(ends: &[EndHere]) -> Self {
        Self {
            ends: ends.len(),
            marked: ends.iter().filter(|end| end.is_marked()).count(),
        }
    }
}

/// The rooms in walking order, with how far they are.
#[must_use]
pub fn walls(registry: &Registry) -> Walls {
    let tallies = tally(registry);
    let rooms = walk::rooms(registry).into_iter().map(|room| {
        let row = tallies.rooms.iter().find(|row| row.room == Some(room));
        RoomLine {
            room,
            name: names::room(registry, room),
            code: room_code(registry, room),
            part: part(registry, room),
            outlets: walk::outlets(registry, room).len(),
            tally: row.map(|row| row.tally).unwrap_or_default(),
        }
    });
    Walls {
        rooms: rooms.collect(),
        all: tallies.walls,
    }
}

/// A room with its outlets; none when it is not in the job.
#[must_use]
pub fn room(registry: &Registry, id: RoomId) -> Option<RoomView> {
    let row = registry.rooms.get(id)?;
    if row.added.is_empty() {
        return None;
    }
    let outlets = walk::outlets(registry, id).into_iter();
    Some(RoomView {
        name: names::room(registry, id),
        code: room_code(registry, id),
        part: part(registry, id),
        outlets: outlets
            .map(|outlet| outlet_line(registry, outlet))
            .collect(),
    })
}

fn outlet_line(registry: &Registry, id: OutletId) -> OutletLine {
    let ends = ends(registry, id);
    let row = registry.outlets.get(id);
    OutletLine {
        outlet: id,
        code: names::outlet(registry, id),
        name: called(registry, id),
        wall_box: row.and_then(|row| row.wall_box.get().copied()),
        waits: row.and_then(waits).cloned(),
        progress: Progress::of(&ends),
        ends,
    }
}

/// An outlet in full; none when it is not in the job.
#[must_use]
pub fn outlet(registry: &Registry, id: OutletId) -> Option<OutletView> {
    let row = registry.outlets.get(id)?;
    if row.added.is_empty() {
        return None;
    }
    let ends = ends(registry, id);
    let room = row.number.get().map(|numbering| numbering.room);
    Some(OutletView {
        room,
        room_name: room
            .map(|room| names::room(registry, room))
            .unwrap_or_default(),
        code: names::outlet(registry, id),
        kind: row
            .kind
            .get()
            .map(|kind| names::outlet_kind(registry, *kind))
            .unwrap_or_default(),
        purpose: row.purpose.get().cloned().unwrap_or_default(),
        wall_box: row.wall_box.get().copied(),
        spot: row.spot.get().cloned(),
        sheet: room
            .and_then(|room| {
                let floor = *registry.rooms.get(room)?.floor.get()?;
                registry.floors.get(floor)?.sheet.get().cloned()
            })
            .unwrap_or_default(),
        progress: Progress::of(&ends),
        ends,
        away: away(registry, id),
        slack: row.slack.get().cloned(),
        waits: waits(row).cloned(),
        order: row.change_order.get().cloned().unwrap_or_default(),
        notes: row.notes.iter().map(|note| note.value.clone()).collect(),
        standing: if walk::is_wanted_outlet(row) {
            OutletStanding::Wanted
        } else {
            OutletStanding::Cancelled
        },
    })
}

/// The next outlet in walking order where an end is not marked. The search begins behind `after`
/// and goes on from the start of the job.
#[must_use]
pub fn next_outlet(registry: &Registry, after: Option<OutletId>) -> Option<NextOutlet> {
    let rooms = walk::rooms(registry).into_iter();
    let all: Vec<OutletId> = rooms
        .flat_map(|room| walk::outlets(registry, room))
        .collect();
    let from = after
        .and_then(|after| all.iter().position(|id| *id == after))
        .map_or(0, |at| at + 1);
    let (before, behind) = all.split_at(from);
    let open = |id: &&OutletId| {
        Some(**id) != after && ends(registry, **id).iter().any(|end| !end.is_marked())
    };
    let outlet = *behind.iter().chain(before).find(open)?;
    let room = registry.outlets.get(outlet)?.number.get()?.room;
    Some(NextOutlet {
        outlet,
        code: names::outlet(registry, outlet),
        room: names::room(registry, room),
    })
}

/// The floor and the unit of the room that was walked last: where a new room most likely is.
#[must_use]
pub fn last_part(registry: &Registry) -> (Option<FloorId>, Option<UnitId>) {
    let last = walk::rooms(registry).pop();
    let row = last.and_then(|room| registry.rooms.get(room));
    row.map_or((None, None), |row| {
        (row.floor.get().copied(), row.unit.get().copied())
    })
}

/// What an outlet is called beside its code: its purpose, or the words of its type.
fn called(registry: &Registry, id: OutletId) -> String {
    let Some(row) = registry.outlets.get(id) else {
        return String::new();
    };
    let purpose = row.purpose.get().filter(|words| !words.trim().is_empty());
    purpose.cloned().unwrap_or_else(|| {
        let kind = row.kind.get();
        kind.map(|kind| names::outlet_kind(registry, *kind))
            .unwrap_or_default()
    })
}

fn room_code(registry: &Registry, id: RoomId) -> String {
    let code = registry.rooms.get(id).and_then(|room| room.code.get());
    code.map(ToString::to_string).unwrap_or_default()
}

/// The building or unit and the floor of a room in words.
#[must_use]
pub fn part(registry: &Registry, id: RoomId) -> String {
    let Some(row) = registry.rooms.get(id) else {
        return String::new();
    };
    let unit = row.unit.get().and_then(|unit| registry.units.get(*unit));
    let floor = row
        .floor
        .get()
        .and_then(|floor| registry.floors.get(*floor));
    let words = [
        ("Unit", unit.and_then(|unit| unit.name.get())),
        ("Floor", floor.and_then(|floor| floor.name.get())),
    ];
    let words = words.into_iter();
    let words: Vec<String> = words
        .filter_map(|(kind, name)| Some(names::part(kind, name?)))
        .collect();
    words.join(", ")
}

/// The ends that are not marked yet, in the order of the plate.
#[must_use]
pub fn unmarked(ends: &[EndHere]) -> Vec<End> {
    let open = ends.iter().filter(|end| !end.is_marked());
    open.map(|end| end.end).collect()
}
