//! What happened on the page, as what it means.

use std::cell::RefCell;
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
            SENT.set(None);
            text(event).map(meaning)
        }
        Touch::Sent(meaning) => {
            event.prevent_default();
            let now = at_corner(event, element_of(event));
            (!is_bounce(&SENT, now)).then(|| meaning.clone())
        }
        Touch::Placed(meaning) => place(event).map(|(x, y)| meaning(x, y)),
    }
}

/// How far apart in time and place two taps are at most that are one tap of a hand in a glove: in
/// milliseconds and pixels of the page.
const BOUNCE: (f64, f64) = (350.0, 40.0);

/// When and where somebody did something.
struct Moment {
    /// In milliseconds.
    time: f64,
    /// On the page.
    place: (f64, f64),
    element: Option<Element>,
}

thread_local! {
    /// The last tap.
    static LAST: RefCell<Option<Moment>> = const { RefCell::new(None) };
    /// The last sending of a form, if nothing was typed since.
    static SENT: RefCell<Option<Moment>> = const { RefCell::new(None) };
}

/// Notes this moment as the last, and says whether it is the same one again as the one before: at once, and on
/// the same element, wherever that stands by now, or in the same place.
fn is_bounce(last: &'static LocalKey<RefCell<Option<Moment>>>, now: Moment) -> bool {
    let before = last.take();
    let is_same = before.is_some_and(|before| {
        let near = |one: f64, other: f64| (one - other).abs() < BOUNCE.1;
        let is_there = near(now.place.0, before.place.0) && near(now.place.1, before.place.1);
        now.time - before.time < BOUNCE.0 && (is_there || now.element == before.element)
    });
    last.set(Some(now));
    is_same
}

/// What happens at the upper left corner of its element.
fn at_corner(event: &Event, element: Option<Element>) -> Moment {
    let stands = element.as_ref().map(Element::get_bounding_client_rect);
    Moment {
        time: event.time_stamp(),
        place: stands.map_or((0.0, 0.0), |stands| (stands.x(), stands.y())),
        element,
    }
}

fn element_of(event: &Event) -> Option<Element> {
    event.target()?.dyn_into().ok()
}

/// Whether it is the second of two quick taps on a place where the first may have brought another button.
/// A mouse counts its clicks by itself; a finger and a key are told by time and place. A key is pressed where the
/// button stands that has the focus: whoever went on to the next one meant that.
fn is_second(event: &Event) -> bool {
    let Some(mouse) = event.dyn_ref::<MouseEvent>() else {
        return false;
    };
    let element = element_of(event);
    let selector = ["[", ONCE, "]"].concat();
    let is_once = element
        .as_ref()
        .is_some_and(|element| matches!(element.closest(&selector), Ok(Some(_))));
    let mut now = at_corner(event, element);
    if mouse.detail() != 0 {
        now.place = (f64::from(mouse.client_x()), f64::from(mouse.client_y()));
    }
    let is_mouse = mouse
        .dyn_ref::<PointerEvent>()
        .is_some_and(|pointer| pointer.pointer_type() == "mouse");
    let is_quick = is_bounce(&LAST, now);
    (mouse.detail() > 1 || is_quick && !is_mouse) && is_once
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
