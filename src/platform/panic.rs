//! What happens when the program meets its own mistake.

use std::panic::PanicHookInfo;

use wasm_bindgen::JsValue;

use super::browser;

/// What to do with a panic, in the form that `yew::set_custom_panic_hook` takes.
pub type Hook = Box<dyn Fn(&PanicHookInfo<'_>) + Send + Sync + 'static>;

/// Tells `bothendsFatal`, which the start script defines, the message of a panic.
///
/// Nothing else of the program runs after that: its memory may be half changed. The script keeps
/// everything from calling in again, and offers the records without the program. The hook has to be
/// set through Yew, which puts its own in the place of any other when it first draws.
#[must_use]
pub fn hook() -> Hook {
    Box::new(|panic| {
        let message = JsValue::from_str(&panic.to_string());
        // Where the script is missing, the browser's own report of the trap is all there is.
        browser::call(&js_sys::global(), "bothendsFatal", [&message]).unwrap_or_default();
    })
}
