//! What happened on the page, as what it means.

use std::cell::Cell;
use std::thread::LocalKey;

use wasm_bindgen::JsCast;
use web_sys::{
    Element, Event, HtmlInputElement, HtmlSelectElement, HtmlTextAreaElement, MouseEvent,
    PointerEvent,
};

use crate::view::{ONCE, Touch};

/// What a touch means, now that it happened; nothing where a field has no text.
pub fn meaning<M: Clone>(touch: &Touch<M>, event: &Event) -> Option<M> {
    match touch {
        Touch::Tap(_) if is_second(event) => None,
        Touch::Tap(meaning) => Some(meaning.clone()),
        Touch::Typed(meaning) | Touch::Chosen(meaning) => {
            SENT.set(NEVER);
            text(event).map(meaning)
        }
        Touch::Sent(meaning) => {
            event.prevent_default();
            (!is_sent_twice(event)).then(|| meaning.clone())
        }
        Touch::Placed(meaning) => place(event).map(|(x, y)| meaning(x, y)),
    }
}

/// How far apart in time and place two taps are at most that are one tap of a hand in a glove: in
/// milliseconds and pixels of the page.
const BOUNCE: (f64, f64) = (350.0, 40.0);

/// When, in milliseconds, and where on the page.
type Moment = (f64, f64, f64);

const NEVER: Moment = (f64::NEG_INFINITY, 0.0, 0.0);

thread_local! {
    /// When and where the last tap was.
    static LAST: Cell<Moment> = const { Cell::new(NEVER) };
    /// When a form was sent last, and where it stands, if nothing was typed since.
    static SENT: Cell<Moment> = const { Cell::new(NEVER) };
}

/// Notes this moment as the last, and says whether it is the same one again as the one before.
fn is_bounce(last: &'static LocalKey<Cell<Moment>>, now: Moment) -> bool {
    let before = last.replace(now);
    let near = |one: f64, other: f64| (one - other).abs() < BOUNCE.1;
    now.0 - before.0 < BOUNCE.0 && near(now.1, before.1) && near(now.2, before.2)
}

/// Where the upper left corner of an element is.
fn corner(element: &Element) -> (f64, f64) {
    let stands = element.get_bounding_client_rect();
    (stands.x(), stands.y())
}

/// Whether a form is sent again at once with nothing typed in between: by a second tap of the same hand, or a
/// key that is held down.
fn is_sent_twice(event: &Event) -> bool {
    let target = event.target();
    let form = target
        .as_ref()
        .and_then(|target| target.dyn_ref::<Element>());
    form.map(corner)
        .is_some_and(|(x, y)| is_bounce(&SENT, (event.time_stamp(), x, y)))
}

/// Whether it is the second of two quick taps on a place where the first may have brought another button.
/// A mouse counts its clicks by itself; a finger and a key are told by time and place. A key is pressed where the
/// button stands that has the focus: whoever went on to the next one meant that.
fn is_second(event: &Event) -> bool {
    let Some(mouse) = event.dyn_ref::<MouseEvent>() else {
        return false;
    };
    let target = event.target();
    let element = target
        .as_ref()
        .and_then(|target| target.dyn_ref::<Element>());
    let (x, y) = match element.filter(|_| mouse.detail() == 0) {
        None => (f64::from(mouse.client_x()), f64::from(mouse.client_y())),
        Some(button) => corner(button),
    };
    let is_mouse = mouse
        .dyn_ref::<PointerEvent>()
        .is_some_and(|pointer| pointer.pointer_type() == "mouse");
    let is_quick = is_bounce(&LAST, (event.time_stamp(), x, y));
    let is_once = || {
        let selector = ["[", ONCE, "]"].concat();
        element.is_some_and(|element| matches!(element.closest(&selector), Ok(Some(_))))
    };
    (mouse.detail() > 1 || is_quick && !is_mouse) && is_once()
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
