//! Tags that come off because the code of their cable is another now.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::label::{LabelCode, OutletCode};
use crate::domain::place::{RunName, Side};
use crate::journal::{CableFact, Draft, Fact, Hold};
use crate::{names, walk};

impl Desk<'_> {
    pub(super) fn tags_anew(&self, draft: &mut Draft, cable: CableId) -> Done {
        let row = self.registry.cables.get(cable);
        let name = row.and_then(|row| row.name.get());
        let Some(label) = name.and_then(|name| self.registry.label_of(*name)) else {
            return Err(Refusal::new(
                "This cable has no other code yet. Give its room a code first.",
            ));
        };
        let label = label.to_string();
        self.refuse_borne(&label, cable)?;
        let old = self.registry.cable_code(cable).map(|code| code.text);
        let Some(old) = old.filter(|old| *old != label) else {
            return Err(Refusal::new(format!("{label} is what stands on it.")));
        };
        draft.also_replaces.extend(self.marks_of(cable));
        draft.push(Fact::Cable(cable, CableFact::KnownAs(old)));
        Ok(())
    }

    /// One act, so that one undo brings the outlet and the tags back together. Merging and splitting
    /// find free letters and keep the old names by themselves.
    pub(super) fn with_new_tags(&self, draft: &mut Draft, change: &Want) -> Done {
        self.write(change, draft)?;
        let cables = match change {
            Want::MoveOutlet {
                outlet,
                room,
                number,
            } => {
                let room = self.registry.rooms.get(*room);
                let room = room.and_then(|room| room.code.get()).copied();
                let number = *number;
                self.recoded(draft, *outlet, room.map(|room| OutletCode { room, number }))?
            }
            Want::MergeOutlets { from, .. } => walk::fed(self.registry, *from),
            Want::SplitOutlet { cables, .. } => cables.clone(),
            _ => Vec::new(),
        };
        for cable in cables {
            draft.also_replaces.extend(self.marks_of(cable));
        }
        Ok(())
    }

    /// The cables of an outlet that is to have another code, which theirs are free to follow. What
    /// stands on one now becomes an old name.
    fn recoded(
        &self,
        draft: &mut Draft,
        outlet: OutletId,
        code: Option<OutletCode>,
    ) -> Result<Vec<CableId>, Refusal> {
        let cables = walk::fed(self.registry, outlet);
        for cable in &cables {
            let row = self.registry.cables.get(*cable);
            let name = row.and_then(|row| row.name.get());
            if let (Some(RunName::Feeds { letter, .. }), Some(outlet)) = (name, code) {
                let letter = *letter;
                let label = LabelCode::Run { outlet, letter };
                self.refuse_borne(&label.to_string(), *cable)?;
            }
            let old = self.registry.cable_code(*cable);
            if let Some(old) = old.filter(|old| old.held == Hold::Frozen) {
                draft.push(Fact::Cable(*cable, CableFact::KnownAs(old.text)));
            }
        }
        Ok(cables)
    }

    fn refuse_borne(&self, label: &str, cable: CableId) -> Done {
        match self.bearers(label, Some(cable)).first() {
            None => Ok(()),
            Some(bearer) => Err(Refusal::new(format!(
                "{label} stands on the cable at {} already. Give one of the two another letter first.",
                names::side(self.registry, *bearer, Side::Near)
            ))),
        }
    }
}
