//! A rack folded shut, in one line: how many panels, what is taken, what is free, what is wrong.

use crate::app::racks::key;
use crate::app::{Action, Field, OpenJob};
use crate::domain::ids::{PanelId, RackId};
use crate::names;
use crate::query::rack::{SlotState, counts};
use crate::ui::parts::panel::state_words;
use crate::ui::parts::{Shape, code, state};
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the line; a tap opens the rack, or closes it.
pub(in crate::ui) fn rack_line(
    open: &OpenJob,
    rack: Option<RackId>,
    panels: &[PanelId],
    is_open: bool,
) -> Html {
    let counts = counts(open.journal.registry(), panels);
    let text = if is_open { String::new() } else { key(rack) };
    let field = Field::OpenRack;
    let turn = tap(Action::Typed { field, text });
    let panels = match panels.len() {
        0 => "no panel".to_owned(),
        1 => "1 panel".to_owned(),
        count => format!("{count} panels"),
    };
    let (taken, free) = (counts.taken(), counts.of(SlotState::Free));
    let wrong = [SlotState::Clash, SlotState::Bad].map(|of| match counts.of(of) {
        0 => markup! {},
        count => state(Shape::Alarm, format!("{count} {}", state_words(of))),
    });
    markup! {
        <li class="row">
            <button type="button" class="row-button rack-line" aria-expanded={is_open.to_string()} onclick={turn}>
                <span class="row-text">{ rack_name(open, rack) }</span>
                <span class="row-note">
                    { panels }
                    if counts.all() > 0 {
                        { format!(", {taken} taken, {free} free") }
                    }
                    { for wrong }
                    { " " }<span aria-hidden="true">{ if is_open { "▾" } else { "▸" } }</span>
                </span>
            </button>
        </li>
    }
}

/// What a rack is called, with its space.
pub(in crate::ui) fn rack_name(open: &OpenJob, rack: Option<RackId>) -> Html {
    let registry = open.journal.registry();
    let Some(rack) = rack else {
        return markup! { { "In no rack" } };
    };
    let space = registry.racks.get(rack).and_then(|row| row.space.get());
    let name = names::rack(registry, rack);
    // A rack without a name of its own is called by its space.
    let space = space.map(ToString::to_string);
    let space = space.filter(|space| !name.ends_with(&**space));
    markup! {
        <>
            { name }
            if let Some(space) = space {
                { " " }{ code(space) }
            }
        </>
    }
}
