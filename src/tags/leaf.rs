//! Papers of a rack: the map of each panel, the rack in rack units, and the card for its door. What
//! stands on them, and the order that they are made from as one text.

use std::fmt;

use super::Microns;
use crate::domain::ids::{PanelId, RackId};
use crate::domain::place::{End, Face, Place, Placement, Position};
use crate::journal::{Register, Registry};
use crate::names;
use crate::query::elevation::{Elevation, Piece, elevation, is_hidden, panel_of};
use crate::query::rack::{Slot, SlotState, make, placement, slots};
use crate::query::{room_of, shown_outlet};

/// What is left out of a card for everybody.
mod guarded;

pub use guarded::is_guarded;

/// What a leaf is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeafKind {
    /// The positions of a panel, a row for each: position, cable, room, far end, medium. Below one that
    /// is patched, a row without a position says to what.
    Map,
    /// A rack in rack units: the lowest unit, how many it takes, name, its positions, a note.
    Elevation,
    /// The positions of a rack in short: position, cable, room.
    Card,
}

impl LeafKind {
    const ALL: [(Self, &'static str); 3] = [
        (Self::Map, "map"),
        (Self::Elevation, "elevation"),
        (Self::Card, "card"),
    ];
}

/// One paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// What it is.
    pub kind: LeafKind,
    /// What stands in large type.
    pub title: String,
    /// What stands below that.
    pub under: String,
    /// What stands at the foot.
    pub foot: String,
    /// How many rack units are drawn; 0: it is built without.
    pub units: u8,
    /// Its rows, as its kind says.
    pub rows: Vec<[String; 5]>,
}

/// Papers that are made in one go.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Booklet {
    /// What the file is called inside.
    pub title: String,
    /// The width of the page.
    pub width: Microns,
    /// The height of the page.
    pub height: Microns,
    /// The papers.
    pub leaves: Vec<Leaf>,
}

/// How the text of an order begins that is no order of tags.
pub const BOOKLET: &str = "booklet\u{1D}";
/// Between leaves, rows and fields (ASCII group, record and unit separators).
const LEAF: char = '\u{1D}';
const ROW: char = '\u{1E}';
const FIELD: char = '\u{1F}';

impl fmt::Display for Booklet {
    /// The order as a text that [`Booklet::read`] reads back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plain = |text: &str| text.replace([LEAF, ROW, FIELD], " ");
        let (width, height) = (self.width.0, self.height.0);
        write!(
            f,
            "{BOOKLET}{}{FIELD}{width}{FIELD}{height}",
            plain(&self.title)
        )?;
        for leaf in &self.leaves {
            let kind = LeafKind::ALL.iter().find(|(kind, _)| *kind == leaf.kind);
            let key = kind.map_or("", |(_, key)| key);
            write!(f, "{LEAF}{key}{FIELD}{}", leaf.units)?;
            for text in [&leaf.title, &leaf.under, &leaf.foot] {
                write!(f, "{FIELD}{}", plain(text))?;
            }
            for row in &leaf.rows {
                write!(
                    f,
                    "{ROW}{}",
                    row.each_ref().map(|cell| plain(cell)).join("\u{1F}")
                )?;
            }
        }
        Ok(())
    }
}

impl Booklet {
    /// Reads what `Display` wrote; none when the text is anything else.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.strip_prefix(BOOKLET)?.split(LEAF);
        let mut head = parts.next()?.split(FIELD);
        let title = head.next()?.to_owned();
        let mut length = || Some(Microns(head.next()?.parse().ok()?));
        Some(Self {
            title,
            width: length()?,
            height: length()?,
            leaves: parts.map(read_leaf).collect::<Option<_>>()?,
        })
    }
}

fn read_leaf(text: &str) -> Option<Leaf> {
    let mut rows = text.split(ROW);
    let mut head = rows.next()?.split(FIELD);
    let key = head.next()?;
    let (kind, _) = LeafKind::ALL.into_iter().find(|(_, known)| *known == key)?;
    let units = head.next()?.parse().ok()?;
    let mut text = || head.next().map(str::to_owned);
    Some(Leaf {
        kind,
        units,
        title: text()?,
        under: text()?,
        foot: text()?,
        rows: rows.map(read_row).collect::<Option<_>>()?,
    })
}

fn read_row(text: &str) -> Option<[String; 5]> {
    let cells: Vec<String> = text.split(FIELD).map(str::to_owned).collect();
    cells.try_into().ok()
}

/// The map of a panel: every position with what is landed there, else what belongs there, else what it
/// is kept for.
#[must_use]
pub fn panel_map(registry: &Registry, panel: PanelId) -> Option<Leaf> {
    let make = make(registry, panel)?;
    let row = registry.panels.get(panel)?;
    let rack = row.rack.get().map(|rack| names::rack(registry, *rack));
    let purpose = row.purpose.get().cloned();
    let parts = [rack, Some(names::make(make)), purpose]
        .into_iter()
        .flatten();
    let parts: Vec<String> = parts.filter(|part| !part.is_empty()).collect();
    let slots = slots(registry, panel);
    Some(Leaf {
        kind: LeafKind::Map,
        title: names::panel(registry, panel),
        under: parts.join(", "),
        foot: String::new(),
        units: 0,
        rows: slots
            .iter()
            .flat_map(|slot| {
                let mut rows = map_rows(registry, slot);
                rows.extend(cord_row(registry, slot.position));
                rows
            })
            .collect(),
    })
}

/// A row for each end at a position; one for what is kept or free.
fn map_rows(registry: &Registry, slot: &Slot) -> Vec<[String; 5]> {
    let position = names::position(registry, slot.position);
    let kept = match slot.state {
        SlotState::Reserved | SlotState::Bad => crate::query::deeds::kept_words(&slot.kept),
        SlotState::Landed | SlotState::Free | SlotState::Planned | SlotState::Clash => {
            String::new()
        }
    };
    let mut rows = Vec::new();
    for end in there(slot) {
        let row = registry.cables.get(end.cable);
        let medium = row.and_then(|row| row.medium.get());
        let mut code = code_and_how(registry, slot, end);
        if !kept.is_empty() {
            code.push_str(", ");
            code.push_str(&kept);
        }
        rows.push([
            position.clone(),
            code,
            room_words(registry, end),
            names::side(registry, end.cable, end.side.other()),
            medium.map_or_else(String::new, ToString::to_string),
        ]);
        rows.extend(elsewhere_row(registry, slot, end));
    }
    if rows.is_empty() {
        let empty = String::new;
        rows.push([position, empty(), kept, empty(), empty()]);
    }
    rows
}

/// The ends to name at a position: all that are there, and those that belong there and are not.
fn there(slot: &Slot) -> Vec<End> {
    let missing = slot.planned.iter().filter(|end| !slot.landed.contains(end));
    slot.landed.iter().chain(missing).copied().collect()
}

/// The code of an end, and how it stands at a position where that is more than that it is there alone.
/// Whoever opens the door takes what he reads for what is there.
fn code_and_how(registry: &Registry, slot: &Slot, end: End) -> String {
    let how = match (slot.landed.contains(&end), slot.state) {
        (false, _) => ", listed",
        (true, SlotState::Clash) => ", disputed",
        (true, _) => "",
    };
    names::end_code(registry, end) + how
}

/// Where else an end is landed, as a row of its own: it has the whole width for it.
fn elsewhere_row(registry: &Registry, slot: &Slot, end: End) -> Option<[String; 5]> {
    let place = Place::rear(slot.position);
    let said = placement(registry, end).into_iter();
    let elsewhere = said
        .flat_map(Register::distinct)
        .filter_map(|placement| match placement {
            Placement::Landed { place: at, .. } if *at != place => Some(names::place(registry, at)),
            _ => None,
        });
    let elsewhere: Vec<String> = elsewhere.collect();
    if elsewhere.is_empty() {
        return None;
    }
    let elsewhere = names::listed(&elsewhere);
    let words = if slot.landed.contains(&end) {
        [" is landed at ", &elsewhere, " too"].concat()
    } else {
        [" is landed elsewhere: ", &elsewhere].concat()
    };
    let mut row: [String; 5] = Default::default();
    row[1] = names::end_code(registry, end) + &words;
    Some(row)
}

/// The device and port that the front of a position is patched to.
fn cord_row(registry: &Registry, position: Position) -> Option<[String; 5]> {
    let to = registry.cord(position)?.get()?.as_ref()?;
    let mut row: [String; 5] = Default::default();
    row[1] = ["patched to ", &names::place(registry, to)].concat();
    Some(row)
}

/// The room that the other end of a cable is in, else its place.
fn room_words(registry: &Registry, end: End) -> String {
    let outlet = registry.cables.get(end.cable).and_then(shown_outlet);
    match outlet.and_then(|outlet| room_of(registry, outlet)) {
        Some(room) => names::room(registry, room),
        None => names::side(registry, end.cable, end.side.other()),
    }
}

/// The maps of all panels of a rack, from the top.
#[must_use]
pub fn panel_maps(registry: &Registry, rack: RackId) -> Vec<Leaf> {
    let pieces = elevation(registry, rack).map(|of| of.pieces);
    let panels = pieces.iter().flatten().filter_map(panel_of);
    panels
        .filter_map(|panel| panel_map(registry, panel))
        .collect()
}

/// The rack from the front and from the rear; what is built without rack units from the front alone.
#[must_use]
pub fn elevations(registry: &Registry, rack: RackId) -> Vec<Leaf> {
    let Some(of) = elevation(registry, rack) else {
        return Vec::new();
    };
    let faces: &[Face] = match of.units {
        Some(_) => &[Face::Front, Face::Rear],
        None => &[Face::Front],
    };
    let leaf = |face: &Face| elevation_leaf(registry, rack, &of, *face);
    faces.iter().map(leaf).collect()
}

fn elevation_leaf(registry: &Registry, rack: RackId, of: &Elevation, face: Face) -> Leaf {
    let build = of.build.map(|build| {
        let words = names::built(build);
        words
            .trim_start_matches("it has ")
            .trim_start_matches("it is a ")
            .to_owned()
    });
    let under = [Some(names::face(face).to_owned()), build]
        .into_iter()
        .flatten();
    // What hangs on the other rails takes its units here too, where nothing covers it.
    let own = |piece: &&Piece| {
        piece.hung.face == face || panel_of(piece).is_some() || !is_hidden(of, piece)
    };
    let pieces = of.pieces.iter();
    // What hangs at no rack unit stands below the rack.
    let has_place = |piece: &&Piece| {
        let is_drawn = |units| piece.is_drawn(units) || piece.hung.unit.is_none();
        of.units.is_none_or(is_drawn)
    };
    let pieces = pieces.filter(has_place);
    Leaf {
        kind: LeafKind::Elevation,
        title: names::rack(registry, rack),
        under: under.collect::<Vec<_>>().join(", "),
        foot: "Filled: landed. Frame: listed. Dot: free. R: reserved. X: bad. !: disputed."
            .to_owned(),
        units: of.units.unwrap_or(0),
        rows: pieces
            .filter(own)
            .map(|piece| elevation_row(piece, face))
            .collect(),
    }
}

fn elevation_row(piece: &Piece, face: Face) -> [String; 5] {
    let hung = piece.hung;
    let mut states = String::new();
    if let Some(make) = piece.make {
        // Row by row as they are seen, a stroke between the rows.
        let places = crate::query::rack::places_in_rows(make.positions, face);
        let rows = places.first().map_or(0, |(_, place)| place.rows);
        for row in 1..=rows {
            let mut in_row: Vec<_> = places.iter().filter(|(_, at)| at.row == row).collect();
            if face == Face::Rear {
                in_row.reverse();
            }
            for (number, _) in in_row {
                let slot = piece.slots.get(usize::from(number.get()) - 1);
                states.push(slot.map_or(' ', |slot| sign(slot.state)));
            }
            states.push('/');
        }
        states.pop();
    }
    let landed = piece.count(SlotState::Landed);
    let note = match piece.slots.len() {
        0 => String::new(),
        all => format!("{landed} of {all} landed"),
    };
    [
        hung.unit.map_or_else(String::new, |unit| unit.to_string()),
        hung.height.get().to_string(),
        if hung.face != face && panel_of(piece).is_none() {
            ["Behind: ", &piece.name].concat()
        } else {
            piece.name.clone()
        },
        states,
        note,
    ]
}

/// A state as one sign of an order.
fn sign(state: SlotState) -> char {
    match state {
        SlotState::Free => '.',
        SlotState::Planned => 'o',
        SlotState::Landed => '#',
        SlotState::Reserved => 'R',
        SlotState::Bad => 'X',
        SlotState::Clash => '!',
    }
}

/// For whom the card of a door is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readers {
    /// For those who work on it.
    Trade,
    /// For whoever stands before it: without alarms and cameras.
    Everybody,
}

/// What a word on a card means.
const LISTED: &str = "Listed: it belongs there and is not landed. ";
/// Why rows are left out. Control cable may be of an alarm where nobody said so.
const LEFT_OUT: &str = ": alarms, cameras and control cable.";

/// The card for the door of a rack: every position in use or listed for somebody, the job and the day,
/// and whom to call.
#[must_use]
pub fn door_card(
    registry: &Registry,
    rack: RackId,
    day: &str,
    firm: [&str; 2],
    readers: Readers,
) -> Leaf {
    let mut rows = Vec::new();
    let mut left_out = 0;
    let mut is_listed = false;
    let pieces = elevation(registry, rack).map(|of| of.pieces);
    for piece in pieces.iter().flatten() {
        for slot in &piece.slots {
            for end in there(slot) {
                if readers == Readers::Everybody && is_guarded(registry, slot.position, end) {
                    left_out += 1;
                    continue;
                }
                let code = code_and_how(registry, slot, end);
                is_listed |= !slot.landed.contains(&end);
                rows.push([
                    names::position(registry, slot.position),
                    code,
                    room_words(registry, end),
                    String::new(),
                    String::new(),
                ]);
                rows.extend(elsewhere_row(registry, slot, end));
            }
        }
    }
    let job = registry.job.name.get().map_or("", String::as_str);
    let called = [job, day, firm[0], firm[1]].map(str::trim);
    let called = called.into_iter().filter(|part| !part.is_empty());
    Leaf {
        kind: LeafKind::Card,
        title: ["Rack: ", &names::rack(registry, rack)].concat(),
        under: called.collect::<Vec<_>>().join(", "),
        foot: {
            let listed = if is_listed { LISTED } else { "" };
            let left_out = match left_out {
                0 => String::new(),
                1 => ["1 row is left out of this card", LEFT_OUT].concat(),
                count => format!("{count} rows are left out of this card{LEFT_OUT}"),
            };
            [listed, &left_out].concat().trim().to_owned()
        },
        units: 0,
        rows,
    }
}
