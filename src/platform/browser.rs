//! The one door to the window, and calls to what a browser may lack.
//!
//! What every browser has goes through `web_sys`. What one may lack (sharing, speech, vibration) is
//! looked up by name, because a direct call of a missing method would throw into the program.

use js_sys::{Array, Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Document, Window};

/// The window; none outside a page.
#[expect(
    clippy::disallowed_methods,
    reason = "the one place that reaches the window; the rest of platform asks here"
)]
pub(super) fn window() -> Option<Window> {
    web_sys::window()
}

/// The page.
pub(super) fn document() -> Option<Document> {
    window()?.document()
}

/// Whether local storage can be had. `gloo_storage` panics where it cannot, and a person can block
/// it while the page is open, so this is asked each time.
pub(super) fn local_storage_reachable() -> bool {
    window().is_some_and(|window| matches!(window.local_storage(), Ok(Some(_))))
}

/// A property by name; none where it is missing, undefined or null, or where reading it is refused.
pub(super) fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &JsValue::from_str(name))
        .ok()
        .filter(|value| !value.is_undefined() && !value.is_null())
}

/// Sets a property by name. An object of our own takes it always; a refusal is let go.
pub(super) fn set_property(of: &JsValue, name: &str, value: &JsValue) {
    Reflect::set(of, &JsValue::from_str(name), value).unwrap_or_default();
}

/// Calls a method by name.
///
/// # Errors
///
/// What the method threw, or undefined where there is no such method.
pub(super) fn call<const N: usize>(
    on: &JsValue,
    method: &str,
    given: [&JsValue; N],
) -> Result<JsValue, JsValue> {
    let function = property(on, method)
        .and_then(|found| found.dyn_into::<Function>().ok())
        .ok_or(JsValue::UNDEFINED)?;
    let given: Array = given.into_iter().collect();
    Reflect::apply(&function, on, &given)
}

/// Calls a method that answers later.
///
/// # Errors
///
/// What the method threw or its promise was refused with; undefined where there is no such method.
pub(super) async fn ask<const N: usize>(
    on: &JsValue,
    method: &str,
    given: [&JsValue; N],
) -> Result<JsValue, JsValue> {
    let promise = call(on, method, given)?;
    JsFuture::from(Promise::resolve(&promise)).await
}
