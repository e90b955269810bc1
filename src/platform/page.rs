//! Where the keyboard and the screen reader are.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{BeforeUnloadEvent, HtmlElement};

use super::browser;
use super::listening::Listening;

/// Puts the focus on the element with this id, once the screen has been drawn. An element that is
/// not made for it, such as a heading, can take the focus from then on, but not by the tab key.
/// Where there is no such element, the focus stays.
pub fn focus(id: &str) {
    let id = id.to_owned();
    later(0, move || focus_now(&id));
}

/// Calls the page as its heading says, for whoever chooses among pages or goes back by their names.
pub fn name_by_heading() {
    let heading = element("heading").and_then(|heading| heading.text_content());
    if let (Some(document), Some(heading)) = (browser::document(), heading) {
        let name = heading + " · Bothends";
        if document.title() != name {
            document.set_title(&name);
        }
    }
}

/// How far down the page is.
#[must_use]
pub fn top() -> i32 {
    root().map_or(0, |root| root.scroll_top())
}

/// Shows the page so far down, once the screen has been drawn and has its focus.
pub fn scroll_to(top: i32) {
    later(0, move || {
        if let Some(root) = root() {
            root.set_scroll_top(top);
        }
    });
}

fn root() -> Option<web_sys::Element> {
    browser::document()?.document_element()
}

/// The same for a part that opened: it is brought to the top of the screen, since the browser shows no
/// more than its first line.
pub fn focus_part(id: &str) {
    focus(id);
    let id = id.to_owned();
    later(0, move || {
        if let Some(element) = element(&id) {
            element.scroll_into_view();
        }
    });
}

/// Whether anything on the page has the focus. Some browsers give it to no button that is tapped.
#[must_use]
pub fn has_focus() -> bool {
    let active = browser::document().and_then(|document| document.active_element());
    active.is_some_and(|element| element.tag_name() != "BODY")
}

/// The element with this id.
#[must_use]
pub fn element(id: &str) -> Option<web_sys::Element> {
    browser::document().and_then(|document| document.get_element_by_id(id))
}

fn focus_now(id: &str) {
    let found = browser::document().and_then(|document| document.get_element_by_id(id));
    let Some(element) = found.and_then(|element| element.dyn_into::<HtmlElement>().ok()) else {
        return;
    };
    if element.tab_index() < 0 && !element.has_attribute("tabindex") {
        element.set_tab_index(-1);
    }
    element.focus().unwrap_or_default();
}

/// Has the browser ask before the page is left, as long as the answer is kept. It asks in words of its
/// own, and only after something was touched. Browsers before 2023 want the value too.
#[must_use]
pub fn ask_before_leaving() -> Option<Listening> {
    let window = browser::window()?;
    Listening::to(window.into(), "beforeunload", |event| {
        event.prevent_default();
        event
            .unchecked_into::<BeforeUnloadEvent>()
            .set_return_value("?");
    })
}

/// Opens the browser's dialogue for printing.
pub fn print() {
    if let Some(window) = browser::window() {
        window.print().unwrap_or_default();
    }
}

/// Does something once, after so many milliseconds at least. What is drawn meanwhile comes first,
/// because drawing waits for no timer.
pub fn later(milliseconds: i32, what: impl FnOnce() + 'static) {
    let Some(window) = browser::window() else {
        return;
    };
    let called: JsValue = Closure::once_into_js(what);
    window
        .set_timeout_with_callback_and_timeout_and_arguments_0(called.unchecked_ref(), milliseconds)
        .unwrap_or_default();
}
