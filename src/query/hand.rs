//! A cable in the hand: the keys that lead to its code, and where its tail belongs.

use std::collections::BTreeMap;

use super::rack::rivals;
use super::run::{Standpoint, is_cable_wanted, standpoint};
use crate::domain::ids::CableId;
use crate::domain::label::LegNumber;
use crate::domain::place::{End, Leaves, Place, Placement, RunKind, RunName, Side};
use crate::journal::{Cable, Register, Registry, side_index};

/// What a keypad offers after what was typed so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hand {
    /// The keys that go on from here; every one of them leads to a cable of the job.
    pub next: Vec<Key>,
    /// The cables whose whole code was typed. More than one: people gave one code to two cables.
    pub hits: Vec<CableId>,
}

/// One key: a room, the number of an outlet, the letter of a cable, or a part of a tie line's code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// What stands on the key.
    pub label: String,
    /// What is typed once it was tapped.
    pub typed: String,
    /// The cables whose whole code is typed by it.
    pub hits: Vec<CableId>,
    /// How many cables lie behind the key.
    pub cables: usize,
    /// How many of them have a tail at a rack that is neither landed nor left on purpose.
    pub open: usize,
}

/// Says how a code can go on after what was typed. Only codes of wanted cables count, as they stand
/// on the tags.
#[must_use]
pub fn hand(registry: &Registry, typed: &str) -> Hand {
    let mut keys: BTreeMap<(usize, String), Key> = BTreeMap::new();
    let mut hits = Vec::new();
    for code in registry.index.cables_by_code.keys() {
        let Some(rest) = code.strip_prefix(typed) else {
            continue;
        };
        let found = registry.index.cables_by_code.get(code).iter().copied();
        let wanted = found.filter(|id| registry.cables.get(*id).is_some_and(is_cable_wanted));
        let wanted: Vec<CableId> = wanted.collect();
        if wanted.is_empty() {
            continue;
        }
        if rest.is_empty() {
            hits.extend(wanted);
            continue;
        }
        let Some(part) = part_after(code, typed.len()) else {
            continue;
        };
        let key = keys.entry(rank(part.label)).or_insert_with(|| Key {
            label: part.label.to_owned(),
            typed: code[..part.end].to_owned(),
            hits: Vec::new(),
            cables: 0,
            open: 0,
        });
        key.cables += wanted.len();
        key.open += wanted.iter().filter(|id| is_open(registry, **id)).count();
        if part.end == code.len() {
            key.hits.extend(wanted);
        }
    }
    hits.sort_unstable();
    Hand {
        next: keys.into_values().collect(),
        hits,
    }
}

/// What was typed, without its last key.
#[must_use]
pub fn without_last_key(typed: &str) -> &str {
    let ends = part_ends(typed);
    let before = ends.iter().rev().find(|end| **end < typed.len());
    before.map_or("", |end| &typed[..*end])
}

/// Numbers by size, letters by the alphabet: shorter words of digits first.
fn rank(label: &str) -> (usize, String) {
    let is_number = label.bytes().all(|byte| byte.is_ascii_digit());
    let length = if is_number { label.len() } else { 0 };
    (length, label.to_owned())
}

/// A part of a code that one key types.
struct Part<'a> {
    /// Without the sign that stands before it.
    label: &'a str,
    /// Where it ends in the code.
    end: usize,
}

/// The part of a code that begins at `from`; none where a part does not begin there, so that `KIT`
/// does not lead on to the room `KITA`.
fn part_after(code: &str, from: usize) -> Option<Part<'_>> {
    let ends = part_ends(code);
    if from != 0 && !ends.contains(&from) {
        return None;
    }
    let end = ends.into_iter().find(|end| *end > from)?;
    Some(Part {
        label: code[from..end].trim_start_matches(['-', '/']),
        end,
    })
}

/// Where the parts of a code end: `KIT|2|-C`, and `1A|/2A|-1` for a tie line. What fits neither
/// form, as an old frozen text may, is one part up to its first sign.
fn part_ends(code: &str) -> Vec<usize> {
    let mut ends = Vec::with_capacity(3);
    let bytes = code.as_bytes();
    let is_run = bytes.first().is_some_and(u8::is_ascii_alphabetic);
    for at in 1..bytes.len() {
        let is_sign = matches!(bytes[at], b'-' | b'/');
        let is_number = is_run && bytes[at].is_ascii_digit() && bytes[at - 1].is_ascii_alphabetic();
        if is_sign || (is_number && ends.is_empty()) {
            ends.push(at);
        }
    }
    if !bytes.is_empty() {
        ends.push(bytes.len());
    }
    ends
}

/// Whether some tail of a cable at a rack still waits for somebody.
fn is_open(registry: &Registry, id: CableId) -> bool {
    let Some(cable) = registry.cables.get(id) else {
        return false;
    };
    sides_at_racks(cable).iter().any(|side| {
        tails(id, cable, *side)
            .iter()
            .any(|(_, placement)| standpoint(*placement) == Standpoint::Open)
    })
}

/// What kind of run a cable is.
fn kind(cable: &Cable) -> RunKind {
    match (cable.name.get(), cable.leaves.get()) {
        (Some(RunName::Ties { .. }), _) => RunKind::TieLine,
        (_, Some(Leaves::Outlet(_))) => RunKind::LocalRun,
        (_, Some(Leaves::Rack(_)) | None) => RunKind::HomeRun,
    }
}

/// The sides of a run that come out at a rack.
fn sides_at_racks(cable: &Cable) -> &'static [Side] {
    match kind(cable) {
        RunKind::HomeRun => &[Side::Far],
        RunKind::TieLine => &Side::BOTH,
        RunKind::LocalRun => &[],
    }
}

/// The end at a side, or its legs when it is split, each with what has become of it.
fn tails(id: CableId, cable: &Cable, side: Side) -> Vec<(End, Option<&Placement>)> {
    let record = cable.end(id, side);
    let legs = record.and_then(|record| record.split.get());
    let parts: Vec<_> = match legs {
        None => vec![None],
        Some(count) => (1..=count.get()).map(LegNumber::new).collect(),
    };
    let part = |leg| {
        let end = End {
            cable: id,
            side,
            leg,
        };
        let placements = record.and_then(|record| record.placement.get(leg));
        (end, placements.and_then(Register::get))
    };
    parts.into_iter().map(part).collect()
}

/// A cable in the hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InHand {
    /// What kind of run it is.
    pub kind: RunKind,
    /// Its tails at racks: one for a home run, two for a tie line, more where an end is split, none
    /// for a local run.
    pub tails: Vec<Tail>,
}

/// One tail of a cable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tail {
    /// Which end, or leg.
    pub end: End,
    /// Where it belongs.
    pub planned: Option<Place>,
    /// What has become of it.
    pub placement: Option<Placement>,
    /// Whoever else is landed where it belongs.
    pub taken_by: Vec<End>,
}

impl Tail {
    /// Whether nothing has become of it yet.
    #[must_use]
    pub fn is_open(&self) -> bool {
        standpoint(self.placement.as_ref()) == Standpoint::Open
    }

    /// Where it is, when it is landed.
    #[must_use]
    pub fn landed(&self) -> Option<&Place> {
        match &self.placement {
            Some(Placement::Landed { place, .. }) => Some(place),
            Some(Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. }) | None => {
                None
            }
        }
    }
}

/// Where the tails of a cable belong; none when the cable is not in the job.
#[must_use]
pub fn in_hand(registry: &Registry, id: CableId) -> Option<InHand> {
    let cable = registry
        .cables
        .get(id)
        .filter(|cable| !cable.added.is_empty())?;
    let sides = sides_at_racks(cable).iter().copied();
    let tails = sides.flat_map(|side| tails(id, cable, side));
    let tails = tails.map(|(end, placement)| {
        let planned = cable.planned[side_index(end.side)].get(end.leg);
        let planned = planned.and_then(Register::get).cloned().flatten();
        let taken_by = planned
            .as_ref()
            .map_or_else(Vec::new, |place| rivals(registry, end, place));
        Tail {
            end,
            planned,
            placement: placement.cloned(),
            taken_by,
        }
    });
    Some(InHand {
        kind: kind(cable),
        tails: tails.collect(),
    })
}
