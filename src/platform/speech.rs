//! Reading a text aloud, where the device can.

use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};

use super::browser;

/// Reads a text aloud in the language of the page, and stops what was being read. Silent where the
/// device has no voice.
pub fn say(text: &str) {
    let Some(window) = browser::window() else {
        return;
    };
    let Some(voice) = browser::property(&window, "speechSynthesis") else {
        return;
    };
    let utterance = browser::property(&window, "SpeechSynthesisUtterance")
        .and_then(|kind| kind.dyn_into::<Function>().ok())
        .and_then(|kind| Reflect::construct(&kind, &Array::of1(&JsValue::from_str(text))).ok());
    if let Some(utterance) = utterance {
        browser::call(&voice, "cancel", []).unwrap_or_default();
        browser::call(&voice, "speak", [&utterance]).unwrap_or_default();
    }
}
