//! Looking things up by any part of a code, a room, a purpose, an old name or a position.
//!
//! The index is built once per change of the job: every text that can be looked for, folded, in
//! one string. A keystroke then costs one pass over that string and nothing per cable.

use rustc_hash::FxHashSet;

use super::deeds::{disagreement, in_short, kept_words, thing_name};
use super::loose::joined;
use super::rack::{is_disputed, placement, planned_place};
use super::run::Run;
use super::scan::{doubt, judge};
use super::{Thing, conduit};
use crate::codes::tag::TagText;
use crate::codes::typed::{self, Reading, Reason};
use crate::domain::ids::{
    CableId, ConduitId, DeviceId, JobId, JointId, LooseEndId, OutletId, PanelId, RackId, RoomId,
};
use crate::domain::label::{LinkCode, PositionCode, RoomCode, box_code};
use crate::domain::place::{End, Face, Place, Placement, Position, RunKind, RunName, Side};
use crate::domain::text::folded;
use crate::domain::work::Availability;
use crate::journal::{Outlet, Register, Registry};
use crate::{names, walk};

/// Every text that can be looked for.
mod index;

pub use index::{Indexing, SearchIndex};

/// Something that can be found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Target {
    /// A run.
    Cable(CableId),
    /// An outlet.
    Outlet(OutletId),
    /// A room.
    Room(RoomId),
    /// A rack.
    Rack(RackId),
    /// A panel.
    Panel(PanelId),
    /// A position of a panel.
    Position(Position),
    /// A loose end.
    LooseEnd(LooseEndId),
    /// A device without a panel.
    Device(DeviceId),
    /// A joint.
    Joint(JointId),
    /// A conduit.
    Conduit(ConduitId),
    /// A box or spool that cable is drawn from, by its number.
    Box(u16),
}

/// In what the text was found, the likeliest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FoundIn {
    /// The text is its code or its place.
    Exact,
    /// A part of its code.
    Code,
    /// A name that somebody wrote on it or in a list.
    OldName,
    /// Its name, or that of its room.
    Name,
    /// What it is for.
    Purpose,
    /// A position that it is on or belongs on.
    Position,
    /// What it is made of.
    Medium,
    /// A remark.
    Note,
}

/// One thing that was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit {
    /// What.
    pub target: Target,
    /// By what.
    pub found_in: FoundIn,
}

/// What looking something up gives.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    /// What was found, exact readings first, then in the walking order.
    pub hits: Vec<Hit>,
    /// What is to be said about the text itself, as sentences.
    pub said: Vec<String>,
}

/// Looks a text up: what it is exactly, then whatever holds it.
#[must_use]
pub fn search(index: &SearchIndex, registry: &Registry, job: JobId, text: &str) -> Answer {
    look_up(Some(index), registry, job, text, None)
}

/// Looks up what a text is exactly, and nothing that merely holds it. `room` is the room where whoever
/// asks works, if that is known.
#[must_use]
pub fn exactly(registry: &Registry, job: JobId, text: &str, room: Option<RoomCode>) -> Answer {
    look_up(None, registry, job, text, room)
}

fn look_up(
    index: Option<&SearchIndex>,
    registry: &Registry,
    job: JobId,
    text: &str,
    room: Option<RoomCode>,
) -> Answer {
    let typed = typed::read(text, room);
    let mut desk = Desk {
        registry,
        job,
        seen: FxHashSet::default(),
        answer: Answer::default(),
    };
    for reading in &typed.readings {
        desk.exactly(reading);
    }
    let meant_as_tag = matches!(typed.readings.first(), Some(Reading::Tag(_)));
    if let Some(index) = index.filter(|_| !meant_as_tag) {
        // Each thing is in the index once, so that only what was found before can come again.
        let holding = index.holding(&folded(text));
        let new = holding
            .into_iter()
            .filter(|hit| !desk.seen.contains(&hit.target));
        desk.answer.hits.extend(new);
    }
    if desk.answer.hits.is_empty() {
        for reading in &typed.readings {
            desk.in_another_rack(reading);
            desk.beyond_panel(reading);
        }
    }
    for reason in &typed.reasons {
        // A fault of a tag is said in any case, other reasons where nothing was found.
        if matches!(reason, Reason::Tag(_)) || desk.answer.hits.is_empty() {
            desk.answer.said.push(reason.to_string());
        }
    }
    desk.answer
}

struct Desk<'a> {
    registry: &'a Registry,
    job: JobId,
    seen: FxHashSet<Target>,
    answer: Answer,
}

impl Desk<'_> {
    fn hit(&mut self, target: Target, found_in: FoundIn) {
        if self.seen.insert(target) {
            self.answer.hits.push(Hit { target, found_in });
        }
    }

    fn exact(&mut self, target: Target) {
        self.hit(target, FoundIn::Exact);
    }

    fn with_cables(&mut self, target: Target) {
        self.exact(target);
        for cable in cables_of(self.registry, target) {
            self.exact(Target::Cable(cable));
        }
    }

    fn cables(&mut self, code: &str) {
        let found = self.registry.index.cables_by_code.get(&code.to_owned());
        for cable in found {
            let row = self.registry.cables.get(*cable);
            if row.is_some_and(|row| !row.added.is_empty()) {
                self.exact(Target::Cable(*cable));
            }
        }
    }

    fn exactly(&mut self, reading: &Reading) {
        let index = &self.registry.index;
        match reading {
            Reading::Tag(tag) => self.tag(tag),
            Reading::Run(code) => self.cables(&code.to_string()),
            Reading::Leg(code) => self.cables(&code.label.to_string()),
            Reading::Outlet(code) => {
                for outlet in index.outlets_by_code.get(code) {
                    self.with_cables(Target::Outlet(*outlet));
                }
            }
            Reading::Position(code) => self.position(*code, |_| true),
            Reading::Link(code) => {
                let racks = index.racks_by_space.get(&code.space);
                self.position(code.position, |rack| {
                    rack.is_some_and(|rack| racks.contains(&rack))
                });
            }
            Reading::Space(space) => {
                for rack in index.racks_by_space.get(space) {
                    self.exact(Target::Rack(*rack));
                }
            }
            Reading::Room(code) => {
                for room in index.rooms_by_code.get(code) {
                    self.exact(Target::Room(*room));
                    for outlet in walk::outlets(self.registry, *room) {
                        self.exact(Target::Outlet(outlet));
                    }
                }
            }
            Reading::Panel(letters) => {
                for panel in index.panels_by_letters.get(letters) {
                    self.exact(Target::Panel(*panel));
                }
            }
            Reading::Conduit(number) => {
                for id in self.registry.conduits_numbered(*number) {
                    self.with_cables(Target::Conduit(id));
                }
            }
            Reading::Box(number) => {
                if conduit::is_known_box(self.registry, *number) {
                    self.with_cables(Target::Box(*number));
                }
            }
            Reading::Words(_) => {}
        }
    }

    /// The position and everything that is landed or belongs there.
    fn position(&mut self, code: PositionCode, in_rack: impl Fn(Option<RackId>) -> bool) {
        for panel in self.registry.index.panels_by_letters.get(&code.panel) {
            let row = self.registry.panels.get(*panel);
            let make = row.and_then(|row| row.make.get());
            let is_there = make.is_some_and(|make| code.number.get() <= make.positions.get());
            if !is_there || !in_rack(row.and_then(|row| row.rack.get().copied())) {
                continue;
            }
            let position = Position {
                panel: *panel,
                number: code.number,
            };
            for face in [Face::Rear, Face::Front] {
                let place = Place::Position { position, face };
                let landed = self.registry.index.landed.get(&place).iter();
                let planned = self.registry.index.planned.get(&place).iter();
                for end in landed.chain(planned) {
                    self.exact(Target::Cable(end.cable));
                }
            }
            self.exact(Target::Position(position));
        }
    }

    /// A position that was looked for in a rack that its panel is not in.
    fn in_another_rack(&mut self, reading: &Reading) {
        let Reading::Link(LinkCode { space, position }) = reading else {
            return;
        };
        self.position(*position, |_| true);
        if !self.answer.hits.is_empty() {
            self.answer.said.push(format!(
                "Panel {} is not in {space}. This is {position} where that panel is.",
                position.panel
            ));
        }
    }

    /// A position that its panel does not have.
    fn beyond_panel(&mut self, reading: &Reading) {
        let (Reading::Position(position) | Reading::Link(LinkCode { position, .. })) = reading
        else {
            return;
        };
        for panel in self.registry.index.panels_by_letters.get(&position.panel) {
            let row = self.registry.panels.get(*panel);
            if let Some(make) = row.and_then(|row| row.make.get())
                && position.number.get() > make.positions.get()
            {
                let (letters, last) = (position.panel, make.positions.get());
                self.answer.said.push(format!(
                    "{} has no {position}: the last one is {letters}{last:02}.",
                    names::panel(self.registry, *panel)
                ));
            }
        }
    }

    /// What a tag says, with what is to be known about it.
    fn tag(&mut self, tag: &TagText) {
        let (targets, standing) = judge(self.registry, self.job, tag);
        for target in targets {
            self.with_cables(target);
        }
        let doubt = doubt(self.job, tag, &standing, &|_| String::new());
        self.answer.said.extend(doubt);
    }
}

/// The cables that a place shows with it: those of an outlet, in a conduit, from a box.
#[must_use]
pub fn cables_of(registry: &Registry, target: Target) -> Vec<CableId> {
    match target {
        Target::Outlet(id) => walk::fed(registry, id),
        Target::Conduit(id) => registry.cables_in(id),
        Target::Box(number) => registry.cables_from(number),
        Target::Cable(_)
        | Target::Room(_)
        | Target::Rack(_)
        | Target::Panel(_)
        | Target::Position(_)
        | Target::LooseEnd(_)
        | Target::Device(_)
        | Target::Joint(_) => Vec::new(),
    }
}

/// One row of the answer, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundRow {
    /// The code or the name.
    pub code: String,
    /// Both ends, or what it is.
    pub ends: String,
    /// Why it was found, where that is not plain to see.
    pub why: String,
}

/// A hit in words; `text` is what was looked for.
#[must_use]
pub fn row(registry: &Registry, hit: Hit, text: &str) -> FoundRow {
    let plain = |code: String, ends: &str| FoundRow {
        code,
        ends: ends.to_owned(),
        why: String::new(),
    };
    match hit.target {
        Target::Cable(id) => FoundRow {
            code: names::cable(registry, id),
            ends: both_ends(registry, id),
            why: why(registry, id, hit.found_in, text),
        },
        Target::Outlet(id) => {
            let row = registry.outlets.get(id);
            let purpose = row.and_then(|row| row.purpose.get()).cloned();
            let room = row.and_then(|row| row.number.get());
            let room = room.map(|numbering| names::room(registry, numbering.room));
            let kind = row.map(|row| called(registry, row));
            let words = [room, purpose.or(kind)].into_iter().flatten();
            let words: Vec<String> = words.filter(|words| !words.is_empty()).collect();
            let cancelled = names::standing(row.and_then(|row| row.standing.get()));
            plain(names::outlet(registry, id), &(words.join(", ") + cancelled))
        }
        Target::Room(id) => {
            let code = registry.rooms.get(id).and_then(|room| room.code.get());
            let code = code.map_or_else(String::new, ToString::to_string);
            plain(code, &names::room(registry, id))
        }
        Target::Rack(id) => {
            let space = registry.racks.get(id).and_then(|rack| rack.space.get());
            let space = space.map_or_else(String::new, ToString::to_string);
            plain(space, &names::rack(registry, id))
        }
        Target::Panel(id) => {
            let rack = registry.panels.get(id).and_then(|panel| panel.rack.get());
            let rack = rack.map_or_else(String::new, |rack| names::rack(registry, *rack));
            plain(names::panel(registry, id), &rack)
        }
        Target::Position(position) => {
            let landed = registry.index.landed.get(&Place::rear(position));
            let words = if landed.is_empty() {
                "a position, nothing landed"
            } else {
                "a position"
            };
            let kept = kept(registry, position).map(kept_words);
            let kept = kept.map_or_else(String::new, |kept| format!(", {kept}"));
            plain(
                names::position(registry, position),
                &format!("{words}{kept}"),
            )
        }
        Target::LooseEnd(id) => {
            let row = registry.loose_ends.get(id);
            let number = row.and_then(|row| row.number.get()).copied();
            let place = row.and_then(|row| row.found.get());
            let place = place.map_or("", |found| found.place.as_str());
            let why = joined(registry, id).map(|end| names::cable(registry, end.cable));
            FoundRow {
                why: why.map_or_else(String::new, |code| format!("is {code}")),
                ..plain(format!("Loose end {}", number.unwrap_or_default()), place)
            }
        }
        Target::Device(id) => {
            let room = registry.devices.get(id).and_then(|row| row.room.get());
            let room = room.map_or_else(String::new, |room| names::room(registry, *room));
            plain(thing_name(registry, Thing::Device(id)), &room)
        }
        Target::Joint(id) => {
            let room = registry.joints.get(id).and_then(|row| row.room.get());
            let room = room.map_or_else(String::new, |room| names::room(registry, *room));
            plain(thing_name(registry, Thing::Joint(id)), &room)
        }
        Target::Conduit(id) => plain(names::conduit(registry, id), &conduit::words(registry, id)),
        Target::Box(number) => plain(box_code(number), &conduit::held(registry, number)),
    }
}

/// What type of outlet it is, in words; empty where nobody said.
fn called(registry: &Registry, row: &Outlet) -> String {
    let kind = row.kind.get();
    kind.map_or_else(String::new, |kind| names::outlet_kind(registry, *kind))
}

/// What a position is kept for, unless it is free for use.
fn kept(registry: &Registry, position: Position) -> Option<&Availability> {
    let kept = &registry.panels.get(position.panel)?.kept;
    let kept = kept.get(&position.number)?.get();
    kept.filter(|kept| **kept != Availability::Open)
}

/// Both ends of a run in one line: outlet and position, or what stands in their places.
#[must_use]
pub fn both_ends(registry: &Registry, id: CableId) -> String {
    let at = |side| {
        let end = End::whole(id, side);
        let said = placement(registry, end).map_or_else(Vec::new, Register::distinct);
        match (said.as_slice(), planned_place(registry, end)) {
            ([] | [Placement::Lifted], Some(place)) => {
                format!("{}, not landed", names::place(registry, place))
            }
            ([] | [Placement::Lifted], None) => names::side(registry, id, side),
            ([one], _) => in_short(registry, one),
            _ => disagreement(registry, end).unwrap_or_default(),
        }
    };
    let far = at(Side::Far);
    let mut between = "to";
    let near = if names::run_kind(registry, id) == RunKind::TieLine {
        at(Side::Near)
    } else {
        // The outlet says where it is, whatever jack it is on.
        let left = placement(registry, End::whole(id, Side::Near)).and_then(Register::get);
        let near = names::side(registry, id, Side::Near);
        match left {
            Some(left @ (Placement::Spare { .. } | Placement::Dead { .. })) => {
                let left = in_short(registry, left);
                if left == far {
                    between = "with both ends";
                    near
                } else {
                    format!("{near} ({left})")
                }
            }
            _ => near,
        }
    };
    let mut disputed = "";
    let run = registry
        .cables
        .get(id)
        .map(|cable| Run::new(registry, id, cable));
    for (run, side) in run
        .iter()
        .flat_map(|run| Side::BOTH.map(|side| (run, side)))
    {
        run.each_part(side, |end, _| {
            if is_disputed(registry, end) {
                disputed = ", disputed";
            }
        });
    }
    let cancelled = names::cancelled(registry, id);
    format!("{near} {between} {far}{disputed}{cancelled}")
}

fn why(registry: &Registry, id: CableId, found_in: FoundIn, text: &str) -> String {
    let text = folded(text);
    let Some(cable) = registry.cables.get(id) else {
        return String::new();
    };
    let holds = |value: &str| {
        let value = folded(value);
        let closed = value.replace('-', "");
        let mut words = text.split(' ');
        words.any(|word| !word.is_empty() && (value.contains(word) || closed.contains(word)))
    };
    match found_in {
        FoundIn::OldName => {
            let mut names = cable.known_as.iter().map(|said| said.value);
            let name = names.find(|name| holds(name));
            name.map_or_else(String::new, |name| format!("once called “{name}”"))
        }
        FoundIn::Note => {
            let note = cable.notes.iter().map(|said| said.value);
            let note = note.rev().find(|note| holds(note));
            note.map_or_else(String::new, |note| format!("note: {note}"))
        }
        FoundIn::Medium => cable
            .medium
            .get()
            .map(ToString::to_string)
            .unwrap_or_default(),
        FoundIn::Exact | FoundIn::Code | FoundIn::Name | FoundIn::Purpose | FoundIn::Position => {
            let outlet = match cable.name.get() {
                Some(RunName::Feeds { outlet, .. }) => registry.outlets.get(*outlet),
                Some(RunName::Ties { .. }) | None => None,
            };
            let purpose = cable.purpose.get().filter(|text| !text.trim().is_empty());
            let purpose = purpose.or_else(|| outlet?.purpose.get());
            purpose.cloned().unwrap_or_default()
        }
    }
}
