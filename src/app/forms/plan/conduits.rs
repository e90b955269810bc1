//! Conduits: their number, where they begin and end, and how wide they are.

use super::{Planned, refuse_at, take, text};
use crate::app::{Effect, Field, Model, World};
use crate::command::{Laid, Want};
use crate::domain::ids::{ConduitId, ThingId};
use crate::domain::label::CONDUIT;
use crate::domain::place::{ConduitEnd, TaggedPlace};
use crate::names;
use crate::query::find::{self, Target};

/// What is typed of a conduit, and which one is open.
const TYPED: [Field; 6] = [
    Field::ConduitNumber,
    Field::ConduitFrom,
    Field::ConduitTo,
    Field::ConduitSize,
    Field::ConduitNote,
    Field::OpenRow,
];

pub(super) fn lay(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let typed = text(model, Field::ConduitNumber).to_uppercase();
    let digits = typed.strip_prefix(CONDUIT).unwrap_or(&typed).trim();
    let Ok(number) = (match digits {
        "" => Ok(None),
        digits => digits.parse().map(Some),
    }) else {
        let words = [
            "“",
            &typed,
            "” is no number of a conduit. Write a whole number up to 65535, or leave it empty.",
        ];
        return refuse_at(model, Field::ConduitNumber, &words.concat());
    };
    let laid = Laid {
        ends: [Field::ConduitFrom, Field::ConduitTo].map(|field| end_of(model, field)),
        size: text(model, Field::ConduitSize),
        note: text(model, Field::ConduitNote),
    };
    take(
        model,
        Want::LayConduit {
            conduit: opened(model),
            number,
            laid,
        },
        &TYPED,
        None,
        world,
    )
}

/// The conduit whose row is open.
fn opened(model: &Model) -> Option<ConduitId> {
    let open: ThingId = model.fields.get(Field::OpenRow).parse().ok()?;
    let open = ConduitId(open);
    model.registry()?.conduits.get(open).map(|_| open)
}

/// What a text means as the end of a conduit: the one thing of this code, else the words.
/// Words that stand for what was there already mean that.
fn end_of(model: &Model, field: Field) -> ConduitEnd {
    let typed = text(model, field);
    let Some(open) = &model.open else {
        return ConduitEnd::Words(typed);
    };
    let registry = open.journal.registry();
    let row = opened(model).and_then(|id| registry.conduits.get(id));
    let end = usize::from(field == Field::ConduitTo);
    if let Some(was) = row.and_then(|row| row.ends[end].get())
        && names::conduit_end(registry, was) == typed
    {
        return was.clone();
    }
    let hits = find::exactly(registry, open.journal.job(), &typed, None).hits;
    let mut found = hits.iter().filter_map(|hit| match hit.target {
        Target::Outlet(id) => Some(ConduitEnd::Outlet(id)),
        Target::Rack(id) => Some(ConduitEnd::Rack(id)),
        Target::Room(id) => Some(ConduitEnd::Room(id)),
        _ => None,
    });
    match (found.next(), found.next()) {
        // The outlets of a room follow it.
        (Some(one), None) | (Some(one @ ConduitEnd::Room(_)), Some(ConduitEnd::Outlet(_))) => one,
        _ => ConduitEnd::Words(typed),
    }
}

/// Puts what is known of a conduit into the fields.
pub(super) fn fill(model: &mut Model, conduit: ConduitId) {
    let Some(registry) = model.registry() else {
        return;
    };
    let Some(row) = registry.conduits.get(conduit) else {
        return;
    };
    let end = |end: usize| {
        let at = row.ends[end].get();
        at.map_or_else(String::new, |at| names::conduit_end(registry, at))
    };
    let known = |said: Option<&String>| said.cloned().unwrap_or_default();
    let texts = [
        registry
            .place_code(TaggedPlace::Conduit(conduit))
            .unwrap_or_default(),
        end(0),
        end(1),
        known(row.size.get()),
        known(row.note.get()),
    ];
    for (field, text) in TYPED.into_iter().zip(texts) {
        model.fields.set(field, text);
    }
}

/// Empties the fields when a conduit is closed, or another one is opened in them.
pub(super) fn close(model: &mut Model, thing: Planned) {
    if matches!(thing, Planned::Conduit(_)) {
        model.fields.clear(&TYPED);
    } else {
        leave(model);
    }
}

/// Closes the conduit that is open: what its fields say is of no other one.
pub(super) fn leave(model: &mut Model) {
    if opened(model).is_some() {
        model.fields.clear(&TYPED);
    }
}
