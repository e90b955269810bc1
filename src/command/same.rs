//! Two runs that turn out to be one cable, noted by two people: one of them stays, with what only the
//! other one knew; the other is out of the job and gives up its code.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::CableId;
use crate::domain::place::{End, Side};
use crate::domain::work::Standing;
use crate::journal::{CableFact, Draft, EndFact, Fact, PullFact};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn same(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        match want {
            Want::SameCable { stays, goes } => Some(self.same_cable(draft, *stays, *goes)),
            _ => None,
        }
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
        let (kept, copper) = (kept.copper(of_stays.pull), gone.copper(of_goes.pull));
        // Its code is the other's from now on, and with it everything that stands on its copper.
        draft
            .also_replaces
            .extend(gone.name.all().map(|said| said.fact));
        draft.also_replaces.extend(self.marks_of(goes));
        if let Some(outcome) = copper.and_then(|copper| copper.outcome.get()) {
            let is_said = kept.is_some_and(|kept| kept.outcome.get().is_some());
            if !is_said {
                draft.push(Fact::Pull(of_stays, PullFact::Reported(*outcome)));
            }
        }
        for side in Side::BOTH {
            let of = self.end_of(End::whole(stays, side))?;
            let known = self.end_record(stays, side);
            let Some(record) = self.end_record(goes, side) else {
                continue;
            };
            if known.is_none_or(|known| known.marks.iter().next().is_none()) {
                let marks = record.marks.iter();
                let marks = marks.map(|said| Fact::End(of, EndFact::Marked(said.value.clone())));
                draft.facts.extend(marks);
            }
            let placed = |record: &crate::journal::EndRecord| record.placement.whole.get().cloned();
            if let Some(placement) = placed(record) {
                let claims = record.placement.whole.all().map(|said| said.fact);
                draft.also_replaces.extend(claims);
                if known.and_then(placed).is_none() {
                    draft.push(Fact::End(of, EndFact::Placed(placement)));
                }
            }
            let planned = rows
                .get(goes)
                .map(|row| &row.planned[crate::journal::side_index(side)]);
            let plans = planned.into_iter().flat_map(|planned| planned.whole.all());
            draft.also_replaces.extend(plans.map(|said| said.fact));
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
        let standing = Standing::Cancelled { reason };
        draft.push(Fact::Cable(goes, CableFact::Stands(standing)));
        Ok(())
    }
}
