//! What is said of an outlet at rough-in: the slack behind it, whom it waits for, which of its
//! cables get an outlet of their own.

use super::{spot, text};
use crate::app::forms::{refuse, refuse_at, take};
use crate::app::{Effect, Field, Model, World};
use crate::command::Want;
use crate::domain::ids::{CableId, OutletId};
use crate::domain::work::{Slack, Waiting, WaitsFor};
use crate::walk;

const SLACK: [Field; 2] = [Field::SlackLength, Field::SlackPlace];

/// Puts what is known into the fields.
pub(super) fn fill_slack(model: &mut Model, slack: Slack) {
    let unit = model.unit;
    let length = slack.length.map(|length| length.in_words(unit));
    let length = length.unwrap_or_default();
    model.fields.set(Field::SlackLength, length);
    model.fields.set(Field::SlackPlace, slack.place);
}

/// Says how much cable is coiled behind an outlet, and where.
pub(super) fn take_slack(model: &mut Model, outlet: OutletId, world: &impl World) -> Vec<Effect> {
    let slack = match spot::length(model, Field::SlackLength, "Slack") {
        Ok(length) => Slack {
            length,
            place: text(model, Field::SlackPlace),
        },
        Err(words) => return refuse_at(model, Field::SlackLength, &words),
    };
    if slack == Slack::default() {
        return refuse(
            model,
            "Type how much cable is coiled behind this outlet, or where it is. If there is none, write that.",
        );
    }
    take(
        model,
        Want::LeaveSlack { outlet, slack },
        &SLACK,
        None,
        world,
    )
}

/// Says whom an outlet waits for, with what stands in the field of the question.
pub(super) fn wait(
    model: &mut Model,
    outlet: OutletId,
    whom: WaitsFor,
    world: &impl World,
) -> Vec<Effect> {
    let mut words = text(model, Field::Question);
    match whom {
        WaitsFor::Builder | WaitsFor::Client if words.is_empty() => {
            return refuse_at(
                model,
                Field::Question,
                "Type the question first, then tap who is to answer.",
            );
        }
        WaitsFor::Nobody => words.clear(),
        WaitsFor::Hold | WaitsFor::Builder | WaitsFor::Client | WaitsFor::Others => {}
    }
    let waiting = Waiting { whom, words };
    take(
        model,
        Want::LetOutletWait { outlet, waiting },
        &[Field::Question],
        None,
        world,
    )
}

/// Whether the tags come off where the code of an outlet's cables changes.
#[must_use]
pub fn are_tags_new(model: &Model) -> bool {
    !model.fields.get(Field::NewTags).is_empty()
}

/// A change of an outlet, with its tags as they are wanted.
#[must_use]
pub fn with_tags(model: &Model, change: Want) -> Want {
    let change = Box::new(change);
    if are_tags_new(model) {
        Want::WithNewTags { change }
    } else {
        Want::WithOldTags { change }
    }
}

/// Whether a cable is chosen to be split off.
#[must_use]
pub fn is_chosen(model: &Model, cable: CableId) -> bool {
    let id = cable.0.to_string();
    let mut chosen = model.fields.get(Field::SplitOff).split(' ');
    chosen.any(|other| other == id)
}

/// Chooses a cable, or takes the choice back.
pub(super) fn choose(model: &mut Model, cable: CableId) -> Vec<Effect> {
    let id = cable.0.to_string();
    let was = is_chosen(model, cable);
    let mut text = String::new();
    for other in model.fields.get(Field::SplitOff).split(' ') {
        if other != id {
            text.push_str(other);
            text.push(' ');
        }
    }
    if !was {
        text.push_str(&id);
    }
    model.fields.set(Field::SplitOff, text.trim());
    Vec::new()
}

/// The cables of this outlet that are chosen; what was chosen at another one is none of its.
pub(super) fn chosen(model: &Model, outlet: OutletId) -> Vec<CableId> {
    let registry = model.registry();
    let mut cables = registry.map_or_else(Vec::new, |registry| walk::fed(registry, outlet));
    cables.retain(|cable| is_chosen(model, *cable));
    cables
}

/// Says from which box a cable was drawn.
pub(super) fn draw(model: &mut Model, cable: CableId, world: &impl World) -> Vec<Effect> {
    let typed = text(model, Field::CableFrom);
    let Ok(number) = typed.parse() else {
        let words = format!(
            "“{typed}” is no number of a box. Type the whole number that stands on the box or spool."
        );
        return refuse_at(model, Field::CableFrom, &words);
    };
    take(
        model,
        Want::DrawFrom { cable, number },
        &[Field::CableFrom],
        None,
        world,
    )
}
