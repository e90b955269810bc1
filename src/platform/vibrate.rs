//! Shaking the device, where it can be shaken.

use wasm_bindgen::JsValue;

use super::browser;

/// Shakes the device for so many milliseconds. Nothing where it has no motor or will not.
pub fn shake(milliseconds: u32) {
    if let Some(window) = browser::window() {
        browser::call(
            &window.navigator(),
            "vibrate",
            [&JsValue::from(milliseconds)],
        )
        .unwrap_or_default();
    }
}
