//! One position of a panel: who belongs there, who is there, and what can be done about it.

use super::View;
use crate::app::{Action, FRONT, Field, Form, Model, RackForm, Screen};
use crate::command::Want;
use crate::domain::place::{End, Fitting, Place, Position};
use crate::domain::work::Availability;
use crate::names;
use crate::query::deeds::{deeds_at, disagreement};
use crate::query::plan;
use crate::query::proof::proofs;
use crate::query::rack::{Slot, SlotState, landed_by};
use crate::query::stations::patched_to;
use crate::ui::parts::panel::{end_code, slot_state};
use crate::ui::parts::{Tone, button, choice, known, row, settle, text_field};
use crate::ui::screens::history::folded;
use crate::ui::wording::ends as tag_words;
use crate::ui::{Html, sending};
use crate::view::markup;

/// The main action at a position: land what belongs there, else go on to the next.
pub(super) fn main_action(view: &View<'_>, slot: &Slot) -> Html {
    match slot.ready.as_slice() {
        [] => match neighbour(view, slot, 1) {
            None => markup! {},
            Some(next) => {
                let words = format!("Next: {}\u{A0}›", view.code(next));
                button(words, choose(view, next), Tone::Main)
            }
        },
        ready => markup! {
            <>{ for ready.iter().map(|end| {
                let words = format!("{} is landed here", end_code(view.open, *end));
                button(words, land(*end, slot.position), Tone::Main)
            }) }</>
        },
    }
}

fn land(end: End, position: Position) -> Action {
    Action::Do {
        want: Want::Land {
            end,
            place: Place::rear(position),
            fitting: Fitting::Direct,
        },
        then: None,
    }
}

fn choose(view: &View<'_>, position: Position) -> Action {
    let face = view.face;
    Action::Go(Screen::Position { position, face })
}

fn neighbour(view: &View<'_>, slot: &Slot, step: isize) -> Option<Position> {
    let at = usize::from(slot.position.number.get()) - 1;
    let slot = view.slots.get(at.checked_add_signed(step)?)?;
    Some(slot.position)
}

/// Who is at a position, and who belongs there.
pub(super) fn here(view: &View<'_>, slot: &Slot) -> Html {
    markup! {
        <section class="card" aria-label="This position">
            <p class="slot-words">{ slot_state(slot.state) }{ kept_words(&slot.kept) }</p>
            { ends(view, slot) }
            if slot.state == SlotState::Clash {
                { settle(slot.shown().map(|end| end.cable), Tone::Quiet) }
            }
        </section>
    }
}

/// What can be done at a position.
pub(super) fn detail(model: &Model, view: &View<'_>, slot: &Slot) -> Html {
    let all = Action::Go(Screen::Panel {
        panel: view.panel,
        face: view.face,
    });
    markup! {
        <>
            { front(model, view, slot) }
            { another(model, view, slot) }
            { keep(model, slot) }
            <div class="actions-pair">
                { step(view, slot, -1) }
                { step(view, slot, 1) }
            </div>
            { button("All positions of this panel", all, Tone::Quiet) }
            { folded(&deeds_at(&view.open.journal, slot.position)) }
        </>
    }
}

fn step(view: &View<'_>, slot: &Slot, step: isize) -> Html {
    let Some(to) = neighbour(view, slot, step) else {
        return markup! {};
    };
    let code = view.code(to);
    let words = if step < 0 {
        format!("‹\u{A0}{code}")
    } else {
        format!("{code}\u{A0}›")
    };
    button(words, choose(view, to), Tone::Quiet)
}

fn kept_words(kept: &Availability) -> String {
    match kept {
        Availability::Open => String::new(),
        Availability::Reserved { reason } => format!(" Kept for: {reason}"),
        Availability::Bad { reason } => format!(" Bad because: {reason}"),
    }
}

/// The ends that are there or belong there, each leading to its cable.
fn ends(view: &View<'_>, slot: &Slot) -> Html {
    if slot.landed.is_empty() && slot.planned.is_empty() {
        // A tail whose cable nobody knows is kept a place for under its number.
        if matches!(&slot.kept, Availability::Reserved { reason } if reason.starts_with(names::LOOSE_END))
        {
            return markup! {
                <>
                    <p>{ "A cable is there, and nobody knows yet which." }</p>
                    { button("To the loose ends, to tone it", Action::Go(Screen::Loose), Tone::Quiet) }
                </>
            };
        }
        return markup! { <p>{ "No cable is there, and none belongs there." }</p> };
    }
    let missing = slot.planned.iter().filter(|end| !slot.landed.contains(end));
    let lift = |end: End| Action::Do {
        want: Want::Lift { end },
        then: None,
    };
    markup! {
        <>
            <ul class="rows">
                { for slot.landed.iter().map(|end| end_row(view, *end, landed_words(view, slot, *end))) }
                { for missing.map(|end| end_row(view, *end, "belongs here".to_owned())) }
            </ul>
            { for slot.landed.iter().map(|end| {
                button(format!("Lift {}: it is not here", end_code(view.open, *end)), lift(*end), Tone::Quiet)
            }) }
        </>
    }
}

fn end_row(view: &View<'_>, end: End, mut note: String) -> Html {
    let lead = crate::ui::parts::code(end_code(view.open, end));
    let to = Action::Go(Screen::HandCable(end.cable));
    let cable = view.open.journal.registry().cables.get(end.cable);
    let medium = cable.and_then(|cable| cable.medium.get());
    let gone = names::cancelled(view.open.journal.registry(), end.cable);
    let medium = medium.map_or_else(String::new, ToString::to_string) + gone;
    for (_, words) in tag_words::proofs(&proofs(view.open.journal.registry(), end)) {
        note.push_str(", ");
        note.push_str(words);
    }
    row(to, lead, medium, note)
}

/// Since when, and by whom.
fn landed_words(view: &View<'_>, slot: &Slot, end: End) -> String {
    let journal = &view.open.journal;
    let act = landed_by(journal.registry(), end, &Place::rear(slot.position));
    let act = act.and_then(|act| journal.act(act));
    let said = disagreement(journal.registry(), end);
    let said = said.map_or_else(String::new, |said| format!(", disputed: {said}"));
    let Some(act) = act else {
        return format!("landed{said}");
    };
    let by = if act.by.is_empty() {
        String::new()
    } else {
        format!(" by {}", act.by)
    };
    format!("landed {}{by}{said}", names::day(act.wall))
}

/// The front: what it is patched to, or the form that says so.
fn front(model: &Model, view: &View<'_>, slot: &Slot) -> Html {
    let registry = view.open.journal.registry();
    let cords = patched_to(registry, slot.position);
    let devices = plan::devices(registry).into_iter();
    let devices = devices.map(|device| (device.id.0.to_string(), device.name));
    let other = (FRONT.to_owned(), "The front of another position".to_owned());
    let out = Action::Do {
        want: Want::Patch {
            position: slot.position,
            to: None,
        },
        then: None,
    };
    let fed = slot.shown().map(|end| Action::Go(Screen::Feeds(end.cable)));
    markup! {
        <>
            { known(&cords.iter().map(|to| format!("Patched to {}.", names::place(registry, to))).collect::<Vec<_>>()) }
            if let Some(fed) = fed {
                { button("What feeds what", fed, Tone::Quiet) }
            }
            <details class="more">
                <summary>{ "Patch cord at the front" }</summary>
                <div class="form">
                    if !cords.is_empty() {
                        { button("The patch cord is taken out", out, Tone::Quiet) }
                    }
                    <form class="form" onsubmit={sending(Form::Rack(RackForm::Patch(slot.position)))}>
                        { choice(model, Field::PatchDevice, "It goes to", devices.chain([other])) }
                        { text_field(model, Field::PatchPort, "Port, or position", "As it stands there, such as LAN 1 or C05") }
                        <button type="submit" class="button">{ "It is plugged in there" }</button>
                    </form>
                    { button("Add a device", Action::Go(Screen::Racks), Tone::Quiet) }
                </div>
            </details>
        </>
    }
}

/// Another cable than the one that belongs there.
fn another(model: &Model, view: &View<'_>, slot: &Slot) -> Html {
    let form = Form::Rack(RackForm::LandHere(slot.position));
    markup! {
        <details class="more" open={slot.state == SlotState::Free}>
            <summary>{ format!("{} cable is on {}", if slot.state == SlotState::Free { "A" } else { "Another" }, view.code(slot.position)) }</summary>
            <form class="form" onsubmit={sending(form)}>
                { text_field(model, Field::LandCode, "Code on the cable", "As it stands on the tag, such as KIT2-C") }
                <button type="submit" class="button">{ "It is landed here" }</button>
            </form>
            if slot.state == SlotState::Free {
                <form class="form" onsubmit={sending(Form::Rack(RackForm::NumberTail(slot.position)))}>
                    { text_field(model, Field::LooseNote, "Or nobody knows it: what is written on it", "Empty where nothing is") }
                    <button type="submit" class="button">{ "Give it a number" }</button>
                </form>
            }
        </details>
    }
}

fn keep(model: &Model, slot: &Slot) -> Html {
    let submit = |form| Action::Submit(Form::Rack(form));
    let open = Action::Do {
        want: Want::KeepPosition {
            position: slot.position,
            kept: Availability::Open,
        },
        then: None,
    };
    markup! {
        <details class="more">
            <summary>{ "Reserve it, or mark it as bad" }</summary>
            <div class="form">
                if slot.kept != Availability::Open {
                    { button("It is free for use again", open, Tone::Quiet) }
                }
                { text_field(model, Field::Reason, "Why", "In a few words") }
                <div class="actions-pair">
                    { button("Reserve it", submit(RackForm::Reserve(slot.position)), Tone::Quiet) }
                    { button("It is bad", submit(RackForm::Bad(slot.position)), Tone::Quiet) }
                </div>
            </div>
        </details>
    }
}
