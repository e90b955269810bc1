//! Handing a file to the person: through the share sheet of a phone, or as a download.

use js_sys::{Array, Object, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{File, FilePropertyBag, HtmlElement, Url};

use crate::app::ports::Trouble;
use crate::platform::{browser, page, trouble};

/// How long a download may take to begin. The browser reads the file then; afterwards its bytes are
/// given back.
const DOWNLOAD_BEGINS_WITHIN_MS: i32 = 60_000;

/// A file on its way out.
///
/// Phones share `.txt`, `.csv`, `.pdf` and pictures, but neither `.json` nor `.zip` (MDN,
/// `Navigator.share`): those are always downloaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Outgoing<'a> {
    /// Its name with the ending.
    pub name: &'a str,
    /// Its media type, such as `text/plain`.
    pub mime: &'a str,
    /// What is in it.
    pub bytes: &'a [u8],
}

/// What became of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saved {
    /// The person chose in the share sheet where it goes.
    Shared,
    /// The browser downloads it. Whether the person keeps it is not known.
    Downloaded,
    /// The person closed the share sheet: the file is nowhere.
    Cancelled,
}

/// Hands out a file: through the share sheet on phones that can share it, else as a download. Call
/// it from a tap, with the bytes made before, because the sheet opens only shortly after a tap.
///
/// # Errors
///
/// The browser would not take it. An app on the home screen of iOS ignores downloads without a
/// word, so there a file that cannot be shared is refused.
pub async fn save(file: &Outgoing<'_>) -> Result<Saved, Trouble> {
    let made = make(file).map_err(|thrown| trouble::from_js(&thrown))?;
    let home_screen = on_ios_home_screen();
    let offer = if home_screen || has_touch() {
        shareable(&made)
    } else {
        None
    };
    match offer {
        Some(offer) => match share(&offer).await {
            Ok(_) => Ok(Saved::Shared),
            Err(thrown) if trouble::name(&thrown) == "AbortError" => Ok(Saved::Cancelled),
            Err(thrown) if home_screen => Err(trouble::from_js(&thrown)),
            Err(_) => download(&made),
        },
        None if home_screen => Err(Trouble::Other(
            "this device does not hand out such a file from the home screen".to_owned(),
        )),
        None => download(&made),
    }
}

fn make(file: &Outgoing<'_>) -> Result<File, JsValue> {
    let parts = Array::of1(&Uint8Array::from(file.bytes));
    let kind = FilePropertyBag::new();
    kind.set_type(file.mime);
    File::new_with_u8_array_sequence_and_options(&parts, file.name, &kind)
}

/// Whether this is an app on the home screen of iOS. Only Safari has this property.
fn on_ios_home_screen() -> bool {
    browser::window()
        .and_then(|window| browser::property(&window.navigator(), "standalone"))
        .is_some_and(|standalone| standalone.is_truthy())
}

/// Whether a finger is the main way to point. Computers can share as well, but a download is what
/// people expect there.
fn has_touch() -> bool {
    let query = JsValue::from_str("(pointer: coarse)");
    browser::window()
        .and_then(|window| browser::call(&window, "matchMedia", [&query]).ok())
        .and_then(|answer| browser::property(&answer, "matches"))
        .is_some_and(|matches| matches.is_truthy())
}

/// What to put on the share sheet, if the browser can share this file.
fn shareable(file: &File) -> Option<Object> {
    let offer = Object::new();
    browser::set_property(&offer, "files", &Array::of1(file));
    let navigator = browser::window()?.navigator();
    let answer = browser::call(&navigator, "canShare", [&offer]).ok()?;
    answer.is_truthy().then_some(offer)
}

async fn share(offer: &Object) -> Result<JsValue, JsValue> {
    let window = browser::window().ok_or(JsValue::UNDEFINED)?;
    browser::ask(&window.navigator(), "share", [offer]).await
}

fn download(file: &File) -> Result<Saved, Trouble> {
    click_link(file).map_err(|thrown| trouble::from_js(&thrown))?;
    Ok(Saved::Downloaded)
}

fn click_link(file: &File) -> Result<(), JsValue> {
    let document = browser::document().ok_or(JsValue::UNDEFINED)?;
    let link: HtmlElement = document.create_element("a")?.dyn_into()?;
    let address = Url::create_object_url_with_blob(file)?;
    link.set_attribute("href", &address)?;
    link.set_attribute("download", &file.name())?;
    link.click();
    page::later(DOWNLOAD_BEGINS_WITHIN_MS, move || {
        Url::revoke_object_url(&address).unwrap_or_default();
    });
    Ok(())
}
