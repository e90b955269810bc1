//! Which walls may be closed: the list of rooms, and the list that is gone through in one.

use crate::app::cover::{CoverForm, in_spite_of, ticked};
use crate::app::{Action, Caution, Field, Form, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::ids::RoomId;
use crate::domain::picture::Shows;
use crate::domain::work::CoverCheck;
use crate::query::cover::{self, CoverState, Missing, RoomToCover};
use crate::query::pictures::About;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::caution::caution;
use crate::ui::parts::{
    Shape, Tone, button, empty, known, number_field, page_of, pager, row, state, text_field,
};
use crate::ui::screens::pictures;
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the rooms, those that must not be covered yet before the others.
pub(in crate::ui) fn list(model: &Model, open: &OpenJob) -> Html {
    let (mut rooms, done): (Vec<_>, Vec<_>) = cover::rooms(&open.journal)
        .into_iter()
        .partition(RoomToCover::is_open);
    let left = rooms.len();
    rooms.extend(done);
    let mut page = Page::new("Not to be covered yet");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Wall);
    page.body = markup! {
        <>
            if rooms.is_empty() {
                { empty("No room has an outlet yet. Add the first one at the wall.", button("To the rooms", Action::Go(Screen::Wall), Tone::Quiet)) }
            } else {
                <p class="lead">{ left_words(left, rooms.len()) }</p>
                <ul class="rows">{ for page_of(&rooms, model.page).iter().map(room_row) }</ul>
                { pager(model.page, rooms.len()) }
            }
            { caution(model, Caution::Wall) }
        </>
    };
    framed(model, page)
}

fn left_words(left: usize, all: usize) -> String {
    match left {
        0 => "Every room may be covered.".to_owned(),
        1 => format!("1 of {all} rooms must not be covered yet."),
        left => format!("{left} of {all} rooms must not be covered yet."),
    }
}

fn room_row(room: &RoomToCover) -> Html {
    let note = match &room.state {
        CoverState::Open if room.missing.is_empty() => "not signed".to_owned(),
        CoverState::Open => room.things_left(),
        CoverState::NotYet(reason) => format!("not yet: {reason}"),
        CoverState::Reopened { why, .. } => match why.first() {
            Some(first) => format!("changed since: {first}"),
            None => "changed since".to_owned(),
        },
        CoverState::Ok { .. } => format!("● {}", room.ok_words().unwrap_or_default()),
        CoverState::Closed { since } if room.is_open() => {
            let first = since.first().map(|first| [": ", first].concat());
            let left = room.things_left();
            ["▲ closed with ", &left, &first.unwrap_or_default()].concat()
        }
        CoverState::Closed { .. } => "● closed".to_owned(),
    };
    row(
        Action::Go(Screen::Cover(room.room)),
        markup! {},
        room.name.clone(),
        note,
    )
}

/// Draws the list of one room.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: RoomId) -> Html {
    let mut page = Page::new("OK to cover?");
    page.back = Some(Screen::Covers);
    let Some(room) = cover::room(&open.journal, id) else {
        page.body = empty(
            "This room has no outlet, so there is nothing in its walls to sign for.",
            button("To the room", Action::Go(Screen::Room(id)), Tone::Quiet),
        );
        return framed(model, page);
    };
    page.above = room.name.clone();
    let form = |form| Action::Submit(Form::Cover(form));
    let count = match room.cables {
        1 => "1 cable comes".to_owned(),
        cables => format!("{cables} cables come"),
    };
    page.body = markup! {
        <>
            { how_it_stands(&room) }
            { missing(&room) }
            { pictures::part(model, open, About::Shown(Shows::Room(id))) }
            <section class="card" aria-labelledby="looked-at">
                <h2 id="looked-at">{ "Looked at" }</h2>
                <p>{ format!("{count} out of the walls here, by the records.") }</p>
                <ul class="ticks">{ for ticks(model, &room) }</ul>
                { button("I counted and looked: all are so", form(CoverForm::TickAll(id)), Tone::Quiet) }
                { number_field(model, Field::CoverCount, "Counted, if it is another number", "") }
                if model.person.initials.is_empty() {
                    { text_field(model, Field::Initials, "Your initials, to sign with", "They are kept, and stand beside everything that you do here.") }
                }
                { text_field(model, Field::CoverNote, "In a few words, if something is missing", "Such as “the shade comes from the attic later”") }
                if let Some(missing) = in_spite_of(&model.fields, &room) {
                    { button(["OK in spite of: ", &missing].concat(), form(CoverForm::InSpite(id)), Tone::Quiet) }
                }
            </section>
            { button("Not yet, for this reason", form(CoverForm::NotYet(id)), Tone::Quiet) }
            if !matches!(room.state, CoverState::Closed { .. }) {
                { button("The walls are closed", Action::Do { want: Want::CloseWalls { room: id }, then: Some(Screen::Covers) }, Tone::Quiet) }
            }
            { button("To the room", Action::Go(Screen::Room(id)), Tone::Quiet) }
        </>
    };
    let who = match model.person.initials.as_str() {
        "" => "OK to cover".to_owned(),
        initials => format!("OK to cover, signed {initials}"),
    };
    page.actions = button(who, form(CoverForm::Sign(id)), Tone::Main);
    framed(model, page)
}

fn how_it_stands(room: &RoomToCover) -> Html {
    let (shape, words) = match &room.state {
        CoverState::Open => (Shape::Hollow, "Nobody has signed for this room.".to_owned()),
        CoverState::NotYet(reason) => (Shape::Alarm, format!("Not yet: {reason}")),
        CoverState::Ok { who, .. } => {
            let ok = room.ok_words().unwrap_or_default();
            (Shape::Full, format!("{ok}. Signed by {who}."))
        }
        CoverState::Reopened { who, .. } => (
            Shape::Alarm,
            format!("Signed by {who}, and changed since. Look again."),
        ),
        CoverState::Closed { .. } if room.is_open() => (
            Shape::Alarm,
            format!(
                "The walls are closed with {}. Look before the plaster dries.",
                room.things_left()
            ),
        ),
        CoverState::Closed { .. } => (Shape::Full, "The walls are closed.".to_owned()),
    };
    let why = match &room.state {
        CoverState::Reopened { why, .. } | CoverState::Closed { since: why } => why.as_slice(),
        _ => &[],
    };
    markup! {
        <>
            <p class="lead cover-state">{ state(shape, words) }</p>
            if !why.is_empty() {
                { known(page_of(why, 0)) }
            }
        </>
    }
}

fn missing(room: &RoomToCover) -> Html {
    if room.missing.is_empty() {
        return markup! {};
    }
    markup! {
        <section aria-labelledby="missing">
            <h2 id="missing">{ "Missing in the records" }</h2>
            <ul class="known">{ for page_of(&room.missing, 0).iter().map(|missing| markup! { <li>{ words(missing) }</li> }) }</ul>
        </section>
    }
}

fn words(missing: &Missing) -> String {
    let listed = |what: &str, names: &[String]| format!("{what}: {}", names.join(", "));
    match missing {
        Missing::NotPulled(names) => listed("Not pulled", names),
        Missing::NotMarked(names) => listed("Not marked here", names),
        Missing::NoPicture(names) => listed("No picture of the open wall", names),
        Missing::NoBox(names) => listed("Box not said", names),
        Missing::NoSlack(names) => listed("Slack not noted", names),
        Missing::Waits { outlet, words } => format!("{outlet} waits: {words}"),
    }
}

fn ticks<'a>(model: &Model, room: &'a RoomToCover) -> impl Iterator<Item = Html> + use<'a> {
    let ticked = ticked(&model.fields, room);
    CoverCheck::ALL.into_iter().map(move |check| {
        let is_ticked = ticked.contains(&check);
        let action = Action::Submit(Form::Cover(CoverForm::Tick {
            room: room.room,
            check,
        }));
        let mark = if is_ticked { "☑" } else { "☐" };
        markup! {
            <li>
                <button type="button" class="tick-button" aria-pressed={is_ticked.to_string()} onclick={tap(action)}>
                    <span class="tick-mark" aria-hidden="true">{ mark }</span>{ check_words(check, room.cables) }
                </button>
            </li>
        }
    })
}

fn check_words(check: CoverCheck, cables: usize) -> String {
    match check {
        CoverCheck::Counted => format!("Counted: {cables}"),
        CoverCheck::Marked => "Every cable bears its code".to_owned(),
        CoverCheck::Photographed => "Open walls photographed".to_owned(),
        CoverCheck::Boxes => "Boxes in place".to_owned(),
        CoverCheck::NailPlates => "Nail plates on".to_owned(),
        CoverCheck::Slack => "Slack coiled and noted".to_owned(),
    }
}
