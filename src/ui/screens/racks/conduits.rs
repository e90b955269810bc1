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
use crate::ui::parts::{Tone, button, code, page_of, pager, row as row_of, text_field};
use crate::view::markup;

/// The first of them beside the racks, with the way to all.
pub(super) fn section(desk: Desk<'_>) -> Html {
    let all = conduits(desk.open.journal.registry());
    let way = (page_of(&all, 0).len() < all.len()).then(|| {
        let words = ["Show all ", &all.len().to_string(), " conduits"].concat();
        button(words, Action::Go(Screen::Conduits), Tone::Quiet)
    });
    listed(desk, &all, 0, way)
}

/// All of them, page by page.
pub(super) fn whole(desk: Desk<'_>) -> Html {
    let all = conduits(desk.open.journal.registry());
    let page = desk.model.page;
    listed(desk, &all, page, Some(pager(page, all.len())))
}

fn listed(desk: Desk<'_>, all: &[ConduitLine], page: usize, way: Option<Html>) -> Html {
    let next = desk.open.journal.registry().next_conduit();
    let next = next.map(conduit_code);
    let shown = page_of(all, page);
    let is_open = |line: &&ConduitLine| is_open(desk.model, Planned::Conduit(line.id));
    // What was found stands open in its list, though it be on another page.
    let found = all.iter().filter(is_open);
    let mut found = found.filter(|line| !shown.contains(line)).peekable();
    let is_any_open = found.peek().is_some() || shown.iter().any(|line| is_open(&line));
    card(
        "conduits",
        "Conduits",
        markup! {
            <>
                <ul class="rows">{ for shown.iter().chain(found).map(|line| row(desk, line)) }</ul>
                { way }
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
