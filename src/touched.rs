//! What happened on the page, as what it means.

use wasm_bindgen::JsCast;
use web_sys::{
    Element, Event, HtmlInputElement, HtmlSelectElement, HtmlTextAreaElement, MouseEvent,
};

use crate::view::{LEADS_ON, Touch};

/// What a touch means, now that it happened; nothing where a field has no text.
pub fn meaning<M: Clone>(touch: &Touch<M>, event: &Event) -> Option<M> {
    match touch {
        Touch::Tap(_) if is_second(event) => None,
        Touch::Tap(meaning) => Some(meaning.clone()),
        Touch::Typed(meaning) | Touch::Chosen(meaning) => text(event).map(meaning),
        Touch::Sent(meaning) => {
            event.prevent_default();
            Some(meaning.clone())
        }
        Touch::Placed(meaning) => place(event).map(|(x, y)| meaning(x, y)),
    }
}

/// Whether it is the second of two quick taps and the button under it leads on: it may have come there
/// by the first, and nobody meant it.
fn is_second(event: &Event) -> bool {
    let mouse = event.dyn_ref::<MouseEvent>();
    let target = event.target();
    let element = target
        .as_ref()
        .and_then(|target| target.dyn_ref::<Element>());
    mouse.is_some_and(|mouse| mouse.detail() > 1)
        && element.is_some_and(|element| element.has_attribute(LEADS_ON))
}

/// Where on the element that an event comes from it happened, in ten-thousandths.
fn place(event: &Event) -> Option<(u16, u16)> {
    let mouse = event.dyn_ref::<MouseEvent>()?;
    let target = event.target()?;
    let element = target.dyn_ref::<Element>()?;
    let share = |at: i32, of: i32| {
        let share = (at.clamp(0, of.max(0)) * 10_000).checked_div(of)?;
        u16::try_from(share).ok()
    };
    Some((
        share(mouse.offset_x(), element.client_width())?,
        share(mouse.offset_y(), element.client_height())?,
    ))
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
