//! The running app as pure values: its model, the closed list of what can happen, and what the
//! outside is asked to do about it.

use crate::command::{self, Refusal, Want};
use crate::domain::ids::{ActId, Bits80, JobId, WriterId};
use crate::domain::length::LengthUnit;
use crate::exchange::schedule::Column;
use crate::journal::{Draft, Journal, Registry, Signature, WallTime};

/// Job files.
mod carry;
/// What stands in the fields.
mod fields;
/// Forms: fields to wants.
mod forms;
/// A cable schedule on its way in.
mod import;
/// The punch list in words.
pub mod mend;
/// An open job.
mod open;
/// What the app needs of the outside.
pub mod ports;
/// Which screen is open.
mod route;
/// Which lines are on the disk.
mod saving;

pub use carry::{Parcel, TakeOut};
pub use fields::{Field, Fields};
pub use forms::{FindForm, Form, RackForm, cover, place_typed, plan, stretch, wall};
pub use import::Import;
pub use open::OpenJob;
use ports::{Found, JobCard, StoredLine, Trouble};
pub use route::{Errand, Route, Screen, Section};
pub use saving::{Batch, Saved, Saving};

/// The two things that the core never has by itself.
pub trait World {
    /// The time by this phone's clock.
    fn now(&self) -> WallTime;

    /// Fresh random bits.
    fn bits(&self) -> Bits80;
}

/// Everything that the app holds while it runs.
pub struct Model {
    /// The jobs on this device.
    pub jobs: JobList,
    /// The job that is open.
    pub open: Option<OpenJob>,
    /// The screen.
    pub route: Route,
    /// Who works with this device.
    pub person: Person,
    /// The unit of lengths that are typed.
    pub unit: LengthUnit,
    /// What the bar above the actions says.
    pub notice: Option<Notice>,
    /// What stands in the fields.
    pub fields: Fields,
    /// What is on its way to the disk.
    pub saving: Saving,
    /// A job file on its way into a job that is still being read.
    pub parcel: Option<Parcel>,
    /// A cable schedule that was picked.
    pub import: Option<Import>,
    /// Which part of a long list is shown, from 0.
    pub page: usize,
    /// The phases whose cautions were read.
    pub cautions_read: Vec<Caution>,
    /// Bright or dark.
    pub theme: Theme,
}

/// The list of jobs on this device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobList {
    /// It is being read.
    Reading,
    /// Here it is.
    Here(Vec<JobCard>),
    /// It could not be read.
    Failed(Trouble),
}

/// Who works with this device. Initials are a claim, not proof.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Person {
    /// Initials.
    pub initials: String,
    /// What the device is called.
    pub device: String,
}

impl Person {
    /// How it is written down.
    #[must_use]
    pub fn signature(&self) -> String {
        match (self.initials.trim(), self.device.trim()) {
            ("", device) => device.to_owned(),
            (initials, "") => initials.to_owned(),
            (initials, device) => format!("{initials}, {device}"),
        }
    }
}

/// What the bar above the actions says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Something was done and can be taken back.
    Done {
        /// What.
        words: String,
        /// The act, to take it back.
        act: ActId,
    },
    /// Something was not done.
    Refused(Refusal),
    /// Something outside went wrong.
    Trouble(Trouble),
    /// Something worth knowing.
    Told(String),
    /// Something worth knowing of a file, and lines in it that may be altered: take them in?
    Asked {
        /// What.
        words: String,
        /// The lines, which are not taken in yet.
        doubtful: Vec<String>,
    },
}

/// A phase of the work whose usual cautions are shown once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// Pulling and marking in open walls.
    Wall,
    /// Terminating at the rack.
    Rack,
}

/// Bright for daylight, dark for cellars.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark ink on white.
    #[default]
    Day,
    /// Light ink on black.
    Cellar,
}

/// What a picked file is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// A cable schedule.
    Schedule,
    /// A job file.
    JobFile,
}

/// Everything that can happen.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum Action {
    /// The app starts, with what was kept of the settings.
    Started {
        person: Person,
        unit: LengthUnit,
        theme: Theme,
        cautions_read: Vec<Caution>,
        hash: String,
        /// What [`Model::typed`] said last before the page was loaded again.
        typed: String,
    },
    /// Nothing that matters.
    Nothing,
    /// The list of jobs was read, or could not be.
    JobsRead(Result<Found<JobCard>, Trouble>),
    /// The list of jobs could not be read.
    JobsFailed(Trouble),
    /// A job was read.
    JobRead {
        job: JobId,
        lines: Result<Found<String>, Trouble>,
    },
    /// The address changed.
    HashChanged(String),
    /// Go to a screen of the open job.
    Go(Screen),
    /// Go to the list of jobs.
    GoToJobs,
    /// Open a job.
    OpenJob(JobId),
    /// Do something, and then go somewhere.
    Do { want: Want, then: Option<Screen> },
    /// Text was typed or chosen.
    Typed { field: Field, text: String },
    /// A form was sent.
    Submit(Form),
    /// A batch is on the disk.
    BatchSaved(u64),
    /// A batch could not be stored.
    BatchFailed(Trouble),
    /// Try again to store what is not stored.
    SaveAgain,
    /// Another window of this job wrote lines.
    LinesArrived { job: JobId, lines: Vec<String> },
    /// A file was picked.
    FilePicked {
        purpose: Purpose,
        name: String,
        bytes: Vec<u8>,
    },
    /// Let a file be picked.
    PickFile(Purpose),
    /// Put the bar away.
    DismissNotice,
    /// Something outside went wrong.
    Failed(Trouble),
    /// Show another part of a long list.
    Page(usize),
    /// The cautions of a phase were read.
    CautionRead(Caution),
    /// Change between bright and dark.
    SetTheme(Theme),
    /// Type lengths in another unit.
    SetUnit(LengthUnit),
    /// Say something aloud.
    Say(String),
    /// Work a little on the index of the search.
    PrepareSearch,
    /// Take in the lines of the file that may be altered.
    TakeDoubtful,
    /// Take something out of the open job as a file.
    TakeOut(TakeOut),
    /// The demo job was fetched, or could not be.
    DemoFetched(Result<Vec<u8>, Trouble>),
    /// Fetch the demo job and open it.
    OpenDemo,
    /// Say what a column of the picked schedule holds; none: nothing that is wanted.
    MapColumn {
        place: usize,
        column: Option<Column>,
    },
    /// Take in the good rows of the picked schedule.
    TakeScheduleIn,
    /// Put the picked schedule away.
    DropSchedule,
}

/// What the outside is asked to do.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum Effect {
    /// Read the list of jobs.
    ReadJobs,
    /// Read a job.
    ReadJob(JobId),
    /// Put a job on the list.
    PutJob(JobCard),
    /// Fetch the demo job, which comes with the app.
    FetchDemo,
    /// Store lines, and say when they are on the disk.
    Save(Batch),
    /// Set the address.
    SetHash(String),
    /// Let the person pick a file.
    PickFile(Purpose),
    /// Hand a file to the person.
    HandOut {
        name: String,
        kind: &'static str,
        bytes: Vec<u8>,
    },
    /// Say something aloud.
    Say(String),
    /// Keep a setting.
    Keep { key: &'static str, value: String },
    /// Ask the browser to keep the records for good.
    AskToKeep,
    /// Move the focus to the heading of a new screen.
    FocusHeading,
    /// Once the page is drawn, let [`Action::PrepareSearch`] happen.
    PrepareSearch,
}

impl Default for Model {
    fn default() -> Self {
        Self {
            jobs: JobList::Reading,
            open: None,
            route: Route::Jobs,
            person: Person::default(),
            unit: LengthUnit::Feet,
            notice: None,
            fields: Fields::default(),
            saving: Saving::default(),
            parcel: None,
            import: None,
            page: 0,
            cautions_read: Vec::new(),
            theme: Theme::default(),
        }
    }
}

impl Model {
    /// What is known of the open job.
    #[must_use]
    pub fn registry(&self) -> Option<&Registry> {
        self.open.as_ref().map(|open| open.journal.registry())
    }

    /// What stands in the fields, for when the page is loaded again before it was sent: a phone
    /// drops a page that is not looked at when it needs the room.
    #[must_use]
    pub fn typed(&self) -> String {
        self.fields.kept(&self.route.print())
    }

    /// The screen of the open job.
    #[must_use]
    pub fn screen(&self) -> Option<Screen> {
        match self.route {
            Route::Job { screen, .. } => Some(screen),
            Route::Jobs => None,
        }
    }
}

/// Lets something happen, and says what the outside is to do about it.
pub fn update(model: &mut Model, action: Action, world: &impl World) -> Vec<Effect> {
    match action {
        Action::Started {
            person,
            unit,
            theme,
            cautions_read,
            hash,
            typed,
        } => {
            model.fields.set(Field::Initials, person.initials.clone());
            model.fields.set(Field::DeviceName, person.device.clone());
            (model.person, model.unit, model.theme, model.cautions_read) =
                (person, unit, theme, cautions_read);
            let mut effects = vec![Effect::ReadJobs];
            effects.extend(turn_to_address(model, &hash, world));
            model.fields.put_back(&typed, &model.route.print());
            effects
        }
        Action::Nothing => Vec::new(),
        Action::JobsRead(Ok(found)) => {
            model.jobs = JobList::Here(found.items);
            Vec::new()
        }
        Action::JobsRead(Err(trouble)) | Action::JobsFailed(trouble) => {
            model.jobs = JobList::Failed(trouble);
            Vec::new()
        }
        Action::JobRead { job, lines } => job_read(model, job, lines, world),
        Action::HashChanged(hash) => turn_to_address(model, &hash, world),
        Action::Go(screen) => {
            if model.screen() == Some(screen) {
                // The way back from one position of a panel leads to the panel.
                model.fields.clear(&[Field::PanelPosition]);
            }
            go(model, screen)
        }
        Action::GoToJobs => {
            let mut effects = turn_to(model, Route::Jobs);
            effects.push(Effect::SetHash(Route::Jobs.print()));
            effects.push(Effect::ReadJobs);
            effects
        }
        Action::OpenJob(job) => {
            let route = Route::Job {
                job,
                screen: Screen::Wall,
            };
            let mut effects = turn_to(model, route);
            effects.push(Effect::SetHash(route.print()));
            effects
        }
        Action::Do { want, then } => {
            let mut effects = perform(model, &want, world);
            if let (Some(screen), false) = (then, effects.is_empty()) {
                let notice = model.notice.take();
                effects.extend(go(model, screen));
                model.notice = notice;
            }
            effects
        }
        Action::Typed { field, text } => {
            if matches!(
                field,
                Field::Find | Field::Hand | Field::Gate | Field::HistoryText
            ) {
                model.page = 0;
            }
            if matches!(field, Field::RoomName | Field::RoomUnit) {
                wall::room_is_described(model, field, &text);
            }
            model.fields.set(field, text);
            if field == Field::Hand && model.screen() == Some(Screen::Rack) {
                // The first keys stand on the screen of the racks too; the others do not.
                return go(model, Screen::Hand);
            }
            if field == Field::PanelPosition {
                // Another position is another heading: it is read out, and shown from its top.
                model.fields.clear(&[Field::LandCode, Field::Reason]);
                return vec![Effect::FocusHeading];
            }
            Vec::new()
        }
        Action::PrepareSearch => {
            let more = model.open.as_mut().is_some_and(OpenJob::prepare_search);
            more.then_some(Effect::PrepareSearch).into_iter().collect()
        }
        Action::Submit(form) => forms::submit(model, form, world),
        Action::BatchSaved(token) => {
            model.saving.done(token);
            Vec::new()
        }
        Action::BatchFailed(trouble) => {
            model.saving.failed(trouble);
            Vec::new()
        }
        Action::SaveAgain => model.saving.again().into_iter().map(Effect::Save).collect(),
        Action::LinesArrived { job, lines } => {
            if let Some(open) = model.open.as_mut().filter(|open| open.journal.job() == job) {
                open.take(lines.iter().map(String::as_str));
            }
            Vec::new()
        }
        Action::FilePicked {
            purpose,
            name,
            bytes,
        } => file_picked(model, purpose, &name, &bytes),
        Action::PickFile(purpose) => vec![Effect::PickFile(purpose)],
        Action::DismissNotice => {
            model.notice = None;
            Vec::new()
        }
        Action::Failed(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
        Action::Page(page) => {
            model.page = page;
            Vec::new()
        }
        Action::CautionRead(caution) => {
            model.cautions_read.push(caution);
            let read: Vec<&str> = model
                .cautions_read
                .iter()
                .map(|caution| caution.key())
                .collect();
            vec![Effect::Keep {
                key: "cautions",
                value: read.join(" "),
            }]
        }
        Action::SetTheme(theme) => {
            model.theme = theme;
            vec![Effect::Keep {
                key: "theme",
                value: theme.key().to_owned(),
            }]
        }
        Action::SetUnit(unit) => {
            model.unit = unit;
            let value = match unit {
                LengthUnit::Feet => "ft",
                LengthUnit::Metres => "m",
            };
            vec![Effect::Keep {
                key: "unit",
                value: value.to_owned(),
            }]
        }
        Action::Say(words) => vec![Effect::Say(words)],
        Action::TakeOut(what) => carry::take_out(model, what),
        Action::TakeDoubtful => carry::take_doubtful(model),
        Action::DemoFetched(fetched) => carry::demo_fetched(model, fetched),
        Action::OpenDemo => vec![Effect::FetchDemo],
        Action::MapColumn { place, column } => {
            import::map(model, place, column);
            Vec::new()
        }
        Action::TakeScheduleIn => import::accept(model, world),
        Action::DropSchedule => {
            model.import = None;
            Vec::new()
        }
    }
}

impl Caution {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::Wall, Self::Rack];

    /// How it is kept.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Rack => "rack",
        }
    }
}

impl Theme {
    /// How it is kept.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Cellar => "cellar",
        }
    }
}

/// Shows what the address names, or does what it asks for.
fn turn_to_address(model: &mut Model, hash: &str, world: &impl World) -> Vec<Effect> {
    match Errand::parse(hash) {
        Some(Errand::NewJob(name)) => {
            model.fields.set(Field::JobName, name);
            forms::submit(model, Form::NewJob, world)
        }
        Some(Errand::JobFile) => {
            let mut effects = turn_to(model, Route::Jobs);
            effects.push(Effect::PickFile(Purpose::JobFile));
            effects
        }
        Some(Errand::Demo) => {
            let mut effects = turn_to(model, Route::Jobs);
            effects.push(Effect::FetchDemo);
            effects
        }
        None => turn_to(model, Route::parse(hash)),
    }
}

/// Shows another screen, opening its job first where that is needed.
fn turn_to(model: &mut Model, route: Route) -> Vec<Effect> {
    // The address tells of its change while the job is still being read: it is not read twice, and
    // what is said of it stays.
    let is_job = route != Route::Jobs;
    if route == model.route && (is_job || model.open.is_some()) {
        return Vec::new();
    }
    model.route = route;
    model.page = 0;
    model.notice = None;
    model.fields.clear(&[
        Field::Footage,
        Field::Reason,
        Field::Note,
        Field::CableOldName,
        Field::LooseCode,
        Field::LooseOther,
        Field::LooseOpen,
        Field::OpenRow,
        Field::OpenPart,
        Field::LandCode,
        Field::LandPosition,
        Field::Legs,
        Field::HandTail,
        Field::Kept,
    ]);
    if matches!(
        route,
        Route::Job {
            screen: Screen::HandCable(_),
            ..
        }
    ) {
        // The cable is found, so the next one is keyed in from the start.
        model.fields.clear(&[Field::Hand]);
    }
    let Route::Job { job, .. } = route else {
        return vec![Effect::FocusHeading];
    };
    if model
        .open
        .as_ref()
        .is_some_and(|open| open.journal.job() == job)
    {
        return arrived(model);
    }
    model.open = None;
    vec![Effect::ReadJob(job)]
}

/// Shows another screen of the open job.
/// What is asked of the outside once a screen of the open job is there.
fn arrived(model: &Model) -> Vec<Effect> {
    let mut effects = vec![Effect::FocusHeading];
    if model.screen() == Some(Screen::Find) {
        effects.push(Effect::PrepareSearch);
    }
    effects
}

fn go(model: &mut Model, screen: Screen) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let route = Route::Job {
        job: open.journal.job(),
        screen,
    };
    let mut effects = turn_to(model, route);
    effects.push(Effect::SetHash(route.print()));
    effects
}

fn job_read(
    model: &mut Model,
    job: JobId,
    lines: Result<Found<String>, Trouble>,
    world: &impl World,
) -> Vec<Effect> {
    match lines {
        Ok(found) if found.items.is_empty() && found.unreadable == 0 && is_nowhere(model, job) => {
            let effects = turn_to(model, Route::Jobs);
            let words = "This job is not on this device. If you have its file, open it below.";
            model.notice = Some(Notice::Told(words.to_owned()));
            effects
        }
        Ok(found) => {
            // A writer of its own each time the job is opened: no copy of this phone can repeat it.
            let mut open = OpenJob::new(Journal::new(job, WriterId(world.bits())));
            open.take(found.items.iter().map(String::as_str));
            if found.unreadable > 0 {
                let trouble =
                    Trouble::Unreadable(format!("{} records of this job", found.unreadable));
                model.notice = Some(Notice::Trouble(trouble));
            }
            let is_named = open.journal.registry().job.name.get().is_some();
            model.open = Some(open);
            let mut effects = arrived(model);
            // Where the name is not to be read, the one on the list is better than none.
            effects.extend(is_named.then(|| listed(model)).flatten());
            effects.extend(carry::opened(model));
            effects
        }
        Err(trouble) => {
            model.parcel = None;
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
    }
}

/// Whether a job, of which nothing is stored, is on no list either and no file of it is on its way.
fn is_nowhere(model: &Model, job: JobId) -> bool {
    let id = job.0.to_string();
    let is_unlisted =
        matches!(&model.jobs, JobList::Here(jobs) if jobs.iter().all(|card| card.id != id));
    is_unlisted && model.parcel.is_none()
}

/// Does what a person wants, and has it stored.
fn perform(model: &mut Model, want: &Want, world: &impl World) -> Vec<Effect> {
    let Some(open) = &mut model.open else {
        return Vec::new();
    };
    let draft = match command::draft(want, &open.journal) {
        Ok(draft) => draft,
        Err(refusal) => {
            model.notice = Some(Notice::Refused(refusal));
            return Vec::new();
        }
    };
    // A box is chosen among other particulars of the same part, which therefore stays open.
    let closes = !matches!(want, Want::BoxOutlet { .. });
    let words = |registry: &Registry| command::done_words(want, registry);
    let effects = write_down(model, draft, words, world);
    if closes && !effects.is_empty() {
        model.fields.clear(&[Field::OpenPart]);
    }
    effects
}

/// Writes a draft down, says what was done, and has it stored.
fn write_down(
    model: &mut Model,
    draft: Draft,
    words: impl FnOnce(&Registry) -> String,
    world: &impl World,
) -> Vec<Effect> {
    let Some(open) = &mut model.open else {
        return Vec::new();
    };
    let signature = Signature {
        by: model.person.signature(),
        wall: world.now(),
    };
    let written = match open.write(draft, signature) {
        Ok(written) => written,
        Err(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    };
    model.notice = Some(Notice::Done {
        words: words(open.journal.registry()),
        act: written.id,
    });
    let line = stored(written.id, &written.line);
    let batch = model
        .saving
        .begin(&open.journal.job().0.to_string(), vec![line]);
    let mut effects = vec![Effect::Save(batch), Effect::AskToKeep];
    effects.extend(listed(model));
    effects
}

/// Has the list of jobs call the open job what it is called, whoever named it and however: an undo
/// and a file of another phone rename it too.
fn listed(model: &mut Model) -> Option<Effect> {
    let open = model.open.as_ref()?;
    let card = JobCard {
        id: open.journal.job().0.to_string(),
        name: open.name().to_owned(),
    };
    if let JobList::Here(jobs) = &mut model.jobs {
        if jobs.contains(&card) {
            return None;
        }
        carry::put(jobs, &card);
    }
    Some(Effect::PutJob(card))
}

/// A line with the parts of its key.
fn stored(id: ActId, line: &str) -> StoredLine {
    let hash = crate::journal::line_hash(line);
    StoredLine {
        writer: id.writer.0.to_string(),
        n: id.n,
        hash,
        line: line.to_owned(),
    }
}

fn file_picked(model: &mut Model, purpose: Purpose, name: &str, bytes: &[u8]) -> Vec<Effect> {
    match purpose {
        Purpose::Schedule => import::picked(model, name, bytes),
        Purpose::JobFile => carry::take_in(model, bytes),
    }
}
