//! Taking something back must not put a second end where one is landed: what an act replaced
//! lives again, and in the meantime somebody else may have taken the place. What was a double claim
//! before the act is one again after it is taken back: an ordinary disagreement.

use std::cell::LazyCell;

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::{ActId, CableId, PullId};
use crate::domain::medium::Sharing;
use crate::domain::order::Order;
use crate::domain::place::{End, Fitting, Place, Placement};
use crate::domain::sorted::SortedMap;
use crate::journal::{Act, CableFact, EndFact, Fact};
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
        let at = self.place_of(&history, act).unwrap_or(history.len());
        // Asked for only where a claim would come back beside another, which is seldom.
        let before = LazyCell::new(|| self.claims_without(act, &history[..at]));
        let now = self.claims_without(act, &history);
        for claims in now.chunk_by(|one, other| one.place == other.place) {
            let place = claims[0].place;
            if self.sharing(place) == Sharing::Shared {
                continue;
            }
            let landed = self.registry.index.landed.get(place);
            let (held, back): (Vec<&Claim<'_>>, Vec<&Claim<'_>>) =
                claims.iter().partition(|claim| landed.contains(&claim.end));
            let was = |claim: &Claim<'_>| {
                let mut were = before.iter();
                were.any(|other| other.place == place && other.end == claim.end)
            };
            let pair = back.iter().find_map(|back| {
                let new = |holder: &&&Claim<'_>| !(was(back) && was(holder));
                held.iter().find(new).map(|holder| (*back, *holder))
            });
            if let Some((back, holder)) = pair {
                let here = names::place(self.registry, place);
                let mine = names::cable(self.registry, back.end.cable);
                let other = names::cable(self.registry, holder.end.cable);
                return Err(Refusal::new(format!(
                    "Taking this back would land {mine} at {here} again, but {other} is landed there{}.",
                    self.landed_since(holder.end, place)
                ))
                .or(
                    format!("{mine} is here, I see it. {other} is not."),
                    Want::LandInstead {
                        end: back.end,
                        place: place.clone(),
                        fitting: back.fitting,
                    },
                ));
            }
        }
        Ok(())
    }

    /// Where an act stands in a history.
    fn place_of(&self, history: &[&Act], act: ActId) -> Option<usize> {
        let stamp = self.journal.act(act)?.stamp();
        history.binary_search_by_key(&stamp, |act| act.stamp()).ok()
    }

    /// The places that ends would be landed at if an act of a history were taken back, by place.
    fn claims_without<'a>(&self, act: ActId, history: &[&'a Act]) -> Vec<Claim<'a>> {
        let live = self.live_facts(history, act);
        let pulls = live.iter().filter_map(|fact| match fact {
            Fact::Cable(cable, CableFact::Repulled { pull, .. }) => Some((*cable, *pull)),
            _ => None,
        });
        let pulls: SortedMap<CableId, PullId> = pulls.collect();
        let claims = live.into_iter().filter_map(|fact| {
            let Fact::End(of, EndFact::Placed(Placement::Landed { place, fitting })) = fact else {
                return None;
            };
            let cable = of.end.cable;
            let pull = pulls.get(&cable).copied().unwrap_or(PullId(cable.0));
            (pull == of.pull).then_some(Claim {
                place,
                end: of.end,
                fitting: *fitting,
            })
        });
        let mut claims: Vec<Claim<'a>> = claims.collect();
        claims.order_by(|one, other| one.place.cmp(other.place));
        claims
    }

    /// The facts that would count without an act, in the order of the history. Links point to
    /// smaller counters only, so that one walk from the newest act to the oldest settles who counts.
    fn live_facts<'a>(&self, history: &[&'a Act], without: ActId) -> Vec<&'a Fact> {
        let older = |target: ActId, act: &Act| {
            let at = self.place_of(history, target)?;
            (history[at].lamport < act.lamport).then_some(at)
        };
        let mut struck = vec![false; history.len()];
        let mut replaced = Vec::new();
        for (at, act) in history.iter().enumerate().rev() {
            struck[at] |= act.id == without;
            if struck[at] {
                continue;
            }
            for target in &act.strikes {
                if let Some(at) = older(*target, act) {
                    struck[at] = true;
                }
            }
            let targets = act.replaces.iter();
            replaced.extend(targets.filter_map(|fact| Some((older(fact.act, act)?, fact.fact))));
        }
        replaced.put_in_order();
        let unstruck = history.iter().enumerate().filter(|(at, _)| !struck[*at]);
        unstruck
            .flat_map(|(at, act)| {
                (0..)
                    .zip(&act.facts)
                    .map(move |(fact, content)| ((at, fact), content))
            })
            .filter(|(at, _)| replaced.binary_search(at).is_err())
            .map(|(_, content)| content)
            .collect()
    }
}

/// An end that would be landed somewhere.
struct Claim<'a> {
    place: &'a Place,
    end: End,
    fitting: Fitting,
}
