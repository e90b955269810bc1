//! Work on the copper: pulls, footage, marks, tags seen, tests.

use super::{Correction, Desk, Done, Refusal, Want};
use crate::domain::ids::CableId;
use crate::domain::order::Order;
use crate::domain::place::{End, RunName};
use crate::domain::work::MarkKind;
use crate::journal::{Draft, EndFact, EndOfPull, Fact, Hold, Mark, PullFact, PullRef};
use crate::walk;

impl Desk<'_> {
    pub(super) fn mark(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::ReportPull { cables, outcome } => {
                // Cables in one jacket are one pull.
                let cables = cables.iter().flat_map(|cable| self.in_one_jacket(*cable));
                let mut cables: Vec<CableId> = cables.collect();
                cables.put_in_order();
                cables.dedup();
                cables.into_iter().try_for_each(|cable| {
                    let reported = PullFact::Reported(*outcome);
                    draft.push(Fact::Pull(self.pull_of(cable)?, reported));
                    Ok(())
                })
            }
            Want::DrawFrom { cable, number } => self
                .pull_of(*cable)
                .map(|pull| draft.push(Fact::Pull(pull, PullFact::DrawnFrom(*number)))),
            Want::ReadFootage { end, mark } => self
                .in_one_jacket(end.cable)
                .into_iter()
                .try_for_each(|cable| {
                    let of = self.end_of(End { cable, ..*end })?;
                    draft.push(Fact::End(of, EndFact::Footage(*mark)));
                    Ok(())
                }),
            Want::MarkEnds { ends, kind, copies } => ends
                .iter()
                .try_for_each(|end| self.mark_end(draft, *end, *kind, *copies)),
            Want::LoseTag { end } => self
                .end_of(*end)
                .map(|of| draft.push(Fact::End(of, EndFact::TagLost))),
            Want::SeeEnd { end, at } => self
                .end_of(*end)
                .map(|of| draft.push(Fact::End(of, EndFact::Seen { at: at.clone() }))),
            Want::TestCable { cable, test } => self
                .pull_of(*cable)
                .map(|pull| draft.push(Fact::Pull(pull, PullFact::Tested(test.clone())))),
            _ => return None,
        })
    }

    /// The pull that lies there now.
    pub(super) fn pull_of(&self, cable: CableId) -> Result<PullRef, Refusal> {
        let row = self
            .registry
            .cables
            .get(cable)
            .filter(|row| !row.added.is_empty());
        row.map(|row| PullRef {
            cable,
            pull: row.pull(cable),
        })
        .ok_or_else(|| Refusal::new("This cable is no longer in the job."))
    }

    /// The end of the pull that lies there now.
    pub(super) fn end_of(&self, end: End) -> Result<EndOfPull, Refusal> {
        self.pull_of(end.cable).map(|pull| EndOfPull {
            end,
            pull: pull.pull,
        })
    }

    /// The cable with all that share its jacket and were not withdrawn.
    pub(super) fn in_one_jacket(&self, cable: CableId) -> Vec<CableId> {
        let mut all = vec![cable];
        all.extend(walk::jacket_mates(self.registry, cable));
        all
    }

    pub(super) fn mark_end(&self, draft: &mut Draft, end: End, kind: MarkKind, copies: u8) -> Done {
        let of = self.end_of(end)?;
        if copies == 0 {
            return Err(Refusal::new("A mark is made at least once."));
        }
        let Some(code) = self.registry.cable_code(end.cable) else {
            return Err(Refusal::new(
                "This cable has no code yet, so there is nothing to write on it. Give its room a code first.",
            ));
        };
        let others = self.registry.index.cables_by_code.get(&code.text);
        if others.len() > 1 {
            let refusal = Refusal::new(format!(
                "Two cables are called {}. Give one of them another letter before you write it on either.",
                code.text
            ));
            return Err(match self.tell_apart(end.cable, others) {
                Some(want) => refusal.or("Give one of them another letter", want),
                None => refusal,
            });
        }
        draft.push(Fact::End(
            of,
            EndFact::Marked(Mark {
                kind,
                copies,
                text: code.text,
            }),
        ));
        Ok(())
    }

    /// What gives one of several cables of one code another letter: one that bears no mark yet, or
    /// else this one, whose tags come off.
    pub(super) fn tell_apart(&self, cable: CableId, all: &[CableId]) -> Option<Want> {
        let follows = |id: &CableId| {
            let code = self.registry.cable_code(*id);
            code.is_some_and(|code| code.held == Hold::Follows)
        };
        let one = all.iter().copied().find(follows).unwrap_or(cable);
        let row = self.registry.cables.get(one)?;
        let RunName::Feeds { outlet, .. } = *row.name.get()? else {
            return None;
        };
        let letter = self.next_letter(outlet, row.medium.get()?).ok()?;
        Some(if follows(&one) {
            Want::Reletter { cable: one, letter }
        } else {
            Want::CameOutAt {
                cable: one,
                outlet,
                how: Correction::TagsMove,
            }
        })
    }
}
