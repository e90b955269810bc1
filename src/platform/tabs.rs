//! Other tabs of this browser on the same job: who saves something or takes the job off tells the others.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{BroadcastChannel, MessageEvent};

/// The one thing that is ever said.
const CHANGED: &str = "grew";

/// The tabs on one job, as long as it lives. Where the browser has no such channel (Safari before
/// 15.4), nobody is heard and nobody hears.
#[must_use = "it stops listening when it is dropped"]
pub struct Tabs {
    channel: Option<BroadcastChannel>,
    /// Held for as long as the channel calls it.
    _heard: Closure<dyn FnMut(MessageEvent)>,
}

impl Tabs {
    /// Joins the tabs on the job with this id, and calls `changed` whenever another of them has changed what
    /// is stored. A tab does not hear itself.
    pub fn join(job: &str, changed: impl Fn() + 'static) -> Self {
        let heard = Closure::new(move |message: MessageEvent| {
            if message.data().as_string().as_deref() == Some(CHANGED) {
                changed();
            }
        });
        let channel = BroadcastChannel::new(&format!("bothends-{job}")).ok();
        if let Some(channel) = &channel {
            channel.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        }
        Self {
            channel,
            _heard: heard,
        }
    }

    /// Tells the other tabs that what is stored has changed. One that does not hear it finds out when it is
    /// opened again.
    pub fn announce_change(&self) {
        if let Some(channel) = &self.channel {
            channel
                .post_message(&JsValue::from_str(CHANGED))
                .unwrap_or_default();
        }
    }
}

impl Drop for Tabs {
    fn drop(&mut self) {
        if let Some(channel) = &self.channel {
            channel.set_onmessage(None);
            channel.close();
        }
    }
}
