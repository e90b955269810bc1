//! Planning: buildings, floors, rooms, outlet types, outlets and their cables.

use super::check::empty;
use super::codes::{letters_for, no_letter};
use super::{Desk, Done, Fault, Refusal, Want, words};
use crate::codes::tag::WebAddress;
use crate::domain::ids::{
    CableId, FloorId, JacketId, OutletId, OutletTypeId, RackId, RoomId, UnitId,
};
use crate::domain::label::{LabelCode, Letter, OutletCode, OutletNumber, RoomCode};
use crate::domain::medium::Medium;
use crate::domain::outlet_type::{OutletKind, PlannedCable, UsualType};
use crate::domain::place::{End, Leaves, Place, Placement, RunName, Side};
use crate::domain::work::{Spot, Standing, WallBox};
use crate::journal::{
    Cable, CableFact, Draft, Fact, FloorFact, Hold, JobFact, OutletFact, OutletTypeFact, RoomFact,
    UnitFact,
};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn plan(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::NameJob { name } => words(name, "The name of the job")
                .map(|name| draft.push(Fact::Job(JobFact::Named(name.to_owned())))),
            Want::ChoosePinout { pinout } => {
                draft.push(Fact::Job(JobFact::PinoutChosen(*pinout)));
                Ok(())
            }
            Want::SetTagAddress { address } => tag_address(draft, address),
            Want::AddUnit { name } => {
                let unit: UnitId = draft.mint();
                draft.push(Fact::Unit(unit, UnitFact::Added));
                self.name_unit(draft, unit, name)
            }
            Want::RenameUnit { unit, name } => self.name_unit(draft, *unit, name),
            Want::AddFloor { name, number } => {
                let floor: FloorId = draft.mint();
                draft.push(Fact::Floor(floor, FloorFact::Added));
                self.name_floor(draft, floor, name, *number)
            }
            Want::RenameFloor {
                floor,
                name,
                number,
            } => self.name_floor(draft, *floor, name, *number),
            Want::AddRoom {
                name,
                code,
                floor,
                unit,
            } => self.add_room(draft, name, *code, *floor, *unit),
            Want::RenameRoom { room, name } => words(name, "The name of the room")
                .map(|name| draft.push(Fact::Room(*room, RoomFact::Named(name.to_owned())))),
            Want::RecodeRoom { room, code } => self
                .free_room_code(*code, Some(*room))
                .and_then(|()| self.refuse_double_codes_in(*room, *code))
                .map(|()| {
                    draft.push(Fact::Room(*room, RoomFact::Coded(*code)));
                    self.insist_on_rooms(draft, *room);
                }),
            Want::PutRoomOnFloor { room, floor } => {
                match (floor, self.registry.rooms.get(*room)) {
                    (Some(floor), _) => draft.push(Fact::Room(*room, RoomFact::OnFloor(*floor))),
                    (None, Some(row)) => empty(draft, &row.floor),
                    (None, None) => {}
                }
                Ok(())
            }
            Want::PutRoomInUnit { room, unit } => {
                match (unit, self.registry.rooms.get(*room)) {
                    (Some(unit), _) => draft.push(Fact::Room(*room, RoomFact::InUnit(*unit))),
                    (None, Some(row)) => empty(draft, &row.unit),
                    (None, None) => {}
                }
                Ok(())
            }
            Want::OrderRoom { room, order } => {
                draft.push(Fact::Room(*room, RoomFact::Ordered(*order)));
                Ok(())
            }
            Want::SwapRooms { one, other } => self.swap_rooms(draft, *one, *other),
            Want::AddOutletType { name, cables } => {
                let kind: OutletTypeId = draft.mint();
                draft.push(Fact::OutletType(kind, OutletTypeFact::Added));
                self.make_type(draft, kind, name, cables)
            }
            Want::ChangeOutletType { kind, name, cables } => {
                self.make_type(draft, *kind, name, cables)
            }
            _ => return None,
        })
    }

    fn name_unit(&self, draft: &mut Draft, unit: UnitId, name: &str) -> Done {
        let name = words(name, "The name of the building or unit")?;
        self.free_unit_name(name, unit)?;
        draft.push(Fact::Unit(unit, UnitFact::Named(name.to_owned())));
        Ok(())
    }

    fn name_floor(
        &self,
        draft: &mut Draft,
        floor: FloorId,
        name: &str,
        number: Option<u8>,
    ) -> Done {
        let name = words(name, "The name of the floor")?;
        let named = Fact::Floor(floor, FloorFact::Named(name.to_owned()));
        if !self.is_so(&named) {
            self.free_floor_name(name, floor)?;
            draft.push(named);
        }
        if let Some(number) = number {
            let numbered = Fact::Floor(floor, FloorFact::Numbered(number));
            if !self.is_so(&numbered) {
                self.free_floor_number(number, floor)?;
                draft.push(numbered);
            }
        } else if let Some(row) = self.registry.floors.get(floor) {
            empty(draft, &row.number);
        }
        Ok(())
    }

    fn make_type(
        &self,
        draft: &mut Draft,
        kind: OutletTypeId,
        name: &str,
        cables: &[PlannedCable],
    ) -> Done {
        let name = words(name, "The name of the outlet type")?.to_owned();
        if cables.is_empty() {
            return Err(Refusal::new("An outlet type needs at least one cable."));
        }
        let named = Fact::OutletType(kind, OutletTypeFact::Named(name.clone()));
        if !self.is_so(&named) {
            self.free_type_name(&name, kind)?;
            draft.push(named);
        }
        let cables = OutletTypeFact::Holds(cables.to_vec());
        self.change(draft, Fact::OutletType(kind, cables));
        Ok(())
    }

    fn free_room_code(&self, code: RoomCode, except: Option<RoomId>) -> Done {
        let holder = self
            .registry
            .index
            .rooms_by_code
            .get(&code)
            .iter()
            .find(|room| Some(**room) != except);
        match holder {
            None => Ok(()),
            Some(room) => {
                let holder = names::room(self.registry, *room);
                let words = format!("The code {code} belongs to {holder} already. Choose another.");
                Err(Refusal::of(Fault::Code, words))
            }
        }
    }

    fn add_room(
        &self,
        draft: &mut Draft,
        name: &str,
        code: RoomCode,
        floor: Option<FloorId>,
        unit: Option<UnitId>,
    ) -> Done {
        let name = words(name, "The name of the room")?;
        self.free_room_code(code, None)?;
        let last = self
            .registry
            .rooms
            .iter()
            .filter_map(|(_, room)| room.order.get().copied())
            .max();
        let room: RoomId = draft.mint();
        draft.push(Fact::Room(room, RoomFact::Added));
        draft.push(Fact::Room(room, RoomFact::Named(name.to_owned())));
        draft.push(Fact::Room(room, RoomFact::Coded(code)));
        draft.push(Fact::Room(
            room,
            RoomFact::Ordered(last.map_or(1, |last| last.saturating_add(1))),
        ));
        if let Some(floor) = floor {
            draft.push(Fact::Room(room, RoomFact::OnFloor(floor)));
        }
        if let Some(unit) = unit {
            draft.push(Fact::Room(room, RoomFact::InUnit(unit)));
        }
        Ok(())
    }

    /// Two rooms change places. Where their places cannot be told apart, because two phones gave
    /// the same one, every room gets the place that it has on the list.
    fn swap_rooms(&self, draft: &mut Draft, one: RoomId, other: RoomId) -> Done {
        let order = |room| {
            let row = self.registry.rooms.get(room);
            row.and_then(|row| row.order.get()).copied()
        };
        if let (Some(first), Some(second)) = (order(one), order(other))
            && first != second
        {
            draft.push(Fact::Room(one, RoomFact::Ordered(second)));
            draft.push(Fact::Room(other, RoomFact::Ordered(first)));
            return Ok(());
        }
        let swapped = walk::rooms(self.registry)
            .into_iter()
            .map(|room| match room {
                room if room == one => other,
                room if room == other => one,
                room => room,
            });
        for (room, place) in swapped.zip(1..) {
            if order(room) != Some(place) {
                draft.push(Fact::Room(room, RoomFact::Ordered(place)));
            }
        }
        Ok(())
    }

    pub(super) fn outlet(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        let mut say = |outlet: &OutletId, fact| {
            draft.push(Fact::Outlet(*outlet, fact));
            Ok(())
        };
        Some(match want {
            Want::AddOutlet {
                room,
                kind,
                purpose,
                rack,
            } => self.add_outlet(draft, *room, *kind, purpose, *rack),
            Want::SetOutletPurpose { outlet, purpose } => {
                say(outlet, OutletFact::Purposed(purpose.clone()))
            }
            Want::PlaceOutlet { outlet, spot } => say(outlet, OutletFact::Placed(spot.clone())),
            Want::BoxOutlet { outlet, wall_box } => match wall_box {
                WallBox::Gangs(gangs) if !(1..=6).contains(gangs) => {
                    Err(Refusal::new("A box has one to six gangs."))
                }
                _ => say(outlet, OutletFact::Boxed(*wall_box)),
            },
            // A note may be the very objection to its being cancelled meanwhile.
            Want::NoteOutlet { outlet, note } => words(note, "The note").map(|note| {
                let row = self.registry.outlets.get(*outlet);
                let facts = [
                    Some(OutletFact::Noted(note.to_owned())),
                    row.filter(|row| walk::is_wanted_outlet(row))
                        .map(|_| OutletFact::Stands(Standing::Wanted)),
                ];
                let facts = facts.into_iter().flatten();
                draft
                    .facts
                    .extend(facts.map(|fact| Fact::Outlet(*outlet, fact)));
            }),
            Want::MoveOutlet {
                outlet,
                room,
                number,
            } => self.move_outlet(draft, *outlet, *room, *number),
            Want::CancelOutlet { outlet, reason } => words(reason, "The reason").map(|reason| {
                let standing = Standing::Cancelled {
                    reason: reason.to_owned(),
                };
                draft.push(Fact::Outlet(*outlet, OutletFact::Stands(standing)));
                // A cable that was cancelled before keeps its own reason.
                for cable in walk::fed(self.registry, *outlet) {
                    self.cancel(draft, cable, reason);
                }
            }),
            _ => return None,
        })
    }

    /// The cables that an outlet of a kind gets.
    fn cables_of(&self, kind: OutletKind) -> Vec<PlannedCable> {
        match kind {
            OutletKind::Usual(key) => UsualType::get(key)
                .map(UsualType::cables)
                .unwrap_or_default(),
            OutletKind::Own(id) => {
                let own = self.registry.outlet_types.get(id);
                own.and_then(|own| own.cables.get())
                    .cloned()
                    .unwrap_or_default()
            }
        }
    }

    fn add_outlet(
        &self,
        draft: &mut Draft,
        room: RoomId,
        kind: OutletKind,
        purpose: &str,
        rack: Option<RackId>,
    ) -> Done {
        let number = self.next_number(room)?;
        let outlet: OutletId = draft.mint();
        draft.push(Fact::Outlet(outlet, OutletFact::Added));
        draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
        draft.push(Fact::Outlet(outlet, OutletFact::Typed(kind)));
        if !purpose.trim().is_empty() {
            draft.push(Fact::Outlet(
                outlet,
                OutletFact::Purposed(purpose.to_owned()),
            ));
        }
        let code = self
            .registry
            .rooms
            .get(room)
            .and_then(|room| room.code.get())
            .copied();
        let code = code.map(|room| OutletCode { room, number });
        self.add_cables_of(draft, outlet, code, kind, rack)
    }

    /// Adds the cables that a new outlet gets by its type.
    fn add_cables_of(
        &self,
        draft: &mut Draft,
        outlet: OutletId,
        code: Option<OutletCode>,
        kind: OutletKind,
        rack: Option<RackId>,
    ) -> Done {
        let planned = self.cables_of(kind);
        let meant: Vec<Letter> = planned.iter().filter_map(|cable| cable.letter).collect();
        let mut given = Vec::new();
        for cable in planned {
            let fixed = cable
                .letter
                .filter(|letter| !given.contains(letter) && self.is_free(code, *letter));
            // A letter that is meant for another cable of this outlet stays for that one.
            let mut free = letters_for(&cable.medium).filter(|letter| {
                !meant.contains(letter) && !given.contains(letter) && self.is_free(code, *letter)
            });
            let letter = fixed.or_else(|| free.next()).ok_or_else(no_letter)?;
            given.push(letter);
            add_run(
                draft,
                RunName::Feeds { outlet, letter },
                Leaves::Rack(rack),
                &cable.medium,
                &cable.purpose,
            );
        }
        Ok(())
    }

    fn move_outlet(
        &self,
        draft: &mut Draft,
        outlet: OutletId,
        room: RoomId,
        number: OutletNumber,
    ) -> Done {
        let code = self
            .registry
            .rooms
            .get(room)
            .and_then(|room| room.code.get())
            .copied();
        let code = code.map(|room| OutletCode { room, number });
        if self
            .numbers_had(room, Some(outlet))
            .any(|had| had == number)
        {
            let called = code.map_or_else(
                || format!("{} {}", names::room(self.registry, room), number.get()),
                |code| code.to_string(),
            );
            return Err(Refusal::new(format!(
                "{called} is another outlet's number, or was. Choose another number."
            )));
        }
        if let Some(code) = code {
            self.refuse_double_codes(outlet, code)?;
        }
        draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
        // Whoever cancels it meanwhile, or takes it for another of its code, disagrees with this.
        draft.push(Fact::Outlet(outlet, OutletFact::Stands(Standing::Wanted)));
        self.insist_on_outlets(draft, outlet);
        // Where exactly it was in another room says nothing of this one.
        if let Some(row) = self.registry.outlets.get(outlet)
            && row.number.get().is_some_and(|was| was.room != room)
            && row.spot.get().is_some_and(|spot| *spot != Spot::default())
        {
            draft.push(Fact::Outlet(outlet, OutletFact::Placed(Spot::default())));
        }
        Ok(())
    }

    pub(super) fn cable(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        let mut say = |cable: &CableId, fact| {
            draft.push(Fact::Cable(*cable, fact));
            Ok(())
        };
        Some(match want {
            Want::AddCable {
                outlet,
                medium,
                purpose,
                rack,
            } => self
                .refuse_cancelled(*outlet)
                .and_then(|()| self.next_letter(*outlet, medium))
                .map(|letter| {
                    let name = RunName::Feeds {
                        outlet: *outlet,
                        letter,
                    };
                    add_run(draft, name, Leaves::Rack(*rack), medium, purpose);
                }),
            Want::AddTie {
                near,
                far,
                medium,
                purpose,
            } => self.add_tie(draft, *near, *far, medium, purpose),
            Want::SetMedium { cable, medium } => say(cable, CableFact::MadeOf(medium.clone())),
            Want::SetPurpose { cable, purpose } => say(cable, CableFact::Purposed(purpose.clone())),
            Want::RouteHome { cables, rack } => cables.iter().try_for_each(|cable| {
                self.refuse_tie(*cable)?;
                let home = CableFact::Leaves(Leaves::Rack(*rack));
                draft.push(Fact::Cable(*cable, home));
                Ok(())
            }),
            Want::RouteLocal { cable, from } => self.route_local(draft, *cable, *from),
            Want::ShareJacket { cables, jacket } => {
                if cables.len() < if jacket.is_some() { 1 } else { 2 } {
                    return Some(Err(Refusal::new(
                        "A shared jacket holds two cables or more. Choose them first.",
                    )));
                }
                let jacket = jacket.unwrap_or_else(|| {
                    let jacket: JacketId = draft.mint();
                    draft.push(Fact::JacketAdded(jacket));
                    jacket
                });
                draft.facts.extend(
                    cables
                        .iter()
                        .map(|cable| Fact::Cable(*cable, CableFact::InJacket(jacket))),
                );
                Ok(())
            }
            Want::CancelCable { cable, reason } => {
                words(reason, "The reason").map(|reason| self.cancel(draft, *cable, reason))
            }
            Want::RestoreCable { cable } => say(cable, CableFact::Stands(Standing::Wanted)),
            Want::KnowCableAs { cable, name } => words(name, "The old name")
                .and_then(|name| say(cable, CableFact::KnownAs(name.to_owned()))),
            Want::NoteCable { cable, note } => words(note, "The note")
                .and_then(|note| say(cable, CableFact::Noted(note.to_owned()))),
            Want::Reletter { cable, letter } => self.reletter(draft, *cable, *letter),
            _ => return None,
        })
    }

    /// Takes a cable out of the job, saying which work on it is known here.
    pub(super) fn cancel(&self, draft: &mut Draft, cable: CableId, reason: &str) {
        let row = self.registry.cables.get(cable);
        let known = row.map(Cable::work).unwrap_or_default();
        let reason = reason.to_owned();
        draft.push(Fact::Cable(cable, CableFact::Cancelled { reason, known }));
    }

    fn add_tie(
        &self,
        draft: &mut Draft,
        near: RackId,
        far: RackId,
        medium: &Medium,
        purpose: &str,
    ) -> Done {
        if near == far {
            return Err(Refusal::new(
                "A tie line joins two racks. Choose two different ones.",
            ));
        }
        let cables = self.registry.cables.iter();
        // The withdrawn ones count too: their numbers may stand on a tag.
        let numbers =
            cables
                .flat_map(|(_, cable)| cable.name.ever())
                .filter_map(|name| match name {
                    RunName::Ties {
                        near: a,
                        far: b,
                        number,
                    } if (*a, *b) == (near, far) || (*a, *b) == (far, near) => Some(*number),
                    RunName::Ties { .. } | RunName::Feeds { .. } => None,
                });
        let next = numbers.max().unwrap_or(0).saturating_add(1);
        let name = |number| RunName::Ties { near, far, number };
        let number = (next..u16::MAX).find(|number| {
            let code = self.registry.label_of(name(*number));
            code.is_none_or(|code| self.bearers(&code.to_string(), None).is_empty())
        });
        let number = number.ok_or_else(|| {
            Refusal::new("The numbers of the ties between these two racks are used up.")
        })?;
        add_cable(draft, name(number), medium, purpose);
        Ok(())
    }

    fn refuse_tie(&self, cable: CableId) -> Done {
        let row = self.registry.cables.get(cable);
        match row.and_then(|row| row.name.get()) {
            Some(RunName::Ties { .. }) => Err(Refusal::new(format!(
                "{} is a tie line and joins two racks. Add a cable at an outlet instead.",
                names::cable(self.registry, cable)
            ))),
            Some(RunName::Feeds { .. }) | None => Ok(()),
        }
    }

    fn route_local(&self, draft: &mut Draft, cable: CableId, from: OutletId) -> Done {
        self.refuse_tie(cable)?;
        let feeds = self
            .registry
            .cables
            .get(cable)
            .and_then(|row| row.name.get());
        if matches!(feeds, Some(RunName::Feeds { outlet, .. }) if *outlet == from) {
            return Err(Refusal::new(format!(
                "{} ends at {} itself. A local run leaves another outlet.",
                names::cable(self.registry, cable),
                names::outlet(self.registry, from)
            )));
        }
        let far = self.end_record(cable, Side::Far);
        let mut placed = far.into_iter().flat_map(|far| far.placement.all());
        let at_rack = placed.find_map(|(leg, placed)| match placed.get() {
            Some(Placement::Landed {
                place: place @ Place::Position { .. },
                ..
            }) => Some((leg, place)),
            _ => None,
        });
        if let Some((leg, place)) = at_rack {
            let side = Side::Far;
            return Err(Refusal::new(format!(
                "{} is landed on {}. A local run does not come to a rack.",
                names::cable(self.registry, cable),
                names::place(self.registry, place)
            ))
            .or(
                "It is not landed there",
                Want::Lift {
                    end: End { cable, side, leg },
                },
            ));
        }
        draft.push(Fact::Cable(cable, CableFact::Leaves(Leaves::Outlet(from))));
        Ok(())
    }

    fn reletter(&self, draft: &mut Draft, cable: CableId, letter: Letter) -> Done {
        let code = self.registry.cable_code(cable);
        if let Some(code) = code.filter(|code| code.held == Hold::Frozen) {
            return Err(Refusal::new(format!(
                "{} stands on the cable already and stays its code. A re-pull keeps it too.",
                code.text
            )));
        }
        let name = self
            .registry
            .cables
            .get(cable)
            .and_then(|row| row.name.get())
            .copied();
        let Some(RunName::Feeds { outlet, .. }) = name else {
            return Err(Refusal::new(
                "Only a run that feeds an outlet has a letter.",
            ));
        };
        let code = self.registry.outlet_code(outlet);
        let code = code.map(|outlet| LabelCode::Run { outlet, letter }.to_string());
        let borne = code.is_some_and(|code| !self.bearers(&code, Some(cable)).is_empty());
        if borne || self.letters_had(outlet, Some(cable)).contains(&letter) {
            return Err(Refusal::new(format!(
                "{}-{letter} is taken. Choose another letter.",
                names::outlet(self.registry, outlet)
            )));
        }
        draft.push(Fact::Cable(
            cable,
            CableFact::Named(RunName::Feeds { outlet, letter }),
        ));
        self.insist_on_all(draft, cable);
        Ok(())
    }
}

/// The address is kept as it is printed.
fn tag_address(draft: &mut Draft, address: &str) -> Done {
    let address = match address.trim() {
        "" => String::new(),
        text => {
            let address = WebAddress::new(text).map_err(|bad| Refusal::new(bad.to_string()))?;
            address.as_str().to_owned()
        }
    };
    draft.push(Fact::Job(JobFact::TagAddressSet(address)));
    Ok(())
}

/// Adds a cable with its name, medium and purpose.
fn add_cable(draft: &mut Draft, name: RunName, medium: &Medium, purpose: &str) -> CableId {
    let cable: CableId = draft.mint();
    draft.push(Fact::Cable(cable, CableFact::Added));
    draft.push(Fact::Cable(cable, CableFact::Named(name)));
    draft.push(Fact::Cable(cable, CableFact::MadeOf(medium.clone())));
    if !purpose.trim().is_empty() {
        draft.push(Fact::Cable(cable, CableFact::Purposed(purpose.to_owned())));
    }
    cable
}

/// Adds a run that feeds an outlet.
pub(super) fn add_run(
    draft: &mut Draft,
    name: RunName,
    leaves: Leaves,
    medium: &Medium,
    purpose: &str,
) -> CableId {
    let cable = add_cable(draft, name, medium, purpose);
    draft.push(Fact::Cable(cable, CableFact::Leaves(leaves)));
    cable
}
