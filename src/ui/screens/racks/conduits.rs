//! Conduits: from where to where, with the cables in each.

use super::{Desk, first_part};
use crate::app::plan::{PlanForm, Planned};
use crate::app::{Action, Field, Form, Screen};
use crate::command::Want;
use crate::domain::label::conduit_code;
use crate::domain::work::Lying;
use crate::names;
use crate::query::conduit::{ConduitLine, conduits};
use crate::query::find::both_ends;
use crate::ui::Html;
use crate::ui::parts::opening::{Face, card, left_empty, opening, plan_form};
use crate::ui::parts::{Tone, button, code, number_field, row as row_of, text_field};
use crate::view::markup;

/// What the end of a conduit may be.
const WHERE: &str = "The code of an outlet, a rack, a room, or any words";

pub(super) fn section(desk: Desk<'_>) -> Html {
    let Desk { model, open } = desk;
    let registry = open.journal.registry();
    let all = conduits(registry);
    let fields = markup! {
        <>
            { number_field(model, Field::ConduitNumber, "Its number", "It stands on its tag") }
            { left_empty(registry.next_conduit().map(conduit_code)) }
            { text_field(model, Field::ConduitFrom, "From", WHERE) }
            { text_field(model, Field::ConduitTo, "To", WHERE) }
            { text_field(model, Field::ConduitSize, "Size, if you want", "Such as 25 mm") }
        </>
    };
    card(
        "conduits",
        "Conduits",
        markup! {
            <>
                <p class="hint">{ "Tubes for later pulls. The screen of a cable says in which it lies." }</p>
                { first_part(&all, |line| row(desk, line)) }
                { plan_form(PlanForm::AddConduit, fields, "Add this conduit") }
            </>
        },
    )
}

fn row(desk: Desk<'_>, line: &ConduitLine) -> Html {
    let count = match line.cables.len() {
        0 => "empty".to_owned(),
        1 => "1 cable".to_owned(),
        count => format!("{count} cables"),
    };
    let face = Face {
        lead: code(line.code.clone()),
        text: line.words.clone().into(),
        note: count.into(),
    };
    let thing = Planned::Conduit(line.id);
    opening(desk.model, thing, face, || opened(desk, line))
}

fn opened(desk: Desk<'_>, line: &ConduitLine) -> Html {
    let Desk { model, open } = desk;
    let registry = open.journal.registry();
    let doing = |want| Action::Do { want, then: None };
    let conduit = line.id;
    let string = |label, lying| {
        let want = Want::StringConduit { conduit, lying };
        button(label, doing(want), Tone::Quiet)
    };
    let fields = markup! {
        <>
            { number_field(model, Field::EditCode, "Its number", "") }
            { text_field(model, Field::EditFrom, "From", WHERE) }
            { text_field(model, Field::EditTo, "To", WHERE) }
            { text_field(model, Field::EditSize, "Size", "") }
            { text_field(model, Field::EditName, "A note", "") }
        </>
    };
    markup! {
        <>
            { first_part(&line.cables, |id| row_of(
                Action::Go(Screen::Cable(*id)),
                code(names::cable(registry, *id)),
                both_ends(registry, *id),
                "›",
            )) }
            if line.string == Some(Lying::In) {
                <p>{ "A pull string lies in it." }</p>
                { string("The pull string is out", Lying::Out) }
            } else {
                { string("A pull string lies in it", Lying::In) }
            }
            { plan_form(PlanForm::Rename(Planned::Conduit(conduit)), fields, "Change this conduit") }
            if line.is_cancelled {
                { button("It is wanted again", doing(Want::RestoreConduit { conduit }), Tone::Quiet) }
            } else {
                { text_field(model, Field::Reason, "Why it is given up", "") }
                { button(
                    "Cancel this conduit",
                    Action::Submit(Form::Plan(PlanForm::CancelConduit(conduit))),
                    Tone::Quiet,
                ) }
            }
        </>
    }
}
