//! Tags that come off because the code of their cable is another now.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::label::{LabelCode, OutletCode};
use crate::domain::place::{RunName, Side};
use crate::journal::{CableFact, Draft, Fact, Hold, OutletFact};
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

    /// What stands on a cable stays, whatever it is called now.
    pub(super) fn keep_tag(&self, draft: &mut Draft, cable: CableId) -> Done {
        let row = self.registry.cables.get(cable);
        let name = row.and_then(|row| row.name.get());
        match name.and_then(|name| self.registry.label_of(*name)) {
            Some(label) => self.keep_beside(draft, cable, label),
            None => return Err(Refusal::new("This cable has no other code yet.")),
        }
        Ok(())
    }

    fn keep_beside(&self, draft: &mut Draft, cable: CableId, label: LabelCode) {
        let code = self.registry.cable_code(cable);
        let tag = code.filter(|code| code.held == Hold::Frozen);
        let called = label.to_string();
        if let Some(tag) = tag.map(|code| code.text).filter(|tag| *tag != called) {
            draft.push(Fact::Cable(cable, CableFact::TagKept { tag, called }));
        }
    }

    /// One act, so that the question whether the tags are right is answered with the change.
    pub(super) fn with_old_tags(&self, draft: &mut Draft, change: &Want) -> Done {
        self.write(change, draft)?;
        let mut coded: Vec<(OutletId, OutletCode)> = Vec::new();
        let mut named: Vec<(CableId, RunName)> = Vec::new();
        for fact in &draft.facts {
            if let Fact::Outlet(outlet, OutletFact::Numbered { room, number }) = fact {
                let room = self.registry.rooms.get(*room);
                let room = room.and_then(|room| room.code.get()).copied();
                let number = *number;
                coded.extend(room.map(|room| (*outlet, OutletCode { room, number })));
                named.extend(
                    walk::fed(self.registry, *outlet)
                        .into_iter()
                        .filter_map(|cable| {
                            let name = self.registry.cables.get(cable)?.name.get()?;
                            Some((cable, *name))
                        }),
                );
            } else if let Fact::Cable(cable, CableFact::Named(name)) = fact {
                named.push((*cable, *name));
            }
        }
        for (cable, name) in named {
            if let RunName::Feeds { outlet, letter } = name {
                let new = coded.iter().find(|(of, _)| *of == outlet);
                let code = new.map(|(_, code)| *code);
                let code = code.or_else(|| self.registry.outlet_code(outlet));
                if let Some(outlet) = code {
                    self.keep_beside(draft, cable, LabelCode::Run { outlet, letter });
                }
            }
        }
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
