//! What is typed about the pull: what a box holds. And the summary of the day, written on demand.

use super::wall::medium;
use super::{refuse_at, take};
use crate::app::{Action, Effect, Field, Model, Notice, Screen, World, evening as summary, update};
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
        return refuse_at(model, Field::BoxNumber, &words);
    };
    let medium = match medium(model) {
        Ok(medium) => Some(medium),
        Err(refused) => return refused,
    };
    let registry = model.registry();
    let held = registry.and_then(|registry| registry.job.boxes.get(&number)?.get()?.clone());
    let other = held.filter(|held| Some(held) != medium.as_ref());
    let want = Want::HoldBox { number, medium };
    let fields = [Field::BoxNumber, Field::CableOwnMedium];
    let effects = take(model, want, &fields, None, world);
    if let (Some(Notice::Done { words, .. }), Some(held)) = (&mut model.notice, other) {
        words.push_str(&format!(" It held {held} before."));
    }
    effects
}

/// Writes the summary of the day into its field, where it can be added to before it is sent. What was
/// added stays until a new one is asked for there.
pub(super) fn evening(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let text = summary::text(open, &model.person, world.now());
    // The job stands before it, as the field is one for all jobs.
    let job = open.journal.job().0.to_string();
    let written = model.fields.get(Field::EveningWritten).strip_prefix(&job);
    let now = model.fields.get(Field::Evening);
    let is_added_to = !now.trim().is_empty() && written.is_some_and(|written| written != now);
    if !is_added_to || model.screen() == Some(Screen::Evening) {
        model.fields.set(Field::EveningWritten, job + &text);
        model.fields.set(Field::Evening, text);
    }
    update(model, Action::Go(Screen::Evening), world)
}
