//! What was done, by whom and when, in words.

/// The words for each kind of fact.
mod words;

use crate::domain::ids::{ActId, CableId, ThingId, WriterId};
use crate::domain::order::Order;
use crate::domain::place::{End, Fitting, Place, Placement, Position};
use crate::domain::text::folded;
use crate::domain::work::{MarkKind, PullOutcome, Standing};
use crate::journal::{
    Act, BlockFact, CableFact, ConduitFact, DeviceFact, EndFact, Fact, FactRef, FloorFact, Journal,
    LooseEndFact, OutletFact, PanelFact, PictureFact, Registry, RoomFact,
};
use crate::names;
use crate::query::rack::placement;

pub use words::{
    cover_words, kept_words, leaves_words, ok_words, shows_words, standing_words, thing_name,
    unticked,
};
use words::{fact_words, goes_without_saying};

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
    /// Who.
    pub by: String,
    /// Whether it still holds.
    pub state: DeedState,
    /// How much else was done with it, which is not told here and would be taken back too.
    pub beside: usize,
}

/// Whether what was done still holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeedState {
    /// It does.
    Holds,
    /// It was taken back.
    TakenBack,
    /// It is here in two versions, of which this is one, and neither counts.
    InTwoVersions,
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
    let act = journal.act(act);
    act.map(|act| who_of(journal, act)).unwrap_or_default()
}

/// Who said something and when: where it was said again of one of two things that are the same, who said it first, of
/// the other one.
#[must_use]
pub fn sayer(journal: &Journal, said: FactRef) -> String {
    let facts = journal.act(said.act).map_or(&[][..], |act| &act.facts);
    let Some(fact) = facts.get(said.fact as usize) else {
        return who(journal, said.act);
    };
    let gone = facts.iter().filter(|gone| is_cancelling(gone));
    let gone: Vec<Option<ThingId>> = gone
        .map(Fact::subject)
        .filter(|gone| fact.subject() != *gone)
        .collect();
    let says_so = |other: &Fact| match (fact, other) {
        // Whether the other was wanted is no word on this one.
        (Fact::Cable(_, CableFact::Stands(_)) | Fact::Outlet(_, OutletFact::Stands(_)), _) => false,
        (Fact::Cable(_, fact), Fact::Cable(_, other)) => fact == other,
        (Fact::Outlet(_, fact), Fact::Outlet(_, other)) => fact == other,
        (Fact::Pull(_, fact), Fact::Pull(_, other)) => fact == other,
        (Fact::End(of, fact), Fact::End(other_of, other)) => {
            of.end.side == other_of.end.side && (fact == other || is_jack_alike(fact, other))
        }
        _ => false,
    };
    let is_first = |act: &&Act| {
        let mut facts = act.facts.iter();
        facts.any(|other| gone.contains(&other.subject()) && says_so(other))
    };
    // Nearly always nothing goes with it, and then nobody said it before.
    let first = match gone.len() {
        0 => None,
        _ => journal
            .acts()
            .filter(is_first)
            .min_by_key(|act| act.stamp()),
    };
    who(journal, first.map_or(said.act, |act| act.id))
}

fn is_cancelling(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::Cable(_, CableFact::Cancelled { .. })
            | Fact::Outlet(_, OutletFact::Stands(Standing::Cancelled { .. }))
    )
}

/// Whether both say of an end that it is on one jack, each of its own outlet.
fn is_jack_alike(one: &EndFact, other: &EndFact) -> bool {
    let jack = |fact: &EndFact| match fact {
        EndFact::Placed(Placement::Landed {
            place: Place::Jack { jack, .. },
            ..
        }) => Some(*jack),
        _ => None,
    };
    jack(one).is_some() && jack(one) == jack(other)
}

/// How somebody is called who wrote something down.
#[must_use]
pub fn person(by: &str) -> &str {
    if by.trim().is_empty() { "somebody" } else { by }
}

/// What the records in `open` say, of which there are two versions and nothing was written down anew, with who and
/// when; each with its record and its place among the versions of it.
#[must_use]
pub fn versions(journal: &Journal, open: &[ActId]) -> Vec<(ActId, usize, String)> {
    let mut told = Vec::new();
    for all in journal.versions() {
        for (at, act) in all.iter().enumerate() {
            if open.contains(&act.id) {
                let words = act_words(journal, act, &|_| true);
                told.push((act.id, at, format!("{}: {words}", who_of(journal, act))));
            }
        }
    }
    told
}

fn who_of(journal: &Journal, act: &Act) -> String {
    let doubt = if is_before_its_time(journal, act) {
        " by that phone's clock"
    } else {
        ""
    };
    format!(
        "{}, {} {}{doubt}",
        person(&act.by),
        names::day(act.wall),
        names::hour(act.wall)
    )
}

/// Whether an act says an earlier time than something that it knew: one of the two clocks is wrong.
fn is_before_its_time(journal: &Journal, act: &Act) -> bool {
    let adding = |thing: &ThingId| ActId {
        writer: WriterId(thing.origin),
        n: thing.n,
    };
    let linked = act.replaces.iter().map(|fact| fact.act);
    let known = linked
        .chain(act.strikes.iter().copied())
        .chain(act.about.iter().map(adding));
    let mut walls = known.filter_map(|id| journal.act(id)).map(|act| act.wall);
    walls.any(|wall| wall > act.wall)
}

/// Everything that was done, the newest first.
#[must_use]
pub fn deeds(journal: &Journal) -> Vec<Deed> {
    let versions: Vec<Act> = journal.versions().into_iter().flatten().collect();
    let mut acts = journal.history();
    acts.extend(&versions);
    if !versions.is_empty() {
        acts.order_by_key(|act| act.stamp());
    }
    let acts = acts.into_iter().rev();
    acts.map(|act| deed(journal, act, &|_| true)).collect()
}

/// Everything that was done about one cable, the newest first.
#[must_use]
pub fn deeds_of(journal: &Journal, cable: CableId) -> Vec<Deed> {
    let about = about(cable);
    let acts = journal.history().into_iter().rev();
    acts.filter(|act| act.facts.iter().chain(let_go(journal, act)).any(&about))
        .map(|act| deed(journal, act, &about))
        .collect()
}

/// Whether a fact is about a cable.
fn about(cable: CableId) -> impl Fn(&Fact) -> bool {
    move |fact| {
        let joins =
            matches!(fact, Fact::LooseEnd(_, LooseEndFact::Joined(end)) if end.cable == cable);
        joins || fact.subject() == Some(cable.0)
    }
}

/// Everything that was done at one position, the newest first: what was landed, planned, patched and
/// kept there, and what left it.
#[must_use]
pub fn deeds_at(journal: &Journal, position: Position) -> Vec<Deed> {
    let is_here =
        |place: &Place| matches!(place, Place::Position { position: at, .. } if *at == position);
    let about = |fact: &Fact| match fact {
        Fact::PositionKept(at, _) => *at == position,
        Fact::PositionPatched(at, to) => *at == position || to.as_ref().is_some_and(is_here),
        Fact::End(_, EndFact::Placed(Placement::Landed { place, .. })) => is_here(place),
        Fact::End(_, EndFact::Planned(Some(place))) => is_here(place),
        _ => false,
    };
    let acts = journal.history().into_iter().rev();
    let deeds = acts.filter_map(|act| {
        // Of what left it, the fact that says where to.
        let left: Vec<End> = replaced(journal, act)
            .filter(|fact| about(fact))
            .filter_map(end_of)
            .collect();
        let tell = |fact: &Fact| {
            let leaves = || end_of(fact).is_some_and(|end| left.contains(&end));
            about(fact) || leaves()
        };
        let told = act.facts.iter().any(tell) || let_go(journal, act).any(about);
        told.then(|| deed(journal, act, &tell))
    });
    deeds.collect()
}

/// The end that is placed or planned somewhere by a fact.
fn end_of(fact: &Fact) -> Option<End> {
    match fact {
        Fact::End(at, EndFact::Placed(_) | EndFact::Planned(_)) => Some(at.end),
        _ => None,
    }
}

/// What an act did, as far as those facts say that `tell` picks.
pub(super) fn deed(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> Deed {
    Deed {
        act: act.id,
        words: act_words(journal, act, tell),
        who: who_of(journal, act),
        by: person(&act.by).to_owned(),
        state: if journal.is_struck(act.id) {
            DeedState::TakenBack
        } else if journal.act(act.id).is_some() {
            DeedState::Holds
        } else {
            DeedState::InTwoVersions
        },
        beside: beside(journal.registry(), act, tell),
    }
}

/// What an act did, in words.
#[must_use]
pub fn what_was_done(journal: &Journal, act: ActId) -> String {
    let act = journal.act(act);
    act.map(|act| act_words(journal, act, &|_| true))
        .unwrap_or_default()
}

/// What an act did to one cable, in words, without what it did to others.
#[must_use]
pub fn what_was_done_to(journal: &Journal, act: ActId, cable: CableId) -> String {
    let act = journal.act(act);
    act.map(|act| act_words(journal, act, &about(cable)))
        .unwrap_or_default()
}

/// How many facts of an act are worth telling and not told.
fn beside(registry: &Registry, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> usize {
    let untold = act.facts.iter().filter(|fact| !tell(fact));
    let is_old = is_old(act);
    let worth = |fact: &&Fact| is_old(fact) || !goes_without_saying(registry, fact);
    untold.filter(worth).count()
}

fn act_words(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> String {
    let mut told = void_marks(journal, act, tell);
    told.extend(told_facts(journal, act, tell));
    let gone = let_go(journal, act).filter(|fact| tell(fact));
    told.extend(gone.map(|fact| taken_back(&fact_words(journal.registry(), fact))));
    told.dedup();
    for struck in &act.strikes {
        // Of a record in two versions one is written down anew by what stands before.
        if told.is_empty() || journal.act(*struck).is_some() {
            told.push(struck_words(journal, *struck));
        }
    }
    if told.is_empty() {
        told.push("nothing was changed".to_owned());
    }
    let words = in_one(told);
    let mut characters = words.chars();
    let first: String = characters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    names::stopped(first + characters.as_str())
}

/// What taking an act back is called: of one that took back in its turn, that it is so again.
fn struck_words(journal: &Journal, struck: ActId) -> String {
    let Some(act) = journal.act(struck) else {
        return "something was taken back".to_owned();
    };
    let told = |act: &Act| {
        let mut facts = told_facts(journal, act, &|_| true);
        facts.dedup();
        in_one(facts)
    };
    let mut let_go = let_go(journal, act).map(|fact| fact_words(journal.registry(), fact));
    if act.facts.is_empty()
        && let Some(words) = let_go.next()
    {
        return format!("it is so again: {words}");
    }
    let before = act.strikes.first().and_then(|act| journal.act(*act));
    match before.filter(|_| act.facts.is_empty()) {
        None => taken_back(&told(act)),
        Some(before) if before.facts.is_empty() => "something was taken back once more".to_owned(),
        Some(before) => format!("it is so again: {}", told(before)),
    }
}

/// The first of what is told, and how much more there is.
fn in_one(mut told: Vec<String>) -> String {
    let more = told.len().saturating_sub(TOLD);
    told.truncate(TOLD);
    let mut words = told.join("; ");
    if more > 0 {
        words.push_str(&format!("; and {more} more"));
    }
    words
}

/// Whether a fact is about a thing that its act does not add.
fn is_old(act: &Act) -> impl Fn(&Fact) -> bool {
    let mut added: Vec<ThingId> = act.facts.iter().filter_map(Fact::adds).collect();
    added.put_in_order();
    move |fact| {
        let thing = fact.subject();
        thing.is_none_or(|thing| added.binary_search(&thing).is_err())
    }
}

/// What the facts of an act say. What is said of a thing by adding it is not said again, unless
/// nothing else would be told.
fn told_facts(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> Vec<String> {
    let registry = journal.registry();
    let is_old = is_old(act);
    let facts = act.facts.iter();
    let facts: Vec<&Fact> = facts
        .filter(|fact| tell(fact) && !insists(act, fact))
        .collect();
    let worth = |fact: &&Fact| is_old(fact) || !goes_without_saying(registry, fact);
    let words = |fact: &&Fact| fact_words(registry, fact) + &letters_before(journal, act, fact);
    let told: Vec<String> = facts
        .iter()
        .copied()
        .filter(worth)
        .map(|fact| words(&fact))
        .collect();
    if told.is_empty() {
        return facts.iter().map(words).collect();
    }
    told
}

/// Whether a fact says that a thing is wanted, or where it is, only so that whoever says otherwise meanwhile
/// disagrees with what the act says of it, or of another outlet of its code.
fn insists(act: &Act, fact: &Fact) -> bool {
    let first = act.facts.first();
    match fact {
        Fact::Outlet(_, OutletFact::Numbered { .. }) => {
            matches!(first, Some(Fact::Room(_, RoomFact::Coded(_))))
        }
        Fact::Cable(_, CableFact::InJacket(_)) => {
            matches!(first, Some(Fact::Cable(_, CableFact::Repulled { .. })))
        }
        Fact::Device(_, DeviceFact::Mounted(_)) => {
            matches!(first, Some(Fact::PositionPatched(..)))
        }
        Fact::Conduit(_, ConduitFact::Stands(Standing::Wanted))
        | Fact::Picture(_, PictureFact::Stands(Standing::Wanted))
        | Fact::Block(_, BlockFact::Stands(Standing::Wanted)) => first != Some(fact),
        Fact::Outlet(_, OutletFact::Stands(Standing::Wanted))
        | Fact::Cable(_, CableFact::Stands(Standing::Wanted)) => {
            let is_outlet = matches!(fact, Fact::Outlet(..));
            let of_it = |other: &&Fact| {
                let is_why = match other {
                    Fact::Outlet(_, OutletFact::Numbered { .. }) => is_outlet,
                    Fact::LooseEnd(_, LooseEndFact::Joined(_)) => !is_outlet,
                    _ => false,
                };
                is_why || other.subject() == fact.subject()
            };
            act.facts.iter().filter(of_it).count() > 1
        }
        _ => false,
    }
}

/// The letters that a panel had until an act gave it others. It is called by those of now, so without
/// them nobody would find what was noted of it before.
fn letters_before(journal: &Journal, act: &Act, fact: &Fact) -> String {
    let Fact::Panel(panel, PanelFact::Lettered(letters)) = fact else {
        return String::new();
    };
    let before = replaced(journal, act).find_map(|fact| match fact {
        Fact::Panel(of, PanelFact::Lettered(before)) if of == panel && before != letters => {
            Some([", before ", before.as_str()].concat())
        }
        _ => None,
    });
    before.unwrap_or_default()
}

fn taken_back(words: &str) -> String {
    format!("taken back: {words}")
}

/// The facts that an act replaces.
pub(super) fn replaced<'a>(journal: &'a Journal, act: &'a Act) -> impl Iterator<Item = &'a Fact> {
    act.replaces.iter().filter_map(|fact| {
        let facts = &journal.act(fact.act)?.facts;
        facts.get(fact.fact as usize)
    })
}

/// Where an end was that an act landed elsewhere.
#[must_use]
pub fn moved_from(journal: &Journal, act: ActId) -> Option<String> {
    let act = journal.act(act)?;
    let now: Vec<_> = act.facts.iter().filter_map(landed).collect();
    let is_moved =
        |(end, at): &(End, &Place)| now.iter().any(|(other, place)| other == end && place != at);
    let (_, at) = replaced(journal, act).filter_map(landed).find(is_moved)?;
    Some(names::place(journal.registry(), at))
}

/// Where a fact says that an end is landed.
pub(super) fn landed(fact: &Fact) -> Option<(End, &Place)> {
    match fact {
        Fact::End(of, EndFact::Placed(Placement::Landed { place, .. })) => Some((of.end, place)),
        _ => None,
    }
}

/// What an act lets go without anything in its place. Such an act says nothing else, apart from the
/// name of the floor whose number it takes away, and where an end belongs whose legs it joins.
fn let_go<'a>(journal: &'a Journal, act: &'a Act) -> impl Iterator<Item = &'a Fact> {
    let joins = || {
        let is_split = |fact: &Fact| matches!(fact, Fact::End(_, EndFact::Split(_)));
        replaced(journal, act).any(is_split)
    };
    let names = |fact: &Fact| matches!(fact, Fact::Floor(_, FloorFact::Named(_)));
    let goes_along = move |fact: &Fact| match fact {
        Fact::End(_, EndFact::Planned(_)) => joins(),
        other => names(other),
    };
    let replaced = replaced(journal, act).filter(move |fact| !names(fact));
    let lets_go = act.facts.iter().all(goes_along);
    replaced.filter(move |_| lets_go)
}

/// The marks that do not count any more because of an act.
fn void_marks(journal: &Journal, act: &Act, tell: &dyn Fn(&Fact) -> bool) -> Vec<String> {
    let replaced = replaced(journal, act).filter(|fact| tell(fact));
    let marks = replaced.filter_map(|fact| match fact {
        Fact::End(_, EndFact::Marked(mark)) => {
            Some(format!("the old marks {} are void", mark.text))
        }
        _ => None,
    });
    marks.collect()
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
        Placement::Landed { .. } => format!("is landed on {}", in_short(registry, placement)),
        Placement::Lifted => "is not landed".to_owned(),
        Placement::Spare { reason, .. } if reason.trim().is_empty() => "is spare".to_owned(),
        Placement::Spare { reason, .. } => format!("is spare: {reason}"),
        Placement::Dead { reason } if reason.trim().is_empty() => "is dead".to_owned(),
        Placement::Dead { reason } => format!("is dead: {reason}"),
    }
}

/// Why an end is spare, and where its coil is.
#[must_use]
pub fn spare_words(kept: &str, reason: &str) -> String {
    match (reason.trim(), kept.trim()) {
        (reason, "") => reason.to_owned(),
        ("", kept) => kept.to_owned(),
        (reason, kept) => format!("{reason} ({kept})"),
    }
}

/// What has become of an end, shorter: `B07`, `spare: FUTURE`.
#[must_use]
pub fn in_short(registry: &Registry, placement: &Placement) -> String {
    let Placement::Landed { place, fitting } = placement else {
        let words = placement_words(registry, placement);
        return words.trim_start_matches("is ").to_owned();
    };
    let place = names::place(registry, place);
    match fitting {
        Fitting::Direct => place,
        Fitting::Adapter => place + " with an adapter",
        Fitting::Plug => place + " with a plug of its own",
    }
}

/// Everything that people say has become of an end, where they disagree: `B13 or B40`.
#[must_use]
pub fn disagreement(registry: &Registry, end: End) -> Option<String> {
    let said = placement(registry, end)?.distinct();
    let words = said.iter().map(|said| in_short(registry, said));
    let words: Vec<String> = words.collect();
    (words.len() > 1).then(|| words.join(" or "))
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
