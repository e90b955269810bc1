//! The list that somebody goes through before the walls of a room are closed.

use super::{person, refuse, refuse_at, take};
use crate::app::{Effect, Field, Fields, Model, Screen, World};
use crate::command::Want;
use crate::domain::ids::RoomId;
use crate::domain::work::CoverCheck;
use crate::query::cover::{self, RoomToCover};
use crate::query::deeds::unticked;

/// A form about closing walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CoverForm {
    /// Something on the list was looked at, or was not after all.
    Tick {
        /// In which room.
        room: RoomId,
        /// What.
        check: CoverCheck,
    },
    /// All that stands open on the list is so, but for what the records lack.
    TickAll(RoomId),
    /// The walls may be closed.
    Sign(RoomId),
    /// The walls may be closed, although not all of the list is so.
    InSpite(RoomId),
    /// They must not be closed yet, for the reason typed.
    NotYet(RoomId),
}

/// What stands in the fields of one room.
const FIELDS: [Field; 3] = [Field::CoverChecks, Field::CoverCount, Field::CoverNote];

/// What stands for a reason where somebody signs in spite of what is missing, and types none.
const ON_PURPOSE: &str = "left so on purpose";

/// What an OK would be in spite of: what is not ticked, and what the records say; none where nothing
/// was looked at or nothing is missing.
#[must_use]
pub fn in_spite_of(fields: &Fields, room: &RoomToCover) -> Option<String> {
    let checks = ticked(fields, room);
    if checks.is_empty() {
        return None;
    }
    let mut missing = room.in_the_way();
    missing.extend(unticked(&checks));
    (!missing.is_empty()).then(|| missing.join(", "))
}

/// What is ticked on the list of a room: what the records show, apart from what was turned over by
/// hand.
#[must_use]
pub fn ticked(fields: &Fields, room: &RoomToCover) -> Vec<CoverCheck> {
    let (turned, shown) = (turned(fields, room.room), room.shown());
    CoverCheck::ALL
        .into_iter()
        .filter(|check| turned.contains(check) != shown.contains(check))
        .collect()
}

/// What was turned over by hand. The room stands in the field too, so that a list that was begun in
/// one room is not gone on with in another.
fn turned(fields: &Fields, room: RoomId) -> Vec<CoverCheck> {
    let Some((of, places)) = fields.get(Field::CoverChecks).split_once(' ') else {
        return Vec::new();
    };
    if of != room.0.to_string() {
        return Vec::new();
    }
    let places = places.split(' ').filter_map(|place| place.parse().ok());
    let known = places.filter_map(|place: usize| CoverCheck::ALL.get(place));
    known.copied().collect()
}

/// Sends a form.
pub(super) fn submit(model: &mut Model, form: CoverForm, world: &impl World) -> Vec<Effect> {
    match form {
        CoverForm::Tick { room, check } => tick(model, room, check),
        CoverForm::TickAll(room) => tick_all(model, room),
        CoverForm::Sign(room) => sign(model, room, world),
        CoverForm::InSpite(room) => {
            if model.fields.get(Field::CoverNote).trim().is_empty() {
                model.fields.set(Field::CoverNote, ON_PURPOSE.to_owned());
            }
            sign(model, room, world)
        }
        CoverForm::NotYet(room) => {
            let reason = model.fields.get(Field::CoverNote).trim().to_owned();
            let want = Want::NotToCover { room, reason };
            take(model, want, &FIELDS, Some(Screen::Covers), world)
        }
    }
}

fn tick(model: &mut Model, room: RoomId, check: CoverCheck) -> Vec<Effect> {
    let mut turned = turned(&model.fields, room);
    turn_over(&mut turned, check);
    keep(model, room, &turned)
}

/// Ticks what the records do not contradict.
fn tick_all(model: &mut Model, id: RoomId) -> Vec<Effect> {
    let open = model.open.as_ref();
    let Some(room) = open.and_then(|open| cover::room(&open.journal, id)) else {
        return Vec::new();
    };
    let (mut turned, shown) = (turned(&model.fields, id), room.shown());
    for check in CoverCheck::ALL {
        let is_ticked = turned.contains(&check) != shown.contains(&check);
        if !is_ticked && (shown.contains(&check) || room.may_be_so(check)) {
            turn_over(&mut turned, check);
        }
    }
    keep(model, id, &turned)
}

fn turn_over(turned: &mut Vec<CoverCheck>, check: CoverCheck) {
    match turned.iter().position(|other| *other == check) {
        Some(at) => {
            turned.remove(at);
        }
        None => turned.push(check),
    }
}

fn keep(model: &mut Model, room: RoomId, turned: &[CoverCheck]) -> Vec<Effect> {
    let mut text = room.0.to_string();
    for check in turned {
        let place = CoverCheck::ALL.iter().position(|other| other == check);
        text.push_str(&format!(" {}", place.unwrap_or_default()));
    }
    model.fields.set(Field::CoverChecks, text);
    Vec::new()
}

fn sign(model: &mut Model, id: RoomId, world: &impl World) -> Vec<Effect> {
    let open = model.open.as_ref();
    let Some(room) = open.and_then(|open| cover::room(&open.journal, id)) else {
        return refuse(
            model,
            "This room has no outlet, so there is nothing to sign for.",
        );
    };
    let mut effects = Vec::new();
    if model.person.initials.is_empty() {
        if model.fields.get(Field::Initials).trim().is_empty() {
            return refuse_at(
                model,
                Field::Initials,
                "An OK is signed: nobody knows yet whose it is. Type your initials below; what you ticked stays.",
            );
        }
        effects = person(model);
        if effects.is_empty() {
            return effects;
        }
    }
    effects.extend(sign_as(model, &room, world));
    effects
}

fn sign_as(model: &mut Model, room: &RoomToCover, world: &impl World) -> Vec<Effect> {
    let typed = model.fields.get(Field::CoverCount).trim().to_owned();
    let mut checks = ticked(&model.fields, room);
    // Who types a number has counted; where nobody did, there is no count.
    let is_counted = !typed.is_empty() || checks.contains(&CoverCheck::Counted);
    let counted = match (is_counted, typed.as_str()) {
        (false, _) => Some(0),
        (true, "") => u16::try_from(room.cables).ok(),
        (true, typed) => typed.parse().ok(),
    };
    let Some(counted) = counted else {
        let words = format!(
            "“{typed}” is no count of cables. Type a whole number, or leave it empty if it is {}.",
            room.cables
        );
        return refuse_at(model, Field::CoverCount, &words);
    };
    let note = model.fields.get(Field::CoverNote).trim().to_owned();
    if is_counted && usize::from(counted) != room.cables && note.is_empty() {
        let words = format!(
            "You counted {counted}, and the records have {}. Look for the difference, or say below in a few words why it is right so.",
            room.cables
        );
        return refuse_at(model, Field::CoverNote, &words);
    }
    let in_the_way = room.in_the_way();
    if !in_the_way.is_empty() && note.is_empty() {
        let words = format!(
            "By the records: {}. Say below in a few words why the walls may be closed all the same.",
            in_the_way.join("; ")
        );
        return refuse_at(model, Field::CoverNote, &words);
    }
    if is_counted && !checks.contains(&CoverCheck::Counted) {
        checks.push(CoverCheck::Counted);
    }
    let want = Want::OkToCover {
        room: room.room,
        counted,
        checks,
        note,
    };
    take(model, want, &FIELDS, Some(Screen::Covers), world)
}
