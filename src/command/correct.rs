//! Putting right what turned out otherwise: crossed pairs, the wrong box, re-pulls, undo.

use super::{Correction, Desk, Done, Refusal, Want, words};
use crate::domain::ids::{ActId, CableId, OutletId, PullId};
use crate::domain::label::Letter;
use crate::domain::medium::{Kind, Medium};
use crate::domain::place::{End, Leaves, Place, Placement, RunName, Side};
use crate::domain::work::Standing;
use crate::journal::{
    Cable, CableFact, ConduitFact, Draft, EndFact, EndOfPull, EndRecord, Fact, FactRef, OutletFact,
    Repull, side_index,
};
use crate::names;

impl Desk<'_> {
    pub(super) fn correct(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::Uncross { ends, how } => self.uncross(draft, ends, *how),
            Want::CameOutAt { cable, outlet, how } => {
                self.came_out_at(draft, *cable, *outlet, *how)
            }
            Want::Repull { cable, reason } => self.repull(draft, *cable, reason),
            Want::WorkPast { cable } => {
                self.work_past(draft, *cable);
                Ok(())
            }
            Want::WorkHere { cable } => self.work_here(draft, *cable),
            Want::Undo { act } => self.undo(draft, *act),
            Want::KeepSaid { fact } => self.keep_said(draft, *fact),
            Want::TagsAnew { cable } => self.tags_anew(draft, *cable),
            Want::KeepTag { cable } => self.keep_tag(draft, *cable),
            Want::WithOldTags { change } => self.with_old_tags(draft, change),
            Want::WithNewTags { change } => self.with_new_tags(draft, change),
            _ => return None,
        })
    }

    /// What is known of an end of the pull that lies there now.
    pub(super) fn end_record(&self, cable: CableId, side: Side) -> Option<&EndRecord> {
        self.registry.cables.get(cable)?.end(cable, side)
    }

    /// Ends were taken for each other, each for the next in a ring. Either the tags are changed over and the
    /// record was right, or each end is where the one before it was recorded.
    fn uncross(&self, draft: &mut Draft, ends: &[End], how: Correction) -> Done {
        let is_twice = |(at, end): (usize, &End)| ends[..at].contains(end);
        if ends.len() < 2 || ends.iter().enumerate().any(is_twice) {
            return Err(Refusal::new(
                "A crossed pair is two cables. Choose the other one.",
            ));
        }
        let of: Result<Vec<EndOfPull>, Refusal> =
            ends.iter().map(|end| self.end_of(*end)).collect();
        let of = of?;
        let names = ends.iter().map(|end| names::end_code(self.registry, *end));
        let names: Vec<String> = names.collect();
        match how {
            Correction::TagsMove => {
                self.insist_on_places(draft, &of);
                self.note_change(draft, ends, &names, names::TAGS_CHANGED_OVER, false);
            }
            Correction::RecordChanges => {
                ends.iter().try_for_each(|end| self.refuse_part(*end))?;
                if !self.change_over(draft, &of) {
                    return Err(Refusal::new(format!(
                        "Neither {} is landed here, so there is nothing to change over. Change the tags instead.",
                        names.join(" nor ")
                    ))
                    .or("Tags changed over", Want::Uncross { ends: ends.to_vec(), how: Correction::TagsMove }));
                }
                // Nobody at a tester sees the tags behind the panel, so what is to be looked at is kept.
                self.note_change(draft, ends, &names, "Record changed over with ", true);
            }
        }
        Ok(())
    }

    /// Says of several ends that they are where they are recorded, so that whoever changes that without knowing
    /// that the tags were changed over disagrees: both together would cross them again.
    fn insist_on_places(&self, draft: &mut Draft, ends: &[EndOfPull]) {
        for of in ends {
            let record = self.end_record(of.end.cable, of.end.side);
            let placed = record.and_then(|record| record.placement.get(of.end.leg)?.get());
            let Some(placed) = placed.cloned() else {
                continue;
            };
            let meant = self.meant(of.end);
            if is_as_planned(&placed, meant.as_ref()) {
                draft.push(Fact::End(*of, EndFact::Planned(meant)));
            }
            draft.push(Fact::End(*of, EndFact::Placed(placed)));
        }
    }

    /// Notes at each of several cables what was changed over with the others, and that its tag wants a look
    /// where it bears one.
    fn note_change(
        &self,
        draft: &mut Draft,
        ends: &[End],
        names: &[String],
        what: &str,
        look: bool,
    ) {
        let at = names::side(self.registry, ends[0].cable, ends[0].side);
        for (place, end) in ends.iter().enumerate() {
            let record = self.end_record(end.cable, end.side);
            let is_marked = record.is_some_and(|record| !record.marks.is_empty());
            if look && !is_marked {
                continue;
            }
            let mut others = names.to_vec();
            others.remove(place);
            let mut note = [what, &names::listed(&others), " at ", &at].concat();
            if look {
                note.push_str(": see that its tag there says ");
                note.push_str(&names[place]);
            }
            draft.push(Fact::Cable(end.cable, CableFact::Noted(note)));
        }
    }

    /// Gives each of several ends what is recorded of the one before it; not done when nothing is of any.
    /// Where one was landed as planned, the plans change over too: else all would be said to belong where
    /// they are not, although somebody has just looked.
    fn change_over(&self, draft: &mut Draft, ends: &[EndOfPull]) -> bool {
        let recorded = ends.iter().map(|of| {
            let record = self.end_record(of.end.cable, of.end.side);
            let was = record.and_then(|record| record.placement.get(of.end.leg)?.get());
            (was.cloned(), self.meant(of.end))
        });
        let recorded: Vec<_> = recorded.collect();
        let plans_too = recorded.iter().any(|(was, meant)| {
            let was = was.as_ref();
            was.is_some_and(|was| is_as_planned(was, meant.as_ref()))
        });
        let mut any = false;
        for (at, of) in ends.iter().enumerate() {
            let (was, meant) = &recorded[(at + ends.len() - 1) % ends.len()];
            any |= !matches!(was, None | Some(Placement::Lifted));
            let was = was.clone().unwrap_or(Placement::Lifted);
            let placement = self.refitted(of.end, was);
            draft.push(Fact::End(*of, EndFact::Placed(placement)));
            if plans_too && *meant != recorded[at].1 {
                draft.push(Fact::End(*of, EndFact::Planned(meant.clone())));
            }
        }
        any
    }

    /// Where an end belongs.
    pub(super) fn meant(&self, end: End) -> Option<Place> {
        let row = self.registry.cables.get(end.cable)?;
        row.planned[side_index(end.side)]
            .get(end.leg)?
            .get()?
            .clone()
    }

    /// A placement of another end as it is for this one: what does not fit has an adapter.
    fn refitted(&self, end: End, placement: Placement) -> Placement {
        match placement {
            Placement::Landed { place, fitting } => {
                let fitting = self.fitting_here(end, &place, fitting);
                Placement::Landed { place, fitting }
            }
            Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => placement,
        }
    }

    /// A cable came out at another outlet than planned. Either it is named anew after that outlet
    /// and its tags come off, or it keeps its code and belongs there all the same.
    fn came_out_at(
        &self,
        draft: &mut Draft,
        cable: CableId,
        outlet: OutletId,
        how: Correction,
    ) -> Done {
        let of = self.end_of(End::whole(cable, Side::Near))?;
        let row = self.registry.cables.get(cable);
        self.refuse_no_move(cable, outlet, how)?;
        let medium = row.and_then(|row| row.medium.get()).cloned();
        let medium = medium.unwrap_or_else(|| Medium::indoor(Kind::Own(String::new())));
        let letter = self.next_letter(outlet, &medium)?;
        self.lift_elsewhere(draft, cable, outlet)?;
        match how {
            Correction::TagsMove => {
                draft.also_replaces.extend(self.marks_of(cable));
                draft.push(Fact::Cable(
                    cable,
                    CableFact::Named(RunName::Feeds { outlet, letter }),
                ));
                self.insist_on_all(draft, cable);
                let planned = row.and_then(|row| row.planned[side_index(Side::Near)].whole.get());
                if matches!(planned, Some(Some(Place::Jack { outlet: at, .. })) if *at != outlet) {
                    let jack = self.free_jack(outlet, letter);
                    let place = Place::Jack { outlet, jack };
                    draft.push(Fact::End(of, EndFact::Planned(Some(place))));
                }
                if let Some(old) = self.registry.cable_code(cable) {
                    draft.push(Fact::Cable(cable, CableFact::KnownAs(old.text)));
                }
            }
            Correction::RecordChanges => {
                let jack = self.free_jack(outlet, letter);
                let place = Place::Jack { outlet, jack };
                draft.push(Fact::End(of, EndFact::Planned(Some(place))));
            }
        }
        Ok(())
    }

    /// A cable cannot sit in a jack of another outlet than the one where it comes out.
    pub(super) fn lift_elsewhere(
        &self,
        draft: &mut Draft,
        cable: CableId,
        outlet: OutletId,
    ) -> Done {
        let of = self.end_of(End::whole(cable, Side::Near))?;
        let landed = self.end_record(cable, Side::Near);
        let landed = landed.and_then(|record| record.placement.whole.get());
        if matches!(landed, Some(Placement::Landed { place: Place::Jack { outlet: at, .. }, .. }) if *at != outlet)
        {
            draft.push(Fact::End(of, EndFact::Placed(Placement::Lifted)));
        }
        Ok(())
    }

    /// The marks on all ends that a run ever had.
    pub(super) fn marks_of(&self, cable: CableId) -> Vec<FactRef> {
        let row = self.registry.cables.get(cable).into_iter();
        let ends = row.flat_map(|row| row.copper.iter().flat_map(|(_, copper)| &copper.ends));
        ends.flat_map(|end| end.marks.iter().map(|said| said.fact))
            .collect()
    }

    /// Only a run that feeds another outlet can have come out at this one; unless two cables bear
    /// its code, when a new letter at the same outlet is what settles it.
    fn refuse_no_move(&self, cable: CableId, outlet: OutletId, how: Correction) -> Done {
        let row = self.registry.cables.get(cable);
        let name = names::cable(self.registry, cable);
        let at = names::outlet(self.registry, outlet);
        if matches!(row.and_then(|row| row.leaves.get()), Some(Leaves::Outlet(from)) if *from == outlet)
        {
            return Err(Refusal::new(format!(
                "{name} leaves {at}, so it cannot end there too. Say where it leaves first."
            )));
        }
        match row.and_then(|row| row.name.get()) {
            Some(RunName::Ties { .. }) => Err(Refusal::new(format!(
                "{name} is a tie line and joins two racks. Only a run to an outlet can come out at another one."
            ))),
            Some(RunName::Feeds { outlet: of, .. }) if *of == outlet => {
                let code = self.registry.index.cables_by_code.get(&name);
                let planned = row.and_then(|row| row.planned[side_index(Side::Near)].whole.get());
                let elsewhere =
                    matches!(planned, Some(Some(Place::Jack { outlet: at, .. })) if *at != outlet);
                let settles = match how {
                    Correction::TagsMove => code.len() > 1,
                    Correction::RecordChanges => elsewhere,
                };
                if settles {
                    return Ok(());
                }
                Err(Refusal::new(format!(
                    "{name} belongs to {at} already. Choose the outlet where it came out."
                )))
            }
            Some(RunName::Feeds { .. }) | None => Ok(()),
        }
    }

    /// The first jack of an outlet that no end is meant for.
    fn free_jack(&self, outlet: OutletId, from: Letter) -> Letter {
        let free = |jack: &Letter| {
            let place = Place::Jack {
                outlet,
                jack: *jack,
            };
            self.registry.index.planned.get(&place).is_empty()
                && self.registry.index.landed.get(&place).is_empty()
        };
        Letter::all()
            .filter(|letter| *letter >= from)
            .find(free)
            .unwrap_or(from)
    }

    fn repull(&self, draft: &mut Draft, cable: CableId, reason: &str) -> Done {
        let reason = words(reason, "The reason for the new pull")?;
        self.pull_of(cable)?;
        // Cables in one jacket are one pull.
        for cable in self.in_one_jacket(cable) {
            let pull: PullId = draft.mint();
            let reason = reason.to_owned();
            draft.push(self.repulled(cable, Repull { pull, reason }));
        }
        Ok(())
    }

    /// That a run was pulled anew, by somebody who knows of the work that is known here.
    fn repulled(&self, cable: CableId, Repull { pull, reason }: Repull) -> Fact {
        let row = self.registry.cables.get(cable);
        let known = Some(row.map(Cable::work).unwrap_or_default());
        Fact::Cable(
            cable,
            CableFact::Repulled {
                pull,
                reason,
                known,
            },
        )
    }

    fn work_past(&self, draft: &mut Draft, cable: CableId) {
        let Some(row) = self.registry.cables.get(cable) else {
            return;
        };
        match row.repull.get() {
            Some(repull) => draft.push(self.repulled(cable, repull.clone())),
            // Nobody pulled it anew, so what was said of such a pull holds no more.
            None => draft.also_replaces.extend(row.astray(cable)),
        }
    }

    fn work_here(&self, draft: &mut Draft, cable: CableId) -> Done {
        let now = self.pull_of(cable)?;
        let row = self.registry.cables.get(cable);
        for fact in row.map(|row| row.astray(cable)).unwrap_or_default() {
            let said = match self.said(fact) {
                Some(Fact::Pull(_, said)) => Fact::Pull(now, said.clone()),
                Some(Fact::End(of, said)) => {
                    self.refuse_claim(of.end, said)?;
                    let (end, pull) = (of.end, now.pull);
                    Fact::End(EndOfPull { end, pull }, said.clone())
                }
                _ => continue,
            };
            draft.push(said);
            draft.also_replaces.push(fact);
        }
        Ok(())
    }

    pub(super) fn undo(&self, draft: &mut Draft, act: ActId) -> Done {
        if self.journal.act(act).is_none() {
            return Err(Refusal::new(
                "This is not known here, so it cannot be taken back.",
            ));
        }
        if self.journal.is_struck(act) {
            return Err(Refusal::new("This was taken back already."));
        }
        self.refuse_claims_of(act)?;
        draft.strikes.push(act);
        Ok(())
    }

    /// What is said once more of an end claims its place like a new landing.
    fn refuse_claim(&self, end: End, said: &EndFact) -> Done {
        let EndFact::Placed(Placement::Landed { place, fitting }) = said else {
            return Ok(());
        };
        self.refuse_nowhere(place)?;
        self.refuse_taken(end, place, *fitting)
    }

    /// The same fact once more replaces every live value of its field, its own old one too.
    fn keep_said(&self, draft: &mut Draft, fact: FactRef) -> Done {
        let said = self.said(fact);
        let Some(said) = said.filter(|_| !self.journal.is_struck(fact.act)) else {
            return Err(Refusal::new(
                "This was taken back in the meantime. Look at the list again.",
            ));
        };
        if let Fact::End(of, said) = said {
            self.refuse_claim(of.end, said)?;
        }
        if let Fact::Outlet(outlet, OutletFact::Stands(Standing::Wanted)) = said {
            self.bring_cables_back(draft, *outlet);
        }
        let said = match said {
            Fact::Conduit(conduit, ConduitFact::Stands(Standing::Cancelled { reason })) => {
                self.cancel_conduit(draft, *conduit, reason);
                return Ok(());
            }
            Fact::Cable(cable, CableFact::Repulled { pull, reason, .. }) => {
                let (pull, reason) = (*pull, reason.clone());
                self.repulled(*cable, Repull { pull, reason })
            }
            said => said.clone(),
        };
        draft.push(said);
        Ok(())
    }

    /// Whoever said that an outlet is another one took its cables along. Where it is one of its own after all, they
    /// are.
    fn bring_cables_back(&self, draft: &mut Draft, outlet: OutletId) {
        let row = self.registry.outlets.get(outlet);
        let said = row.into_iter().flat_map(|row| row.standing.all());
        let taken = said.filter(|said| *said.value != Standing::Wanted);
        for act in taken.filter_map(|said| self.journal.act(said.stamp.act)) {
            for fact in &act.facts {
                let Fact::Cable(cable, CableFact::Cancelled { .. } | CableFact::Named(_)) = fact
                else {
                    continue;
                };
                let row = self.registry.cables.get(*cable);
                let was = row.into_iter().flat_map(|row| row.name.ever());
                let is_here = |name: &&RunName| matches!(name, RunName::Feeds { outlet: at, .. } if *at == outlet);
                if let Some(name) = was.filter(is_here).last() {
                    draft.push(Fact::Cable(*cable, CableFact::Named(*name)));
                    self.insist(draft, *cable);
                }
            }
        }
    }
}

/// Whether an end is landed where it belongs.
fn is_as_planned(placed: &Placement, meant: Option<&Place>) -> bool {
    matches!(placed, Placement::Landed { place, .. } if Some(place) == meant)
}
