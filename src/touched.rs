//! What happened on the page, as what it means.

use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlInputElement, HtmlSelectElement, HtmlTextAreaElement};

use crate::view::Touch;

/// What a touch means, now that it happened; nothing where a field has no text.
pub fn meaning<M: Clone>(touch: &Touch<M>, event: &Event) -> Option<M> {
    match touch {
        Touch::Tap(meaning) => Some(meaning.clone()),
        Touch::Typed(meaning) | Touch::Chosen(meaning) => text(event).map(meaning),
        Touch::Sent(meaning) => {
            event.prevent_default();
            Some(meaning.clone())
        }
    }
}

/// The text of the field that an event comes from.
fn text(event: &Event) -> Option<String> {
    let target = event.target()?;
    if let Some(input) = target.dyn_ref::<HtmlInputElement>() {
        return Some(input.value());
    }
    if let Some(select) = target.dyn_ref::<HtmlSelectElement>() {
        return Some(select.value());
    }
    let area = target.dyn_ref::<HtmlTextAreaElement>();
    area.map(HtmlTextAreaElement::value)
}
