//! What was noted twice, by two people, and turns out to be one: one of the two stays, with what only the
//! other one knew; the other is out of the job and gives up its code. And what one of two versions says.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{ActId, CableId, OutletId, RoomId};
use crate::domain::label::OutletNumber;
use crate::domain::picture::Shows;
use crate::domain::place::{ConduitEnd, End, Place, RunName, Side};
use crate::domain::work::Standing;
use crate::journal::{
    BlockFact, CableFact, ConduitFact, DeviceFact, Draft, EndFact, Fact, Found, JointFact,
    LooseEndFact, Numbering, OutletFact, PictureFact, PullFact, RackFact,
};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn same(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        match want {
            Want::SameCable { stays, goes } => Some(self.same_cable(draft, *stays, *goes)),
            Want::SameOutlet { stays, goes } => Some(self.same_outlet(draft, *stays, *goes)),
            Want::SameRoom { stays, goes } => Some(self.same_room(draft, *stays, *goes)),
            // Two who answer this otherwise disagree whether it is wanted.
            Want::WorkGone { cable } => {
                self.cancel(draft, *cable, "its adding was taken back");
                Some(Ok(()))
            }
            Want::ThereAllTheSame { cable, strike } => {
                self.insist(draft, *cable);
                draft.strikes.push(*strike);
                Some(self.refuse_claims_of(*strike))
            }
            Want::WriteAgain { act, version } => Some(self.write_again(draft, *act, *version)),
            _ => None,
        }
    }

    fn write_again(&self, draft: &mut Draft, act: ActId, version: usize) -> Done {
        let versions = self.journal.versions();
        let mut all = versions.into_iter().find(|all| all[0].id == act);
        let found = all.as_mut().filter(|all| version < all.len());
        let Some(found) = found.map(|all| all.swap_remove(version)) else {
            return Err(Refusal::new(
                "This record is not here in two versions any more.",
            ));
        };
        let is_unknown = |fact: &Fact| matches!(fact, Fact::Unknown { .. });
        if found.facts.iter().any(is_unknown) {
            return Err(Refusal::new(
                "A part of this version is known to a newer version of this app alone. Update the app on this device first.",
            ));
        }
        draft.facts = found.facts.to_vec();
        // That settles it, also where only one of the two ever arrives: it says what is written here.
        draft.strikes.push(act);
        let strikes = found.strikes.into_iter();
        draft
            .strikes
            .extend(strikes.filter(|act| self.journal.act(*act).is_some()));
        Ok(())
    }

    fn same_outlet(&self, draft: &mut Draft, stays: OutletId, goes: OutletId) -> Done {
        let name = names::outlet(self.registry, stays);
        if stays == goes {
            return Err(Refusal::new(format!(
                "{name} is one outlet already. Choose the other one that it is."
            )));
        }
        // Cables of one letter and one medium are one cable each; the others come along.
        let as_what = |id: &CableId| {
            let row = self.registry.cables.get(*id)?;
            match row.name.get()? {
                RunName::Feeds { letter, .. } => Some((*letter, row.medium.get()?)),
                RunName::Ties { .. } => None,
            }
        };
        let here = walk::fed(self.registry, stays);
        let mut rest = Vec::new();
        for cable in walk::fed(self.registry, goes) {
            let what = as_what(&cable);
            match here.iter().find(|id| what.is_some() && as_what(id) == what) {
                Some(twin) => self.same_cable(draft, *twin, cable)?,
                None => rest.push(cable),
            }
        }
        let tags = |id| self.registry.outlets.get(id).map(|row| &row.tags);
        if let Some(tags) = tags(goes) {
            draft
                .also_replaces
                .extend(tags.iter().map(|said| said.fact));
            let moved = tags
                .iter()
                .map(|said| OutletFact::Tagged(said.value.clone()));
            draft
                .facts
                .extend(moved.map(|fact| Fact::Outlet(stays, fact)));
        }
        let stands = OutletFact::Stands(Standing::Wanted);
        draft.push(Fact::Outlet(stays, stands));
        let reason = format!("the same outlet as {name}, noted twice");
        self.take_over(draft, goes, stays, rest, reason)
    }

    fn same_room(&self, draft: &mut Draft, stays: RoomId, goes: RoomId) -> Done {
        let of = self.registry;
        let name = names::room(of, stays);
        let (Some(_), Some(gone)) = (of.rooms.get(stays), of.rooms.get(goes)) else {
            return Err(Refusal::new("One of the two rooms is not known here."));
        };
        if stays == goes {
            return Err(Refusal::new(format!(
                "{name} is one room already. Choose the other one that it is."
            )));
        }
        let mut had: Vec<OutletNumber> = self.numbers_had(stays, None).collect();
        for (outlet, row) in of.outlets.iter() {
            let Some(at) = row.number.get().filter(|at| at.room == goes) else {
                continue;
            };
            let free = |number: &OutletNumber| !had.contains(number);
            let mut numbers =
                std::iter::once(at.number).chain((1..=99).filter_map(OutletNumber::new));
            let number = numbers.find(free).ok_or_else(|| {
                Refusal::new(format!(
                    "{name} has no outlet number left. Cancel some outlets first."
                ))
            })?;
            had.push(number);
            let room = stays;
            draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
            if number != at.number && walk::is_wanted_outlet(row) {
                let stands = OutletFact::Stands(Standing::Wanted);
                draft.push(Fact::Outlet(outlet, stands));
                self.insist_on_outlets(draft, outlet);
            }
        }
        for (id, row) in of.racks.iter() {
            if row.room.get() == Some(&goes) {
                draft.push(Fact::Rack(id, RackFact::InRoom(stays)));
            }
        }
        for (id, row) in of.devices.iter() {
            if row.room.get() == Some(&goes) {
                draft.push(Fact::Device(id, DeviceFact::InRoom(stays)));
            }
        }
        for (id, row) in of.joints.iter() {
            if row.room.get() == Some(&goes) {
                draft.push(Fact::Joint(id, JointFact::InRoom(stays)));
            }
        }
        for (id, row) in of.conduits.iter() {
            for (side, end) in Side::BOTH.into_iter().zip(&row.ends) {
                if end.get() == Some(&ConduitEnd::Room(goes)) {
                    let at = ConduitEnd::Room(stays);
                    draft.push(Fact::Conduit(id, ConduitFact::Reaches { side, at }));
                }
            }
        }
        for (id, row) in of.loose_ends.iter() {
            if let Some(found) = row.found.get().filter(|found| found.room == Some(goes)) {
                let room = Some(stays);
                let found = Found {
                    room,
                    ..found.clone()
                };
                draft.push(Fact::LooseEnd(id, LooseEndFact::Found(Box::new(found))));
            }
        }
        for (id, row) in of.pictures.iter() {
            if row.shows.get() == Some(&Shows::Room(goes)) {
                draft.push(Fact::Picture(id, PictureFact::Shows(Shows::Room(stays))));
            }
        }
        // It was never another room; whoever says otherwise meanwhile finds it by what is put there.
        draft
            .also_replaces
            .extend(gone.added.iter().map(|said| said.fact));
        Ok(())
    }

    /// Says of a cable that it is there, so that whoever strikes it from the job without knowing that
    /// disagrees.
    pub(super) fn insist(&self, draft: &mut Draft, cable: CableId) {
        draft.push(Fact::Cable(cable, CableFact::Stands(Standing::Wanted)));
    }

    /// Says of all that are called alike that each is a cable of its own, as giving one of them another code
    /// implies.
    pub(super) fn insist_on_all(&self, draft: &mut Draft, cable: CableId) {
        let Some(code) = self.registry.cable_code(cable) else {
            return;
        };
        let others = self.bearers(&code.text, Some(cable));
        let wanted = |id: &CableId| {
            let row = self.registry.cables.get(*id);
            row.is_some_and(walk::is_wanted_cable)
        };
        let others: Vec<CableId> = others.into_iter().filter(wanted).collect();
        if !others.is_empty() {
            self.insist(draft, cable);
            for other in others {
                self.insist(draft, other);
            }
        }
    }

    /// Says of all rooms of one code that each is a room of its own, as giving one of them another code implies:
    /// its outlets are where they are, so that whoever makes one room of them meanwhile disagrees.
    pub(super) fn insist_on_rooms(&self, draft: &mut Draft, room: RoomId) {
        let index = &self.registry.index;
        let code = self.registry.rooms.get(room).and_then(|row| row.code.get());
        let alike = code.map_or(&[][..], |code| index.rooms_by_code.get(code));
        for room in alike.iter().filter(|_| alike.len() > 1) {
            for outlet in index.outlets_in.get(room) {
                let row = self.registry.outlets.get(*outlet);
                let at = row.and_then(|row| row.number.get());
                if let Some(Numbering { room, number }) = at.copied().filter(|at| at.room == *room)
                {
                    draft.push(Fact::Outlet(*outlet, OutletFact::Numbered { room, number }));
                    self.insist_on_outlets(draft, *outlet);
                }
            }
        }
    }

    /// Says of the other outlets of one code that each is an outlet of its own, as giving this one another number
    /// or room implies: whoever makes one outlet of them meanwhile, whichever stays, disagrees.
    pub(super) fn insist_on_outlets(&self, draft: &mut Draft, outlet: OutletId) {
        let code = self.registry.outlet_code(outlet);
        let index = &self.registry.index.outlets_by_code;
        for other in code.map_or(&[][..], |code| index.get(&code)) {
            let row = self.registry.outlets.get(*other);
            let stands = Fact::Outlet(*other, OutletFact::Stands(Standing::Wanted));
            if *other != outlet
                && row.is_some_and(walk::is_wanted_outlet)
                && !draft.facts.contains(&stands)
            {
                draft.push(stands);
            }
        }
    }

    /// Says of every conduit, picture and piece of gear that a draft works on that it is there, and of a device that
    /// it hangs where it does: whoever takes it away without knowing that disagrees.
    pub(super) fn insist_on_things(&self, draft: &mut Draft) {
        let of = self.registry;
        let is_standing = |fact: &Fact| {
            matches!(
                fact,
                Fact::Conduit(_, ConduitFact::Stands(_))
                    | Fact::Block(_, BlockFact::Stands(_))
                    | Fact::Picture(_, PictureFact::Stands(_))
                    | Fact::Device(_, DeviceFact::Mounted(_))
            )
        };
        // What a draft says of that itself holds.
        if draft.facts.iter().any(is_standing) {
            return;
        }
        for at in 0..draft.facts.len() {
            let stands = match &draft.facts[at] {
                Fact::Conduit(id, _)
                | Fact::Cable(_, CableFact::PassesThrough { conduit: id, .. }) => {
                    let row = of.conduits.get(*id);
                    let is_there = row.is_some_and(|row| !row.standing.is_cancelled());
                    is_there.then_some(Fact::Conduit(*id, ConduitFact::Stands(Standing::Wanted)))
                }
                Fact::Block(id, _) => {
                    let row = of.blocks.get(*id);
                    let is_there = row.is_some_and(|row| !row.standing.is_cancelled());
                    is_there.then_some(Fact::Block(*id, BlockFact::Stands(Standing::Wanted)))
                }
                Fact::Picture(id, _) => {
                    let row = of.pictures.get(*id);
                    let is_there = row.is_some_and(|row| !row.standing.is_cancelled());
                    is_there.then_some(Fact::Picture(*id, PictureFact::Stands(Standing::Wanted)))
                }
                // One jacket is one pull.
                Fact::Cable(id, CableFact::Repulled { .. }) => {
                    let jacket = of.cables.get(*id).map(|row| &row.jacket);
                    let jacket = jacket.filter(|jacket| !jacket.disputed());
                    let jacket = jacket.and_then(|jacket| jacket.get());
                    jacket.map(|jacket| Fact::Cable(*id, CableFact::InJacket(*jacket)))
                }
                // That it was found says that it lies there.
                Fact::LooseEnd(_, LooseEndFact::Joined(end)) => {
                    let is_known = of.cables.get(end.cable).is_some();
                    let stands = CableFact::Stands(Standing::Wanted);
                    is_known.then_some(Fact::Cable(end.cable, stands))
                }
                Fact::PositionPatched(_, Some(Place::Device { device, .. })) => {
                    let mount = of.devices.get(*device).and_then(|row| row.mount.get());
                    mount.map(|mount| Fact::Device(*device, DeviceFact::Mounted(*mount)))
                }
                _ => None,
            };
            if let Some(stands) = stands.filter(|stands| !draft.facts.contains(stands)) {
                draft.push(stands);
            }
        }
    }

    fn same_cable(&self, draft: &mut Draft, stays: CableId, goes: CableId) -> Done {
        let name = names::cable(self.registry, stays);
        if stays == goes {
            return Err(Refusal::new(format!(
                "{name} is one cable already. Choose the other one that it is."
            )));
        }
        let (of_stays, of_goes) = (self.pull_of(stays)?, self.pull_of(goes)?);
        let rows = &self.registry.cables;
        let (Some(kept), Some(gone)) = (rows.get(stays), rows.get(goes)) else {
            return Err(Refusal::new("One of the two cables is not known here."));
        };
        let (kept, copper) = (kept.copper(of_stays.pull), gone.copper(of_goes.pull));
        // Its code is the other's from now on, and with it everything that stands on its copper.
        draft
            .also_replaces
            .extend(gone.name.all().map(|said| said.fact));
        draft.also_replaces.extend(self.marks_of(goes));
        if let Some(outcome) = copper.and_then(|copper| copper.outcome.get()) {
            let is_said = kept.is_some_and(|kept| kept.outcome.get().is_some());
            if !is_said {
                draft.push(Fact::Pull(of_stays, PullFact::Reported(*outcome)));
            }
        }
        for side in Side::BOTH {
            let of = self.end_of(End::whole(stays, side))?;
            let known = self.end_record(stays, side);
            let Some(record) = self.end_record(goes, side) else {
                continue;
            };
            if known.is_none_or(|known| known.marks.iter().next().is_none()) {
                let marks = record.marks.iter();
                let marks = marks.map(|said| Fact::End(of, EndFact::Marked(said.value.clone())));
                draft.facts.extend(marks);
            }
            let placed = |record: &crate::journal::EndRecord| record.placement.whole.get().cloned();
            if let Some(placement) = placed(record) {
                let claims = record.placement.whole.all().map(|said| said.fact);
                draft.also_replaces.extend(claims);
                if known.and_then(placed).is_none() {
                    draft.push(Fact::End(of, EndFact::Placed(placement)));
                }
            }
            let planned = rows
                .get(goes)
                .map(|row| &row.planned[crate::journal::side_index(side)]);
            let plans = planned.into_iter().flat_map(|planned| planned.whole.all());
            draft.also_replaces.extend(plans.map(|said| said.fact));
        }
        // Whoever decides it otherwise meanwhile, or which of the two stays, disagrees with this: that is seen
        // where both speak of one field.
        self.insist(draft, stays);
        if let [name] = rows
            .get(stays)
            .map(|row| row.name.distinct())
            .unwrap_or_default()[..]
        {
            draft.push(Fact::Cable(stays, CableFact::Named(*name)));
        }
        let reason = format!("the same cable as {name}, noted twice");
        self.cancel(draft, goes, &reason);
        Ok(())
    }
}
