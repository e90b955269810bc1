//! The running app as pure values: its model, the closed list of what can happen, and what the
//! outside is asked to do about it.

use crate::command::{Refusal, Want};
use crate::domain::ids::{ActId, Bits80, CableId, JobId, RackId};
use crate::domain::length::LengthUnit;
use crate::domain::medium::Connector;
use crate::domain::picture::Shows;
use crate::exchange::schedule::Column;
use crate::journal::{Registry, WallTime};

/// Job files.
mod carry;
/// What is known of the other phones on a job.
mod crew;
/// The summary of a day.
mod evening;
/// What stands in the fields.
mod fields;
/// Forms: fields to wants.
mod forms;
/// A cable schedule on its way in.
mod import;
/// The punch list in words.
pub mod mend;
/// Taking a job off this device.
mod off;
/// An open job.
mod open;
/// Pictures on their way in, and those on the page.
mod pictures;
/// What the app needs of the outside.
pub mod ports;
/// Racks in a list, folded shut but for one.
pub mod racks;
/// From phone to phone without a file.
pub mod relay;
/// Numbered remotes.
pub mod remotes;
/// Which screen is open.
mod route;
/// Which lines are on the disk.
mod saving;
/// Scanning tags.
pub mod scan;
/// What this device keeps beside the jobs.
mod settings;
/// Tags on their way to a printer.
pub mod tags;
/// Turning to another screen.
mod turn;
/// Writing down what a person wants.
mod write;

pub use carry::{Incoming, PackAction, Packing, Parcel, TakeOut};
pub use crew::{Crew, REMIND_FROM, alone, alone_words};
pub use fields::{Field, Fields};
pub use forms::{
    Accept, FRONT, FindForm, Form, RackForm, bench, cover, pictures as picture, place_typed, plan,
    shown_stretch, stretch, wall,
};
pub use import::{COLUMNS, Import};
pub use open::OpenJob;
pub use pictures::{Ask, PictureAction, Pictures, Sight, Unkept, Wanted, shots};
use ports::{Found, JobCard, PictureFrom, Room, Trouble, Way};
pub use route::{Errand, FootageOf, Route, Screen, Section};
pub use saving::{Batch, Saved, Saving};
pub use settings::{Caution, Person, Theme};
pub use turn::{Opening, settled, signing_from};
use turn::{go, go_on_saying, job_read, turn_to_address};
use write::perform;

/// The things that the core never has by itself.
pub trait World {
    /// The time by this phone's clock.
    fn now(&self) -> WallTime;

    /// Fresh random bits.
    fn bits(&self) -> Bits80;

    /// What the history keeps of the screen that it stands at; none where its address came from outside.
    fn way(&self) -> Option<Way> {
        None
    }
}

/// Everything that the app holds while it runs.
pub struct Model {
    /// The jobs on this device.
    pub jobs: JobList,
    /// The job that is open.
    pub open: Option<OpenJob>,
    /// The job that is on its way into the memory.
    pub opening: Option<Opening>,
    /// The screen.
    pub route: Route,
    /// The screens that lie behind it in the history, and it. One from before the page was loaded is
    /// not known, and stands there as the list of jobs.
    pub trail: Vec<Route>,
    /// Whether initials are being added on the way, and whoever keeps them goes on where he was.
    pub signing: bool,
    /// Who works with this device.
    pub person: Person,
    /// When something last happened, by this device's clock.
    pub now: WallTime,
    /// The unit of lengths that are typed.
    pub unit: LengthUnit,
    /// What the bar above the actions says.
    pub notice: Option<Notice>,
    /// What stands in the fields.
    pub fields: Fields,
    /// The field that the bar has just refused; none once anything else happens.
    pub wrong: Option<Field>,
    /// What was typed on screens that were left before it was sent.
    pub left: Vec<(Route, Fields)>,
    /// What stood in the fields of jobs that were left: none of it is meant for another job.
    pub begun: Vec<(JobId, Fields)>,
    /// What is on its way to the disk.
    pub saving: Saving,
    /// Pictures on their way there, and those on the page.
    pub pictures: Pictures,
    /// How much room there is; none until the browser has said.
    pub room: Option<Room>,
    /// A job file on its way into a job that is still being read.
    pub parcel: Option<Parcel>,
    /// What a job file would bring in, while somebody looks at it.
    pub incoming: Option<Incoming>,
    /// A job with its pictures on its way out.
    pub packing: Option<Packing>,
    /// What is known of the other phones.
    pub crew: Crew,
    /// A cable schedule that was picked.
    pub import: Option<Import>,
    /// What people said that columns of schedules hold, one a line.
    pub columns: String,
    /// Tags on their way to a printer.
    pub tags: tags::Tags,
    /// Scanning.
    pub scan: scan::Scan,
    /// From phone to phone without a file.
    pub relay: relay::Relay,
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

/// What the bar above the actions says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Something was done and can be taken back.
    Done {
        /// What.
        words: String,
        /// The act, to take it back.
        act: ActId,
        /// Whether it is good news; a failure that was noted is none.
        good: bool,
        /// Whether something was taken back by it, so that taking it back does that again.
        again: bool,
    },
    /// Something was not done.
    Refused(Refusal),
    /// Something outside went wrong.
    Trouble(Trouble),
    /// Something worth knowing.
    Told(String),
    /// Something worth knowing, with what somebody may want to do about it.
    Asked {
        /// What.
        words: String,
        /// What may be done.
        question: Question,
    },
}

/// What the bar asks with one button to say yes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Question {
    /// A file is of another job than the open one: open that?
    OtherJob(JobId),
    /// The open job is about to go off this device: shall it?
    Leaving,
    /// It cannot go before it is taken out as a file: take it out?
    FileFirst,
    /// These lines of a file may be altered, and are not taken in yet: take them in?
    Doubtful(Vec<String>),
}

/// What a picked file is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// A cable schedule.
    Schedule,
    /// A job file.
    JobFile,
    /// A photograph of a tag.
    TagPhoto,
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
        /// What was kept of the tags, and of label stocks.
        tags: [String; 3],
        /// What was kept of the columns of schedules.
        columns: String,
        /// What was kept of scanning: the camera that was used, whether a missing one was explained,
        /// and where numbered remotes are.
        scan: [String; 3],
        /// What was kept of the other phones.
        crew: String,
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
    /// Take in some more lines of the job that is being opened.
    OpenFurther,
    /// The address changed.
    HashChanged(String),
    /// Go to a screen of the open job.
    Go(Screen),
    /// Go to the punch list, to settle what people disagree about of this cable.
    Settle(CableId),
    /// Show a screen of the open job that is the next in a row; what was done can be taken back there still.
    GoOn(Screen),
    /// Go back to where one came from; where that is nowhere in the app, to this screen.
    Back(Screen),
    /// Go where initials are typed, and come back from there.
    AddInitials,
    /// Plan a panel of a kind in a rack, where they are known.
    PlanPanel {
        rack: Option<RackId>,
        connector: Connector,
    },
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
    /// A file was dropped on the page, or another app shared it; none when there is none.
    Arrived(Option<Vec<u8>>),
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
    /// The keyboard goes on at the main actions of the screen.
    ToActions,
    /// What is shown goes to a printer.
    Print,
    /// A text goes to somebody, through whatever this device has for that.
    SendText(String),
    /// The text was copied, since this device has no way to send it.
    Copied,
    /// Work a little on the index of the search.
    PrepareSearch,
    /// Something happens while pictures are packed.
    Pack(PackAction),
    /// Take in what the file that is looked at brings.
    TakeIn,
    /// Take nothing of it in.
    LeaveIt,
    /// Take in the lines of the file that may be altered.
    TakeDoubtful,
    /// Ask whether the open job is to go off this device.
    AskTakeOff,
    /// Take it off, as was asked.
    TakeOff,
    /// A job is off the disk, through this window or another.
    TakenOff(JobId),
    /// A file of a job left this device, with so many records.
    GivenOut { job: JobId, records: usize },
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
    /// Something happens with pictures.
    Picture(PictureAction),
    /// Something happens with tags.
    Tags(tags::TagAction),
    /// Something is scanned.
    Scan(scan::ScanAction),
    /// Something happens from phone to phone.
    Relay(relay::RelayAction),
    /// Scan a tag while no job is open.
    ToScan,
    /// The browser said how much room there is, or does not say.
    RoomTold(Option<Room>),
}

/// What the outside is asked to do.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum Effect {
    /// Read the list of jobs.
    ReadJobs,
    /// Read a job.
    ReadJob(JobId),
    /// Put together in the store what is stored of a job line by line.
    Gather(JobId),
    /// Once the page is drawn, let [`Action::OpenFurther`] happen.
    OpenFurther,
    /// Put a job on the list.
    PutJob(JobCard),
    /// Fetch the demo job, which comes with the app.
    FetchDemo,
    /// Take the file that was dropped on the page or shared by another app.
    FetchArrived,
    /// Store lines, and say when they are on the disk.
    Save(Batch),
    /// Take everything that is stored of a job off the disk, and let the other windows know.
    TakeOff(JobId),
    /// Set the address.
    SetHash(String),
    /// Put another address in the place of this one, to which nobody is to come back.
    ReplaceHash(String),
    /// Go back in the history, so many screens.
    Back(i32),
    /// Show the screen as far down as it was when it was left.
    ScrollTo(i32),
    /// Let the person pick a file.
    PickFile(Purpose),
    /// Hand a file to the person.
    HandOut {
        name: String,
        kind: &'static str,
        bytes: Vec<u8>,
        /// How many records of the open job are in it, where it keeps the job; else 0.
        records: usize,
    },
    /// Say something aloud.
    Say(String),
    /// Print the page.
    Print,
    /// Whoever types goes on in this field.
    FocusField(Field),
    /// Hand a text to another app, or copy it.
    SendText(String),
    /// Keep a setting.
    Keep { key: &'static str, value: String },
    /// Ask the browser to keep the records for good.
    AskToKeep,
    /// Move the focus to the heading of a new screen.
    FocusHeading,
    /// Move the focus to the main actions of the screen.
    FocusActions,
    /// Once the page is drawn, let [`Action::PrepareSearch`] happen.
    PrepareSearch,
    /// Let the person take or choose pictures, and make them smaller.
    PickPictures {
        job: JobId,
        shows: Shows,
        from: PictureFrom,
    },
    /// Store or read a picture, or say how much room there is.
    Ask(Ask),
    /// Make something of an order of tags, in another thread.
    Papers { what: tags::Paper, order: String },
    /// Give up what is made there.
    GiveUpPapers,
    /// Do something with the camera.
    Camera(scan::CameraAsk),
    /// Look for a tag in a photograph.
    ReadPhoto(Vec<u8>),
    /// After so many milliseconds, show the next code of the series of that number.
    NextCode { run: u32, after: u32 },
    /// Put together what a series of codes carried.
    Unpack(Vec<u8>),
    /// Tell eye, ear and hand that something was read: all well, or not.
    Signal(bool),
    /// Give back the memory of a picture that was shown at this address.
    ForgetPicture(String),
}

impl Default for Model {
    fn default() -> Self {
        Self {
            jobs: JobList::Reading,
            open: None,
            opening: None,
            route: Route::Jobs,
            trail: Vec::new(),
            signing: false,
            person: Person::default(),
            now: WallTime(0),
            unit: LengthUnit::Feet,
            notice: None,
            fields: Fields::default(),
            wrong: None,
            left: Vec::new(),
            begun: Vec::new(),
            saving: Saving::default(),
            pictures: Pictures::default(),
            room: None,
            parcel: None,
            incoming: None,
            packing: None,
            crew: Crew::default(),
            import: None,
            columns: String::new(),
            tags: tags::Tags::default(),
            scan: scan::Scan::default(),
            relay: relay::Relay::default(),
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
            Route::Jobs | Route::Scan => None,
        }
    }
}

/// Lets something happen, and says what the outside is to do about it.
pub fn update(model: &mut Model, action: Action, world: &impl World) -> Vec<Effect> {
    model.now = world.now();
    if !matches!(action, Action::HashChanged(_)) {
        turn::follow(model, world.way().unwrap_or_default());
    }
    model.wrong = None;
    let mut effects = happen(model, action, world);
    // Whoever was refused goes on where it is put right.
    effects.extend(model.wrong.map(Effect::FocusField));
    pictures::look_after(model, &mut effects);
    tags::look_after(model, &mut effects);
    scan::look_after(model, &mut effects, world);
    effects
}

fn happen(model: &mut Model, action: Action, world: &impl World) -> Vec<Effect> {
    match action {
        Action::Started {
            person,
            unit,
            theme,
            cautions_read,
            hash,
            typed,
            tags: [kept, stocks, firm],
            columns,
            scan: [lens, explained, in_jacks],
            crew,
        } => {
            model.crew = Crew::read(&crew);
            scan::started(model, &lens, !explained.is_empty());
            remotes::started(model, &in_jacks);
            tags::started(model, &kept, &stocks);
            let firm = firm.split_once('\t').unwrap_or_default();
            model.fields.set(Field::FirmName, firm.0);
            model.fields.set(Field::FirmPhone, firm.1);
            model.columns = columns;
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
        Action::OpenFurther => turn::open_further(model),
        Action::HashChanged(hash) => turn::address_changed(model, &hash, world),
        Action::Go(screen) => go(model, screen),
        Action::Settle(cable) => turn::to_settle(model, cable),
        Action::GoOn(screen) => go_on_saying(model, screen),
        Action::Back(screen) => turn::back(model, screen),
        Action::AddInitials => turn::to_initials(model),
        Action::PlanPanel { rack, connector } => plan::plan_panel(model, rack, connector),
        Action::GoToJobs => turn::to_jobs(model),
        Action::OpenJob(job) => turn::to_job(model, job),
        Action::Do { want, then } => {
            let mut effects = perform(model, &want, world);
            if let (Some(screen), false) = (then, effects.is_empty()) {
                effects.extend(go_on_saying(model, screen));
            }
            effects
        }
        Action::Typed { field, text } => fields::typed(model, field, text),
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
        Action::SaveAgain => {
            let lines = model.saving.again().into_iter().map(Effect::Save);
            lines.chain(model.pictures.again()).collect()
        }
        Action::LinesArrived { job, lines } => turn::lines_arrived(model, job, lines),
        Action::FilePicked {
            purpose,
            name,
            bytes,
        } => match purpose {
            Purpose::Schedule => import::picked(model, &name, &bytes),
            Purpose::JobFile => carry::take_in(model, &bytes),
            Purpose::TagPhoto => {
                let words = "Reading the photograph …";
                model.notice = Some(Notice::Told(words.to_owned()));
                vec![Effect::ReadPhoto(bytes)]
            }
        },
        Action::Arrived(file) => carry::arrived(model, file),
        Action::PickFile(purpose) => vec![Effect::PickFile(purpose)],
        Action::DismissNotice => {
            let put_away = model.notice.take();
            if let Some(Notice::Asked {
                question: Question::OtherJob(_),
                ..
            }) = put_away
            {
                model.parcel = None;
            }
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
        Action::CautionRead(caution) => settings::caution_read(model, caution),
        Action::SetTheme(theme) => settings::set_theme(model, theme),
        Action::SetUnit(unit) => settings::set_unit(model, unit),
        Action::Say(words) => vec![Effect::Say(words)],
        Action::ToActions => vec![Effect::FocusActions],
        Action::Print => vec![Effect::Print],
        Action::SendText(text) => vec![Effect::SendText(text)],
        Action::Copied => {
            let words = "The text is copied. Paste it where it is to go.";
            model.notice = Some(Notice::Told(words.to_owned()));
            Vec::new()
        }
        Action::TakeOut(what) => carry::take_out(model, what),
        Action::Pack(action) => carry::packing::happen(model, action),
        Action::AskTakeOff => off::ask(model),
        Action::TakeOff => off::take_off(model),
        Action::TakenOff(job) => off::taken_off(model, job),
        Action::TakeIn => carry::accept(model),
        Action::LeaveIt => carry::leave(model),
        Action::TakeDoubtful => carry::take_doubtful(model),
        Action::GivenOut { job, records } => {
            let is_torn = model.open.as_ref().is_some_and(|open| open.torn > 0);
            let which = if is_torn { " that can be read" } else { "" };
            let words = [
                "A file with all records of this job",
                which,
                " was made. It protects them only once it lies on another device.",
            ];
            model.notice = Some(Notice::Told(words.concat()));
            crew::given_out(model, job, records)
        }
        Action::DemoFetched(fetched) => carry::demo_fetched(model, fetched),
        Action::OpenDemo => vec![Effect::FetchDemo],
        Action::MapColumn { place, column } => import::map(model, place, column),
        Action::TakeScheduleIn => import::accept(model, world),
        Action::DropSchedule => {
            model.import = None;
            Vec::new()
        }
        Action::Picture(action) => pictures::happen(model, action, world),
        Action::Tags(action) => tags::happen(model, action, world),
        Action::Scan(action) => scan::happen(model, action, world),
        Action::Relay(action) => relay::happen(model, action),
        Action::ToScan => turn::to_scan(model),
        Action::RoomTold(room) => {
            model.room = room;
            Vec::new()
        }
    }
}
