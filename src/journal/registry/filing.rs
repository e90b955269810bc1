//! Codes and claims: what the registry finds by code, by place and by neighbour.

use crate::domain::order::Order;

use rustc_hash::FxHashMap;
use thin_vec::ThinVec;

use super::Registry;
use super::index::Lookup;
use super::rows::side_index;
use crate::domain::ids::{
    CableId, JacketId, LooseEndId, OutletId, PanelId, RackId, RoomId, ThingId,
};
use crate::domain::label::{
    LegNumber, OutletCode, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use crate::domain::place::{End, Leaves, Place, Placement, Position, RunName, Side};
use crate::domain::work::Lying;
use crate::journal::fact::Fact;

/// Where to find things. A thing about which people disagree stands under every value.
#[derive(Clone, Default)]
pub struct Index {
    /// Cables by the text of their code, the withdrawn and cancelled ones too: a code is never
    /// given to another run.
    pub cables_by_code: Lookup<String, CableId>,
    /// Outlets by code.
    pub outlets_by_code: Lookup<OutletCode, OutletId>,
    /// Rooms by code.
    pub rooms_by_code: Lookup<RoomCode, RoomId>,
    /// Racks by telecom space.
    pub racks_by_space: Lookup<SpaceCode, RackId>,
    /// Panels by letters.
    pub panels_by_letters: Lookup<PanelLetters, PanelId>,
    /// Ends by the place that they are terminated at.
    pub landed: Lookup<Place, End>,
    /// Ends by the place that they belong at.
    pub planned: Lookup<Place, End>,
    /// Positions by what their fronts are patched to.
    pub patched: Lookup<Place, Position>,
    /// Runs by the outlet that they feed.
    pub fed: Lookup<OutletId, CableId>,
    /// Local runs by the outlet that they leave.
    pub out_to: Lookup<OutletId, CableId>,
    /// Outlets by room.
    pub outlets_in: Lookup<RoomId, OutletId>,
    /// Outlets by the room that their number counts in, the withdrawn ones too: the codes of their
    /// cables follow the room's.
    numbered_in: Lookup<RoomId, OutletId>,
    /// Runs by the outlets and racks that their code follows, the withdrawn ones too.
    coded_by: Lookup<ThingId, CableId>,
    /// Panels by rack.
    pub panels_in: Lookup<RackId, PanelId>,
    /// Home runs and tie lines by the racks that they are meant for.
    pub runs_to: Lookup<RackId, CableId>,
    /// Cables by jacket.
    pub in_jacket: Lookup<JacketId, CableId>,
    /// Cables by the conduits that they lie in.
    pub in_conduit: Lookup<ThingId, CableId>,
    /// Loose ends by the cable end that they turned out to be.
    pub loose_by_end: Lookup<End, LooseEndId>,
    /// The keys that each thing stands under, by its kind.
    standing: [FxHashMap<ThingId, ThinVec<Under>>; 3],
}

/// What kind of thing stands under keys: two files may have added one id as things of two kinds.
#[derive(Clone, Copy)]
enum Kind {
    Other,
    Outlet,
    Cable,
}

/// That a thing stands under the key at a place of one of the lookups, and as which part of it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Under {
    CableCode(u32),
    Landed(u32, Side, Option<LegNumber>),
    Planned(u32, Side, Option<LegNumber>),
    Feeds(u32),
    OutTo(u32),
    CodedBy(u32),
    RunsTo(u32),
    InJacket(u32),
    InConduit(u32),
    OutletCode(u32),
    OutletIn(u32),
    NumberedIn(u32),
    RoomCode(u32),
    Space(u32),
    Letters(u32),
    PanelIn(u32),
    Patched(u32, PositionNumber),
    Joined(u32),
}

impl Index {
    fn turn(&mut self, thing: ThingId, under: Under, stands: bool) {
        let end = |side, leg| End {
            cable: thing.into(),
            side,
            leg,
        };
        match under {
            Under::CableCode(at) => self.cables_by_code.turn(at, thing.into(), stands),
            Under::Landed(at, side, leg) => self.landed.turn(at, end(side, leg), stands),
            Under::Planned(at, side, leg) => self.planned.turn(at, end(side, leg), stands),
            Under::Feeds(at) => self.fed.turn(at, thing.into(), stands),
            Under::OutTo(at) => self.out_to.turn(at, thing.into(), stands),
            Under::CodedBy(at) => self.coded_by.turn(at, thing.into(), stands),
            Under::RunsTo(at) => self.runs_to.turn(at, thing.into(), stands),
            Under::InJacket(at) => self.in_jacket.turn(at, thing.into(), stands),
            Under::InConduit(at) => self.in_conduit.turn(at, thing.into(), stands),
            Under::OutletCode(at) => self.outlets_by_code.turn(at, thing.into(), stands),
            Under::OutletIn(at) => self.outlets_in.turn(at, thing.into(), stands),
            Under::NumberedIn(at) => self.numbered_in.turn(at, thing.into(), stands),
            Under::RoomCode(at) => self.rooms_by_code.turn(at, thing.into(), stands),
            Under::Space(at) => self.racks_by_space.turn(at, thing.into(), stands),
            Under::Letters(at) => self.panels_by_letters.turn(at, thing.into(), stands),
            Under::PanelIn(at) => self.panels_in.turn(at, thing.into(), stands),
            Under::Patched(at, number) => {
                let panel = thing.into();
                self.patched.turn(at, Position { panel, number }, stands);
            }
            Under::Joined(at) => self.loose_by_end.turn(at, thing.into(), stands),
        }
    }

    /// Lets a thing stand under exactly these keys.
    fn file(&mut self, kind: Kind, thing: ThingId, is: &[Under]) {
        let standing = &mut self.standing[kind as usize];
        let was = match standing.get_mut(&thing) {
            Some(was) if **was == *is => return,
            Some(was) => std::mem::replace(was, is.into()),
            None if is.is_empty() => return,
            None => {
                standing.insert(thing, is.into());
                ThinVec::new()
            }
        };
        for under in was.iter().filter(|under| !is.contains(under)) {
            self.turn(thing, *under, false);
        }
        for under in is {
            self.turn(thing, *under, true);
        }
    }
}

/// Something of which a fact was put or turned, so that it may stand under other keys now. In the order of
/// their kinds: the codes of outlets follow the rooms, and the codes of runs follow both.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Touched {
    Other(ThingId),
    Outlet(ThingId),
    Cable(ThingId),
}

impl Touched {
    /// What a fact is about.
    pub(super) fn by(fact: &Fact) -> Option<Self> {
        let thing = fact.subject()?;
        Some(match fact {
            Fact::Cable(..) | Fact::Pull(..) | Fact::End(..) => Self::Cable(thing),
            Fact::Outlet(..) => Self::Outlet(thing),
            _ => Self::Other(thing),
        })
    }
}

/// More keys than a thing mostly stands under.
const USUAL: usize = 16;

impl Registry {
    /// Everything that may stand under keys.
    pub(super) fn all_indexed(&self) -> impl Iterator<Item = Touched> {
        let rooms = self.rooms.iter().map(|(id, _)| id.0);
        let racks = self.racks.iter().map(|(id, _)| id.0);
        let panels = self.panels.iter().map(|(id, _)| id.0);
        let loose = self.loose_ends.iter().map(|(id, _)| id.0);
        let others = rooms.chain(racks).chain(panels).chain(loose);
        let outlets = self.outlets.iter().map(|(id, _)| Touched::Outlet(id.0));
        let cables = self.cables.iter().map(|(id, _)| Touched::Cable(id.0));
        others.map(Touched::Other).chain(outlets).chain(cables)
    }

    pub(super) fn reindex(&mut self, touched: Vec<Touched>) {
        let (mut outlets, mut cables) = (Vec::new(), Vec::new());
        for touched in touched {
            match touched {
                Touched::Other(thing) => {
                    self.index_other(thing);
                    outlets.extend(self.index.numbered_in.get(&thing.into()));
                    cables.extend(self.index.coded_by.get(&thing));
                }
                Touched::Outlet(thing) => outlets.push(thing.into()),
                Touched::Cable(thing) => cables.push(thing.into()),
            }
        }
        outlets.put_in_order();
        outlets.dedup();
        for outlet in outlets {
            self.index_outlet(outlet);
            cables.extend(self.index.coded_by.get(&outlet.into()));
        }
        cables.put_in_order();
        cables.dedup();
        for cable in cables {
            self.index_cable(cable);
        }
    }

    /// Rooms, racks, panels and loose ends; one id may stand for several of them.
    fn index_other(&mut self, thing: ThingId) {
        let index = &mut self.index;
        let mut is = Vec::with_capacity(USUAL);
        if let Some(room) = self.rooms.get(thing.into())
            && !room.added.is_empty()
        {
            let codes = room.code.all();
            is.extend(codes.map(|said| Under::RoomCode(index.rooms_by_code.place(*said.value))));
        }
        if let Some(rack) = self.racks.get(thing.into())
            && !rack.added.is_empty()
        {
            let spaces = rack.space.all();
            is.extend(spaces.map(|said| Under::Space(index.racks_by_space.place(*said.value))));
        }
        if let Some(panel) = self.panels.get(thing.into())
            && panel.make.get().is_some()
        {
            for said in panel.letters.all() {
                is.push(Under::Letters(index.panels_by_letters.place(*said.value)));
            }
            for said in panel.rack.all() {
                is.push(Under::PanelIn(index.panels_in.place(*said.value)));
            }
            for (number, patched) in panel.patched.iter() {
                for place in patched.all().filter_map(|said| said.value.as_ref()) {
                    let at = index.patched.place(place.clone());
                    is.push(Under::Patched(at, *number));
                }
            }
        }
        if let Some(loose) = self.loose_ends.get(thing.into())
            && loose.number.get().is_some()
        {
            let ends = loose.joined.all().filter_map(|said| *said.value);
            is.extend(ends.map(|end| Under::Joined(index.loose_by_end.place(end))));
        }
        index.file(Kind::Other, thing, &is);
    }

    fn index_outlet(&mut self, id: OutletId) {
        let Some(outlet) = self.outlets.get(id) else {
            return;
        };
        let index = &mut self.index;
        let mut is = Vec::with_capacity(USUAL);
        for said in outlet.number.all() {
            let (room, number) = (said.value.room, said.value.number);
            is.push(Under::NumberedIn(index.numbered_in.place(room)));
            if outlet.added.is_empty() {
                continue;
            }
            is.push(Under::OutletIn(index.outlets_in.place(room)));
            let row = self.rooms.get(room);
            if let Some(room) = row.and_then(|row| row.code.get()).copied() {
                let code = OutletCode { room, number };
                is.push(Under::OutletCode(index.outlets_by_code.place(code)));
            }
        }
        index.file(Kind::Outlet, id.into(), &is);
    }

    fn index_cable(&mut self, id: CableId) {
        let Some(cable) = self.cables.get(id) else {
            return;
        };
        let mut is = Vec::with_capacity(USUAL);
        // The act that added a run mostly named it too; withdrawn with it, the code stays taken.
        let named = cable.name.get().is_some();
        let withdrawn = cable.name.latest_ever();
        let withdrawn = withdrawn.filter(|_| !named && cable.added.is_empty());
        let mark = Self::first_mark(cable).map(|said| said.value.text.clone());
        let names = cable.name.all().map(|said| said.value);
        let codes = names.chain(withdrawn).filter_map(|name| {
            let code = self.label_of(*name)?;
            Some(code.to_string())
        });
        let codes: Vec<String> = match mark {
            Some(mark) => vec![mark],
            None => codes.collect(),
        };
        let index = &mut self.index;
        is.extend(
            codes
                .into_iter()
                .map(|code| Under::CableCode(index.cables_by_code.place(code))),
        );
        for name in cable.name.all().map(|said| said.value).chain(withdrawn) {
            let things = match name {
                RunName::Feeds { outlet, .. } => {
                    if named {
                        is.push(Under::Feeds(index.fed.place(*outlet)));
                    }
                    [Some(outlet.0), None]
                }
                RunName::Ties { near, far, .. } => {
                    if named {
                        let racks = [*near, *far].map(|rack| index.runs_to.place(rack));
                        is.extend(racks.map(Under::RunsTo));
                    }
                    [Some(near.0), Some(far.0)]
                }
            };
            let things = things.into_iter().flatten();
            is.extend(things.map(|thing| Under::CodedBy(index.coded_by.place(thing))));
        }
        for said in cable.leaves.all() {
            match said.value {
                Leaves::Outlet(outlet) => is.push(Under::OutTo(index.out_to.place(*outlet))),
                Leaves::Rack(Some(rack)) => is.push(Under::RunsTo(index.runs_to.place(*rack))),
                Leaves::Rack(None) => {}
            }
        }
        for said in cable.jacket.all() {
            is.push(Under::InJacket(index.in_jacket.place(*said.value)));
        }
        for (conduit, lying) in cable.conduits.iter() {
            if lying.all().any(|said| *said.value == Lying::In) {
                is.push(Under::InConduit(index.in_conduit.place(conduit.0)));
            }
        }
        let copper = cable.copper(cable.pull(id));
        for side in Side::BOTH {
            for (leg, planned) in cable.planned[side_index(side)].all() {
                for place in planned.all().filter_map(|said| said.value.as_ref()) {
                    let at = index.planned.place(place.clone());
                    is.push(Under::Planned(at, side, leg));
                }
            }
            let Some(copper) = copper else { continue };
            for (leg, placed) in copper.ends[side_index(side)].placement.all() {
                for said in placed.all() {
                    if let Placement::Landed { place, .. } = said.value {
                        let at = index.landed.place(place.clone());
                        is.push(Under::Landed(at, side, leg));
                    }
                }
            }
        }
        index.file(Kind::Cable, id.into(), &is);
    }
}
