//! Codes and claims: what the registry finds by code, by place and by neighbour.

use crate::domain::order::Order;

use super::Registry;
use super::index::Lookup;
use super::rows::{Cable, side_index};
use crate::domain::ids::{
    CableId, JacketId, LooseEndId, OutletId, PanelId, RackId, RoomId, ThingId,
};
use crate::domain::label::{LabelCode, OutletCode, PanelLetters, RoomCode, SpaceCode};
use crate::domain::place::{End, Leaves, Place, Placement, Position, RunName, Side};
use crate::domain::work::Lying;
use crate::journal::fact::Mark;
use crate::journal::register::Said;

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
}

/// The code of a run as it stands now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CableCode {
    /// The text.
    pub text: String,
    /// Whether a mark has fixed it for ever.
    pub held: Hold,
}

/// Whether a code may still change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// It follows the outlet's number and the room's code.
    Follows,
    /// It stands on a cable or a tag.
    Frozen,
}

impl Registry {
    /// The code of an outlet; none while its room has none.
    #[must_use]
    pub fn outlet_code(&self, outlet: OutletId) -> Option<OutletCode> {
        let numbering = self.outlets.get(outlet)?.number.get()?;
        let room = *self.rooms.get(numbering.room)?.code.get()?;
        Some(OutletCode {
            room,
            number: numbering.number,
        })
    }

    /// The code that a name gives, apart from what is written on the cable.
    #[must_use]
    pub fn label_of(&self, name: RunName) -> Option<LabelCode> {
        match name {
            RunName::Feeds { outlet, letter } => Some(LabelCode::Run {
                outlet: self.outlet_code(outlet)?,
                letter,
            }),
            RunName::Ties { near, far, number } => {
                let space = |rack| self.racks.get(rack)?.space.get().copied();
                Some(LabelCode::Tie {
                    near: space(near)?,
                    far: space(far)?,
                    number,
                })
            }
        }
    }

    /// The first mark ever made on a run, on whatever copper: its text is the run's code for good.
    #[must_use]
    pub fn first_mark(cable: &Cable) -> Option<Said<'_, Mark>> {
        let ends = cable.copper.iter().flat_map(|(_, copper)| &copper.ends);
        ends.filter_map(|end| end.marks.iter().next())
            .min_by_key(|said| (said.stamp, said.fact))
    }

    /// The code of a run; none while neither a mark nor a room's code gives one.
    #[must_use]
    pub fn cable_code(&self, id: CableId) -> Option<CableCode> {
        let cable = self.cables.get(id)?;
        if let Some(mark) = Self::first_mark(cable) {
            return Some(CableCode {
                text: mark.value.text.clone(),
                held: Hold::Frozen,
            });
        }
        let text = self.label_of(*cable.name.get()?)?.to_string();
        Some(CableCode {
            text,
            held: Hold::Follows,
        })
    }

    pub(super) fn reindex(&mut self, touched: Vec<ThingId>) {
        let (mut outlets, mut cables) = (Vec::new(), Vec::new());
        for thing in touched {
            // Two files may have added one id as things of two kinds, so each kind is looked for.
            if self.rooms.get(thing.into()).is_some() {
                self.index_room(thing.into());
                outlets.extend(self.index.numbered_in.get(&thing.into()));
            }
            if self.outlets.get(thing.into()).is_some() {
                outlets.push(thing.into());
            }
            if self.racks.get(thing.into()).is_some() {
                self.index_rack(thing.into());
                cables.extend(self.index.coded_by.get(&thing));
            }
            if self.panels.get(thing.into()).is_some() {
                self.index_panel(thing.into());
            }
            if self.cables.get(thing.into()).is_some() {
                cables.push(thing.into());
            }
            if self.loose_ends.get(thing.into()).is_some() {
                self.index_loose_end(thing.into());
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

    fn index_room(&mut self, id: RoomId) {
        let Some(room) = self.rooms.get(id) else {
            return;
        };
        let keys = if room.added.is_empty() {
            Vec::new()
        } else {
            copied(room.code.distinct())
        };
        self.index.rooms_by_code.set(id, keys);
    }

    fn index_rack(&mut self, id: RackId) {
        let Some(rack) = self.racks.get(id) else {
            return;
        };
        let keys = if rack.added.is_empty() {
            Vec::new()
        } else {
            copied(rack.space.distinct())
        };
        self.index.racks_by_space.set(id, keys);
    }

    fn index_panel(&mut self, id: PanelId) {
        let Some(panel) = self.panels.get(id) else {
            return;
        };
        let exists = panel.make.get().is_some();
        let (letters, racks) = if exists {
            (
                copied(panel.letters.distinct()),
                copied(panel.rack.distinct()),
            )
        } else {
            (Vec::new(), Vec::new())
        };
        let patched: Vec<(Position, Vec<Place>)> = panel
            .patched
            .iter()
            .map(|(number, said)| {
                let said = said.distinct().into_iter().flatten().filter(|_| exists);
                let number = *number;
                (Position { panel: id, number }, said.cloned().collect())
            })
            .collect();
        for (position, places) in patched {
            self.index.patched.set(position, places);
        }
        self.index.panels_by_letters.set(id, letters);
        self.index.panels_in.set(id, racks);
    }

    fn index_loose_end(&mut self, id: LooseEndId) {
        let Some(loose) = self.loose_ends.get(id) else {
            return;
        };
        let exists = loose.number.get().is_some();
        let ends = if exists {
            loose
                .joined
                .distinct()
                .into_iter()
                .flatten()
                .copied()
                .collect()
        } else {
            Vec::new()
        };
        self.index.loose_by_end.set(id, ends);
    }

    fn index_outlet(&mut self, id: OutletId) {
        let Some(outlet) = self.outlets.get(id) else {
            return;
        };
        let numbers = copied(outlet.number.distinct());
        let code = |numbering: &super::Numbering| {
            let room = *self.rooms.get(numbering.room)?.code.get()?;
            Some(OutletCode {
                room,
                number: numbering.number,
            })
        };
        let mut rooms: Vec<RoomId> = numbers.iter().map(|numbering| numbering.room).collect();
        rooms.dedup();
        let (codes, there) = if outlet.added.is_empty() {
            (Vec::new(), Vec::new())
        } else {
            (numbers.iter().filter_map(code).collect(), rooms.clone())
        };
        self.index.outlets_by_code.set(id, codes);
        self.index.outlets_in.set(id, there);
        self.index.numbered_in.set(id, rooms);
    }

    fn index_cable(&mut self, id: CableId) {
        let Some(cable) = self.cables.get(id) else {
            return;
        };
        let mut fed = Vec::new();
        let mut racks = Vec::new();
        for name in cable.name.distinct() {
            match name {
                RunName::Feeds { outlet, .. } => fed.push(*outlet),
                RunName::Ties { near, far, .. } => racks.extend([*near, *far]),
            }
        }
        let mut out_to = Vec::new();
        for leaves in cable.leaves.distinct() {
            match leaves {
                Leaves::Outlet(outlet) => out_to.push(*outlet),
                Leaves::Rack(rack) => racks.extend(*rack),
            }
        }
        fed.dedup();
        racks.dedup();
        let jackets = copied(cable.jacket.distinct());
        let passed = cable.conduits.iter();
        let passed = passed.filter(|(_, lying)| lying.distinct().contains(&&Lying::In));
        let passed = passed.map(|(conduit, _)| conduit.0).collect();
        let claims = Claims::of(id, cable);
        self.index.fed.set(id, fed);
        self.index.out_to.set(id, out_to);
        self.index.runs_to.set(id, racks);
        self.index.in_jacket.set(id, jackets);
        self.index.in_conduit.set(id, passed);
        claims.enter(&mut self.index);
        self.index_cable_code(id);
    }

    fn index_cable_code(&mut self, id: CableId) {
        let Some(cable) = self.cables.get(id) else {
            return;
        };
        // The act that added a run mostly named it too; withdrawn with it, the code stays taken.
        let mut names = copied(cable.name.distinct());
        if names.is_empty() && cable.added.is_empty() {
            names.extend(cable.name.latest_ever());
        }
        let mut coded_by: Vec<ThingId> = Vec::new();
        for name in &names {
            match name {
                RunName::Feeds { outlet, .. } => coded_by.push(outlet.0),
                RunName::Ties { near, far, .. } => coded_by.extend([near.0, far.0]),
            }
        }
        let mut codes: Vec<String> = match Self::first_mark(cable) {
            Some(mark) => vec![mark.value.text.clone()],
            None => names
                .iter()
                .filter_map(|name| self.label_of(*name))
                .map(|code| code.to_string())
                .collect(),
        };
        codes.dedup();
        self.index.cables_by_code.set(id, codes);
        self.index.coded_by.set(id, coded_by);
    }
}

fn copied<T: Copy>(values: Vec<&T>) -> Vec<T> {
    values.into_iter().copied().collect()
}

/// The places that the ends of one cable are at and belong at.
struct Claims(Vec<(End, Vec<Place>, Vec<Place>)>);

impl Claims {
    fn of(id: CableId, cable: &Cable) -> Self {
        let mut claims = Vec::new();
        for side in Side::BOTH {
            let record = cable.end(id, side);
            let plan = &cable.planned[side_index(side)];
            let mut legs: Vec<_> = plan.legs.keys().copied().map(Some).collect();
            if let Some(record) = record {
                legs.extend(record.placement.legs.keys().copied().map(Some));
            }
            // Legs of earlier pulls too, so that what they held is let go.
            for (_, copper) in &cable.copper {
                legs.extend(
                    copper.ends[side_index(side)]
                        .placement
                        .legs
                        .keys()
                        .copied()
                        .map(Some),
                );
            }
            legs.push(None);
            legs.put_in_order();
            legs.dedup();
            for leg in legs {
                let placements = record.and_then(|record| record.placement.get(leg));
                let landed = placements
                    .map(|register| register.distinct())
                    .unwrap_or_default();
                let landed = landed
                    .into_iter()
                    .filter_map(landed_place)
                    .cloned()
                    .collect();
                let planned = plan
                    .get(leg)
                    .map(|register| register.distinct())
                    .unwrap_or_default();
                let planned = planned.into_iter().flatten().cloned().collect();
                claims.push((
                    End {
                        cable: id,
                        side,
                        leg,
                    },
                    landed,
                    planned,
                ));
            }
        }
        Self(claims)
    }

    fn enter(self, index: &mut Index) {
        for (end, landed, planned) in self.0 {
            index.landed.set(end, landed);
            index.planned.set(end, planned);
        }
    }
}

fn landed_place(placement: &Placement) -> Option<&Place> {
    match placement {
        Placement::Landed { place, .. } => Some(place),
        Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
    }
}
