//! Every text that can be looked for, folded, in one string, with what it belongs to.

use rustc_hash::FxHashSet;

use super::{FoundIn, Hit, Target, called, kept};
use crate::domain::ids::{CableId, ConduitId, LooseEndId, OutletId, RackId, RoomId};
use crate::domain::medium::Medium;
use crate::domain::order::Order;
use crate::domain::place::{Place, Placement, Position, RunName, Side};
use crate::domain::text::folded;
use crate::journal::{Cable, Register, Registry};
use crate::query::deeds::{in_short, kept_words, thing_name};
use crate::query::{Thing, conduit, plan};
use crate::{names, walk};

/// One line of the index: a text of one thing.
#[derive(Clone, Copy, Debug)]
struct Line {
    start: u32,
    entry: u32,
    found_in: FoundIn,
}

/// Every text that can be looked for, folded, in one string with a line break behind each.
#[derive(Clone, Debug, Default)]
pub struct SearchIndex {
    text: String,
    lines: Vec<Line>,
    /// Things with where their lines begin.
    entries: Vec<(Target, u32)>,
}

/// An index that is being built, a piece at a time, so that a phone stays awake to its user.
#[derive(Clone, Debug)]
pub struct Indexing {
    index: SearchIndex,
    /// What is still to be put in, in this order.
    waiting: std::vec::IntoIter<Target>,
}

impl Indexing {
    /// The things of a job: rooms, racks, outlets, cables, loose ends, each in the walking order.
    #[must_use]
    pub fn begin(registry: &Registry) -> Self {
        let rooms = walk::rooms(registry);
        let outlets = rooms.iter().flat_map(|room| walk::outlets(registry, *room));
        let outlets: Vec<Target> = outlets.map(Target::Outlet).collect();
        let wanted = walk::cables(registry);
        let known: FxHashSet<CableId> = wanted.iter().copied().collect();
        let others = registry.cables.iter();
        let others = others.filter(|(id, row)| !row.added.is_empty() && !known.contains(id));
        let mut others: Vec<CableId> = others.map(|(id, _)| id).collect();
        others.put_in_order();
        let mut loose: Vec<_> = registry.loose_ends.iter().collect();
        loose.order_by_key(|(id, row)| (row.number.get().copied(), *id));
        let mut all: Vec<Target> = rooms.into_iter().map(Target::Room).collect();
        all.extend(walk::racks(registry).into_iter().map(Target::Rack));
        all.extend(outlets);
        all.extend(wanted.into_iter().chain(others).map(Target::Cable));
        all.extend(loose.into_iter().map(|(id, _)| Target::LooseEnd(id)));
        all.extend(
            plan::devices(registry)
                .into_iter()
                .map(|row| Target::Device(row.id)),
        );
        all.extend(
            plan::joints(registry)
                .into_iter()
                .map(|row| Target::Joint(row.id)),
        );
        all.extend(
            conduit::conduits(registry)
                .into_iter()
                .map(|line| Target::Conduit(line.id)),
        );
        for (panel, row) in registry
            .panels
            .iter()
            .filter(|(_, row)| row.make.get().is_some())
        {
            let kept = row.kept.keys();
            all.extend(kept.map(|number| {
                Target::Position(Position {
                    panel,
                    number: *number,
                })
            }));
        }
        Self {
            index: SearchIndex::default(),
            waiting: all.into_iter(),
        }
    }

    /// Puts at most so many more things in; the index, once nothing waits any more. The job must
    /// be the same as at the beginning.
    pub fn go_on(&mut self, registry: &Registry, count: usize) -> Option<SearchIndex> {
        for target in self.waiting.by_ref().take(count) {
            self.index.put(registry, target);
        }
        let is_whole = self.waiting.as_slice().is_empty();
        is_whole.then(|| std::mem::take(&mut self.index))
    }
}

impl SearchIndex {
    /// Builds the index of a job in one go.
    #[must_use]
    pub fn build(registry: &Registry) -> Self {
        let mut indexing = Indexing::begin(registry);
        indexing.go_on(registry, usize::MAX).unwrap_or_default()
    }

    fn put(&mut self, registry: &Registry, target: Target) {
        match target {
            Target::Room(id) => self.room(registry, id),
            Target::Outlet(id) => self.outlet(registry, id),
            Target::Cable(id) => self.cable(registry, id),
            Target::LooseEnd(id) => self.loose_end(registry, id),
            Target::Rack(id) => self.rack(registry, id),
            Target::Device(id) => self.named(registry, target, Thing::Device(id)),
            Target::Joint(id) => self.named(registry, target, Thing::Joint(id)),
            Target::Position(position) => self.position(registry, position),
            Target::Conduit(id) => self.conduit(registry, id),
            // They are found by their codes, which need no index.
            Target::Panel(_) | Target::Box(_) => {}
        }
    }

    fn named(&mut self, registry: &Registry, target: Target, thing: Thing) {
        self.begin(target);
        self.line(FoundIn::Name, &thing_name(registry, thing));
    }

    fn conduit(&mut self, registry: &Registry, id: ConduitId) {
        self.begin(Target::Conduit(id));
        self.line(FoundIn::Code, &names::conduit(registry, id));
        self.line(FoundIn::Name, &conduit::words(registry, id));
        let row = registry.conduits.get(id);
        if let Some(note) = row.and_then(|row| row.note.get()) {
            self.line(FoundIn::Note, note);
        }
    }

    /// A position that is not free for use; of every other one the code is enough.
    fn position(&mut self, registry: &Registry, position: Position) {
        if let Some(kept) = kept(registry, position) {
            self.begin(Target::Position(position));
            self.line(FoundIn::Position, &names::position(registry, position));
            self.line(FoundIn::Position, &kept_words(kept));
        }
    }

    fn loose_end(&mut self, registry: &Registry, id: LooseEndId) {
        let row = registry.loose_ends.get(id);
        let Some((row, number)) = row.and_then(|row| Some((row, row.number.get()?))) else {
            return;
        };
        self.begin(Target::LooseEnd(id));
        self.line(FoundIn::Code, &format!("loose end {number}"));
        self.line(FoundIn::Code, &format!("loose {number}"));
        if let Some(found) = row.found.get() {
            self.line(FoundIn::Name, &found.place);
            if let Some(room) = found.room {
                self.in_room(registry, room);
            }
            self.line(FoundIn::Note, &found.note);
        }
    }

    fn begin(&mut self, target: Target) {
        self.entries.push((target, offset(self.text.len())));
    }

    /// Adds a text of the thing that was begun last.
    fn line(&mut self, found_in: FoundIn, text: &str) {
        let text = folded(text);
        if text.is_empty() {
            return;
        }
        self.lines.push(Line {
            start: offset(self.text.len()),
            entry: offset(self.entries.len() - 1),
            found_in,
        });
        self.text.push_str(&text);
        self.text.push('\n');
    }

    /// Adds what was said of the thing; where people disagree, whatever any of them said.
    fn said(&mut self, found_in: FoundIn, register: &Register<String>) {
        for said in register.all() {
            self.line(found_in, said.value);
        }
    }

    /// Adds what the room is called that a thing is in.
    fn in_room(&mut self, registry: &Registry, room: RoomId) {
        if let Some(room) = registry.rooms.get(room) {
            self.said(FoundIn::Name, &room.name);
        }
    }

    /// A code is looked for without its dash too.
    fn code_line(&mut self, found_in: FoundIn, code: &str) {
        self.line(found_in, code);
        if code.contains('-') {
            self.line(found_in, &code.replace('-', ""));
        }
    }

    fn room(&mut self, registry: &Registry, id: RoomId) {
        self.begin(Target::Room(id));
        let Some(room) = registry.rooms.get(id) else {
            return;
        };
        for code in room.code.all() {
            self.line(FoundIn::Code, code.value.as_str());
        }
        self.said(FoundIn::Name, &room.name);
        let floor = room.floor.get().and_then(|id| registry.floors.get(*id));
        let unit = room.unit.get().and_then(|id| registry.units.get(*id));
        let names = [floor.map(|floor| &floor.name), unit.map(|unit| &unit.name)];
        for name in names.into_iter().flatten() {
            self.said(FoundIn::Note, name);
        }
    }

    /// A rack is looked for by the room it stands in too.
    fn rack(&mut self, registry: &Registry, id: RackId) {
        let Some(rack) = registry.racks.get(id) else {
            return;
        };
        self.begin(Target::Rack(id));
        if let Some(space) = rack.space.get() {
            self.line(FoundIn::Code, &space.to_string());
        }
        self.line(FoundIn::Name, &names::rack(registry, id));
        if let Some(room) = rack.room.get() {
            self.in_room(registry, *room);
        }
    }

    fn outlet(&mut self, registry: &Registry, id: OutletId) {
        let Some(outlet) = registry.outlets.get(id) else {
            return;
        };
        self.begin(Target::Outlet(id));
        self.line(FoundIn::Code, &names::outlet(registry, id));
        if let Some(numbering) = outlet.number.get() {
            self.in_room(registry, numbering.room);
        }
        self.line(FoundIn::Name, &called(registry, outlet));
        self.said(FoundIn::Purpose, &outlet.purpose);
        for note in outlet.notes.iter() {
            self.line(FoundIn::Note, note.value);
        }
    }

    fn cable(&mut self, registry: &Registry, id: CableId) {
        let Some(cable) = registry.cables.get(id) else {
            return;
        };
        self.begin(Target::Cable(id));
        self.code_line(FoundIn::Code, &names::cable(registry, id));
        for name in cable.known_as.iter() {
            // An old code is mostly read off a tag that still hangs there.
            self.code_line(FoundIn::OldName, name.value);
        }
        if let Some(RunName::Feeds { outlet, .. }) = cable.name.get() {
            let row = registry.outlets.get(*outlet);
            if let Some(numbering) = row.and_then(|row| row.number.get()) {
                self.in_room(registry, numbering.room);
            }
            if let Some(row) = row {
                self.said(FoundIn::Purpose, &row.purpose);
            }
        }
        self.said(FoundIn::Purpose, &cable.purpose);
        for place in places_of(id, cable) {
            match place {
                Place::Position { position, .. } => {
                    self.line(FoundIn::Position, &names::position(registry, *position));
                    if let Some(link) = names::link_code(registry, *position) {
                        self.line(FoundIn::Position, &link.to_string());
                    }
                }
                Place::Device { .. } | Place::Joint { .. } => {
                    self.line(FoundIn::Position, &names::place(registry, place));
                }
                // Its outlet stands in the code already.
                Place::Jack { .. } => {}
            }
        }
        for placement in placements(id, cable) {
            let kept = match placement {
                Placement::Spare { kept, .. } => kept,
                Placement::Dead { .. } => "",
                Placement::Landed { .. } | Placement::Lifted => continue,
            };
            let words = in_short(registry, placement);
            self.line(FoundIn::Position, &format!("{words} {kept}"));
        }
        if let Some(medium) = cable.medium.get() {
            // People leave out dash and blank: RG6, Cat6.
            self.line(FoundIn::Medium, &format!("{medium} {}", closed(medium)));
        }
        if let Some(RunName::Ties { .. }) = cable.name.get() {
            self.line(FoundIn::Name, "tie line");
        }
        for note in cable.notes.iter() {
            self.line(FoundIn::Note, note.value);
        }
    }

    /// The cables that were once called just this, and the loose ends with this number.
    pub(in crate::query) fn just(&self, text: &str) -> Vec<Hit> {
        let text = folded(text) + "\n";
        let mut hits = Vec::new();
        for line in &self.lines {
            let (target, found_in) = (self.entries[line.entry as usize].0, line.found_in);
            let is_meant = found_in == FoundIn::OldName
                || found_in == FoundIn::Code && matches!(target, Target::LooseEnd(_));
            if is_meant && self.text[line.start as usize..].starts_with(&text) {
                hits.push(Hit { target, found_in });
            }
        }
        hits.dedup();
        hits
    }

    /// The things one of whose texts, or all of them together, hold every word; each once.
    pub(super) fn holding(&self, text: &str) -> Vec<Hit> {
        let mut words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
        // The longest word leads the way: it is found in the fewest places.
        words.order_by_key(|word| std::cmp::Reverse(word.len()));
        let Some((lead, rest)) = words.split_first() else {
            return Vec::new();
        };
        let mut hits: [Vec<Hit>; WAYS] = Default::default();
        let (mut from, mut line) = (0, 0);
        while let Some(at) = place_of(lead.as_bytes(), self.text.as_bytes(), from) {
            // What is found comes in the order of the lines.
            let begins_before = |line: &Line| line.start as usize <= at;
            while self.lines.get(line + 1).is_some_and(begins_before) {
                line += 1;
            }
            let Line {
                entry, found_in, ..
            } = self.lines[line];
            let (target, begin) = self.entries[entry as usize];
            let end = self.entries.get(entry as usize + 1);
            let end = end.map_or(self.text.len(), |(_, start)| *start as usize);
            let own = &self.text[begin as usize..end];
            if rest.iter().all(|word| holds(own, word)) {
                // What holds the words as they were typed comes first.
                let is_scattered = !rest.is_empty() && !own.contains(text);
                let way = usize::from(is_scattered) * WAYS / 2 + found_in as usize;
                hits[way].push(Hit { target, found_in });
            }
            from = end;
        }
        // The walking order stays within each way of being found.
        hits.concat()
    }
}

/// In how many ways something is found: each with the words together or scattered.
const WAYS: usize = 2 * (FoundIn::Note as usize + 1);

/// Where a word stands next in the text of an index, from a place on. The lines end with a sign that no word has, so
/// none reaches beyond the text. That of the standard library is made for long words: it prepares itself anew
/// for every thing that is found, and one letter finds nearly all of them.
fn place_of(word: &[u8], text: &[u8], mut from: usize) -> Option<usize> {
    let (first, rest) = word.split_first()?;
    loop {
        from += text.get(from..)?.iter().position(|byte| byte == first)? + 1;
        if rest.iter().eq(text[from..].iter().take(rest.len())) {
            return Some(from - 1);
        }
    }
}

fn closed(medium: &Medium) -> String {
    let words = medium.to_string();
    words.chars().filter(|c| !matches!(c, '-' | ' ')).collect()
}

/// Whether a text holds a word. One or two letters are in nearly every text, so those must begin where
/// a word begins, or behind a number; with a digit in it, it is a part of a code.
fn holds(text: &str, word: &str) -> bool {
    let is_short = word.len() <= 2 && word.chars().all(char::is_alphabetic);
    let begins = |at: usize| {
        let before = text[..at].chars().next_back();
        before.is_none_or(|before| !before.is_alphabetic())
    };
    let mut found = text.match_indices(word);
    found.any(|(at, _)| !is_short || begins(at))
}

fn offset(length: usize) -> u32 {
    // A job that fills four gigabytes of names does not fit on a phone.
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// What became of the ends of a run and of their legs, as far as anybody said.
fn placements(id: CableId, cable: &Cable) -> Vec<&Placement> {
    let mut found = Vec::new();
    for end in Side::BOTH
        .into_iter()
        .filter_map(|side| cable.end(id, side))
    {
        for part in std::iter::once(&end.placement.whole).chain(end.placement.legs.values()) {
            found.extend(part.distinct());
        }
    }
    found
}

/// The places that the ends of a run are on or belong on, each once.
fn places_of(id: CableId, cable: &Cable) -> Vec<&Place> {
    let mut found = Vec::new();
    for placement in placements(id, cable) {
        if let Placement::Landed { place, .. } = placement {
            found.push(place);
        }
    }
    for plan in &cable.planned {
        for part in std::iter::once(&plan.whole).chain(plan.legs.values()) {
            found.extend(part.get().and_then(Option::as_ref));
        }
    }
    found.put_in_order();
    found.dedup();
    found
}
