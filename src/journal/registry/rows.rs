//! The things of a job as the registry holds them: every field with all its live values.

use crate::domain::order::Order;
use crate::domain::sorted::SortedMap;

use rustc_hash::FxHashMap;
use thin_vec::ThinVec;

use crate::domain::ids::{
    ActId, CableId, ConduitId, FloorId, JacketId, PullId, RackId, RoomId, ThingId, UnitId,
};
use crate::domain::label::{
    LegNumber, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use crate::domain::length::FootageMark;
use crate::domain::medium::Medium;
use crate::domain::mount::{BlockKind, Mount, RackBuild, Units};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::picture::{Digest, Point, Shows};
use crate::domain::place::{ConduitEnd, End, Leaves, Place, Placement, RunName, Side};
use crate::domain::work::{
    Availability, JointKind, Lying, Pinout, PullOutcome, Slack, Spot, Standing, Waiting, WallBox,
};
use crate::journal::act::FactRef;
use crate::journal::fact::{CopperTest, Cover, Found, Mark, PanelMake, PrintedSheet};
use crate::journal::register::{Log, Parts, Register};

/// Rows of one kind of thing, found by id.
#[derive(Clone)]
pub struct Table<I, R> {
    rows: Vec<(I, R)>,
    /// By the thing behind the id, so that tables of all kinds share the code of one index.
    index: FxHashMap<ThingId, u32>,
}

impl<I, R> Default for Table<I, R> {
    fn default() -> Self {
        Self {
            rows: Vec::new(),
            index: FxHashMap::default(),
        }
    }
}

impl<I: Copy + Ord + Into<ThingId>, R: Default> Table<I, R> {
    /// The row of a thing.
    #[must_use]
    pub fn get(&self, id: I) -> Option<&R> {
        let at = find(&self.index, id.into())?;
        self.rows.get(at).map(|(_, row)| row)
    }

    /// The row of a thing, made if that is wanted, whether or not the thing was added as one of that kind:
    /// its adding may arrive later, and the order must leave no trace. A row whose thing was not added is
    /// like one that was withdrawn.
    pub(super) fn row(&mut self, id: I, parts: Parts) -> Option<&mut R> {
        let next = self.rows.len();
        let at = match parts {
            Parts::Find => find(&self.index, id.into())?,
            Parts::Make => enter(&mut self.index, id.into(), next),
        };
        if at == next {
            self.rows.push((id, R::default()));
        }
        self.rows.get_mut(at).map(|(_, row)| row)
    }

    /// All rows, in no order that means anything: sort before showing.
    pub fn iter(&self) -> impl Iterator<Item = (I, &R)> {
        self.rows.iter().map(|(id, row)| (*id, row))
    }

    /// How many rows there are, withdrawn ones included.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is no row.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The rows by id, the same whatever way they came in.
    pub(super) fn sorted(&self) -> Vec<(I, &R)> {
        let mut rows: Vec<_> = self.iter().collect();
        rows.order_by_key(|(id, _)| *id);
        rows
    }
}

// Out of line, because every kind of row is looked for in many places.
#[inline(never)]
fn find(index: &FxHashMap<ThingId, u32>, thing: ThingId) -> Option<usize> {
    index.get(&thing).map(|at| *at as usize)
}

/// Where the row of a thing is; where it has none yet, that it will be at a place.
#[inline(never)]
fn enter(index: &mut FxHashMap<ThingId, u32>, thing: ThingId, next: usize) -> usize {
    // Not by an entry of the map: this is compiled smaller, and most rows are there.
    find(index, thing).unwrap_or_else(|| {
        index.insert(thing, u32::try_from(next).unwrap_or(u32::MAX));
        next
    })
}

/// The job as a whole.
#[derive(Clone, Debug, Default)]
pub struct Job {
    /// What it is called.
    pub name: Register<String>,
    /// How its jacks are wired.
    pub pinout: Register<Pinout>,
    /// What stands before the text of a tag.
    pub tag_address: Register<String>,
    /// What the numbered boxes on site hold.
    pub boxes: SortedMap<u16, Register<Option<Medium>>>,
    /// The sheets and rolls of tags that were printed.
    pub sheets: Log<PrintedSheet>,
    /// The tags of the numbered boxes themselves.
    pub box_tags: SortedMap<u16, Log<Mark>>,
}

/// A building or unit.
#[derive(Clone, Debug, Default)]
pub struct Unit {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called.
    pub name: Register<String>,
}

/// A floor.
#[derive(Clone, Debug, Default)]
pub struct Floor {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called.
    pub name: Register<String>,
    /// Its number.
    pub number: Register<u8>,
    /// The sheet of the plans that shows it.
    pub sheet: Register<String>,
}

/// A room.
#[derive(Clone, Debug, Default)]
pub struct Room {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called.
    pub name: Register<String>,
    /// Its code.
    pub code: Register<RoomCode>,
    /// The floor that it is on.
    pub floor: Register<FloorId>,
    /// The building or unit that it is in.
    pub unit: Register<UnitId>,
    /// Its place in the walking order.
    pub order: Register<u32>,
    /// Whether its walls may be closed.
    pub cover: Register<Cover>,
}

/// An outlet type of the job's own.
#[derive(Clone, Debug, Default)]
pub struct OutletType {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called.
    pub name: Register<String>,
    /// The cables that it gets.
    pub cables: Register<Vec<PlannedCable>>,
}

/// Room and number of an outlet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Numbering {
    /// The room.
    pub room: RoomId,
    /// The number there.
    pub number: OutletNumber,
}

/// An outlet.
#[derive(Clone, Debug, Default)]
pub struct Outlet {
    /// Whether it exists.
    pub added: Log<()>,
    /// Room and number.
    pub number: Register<Numbering>,
    /// Its type.
    pub kind: Register<OutletKind>,
    /// What it is for.
    pub purpose: Register<String>,
    /// Where exactly it is.
    pub spot: Register<Spot>,
    /// Its box.
    pub wall_box: Register<WallBox>,
    /// Whether it is still wanted.
    pub standing: Register<Standing>,
    /// Remarks.
    pub notes: Log<String>,
    /// The cable left coiled behind it.
    pub slack: Register<Slack>,
    /// Its own tags.
    pub tags: Log<Mark>,
    /// Whether it waits for somebody.
    pub waits: Register<Waiting>,
    /// The change order that it came with.
    pub change_order: Register<String>,
}

/// A cable run.
#[derive(Clone, Debug, Default)]
pub struct Cable {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called after.
    pub name: Register<RunName>,
    /// Where its far end goes.
    pub leaves: Register<Leaves>,
    /// What it is made of.
    pub medium: Register<Medium>,
    /// What it is for.
    pub purpose: Register<String>,
    /// The jacket that it shares.
    pub jacket: Register<JacketId>,
    /// Whether it is still wanted.
    pub standing: Register<Standing>,
    /// The work on its copper that was known to whoever took it out of the job.
    pub foreseen: Log<Vec<ActId>>,
    /// The work on its copper that was known to whoever pulled it anew.
    pub passed: Log<Vec<ActId>>,
    /// Old names.
    pub known_as: Log<String>,
    /// Tags that are right although the run is called otherwise.
    pub kept_tags: Log<KeptTag>,
    /// Remarks.
    pub notes: Log<String>,
    /// The change order that it came with.
    pub change_order: Register<String>,
    /// Whether it lies in each conduit of which that was said.
    pub conduits: SortedMap<ConduitId, Register<Lying>>,
    /// The latest pull and why; none: it was pulled once at most.
    pub repull: Register<Repull>,
    /// Where its ends belong, whatever copper lies there.
    pub planned: [PerLeg<Register<Option<Place>>>; 2],
    /// What is known of each pull.
    pub copper: ThinVec<(PullId, Copper)>,
}

/// A further pull of a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repull {
    /// The pull.
    pub pull: PullId,
    /// Why it was needed.
    pub reason: String,
}

/// A tag that is right although its run is called otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptTag {
    /// What stands on the tag.
    pub tag: String,
    /// What the run is called.
    pub called: String,
}

/// Something kept for a whole end and for each of its legs.
#[derive(Clone, Debug, Default)]
pub struct PerLeg<T> {
    /// For the end as a whole.
    pub whole: T,
    /// For each leg of a split end.
    pub legs: SortedMap<LegNumber, T>,
}

impl Register<Standing> {
    /// Whether the last word about a thing is that it was taken out of the job.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        matches!(self.get(), Some(Standing::Cancelled { .. }))
    }
}

impl<T: Default> PerLeg<T> {
    /// The part for a leg, or for the whole end.
    #[must_use]
    pub fn get(&self, leg: Option<LegNumber>) -> Option<&T> {
        match leg {
            None => Some(&self.whole),
            Some(leg) => self.legs.get(&leg),
        }
    }

    /// The whole and all legs of which something is known.
    pub fn all(&self) -> impl Iterator<Item = (Option<LegNumber>, &T)> {
        let legs = self.legs.iter().map(|(leg, part)| (Some(*leg), part));
        std::iter::once((None, &self.whole)).chain(legs)
    }

    pub(super) fn part(&mut self, leg: Option<LegNumber>, parts: Parts) -> Option<&mut T> {
        match leg {
            None => Some(&mut self.whole),
            Some(leg) => parts.of(&mut self.legs, leg),
        }
    }
}

/// What is known of one pull.
#[derive(Clone, Debug, Default)]
pub struct Copper {
    /// How it went.
    pub outcome: Register<PullOutcome>,
    /// The box that it was drawn from.
    pub drawn_from: Register<u16>,
    /// Its tests.
    pub tests: Log<CopperTest>,
    /// Its two ends, near and far.
    pub ends: [EndRecord; 2],
}

/// What is known of one end of one pull.
#[derive(Clone, Debug, Default)]
pub struct EndRecord {
    /// Its marks.
    pub marks: Log<Mark>,
    /// Times that its tag was lost.
    pub lost: Log<()>,
    /// Where its tag was scanned.
    pub seen: Log<String>,
    /// The length marks read on its jacket.
    pub footage: Log<FootageMark>,
    /// Into how many legs it is split.
    pub split: Register<LegNumber>,
    /// What has become of it.
    pub placement: PerLeg<Register<Placement>>,
}

/// A side as a place in a pair.
#[must_use]
pub fn side_index(side: Side) -> usize {
    match side {
        Side::Near => 0,
        Side::Far => 1,
    }
}

impl Copper {
    /// The facts that speak of work on it.
    #[must_use]
    pub fn work(&self) -> Vec<FactRef> {
        let mut work = Vec::new();
        work.extend(self.outcome.all().map(|said| said.fact));
        work.extend(self.drawn_from.all().map(|said| said.fact));
        work.extend(self.tests.iter().map(|said| said.fact));
        for end in &self.ends {
            work.extend(end.marks.iter().map(|said| said.fact));
            work.extend(end.footage.iter().map(|said| said.fact));
            work.extend(end.split.all().map(|said| said.fact));
            for (_, placed) in end.placement.all() {
                let placed = placed.all();
                let placed = placed.filter(|said| *said.value != Placement::Lifted);
                work.extend(placed.map(|said| said.fact));
            }
        }
        work
    }
}

impl Cable {
    /// The pull that lies there now.
    #[must_use]
    pub fn pull(&self, id: CableId) -> PullId {
        self.repull.get().map_or(PullId(id.0), |repull| repull.pull)
    }

    /// What is known of a pull; none when nothing is.
    #[must_use]
    pub fn copper(&self, pull: PullId) -> Option<&Copper> {
        self.copper
            .iter()
            .find(|(id, _)| *id == pull)
            .map(|(_, copper)| copper)
    }

    /// What is known of an end of the pull that lies there now.
    #[must_use]
    pub fn end(&self, id: CableId, side: Side) -> Option<&EndRecord> {
        self.copper(self.pull(id))
            .map(|copper| &copper.ends[side_index(side)])
    }

    /// An end of that pull, or its legs where it is split.
    #[must_use]
    pub fn parts(&self, id: CableId, side: Side) -> Vec<End> {
        let whole = End::whole(id, side);
        let split = self.end(id, side).and_then(|record| record.split.get());
        let leg = |leg| End {
            leg: Some(leg),
            ..whole
        };
        split.map_or_else(|| vec![whole], |legs| legs.up_to().map(leg).collect())
    }

    /// The acts that speak of work on its copper, whichever pull, in their order: outcomes, tests, marks, lengths,
    /// legs, where its ends are, and that it was pulled anew. That a tag was seen or lost, or an end taken off, is none.
    #[must_use]
    pub fn work(&self) -> Vec<ActId> {
        let mut work: Vec<ActId> = self.repull.all().map(|said| said.fact.act).collect();
        let copper = self.copper.iter().flat_map(|(_, copper)| copper.work());
        work.extend(copper.map(|fact| fact.act));
        work.put_in_order();
        work.dedup();
        work
    }

    /// What was done on copper that does not lie there now, unknown to whoever pulled it anew, or on a pull that was
    /// taken back or not chosen. Of the first copper nothing is asked where nobody said what was known.
    #[must_use]
    pub fn astray(&self, id: CableId) -> Vec<FactRef> {
        let (now, first) = (self.pull(id), PullId(id.0));
        let mut astray = Vec::new();
        for (pull, copper) in &self.copper {
            if *pull != now && (*pull != first || !self.passed.is_empty()) {
                astray.extend(copper.work());
            }
        }
        let is_known = |fact: &FactRef| {
            self.passed
                .iter()
                .any(|said| said.value.contains(&fact.act))
        };
        astray.retain(|fact| !is_known(fact));
        astray
    }

    /// What was done on its copper unknown to whoever took it out of the job; nothing where nobody said
    /// what was known.
    #[must_use]
    pub fn unforeseen(&self) -> Vec<ActId> {
        if self.foreseen.is_empty() {
            return Vec::new();
        }
        let mut acts = self.work();
        acts.retain(|act| !self.foreseen.iter().any(|said| said.value.contains(act)));
        acts
    }

    pub(super) fn copper_mut(&mut self, pull: PullId, parts: Parts) -> Option<&mut Copper> {
        // Kept by id, so that the order in which acts arrive leaves no trace.
        let at = match (
            self.copper.binary_search_by_key(&pull, |(id, _)| *id),
            parts,
        ) {
            (Ok(at), _) => at,
            (Err(at), Parts::Make) => {
                // Most runs are pulled once.
                if self.copper.is_empty() {
                    self.copper.reserve_exact(1);
                }
                self.copper.insert(at, (pull, Copper::default()));
                at
            }
            (Err(_), Parts::Find) => return None,
        };
        Some(&mut self.copper[at].1)
    }
}

/// A rack.
#[derive(Clone, Debug, Default)]
pub struct Rack {
    /// Whether it exists.
    pub added: Log<()>,
    /// The telecom space that it is.
    pub space: Register<SpaceCode>,
    /// What people call it.
    pub name: Register<String>,
    /// The room that it stands in.
    pub room: Register<RoomId>,
    /// Its own tags.
    pub tags: Log<Mark>,
    /// How it is built.
    pub build: Register<RackBuild>,
}

/// A panel.
#[derive(Clone, Debug, Default)]
pub struct Panel {
    /// Whether it exists, and as what.
    pub make: Register<PanelMake>,
    /// The rack that it is in.
    pub rack: Register<RackId>,
    /// Its letters.
    pub letters: Register<PanelLetters>,
    /// The rack unit of its lower edge.
    pub unit: Register<Option<u8>>,
    /// What it is for.
    pub purpose: Register<String>,
    /// What each position is kept for, where that was said.
    pub kept: SortedMap<PositionNumber, Register<Availability>>,
    /// What each front is patched to, where that was said.
    pub patched: SortedMap<PositionNumber, Register<Option<Place>>>,
    /// Its own tags.
    pub tags: Log<Mark>,
    /// The words on the strips that were printed for it.
    pub strips: Log<String>,
    /// How many rack units it takes, where that was said.
    pub high: Register<Units>,
}

/// A device.
#[derive(Clone, Debug, Default)]
pub struct Device {
    /// Whether it exists.
    pub added: Log<()>,
    /// What it is called.
    pub name: Register<String>,
    /// The room that it is in.
    pub room: Register<RoomId>,
    /// Which model it is.
    pub model: Register<String>,
    /// Its serial number.
    pub serial: Register<String>,
    /// Where it hangs in a rack.
    pub mount: Register<Option<Mount>>,
}

/// A blank, a shelf or a cable guide.
#[derive(Clone, Debug, Default)]
pub struct Block {
    /// Whether it exists, and as what.
    pub kind: Register<BlockKind>,
    /// What it is called.
    pub name: Register<String>,
    /// Where it hangs.
    pub mount: Register<Mount>,
    /// Whether it is still there.
    pub standing: Register<Standing>,
}

/// A joint.
#[derive(Clone, Debug, Default)]
pub struct Joint {
    /// Whether it exists, and as what.
    pub kind: Register<JointKind>,
    /// What it is called.
    pub name: Register<String>,
    /// The room that it is in.
    pub room: Register<RoomId>,
}

/// A jacket that holds several cables.
#[derive(Clone, Debug, Default)]
pub struct Jacket {
    /// Whether it exists.
    pub added: Log<()>,
}

/// A loose end.
#[derive(Clone, Debug, Default)]
pub struct LooseEnd {
    /// Whether it exists, with the number on its own tag.
    pub number: Register<u16>,
    /// What is known of it.
    pub found: Register<Found>,
    /// The cable end that it turned out to be; none: not known.
    pub joined: Register<Option<End>>,
}

/// A picture.
#[derive(Clone, Debug, Default)]
pub struct Picture {
    /// Whether it exists, and with which bytes.
    pub digest: Register<Digest>,
    /// What it shows.
    pub shows: Register<Shows>,
    /// A remark.
    pub note: Register<String>,
    /// What can be seen where on it.
    pub points: Register<Vec<Point>>,
    /// Whether it is still wanted.
    pub standing: Register<Standing>,
}

/// A conduit.
#[derive(Clone, Debug, Default)]
pub struct Conduit {
    /// Whether it exists, with its number.
    pub number: Register<u16>,
    /// Where it begins and where it ends.
    pub ends: [Register<ConduitEnd>; 2],
    /// How wide it is, as people call it.
    pub size: Register<String>,
    /// Whether a pull string lies in it.
    pub string: Register<Lying>,
    /// A remark.
    pub note: Register<String>,
    /// Whether it is still wanted.
    pub standing: Register<Standing>,
    /// Its own tags.
    pub tags: Log<Mark>,
}
