//! The part of the address behind `#`, which says what screen is open.
//!
//! It is given and taken as it stands in the address, percent signs and all: only whoever knows its
//! parts can decode them.

use wasm_bindgen::JsValue;
use web_sys::History;

use super::listening::Listening;
use super::{browser, page};
use crate::app::ports::Way;

/// What stands behind `#`, without it; empty where there is nothing.
#[must_use]
pub fn hash() -> String {
    let hash = browser::window().and_then(|window| window.location().hash().ok());
    hash.map(|hash| hash.strip_prefix('#').unwrap_or(&hash).to_owned())
        .unwrap_or_default()
}

/// What is kept of the screen that the history stands at; none where its address came from outside.
#[must_use]
pub fn way() -> Option<Way> {
    let kept = history()?.state().ok()?.as_string()?;
    let mut numbers = kept.split(' ').flat_map(str::parse::<i32>);
    let mut count = || usize::try_from(numbers.next()?).ok();
    let (behind, page) = (count()?, count()?);
    let top = numbers.next()?;
    Some(Way { behind, page, top })
}

fn history() -> Option<History> {
    browser::window()?.history().ok()
}

fn as_state(way: Way) -> JsValue {
    JsValue::from_str(&format!("{} {} {}", way.behind, way.page, way.top))
}

/// Goes to another screen: the way back returns to the one before, of which is kept which part of a
/// long list it shows and how far down it is. Listeners are not told.
pub fn set_hash(hash: &str, shown: usize) {
    let Some(history) = history() else {
        return;
    };
    let behind = way().map_or(0, |way| way.behind);
    let left = Way {
        behind,
        page: shown,
        top: page::top(),
    };
    let new = Way {
        behind: behind + 1,
        ..Way::default()
    };
    // The browser refuses only what is no address, and too many at once; then it stays as it was.
    history
        .replace_state(&as_state(left), "")
        .unwrap_or_default();
    history
        .push_state_with_url(&as_state(new), "", Some(&format!("#{hash}")))
        .unwrap_or_default();
}

/// Corrects the address of this screen: what lies behind it stays, and listeners are not told.
pub fn replace_hash(hash: &str) {
    if let Some(history) = history() {
        history
            .replace_state_with_url(
                &as_state(way().unwrap_or_default()),
                "",
                Some(&format!("#{hash}")),
            )
            .unwrap_or_default();
    }
}

/// Goes back so many screens. Listeners are told.
pub fn back(steps: i32) {
    if let Some(history) = history() {
        history.go_with_delta(-steps).unwrap_or_default();
    }
}

/// Tells what stands behind `#` whenever it changes, as long as the answer is kept.
pub fn on_change(told: impl Fn(String) + 'static) -> Option<Listening> {
    let window = browser::window()?;
    Listening::to(window.into(), "hashchange", move |_| told(hash()))
}
