//! Where the cable in the hand belongs: its position fills the screen.

use crate::app::{Action, Field, FootageOf, Form, Model, OpenJob, RackForm, Screen};
use crate::command::{Correction, Want};
use crate::domain::ids::CableId;
use crate::domain::place::{
    End, Face, Fitting, Place, Placement, Position, RunKind, RunName, Side,
};
use crate::domain::work::PullOutcome;
use crate::names;
use crate::query::deeds::{disagreement, outcome_words, spare_words};
use crate::query::hand::{InHand, Tail, in_hand};
use crate::query::rack::{
    first_free, free_for, free_with_adapter, from_top, make, place_in_row, places_in_rows, racks,
};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::panel::{end_code, small_panel};
use crate::ui::parts::pinout::pinout;
use crate::ui::parts::{
    Shape, Tone, button, code, empty, number_field, row, settle, state, text_field,
};
use crate::ui::{Html, sending};
use crate::view::markup;

/// How many free positions are offered.
const OFFERS: usize = 8;

/// Draws where the cable belongs.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: CableId) -> Html {
    let registry = open.journal.registry();
    let mut page = Page::new("");
    page.title = code(names::cable(registry, id));
    page.above = "Cable in hand".to_owned();
    page.back = Some(Screen::Hand);
    let next = |tone| button("Next cable", Action::Go(Screen::Hand), tone);
    let Some(found) = in_hand(registry, id) else {
        page.body = empty("This cable is no longer in the job.", markup! {});
        page.actions = next(Tone::Main);
        return framed(model, page);
    };
    page.body = markup! {
        <>
            { for found.tails.iter().map(|tail| one_tail(open, tail, found.tails.len())) }
            { no_tail(open, id, &found) }
            { facts(open, id) }
            { pinout(open) }
            { trouble(open, id) }
            { for found.tails.iter().chain(&found.away).map(|tail| may_differ(model, open, tail, &found)) }
        </>
    };
    let listed = found.tails.iter().filter(|tail| tail.is_open());
    let listed: Vec<&Tail> = listed.filter(|tail| tail.planned.is_some()).collect();
    page.actions = match listed.as_slice() {
        [] => next(Tone::Main),
        [tail] => markup! { { landing(open, tail, Tone::Main) } },
        tails => all_landed(tails),
    };
    framed(model, page)
}

/// The button that says: it is landed where it belongs.
fn landing(open: &OpenJob, tail: &Tail, tone: Tone) -> Option<Html> {
    let place = tail.planned.as_ref()?;
    let place_words = names::place(open.journal.registry(), place);
    let words = format!("Landed on {place_words}");
    Some(button(words, land(tail.end, place), tone))
}

/// The button that says: all tails of this cable are landed where they belong.
fn all_landed(tails: &[&Tail]) -> Html {
    let want = Want::LandAsPlanned {
        ends: tails.iter().map(|tail| tail.end).collect(),
    };
    let action = Action::Do {
        want,
        then: Some(Screen::Hand),
    };
    button(
        format!("All {} landed as listed", tails.len()),
        action,
        Tone::Main,
    )
}

fn land(end: End, place: &Place) -> Action {
    Action::Do {
        want: Want::Land {
            end,
            place: place.clone(),
            fitting: Fitting::Direct,
        },
        then: Some(Screen::Hand),
    }
}

/// One tail: its position as large as the screen is wide.
fn one_tail(open: &OpenJob, tail: &Tail, of: usize) -> Html {
    let registry = open.journal.registry();
    let place = tail.landed().or(tail.planned.as_ref());
    let whose = match (of, tail.end.leg) {
        (1, None) => String::new(),
        (_, None) => format!(
            "At {}",
            names::side(registry, tail.end.cable, tail.end.side)
        ),
        (_, Some(_)) => format!("Leg {}", end_code(open, tail.end)),
    };
    markup! {
        <section class="big" aria-label="Where it goes">
            if !whose.is_empty() {
                <h2>{ whose }</h2>
            }
            { how_it_stands(open, tail) }
            { match place.filter(|_| disagreement(registry, tail.end).is_none()) {
                Some(Place::Position { position, .. }) => at_position(open, *position),
                Some(place) => markup! { <p class="big-place">{ names::place(registry, place) }</p> },
                None if place.is_none() => offers(open, tail),
                None => settle(Some(tail.end.cable), Tone::Quiet),
            } }
            if tail.landed().is_some() && !tail.taken_by.is_empty() {
                { settle(Some(tail.end.cable), Tone::Quiet) }
            }
            if of > 1 && tail.is_open() {
                { landing(open, tail, Tone::Quiet) }
            }
        </section>
    }
}

fn how_it_stands(open: &OpenJob, tail: &Tail) -> Html {
    let registry = open.journal.registry();
    let elsewhere = |place: &Place| {
        let planned = tail.planned.as_ref().filter(|planned| *planned != place);
        planned.map_or_else(String::new, |planned| {
            format!(", but belongs on {}", names::place(registry, planned))
        })
    };
    let own = match &tail.placement {
        Some(Placement::Landed { place, fitting }) => {
            let how = match fitting {
                Fitting::Direct => "Landed",
                Fitting::Adapter => "Landed with an adapter",
                Fitting::Plug => "Landed with a plug",
            };
            state(Shape::Full, format!("{how}{}", elsewhere(place)))
        }
        Some(Placement::Spare { kept, reason }) => {
            state(Shape::Full, format!("Spare: {}", spare_words(kept, reason)))
        }
        Some(Placement::Dead { reason }) => state(Shape::Full, format!("Dead: {reason}")),
        Some(Placement::Lifted) | None => state(Shape::Hollow, "Not landed"),
    };
    let own = match disagreement(registry, tail.end) {
        Some(said) => state(Shape::Alarm, format!("People disagree: {said}")),
        None => own,
    };
    let cable = registry.cables.get(tail.end.cable);
    let copper = cable.and_then(|cable| cable.copper(cable.pull(tail.end.cable)));
    let outcome = copper.and_then(|copper| copper.outcome.get());
    let trouble = outcome.filter(|outcome| **outcome != PullOutcome::Pulled);
    let medium = cable.and_then(|cable| cable.medium.get());
    let medium = medium.map_or_else(|| "medium not known".to_owned(), ToString::to_string);
    markup! {
        <p class="big-state">
            { own }
            if let Some(outcome) = trouble {
                { state(Shape::Alarm, outcome_words(*outcome)) }
            }
            <span>{ medium }</span>
            { for tail.taken_by.iter().map(|other| {
                let too = if tail.is_open() { "" } else { " too" };
                state(Shape::Alarm, format!("{} is landed there{too}", end_code(open, *other)))
            }) }
        </p>
    }
}

fn at_position(open: &OpenJob, position: Position) -> Html {
    let registry = open.journal.registry();
    let words = names::position(registry, position);
    let size = match words.len() {
        0..=3 => "big-code code",
        4 => "big-code code long",
        _ => "big-code code longer",
    };
    let to_panel = Screen::Panel {
        panel: position.panel,
        face: Face::Rear,
    };
    markup! {
        <>
            <p class={size}>{ words }</p>
            <p class="big-where">{ where_words(open, position) }</p>
            { drawings(open, position) }
            <div class="actions-pair">
                { button("Say it", Action::Say(spoken(open, position)), Tone::Quiet) }
                { button("Show panel", Action::Go(to_panel), Tone::Quiet) }
            </div>
        </>
    }
}

/// The panel small, from the rear where one punches down, and from the front.
pub(in crate::ui) fn drawings(open: &OpenJob, position: Position) -> Html {
    let Some(make) = make(open.journal.registry(), position.panel) else {
        return markup! {};
    };
    let one = |face: Face, side: &str| {
        let at = place_in_row(make.positions, position.number, face);
        let row = if at.rows > 1 {
            format!(", row {} from the top", at.row)
        } else {
            String::new()
        };
        let (count, edge) = if at.from_left <= at.from_right {
            (at.from_left, "left")
        } else {
            (at.from_right, "right")
        };
        markup! {
            <figure class="small-figure">
                <figcaption>{ format!("From the {side}: {} from the {edge}{row}", ordinal(count)) }</figcaption>
                { small_panel(&places_in_rows(make.positions, face), face, position.number) }
            </figure>
        }
    };
    markup! { <div class="small-panels">{ one(Face::Rear, "rear") }{ one(Face::Front, "front") }</div> }
}

/// `Main rack, second panel from the top`.
pub(in crate::ui) fn where_words(open: &OpenJob, position: Position) -> String {
    let registry = open.journal.registry();
    let panel = match from_top(registry, position.panel) {
        Some(at) if at.of > 1 => format!("{} panel from the top", ordinal(at.place)),
        _ => {
            let name = names::panel(registry, position.panel);
            let letters = name.strip_prefix("Panel ").map(str::to_owned);
            letters.map_or(name, |letters| format!("panel {letters}"))
        }
    };
    let rack = registry.panels.get(position.panel);
    let rack = rack.and_then(|row| row.rack.get());
    match rack {
        None => panel,
        Some(rack) => format!("{}, {panel}", names::rack(registry, *rack)),
    }
}

/// What is read aloud: the letters of the panel one by one, then the number without its zero.
pub(in crate::ui) fn spoken(open: &OpenJob, position: Position) -> String {
    let row = open.journal.registry().panels.get(position.panel);
    let letters = row.and_then(|row| row.letters.get());
    let letters = letters.map_or_else(String::new, |letters| {
        let spelled: Vec<String> = letters.as_str().chars().map(String::from).collect();
        format!("{} ", spelled.join(" "))
    });
    let number = position.number.get();
    format!("{letters}{number}, {}", where_words(open, position))
}

fn ordinal(number: usize) -> String {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    if let Some(word) = WORDS.get(number.wrapping_sub(1)) {
        return (*word).to_owned();
    }
    let ending = match (number % 100, number % 10) {
        (11..=13, _) => "th",
        (_, 1) => "st",
        (_, 2) => "nd",
        (_, 3) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

/// A run that has no tail at a rack.
fn no_tail(open: &OpenJob, id: CableId, found: &InHand) -> Html {
    if found.kind != RunKind::LocalRun {
        return markup! {};
    }
    let registry = open.journal.registry();
    markup! {
        <p class="big-place">
            { format!(
                "This run does not come to a rack. It goes from {} to {}.",
                names::side(registry, id, Side::Far),
                names::side(registry, id, Side::Near)
            ) }
        </p>
    }
}

/// What the cable is, and where its other end is.
fn facts(open: &OpenJob, id: CableId) -> Html {
    let registry = open.journal.registry();
    let cable = registry.cables.get(id);
    let purpose = cable.and_then(|cable| cable.purpose.get()).cloned();
    let mut words = format!("Other end at {}", names::side(registry, id, Side::Near));
    if let Some(purpose) = purpose.filter(|purpose| !purpose.trim().is_empty()) {
        words.push_str(&format!(": {purpose}"));
    }
    markup! {
        <ul class="rows">
            { row(Action::Go(Screen::Cable(id)), markup! {}, words, "›") }
        </ul>
    }
}

/// What else is noted with the hands full: the length mark at this end, and what is wrong with the cable.
fn trouble(open: &OpenJob, id: CableId) -> Html {
    let outlet = open
        .journal
        .registry()
        .cables
        .get(id)
        .and_then(|row| match row.name.get()? {
            RunName::Feeds { outlet, .. } => Some(*outlet),
            RunName::Ties { .. } => None,
        });
    let footage = outlet.map(|outlet| {
        Action::Go(Screen::Footage {
            of: FootageOf::Outlet(outlet),
            side: Side::Far,
        })
    });
    let report = |words: &'static str, outcome| {
        let cables = vec![id];
        let want = Want::ReportPull { cables, outcome };
        button(words, Action::Do { want, then: None }, Tone::Quiet)
    };
    markup! {
        <>
            if let Some(footage) = footage {
                { button("Length marks at this end", footage, Tone::Quiet) }
            }
            <div class="actions-pair">
                { report("It is too short", PullOutcome::Short) }
                { report("It is damaged", PullOutcome::Damaged) }
            </div>
        </>
    }
}

/// Free positions that the cable fits on, each one tap.
fn offers(open: &OpenJob, tail: &Tail) -> Html {
    let free = free_for(open.journal.registry(), tail.end.cable, OFFERS);
    if free.is_empty()
        && let Some((position, reason, wanted)) =
            free_with_adapter(open.journal.registry(), tail.end.cable)
    {
        let lead = code(names::position(open.journal.registry(), position));
        let want = Want::Land {
            end: tail.end,
            place: Place::rear(position),
            fitting: Fitting::Adapter,
        };
        let action = Action::Do {
            want,
            then: Some(Screen::Hand),
        };
        return markup! {
            <>
                <p>{ ["No position is planned, and this cable fits on no free one: ", reason, ". A panel with ", wanted.words(), " would fit. Or:"].concat() }</p>
                <ul class="rows">{ row(action, lead, "Land it here with an adapter", where_words(open, position)) }</ul>
            </>
        };
    }
    if free.is_empty() {
        let add = if racks(open.journal.registry()).is_empty() {
            "Add a rack"
        } else {
            "Add a panel"
        };
        return markup! {
            <>
                <p>{ "No position is planned, and no panel has a free one that this cable fits on." }</p>
                { button(add, Action::Go(Screen::Racks), Tone::Quiet) }
            </>
        };
    }
    markup! {
        <>
            <p>{ "No position is planned. Next free:" }</p>
            <ul class="rows">{ for free.into_iter().map(|position| offer(open, tail, position)) }</ul>
        </>
    }
}

fn offer(open: &OpenJob, tail: &Tail, position: Position) -> Html {
    let lead = code(names::position(open.journal.registry(), position));
    let action = land(tail.end, &Place::rear(position));
    row(action, lead, "Land it here", where_words(open, position))
}

/// The next free position of the panel that the cable belongs on, for when it sits there instead.
fn beside(open: &OpenJob, tail: &Tail) -> Html {
    let place = tail.landed().or(tail.planned.as_ref());
    let Some(Place::Position { position, .. }) = place else {
        return markup! {};
    };
    match first_free(open.journal.registry(), position.panel) {
        None => markup! {},
        Some(free) => markup! {
            <>
                <p>{ "It is on the next free position:" }</p>
                <ul class="rows">{ offer(open, tail, free) }</ul>
            </>
        },
    }
}

/// What may be otherwise than planned. Of several ends one at a time is asked about: the only tail
/// at a rack until another is chosen.
fn may_differ(model: &Model, open: &OpenJob, tail: &Tail, found: &InHand) -> Html {
    let name = names::end(open.journal.registry(), tail.end);
    let chosen = model.fields.get(Field::HandTail);
    let is_alone = matches!(found.tails.as_slice(), [only] if only.end == tail.end);
    if chosen == name || (is_alone && chosen.is_empty()) {
        return otherwise(model, tail, beside(open, tail), chosen == name, &name);
    }
    let words = format!("Something is different: {name}");
    let choose = Action::Typed {
        field: Field::HandTail,
        text: name,
    };
    button(words, choose, Tone::Quiet)
}

fn otherwise(model: &Model, tail: &Tail, beside: Html, is_chosen: bool, name: &str) -> Html {
    let end = tail.end;
    let does = |want| Action::Do { want, then: None };
    let submit = |form| Action::Submit(Form::Rack(form));
    // Where others are at its place too, this is what to say next.
    let is_open = is_chosen || !tail.taken_by.is_empty();
    markup! {
        <details class="more" open={is_open}>
            <summary>{ format!("Something is different: {name}") }</summary>
            <div class="form">
                if tail.landed().is_some() {
                    { button("Lift it: it is not landed", does(Want::Lift { end }), Tone::Quiet) }
                }
                { beside }
                <form class="form" onsubmit={sending(Form::Rack(RackForm::LandAt(end)))}>
                    { text_field(model, Field::LandPosition, "Another place", "Such as B7, or “OUT 1 of Amplifier 1” on a device, or the name of a joint") }
                    <div class="actions-pair">
                        <button type="submit" class="button">{ "It is landed there" }</button>
                        { button("It belongs there", submit(RackForm::PlanAt(end)), Tone::Quiet) }
                    </div>
                </form>
                <form class="form" onsubmit={sending(Form::Rack(RackForm::Crossed(end, Correction::TagsMove)))}>
                    { text_field(model, Field::LandCode, "Crossed with, by the toner", "The code of the other cable, such as KIT2-C") }
                    <div class="actions-pair">
                        <button type="submit" class="button">{ "The tags are changed over" }</button>
                        { button("The record changes", submit(RackForm::Crossed(end, Correction::RecordChanges)), Tone::Quiet) }
                    </div>
                </form>
                <form class="form" onsubmit={sending(Form::Rack(RackForm::Split(end)))}>
                    { number_field(model, Field::Legs, "Its conductors part into legs", "How many, such as 2 for two speakers on four conductors") }
                    <button type="submit" class="button">{ "Split this end" }</button>
                </form>
                if end.leg.is_some() {
                    { button("Join its legs again", does(Want::JoinLegs { end }), Tone::Quiet) }
                }
                { text_field(model, Field::Reason, "It stays unused, because", "Its tag then says FUTURE or DEAD") }
                { text_field(model, Field::Kept, "Where its coil is", "") }
                <div class="actions-pair">
                    { button("It is spare", submit(RackForm::Spare(end)), Tone::Quiet) }
                    { button("It is dead", submit(RackForm::Dead(end)), Tone::Quiet) }
                </div>
            </div>
        </details>
    }
}
