//! Taking a file that the person chooses.

use js_sys::{Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, FileList, HtmlInputElement};

use crate::app::ports::{PictureFrom, Trouble};
use crate::platform::{browser, trouble};

/// The largest file that is read, in bytes. A phone has to hold it several times over.
const LARGEST: f64 = 64.0 * 1024.0 * 1024.0;

/// A file that the person chose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PickedFile {
    /// Its name on the device.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Lets the person choose a file; none when they choose none. Call it from a tap.
///
/// `accept` is as in HTML: endings and media types with commas between. People can get around it, so
/// the file may be anything. Browsers that do not tell when nothing was chosen (Safari before 16.4)
/// never answer then; what was waiting is left waiting.
///
/// # Errors
///
/// The browser would not open the choice or read the file, or the file is larger than 64 MiB.
pub async fn pick(accept: &str) -> Result<Option<PickedFile>, Trouble> {
    let input = input(accept).map_err(|thrown| trouble::from_js(&thrown))?;
    match chosen(&input).await?.first() {
        Some(file) => read(file).await.map(Some),
        None => Ok(None),
    }
}

/// Lets the person take a picture or choose some; empty when they do not. Call it from a tap.
///
/// A phone that is asked for its camera opens nothing else, and one that is asked for a picture may
/// offer no camera, so each has a way of its own.
///
/// # Errors
///
/// The browser would not open the choice.
pub async fn pick_pictures(from: PictureFrom) -> Result<Vec<File>, Trouble> {
    let input = input("image/*").map_err(|thrown| trouble::from_js(&thrown))?;
    match from {
        PictureFrom::Camera => input.set_attribute("capture", "environment"),
        PictureFrom::Device => input.set_attribute("multiple", ""),
    }
    .unwrap_or_default();
    chosen(&input).await
}

/// Opens the choice, and takes the field out of the page again.
async fn chosen(input: &HtmlInputElement) -> Result<Vec<File>, Trouble> {
    let done = choose(input).await;
    input.remove();
    done.map_err(|thrown| trouble::from_js(&thrown))?;
    let files = input.files();
    let count = files.as_ref().map_or(0, FileList::length);
    let files = (0..count).filter_map(|at| files.as_ref()?.get(at));
    Ok(files.collect())
}

/// A field for a file. It stands in the page, unseen, because Safari opens no other.
fn input(accept: &str) -> Result<HtmlInputElement, JsValue> {
    let document = browser::document().ok_or(JsValue::UNDEFINED)?;
    let input: HtmlInputElement = document.create_element("input")?.dyn_into()?;
    input.set_type("file");
    input.set_accept(accept);
    input.set_hidden(true);
    document
        .body()
        .ok_or(JsValue::UNDEFINED)?
        .append_child(&input)?;
    Ok(input)
}

async fn choose(input: &HtmlInputElement) -> Result<JsValue, JsValue> {
    // The promise itself listens, so nothing of ours has to outlive the choice.
    let done = Promise::new(&mut |done, refused| {
        for kind in ["change", "cancel"] {
            if let Err(thrown) = input.add_event_listener_with_callback(kind, &done) {
                refused.call1(&JsValue::NULL, &thrown).unwrap_or_default();
            }
        }
    });
    input.click();
    JsFuture::from(done).await
}

async fn read(file: &File) -> Result<PickedFile, Trouble> {
    let name = file.name();
    if file.size() > LARGEST {
        return Err(Trouble::Other(format!(
            "the file {name} is larger than 64 MB, which is more than this app reads at once"
        )));
    }
    let buffer = JsFuture::from(file.array_buffer())
        .await
        .map_err(|thrown| trouble::from_js(&thrown))?;
    Ok(PickedFile {
        name,
        bytes: Uint8Array::new(&buffer).to_vec(),
    })
}
