//! The first screen: the jobs on this device, in a module of its own that is small enough to be
//! there at once. Whatever is chosen stands in the address, and the start script brings the rest of
//! the app for it.

use std::cell::RefCell;
use std::rc::Rc;

use wasm_bindgen_futures::spawn_local;

use crate::app::ports::{Found, JobCard, Store, Trouble};
use crate::platform::store::IndexedDb;
use crate::platform::{location, page, panic, settings};
use crate::sketch::Sketch;
use crate::view::{Node, Touch, markup};

/// Draws the first screen into the element `app` of the page.
pub fn start() {
    std::panic::set_hook(panic::hook());
    let Some(sketch) = page::element("app").and_then(Sketch::inside) else {
        return;
    };
    let stage = Rc::new(Stage {
        front: RefCell::default(),
        sketch: RefCell::new(sketch),
    });
    stage.draw();
    spawn_local(async move {
        let jobs = jobs().await;
        stage.front.borrow_mut().jobs = Some(jobs);
        stage.draw();
    });
}

async fn jobs() -> Result<Found<JobCard>, Trouble> {
    // A page that closes the store on the first screen loses nothing: the next one opens it anew.
    IndexedDb::open(|_| {}).await?.jobs().await
}

/// What a touch means.
#[derive(Clone)]
enum Meaning {
    /// The name of a new job was typed.
    Typed(String),
    /// The new job is wanted.
    Start,
}

type Drawing = Node<Meaning>;

/// What is shown, and where.
struct Stage {
    front: RefCell<Front>,
    sketch: RefCell<Sketch>,
}

impl Stage {
    fn draw(self: &Rc<Self>) {
        let drawing = self.front.borrow().draw();
        let stage = Rc::clone(self);
        let tell: Rc<dyn Fn(Meaning)> = Rc::new(move |meaning| stage.happen(meaning));
        self.sketch.borrow_mut().draw(drawing, &tell);
    }

    fn happen(self: &Rc<Self>, meaning: Meaning) {
        match meaning {
            // The field shows what is typed by itself.
            Meaning::Typed(name) => self.front.borrow_mut().name = name,
            Meaning::Start => {
                let name = self.front.borrow().name.trim().to_owned();
                if name.is_empty() {
                    self.front.borrow_mut().nameless = true;
                    // Not under the hand that is still in the old form.
                    let stage = Rc::clone(self);
                    spawn_local(async move {
                        stage.draw();
                        page::focus("field-jobname");
                    });
                } else {
                    let name = String::from(js_sys::encode_uri_component(&name));
                    location::set_hash(&format!("/new/{name}"));
                }
            }
        }
    }
}

/// What the first screen knows.
struct Front {
    jobs: Option<Result<Found<JobCard>, Trouble>>,
    name: String,
    theme: String,
    nameless: bool,
}

impl Default for Front {
    fn default() -> Self {
        let theme = settings::word("theme");
        Self {
            jobs: None,
            name: String::new(),
            theme: theme.unwrap_or_else(|| "day".to_owned()),
            nameless: false,
        }
    }
}

impl Front {
    fn draw(&self) -> Drawing {
        markup! {
            <div class={format!("app {}", self.theme)}>
                <header class="top">
                    <div class="top-row"><p class="above">{ "Bothends" }</p></div>
                    <h1 id="heading" tabindex="-1">{ "Jobs on this device" }</h1>
                </header>
                <main id="main" class="page">
                    { self.list() }
                    { self.new_job() }
                    <a class="button" href="#/demo">{ "Look round in the demo job" }</a>
                    <a class="button" href="#/open">{ "Open a job file" }</a>
                </main>
            </div>
        }
    }

    fn list(&self) -> Drawing {
        match &self.jobs {
            None => markup! { <p role="status">{ "Reading …" }</p> },
            Some(Err(trouble)) => {
                markup! { <p class="notice refused" role="alert">{ trouble.to_string() }</p> }
            }
            Some(Ok(found)) if found.items.is_empty() => markup! {
                <div class="empty">
                    <p>{ "No job here yet. Start one below, or look round in the demo job first." }</p>
                </div>
            },
            Some(Ok(found)) => markup! {
                <ul class="rows">
                    { for found.items.iter().map(|job| markup! {
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

    fn new_job(&self) -> Drawing {
        markup! {
            <section class="card" aria-labelledby="new-job">
                <h2 id="new-job">{ "New job" }</h2>
                <form onsubmit={Touch::Sent(Meaning::Start)}>
                    <div class="field">
                        <label for="field-jobname">{ "Name of the job" }</label>
                        <input id="field-jobname" type="text" autocomplete="off" spellcheck="false"
                            aria-describedby="hint-jobname" value={self.name.clone()} oninput={Touch::Typed(Box::new(Meaning::Typed))} />
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
