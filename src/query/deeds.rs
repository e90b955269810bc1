//! What was done, by whom and when, in words.

use crate::domain::ids::{ActId, CableId};
use crate::domain::place::{End, Leaves, Placement, RunName};
use crate::domain::text::folded;
use crate::domain::work::{Availability, MarkKind, PullOutcome, Standing, TestOutcome};
use crate::journal::{
    Act, CableFact, DeviceFact, EndFact, Fact, FloorFact, JobFact, Journal, LooseEndFact,
    OutletFact, OutletTypeFact, PanelFact, PullFact, RackFact, Registry, RoomFact, UnitFact,
};
use crate::names;

/// How many facts of one act are told.
const TOLD: usize = 3;

/// One thing that one person did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deed {
    /// The act.
    pub act: ActId,
    /// What was done, as a sentence.
    pub words: String,
    /// Who and when, by the clock of that phone.
    pub who: String,
    /// Whether it still holds.
    pub state: DeedState,
}

/// Whether what was done still holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeedState {
    /// It does.
    Holds,
    /// It was taken back.
    TakenBack,
}

impl Deed {
    /// Whether a text that is looked for stands in it.
    #[must_use]
    pub fn holds_text(&self, text: &str) -> bool {
        let own = folded(&format!("{} {}", self.words, self.who));
        folded(text).split(' ').all(|word| own.contains(word))
    }
}

/// Who did something and when.
#[must_use]
pub fn who(journal: &Journal, act: ActId) -> String {
    journal.act(act).map(who_of).unwrap_or_default()
}

fn who_of(act: &Act) -> String {
    let by = if act.by.trim().is_empty() {
        "somebody"
    } else {
        act.by.as_str()
    };
    format!("{by}, {} {}", names::day(act.wall), names::hour(act.wall))
}

/// Everything that was done, the newest first.
#[must_use]
pub fn deeds(journal: &Journal) -> Vec<Deed> {
    let acts = journal.history().into_iter().rev();
    acts.map(|act| deed(journal, act, &|_| true)).collect()
}

/// Everything that was done about one cable, the newest first.
#[must_use]
pub fn deeds_of(journal: &Journal, cable: CableId) -> Vec<Deed> {
    let about = |fact: &Fact| {
        let joins =
            matches!(fact, Fact::LooseEnd(_, LooseEndFact::Joined(end)) if end.cable == cable);
        joins || fact.subject() == Some(cable.0)
    };
    let acts = journal.history().into_iter().rev();
    acts.filter(|act| act.facts.iter().any(about))
        .map(|act| deed(journal, act, &about))
        .collect()
}

fn deed(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> Deed {
    Deed {
        act: act.id,
        words: act_words(journal, act, tell),
        who: who_of(act),
        state: if journal.is_struck(act.id) {
            DeedState::TakenBack
        } else {
            DeedState::Holds
        },
    }
}

fn act_words(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> String {
    let registry = journal.registry();
    let facts = act.facts.iter().filter(|fact| tell(fact));
    let mut told: Vec<String> = facts
        .filter_map(|fact| fact_words(registry, fact))
        .collect();
    told.dedup();
    for struck in &act.strikes {
        let words = journal.act(*struck).map(|act| {
            let first = act.facts.iter().find_map(|fact| fact_words(registry, fact));
            first.unwrap_or_else(|| "something taken back before".to_owned())
        });
        told.push(match words {
            Some(words) => format!("taken back: {words}"),
            None => "something was taken back".to_owned(),
        });
    }
    let more = told.len().saturating_sub(TOLD);
    told.truncate(TOLD);
    let mut words = told.join("; ");
    if words.is_empty() {
        words = "something that only a newer version of this app knows".to_owned();
    }
    if more > 0 {
        words.push_str(&format!("; and {more} more"));
    }
    let mut characters = words.chars();
    let first: String = characters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    format!("{first}{}.", characters.as_str())
}

/// What a fact says, without a full stop; none where another fact of the same act says it better.
fn fact_words(registry: &Registry, fact: &Fact) -> Option<String> {
    Some(match fact {
        Fact::Job(JobFact::Named(name)) => format!("the job is called {name}"),
        Fact::Job(JobFact::PinoutChosen(pinout)) => format!("jacks are wired T568{pinout:?}"),
        Fact::Job(JobFact::TagAddressSet(_)) => "the address on tags was set".to_owned(),
        Fact::Unit(_, UnitFact::Named(name))
        | Fact::Floor(_, FloorFact::Named(name))
        | Fact::OutletType(_, OutletTypeFact::Named(name))
        | Fact::Device(_, DeviceFact::Named(name)) => format!("{name}: named"),
        Fact::Floor(_, FloorFact::Numbered(number)) => format!("floor number {number}"),
        Fact::Room(_, RoomFact::Named(name)) => format!("{name}: a room of this name"),
        Fact::Room(id, RoomFact::Coded(code)) => {
            format!("{} has the code {code}", names::room(registry, *id))
        }
        Fact::Room(id, _) => format!("{}: changed", names::room(registry, *id)),
        Fact::OutletType(_, OutletTypeFact::Holds(_)) => "an outlet type: its cables".to_owned(),
        Fact::Outlet(id, fact) => {
            format!("{}: {}", names::outlet(registry, *id), outlet_words(fact)?)
        }
        Fact::Cable(id, fact) => format!(
            "{}: {}",
            names::cable(registry, *id),
            cable_words(registry, fact)?
        ),
        Fact::Pull(pull, fact) => format!(
            "{}: {}",
            names::cable(registry, pull.cable),
            pull_words(fact)
        ),
        Fact::End(of, fact) => format!(
            "{} {}",
            names::end(registry, of.end),
            end_words(registry, fact)
        ),
        Fact::JacketAdded(_) => "a shared jacket was added".to_owned(),
        Fact::Rack(_, RackFact::Named(name)) => format!("{name}: a rack of this name"),
        Fact::Rack(id, RackFact::InSpace(space)) => {
            format!("{} is in space {space}", names::rack(registry, *id))
        }
        Fact::Panel(id, PanelFact::Added(_)) => {
            format!("{} was added", names::panel(registry, *id))
        }
        Fact::Panel(id, PanelFact::Lettered(letters)) => {
            let now = names::panel(registry, *id);
            if now == format!("Panel {letters}") {
                return None;
            }
            format!("a panel was lettered {letters}")
        }
        Fact::PositionKept(position, kept) => {
            let at = names::position(registry, *position);
            match kept {
                Availability::Open => format!("{at} is free for use"),
                Availability::Reserved { reason } => format!("{at} is kept: {reason}"),
                Availability::Bad { reason } => format!("{at} is out of use: {reason}"),
            }
        }
        Fact::Joint(..) => "a joint was added or changed".to_owned(),
        Fact::LooseEnd(id, fact) => {
            let row = registry.loose_ends.get(*id);
            let number = row.and_then(|row| row.number.get()).copied();
            let number = number.unwrap_or_default();
            match fact {
                LooseEndFact::Added { number } => format!("loose end {number} was numbered"),
                LooseEndFact::Found(found) => format!("loose end {number} is at {}", found.place),
                LooseEndFact::Joined(end) => {
                    format!("loose end {number} is {}", names::end(registry, *end))
                }
                LooseEndFact::Parted => format!("loose end {number} was parted"),
            }
        }
        Fact::Unknown { .. }
        | Fact::Unit(_, UnitFact::Added)
        | Fact::Floor(_, FloorFact::Added)
        | Fact::OutletType(_, OutletTypeFact::Added)
        | Fact::Rack(..)
        | Fact::Panel(..)
        | Fact::Device(..) => return None,
    })
}

fn outlet_words(fact: &OutletFact) -> Option<String> {
    Some(match fact {
        OutletFact::Added => "added".to_owned(),
        OutletFact::Numbered { .. } => return None,
        OutletFact::Typed(_) => return None,
        OutletFact::Purposed(purpose) => format!("for {purpose}"),
        OutletFact::Placed(_) => "its exact place".to_owned(),
        OutletFact::Boxed(_) => "its box".to_owned(),
        OutletFact::Stands(Standing::Wanted) => "wanted again".to_owned(),
        OutletFact::Stands(Standing::Cancelled { reason }) => format!("cancelled: {reason}"),
        OutletFact::Noted(note) => format!("note: {note}"),
    })
}

fn cable_words(registry: &Registry, fact: &CableFact) -> Option<String> {
    Some(match fact {
        CableFact::Added => "added".to_owned(),
        CableFact::Named(RunName::Feeds { outlet, letter }) => {
            format!("letter {letter} at {}", names::outlet(registry, *outlet))
        }
        CableFact::Named(RunName::Ties { .. }) => return None,
        CableFact::Leaves(Leaves::Rack(Some(rack))) => {
            format!("goes to {}", names::rack(registry, *rack))
        }
        CableFact::Leaves(Leaves::Rack(None)) => "goes to a rack not chosen".to_owned(),
        CableFact::Leaves(Leaves::Outlet(from)) => {
            format!("leaves {}", names::outlet(registry, *from))
        }
        CableFact::MadeOf(medium) => medium.to_string(),
        CableFact::Purposed(purpose) if purpose.trim().is_empty() => return None,
        CableFact::Purposed(purpose) => format!("for {purpose}"),
        CableFact::InJacket(_) => "in a shared jacket".to_owned(),
        CableFact::Stands(Standing::Wanted) => "wanted again".to_owned(),
        CableFact::Stands(Standing::Cancelled { reason }) => format!("cancelled: {reason}"),
        CableFact::KnownAs(name) => format!("also called “{name}”"),
        CableFact::Noted(note) => format!("note: {note}"),
        CableFact::Repulled { reason, .. } => format!("to be pulled anew: {reason}"),
    })
}

/// How a pull went, in a few words.
#[must_use]
pub fn outcome_words(outcome: PullOutcome) -> &'static str {
    match outcome {
        PullOutcome::Pulled => "pulled",
        PullOutcome::Short => "too short",
        PullOutcome::Stuck => "stuck",
        PullOutcome::Damaged => "damaged",
    }
}

fn pull_words(fact: &PullFact) -> String {
    match fact {
        PullFact::Reported(outcome) => outcome_words(*outcome).to_owned(),
        PullFact::DrawnFrom(number) => format!("drawn from box {number}"),
        PullFact::Tested(test) => {
            let how = match test.outcome {
                TestOutcome::Passed => "test passed",
                TestOutcome::Failed => "test failed",
            };
            how.to_owned()
        }
    }
}

/// How something was marked.
#[must_use]
pub fn mark_words(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::Pen => "marked with a pen",
        MarkKind::Printed => "tag printed",
        MarkKind::Fixed => "tag fixed",
    }
}

/// What has become of an end, as the rest of a sentence about it.
#[must_use]
pub fn placement_words(registry: &Registry, placement: &Placement) -> String {
    match placement {
        Placement::Landed { place, .. } => {
            format!("is landed on {}", names::place(registry, place))
        }
        Placement::Lifted => "is not landed".to_owned(),
        Placement::Spare { reason, .. } if reason.trim().is_empty() => "is spare".to_owned(),
        Placement::Spare { reason, .. } => format!("is spare: {reason}"),
        Placement::Dead { reason } if reason.trim().is_empty() => "is dead".to_owned(),
        Placement::Dead { reason } => format!("is dead: {reason}"),
    }
}

fn end_words(registry: &Registry, fact: &EndFact) -> String {
    match fact {
        EndFact::Planned(Some(place)) => format!("belongs on {}", names::place(registry, place)),
        EndFact::Planned(None) => "has no place planned".to_owned(),
        EndFact::Placed(placement) => placement_words(registry, placement),
        EndFact::Split(legs) => format!("was split into {} legs", legs.get()),
        EndFact::Marked(mark) => format!("was {} as {}", mark_words(mark.kind), mark.text),
        EndFact::TagLost => "lost its tag".to_owned(),
        EndFact::Seen { at } => format!("was seen at {at}"),
        EndFact::Footage(mark) => format!("reads {mark}"),
    }
}

/// An end with what has become of it, for lists of both sides.
#[must_use]
pub fn end_is(registry: &Registry, end: End, placement: &Placement) -> String {
    format!(
        "{} {}",
        names::end(registry, end),
        placement_words(registry, placement)
    )
}
