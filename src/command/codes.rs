//! Codes that are given once: outlet numbers, cable letters, and runs that follow an outlet or a
//! rack to a new code.

use super::{Desk, Done, Refusal};
use crate::domain::ids::{CableId, OutletId, RackId, RoomId};
use crate::domain::label::{LabelCode, Letter, OutletCode, OutletNumber, RoomCode, SpaceCode};
use crate::domain::medium::{Kind, Medium};
use crate::domain::place::{RunName, Side};
use crate::journal::Hold;
use crate::names;

impl Desk<'_> {
    /// The next number in a room, never one that an outlet there ever had.
    pub(super) fn next_number(&self, room: RoomId) -> Result<OutletNumber, Refusal> {
        let row = self.registry.rooms.get(room);
        if row.is_none_or(|row| row.added.is_empty()) {
            return Err(Refusal::new(
                "This room is no longer in the job. Choose another.",
            ));
        }
        let taken: Vec<u8> = self
            .numbers_had(room, None)
            .map(OutletNumber::get)
            .collect();
        let last = taken.iter().copied().max().unwrap_or(0);
        // Past 99, a gap is used that no outlet ever filled.
        let mut next = (last..99)
            .map(|last| last + 1)
            .chain((1..last).filter(|number| !taken.contains(number)));
        next.next().and_then(OutletNumber::new).ok_or_else(|| {
            Refusal::new("This room has used all 99 outlet numbers. Divide it into two rooms.")
        })
    }

    /// The numbers that outlets of a room ever had, the cancelled and withdrawn ones too: one of
    /// them may stand on a plate or a cable.
    pub(super) fn numbers_had(
        &self,
        room: RoomId,
        except: Option<OutletId>,
    ) -> impl Iterator<Item = OutletNumber> {
        let outlets = self.registry.outlets.iter();
        outlets
            .filter(move |(id, _)| Some(*id) != except)
            .flat_map(|(_, outlet)| outlet.number.ever())
            .filter(move |numbering| numbering.room == room)
            .map(|numbering| numbering.number)
    }

    /// Whether no run bears this code.
    pub(super) fn is_free(&self, outlet: Option<OutletCode>, letter: Letter) -> bool {
        outlet.is_none_or(|outlet| {
            let code = LabelCode::Run { outlet, letter }.to_string();
            self.registry.index.cables_by_code.get(&code).is_empty()
        })
    }

    /// The next free letter at an outlet that exists.
    pub(super) fn next_letter(&self, outlet: OutletId, medium: &Medium) -> Result<Letter, Refusal> {
        let taken = self.letters_had(outlet, None);
        let code = self.registry.outlet_code(outlet);
        letters_for(medium)
            .find(|letter| !taken.contains(letter) && self.is_free(code, *letter))
            .ok_or_else(no_letter)
    }

    /// The letters that runs ever had at an outlet, the cancelled and withdrawn ones too: a code
    /// is never given to another run.
    pub(super) fn letters_had(&self, outlet: OutletId, except: Option<CableId>) -> Vec<Letter> {
        let cables = self.registry.cables.iter();
        cables
            .filter(|(id, _)| Some(*id) != except)
            .flat_map(|(_, cable)| cable.name.ever())
            .filter_map(|name| match name {
                RunName::Feeds { outlet: of, letter } if *of == outlet => Some(*letter),
                RunName::Feeds { .. } | RunName::Ties { .. } => None,
            })
            .collect()
    }

    /// The runs that bear a code, apart from one.
    pub(super) fn bearers(&self, code: &str, except: Option<CableId>) -> Vec<CableId> {
        let all = self.registry.index.cables_by_code.get(&code.to_owned());
        let others = all.iter().copied();
        others.filter(|cable| Some(*cable) != except).collect()
    }

    /// The runs of an outlet follow its code; none of them may come to one that stands elsewhere.
    pub(super) fn refuse_double_codes(&self, outlet: OutletId, code: OutletCode) -> Done {
        for cable in self.registry.index.fed.get(&outlet) {
            let held = self.registry.cable_code(*cable).map(|code| code.held);
            let row = self.registry.cables.get(*cable);
            let (None | Some(Hold::Follows), Some(RunName::Feeds { letter, .. })) =
                (held, row.and_then(|row| row.name.get()))
            else {
                continue;
            };
            let text = LabelCode::Run {
                outlet: code,
                letter: *letter,
            }
            .to_string();
            if let Some(bearer) = self.bearers(&text, Some(*cable)).first() {
                return Err(Refusal::new(format!(
                    "{text} stands on the cable at {} already, so a second one cannot be called so. Choose another code.",
                    names::side(self.registry, *bearer, Side::Near)
                )));
            }
        }
        Ok(())
    }

    pub(super) fn refuse_double_codes_in(&self, room: RoomId, code: RoomCode) -> Done {
        let outlets = self.registry.index.outlets_in.get(&room).iter();
        outlets
            .filter_map(|id| {
                let numbering = self.registry.outlets.get(*id)?.number.get()?;
                (numbering.room == room).then_some((*id, numbering.number))
            })
            .try_for_each(|(id, number)| {
                self.refuse_double_codes(id, OutletCode { room: code, number })
            })
    }

    /// The ties of a rack follow its space; none of them may come to a code that stands elsewhere.
    pub(super) fn refuse_double_ties(&self, rack: RackId, space: SpaceCode) -> Done {
        for cable in self.registry.index.runs_to.get(&rack) {
            let held = self.registry.cable_code(*cable).map(|code| code.held);
            let row = self.registry.cables.get(*cable);
            let (None | Some(Hold::Follows), Some(RunName::Ties { near, far, number })) =
                (held, row.and_then(|row| row.name.get()))
            else {
                continue;
            };
            let space_of = |id: RackId| {
                let other = self.registry.racks.get(id)?.space.get().copied();
                if id == rack { Some(space) } else { other }
            };
            let (Some(near), Some(far)) = (space_of(*near), space_of(*far)) else {
                continue;
            };
            let number = *number;
            let text = LabelCode::Tie { near, far, number }.to_string();
            if !self.bearers(&text, Some(*cable)).is_empty() {
                return Err(Refusal::new(format!(
                    "{text} stands on another tie line already. Choose another letter for this floor."
                )));
            }
        }
        Ok(())
    }
}

/// All letters in the order in which cables of a medium take them: D is the coax's, so that coax
/// takes it first and any other cable last.
pub(super) fn letters_for(medium: &Medium) -> impl Iterator<Item = Letter> {
    let coax = matches!(medium.kind, Kind::Rg6 | Kind::Rg59);
    let (first, last) = if coax { ("D", "") } else { ("", "D") };
    let fixed = |text: &'static str| text.chars().filter_map(Letter::new);
    fixed(first)
        .chain(Letter::all().filter(|letter| letter.get() != 'D'))
        .chain(fixed(last))
}

pub(super) fn no_letter() -> Refusal {
    Refusal::new("This outlet has all 21 letters in use. Add a second outlet beside it.")
}
