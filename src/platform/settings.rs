//! The port `Settings` on the browser's local storage: what may be lost. What was typed and not
//! sent is kept beside it, by the window.

use gloo_storage::{LocalStorage, Storage};

use super::browser::{local_storage_reachable, window};
use crate::app::ports::Settings;

/// Settings in local storage. Where the browser blocks it, nothing is ever set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LocalSettings;

impl Settings for LocalSettings {
    fn get(&self, key: &str) -> Option<String> {
        if !local_storage_reachable() {
            return None;
        }
        LocalStorage::get(key).ok()
    }

    fn set(&self, key: &str, value: &str) {
        if local_storage_reachable() {
            // A full or failing storage costs a setting, which is worth no words.
            LocalStorage::set(key, value).unwrap_or_default();
        }
    }
}

/// Under which name the texts of the fields are kept.
const TYPED: &str = "typed";

/// What the browser keeps for this window alone, over a reload.
fn of_this_window() -> Option<web_sys::Storage> {
    window()?.session_storage().ok()?
}

/// What stood in the fields when this window was loaded last.
#[must_use]
pub fn typed() -> String {
    let kept = of_this_window().and_then(|storage| storage.get_item(TYPED).ok()?);
    kept.unwrap_or_default()
}

/// Keeps what stands in the fields.
pub fn keep_typed(texts: &str) {
    if let Some(storage) = of_this_window() {
        // Where it is refused, a reload forgets what was typed, which is worth no words.
        storage.set_item(TYPED, texts).unwrap_or_default();
    }
}
