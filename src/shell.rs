//! The composition root: builds the ports, holds the model, lets actions happen and does what they
//! ask of the outside. It holds no rule of the trade.

use std::rc::Rc;

use wasm_bindgen_futures::spawn_local;
use yew::{Callback, Component, Context, Html};

use crate::app::ports::{
    PictureBytes, PictureFrom, PictureSize, Pictures, Settings, Store, Trouble, Way,
};
use crate::app::relay::RelayAction;
use crate::app::scan::{Abilities, CameraAsk, Hint, NoCamera, ScanAction};
use crate::app::tags::{Paper, TagAction};
use crate::app::{
    self, Action, Ask, Batch, COLUMNS, Caution, Effect, Model, Opening, PackAction, Person,
    PictureAction, Purpose, Theme, World,
};
use crate::domain::ids::{Bits80, JobId};
use crate::domain::length::LengthUnit;
use crate::domain::picture::Shows;
use crate::journal::WallTime;
use crate::paint::paint;
use crate::platform::listening::Listening;
use crate::platform::settings::LocalSettings;
use crate::platform::store::IndexedDb;
use crate::platform::tabs::Tabs;
use crate::platform::{
    clock, dice, fetch, files, location, page, panic, papers, persist, pictures, scanner, settings,
    speech,
};
use crate::ui;

/// Where the demo job is, beside the page.
const DEMO: &str = "./demo/marrowby-mill.short.txt";

/// Draws the app into the element `app` of the page.
pub fn start() {
    yew::set_custom_panic_hook(panic::hook());
    if let Some(host) = page::element("app") {
        yew::Renderer::<App>::with_root(host).render();
    }
}

/// The clock and the dice of this device.
struct Device {
    /// Drawn ahead, so that a browser that refuses random bits is met before anything is written.
    bits: Bits80,
}

impl World for Device {
    fn now(&self) -> WallTime {
        WallTime(clock::now_ms())
    }

    fn bits(&self) -> Bits80 {
        // Fresh each time; the bits drawn ahead only stand in should the browser refuse now.
        dice::bits80().map_or(self.bits, Bits80)
    }

    fn way(&self) -> Option<Way> {
        location::way()
    }
}

/// What reaches the root.
enum Message {
    /// The store is open, or cannot be opened.
    StoreOpened(Result<IndexedDb, Trouble>),
    /// Something happened.
    Happened(Action),
    /// Another window changed what is stored of a job.
    JobChanged(JobId),
}

struct App {
    model: Model,
    device: Result<Device, Trouble>,
    store: Result<Rc<IndexedDb>, Trouble>,
    tabs: Option<(JobId, Rc<Tabs>)>,
    tell: Callback<Action>,
    /// What gets the focus once the screen is drawn, by its id.
    focus: Option<String>,
    /// How far down the screen is shown once it is drawn, where it was left before.
    top: Option<i32>,
    /// Which part of a long list is shown, or was when the screen was left.
    page: usize,
    /// What stands in the fields, as it was kept last.
    typed: String,
    /// Whether something on the page had the focus when the last thing happened.
    had_focus: bool,
    _address: Option<Listening>,
    /// Asks before the page is left with something that is not stored.
    leaving: Option<Listening>,
}

impl Component for App {
    type Message = Message;
    type Properties = ();

    fn create(ctx: &Context<Self>) -> Self {
        let told = ctx
            .link()
            .callback(|hash| Message::Happened(Action::HashChanged(hash)));
        let address = location::on_change(move |hash| told.emit(hash));
        let closed = ctx
            .link()
            .callback(|()| Message::StoreOpened(Err(Trouble::NewerStore)));
        ctx.link().send_future(async move {
            Message::StoreOpened(IndexedDb::open(move |_| closed.emit(())).await)
        });
        Self {
            model: Model::default(),
            device: dice::bits80().map(|bits| Device { bits: Bits80(bits) }),
            store: Err(Trouble::Blocked),
            tabs: None,
            tell: ctx.link().callback(Message::Happened),
            focus: None,
            top: None,
            page: 0,
            typed: String::new(),
            had_focus: false,
            _address: address,
            leaving: None,
        }
    }

    fn update(&mut self, ctx: &Context<Self>, message: Message) -> bool {
        match message {
            Message::StoreOpened(store) => {
                let trouble = store.as_ref().err().cloned();
                let is_newer = store.as_ref().is_ok_and(IndexedDb::is_read_only);
                self.store = store.map(Rc::new);
                self.happen(ctx, started());
                if is_newer {
                    // Before anything is noted that could not be stored.
                    self.happen(ctx, Action::BatchFailed(Trouble::NewerStore));
                }
                if let Some(trouble) = trouble {
                    self.happen(ctx, Action::JobsRead(Err(trouble)));
                }
            }
            Message::Happened(action) => {
                self.had_focus = page::has_focus();
                self.happen(ctx, action);
            }
            Message::JobChanged(job) => self.read_again(ctx, job),
        }
        true
    }

    fn view(&self, _ctx: &Context<Self>) -> Html {
        paint(ui::draw(&self.model), &self.tell)
    }

    fn rendered(&mut self, _ctx: &Context<Self>, _first: bool) {
        page::name_by_heading();
        if let Some(id) = self.focus.take() {
            // Where every mark is read there is no field to go on in.
            let is_there = page::element(&id).is_some();
            page::focus(if is_there { &id } else { "heading" });
        } else if self.had_focus && !page::has_focus() {
            // The button that was pressed is gone. Whoever works with the keyboard goes on where it
            // opened something, or where it says what was done.
            if page::element("opened").is_some() {
                page::focus_part("opened");
            } else {
                page::focus("notices");
            }
        }
        if let Some(top) = self.top.take() {
            page::scroll_to(top);
        }
    }
}

/// What was kept of the settings.
fn started() -> Action {
    let kept = |key| LocalSettings.get(key).unwrap_or_default();
    let read = kept("cautions");
    Action::Started {
        person: Person {
            initials: kept("initials"),
            device: kept("device"),
            alias: kept("alias"),
        },
        unit: if kept("unit") == "m" {
            LengthUnit::Metres
        } else {
            LengthUnit::Feet
        },
        theme: if kept("theme") == Theme::Cellar.key() {
            Theme::Cellar
        } else {
            Theme::Day
        },
        cautions_read: Caution::ALL
            .into_iter()
            .filter(|caution| read.split(' ').any(|key| key == caution.key()))
            .collect(),
        hash: location::hash(),
        typed: settings::typed(),
        tags: ["tags", "stocks", "firm"].map(kept),
        columns: kept(COLUMNS),
        scan: ["lens", "camera", "remotes"].map(kept),
        crew: kept("crew"),
    }
}

impl App {
    fn happen(&mut self, ctx: &Context<Self>, action: Action) {
        self.page = self.model.page;
        let effects = match &self.device {
            Ok(device) => app::update(&mut self.model, action, device),
            Err(trouble) => {
                self.model.jobs = app::JobList::Failed(trouble.clone());
                return;
            }
        };
        let typed = self.model.typed();
        if typed != self.typed {
            settings::keep_typed(&typed);
            self.typed = typed;
        }
        for effect in effects {
            self.perform(ctx, effect);
        }
        if self.model.would_lose() != self.leaving.is_some() {
            let would_lose = self.leaving.is_none();
            self.leaving = would_lose.then(page::ask_before_leaving).flatten();
        }
        self.follow_job(ctx);
    }

    /// Listens to the other windows on the job that is open.
    fn follow_job(&mut self, ctx: &Context<Self>) {
        let open = self.model.open.as_ref().map(|open| open.journal.job());
        let open = open.or(self.model.opening.as_ref().map(Opening::job));
        if self.tabs.as_ref().map(|(job, _)| *job) != open {
            self.tabs = open.map(|job| {
                let changed = ctx.link().callback(move |()| Message::JobChanged(job));
                let tabs = Tabs::join(&job.0.to_string(), move || changed.emit(()));
                (job, Rc::new(tabs))
            });
        }
    }

    fn perform(&mut self, ctx: &Context<Self>, effect: Effect) {
        match effect {
            Effect::ReadJobs => self.with_store(ctx, Action::JobsFailed, |store| async move {
                store.jobs().await.map(|found| Action::JobsRead(Ok(found)))
            }),
            Effect::ReadJob(job) => self.read(ctx, job),
            // Nobody waits for it, and where it fails all is as it was: it is tried at the next opening.
            Effect::Gather(job) => self.with_store(
                ctx,
                |_| Action::Nothing,
                move |store| async move {
                    store
                        .gather(&job.0.to_string())
                        .await
                        .map(|()| Action::Nothing)
                },
            ),
            Effect::PutJob(card) => self.with_store(ctx, Action::Failed, |store| async move {
                store.put_job(&card).await.map(|()| Action::Nothing)
            }),
            Effect::FetchDemo => ctx.link().send_future(async {
                Message::Happened(Action::DemoFetched(fetch::bytes(DEMO).await))
            }),
            Effect::FetchArrived => ctx.link().send_future(async {
                Message::Happened(match fetch::arrived().await {
                    Ok(file) => Action::Arrived(file),
                    Err(trouble) => Action::Failed(trouble),
                })
            }),
            Effect::Save(batch) => self.save(ctx, batch),
            Effect::TakeOff(job) => {
                let tabs = self.tabs.as_ref().map(|(_, tabs)| Rc::clone(tabs));
                self.with_store(ctx, Action::Failed, move |store| async move {
                    store.take_off(&job.0.to_string()).await?;
                    if let Some(tabs) = tabs {
                        tabs.announce_change();
                    }
                    Ok(Action::TakenOff(job))
                });
            }
            Effect::SetHash(hash) => location::set_hash(&hash, self.page),
            Effect::ReplaceHash(hash) => location::replace_hash(&hash),
            Effect::Back(steps) => location::back(steps),
            Effect::ScrollTo(top) => self.top = Some(top),
            Effect::PickFile(purpose) => pick_file(ctx, purpose),
            Effect::HandOut {
                name,
                kind,
                bytes,
                records,
            } => {
                let open = self.model.open.as_ref();
                let job = open.map(|open| open.journal.job());
                let left = job.filter(|_| records > 0).map(|job| (job, records));
                hand_out(ctx, name, kind, bytes, left);
            }
            Effect::Say(words) => speech::say(&words),
            Effect::Print => page::print(),
            Effect::FocusField(field) => self.focus = Some(ui::field_id(field)),
            Effect::SendText(text) => ctx.link().send_future(async move {
                Message::Happened(match files::send_text(&text).await {
                    Ok(files::TextSent::Copied) => Action::Copied,
                    Ok(files::TextSent::Handed) => Action::Nothing,
                    Err(trouble) => Action::Failed(trouble),
                })
            }),
            Effect::Keep { key, value } => LocalSettings.set(key, &value),
            Effect::AskToKeep => spawn_local(async {
                persist::ask().await;
            }),
            Effect::FocusHeading => self.focus = Some("heading".to_owned()),
            Effect::FocusActions => self.focus = Some("actions".to_owned()),
            Effect::OpenFurther => {
                let tell = self.tell.clone();
                page::later(0, move || tell.emit(Action::OpenFurther));
            }
            Effect::PrepareSearch => {
                let tell = self.tell.clone();
                page::later(0, move || tell.emit(Action::PrepareSearch));
            }
            Effect::PickPictures { job, shows, from } => pick_pictures(ctx, job, shows, from),
            Effect::ForgetPicture(address) => pictures::forget(&address),
            Effect::Papers { what, order } => make_papers(ctx, what, order),
            Effect::GiveUpPapers => papers::give_up(),
            Effect::Camera(ask) => ask_camera(ctx, ask),
            Effect::ReadPhoto(bytes) => ctx.link().send_future(async move {
                let came = scanner::photo(&bytes).await;
                Message::Happened(Action::Scan(ScanAction::PhotoRead(came)))
            }),
            Effect::NextCode { run, after } => {
                let tell = self.tell.clone();
                let after = i32::try_from(after).unwrap_or(i32::MAX);
                page::later(after, move || {
                    tell.emit(Action::Relay(RelayAction::Next(run)));
                });
            }
            Effect::Unpack(packed) => ctx.link().send_future(async move {
                let came = scanner::unpack(&packed).await;
                Message::Happened(Action::Relay(RelayAction::Unpacked(came)))
            }),
            Effect::Signal(good) => scanner::signal(good),
            Effect::Ask(ask) => self.ask(ctx, ask),
        }
    }

    /// Does something with the store, and lets happen what comes of it.
    fn with_store<F>(
        &self,
        ctx: &Context<Self>,
        failed: fn(Trouble) -> Action,
        work: impl FnOnce(Rc<IndexedDb>) -> F + 'static,
    ) where
        F: Future<Output = Result<Action, Trouble>> + 'static,
    {
        let store = self.store.clone();
        ctx.link().send_future(async move {
            let done = match store {
                Ok(store) => work(store).await,
                Err(trouble) => Err(trouble),
            };
            Message::Happened(done.unwrap_or_else(failed))
        });
    }

    fn read(&self, ctx: &Context<Self>, job: JobId) {
        self.with_store(ctx, Action::Failed, move |store| async move {
            let lines = store.lines(&job.0.to_string()).await;
            Ok(Action::JobRead { job, lines })
        });
    }

    fn read_again(&self, ctx: &Context<Self>, job: JobId) {
        self.with_store(ctx, Action::Failed, move |store| async move {
            let found = store.lines(&job.0.to_string()).await?;
            // Every job that is here has a line at least, its name.
            Ok(if found.items.is_empty() && found.unreadable == 0 {
                Action::TakenOff(job)
            } else {
                let lines = found.items;
                Action::LinesArrived { job, lines }
            })
        });
    }

    /// Pictures in and out of the store, and how full it is.
    fn ask(&self, ctx: &Context<Self>, ask: Ask) {
        self.with_store(ctx, Action::Failed, |store| async move {
            Ok(match ask {
                Ask::Keep(unkept) => {
                    let [job, name] = unkept.place();
                    let kept = store.keep_picture(&job, &name, &unkept.bytes()).await;
                    Action::Picture(match kept {
                        Ok(()) => PictureAction::Kept(unkept.digest()),
                        Err(trouble) => PictureAction::NotKept(trouble),
                    })
                }
                Ask::Read(job, wanted) => {
                    let (digest, size) = wanted;
                    let [job, name] = [job.0.to_string(), digest.to_string()];
                    let found = store.picture(&job, &name, size).await;
                    let address = found.map(|bytes| pictures::address(&bytes?));
                    Action::Picture(PictureAction::Read(wanted, address))
                }
                Ask::Pack(job, digest) => {
                    let [job, name] = [job.0.to_string(), digest.to_string()];
                    let whole = store.picture(&job, &name, PictureSize::Whole).await;
                    let small = store.picture(&job, &name, PictureSize::Small).await;
                    let both = |(whole, small)| Rc::new(PictureBytes { whole, small });
                    let found = whole.and_then(|whole| Ok(whole.zip(small?).map(both)));
                    Action::Pack(PackAction::Came(digest, found))
                }
                Ask::Room => Action::RoomTold(persist::estimate().await),
            })
        });
    }

    /// Stores a batch, and tells the other windows once it is on the disk.
    fn save(&self, ctx: &Context<Self>, batch: Batch) {
        let link = ctx.link().clone();
        let store = self.store.clone();
        let tabs = self.tabs.as_ref().map(|(_, tabs)| Rc::clone(tabs));
        spawn_local(async move {
            let stored = match store {
                Ok(store) => {
                    let listed = batch.listed.as_ref();
                    store.add(&batch.job, &batch.lines, listed).await
                }
                Err(trouble) => Err(trouble),
            };
            let action = match stored {
                Ok(()) => Action::BatchSaved(batch.token),
                Err(trouble) => Action::BatchFailed(trouble),
            };
            if let (Action::BatchSaved(_), Some(tabs)) = (&action, tabs) {
                tabs.announce_change();
            }
            link.send_message(Message::Happened(action));
        });
    }
}

fn make_papers(ctx: &Context<App>, what: Paper, order: String) {
    let link = ctx.link().clone();
    spawn_local(async move {
        let told = link.clone();
        let told = move |done, of| {
            let action = TagAction::Progress(done, of);
            told.send_message(Message::Happened(Action::Tags(action)));
        };
        let came = papers::ask(what.key(), &order, told).await;
        let action = TagAction::Came(what, came);
        link.send_message(Message::Happened(Action::Tags(action)));
    });
}

fn ask_camera(ctx: &Context<App>, ask: CameraAsk) {
    let link = ctx.link().clone();
    spawn_local(async move {
        match ask {
            CameraAsk::Start(lens) => {
                let told = link.clone();
                let told = move |what: String, texts: String| {
                    let action = match what.as_str() {
                        "read" => ScanAction::Read(texts.lines().map(str::to_owned).collect()),
                        "hint" => ScanAction::Hint(Hint::of(&texts)),
                        "broken" => ScanAction::NoReader,
                        _ => ScanAction::Ended,
                    };
                    told.send_message(Message::Happened(Action::Scan(action)));
                };
                let came = scanner::start(&lens, told).await;
                let came = came.map(|able| Abilities::read(&able));
                let came = came.map_err(|(name, words)| NoCamera::of(&name, &words));
                let action = ScanAction::Started(came);
                link.send_message(Message::Happened(Action::Scan(action)));
            }
            CameraAsk::Anew => scanner::anew().await,
            CameraAsk::Stop => scanner::stop().await,
            CameraAsk::Torch(on) => scanner::torch(on).await,
            CameraAsk::Zoom(times) => scanner::zoom(times).await,
        }
    });
}

fn pick_file(ctx: &Context<App>, purpose: Purpose) {
    let link = ctx.link().clone();
    spawn_local(async move {
        let accept = match purpose {
            Purpose::Schedule => ".csv,.txt,.tsv,text/csv,text/plain",
            Purpose::JobFile => ".txt,text/plain",
            Purpose::TagPhoto => "image/*",
        };
        match files::pick(accept).await {
            Ok(Some(file)) => {
                let (name, bytes) = (file.name, file.bytes);
                link.send_message(Message::Happened(Action::FilePicked {
                    purpose,
                    name,
                    bytes,
                }));
            }
            Ok(None) => {}
            Err(trouble) => link.send_message(Message::Happened(Action::Failed(trouble))),
        }
    });
}

/// One after the other, as each takes much memory until it is made smaller.
fn pick_pictures(ctx: &Context<App>, job: JobId, shows: Shows, from: PictureFrom) {
    let link = ctx.link().clone();
    let tell = move |action| link.send_message(Message::Happened(action));
    spawn_local(async move {
        let files = match files::pick_pictures(from).await {
            Ok(files) => files,
            Err(trouble) => return tell(Action::Failed(trouble)),
        };
        tell(Action::Picture(PictureAction::Chosen(files.len())));
        for file in files {
            tell(Action::Picture(match pictures::shrunk(&file).await {
                Ok(bytes) => PictureAction::Taken(job, shows, Rc::new(bytes)),
                Err(trouble) => PictureAction::Refused(file.name(), trouble),
            }));
        }
    });
}

/// Hands a file out; `left` is the job that it keeps, with the number of its records.
fn hand_out(
    ctx: &Context<App>,
    name: String,
    kind: &'static str,
    bytes: Vec<u8>,
    left: Option<(JobId, usize)>,
) {
    let link = ctx.link().clone();
    spawn_local(async move {
        let file = files::Outgoing {
            name: &name,
            mime: kind,
            bytes: &bytes,
        };
        let action = match (files::save(&file).await, left) {
            (Ok(files::Saved::Cancelled), _) | (Ok(_), None) => return,
            (Ok(_), Some((job, records))) => Action::GivenOut { job, records },
            (Err(trouble), _) => Action::Failed(trouble),
        };
        link.send_message(Message::Happened(action));
    });
}
