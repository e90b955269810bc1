//! Pictures: which belong to what is looked at, what is known of one, and what can be pointed out on
//! it.

use super::deeds::{shows_words, who};
use super::rack::{landed_place, planned_place};
use super::run::shown_outlet;
use super::wall::ends;
use crate::domain::ids::{CableId, OutletId, PictureId, RoomId, ThingId};
use crate::domain::order::Order;
use crate::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use crate::domain::place::{End, Leaves, Place, Side};
use crate::domain::work::Standing;
use crate::journal::{Journal, Picture, Registry, Stamp};
use crate::{names, walk};

/// What pictures are asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// What a picture can show.
    Shown(Shows),
    /// A cable.
    Cable(CableId),
}

/// A picture in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureLine {
    /// Which.
    pub picture: PictureId,
    /// Under which name its bytes lie.
    pub digest: Digest,
    /// What it shows, the remark on it, what is pointed out there of what is looked at, and who
    /// took it.
    pub words: String,
}

/// Some of the pictures of something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shots {
    /// Those that are shown.
    pub lines: Vec<PictureLine>,
    /// The place of the first of them among all, from 0.
    pub from: usize,
    /// How many there are.
    pub count: usize,
}

/// One picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureView {
    /// Under which name its bytes lie.
    pub digest: Digest,
    /// What it shows; none when nobody said.
    pub shows: Option<Shows>,
    /// That in words.
    pub shows_words: String,
    /// The remark on it; empty: none.
    pub note: String,
    /// What is pointed out on it.
    pub points: Vec<PointView>,
    /// Whether people disagree about it.
    pub disputed: bool,
    /// Who brought it in and when.
    pub who: String,
    /// Who brought it in.
    pub by: String,
    /// Why it was put away; none when it was not.
    pub dropped: Option<String>,
}

/// Something that is pointed out on a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointView {
    /// What.
    pub what: Seen,
    /// That in words.
    pub words: String,
    /// Where.
    pub at: Spotted,
    /// How far from what; empty when nobody measured.
    pub offset: String,
}

/// Some of the wanted pictures that belong to something: first those that show it or on which it is
/// pointed out, then those of what it is in or has in it; the last taken before the others. Words
/// are made for those alone that are shown, as there may be hundreds. `from` counts from 0; what is
/// beyond the last begins anew.
#[must_use]
pub fn about(journal: &Journal, what: About, from: usize, most: usize) -> Shots {
    let registry = journal.registry();
    let (near, far) = kin(registry, what);
    let mut found: Vec<(bool, Stamp, PictureId)> = Vec::new();
    for (id, row) in registry.pictures.iter() {
        let Some(said) = row.digest.said() else {
            continue;
        };
        if dropped(row).is_some() {
            continue;
        }
        let points = row.points.all().flat_map(|said| said.value);
        let seen = points.map(|point| point.what.thing());
        let shown = row.shows.all().map(|said| said.value.thing());
        let (mut is_near, mut is_far) = (false, false);
        for thing in shown.chain(seen) {
            is_near |= near.contains(&thing);
            is_far |= far.contains(&thing);
        }
        if is_near || is_far {
            found.push((is_near, said.stamp, id));
        }
    }
    found.order_by(|one, other| other.cmp(one));
    let count = found.len();
    let from = if from < count { from } else { 0 };
    let mut lines = Vec::new();
    for (.., id) in found.iter().skip(from).take(most) {
        let row = registry.pictures.get(*id);
        if let Some((row, digest)) = row.and_then(|row| Some((row, row.digest.get()?))) {
            lines.push(PictureLine {
                picture: *id,
                digest: *digest,
                words: words(journal, row, what, &near),
            });
        }
    }
    Shots { lines, from, count }
}

/// What is looked at with what lies in it, and what it lies in.
fn kin(registry: &Registry, what: About) -> (Vec<ThingId>, Vec<ThingId>) {
    let (mut near, mut far) = (Vec::new(), Vec::new());
    match what {
        About::Cable(id) => {
            near.push(id.0);
            for (loose, row) in registry.loose_ends.iter() {
                if row
                    .joined
                    .get()
                    .is_some_and(|end| end.is_some_and(|end| end.cable == id))
                {
                    near.push(loose.0);
                }
            }
            add_outlets(registry, id, &mut far);
        }
        About::Shown(shows) => {
            near.push(shows.thing());
            match shows {
                Shows::Outlet(id) => {
                    near.extend(seen_at(registry, id).iter().map(|seen| seen.thing()));
                    let number = registry.outlets.get(id).and_then(|row| row.number.get());
                    far.extend(number.map(|at| at.room.0));
                }
                Shows::Room(id) => {
                    far.extend(walk::outlets(registry, id).iter().map(|id| id.0));
                }
                Shows::LooseEnd(_) | Shows::Plan(_) => {}
            }
        }
    }
    (near, far)
}

/// The cables that come out at an outlet, or were meant to, and the outlet itself.
fn seen_at(registry: &Registry, outlet: OutletId) -> Vec<Seen> {
    let here = ends(registry, outlet);
    let mut cables: Vec<CableId> = here.iter().map(|end| end.end.cable).collect();
    for cable in walk::fed(registry, outlet) {
        if !cables.contains(&cable) {
            cables.push(cable);
        }
    }
    let mut seen: Vec<Seen> = cables.into_iter().map(Seen::Cable).collect();
    seen.push(Seen::Outlet(outlet));
    seen
}

/// The outlets that a cable comes out at, or was meant to.
fn add_outlets(registry: &Registry, cable: CableId, to: &mut Vec<ThingId>) {
    let row = registry.cables.get(cable);
    to.extend(row.and_then(shown_outlet).map(|id| id.0));
    if let Some(Leaves::Outlet(from)) = row.and_then(|row| row.leaves.get()) {
        to.push(from.0);
    }
    for side in Side::BOTH {
        let end = End::whole(cable, side);
        for place in [landed_place(registry, end), planned_place(registry, end)] {
            if let Some(Place::Jack { outlet, .. }) = place {
                to.push(outlet.0);
            }
        }
    }
}

/// The room that an outlet was in when something was done, where it has been moved to another since.
pub(super) fn room_then(registry: &Registry, outlet: OutletId, at: Stamp) -> Option<RoomId> {
    let number = &registry.outlets.get(outlet)?.number;
    let now = number.said().filter(|now| now.stamp > at)?;
    let then = number.ever_said().filter(|said| said.stamp <= at).last()?;
    (then.value.room != now.value.room).then_some(then.value.room)
}

/// That a picture shows an outlet where it is no more.
fn moved_words(registry: &Registry, row: &Picture) -> Option<String> {
    let Some(Shows::Outlet(outlet)) = row.shows.get() else {
        return None;
    };
    let room = room_then(registry, *outlet, row.digest.said()?.stamp)?;
    Some(format!(
        "taken when it was in {}",
        names::room(registry, room)
    ))
}

fn dropped(row: &Picture) -> Option<&String> {
    match row.standing.get() {
        Some(Standing::Cancelled { reason }) => Some(reason),
        Some(Standing::Wanted) | None => None,
    }
}

fn words(journal: &Journal, row: &Picture, what: About, near: &[ThingId]) -> String {
    let registry = journal.registry();
    let mut parts: Vec<String> = Vec::new();
    if let Some(shows) = row
        .shows
        .get()
        .filter(|shows| About::Shown(**shows) != what)
    {
        parts.push(shows_words(registry, *shows));
    }
    parts.extend(moved_words(registry, row));
    parts.extend(row.note.get().cloned());
    let points = row.points.get().into_iter().flatten();
    for point in points.filter(|point| near.contains(&point.what.thing())) {
        parts.push(point_words(registry, point));
    }
    let said = row.digest.said();
    parts.extend(said.map(|said| who(journal, said.stamp.act)));
    parts.retain(|part| !part.is_empty());
    parts.join(" · ")
}

/// What is pointed out on a picture, in words.
#[must_use]
pub fn points_words(registry: &Registry, points: &[Point]) -> String {
    let words = points.iter().map(|point| {
        let Spotted { x, y } = point.at;
        format!(
            "{} at {} {} %",
            point_words(registry, point),
            x / 100,
            y / 100
        )
    });
    let words: Vec<String> = words.collect();
    match words.len() {
        0 => "nothing pointed out".to_owned(),
        _ => words.join(", "),
    }
}

fn point_words(registry: &Registry, point: &Point) -> String {
    match point.offset.as_str() {
        "" => seen_words(registry, point.what),
        offset => format!("{} {offset}", seen_words(registry, point.what)),
    }
}

fn seen_words(registry: &Registry, what: Seen) -> String {
    match what {
        Seen::Cable(id) => names::cable(registry, id),
        Seen::Outlet(id) => names::outlet(registry, id),
    }
}

/// One picture; none when it was never added or was taken back.
#[must_use]
pub fn view(journal: &Journal, id: PictureId) -> Option<PictureView> {
    let registry = journal.registry();
    let row = registry.pictures.get(id)?;
    let said = row.digest.said()?;
    let shows = row.shows.get().copied();
    let points = row.points.get().into_iter().flatten();
    let points = points.map(|point| PointView {
        what: point.what,
        words: seen_words(registry, point.what),
        at: point.at,
        offset: point.offset.clone(),
    });
    let by = journal.act(said.stamp.act).map(|act| act.by.trim());
    Some(PictureView {
        digest: *said.value,
        shows,
        shows_words: shows
            .map(|shows| shows_words(registry, shows))
            .into_iter()
            .chain(moved_words(registry, row))
            .collect::<Vec<_>>()
            .join(", "),
        note: row.note.get().cloned().unwrap_or_default(),
        points: points.collect(),
        disputed: row.shows.disputed()
            || row.note.disputed()
            || row.points.disputed()
            || row.standing.disputed(),
        who: who(journal, said.stamp.act),
        by: by.unwrap_or_default().to_owned(),
        dropped: dropped(row).cloned(),
    })
}

/// What can be pointed out on a picture of something, with its words: what is not pointed out there
/// yet comes first.
#[must_use]
pub fn choices(registry: &Registry, shows: Shows, points: &[PointView]) -> Vec<(Seen, String)> {
    let mut seen: Vec<Seen> = Vec::new();
    match shows {
        Shows::Outlet(id) => seen = seen_at(registry, id),
        Shows::Room(id) => {
            for outlet in walk::outlets(registry, id) {
                seen.extend(seen_at(registry, outlet));
            }
        }
        Shows::LooseEnd(id) => {
            let row = registry.loose_ends.get(id);
            let joined = row.and_then(|row| row.joined.get().copied().flatten());
            seen.extend(joined.map(|end| Seen::Cable(end.cable)));
        }
        Shows::Plan(floor) => {
            for room in walk::rooms(registry) {
                let row = registry.rooms.get(room);
                if row.and_then(|row| row.floor.get()) == Some(&floor) {
                    let outlets = walk::outlets(registry, room).into_iter();
                    seen.extend(outlets.map(Seen::Outlet));
                }
            }
        }
    }
    seen.order_by_key(|what| points.iter().any(|point| point.what == *what));
    let named = |what| (what, seen_words(registry, what));
    seen.into_iter().map(named).collect()
}
