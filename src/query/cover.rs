//! Which walls may be closed: what is missing in each room, who signed for it, and what has
//! happened since.

use super::deeds::{self, deed, ok_words, replaced, who};
use super::pictures::room_then;
use super::run::{shown_outlet, waits};
use super::wall::{EndHere, MarkState, PullState, ends};
use crate::domain::ids::{ActId, CableId, OutletId, RoomId};
use crate::domain::order::Order;
use crate::domain::picture::Shows;
use crate::domain::place::{End, Leaves, Place, Side};
use crate::domain::work::{CoverCheck, PullOutcome, Standing, TestOutcome, WaitsFor};
use crate::journal::{
    Act, CableFact, Cover, CoverOk, EndFact, Fact, Journal, OutletFact, PictureFact, PullFact,
    Registry, Stamp,
};
use crate::{names, walk};

/// A room before its walls are closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomToCover {
    /// The room.
    pub room: RoomId,
    /// What it is called.
    pub name: String,
    /// How many cables come out of its walls.
    pub cables: usize,
    /// What is missing, each as a sentence of its own.
    pub missing: Vec<Missing>,
    /// Whether it may be covered.
    pub state: CoverState,
}

/// What is missing in a room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// These cables are not pulled from end to end.
    NotPulled(Vec<String>),
    /// These cables do not bear their code here.
    NotMarked(Vec<String>),
    /// No picture shows the walls at these outlets.
    NoPicture(Vec<String>),
    /// Nobody said what box these outlets have.
    NoBox(Vec<String>),
    /// Nobody said what is coiled behind these outlets.
    NoSlack(Vec<String>),
    /// This outlet waits.
    Waits {
        /// Which.
        outlet: String,
        /// For whom, and with what question.
        words: String,
    },
}

impl Missing {
    fn count(&self) -> usize {
        match self {
            Self::NotPulled(codes)
            | Self::NotMarked(codes)
            | Self::NoPicture(codes)
            | Self::NoBox(codes)
            | Self::NoSlack(codes) => codes.len(),
            Self::Waits { .. } => 1,
        }
    }
}

/// Whether the walls of a room may be closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CoverState {
    /// Nobody said so.
    Open,
    /// Somebody said that they must not, and why.
    NotYet(String),
    /// Somebody signed for it.
    Ok {
        /// Who and when.
        who: String,
        /// What was signed.
        ok: CoverOk,
    },
    /// Somebody signed for it, and something happened since.
    Reopened {
        /// Who had signed, and when.
        who: String,
        /// What happened, each as a sentence with who did it.
        why: Vec<String>,
    },
    /// They are closed. What is missing all the same is missing until the plaster dries.
    Closed {
        /// What was done after that, each as a sentence with who did it. What another phone did
        /// without knowing of it is here where it stands behind it in what was done.
        since: Vec<String>,
    },
}

impl RoomToCover {
    /// Whether the walls must not be closed yet, or are closed over something that is missing.
    #[must_use]
    pub fn is_open(&self) -> bool {
        match self.state {
            CoverState::Ok { .. } => false,
            CoverState::Closed { .. } => !self.missing.is_empty(),
            CoverState::Open | CoverState::NotYet(_) | CoverState::Reopened { .. } => true,
        }
    }

    /// How much is missing, each cable and each outlet for itself: `1 thing left`, `3 things left`.
    #[must_use]
    pub fn things_left(&self) -> String {
        match self.missing.iter().map(Missing::count).sum() {
            1 => "1 thing left".to_owned(),
            count => format!("{count} things left"),
        }
    }

    /// What was signed, in words, with what it was signed in spite of; none when it does not hold.
    #[must_use]
    pub fn ok_words(&self) -> Option<String> {
        let CoverState::Ok { ok, .. } = &self.state else {
            return None;
        };
        let mut open = self.in_the_way();
        if ok.checks.contains(&CoverCheck::Counted) && usize::from(ok.counted) != self.cables {
            open.insert(0, format!("counted {} of {}", ok.counted, self.cables));
        }
        Some(ok_words(ok, open))
    }

    /// What no tick on the list speaks of: cables that are not pulled, and outlets that wait.
    #[must_use]
    pub fn in_the_way(&self) -> Vec<String> {
        let words = |missing: &Missing| match missing {
            Missing::NotPulled(codes) => Some(format!("{} not pulled", codes.join(", "))),
            Missing::Waits { outlet, .. } => Some(format!("{outlet} waits")),
            Missing::NotMarked(_)
            | Missing::NoPicture(_)
            | Missing::NoBox(_)
            | Missing::NoSlack(_) => None,
        };
        self.missing.iter().filter_map(words).collect()
    }

    /// Whether the records leave it open that something on the list is so, as they cannot know it.
    #[must_use]
    pub fn may_be_so(&self, check: CoverCheck) -> bool {
        let lacks = |what: fn(&Missing) -> bool| self.missing.iter().any(what);
        match check {
            CoverCheck::Counted => !lacks(|missing| matches!(missing, Missing::NotPulled(_))),
            CoverCheck::Boxes => !lacks(|missing| matches!(missing, Missing::NoBox(_))),
            CoverCheck::NailPlates => true,
            CoverCheck::Marked | CoverCheck::Photographed | CoverCheck::Slack => false,
        }
    }

    /// What the records themselves show to be done of the list.
    #[must_use]
    pub fn shown(&self) -> Vec<CoverCheck> {
        let lacks = |what: fn(&Missing) -> bool| self.missing.iter().any(what);
        let shown = [
            (
                CoverCheck::Marked,
                lacks(|missing| matches!(missing, Missing::NotMarked(_))),
            ),
            (
                CoverCheck::Photographed,
                lacks(|missing| matches!(missing, Missing::NoPicture(_))),
            ),
            (
                CoverCheck::Slack,
                lacks(|missing| matches!(missing, Missing::NoSlack(_))),
            ),
        ];
        let done = shown.into_iter().filter(|(_, lacks)| !lacks);
        done.map(|(check, _)| check).collect()
    }
}

/// The rooms with outlets in walking order, and those that had something in their walls.
#[must_use]
pub fn rooms(journal: &Journal) -> Vec<RoomToCover> {
    let registry = journal.registry();
    let rooms = walk::rooms(registry).into_iter();
    let mut rooms: Vec<RoomToCover> = rooms.filter_map(|room| one(journal, room)).collect();
    reopen(journal, &mut rooms);
    rooms
}

/// One room; none when it has no outlet and never had anything in its walls that was signed for or
/// photographed.
#[must_use]
pub fn room(journal: &Journal, id: RoomId) -> Option<RoomToCover> {
    let mut rooms = vec![one(journal, id)?];
    reopen(journal, &mut rooms);
    rooms.pop()
}

fn one(journal: &Journal, id: RoomId) -> Option<RoomToCover> {
    let registry = journal.registry();
    let outlets = walk::outlets(registry, id);
    if outlets.is_empty() && !had_something(registry, id) {
        return None;
    }
    let here: Vec<EndHere> = outlets
        .iter()
        .flat_map(|outlet| ends(registry, *outlet))
        .collect();
    let mut cables: Vec<CableId> = here.iter().map(|end| end.end.cable).collect();
    cables.put_in_order();
    cables.dedup();
    Some(RoomToCover {
        room: id,
        name: names::room(registry, id),
        cables: cables.len(),
        missing: missing(registry, id, &outlets, &here),
        state: state(journal, id),
    })
}

/// Whether somebody ever signed for a room, or pictures show what is or was in its walls.
fn had_something(registry: &Registry, id: RoomId) -> bool {
    let row = registry.rooms.get(id);
    let mut signed = row.into_iter().flat_map(|row| row.cover.ever());
    let outlets = registry.index.outlets_in.get(&id);
    signed.next().is_some()
        || pictured(registry).iter().any(|shows| match shows {
            Shows::Room(room) => *room == id,
            Shows::Outlet(outlet) => outlets.contains(outlet),
            Shows::LooseEnd(_) | Shows::Plan(_) => false,
        })
}

fn missing(
    registry: &Registry,
    room: RoomId,
    outlets: &[OutletId],
    here: &[EndHere],
) -> Vec<Missing> {
    let codes = |of: &dyn Fn(&EndHere) -> bool| -> Vec<String> {
        let mut codes: Vec<String> = here
            .iter()
            .filter(|end| of(end))
            .map(|end| end.code.clone())
            .collect();
        codes.dedup();
        codes
    };
    let named = |of: &dyn Fn(OutletId) -> bool| -> Vec<String> {
        let lacking = outlets.iter().copied().filter(|outlet| of(*outlet));
        lacking
            .map(|outlet| names::outlet(registry, outlet))
            .collect()
    };
    let row = |outlet| registry.outlets.get(outlet);
    let shown = pictured(registry);
    let lists = [
        Missing::NotPulled(codes(&|end| end.pull != PullState::Pulled)),
        Missing::NotMarked(codes(&|end| !matches!(end.mark, MarkState::Yes(_)))),
        Missing::NoPicture(named(&|outlet| {
            !shown.contains(&Shows::Room(room)) && !shown.contains(&Shows::Outlet(outlet))
        })),
        Missing::NoBox(named(&|outlet| {
            row(outlet).is_none_or(|row| row.wall_box.get().is_none())
        })),
        Missing::NoSlack(named(&|outlet| {
            row(outlet).is_none_or(|row| row.slack.get().is_none())
        })),
    ];
    let some = |missing: &Missing| match missing {
        Missing::NotPulled(names)
        | Missing::NotMarked(names)
        | Missing::NoPicture(names)
        | Missing::NoBox(names)
        | Missing::NoSlack(names) => !names.is_empty(),
        Missing::Waits { .. } => true,
    };
    let mut missing: Vec<Missing> = lists.into_iter().filter(some).collect();
    for outlet in outlets {
        if let Some(waits) = row(*outlet).and_then(waits) {
            missing.push(Missing::Waits {
                outlet: names::outlet(registry, *outlet),
                words: waits.to_string(),
            });
        }
    }
    missing
}

/// What wanted pictures show; not an outlet that was in another room then.
fn pictured(registry: &Registry) -> Vec<Shows> {
    let pictures = registry.pictures.iter();
    let wanted =
        pictures.filter(|(_, row)| row.digest.get().is_some() && !row.standing.is_cancelled());
    let shown = wanted.filter_map(|(_, row)| {
        let (shows, said) = (row.shows.get()?, row.digest.said()?);
        let is_moved = matches!(shows, Shows::Outlet(outlet) if room_then(registry, *outlet, said.stamp).is_some());
        (!is_moved).then_some(*shows)
    });
    shown.collect()
}

/// What was said last. Where people disagree, the walls stay open; who says OK twice does not disagree.
fn state(journal: &Journal, room: RoomId) -> CoverState {
    let row = journal.registry().rooms.get(room);
    let Some(said) = row.and_then(|row| row.cover.said()) else {
        return CoverState::Open;
    };
    let oks = oks(journal.registry(), room);
    if let Some((_, first)) = oks.first() {
        let signers: Vec<String> = oks.iter().map(|(act, _)| who(journal, *act)).collect();
        return CoverState::Ok {
            who: names::listed(&signers),
            ok: oks[1..]
                .iter()
                .fold((*first).clone(), |sum, (_, ok)| both(sum, ok)),
        };
    }
    if row.is_some_and(|row| row.cover.disputed()) {
        return CoverState::NotYet("people disagree about it".to_owned());
    }
    match said.value {
        Cover::NotYet { reason } => CoverState::NotYet(reason.clone()),
        Cover::Ok(_) => CoverState::Open,
        Cover::Closed => CoverState::Closed { since: Vec::new() },
    }
}

/// Every OK that holds for a room, with its act; none where anybody says something else.
fn oks(registry: &Registry, room: RoomId) -> Vec<(ActId, &CoverOk)> {
    let said = registry.rooms.get(room).into_iter();
    let said = said.flat_map(|row| row.cover.all());
    let oks: Option<Vec<_>> = said
        .map(|said| match said.value {
            Cover::Ok(ok) => Some((said.stamp.act, ok)),
            Cover::NotYet { .. } | Cover::Closed => None,
        })
        .collect();
    oks.unwrap_or_default()
}

/// What two people looked at together.
fn both(mut sum: CoverOk, other: &CoverOk) -> CoverOk {
    if !sum.checks.contains(&CoverCheck::Counted) {
        sum.counted = other.counted;
    }
    sum.checks.extend(&other.checks);
    if sum.note.is_empty() {
        sum.note.clone_from(&other.note);
    } else if !other.note.is_empty() && other.note != sum.note {
        sum.note = format!("{}; {}", sum.note, other.note);
    }
    sum
}

/// Looks through what was done for what those who signed or closed did not know.
fn reopen(journal: &Journal, rooms: &mut [RoomToCover]) {
    let mut signed: Vec<(usize, Seen<'_>)> = Vec::new();
    for (at, room) in rooms.iter().enumerate() {
        let oks = oks(journal.registry(), room.room).into_iter();
        signed.extend(oks.map(|(_, ok)| (at, Seen::Named(&ok.known))));
        if let CoverState::Closed { .. } = room.state {
            let row = journal.registry().rooms.get(room.room);
            let closed = row.and_then(|row| row.cover.said());
            signed.extend(closed.map(|said| (at, Seen::Before(said.stamp))));
        }
    }
    if signed.is_empty() {
        return;
    }
    for act in journal.history() {
        for (at, seen) in &signed {
            if seen.holds(act) {
                continue;
            }
            let room = &mut rooms[*at];
            if let Some(words) = change(journal, act, room.room, *seen) {
                room.state.reopen(words);
            }
        }
    }
}

impl CoverState {
    fn reopen(&mut self, words: String) {
        match self {
            // What neither of two signers knew is said once.
            Self::Reopened { why, .. } => {
                if why.last() != Some(&words) {
                    why.push(words);
                }
            }
            Self::Ok { who, .. } => {
                *self = Self::Reopened {
                    who: std::mem::take(who),
                    why: vec![words],
                };
            }
            Self::Closed { since } => since.push(words),
            Self::Open | Self::NotYet(_) => {}
        }
    }
}

/// What somebody knew who signed or closed.
#[derive(Clone, Copy)]
enum Seen<'a> {
    /// The last act of each writer, as it was noted.
    Named(&'a [ActId]),
    /// What stands before it in what was done.
    Before(Stamp),
}

impl Seen<'_> {
    fn holds(self, act: &Act) -> bool {
        match self {
            Self::Named(known) => {
                let mut known = known.iter();
                let last = known.find(|last| last.writer == act.id.writer);
                last.is_some_and(|last| act.id.n <= last.n)
            }
            Self::Before(stamp) => act.stamp() <= stamp,
        }
    }
}

/// What an act changed in the walls of a room, as a sentence with who did it; none when nothing.
fn change(journal: &Journal, act: &Act, room: RoomId, seen: Seen<'_>) -> Option<String> {
    let registry = journal.registry();
    let is_crossing = is_crossing(journal, act);
    let matters = |fact: &Fact| {
        let is_change = changes_walls(fact)
            || changes_tags(registry, fact)
            || is_crossing && landed(fact).is_some();
        is_change && is_in(registry, fact, room)
    };
    // A tag that came off because its cable is called otherwise now.
    let voided = |fact: &Fact| {
        matches!(fact, Fact::End(of, EndFact::Marked(_)) if of.end.side == Side::Near)
            && is_in(registry, fact, room)
    };
    // What was signed as noted is another now.
    let noted_anew = |fact: &Fact| {
        matches!(fact, Fact::Outlet(_, OutletFact::Slack(_))) && is_in(registry, fact, room)
    };
    let mut gone = replaced(journal, act);
    // What was done and taken back since changed nothing.
    let holds = !journal.is_struck(act.id);
    let told = if holds && act.facts.iter().any(matters) {
        Some(deed(journal, act, &matters))
    } else if holds && replaced(journal, act).any(noted_anew) {
        Some(deed(journal, act, &noted_anew))
    } else if holds && gone.any(voided) {
        Some(deed(journal, act, &voided))
    } else {
        let struck = act.strikes.iter().filter_map(|act| journal.act(*act));
        let struck = struck.filter(|act| seen.holds(act));
        let undone = |fact: &Fact| matters(fact) || shows_work(fact) && is_in(registry, fact, room);
        let undoes = struck.flat_map(|act| &act.facts).any(undone);
        (undoes && !journal.is_struck(act.id)).then(|| deed(journal, act, &matters))
    };
    told.map(|deed| format!("{} {}", deed.words, deed.who))
}

/// Whether a fact changes what lies in the walls.
fn changes_walls(fact: &Fact) -> bool {
    match fact {
        Fact::Outlet(_, fact) => match fact {
            OutletFact::Added
            | OutletFact::Numbered { .. }
            | OutletFact::Placed(_)
            | OutletFact::Boxed(_)
            | OutletFact::Stands(_) => true,
            OutletFact::Waits(waiting) => waiting.whom != WaitsFor::Nobody,
            OutletFact::Typed(_)
            | OutletFact::Purposed(_)
            | OutletFact::Noted(_)
            | OutletFact::Slack(_)
            | OutletFact::ChangeOrdered(_)
            | OutletFact::Tagged(_) => false,
        },
        Fact::Cable(_, fact) => match fact {
            CableFact::Added
            | CableFact::Named(_)
            | CableFact::Leaves(_)
            | CableFact::MadeOf(_)
            | CableFact::Stands(_)
            | CableFact::Cancelled { .. }
            | CableFact::Repulled { .. } => true,
            CableFact::Purposed(_)
            | CableFact::InJacket(_)
            | CableFact::KnownAs(_)
            | CableFact::TagKept { .. }
            | CableFact::Noted(_)
            | CableFact::ChangeOrdered(_)
            | CableFact::PassesThrough { .. } => false,
        },
        Fact::Pull(_, PullFact::Reported(outcome)) => *outcome != PullOutcome::Pulled,
        Fact::Pull(_, PullFact::Tested(test)) => test.outcome == TestOutcome::Failed,
        Fact::End(of, EndFact::TagLost) => of.end.side == Side::Near,
        Fact::Picture(_, PictureFact::Stands(standing)) => *standing != Standing::Wanted,
        _ => false,
    }
}

/// Whether an act puts a cable at a wall where another had been recorded.
fn is_crossing(journal: &Journal, act: &Act) -> bool {
    let mut was = replaced(journal, act).filter_map(landed);
    was.any(|(end, place)| {
        let mut now = act.facts.iter().filter_map(landed);
        now.any(|(other, at)| other.cable != end.cable && at == place)
    })
}

/// Where a fact says that an end at a wall is landed.
fn landed(fact: &Fact) -> Option<(End, &Place)> {
    deeds::landed(fact).filter(|(end, _)| end.side == Side::Near)
}

/// Whether a fact says that the tags of two ends that were crossed at the wall are changed over.
fn changes_tags(registry: &Registry, fact: &Fact) -> bool {
    let Fact::Cable(cable, CableFact::Noted(note)) = fact else {
        return false;
    };
    let far = names::side(registry, *cable, Side::Far);
    note.starts_with(names::TAGS_CHANGED_OVER) && !note.ends_with(&far)
}

/// Whether a fact says that something on the list was done, so that taking it back matters.
fn shows_work(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::End(_, EndFact::Marked(_))
            | Fact::Pull(_, PullFact::Reported(_))
            | Fact::Outlet(_, OutletFact::Slack(_))
    )
}

/// Whether a fact is about what is in a room now, or was moved out of it.
fn is_in(registry: &Registry, fact: &Fact, room: RoomId) -> bool {
    let outlet_is = |id: OutletId| {
        let row = registry.outlets.get(id);
        row.is_some_and(|row| row.number.ever().any(|at| at.room == room))
    };
    let cable_is = |id: CableId| {
        registry.cables.get(id).is_some_and(|row| {
            let leaves = match row.leaves.get() {
                Some(Leaves::Outlet(from)) => Some(*from),
                Some(Leaves::Rack(_)) | None => None,
            };
            let mut outlets = shown_outlet(row).into_iter().chain(leaves);
            outlets.any(outlet_is)
        })
    };
    match fact {
        Fact::Outlet(id, _) => outlet_is(*id),
        Fact::Cable(id, _) => cable_is(*id),
        Fact::Pull(pull, _) => cable_is(pull.cable),
        Fact::End(of, _) => cable_is(of.end.cable),
        Fact::Picture(id, _) => {
            let shows = registry.pictures.get(*id).and_then(|row| row.shows.get());
            match shows {
                Some(Shows::Outlet(id)) => outlet_is(*id),
                Some(Shows::Room(id)) => *id == room,
                Some(Shows::LooseEnd(_) | Shows::Plan(_)) | None => false,
            }
        }
        _ => false,
    }
}
