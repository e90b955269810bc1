//! Handing a text to another app of the phone, or to the clipboard.

use js_sys::Object;
use wasm_bindgen::JsValue;

use crate::app::ports::Trouble;
use crate::platform::{browser, trouble};

/// What became of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextSent {
    /// The share sheet has it, or was closed by the person.
    Handed,
    /// It is on the clipboard.
    Copied,
}

/// Hands a text out: through the share sheet where there is one, else to the clipboard. Call it from
/// a tap.
///
/// # Errors
///
/// The browser has neither, or refuses both.
pub async fn send_text(text: &str) -> Result<TextSent, Trouble> {
    let navigator = browser::window().ok_or(Trouble::Blocked)?.navigator();
    let words = JsValue::from_str(text);
    let offer = Object::new();
    browser::set_property(&offer, "text", &words);
    match browser::ask(&navigator, "share", [&offer]).await {
        Ok(_) => return Ok(TextSent::Handed),
        Err(thrown) if trouble::name(&thrown) == "AbortError" => return Ok(TextSent::Handed),
        Err(_) => {}
    }
    let clipboard = browser::property(&navigator, "clipboard").ok_or_else(|| {
        Trouble::Other("it can neither send nor copy a text; mark the text and copy it".to_owned())
    })?;
    let copied = browser::ask(&clipboard, "writeText", [&words]).await;
    copied
        .map(|_| TextSent::Copied)
        .map_err(|thrown| trouble::from_js(&thrown))
}
