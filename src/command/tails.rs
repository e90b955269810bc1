//! Tails at a rack that others wired: each is numbered where it sits, and keeps its position until
//! somebody knows its cable.

use super::{Desk, Done, Refusal};
use crate::codes::strict;
use crate::domain::ids::{LooseEndId, PanelId};
use crate::domain::label::PositionNumber;
use crate::domain::medium::{Fit, Medium, fit};
use crate::domain::place::{Fitting, Place, Placement, Position};
use crate::domain::work::Availability;
use crate::journal::{Draft, EndFact, EndOfPull, Fact, Found, LooseEndFact};
use crate::names;

impl Desk<'_> {
    /// Numbers the tails on a stretch of positions, but not where a cable is known, or the position
    /// is kept for something.
    pub(super) fn number_tails(
        &self,
        draft: &mut Draft,
        panel: PanelId,
        [from, to]: [PositionNumber; 2],
        note: &str,
    ) -> Done {
        let row = self.registry.panels.get(panel);
        let rack = row.and_then(|row| self.registry.racks.get(*row.rack.get()?));
        let room = rack.and_then(|rack| rack.room.get()).copied();
        let mut number = self.next_loose_number()?;
        for at in (from.get()..=to.get()).filter_map(PositionNumber::new) {
            let position = Position { panel, number: at };
            self.refuse_nowhere(&Place::rear(position))?;
            if !self.is_position_free(position) {
                continue;
            }
            let loose: LooseEndId = draft.mint();
            let found = Found {
                place: names::position(self.registry, position),
                room,
                medium: None,
                note: note.to_owned(),
            };
            draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
            draft.push(Fact::LooseEnd(loose, LooseEndFact::Found(Box::new(found))));
            draft.push(Fact::PositionKept(position, kept_for(number)));
            number = number.saturating_add(1);
        }
        if draft.is_empty() {
            return Err(Refusal::new(
                "On each of these positions a cable is landed or listed, or it is kept for something. Choose others.",
            ));
        }
        Ok(())
    }

    /// What a tail turned out to be is landed where it was numbered, and the position is open again.
    pub(super) fn sits_there(
        &self,
        draft: &mut Draft,
        loose: LooseEndId,
        of: EndOfPull,
        medium: Option<&Medium>,
    ) {
        let Some(position) = self.tail_position(loose) else {
            return;
        };
        let place = Place::rear(position);
        // Somebody may have landed a cable there meanwhile; then people have to look again.
        if !self.registry.index.landed.get(&place).is_empty() {
            return;
        }
        let connector = self.make_of(position.panel).map(|make| make.connector);
        let fitting = match (medium, connector) {
            (Some(medium), Some(connector)) if fit(medium, connector) != Fit::Fits => {
                Fitting::Adapter
            }
            _ => Fitting::Direct,
        };
        let landed = Placement::Landed { place, fitting };
        draft.push(Fact::End(of, EndFact::Placed(landed)));
        draft.push(Fact::PositionKept(position, Availability::Open));
    }

    /// The position that a tail was numbered at and still keeps.
    fn tail_position(&self, loose: LooseEndId) -> Option<Position> {
        let row = self.registry.loose_ends.get(loose)?;
        let code = strict::position(row.found.get()?.place.trim()).ok()?;
        let panels = self.registry.index.panels_by_letters.get(&code.panel);
        let kept = kept_for(*row.number.get()?);
        panels.iter().find_map(|panel| {
            let number = code.number;
            let row = self.registry.panels.get(*panel)?;
            let is_kept = row.kept.get(&number)?.get() == Some(&kept);
            let panel = *panel;
            is_kept.then_some(Position { panel, number })
        })
    }

    /// A tail that was taken for a cable is numbered where it sits once more.
    pub(super) fn sits_there_unknown(&self, draft: &mut Draft, loose: LooseEndId) {
        let Some((row, end)) = self.registry.loose_ends.get(loose).and_then(|row| {
            let end = row.joined.get().copied().flatten()?;
            Some((row, end))
        }) else {
            return;
        };
        let record = self.end_record(end.cable, end.side);
        let landed = record.and_then(|record| record.placement.get(end.leg)?.get());
        let (Some(number), Some(found), Some(Placement::Landed { place, .. })) =
            (row.number.get(), row.found.get(), landed)
        else {
            return;
        };
        if names::place(self.registry, place) != found.place.trim() {
            return;
        }
        if let (Place::Position { position, .. }, Ok(of)) = (place, self.end_of(end)) {
            draft.push(Fact::End(of, EndFact::Placed(Placement::Lifted)));
            draft.push(Fact::PositionKept(*position, kept_for(*number)));
        }
    }
}

/// What a position with an unknown tail is kept for.
fn kept_for(number: u16) -> Availability {
    Availability::Reserved {
        reason: format!("{}{number}", names::LOOSE_END),
    }
}
