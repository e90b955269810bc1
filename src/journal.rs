//! The set of everything that people did on a job, and the registry that follows from it.
//!
//! The registry is a function of the set, not of the order of arrival nor of any clock. Taking in
//! an act cannot fail for reasons of the subject: people who disagree give a registry that holds
//! both sides. An act that names something unknown waits until it comes.

use std::collections::BTreeSet;
use std::rc::Rc;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::domain::ids::{ActId, JobId, ThingId, WriterId};
use crate::domain::order::Order;
use crate::domain::picture::Digest;
use crate::domain::sorted::SortedMap;

/// Acts and drafts of acts.
mod act;
/// What an act says.
mod fact;
/// What waits, is missing or is doubled.
mod health;
/// Lines and acts as they are kept.
mod kept;
/// What a chain of taking back reaches.
mod reached;
/// Values with the facts that they come from.
mod register;
/// The state of a job.
mod registry;
/// The stored form.
pub mod wire;

pub use act::{Act, Draft, FactRef, Lamport, Stamp, WallTime};
pub use fact::{
    BlockFact, CableFact, ConduitFact, CopperTest, Cover, CoverOk, DeviceFact, EndFact, EndOfPull,
    Fact, FloorFact, Found, JobFact, JointFact, LooseEndFact, Mark, OutletFact, OutletTypeFact,
    PanelFact, PanelMake, PanelSize, PictureFact, PrintedSheet, PullFact, PullRef, RackFact,
    RoomFact, UnitFact,
};
pub use health::{Gap, Health};
use kept::{Entries, Entry, Line, Text};
pub use kept::{lines_of, readable};
use reached::{Reached, Standing};
use register::Change;
pub use register::{Log, Register, Said};
pub use registry::{
    Block, Cable, CableCode, Conduit, Copper, Device, EndRecord, Floor, Hold, Hung, Index, Jacket,
    Job, Joint, KeptTag, Lookup, LooseEnd, Numbering, Outlet, OutletType, Panel, PerLeg, Picture,
    Rack, Registry, Repull, Room, Table, Unit, drawn_from, side_index,
};

/// What became of a line that was taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It is new.
    New(ActId),
    /// It was here already, to the letter.
    Known(ActId),
    /// It names something that is not here yet; it is kept.
    Waits(ActId),
    /// Another text with the same writer and number is here. Both are kept and neither counts.
    Clashes(ActId),
    /// It cannot be read. It is kept.
    Unreadable,
    /// It cannot be read, and was here already, to the letter.
    KnownUnreadable,
}

/// A draft that could not be given a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CannotWrite {
    /// The counter or the writer's numbers are used up.
    CounterExhausted,
    /// The draft was made for another place: something was written in between.
    OutOfTurn,
}

/// A newly written act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its id.
    pub id: ActId,
    /// Its stored form.
    pub line: String,
}

/// Who writes, and when, by the clock of this phone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// Initials and device.
    pub by: String,
    /// The time.
    pub wall: WallTime,
}

/// Everything that people did on one job.
pub struct Journal {
    job: JobId,
    writer: WriterId,
    next_number: u32,
    top: Lamport,
    entries: Entries,
    things: FxHashSet<ThingId>,
    waiting: FxHashMap<ActId, (Act, Line)>,
    /// What waiting acts wait for.
    wanted: FxHashMap<Want, Vec<ActId>>,
    clashes: SortedMap<ActId, Vec<Box<str>>>,
    unreadable: BTreeSet<Box<str>>,
    ignored_links: FxHashSet<ActId>,
    /// Who signed the last act: mostly the one who signs the next.
    signed: Rc<str>,
    registry: Registry,
}

/// Something that an act needs before it can count.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Want {
    Act(ActId),
    Thing(ThingId),
}

/// A journal into which a whole job is taken, part by part. What the registry finds by code, by place and by
/// neighbour is worked out once, when all is in, and not again for every part; so nothing can be asked of
/// it before.
pub struct Intake(Journal);

impl Intake {
    /// Lets a journal take in a whole job.
    #[must_use]
    pub fn into(mut journal: Journal) -> Self {
        journal.registry.touch_all();
        Self(journal)
    }

    /// Takes in a text of one or more stored lines.
    pub fn take(&mut self, text: String) {
        for line in Line::all(&Rc::new(Text(text))) {
            self.0.take_one(line);
        }
    }

    /// Works out what is found of some more things; whether there is more to do.
    pub fn settle_some(&mut self, most: usize) -> bool {
        self.0.registry.settle_some(most)
    }

    /// The journal, once all is worked out.
    #[must_use]
    pub fn finish(mut self) -> Journal {
        self.0.registry.settle();
        self.0
    }
}

impl Journal {
    /// An empty job.
    #[must_use]
    pub fn new(job: JobId, writer: WriterId) -> Self {
        Self {
            job,
            writer,
            next_number: 1,
            top: Lamport::default(),
            entries: Entries::default(),
            things: FxHashSet::default(),
            waiting: FxHashMap::default(),
            wanted: FxHashMap::default(),
            clashes: SortedMap::default(),
            unreadable: BTreeSet::new(),
            ignored_links: FxHashSet::default(),
            signed: Rc::default(),
            registry: Registry::default(),
        }
    }

    /// The job.
    #[must_use]
    pub fn job(&self) -> JobId {
        self.job
    }

    /// Who writes here.
    #[must_use]
    pub fn writer(&self) -> WriterId {
        self.writer
    }

    /// What is known of the job.
    #[must_use]
    pub fn registry(&self) -> &Registry {
        &self.registry
    }

    /// An empty draft of the next act.
    #[must_use]
    pub fn draft(&self) -> Draft {
        Draft::new(ActId {
            writer: self.writer,
            n: self.next_number,
        })
    }

    /// Writes a draft down.
    ///
    /// # Errors
    /// When no number is left for it, or when it was made for another place.
    pub fn write(&mut self, draft: Draft, signature: Signature) -> Result<Written, CannotWrite> {
        let id = draft.id();
        if id != self.draft().id() {
            return Err(CannotWrite::OutOfTurn);
        }
        let lamport = self.top.next().ok_or(CannotWrite::CounterExhausted)?;
        self.next_number = self
            .next_number
            .checked_add(1)
            .ok_or(CannotWrite::CounterExhausted)?;
        let mut about = Vec::new();
        let mut replaces = draft.also_replaces;
        for (at, fact) in draft.facts.iter().enumerate() {
            fact.mentions(&mut |thing| about.push(thing));
            if !draft.beside.contains(&at) {
                replaces.extend(self.registry.holders(fact));
            }
        }
        about.put_in_order();
        about.dedup();
        replaces.put_in_order();
        replaces.dedup();
        let act = Act {
            id,
            lamport,
            wall: signature.wall,
            by: signature.by.into(),
            about: about.into(),
            replaces: replaces.into(),
            strikes: draft.strikes.into(),
            facts: draft.facts.into(),
        };
        let line = wire::write(&act);
        // A draft that names what is not here waits, as it will on every other phone.
        self.top = lamport;
        self.admit_or_wait(act, Line::alone(&line));
        self.registry.settle();
        Ok(Written { id, line })
    }

    /// Takes in stored lines, in any order.
    pub fn take<'a>(&mut self, lines: impl IntoIterator<Item = &'a str>) -> Vec<Taken> {
        let lines = lines.into_iter().map(Line::alone);
        let taken = lines.map(|line| self.take_one(line)).collect();
        self.registry.settle();
        taken
    }

    // Out of line, because it is called for parts of a job, for files and where two lines clash.
    #[inline(never)]
    fn take_one(&mut self, line: Line) -> Taken {
        let Ok(mut act) = wire::read(&line) else {
            return if self.unreadable.insert((*line).into()) {
                Taken::Unreadable
            } else {
                Taken::KnownUnreadable
            };
        };
        let id = act.id;
        if let Some(texts) = self.clashes.get_mut(&id) {
            if texts.iter().any(|text| **text == *line) {
                return Taken::Known(id);
            }
            texts.push((*line).into());
            texts.put_in_order();
            return Taken::Clashes(id);
        }
        let known = self.entries.get(id).map(|entry| &entry.line);
        match known.or_else(|| self.waiting.get(&id).map(|(_, line)| line)) {
            Some(known) if **known == *line => return Taken::Known(id),
            Some(_) => {
                self.clash(id, &line);
                return Taken::Clashes(id);
            }
            None => {}
        }
        if id.writer == self.writer {
            self.next_number = self.next_number.max(id.n.saturating_add(1));
        }
        self.top = self.top.max(act.lamport);
        if self.signed == act.by {
            act.by = Rc::clone(&self.signed);
        } else {
            self.signed = Rc::clone(&act.by);
        }
        if self.admit_or_wait(act, line) {
            Taken::New(id)
        } else {
            Taken::Waits(id)
        }
    }

    /// What stands under each writer and number of which there are two contents.
    #[must_use]
    pub fn versions(&self) -> Vec<Vec<Act>> {
        let all = self.clashes.values().map(|texts| {
            let read = texts.iter().map(|text| wire::read(text));
            read.filter_map(Result::ok).collect()
        });
        all.collect()
    }

    /// Two contents under one writer and number: both are kept, neither counts. What rested on the
    /// one that counted must wait again, so the registry is built anew without it.
    #[cold]
    fn clash(&mut self, id: ActId, line: &str) {
        let mut lines: Vec<Line> = Vec::new();
        let mut texts: Vec<Box<str>> = vec![line.into()];
        let waiting = std::mem::take(&mut self.waiting).into_values();
        let entries = std::mem::take(&mut self.entries).into_lines();
        for kept in entries.chain(waiting.map(|(_, line)| line)) {
            match wire::read(&kept) {
                Ok(act) if act.id == id => texts.push((*kept).into()),
                _ => lines.push(kept),
            }
        }
        texts.put_in_order();
        self.clashes.insert(id, texts);
        self.things.clear();
        self.wanted.clear();
        self.ignored_links.clear();
        self.registry = Registry::default();
        lines.order_by(|one, other| (**one).cmp(&**other));
        for line in lines {
            self.take_one(line);
        }
    }

    /// What an act still needs.
    fn missing(&self, act: &Act) -> Vec<Want> {
        let mut missing = Vec::new();
        let acts = act
            .strikes
            .iter()
            .copied()
            .chain(act.replaces.iter().map(|fact| fact.act));
        missing.extend(acts.filter(|id| !self.is_known_to(*id, act)).map(Want::Act));
        let mut adds: Vec<ThingId> = act.facts.iter().filter_map(Fact::adds).collect();
        adds.put_in_order();
        let mut name = |thing: ThingId| {
            // An unknown fact of this very act may be what adds the thing.
            let own = thing.origin == act.id.writer.0 && thing.n == act.id.n;
            if !own && !self.things.contains(&thing) && adds.binary_search(&thing).is_err() {
                missing.push(Want::Thing(thing));
            }
        };
        act.about.iter().copied().for_each(&mut name);
        // What an act is about are mostly all the things that its facts name, in order.
        let mut unsaid = |thing| {
            if act.about.binary_search(&thing).is_err() {
                name(thing);
            }
        };
        act.facts.iter().for_each(|fact| fact.mentions(&mut unsaid));
        missing.put_in_order();
        missing.dedup();
        missing
    }

    /// Whether enough is known of the act `target` for `act` to count: it counts itself, or is here in two
    /// versions and never will, or the link points forward and is ignored anyway. So no circle of links
    /// waits for itself.
    fn is_known_to(&self, target: ActId, act: &Act) -> bool {
        let forward = |(other, _): &(Act, Line)| other.lamport >= act.lamport;
        target == act.id
            || self.entries.contains(target)
            || self.clashes.contains_key(&target)
            || self.waiting.get(&target).is_some_and(forward)
    }

    /// Lets an act count if it can, else keeps it waiting; says whether it counts.
    fn admit_or_wait(&mut self, act: Act, line: Line) -> bool {
        let missing = self.missing(&act);
        if missing.is_empty() {
            self.admit(act, line);
            return true;
        }
        for want in missing {
            self.wanted.entry(want).or_default().push(act.id);
        }
        let id = act.id;
        self.waiting.insert(id, (act, line));
        // Acts that point forward to this one need not wait for it any more.
        let pointing = self.wanted.get(&Want::Act(id)).cloned();
        for other in pointing.unwrap_or_default() {
            if self.is_free(other)
                && let Some((act, line)) = self.waiting.remove(&other)
            {
                self.admit(act, line);
            }
        }
        !self.waiting.contains_key(&id)
    }

    /// Whether an act waits, and for nothing any more.
    fn is_free(&self, waiting: ActId) -> bool {
        let found = self.waiting.get(&waiting);
        found.is_some_and(|(act, _)| self.missing(act).is_empty())
    }

    /// Lets an act count, and every act that waited for it alone.
    fn admit(&mut self, act: Act, line: Line) {
        // Acts stay among those that wait until it is their turn: one that is in neither place for
        // a while would seem unknown to those that point forward to it.
        let mut free = Vec::new();
        let mut next = Some((act, line));
        while let Some((act, line)) = next {
            let id = act.id;
            let mut wants = Vec::new();
            // Mostly nothing waits.
            let any_wait = !self.wanted.is_empty();
            if any_wait {
                wants.push(Want::Act(id));
            }
            let added = act.facts.iter().filter_map(Fact::adds);
            // What an unknown fact added must be findable too.
            let own = act
                .about
                .iter()
                .copied()
                .filter(|thing| thing.origin == id.writer.0 && thing.n == id.n);
            for thing in added.chain(own) {
                if self.things.insert(thing) && any_wait {
                    wants.push(Want::Thing(thing));
                }
            }
            self.count(act, line);
            for want in wants {
                let waiting = self.wanted.remove(&want).unwrap_or_default();
                free.extend(waiting.into_iter().filter(|id| self.is_free(*id)));
            }
            // One that was freed twice is gone the second time.
            next = loop {
                let Some(id) = free.pop() else { break None };
                if let Some(found) = self.waiting.remove(&id) {
                    break Some(found);
                }
            };
        }
    }

    fn count(&mut self, act: Act, line: Line) {
        let id = act.id;
        self.top = self.top.max(act.lamport);
        for (place, fact) in (0..).zip(&act.facts) {
            self.registry.put(&act, place, fact);
        }
        let has_links = !(act.replaces.is_empty() && act.strikes.is_empty());
        self.entries.insert(Entry {
            act,
            line,
            strikes: 0,
        });
        if has_links {
            self.link(id);
        }
    }

    /// Lets the links of a new act take effect, with everything that follows from its strikes.
    fn link(&mut self, id: ActId) {
        let mut reached = Reached::default();
        self.turn_links(id, Change::Dies, &mut reached);
        // The highest counter first: every strike of an act has a higher one, so an act's standing
        // is settled when its turn comes, and however many ways lead to it, it turns once.
        while let Some((stamp, was)) = reached.pop_last() {
            let Some(entry) = self.entries.get(stamp.act) else {
                continue;
            };
            let is = Standing::of(entry);
            let (facts, links) = match (was, is) {
                (Standing::Live, Standing::Struck) => (Change::Dies, Change::Revives),
                (Standing::Struck, Standing::Live) => (Change::Revives, Change::Dies),
                (Standing::Live, Standing::Live) | (Standing::Struck, Standing::Struck) => continue,
            };
            self.turn_facts(stamp.act, facts);
            self.turn_links(stamp.act, links, &mut reached);
        }
    }

    /// Lets the links of an act take or lose effect, and notes how the acts that it strikes stood
    /// before. A link may only point to an act with a smaller counter, so that no file can make a
    /// circle; others count for nothing and are reported.
    fn turn_links(&mut self, id: ActId, change: Change, reached: &mut Reached) {
        let Some(entry) = self.entries.get(id) else {
            return;
        };
        let lamport = entry.act.lamport;
        for fact in &entry.act.replaces {
            match self.entries.get(fact.act) {
                Some(target) if target.act.lamport < lamport => {
                    self.registry.turn(&target.act, *fact, change);
                }
                None if self.clashes.contains_key(&fact.act) => {}
                _ => {
                    self.ignored_links.insert(id);
                }
            }
        }
        for target in entry.act.strikes.clone() {
            match self.entries.get_mut(target) {
                Some(entry) if entry.act.lamport < lamport => {
                    reached.note(entry.act.stamp(), Standing::of(entry));
                    match change {
                        Change::Dies => entry.strikes += 1,
                        Change::Revives => entry.strikes -= 1,
                    }
                }
                None if self.clashes.contains_key(&target) => {}
                _ => {
                    self.ignored_links.insert(id);
                }
            }
        }
    }

    fn turn_facts(&mut self, id: ActId, change: Change) {
        let Some(Entry { act, .. }) = self.entries.get(id) else {
            return;
        };
        for (fact, _) in (0..).zip(&act.facts) {
            self.registry.turn(act, FactRef { act: id, fact }, change);
        }
    }

    /// An act that counts.
    #[must_use]
    pub fn act(&self, id: ActId) -> Option<&Act> {
        self.entries.get(id).map(|entry| &entry.act)
    }

    /// Whether an act was taken back.
    #[must_use]
    pub fn is_struck(&self, id: ActId) -> bool {
        self.entries.get(id).is_some_and(|entry| entry.strikes > 0)
    }

    /// All acts that count, taken back or not, in no order that means anything.
    pub fn acts(&self) -> impl Iterator<Item = &Act> {
        self.entries.iter().map(|entry| &entry.act)
    }

    /// The same in the order of display.
    #[must_use]
    pub fn history(&self) -> Vec<&Act> {
        let mut acts: Vec<&Act> = self.acts().collect();
        acts.order_by_key(|act| act.stamp());
        acts
    }

    /// Every stored line, those that wait, clash or cannot be read too, in an order that depends
    /// on the set alone.
    #[must_use]
    pub fn lines(&self) -> Vec<&str> {
        let mut counted: Vec<(Stamp, &str)> = self
            .entries
            .iter()
            .map(|entry| (entry.act.stamp(), &*entry.line))
            .collect();
        counted.extend(
            self.waiting
                .values()
                .map(|(act, line)| (act.stamp(), &**line)),
        );
        counted.put_in_order();
        let mut lines: Vec<&str> = counted.into_iter().map(|(_, line)| line).collect();
        lines.extend(self.clashes.values().flatten().map(|line| &**line));
        lines.extend(self.unreadable.iter().map(|line| &**line));
        lines
    }

    /// The acts that say a later time than this one, in their order.
    #[must_use]
    pub fn later_than(&self, time: WallTime) -> Vec<&Act> {
        let mut acts: Vec<&Act> = self.acts().filter(|act| act.wall > time).collect();
        acts.order_by_key(|act| act.stamp());
        acts
    }

    /// How many acts count.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// How many [`Self::lines`] there are. A line that cannot be read is one still, and so is each that waits
    /// for it, so that what befalls one of them changes nothing of their number.
    #[must_use]
    pub fn held(&self) -> usize {
        let clashing: usize = self.clashes.values().map(Vec::len).sum();
        self.entries.len() + self.waiting.len() + clashing + self.unreadable.len()
    }

    /// Whether nothing was ever done.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.held() == 0
    }

    /// How many acts wait for others.
    #[must_use]
    pub fn waiting(&self) -> usize {
        self.waiting.len()
    }

    /// Who writes under a number, by the last act of it that is here; empty where none is.
    #[must_use]
    pub fn written_by(&self, writer: WriterId) -> &str {
        let counted = self.entries.iter().map(|entry| &entry.act);
        let acts = counted.chain(self.waiting.values().map(|(act, _)| act));
        let last = acts
            .filter(|act| act.id.writer == writer)
            .max_by_key(|act| act.id.n);
        last.map_or("", |act| &act.by)
    }

    /// Up to which act of each writer everything is known here, by writer; one that is here in two versions is.
    #[must_use]
    pub fn frontier(&self) -> Vec<ActId> {
        let counted = self.entries.iter().map(|entry| entry.act.id);
        let mut ids: Vec<ActId> = counted.chain(self.clashes.keys().copied()).collect();
        ids.put_in_order();
        let mut last: Vec<ActId> = Vec::new();
        for id in ids {
            // Behind a gap nothing is known for certain.
            match last.last_mut() {
                Some(known) if known.writer == id.writer && known.n + 1 == id.n => *known = id,
                Some(known) if known.writer == id.writer => {}
                _ if id.n == 1 => last.push(id),
                _ => {}
            }
        }
        last
    }
}

/// The writer and number that a stored line says of itself; none when it cannot be read.
#[must_use]
pub fn line_id(line: &str) -> Option<ActId> {
    wire::read(line).ok().map(|act| act.id)
}

/// The name of a picture: SHA-256 of its bytes.
#[must_use]
pub fn picture_digest(bytes: &[u8]) -> Digest {
    use sha2::{Digest as _, Sha256};
    Digest(Sha256::digest(bytes).into())
}

/// Eight hexadecimal digits of the SHA-256 digest of a line, enough to tell two contents under one
/// writer and number apart.
#[must_use]
pub fn line_hash(line: &str) -> String {
    use sha2::{Digest, Sha256};
    Sha256::digest(line.as_bytes())
        .iter()
        .take(4)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
