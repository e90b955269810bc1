//! Rough-in: boxes, slack, questions, change orders, outlets merged and split, and whether the board
//! may go up.

use super::codes::{letters_for, no_letter};
use super::{Desk, Done, Refusal, Want, words};
use crate::domain::ids::{CableId, OutletId, RoomId};
use crate::domain::label::Letter;
use crate::domain::medium::{Kind, Medium};
use crate::domain::order::Order;
use crate::domain::picture::{Seen, Shows};
use crate::domain::place::{Leaves, RunName};
use crate::domain::work::{CoverCheck, Standing};
use crate::journal::{
    CableFact, Cover, CoverOk, Draft, Fact, FloorFact, JobFact, OutletFact, PictureFact, PullFact,
    RoomFact,
};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn rough(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        let fact = match want {
            Want::HoldBox { number, medium } => Fact::Job(JobFact::BoxHolds {
                number: *number,
                medium: medium.clone(),
            }),
            Want::PutFloorOnSheet { floor, sheet } => {
                Fact::Floor(*floor, FloorFact::OnSheet(sheet.clone()))
            }
            Want::LeaveSlack { outlet, slack } => {
                Fact::Outlet(*outlet, OutletFact::Slack(slack.clone()))
            }
            Want::LetOutletWait { outlet, waiting } => {
                Fact::Outlet(*outlet, OutletFact::Waits(waiting.clone()))
            }
            Want::OrderOutlet { outlet, order } => {
                Fact::Outlet(*outlet, OutletFact::ChangeOrdered(order.clone()))
            }
            Want::OrderCable { cable, order } => {
                Fact::Cable(*cable, CableFact::ChangeOrdered(order.clone()))
            }
            Want::CloseWalls { room } => Fact::Room(*room, RoomFact::Covering(Cover::Closed)),
            Want::DealBoxes { deals } => return Some(self.deal(draft, deals)),
            Want::RestoreOutlet { outlet } => return Some(self.restore(draft, *outlet)),
            Want::MergeOutlets { from, into } => return Some(self.merge(draft, *from, *into)),
            Want::SplitOutlet { outlet, cables } => {
                return Some(self.split_outlet(draft, *outlet, cables));
            }
            Want::OkToCover {
                room,
                counted,
                checks,
                note,
            } => return Some(self.ok_to_cover(draft, *room, *counted, checks, note)),
            Want::NotToCover { room, reason } => {
                return Some(words(reason, "The reason").map(|reason| {
                    let reason = reason.to_owned();
                    draft.push(Fact::Room(
                        *room,
                        RoomFact::Covering(Cover::NotYet { reason }),
                    ));
                }));
            }
            _ => return None,
        };
        draft.push(fact);
        Some(Ok(()))
    }

    /// One box gives one cable at a time, or all that share a jacket.
    fn deal(&self, draft: &mut Draft, deals: &[(CableId, u16)]) -> Done {
        for (cable, number) in deals {
            let twice = deals
                .iter()
                .find(|(other, box_of)| box_of == number && !self.share_jacket(*cable, *other));
            if let Some((other, _)) = twice {
                return Err(Refusal::new(format!(
                    "{} and {} cannot both be drawn from box {number} at once. Give one of them another box.",
                    names::cable(self.registry, *cable),
                    names::cable(self.registry, *other)
                )));
            }
            let pull = self.pull_of(*cable)?;
            draft.push(Fact::Pull(pull, PullFact::DrawnFrom(*number)));
        }
        Ok(())
    }

    fn share_jacket(&self, cable: CableId, other: CableId) -> bool {
        // Two people may have put them into one, each by a jacket of its own.
        let jacket = |id| {
            let row = self.registry.cables.get(id);
            let jacket = row.and_then(|row| row.jacket.get());
            jacket.map(|jacket| self.registry.index.in_jacket.get(jacket))
        };
        cable == other || (jacket(cable).is_some() && jacket(cable) == jacket(other))
    }

    /// Nothing is added at an outlet that was taken out of the job.
    pub(super) fn refuse_cancelled(&self, outlet: OutletId) -> Done {
        let row = self.registry.outlets.get(outlet);
        match row.and_then(|row| row.standing.get()) {
            Some(Standing::Cancelled { .. }) => Err(Refusal::new(format!(
                "{} is cancelled. Bring it back first, then add the cable.",
                names::outlet(self.registry, outlet)
            ))
            .or("It is wanted again", Want::RestoreOutlet { outlet })),
            Some(Standing::Wanted) | None => Ok(()),
        }
    }

    /// What was cancelled with the outlet, for the same reason, comes back with it.
    fn restore(&self, draft: &mut Draft, outlet: OutletId) -> Done {
        let row = self.registry.outlets.get(outlet);
        let standing = row.and_then(|row| row.standing.get());
        let Some(cancelled @ Standing::Cancelled { .. }) = standing else {
            return Err(Refusal::new("This outlet is wanted already."));
        };
        draft.push(Fact::Outlet(outlet, OutletFact::Stands(Standing::Wanted)));
        let mut fed = self.registry.index.fed.get(&outlet).to_vec();
        fed.put_in_order();
        for cable in fed {
            let row = self.registry.cables.get(cable);
            if row.and_then(|row| row.standing.get()) == Some(cancelled) {
                draft.push(Fact::Cable(cable, CableFact::Stands(Standing::Wanted)));
            }
        }
        Ok(())
    }

    fn merge(&self, draft: &mut Draft, from: OutletId, into: OutletId) -> Done {
        if from == into {
            return Err(Refusal::new(
                "An outlet is merged with another one. Choose it.",
            ));
        }
        let reason = format!("Merged with {}", names::outlet(self.registry, into));
        let fed = walk::fed(self.registry, from);
        self.take_over(draft, from, into, &fed, reason)?;
        self.point_at(draft, &[(Seen::Outlet(from), Seen::Outlet(into))]);
        self.rename(draft, &fed, into)
    }

    /// What is at one outlet comes to another one. Whoever calls this names its cables.
    pub(super) fn take_over(
        &self,
        draft: &mut Draft,
        from: OutletId,
        into: OutletId,
        fed: &[CableId],
        reason: String,
    ) -> Done {
        self.refuse_between(fed, into)?;
        self.refuse_between(&walk::fed(self.registry, into), from)?;
        // What came with a change order came with it, whatever outlet it is at.
        if let Some(order) = self.change_order(from) {
            for cable in fed {
                let row = self.registry.cables.get(*cable);
                let own = row.and_then(|row| row.change_order.get());
                if own.is_none_or(String::is_empty) {
                    draft.push(Fact::Cable(*cable, CableFact::ChangeOrdered(order.clone())));
                }
            }
        }
        for (id, row) in self.registry.cables.iter() {
            if matches!(row.leaves.get(), Some(Leaves::Outlet(left)) if *left == from) {
                draft.push(Fact::Cable(id, CableFact::Leaves(Leaves::Outlet(into))));
            }
        }
        // Its photographs show what comes out at the other one from now on.
        for (id, row) in self.registry.pictures.iter() {
            if row.shows.get() == Some(&Shows::Outlet(from)) {
                draft.push(Fact::Picture(id, PictureFact::Shows(Shows::Outlet(into))));
            }
        }
        let standing = Standing::Cancelled { reason };
        draft.push(Fact::Outlet(from, OutletFact::Stands(standing)));
        Ok(())
    }

    /// A cable between two outlets would leave and end at one.
    fn refuse_between(&self, fed: &[CableId], other: OutletId) -> Done {
        for cable in fed {
            let row = self.registry.cables.get(*cable);
            if row.and_then(|row| row.leaves.get()) == Some(&Leaves::Outlet(other)) {
                let name = names::cable(self.registry, *cable);
                let reason = "Its two outlets became one".to_owned();
                let cable = *cable;
                return Err(Refusal::new(format!(
                    "{name} runs between these two outlets. Cancel it first, or say where it comes from."
                ))
                .or(format!("Cancel {name}"), Want::CancelCable { cable, reason }));
            }
        }
        Ok(())
    }

    fn split_outlet(&self, draft: &mut Draft, outlet: OutletId, cables: &[CableId]) -> Done {
        let fed = walk::fed(self.registry, outlet);
        let all = fed.iter().all(|cable| cables.contains(cable));
        if cables.is_empty() || all || cables.iter().any(|cable| !fed.contains(cable)) {
            return Err(Refusal::new(
                "Choose some of its cables, but not all: they get an outlet of their own beside it.",
            ));
        }
        let row = self.registry.outlets.get(outlet);
        let Some(at) = row.and_then(|row| row.number.get()) else {
            return Err(Refusal::new(
                "This outlet is in no room. Choose its room first.",
            ));
        };
        let number = self.next_number(at.room)?;
        let beside: OutletId = draft.mint();
        let facts = [
            Some(OutletFact::Added),
            Some(OutletFact::Numbered {
                room: at.room,
                number,
            }),
            row.and_then(|row| row.kind.get())
                .map(|kind| OutletFact::Typed(*kind)),
            row.and_then(|row| row.spot.get())
                .map(|spot| OutletFact::Placed(spot.clone())),
            row.and_then(|row| row.wall_box.get())
                .map(|kind| OutletFact::Boxed(*kind)),
            self.change_order(outlet).map(OutletFact::ChangeOrdered),
        ];
        for fact in facts.into_iter().flatten() {
            draft.push(Fact::Outlet(beside, fact));
        }
        self.rename(draft, cables, beside)
    }

    fn change_order(&self, outlet: OutletId) -> Option<String> {
        let row = self.registry.outlets.get(outlet)?;
        let order = row.change_order.get().cloned();
        order.filter(|order| !order.is_empty())
    }

    /// Names cables after another outlet, each with a letter that was never given there. A code that stands on
    /// one already stays until somebody marks it anew, and the list says so.
    fn rename(&self, draft: &mut Draft, cables: &[CableId], outlet: OutletId) -> Done {
        let mut taken: Vec<Letter> = self.letters_had(outlet, None);
        let code = self.registry.outlet_code(outlet);
        for cable in cables {
            let row = self.registry.cables.get(*cable);
            let medium = row.and_then(|row| row.medium.get()).cloned();
            let medium = medium.unwrap_or_else(|| Medium::indoor(Kind::Own(String::new())));
            let kept = row
                .and_then(|row| row.name.get())
                .and_then(|name| match name {
                    RunName::Feeds { letter, .. } => Some(*letter),
                    RunName::Ties { .. } => None,
                });
            let letter = kept
                .into_iter()
                .chain(letters_for(&medium))
                .find(|letter| !taken.contains(letter) && self.is_free(code, *letter))
                .ok_or_else(no_letter)?;
            taken.push(letter);
            self.lift_elsewhere(draft, *cable, outlet)?;
            draft.push(Fact::Cable(
                *cable,
                CableFact::Named(RunName::Feeds { outlet, letter }),
            ));
            if let Some(old) = self.registry.cable_code(*cable) {
                draft.push(Fact::Cable(*cable, CableFact::KnownAs(old.text)));
            }
        }
        Ok(())
    }

    fn ok_to_cover(
        &self,
        draft: &mut Draft,
        room: RoomId,
        counted: u16,
        checks: &[CoverCheck],
        note: &str,
    ) -> Done {
        let missing = CoverCheck::ALL.iter().any(|check| !checks.contains(check));
        if missing && note.trim().is_empty() {
            return Err(Refusal::new(
                "Not everything on the list is done. Do the rest, or say in a few words why the walls may be closed all the same.",
            ));
        }
        let mut checks = checks.to_vec();
        checks.put_in_order();
        checks.dedup();
        draft.push(Fact::Room(
            room,
            RoomFact::Covering(Cover::Ok(CoverOk {
                counted,
                checks,
                note: note.trim().to_owned(),
                known: self.journal.frontier(),
            })),
        ));
        Ok(())
    }
}
