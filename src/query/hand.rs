//! A cable in the hand: the keys that lead to its code, and where its tail belongs.

use crate::domain::order::Order;
use rustc_hash::FxHashMap;

use super::rack::{is_disputed, make, rivals};
use super::run::{Standpoint, standpoint};
use crate::domain::ids::CableId;
use crate::domain::label::LegNumber;
use crate::domain::place::{End, Leaves, Place, Placement, RunKind, RunName, Side};
use crate::journal::{Cable, Register, Registry, side_index};
use crate::walk::is_wanted_cable;

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
    /// How many of them have a tail at a rack that is neither landed nor left on purpose, or is landed where
    /// another is too.
    pub open: usize,
}

/// Says how a code can go on after what was typed. Only codes of wanted cables count, as they stand
/// on the tags.
#[must_use]
pub fn hand(registry: &Registry, typed: &str) -> Hand {
    let mut keys: Vec<Key> = Vec::new();
    let mut at_label: FxHashMap<&str, usize> = FxHashMap::default();
    let mut hits = Vec::new();
    for code in registry.index.cables_by_code.keys() {
        let Some(part) = part_after(code, typed) else {
            continue;
        };
        for id in registry.index.cables_by_code.get(code) {
            let row = registry.cables.get(*id);
            let Some(cable) = row.filter(|cable| is_wanted_cable(cable)) else {
                continue;
            };
            if part.label.is_empty() {
                hits.push(*id);
                continue;
            }
            let at = *at_label.entry(part.label).or_insert_with(|| {
                keys.push(Key::new(part.label, &code[..part.end]));
                keys.len() - 1
            });
            let key = &mut keys[at];
            key.cables += 1;
            key.open += usize::from(is_open(registry, *id, cable));
            if part.end == code.len() {
                key.hits.push(*id);
            }
        }
    }
    hits.put_in_order();
    keys.iter_mut().for_each(|key| key.hits.put_in_order());
    keys.order_by_key(|key| {
        let (place, label) = rank(&key.label);
        (place, label.to_owned())
    });
    Hand { next: keys, hits }
}

impl Key {
    fn new(label: &str, typed: &str) -> Self {
        Self {
            label: label.to_owned(),
            typed: typed.to_owned(),
            hits: Vec::new(),
            cables: 0,
            open: 0,
        }
    }
}

/// What was typed, without its last key.
#[must_use]
pub fn without_last_key(typed: &str) -> &str {
    let number = number_start(typed);
    let before = (1..typed.len()).rev();
    let mut ends = before.filter(|at| ends_part(typed, *at, number));
    ends.next().map_or("", |end| &typed[..end])
}

/// Numbers by size, letters by the alphabet: shorter words of digits first.
fn rank(label: &str) -> (usize, &str) {
    let is_number = label.bytes().all(|byte| byte.is_ascii_digit());
    (if is_number { label.len() } else { 0 }, label)
}

/// A part of a code that one key types.
struct Part<'a> {
    /// Without the sign that stands before it; empty when the whole code was typed.
    label: &'a str,
    /// Where it ends in the code.
    end: usize,
}

/// The part of a code that follows what was typed; none where the code does not begin so, or no part
/// of it begins there, so that `KIT` does not lead on to the room `KITA`.
fn part_after<'a>(code: &'a str, typed: &str) -> Option<Part<'a>> {
    let from = typed.len();
    if !code.starts_with(typed) {
        return None;
    }
    let number = number_start(code);
    if from != 0 && from != code.len() && !ends_part(code, from, number) {
        return None;
    }
    let end = (from + 1..code.len()).find(|at| ends_part(code, *at, number));
    let end = end.unwrap_or(code.len());
    Some(Part {
        label: code[from..end].trim_start_matches(['-', '/']),
        end,
    })
}

/// Where the number of the outlet begins in the code of a run, as in `KIT|2-C`; the code of a tie
/// line begins with a number itself and is parted by its signs alone: `1A|/2A|-1`.
fn number_start(code: &str) -> usize {
    let letters = code.bytes().take_while(u8::is_ascii_alphabetic).count();
    let is_number = code.as_bytes().get(letters).is_some_and(u8::is_ascii_digit);
    if is_number { letters } else { 0 }
}

/// Whether a part of a code ends at a place inside it.
fn ends_part(code: &str, at: usize, number: usize) -> bool {
    at == number || matches!(code.as_bytes()[at], b'-' | b'/')
}

/// Whether some tail of a cable at a rack still waits for somebody: it is nowhere, people disagree where it is, or
/// another is landed there.
fn is_open(registry: &Registry, id: CableId, cable: &Cable) -> bool {
    let sides = sides_at_racks(cable).iter();
    let mut tails = sides.flat_map(|side| tails(id, cable, *side));
    tails.any(|(end, placement)| {
        matches!(placement, Some(Placement::Lifted) | None) || is_disputed(registry, end)
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
    /// Its other ends, where no rack is.
    pub away: Vec<Tail>,
}

/// One tail of a cable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tail {
    /// Which end, or leg.
    pub end: End,
    /// Where it belongs, as long as its panel is in the job.
    pub planned: Option<Place>,
    /// What has become of it.
    pub placement: Option<Placement>,
    /// Whoever else is landed where it is, or where it belongs as long as it is nowhere.
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
    let ends = Side::BOTH
        .into_iter()
        .flat_map(|side| tails(id, cable, side));
    let ends = ends.map(|(end, placement)| {
        let planned = cable.planned[side_index(end.side)].get(end.leg);
        let planned = planned.and_then(Register::get).cloned().flatten();
        // Nobody finds a position whose panel was taken back.
        let planned = planned.filter(|place| match place {
            Place::Position { position, .. } => make(registry, position.panel).is_some(),
            Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => true,
        });
        let mut tail = Tail {
            end,
            planned,
            placement: placement.cloned(),
            taken_by: Vec::new(),
        };
        let belongs = tail.planned.as_ref().filter(|_| tail.is_open());
        if let Some(place) = tail.landed().or(belongs) {
            tail.taken_by = rivals(registry, end, place);
        }
        tail
    });
    let at_racks = sides_at_racks(cable);
    let (tails, away) = ends.partition(|tail| at_racks.contains(&tail.end.side));
    Some(InHand {
        kind: kind(cable),
        tails,
        away,
    })
}
