//! The forms of one cable and of loose ends: notes, reasons, and codes typed to join an end.

use super::{refuse_at, take};
use crate::app::{Effect, Field, Model, World};
use crate::codes::typed::{self, Reading};
use crate::command::Want;
use crate::domain::ids::{CableId, ConduitId, LooseEndId, OutletId, RoomId, ThingId};
use crate::domain::medium::{Kind, Medium};
use crate::domain::place::{End, Side};
use crate::domain::work::Lying;
use crate::journal::{Found, Registry};
use crate::query::conduit::open_to;

/// A form of one cable or of loose ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FindForm {
    /// A remark on a cable.
    NoteCable(CableId),
    /// An old name of a cable.
    KnowCableAs(CableId),
    /// The run is pulled anew, for the reason typed.
    Repull(CableId),
    /// The cable is taken out of the job, for the reason typed.
    CancelCable(CableId),
    /// The cable lies in the conduit that is chosen.
    PassConduit(CableId),
    /// A new loose end.
    AddLoose,
    /// What is noted of a loose end is to be changed, or is left as it is after all.
    EditLoose(LooseEndId),
    /// What is noted of a loose end is this.
    DescribeLoose(LooseEndId),
    /// A loose end is an end of the cable whose code was typed.
    JoinLoose {
        /// The loose end.
        loose: LooseEndId,
        /// At which side of the cable it lies.
        side: Side,
    },
    /// A loose end and the one chosen are one cable, which feeds the outlet typed.
    JoinTwo(LooseEndId),
}

/// Sends a form.
pub(super) fn submit(model: &mut Model, form: FindForm, world: &impl World) -> Vec<Effect> {
    let text = |field| model.fields.get(field).trim().to_owned();
    let (want, fields): (Result<Want, String>, &[Field]) = match form {
        FindForm::NoteCable(cable) => {
            let note = text(Field::Note);
            (Ok(Want::NoteCable { cable, note }), &[Field::Note])
        }
        FindForm::KnowCableAs(cable) => {
            let name = text(Field::CableOldName);
            let want = Want::KnowCableAs { cable, name };
            (Ok(want), &[Field::CableOldName])
        }
        FindForm::Repull(cable) => {
            let reason = text(Field::Reason);
            (Ok(Want::Repull { cable, reason }), &[Field::Reason])
        }
        FindForm::CancelCable(cable) => {
            let reason = text(Field::Reason);
            (Ok(Want::CancelCable { cable, reason }), &[Field::Reason])
        }
        FindForm::PassConduit(cable) => {
            let want = conduit(model, cable).map(|conduit| Want::PassConduit {
                cable,
                conduit,
                lying: Lying::In,
            });
            (want, &[Field::CableConduit])
        }
        FindForm::AddLoose => (
            Ok(Want::AddLooseEnd {
                found: found(model),
            }),
            &[Field::LoosePlace, Field::LooseMedium, Field::LooseNote],
        ),
        FindForm::EditLoose(loose) => return edit_loose(model, loose),
        FindForm::DescribeLoose(loose) => {
            let found = found(model);
            (Ok(Want::DescribeLooseEnd { loose, found }), &NOTED)
        }
        FindForm::JoinLoose { loose, side } => {
            let want = cable(model).map(|cable| Want::JoinLooseEnd {
                loose,
                end: End::whole(cable, side),
            });
            (want.map(|join| as_known(model, join)), &JOINED)
        }
        FindForm::JoinTwo(loose) => {
            let want = join_two(model, loose);
            (want.map(|join| as_known(model, join)), &JOINED)
        }
    };
    match want {
        Ok(want) => take(model, want, fields, None, world),
        Err(words) => refuse_at(model, fields[0], &words),
    }
}

/// The conduit that the list shows: the one chosen, else its first.
fn conduit(model: &Model, cable: CableId) -> Result<ConduitId, String> {
    let free = registry(model).map(|registry| open_to(registry, cable))?;
    let chosen = model.fields.get(Field::CableConduit);
    let known = free.iter().find(|line| line.id.0.to_string() == chosen);
    let line = known.or(free.first());
    let line = line.ok_or("Add a conduit first, beside the racks.")?;
    Ok(line.id)
}

/// What is typed to join a loose end.
const JOINED: [Field; 4] = [
    Field::LooseCode,
    Field::LooseOther,
    Field::LooseOpen,
    Field::LooseHow,
];

/// What is noted of a loose end while it is being changed.
const NOTED: [Field; 5] = [
    Field::LooseRoom,
    Field::LoosePlace,
    Field::LooseMedium,
    Field::LooseNote,
    Field::LooseEdited,
];

/// How it is known what a loose end is: by what is written on it, or by a toner.
fn as_known(model: &Model, join: Want) -> Want {
    match model.fields.get(Field::LooseHow) {
        "" => join,
        _ => Want::Toned {
            join: Box::new(join),
        },
    }
}

/// Puts what is noted of a loose end into the fields; once more, and they are empty.
fn edit_loose(model: &mut Model, loose: LooseEndId) -> Vec<Effect> {
    let key = loose.0.to_string();
    let row = model.registry().and_then(|of| of.loose_ends.get(loose));
    let found = row.and_then(|row| row.found.get()).cloned();
    let was_open = model.fields.get(Field::LooseEdited) == key;
    model.fields.clear(&NOTED);
    if let (Some(found), false) = (found, was_open) {
        let room = found.room.map(|room| room.0.to_string());
        let medium = found.medium.map(|medium| medium.key());
        for (field, text) in [
            (Field::LooseRoom, room.unwrap_or_default()),
            (Field::LoosePlace, found.place),
            (Field::LooseMedium, medium.unwrap_or_default()),
            (Field::LooseNote, found.note),
            (Field::LooseEdited, key),
        ] {
            model.fields.set(field, text);
        }
        return vec![Effect::FocusField(Field::LoosePlace)];
    }
    Vec::new()
}

fn medium(model: &Model, field: Field) -> Option<Medium> {
    Medium::from_key(model.fields.get(field))
}

fn found(model: &Model) -> Found {
    let room: Option<ThingId> = model.fields.get(Field::LooseRoom).parse().ok();
    Found {
        place: model.fields.get(Field::LoosePlace).trim().to_owned(),
        room: room.map(RoomId),
        medium: medium(model, Field::LooseMedium),
        note: model.fields.get(Field::LooseNote).trim().to_owned(),
    }
}

/// The cable whose code was typed.
fn cable(model: &Model) -> Result<CableId, String> {
    let text = model.fields.get(Field::LooseCode);
    let registry = registry(model)?;
    let typed = typed::read(text, None);
    let codes = typed.readings.iter().filter_map(|reading| match reading {
        Reading::Run(code) => Some(code.to_string()),
        _ => None,
    });
    let mut cables = codes.flat_map(|code| registry.index.cables_by_code.get(&code).to_vec());
    let there = |cable: &CableId| {
        let row = registry.cables.get(*cable);
        row.is_some_and(|row| !row.added.is_empty())
    };
    cables.find(there).ok_or_else(|| match text.trim() {
        "" => "Type the code of the cable, such as KIT2-C.".to_owned(),
        text => format!("“{text}” is no cable of this job. Type its code, such as KIT2-C."),
    })
}

fn outlet(model: &Model) -> Result<OutletId, String> {
    let text = model.fields.get(Field::LooseCode);
    let registry = registry(model)?;
    let typed = typed::read(text, None);
    let outlets = typed.readings.iter().filter_map(|reading| match reading {
        Reading::Outlet(code) => registry.index.outlets_by_code.get(code).first().copied(),
        _ => None,
    });
    outlets.into_iter().next().ok_or_else(|| match text.trim() {
        "" => "Type the code of the outlet, such as KIT2.".to_owned(),
        text => format!("“{text}” is no outlet of this job. Type its code, such as KIT2."),
    })
}

fn registry(model: &Model) -> Result<&Registry, String> {
    model
        .registry()
        .ok_or_else(|| "Open a job first.".to_owned())
}

/// The chosen loose end may say what the cable is made of; else the opened one.
fn join_two(model: &Model, near: LooseEndId) -> Result<Want, String> {
    let far: Option<ThingId> = model.fields.get(Field::LooseOther).parse().ok();
    let Some(far) = far.map(LooseEndId) else {
        return Err("Choose the other loose end of the same cable.".to_owned());
    };
    let outlet = outlet(model)?;
    let registry = registry(model)?;
    let seen = [near, far].into_iter().find_map(|loose| {
        let found = registry.loose_ends.get(loose)?.found.get()?;
        found.medium.clone()
    });
    Ok(Want::JoinLooseEnds {
        near,
        far,
        outlet,
        medium: seen.unwrap_or_else(|| Medium::indoor(Kind::Own("Not known".to_owned()))),
    })
}
