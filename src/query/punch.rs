//! The punch list as it is worked down: findings that one tap mends together stand together.

use super::check::{Finding, Gate, Thing, What};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::order::Order;
use crate::domain::place::End;

/// One item of the list: one finding, or several of one kind at one outlet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// When it is due.
    pub gate: Gate,
    /// The outlet under which it stands.
    pub outlet: Option<OutletId>,
    /// The findings; never empty.
    pub findings: Vec<Finding>,
}

impl Item {
    /// Under which gate it is asked for by whoever is at `gate`: a cable that is not verified is asked for before
    /// the trim, and before the handover once more.
    fn asked_at(&self, gate: Gate) -> Gate {
        let is_proof = matches!(self.findings[0].what, What::NotVerified { .. });
        if is_proof && gate == Gate::BeforeHandover {
            gate
        } else {
            self.gate
        }
    }

    /// Whether it is what people disagree about of a cable.
    #[must_use]
    pub fn is_settled_for(&self, cable: CableId) -> bool {
        let is_it = |end: &End| end.cable == cable;
        self.findings.iter().any(|finding| match &finding.what {
            What::DoubleClaim { ends, .. } | What::PatchedTwice { ends, .. } => {
                ends.iter().any(is_it)
            }
            What::EndAtTwoPlaces { end, .. } | What::EndDisputed { end } => is_it(end),
            What::Disputed { thing, .. } => match thing {
                Thing::Cable(about) => *about == cable,
                Thing::End(end) => is_it(end),
                _ => false,
            },
            What::CodeTwice { cables } => cables.contains(&cable),
            _ => false,
        })
    }
}

/// What is due at a gate, each under the gate that it is asked for at: that gate first, then what should be done
/// already, gate by gate.
#[must_use]
pub fn due_at(items: &[Item], gate: Gate) -> Vec<(Gate, &Item)> {
    let due = items.iter().filter(|item| item.gate <= gate);
    let mut due: Vec<(Gate, &Item)> = due.map(|item| (item.asked_at(gate), item)).collect();
    due.order_by_key(|(asked, _)| (*asked != gate, *asked));
    due
}

/// Puts what people disagree about of a cable before all else.
pub fn begin_with(due: &mut [(Gate, &Item)], cable: CableId) {
    due.order_by_key(|(_, item)| !item.is_settled_for(cable));
}

/// Puts findings together: at one outlet, all cables not pulled are one item, and so are all ends
/// not marked, all cables not tested and all for which no rack is chosen. Everything else stands alone.
#[must_use]
pub fn items(findings: Vec<Finding>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    for finding in findings {
        let joins = items.last().is_some_and(|item| {
            item.gate == finding.gate
                && item.outlet == finding.outlet
                && item.outlet.is_some()
                && is_one_work(&item.findings[0].what, &finding.what)
        });
        match items.last_mut().filter(|_| joins) {
            Some(item) => item.findings.push(finding),
            None => items.push(Item {
                gate: finding.gate,
                outlet: finding.outlet,
                findings: vec![finding],
            }),
        }
    }
    items
}

fn is_one_work(a: &What, b: &What) -> bool {
    matches!(
        (a, b),
        (What::NotPulled { .. }, What::NotPulled { .. })
            | (What::NotMarked { .. }, What::NotMarked { .. })
            | (What::NotVerified { .. }, What::NotVerified { .. })
            | (What::NoRackChosen { .. }, What::NoRackChosen { .. })
    )
}
