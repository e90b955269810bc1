//! The composition root: starts the app in the page. It holds no rule of the trade.

use yew::prelude::{Html, component, html};

#[component]
fn App() -> Html {
    html! { <h1>{ "Bothends" }</h1> }
}

/// Draws the app into the element `app` of the page.
#[expect(
    clippy::disallowed_methods,
    reason = "the root of the page is needed before there is a port to ask for it"
)]
pub fn start() {
    let document = web_sys::window().and_then(|window| window.document());
    if let Some(host) = document.and_then(|document| document.get_element_by_id("app")) {
        yew::Renderer::<App>::with_root(host).render();
    }
}
