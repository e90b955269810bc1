//! What was noted twice, by two people, and turns out to be one: one of the two stays, with what only the
//! other one knew; the other is out of the job and gives up its code. And what one of two versions says.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{ActId, CableId, OutletId, RoomId};
use crate::domain::label::Letter;
use crate::domain::picture::{Seen, Shows};
use crate::domain::place::{ConduitEnd, End, Leaves, Place, Placement, RunName, Side};
use crate::domain::work::Standing;
use crate::journal::{
    BlockFact, Cable, CableFact, ConduitFact, Copper, DeviceFact, Draft, EndFact, Fact, FactRef,
    Found, JointFact, Log, LooseEndFact, Numbering, OutletFact, PerLeg, PictureFact, PullRef,
    RackFact, Register,
};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn same(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        match want {
            Want::SameCable { stays, goes } => {
                let pairs = [(Seen::Cable(*goes), Seen::Cable(*stays))];
                let same = self.same_cable(draft, *stays, *goes);
                Some(same.map(|()| self.point_at(draft, &pairs)))
            }
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
        // Cables of one letter and one medium are one cable each. The others come along and keep their letters,
        // which may stand on a paper: where one letter is on two of them then, it is asked whether they are one.
        let rows = &self.registry.cables;
        let as_what = |id: CableId| Some((feeds(rows.get(id)?)?.1, rows.get(id)?.medium.get()));
        let is_pulled = |id: CableId| {
            let row = rows.get(id);
            let copper = row.and_then(|row| row.copper(row.pull(id)));
            copper.is_some_and(|copper| copper.outcome.get().is_some())
        };
        let is_marked = |id: CableId| !self.marks_of(id).is_empty();
        let here = walk::fed(self.registry, stays);
        let mut rest = Vec::new();
        let mut pairs = vec![(Seen::Outlet(goes), Seen::Outlet(stays))];
        for cable in walk::fed(self.registry, goes) {
            let is_twin = |id: &CableId| {
                as_what(*id) == as_what(cable)
                    && !(is_pulled(*id) && is_pulled(cable))
                    && !(is_marked(*id) && is_marked(cable))
            };
            if let Some(twin) = here.iter().copied().find(is_twin) {
                self.same_cable(draft, twin, cable)?;
                pairs.push((Seen::Cable(cable), Seen::Cable(twin)));
            } else if let Some((_, letter)) = rows.get(cable).and_then(feeds) {
                self.turn_jacks(draft, cable, goes, stays);
                let outlet = stays;
                let named = CableFact::Named(RunName::Feeds { outlet, letter });
                draft.push(Fact::Cable(cable, named));
                rest.push(cable);
            }
        }
        let outlets = &self.registry.outlets;
        if let (Some(kept), Some(row)) = (outlets.get(stays), outlets.get(goes)) {
            let mut facts: Vec<FactRef> = row.tags.iter().map(|said| said.fact).collect();
            draft.also_replaces.extend(&facts);
            gather(&mut facts, &row.kind);
            gather(&mut facts, &row.purpose);
            gather(&mut facts, &row.spot);
            gather(&mut facts, &row.wall_box);
            gather(&mut facts, &row.slack);
            gather(&mut facts, &row.waits);
            gather(&mut facts, &row.change_order);
            facts.extend(row.notes.iter().map(|said| said.fact));
            self.say_too(draft, &facts, &|fact| {
                let Fact::Outlet(id, said) = fact else {
                    return false;
                };
                *id = stays;
                !matches!(said, OutletFact::Noted(note) if is_noted(&kept.notes, note))
            });
        }
        self.point_at(draft, &pairs);
        let stands = OutletFact::Stands(Standing::Wanted);
        draft.push(Fact::Outlet(stays, stands));
        let reason = format!("the same outlet as {name}, noted twice");
        self.take_over(draft, goes, stays, &rest, reason)
    }

    /// Says of one thing what is said of another that is the same. Where the two differ, both sides stand, and
    /// people are asked.
    fn say_too(&self, draft: &mut Draft, facts: &[FactRef], turn: &dyn Fn(&mut Fact) -> bool) {
        for said in facts.iter().filter_map(|fact| self.said(*fact)) {
            let mut fact = said.clone();
            if turn(&mut fact) && !self.is_so(&fact) {
                draft.push_beside(fact);
            }
        }
    }

    /// The jacks of one outlet that a cable is at are those of another one.
    fn turn_jacks(&self, draft: &mut Draft, cable: CableId, from: OutletId, into: OutletId) {
        let mut facts = Vec::new();
        let planned = self.registry.cables.get(cable).map(|row| &row.planned);
        let planned = planned.into_iter().flatten();
        planned.for_each(|planned| gather(&mut facts, &planned.whole));
        let records = Side::BOTH.map(|side| self.end_record(cable, side));
        let records = records.into_iter().flatten();
        records.for_each(|record| gather(&mut facts, &record.placement.whole));
        for fact in facts {
            let Some(Fact::End(of, said)) = self.said(fact) else {
                continue;
            };
            let mut said = said.clone();
            if turn_jack(&mut said, from, into) {
                draft.also_replaces.push(fact);
                draft.push_beside(Fact::End(*of, said));
            }
        }
    }

    /// What pictures show of one thing is what they show of the other one.
    pub(super) fn point_at(&self, draft: &mut Draft, pairs: &[(Seen, Seen)]) {
        let other = |what: Seen| {
            let pair = pairs.iter().find(|(goes, _)| *goes == what);
            pair.map(|(_, stays)| *stays)
        };
        for (id, row) in self.registry.pictures.iter() {
            let Some(points) = row.points.get() else {
                continue;
            };
            if points.iter().any(|point| other(point.what).is_some()) {
                let mut points = points.clone();
                for point in &mut points {
                    point.what = other(point.what).unwrap_or(point.what);
                }
                draft.push(Fact::Picture(id, PictureFact::Points(points)));
            }
        }
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
        // Every outlet keeps its number, which may stand on a paper: what has one code then had it before, and
        // the list asks of it.
        for (outlet, row) in of.outlets.iter() {
            if let Some(at) = row.number.get().filter(|at| at.room == goes) {
                let (room, number) = (stays, at.number);
                draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
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

    /// Turns what is said of a cable into the same of a pull of another one, if it is to be said of that. A jack of
    /// the outlet that the one feeds is that jack of the other one's.
    fn turn_to(&self, pull: PullRef, outlets: [Option<OutletId>; 2], fact: &mut Fact) -> bool {
        match fact {
            Fact::Cable(id, said) => {
                *id = pull.cable;
                let row = self.registry.cables.get(*id);
                let notes = row.map(|row| &row.notes);
                return !matches!(said, CableFact::Noted(note) if notes.is_some_and(|notes| is_noted(notes, note)));
            }
            Fact::Pull(of, _) => *of = pull,
            Fact::End(of, said) => {
                let known = self.end_record(pull.cable, of.end.side);
                if let [Some(from), Some(into)] = outlets {
                    turn_jack(said, from, into);
                }
                match said {
                    EndFact::Planned(_)
                    | EndFact::Placed(_)
                    | EndFact::Split(_)
                    | EndFact::Footage(_) => {}
                    EndFact::Marked(_) if known.is_none_or(|known| known.marks.is_empty()) => {}
                    _ => return false,
                }
                of.end.cable = pull.cable;
                of.pull = pull.pull;
            }
            _ => return false,
        }
        true
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
        // Its code is the other's from now on, and with it everything that stands on its copper.
        draft
            .also_replaces
            .extend(gone.name.all().map(|said| said.fact));
        draft.also_replaces.extend(self.marks_of(goes));
        let mut facts = Vec::new();
        let planned = gone.planned.iter().flat_map(PerLeg::all);
        planned.for_each(|(_, planned)| gather(&mut facts, planned));
        if kept.jacket.get().is_none() {
            gather(&mut facts, &gone.jacket);
        }
        draft.also_replaces.extend(&facts);
        gather(&mut facts, &gone.purpose);
        gather(&mut facts, &gone.medium);
        gather(&mut facts, &gone.change_order);
        // A rack not chosen yet is no opinion.
        let is_open = |row: &Cable| matches!(row.leaves.get(), None | Some(Leaves::Rack(None)));
        match gone.leaves.get() {
            _ if is_open(gone) => {}
            Some(leaves) if is_open(kept) => {
                draft.push(Fact::Cable(stays, CableFact::Leaves(*leaves)));
            }
            _ => gather(&mut facts, &gone.leaves),
        }
        let lying = gone.conduits.iter();
        lying.for_each(|(_, lying)| gather(&mut facts, lying));
        facts.extend(gone.notes.iter().map(|said| said.fact));
        facts.extend(gone.known_as.iter().map(|said| said.fact));
        facts.extend(gone.copper(of_goes.pull).into_iter().flat_map(Copper::work));
        let outlets = [gone, kept].map(|row| feeds(row).map(|(outlet, _)| outlet));
        self.say_too(draft, &facts, &|fact| self.turn_to(of_stays, outlets, fact));
        for side in Side::BOTH {
            // Its place is the other's too, and so is the loose end that it turned out to be.
            let placed = self.end_record(goes, side).map(|record| &record.placement);
            for (_, placed) in placed.into_iter().flat_map(PerLeg::all) {
                draft
                    .also_replaces
                    .extend(placed.all().map(|said| said.fact));
            }
            let was = End::whole(goes, side);
            for loose in self.registry.index.loose_by_end.get(&was) {
                let row = self.registry.loose_ends.get(*loose);
                let joined = row.into_iter().flat_map(|row| row.joined.all());
                let joined = joined.filter(|said| *said.value == Some(was));
                draft.also_replaces.extend(joined.map(|said| said.fact));
                let joined = LooseEndFact::Joined(End::whole(stays, side));
                draft.push_beside(Fact::LooseEnd(*loose, joined));
            }
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

/// The outlet that a run feeds, and its letter there.
fn feeds(row: &Cable) -> Option<(OutletId, Letter)> {
    match row.name.get()? {
        RunName::Feeds { outlet, letter } => Some((*outlet, *letter)),
        RunName::Ties { .. } => None,
    }
}

/// Turns a jack of one outlet into that of another one; whether it was one.
fn turn_jack(said: &mut EndFact, from: OutletId, into: OutletId) -> bool {
    match said {
        EndFact::Planned(Some(Place::Jack { outlet, .. }))
        | EndFact::Placed(Placement::Landed {
            place: Place::Jack { outlet, .. },
            ..
        }) if *outlet == from => {
            *outlet = into;
            true
        }
        _ => false,
    }
}

/// Whether a remark is among others.
fn is_noted(notes: &Log<String>, note: &str) -> bool {
    notes.iter().any(|said| said.value == note)
}

/// Adds the live values of a field.
fn gather<T: PartialEq>(facts: &mut Vec<FactRef>, register: &Register<T>) {
    facts.extend(register.all().map(|said| said.fact));
}
