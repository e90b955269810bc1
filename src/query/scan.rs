//! What a tag says to whoever scans or types it: what it hangs on, whether it still holds, and at which
//! end of a cable somebody stands.

use super::conduit;
use super::deeds::who;
use super::find::{FoundIn, Hit, SearchIndex, Target, exactly, row, search};
use super::loose::joined;
use super::printed::{Void, end_tag, place_tag};
use super::proof::is_seen;
use super::rack::{landed_place, planned_place};
use super::room_of;
use super::run::shown_outlet;
use crate::codes::leg::LegCode;
use crate::codes::tag::{JobKey, PullMark, TagFault, TagText, Tagged};
use crate::codes::typed::{self, Reading, Typed};
use crate::domain::ids::{ActId, CableId, JobId, OutletId, RackId, RoomId};
use crate::domain::label::{LabelCode, RoomCode, conduit_code};
use crate::domain::order::Order;
use crate::domain::place::{End, Leaves, Place, RunKind, RunName, Side, TaggedPlace};
use crate::domain::text::{is_hidden, is_variation_selector, visible};
use crate::journal::{Journal, Registry};
use crate::{names, walk};

/// What a text says without its job.
mod alone;
/// What is nearly called so.
mod near;
/// What is to be done next.
mod next;

use alone::meant;
pub use alone::{alone, read_alone};
use near::{Near, OFFERED, bare, near};
pub use next::{NextHere, landed_words, next_here};

/// Where somebody stands who scans.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stand {
    /// Nobody said.
    #[default]
    Unknown,
    /// Somewhere at the wall.
    Wall,
    /// In a room.
    Room(RoomId),
    /// At one outlet.
    Outlet(OutletId),
    /// At a rack.
    Rack(RackId),
}

/// Which end of a cable is where somebody stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Here {
    /// This one.
    End(Side),
    /// Either may be.
    Unknown,
    /// Neither is: by the record it does not come out here.
    Elsewhere,
}

/// What is to be thought of a tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It hangs on what it says.
    Holds,
    /// Its copper was pulled anew since: by this act, where it is known.
    Repulled(Option<ActId>),
    /// Its copper is one that is not known here.
    OtherPull,
    /// What it hangs on is called otherwise by now.
    Recoded(String),
    /// It is of the job with this key.
    OtherJob(JobKey),
    /// It is of this job, but nothing here has its code.
    NotHere,
}

/// What a tag hangs on in a job, with what is to be thought of it.
#[must_use]
pub(super) fn judge(registry: &Registry, job: JobId, tag: &TagText) -> (Vec<Target>, Standing) {
    if tag.job_key != JobKey::of(job) {
        return (Vec::new(), Standing::OtherJob(tag.job_key));
    }
    let index = &registry.index;
    let run = |code: LabelCode, pull| of_run(registry, &code.to_string(), pull);
    let (targets, standing): (Vec<Target>, _) = match tag.tagged {
        Tagged::Run { code, pull } => run(code, pull),
        Tagged::Leg { code, pull } => run(code.label, pull),
        Tagged::Outlet(code) => {
            let found = index.outlets_by_code.get(&code).iter();
            let found = found.map(|id| Target::Outlet(*id)).collect();
            let all = registry.outlets.iter();
            let all = all.map(|(id, _)| (TaggedPlace::Outlet(id), Target::Outlet(id)));
            of_place(registry, found, all, &code.to_string())
        }
        Tagged::Panel(letters) => {
            let panels = index.panels_by_letters.get(&letters).iter();
            (
                panels.map(|id| Target::Panel(*id)).collect(),
                Standing::Holds,
            )
        }
        Tagged::Space(space) => {
            let racks = index.racks_by_space.get(&space).iter();
            (racks.map(|id| Target::Rack(*id)).collect(), Standing::Holds)
        }
        Tagged::Conduit(number) => {
            let found = registry.conduits_numbered(number).into_iter();
            let found = found.map(Target::Conduit).collect();
            let all = registry.conduits.iter();
            let all = all.map(|(id, _)| (TaggedPlace::Conduit(id), Target::Conduit(id)));
            of_place(registry, found, all, &conduit_code(number))
        }
        Tagged::Box(number) => {
            let is_known = conduit::is_known_box(registry, number);
            let targets = is_known.then_some(Target::Box(number));
            (targets.into_iter().collect(), Standing::Holds)
        }
    };
    if targets.is_empty() {
        return (targets, Standing::NotHere);
    }
    (targets, standing)
}

fn of_run(registry: &Registry, code: &str, mark: PullMark) -> (Vec<Target>, Standing) {
    let is_there = |id: &CableId| {
        let row = registry.cables.get(*id);
        row.is_some_and(|row| !row.added.is_empty())
    };
    let found = registry.index.cables_by_code.get(&code.to_owned()).iter();
    let ids: Vec<CableId> = found.copied().filter(is_there).collect();
    let pull_now = |id: &CableId| Some(registry.cables.get(*id)?.pull(*id));
    // Where two cables bear one code, the pull says which of them this tag hangs on.
    if let Some(id) = ids
        .iter()
        .find(|id| pull_now(id).map(PullMark::of) == Some(mark))
    {
        return (vec![Target::Cable(*id)], Standing::Holds);
    }
    let older = ids.iter().find_map(|id| {
        let row = registry.cables.get(*id)?;
        let first = PullMark::of(id.0.into()) == mark;
        let mut pulls = row.copper.iter().map(|(pull, _)| *pull);
        let later = pulls.any(|pull| PullMark::of(pull) == mark);
        let since = row.repull.all().last().map(|said| said.stamp.act);
        (first || later).then_some(since)
    });
    let targets = ids.into_iter().map(Target::Cable).collect();
    match older {
        Some(since) => (targets, Standing::Repulled(since)),
        None => (targets, Standing::OtherPull),
    }
}

/// What was found by its code; else the one of all such places whose printed tag bears that code while it
/// is called otherwise by now.
fn of_place(
    registry: &Registry,
    found: Vec<Target>,
    all: impl Iterator<Item = (TaggedPlace, Target)>,
    code: &str,
) -> (Vec<Target>, Standing) {
    if !found.is_empty() {
        return (found, Standing::Holds);
    }
    let mut all: Vec<(TaggedPlace, Target)> = all.collect();
    all.put_in_order();
    for (place, target) in all {
        let tag = place_tag(registry, place);
        if tag.text == code
            && let Some(Void::Recoded { text }) = tag.void
        {
            return (vec![target], Standing::Recoded(text));
        }
    }
    (Vec::new(), Standing::Holds)
}

/// What is to be said of a tag that does not simply hold; none of one that does. `since` says who
/// did what an act did, and when; empty where that is not wanted.
#[must_use]
pub(super) fn doubt(
    job: JobId,
    tag: &TagText,
    standing: &Standing,
    since: &dyn Fn(ActId) -> String,
) -> Option<String> {
    let code = match tag.tagged {
        Tagged::Leg { code, .. } => code.label.to_string(),
        other => other.code(),
    };
    Some(match standing {
        Standing::Holds => return None,
        Standing::OtherJob(key) => format!(
            "This tag, {}, is of another job: it carries {key}, this job is {}. What stands under that code here is another cable.",
            tag.tagged.code(),
            job.key()
        ),
        Standing::NotHere => format!(
            "The tag is of this job, but {} is not known on this device. Take in the work of the other phones first.",
            tag.tagged.code()
        ),
        Standing::Repulled(act) => {
            let since = act.map(since).filter(|since| !since.is_empty());
            let since = since.map_or_else(String::new, |since| format!(" ({since})"));
            format!(
                "This tag is void: {code} was pulled anew since{since}. It hangs on the old cable. Take it off, and mark the new one."
            )
        }
        Standing::OtherPull => format!(
            "This tag belongs to a pull of {code} that is not known on this device. Take in the work of the other phones, or compare it with the cable."
        ),
        Standing::Recoded(text) => format!(
            "This tag is void: {code} is called {text} by now. Take it off, and print a new one."
        ),
    })
}

/// What was scanned or typed, as it stands in the open job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scanned {
    /// The code, or the text that was read: cut, and with marks for what cannot be seen.
    pub shown: String,
    /// What it names, the likeliest first.
    pub targets: Vec<Target>,
    /// What is to be said of it, as sentences.
    pub said: Vec<String>,
    /// What has nearly such a code, where it names nothing for sure.
    pub nearest: Vec<Target>,
    /// The job that its tag is of, where it is another one.
    pub other_job: Option<JobKey>,
    /// Whether its tag holds: it may be noted as seen.
    pub holds: bool,
    /// Whether it is a tag that does not hold.
    pub void: bool,
    /// Whether a job that is not open would tell more of it.
    pub wants_job: bool,
    /// Whether it is something else than a tag of ours.
    pub foreign: bool,
}

/// How many characters of a strange text are shown.
const SHOWN: usize = 48;

/// Reads what a camera read or a person typed. `room` is the room where they stand, if that is known.
#[must_use]
pub fn read(journal: &Journal, text: &str, room: Option<RoomCode>) -> Scanned {
    let (registry, job) = (journal.registry(), journal.job());
    let text = text.trim();
    let mut scanned = Scanned {
        shown: shown(text),
        ..Scanned::default()
    };
    let plain = plain(text);
    let strict = TagText::read(text);
    let is_strict = strict.is_ok();
    // Whatever a camera reads to the letter need not be understood as people type.
    let typed = match &strict {
        Ok(_) => Typed::default(),
        Err(_) => typed::read(&plain, room),
    };
    let fault = match meant(strict, &typed) {
        Ok(tag) => {
            let (targets, standing) = judge(registry, job, &tag);
            let since = |act| told_since(journal, &targets, act);
            scanned.said.extend(doubt(job, &tag, &standing, &since));
            if let (Tagged::Leg { code, .. }, Standing::Holds) = (tag.tagged, &standing) {
                scanned.said.extend(whole(registry, code, &targets));
            }
            scanned.shown = tag.tagged.code();
            if !is_strict {
                scanned.said.extend(hidden_in(text));
            }
            // What a person spelled otherwise than it is printed proves no tag.
            scanned.holds = standing == Standing::Holds && is_strict;
            scanned.void = standing != Standing::Holds;
            if let Standing::OtherJob(key) = standing {
                scanned.other_job = Some(key);
            }
            scanned.wants_job = targets.is_empty();
            scanned.targets = targets;
            return scanned;
        }
        Err(fault) => fault,
    };
    if matches!(fault, TagFault::Odd { .. } | TagFault::Empty) {
        scanned.said.push(fault.to_string());
        scanned.foreign = true;
        return scanned;
    }
    let found = exactly(registry, job, &plain, room);
    scanned.targets = found.hits.iter().map(|hit| hit.target).collect();
    scanned.said = found.said;
    if !scanned.targets.is_empty() && scanned.said.is_empty() {
        scanned.said.extend(hidden_in(text));
    }
    if let Some(Reading::Leg(code)) = typed.readings.first() {
        scanned
            .said
            .extend(whole(registry, *code, &scanned.targets));
    }
    let is_not_ours = matches!(fault, TagFault::NotOurs { .. });
    if is_tag_like(&plain) && !scanned.said.is_empty() {
        // With a wrong character nothing is sure: what was read is one of those that it may be.
        scanned.nearest = near(registry, job, &plain).targets;
        let read = std::mem::take(&mut scanned.targets).into_iter();
        let read: Vec<Target> = read
            .filter(|target| !scanned.nearest.contains(target))
            .collect();
        scanned.nearest.extend(read.into_iter().take(1));
        scanned.foreign = scanned.nearest.is_empty() && is_not_ours;
        return scanned;
    }
    if scanned.targets.is_empty() {
        let Near { targets, same } = near(registry, job, &plain);
        // Written otherwise than codes are, and still that code: a space in it, or none.
        if let Some(same) = same.filter(|_| !is_tag_like(&plain)) {
            scanned.targets = vec![same];
            scanned.said.clear();
            return scanned;
        }
        scanned.foreign = targets.is_empty() && is_not_ours;
        if scanned.said.is_empty() {
            scanned.said.push(match targets.is_empty() {
                true => format!("Nothing is called “{}” here.", scanned.shown),
                false => format!("Nothing is called “{}” to the letter.", scanned.shown),
            });
        }
        scanned.nearest = targets;
    }
    scanned
}

/// What holds the text, as the search finds it, where a person typed what names nothing: the first of it.
#[must_use]
pub fn offered(journal: &Journal, index: &SearchIndex, text: &str) -> Vec<Target> {
    let found = search(index, journal.registry(), journal.job(), text).hits;
    let targets = found.into_iter().map(|hit| hit.target);
    targets.take(OFFERED).collect()
}

/// Takes what a person typed for what was once called so, or for the number of a loose end, where nothing is
/// called so now; else offers that too. What is to be said of it.
pub fn once_called(
    journal: &Journal,
    index: &SearchIndex,
    text: &str,
    scanned: &mut Scanned,
) -> Option<String> {
    let registry = journal.registry();
    let hits = index.just(text);
    let mut targets: Vec<Target> = hits.iter().map(|hit| hit.target).collect();
    if !scanned.targets.is_empty() {
        let known = [&scanned.targets[..], &scanned.nearest].concat();
        targets.retain(|target| !known.contains(target));
        scanned.nearest.extend(targets);
        return None;
    }
    let first = *hits.first()?;
    *scanned = Scanned {
        shown: std::mem::take(&mut scanned.shown),
        targets,
        ..Scanned::default()
    };
    let [target] = scanned.targets.as_mut_slice() else {
        return None;
    };
    let mut was = "";
    match *target {
        // It leads on to the cable that it turned out to be.
        Target::LooseEnd(id) => *target = Target::Cable(joined(registry, id)?.cable),
        _ => was = "was ",
    }
    let found = row(registry, first, text);
    Some(format!("{} {was}{}.", found.code, found.why))
}

/// What is to be said of a number that a person typed, and that means something in the room where he stands.
#[must_use]
pub fn completed(registry: &Registry, scanned: &Scanned, room: Option<RoomCode>) -> Option<String> {
    let (room, target) = (room?, *scanned.targets.first()?);
    let found_in = FoundIn::Exact;
    let code = row(registry, Hit { target, found_in }, "").code;
    let shown = &scanned.shown;
    let is_number = shown.starts_with(|first: char| first.is_ascii_digit());
    (is_number && code.starts_with(&room.to_string()))
        .then(|| format!("“{shown}” is taken as {code}, since you stand in {room}."))
}

/// What is to be said of a text that was read off a tag, and not typed: where it is not to the letter what
/// we print, it proves no tag, however well it is understood.
pub fn off_a_tag(scanned: &mut Scanned, text: &str) {
    if scanned.foreign {
        if let Err(fault) = TagText::read(text.trim()) {
            scanned.said = vec![fault.to_string()];
        }
    } else if !scanned.holds && !scanned.void && !scanned.targets.is_empty() {
        // What is hidden in it was said, and not yet what follows from that.
        if scanned.said.is_empty() || has_hidden(text) {
            let words = "It is not one of our tags to the letter, so it is not noted as seen.";
            scanned.said.push(words.to_owned());
        }
    }
}

fn has_hidden(text: &str) -> bool {
    let hides = |character| is_hidden(character) || is_variation_selector(character);
    text.trim().chars().any(hides)
}

/// The text as people type it: codes have no character that chooses how another is drawn.
fn plain(text: &str) -> String {
    let kept = text
        .chars()
        .filter(|character| !is_variation_selector(*character));
    kept.collect()
}

/// What is to be said of a text that is understood without the characters in it that cannot be seen.
fn hidden_in(text: &str) -> Option<String> {
    has_hidden(text).then(|| {
        let mut marked = String::new();
        for character in text.trim().chars() {
            match is_variation_selector(character) {
                true => marked.push_str(&format!("‹U+{:04X}›", u32::from(character))),
                false => marked.push(character),
            }
        }
        let shown = shown(&marked);
        format!("It has characters that cannot be seen, which are left out: “{shown}”.")
    })
}

/// What is to be said of a leg that its cable has at neither end.
fn whole(registry: &Registry, leg: LegCode, targets: &[Target]) -> Option<String> {
    let [Target::Cable(id)] = targets else {
        return None;
    };
    let row = registry.cables.get(*id)?;
    let has = |side| {
        let legs = row.end(*id, side).and_then(|end| end.split.get());
        legs.is_some_and(|legs| *legs >= leg.leg)
    };
    (!Side::BOTH.into_iter().any(has)).then(|| {
        format!(
            "{leg} names a leg, but {} has none of that number by the record. What follows is of the whole cable.",
            leg.label
        )
    })
}

/// Who pulled a cable anew, when, and why.
fn told_since(journal: &Journal, targets: &[Target], act: ActId) -> String {
    let Some(Target::Cable(id)) = targets.first() else {
        return who(journal, act);
    };
    let row = journal.registry().cables.get(*id);
    let mut repulls = row.into_iter().flat_map(|row| row.repull.all());
    let reason = repulls.find(|said| said.stamp.act == act);
    let reason = reason.map_or("", |said| said.value.reason.trim());
    match reason {
        "" => who(journal, act),
        reason => format!("{}: {reason}", who(journal, act)),
    }
}

/// The head of a text, fit to show.
#[must_use]
pub fn shown(text: &str) -> String {
    let mut characters = text.chars();
    let head: String = characters.by_ref().take(SHOWN).collect();
    let rest = characters.next().map_or("", |_| "…");
    format!("{}{rest}", visible(&head))
}

/// Whether a text is as long as that of a tag: a code and the eight characters behind it.
fn is_tag_like(text: &str) -> bool {
    bare(text).len() > 10
}

/// At which end of a cable somebody stands.
#[must_use]
pub fn end_here(registry: &Registry, id: CableId, stand: Stand) -> Here {
    let Some(cable) = registry.cables.get(id) else {
        return Here::Unknown;
    };
    let kind = names::run_kind(registry, id);
    match (stand, kind) {
        (Stand::Unknown, _) | (Stand::Wall, RunKind::LocalRun) => Here::Unknown,
        (Stand::Wall, RunKind::HomeRun) => Here::End(Side::Near),
        (Stand::Wall, RunKind::TieLine) => Here::Elsewhere,
        (Stand::Room(room), _) => {
            let is_here = |outlet: Option<OutletId>| {
                outlet.is_some_and(|outlet| room_of(registry, outlet) == Some(room))
            };
            let leaves = match cable.leaves.get() {
                Some(Leaves::Outlet(from)) => Some(*from),
                Some(Leaves::Rack(_)) | None => None,
            };
            match (is_here(shown_outlet(cable)), is_here(leaves)) {
                (true, true) => Here::Unknown,
                (true, false) => Here::End(Side::Near),
                (false, true) => Here::End(Side::Far),
                (false, false) => Here::Elsewhere,
            }
        }
        (Stand::Outlet(outlet), _) => {
            let is_jack = |side| {
                let end = End::whole(id, side);
                let place = landed_place(registry, end).or_else(|| planned_place(registry, end));
                matches!(place, Some(Place::Jack { outlet: at, .. }) if *at == outlet)
            };
            let leaves =
                matches!(cable.leaves.get(), Some(Leaves::Outlet(from)) if *from == outlet);
            if is_jack(Side::Near) || shown_outlet(cable) == Some(outlet) {
                Here::End(Side::Near)
            } else if leaves || is_jack(Side::Far) {
                Here::End(Side::Far)
            } else {
                Here::Elsewhere
            }
        }
        (Stand::Rack(rack), _) => {
            let is_here = |side: &Side| rack_at(registry, id, *side) == Some(rack);
            match Side::BOTH.into_iter().find(is_here) {
                Some(side) => Here::End(side),
                None if kind == RunKind::HomeRun && registry.home_rack(id).is_none() => {
                    Here::End(Side::Far)
                }
                None => Here::Elsewhere,
            }
        }
    }
}

/// Whether the tag of an end was seen last where somebody stands.
#[must_use]
pub fn is_seen_at(registry: &Registry, end: End, stand: Stand) -> bool {
    let row = registry.cables.get(end.cable);
    let record = row.and_then(|row| row.end(end.cable, end.side));
    let seen = record.and_then(|record| record.seen.last());
    seen.is_some_and(|at| *at == stand_words(registry, stand))
}

/// What is left to be seen where somebody stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeftHere {
    /// How many ends here bear a tag.
    pub tagged: usize,
    /// Those of them that nobody saw yet, by their codes, in the order of the work.
    pub unseen: Vec<String>,
}

/// The ends that come out where somebody stands, in the order of the work.
#[must_use]
pub fn out_here(registry: &Registry, stand: Stand) -> Vec<End> {
    let cables = walk::cables(registry).into_iter();
    let ends = cables.filter_map(|cable| match end_here(registry, cable, stand) {
        Here::End(side) => Some(End::whole(cable, side)),
        Here::Unknown | Here::Elsewhere => None,
    });
    ends.collect()
}

/// What is left to be seen where somebody stands; nothing where nobody knows where that is.
#[must_use]
pub fn left_here(registry: &Registry, stand: Stand) -> LeftHere {
    let mut left = LeftHere::default();
    for end in out_here(registry, stand) {
        let tag = end_tag(registry, end);
        let is_seen = is_seen(registry, end);
        if !is_seen && (tag.kind.is_none() || tag.lost) {
            continue;
        }
        left.tagged += 1;
        if !is_seen {
            left.unseen.push(names::cable(registry, end.cable));
        }
    }
    left
}

/// The rack where an end of a cable belongs; none where it is at no rack, or nobody chose one.
#[must_use]
pub fn rack_at(registry: &Registry, id: CableId, side: Side) -> Option<RackId> {
    match (registry.cables.get(id)?.name.get(), side) {
        (Some(RunName::Ties { near, .. }), Side::Near) => Some(*near),
        (Some(RunName::Ties { far, .. }), Side::Far) => Some(*far),
        (Some(RunName::Feeds { .. }) | None, Side::Near) => None,
        (Some(RunName::Feeds { .. }) | None, Side::Far) => registry.home_rack(id),
    }
}

/// Where somebody may say to stand: nowhere, at the wall, where he is now, at each rack.
#[must_use]
pub fn stands(registry: &Registry, now: Stand) -> Vec<Stand> {
    let mut all = vec![Stand::Unknown, Stand::Wall];
    if let Stand::Outlet(_) | Stand::Room(_) = now {
        all.push(now);
    }
    all.extend(walk::racks(registry).into_iter().map(Stand::Rack));
    all
}

/// Where somebody stands, in words; empty where nobody said.
#[must_use]
pub fn stand_words(registry: &Registry, stand: Stand) -> String {
    match stand {
        Stand::Unknown => String::new(),
        Stand::Wall => "the wall".to_owned(),
        Stand::Room(id) => names::room(registry, id),
        Stand::Outlet(id) => names::outlet(registry, id),
        Stand::Rack(id) => names::rack(registry, id),
    }
}
