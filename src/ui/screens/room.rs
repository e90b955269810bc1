//! A room: its outlets by number, and a new one in one tap.

use crate::ui::{Html, go, tap};
use crate::view::markup;

use crate::app::wall::WallForm;
use crate::app::{Action, Field, Form, Model, OpenJob, Screen};
use crate::domain::ids::RoomId;
use crate::domain::picture::Shows;
use crate::query::pictures::About;
use crate::query::wall::{self, KindChoice, OutletLine, RoomView};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::plate::small_plate;
use crate::ui::parts::{
    Shape, Tone, button, cancelled, code, empty, likely_choice, page_of, pager, row, state,
    text_field,
};
use crate::ui::screens::pictures;

/// Draws a room.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: RoomId) -> Html {
    let registry = open.journal.registry();
    let Some(room) = wall::room(registry, id) else {
        return gone(model);
    };
    let mut page = Page::new("");
    page.title = markup! { <>{ room.name.clone() }{ " " }{ code(room.code.clone()) }</> };
    page.above = where_it_is(open, &room);
    page.back = Some(Screen::Wall);
    page.body = markup! {
        <>
            if room.outlets.is_empty() {
                { empty("No outlet in this room yet. Tap below what the first one is.", markup! {}) }
            } else {
                <ul class="rows">
                    { for page_of(&room.outlets, model.page).iter().map(outlet_row) }
                </ul>
                { pager(model.page, room.outlets.len()) }
                { button("OK to cover?", Action::Go(Screen::Cover(id)), Tone::Quiet) }
            }
            { add_outlet(model, open, id) }
            { cancelled(wall::cancelled_in(registry, id).into_iter().map(|gone| {
                row(Action::Go(Screen::Outlet(gone.id)), code(gone.code), gone.name, "›")
            }).collect()) }
            { pictures::part(model, open, About::Shown(Shows::Room(id))) }
        </>
    };
    page.actions = next(open, &room);
    framed(model, page)
}

fn gone(model: &Model) -> Html {
    let mut page = Page::new("This room is not in the job");
    page.body = empty(
        "It was taken back, or it comes with records that are not here yet.",
        markup! {},
    );
    page.actions = button("To the rooms", Action::Go(Screen::Wall), Tone::Main);
    framed(model, page)
}

fn where_it_is(open: &OpenJob, room: &RoomView) -> String {
    if room.part.is_empty() {
        format!("{}, wall", open.name())
    } else {
        format!("{}, {}", open.name(), room.part)
    }
}

/// The next outlet where an end is not marked, in this room before all others.
fn next(open: &OpenJob, room: &RoomView) -> Html {
    let here = room
        .outlets
        .iter()
        .find(|outlet| outlet.progress.marked < outlet.progress.ends);
    let (code, outlet) = match here {
        Some(line) => (line.code.clone(), line.outlet),
        None => {
            let last = room.outlets.last().map(|line| line.outlet);
            match wall::next_outlet(open.journal.registry(), last) {
                Some(next) => (format!("{}, {}", next.code, next.room), next.outlet),
                None => return markup! {},
            }
        }
    };
    let to = Action::GoOn(Screen::Outlet(outlet));
    button(format!("Next outlet: {code}"), to, Tone::Main)
}

fn outlet_row(outlet: &OutletLine) -> Html {
    let note = match outlet.progress.ends {
        0 => "no cable".to_owned(),
        ends if ends == outlet.progress.marked => "● all marked".to_owned(),
        ends => format!("{} of {ends} marked", outlet.progress.marked),
    };
    markup! {
        <li class="row" key={outlet.outlet.0.to_string()}>
            <button type="button" class="row-button" onclick={go(Screen::Outlet(outlet.outlet))}>
                <span class="row-lead">{ small_plate(&outlet.ends) }</span>
                <span class="row-text">{ code(outlet.code.clone()) }{ " " }{ &outlet.name }
                    if let Some(waits) = &outlet.waits {
                        { " " }{ state(Shape::Alarm, waits.to_string()) }
                    }
                </span>
                <span class="row-note">{ note }</span>
            </button>
        </li>
    }
}

fn add_outlet(model: &Model, open: &OpenJob, room: RoomId) -> Html {
    let registry = open.journal.registry();
    markup! {
        <section class="card" aria-labelledby="add-outlet">
            <h2 id="add-outlet">{ "Add an outlet" }</h2>
            if let Some(by) = model.crew.in_room(open.journal.job(), room) {
                <p class="notice told">{ format!("At work here too when their work came in last: {by}. Take in their latest before you add here: two outlets may get one number.") }</p>
            }
            { text_field(model, Field::OutletPurpose, "What it is for, if you want", "Such as “behind the sofa”") }
            { rack_choice(model, open) }
            <p class="hint">{ "One tap on its type adds it with its cables." }</p>
            <ul class="kinds">{ for wall::kinds(registry).iter().map(|kind| kind_button(room, kind)) }</ul>
        </section>
    }
}

/// Which rack the cables run to; asked only where there are several.
pub(in crate::ui) fn rack_choice(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let racks = wall::racks(registry);
    if racks.len() < 2 {
        return markup! {};
    }
    let likely = wall::default_rack(registry);
    let none = likely
        .is_none()
        .then(|| (String::new(), "Not chosen yet".to_owned()));
    let options = none.into_iter().chain(racks.into_iter().map(|rack| {
        (
            rack.id.0.to_string(),
            format!("{} {}", rack.code, rack.name),
        )
    }));
    likely_choice(
        model,
        Field::OutletRack,
        "Rack that its cables run to",
        options,
        likely.map(|rack| rack.0.to_string()),
    )
}

fn kind_button(room: RoomId, kind: &KindChoice) -> Html {
    let cables = match kind.cables {
        1 => "1 cable".to_owned(),
        count => format!("{count} cables"),
    };
    let form = Form::Wall(WallForm::AddOutlet {
        room,
        kind: kind.kind,
    });
    markup! {
        <li>
            <button type="button" class="kind" onclick={tap(Action::Submit(form))}>
                <span class="kind-words">{ &kind.words }</span>
                <span class="kind-note">{ cables }</span>
            </button>
        </li>
    }
}
