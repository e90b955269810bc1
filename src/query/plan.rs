//! What a job is planned from: its rooms, outlet types, racks, and how far it is.

use crate::domain::ids::{CableId, DeviceId, FloorId, JointId, PanelId, RackId, RoomId, UnitId};
use crate::domain::label::{Letter, PanelLetters, RoomCode, SpaceCode};
use crate::domain::order::Order;
use crate::domain::outlet_type::{OutletKind, PlannedCable, UsualType};
use crate::domain::work::JointKind;
use crate::journal::{PanelMake, Registry};
use crate::query::tally::{Tally, tally};
use crate::query::{rack, wall};
use crate::{names, walk};

/// The kinds of joint, in the order in which a list offers them.
pub const JOINT_KINDS: [JointKind; 4] = [
    JointKind::Splice,
    JointKind::Barrel,
    JointKind::Splitter,
    JointKind::SurgeArrester,
];

/// What comes first in a job that has no outlet yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FirstStep {
    /// There is no room yet.
    Rooms,
    /// There are rooms, and no outlet in any.
    Outlets,
}

/// The first step of a job; none once there is an outlet or a cable.
#[must_use]
pub fn first_step(registry: &Registry) -> Option<FirstStep> {
    if !walk::cables(registry).is_empty() {
        return None;
    }
    let rooms = walk::rooms(registry);
    if rooms.is_empty() {
        return Some(FirstStep::Rooms);
    }
    let mut outlets = rooms
        .into_iter()
        .flat_map(|room| walk::outlets(registry, room));
    outlets.next().is_none().then_some(FirstStep::Outlets)
}

/// How far a room is, a change order, or the whole job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomProgress {
    /// The room, of which the ends that come out there are meant; else both ends of each run are.
    pub room: Option<RoomId>,
    /// Its code; empty for what belongs to no room.
    pub code: String,
    /// What it is called.
    pub name: String,
    /// The counts of its runs.
    pub tally: Tally,
}

/// How far the whole job is, then every room in walking order, then every change order if there is
/// any.
#[must_use]
pub fn progress(registry: &Registry) -> Vec<RoomProgress> {
    let tallies = tally(registry);
    if tallies.rooms.is_empty() {
        return Vec::new();
    }
    let whole = RoomProgress {
        room: None,
        code: String::new(),
        name: "The whole job".to_owned(),
        tally: tallies.whole,
    };
    let rows = tallies.rooms.into_iter().map(|row| {
        let code = row
            .room
            .and_then(|room| registry.rooms.get(room)?.code.get());
        RoomProgress {
            room: row.room,
            code: code.map(ToString::to_string).unwrap_or_default(),
            name: match row.room {
                Some(room) => names::room(registry, room),
                None => "Tie lines and cables of no room".to_owned(),
            },
            tally: row.tally,
        }
    });
    // What came with none is last, so that there is none at all where it is first.
    let some = tallies.orders.first();
    let orders = if some.is_some_and(|row| !row.order.is_empty()) {
        tallies.orders
    } else {
        Vec::new()
    };
    let orders = orders.into_iter().map(|row| RoomProgress {
        room: None,
        code: String::new(),
        name: match row.order.as_str() {
            "" => "With no change order".to_owned(),
            order => format!("Change order {order}"),
        },
        tally: row.tally,
    });
    [whole].into_iter().chain(rows).chain(orders).collect()
}

/// Something with a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named<I> {
    /// Which.
    pub id: I,
    /// What it is called.
    pub name: String,
}

/// A floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorLine {
    /// Which.
    pub id: FloorId,
    /// What it is called.
    pub name: String,
    /// Its number, where it has one.
    pub number: Option<u8>,
    /// The sheet of the plans that shows it; empty where nobody said.
    pub sheet: String,
}

/// The buildings and units by name.
#[must_use]
pub fn units(registry: &Registry) -> Vec<Named<UnitId>> {
    let units = registry
        .units
        .iter()
        .filter(|(_, row)| !row.added.is_empty());
    by_name(units.map(|(id, row)| (id, row.name.get().cloned())))
}

/// The floors: those with a number first, by it, then by name.
#[must_use]
pub fn floors(registry: &Registry) -> Vec<FloorLine> {
    let floors = registry.floors.iter();
    let mut floors: Vec<FloorLine> = floors
        .filter(|(_, row)| !row.added.is_empty())
        .map(|(id, row)| FloorLine {
            id,
            name: row.name.get().cloned().unwrap_or_default(),
            number: row.number.get().copied(),
            sheet: row.sheet.get().cloned().unwrap_or_default(),
        })
        .collect();
    floors.order_by(|one, other| {
        let key = |floor: &FloorLine| (floor.number.is_none(), floor.number, floor.name.clone());
        key(one).cmp(&key(other)).then(one.id.cmp(&other.id))
    });
    floors
}

fn by_name<I: Ord + Copy>(things: impl Iterator<Item = (I, Option<String>)>) -> Vec<Named<I>> {
    let mut named: Vec<Named<I>> = things
        .map(|(id, name)| Named {
            id,
            name: name.unwrap_or_default(),
        })
        .collect();
    named.order_by(|one, other| one.name.cmp(&other.name).then(one.id.cmp(&other.id)));
    named
}

/// A room with its neighbours in the walking order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomPlan {
    /// The room.
    pub room: RoomId,
    /// What it is called.
    pub name: String,
    /// Its code; empty while it has none.
    pub code: String,
    /// Its floor.
    pub floor: Option<FloorId>,
    /// Its building or unit.
    pub unit: Option<UnitId>,
    /// How many outlets it has.
    pub outlets: usize,
    /// The room before it on its floor.
    pub earlier: Option<RoomId>,
    /// The room after it on its floor.
    pub later: Option<RoomId>,
}

/// The rooms in walking order.
#[must_use]
pub fn rooms(registry: &Registry) -> Vec<RoomPlan> {
    let floor = |room: RoomId| registry.rooms.get(room)?.floor.get().copied();
    let rooms = walk::rooms(registry);
    let on_floor = |at: Option<usize>, of: RoomId| {
        let other = rooms.get(at?).copied()?;
        // A floor is walked as a whole, so places are changed on one floor only.
        (floor(other) == floor(of)).then_some(other)
    };
    let plans = rooms.iter().enumerate().map(|(at, id)| {
        let row = registry.rooms.get(*id);
        RoomPlan {
            room: *id,
            name: names::room(registry, *id),
            code: row
                .and_then(|row| row.code.get())
                .map(ToString::to_string)
                .unwrap_or_default(),
            floor: floor(*id),
            unit: row.and_then(|row| row.unit.get().copied()),
            outlets: walk::outlets(registry, *id).len(),
            earlier: on_floor(at.checked_sub(1), *id),
            later: on_floor(at.checked_add(1), *id),
        }
    });
    plans.collect()
}

/// An outlet type with its cables.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypePlan {
    /// The type.
    pub kind: OutletKind,
    /// Its words.
    pub words: String,
    /// Its cables.
    pub cables: Vec<PlannedCable>,
}

/// The outlet types: the job's own first, then the usual ones.
#[must_use]
pub fn types(registry: &Registry) -> Vec<TypePlan> {
    let kinds = wall::kinds(registry).into_iter();
    kinds
        .map(|choice| {
            let cables = match choice.kind {
                OutletKind::Usual(key) => UsualType::get(key).map(UsualType::cables),
                OutletKind::Own(id) => {
                    let own = registry.outlet_types.get(id);
                    own.and_then(|own| own.cables.get()).cloned()
                }
            };
            TypePlan {
                kind: choice.kind,
                words: choice.words,
                cables: cables.unwrap_or_default(),
            }
        })
        .collect()
}

/// The next free space: on the floor of a room where that is known, else on the first.
#[must_use]
pub fn next_space(registry: &Registry, room: Option<RoomId>) -> Option<SpaceCode> {
    let floor = room
        .and_then(|room| registry.rooms.get(room)?.floor.get())
        .and_then(|floor| registry.floors.get(*floor)?.number.get())
        .copied();
    let floor = floor.unwrap_or(1);
    let taken: Vec<SpaceCode> = registry
        .racks
        .iter()
        .flat_map(|(_, rack)| rack.space.distinct())
        .copied()
        .collect();
    let spaces = Letter::all().filter_map(|letter| {
        let letter = letter.get().to_string();
        SpaceCode::new(floor, &letter).ok()
    });
    let mut free = spaces.filter(|space| !taken.contains(space));
    free.next()
}

/// The next free letters for a panel. Letters that a pen makes ambiguous are left out, and so are
/// two letters that are the code of a room.
#[must_use]
pub fn next_letters(registry: &Registry) -> Option<PanelLetters> {
    let taken: Vec<PanelLetters> = registry
        .panels
        .iter()
        .flat_map(|(_, panel)| panel.letters.distinct())
        .copied()
        .collect();
    let single = Letter::all().map(|letter| letter.get().to_string());
    let pairs = Letter::all().flat_map(|first| {
        Letter::all().map(move |second| format!("{}{}", first.get(), second.get()))
    });
    let is_room = |text: &String| {
        RoomCode::new(text).is_ok_and(|code| !registry.index.rooms_by_code.get(&code).is_empty())
    };
    let texts = single.chain(pairs).filter(|text| !is_room(text));
    let mut free = texts
        .filter_map(|text| PanelLetters::new(&text).ok())
        .filter(|letters| !taken.contains(letters));
    free.next()
}

/// A rack with its panels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RackPlan {
    /// The rack; none for panels that stand in none.
    pub rack: Option<RackId>,
    /// Its space; empty while it has none.
    pub space: String,
    /// What it is called; empty for none.
    pub name: String,
    /// The room that it stands in; empty where nobody said.
    pub room: String,
    /// Its panels from the top.
    pub panels: Vec<PanelPlan>,
}

/// A panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelPlan {
    /// The panel.
    pub panel: PanelId,
    /// Its letters; empty while it has none.
    pub letters: String,
    /// What it is.
    pub make: Option<PanelMake>,
    /// Its rack unit, where that is known.
    pub unit: Option<u8>,
    /// What it is for; empty where nobody said.
    pub purpose: String,
}

/// The racks by space, then the panels that stand in none.
#[must_use]
pub fn racks(registry: &Registry) -> Vec<RackPlan> {
    let racks = rack::racks(registry).into_iter();
    racks
        .map(|of| {
            let row = of.rack.and_then(|rack| registry.racks.get(rack));
            let space = row.and_then(|row| row.space.get());
            let room = row.and_then(|row| row.room.get());
            let panels = of.panels.iter();
            RackPlan {
                rack: of.rack,
                space: space.map(ToString::to_string).unwrap_or_default(),
                name: of
                    .rack
                    .map(|rack| names::rack(registry, rack))
                    .unwrap_or_default(),
                room: room
                    .map(|room| names::room(registry, *room))
                    .unwrap_or_default(),
                panels: panels.map(|panel| panel_plan(registry, *panel)).collect(),
            }
        })
        .collect()
}

fn panel_plan(registry: &Registry, id: PanelId) -> PanelPlan {
    let row = registry.panels.get(id);
    let letters = row.and_then(|row| row.letters.get());
    PanelPlan {
        panel: id,
        letters: letters.map(ToString::to_string).unwrap_or_default(),
        make: rack::make(registry, id),
        unit: row.and_then(|row| row.unit.get().copied().flatten()),
        purpose: row
            .and_then(|row| row.purpose.get())
            .cloned()
            .unwrap_or_default(),
    }
}

/// The devices by name.
#[must_use]
pub fn devices(registry: &Registry) -> Vec<Named<DeviceId>> {
    let devices = registry.devices.iter();
    let devices = devices.filter(|(_, row)| !row.added.is_empty());
    by_name(devices.map(|(id, row)| (id, row.name.get().cloned())))
}

/// The joints by name.
#[must_use]
pub fn joints(registry: &Registry) -> Vec<Named<JointId>> {
    let joints = registry.joints.iter();
    let joints = joints.filter(|(_, row)| row.kind.get().is_some());
    by_name(joints.map(|(id, row)| (id, row.name.get().cloned())))
}

/// The tie lines by their code, with what they are made of and for.
#[must_use]
pub fn ties(registry: &Registry) -> Vec<wall::Target<CableId>> {
    let ties = walk::ties(registry).into_iter();
    ties.map(|id| {
        let row = registry.cables.get(id);
        let medium = row
            .and_then(|row| row.medium.get())
            .map(ToString::to_string);
        let purpose = row.and_then(|row| row.purpose.get()).cloned();
        let words = [medium, purpose.filter(|words| !words.is_empty())];
        let words: Vec<String> = words.into_iter().flatten().collect();
        wall::Target {
            id,
            code: names::cable(registry, id),
            name: words.join(", "),
        }
    })
    .collect()
}
