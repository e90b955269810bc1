//! Putting a cable right: each exception opens with one tap and is done with the next. Where tags
//! and record disagree, the two buttons ask which of them was wrong.

use yew::{Html, html};

use super::Desk;
use super::cable::{FIXES, both_ends, text_form};
use crate::app::wall::{Cause, OWN_MEDIUM, WallForm, WallPart, open_part};
use crate::app::{Action, Field};
use crate::command::{Correction, Want};
use crate::domain::medium::Medium;
use crate::domain::place::{RunKind, Side};
use crate::query::wall::{self, EndHere, Target};
use crate::ui::parts::{Tone, button, choice, code, empty, page_of, pager, text_field};

/// Draws the ways to put a cable right, with the open one below its button.
pub(super) fn draw(desk: Desk<'_>, end: &EndHere) -> Html {
    let open = open_part(desk.model);
    let is_open = FIXES.iter().any(|(part, _)| Some(*part) == open);
    html! {
        <>
            if is_open {
                <div class="fix">
                    { for FIXES.iter().filter(|(part, _)| Some(*part) == open).map(|(part, label)| html! {
                        <>{ desk.part_button(*part, label) }{ opened(desk, end, *part) }</>
                    }) }
                </div>
            } else {
                <div class="wall-grid">
                    { for FIXES.iter().map(|(part, label)| desk.part_button(*part, label)) }
                    { both_ends(desk, end) }
                </div>
            }
        </>
    }
}

fn opened(desk: Desk<'_>, end: &EndHere, part: WallPart) -> Html {
    let (ui, model) = (desk.ui, desk.model);
    let cable = end.end.cable;
    match part {
        WallPart::Crossed => crossed(desk, end),
        WallPart::Elsewhere => elsewhere(desk, end),
        WallPart::Repull => reasons(
            desk,
            Cause::Repull(cable),
            &["Drilled through", "Too short", "Stuck", "Damaged"],
        ),
        WallPart::Spare => reasons(desk, Cause::Spare(end.end), &["FUTURE", "No device yet"]),
        WallPart::Dead => reasons(
            desk,
            Cause::Dead(end.end),
            &["Damaged", "Not in use any more"],
        ),
        WallPart::CancelCable => reasons(
            desk,
            Cause::CancelCable(cable),
            &["Not needed", "The client changed it"],
        ),
        WallPart::Made => made(desk, end),
        WallPart::Local => local(desk, end),
        WallPart::OldName => text_form(
            desk,
            WallForm::OldName(cable),
            text_field(
                ui,
                model,
                Field::CableOldName,
                "What is or was written on it",
                "",
            ),
            "Keep this name too",
        ),
        WallPart::NoteCable => text_form(
            desk,
            WallForm::NoteCable(cable),
            text_field(ui, model, Field::Note, "Note on this cable", ""),
            "Keep this note",
        ),
        WallPart::Spot
        | WallPart::Purpose
        | WallPart::AddCable
        | WallPart::Moved
        | WallPart::CancelOutlet
        | WallPart::NoteOutlet => html! {},
    }
}

/// One tap on a usual reason, or another one in words.
pub(super) fn reasons(desk: Desk<'_>, cause: Cause, usual: &[&'static str]) -> Html {
    html! {
        <>
            <p class="ask">{ "Why?" }</p>
            <div class="wall-grid">
                { for usual.iter().map(|reason| desk.doing(*reason, cause.want(reason))) }
            </div>
            { text_form(desk, WallForm::Reason(cause), text_field(desk.ui, desk.model, Field::Reason, "Another reason", ""), "For this reason") }
        </>
    }
}

/// A list to choose from, each row with the buttons that its choice needs.
fn targets<T: Copy>(
    desk: Desk<'_>,
    found: &[Target<T>],
    buttons: impl Fn(&Target<T>) -> Html,
) -> Html {
    html! {
        <>
            <ul class="rows">
                { for page_of(found, desk.model.page).iter().map(|target| html! {
                    <li class="row target">
                        <p>{ code(target.code.clone()) }{ " " }{ &target.name }</p>
                        <div class="wall-grid">{ buttons(target) }</div>
                    </li>
                }) }
            </ul>
            { pager(desk.ui, desk.model.page, found.len()) }
        </>
    }
}

fn crossed(desk: Desk<'_>, end: &EndHere) -> Html {
    let registry = desk.open.journal.registry();
    let a = end.end.cable;
    let mates = wall::mates(registry, a, desk.id);
    if mates.is_empty() {
        return empty(
            "There is no other cable in this room that it could be crossed with.",
            html! {},
        );
    }
    html! {
        <>
            <p class="ask">{ format!("{} was taken for which cable, here at the wall? Say too what you put right.", end.code) }</p>
            { targets(desk, &mates, |mate| {
                let uncross = |how| Want::Uncross { a, b: mate.id, side: Side::Near, how };
                html! {
                    <>
                        { desk.doing(format!("Tags moved: {} ⇄ {}", end.code, mate.code), uncross(Correction::TagsMove)) }
                        if wall::any_landed(registry, &[a, mate.id]) {
                            { desk.doing("The record changes", uncross(Correction::RecordChanges)) }
                        }
                    </>
                }
            }) }
        </>
    }
}

fn elsewhere(desk: Desk<'_>, end: &EndHere) -> Html {
    let outlets = wall::targets(desk.open.journal.registry(), desk.id);
    if outlets.is_empty() {
        return empty(
            "There is no other outlet yet. Add the one where it came out first.",
            html! {},
        );
    }
    let cable = end.end.cable;
    html! {
        <>
            <p class="ask">{ format!("Where did {} come out? Say too what you put right.", end.code) }</p>
            { targets(desk, &outlets, |at| {
                let came_out = |how| Want::CameOutAt { cable, outlet: at.id, how };
                html! {
                    <>
                        { desk.doing(format!("Tags moved: named after {}", at.code), came_out(Correction::TagsMove)) }
                        { desk.doing(format!("The record changes: stays {}", end.code), came_out(Correction::RecordChanges)) }
                    </>
                }
            }) }
        </>
    }
}

/// The media to choose from, with the way to name another one.
pub(super) fn medium_fields(desk: Desk<'_>) -> Html {
    let stock = Medium::stock().into_iter();
    let own = (OWN_MEDIUM.to_owned(), "Something else".to_owned());
    let options = stock
        .map(|medium| (medium.key(), medium.to_string()))
        .chain([own]);
    html! {
        <>
            { choice(desk.ui, desk.model, Field::CableMedium, "Medium", options) }
            if desk.model.fields.get(Field::CableMedium) == OWN_MEDIUM {
                { text_field(desk.ui, desk.model, Field::CableOwnMedium, "What it is made of, in words", "") }
            }
        </>
    }
}

fn made(desk: Desk<'_>, end: &EndHere) -> Html {
    let cable = end.end.cable;
    html! {
        <>
            { text_form(desk, WallForm::Medium(cable), medium_fields(desk), "Change the medium") }
            { text_form(
                desk,
                WallForm::CablePurpose(cable),
                text_field(desk.ui, desk.model, Field::CablePurpose, "What it is for", "Stands in words on its tag"),
                "Change the purpose",
            ) }
        </>
    }
}

/// Where the cable comes from: a rack, or another outlet, which makes it a local run.
fn local(desk: Desk<'_>, end: &EndHere) -> Html {
    let registry = desk.open.journal.registry();
    let cable = end.end.cable;
    let (racks, outlets) = (wall::racks(registry), wall::targets(registry, desk.id));
    let now = match end.kind {
        RunKind::LocalRun => "Now it comes from another outlet",
        RunKind::HomeRun | RunKind::TieLine => "Now it runs home",
    };
    html! {
        <>
            <p class="ask">{ format!("{now}: {}.", end.other_place) }</p>
            <div class="wall-grid">
                if racks.is_empty() {
                    { desk.doing("Home to a rack, not chosen yet", Want::RouteHome { cable, rack: None }) }
                }
                { for racks.iter().map(|rack| {
                    let want = Want::RouteHome { cable, rack: Some(rack.id) };
                    desk.doing(format!("Home to {}", rack.name), want)
                }) }
            </div>
            { targets(desk, &outlets, |from| {
                let want = Want::RouteLocal { cable, from: from.id };
                button(desk.ui, format!("Local run from {}", from.code), Action::Do { want, then: None }, Tone::Quiet)
            }) }
        </>
    }
}
