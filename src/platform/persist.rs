//! Whether the browser promises to keep what is stored here, and how much room there is.

use wasm_bindgen::JsValue;

use super::browser;
use crate::app::ports::{Keeping, Room};

/// What the browser says about keeping now. It asks nobody.
pub async fn persisted() -> Keeping {
    answer("persisted").await
}

/// Asks the browser to keep everything. Call it on a save: some browsers decide by themselves from
/// how the page is used, one asks the person.
pub async fn ask() -> Keeping {
    match persisted().await {
        Keeping::Promised => Keeping::Promised,
        Keeping::MayBeCleared | Keeping::Unknown => answer("persist").await,
    }
}

/// How much room there is; none where the browser does not say.
pub async fn estimate() -> Option<Room> {
    let estimate = browser::ask(&manager()?, "estimate", []).await.ok()?;
    let number = |name| browser::property(&estimate, name)?.as_f64();
    Some(Room {
        used: number("usage")? as u64,
        quota: number("quota")? as u64,
        keeping: persisted().await,
    })
}

async fn answer(question: &str) -> Keeping {
    let Some(manager) = manager() else {
        return Keeping::Unknown;
    };
    let answer = browser::ask(&manager, question, []).await;
    match answer.ok().and_then(|answer| answer.as_bool()) {
        Some(true) => Keeping::Promised,
        Some(false) => Keeping::MayBeCleared,
        None => Keeping::Unknown,
    }
}

/// The storage manager, which pages from an unprotected address do not have.
fn manager() -> Option<JsValue> {
    browser::property(&browser::window()?.navigator(), "storage")
}
