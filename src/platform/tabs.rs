//! Other tabs of this browser on the same job: who saves tells the others, and who takes it off.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{BroadcastChannel, MessageEvent};

/// What one tab says to the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum News {
    /// Something was saved.
    Grew,
    /// The job is no longer on this device.
    Gone,
}

impl News {
    fn word(self) -> &'static str {
        match self {
            Self::Grew => "grew",
            Self::Gone => "gone",
        }
    }
}

/// The tabs on one job, as long as it lives. Where the browser has no such channel (Safari before
/// 15.4), nobody is heard and nobody hears.
#[must_use = "it stops listening when it is dropped"]
pub struct Tabs {
    channel: Option<BroadcastChannel>,
    /// Held for as long as the channel calls it.
    _heard: Closure<dyn FnMut(MessageEvent)>,
}

impl Tabs {
    /// Joins the tabs on the job with this id, and calls `told` with whatever another of them says. A tab
    /// does not hear itself.
    pub fn join(job: &str, told: impl Fn(News) + 'static) -> Self {
        let heard = Closure::new(move |message: MessageEvent| {
            let said = message.data().as_string();
            let mut all = [News::Grew, News::Gone].into_iter();
            if let Some(news) = all.find(|news| said.as_deref() == Some(news.word())) {
                told(news);
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

    /// Tells the other tabs something. One that does not hear it finds out when it is opened again.
    pub fn announce(&self, news: News) {
        if let Some(channel) = &self.channel {
            channel
                .post_message(&JsValue::from_str(news.word()))
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
