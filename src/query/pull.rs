//! The pull: which cables go out together from the boxes at hand, what is being pulled now, and what
//! no box on site holds.
//!
//! A bundle leaves one place (a rack, or an outlet for local runs) for one floor of one building. The
//! cables of an outlet go together where the boxes reach; neighbouring rooms share a bundle.

use super::run::{Pulled, Run, room_of, shown_outlet, waits};
use crate::domain::ids::{ActId, CableId, FloorId, OutletId, RackId, RoomId, UnitId};
use crate::domain::length::FootageMark;
use crate::domain::medium::Medium;
use crate::domain::order::Order;
use crate::domain::place::{RunName, Side};
use crate::domain::work::PullOutcome;
use crate::journal::{Registry, Stamp, side_index};
use crate::{names, walk};

/// How many rooms one bundle passes at most.
const ROOMS: usize = 3;

/// What one box gives in one pull: a cable, or all cables of one jacket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strand {
    /// The cables; never empty.
    pub cables: Vec<CableId>,
    /// Their codes.
    pub codes: Vec<String>,
    /// What they are made of, in words: of one jacket, all that is in it.
    pub medium: String,
    /// Where they come out, in words: outlet and room.
    pub to: String,
    /// The box that they are drawn from; 0 where that is not said.
    pub box_number: u16,
    /// Other boxes that somebody else says; people who did not know of each other dealt it twice.
    pub or_boxes: Vec<u16>,
    /// How the pull went, where something is said of it.
    pub outcome: Option<PullOutcome>,
    /// The length marks of the first cable, near and far.
    pub footage: [Option<FootageMark>; 2],
}

/// Cables that are pulled together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bundle {
    /// Where the pull starts, in words.
    pub from: String,
    /// The rooms it goes to, in walking order.
    pub rooms: Vec<String>,
    /// What is in it, by box.
    pub strands: Vec<Strand>,
}

impl Bundle {
    /// Which cable is drawn from which box.
    #[must_use]
    pub fn deals(&self) -> Vec<(CableId, u16)> {
        let strands = self.strands.iter();
        strands
            .flat_map(|strand| {
                strand
                    .cables
                    .iter()
                    .map(|cable| (*cable, strand.box_number))
            })
            .collect()
    }
}

/// A bundle whose cables were dealt to boxes, in one go and by one person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dealt {
    /// The act that dealt them.
    pub act: ActId,
    /// The bundle.
    pub bundle: Bundle,
    /// The outlets that it goes to.
    pub outlets: Vec<OutletId>,
}

impl Dealt {
    /// The cables of which nobody says yet how the pull went.
    #[must_use]
    pub fn unpulled(&self) -> Vec<CableId> {
        let open = self
            .bundle
            .strands
            .iter()
            .filter(|strand| strand.outcome.is_none());
        open.flat_map(|strand| strand.cables.iter().copied())
            .collect()
    }

    /// How many strands have their length mark at a side.
    #[must_use]
    pub fn read(&self, side: Side) -> usize {
        let strands = self.bundle.strands.iter();
        strands
            .filter(|strand| strand.footage[side_index(side)].is_some())
            .count()
    }
}

/// Cables of one medium that no box on site gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoBox {
    /// The medium, in words.
    pub medium: String,
    /// The codes, in walking order.
    pub codes: Vec<String>,
}

/// One code of several cables, of which some are not pulled yet. Nobody could tell their marks apart, so
/// that no bundle takes them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalledAlike {
    /// The code.
    pub code: String,
    /// How many wanted cables have it.
    pub cables: usize,
}

/// Everything about the pull.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pulls {
    /// The boxes on site and what they hold, by number.
    pub boxes: Vec<(u16, Medium)>,
    /// What is being pulled, and what was dealt last, the newest first.
    pub in_hand: Vec<Dealt>,
    /// What goes next, in walking order.
    pub next: Vec<Bundle>,
    /// Cables that are short, stuck or damaged, those of one jacket as one, in walking order: they are pulled anew
    /// or turn out to be pulled after all.
    pub trouble: Vec<Strand>,
    /// What no box on site gives.
    pub no_box: Vec<NoBox>,
    /// Codes that must be told apart first.
    pub alike: Vec<CalledAlike>,
    /// How many cables no bundle takes for that reason.
    pub left_alike: usize,
    /// Outlets that wait for somebody: nothing is pulled to them before that is answered.
    pub waiting: Vec<String>,
}

impl Pulls {
    /// What is to be brought to site: what no box gives, for cables too that are short or damaged and
    /// so need cable again.
    #[must_use]
    pub fn bring(self) -> Vec<NoBox> {
        let mut bring = self.no_box;
        for strand in self.trouble {
            let needs = matches!(
                strand.outcome,
                Some(PullOutcome::Short | PullOutcome::Damaged)
            );
            let is_here = |(_, holds): &(u16, Medium)| gives(holds, &strand);
            if needs && !self.boxes.iter().any(is_here) {
                lacks(&mut bring, strand);
            }
        }
        bring
    }

    /// How many cables are still to be pulled.
    #[must_use]
    pub fn left(&self) -> usize {
        let next = self.next.iter().flat_map(|bundle| &bundle.strands);
        let next: usize = next.map(|strand| strand.cables.len()).sum();
        let no_box: usize = self.no_box.iter().map(|no_box| no_box.codes.len()).sum();
        let in_hand: usize = self
            .in_hand
            .iter()
            .map(|dealt| dealt.unpulled().len())
            .sum();
        let trouble: usize = self.trouble.iter().map(|strand| strand.cables.len()).sum();
        next + no_box + in_hand + trouble + self.left_alike
    }
}

/// What a bundle keeps to: where it starts, and on which floor of which building or at which rack it
/// ends.
type Way = (String, Option<FloorId>, Option<UnitId>, Option<RackId>);

/// A strand that is to be dealt, with what decides about its bundle.
struct ToDeal {
    strand: Strand,
    way: Way,
    outlet: Option<OutletId>,
    room: Option<RoomId>,
    room_name: String,
}

/// A bundle that still takes cables.
struct Open {
    way: Way,
    rooms: Vec<Option<RoomId>>,
    bundle: Bundle,
}

/// Plans the pulls.
#[must_use]
pub fn pulls(registry: &Registry) -> Pulls {
    let boxes: Vec<(u16, Medium)> = registry
        .job
        .boxes
        .iter()
        .filter_map(|(number, holds)| Some((*number, holds.get()?.clone()?)))
        .collect();
    let mut pulls = Pulls {
        in_hand: in_hand(registry),
        boxes,
        next: Vec::new(),
        trouble: Vec::new(),
        no_box: Vec::new(),
        alike: Vec::new(),
        left_alike: 0,
        waiting: Vec::new(),
    };
    let mut open: Vec<Open> = Vec::new();
    let to_deal = to_deal(registry, &mut pulls);
    let is_one =
        |a: &ToDeal, b: &ToDeal| a.outlet.is_some() && (a.outlet, &a.way) == (b.outlet, &b.way);
    for outlet in to_deal.chunk_by(is_one) {
        place(&pulls.boxes, &mut open, outlet);
    }
    pulls.next = open.into_iter().map(|open| open.bundle).collect();
    for bundle in &mut pulls.next {
        bundle.strands.order_by_key(|strand| strand.box_number);
    }
    pulls
}

/// The strands that a box on site gives, in walking order; the others are put aside.
fn to_deal(registry: &Registry, pulls: &mut Pulls) -> Vec<ToDeal> {
    let mut to_deal = Vec::new();
    let mut seen: Vec<&[CableId]> = Vec::new();
    for id in walk::cables(registry) {
        let Some(row) = registry.cables.get(id) else {
            continue;
        };
        let run = Run::new(registry, id, row);
        let dealt = run.copper.and_then(|copper| copper.drawn_from.get());
        if let Pulled::Trouble(_) = run.pulled() {
            let mut told = pulls.trouble.iter();
            if !told.any(|strand| strand.cables.contains(&id)) {
                let cables = in_one_jacket(registry, id);
                let media = media(registry, &cables);
                let number = dealt.copied().unwrap_or_default();
                pulls.trouble.push(strand(registry, cables, &media, number));
            }
            continue;
        }
        let alike = called_alike(registry, id);
        if let Some(alike) =
            alike.filter(|alike| run.pulled() == Pulled::No && !pulls.alike.contains(alike))
        {
            pulls.alike.push(alike);
        }
        let jacket = row.jacket.get();
        let mates = jacket.map(|jacket| registry.index.in_jacket.get(jacket));
        let is_seen = mates.is_some_and(|mates| seen.contains(&mates));
        seen.extend(mates);
        if run.pulled() != Pulled::No || dealt.is_some() || is_seen {
            continue;
        }
        let outlet = shown_outlet(row);
        if let Some(words) = outlet.and_then(|outlet| waits_words(registry, outlet)) {
            if !pulls.waiting.contains(&words) {
                pulls.waiting.push(words);
            }
            continue;
        }
        let cables = in_one_jacket(registry, id);
        let mut codes = cables.iter().filter_map(|id| called_alike(registry, *id));
        if codes.next().is_some() {
            pulls.left_alike += cables.len();
            continue;
        }
        let media = media(registry, &cables);
        let strand = strand(registry, cables, &media, 0);
        let is_here = |(_, holds): &(u16, Medium)| gives(holds, &strand);
        if !pulls.boxes.iter().any(is_here) {
            lacks(&mut pulls.no_box, strand);
            continue;
        }
        let room = outlet.and_then(|outlet| room_of(registry, outlet));
        let row_of_room = room.and_then(|room| registry.rooms.get(room));
        let tied = match row.name.get() {
            Some(RunName::Ties { near, .. }) => Some(*near),
            Some(RunName::Feeds { .. }) | None => None,
        };
        to_deal.push(ToDeal {
            strand,
            way: (
                names::side(registry, id, Side::Far),
                row_of_room.and_then(|room| room.floor.get()).copied(),
                row_of_room.and_then(|room| room.unit.get()).copied(),
                tied,
            ),
            room_name: match (room, tied) {
                (Some(room), _) => names::room(registry, room),
                (None, Some(rack)) => names::rack(registry, rack),
                (None, None) => "no room".to_owned(),
            },
            outlet,
            room,
        });
    }
    to_deal
}

/// The code of a cable, where another wanted one has it too.
#[must_use]
pub fn called_alike(registry: &Registry, id: CableId) -> Option<CalledAlike> {
    let code = registry.cable_code(id)?.text;
    let cables = registry.index.cables_by_code.get(&code).iter();
    let rows = cables.filter_map(|id| registry.cables.get(*id));
    let cables = rows.filter(|row| walk::is_wanted_cable(row)).count();
    (cables > 1).then_some(CalledAlike { code, cables })
}

fn lacks(no_box: &mut Vec<NoBox>, strand: Strand) {
    match no_box
        .iter_mut()
        .find(|no_box| no_box.medium == strand.medium)
    {
        Some(no_box) => no_box.codes.extend(strand.codes),
        None => no_box.push(NoBox {
            medium: strand.medium,
            codes: strand.codes,
        }),
    }
}

/// Puts the strands of one outlet into a bundle that takes them all, or into new ones.
fn place(boxes: &[(u16, Medium)], open: &mut Vec<Open>, outlet: &[ToDeal]) {
    let Some(first) = outlet.first() else {
        return;
    };
    // The room before on the same way: bundles further back have been passed.
    let before = open
        .iter()
        .rev()
        .find(|open| open.way == first.way)
        .and_then(|open| open.rooms.last().copied());
    let takes = |open: &Open| {
        let is_near = open.rooms.contains(&first.room)
            || (before.is_some_and(|before| open.rooms.contains(&before))
                && open.rooms.len() < ROOMS);
        open.way == first.way && is_near
    };
    let whole = open
        .iter_mut()
        .filter(|open| takes(open))
        .find_map(|open| Some((dealt(boxes, &open.bundle, outlet)?, open)));
    if let Some((numbers, open)) = whole {
        open.take(outlet, &numbers);
        return;
    }
    let mut left: Vec<&ToDeal> = outlet.iter().collect();
    while !left.is_empty() {
        let mut fresh = Open {
            way: first.way.clone(),
            rooms: Vec::new(),
            bundle: Bundle {
                from: first.way.0.clone(),
                rooms: Vec::new(),
                strands: Vec::new(),
            },
        };
        let before = left.len();
        left.retain(|one| {
            let one = std::slice::from_ref(*one);
            match dealt(boxes, &fresh.bundle, one) {
                Some(numbers) => {
                    fresh.take(one, &numbers);
                    false
                }
                None => true,
            }
        });
        // Each has a box on site, so that an empty bundle takes at least one.
        debug_assert!(left.len() < before, "a strand that no box gives");
        open.push(fresh);
    }
}

/// Whether a box gives a strand. Cables in one jacket come from a box of that jacket, which is kept
/// with its own words: all that is in it.
fn gives(holds: &Medium, strand: &Strand) -> bool {
    holds.to_string().eq_ignore_ascii_case(&strand.medium)
}

/// Which box gives which strand, when the bundle takes them all.
fn dealt(boxes: &[(u16, Medium)], bundle: &Bundle, strands: &[ToDeal]) -> Option<Vec<u16>> {
    let mut used: Vec<u16> = bundle
        .strands
        .iter()
        .map(|strand| strand.box_number)
        .collect();
    let mut numbers = Vec::new();
    for strand in strands {
        let (number, _) = boxes
            .iter()
            .find(|(number, holds)| gives(holds, &strand.strand) && !used.contains(number))?;
        used.push(*number);
        numbers.push(*number);
    }
    Some(numbers)
}

impl Open {
    fn take(&mut self, strands: &[ToDeal], numbers: &[u16]) {
        for (one, number) in strands.iter().zip(numbers) {
            if !self.rooms.contains(&one.room) {
                self.rooms.push(one.room);
                self.bundle.rooms.push(one.room_name.clone());
            }
            self.bundle.strands.push(Strand {
                box_number: *number,
                ..one.strand.clone()
            });
        }
    }
}

/// A cable with the others in its jacket that share its pull, and are as far.
fn in_one_jacket(registry: &Registry, id: CableId) -> Vec<CableId> {
    let pulled = |id| {
        let row = registry.cables.get(id)?;
        Some(Run::new(registry, id, row).pulled())
    };
    let how = pulled(id);
    let mut cables = vec![id];
    cables.extend(walk::jacket_mates(registry, id).filter(|mate| {
        let row = registry.cables.get(*mate);
        row.is_some_and(|row| walk::is_wanted_cable(row) && pulled(*mate) == how)
    }));
    cables[1..].order_by_key(|cable| names::cable(registry, *cable));
    cables
}

fn media(registry: &Registry, cables: &[CableId]) -> Vec<Medium> {
    let rows = cables
        .iter()
        .filter_map(|cable| registry.cables.get(*cable));
    rows.filter_map(|row| row.medium.get().cloned()).collect()
}

fn strand(registry: &Registry, cables: Vec<CableId>, media: &[Medium], box_number: u16) -> Strand {
    let mut media: Vec<String> = media.iter().map(ToString::to_string).collect();
    media.put_in_order();
    let first = cables.first().and_then(|id| {
        let row = registry.cables.get(*id)?;
        Some(Run::new(registry, *id, row))
    });
    let footage = |side| {
        let record = first.as_ref()?.end(side)?;
        record.footage.last().copied()
    };
    Strand {
        codes: cables
            .iter()
            .map(|cable| names::cable(registry, *cable))
            .collect(),
        medium: if media.is_empty() {
            "medium not said".to_owned()
        } else {
            media.join(" and ")
        },
        to: first.as_ref().map_or_else(String::new, |run| {
            let to = names::side(registry, run.id, Side::Near);
            let room = shown_outlet(run.cable).and_then(|outlet| room_of(registry, outlet));
            match room {
                Some(room) => format!("{to}, {}", names::room(registry, room)),
                None => to,
            }
        }),
        outcome: first.as_ref().and_then(|run| match run.pulled() {
            Pulled::Yes => Some(PullOutcome::Pulled),
            Pulled::Trouble(outcome) => Some(outcome),
            Pulled::No => None,
        }),
        footage: Side::BOTH.map(footage),
        or_boxes: first
            .as_ref()
            .map_or_else(Vec::new, |run| other_boxes(run, box_number)),
        cables,
        box_number,
    }
}

fn other_boxes(run: &Run<'_>, number: u16) -> Vec<u16> {
    let said = run.copper.into_iter();
    let said = said.flat_map(|copper| copper.drawn_from.distinct());
    said.copied()
        .filter(|other| *other != number && *other != 0)
        .collect()
}

/// An outlet that waits for somebody, with for whom and why.
fn waits_words(registry: &Registry, outlet: OutletId) -> Option<String> {
    let waiting = waits(registry.outlets.get(outlet)?)?;
    Some(format!("{}: {waiting}", names::outlet(registry, outlet)))
}

/// Whether a cable lies there, as far as its records show.
#[must_use]
pub fn is_pulled(registry: &Registry, id: CableId) -> bool {
    let row = registry.cables.get(id);
    row.is_some_and(|row| Run::new(registry, id, row).pulled() == Pulled::Yes)
}

/// The boxes of a bundle that are still out with cables in hand, each with their codes: both tails would
/// bear its rings.
#[must_use]
pub fn busy(bundle: &Bundle, in_hand: &[Dealt]) -> Vec<(u16, Vec<String>)> {
    let out = in_hand.iter().flat_map(|dealt| &dealt.bundle.strands);
    let out = out.filter(|strand| strand.outcome.is_none());
    let needs = |number: u16| {
        bundle
            .strands
            .iter()
            .any(|strand| strand.box_number == number)
    };
    let busy = out.filter(|strand| needs(strand.box_number));
    busy.map(|strand| (strand.box_number, strand.codes.clone()))
        .collect()
}

/// The bundle in hand that a cable is in.
#[must_use]
pub fn bundle_with(registry: &Registry, cable: CableId) -> Option<Dealt> {
    in_hand(registry).into_iter().find(|dealt| {
        let strands = dealt.bundle.strands.iter();
        strands
            .flat_map(|strand| &strand.cables)
            .any(|id| *id == cable)
    })
}

/// The outlets that wait for somebody, in walking order, each with for whom and why.
#[must_use]
pub fn waiting(registry: &Registry) -> Vec<String> {
    let rooms = walk::rooms(registry).into_iter();
    let outlets = rooms.flat_map(|room| walk::outlets(registry, room));
    outlets
        .filter_map(|outlet| waits_words(registry, outlet))
        .collect()
}

/// Each bundle that was dealt and is not pulled yet, and the one that was dealt last, since its
/// length marks may still be read. What somebody dealt anew belongs to the newer bundle.
fn in_hand(registry: &Registry) -> Vec<Dealt> {
    let mut deals: Vec<(Stamp, u16, CableId)> = Vec::new();
    for (id, row) in registry.cables.iter() {
        let copper = row.copper(row.pull(id));
        let drawn = copper.and_then(|copper| copper.drawn_from.said());
        if let Some(drawn) = drawn.filter(|_| walk::is_wanted_cable(row)) {
            deals.push((drawn.stamp, *drawn.value, id));
        }
    }
    deals.order_by_key(|(stamp, number, id)| (std::cmp::Reverse(*stamp), *number, *id));
    let mut in_hand = Vec::new();
    for (at, of_one) in deals.chunk_by(|a, b| a.0 == b.0).enumerate() {
        let mut strands: Vec<Strand> = Vec::new();
        for of_box in of_one.chunk_by(|a, b| a.1 == b.1) {
            let cables: Vec<CableId> = of_box.iter().map(|(_, _, id)| *id).collect();
            let media = media(registry, &cables);
            strands.push(strand(registry, cables, &media, of_box[0].1));
        }
        // Marks that somebody began to read are read to the end.
        let begun = Side::BOTH.iter().any(|side| {
            let read = |strand: &Strand| strand.footage[side_index(*side)].is_some();
            strands.iter().any(read) && !strands.iter().all(read)
        });
        if at > 0 && !begun && strands.iter().all(|strand| strand.outcome.is_some()) {
            continue;
        }
        let mut rooms: Vec<String> = Vec::new();
        let mut outlets: Vec<OutletId> = Vec::new();
        for (_, _, id) in of_one {
            let outlet = registry.cables.get(*id).and_then(shown_outlet);
            outlets.extend(outlet.filter(|outlet| !outlets.contains(outlet)));
            let room = outlet.and_then(|outlet| room_of(registry, outlet));
            let name = room.map(|room| names::room(registry, room));
            rooms.extend(name.filter(|name| !rooms.contains(name)));
        }
        in_hand.push(Dealt {
            act: of_one[0].0.act,
            bundle: Bundle {
                from: names::side(registry, of_one[0].2, Side::Far),
                rooms,
                strands,
            },
            outlets,
        });
    }
    in_hand
}
