//! Conduits: their number, where they begin and end, and how wide they are.

use super::{refuse, take, text};
use crate::app::{Effect, Field, Model, World};
use crate::codes::typed::{self, Reading};
use crate::command::{Laid, Want};
use crate::domain::ids::ConduitId;
use crate::domain::label::CONDUIT;
use crate::domain::place::ConduitEnd;
use crate::domain::text::folded;
use crate::journal::Registry;
use crate::names;

pub(super) fn add(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let number = match number(&text(model, Field::ConduitNumber)) {
        Ok(number) => number,
        Err(words) => return refuse(model, &words),
    };
    let end = |field| end_of(model, None, text(model, field));
    let laid = Laid {
        ends: [Field::ConduitFrom, Field::ConduitTo].map(end),
        size: text(model, Field::ConduitSize),
        note: String::new(),
    };
    let want = Want::AddConduit { number, laid };
    // The size stays: tubes of one kind are laid one after the other.
    let fields = [Field::ConduitNumber, Field::ConduitFrom, Field::ConduitTo];
    take(model, want, &fields, None, world)
}

/// Reads the number of a conduit, with or without the letters before it; an empty field is none.
fn number(typed: &str) -> Result<Option<u16>, String> {
    let capitals = typed.to_uppercase();
    let digits = capitals.strip_prefix(CONDUIT).unwrap_or(&capitals).trim();
    if digits.is_empty() {
        return Ok(None);
    }
    digits.parse().map(Some).map_err(|_| {
        format!(
            "“{typed}” is no number of a conduit. Write a whole number up to 65535, or leave it empty."
        )
    })
}

/// What a text means as the end of a conduit: the one thing of this code or name, else the words.
/// Words that stand for what was there already mean that.
fn end_of(model: &Model, was: Option<&ConduitEnd>, text: String) -> ConduitEnd {
    let Some(registry) = model.registry() else {
        return ConduitEnd::Words(text);
    };
    if let Some(was) = was.filter(|was| names::conduit_end(registry, was).trim() == text) {
        return was.clone();
    }
    let mut found = of_code(registry, &text);
    if found.is_empty() {
        found = of_name(registry, &folded(&text));
    }
    match <[ConduitEnd; 1]>::try_from(found) {
        Ok([one]) => one,
        Err(_) => ConduitEnd::Words(text),
    }
}

fn of_code(registry: &Registry, text: &str) -> Vec<ConduitEnd> {
    let index = &registry.index;
    let mut found = Vec::new();
    for reading in typed::read(text, None).readings {
        match reading {
            Reading::Outlet(code) => {
                let outlets = index.outlets_by_code.get(&code).iter();
                found.extend(outlets.map(|id| ConduitEnd::Outlet(*id)));
            }
            Reading::Space(space) => {
                let racks = index.racks_by_space.get(&space).iter();
                found.extend(racks.map(|id| ConduitEnd::Rack(*id)));
            }
            Reading::Room(code) => {
                let rooms = index.rooms_by_code.get(&code).iter();
                found.extend(rooms.map(|id| ConduitEnd::Room(*id)));
            }
            _ => {}
        }
    }
    found
}

fn of_name(registry: &Registry, name: &str) -> Vec<ConduitEnd> {
    let racks = registry.racks.iter();
    let racks = racks
        .filter(|(id, row)| !row.added.is_empty() && folded(&names::rack(registry, *id)) == name);
    let rooms = registry.rooms.iter();
    let rooms = rooms
        .filter(|(id, row)| !row.added.is_empty() && folded(&names::room(registry, *id)) == name);
    let racks = racks.map(|(id, _)| ConduitEnd::Rack(id));
    racks
        .chain(rooms.map(|(id, _)| ConduitEnd::Room(id)))
        .collect()
}

/// Puts what is known of a conduit into the fields.
pub(super) fn fill(model: &mut Model, conduit: ConduitId) {
    let Some(registry) = model.registry() else {
        return;
    };
    let Some(row) = registry.conduits.get(conduit) else {
        return;
    };
    let [from, to] = [0, 1].map(|end: usize| {
        let at = row.ends[end].get();
        at.map_or_else(String::new, |at| names::conduit_end(registry, at))
    });
    let size = row.size.get().cloned().unwrap_or_default();
    model.fields.set(Field::EditFrom, from);
    model.fields.set(Field::EditTo, to);
    model.fields.set(Field::EditSize, size);
}

/// What the fields say of a conduit.
pub(super) fn described(model: &Model, conduit: ConduitId, note: String) -> Result<Want, String> {
    let number = number(&text(model, Field::EditCode))?;
    let number = number.ok_or("Write the number of the conduit.")?;
    let row = model.registry().and_then(|of| of.conduits.get(conduit));
    let end = |field, end: usize| {
        let was = row.and_then(|row| row.ends[end].get());
        end_of(model, was, text(model, field))
    };
    Ok(Want::DescribeConduit {
        conduit,
        number,
        laid: Laid {
            ends: [end(Field::EditFrom, 0), end(Field::EditTo, 1)],
            size: text(model, Field::EditSize),
            note,
        },
    })
}
