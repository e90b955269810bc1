//! One panel, from the front or from the rear: what is where, what belongs where, and landing as
//! listed.

use crate::app::plan::PlanForm;
use crate::app::tags::TagAction;
use crate::app::wall::PEN_COPIES;
use crate::app::{
    Action, Field, Fields, Form, Model, OpenJob, RackForm, Screen, shown_stretch, stretch,
};
use crate::command::Want;
use crate::domain::ids::PanelId;
use crate::domain::label::PositionNumber;
use crate::domain::medium::Connector;
use crate::domain::place::{End, Face, Place, Position, TaggedPlace};
use crate::domain::work::{Availability, MarkKind};
use crate::names;
use crate::query::deeds::disagreement;
use crate::query::printed::{StripState, end_tag, place_tag, strip_state};
use crate::query::proof::proofs;
use crate::query::rack::{
    Slot, SlotState, Stretch, groups, how_many, landed_place, listed, make, slots,
};
use crate::tags::{Choice, strip_words};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::panel::{end_code, halves, legend, panel as drawing, slot_state};
use crate::ui::parts::pinout::pinout;
use crate::ui::parts::{Tone, button, code, empty, id, known, page_of, pager, state};
use crate::ui::wording::ends as tag_words;
use crate::ui::{Html, choosing, go, tap};
use crate::view::{Words, markup};

/// One position of it.
mod position;

/// A panel as its screen sees it.
struct View<'a> {
    open: &'a OpenJob,
    panel: PanelId,
    connector: Connector,
    face: Face,
    slots: Vec<Slot>,
}

impl View<'_> {
    fn code(&self, position: Position) -> String {
        names::position(self.open.journal.registry(), position)
    }
}

/// Draws the panel, or one position of it.
pub(in crate::ui) fn draw(
    model: &Model,
    open: &OpenJob,
    panel: PanelId,
    face: Face,
    chosen: Option<PositionNumber>,
) -> Html {
    let registry = open.journal.registry();
    let mut page = Page::new(names::panel(registry, panel));
    page.back = Some(Screen::Rack);
    let row = registry.panels.get(panel);
    let rack = row.and_then(|row| row.rack.get());
    page.above = rack.map_or_else(|| "Rack".to_owned(), |rack| names::rack(registry, *rack));
    let purpose = row.and_then(|row| row.purpose.get());
    if let Some(purpose) = purpose.filter(|purpose| !purpose.is_empty()) {
        page.above = format!("{}, {purpose}", page.above);
    }
    let Some(make) = make(registry, panel) else {
        page.body = empty(
            "This panel is no longer in the job.",
            button("To the racks", Action::Go(Screen::Rack), Tone::Quiet),
        );
        return framed(model, page);
    };
    let view = View {
        open,
        panel,
        connector: make.connector,
        face,
        slots: slots(registry, panel),
    };
    let slot = chosen.and_then(|number| view.slots.get(usize::from(number.get()) - 1));
    let shown = groups(make.positions, face);
    let figure = markup! {
        <>
            { flip(&view, chosen) }
            <figure class="panel-figure">
                { drawing(open, &shown, &view.slots, face, chosen.as_slice()) }
                <figcaption>{ caption(&view) }{ halves(&shown) }</figcaption>
            </figure>
        </>
    };
    match slot {
        Some(slot) => {
            page.above = format!("{}, {}", page.above, names::panel(registry, panel));
            page.back = Some(Screen::Panel { panel, face });
            page.title = code(view.code(slot.position));
            page.body = markup! { <>{ position::here(&view, slot) }{ figure }{ position::detail(model, &view, slot) }</> };
            page.actions = position::main_action(&view, slot);
        }
        None => {
            page.body = markup! { <>{ figure }{ whole(model, &view) }</> };
            page.actions = main_action(model, &view);
        }
    }
    framed(model, page)
}

fn flip(view: &View<'_>, chosen: Option<PositionNumber>) -> Html {
    let side = |face: Face, words: &'static str| {
        let panel = view.panel;
        let screen = match chosen {
            None => Screen::Panel { panel, face },
            Some(number) => Screen::Position {
                position: Position { panel, number },
                face,
            },
        };
        let pressed = (view.face == face).to_string();
        markup! { <button type="button" class="side" aria-pressed={pressed} onclick={go(screen)}>{ words }</button> }
    };
    markup! {
        <div class="sides" role="group" aria-label="Seen from">
            { side(Face::Front, "From the front") }
            { side(Face::Rear, "From the rear") }
        </div>
    }
}

fn caption(view: &View<'_>) -> String {
    let sides = match view.face {
        Face::Front => "number 1 is on the left",
        Face::Rear => "mirrored, number 1 is on the right",
    };
    let disputed = match how_many(&view.slots, SlotState::Clash) {
        0 => String::new(),
        count => format!(", {count} disputed"),
    };
    format!(
        "{}, {sides}. {} of {} landed{disputed}.",
        view.connector.words(),
        how_many(&view.slots, SlotState::Landed),
        view.slots.len()
    )
}

fn main_action(model: &Model, view: &View<'_>) -> Html {
    let next = stretch(&model.fields, view.panel, &view.slots);
    let Some(next) = next else {
        return markup! {};
    };
    let count = listed(&view.slots, next).len();
    let form = Action::Submit(Form::Rack(RackForm::LandStretch(view.panel)));
    let mut words = format!("Land {} as listed", stretch_words(view, next));
    let places = usize::from(next.to.get() - next.from.get()) + 1;
    if count != places {
        words.push_str(&format!(" ({count})"));
    }
    button(words, form, Tone::Main)
}

fn stretch_words(view: &View<'_>, stretch: Stretch) -> String {
    let code = |number| {
        view.code(Position {
            panel: view.panel,
            number,
        })
    };
    if stretch.from == stretch.to {
        code(stretch.from)
    } else {
        format!("{} to {}", code(stretch.from), code(stretch.to))
    }
}

/// The panel as a whole: the legend, the stretch to land, the list.
fn whole(model: &Model, view: &View<'_>) -> Html {
    let has_room = view.slots.iter().any(|slot| slot.state == SlotState::Free);
    let fill = Action::Do {
        want: Want::FillPanel { panel: view.panel },
        then: None,
    };
    let is_modular = matches!(
        view.connector,
        Connector::Modular | Connector::ShieldedModular
    );
    markup! {
        <>
            { legend() }
            { range(model, view) }
            if has_room {
                { button("Plan this panel in order", fill, Tone::Quiet) }
            }
            <ul class="rows">
                { for page_of(&view.slots, model.page).iter().map(|slot| slot_row(view, slot)) }
            </ul>
            { pager(model.page, view.slots.len()) }
            { button("Change this panel", Action::Submit(Form::Plan(PlanForm::ShowPanel(view.panel))), Tone::Quiet) }
            { strip(view) }
            if is_modular {
                { pinout(view.open) }
            }
        </>
    }
}

/// Whether the printed strip still says what is there, and the way to print it.
fn strip(view: &View<'_>) -> Html {
    let registry = view.open.journal.registry();
    let Some(now) = strip_words(registry, view.panel) else {
        return markup! {};
    };
    let words: Words = match strip_state(registry, view.panel, &now) {
        StripState::NeverPrinted => "".into(),
        StripState::Current { .. } => "Its printed strip says what is there.".into(),
        StripState::Stale { positions: 1, .. } => {
            "Its printed strip is out of date at 1 position.".into()
        }
        StripState::Stale { positions, .. } => {
            format!("Its printed strip is out of date at {positions} positions.").into()
        }
    };
    markup! {
        <>
            { known(&tag_words::place_tag(&place_tag(registry, TaggedPlace::Panel(view.panel)))) }
            <p class="hint">{ words }</p>
            <div class="actions-pair">
                { button("Print its strip", Action::Tags(TagAction::Of(Choice::Strip(view.panel))), Tone::Quiet) }
                { button("Print its tag", Action::Tags(TagAction::Of(Choice::Panel(view.panel))), Tone::Quiet) }
            </div>
            { tags_on(view) }
        </>
    }
}

/// The printed tags of the cables that are landed here, all put on in one tap.
fn tags_on(view: &View<'_>) -> Html {
    let registry = view.open.journal.registry();
    let landed = view
        .slots
        .iter()
        .flat_map(|slot| slot.landed.iter().copied());
    let waits = |end: &End| end_tag(registry, *end).kind == Some(MarkKind::Printed);
    let ends: Vec<End> = landed.filter(waits).collect();
    if ends.is_empty() {
        return markup! {};
    }
    let words = format!(
        "The printed tags of the cables here are on ({})",
        ends.len()
    );
    let want = Want::MarkEnds {
        ends,
        kind: MarkKind::Fixed,
        copies: PEN_COPIES,
    };
    button(words, Action::Do { want, then: None }, Tone::Quiet)
}

/// Lets another stretch be chosen than the one that is next, to land it as listed or, in a rack that
/// others wired, to number what is there.
fn range(model: &Model, view: &View<'_>) -> Html {
    let Some(next) = shown_stretch(&model.fields, view.panel, &view.slots) else {
        return markup! {};
    };
    let number = Action::Submit(Form::Rack(RackForm::NumberTails(view.panel)));
    let ends = [
        (Field::RangeFrom, "From", next.from),
        (Field::RangeTo, "To", next.to),
    ];
    markup! {
        <details class="more">
            <summary>{ "Choose a stretch of positions" }</summary>
            <div class="form">
                <div class="range">{ for ends.map(|(field, label, shown)| range_end(view, field, label, shown)) }</div>
                { button("Nobody knows the cables there: number them", number, Tone::Quiet) }
            </div>
        </details>
    }
}

fn range_end(view: &View<'_>, field: Field, label: &'static str, shown: PositionNumber) -> Html {
    markup! {
        <div class="field">
            <label for={id(field)}>{ label }</label>
            <select id={id(field)} onchange={choosing(field)}>
                { for view.slots.iter().map(|slot| {
                    let end = slot.shown().map(|end| format!(" {}", end_code(view.open, end)));
                    let words = format!("{}{}", view.code(slot.position), end.unwrap_or_default());
                    let is_shown = slot.position.number == shown;
                    markup! { <option selected={is_shown} value={Fields::position_text(slot.position)}>{ words }</option> }
                }) }
            </select>
        </div>
    }
}

fn slot_row(view: &View<'_>, slot: &Slot) -> Html {
    let choose = Action::Go(Screen::Position {
        position: slot.position,
        face: view.face,
    });
    markup! {
        <li class="row">
            <button type="button" class="row-button slot-row" onclick={tap(choose)}>
                <span class="row-lead">{ code(view.code(slot.position)) }</span>
                <span class="row-text">{ who(view, slot) }</span>
                <span class="row-note">{ slot_state(slot.state) }</span>
            </button>
        </li>
    }
}

/// Who is there, who belongs there instead, or what the position is kept for.
fn who(view: &View<'_>, slot: &Slot) -> Html {
    let is_here = |end: &End| slot.landed.contains(end);
    let missing = slot.planned.iter().filter(|end| !is_here(end));
    let kept = match &slot.kept {
        Availability::Open => "",
        Availability::Reserved { reason } | Availability::Bad { reason } => reason,
    };
    markup! {
        <>
            { for slot.landed.iter().map(|end| {
                let said = disagreement(view.open.journal.registry(), *end);
                let said = said.map(|said| format!(" {said}"));
                let gone = names::cancelled(view.open.journal.registry(), end.cable);
                markup! { <span class="who">{ code(end_code(view.open, *end)) }{ gone }{ said.unwrap_or_default() }{ " " }{ proved(view, *end) }</span> }
            }) }
            { for missing.map(|end| markup! {
                <span class="who">{ code(end_code(view.open, *end)) }{ belongs(view, slot, *end) }</span>
            }) }
            if !kept.is_empty() {
                <span class="who">{ kept.to_owned() }</span>
            }
        </>
    }
}

/// How far a cable is proved, seen kept apart from verified.
fn proved(view: &View<'_>, end: End) -> Html {
    let proofs = proofs(view.open.journal.registry(), end);
    let proofs = tag_words::proofs(&proofs);
    markup! { <>{ for proofs.map(|(shape, words)| state(shape, words)) }</> }
}

/// What is to be said of an end that belongs at a position and is not there.
fn belongs(view: &View<'_>, slot: &Slot, end: End) -> String {
    let registry = view.open.journal.registry();
    let here = Place::rear(slot.position);
    match landed_place(registry, end) {
        Some(place) if *place != here => {
            format!(" belongs here, is on {}", names::place(registry, place))
        }
        _ if slot.landed.is_empty() => String::new(),
        _ => " belongs here".to_owned(),
    }
}
