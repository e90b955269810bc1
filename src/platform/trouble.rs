//! From the browser's exceptions to the troubles of the ports.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::DomException;

use super::browser;
use crate::app::ports::Trouble;

/// The trouble that an exception of the browser stands for.
///
/// Names of exceptions: Web IDL, table of `DOMException` names; Indexed Database API, section on
/// exceptions.
pub(super) fn from_js(thrown: &JsValue) -> Trouble {
    match thrown.dyn_ref::<DomException>() {
        Some(exception) => from_exception(exception),
        // What a fetch and an import throw when the network is gone (Fetch, HTML: a TypeError).
        None if name(thrown) == "TypeError" && words(thrown).contains("fetch") => {
            Trouble::PartMissing
        }
        None => Trouble::Other(words(thrown)),
    }
}

/// The same for what is known to be an exception of the browser.
pub(super) fn from_exception(exception: &DomException) -> Trouble {
    match exception.name().as_str() {
        "QuotaExceededError" => Trouble::Full,
        "VersionError" => Trouble::NewerStore,
        "SecurityError" => Trouble::Blocked,
        name => Trouble::Other(format!("{} ({name})", exception.message())),
    }
}

/// The name of an exception, empty for anything that has none.
pub(super) fn name(thrown: &JsValue) -> String {
    text(thrown, "name").unwrap_or_default()
}

fn words(thrown: &JsValue) -> String {
    text(thrown, "message")
        .or_else(|| thrown.as_string())
        .unwrap_or_else(|| "this browser cannot do it".to_owned())
}

fn text(of: &JsValue, property: &str) -> Option<String> {
    browser::property(of, property)?.as_string()
}
