//! Putting a cable right: each exception opens with one tap and is done with the next. Where tags
//! and record disagree, the two buttons ask which of them was wrong.

use super::Desk;
use super::cable::{FIXES, both_ends, text_form};
use super::whole::order_field;
use crate::app::wall::{Cause, WallForm, WallPart, open_part};
use crate::app::{Action, Field};
use crate::command::{Correction, Want};
use crate::domain::place::{End, RunKind, Side};
use crate::query::wall::{self, EndHere, Target};
use crate::ui::Html;
use crate::ui::parts::medium::medium_fields;
use crate::ui::parts::{Tone, button, code, empty, number_field, page_of, pager, text_field};
use crate::view::markup;

/// What is said where another outlet is to be chosen and there is none.
pub(super) const NO_OTHER: &str = "There is no other outlet yet. Add it in its room first.";

/// Draws the ways to put a cable right, with the open one below its button.
pub(super) fn draw(desk: Desk<'_>, end: &EndHere) -> Html {
    let open = open_part(desk.model);
    let is_open = FIXES.iter().any(|(part, _)| Some(*part) == open);
    markup! {
        <>
            if is_open {
                <div class="fix" id="opened">
                    { for FIXES.iter().filter(|(part, _)| Some(*part) == open).map(|(part, label)| markup! {
                        <>{ desk.part_button(*part, label) }{ opened(desk, end, *part) }</>
                    }) }
                </div>
            } else {
                <div class="wall-grid">
                    { for FIXES.iter().map(|(part, label)| desk.part_button(*part, label)) }
                    { both_ends(end) }
                </div>
            }
        </>
    }
}

fn opened(desk: Desk<'_>, end: &EndHere, part: WallPart) -> Html {
    let model = desk.model;
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
        WallPart::Jacket => jacket(desk, end),
        WallPart::Local => local(desk, end),
        WallPart::OldName => text_form(
            WallForm::OldName(cable),
            text_field(
                model,
                Field::CableOldName,
                "What is or was written on it",
                "",
            ),
            "Keep this name too",
        ),
        WallPart::NoteCable => text_form(
            WallForm::NoteCable(cable),
            text_field(model, Field::Note, "Note on this cable", ""),
            "Keep this note",
        ),
        WallPart::DrawnFrom => text_form(
            WallForm::DrawnFrom(cable),
            number_field(
                model,
                Field::CableFrom,
                "Number of the box or spool",
                "Of the one that it was really drawn from",
            ),
            "Keep this box",
        ),
        WallPart::OrderCable => text_form(
            WallForm::OrderCable(cable),
            order_field(model),
            "Keep this change order",
        ),
        WallPart::Spot
        | WallPart::Slack
        | WallPart::Waits
        | WallPart::Order
        | WallPart::Merge
        | WallPart::SplitOff
        | WallPart::Purpose
        | WallPart::AddCable
        | WallPart::Moved
        | WallPart::CancelOutlet
        | WallPart::NoteOutlet => markup! {},
    }
}

/// One tap on a usual reason, or another one in words.
pub(super) fn reasons(desk: Desk<'_>, cause: Cause, usual: &[&'static str]) -> Html {
    markup! {
        <>
            <p class="ask">{ "Why?" }</p>
            <div class="wall-grid">
                { for usual.iter().map(|reason| desk.doing(*reason, cause.want(reason))) }
            </div>
            { text_form(WallForm::Reason(cause), text_field(desk.model, Field::Reason, "Another reason", ""), "For this reason") }
        </>
    }
}

/// A list to choose from, each row with the buttons that its choice needs.
pub(super) fn targets<T: Copy>(
    desk: Desk<'_>,
    found: &[Target<T>],
    buttons: &dyn Fn(&Target<T>) -> Html,
) -> Html {
    markup! {
        <>
            <ul class="rows">
                { for page_of(found, desk.model.page).iter().map(|target| markup! {
                    <li class="row target">
                        <p>{ code(target.code.clone()) }{ " " }{ &target.name }</p>
                        <div class="wall-grid">{ buttons(target) }</div>
                    </li>
                }) }
            </ul>
            { pager(desk.model.page, found.len()) }
        </>
    }
}

/// Cables that were made as one and are pulled as one.
fn jacket(desk: Desk<'_>, end: &EndHere) -> Html {
    let registry = desk.open.journal.registry();
    let cable = end.end.cable;
    let mates = wall::mates(registry, cable, desk.id);
    if mates.is_empty() {
        return empty("There is no other cable in this room.", markup! {});
    }
    markup! {
        <>
            <p class="ask">{ format!("Which cable lies in one jacket with {}? They are pulled as one.", end.code) }</p>
            { targets(desk, &mates, &|mate| {
                let (cables, jacket) = wall::one_jacket(registry, cable, mate.id);
                desk.doing(format!("One jacket with {}", mate.code), Want::ShareJacket { cables, jacket })
            }) }
        </>
    }
}

fn crossed(desk: Desk<'_>, end: &EndHere) -> Html {
    let registry = desk.open.journal.registry();
    let mates = wall::mates(registry, end.end.cable, desk.id);
    if mates.is_empty() {
        return empty(
            "There is no other cable in this room that it could be crossed with.",
            markup! {},
        );
    }
    markup! {
        <>
            <p class="ask">{ format!("{} was taken for which cable, here at the wall? Say too what you put right.", end.code) }</p>
            { targets(desk, &mates, &|mate| {
                let (a, b) = (end.end, End::whole(mate.id, Side::Near));
                let uncross = |how| Want::Uncross { ends: vec![a, b], how };
                // What is terminated nowhere here may be at the other end, where the record then changes.
                let [far_a, far_b] = [a, b].map(|end| End::whole(end.cable, end.side.other()));
                let record = |a, b| Want::Uncross { ends: vec![a, b], how: Correction::RecordChanges };
                markup! {
                    <>
                        { desk.doing(format!("Tags moved: {} ⇄ {}", end.code, mate.code), uncross(Correction::TagsMove)) }
                        if wall::any_landed(registry, &[a, b]) {
                            { desk.doing("The record changes", uncross(Correction::RecordChanges)) }
                        } else {
                            if wall::any_landed(registry, &[far_a, far_b]) {
                                { desk.doing("The record changes, at their other ends", record(far_a, far_b)) }
                            }
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
        return empty(NO_OTHER, markup! {});
    }
    let cable = end.end.cable;
    markup! {
        <>
            <p class="ask">{ format!("Where did {} come out? Say too what you put right.", end.code) }</p>
            { targets(desk, &outlets, &|at| {
                let came_out = |how| Want::CameOutAt { cable, outlet: at.id, how };
                markup! {
                    <>
                        { desk.doing(format!("Tags moved: named after {}", at.code), came_out(Correction::TagsMove)) }
                        { desk.doing(format!("The record changes: stays {}", end.code), came_out(Correction::RecordChanges)) }
                    </>
                }
            }) }
        </>
    }
}

fn made(desk: Desk<'_>, end: &EndHere) -> Html {
    let cable = end.end.cable;
    markup! {
        <>
            { text_form(WallForm::Medium(cable), medium_fields(desk.model), "Change the medium") }
            { text_form(WallForm::CablePurpose(cable),
                text_field(desk.model, Field::CablePurpose, "What it is for", "Stands in words on its tag"),
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
    let home = |rack| Want::RouteHome {
        cables: vec![cable],
        rack,
    };
    let now = match end.kind {
        RunKind::LocalRun => "Now it comes from another outlet",
        RunKind::HomeRun | RunKind::TieLine => "Now it runs home",
    };
    markup! {
        <>
            <p class="ask">{ format!("{now}: {}.", end.other_place) }</p>
            <div class="wall-grid">
                if racks.is_empty() {
                    { desk.doing("Home to a rack, not chosen yet", home(None)) }
                }
                { for racks.iter().map(|rack| {
                    desk.doing(format!("Home to {}", rack.name), home(Some(rack.id)))
                }) }
            </div>
            { targets(desk, &outlets, &|from| {
                let want = Want::RouteLocal { cable, from: from.id };
                button(format!("Local run from {}", from.code), Action::Do { want, then: None }, Tone::Quiet)
            }) }
        </>
    }
}
