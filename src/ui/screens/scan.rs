//! What the camera sees, and what is shown of a tag that was read.

use super::cable::length;
use super::hand_cable::{drawings, spoken, where_words};
use crate::app::scan::{
    Abilities, Camera, Hint, NoCamera, Passed, ScanAction, jobs_of, screen, stand, stand_key,
};
use crate::app::{Action, Field, Model, OpenJob, Purpose, Screen};
use crate::command::{Correction, Want};
use crate::domain::ids::{CableId, OutletId};
use crate::domain::place::{End, Place, Side};
use crate::names;
use crate::query::cable::{CableView, EndView, OutletOrRack, view};
use crate::query::deeds::deeds_of;
use crate::query::find::{FoundIn, Hit, Target, both_ends, cables_of, row};
use crate::query::pictures::{About, about};
use crate::query::rack::{landed_place, planned_place};
use crate::query::scan::{
    Here, Scanned, Stand, end_here, is_seen_at, rack_at, stand_words, stands,
};
use crate::query::wall::{self, ends};
use crate::ui::frame::{Page, framed, plain};
use crate::ui::parts::plate::plate;
use crate::ui::parts::{
    Shape, Tone, button, choice, code, known, page_of, row as row_of, state, text_field,
};
use crate::ui::{Html, tap};
use crate::view::{Touch, markup};

fn doing(action: ScanAction) -> Action {
    Action::Scan(action)
}

/// Draws the scanner of the open job.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Scan a tag");
    page.above = open.name().to_owned();
    page.back = Some(model.scan.from.unwrap_or(Screen::Wall));
    let is_answered = model.scan.answer.is_some();
    page.body = markup! {
        <>
            if !is_answered {
                { camera(model) }
            }
            { choice(model, Field::ScanStand, "Where you stand", standing(model, open)) }
            { walking(model) }
            { passed(&model.scan.passed) }
            if !is_answered {
                { other_ways(model) }
            }
        </>
    };
    page.actions = if is_answered {
        button("Scan again", doing(ScanAction::Again), Tone::Main)
    } else {
        photograph()
    };
    framed(model, page)
}

/// Draws the scanner while no job is open: a tag then says what it says by itself.
pub(in crate::ui) fn draw_outside(model: &Model) -> Html {
    let mut page = Page::new("Scan a tag");
    page.above = "Bothends".to_owned();
    page.body = match &model.scan.answer {
        None => markup! { <>{ camera(model) }{ other_ways(model) }</> },
        Some(answer) => markup! {
            <section class="scanned" aria-labelledby="scanned">
                <h2 id="scanned">{ code(answer.shown.clone()) }</h2>
                { for answer.said.iter().map(|words| markup! { <p>{ words }</p> }) }
                { other_job(model, answer) }
            </section>
        },
    };
    let jobs = button("All jobs", Action::GoToJobs, Tone::Quiet);
    page.actions = if model.scan.answer.is_some() {
        let again = button("Scan again", doing(ScanAction::Again), Tone::Main);
        markup! { <>{ again }{ jobs }</> }
    } else {
        markup! { <>{ photograph() }{ jobs }</> }
    };
    plain(model, page)
}

fn camera(model: &Model) -> Html {
    match &model.scan.camera {
        Camera::Missing(why) => without(why, model.scan.explained),
        Camera::Off | Camera::Starting => markup! {
            <div class="scan-view">{ video() }<p class="scan-hint" role="status">{ "Waking the camera …" }</p></div>
        },
        Camera::On(abilities) => markup! {
            <>
                <div class="scan-view">
                    { video() }
                    <p class="scan-hint" role="status">{ hint(model, abilities) }</p>
                </div>
                { controls(model, abilities) }
            </>
        },
    }
}

fn video() -> Html {
    markup! { <video id="scan-video" key={"video".to_owned()} playsinline="" aria-label="What the camera sees"></video> }
}

fn hint(model: &Model, of: &Abilities) -> &'static str {
    match model.scan.hint {
        Hint::TooFar => "There is a code, too small to read. Go nearer.",
        Hint::TooDark if of.torch && !model.scan.torch => "Too dark: use the light below.",
        Hint::TooDark => "Too dark to read. Bring a lamp, or turn the tag to the light.",
        Hint::Nothing => "Hold the tag flat in view, 10 to 20 cm (4 to 8 in) away.",
    }
}

fn controls(model: &Model, of: &Abilities) -> Html {
    let (light, tone) = match (model.scan.torch, model.scan.hint) {
        (true, _) => ("Light off", Tone::Quiet),
        (false, Hint::TooDark) => ("Light on", Tone::Main),
        (false, Hint::TooFar | Hint::Nothing) => ("Light on", Tone::Quiet),
    };
    markup! {
        <div class="actions-pair">
            if of.torch {
                { button(light, doing(ScanAction::Torch), tone) }
            }
            if of.zoom {
                { button(format!("{} times as large", model.scan.zoom), doing(ScanAction::Zoom), Tone::Quiet) }
            }
            if of.lenses.len() > 1 {
                { button("Another lens", doing(ScanAction::NextLens), Tone::Quiet) }
            }
        </div>
    }
}

/// What to do without a camera: said at length once, and in short from then on.
fn without(why: &NoCamera, explained: bool) -> Html {
    let round = match (explained, why) {
        (true, _) => "Take a photograph of the tag, or type what stands on it.",
        (false, NoCamera::Refused) => {
            "You can allow it in the browser's settings for this page. Without it all works as well: take a photograph of the tag, or type what stands on it. Pictures are read on this device and go nowhere."
        }
        (false, NoCamera::None | NoCamera::Busy | NoCamera::Other(_)) => {
            "All works without it as well: choose a photograph of the tag, or type what stands on it. Pictures are read on this device and go nowhere."
        }
    };
    markup! {
        <div class="notice told scan-without">
            <p>{ why.to_string() }{ " " }{ round }</p>
            { button("Try the camera again", doing(ScanAction::TryCamera), Tone::Way) }
        </div>
    }
}

fn other_ways(model: &Model) -> Html {
    markup! {
        <section class="card" aria-labelledby="scan-typed">
            <h2 id="scan-typed">{ "By typing" }</h2>
            <form class="form" onsubmit={Touch::Sent(doing(ScanAction::Typed))}>
                { text_field(model, Field::ScanText, "What stands on the tag", "Such as KIT2-C, kit2c or B07") }
                <button type="submit" class="button">{ "Show it" }</button>
            </form>
        </section>
    }
}

fn photograph() -> Html {
    let pick = Action::PickFile(Purpose::TagPhoto);
    button("Take or choose a photograph", pick, Tone::Quiet)
}

fn standing(model: &Model, open: &OpenJob) -> Vec<(String, String)> {
    let registry = open.journal.registry();
    let words = |stand| match stand {
        Stand::Unknown => "Not said".to_owned(),
        Stand::Wall => "At the wall".to_owned(),
        stand => format!("At {}", stand_words(registry, stand)),
    };
    let all = stands(registry, stand(model)).into_iter();
    all.map(|stand| (stand_key(stand), words(stand))).collect()
}

fn walking(model: &Model) -> Html {
    let walk = model.scan.walk;
    markup! {
        <button type="button" class="button" aria-pressed={walk.to_string()} onclick={tap(doing(ScanAction::Walk(!walk)))}>
            { if walk { "✓ Walking: good tags are noted, no tap needed" } else { "Walk from tag to tag without a tap" } }
        </button>
    }
}

fn passed(all: &[Passed]) -> Html {
    if all.is_empty() {
        return markup! {};
    }
    let good = all.iter().filter(|one| one.good).count();
    markup! {
        <section aria-labelledby="scan-passed">
            <h2 id="scan-passed">{ format!("On this walk: {good} good, {} to look at", all.len() - good) }</h2>
            <ul class="known" aria-live="polite">{ for all.iter().map(|one| {
                let shape = if one.good { Shape::Full } else { Shape::Alarm };
                markup! { <li>{ state(shape, one.words.clone()) }</li> }
            }) }</ul>
        </section>
    }
}

/// What was read, above what it names.
pub(in crate::ui) fn answered(model: &Model, open: &OpenJob, answer: &Scanned) -> Html {
    markup! {
        <section class="scanned" aria-label="What was scanned">
            if answer.targets.is_empty() {
                <h2>{ code(answer.shown.clone()) }</h2>
            }
            { for answer.said.iter().map(|words| markup! {
                <p class="say"><b aria-hidden="true">{ "! " }</b>{ words }</p>
            }) }
            { match answer.targets.as_slice() {
                [Target::Cable(id)] => cable(model, open, answer, *id),
                [Target::Outlet(id), ..] => outlet(open, *id),
                [target @ (Target::Conduit(_) | Target::Box(_)), ..] => holder(open, *target),
                [Target::Cable(_), Target::Cable(_), ..] => several(open, "Which of them is it?", &answer.targets),
                _ => markup! {},
            } }
            { several(open, "Perhaps it is one of these:", &answer.nearest) }
            { other_job(model, answer) }
            if !answer.targets.is_empty() {
                { button("Scan the next", doing(ScanAction::Again), Tone::Main) }
            }
        </section>
    }
}

/// A conduit or a box with its cables.
fn holder(open: &OpenJob, target: Target) -> Html {
    let registry = open.journal.registry();
    let found_in = FoundIn::Exact;
    let found = row(registry, Hit { target, found_in }, "");
    let cables = cables_of(registry, target).into_iter();
    let cables: Vec<Target> = cables.map(Target::Cable).collect();
    markup! {
        <>
            <h2>{ code(found.code) }</h2>
            <p>{ found.ends }</p>
            { several(open, "Its cables:", page_of(&cables, 0)) }
        </>
    }
}

/// Things to choose from.
fn several(open: &OpenJob, ask: &'static str, targets: &[Target]) -> Html {
    if targets.is_empty() {
        return markup! {};
    }
    let registry = open.journal.registry();
    markup! {
        <>
            <p class="ask">{ ask }</p>
            <ul class="rows">{ for targets.iter().filter_map(|target| {
                let found_in = FoundIn::Exact;
                let found = row(registry, Hit { target: *target, found_in }, "");
                Some(row_of(Action::Go(screen(*target)?), code(found.code), found.ends, "›"))
            }) }</ul>
        </>
    }
}

fn other_job(model: &Model, answer: &Scanned) -> Html {
    let Some(key) = answer.other_job else {
        return markup! {};
    };
    let jobs = jobs_of(model, key);
    if jobs.is_empty() {
        return markup! {
            <>
                <p>{ "That job is not on this device. Whoever keeps it can give you its file: the owner at the handover, or the firm that wired the house. Open the file here, and scan the tag again." }</p>
                { button("Open a job file", Action::PickFile(Purpose::JobFile), Tone::Quiet) }
            </>
        };
    }
    markup! { <>{ for jobs.into_iter().map(|(job, name)| {
        button(format!("Open {name}, and read it there"), doing(ScanAction::OpenJob(job)), Tone::Quiet)
    }) }</> }
}

/// Where one stands, and where the other end is.
fn cable(model: &Model, open: &OpenJob, answer: &Scanned, id: CableId) -> Html {
    let registry = open.journal.registry();
    let Some(view) = view(&open.journal, id) else {
        return markup! {};
    };
    let stand = stand(model);
    match end_here(registry, id, stand) {
        Here::End(side) => {
            let other = end_of(&view, side.other());
            let is_void = !answer.holds && !answer.said.is_empty();
            let at = stand_words(registry, stand);
            let is_seen = is_seen_at(registry, End::whole(id, side), stand);
            markup! {
                <>
                    <p class="scanned-here">{ format!("You stand at {at}.") }</p>
                    if is_void {
                        <p>{ "What follows is of the cable that lies there now." }</p>
                    }
                    { other_end(open, id, other) }
                    { known(&facts(open, id, &view)) }
                    <div class="actions-pair">
                        { aloud(open, id, &view, side.other()) }
                        if answer.holds && !is_seen {
                            { button("I see this tag here", doing(ScanAction::StandAt(stand)), Tone::Quiet) }
                        }
                    </div>
                    { choice(model, Field::ScanStand, "Where you stand", standing(model, open)) }
                </>
            }
        }
        Here::Unknown => markup! {
            <>
                <p class="ask">{ "Where do you stand?" }</p>
                <div class="actions-pair">
                    { for view.ends.iter().filter_map(|end| {
                        let stand = stand_of(open, id, end)?;
                        let words = format!("At {}", stand_words(registry, stand));
                        Some(button(words, doing(ScanAction::StandAt(stand)), Tone::Quiet))
                    }) }
                </div>
            </>
        },
        Here::Elsewhere => markup! {
            <>
                <p class="say"><b aria-hidden="true">{ "! " }</b>{ format!(
                    "By the record it does not come out here: you stand at {}, and it runs {}.",
                    stand_words(registry, stand), both_ends(registry, id)
                ) }</p>
                if let Stand::Outlet(outlet) = stand {
                    { came_out(open, id, outlet) }
                }
            </>
        },
    }
}

/// What is known of the cable, in a few lines; all of it stands below.
fn facts(open: &OpenJob, id: CableId, view: &CableView) -> Vec<String> {
    let mut first = vec![view.medium.clone()];
    first.extend(view.length.map(length));
    let test = view.tests.first();
    let test = test.map_or("none yet", |test| test.words.as_str());
    let below = [
        (
            about(&open.journal, About::Cable(id), 0, 0).count,
            "photograph",
            "photographs",
        ),
        (view.notes.len(), "note", "notes"),
        (
            deeds_of(&open.journal, id).len(),
            "thing done",
            "things done",
        ),
    ];
    let below =
        below.map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }));
    vec![
        first.join(", "),
        format!("Test: {test}"),
        format!("Below: {}", below.join(", ")),
    ]
}

fn end_of(view: &CableView, side: Side) -> &EndView {
    let [near, far] = &view.ends;
    match side {
        Side::Near => near,
        Side::Far => far,
    }
}

fn came_out(open: &OpenJob, cable: CableId, outlet: OutletId) -> Html {
    let want = |how| Action::Do {
        want: Want::CameOutAt { cable, outlet, how },
        then: None,
    };
    let at = names::outlet(open.journal.registry(), outlet);
    markup! {
        <div class="actions-pair">
            { button(format!("It comes out at {at}: the record changes"), want(Correction::RecordChanges), Tone::Quiet) }
            { button(format!("It is named after {at}: new tags"), want(Correction::TagsMove), Tone::Quiet) }
        </div>
    }
}

/// Where somebody stands who stands at an end.
fn stand_of(open: &OpenJob, id: CableId, end: &EndView) -> Option<Stand> {
    match end.outlet_or_rack {
        OutletOrRack::Outlet(outlet) => outlet.map(Stand::Outlet),
        OutletOrRack::Rack => rack_at(open.journal.registry(), id, end.side).map(Stand::Rack),
    }
}

/// The other end, large, and drawn where it is.
fn other_end(open: &OpenJob, id: CableId, other: &EndView) -> Html {
    let drawn = match place_of(open, id, other.side) {
        Some(Place::Position { position, .. }) => markup! {
            <>
                <p class="big-where">{ where_words(open, *position) }</p>
                { drawings(open, *position) }
            </>
        },
        Some(Place::Jack { outlet, .. }) => drawn_plate(open, *outlet, id),
        Some(Place::Device { .. } | Place::Joint { .. }) | None => match other.outlet_or_rack {
            OutletOrRack::Outlet(Some(outlet)) => drawn_plate(open, outlet, id),
            OutletOrRack::Outlet(None) | OutletOrRack::Rack => markup! {},
        },
    };
    markup! {
        <div class="scanned-other">
            <h2>{ "The other end: " }{ &other.at }</h2>
            <p class="scanned-place">{ code(other.place.clone()) }</p>
            { drawn }
        </div>
    }
}

fn place_of(open: &OpenJob, id: CableId, side: Side) -> Option<&Place> {
    let registry = open.journal.registry();
    let end = End::whole(id, side);
    landed_place(registry, end).or_else(|| planned_place(registry, end))
}

/// Which jack of which plate is meant; the outlet alone where the cable comes out elsewhere.
fn jack_words(open: &OpenJob, outlet: OutletId, id: CableId) -> String {
    let Some(view) = wall::outlet(open.journal.registry(), outlet) else {
        return String::new();
    };
    let jack = view.ends.iter().find(|end| end.end.cable == id);
    let jack = jack.map_or_else(String::new, |end| format!("Jack {} of ", end.jack));
    format!("{jack}{}, {}", view.code, view.room_name)
}

/// The plate of an outlet, with that jack marked.
fn drawn_plate(open: &OpenJob, outlet: OutletId, id: CableId) -> Html {
    let Some(view) = wall::outlet(open.journal.registry(), outlet) else {
        return markup! {};
    };
    markup! {
        <>
            <p class="big-where">{ jack_words(open, outlet, id) }</p>
            <figure class="plate-figure">{ plate(&view.code, view.wall_box, &view.ends, Some(id)) }</figure>
        </>
    }
}

fn aloud(open: &OpenJob, id: CableId, view: &CableView, side: Side) -> Html {
    let other = end_of(view, side);
    let place = match (place_of(open, id, side), other.outlet_or_rack) {
        (Some(Place::Position { position, .. }), _) => spoken(open, *position),
        (Some(Place::Jack { outlet, .. }), _) => jack_words(open, *outlet, id),
        (_, OutletOrRack::Outlet(Some(outlet))) => jack_words(open, outlet, id),
        _ => format!("{}, {}", other.place, other.at),
    };
    let words = format!("{}. The other end: {place}.", view.code);
    button("Read it aloud", Action::Say(words), Tone::Quiet)
}

/// All cables of an outlet with where they go.
fn outlet(open: &OpenJob, id: OutletId) -> Html {
    let registry = open.journal.registry();
    let rows = ends(registry, id).into_iter().map(|end| {
        let cable = end.end.cable;
        row_of(
            Action::Go(Screen::Cable(cable)),
            code(end.code.clone()),
            both_ends(registry, cable),
            "›",
        )
    });
    markup! { <ul class="rows">{ for rows }</ul> }
}
