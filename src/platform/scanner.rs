//! The camera and the reader of tags, both behind the script `web/scan.js`.

use js_sys::Uint8Array;
use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;

use super::{browser, trouble};
use crate::app::ports::Trouble;

/// Has the camera show what it sees on the page, and says what it can do. `lens` is the id of the
/// camera that was used last; `told` hears what is seen, each thing with its texts.
///
/// # Errors
///
/// The browser's name of the fault, and its words for it.
pub async fn start(
    lens: &str,
    told: impl Fn(String, String) + 'static,
) -> Result<String, (String, String)> {
    // The script holds it as long as it looks.
    let told = Closure::<dyn Fn(String, String)>::new(told).into_js_value();
    let came = ask("start", &JsValue::from_str(lens), &told).await;
    came.map(|came| came.as_string().unwrap_or_default())
        .map_err(|thrown| {
            let word = |name| browser::property(&thrown, name).and_then(|word| word.as_string());
            let words = word("message").unwrap_or_default();
            (word("name").unwrap_or_default(), words)
        })
}

/// A tag that was told already is told again when it is in view.
pub async fn anew() {
    let done = ask("anew", &JsValue::NULL, &JsValue::NULL).await;
    drop(done);
}

/// Has the camera rest.
pub async fn stop() {
    ask("stop", &JsValue::NULL, &JsValue::NULL)
        .await
        .unwrap_or_default();
}

/// Turns its light on or off; silent where it has none.
pub async fn torch(on: bool) {
    let on = JsValue::from_bool(on);
    ask("torch", &on, &JsValue::NULL).await.unwrap_or_default();
}

/// Has it show things so many times as large, as far as it can.
pub async fn zoom(times: u8) {
    let times = JsValue::from(times);
    ask("zoom", &times, &JsValue::NULL)
        .await
        .unwrap_or_default();
}

/// What stands on a tag in a picture; none where none can be read.
///
/// # Errors
///
/// The bytes are no picture, or the reader cannot be had.
pub async fn photo(bytes: &[u8]) -> Result<Option<String>, Trouble> {
    let bytes = Uint8Array::from(bytes);
    let came = ask("photo", &bytes, &JsValue::NULL).await;
    came.map(|came| came.as_string())
        .map_err(|thrown| match trouble::name(&thrown).as_str() {
            // HTML, createImageBitmap: what cannot be decoded.
            "InvalidStateError" | "EncodingError" => Trouble::NoPicture("this file".to_owned()),
            _ => trouble::from_js(&thrown),
        })
}

/// The text that a whole series of codes carried; none where it is no text, or far too long.
///
/// # Errors
///
/// The reader cannot be had.
pub async fn unpack(packed: &[u8]) -> Result<Option<String>, Trouble> {
    let packed = Uint8Array::from(packed);
    let came = ask("unpack", &packed, &JsValue::NULL).await;
    came.map(|came| came.as_string())
        .map_err(|thrown| trouble::from_js(&thrown))
}

/// A sign for eye, ear and hand.
pub fn signal(good: bool) {
    if let Some(window) = browser::window() {
        browser::call(&window, "bothendsSignal", [&JsValue::from_bool(good)]).unwrap_or_default();
    }
}

async fn ask(what: &str, given: &JsValue, told: &JsValue) -> Result<JsValue, JsValue> {
    let window = browser::window().ok_or(JsValue::UNDEFINED)?;
    let what = JsValue::from_str(what);
    browser::ask(&window, "bothendsScan", [&what, given, told]).await
}
