//! What stands on the tags of a job: code, words, the far place, and the text of the QR code.

use super::characters::lacking;
use super::{Badge, Choice, Chosen, Microns, Ports, Shape, Stock, Tag, Wishes, outdated, ports};
use crate::codes::strict;
use crate::codes::tag::{JobKey, PullMark, TagText, Tagged, WebAddress};
use crate::domain::ids::{CableId, JobId, OutletId, PanelId, RackId};
use crate::domain::label::box_code;
use crate::domain::place::{
    End, Face, Leaves, Place, Placement, RunKind, RunName, Side, TaggedPlace,
};
use crate::domain::text::folded;
use crate::domain::work::MarkKind;
use crate::journal::Registry;
use crate::query::conduit;
use crate::query::printed::end_tag;
use crate::query::pull::is_pulled;
use crate::query::rack::{SlotState, is_disputed, racks, slots};
use crate::query::{room_of, shown_outlet};
use crate::{names, walk};

/// The tags of a choice.
#[must_use]
pub fn chosen(
    registry: &Registry,
    job: JobId,
    choice: Choice,
    wishes: Wishes,
    stock: &Stock,
) -> Chosen {
    let mut desk = Desk {
        registry,
        job,
        chosen: Chosen::default(),
    };
    match choice {
        Choice::ToPull => desk.cables(wishes, |registry, id| {
            !has_tag(registry, id) && !is_pulled(registry, id)
        }),
        Choice::Untagged => desk.cables(wishes, |registry, id| !has_tag(registry, id)),
        Choice::Room(room) => desk.cables(wishes, |registry, id| {
            outlet_of(registry, id).is_some_and(|outlet| room_of(registry, outlet) == Some(room))
        }),
        Choice::Outlet(outlet) => desk.cables(wishes, |registry, id| {
            outlet_of(registry, id) == Some(outlet)
        }),
        Choice::Cable(cable) => desk.cables(wishes, |_, id| id == cable),
        Choice::All => desk.cables(wishes, |_, _| true),
        Choice::Outlets => desk.outlets(Desk::outlet, |_| true),
        Choice::Place(outlet) => desk.outlets(Desk::outlet, |id| id == outlet),
        Choice::Inserts => {
            desk.outlets(Desk::insert, |_| true);
            // An insert is no tag of its outlet.
            desk.chosen.places.clear();
        }
        Choice::Racks => desk.racks(),
        Choice::Conduits => desk.conduits(|_| true),
        Choice::Panel(panel) => desk.panel(panel),
        Choice::Strips => desk.strips(stock, wishes, |_| true),
        Choice::Strip(panel) => desk.strips(stock, wishes, |id| id == panel),
        Choice::OldPlaces => desk.old_places(),
        Choice::OldStrips => {
            let stale = outdated(registry).strips;
            desk.strips(stock, wishes, |id| {
                stale.iter().any(|strip| strip.panel == id)
            });
        }
    }
    desk.chosen.left_out.dedup();
    desk.chosen
}

struct Desk<'a> {
    registry: &'a Registry,
    job: JobId,
    chosen: Chosen,
}

impl Desk<'_> {
    fn cables(&mut self, wishes: Wishes, is_wanted: impl Fn(&Registry, CableId) -> bool) {
        let wanted = walk::cables(self.registry).into_iter();
        for id in wanted.filter(|id| is_wanted(self.registry, *id)) {
            let name = names::cable(self.registry, id);
            // One text on two cables is what tags are there to prevent.
            let is_shared = self.registry.index.cables_by_code.get(&name).len() > 1;
            match self.cable(id, wishes).filter(|_| !is_shared) {
                Some(tag) => {
                    let is_placed = !tag.far.is_empty();
                    if self.put(tag, &name) {
                        self.chosen.cables.push(id);
                        let kind = names::run_kind(self.registry, id);
                        if !is_placed && kind == RunKind::HomeRun {
                            self.chosen.unplaced.push(id);
                        }
                    }
                }
                None if is_shared => {
                    self.chosen
                        .left_out
                        .push([&name, ", as two cables are called so"].concat());
                }
                None => self
                    .chosen
                    .left_out
                    .push([&name, ", as it has no code yet"].concat()),
            }
        }
    }

    /// Puts a tag among those that are printed, unless no label can show all of it; whether it is
    /// there then.
    fn put(&mut self, tag: Tag, name: &str) -> bool {
        let texts = [&tag.code, &tag.words, &tag.far].map(String::as_str);
        let why = texts.into_iter().find_map(unprintable);
        match why {
            Some(why) => {
                self.chosen.left_out.push([name, &why].concat());
                self.chosen.by_hand.push(tag);
                false
            }
            None => {
                self.chosen.tags.push(tag);
                true
            }
        }
    }

    fn qr(&self, tagged: Tagged) -> String {
        let text = TagText {
            tagged,
            job_key: JobKey::of(self.job),
        };
        let address = self.registry.job.tag_address.get();
        match address.and_then(|address| WebAddress::new(address).ok()) {
            Some(address) => text.behind(&address),
            None => text.to_string(),
        }
    }

    fn cable(&self, id: CableId, wishes: Wishes) -> Option<Tag> {
        let registry = self.registry;
        let code = registry.cable_code(id)?.text;
        let row = registry.cables.get(id)?;
        let medium = row.medium.get();
        let qr = strict::label(&code).map_or_else(
            |_| String::new(),
            |code| {
                self.qr(Tagged::Run {
                    code,
                    pull: PullMark::of(row.pull(id)),
                })
            },
        );
        let made_of = medium.map_or_else(String::new, ToString::to_string);
        let what = match row.name.get() {
            Some(RunName::Feeds { outlet, .. }) => {
                let [words, _] = self.outlet_words(*outlet);
                words
            }
            Some(RunName::Ties { .. }) => "Tie line".to_owned(),
            None => String::new(),
        };
        let end = |side| row.end(id, side).map(|end| &end.placement.whole);
        let is = |of: fn(&Placement) -> bool| {
            Side::BOTH
                .into_iter()
                .any(|side| end(side).is_some_and(|said| said.get().is_some_and(of)))
        };
        let position = end(Side::Far)
            .filter(|_| wishes.with_position)
            // Which of two rivals is there is not for a tag to say.
            .filter(|_| !is_disputed(registry, End::whole(id, Side::Far)))
            .and_then(|said| match said.get()? {
                Placement::Landed {
                    place:
                        Place::Position {
                            position,
                            face: Face::Rear,
                        },
                    ..
                } => names::link_code(registry, *position),
                _ => None,
            });
        Some(Tag {
            code,
            words: both(&what, &made_of).to_uppercase(),
            // What it is made of stands on the jacket too; its room stands there by name or not at all.
            short: what.to_uppercase(),
            far: far(registry, id).to_uppercase(),
            position: position.map_or_else(String::new, |link| link.to_string()),
            badge: if is(|said| matches!(said, Placement::Dead { .. })) {
                Badge::Dead
            } else if is(|said| matches!(said, Placement::Spare { .. })) {
                Badge::Future
            } else {
                Badge::None
            },
            qr,
            diameter: wishes.diameter.unwrap_or_else(|| {
                Microns::tenths(medium.map_or(0, |medium| i32::from(medium.usual_diameter())))
            }),
            made_of,
            ports: Ports::default(),
            copies: wishes.set,
        })
    }

    /// Room, and what the outlet is for; then that alone, since its code has the letters of the room.
    fn outlet_words(&self, id: OutletId) -> [String; 2] {
        let registry = self.registry;
        let Some(row) = registry.outlets.get(id) else {
            return Default::default();
        };
        let at = row.number.get().map(|at| at.room);
        let room = at.map_or_else(String::new, |room| names::room(registry, room));
        let purpose = row
            .purpose
            .get()
            .filter(|purpose| !purpose.trim().is_empty())
            .cloned();
        let kind = row
            .kind
            .get()
            .map(|kind| names::outlet_kind(registry, *kind));
        let what = purpose.or(kind);
        let what = what.map_or_else(String::new, |what| after(&room, &what));
        let short = what.trim_start().to_owned();
        [[room, what].concat(), short]
    }

    fn letters(&self, id: OutletId) -> Vec<String> {
        let fed = walk::fed(self.registry, id).into_iter();
        let letters =
            fed.filter_map(|cable| match self.registry.cables.get(cable)?.name.get()? {
                RunName::Feeds { letter, .. } => Some(letter.to_string()),
                RunName::Ties { .. } => None,
            });
        letters.collect()
    }

    fn outlets(
        &mut self,
        tag: fn(&Self, OutletId) -> Option<Tag>,
        is_wanted: impl Fn(OutletId) -> bool,
    ) {
        for room in walk::rooms(self.registry) {
            let outlets = walk::outlets(self.registry, room).into_iter();
            for id in outlets.filter(|id| is_wanted(*id)) {
                let code = self.registry.outlet_code(id);
                let index = &self.registry.index.outlets_by_code;
                if code.is_some_and(|code| index.get(&code).len() > 1) {
                    let name = names::outlet(self.registry, id);
                    self.chosen
                        .left_out
                        .push([&name, ", as two outlets are called so"].concat());
                    continue;
                }
                match tag(self, id) {
                    Some(tag) => {
                        let name = names::outlet(self.registry, id);
                        if self.put(tag, &name) {
                            self.chosen.places.push(TaggedPlace::Outlet(id));
                        }
                    }
                    None => self.chosen.left_out.push(
                        [&names::outlet(self.registry, id), ", as it has no code yet"].concat(),
                    ),
                }
            }
        }
    }

    fn outlet(&self, id: OutletId) -> Option<Tag> {
        let code = self.registry.outlet_code(id)?;
        let letters = self.letters(id);
        let far = match letters.as_slice() {
            [] => String::new(),
            [letter] => ["CABLE ", letter].concat(),
            letters => ["CABLES ", &letters.join(" ")].concat(),
        };
        let [words, short] = self.outlet_words(id);
        let qr = self.qr(Tagged::Outlet(code));
        Some(Tag {
            short: short.to_uppercase(),
            ..place(code.to_string(), words, far, qr)
        })
    }

    fn insert(&self, id: OutletId) -> Option<Tag> {
        let code = self.registry.outlet_code(id)?.to_string();
        let [words, short] = self.outlet_words(id);
        let letters = self.letters(id).join(" ");
        Some(Tag {
            short: short.to_uppercase(),
            ..place(code, words, letters, String::new())
        })
    }

    fn racks(&mut self) {
        for group in racks(self.registry) {
            if let Some(rack) = group.rack {
                self.rack(rack);
            }
            for panel in group.panels {
                self.panel(panel);
            }
        }
    }

    /// The places whose tags are out of date, each kind as it is printed otherwise.
    fn old_places(&mut self) {
        let stale = outdated(self.registry).places;
        let is_stale = |place| stale.iter().any(|tag| tag.place == place);
        self.outlets(Desk::outlet, |id| is_stale(TaggedPlace::Outlet(id)));
        for tag in &stale {
            match tag.place {
                TaggedPlace::Rack(id) => self.rack(id),
                TaggedPlace::Panel(id) => self.panel(id),
                // A box is its number, so its tag is never out of date.
                TaggedPlace::Outlet(_) | TaggedPlace::Conduit(_) | TaggedPlace::Box(_) => {}
            }
        }
        self.conduits(is_stale);
    }

    fn rack(&mut self, id: RackId) {
        let registry = self.registry;
        let row = registry.racks.get(id);
        let name = names::rack(registry, id);
        let Some(space) = row.and_then(|row| row.space.get()) else {
            self.chosen
                .left_out
                .push([&name, ", as it has no space yet"].concat());
            return;
        };
        let room = row.and_then(|row| row.room.get());
        let room = room.map_or_else(String::new, |room| names::room(registry, *room));
        let tagged = Tagged::Space(*space);
        self.place(
            space.to_string(),
            [name, room],
            tagged,
            TaggedPlace::Rack(id),
        );
    }

    fn panel(&mut self, id: PanelId) {
        let registry = self.registry;
        let Some(row) = registry.panels.get(id) else {
            return;
        };
        let (Some(letters), Some(make)) = (row.letters.get(), row.make.get()) else {
            return;
        };
        let words = row
            .purpose
            .get()
            .filter(|purpose| !purpose.is_empty())
            .cloned();
        let words = words.unwrap_or_else(|| names::make(*make));
        let rack = row.rack.get();
        let code = ["PANEL ", letters.as_str()].concat();
        let tagged = Tagged::Panel(*letters);
        let rack = rack.map_or_else(String::new, |rack| names::rack(registry, *rack));
        self.place(code, [words, rack], tagged, TaggedPlace::Panel(id));
    }

    /// The conduits that are wanted, and the boxes that are known, of those that are asked for.
    fn conduits(&mut self, is_asked: impl Fn(TaggedPlace) -> bool) {
        let registry = self.registry;
        for line in conduit::conduits(registry) {
            if line.is_cancelled || !is_asked(TaggedPlace::Conduit(line.id)) {
                continue;
            }
            if registry.conduits_numbered(line.number).len() > 1 {
                let words = [&line.code, ", as two conduits are called so"].concat();
                self.chosen.left_out.push(words);
                continue;
            }
            let words = [["Conduit ", &line.words].concat(), String::new()];
            let tagged = Tagged::Conduit(line.number);
            self.place(line.code, words, tagged, TaggedPlace::Conduit(line.id));
        }
        let boxes = conduit::boxes(registry).into_iter();
        for number in boxes.filter(|number| is_asked(TaggedPlace::Box(*number))) {
            let words = [conduit::held(registry, number), String::new()];
            let (tagged, of) = (Tagged::Box(number), TaggedPlace::Box(number));
            self.place(box_code(number), words, tagged, of);
        }
    }

    /// The tag of a place, with what it is and where.
    fn place(&mut self, code: String, words: [String; 2], tagged: Tagged, of: TaggedPlace) {
        let [words, far] = words;
        let qr = self.qr(tagged);
        let name = code.clone();
        if self.put(place(code, words, far, qr), &name) {
            self.chosen.places.push(of);
        }
    }

    /// A line of a strip as it is printed: where no label can show its words, without them.
    fn shown(&mut self, line: &str) -> String {
        let Some(why) = unprintable(line) else {
            return line.to_owned();
        };
        let mut cells = line.split('\t');
        let (name, code) = (cells.next().unwrap_or_default(), cells.nth(1));
        self.chosen
            .left_out
            .push(["The words over ", name, &why].concat());
        let code = code.filter(|code| lacking(code).is_none());
        [name, "\t\t", code.unwrap_or_default()].concat()
    }

    /// How the ports of a panel lie, and who says so: the person, the labels, or what the panel is.
    fn ports(&self, id: PanelId, stock: &Stock, wished: Option<Microns>) -> (Ports, &'static str) {
        let own = match stock.shape {
            Shape::Strip { pitch } if pitch.0 > 0 => Some(pitch),
            Shape::Wrap { .. }
            | Shape::Flag { .. }
            | Shape::Flat
            | Shape::Insert
            | Shape::Strip { .. } => None,
        };
        let make = self.registry.panels.get(id).and_then(|row| row.make.get());
        let (usual, words) = make.map_or_else(Default::default, |make| ports::usual(*make));
        let (ports, words) = match (wished, own) {
            (Some(pitch), _) => (Ports { pitch, ..usual }, "as you wrote"),
            (None, Some(pitch)) => (Ports { pitch, ..usual }, "as these labels have them"),
            (None, None) => (usual, words),
        };
        let pitch = ports.pitch.min(stock.width);
        (Ports { pitch, ..ports }, words)
    }

    fn strips(&mut self, stock: &Stock, wishes: Wishes, is_wanted: impl Fn(PanelId) -> bool) {
        let registry = self.registry;
        let panels = racks(registry).into_iter().flat_map(|rack| rack.panels);
        for panel in panels.filter(|panel| is_wanted(*panel)) {
            let Some(words) = strip_words(registry, panel) else {
                continue;
            };
            for slot in slots(registry, panel) {
                if slot.state == SlotState::Clash {
                    let name = names::position(registry, slot.position);
                    self.chosen
                        .left_out
                        .push([&name, ", as it is disputed what is there"].concat());
                }
            }
            let shown: Vec<String> = words.lines().map(|line| self.shown(line)).collect();
            let lines: Vec<&str> = shown.iter().map(String::as_str).collect();
            let name = names::panel(registry, panel);
            let (ports, made_of) = self.ports(panel, stock, wishes.pitch);
            // As many ports stand on one strip as its length has room for, in whole groups.
            let room = (stock.width.0 / ports.pitch.0.max(1)).max(1);
            let groups = room - room.checked_rem(ports.group).unwrap_or(0);
            let count = if groups > 0 { groups } else { room };
            for part in lines.chunks(usize::try_from(count).unwrap_or(1)) {
                self.chosen.tags.push(Tag {
                    words: part.join("\n"),
                    made_of: made_of.to_owned(),
                    ports,
                    ..place(name.clone(), String::new(), String::new(), String::new())
                });
            }
            self.chosen.strips.push((panel, words));
        }
    }
}

/// Why a text cannot be printed, to stand behind what it is of.
fn unprintable(text: &str) -> Option<String> {
    let mut lines = text.lines().flat_map(|line| line.split('\t'));
    lines.find_map(|text| {
        let character = lacking(text)?.to_string();
        let why = [
            ", as no label can show “",
            &character,
            "” of “",
            text,
            "”: write it with other letters, or by pen",
        ];
        Some(why.concat())
    })
}

/// The tags of a choice as a list for a marker pen: on a day with a phone alone, it is all there is.
#[must_use]
pub fn pen_list(chosen: &Chosen) -> String {
    let mut lines = vec![
        "Write each code with a bar under it, twice, 150 mm apart, and again 1 m or more behind the cut. Silver on black.".to_owned(),
    ];
    for tag in chosen.tags.iter().chain(&chosen.by_hand) {
        // As the pen screens have it: a blank is quicker than a dash, and as plain.
        let code = tag.code.replace('-', " ");
        let between = if tag.far.is_empty() { "" } else { ", " };
        lines.push(
            [
                &code,
                ":  ",
                &tag.words.replace('\n', " "),
                between,
                &tag.far,
            ]
            .concat(),
        );
    }
    lines.join("\n")
}

/// The tag of a place that lies flat.
fn place(code: String, words: String, far: String, qr: String) -> Tag {
    Tag {
        code,
        words: words.to_uppercase(),
        short: String::new(),
        far: far.to_uppercase(),
        position: String::new(),
        badge: Badge::None,
        qr,
        diameter: Microns(0),
        made_of: String::new(),
        ports: Ports::default(),
        copies: 1,
    }
}

/// A purpose as it follows the name of its room, without what the room says already: after "Flat A
/// kitchen", "Kitchen island" is " island".
fn after(room: &str, purpose: &str) -> String {
    let words: Vec<String> = room.split_whitespace().map(folded).collect();
    let said: Vec<&str> = purpose.split_whitespace().collect();
    let again = (1..=words.len().min(said.len())).rev().find(|count| {
        let end = &words[words.len() - count..];
        end.iter()
            .zip(&said)
            .all(|(word, said)| *word == folded(said))
    });
    let rest = said[again.unwrap_or(0)..].join(" ");
    if rest.is_empty() {
        rest
    } else {
        [" ", &rest].concat()
    }
}

fn both(one: &str, other: &str) -> String {
    match (one.trim(), other) {
        ("", other) => other.to_owned(),
        (one, "") => one.to_owned(),
        (one, other) => [one, " / ", other].concat(),
    }
}

/// The far place in words: the rack of a home run, both racks of a tie, what a local run leaves; empty
/// while nobody chose it.
fn far(registry: &Registry, id: CableId) -> String {
    let at = |side| names::side(registry, id, side);
    let leaves = registry.cables.get(id).and_then(|row| row.leaves.get());
    match (names::run_kind(registry, id), leaves) {
        (RunKind::TieLine, _) => [&at(Side::Near), " to ", &at(Side::Far)].concat(),
        (_, Some(Leaves::Outlet(outlet))) if registry.outlet_code(*outlet).is_none() => {
            String::new()
        }
        (_, Some(Leaves::Outlet(outlet))) => {
            ["Out from ", &names::outlet(registry, *outlet)].concat()
        }
        _ if registry.home_rack(id).is_none() => String::new(),
        _ => at(Side::Far),
    }
}

/// The words of a panel's strip: a line for each position with its code, the room and the code of what
/// is landed there, else of what is to be landed there; none for a panel without letters. What people
/// disagree about stands on none, as no print can settle it.
#[must_use]
pub fn strip_words(registry: &Registry, id: PanelId) -> Option<String> {
    registry.panels.get(id)?.letters.get()?;
    let slots = slots(registry, id);
    let lines = slots.iter().map(|slot| {
        let is_settled = slot.state != SlotState::Clash;
        let end = slot.landed.first().or_else(|| slot.ready.first());
        let end = end.filter(|_| is_settled);
        let (room, code) = end.map_or_else(Default::default, |end| strip_cell(registry, *end));
        let name = names::position(registry, slot.position);
        [&name, "\t", &room.to_uppercase(), "\t", &code].concat()
    });
    let lines: Vec<String> = lines.collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

fn strip_cell(registry: &Registry, end: End) -> (String, String) {
    let room = outlet_of(registry, end.cable).and_then(|outlet| room_of(registry, outlet));
    let words = match room {
        Some(room) => names::room(registry, room),
        None => names::side(registry, end.cable, end.side.other()),
    };
    // A leg of a split end says which one it is, or six strands of a tie would read alike.
    (words, names::end_code(registry, end))
}

/// Whether the copper that lies there now has a printed tag at either end, and still has it.
fn has_tag(registry: &Registry, id: CableId) -> bool {
    let is_printed = |side| {
        let tag = end_tag(registry, End::whole(id, side));
        !tag.lost && matches!(tag.kind, Some(MarkKind::Printed | MarkKind::Fixed))
    };
    Side::BOTH.into_iter().any(is_printed)
}

fn outlet_of(registry: &Registry, cable: CableId) -> Option<OutletId> {
    shown_outlet(registry.cables.get(cable)?)
}
