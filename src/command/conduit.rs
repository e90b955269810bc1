//! Conduits, and the cables in them.

use super::{Desk, Done, Fault, Laid, Refusal, Want, words};
use crate::domain::ids::{CableId, ConduitId};
use crate::domain::label::conduit_code;
use crate::domain::place::{ConduitEnd, Side};
use crate::domain::work::{Lying, Standing};
use crate::journal::{CableFact, ConduitFact, Draft, Fact};
use crate::names;

impl Desk<'_> {
    pub(super) fn conduit(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::LayConduit {
                conduit,
                number,
                laid,
            } => self.lay(draft, *conduit, *number, laid),
            Want::RenumberConduit { conduit } => self.next_conduit().map(|number| {
                draft.push(Fact::Conduit(*conduit, ConduitFact::Added { number }));
            }),
            Want::StringConduit { conduit, lying } => {
                let string = ConduitFact::PullString(*lying);
                draft.push(Fact::Conduit(*conduit, string));
                Ok(())
            }
            Want::CancelConduit { conduit, reason } => words(reason, "The reason")
                .map(|reason| self.cancel_conduit(draft, *conduit, reason)),
            Want::RestoreConduit { conduit } => {
                let wanted = ConduitFact::Stands(Standing::Wanted);
                draft.push(Fact::Conduit(*conduit, wanted));
                Ok(())
            }
            Want::PassConduit {
                cable,
                conduit,
                lying,
            } => self.pass(draft, *cable, *conduit, *lying),
            _ => return None,
        })
    }

    fn next_conduit(&self) -> Result<u16, Refusal> {
        self.registry
            .next_conduit()
            .ok_or_else(|| Refusal::new("The numbers of conduits are used up."))
    }

    /// Says what is new of a conduit; of a new one, all that is said.
    fn lay(
        &self,
        draft: &mut Draft,
        known: Option<ConduitId>,
        number: Option<u16>,
        laid: &Laid,
    ) -> Done {
        let nothing = ConduitEnd::Words(String::new());
        if laid.ends.iter().all(|at| *at == nothing) {
            let words = "Say where the conduit begins or ends.";
            return Err(Refusal::of(Fault::Missing, words));
        }
        let row = known.and_then(|id| self.registry.conduits.get(id));
        let own = row.and_then(|row| row.number.get().copied());
        let number = match number.or(own) {
            Some(0) => {
                let words = "Conduits count from 1. Give it a number from 1 up.";
                return Err(Refusal::of(Fault::Code, words));
            }
            Some(number) => number,
            None => self.next_conduit()?,
        };
        // One that shares its own number with another, as two phones may give it, can be described all the same.
        if own != Some(number) {
            self.free_number(number)?;
        }
        let conduit = known.unwrap_or_else(|| draft.mint());
        let [near, far] = laid.ends.clone();
        let facts = [
            (ConduitFact::Added { number }, false),
            (reaches(Side::Near, near.clone()), near == nothing),
            (reaches(Side::Far, far.clone()), far == nothing),
            (ConduitFact::Sized(laid.size.clone()), laid.size.is_empty()),
            (ConduitFact::Noted(laid.note.clone()), laid.note.is_empty()),
        ];
        for (fact, is_empty) in facts {
            if !(is_empty && known.is_none()) {
                self.change(draft, Fact::Conduit(conduit, fact));
            }
        }
        Ok(())
    }

    fn free_number(&self, number: u16) -> Done {
        match self.registry.conduits_numbered(number).first() {
            None => Ok(()),
            Some(taken) => Err(Refusal::of(
                Fault::Code,
                [
                    &conduit_code(number),
                    " is there already, ",
                    &names::conduit_ends(self.registry, *taken),
                    ". Open that one to change it, or take another number.",
                ]
                .concat(),
            )),
        }
    }

    /// In a conduit that there is not, no cable lies.
    pub(super) fn cancel_conduit(&self, draft: &mut Draft, conduit: ConduitId, reason: &str) {
        let reason = reason.to_owned();
        let cancelled = ConduitFact::Stands(Standing::Cancelled { reason });
        draft.push(Fact::Conduit(conduit, cancelled));
        for cable in self.registry.cables_in(conduit) {
            let lying = Lying::Out;
            let out = CableFact::PassesThrough { conduit, lying };
            draft.push(Fact::Cable(cable, out));
        }
    }

    fn pass(&self, draft: &mut Draft, cable: CableId, conduit: ConduitId, lying: Lying) -> Done {
        if lying == Lying::In && self.registry.is_conduit_cancelled(conduit) {
            return Err(Refusal::new(format!(
                "{} is cancelled. Bring it back first, or choose another one.",
                names::conduit(self.registry, conduit)
            ))
            .or("It is wanted again", Want::RestoreConduit { conduit }));
        }
        let passes = CableFact::PassesThrough { conduit, lying };
        draft.push(Fact::Cable(cable, passes));
        Ok(())
    }
}

fn reaches(side: Side, at: ConduitEnd) -> ConduitFact {
    ConduitFact::Reaches { side, at }
}
