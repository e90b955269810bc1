//! What concerns the outlet as a whole: its exact place, its box, a further cable, a move.

use super::Desk;
use super::cable::text_form;
use super::fix::{NO_OTHER, reasons, targets};
use crate::app::remotes::{Remotes, of};
use crate::app::tags::TagAction;
use crate::app::wall::{Cause, WallForm, WallPart, are_tags_new, is_chosen, open_part, with_tags};
use crate::app::{Action, Field, Form, Model, Screen};
use crate::command::Want;
use crate::domain::length::{LengthUnit, Millimetres};
use crate::domain::place::TaggedPlace;
use crate::domain::work::{Waiting, WaitsFor, WallBox};
use crate::query::printed::place_tag;
use crate::query::remotes::jacks;
use crate::query::wall::{self, Belongs, OutletStanding};
use crate::tags::Choice;
use crate::ui::parts::medium::medium_fields;
use crate::ui::parts::{Tone, button, empty, known, page_of, pager, text_field};
use crate::ui::screens::room::rack_choice;
use crate::ui::wording::ends as words;
use crate::ui::{Html, tap};
use crate::view::markup;

const PARTS: [(WallPart, &str); 11] = [
    (WallPart::Spot, "Exact place, box\u{a0}…"),
    (WallPart::Slack, "Slack\u{a0}…"),
    (WallPart::Waits, "Waits, question\u{a0}…"),
    (WallPart::AddCable, "Add a cable\u{a0}…"),
    (WallPart::Purpose, "What it is for\u{a0}…"),
    (WallPart::Order, "Change order\u{a0}…"),
    (WallPart::Moved, "Outlet moved\u{a0}…"),
    (WallPart::Merge, "Merge with another outlet\u{a0}…"),
    (WallPart::SplitOff, "Split off cables\u{a0}…"),
    (WallPart::NoteOutlet, "Note\u{a0}…"),
    (WallPart::CancelOutlet, "Cancel outlet\u{a0}…"),
];

/// The exact place in words, as far as it is known, then the slack and the change order.
pub(super) fn spot_words(desk: Desk<'_>) -> Vec<String> {
    let view = desk.view;
    let unit = desk.model.unit;
    let mut said = words::exact_place(view, unit);
    said.extend(view.slack.as_ref().map(|slack| words::slack(slack, unit)));
    said.extend(words::order(&view.order));
    said
}

/// Draws the parts, or the open one alone below its button, where the thumb was.
pub(super) fn draw(desk: Desk<'_>) -> Html {
    let open = open_part(desk.model);
    // Of an outlet that was cancelled there is nothing left to say but a note.
    let is_wanted = desk.view.standing == OutletStanding::Wanted;
    let parts = || {
        let all = PARTS.iter();
        all.filter(move |(part, _)| is_wanted || *part == WallPart::NoteOutlet)
    };
    let open = parts().find(|(part, _)| Some(*part) == open);
    markup! {
        <section aria-labelledby="whole">
            <h2 id="whole">{ "This outlet" }</h2>
            { known(&desk.view.notes) }
            { known(&words::place_tag(&place_tag(desk.open.journal.registry(), TaggedPlace::Outlet(desk.id)))) }
            <div class="actions-pair">
                { button("Print tags of its cables", Action::Tags(TagAction::Of(Choice::Outlet(desk.id))), Tone::Quiet) }
                { button("Print its own tag", Action::Tags(TagAction::Of(Choice::Place(desk.id))), Tone::Quiet) }
                if !jacks(desk.open.journal.registry(), desk.id).is_empty() {
                    { button("Put numbered remotes in", Action::Scan(of(Remotes::Into(desk.id))), Tone::Quiet) }
                }
            </div>
            if let Some((part, label)) = open {
                <div class="fix" id="opened">
                    { desk.part_button(*part, label) }
                    { opened(desk, *part) }
                </div>
            } else {
                <div class="wall-grid">
                    { for parts().map(|(part, label)| desk.part_button(*part, label)) }
                </div>
            }
        </section>
    }
}

fn opened(desk: Desk<'_>, part: WallPart) -> Html {
    let model = desk.model;
    match part {
        WallPart::Spot => spot(desk),
        WallPart::Purpose => text_form(
            WallForm::Purpose(desk.id),
            text_field(
                model,
                Field::OutletPurpose,
                "What the outlet is for",
                "Such as “behind the sofa”",
            ),
            "Keep this",
        ),
        WallPart::AddCable => add_cable(desk),
        WallPart::Moved => moved(desk),
        WallPart::CancelOutlet => cancel(desk),
        WallPart::NoteOutlet => text_form(
            WallForm::NoteOutlet(desk.id),
            text_field(model, Field::Note, "Note on this outlet", ""),
            "Keep this note",
        ),
        WallPart::Slack => slack(desk),
        WallPart::Waits => waits(desk),
        WallPart::Order => text_form(
            WallForm::Order(desk.id),
            order_field(model),
            "Keep this change order",
        ),
        WallPart::Merge => merge(desk),
        WallPart::SplitOff => split_off(desk),
        WallPart::Crossed
        | WallPart::OrderCable
        | WallPart::DrawnFrom
        | WallPart::Jacket
        | WallPart::Elsewhere
        | WallPart::Repull
        | WallPart::Spare
        | WallPart::Dead
        | WallPart::CancelCable
        | WallPart::Made
        | WallPart::Local
        | WallPart::OldName
        | WallPart::NoteCable => markup! {},
    }
}

/// How a length is typed.
fn length_hint(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Feet => "18 is inches; 4' 6\" and 1.2 m can be typed too",
        LengthUnit::Metres => "1.2 is metres; 45 cm and 4' 6\" can be typed too",
    }
}

fn slack(desk: Desk<'_>) -> Html {
    let model = desk.model;
    let fields = markup! {
        <>
            { text_field(model, Field::SlackLength, "How much cable is coiled", length_hint(model.unit)) }
            { reads_as(desk, Field::SlackLength) }
            { text_field(model, Field::SlackPlace, "Where the coil is", "Such as “in the box”") }
        </>
    };
    text_form(WallForm::Slack(desk.id), fields, "Keep this slack")
}

fn waits(desk: Desk<'_>) -> Html {
    let now = desk.view.waits.as_ref();
    let now = now.map_or(WaitsFor::Nobody, |waits| waits.whom);
    let whom = [
        WaitsFor::Hold,
        WaitsFor::Builder,
        WaitsFor::Client,
        WaitsFor::Others,
        WaitsFor::Nobody,
    ];
    markup! {
        <>
            { text_field(desk.model, Field::Question, "The question, or why it waits", "") }
            <div class="wall-grid">
                { for whom.into_iter().map(|whom| {
                    let words = String::new();
                    let form = WallForm::Waits { outlet: desk.id, whom };
                    chip(Waiting { whom, words }.to_string(), whom == now, Action::Submit(Form::Wall(form)))
                }) }
            </div>
        </>
    }
}

/// The change order of an outlet or a cable.
pub(super) fn order_field(model: &Model) -> Html {
    text_field(
        model,
        Field::ChangeOrder,
        "Number of the change order",
        "Empty: it came with none",
    )
}

fn spot(desk: Desk<'_>) -> Html {
    let model = desk.model;
    let hint = length_hint(model.unit);
    let (other, label) = match model.unit {
        LengthUnit::Feet => (LengthUnit::Metres, "Type metres instead of feet"),
        LengthUnit::Metres => (LengthUnit::Feet, "Type feet instead of metres"),
    };
    let fields = markup! {
        <>
            { text_field(model, Field::OutletWall, "Which wall", "Such as “window wall”") }
            { text_field(model, Field::OutletHeight, "Height above finished floor", hint) }
            { reads_as(desk, Field::OutletHeight) }
            { text_field(model, Field::OutletOffset, "Distance from the nearest corner or jamb", "") }
            { reads_as(desk, Field::OutletOffset) }
            { text_field(model, Field::OutletOffsetFrom, "From which corner or jamb", "Such as “left jamb of the door”") }
        </>
    };
    markup! {
        <>
            <p class="ask">{ "Box" }</p>
            <div class="wall-grid">{ for boxes(desk) }</div>
            { text_form(WallForm::Spot(desk.id), fields, "Keep this place") }
            { button(label, Action::SetUnit(other), Tone::Quiet) }
        </>
    }
}

/// What a typed length is understood as, while it is typed.
fn reads_as(desk: Desk<'_>, field: Field) -> Html {
    let typed = desk.model.fields.get(field).trim();
    if typed.is_empty() {
        return markup! {};
    }
    let unit = desk.model.unit;
    let words = match Millimetres::read(typed, unit) {
        Ok(length) => format!("= {}", length.in_words(unit)),
        Err(bad) => bad.to_string(),
    };
    markup! { <p class="reads-as" aria-live="polite">{ words }</p> }
}

fn boxes(desk: Desk<'_>) -> Vec<Html> {
    let boxes = (1..=4).map(WallBox::Gangs);
    boxes
        .chain([WallBox::Ring, WallBox::None])
        .map(|wall_box| {
            let chosen = desk.view.wall_box == Some(wall_box);
            let want = Want::BoxOutlet {
                outlet: desk.id,
                wall_box,
            };
            let action = if chosen {
                Action::Nothing
            } else {
                Action::Do { want, then: None }
            };
            chip(words::wall_box(wall_box), chosen, action)
        })
        .collect()
}

/// One of several, which is chosen or not.
fn chip(words: String, chosen: bool, action: Action) -> Html {
    markup! {
        <button type="button" class="button chip" aria-pressed={chosen.to_string()} onclick={tap(action)}>{ words }</button>
    }
}

fn add_cable(desk: Desk<'_>) -> Html {
    let fields = markup! {
        <>
            { medium_fields(desk.model) }
            { text_field(desk.model, Field::CablePurpose, "What it is for", "Stands in words on its tag") }
            { rack_choice(desk.model, desk.open) }
        </>
    };
    text_form(WallForm::AddCable(desk.id), fields, "Add this cable")
}

fn moved(desk: Desk<'_>) -> Html {
    let registry = desk.open.journal.registry();
    let rooms = wall::target_rooms(registry, desk.id);
    markup! {
        <>
            <p class="ask">{ "Within this room only its exact place changes. To another room, its number changes too." }</p>
            { tags(desk) }
            <div class="wall-grid">
                { for page_of(&rooms, desk.model.page).iter().map(|to| {
                    if Some(to.room) == desk.view.room {
                        return desk.part_button(WallPart::Spot, "Within this room\u{a0}…");
                    }
                    let want = Want::MoveOutlet { outlet: desk.id, room: to.room, number: to.number };
                    desk.doing(format!("To {}, as {}", to.name, to.code), with_tags(desk.model, want))
                }) }
            </div>
            { pager(desk.model.page, rooms.len()) }
        </>
    }
}

fn merge(desk: Desk<'_>) -> Html {
    let (from, code) = (desk.id, &desk.view.code);
    let outlets = wall::targets(desk.open.journal.registry(), from);
    if outlets.is_empty() {
        return empty(NO_OTHER, markup! {});
    }
    markup! {
        <>
            <p class="ask">{ format!("Which outlet gets the cables of {code}? {code} is cancelled.") }</p>
            { tags(desk) }
            { targets(desk, &outlets, &|into| {
                let want = with_tags(desk.model, Want::MergeOutlets { from, into: into.id });
                let then = Some(Screen::Outlet(into.id));
                button(format!("Merge with {}", into.code), Action::Do { want, then }, Tone::Quiet)
            }) }
        </>
    }
}

/// What becomes of the codes that stand on its cables.
fn tags(desk: Desk<'_>) -> Html {
    if !wall::any_coded(desk.open.journal.registry(), desk.id) {
        return markup! {};
    }
    let new = are_tags_new(desk.model);
    let choose = |words: &str, text: &str, chosen| {
        let text = text.to_owned();
        let field = Field::NewTags;
        chip(words.to_owned(), chosen, Action::Typed { field, text })
    };
    markup! {
        <>
            <p class="ask">{ "Some of its cables bear codes already." }</p>
            <div class="wall-grid">
                { choose("They keep them", "", !new) }
                { choose("New tags", "new", new) }
            </div>
        </>
    }
}

fn split_off(desk: Desk<'_>) -> Html {
    let own = desk.view.ends.iter();
    let own = own.filter(|end| end.belongs == Belongs::Own);
    markup! {
        <>
            <p class="ask">{ "Which cables get an outlet of their own beside this one?" }</p>
            <div class="wall-grid">
                { for own.map(|end| {
                    let cable = end.end.cable;
                    let form = Form::Wall(WallForm::ChooseSplit(cable));
                    chip(end.code.clone(), is_chosen(desk.model, cable), Action::Submit(form))
                }) }
            </div>
            { tags(desk) }
            { button("Split these off", Action::Submit(Form::Wall(WallForm::SplitOff(desk.id))), Tone::Quiet) }
        </>
    }
}

fn cancel(desk: Desk<'_>) -> Html {
    reasons(
        desk,
        Cause::CancelOutlet(desk.id),
        &["Not needed", "The client changed it"],
    )
}
