//! Files that come with the app, asked of its own host or of what the service worker keeps; and the file
//! that another app shared with this one.

use js_sys::{ArrayBuffer, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

use super::{browser, trouble};
use crate::app::ports::Trouble;

/// The content of a file beside the page.
///
/// # Errors
///
/// The file cannot be had: there is no network and it is not kept, or it is not there.
pub async fn bytes(address: &str) -> Result<Vec<u8>, Trouble> {
    let window = browser::window().ok_or(Trouble::Blocked)?;
    let asked = async {
        let response = browser::ask(&window, "fetch", [&JsValue::from_str(address)]).await?;
        let ok = browser::property(&response, "ok").is_some_and(|ok| ok.is_truthy());
        if !ok {
            return Err(JsValue::from_str(
                "this part of the app has not arrived yet",
            ));
        }
        let buffer = browser::ask(&response, "arrayBuffer", []).await?;
        buffer.dyn_into::<ArrayBuffer>()
    };
    let buffer = asked.await.map_err(|thrown| trouble::from_js(&thrown))?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

/// The file that was dropped on the page or shared by another app; none when there is none. It is given
/// once.
///
/// # Errors
///
/// The browser keeps no files here.
pub async fn arrived() -> Result<Option<Vec<u8>>, Trouble> {
    let window = browser::window().ok_or(Trouble::Blocked)?;
    let came = browser::ask(&window, "bothendsArrived", []).await;
    let came = came.map_err(|thrown| trouble::from_js(&thrown))?;
    Ok((!came.is_undefined()).then(|| Uint8Array::new(&came).to_vec()))
}
