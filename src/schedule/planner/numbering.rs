//! A schedule with neither label codes nor outlet numbers, only with rooms: its outlets get the next
//! free numbers of their rooms in the order of the rows. Rows of one place on the wall are one outlet.
//! A row is known again by the old name of its cable in its room.

use super::{Planner, Run};
use crate::domain::ids::CableId;
use crate::domain::label::{OutletCode, OutletNumber, RoomCode};
use crate::domain::place::RunName;
use crate::domain::sorted::SortedMap;
use crate::domain::text::folded;
use crate::exchange::schedule::{Column, Row};
use crate::schedule::{Reason, cells};

/// What is known while such rows are gone through.
pub(super) struct Numbering {
    /// The highest number that each room ever gave: a plate may bear it still.
    last: SortedMap<RoomCode, u8>,
    /// The cables of the job by room and old name.
    known: SortedMap<String, CableId>,
    /// The outlets of this file by room and place on the wall.
    spots: SortedMap<String, OutletCode>,
}

/// One key for a room and words that are said of a cable there.
fn within(room: RoomCode, words: &str) -> String {
    format!("{room} {}", folded(words))
}

impl Planner<'_> {
    /// Gets ready for rows of which none has a code or an outlet number.
    pub(super) fn begin_numbering(&mut self) {
        let registry = self.registry;
        let mut last: SortedMap<RoomCode, u8> = SortedMap::new();
        for (id, outlet) in registry.outlets.iter() {
            // What this file added and was taken back since gets its number again.
            if outlet.added.is_empty() && id.0.origin == self.origin {
                continue;
            }
            for at in outlet.number.ever() {
                let room = registry.rooms.get(at.room);
                if let Some(code) = room.and_then(|room| room.code.get()) {
                    let last = last.or_default(*code);
                    *last = at.number.get().max(*last);
                }
            }
        }
        let mut known = Vec::new();
        for (id, cable) in registry.cables.iter() {
            if let Some(outlet) = self.feeds(id).filter(|_| self.is_here(id)) {
                let names = cable.known_as.iter();
                known.extend(names.map(|said| (within(outlet.room, said.value), id)));
            }
        }
        self.numbering = Some(Numbering {
            last,
            known: known.into_iter().collect(),
            spots: SortedMap::new(),
        });
    }

    /// The outlet of a cable of this job.
    fn feeds(&self, cable: CableId) -> Option<OutletCode> {
        match self.registry.cables.get(cable)?.name.get()? {
            RunName::Feeds { outlet, .. } => self.registry.outlet_code(*outlet),
            RunName::Ties { .. } => None,
        }
    }

    /// The cable of the job that a row in this room speaks of, by its old name. One that this file had
    /// before is refused.
    pub(super) fn known_by_name(
        &self,
        row: &Row,
        room: RoomCode,
        numbering: &Numbering,
    ) -> Result<Option<CableId>, Reason> {
        let Some(name) = row.cell(Column::OldName) else {
            return Ok(None);
        };
        let key = within(room, name);
        if let Some(first) = self.codes.get(&key) {
            return Err(format!(
                "“{name}” stands on line {first} already in this room. Give one of the two another name."
            ));
        }
        Ok(numbering.known.get(&key).copied())
    }

    /// Remembers which outlet a row has, for those after it.
    pub(super) fn remember(&mut self, row: &Row, outlet: OutletCode) {
        let Some(numbering) = &mut self.numbering else {
            return;
        };
        if let Some(spot) = row.cell(Column::Spot) {
            numbering.spots.insert(within(outlet.room, spot), outlet);
        }
        if let Some(name) = row.cell(Column::OldName) {
            self.codes.insert(within(outlet.room, name), self.line);
        }
    }

    /// The same of a cable that is here.
    pub(super) fn remember_here(&mut self, row: &Row, cable: CableId) {
        if let Some(outlet) = self.feeds(cable) {
            self.remember(row, outlet);
        }
    }

    /// The outlet of a row in this room: that of its place on the wall, while it has a letter left, or
    /// the next one.
    pub(super) fn numbered(
        &self,
        row: &Row,
        room: RoomCode,
        numbering: &Numbering,
        own: CableId,
    ) -> Result<Run, Reason> {
        let letter = row.cell(Column::Letter).map(cells::letter).transpose()?;
        let spot = row.cell(Column::Spot);
        let same = spot.and_then(|spot| numbering.spots.get(&within(room, spot)));
        let same = same.map(|outlet| Run {
            outlet: *outlet,
            letter,
        });
        if let Some(run) = same.filter(|run| self.letter_of(run, own).is_ok()) {
            return Ok(run);
        }
        let last = numbering.last.get(&room).copied().unwrap_or(0);
        let numbers = (last.saturating_add(1)..=99).filter_map(OutletNumber::new);
        let mut outlets = numbers.map(|number| OutletCode { room, number });
        let outlet = outlets.find(|outlet| self.known_outlet(*outlet).is_none());
        let outlet = outlet.ok_or_else(|| {
            format!("{room} has used all 99 outlet numbers. Divide it into two rooms.")
        })?;
        Ok(Run { outlet, letter })
    }
}
