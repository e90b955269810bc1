//! Conduits, and the cables in them.

use super::{Desk, Done, Laid, Refusal, Want, words};
use crate::domain::ids::{CableId, ConduitId};
use crate::domain::label::conduit_code;
use crate::domain::place::{ConduitEnd, Side};
use crate::domain::work::{Lying, Standing};
use crate::journal::{CableFact, ConduitFact, Draft, Fact};
use crate::names;

impl Desk<'_> {
    pub(super) fn conduit(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::AddConduit { number, laid } => self.add_conduit(draft, *number, laid),
            Want::DescribeConduit {
                conduit,
                number,
                laid,
            } => self
                .free_number(*number, *conduit)
                .and_then(|()| self.lay(draft, *conduit, *number, laid)),
            Want::RenumberConduit { conduit } => self.next_conduit().map(|number| {
                draft.push(Fact::Conduit(*conduit, ConduitFact::Added { number }));
            }),
            Want::StringConduit { conduit, lying } => {
                let string = ConduitFact::PullString(*lying);
                draft.push(Fact::Conduit(*conduit, string));
                Ok(())
            }
            Want::CancelConduit { conduit, reason } => {
                words(reason, "The reason").map(|reason| self.cancel(draft, *conduit, reason))
            }
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

    fn add_conduit(&self, draft: &mut Draft, number: Option<u16>, laid: &Laid) -> Done {
        let next = self.next_conduit()?;
        let number = number.unwrap_or(next);
        let conduit: ConduitId = draft.mint();
        self.free_number(number, conduit).map_err(|refusal| {
            let number = None;
            let laid = laid.clone();
            let label = format!("Number it {}", conduit_code(next));
            refusal.or(label, Want::AddConduit { number, laid })
        })?;
        self.lay(draft, conduit, number, laid)
    }

    /// Says what is new of a conduit.
    fn lay(&self, draft: &mut Draft, conduit: ConduitId, number: u16, laid: &Laid) -> Done {
        let is_said = |at: &ConduitEnd| match at {
            ConduitEnd::Words(words) => !words.trim().is_empty(),
            ConduitEnd::Outlet(_) | ConduitEnd::Rack(_) | ConduitEnd::Room(_) => true,
        };
        if !laid.ends.iter().any(is_said) {
            return Err(Refusal::new(
                "Say where the conduit begins or ends: the code of an outlet, a rack, a room, or any words.",
            ));
        }
        let mut say = |fact| self.change(draft, Fact::Conduit(conduit, fact));
        say(ConduitFact::Added { number });
        for (side, at) in Side::BOTH.into_iter().zip(laid.ends.clone()) {
            say(ConduitFact::Reaches { side, at });
        }
        for fact in [
            ConduitFact::Sized(laid.size.clone()),
            ConduitFact::Noted(laid.note.clone()),
        ] {
            // Of a new one nothing is said that is empty.
            let is_empty = laid.size.is_empty() && matches!(fact, ConduitFact::Sized(_))
                || laid.note.is_empty() && matches!(fact, ConduitFact::Noted(_));
            if !is_empty || self.registry.conduits.get(conduit).is_some() {
                say(fact);
            }
        }
        Ok(())
    }

    fn free_number(&self, number: u16, except: ConduitId) -> Done {
        if number == 0 {
            return Err(Refusal::new(
                "Conduits count from 1. Give it a number from 1 up.",
            ));
        }
        let holders = self.registry.conduits_numbered(number).into_iter();
        let Some(holder) = holders.into_iter().find(|id| *id != except) else {
            return Ok(());
        };
        Err(Refusal::new(format!(
            "{} exists already, {}. Give this conduit another number.",
            conduit_code(number),
            names::conduit_ends(self.registry, holder)
        )))
    }

    /// In a conduit that there is not, no cable lies.
    fn cancel(&self, draft: &mut Draft, conduit: ConduitId, reason: &str) {
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
        let row = self.registry.conduits.get(conduit);
        let standing = row.and_then(|row| row.standing.get());
        if let (Some(Standing::Cancelled { .. }), Lying::In) = (standing, lying) {
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
