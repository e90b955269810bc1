//! Fields with two live values.
//!
//! What was withdrawn is not asked about any more. What was cancelled is: one side may have
//! cancelled what the other still works on. Where an end is has findings of its own.

use rustc_hash::FxHashMap;

use super::{Field, Gate, List, Thing, What};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::place::{End, Position, Side};
use crate::journal::{Cable, Cover, Register, Registry, side_index};

/// Goes through all fields that have one answer, those of cables apart.
pub(super) fn find(list: &mut List<'_>) {
    job_and_rooms(list);
    outlets(list);
    racks_and_panels(list);
    hung_gear(list);
    field_gear(list);
    pictures_and_boxes(list);
    conduits(list);
}

/// The fields of one thing.
struct Sheet<'l, 'a> {
    list: &'l mut List<'a>,
    outlet: Option<OutletId>,
    thing: Thing,
}

impl<'l, 'a> Sheet<'l, 'a> {
    fn of(list: &'l mut List<'a>, outlet: Option<OutletId>, thing: Thing) -> Self {
        Self {
            list,
            outlet,
            thing,
        }
    }

    fn see<T: PartialEq>(&mut self, field: Field, register: &Register<T>) -> &mut Self {
        if register.disputed() {
            let thing = self.thing;
            let what = What::Disputed { thing, field };
            self.list.add(Gate::Now, self.outlet, what);
        }
        self
    }
}

fn job_and_rooms(list: &mut List<'_>) {
    let registry = list.registry;
    let job = &registry.job;
    Sheet::of(list, None, Thing::Job)
        .see(Field::Name, &job.name)
        .see(Field::Pinout, &job.pinout)
        .see(Field::TagAddress, &job.tag_address);
    for (id, unit) in registry.units.iter() {
        if !unit.added.is_empty() {
            Sheet::of(list, None, Thing::Unit(id)).see(Field::Name, &unit.name);
        }
    }
    for (id, floor) in registry.floors.iter() {
        if !floor.added.is_empty() {
            Sheet::of(list, None, Thing::Floor(id))
                .see(Field::Name, &floor.name)
                .see(Field::Number, &floor.number)
                .see(Field::Sheet, &floor.sheet);
        }
    }
    for (id, room) in registry.rooms.iter() {
        if !room.added.is_empty() {
            Sheet::of(list, None, Thing::Room(id))
                .see(Field::Name, &room.name)
                .see(Field::Code, &room.code)
                .see(Field::Floor, &room.floor)
                .see(Field::Unit, &room.unit)
                .see(Field::Order, &room.order);
            // Two who say OK do not disagree about covering.
            let mut said = room.cover.all();
            if said.any(|said| !matches!(said.value, Cover::Ok(_))) {
                Sheet::of(list, None, Thing::Room(id)).see(Field::Cover, &room.cover);
            }
        }
    }
}

fn outlets(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, kind) in registry.outlet_types.iter() {
        if !kind.added.is_empty() {
            Sheet::of(list, None, Thing::OutletType(id))
                .see(Field::Name, &kind.name)
                .see(Field::Cables, &kind.cables);
        }
    }
    for (id, outlet) in registry.outlets.iter() {
        if !outlet.added.is_empty() {
            Sheet::of(list, Some(id), Thing::Outlet(id))
                .see(Field::Number, &outlet.number)
                .see(Field::Kind, &outlet.kind)
                .see(Field::Purpose, &outlet.purpose)
                .see(Field::Spot, &outlet.spot)
                .see(Field::WallBox, &outlet.wall_box)
                .see(Field::Standing, &outlet.standing)
                .see(Field::Slack, &outlet.slack)
                .see(Field::Waits, &outlet.waits)
                .see(Field::ChangeOrder, &outlet.change_order);
        }
    }
}

/// A cable under its outlet; the check of cables calls it while the row is at hand.
pub(super) fn cable(list: &mut List<'_>, outlet: Option<OutletId>, id: CableId, cable: &Cable) {
    // Jackets of the same cables are one answer, whoever put them into one.
    let mates = &list.registry.index.in_jacket;
    let mut mates = cable.jacket.all().map(|said| mates.get(said.value));
    let first = mates.next();
    let differ = mates.any(|other| Some(other) != first);
    let mut sheet = Sheet::of(list, outlet, Thing::Cable(id));
    if differ {
        sheet.see(Field::Jacket, &cable.jacket);
    }
    sheet
        .see(Field::Name, &cable.name)
        .see(Field::Leaves, &cable.leaves)
        .see(Field::Medium, &cable.medium)
        .see(Field::Purpose, &cable.purpose)
        .see(Field::Standing, &cable.standing)
        .see(Field::Repull, &cable.repull)
        .see(Field::ChangeOrder, &cable.change_order);
    if let Some(copper) = cable.copper(cable.pull(id)) {
        sheet
            .see(Field::Outcome, &copper.outcome)
            .see(Field::DrawnFrom, &copper.drawn_from);
        for side in Side::BOTH {
            let split = &copper.ends[side_index(side)].split;
            Sheet::of(list, outlet, Thing::End(End::whole(id, side))).see(Field::Split, split);
        }
    }
    for (conduit, lying) in cable.conduits.iter() {
        Sheet::of(list, outlet, Thing::Passage(id, *conduit)).see(Field::Lying, lying);
    }
    plans(list, outlet, End::whole(id, Side::Near), cable);
    plans(list, outlet, End::whole(id, Side::Far), cable);
}

fn plans(list: &mut List<'_>, outlet: Option<OutletId>, end: End, cable: &Cable) {
    let plan = &cable.planned[side_index(end.side)];
    Sheet::of(list, outlet, Thing::End(end)).see(Field::Planned, &plan.whole);
    for (leg, register) in plan.legs.iter() {
        let leg = Some(*leg);
        Sheet::of(list, outlet, Thing::End(End { leg, ..end })).see(Field::Planned, register);
    }
}

fn racks_and_panels(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, rack) in registry.racks.iter() {
        if !rack.added.is_empty() {
            Sheet::of(list, None, Thing::Rack(id))
                .see(Field::Space, &rack.space)
                .see(Field::Name, &rack.name)
                .see(Field::Room, &rack.room)
                .see(Field::Build, &rack.build);
        }
    }
    for (panel, row) in registry.panels.iter() {
        if row.make.get().is_none() {
            continue;
        }
        Sheet::of(list, None, Thing::Panel(panel))
            .see(Field::Make, &row.make)
            .see(Field::Rack, &row.rack)
            .see(Field::Letters, &row.letters)
            .see(Field::RackUnit, &row.unit)
            .see(Field::Height, &row.high)
            .see(Field::Purpose, &row.purpose);
        for (number, kept) in row.kept.iter() {
            let number = *number;
            let position = Position { panel, number };
            Sheet::of(list, None, Thing::Position(position)).see(Field::Kept, kept);
        }
        for (number, patched) in row.patched.iter() {
            let number = *number;
            let position = Position { panel, number };
            Sheet::of(list, None, Thing::Position(position)).see(Field::Patched, patched);
        }
    }
}

/// What people disagree about of racks and of everything that hangs in them.
pub(in crate::query) fn in_racks(registry: &Registry) -> Vec<(Thing, Field)> {
    let mut list = List {
        registry,
        ranks: FxHashMap::default(),
        found: Vec::new(),
    };
    racks_and_panels(&mut list);
    hung_gear(&mut list);
    let mut disputes = Vec::new();
    for finding in list.finish() {
        if let What::Disputed { thing, field } = finding.what {
            disputes.push((thing, field));
        }
    }
    disputes
}

fn hung_gear(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, device) in registry.devices.iter() {
        if !device.added.is_empty() {
            Sheet::of(list, None, Thing::Device(id))
                .see(Field::Name, &device.name)
                .see(Field::Room, &device.room)
                .see(Field::Model, &device.model)
                .see(Field::Serial, &device.serial)
                .see(Field::Mount, &device.mount);
        }
    }
    for (id, block) in registry.blocks.iter() {
        if block.kind.get().is_some() {
            Sheet::of(list, None, Thing::Block(id))
                .see(Field::Kind, &block.kind)
                .see(Field::Name, &block.name)
                .see(Field::Mount, &block.mount)
                .see(Field::Standing, &block.standing);
        }
    }
}

fn field_gear(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, joint) in registry.joints.iter() {
        if joint.kind.get().is_some() {
            Sheet::of(list, None, Thing::Joint(id))
                .see(Field::Kind, &joint.kind)
                .see(Field::Name, &joint.name)
                .see(Field::Room, &joint.room);
        }
    }
    for (id, loose) in registry.loose_ends.iter() {
        if loose.number.get().is_some() {
            Sheet::of(list, None, Thing::LooseEnd(id))
                .see(Field::Number, &loose.number)
                .see(Field::Found, &loose.found)
                .see(Field::Joined, &loose.joined);
        }
    }
}

fn pictures_and_boxes(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, picture) in registry.pictures.iter() {
        if picture.digest.get().is_some() {
            Sheet::of(list, None, Thing::Picture(id))
                .see(Field::Shows, &picture.shows)
                .see(Field::Note, &picture.note)
                .see(Field::Points, &picture.points)
                .see(Field::Standing, &picture.standing);
        }
    }
    for (number, medium) in registry.job.boxes.iter() {
        Sheet::of(list, None, Thing::Box(*number)).see(Field::Medium, medium);
    }
}

fn conduits(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, conduit) in registry.conduits.iter() {
        if conduit.number.get().is_some() {
            Sheet::of(list, None, Thing::Conduit(id))
                .see(Field::Number, &conduit.number)
                .see(Field::From, &conduit.ends[0])
                .see(Field::To, &conduit.ends[1])
                .see(Field::Size, &conduit.size)
                .see(Field::PullString, &conduit.string)
                .see(Field::Note, &conduit.note)
                .see(Field::Standing, &conduit.standing);
        }
    }
}
