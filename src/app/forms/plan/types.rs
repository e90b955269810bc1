//! Outlet types: a name, and a list of cables that is made one by one.

use super::{TypeStart, chosen, refuse, refuse_at, take, text};
use crate::app::forms::wall::medium;
use crate::app::{Effect, Field, Fields, Model, Notice, World};
use crate::command::Want;
use crate::domain::ids::OutletTypeId;
use crate::domain::label::Letter;
use crate::domain::medium::Medium;
use crate::domain::outlet_type::{PlannedCable, UsualType};

/// What stands between the parts of a cable on the list, and can be in none of them.
const BETWEEN: char = '\t';

/// The fields of one cable.
const CABLE: [Field; 4] = [
    Field::CableMedium,
    Field::CableOwnMedium,
    Field::CablePurpose,
    Field::TypeLetter,
];

/// The fields of a whole type.
const TYPE: [Field; 3] = [Field::TypeName, Field::TypeCables, Field::TypeChanged];

/// The cables on the list of the type that is being made or changed.
#[must_use]
pub fn listed_cables(fields: &Fields) -> Vec<PlannedCable> {
    let lines = fields.get(Field::TypeCables).lines();
    lines
        .filter_map(|line| {
            let mut parts = line.splitn(3, BETWEEN);
            let letter = parts.next()?.chars().next().and_then(Letter::new);
            let medium = Medium::from_key(parts.next()?)?;
            let purpose = parts.next()?.to_owned();
            Some(PlannedCable {
                letter,
                medium,
                purpose,
            })
        })
        .collect()
}

fn set_list(model: &mut Model, cables: &[PlannedCable]) {
    let plain = |text: &str| text.replace(char::is_control, " ");
    let lines: Vec<String> = cables
        .iter()
        .map(|cable| {
            let letter = cable.letter.map(|letter| letter.get().to_string());
            format!(
                "{}{BETWEEN}{}{BETWEEN}{}",
                letter.unwrap_or_default(),
                plain(&cable.medium.key()),
                plain(&cable.purpose)
            )
        })
        .collect();
    model.fields.set(Field::TypeCables, lines.join("\n"));
}

/// The type of the job's own that is being changed; none while a new one is made.
#[must_use]
pub fn changed_type(model: &Model) -> Option<OutletTypeId> {
    chosen(model, Field::TypeChanged)
}

/// Puts the cable in the fields on the list.
pub(super) fn list_cable(model: &mut Model) -> Vec<Effect> {
    let medium = match medium(model) {
        Ok(medium) => medium,
        Err(refused) => return refused,
    };
    let mut cables = listed_cables(&model.fields);
    let letter = match letter(&text(model, Field::TypeLetter), &cables) {
        Ok(letter) => letter,
        Err(words) => return refuse_at(model, Field::TypeLetter, &words),
    };
    cables.push(PlannedCable {
        letter,
        medium,
        purpose: text(model, Field::CablePurpose),
    });
    set_list(model, &cables);
    model.fields.clear(&CABLE);
    model.notice = None;
    Vec::new()
}

/// Reads the letter that a cable always has; an empty field is none.
fn letter(typed: &str, cables: &[PlannedCable]) -> Result<Option<Letter>, String> {
    if typed.is_empty() {
        return Ok(None);
    }
    let typed = typed.to_uppercase();
    let mut letters = typed.chars();
    let letter = letters.next().and_then(Letter::new);
    let Some(letter) = letter.filter(|_| letters.next().is_none()) else {
        return Err(format!(
            "“{typed}” is not a cable letter. Write one letter; I, O, Q, S and Z are left out, since a pen makes them look like others."
        ));
    };
    if cables.iter().any(|cable| cable.letter == Some(letter)) {
        return Err(format!(
            "Another cable on this list has the letter {} already.",
            letter.get()
        ));
    }
    Ok(Some(letter))
}

pub(super) fn drop_cable(model: &mut Model, place: usize) -> Vec<Effect> {
    let mut cables = listed_cables(&model.fields);
    if place < cables.len() {
        cables.remove(place);
    }
    set_list(model, &cables);
    Vec::new()
}

/// Begins a list with the cables of a type; a list that is not saved yet is not overwritten.
pub(super) fn start(model: &mut Model, start: TypeStart) -> Vec<Effect> {
    if !listed_cables(&model.fields).is_empty() {
        return refuse(
            model,
            "Another list of cables is not saved yet. Save it below, or let it go first.",
        );
    }
    let own = |id| model.registry()?.outlet_types.get(id);
    let (name, cables) = match start {
        TypeStart::Usual(key) => {
            let usual = UsualType::get(key);
            (None, usual.map(UsualType::cables).unwrap_or_default())
        }
        TypeStart::Own(id) => {
            let row = own(id);
            let cables = row.and_then(|row| row.cables.get());
            let name = row.and_then(|row| row.name.get());
            (name.cloned(), cables.cloned().unwrap_or_default())
        }
    };
    set_list(model, &cables);
    model.fields.clear(&[Field::TypeChanged]);
    if let TypeStart::Own(id) = start {
        model.fields.set(Field::TypeChanged, id.0.to_string());
        model.fields.set(Field::TypeName, name.unwrap_or_default());
    }
    model.notice = Some(Notice::Told(
        "Its cables stand on the list at the top, ready to be changed.".to_owned(),
    ));
    // The heading stands above that list, which the type itself may be far below.
    vec![Effect::FocusHeading]
}

pub(super) fn leave(model: &mut Model) -> Vec<Effect> {
    model.fields.clear(&TYPE);
    Vec::new()
}

pub(super) fn save(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let cables = listed_cables(&model.fields);
    if cables.is_empty() {
        return refuse(
            model,
            "No cable is on the list. Put at least one on it, then save the type.",
        );
    }
    if CABLE[1..]
        .iter()
        .any(|field| !text(model, *field).is_empty())
    {
        return refuse(
            model,
            "One more cable is begun in the fields. Put it on the list, or empty its fields, then save.",
        );
    }
    let name = text(model, Field::TypeName);
    let want = match changed_type(model) {
        Some(kind) => Want::ChangeOutletType { kind, name, cables },
        None => Want::AddOutletType { name, cables },
    };
    take(model, want, &TYPE, None, world)
}
