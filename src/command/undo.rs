//! Taking something back must not put a second end where one is landed: what an act replaced
//! lives again, and in the meantime somebody else may have taken the place. What was a double claim
//! before the act is one again after it is taken back: an ordinary disagreement.

use std::collections::{BTreeMap, BTreeSet};

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{ActId, CableId, PullId};
use crate::domain::medium::Sharing;
use crate::domain::place::{End, Fitting, Place, Placement};
use crate::journal::{Act, CableFact, EndFact, Fact, FactRef};
use crate::names;

impl Desk<'_> {
    /// A claim that would come back is refused like a new one.
    pub(super) fn refuse_claims_of(&self, act: ActId) -> Done {
        // Nothing lives again unless the act replaced or struck something, or hid an earlier pull.
        let revives = self.journal.act(act).is_some_and(|act| {
            let repulled = |fact: &Fact| matches!(fact, Fact::Cable(_, CableFact::Repulled { .. }));
            !act.replaces.is_empty() || !act.strikes.is_empty() || act.facts.iter().any(repulled)
        });
        if !revives {
            return Ok(());
        }
        let history = self.journal.history();
        let since = self.journal.act(act).map(Act::stamp);
        let earlier: Vec<&Act> = history
            .iter()
            .copied()
            .filter(|other| Some(other.stamp()) < since)
            .collect();
        let before = claims_without(act, &earlier);
        for (place, claims) in claims_without(act, &history) {
            if self.sharing(&place) == Sharing::Shared {
                continue;
            }
            let landed = self.registry.index.landed.get(&place);
            let (now, back): (Vec<&Claim>, Vec<&Claim>) =
                claims.iter().partition(|claim| landed.contains(&claim.end));
            let was = |claim: &Claim| {
                let were = before.get(&place);
                were.is_some_and(|were| were.iter().any(|other| other.end == claim.end))
            };
            let pair = back.iter().find_map(|back| {
                let new = |holder: &&&Claim| !(was(back) && was(holder));
                now.iter().find(new).map(|holder| (*back, *holder))
            });
            if let Some((back, holder)) = pair {
                let here = names::place(self.registry, &place);
                let mine = names::cable(self.registry, back.end.cable);
                let other = names::cable(self.registry, holder.end.cable);
                return Err(Refusal::new(format!(
                    "Taking this back would land {mine} at {here} again, but {other} is landed there{}.",
                    self.landed_since(holder.end, &place)
                ))
                .or(
                    format!("{mine} is here, I see it. {other} goes back to not landed."),
                    Want::LandInstead {
                        end: back.end,
                        place,
                        fitting: back.fitting,
                    },
                ));
            }
        }
        Ok(())
    }
}

/// The places that ends would be landed at if an act of a history were taken back.
fn claims_without(act: ActId, history: &[&Act]) -> BTreeMap<Place, Vec<Claim>> {
    let live = live_facts(history, act);
    let mut pulls: BTreeMap<CableId, PullId> = BTreeMap::new();
    for fact in &live {
        if let Fact::Cable(cable, CableFact::Repulled { pull, .. }) = fact {
            pulls.insert(*cable, *pull);
        }
    }
    let mut claims: BTreeMap<Place, Vec<Claim>> = BTreeMap::new();
    for fact in live {
        let Fact::End(of, EndFact::Placed(Placement::Landed { place, fitting })) = fact else {
            continue;
        };
        let cable = of.end.cable;
        if pulls.get(&cable).copied().unwrap_or(PullId(cable.0)) == of.pull {
            claims.entry(place.clone()).or_default().push(Claim {
                end: of.end,
                fitting: *fitting,
            });
        }
    }
    claims
}

/// An end that would be landed somewhere.
struct Claim {
    end: End,
    fitting: Fitting,
}

/// The facts that would count without an act, in the order of display. Links point to smaller
/// counters only, so that one walk from the newest act to the oldest settles who counts.
fn live_facts<'a>(history: &[&'a Act], without: ActId) -> Vec<&'a Fact> {
    let mut struck = BTreeSet::from([without]);
    let mut replaced: BTreeSet<FactRef> = BTreeSet::new();
    let counters: BTreeMap<ActId, _> = history.iter().map(|act| (act.id, act.lamport)).collect();
    let mut live = Vec::new();
    for act in history.iter().rev() {
        if struck.contains(&act.id) {
            continue;
        }
        let before = |other: &ActId| counters.get(other).is_some_and(|at| *at < act.lamport);
        struck.extend(act.strikes.iter().filter(|target| before(target)));
        replaced.extend(act.replaces.iter().filter(|fact| before(&fact.act)));
        let counted = (0..)
            .zip(&act.facts)
            .filter(|(fact, _)| {
                !replaced.contains(&FactRef {
                    act: act.id,
                    fact: *fact,
                })
            })
            .map(|(_, content)| content);
        live.extend(counted.collect::<Vec<_>>().into_iter().rev());
    }
    live.reverse();
    live
}
