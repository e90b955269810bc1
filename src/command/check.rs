//! What is checked of every draft, whatever was wanted: that the things it speaks of are in the
//! job, that no newer version has changed them, and that it changes anything.

use super::{Desk, Done, Refusal};
use crate::domain::ids::ThingId;
use crate::domain::place::{ConduitEnd, Placement};
use crate::domain::work::{Availability, Lying, Standing, WaitsFor};
use crate::journal::{
    BlockFact, CableFact, ConduitFact, DeviceFact, Draft, EndFact, EndOfPull, Fact, FactRef,
    FloorFact, JobFact, JointFact, LooseEndFact, OutletFact, OutletTypeFact, PanelFact,
    PictureFact, PullFact, PullRef, RackFact, Register, RoomFact, UnitFact, side_index,
};

impl Desk<'_> {
    /// What was never added, or was taken back, is not written about.
    pub(super) fn refuse_gone(&self, draft: &Draft) -> Done {
        for fact in &draft.facts {
            // That somebody else is landed where a withdrawn cable is recorded must stay sayable.
            if matches!(fact, Fact::End(_, EndFact::Placed(Placement::Lifted))) {
                continue;
            }
            let subject = fact.subject();
            let mut gone = None;
            fact.mentions(&mut |thing| {
                let own = thing.origin == draft.id().writer.0 && thing.n == draft.id().n;
                let pull = Some(thing) == pull_of(fact) && Some(thing) != subject;
                if !own && !pull {
                    gone = gone.or_else(|| self.gone(thing));
                }
            });
            no_longer(gone)?;
        }
        if draft.facts.is_empty() {
            let mut emptied = self.replaced(draft).filter_map(Fact::subject);
            no_longer(emptied.find_map(|thing| self.gone(thing)))?;
        }
        Ok(())
    }

    /// The facts that a draft lets go beyond the fields that it sets.
    fn replaced<'a>(&'a self, draft: &'a Draft) -> impl Iterator<Item = &'a Fact> {
        let replaced = draft.also_replaces.iter();
        replaced.filter_map(|fact| self.said(*fact))
    }

    /// What an act says at a place.
    pub(super) fn said(&self, fact: FactRef) -> Option<&Fact> {
        let act = self.journal.act(fact.act)?;
        act.facts.get(fact.fact as usize)
    }

    /// Adds a fact that changes something: what is so already is not said again, so that a form with
    /// several fields takes no side in what another phone changes meanwhile.
    pub(super) fn change(&self, draft: &mut Draft, fact: Fact) {
        if !self.is_so(&fact) {
            draft.push(fact);
        }
    }

    /// What a thing is called that is not in the job; none for one that is.
    pub(super) fn gone(&self, thing: ThingId) -> Option<&'static str> {
        let of = self.registry;
        // The names of the kinds, with whether the thing of this kind is in the job.
        let unit = of.units.get(thing.into()).map(|row| !row.added.is_empty());
        let floor = of.floors.get(thing.into()).map(|row| !row.added.is_empty());
        let room = of.rooms.get(thing.into()).map(|row| !row.added.is_empty());
        let kind = of.outlet_types.get(thing.into());
        let kind = kind.map(|row| !row.added.is_empty());
        let outlet = of.outlets.get(thing.into());
        let outlet = outlet.map(|row| !row.added.is_empty());
        let cable = of.cables.get(thing.into()).map(|row| !row.added.is_empty());
        let jacket = of.jackets.get(thing.into());
        let jacket = jacket.map(|row| !row.added.is_empty());
        let rack = of.racks.get(thing.into()).map(|row| !row.added.is_empty());
        let panel = of.panels.get(thing.into());
        let panel = panel.map(|row| row.make.get().is_some());
        let device = of.devices.get(thing.into());
        let device = device.map(|row| !row.added.is_empty());
        let joint = of.joints.get(thing.into());
        let joint = joint.map(|row| row.kind.get().is_some());
        let loose = of.loose_ends.get(thing.into());
        let loose = loose.map(|row| row.number.get().is_some());
        let picture = of.pictures.get(thing.into());
        let picture = picture.map(|row| row.digest.get().is_some());
        let conduit = of.conduits.get(thing.into());
        let conduit = conduit.map(|row| row.number.get().is_some());
        let block = of.blocks.get(thing.into());
        let block = block.map(|row| row.kind.get().is_some());
        let kinds = [
            (picture, "This picture"),
            (unit, "This building or unit"),
            (floor, "This floor"),
            (room, "This room"),
            (kind, "This outlet type"),
            (outlet, "This outlet"),
            (cable, "This cable"),
            (jacket, "This jacket"),
            (rack, "This rack"),
            (panel, "This panel"),
            (device, "This device"),
            (joint, "This joint"),
            (loose, "This loose end"),
            (conduit, "This conduit"),
            (block, "This block"),
        ];
        if kinds.iter().any(|(there, _)| *there == Some(true)) {
            return None;
        }
        let withdrawn = kinds.iter().find(|(there, _)| there.is_some());
        Some(withdrawn.map_or("This", |(_, what)| what))
    }

    /// A thing that a newer version changed in ways unknown here must not be edited, nor may what
    /// was done to it be taken back.
    pub(super) fn refuse_newer(&self, draft: &Draft) -> Done {
        let struck = draft
            .strikes
            .iter()
            .filter_map(|act| self.journal.act(*act));
        let struck = struck.flat_map(|act| {
            let unknown = act
                .facts
                .iter()
                .any(|fact| matches!(fact, Fact::Unknown { .. }));
            let about = act.about.iter().copied().filter(move |_| unknown);
            act.facts.iter().filter_map(Fact::subject).chain(about)
        });
        let said = draft.facts.iter().chain(self.replaced(draft));
        let mut touched = said.filter_map(Fact::subject).chain(struck);
        if touched.any(|thing| self.registry.changed_by_newer_version(thing)) {
            return Err(Refusal::new(
                "A newer version of this app has changed this in a way that this version does not know. Update the app on this device first.",
            ));
        }
        Ok(())
    }

    /// Whether a draft would leave everything as it is.
    pub(super) fn changes_nothing(&self, draft: &Draft) -> bool {
        draft.strikes.is_empty()
            && draft.also_replaces.is_empty()
            && draft.facts.iter().all(|fact| self.is_so(fact))
    }

    /// Whether the registry says already what a fact would say, and nothing else.
    pub(super) fn is_so(&self, fact: &Fact) -> bool {
        let of = self.registry;
        match fact {
            Fact::Job(JobFact::Named(name)) => only(&of.job.name, name),
            Fact::Job(JobFact::PinoutChosen(pinout)) => only(&of.job.pinout, pinout),
            Fact::Job(JobFact::TagAddressSet(address)) => {
                said_or_empty(&of.job.tag_address, address)
            }
            Fact::Job(JobFact::BoxHolds { number, medium }) => match of.job.boxes.get(number) {
                Some(held) if held.get().is_some() => only(held, medium),
                _ => medium.is_none(),
            },
            // A print is no state: the same may be printed again.
            Fact::Job(JobFact::TagsPrinted(_) | JobFact::BoxTagged { .. }) => false,
            Fact::Unit(id, UnitFact::Named(name)) => {
                of.units.get(*id).is_some_and(|row| only(&row.name, name))
            }
            Fact::Floor(id, fact) => of.floors.get(*id).is_some_and(|row| match fact {
                FloorFact::Added => false,
                FloorFact::Named(name) => only(&row.name, name),
                FloorFact::Numbered(number) => only(&row.number, number),
                FloorFact::OnSheet(sheet) => said_or_empty(&row.sheet, sheet),
            }),
            Fact::Room(id, fact) => of.rooms.get(*id).is_some_and(|row| match fact {
                RoomFact::Added => false,
                RoomFact::Named(name) => only(&row.name, name),
                RoomFact::Coded(code) => only(&row.code, code),
                RoomFact::OnFloor(floor) => only(&row.floor, floor),
                RoomFact::InUnit(unit) => only(&row.unit, unit),
                RoomFact::Ordered(order) => only(&row.order, order),
                RoomFact::Covering(cover) => only(&row.cover, cover),
            }),
            Fact::OutletType(id, fact) => of.outlet_types.get(*id).is_some_and(|row| match fact {
                OutletTypeFact::Added => false,
                OutletTypeFact::Named(name) => only(&row.name, name),
                OutletTypeFact::Holds(cables) => only(&row.cables, cables),
            }),
            Fact::Outlet(id, fact) => of.outlets.get(*id).is_some_and(|row| match fact {
                OutletFact::Added | OutletFact::Noted(_) | OutletFact::Tagged(_) => false,
                OutletFact::Numbered { room, number } => {
                    let numbers = row.number.distinct();
                    matches!(numbers[..], [one] if (one.room, one.number) == (*room, *number))
                }
                OutletFact::Typed(kind) => only(&row.kind, kind),
                OutletFact::Purposed(purpose) => said_or_empty(&row.purpose, purpose),
                OutletFact::Placed(spot) => only(&row.spot, spot),
                OutletFact::Boxed(wall_box) => only(&row.wall_box, wall_box),
                OutletFact::Stands(standing) => stands(&row.standing, standing),
                OutletFact::Slack(slack) => only(&row.slack, slack),
                OutletFact::Waits(waiting) => match row.waits.get() {
                    Some(_) => only(&row.waits, waiting),
                    None => waiting.whom == WaitsFor::Nobody,
                },
                OutletFact::ChangeOrdered(order) => said_or_empty(&row.change_order, order),
            }),
            Fact::Cable(id, fact) => of.cables.get(*id).is_some_and(|row| match fact {
                CableFact::Added | CableFact::Noted(_) | CableFact::Repulled { .. } => false,
                CableFact::Named(name) => only(&row.name, name),
                CableFact::Leaves(leaves) => only(&row.leaves, leaves),
                CableFact::MadeOf(medium) => only(&row.medium, medium),
                CableFact::Purposed(purpose) => said_or_empty(&row.purpose, purpose),
                CableFact::InJacket(jacket) => only(&row.jacket, jacket),
                CableFact::Stands(standing) => stands(&row.standing, standing),
                CableFact::Cancelled { reason, .. } => {
                    let reason = reason.clone();
                    stands(&row.standing, &Standing::Cancelled { reason })
                        && row.unforeseen().is_empty()
                }
                CableFact::ChangeOrdered(order) => said_or_empty(&row.change_order, order),
                CableFact::TagKept { tag, called } => {
                    let mut kept = row.kept_tags.iter();
                    kept.any(|said| (&said.value.tag, &said.value.called) == (tag, called))
                }
                CableFact::PassesThrough { conduit, lying } => match row.conduits.get(conduit) {
                    Some(register) if register.get().is_some() => only(register, lying),
                    _ => *lying == Lying::Out,
                },
                CableFact::KnownAs(name) => row.known_as.iter().any(|said| said.value == name),
            }),
            Fact::Pull(pull, fact) => self.pull_is_so(*pull, fact),
            Fact::End(end, fact) => self.end_is_so(*end, fact),
            Fact::Rack(id, fact) => of.racks.get(*id).is_some_and(|row| match fact {
                RackFact::Added | RackFact::Tagged(_) => false,
                RackFact::InSpace(space) => only(&row.space, space),
                RackFact::Named(name) => only(&row.name, name),
                RackFact::InRoom(room) => only(&row.room, room),
                RackFact::Built(build) => only(&row.build, build),
            }),
            Fact::Panel(id, fact) => of.panels.get(*id).is_some_and(|row| match fact {
                PanelFact::Added(_) | PanelFact::Tagged(_) | PanelFact::StripPrinted(_) => false,
                PanelFact::InRack(rack) => only(&row.rack, rack),
                PanelFact::Lettered(letters) => only(&row.letters, letters),
                PanelFact::AtUnit(unit) => {
                    only(&row.unit, unit) || (unit.is_none() && row.unit.get().is_none())
                }
                PanelFact::Purposed(purpose) => said_or_empty(&row.purpose, purpose),
                PanelFact::High(height) => only(&row.high, height),
            }),
            Fact::PositionKept(position, kept) => {
                let row = of.panels.get(position.panel);
                match row.and_then(|row| row.kept.get(&position.number)) {
                    Some(register) if register.get().is_some() => only(register, kept),
                    _ => *kept == Availability::Open,
                }
            }
            Fact::PositionPatched(position, to) => match of.cord(*position) {
                Some(register) if register.get().is_some() => only(register, to),
                _ => to.is_none(),
            },
            Fact::Device(id, fact) => of.devices.get(*id).is_some_and(|row| match fact {
                DeviceFact::Added => false,
                DeviceFact::Named(name) => only(&row.name, name),
                DeviceFact::InRoom(room) => only(&row.room, room),
                DeviceFact::Model(model) => said_or_empty(&row.model, model),
                DeviceFact::Serial(serial) => said_or_empty(&row.serial, serial),
                DeviceFact::Mounted(mount) => {
                    only(&row.mount, mount) || (mount.is_none() && row.mount.get().is_none())
                }
            }),
            Fact::Block(id, fact) => of.blocks.get(*id).is_some_and(|row| match fact {
                BlockFact::Added(_) => false,
                BlockFact::Named(name) => said_or_empty(&row.name, name),
                BlockFact::Mounted(mount) => only(&row.mount, mount),
                BlockFact::Stands(standing) => stands(&row.standing, standing),
            }),
            Fact::Joint(id, fact) => of.joints.get(*id).is_some_and(|row| match fact {
                JointFact::Added(_) => false,
                JointFact::Named(name) => only(&row.name, name),
                JointFact::InRoom(room) => only(&row.room, room),
            }),
            Fact::LooseEnd(id, fact) => of.loose_ends.get(*id).is_some_and(|row| match fact {
                LooseEndFact::Added { .. } => false,
                LooseEndFact::Found(found) => only(&row.found, found),
                LooseEndFact::Joined(end) => only(&row.joined, &Some(*end)),
                LooseEndFact::Parted => row.joined.distinct().into_iter().all(Option::is_none),
            }),
            Fact::Picture(id, fact) => of.pictures.get(*id).is_some_and(|row| match fact {
                PictureFact::Added(_) => false,
                PictureFact::Shows(shows) => only(&row.shows, shows),
                PictureFact::Noted(note) => said_or_empty(&row.note, note),
                PictureFact::Points(points) => only(&row.points, points),
                PictureFact::Stands(standing) => stands(&row.standing, standing),
            }),
            Fact::Conduit(id, fact) => of.conduits.get(*id).is_some_and(|row| match fact {
                ConduitFact::Added { number } => only(&row.number, number),
                ConduitFact::Reaches { side, at } => {
                    let end = &row.ends[side_index(*side)];
                    let is_empty = *at == ConduitEnd::Words(String::new());
                    only(end, at) || (is_empty && end.get().is_none())
                }
                ConduitFact::Sized(size) => said_or_empty(&row.size, size),
                ConduitFact::PullString(lying) => {
                    let is_said = row.string.get().is_some();
                    only(&row.string, lying) || (!is_said && *lying == Lying::Out)
                }
                ConduitFact::Noted(note) => said_or_empty(&row.note, note),
                ConduitFact::Stands(standing) => stands(&row.standing, standing),
                ConduitFact::Tagged(_) => false,
            }),
            Fact::Unit(_, UnitFact::Added) | Fact::JacketAdded(_) | Fact::Unknown { .. } => false,
        }
    }

    fn pull_is_so(&self, pull: PullRef, fact: &PullFact) -> bool {
        let row = self.registry.cables.get(pull.cable);
        row.and_then(|row| row.copper(pull.pull))
            .is_some_and(|copper| match fact {
                PullFact::Reported(outcome) => only(&copper.outcome, outcome),
                PullFact::DrawnFrom(number) => only(&copper.drawn_from, number),
                PullFact::Tested(_) => false,
            })
    }

    fn end_is_so(&self, of: EndOfPull, fact: &EndFact) -> bool {
        let Some(cable) = self.registry.cables.get(of.end.cable) else {
            return false;
        };
        let side = side_index(of.end.side);
        let record = cable.copper(of.pull).map(|copper| &copper.ends[side]);
        match fact {
            EndFact::Planned(place) => match cable.planned[side].get(of.end.leg) {
                Some(planned) if planned.get().is_some() => only(planned, place),
                _ => place.is_none(),
            },
            EndFact::Placed(placement) => record
                .and_then(|record| record.placement.get(of.end.leg))
                .is_some_and(|register| only(register, placement)),
            EndFact::Split(legs) => record.is_some_and(|record| only(&record.split, legs)),
            EndFact::Marked(_) | EndFact::TagLost | EndFact::Seen { .. } | EndFact::Footage(_) => {
                false
            }
        }
    }
}

/// Lets every live value of a field go: then nothing is said of it any more.
pub(super) fn empty<T: PartialEq>(draft: &mut Draft, register: &Register<T>) {
    let said = register.all().map(|said| said.fact);
    draft.also_replaces.extend(said);
}

/// Refuses what is gone by what it is called.
fn no_longer(what: Option<&str>) -> Done {
    what.map_or(Ok(()), |what| {
        Err(Refusal::new(format!(
            "{what} is no longer in the job. Choose another one."
        )))
    })
}

/// The pull that a fact names beside its subject.
fn pull_of(fact: &Fact) -> Option<ThingId> {
    match fact {
        Fact::Pull(PullRef { pull, .. }, _)
        | Fact::End(EndOfPull { pull, .. }, _)
        | Fact::Cable(_, CableFact::Repulled { pull, .. }) => Some(pull.0),
        _ => None,
    }
}

/// Whether a field has this value and people agree on it.
fn only<T: PartialEq>(register: &Register<T>, value: &T) -> bool {
    register.distinct() == [value]
}

/// The same for words, where nothing said is as good as an empty text.
fn said_or_empty(register: &Register<String>, value: &String) -> bool {
    only(register, value) || (value.is_empty() && register.get().is_none())
}

/// The same for a standing: a thing is wanted until somebody says otherwise.
fn stands(register: &Register<Standing>, value: &Standing) -> bool {
    only(register, value) || (*value == Standing::Wanted && register.get().is_none())
}
