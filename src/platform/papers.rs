//! Papers, made in another thread by the module that `web/papers.js` loads.

use js_sys::Uint8Array;
use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;

use super::{browser, trouble};
use crate::app::ports::Trouble;

/// Does one thing with an order: `look`, `pdf`, `texts`, `svg` or `png`; texts come as UTF-8. `told`
/// hears how many pages of how many are made. None when it was given up meanwhile.
///
/// # Errors
///
/// The module cannot be had, or it failed.
pub async fn ask(
    what: &str,
    order: &str,
    told: impl Fn(u32, u32) + 'static,
) -> Result<Option<Vec<u8>>, Trouble> {
    let told = Closure::<dyn Fn(u32, u32)>::new(told);
    let asked = async {
        let window = browser::window().ok_or(JsValue::UNDEFINED)?;
        let [what, order] = [what, order].map(JsValue::from_str);
        browser::ask(&window, "bothendsPapers", [&what, &order, told.as_ref()]).await
    };
    let made = asked.await.map_err(|thrown| trouble::from_js(&thrown))?;
    if made.is_undefined() {
        return Ok(None);
    }
    Ok(Some(match made.as_string() {
        Some(text) => text.into_bytes(),
        None => Uint8Array::new(&made).to_vec(),
    }))
}

/// Gives up what is under way.
pub fn give_up() {
    if let Some(window) = browser::window() {
        browser::call(&window, "bothendsGiveUp", []).unwrap_or_default();
    }
}
