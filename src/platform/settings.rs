//! The port `Settings` on the browser's local storage: what may be lost.

use gloo_storage::{LocalStorage, Storage};

use super::browser::local_storage_reachable;
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
