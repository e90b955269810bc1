//! The first screen: the jobs on this device, in a module of its own that is small enough to be
//! there at once. Whatever is chosen stands in the address, and the start script brings the rest of
//! the app for it.

use yew::{Component, Context, Html, InputEvent, SubmitEvent, TargetCast, html};

use crate::app::ports::{Found, JobCard, Settings, Store, Trouble};
use crate::platform::settings::LocalSettings;
use crate::platform::store::IndexedDb;
use crate::platform::{location, page, panic};

/// Draws the first screen into the element `app` of the page.
pub fn start() {
    yew::set_custom_panic_hook(panic::hook());
    if let Some(host) = page::element("app") {
        yew::Renderer::<Front>::with_root(host).render();
    }
}

/// What can happen here.
enum Message {
    /// The list of jobs was read, or could not be.
    JobsRead(Result<Found<JobCard>, Trouble>),
    /// The name of a new job was typed.
    Typed(String),
    /// The new job is wanted.
    Start,
}

struct Front {
    jobs: Option<Result<Found<JobCard>, Trouble>>,
    name: String,
    theme: String,
    nameless: bool,
}

async fn jobs() -> Result<Found<JobCard>, Trouble> {
    // A page that closes the store on the first screen loses nothing: the next one opens it anew.
    IndexedDb::open(|_| {}).await?.jobs().await
}

impl Component for Front {
    type Message = Message;
    type Properties = ();

    fn create(ctx: &Context<Self>) -> Self {
        ctx.link()
            .send_future(async { Message::JobsRead(jobs().await) });
        let theme = LocalSettings
            .get("theme")
            .unwrap_or_else(|| "day".to_owned());
        Self {
            jobs: None,
            name: String::new(),
            theme,
            nameless: false,
        }
    }

    fn update(&mut self, _ctx: &Context<Self>, message: Message) -> bool {
        match message {
            Message::JobsRead(jobs) => self.jobs = Some(jobs),
            Message::Typed(name) => self.name = name,
            Message::Start if self.name.trim().is_empty() => self.nameless = true,
            Message::Start => {
                let name = String::from(js_sys::encode_uri_component(self.name.trim()));
                location::set_hash(&format!("/new/{name}"));
            }
        }
        true
    }

    fn view(&self, ctx: &Context<Self>) -> Html {
        html! {
            <div class={format!("app {}", self.theme)}>
                <header class="top">
                    <div class="top-row"><p class="above">{ "Bothends" }</p></div>
                    <h1 id="heading" tabindex="-1">{ "Jobs on this device" }</h1>
                </header>
                <main id="main" class="page">
                    { self.list() }
                    { self.new_job(ctx) }
                    <a class="button" href="#/demo">{ "Look round in the demo job" }</a>
                    <a class="button" href="#/open">{ "Open a job file" }</a>
                </main>
            </div>
        }
    }
}

impl Front {
    fn list(&self) -> Html {
        match &self.jobs {
            None => html! { <p role="status">{ "Reading …" }</p> },
            Some(Err(trouble)) => {
                html! { <p class="notice refused" role="alert">{ trouble.to_string() }</p> }
            }
            Some(Ok(found)) if found.items.is_empty() => html! {
                <div class="empty">
                    <p>{ "No job here yet. Start one below, or look round in the demo job first." }</p>
                </div>
            },
            Some(Ok(found)) => html! {
                <ul class="rows">
                    { for found.items.iter().map(|job| html! {
                        <li class="row">
                            <a class="row-button" href={format!("#/{}/wall", job.id)}>
                                <span class="row-text">{ job.name.clone() }</span>
                            </a>
                        </li>
                    }) }
                </ul>
            },
        }
    }

    fn new_job(&self, ctx: &Context<Self>) -> Html {
        let typed = ctx.link().callback(|event: InputEvent| {
            let field: Option<web_sys::HtmlInputElement> = event.target_dyn_into();
            Message::Typed(field.map(|field| field.value()).unwrap_or_default())
        });
        let start = ctx.link().callback(|event: SubmitEvent| {
            event.prevent_default();
            Message::Start
        });
        html! {
            <section class="card" aria-labelledby="new-job">
                <h2 id="new-job">{ "New job" }</h2>
                <form onsubmit={start}>
                    <div class="field">
                        <label for="field-jobname">{ "Name of the job" }</label>
                        <input id="field-jobname" type="text" autocomplete="off" spellcheck="false"
                            aria-describedby="hint-jobname" value={self.name.clone()} oninput={typed} />
                        <p class="hint" id="hint-jobname">{ "The house or the street, as you call it" }</p>
                    </div>
                    if self.nameless {
                        <p class="notice refused" role="alert">{ "Give the job a name, such as the house or the street." }</p>
                    }
                    <button type="submit" class="button main">{ "Start this job" }</button>
                </form>
            </section>
        }
    }
}
