//! Page events to plain values.

use wasm_bindgen::JsCast;
use web_sys::{HtmlInputElement, HtmlSelectElement, HtmlTextAreaElement};

/// The text of the field that an event comes from.
pub(super) fn text(event: &yew::Event) -> Option<String> {
    let target = event.target()?;
    if let Some(input) = target.dyn_ref::<HtmlInputElement>() {
        return Some(input.value());
    }
    if let Some(select) = target.dyn_ref::<HtmlSelectElement>() {
        return Some(select.value());
    }
    target
        .dyn_ref::<HtmlTextAreaElement>()
        .map(HtmlTextAreaElement::value)
}
