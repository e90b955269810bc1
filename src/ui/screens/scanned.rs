//! What was read off a tag: what it is, where one stands, where the other end is, and what is next.

use super::cable::{doing as does, length, sentence, tested};
use super::find::action;
use super::hand_cable::{drawings, spoken, where_words};
use super::scan::{doing, standing};
use crate::app::scan::{ScanAction, choices, jobs_of, stand};
use crate::app::tags::TagAction;
use crate::app::{Action, Field, JobList, Model, OpenJob, Purpose, Screen};
use crate::command::{Correction, Want};
use crate::domain::ids::{Bits80, CableId, JobId, OutletId, RackId};
use crate::domain::place::{End, Fitting, Place, Side};
use crate::domain::work::{MarkKind, TestMethod, TestOutcome};
use crate::names;
use crate::query::cable::{CableView, EndView, OutletOrRack, test_words, tests_for, view};
use crate::query::deeds::deeds_of;
use crate::query::find::{FoundIn, Hit, Target, both_ends, cables_of, row};
use crate::query::pictures::{About, about};
use crate::query::rack::{is_disputed, landed_place, planned_place};
use crate::query::scan::{
    Here, NextHere, Scanned, Stand, end_here, is_seen_at, landed_words, next_here, out_here,
    rack_at, stand_words,
};
use crate::query::wall::{self, ends};
use crate::tags::Choice;
use crate::ui::Html;
use crate::ui::parts::plate::plate;
use crate::ui::parts::{Tone, button, choice, code, known, page_of, row as row_of};
use crate::view::markup;

/// How many jobs are offered to be opened.
const JOBS: usize = 4;

/// What was read, above what it names.
pub(in crate::ui) fn answered(model: &Model, open: &OpenJob, answer: &Scanned) -> Html {
    markup! {
        <section class="scanned" aria-label="What was scanned">
            if answer.targets.is_empty() && !answer.foreign {
                <h2>{ code(answer.shown.clone()) }</h2>
            }
            { for answer.said.iter().map(|words| markup! {
                <p class="say"><b aria-hidden="true">{ "! " }</b>{ words }</p>
            }) }
            { match answer.targets.as_slice() {
                targets if !choices(targets).is_empty() => several(open, &answer.shown, "Which of them is it?", &choices(targets)),
                [Target::Cable(id), rest @ ..] => markup! {
                    <>
                        { cable(model, open, answer, *id) }
                        { several(open, &answer.shown, "Or was this meant?", rest) }
                    </>
                },
                [Target::Outlet(id), ..] => outlet(open, *id),
                [Target::Rack(rack)] => come_out(open, *rack),
                [target @ (Target::Conduit(_) | Target::Box(_)), ..] => holder(open, *target),
                _ => markup! {},
            } }
            { several(open, &answer.shown, "Perhaps it is one of these:", &answer.nearest) }
            if !answer.nearest.is_empty() && !answer.wants_job {
                { button(["Find ", &answer.shown].concat(), doing(ScanAction::Find), Tone::Quiet) }
            }
            { to_open(model, answer) }
            { aloud_of(model, open, answer) }
        </section>
    }
}

/// What is next with what was scanned, and on to the next tag. `of_page` are the actions of the screen that
/// shows the answer.
pub(in crate::ui) fn actions(
    model: &Model,
    open: &OpenJob,
    answer: &Scanned,
    of_page: Html,
) -> Html {
    let again = |tone| button("Scan the next", doing(ScanAction::Again), tone);
    let main = match answer.targets.as_slice() {
        [] => return of_page,
        _ if model.screen() == Some(Screen::Scan) => return of_page,
        [Target::Cable(id)] => next(model, open, answer, *id),
        _ => Some(NextHere::OfCable),
    };
    let main = match (main, answer.targets.first()) {
        (Some(NextHere::OfCable), _) => return markup! { <>{ of_page }{ again(Tone::Quiet) }</> },
        (Some(next), Some(Target::Cable(id))) => match next_button(model, open, *id, &next) {
            Some(main) => main,
            None => return again(Tone::Main),
        },
        _ => return again(Tone::Main),
    };
    // Side by side, they leave the answer above them a whole screen.
    markup! { <div class="actions-pair">{ main }{ again(Tone::Quiet) }</div> }
}

fn next(model: &Model, open: &OpenJob, answer: &Scanned, id: CableId) -> Option<NextHere> {
    let registry = open.journal.registry();
    let view = view(&open.journal, id)?;
    let here = end_here(registry, id, stand(model));
    Some(next_here(registry, id, answer, here, view.next))
}

/// The button for what is next at an end.
fn next_button(model: &Model, open: &OpenJob, id: CableId, next: &NextHere) -> Option<Html> {
    let registry = open.journal.registry();
    let at = stand_words(registry, stand(model));
    let (words, action) = match next {
        NextHere::OfCable | NextHere::Nothing => return None,
        NextHere::Mark(end) | NextHere::Fix(end) => {
            let (words, kind) = match next {
                NextHere::Fix(_) => ("The tag is on at ", MarkKind::Fixed),
                _ => ("Marked at ", MarkKind::Pen),
            };
            let want = Want::MarkEnds {
                ends: vec![*end],
                kind,
                copies: 2,
            };
            ([words, &at].concat(), does(want))
        }
        NextHere::Print => {
            let print = Action::Tags(TagAction::Of(Choice::Cable(id)));
            ("Print its tag".to_owned(), print)
        }
        NextHere::Land(end, Some(place)) => {
            let want = Want::Land {
                end: *end,
                place: place.clone(),
                fitting: Fitting::Direct,
            };
            (landed_words(registry, place), does(want))
        }
        NextHere::Land(..) => {
            let choose = Action::Go(Screen::HandCable(id));
            ("Choose its position".to_owned(), choose)
        }
        NextHere::Test => {
            let methods = tests_for(registry, id);
            let method = methods.first().copied().unwrap_or(TestMethod::Toner);
            let [right, _] = test_words(method);
            (sentence(right), tested(id, method, TestOutcome::Passed))
        }
    };
    Some(button(words, action, Tone::Main))
}

/// How many cables a rack has; its panels stand below.
fn come_out(open: &OpenJob, rack: RackId) -> Html {
    markup! { <p>{ out_words(open, rack) }</p> }
}

fn out_words(open: &OpenJob, rack: RackId) -> String {
    let registry = open.journal.registry();
    let at = names::rack(registry, rack);
    match out_here(registry, Stand::Rack(rack)).len() {
        1 => format!("{at}: one cable comes out here."),
        out => format!("{at}: {out} cables come out here. The panels below show where."),
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
            { several(open, "", "Its cables:", page_of(&cables, 0)) }
        </>
    }
}

/// Things to choose from.
fn several(open: &OpenJob, text: &str, ask: &'static str, targets: &[Target]) -> Html {
    if targets.is_empty() {
        return markup! {};
    }
    let registry = open.journal.registry();
    markup! {
        <>
            <p class="ask">{ ask }</p>
            <ul class="rows">{ for targets.iter().map(|target| {
                let row = |found_in| row(registry, Hit { target: *target, found_in }, text);
                let found = row(FoundIn::Exact);
                // Two of one code that run alike are told apart by what they are for, and what was once called
                // so by that.
                let mut whys = [row(FoundIn::OldName).why, found.why, "›".to_owned()].into_iter();
                let note = whys.find(|why| !why.is_empty()).unwrap_or_default();
                row_of(action(*target), code(found.code), found.ends, note)
            }) }</ul>
        </>
    }
}

/// The ways to a job that would tell more of what was read.
pub(super) fn to_open(model: &Model, answer: &Scanned) -> Html {
    if !answer.wants_job {
        return markup! {};
    }
    let jobs = match (answer.other_job, &model.jobs) {
        (Some(key), _) => jobs_of(model, key),
        // What no key tells of may be of any job here but the open one.
        (None, JobList::Here(cards)) if model.open.is_none() => {
            let jobs = cards.iter().take(JOBS);
            let job = |id: &str| Some(JobId(id.parse::<Bits80>().ok()?));
            jobs.filter_map(|card| Some((job(&card.id)?, card.name.clone())))
                .collect()
        }
        _ => Vec::new(),
    };
    let file = |tone| button("Open a job file", Action::PickFile(Purpose::JobFile), tone);
    let is_missing = answer.other_job.is_some() && jobs.is_empty();
    let is_listed = !jobs.is_empty();
    markup! {
        <>
            if is_missing {
                <p>{ "That job is not on this device. Whoever keeps it can give you its file: the owner at the handover, or the firm that wired the house. Open the file here, and this tag is answered from it." }</p>
            }
            { for jobs.into_iter().map(|(job, name)| {
                button(format!("Open {name}, and read it there"), doing(ScanAction::OpenJob(job)), Tone::Quiet)
            }) }
            if !is_listed || answer.other_job.is_none() {
                { file(Tone::Quiet) }
            }
        </>
    }
}

/// Where one stands, and where the other end is.
fn cable(model: &Model, open: &OpenJob, answer: &Scanned, id: CableId) -> Html {
    let registry = open.journal.registry();
    let Some(view) = view(&open.journal, id) else {
        return markup! {};
    };
    let stand = stand(model);
    let is_void = answer.void;
    // Beside what is wrong with the tag there is room for both ends, and the rest stands below.
    let facts = || (!is_void).then(|| known(&facts(open, id, &view)));
    let ends = || {
        let ends = view.ends.iter().map(|end| one_end(open, id, end));
        markup! { <div class="scanned-ends">{ for ends }</div> }
    };
    match end_here(registry, id, stand) {
        Here::End(side) => {
            let other = end_of(&view, side.other());
            let mut at = stand_words(registry, stand);
            // In front of which position, too.
            if let Some(place @ Place::Position { .. }) = place_of(open, id, side) {
                at.push_str(", ");
                at.push_str(&names::place(registry, place));
            }
            let now = if is_void {
                " What follows is of the cable that lies there now."
            } else {
                ""
            };
            let is_seen = is_seen_at(registry, End::whole(id, side), stand);
            markup! {
                <>
                    <p class="scanned-here"><b>{ format!("You stand at {at}.") }</b>{ now }</p>
                    { doubt(open, id, side) }
                    { other_end(open, id, other) }
                    { facts() }
                    <div class="actions-pair">
                        { aloud(open, answer, id, &view, side.other()) }
                        if answer.holds && !is_seen {
                            { button("I see this tag here", doing(ScanAction::StandAt(stand)), Tone::Quiet) }
                        }
                        { choice(model, Field::ScanStand, "Where you stand", standing(model, open)) }
                    </div>
                </>
            }
        }
        Here::Unknown => markup! {
            <>
                <p class="ask">{ "Where do you stand?" }</p>
                { ends() }
                { facts() }
            </>
        },
        // Mostly whoever scans has walked on, so that comes before what changes the record.
        Here::Elsewhere => markup! {
            <>
                <p class="say"><b aria-hidden="true">{ "! " }</b>{ format!(
                    "By the record it does not come out here: you stand at {}, and it runs {}.",
                    stand_words(registry, stand), both_ends(registry, id)
                ) }</p>
                <p class="ask">{ "Or do you stand elsewhere by now?" }</p>
                { ends() }
                { facts() }
                if let (Stand::Outlet(outlet), true) = (stand, answer.said.is_empty()) {
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
    let test = test.map_or_else(
        || "none yet".to_owned(),
        |test| [test.words.as_str(), ", ", &test.who].concat(),
    );
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
    markup! {
        <div class="scanned-other">
            <h2>{ "The other end: " }{ &other.at }</h2>
            <p class="scanned-place">{ code(other.place.clone()) }</p>
            { doubt(open, id, other.side) }
            { drawn(open, id, other) }
        </div>
    }
}

/// One of two ends, drawn where it is, with a button that says: I stand here.
fn one_end(open: &OpenJob, id: CableId, end: &EndView) -> Html {
    let stand = stand_of(open, id, end);
    markup! {
        <div class="scanned-end">
            <p class="scanned-end-head">
                { code(end.place.clone()) }
                if let Some(stand) = stand {
                    { button(format!("At {}", stand_words(open.journal.registry(), stand)), doing(ScanAction::StandAt(stand)), Tone::Quiet) }
                } else {
                    <span>{ &end.at }</span>
                }
            </p>
            { doubt(open, id, end.side) }
            { drawn(open, id, end) }
        </div>
    }
}

/// What whoever relies on the place of an end must know first.
fn doubt(open: &OpenJob, id: CableId, side: Side) -> Html {
    if !is_disputed(open.journal.registry(), End::whole(id, side)) {
        return markup! {};
    }
    markup! {
        <p class="say"><b aria-hidden="true">{ "! " }</b>{ DISPUTED }</p>
    }
}

const DISPUTED: &str = "People disagree about this place. Look before you rely on it.";

/// The panel of an end with its position marked, or the plate with its jack.
fn drawn(open: &OpenJob, id: CableId, end: &EndView) -> Html {
    match place_of(open, id, end.side) {
        Some(Place::Position { position, .. }) => markup! {
            <>
                <p class="big-where">{ where_words(open, *position) }</p>
                { drawings(open, *position) }
            </>
        },
        Some(Place::Jack { outlet, .. }) => drawn_plate(open, *outlet, id),
        Some(Place::Device { .. } | Place::Joint { .. }) | None => match end.outlet_or_rack {
            OutletOrRack::Outlet(Some(outlet)) => drawn_plate(open, outlet, id),
            OutletOrRack::Outlet(None) | OutletOrRack::Rack => markup! {},
        },
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

/// What was read, to be heard, where no end is known to be the other one.
fn aloud_of(model: &Model, open: &OpenJob, answer: &Scanned) -> Html {
    let registry = open.journal.registry();
    let mut words = [&answer.shown, ". ", &answer.said.join(" ")].concat();
    if let [Target::Cable(id)] = answer.targets[..] {
        match end_here(registry, id, stand(model)) {
            Here::End(_) => return markup! {},
            Here::Elsewhere => words.push_str(" It does not come out here by the record."),
            Here::Unknown => {}
        }
        words.push_str(&format!(" It runs {}.", both_ends(registry, id)));
    }
    words.push(' ');
    words.push_str(&match answer.targets.as_slice() {
        [Target::Outlet(id)] => {
            let cables = ends(registry, *id).into_iter().map(|end| end.end.cable);
            let cables: Vec<Target> = cables.map(Target::Cable).collect();
            told(open, &cables)
        }
        [Target::Rack(rack)] => out_words(open, *rack),
        [target @ (Target::Conduit(_) | Target::Box(_))] => {
            let cables = cables_of(registry, *target).into_iter();
            told(open, &cables.map(Target::Cable).collect::<Vec<_>>())
        }
        [Target::Cable(_)] => String::new(),
        targets => told(open, targets),
    });
    aloud_button(words)
}

/// The button that has words read aloud.
pub(super) fn aloud_button(words: String) -> Html {
    button("Read it aloud", Action::Say(words), Tone::Quiet)
}

/// Things one after the other, for the ear.
fn told(open: &OpenJob, targets: &[Target]) -> String {
    let registry = open.journal.registry();
    let rows = page_of(targets, 0).iter().map(|target| {
        let found_in = FoundIn::Exact;
        let found = row(
            registry,
            Hit {
                target: *target,
                found_in,
            },
            "",
        );
        [&found.code, ", ", &found.ends].concat()
    });
    let rows: Vec<String> = rows.collect();
    rows.join("; ")
}

fn aloud(open: &OpenJob, answer: &Scanned, id: CableId, view: &CableView, side: Side) -> Html {
    let other = end_of(view, side);
    let place = match (place_of(open, id, side), other.outlet_or_rack) {
        (Some(Place::Position { position, .. }), _) => spoken(open, *position),
        (Some(Place::Jack { outlet, .. }), _) => jack_words(open, *outlet, id),
        (_, OutletOrRack::Outlet(Some(outlet))) => jack_words(open, outlet, id),
        _ => format!("{}, {}", other.place, other.at),
    };
    let said = answer.said.join(" ");
    let mut words = format!("{}. {said} The other end: {place}.", view.code);
    if is_disputed(open.journal.registry(), End::whole(id, side)) {
        words.push(' ');
        words.push_str(DISPUTED);
    }
    aloud_button(words)
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
