//! One cable with both its ends, for whoever stands at either.

use super::history::deed_row;
use super::pictures;
use crate::app::tags::TagAction;
use crate::app::{Action, Field, FindForm, Form, Model, OpenJob, Screen};
use crate::command::CopperTest;
use crate::command::Want;
use crate::domain::ids::CableId;
use crate::domain::length::LengthUnit;
use crate::domain::place::{End, Side};
use crate::domain::work::{Lying, MarkKind, PullOutcome, TestMethod, TestOutcome};
use crate::ui::Html;
use crate::view::markup;

use crate::query::cable::{
    CableView, Dated, EndState, EndView, Measured, Next, OutletOrRack, test_words, tests_for, view,
};
use crate::query::conduit::{open_to, passed};
use crate::query::deeds::deeds_of;
use crate::query::pictures::About;
use crate::query::printed::{Tag, end_tag};
use crate::query::wall;
use crate::tags::Choice;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::line::{end_state, line};
use crate::ui::parts::{
    Shape, Tone, button, choice, code, empty, known, page_of, pager, settle, state, text_field,
};
use crate::ui::wording::ends as words;

/// Draws a cable.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: CableId) -> Html {
    let Some(cable) = view(&open.journal, id) else {
        let mut page = Page::new("A cable that is not there");
        page.back = Some(Screen::Find);
        page.body = empty(
            "This cable was taken back, or its phone's work is not on this device yet.",
            button("What was done", Action::Go(Screen::History), Tone::Quiet),
        );
        return framed(model, page);
    };
    let deeds = deeds_of(&open.journal, id);
    let mut page = Page::new("");
    page.title = code(cable.code.clone());
    page.above = above(&cable);
    page.back = Some(Screen::Find);
    page.body = markup! {
        <>
            { line(&cable.ends, &cable.code) }
            { button("What feeds what", Action::Go(Screen::Feeds(id)), Tone::Quiet) }
            if let Some(reason) = &cable.cancelled {
                <p class="say"><b aria-hidden="true">{ "! " }</b>{ format!("Cancelled: {reason}. Its code stays taken.") }</p>
            }
            { known(&about(model, open, &cable)) }
            { for cable.ends.iter().map(|shown| end(open, id, shown)) }
            { copper(&cable) }
            { pictures::part(model, open, About::Cable(id)) }
            { conduits(model, open, id) }
            { ways(id, &cable) }
            { put_right(model, id, &cable) }
            <section aria-labelledby="cable-deeds">
                <h2 id="cable-deeds">{ "What was done" }</h2>
                <ul class="rows">{ for page_of(&deeds, model.page).iter().map(deed_row) }</ul>
                { pager(model.page, deeds.len()) }
            </section>
        </>
    };
    page.actions = next(open, id, &cable);
    framed(model, page)
}

fn above(cable: &CableView) -> String {
    let kind = [cable.medium.as_str(), cable.kind].join(", ");
    let parts = [
        cable.room.as_str(),
        cable.purpose.as_str(),
        kind.trim_start_matches(", "),
    ];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(" · ")
}

/// What is said of its outlet or of when it came.
fn about(model: &Model, open: &OpenJob, cable: &CableView) -> Vec<String> {
    let registry = open.journal.registry();
    let outlet = cable
        .outlet
        .and_then(|outlet| wall::outlet(registry, outlet));
    let place = outlet.map_or_else(Vec::new, |view| words::exact_place(&view, model.unit));
    let place = (!place.is_empty()).then(|| place.join(" · "));
    let waits = cable.waits.as_ref().map(ToString::to_string);
    let slack = cable.slack.as_ref();
    let slack = slack.map(|slack| words::slack(slack, model.unit));
    let lines = [place, waits, slack, words::order(&cable.order)];
    lines
        .into_iter()
        .flatten()
        .map(|line| sentence(&line))
        .collect()
}

fn end(open: &OpenJob, id: CableId, end: &EndView) -> Html {
    let printed = end_tag(open.journal.registry(), End::whole(id, end.side));
    let (shape, words) = match (end.state, end.outlet_or_rack) {
        // At an outlet the place is known; what is missing is the jack.
        (EndState::Open, OutletOrRack::Outlet(Some(_))) => (Shape::Hollow, "not landed"),
        (state, _) => end_state(state),
    };
    let title = match (end.outlet_or_rack, end.side) {
        (OutletOrRack::Outlet(_), Side::Near) => "Outlet end",
        (OutletOrRack::Outlet(_), Side::Far) => "End where it leaves",
        (OutletOrRack::Rack, _) => "Rack end",
    };
    markup! {
        <section class="card end-card">
            <h2>{ title }{ ": " }{ &end.at }</h2>
            <p class="end-state">{ code(end.place.clone()) }{ " " }{ state(shape, words) }</p>
            { lines(&end.standing) }
            if end.marks.is_empty() {
                <p>{ "Not marked" }</p>
            } else {
                { lines(&end.marks) }
            }
            { known(&words::tag(&printed)) }
            { tag_ways(End::whole(id, end.side), &printed) }
            { lines(&end.footage) }
        </section>
    }
}

/// What can be said of a printed tag: that it is on, and that it is gone.
fn tag_ways(end: End, printed: &Tag) -> Html {
    if !matches!(printed.kind, Some(MarkKind::Printed | MarkKind::Fixed)) || printed.lost {
        return markup! {};
    }
    let fixed = Want::MarkEnds {
        ends: vec![end],
        kind: MarkKind::Fixed,
        copies: printed.copies,
    };
    markup! {
        <div class="actions-pair">
            if printed.kind == Some(MarkKind::Printed) {
                { button("This tag is on", doing(fixed), Tone::Quiet) }
            }
            { button("This tag is lost", doing(Want::LoseTag { end }), Tone::Quiet) }
        </div>
    }
}

fn lines(of: &[Dated]) -> Html {
    if of.is_empty() {
        return markup! {};
    }
    markup! {
        <ul class="dated">
            { for of.iter().map(|line| markup! {
                <li>{ sentence(&line.words) }<span class="dated-who">{ &line.who }</span></li>
            }) }
        </ul>
    }
}

pub(super) fn sentence(words: &str) -> String {
    let mut characters = words.chars();
    let first: String = characters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + characters.as_str()
}

/// A length of cable as people say it. Whole numbers all the way: printing one with a point would
/// bring the code for every such number into the app.
pub(super) fn length(of: Measured) -> String {
    let length = i64::from(of.length.0);
    match of.unit {
        // 1 ft = 304.8 mm exactly (international foot), so ten times as many are whole.
        LengthUnit::Feet => format!("{} ft of cable", (length * 10 + 1524) / 3048),
        LengthUnit::Metres => {
            let tenths = (length + 50) / 100;
            format!("{}.{} m of cable", tenths / 10, tenths % 10)
        }
    }
}

fn copper(cable: &CableView) -> Html {
    markup! {
        <section class="card" aria-labelledby="copper">
            <h2 id="copper">{ "The cable itself" }</h2>
            if cable.pull.is_empty() { <p>{ "Not pulled yet" }</p> } else { { lines(&cable.pull) } }
            if let Some(of) = cable.length { <p>{ length(of) }</p> }
            if cable.tests.is_empty() { <p>{ "Not tested" }</p> } else { { lines(&cable.tests) } }
            { lines(&cable.void_pulls) }
            if !cable.old_names.is_empty() {
                <h3>{ "Once called" }</h3>
                { lines(&cable.old_names) }
            }
            if !cable.notes.is_empty() {
                <h3>{ "Notes" }</h3>
                { lines(&cable.notes) }
            }
        </section>
    }
}

/// The conduits that it lies in, and one more.
fn conduits(model: &Model, open: &OpenJob, id: CableId) -> Html {
    let registry = open.journal.registry();
    let (passed, free) = (passed(registry, id), open_to(registry, id));
    if passed.is_empty() && free.is_empty() {
        return markup! {};
    }
    let options: Vec<(String, String)> = free
        .into_iter()
        .map(|line| {
            (
                line.id.0.to_string(),
                [&line.code, " ", &line.words].concat(),
            )
        })
        .collect();
    let pass = Action::Submit(Form::Find(FindForm::PassConduit(id)));
    markup! {
        <section class="card" aria-labelledby="conduits">
            <h2 id="conduits">{ "Conduits that it lies in" }</h2>
            if !passed.is_empty() {
                <ul class="rows">{ for page_of(&passed, 0).iter().map(|line| {
                    let out = Want::PassConduit { cable: id, conduit: line.id, lying: Lying::Out };
                    let words = ["Not in ", &line.code].concat();
                    markup! {
                        <li class="row listed">
                            <p>{ code(line.code.clone()) }{ " " }{ &line.words }</p>
                            { button(words, doing(out), Tone::Quiet) }
                        </li>
                    }
                }) }</ul>
            }
            if !options.is_empty() {
                { choice(model, Field::CableConduit, "It lies in", options) }
                { button("It lies in this conduit", pass, Tone::Quiet) }
            }
        </section>
    }
}

fn ways(id: CableId, cable: &CableView) -> Html {
    markup! {
        <div class="actions-pair">
            if let Some(outlet) = cable.outlet {
                { button("Go to the outlet", Action::Go(Screen::Outlet(outlet)), Tone::Quiet) }
            }
            { button("Go to the position", Action::Go(Screen::HandCable(id)), Tone::Quiet) }
            { button("Print its tag", Action::Tags(TagAction::Of(Choice::Cable(id))), Tone::Quiet) }
        </div>
    }
}

pub(super) fn tested(cable: CableId, method: TestMethod, outcome: TestOutcome) -> Action {
    let note = String::new();
    let test = CopperTest {
        method,
        outcome,
        note,
    };
    doing(Want::TestCable { cable, test })
}

pub(super) fn doing(want: Want) -> Action {
    Action::Do { want, then: None }
}

fn next(open: &OpenJob, id: CableId, cable: &CableView) -> Html {
    let main = |label: &'static str, action| button(label, action, Tone::Main);
    match cable.next {
        Next::Nothing => markup! {},
        Next::Settle => settle(Some(id), Tone::Main),
        Next::Pull => {
            let want = Want::ReportPull {
                cables: vec![id],
                outcome: PullOutcome::Pulled,
            };
            main("Pulled", doing(want))
        }
        Next::Mark => {
            let want = Want::MarkEnds {
                ends: Side::BOTH.map(|side| End::whole(id, side)).to_vec(),
                kind: MarkKind::Pen,
                copies: 2,
            };
            main("Marked at both ends", doing(want))
        }
        Next::Land(side) => {
            let end = cable.ends.iter().find(|end| end.side == side);
            match end.map(|end| end.outlet_or_rack) {
                Some(OutletOrRack::Outlet(Some(outlet))) => {
                    main("Land it in its jack", Action::Go(Screen::Outlet(outlet)))
                }
                _ => main("Choose its position", Action::Go(Screen::HandCable(id))),
            }
        }
        Next::Test => {
            let methods = tests_for(open.journal.registry(), id);
            let method = methods.first().copied().unwrap_or(TestMethod::Toner);
            let [right, _] = test_words(method);
            let test = tested(id, method, TestOutcome::Passed);
            button(sentence(right), test, Tone::Main)
        }
    }
}

fn put_right(model: &Model, id: CableId, cable: &CableView) -> Html {
    let form = |form| Action::Submit(Form::Find(form));
    let methods = model
        .registry()
        .map_or(&[][..], |registry| tests_for(registry, id));
    markup! {
        <>
            <section class="card" aria-labelledby="tests">
                <h2 id="tests">{ "Test it" }</h2>
                <div class="actions-pair">
                    { for methods.iter().map(|method| {
                        let [right, wrong] = test_words(*method);
                        markup! {
                            <>
                                { button(sentence(right), tested(id, *method, TestOutcome::Passed), Tone::Quiet) }
                                { button(sentence(wrong), tested(id, *method, TestOutcome::Failed), Tone::Quiet) }
                            </>
                        }
                    }) }
                </div>
            </section>
            <section class="card" aria-labelledby="say-more">
                <h2 id="say-more">{ "Say more about it" }</h2>
                { text_field(model, Field::Note, "A note", "") }
                { button("Keep the note", form(FindForm::NoteCable(id)), Tone::Quiet) }
                { text_field(model, Field::CableOldName, "An old name", "What somebody wrote on it, or in a list") }
                { button("Keep the old name", form(FindForm::KnowCableAs(id)), Tone::Quiet) }
            </section>
            <section class="card" aria-labelledby="give-up">
                <h2 id="give-up">{ "Pull anew or cancel" }</h2>
                if cable.cancelled.is_some() {
                    { button("It is wanted again", doing(Want::RestoreCable { cable: id }), Tone::Quiet) }
                } else {
                    { text_field(model, Field::Reason, "Why", "Such as: drilled through") }
                    <div class="actions-pair">
                        { button("Pull it anew", form(FindForm::Repull(id)), Tone::Quiet) }
                        { button("Cancel it", form(FindForm::CancelCable(id)), Tone::Quiet) }
                    </div>
                }
            </section>
        </>
    }
}
