//! The state of a job as a function of the set of its live facts.

use crate::domain::order::Order;
use std::fmt::Write as _;

use rustc_hash::{FxHashMap, FxHashSet};

use super::act::{Act, FactRef};
use super::fact::{
    BlockFact, CableFact, ConduitFact, DeviceFact, EndFact, EndOfPull, Fact, FloorFact, JobFact,
    JointFact, LooseEndFact, Mark, OutletFact, OutletTypeFact, PanelFact, PictureFact, PullFact,
    PullRef, RackFact, RoomFact, UnitFact,
};
use super::register::{Change, Op};
use crate::domain::ids::{
    BlockId, CableId, ConduitId, DeviceId, FloorId, JacketId, JointId, LooseEndId, OutletId,
    OutletTypeId, PanelId, PictureId, RackId, RoomId, ThingId, UnitId,
};
use crate::domain::work::Standing;

mod codes;
mod conduits;
mod cords;
mod filing;
mod home;
mod index;
mod mounts;
mod rows;
mod tags;

pub use codes::{CableCode, Hold};
pub use conduits::drawn_from;
pub use filing::Index;
use filing::Touched;
pub use index::Lookup;
pub use mounts::Hung;
pub use rows::{
    Block, Cable, Conduit, Copper, Device, EndRecord, Floor, Jacket, Job, Joint, KeptTag, LooseEnd,
    Numbering, Outlet, OutletType, Panel, PerLeg, Picture, Rack, Repull, Room, Table, Unit,
    side_index,
};

/// Everything that is known of a job.
#[derive(Clone, Default)]
pub struct Registry {
    /// The job as a whole.
    pub job: Job,
    /// Buildings and units.
    pub units: Table<UnitId, Unit>,
    /// Floors.
    pub floors: Table<FloorId, Floor>,
    /// Rooms.
    pub rooms: Table<RoomId, Room>,
    /// Outlet types of the job's own.
    pub outlet_types: Table<OutletTypeId, OutletType>,
    /// Outlets.
    pub outlets: Table<OutletId, Outlet>,
    /// Cable runs.
    pub cables: Table<CableId, Cable>,
    /// Jackets.
    pub jackets: Table<JacketId, Jacket>,
    /// Racks.
    pub racks: Table<RackId, Rack>,
    /// Panels.
    pub panels: Table<PanelId, Panel>,
    /// Devices.
    pub devices: Table<DeviceId, Device>,
    /// Joints.
    pub joints: Table<JointId, Joint>,
    /// Loose ends.
    pub loose_ends: Table<LooseEndId, LooseEnd>,
    /// Photographs and plans.
    pub pictures: Table<PictureId, Picture>,
    /// Conduits.
    pub conduits: Table<ConduitId, Conduit>,
    /// Blanks, shelves and cable guides.
    pub blocks: Table<BlockId, Block>,
    /// Where to find things by code, place and neighbour.
    pub index: Index,
    /// Things that a newer version has changed in ways unknown here, with how many live facts say so.
    newer: FxHashMap<ThingId, u32>,
    /// How many live acts have replaced or struck each unknown fact, where any has.
    dead_unknown: FxHashMap<FactRef, u32>,
    touched: FxHashSet<Touched>,
    /// The last of these.
    touched_last: Option<Touched>,
    /// Whether a whole job is being taken in, so that everything there is will have been touched.
    touches_all: bool,
    /// What was touched and is being worked through, the first thing last.
    unsettled: Vec<Touched>,
}

impl Registry {
    /// Whether a newer version of the program has changed the thing in ways unknown here, so that
    /// it must not be edited.
    #[must_use]
    pub fn changed_by_newer_version(&self, thing: ThingId) -> bool {
        self.newer.contains_key(&thing)
    }

    /// The things that a newer version has changed, by id.
    #[must_use]
    pub fn newer_things(&self) -> Vec<ThingId> {
        let mut things: Vec<_> = self.newer.keys().copied().collect();
        things.put_in_order();
        things
    }

    /// Takes in the fact at a place of an act.
    pub(super) fn put(&mut self, act: &Act, place: u32, fact: &Fact) {
        if matches!(fact, Fact::Unknown { .. }) {
            self.count_newer(&act.about, Change::Revives);
            return;
        }
        let stamp = act.stamp();
        self.apply(fact, &mut Op::Put { stamp, fact: place });
        self.touch(fact);
    }

    /// Lets a fact lose or regain its hold; a place where the act has none changes nothing.
    pub(super) fn turn(&mut self, act: &Act, at: FactRef, change: Change) {
        let Some(fact) = act.facts.get(at.fact as usize) else {
            return;
        };
        if matches!(fact, Fact::Unknown { .. }) {
            self.turn_unknown(act, at, change);
            return;
        }
        self.apply(fact, &mut Op::Adjust(at, change));
        self.touch(fact);
    }

    /// Notes that the index of what a fact is about is to be brought up to date. The facts of an act are
    /// mostly about one thing.
    fn touch(&mut self, fact: &Fact) {
        if self.touches_all {
            return;
        }
        let Some(touched) = Touched::by(fact) else {
            return;
        };
        if self.touched_last.replace(touched) != Some(touched) {
            self.touched.insert(touched);
        }
    }

    /// An unknown fact marks what its act is about for as long as nothing replaced or struck it.
    fn turn_unknown(&mut self, act: &Act, at: FactRef, change: Change) {
        let dead = self.dead_unknown.entry(at).or_insert(0);
        let turns = match change {
            Change::Dies => {
                *dead += 1;
                *dead == 1
            }
            Change::Revives => {
                *dead -= 1;
                *dead == 0
            }
        };
        if turns {
            self.count_newer(&act.about, change);
        }
    }

    /// The live facts that a further fact about the same field would replace.
    pub(super) fn holders(&mut self, content: &Fact) -> Vec<FactRef> {
        let mut found = Vec::new();
        self.apply(content, &mut Op::Gather(&mut found));
        found
    }

    /// Notes that an unknown fact about these things gained or lost its hold.
    fn count_newer(&mut self, about: &[ThingId], change: Change) {
        for thing in about {
            let count = self.newer.entry(*thing).or_insert(0);
            match change {
                Change::Dies => *count = count.saturating_sub(1),
                Change::Revives => *count += 1,
            }
            if *count == 0 {
                self.newer.remove(thing);
            }
        }
    }

    /// A whole job is going to be taken in before anything is asked: what is touched is not noted one by one.
    pub(super) fn touch_all(&mut self) {
        self.touches_all = true;
    }

    /// Brings the index up to date with everything touched since the last time.
    pub(super) fn settle(&mut self) {
        while self.settle_some(usize::MAX) {}
    }

    /// Brings the index up to date with some of the things that were touched; whether there are more.
    pub(super) fn settle_some(&mut self, most: usize) -> bool {
        self.touched_last = None;
        if self.unsettled.is_empty() {
            let mut touched: Vec<Touched> = self.touched.drain().collect();
            if std::mem::take(&mut self.touches_all) {
                touched.extend(self.all_indexed());
            }
            self.unsettled = touched;
            // In their order, so that lists of very many grow at their ends.
            self.unsettled.put_in_order();
            self.unsettled.reverse();
        }
        let left = self.unsettled.len().saturating_sub(most);
        let mut some = self.unsettled.split_off(left);
        some.reverse();
        self.reindex(some);
        left > 0 || !self.touched.is_empty()
    }

    /// Finds the field that a fact speaks of and does `op` to it. A fact
    /// that is put makes its row; a draft about a thing that has none gathers nothing.
    fn apply(&mut self, fact: &Fact, op: &mut Op<'_>) {
        let parts = op.parts();
        match fact {
            Fact::Job(fact) => self.apply_job(fact, op),
            Fact::Unit(id, fact) => self
                .units
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_unit(row, fact, op)),
            Fact::Floor(id, fact) => self
                .floors
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_floor(row, fact, op)),
            Fact::Room(id, fact) => self
                .rooms
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_room(row, fact, op)),
            Fact::OutletType(id, fact) => {
                self.outlet_types
                    .row(*id, parts)
                    .into_iter()
                    .for_each(|row| apply_type(row, fact, op));
            }
            Fact::Outlet(id, fact) => self
                .outlets
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_outlet(row, fact, op)),
            Fact::Cable(id, fact) => self
                .cables
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_cable(row, fact, op)),
            Fact::Pull(PullRef { cable, pull }, fact) => {
                self.cables
                    .row(*cable, parts)
                    .into_iter()
                    .filter_map(|row| row.copper_mut(*pull, parts))
                    .for_each(|row| apply_pull(row, fact, op));
            }
            Fact::End(end, fact) => {
                self.cables
                    .row(end.end.cable, parts)
                    .into_iter()
                    .for_each(|row| apply_end(row, *end, fact, op));
            }
            Fact::JacketAdded(id) => self
                .jackets
                .row(*id, parts)
                .into_iter()
                .for_each(|row| op.add(&mut row.added, &())),
            Fact::Rack(id, fact) => self
                .racks
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_rack(row, fact, op)),
            Fact::Panel(id, fact) => self
                .panels
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_panel(row, fact, op)),
            Fact::PositionKept(position, kept) => {
                let row = self.panels.row(position.panel, parts);
                row.into_iter()
                    .filter_map(|row| parts.of(&mut row.kept, position.number))
                    .for_each(|row| op.set(row, kept));
            }
            Fact::PositionPatched(position, to) => {
                let row = self.panels.row(position.panel, parts);
                row.into_iter()
                    .filter_map(|row| parts.of(&mut row.patched, position.number))
                    .for_each(|row| op.set(row, to));
            }
            Fact::Device(id, fact) => self
                .devices
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_device(row, fact, op)),
            Fact::Joint(id, fact) => self
                .joints
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_joint(row, fact, op)),
            Fact::LooseEnd(id, fact) => {
                self.loose_ends
                    .row(*id, parts)
                    .into_iter()
                    .for_each(|row| apply_loose_end(row, fact, op));
            }
            Fact::Picture(id, fact) => self
                .pictures
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_picture(row, fact, op)),
            Fact::Conduit(id, fact) => self
                .conduits
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_conduit(row, fact, op)),
            Fact::Block(id, fact) => self
                .blocks
                .row(*id, parts)
                .into_iter()
                .for_each(|row| apply_block(row, fact, op)),
            Fact::Unknown { .. } => {}
        }
    }

    fn apply_job(&mut self, fact: &JobFact, op: &mut Op<'_>) {
        match fact {
            JobFact::Named(name) => op.set(&mut self.job.name, name),
            JobFact::PinoutChosen(pinout) => op.set(&mut self.job.pinout, pinout),
            JobFact::TagAddressSet(address) => op.set(&mut self.job.tag_address, address),
            JobFact::BoxHolds { number, medium } => {
                if let Some(held) = op.parts().of(&mut self.job.boxes, *number) {
                    op.set(held, medium);
                }
            }
            JobFact::TagsPrinted(sheet) => op.add(&mut self.job.sheets, sheet),
            JobFact::BoxTagged { number, kind, text } => {
                if let Some(tags) = op.parts().of(&mut self.job.box_tags, *number) {
                    let mark = Mark {
                        kind: *kind,
                        copies: 1,
                        text: text.clone(),
                    };
                    op.add(tags, &mark);
                }
            }
        }
    }

    /// Everything live, as text that is the same for the same set of acts.
    #[must_use]
    pub fn dump(&self) -> String {
        let mut text = format!("{:?}\n", self.job);
        macro_rules! tables {
            ($($table:ident),*) => {$(
                for (id, row) in self.$table.sorted() {
                    let _ = writeln!(text, "{id:?} {row:?}");
                }
            )*};
        }
        tables!(
            units,
            floors,
            rooms,
            outlet_types,
            outlets,
            cables,
            jackets,
            racks,
            panels,
            devices,
            joints,
            loose_ends,
            pictures,
            conduits,
            blocks
        );
        let _ = writeln!(text, "{:?}", self.newer_things());
        text
    }
}

fn apply_unit(row: &mut Unit, fact: &UnitFact, op: &mut Op<'_>) {
    match fact {
        UnitFact::Added => op.add(&mut row.added, &()),
        UnitFact::Named(name) => op.set(&mut row.name, name),
    }
}

fn apply_floor(row: &mut Floor, fact: &FloorFact, op: &mut Op<'_>) {
    match fact {
        FloorFact::Added => op.add(&mut row.added, &()),
        FloorFact::Named(name) => op.set(&mut row.name, name),
        FloorFact::Numbered(number) => op.set(&mut row.number, number),
        FloorFact::OnSheet(sheet) => op.set(&mut row.sheet, sheet),
    }
}

fn apply_room(row: &mut Room, fact: &RoomFact, op: &mut Op<'_>) {
    match fact {
        RoomFact::Added => op.add(&mut row.added, &()),
        RoomFact::Named(name) => op.set(&mut row.name, name),
        RoomFact::Coded(code) => op.set(&mut row.code, code),
        RoomFact::OnFloor(floor) => op.set(&mut row.floor, floor),
        RoomFact::InUnit(unit) => op.set(&mut row.unit, unit),
        RoomFact::Ordered(order) => op.set(&mut row.order, order),
        RoomFact::Covering(cover) => op.set(&mut row.cover, cover),
    }
}

fn apply_type(row: &mut OutletType, fact: &OutletTypeFact, op: &mut Op<'_>) {
    match fact {
        OutletTypeFact::Added => op.add(&mut row.added, &()),
        OutletTypeFact::Named(name) => op.set(&mut row.name, name),
        OutletTypeFact::Holds(cables) => op.set(&mut row.cables, cables),
    }
}

fn apply_outlet(row: &mut Outlet, fact: &OutletFact, op: &mut Op<'_>) {
    match fact {
        OutletFact::Added => op.add(&mut row.added, &()),
        OutletFact::Numbered { room, number } => {
            op.set(
                &mut row.number,
                &Numbering {
                    room: *room,
                    number: *number,
                },
            );
        }
        OutletFact::Typed(kind) => op.set(&mut row.kind, kind),
        OutletFact::Purposed(purpose) => op.set(&mut row.purpose, purpose),
        OutletFact::Placed(spot) => op.set(&mut row.spot, spot),
        OutletFact::Boxed(wall_box) => op.set(&mut row.wall_box, wall_box),
        OutletFact::Stands(standing) => op.set(&mut row.standing, standing),
        OutletFact::Noted(note) => op.add(&mut row.notes, note),
        OutletFact::Slack(slack) => op.set(&mut row.slack, slack),
        OutletFact::Waits(waiting) => op.set(&mut row.waits, waiting),
        OutletFact::ChangeOrdered(order) => op.set(&mut row.change_order, order),
        OutletFact::Tagged(mark) => op.add(&mut row.tags, mark),
    }
}

fn apply_cable(row: &mut Cable, fact: &CableFact, op: &mut Op<'_>) {
    match fact {
        CableFact::Added => op.add(&mut row.added, &()),
        CableFact::Named(name) => op.set(&mut row.name, name),
        CableFact::Leaves(leaves) => op.set(&mut row.leaves, leaves),
        CableFact::MadeOf(medium) => op.set(&mut row.medium, medium),
        CableFact::Purposed(purpose) => op.set(&mut row.purpose, purpose),
        CableFact::InJacket(jacket) => op.set(&mut row.jacket, jacket),
        CableFact::Stands(standing) => op.set(&mut row.standing, standing),
        CableFact::Cancelled { reason, known } => {
            let reason = reason.clone();
            op.set(&mut row.standing, &Standing::Cancelled { reason });
            op.add(&mut row.foreseen, known);
        }
        CableFact::KnownAs(name) => op.add(&mut row.known_as, name),
        CableFact::TagKept { tag, called } => op.add(
            &mut row.kept_tags,
            &KeptTag {
                tag: tag.clone(),
                called: called.clone(),
            },
        ),
        CableFact::Noted(note) => op.add(&mut row.notes, note),
        CableFact::Repulled {
            pull,
            reason,
            known,
        } => {
            if let Some(known) = known {
                op.add(&mut row.passed, known);
            }
            op.set(
                &mut row.repull,
                &Repull {
                    pull: *pull,
                    reason: reason.clone(),
                },
            );
        }
        CableFact::ChangeOrdered(order) => op.set(&mut row.change_order, order),
        CableFact::PassesThrough { conduit, lying } => {
            if let Some(passes) = op.parts().of(&mut row.conduits, *conduit) {
                op.set(passes, lying);
            }
        }
    }
}

fn apply_pull(row: &mut Copper, fact: &PullFact, op: &mut Op<'_>) {
    match fact {
        PullFact::Reported(outcome) => op.set(&mut row.outcome, outcome),
        PullFact::DrawnFrom(number) => op.set(&mut row.drawn_from, number),
        PullFact::Tested(test) => op.add(&mut row.tests, test),
    }
}

fn apply_end(cable: &mut Cable, of: EndOfPull, fact: &EndFact, op: &mut Op<'_>) {
    let side = side_index(of.end.side);
    let parts = op.parts();
    if let EndFact::Planned(place) = fact {
        if let Some(planned) = cable.planned[side].part(of.end.leg, parts) {
            op.set(planned, place);
        }
        return;
    }
    let Some(copper) = cable.copper_mut(of.pull, parts) else {
        return;
    };
    let row = &mut copper.ends[side];
    match fact {
        EndFact::Planned(_) => {}
        EndFact::Placed(placement) => {
            if let Some(placed) = row.placement.part(of.end.leg, parts) {
                op.set(placed, placement);
            }
        }
        EndFact::Split(legs) => op.set(&mut row.split, legs),
        EndFact::Marked(mark) => op.add(&mut row.marks, mark),
        EndFact::TagLost => op.add(&mut row.lost, &()),
        EndFact::Seen { at } => op.add(&mut row.seen, at),
        EndFact::Footage(mark) => op.add(&mut row.footage, mark),
    }
}

fn apply_rack(row: &mut Rack, fact: &RackFact, op: &mut Op<'_>) {
    match fact {
        RackFact::Added => op.add(&mut row.added, &()),
        RackFact::InSpace(space) => op.set(&mut row.space, space),
        RackFact::Named(name) => op.set(&mut row.name, name),
        RackFact::InRoom(room) => op.set(&mut row.room, room),
        RackFact::Tagged(mark) => op.add(&mut row.tags, mark),
        RackFact::Built(build) => op.set(&mut row.build, build),
    }
}

fn apply_panel(row: &mut Panel, fact: &PanelFact, op: &mut Op<'_>) {
    match fact {
        PanelFact::Added(make) => op.set(&mut row.make, make),
        PanelFact::InRack(rack) => op.set(&mut row.rack, rack),
        PanelFact::Lettered(letters) => op.set(&mut row.letters, letters),
        PanelFact::AtUnit(unit) => op.set(&mut row.unit, unit),
        PanelFact::Purposed(purpose) => op.set(&mut row.purpose, purpose),
        PanelFact::Tagged(mark) => op.add(&mut row.tags, mark),
        PanelFact::StripPrinted(words) => op.add(&mut row.strips, words),
        PanelFact::High(height) => op.set(&mut row.high, height),
    }
}

fn apply_device(row: &mut Device, fact: &DeviceFact, op: &mut Op<'_>) {
    match fact {
        DeviceFact::Added => op.add(&mut row.added, &()),
        DeviceFact::Named(name) => op.set(&mut row.name, name),
        DeviceFact::InRoom(room) => op.set(&mut row.room, room),
        DeviceFact::Model(model) => op.set(&mut row.model, model),
        DeviceFact::Serial(serial) => op.set(&mut row.serial, serial),
        DeviceFact::Mounted(mount) => op.set(&mut row.mount, mount),
    }
}

fn apply_block(row: &mut Block, fact: &BlockFact, op: &mut Op<'_>) {
    match fact {
        BlockFact::Added(kind) => op.set(&mut row.kind, kind),
        BlockFact::Named(name) => op.set(&mut row.name, name),
        BlockFact::Mounted(mount) => op.set(&mut row.mount, mount),
        BlockFact::Stands(standing) => op.set(&mut row.standing, standing),
    }
}

fn apply_joint(row: &mut Joint, fact: &JointFact, op: &mut Op<'_>) {
    match fact {
        JointFact::Added(kind) => op.set(&mut row.kind, kind),
        JointFact::Named(name) => op.set(&mut row.name, name),
        JointFact::InRoom(room) => op.set(&mut row.room, room),
    }
}

fn apply_loose_end(row: &mut LooseEnd, fact: &LooseEndFact, op: &mut Op<'_>) {
    match fact {
        LooseEndFact::Added { number } => op.set(&mut row.number, number),
        LooseEndFact::Found(found) => op.set(&mut row.found, found),
        LooseEndFact::Joined(end) => op.set(&mut row.joined, &Some(*end)),
        LooseEndFact::Parted => op.set(&mut row.joined, &None),
    }
}

fn apply_picture(row: &mut Picture, fact: &PictureFact, op: &mut Op<'_>) {
    match fact {
        PictureFact::Added(digest) => op.set(&mut row.digest, digest),
        PictureFact::Shows(shows) => op.set(&mut row.shows, shows),
        PictureFact::Noted(note) => op.set(&mut row.note, note),
        PictureFact::Points(points) => op.set(&mut row.points, points),
        PictureFact::Stands(standing) => op.set(&mut row.standing, standing),
    }
}

fn apply_conduit(row: &mut Conduit, fact: &ConduitFact, op: &mut Op<'_>) {
    match fact {
        ConduitFact::Added { number } => op.set(&mut row.number, number),
        ConduitFact::Reaches { side, at } => op.set(&mut row.ends[side_index(*side)], at),
        ConduitFact::Sized(size) => op.set(&mut row.size, size),
        ConduitFact::PullString(lying) => op.set(&mut row.string, lying),
        ConduitFact::Noted(note) => op.set(&mut row.note, note),
        ConduitFact::Stands(standing) => op.set(&mut row.standing, standing),
        ConduitFact::Tagged(mark) => op.add(&mut row.tags, mark),
    }
}
