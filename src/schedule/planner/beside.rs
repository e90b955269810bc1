//! What a row needs beside its cable: the room, the outlet, the rack and the panel. Each is the one
//! of the job, or one that an earlier row added, or is added now and told in words.

use super::{Part, Planner};
use crate::codes::strict;
use crate::domain::ids::{OutletId, PanelId, RackId, RoomId};
use crate::domain::label::{OutletCode, PositionCode, RoomCode, SpaceCode};
use crate::domain::medium::Medium;
use crate::domain::outlet_type::{OutletKind, UsualType};
use crate::domain::place::Side;
use crate::domain::text::folded;
use crate::domain::work::Spot;
use crate::exchange::schedule::{Column, Row};
use crate::journal::{Fact, OutletFact};
use crate::schedule::rooms::NewIds;

impl Planner<'_> {
    /// The outlet that a row is for, with all that the row says of it where it is added; behind it
    /// the type that it is said to have, where nobody knows such a type.
    pub(super) fn outlet<'r>(
        &mut self,
        row: &'r Row,
        code: OutletCode,
    ) -> (OutletId, Option<&'r str>) {
        if let Some(outlet) = self.known_outlet(code) {
            return (outlet, None);
        }
        let mut unknown = None;
        let room = self.room(code.room, Some(row), Part::Room);
        let outlet = self.add_outlet(code, room, Part::Outlet);
        if let Some(words) = row.cell(Column::OutletType) {
            // A type that nobody knows is kept in the words of the schedule.
            let fact = match self.outlet_kind(words) {
                Some(kind) => OutletFact::Typed(kind),
                None => {
                    unknown = Some(words);
                    OutletFact::Purposed(words.to_owned())
                }
            };
            self.plan.facts.push(Fact::Outlet(outlet, fact));
        }
        if let Some(wall) = row.cell(Column::Spot) {
            let spot = Spot {
                wall: wall.to_owned(),
                ..Spot::default()
            };
            let fact = OutletFact::Placed(spot);
            self.plan.facts.push(Fact::Outlet(outlet, fact));
        }
        (outlet, unknown)
    }

    /// An outlet of which the row says no more than its code.
    pub(super) fn outlet_bare(&mut self, code: OutletCode) -> OutletId {
        if let Some(outlet) = self.known_outlet(code) {
            return outlet;
        }
        let room = self.room(code.room, None, Part::FromRoom);
        self.add_outlet(code, room, Part::FromOutlet)
    }

    pub(super) fn known_outlet(&self, code: OutletCode) -> Option<OutletId> {
        let known = self.registry.index.outlets_by_code.get(&code).first();
        known.or_else(|| self.outlets.get(&code)).copied()
    }

    fn add_outlet(&mut self, code: OutletCode, room: RoomId, part: Part) -> OutletId {
        let outlet: OutletId = self.id(part);
        self.plan
            .facts
            .push(Fact::Outlet(outlet, OutletFact::Added));
        self.plan.facts.push(Fact::Outlet(
            outlet,
            OutletFact::Numbered {
                room,
                number: code.number,
            },
        ));
        self.plan.beside.push(format!("Outlet {code}"));
        self.outlets.insert(code, outlet);
        outlet
    }

    fn outlet_kind(&self, words: &str) -> Option<OutletKind> {
        let wanted = folded(words);
        let usual = UsualType::all()
            .iter()
            .find(|usual| folded(usual.words) == wanted || usual.key == wanted);
        let own = || {
            let mut own = self.registry.outlet_types.iter();
            own.find(|(_, own)| own.name.get().is_some_and(|name| folded(name) == wanted))
                .map(|(id, _)| id)
        };
        usual
            .map(|usual| OutletKind::Usual(usual.key))
            .or_else(|| own().map(OutletKind::Own))
    }

    /// The rack that a run leaves from, where the row or the job lets it be told.
    pub(super) fn rack_of(
        &mut self,
        row: &Row,
        position: Option<&(PositionCode, Option<SpaceCode>)>,
    ) -> Option<RackId> {
        let by_position = position.and_then(|(position, _)| self.racks.rack_of(position.panel));
        let space = position.and_then(|(_, space)| *space);
        let words = row.cell(Column::Rack).unwrap_or_default();
        let named = match space {
            Some(space) => self.racks.named(&space.to_string()),
            None => self.racks.named(words),
        };
        let space = space.or_else(|| strict::space(&words.to_uppercase()).ok());
        match (by_position, named, space) {
            (Some(rack), _, _) | (None, Some(rack), _) => Some(rack),
            (None, None, Some(space)) => Some(self.rack_in(space, "", Part::Rack)),
            (None, None, None) if !words.is_empty() => {
                let space = self.racks.next_space()?;
                Some(self.rack_in(space, words, Part::Rack))
            }
            (None, None, None) if position.is_some() => self.racks.only().or_else(|| {
                let space = self.racks.next_space()?;
                Some(self.rack_in(space, "", Part::Rack))
            }),
            (None, None, None) => self.racks.only(),
        }
    }

    /// The panel of a position.
    pub(super) fn panel(
        &mut self,
        position: PositionCode,
        rack: Option<RackId>,
        medium: &Medium,
        side: Side,
    ) -> PanelId {
        let id: PanelId = self.id(match side {
            Side::Near => Part::NearPanel,
            Side::Far => Part::Panel,
        });
        let (panel, facts, words) = self.racks.panel(position.panel, id, rack, medium);
        self.plan.facts.extend(facts);
        self.plan.beside.extend(words);
        panel
    }

    /// The rack in a space.
    pub(super) fn rack_in(&mut self, space: SpaceCode, name: &str, part: Part) -> RackId {
        let id: RackId = self.id(part);
        let (rack, facts, words) = self.racks.rack_in(space, name, id);
        self.plan.facts.extend(facts);
        self.plan.beside.extend(words);
        rack
    }

    fn room(&mut self, code: RoomCode, row: Option<&Row>, part: Part) -> RoomId {
        let ids = NewIds {
            room: self.id(part),
            floor: self.id(Part::Floor),
            unit: self.id(Part::Unit),
        };
        let (room, facts, words) = self.rooms.room(code, row, ids);
        self.plan.facts.extend(facts);
        self.plan.beside.extend(words);
        room
    }
}
