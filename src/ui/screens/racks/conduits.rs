//! Conduits: from where to where, with the cables in each.

use super::{Desk, first_part};
use crate::app::plan::{PlanForm, Planned, is_open};
use crate::app::{Action, Field, Form, Screen};
use crate::command::Want;
use crate::domain::label::conduit_code;
use crate::domain::work::Lying;
use crate::names;
use crate::query::conduit::{ConduitLine, conduits};
use crate::query::find::both_ends;
use crate::ui::Html;
use crate::ui::parts::opening::{Face, card, left_empty, opening, plan_form};
use crate::ui::parts::{Tone, button, code, row as row_of, text_field};
use crate::view::markup;

pub(super) fn section(desk: Desk<'_>) -> Html {
    let registry = desk.open.journal.registry();
    let all = conduits(registry);
    let next = registry.next_conduit().map(conduit_code);
    let is_any_open = all
        .iter()
        .any(|line| is_open(desk.model, Planned::Conduit(line.id)));
    card(
        "conduits",
        "Conduits",
        markup! {
            <>
                { first_part(&all, |line| row(desk, line)) }
                if !is_any_open {
                    { form(desk, left_empty(next)) }
                }
            </>
        },
    )
}

/// The fields of a conduit, which stand once on the screen: in the row that is open, else below.
fn form(desk: Desk<'_>, proposal: Html) -> Html {
    let model = desk.model;
    let text = |field, label, hint| text_field(model, field, label, hint);
    let fields = markup! {
        <>
            { text(Field::ConduitNumber, "Its number", "") }
            { proposal }
            { text(Field::ConduitFrom, "From", "The code of an outlet, a room or a rack, or any words") }
            { text(Field::ConduitTo, "To", "") }
            { text(Field::ConduitSize, "Size", "Such as 25 mm") }
            { text(Field::ConduitNote, "A note", "") }
        </>
    };
    plan_form(PlanForm::LayConduit, fields, "Keep this conduit")
}

fn row(desk: Desk<'_>, line: &ConduitLine) -> Html {
    let face = Face {
        lead: code(line.code.clone()),
        text: line.words.clone().into(),
        note: line.cables.len().to_string().into(),
    };
    let thing = Planned::Conduit(line.id);
    opening(desk.model, thing, face, || opened(desk, line))
}

fn opened(desk: Desk<'_>, line: &ConduitLine) -> Html {
    let Desk { model, open } = desk;
    let registry = open.journal.registry();
    let conduit = line.id;
    let (label, lying) = match line.string {
        Lying::In => ("The pull string is out", Lying::Out),
        Lying::Out => ("A pull string lies in it", Lying::In),
    };
    let does = |label, want| button(label, Action::Do { want, then: None }, Tone::Quiet);
    markup! {
        <>
            { first_part(&line.cables, |id| row_of(
                Action::Go(Screen::Cable(*id)),
                code(names::cable(registry, *id)),
                both_ends(registry, *id),
                "›",
            )) }
            { does(label, Want::StringConduit { conduit, lying }) }
            { form(desk, markup! {}) }
            if line.is_cancelled {
                { does("It is wanted again", Want::RestoreConduit { conduit }) }
            } else {
                { text_field(model, Field::Reason, "Why", "") }
                { button(
                    "Cancel it",
                    Action::Submit(Form::Plan(PlanForm::CancelConduit(conduit))),
                    Tone::Quiet,
                ) }
            }
        </>
    }
}
