//! At the wall: rooms in walking order, and the next outlet.

use crate::app::mend::missing;
use crate::app::plan::PlanForm;
use crate::app::{Action, Caution, Field, Form, Model, OpenJob, Screen};
use crate::query::Tally;
use crate::query::wall::{self, RoomLine};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::caution::caution;
use crate::ui::parts::opening::room_code_field;
use crate::ui::parts::{Shape, Tone, button, empty, page_of, pager, state, text_field};
use crate::ui::{Html, go, sending};
use crate::view::markup;

/// Draws the rooms.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let wall::Walls { rooms, all } = wall::walls(registry);
    let mut page = Page::new("At the wall");
    page.above = open.name().to_owned();
    page.body = markup! {
        <>
            if open.journal.waiting() > 0 {
                { for missing(&open.journal).iter().map(|of| markup! {
                    <p class="notice told">{ &of.title }{ " " }{ of.detail.join(" ") }</p>
                }) }
            }
            { caution(model, Caution::FirstSteps) }
            if rooms.is_empty() {
                { empty("No room here yet. Add the first one that you walk into; the walk goes on in the order in which you add them.", markup! {}) }
            } else {
                { whole(all) }
                <div class="actions-three">
                    { button("The pull", Action::Go(Screen::Pull), Tone::Quiet) }
                    { button("Not to be covered yet", Action::Go(Screen::Covers), Tone::Quiet) }
                    { button("Summary of the day", Action::Submit(Form::Evening), Tone::Quiet) }
                </div>
                { list(model, open, &rooms) }
            }
            { add_room(model) }
            { caution(model, Caution::Wall) }
        </>
    };
    if let Some(next) = wall::next_outlet(registry, None) {
        let label = format!("Next outlet: {}, {}", next.code, next.room);
        page.actions = button(label, Action::Go(Screen::Outlet(next.outlet)), Tone::Main);
    }
    framed(model, page)
}

/// How far the whole job is at the wall.
fn whole(all: Tally) -> Html {
    let words = match all {
        Tally { cables: 0, .. } => {
            "No outlet yet. Open a room and choose what its first outlet is.".to_owned()
        }
        Tally { cables, marked, .. } if cables == marked => {
            format!("All {cables} cables to outlets are marked at the wall.")
        }
        Tally { cables, marked, .. } => {
            format!("{marked} of {cables} cables to outlets marked at the wall.")
        }
    };
    markup! { <p class="lead">{ words }</p> }
}

fn list(model: &Model, open: &OpenJob, rooms: &[RoomLine]) -> Html {
    let shown = page_of(rooms, model.page);
    let mut part = "";
    markup! {
        <>
            <ul class="rows">
                { for shown.iter().map(|room| {
                    let heading = (room.part != part).then_some(match room.part.as_str() {
                        "" => "On no floor",
                        known => known,
                    });
                    part = &room.part;
                    let others = model.crew.in_room(open.journal.job(), room.room);
                    room_row(room, heading, others)
                }) }
            </ul>
            { pager(model.page, rooms.len()) }
        </>
    }
}

fn room_row(room: &RoomLine, heading: Option<&str>, others: Option<&str>) -> Html {
    markup! {
        <li class="row" key={room.room.0.to_string()}>
            if let Some(words) = heading {
                <p class="row-heading">{ words.to_owned() }</p>
            }
            <button type="button" class="row-button" onclick={go(Screen::Room(room.room))}>
                <span class="row-lead code">{ &room.code }</span>
                <span class="row-text">
                    { &room.name }
                    if let Some(by) = others {
                        <br />{ state(Shape::Half, format!("{by} too")) }
                    }
                </span>
                <span class="row-note">{ progress(room) }</span>
                <span class="row-bar">{ bar(room.tally) }</span>
            </button>
        </li>
    }
}

fn progress(room: &RoomLine) -> Html {
    if room.outlets == 0 {
        return markup! { { "no outlet yet" } };
    }
    let Tally {
        cables,
        marked,
        pulled,
        ..
    } = room.tally;
    markup! { <>{ format!("{marked} of {cables} marked") }<br />{ format!("{pulled} pulled") }</> }
}

/// Progress as a bar: marked in full, pulled as a line.
fn bar(tally: Tally) -> Html {
    if tally.cables == 0 {
        return markup! {};
    }
    let share = |count: usize| (count * 300 / tally.cables).to_string();
    markup! {
        <svg class="progress" aria-hidden="true" viewBox="0 0 300 8" preserveAspectRatio="none">
            <rect class="of" width="300" height="8" />
            <rect class="done" width={share(tally.marked)} height="8" />
        </svg>
    }
}

fn add_room(model: &Model) -> Html {
    markup! {
        <section class="card" aria-labelledby="add-room">
            <h2 id="add-room">{ "Add a room" }</h2>
            <form onsubmit={sending(Form::Plan(PlanForm::AddRoom))}>
                { text_field(model, Field::RoomName, "Name of the room", "As people on site call it") }
                { room_code_field(model) }
                <button type="submit" class="button">{ "Add this room" }</button>
            </form>
        </section>
    }
}
