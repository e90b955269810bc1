//! A listener that ends with its owner, so that listeners never pile up.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Event, EventTarget};

/// Listens as long as it lives.
#[must_use = "it stops listening when it is dropped"]
pub struct Listening {
    target: EventTarget,
    kind: &'static str,
    told: Closure<dyn FnMut(Event)>,
}

impl Listening {
    /// Calls `told` at every event of that kind; none where the browser refuses.
    #[must_use]
    pub fn to(
        target: EventTarget,
        kind: &'static str,
        told: impl FnMut(Event) + 'static,
    ) -> Option<Self> {
        let told = Closure::new(told);
        target
            .add_event_listener_with_callback(kind, told.as_ref().unchecked_ref())
            .ok()?;
        Some(Self { target, kind, told })
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        // A listener that cannot be taken off was never on.
        self.target
            .remove_event_listener_with_callback(self.kind, self.told.as_ref().unchecked_ref())
            .unwrap_or_default();
    }
}
