//! Pictures: made smaller on their way in, and shown.
//!
//! A picture is drawn onto a canvas and written from there, so nothing that stood in the file beside
//! the picture itself comes along: no place, no time, no device.

use js_sys::{Array, Promise, Uint8Array};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, Element, File, Url};

use super::browser::{ask, call, document, property, set_property, window};
use crate::app::ports::{PictureBytes, Trouble};

/// The longer side of a picture, in pixels.
const WHOLE: u32 = 1600;
/// The longer side of a picture in a list.
const SMALL: u32 = 320;
/// How well the browser writes JPEG, from 0 to 1.
const QUALITY: f64 = 0.8;
/// The media type of what is written.
const JPEG: &str = "image/jpeg";

/// Makes a picture as small as it is kept. Whoever takes in several gives one after the other, as
/// an open picture takes as much memory as hundreds of those that are kept.
///
/// # Errors
///
/// The file is no picture that the browser reads, or it would not draw or write it.
pub async fn shrunk(file: &File) -> Result<PictureBytes, Trouble> {
    // Opened the way up that the camera says, which is what browsers do unless told otherwise (HTML,
    // `imageOrientation`).
    let opened = ask(&JsValue::from(window()), "createImageBitmap", [file]).await;
    let opened = opened.map_err(|_| Trouble::NoPicture(file.name()))?;
    let drawn = draw(&opened, WHOLE);
    call(&opened, "close", []).map(drop).unwrap_or_default();
    let both = async {
        let drawn = drawn?;
        let whole = written(&drawn).await;
        let small = draw(&drawn, SMALL);
        give_back(&drawn);
        let small = small?;
        let bytes = written(&small).await;
        give_back(&small);
        Ok(PictureBytes {
            whole: whole?,
            small: bytes?,
        })
    };
    both.await.map_err(|_: JsValue| Trouble::NotShrunk)
}

/// A canvas with the picture on it, its longer side no longer than this.
fn draw(picture: &JsValue, longest: u32) -> Result<Element, JsValue> {
    let side = |name| property(picture, name).and_then(|side| side.as_f64());
    let (Some(width), Some(height)) = (side("width"), side("height")) else {
        return Err(JsValue::UNDEFINED);
    };
    let (width, height) = (width as u32, height as u32);
    let longer = width.max(height).max(1);
    let to = longer.min(longest);
    let [width, height] = [width, height].map(|side| JsValue::from((side * to / longer).max(1)));
    let canvas = document()
        .ok_or(JsValue::UNDEFINED)?
        .create_element("canvas")?;
    set_property(&canvas, "width", &width);
    set_property(&canvas, "height", &height);
    let context = call(&canvas, "getContext", [&"2d".into()])?;
    set_property(&context, "imageSmoothingQuality", &"high".into());
    // What can be seen through, as on many a plan, would be black in a JPEG.
    set_property(&context, "fillStyle", &"#fff".into());
    let zero = JsValue::from(0);
    call(&context, "fillRect", [&zero, &zero, &width, &height])?;
    let placed = [picture, &zero, &zero, &width, &height];
    call(&context, "drawImage", placed)?;
    Ok(canvas)
}

/// What is on a canvas as JPEG.
async fn written(canvas: &Element) -> Result<Vec<u8>, JsValue> {
    let promise = Promise::new(&mut |done, refused| {
        let asked = call(
            canvas,
            "toBlob",
            [&done, &JPEG.into(), &JsValue::from(QUALITY)],
        );
        if let Err(thrown) = asked {
            refused.call1(&JsValue::NULL, &thrown).unwrap_or_default();
        }
    });
    let blob = JsFuture::from(promise).await?;
    let buffer = ask(&blob, "arrayBuffer", []).await?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

/// Safari keeps the memory of a canvas for a long time after the last use of it, unless it is empty.
fn give_back(canvas: &Element) {
    set_property(canvas, "width", &JsValue::from(0));
}

/// An address under which the page can show a picture, until it is [forgotten](forget).
pub fn address(bytes: &[u8]) -> Option<String> {
    let parts = Array::of1(&Uint8Array::from(bytes));
    let kind = BlobPropertyBag::new();
    kind.set_type(JPEG);
    let blob = Blob::new_with_u8_array_sequence_and_options(&parts, &kind).ok()?;
    Url::create_object_url_with_blob(&blob).ok()
}

/// Gives back the memory behind an address.
pub fn forget(address: &str) {
    Url::revoke_object_url(address).unwrap_or_default();
}
