//! A cable in the hand: a keypad that offers only codes that exist.

use crate::app::{Action, Field, Model, OpenJob, Screen};
use crate::names;
use crate::query::hand::{Hand, Key, hand, without_last_key};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button, code, empty, id, row};
use crate::ui::{Html, tap};
use crate::view::markup;

/// Draws the keypad.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let typed = model.fields.get(Field::Hand);
    let hand = hand(registry, typed);
    let mut page = Page::new("Which cable is it?");
    page.above = "Cable in hand".to_owned();
    page.back = Some(Screen::Rack);
    page.body = if typed.is_empty() && hand.next.is_empty() {
        empty(
            "This job has no cable with a code yet. Plan the outlets first; their cables get codes.",
            button("Rooms and outlets", Action::Go(Screen::Wall), Tone::Quiet),
        )
    } else {
        pad(open, typed, &hand)
    };
    page.actions = actions(typed);
    framed(model, page)
}

fn pad(open: &OpenJob, typed: &str, hand: &Hand) -> Html {
    let asked = match typed {
        "" => "Tap what its tag begins with",
        _ => "Tap what comes next on its tag",
    };
    markup! {
        <>
            <p class="typed" role="status">
                if typed.is_empty() {
                    { "Nothing keyed in yet" }
                } else {
                    { code(typed.to_owned()) }
                }
            </p>
            if hand.next.is_empty() && hand.hits.is_empty() {
                <p>{ "No cable of this job begins so. Start again, or look it up." }</p>
            }
            if !hand.next.is_empty() {
                <p>{ asked }</p>
                { keys(&hand.next) }
            }
            { hits(open, hand) }
        </>
    }
}

/// The cables whose whole code was keyed in: more than one bears it, or the keypad was left there.
fn hits(open: &OpenJob, hand: &Hand) -> Html {
    if hand.hits.is_empty() {
        return markup! {};
    }
    let registry = open.journal.registry();
    markup! {
        <>
            if hand.hits.len() > 1 {
                <p>{ "More than one cable bears this code. Which is it?" }</p>
            }
            <ul class="rows">
                { for hand.hits.iter().map(|id| {
                    let cable = registry.cables.get(*id);
                    let purpose = cable.and_then(|cable| cable.purpose.get()).cloned().unwrap_or_default();
                    let medium = cable.and_then(|cable| cable.medium.get()).map(ToString::to_string);
                    let lead = code(names::cable(registry, *id));
                    row(Action::Go(Screen::HandCable(*id)), lead, purpose, medium.unwrap_or_default())
                }) }
            </ul>
        </>
    }
}

/// Keys that lead on, or to the cable itself; the first of them is where the keyboard goes on.
pub(super) fn keys(keys: &[Key]) -> Html {
    markup! {
        <div class="keys">
            { for keys.iter().enumerate().map(|(place, key)| {
                let first = (place == 0).then(|| id(Field::Hand));
                let action = match key.hits.as_slice() {
                    [only] => Action::Go(Screen::HandCable(*only)),
                    _ => Action::Typed { field: Field::Hand, text: key.typed.clone() },
                };
                markup! {
                    <button type="button" id={first} class="key" key={key.typed.clone()} onclick={tap(action)}>
                        { code(key.label.clone()) }
                        <span class="key-note">{ left(key) }</span>
                    </button>
                }
            }) }
        </div>
    }
}

fn left(key: &Key) -> String {
    match (key.open, key.cables) {
        (0, _) => "✓ none left".to_owned(),
        (_, 1) => "open".to_owned(),
        (open, _) => format!("{open} open"),
    }
}

fn actions(typed: &str) -> Html {
    let key = |words: &'static str, text: &str| {
        let action = Action::Typed {
            field: Field::Hand,
            text: text.to_owned(),
        };
        button(words, action, Tone::Quiet)
    };
    markup! {
        <div class="actions-pair">
            if typed.is_empty() {
                { button("Look it up", Action::Go(Screen::Find), Tone::Quiet) }
                { button("It has no tag", Action::Go(Screen::Loose), Tone::Quiet) }
            } else {
                { key("‹ One back", without_last_key(typed)) }
                { key("Start again", "") }
            }
        </div>
    }
}
