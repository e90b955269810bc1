//! Racks with their panels, and the way in for the cable that somebody holds.

use std::ops::RangeInclusive;

use super::hand::keys;
use crate::app::racks::{Line, lines};
use crate::app::remotes::remotes;
use crate::app::{Action, Caution, Model, OpenJob, Screen};
use crate::domain::ids::{PanelId, RackId};
use crate::domain::place::Face;
use crate::names;
use crate::query::hand::hand;
use crate::query::propose::open_count;
use crate::query::rack::{RackOfPanels, SlotState, counts, make, racks};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::caution::caution;
use crate::ui::parts::pinout::pinout;
use crate::ui::parts::racks::{rack_line, rack_name};
use crate::ui::parts::{Shape, Tone, button, code, empty, page_of, pager, state};
use crate::ui::{Html, go};
use crate::view::markup;

/// The keys of so many rooms still leave the panels below them within sight.
const FEW_KEYS: usize = 16;
/// Of so many, the keys stand below the panels.
const MANY_KEYS: usize = 40;

/// Draws the racks.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let racks = racks(registry);
    let mut page = Page::new("Rack");
    page.above = open.name().to_owned();
    let first = if racks.is_empty() {
        Some((
            "Add a rack",
            "There is no rack yet. A rack holds the panels that the cables land on.",
        ))
    } else if racks.iter().all(|rack| rack.panels.is_empty()) {
        Some((
            "Add a panel",
            "The rack has no panel yet. Add the panels as they hang in it.",
        ))
    } else {
        None
    };
    page.body = if let Some((_, words)) = first {
        empty(words, markup! {})
    } else {
        markup! {
            <>
                { remotes_there(model) }
                { without_position(open, Tone::Quiet) }
                { first_keys(open, 0..=FEW_KEYS) }
                { rack_list(model, open, &racks) }
                { first_keys(open, FEW_KEYS + 1..=MANY_KEYS) }
                { pinout(open) }
                { caution(model, Caution::Rack) }
            </>
        }
    };
    let tone = if first.is_some() {
        Tone::Quiet
    } else {
        Tone::Main
    };
    page.actions = markup! {
        <>
            if let Some((words, _)) = first {
                { button(words, Action::Go(Screen::Racks), Tone::Main) }
            }
            if !registry.cables.is_empty() {
                { button("Cable in hand", Action::Go(Screen::Hand), tone) }
            }
        </>
    };
    framed(model, page)
}

/// The way to the proposal, while somebody wants a position.
pub(super) fn without_position(open: &OpenJob, tone: Tone) -> Html {
    let words = match open_count(open.journal.registry()) {
        0 => return markup! {},
        1 => "1 cable has no position: where to?".to_owned(),
        count => format!("{count} cables have no position: where to?"),
    };
    button(words, Action::Go(Screen::Proposal), tone)
}

/// The way to the remotes that are in jacks.
fn remotes_there(model: &Model) -> Html {
    let all = remotes(model);
    let left = all.iter().filter(|remote| !remote.proved).count();
    if all.is_empty() {
        return markup! {};
    }
    let words = format!("Read the numbered remotes: {left} of {} left", all.len());
    button(words, Action::Go(Screen::Remotes), Tone::Quiet)
}

/// The first keys of the keypad stand here too: with a cable in one hand, every tap counts.
fn first_keys(open: &OpenJob, rooms: RangeInclusive<usize>) -> Html {
    let registry = open.journal.registry();
    // Asked first, since in a large job the keys are not shown, and finding them takes its time.
    if !rooms.contains(&registry.rooms.len()) {
        return markup! {};
    }
    let hand = hand(registry, "");
    if hand.next.is_empty() {
        return markup! {};
    }
    markup! {
        <section aria-labelledby="first-keys">
            <h2 id="first-keys">{ "The tag begins with" }</h2>
            { keys(&hand.next) }
        </section>
    }
}

/// The racks, each folded shut but for one, or the only one with its panels.
fn rack_list(model: &Model, open: &OpenJob, racks: &[RackOfPanels]) -> Html {
    let counts: Vec<_> = racks.iter().map(|of| (of.rack, of.panels.len())).collect();
    let lines = lines(model, &counts);
    let draw = |line: &Line| match *line {
        Line::Rack { at, is_open } => rack_line(open, racks[at].rack, &racks[at].panels, is_open),
        Line::Whole(at) => markup! {
            <li class="row">
                <div class="opened">
                    if racks[at].panels.is_empty() {
                        <p>{ "It has no panel yet." }</p>
                        { button("Add a panel", Action::Go(Screen::Racks), Tone::Quiet) }
                    }
                    { see(racks[at].rack) }
                </div>
            </li>
        },
        Line::Panel(at, panel) => panel_row(open, racks[at].panels[panel]),
    };
    markup! {
        <section aria-label="Racks with their panels">
            if racks.len() == 1 {
                <h2>{ rack_name(open, racks[0].rack) }</h2>
            }
            <ul class="rows">{ for page_of(&lines, model.page).iter().map(draw) }</ul>
            { pager(model.page, lines.len()) }
        </section>
    }
}

/// The way to the rack as it stands.
fn see(rack: Option<RackId>) -> Html {
    let Some(rack) = rack else {
        return markup! {};
    };
    let face = Face::Front;
    let to = Action::Go(Screen::Elevation { rack, face });
    button("See the rack", to, Tone::Quiet)
}

fn panel_row(open: &OpenJob, panel: PanelId) -> Html {
    let registry = open.journal.registry();
    let Some(make) = make(registry, panel) else {
        return markup! {};
    };
    let row = registry.panels.get(panel);
    let letters = row.and_then(|row| row.letters.get());
    let letters = letters.map_or_else(|| "?".to_owned(), ToString::to_string);
    let counts = counts(registry, &[panel]);
    let landed = counts.of(SlotState::Landed);
    let clashes = counts.of(SlotState::Clash);
    let of = usize::from(make.positions.get());
    let shape = match landed {
        0 => Shape::Hollow,
        _ if landed == of => Shape::Full,
        _ => Shape::Half,
    };
    let kind = names::make(make);
    let screen = Screen::Panel {
        panel,
        face: Face::Front,
    };
    markup! {
        <li class="row">
            <button type="button" class="row-button panel-row" onclick={go(screen)}>
                <span class="row-lead panel-letters">{ code(letters) }</span>
                <span class="row-text">{ kind }</span>
                <span class="row-note">{ state(shape, format!("{landed} of {of} landed")) }
                    if clashes > 0 {
                        { state(Shape::Alarm, format!("{clashes} disputed")) }
                    }
                </span>
            </button>
        </li>
    }
}
