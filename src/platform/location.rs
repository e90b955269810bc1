//! The part of the address behind `#`, which says what screen is open.
//!
//! It is given and taken as it stands in the address, percent signs and all: only whoever knows its
//! parts can decode them.

use wasm_bindgen::JsValue;

use super::browser;
use super::listening::Listening;

/// What stands behind `#`, without it; empty where there is nothing.
#[must_use]
pub fn hash() -> String {
    let hash = browser::window().and_then(|window| window.location().hash().ok());
    hash.map(|hash| hash.strip_prefix('#').unwrap_or(&hash).to_owned())
        .unwrap_or_default()
}

/// Goes to another screen: the back button returns to the one before. Listeners are told.
pub fn set_hash(hash: &str) {
    if let Some(window) = browser::window() {
        // The browser refuses only what is no address, and then the address stays as it was.
        window.location().set_hash(hash).unwrap_or_default();
    }
}

/// Corrects the address of this screen: nothing to go back to, and listeners are not told.
pub fn replace_hash(hash: &str) {
    let history = browser::window().and_then(|window| window.history().ok());
    if let Some(history) = history {
        history
            .replace_state_with_url(&JsValue::NULL, "", Some(&format!("#{hash}")))
            .unwrap_or_default();
    }
}

/// Tells what stands behind `#` whenever it changes, as long as the answer is kept.
pub fn on_change(told: impl Fn(String) + 'static) -> Option<Listening> {
    let window = browser::window()?;
    Listening::to(window.into(), "hashchange", move |_| told(hash()))
}
