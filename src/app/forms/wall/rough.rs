//! What is said of an outlet at rough-in: the slack behind it, whom it waits for, its change order.

use super::{spot, text};
use crate::app::forms::{refuse, take};
use crate::app::{Effect, Field, Model, World};
use crate::command::Want;
use crate::domain::ids::OutletId;
use crate::domain::work::{Slack, Waiting, WaitsFor};

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
        Err(words) => return refuse(model, &words),
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
            return refuse(model, "Type the question first, then tap who is to answer.");
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
