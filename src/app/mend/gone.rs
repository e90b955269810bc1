//! Work on what is out of the job, or on copper that does not lie there any more.

use super::{Desk, Mending};
use crate::app::Screen;
use crate::command::Want;
use crate::domain::ids::{ActId, CableId, ThingId};
use crate::domain::order::Order;
use crate::domain::place::{End, Placement, Side};
use crate::domain::work::Standing;
use crate::journal::{Act, Cable, FactRef, Register};
use crate::names;
use crate::query::deeds::{what_was_done_to, who};

impl Desk<'_> {
    pub(super) fn work_on_withdrawn(&self, cable: CableId) -> Mending {
        let mut mending = Mending::new(format!(
            "Somebody worked on {}, but its adding was taken back.",
            self.name(cable)
        ));
        for strike in self.taken_back_by(cable.into()) {
            mending = mending
                .because(format!("Taken back by {}.", who(self.journal, strike)))
                .or(
                    "It is a cable all the same",
                    Want::ThereAllTheSame { cable, strike },
                );
        }
        let work = self.registry.cables.get(cable).map(Cable::work);
        self.worked(mending, cable, &work.unwrap_or_default())
            .or("It is gone, and its work with it", Want::WorkGone { cable })
            .or_go("What was done", Screen::History)
    }

    /// Who did what on a cable.
    fn worked(&self, mending: Mending, cable: CableId, acts: &[ActId]) -> Mending {
        let told = acts.iter().map(|act| {
            let by = who(self.journal, *act);
            let words = what_was_done_to(self.journal, *act, cable);
            format!("{by}: {}.", words.trim_end_matches('.'))
        });
        told.fold(mending, Mending::because)
    }

    /// The facts that added a thing.
    fn adding(&self, thing: ThingId) -> Vec<FactRef> {
        let mut added: Vec<FactRef> = Vec::new();
        for act in self.journal.history() {
            let facts = (0..).zip(&act.facts);
            let adding = facts.filter(|(_, fact)| fact.adds() == Some(thing));
            added.extend(adding.map(|(fact, _)| FactRef { act: act.id, fact }));
        }
        added
    }

    /// The acts in force that took the adding of a thing back, or made something else of it.
    pub(super) fn taken_back_by(&self, thing: ThingId) -> Vec<ActId> {
        let added = self.adding(thing);
        let replaces = |act: &Act| act.replaces.iter().any(|fact| added.contains(fact));
        self.in_force(|act| strikes(act, &added) || replaces(act))
    }

    fn in_force(&self, of: impl Fn(&Act) -> bool) -> Vec<ActId> {
        let history = self.journal.history().into_iter();
        let acts = history.filter(|act| of(act)).map(|act| act.id);
        acts.filter(|act| !self.journal.is_struck(*act)).collect()
    }

    /// Work on copper that does not lie there now.
    pub(super) fn work_astray(&self, cable: CableId) -> Mending {
        let name = self.name(cable);
        let row = self.registry.cables.get(cable);
        let astray = row.map(|row| row.astray(cable)).unwrap_or_default();
        let mut acts: Vec<ActId> = astray.iter().map(|fact| fact.act).collect();
        acts.put_in_order();
        acts.dedup();
        let mut mending = match row.and_then(|row| row.repull.said()) {
            Some(said) => {
                let act = said.stamp.act;
                let by = who(self.journal, act);
                let why = &said.value.reason;
                let mending = Mending::new(format!(
                    "{name} was pulled anew without knowing of all the work on it."
                ));
                let mending = mending.because(format!("Pulled anew by {by}: “{why}”."));
                let copper = row.and_then(|row| row.copper(said.value.pull));
                if copper.is_none_or(|copper| copper.work().is_empty()) {
                    mending.or("It was not pulled anew", Want::Undo { act })
                } else {
                    mending
                }
            }
            None => Mending::new(format!(
                "Somebody worked on a new pull of {name} that was taken back."
            )),
        };
        // Who took back the pull that somebody worked on.
        let pulls = row.into_iter().flat_map(|row| &row.copper);
        for (pull, _) in pulls.filter(|(pull, _)| pull.0 != cable.0) {
            let added = self.adding(pull.0);
            for act in self.in_force(|act| strikes(act, &added)) {
                let by = who(self.journal, act);
                mending = mending
                    .because(format!("Taken back by {by}."))
                    .or("It was pulled anew all the same", Want::Undo { act });
            }
        }
        self.worked(mending, cable, &acts)
            .or(
                "That work is on the cable that lies there",
                Want::WorkHere { cable },
            )
            .or("That work is past", Want::WorkPast { cable })
            .or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn work_on_cancelled(&self, cable: CableId) -> Mending {
        let row = self.registry.cables.get(cable);
        let by = self.said_so(row.map(|row| &row.standing));
        let reason = match row.and_then(|row| row.standing.get()) {
            Some(Standing::Cancelled { reason }) => reason.clone(),
            Some(Standing::Wanted) | None => String::new(),
        };
        let unforeseen = row.map(Cable::unforeseen).unwrap_or_default();
        let how = if unforeseen.is_empty() {
            ", and an end of it is still landed"
        } else {
            " without knowing of all the work on it"
        };
        let mut mending = Mending::new(format!("{} was cancelled{how}.", self.name(cable)))
            .because(format!("Cancelled by {by}: “{reason}”."));
        mending = self.worked(mending, cable, &unforeseen);
        for side in Side::BOTH {
            let end = End::whole(cable, side);
            let landed = self.placement(end).and_then(Register::get);
            if let Some(Placement::Landed { place, .. }) = landed {
                let at = names::place(self.registry, place);
                mending = mending
                    .because(self.landed_words(end, place))
                    .or(format!("It is off {at}"), Want::Lift { end });
            }
        }
        mending = mending.or("It is still wanted", Want::RestoreCable { cable });
        if !unforeseen.is_empty() {
            mending = mending.or("It stays cancelled", Want::CancelCable { cable, reason });
        }
        mending.or_go("Show the cable", Screen::Cable(cable))
    }
}

/// Whether an act takes back one of those that said some facts.
fn strikes(act: &Act, added: &[FactRef]) -> bool {
    let mut struck = act.strikes.iter();
    struck.any(|act| added.iter().any(|fact| fact.act == *act))
}
