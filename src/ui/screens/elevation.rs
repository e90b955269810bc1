//! One rack as it stands: rack units with everything that hangs there, from the front or the rear.
//!
//! The drawing is for the eye and the finger. The list below it says the same in words and can be
//! gone through by key, so the drawing itself is hidden from those who listen.

use crate::app::bench::{
    BUILDS, BenchForm, RackPaper, block_key, build_key, hung_key, is_block, new_block,
};
use crate::app::mend::field_words;
use crate::app::plan::PlanForm;
use crate::app::tags::{PAGES, Paper, TagAction};
use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::domain::ids::RackId;
use crate::domain::mount::{BlockKind, Mountable, RackBuild};
use crate::domain::place::Face;
use crate::names;
use crate::query::elevation::{self, Elevation, Piece};
use crate::query::rack::SlotState;
use crate::query::{Field as Disputed, Thing};
use crate::tags::Readers;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{
    Shape, Tone, button, choice, code, empty, likely_choice, number_field, page_of, pager, state,
    text_field,
};
use crate::ui::{Html, go, sending, tap};
use crate::view::{classes, markup, when};

/// The rack in rack units.
mod drawing;

/// What is drawn with.
#[derive(Clone, Copy)]
struct View<'a> {
    model: &'a Model,
    open: &'a OpenJob,
    rack: RackId,
    face: Face,
}

/// Draws the rack.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, rack: RackId, face: Face) -> Html {
    let registry = open.journal.registry();
    let view = View {
        model,
        open,
        rack,
        face,
    };
    let mut page = Page::new(names::rack(registry, rack));
    page.above = open.name().to_owned();
    page.back = Some(Screen::Rack);
    page.body = match elevation::elevation(registry, rack) {
        None => empty(
            "This rack is no longer in the job.",
            button("To the racks", Action::Go(Screen::Rack), Tone::Quiet),
        ),
        Some(of) => markup! {
            <>
                { flip(view) }
                if of.pieces.is_empty() {
                    { empty("Nothing hangs in this rack yet. Hang something in it below, or add a panel.",
                        button("Add a panel", Action::Go(Screen::Racks), Tone::Quiet)) }
                } else {
                    { figure(view, &of) }
                    { list(view, &of) }
                }
                { hang(view, &of) }
                { build(view, &of) }
                { print(view) }
            </>
        },
    };
    framed(model, page)
}

fn flip(view: View<'_>) -> Html {
    let side = |face: Face, words: &'static str| {
        let screen = Screen::Elevation {
            rack: view.rack,
            face,
        };
        let pressed = (view.face == face).to_string();
        markup! { <button type="button" class="side" aria-pressed={pressed} onclick={go(screen)}>{ words }</button> }
    };
    markup! {
        <div class="sides">{ side(Face::Front, "Front") }{ side(Face::Rear, "Rear") }</div>
    }
}

/// The sizes of the drawing: the key, and the words of the button.
const SIZES: [(&str, &str); 3] = [("", "Whole"), ("2", "Larger"), ("4", "Positions")];

fn figure(view: View<'_>, of: &Elevation) -> Html {
    let size = view.model.fields.get(Field::BenchSize);
    let is_large = size == "4";
    let sizes = SIZES.map(|(key, words)| {
        let choose = Action::Typed {
            field: Field::BenchSize,
            text: key.to_owned(),
        };
        let pressed = (size == key).to_string();
        markup! { <button type="button" class="side" aria-pressed={pressed} onclick={tap(choose)}>{ words }</button> }
    });
    let class = match size {
        "2" => "is-larger",
        "4" => "is-largest",
        _ => "",
    };
    let words = if is_large {
        "Tap a position to see its cable."
    } else {
        "Tap a panel to open it. At the size “Positions” every position can be tapped."
    };
    markup! {
        <figure class="rack-figure">
            <div class="sides sizes" role="group" aria-label="Size of the drawing">{ for sizes }</div>
            <div class={classes(["rack-scroll", class, when(view.face == Face::Rear, "from-right")])} role="region" aria-label="Drawing of the rack" tabindex={(!class.is_empty()).then_some("0")}>{ drawing::drawing(of, view.face, is_large) }</div>
            <figcaption>{ caption(of) }{ " " }{ words }</figcaption>
            { drawing::legend() }
        </figure>
    }
}

fn caption(of: &Elevation) -> String {
    match (of.build, of.units) {
        (Some(build @ RackBuild::Units(_)), _) => {
            // As a sentence of its own: "12 rack units".
            let words = names::built(build);
            words.trim_start_matches("it has ").to_owned() + ", numbered from the bottom."
        }
        (Some(build), _) => {
            let words = names::built(build);
            let what = words.trim_start_matches("it is a ");
            ["Without rack units: a ", what, "."].concat()
        }
        (None, Some(_)) => "Nobody said yet how many rack units it has.".to_owned(),
        (None, None) => {
            "Nobody said yet how it is built; its panels as they are listed.".to_owned()
        }
    }
}

fn list(view: View<'_>, of: &Elevation) -> Html {
    let shown = page_of(&of.pieces, view.model.page);
    markup! {
        <section aria-labelledby="in-rack">
            <h2 id="in-rack">{ "In this rack, from the top" }</h2>
            { disputed(view, &of.disputed) }
            <ul class="rows">{ for shown.iter().map(|piece| row(view, of, piece)) }</ul>
            { pager(view.model.page, of.pieces.len()) }
        </section>
    }
}

fn row(view: View<'_>, of: &Elevation, piece: &Piece) -> Html {
    let hung = piece.hung;
    let unit = hung.unit.filter(|_| of.units.is_some());
    let lead = unit.map_or_else(String::new, |unit| unit.to_string());
    let height = hung.height.get();
    let side = match hung.face {
        Face::Rear => ", at the rear",
        Face::Front => "",
    };
    let mut words = piece.name.clone();
    if let Some(make) = piece.make {
        words = [&words, ", ", &names::make(make)].concat();
    }
    if unit.is_some() && height > 1 {
        words = [&words, ", ", &names::units_high(hung.height)].concat();
    }
    words.push_str(side);
    let inside = markup! {
        <>
            <span class="row-lead">{ code(lead) }</span>
            <span class="row-text">{ words }</span>
            <span class="row-note">{ note(of, piece) }{ disputed(view, &piece.disputed) }</span>
        </>
    };
    match hung.what {
        Mountable::Panel(panel) => {
            let face = view.face;
            let change = Action::Submit(Form::Plan(PlanForm::ShowPanel(panel)));
            markup! {
                <li class="row split-row">
                    <button type="button" class="row-button" onclick={go(Screen::Panel { panel, face })}>{ inside }</button>
                    <button type="button" class="button" aria-label={["Change ", &piece.name].concat()} onclick={tap(change)}>{ "Change" }</button>
                </li>
            }
        }
        Mountable::Device(device) => markup! {
            <li class="row">
                <button type="button" class="row-button" onclick={go(Screen::Device(device))}>{ inside }</button>
            </li>
        },
        Mountable::Block(_) => {
            // Its form stands below, with everything that can be changed of it.
            let key = hung_key(hung.what);
            let pressed = (view.model.fields.get(Field::BenchWhat) == key).to_string();
            let choose = Action::Submit(Form::Bench(BenchForm::Choose(hung.what)));
            markup! {
                <li class="row">
                    <button type="button" class="row-button" aria-pressed={pressed} onclick={tap(choose)}>{ inside }</button>
                </li>
            }
        }
    }
}

/// How many disagreements are named.
const NAMED: usize = 3;

/// What people disagree about; the punch list has both sides.
fn disputed(view: View<'_>, fields: &[(Thing, Disputed)]) -> Html {
    let registry = view.open.journal.registry();
    let words = fields.iter().take(NAMED).map(|(thing, field)| {
        let words = field_words(*thing, *field);
        match thing {
            Thing::Position(at) => [&names::position(registry, *at), " ", words].concat(),
            _ => words.to_owned(),
        }
    });
    let mut words: Vec<String> = words.collect();
    if words.is_empty() {
        return markup! {};
    }
    if fields.len() > NAMED {
        words.push(format!("{} more", fields.len() - NAMED));
    }
    let words = ["people disagree: ", &words.join(", ")].concat();
    state(Shape::Alarm, words)
}

fn note(of: &Elevation, piece: &Piece) -> Html {
    let landed = piece.count(SlotState::Landed);
    let all = piece.slots.len();
    let shape = match landed {
        0 => Shape::Hollow,
        _ if landed == all => Shape::Full,
        _ => Shape::Half,
    };
    let is_outside = of.units.is_some_and(|units| !piece.is_drawn(units));
    markup! {
        <>
            if all > 0 {
                { state(shape, format!("{landed} of {all} landed")) }
            }
            if piece.count(SlotState::Clash) > 0 {
                { state(Shape::Alarm, format!("{} disputed", piece.count(SlotState::Clash))) }
            }
            if piece.clashes {
                { state(Shape::Alarm, "in another's place") }
            }
            if is_outside {
                { state(Shape::Alarm, if piece.hung.unit.is_some() { "outside of the rack" } else { "at no rack unit" }) }
            }
        </>
    }
}

/// What can be hung: what is there, the devices that hang nowhere, and something new.
fn hang(view: View<'_>, of: &Elevation) -> Html {
    let View {
        model,
        open,
        rack,
        face,
    } = view;
    let there = of
        .pieces
        .iter()
        .map(|piece| (hung_key(piece.hung.what), piece.name.clone()));
    let devices = elevation::devices_outside(open.journal.registry()).into_iter();
    let devices = devices.map(|(id, name)| {
        let what = Mountable::Device(id);
        (hung_key(what), name)
    });
    let new = BlockKind::ALL.map(|kind| {
        let words = ["New: ", kind.words()].concat();
        (block_key(kind).to_owned(), words)
    });
    let options: Vec<_> = there.chain(devices).chain(new).collect();
    let is_new = new_block(model).is_some() || of.pieces.is_empty();
    let counts = of.build.is_none_or(|build| build.units().is_some());
    let submit = match face {
        Face::Front => "Hang it at the front",
        Face::Rear => "Hang it at the rear",
    };
    let out = Action::Submit(Form::Bench(BenchForm::TakeOut(rack)));
    markup! {
        <details class="more" open={!model.fields.get(Field::BenchWhat).is_empty()}>
            <summary>{ "Hang, move or take out" }</summary>
            <form class="form" onsubmit={sending(Form::Bench(BenchForm::Hang(rack, face)))}>
                { choice(model, Field::BenchWhat, "What", options) }
                if is_new || is_block(model) {
                    { text_field(model, Field::BenchName, "Name, if it has one", "Such as “Router shelf”") }
                }
                if counts {
                    { number_field(model, Field::BenchUnit, "Rack unit of its lower edge", "Counted from the bottom; left empty: where it is, or the highest that is free") }
                    { number_field(model, Field::BenchHeight, "How many rack units it takes", "Left empty: as many as now, else 1") }
                }
                <button type="submit" class="button">{ submit }</button>
                if !is_new {
                    { button("Take it out", out, Tone::Quiet) }
                }
            </form>
        </details>
    }
}

fn build(view: View<'_>, of: &Elevation) -> Html {
    let builds = BUILDS.map(|(key, words)| (key.to_owned(), words.to_owned()));
    let now = of.build.map(build_key);
    let chosen = view.model.fields.get(Field::BenchBuild);
    let key = if chosen.is_empty() {
        now.unwrap_or_default()
    } else {
        chosen
    };
    let has_units = matches!(key, "" | "units");
    markup! {
        <details class="more">
            <summary>{ "How it is built" }</summary>
            <form class="form" onsubmit={sending(Form::Bench(BenchForm::Build(view.rack)))}>
                { likely_choice(view.model, Field::BenchBuild, "It is built", builds, now.map(str::to_owned)) }
                if has_units {
                    { number_field(view.model, Field::BenchUnits, "How many rack units", "Such as 12 or 42; a rack unit is 44.45 mm high") }
                }
                <button type="submit" class="button">{ "Keep how it is built" }</button>
            </form>
        </details>
    }
}

/// Papers of this rack, as files that print.
fn print(view: View<'_>) -> Html {
    let model = view.model;
    let pages = PAGES.map(|(key, words, ..)| (key.to_owned(), words.to_owned()));
    let papers = [
        (RackPaper::Elevation, "The rack to scale"),
        (RackPaper::Maps, "A map of each panel"),
        (RackPaper::Card(Readers::Trade), "Card for the door"),
        (
            RackPaper::Card(Readers::Everybody),
            "Card without alarms and cameras",
        ),
    ];
    let ask = |(paper, words): (RackPaper, &'static str)| {
        let ask = Action::Submit(Form::Bench(BenchForm::Print(view.rack, paper)));
        button(words, ask, Tone::Quiet)
    };
    let is_made = matches!(model.tags.making, Some(Paper::Rack(..)));
    let progress = match model.tags.progress {
        Some((done, of)) => format!("Page {done} of {of} is made …"),
        None => "The papers are being made …".to_owned(),
    };
    markup! {
        <details class="more">
            <summary>{ "Print" }</summary>
            <div class="form">
                { choice(model, Field::BenchPage, "On this paper", pages) }
                { text_field(model, Field::FirmName, "Your firm, for the card", "") }
                { text_field(model, Field::FirmPhone, "Its telephone, for the card", "Both are kept on this device") }
                <div class="actions-pair">{ for papers.map(ask) }</div>
                if is_made {
                    <p role="status">{ progress }</p>
                    { button("Give up", Action::Tags(TagAction::GiveUp), Tone::Quiet) }
                }
            </div>
        </details>
    }
}
