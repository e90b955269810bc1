//! What is typed about the pull: what a box holds. And the summary of the day, written on demand.

use super::wall::medium;
use super::{refuse, take};
use crate::app::{Action, Effect, Field, Model, Screen, World, evening as summary, update};
use crate::command::Want;

/// The highest number of a box.
const LAST_BOX: u16 = 99;

/// Keeps what a box holds.
pub(super) fn hold_box(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let typed = model.fields.get(Field::BoxNumber).trim().to_owned();
    let number = typed.parse().ok().filter(|n| (1..=LAST_BOX).contains(n));
    let Some(number) = number else {
        let words = format!(
            "“{typed}” is no number of a box. Type the number that is written on it, 1 to {LAST_BOX}."
        );
        return refuse(model, &words);
    };
    let medium = match medium(model) {
        Ok(medium) => Some(medium),
        Err(words) => return refuse(model, words),
    };
    let want = Want::HoldBox { number, medium };
    let fields = [Field::BoxNumber, Field::CableOwnMedium];
    take(model, want, &fields, None, world)
}

/// Writes the summary of the day into its field, where it can be added to before it is sent.
pub(super) fn evening(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let text = summary::text(open, &model.person, world.now());
    model.fields.set(Field::Evening, text);
    update(model, Action::Go(Screen::Evening), world)
}
