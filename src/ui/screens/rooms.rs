//! Planning units, floors and rooms.

use crate::app::plan::{NOWHERE, PlanForm, Planned, room_part};
use crate::app::{Action, Field, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::ids::{RoomId, ThingId, UnitId};
use crate::domain::picture::Shows;
use crate::query::pictures::About;
use crate::query::plan::{self, FloorLine, Named, RoomPlan};
use crate::query::wall;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::opening::{
    Face, card, floor_number, opening, plan_form, recode_form, rename_form, room_code_field,
};
use crate::ui::parts::{
    Tone, button, choice, code, empty, likely_choice, page_of, pager, text_field,
};
use crate::ui::screens::pictures;
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the rooms to plan them.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let rooms = plan::rooms(registry);
    let parts = Parts::of(open);
    let mut page = Page::new("Rooms and floors");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    page.body = markup! {
        <>
            <section aria-labelledby="rooms">
                <h2 id="rooms">{ "Rooms in walking order" }</h2>
                if rooms.is_empty() {
                    { empty("No room here yet. Add the first one that you walk into.", markup! {}) }
                } else {
                    <ul class="rows">{ for page_of(&rooms, model.page).iter().map(|room| room_row(model, &parts, room)) }</ul>
                    { pager(model.page, rooms.len()) }
                }
            </section>
            { add_room(model, &parts) }
            { floors(model, open, &parts) }
            { units(model, &parts) }
        </>
    };
    // The outlets come next, room by room, and stand elsewhere.
    let bare = wall::walls(registry)
        .rooms
        .into_iter()
        .find(|room| room.outlets == 0);
    if let Some(room) = bare {
        let words = ["Add the outlets of ", &room.code].concat();
        page.actions = button(words, Action::Go(Screen::Room(room.room)), Tone::Main);
    }
    framed(model, page)
}

/// Floors and units with their names.
struct Parts {
    floors: Vec<FloorLine>,
    units: Vec<Named<UnitId>>,
}

type Options = Vec<(String, String)>;

impl Parts {
    fn of(open: &OpenJob) -> Self {
        let registry = open.journal.registry();
        Self {
            floors: plan::floors(registry),
            units: plan::units(registry),
        }
    }

    fn floor_options(&self) -> Options {
        let floors = self.floors.iter();
        floors
            .map(|floor| (floor.id.0.to_string(), floor.name.clone()))
            .collect()
    }

    fn unit_options(&self) -> Options {
        let units = self.units.iter();
        units
            .map(|unit| (unit.id.0.to_string(), unit.name.clone()))
            .collect()
    }
}

/// The parts of a job that a room may be in, with the way to say that it is in none.
fn or_nowhere(mut options: Options, none: &str) -> Options {
    options.push((NOWHERE.to_owned(), none.to_owned()));
    options
}

fn room_row(model: &Model, parts: &Parts, room: &RoomPlan) -> Html {
    let thing = Planned::Room(room.room);
    let face = Face {
        lead: code(room.code.clone()),
        text: room.name.clone().into(),
        note: model
            .registry()
            .map(|registry| wall::part(registry, room.room))
            .unwrap_or_default()
            .into(),
    };
    opening(model, thing, face, || {
        markup! {
            <>
                { order(room) }
                { rename_form(model, thing) }
                { recode_form(model, thing, "Code", "It stands first on every tag. Tags that are written keep the old one.") }
                { put(model, parts, room) }
                { button("Open this room at the wall", Action::Go(Screen::Room(room.room)), Tone::Quiet) }
            </>
        }
    })
}

/// The ways to an earlier or later place in the walking order.
fn order(room: &RoomPlan) -> Html {
    let step = |words: &'static str, other: Option<RoomId>| {
        let want = other.map(|other| Want::SwapRooms {
            one: room.room,
            other,
        });
        let action = want.map_or(Action::Nothing, |want| Action::Do { want, then: None });
        markup! { <button type="button" class="button" disabled={other.is_none()} onclick={tap(action)}>{ words }</button> }
    };
    markup! {
        <div class="actions-pair">
            { step("↑ Walk it earlier", room.earlier) }
            { step("↓ Walk it later", room.later) }
        </div>
    }
}

fn put(model: &Model, parts: &Parts, room: &RoomPlan) -> Html {
    if parts.floors.is_empty() && parts.units.is_empty() {
        return markup! { <p class="hint">{ "Add a floor or a unit below to put this room there." }</p> };
    }
    let with_none = |mut options: Options, words: &str| {
        options.insert(0, (String::new(), words.to_owned()));
        options
    };
    let floors = with_none(parts.floor_options(), "On no floor");
    let units = with_none(parts.unit_options(), "In no unit");
    let fields = markup! {
        <>
            if !parts.floors.is_empty() {
                { choice(model, Field::EditFloor, "Floor", floors) }
            }
            if !parts.units.is_empty() {
                { choice(model, Field::EditUnit, "Building or unit", units) }
            }
        </>
    };
    plan_form(PlanForm::PutRoom(room.room), fields, "Put the room there")
}

fn add_room(model: &Model, parts: &Parts) -> Html {
    let (floor, unit) = room_part(model);
    let likely = |id: Option<ThingId>| {
        let id = id.map(|id| id.to_string());
        Some(id.unwrap_or_else(|| NOWHERE.to_owned()))
    };
    let (floor, unit) = (likely(floor.map(|id| id.0)), likely(unit.map(|id| id.0)));
    let fields = markup! {
        <>
            { text_field(model, Field::RoomName, "Name of the room", "As people on site call it") }
            if !parts.floors.is_empty() {
                { likely_choice(model, Field::RoomFloor, "Floor", or_nowhere(parts.floor_options(), "On no floor"), floor) }
            }
            if !parts.units.is_empty() {
                { likely_choice(model, Field::RoomUnit, "Building or unit", or_nowhere(parts.unit_options(), "In no unit"), unit) }
            }
            { room_code_field(model) }
        </>
    };
    card(
        "add-room",
        "Add a room",
        plan_form(PlanForm::AddRoom, fields, "Add this room"),
    )
}

fn unit_row(model: &Model, unit: &Named<UnitId>) -> Html {
    let thing = Planned::Unit(unit.id);
    let face = Face {
        lead: markup! {},
        text: unit.name.clone().into(),
        note: "".into(),
    };
    opening(model, thing, face, || rename_form(model, thing))
}

/// The sheet of the plans that shows a floor.
fn sheet_form(model: &Model, floor: &FloorLine) -> Html {
    let field = text_field(
        model,
        Field::FloorSheet,
        "Sheet of the plans",
        "Such as E2.1",
    );
    plan_form(PlanForm::PutFloor(floor.id), field, "Keep this sheet")
}

fn floor_row(model: &Model, open: &OpenJob, floor: &FloorLine) -> Html {
    let thing = Planned::Floor(floor.id);
    let number = floor.number.map(|number| format!("floor {number}"));
    let sheet = (!floor.sheet.is_empty()).then(|| format!("sheet {}", floor.sheet));
    let note: Vec<String> = number.into_iter().chain(sheet).collect();
    let face = Face {
        lead: markup! {},
        text: floor.name.clone().into(),
        note: note.join(", ").into(),
    };
    opening(model, thing, face, || {
        markup! {
            <>
                { rename_form(model, thing) }
                { sheet_form(model, floor) }
                <p class="hint">{ "A picture of its plan shows where each outlet is." }</p>
                { pictures::part(model, open, About::Shown(Shows::Plan(floor.id))) }
            </>
        }
    })
}

fn floors(model: &Model, open: &OpenJob, parts: &Parts) -> Html {
    let fields = markup! {
        <>
            { text_field(model, Field::FloorName, "Name of the floor", "") }
            { floor_number(model, Field::FloorNumber) }
        </>
    };
    card(
        "floors",
        "Floors",
        markup! {
            <>
                <ul class="rows">
                    { for parts.floors.iter().map(|floor| floor_row(model, open, floor)) }
                </ul>
                { plan_form(PlanForm::AddFloor, fields, "Add this floor") }
            </>
        },
    )
}

fn units(model: &Model, parts: &Parts) -> Html {
    let field = text_field(
        model,
        Field::UnitName,
        "Name of the building or unit",
        "Such as “Flat A”: its letter then stands in front of the codes of its rooms.",
    );
    card(
        "units",
        "Buildings and units",
        markup! {
            <>
                <ul class="rows">
                    { for parts.units.iter().map(|unit| unit_row(model, unit)) }
                </ul>
                { plan_form(PlanForm::AddUnit, field, "Add this unit") }
            </>
        },
    )
}
