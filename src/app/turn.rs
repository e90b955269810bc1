//! Turning to another screen: what the address names is shown, its job read first where that is
//! needed, and what was begun on the screen before is put away.

use super::ports::{Found, TOGETHER, Trouble, Way};
use super::route::{Errand, Route, Screen};
use super::write::listed;
use super::{
    Ask, Effect, Field, Form, JobList, Model, Notice, OpenJob, Purpose, World, carry, forms, relay,
    scan, tags,
};
use crate::domain::ids::{CableId, JobId, ThingId, WriterId};
use crate::journal::{Intake, Journal, lines_of};

/// What is put away with a screen: nothing of it is meant for another thing.
const OF_ONE_SCREEN: [Field; 22] = [
    Field::Footage,
    Field::Reason,
    Field::Note,
    Field::CableOldName,
    Field::LooseCode,
    Field::LooseOther,
    Field::PointOffset,
    Field::OutletPurpose,
    Field::CablePurpose,
    Field::LooseOpen,
    Field::OpenRow,
    Field::OpenPart,
    Field::LandCode,
    Field::LandPosition,
    Field::Legs,
    Field::HandTail,
    Field::Kept,
    Field::PicturesFrom,
    Field::NewTags,
    Field::PointAt,
    Field::PointWhat,
    Field::Settled,
];

/// How many of them, from the first, are typed in words of one's own: where one of those is begun,
/// all of it is there again when somebody comes back.
const TYPED: usize = 9;

/// Follows the history to the screen that is open now.
pub(super) fn follow(model: &mut Model, way: Way) {
    model.trail.resize(way.behind, Route::Jobs);
    model.trail.push(model.route);
}

/// Follows the address. Whoever came back finds the screen as he left it.
pub(super) fn address_changed(model: &mut Model, hash: &str, world: &impl World) -> Vec<Effect> {
    let back = world.way();
    let back = back.filter(|way| way.behind + 1 < model.trail.len());
    let mut effects = turn_to_address(model, hash, world);
    if let Some(way) = back {
        model.page = way.page;
        if !effects.is_empty() {
            effects.push(Effect::FocusHeading);
        }
        effects.push(Effect::ScrollTo(way.top));
    }
    effects
}

/// Goes back to where one came from; where that is nowhere in the app, to this screen in the place of
/// the one that is open, so that the way back from there leads no deeper.
pub(super) fn back(model: &mut Model, screen: Screen) -> Vec<Effect> {
    if model.trail.len() > 1 {
        return vec![Effect::Back(1)];
    }
    // Without a trail the new screen takes the place of this one.
    model.trail.clear();
    go(model, screen)
}

/// Goes to the punch list, where what people disagree about of a cable stands first.
pub(super) fn to_settle(model: &mut Model, cable: CableId) -> Vec<Effect> {
    let effects = go(model, Screen::Punch);
    model.fields.set(Field::Settled, cable.0.to_string());
    effects
}

/// The cable of which somebody wants to settle what people disagree about.
#[must_use]
pub fn settled(model: &Model) -> Option<CableId> {
    let id: ThingId = model.fields.get(Field::Settled).parse().ok()?;
    Some(CableId(id))
}

/// How many screens one goes back to a screen that lies right behind the one that is open, or behind the
/// scanner that led here.
fn steps_back(model: &Model, to: Route) -> Option<i32> {
    let scan = Screen::Scan;
    match model.trail.as_slice() {
        [.., last, _] if *last == to => Some(1),
        [.., before, Route::Job { screen, .. }, _] if *before == to && *screen == scan => Some(2),
        _ => None,
    }
}

/// Shows what the address names, or does what it asks for.
pub(super) fn turn_to_address(model: &mut Model, hash: &str, world: &impl World) -> Vec<Effect> {
    let Some(errand) = Errand::parse(hash) else {
        return turn_to(model, Route::parse(hash));
    };
    // It is done once: whoever comes back to this address finds the list in its place. Whoever drops a
    // file on a screen stays there until it is known what it is.
    let route = match errand {
        Errand::Arrived => model.route,
        Errand::Demo | Errand::JobFile | Errand::NewJob(_) => Route::Jobs,
    };
    let mut effects = vec![Effect::ReplaceHash(route.print())];
    effects.extend(match errand {
        Errand::NewJob(name) => {
            model.fields.set(Field::JobName, name);
            forms::submit(model, Form::NewJob, world)
        }
        Errand::JobFile => {
            let mut effects = turn_to(model, Route::Jobs);
            effects.push(Effect::PickFile(Purpose::JobFile));
            effects
        }
        Errand::Arrived => vec![Effect::FetchArrived],
        Errand::Demo => {
            let mut effects = turn_to(model, Route::Jobs);
            effects.push(Effect::FetchDemo);
            effects
        }
    });
    effects
}

/// Puts the fields of the job away that is left, and has those again of the one that comes.
pub(super) fn change_job(model: &mut Model, job: Option<JobId>) {
    let before = model.route.job();
    if before == job {
        return;
    }
    if let Some(before) = before {
        let texts = model.fields.take_of_job();
        model.begun.push((before, texts));
    }
    if let Some(at) = model.begun.iter().position(|(of, _)| Some(*of) == job) {
        let (_, texts) = model.begun.swap_remove(at);
        model.fields.put(texts);
    }
}

/// Shows another screen, opening its job first where that is needed.
pub(super) fn turn_to(model: &mut Model, route: Route) -> Vec<Effect> {
    // The address tells of its change while the job is still being read: it is not read twice, and
    // what is said of it stays.
    let is_job = matches!(route, Route::Job { .. });
    if route == model.route && (is_job || model.open.is_some()) {
        return Vec::new();
    }
    forms::plan::leave(model);
    let left = model.fields.take(&OF_ONE_SCREEN);
    let is_picture = |route: Route| {
        matches!(
            route,
            Route::Job {
                screen: Screen::Picture(_),
                ..
            }
        )
    };
    if is_picture(route) || is_picture(model.route) {
        // Whoever looked at one picture goes on among the others where it was.
        let from = left.get(Field::PicturesFrom).to_owned();
        model.fields.set(Field::PicturesFrom, from);
    }
    if OF_ONE_SCREEN[..TYPED]
        .iter()
        .any(|field| !left.get(*field).trim().is_empty())
    {
        model.left.retain(|(of, _)| *of != model.route);
        model.left.push((model.route, left));
    }
    scan::arrive(model, model.screen(), route);
    change_job(model, route.job());
    model.route = route;
    model.page = 0;
    model.notice = None;
    model.signing = false;
    if let Some(at) = model.left.iter().position(|(of, _)| *of == route) {
        let (_, texts) = model.left.swap_remove(at);
        model.fields.put(texts);
    }
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
        let mut effects = vec![Effect::FocusHeading];
        // What was begun or renamed since may have come after the list was read. At the start it is
        // on its way already.
        if !matches!(model.jobs, JobList::Reading) {
            effects.push(Effect::ReadJobs);
        }
        return effects;
    };
    if model
        .open
        .as_ref()
        .is_some_and(|open| open.journal.job() == job)
    {
        return arrived(model);
    }
    model.open = None;
    model.opening = None;
    let mut effects = tags::leave(model);
    effects.push(Effect::ReadJob(job));
    effects
}

/// Shows the list of jobs, read anew.
pub(super) fn to_jobs(model: &mut Model) -> Vec<Effect> {
    let mut effects = turn_to(model, Route::Jobs);
    effects.push(Effect::SetHash(Route::Jobs.print()));
    effects
}

/// Shows the scanner of no job.
pub(super) fn to_scan(model: &mut Model) -> Vec<Effect> {
    let mut effects = turn_to(model, Route::Scan);
    effects.push(Effect::SetHash(Route::Scan.print()));
    effects
}

/// Opens a job at the wall, where its work begins.
pub(super) fn to_job(model: &mut Model, job: JobId) -> Vec<Effect> {
    let route = Route::Job {
        job,
        screen: Screen::Wall,
    };
    let mut effects = turn_to(model, route);
    effects.push(Effect::SetHash(route.print()));
    effects
}

/// Shows another screen of the open job.
pub(super) fn go(model: &mut Model, screen: Screen) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let route = Route::Job {
        job: open.journal.job(),
        screen,
    };
    if route == model.route {
        // What was just done stands at the top. Whoever asks for the scanner again wants to scan.
        model.scan.answer = None;
        return vec![Effect::FocusHeading];
    }
    // The way back from the pen leads to its outlet, not through every text that was written.
    let is_pen = |screen: Option<Screen>| matches!(screen, Some(Screen::Pen { .. }));
    // That from a look at a new job leads to where its file was opened, not into a job that is not here.
    let is_new = model
        .incoming
        .as_ref()
        .is_some_and(|incoming| incoming.is_new);
    let goes_on = model.trail.is_empty()
        || is_pen(model.screen()) && is_pen(Some(screen))
        || is_new && screen == Screen::Incoming;
    let steps = steps_back(model, route);
    let mut effects = turn_to(model, route);
    let address = route.print();
    effects.push(match steps {
        // A form that was sent, and whoever goes back by another button, leave nothing to go through again.
        Some(steps) => Effect::Back(steps),
        None if goes_on => Effect::ReplaceHash(address),
        None => {
            model.trail.push(route);
            Effect::SetHash(address)
        }
    });
    effects
}

/// The same, and what is said stays.
pub(super) fn go_on_saying(model: &mut Model, screen: Screen) -> Vec<Effect> {
    let notice = model.notice.take();
    let effects = go(model, screen);
    model.notice = notice;
    effects
}

/// Shows the field for initials; what was done can be taken back still.
pub(super) fn to_initials(model: &mut Model) -> Vec<Effect> {
    let is_elsewhere = model.screen() != Some(Screen::Job);
    let mut effects = go_on_saying(model, Screen::Job);
    model.signing = is_elsewhere;
    effects.push(Effect::FocusField(Field::Initials));
    effects
}

/// Goes on where one was before the initials were added.
pub(super) fn signed(model: &mut Model) -> Vec<Effect> {
    match signing_from(model) {
        Some(screen) => go_on_saying(model, screen),
        None => Vec::new(),
    }
}

/// The screen from which somebody came to add initials, while they are asked for.
#[must_use]
pub fn signing_from(model: &Model) -> Option<Screen> {
    match model.trail.as_slice() {
        [.., Route::Job { screen, .. }, _] if model.signing => Some(*screen),
        _ => None,
    }
}

/// What is asked of the outside once a screen of the open job is there.
pub(super) fn arrived(model: &mut Model) -> Vec<Effect> {
    let mut effects = vec![Effect::FocusHeading];
    match model.screen() {
        Some(Screen::Find) => {
            effects.extend([Effect::FocusField(Field::Find), Effect::PrepareSearch]);
        }
        Some(Screen::Footage { .. }) => effects.push(Effect::FocusField(Field::Footage)),
        Some(Screen::Job) => effects.push(Effect::Ask(Ask::Room)),
        Some(Screen::Crew) => effects.extend(relay::arrived(model)),
        _ => {}
    }
    effects
}

/// How many bytes of lines are taken in before the page is drawn again: a tenth of a second on a slow phone.
const BYTES_AT_ONCE: usize = 1 << 21;

/// Of how many things it is worked out then at once where they are found.
const THINGS_AT_ONCE: usize = 2000;

/// A job on its way into the memory.
pub struct Opening {
    job: JobId,
    intake: Intake,
    /// The texts of one or more lines that wait to be taken in, the next one last.
    texts: Vec<String>,
    /// The bytes that were taken in.
    taken: usize,
    unreadable: usize,
    /// Whether the store holds so many lines singly that it had better hold them together.
    is_scattered: bool,
    /// What the list calls it, where nothing is stored of it.
    of_nothing: Option<String>,
}

impl Opening {
    /// The job.
    #[must_use]
    pub fn job(&self) -> JobId {
        self.job
    }

    /// How many bytes of lines are taken in, of how many.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        let waiting: usize = self.texts.iter().map(String::len).sum();
        (self.taken, self.taken + waiting)
    }
}

/// Begins to open a job whose lines were read, or says why it is not shown.
pub(super) fn job_read(
    model: &mut Model,
    job: JobId,
    lines: Result<Found<String>, Trouble>,
    world: &impl World,
) -> Vec<Effect> {
    let mut found = match lines {
        Ok(found) => found,
        Err(trouble) => {
            model.parcel = None;
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    };
    let is_empty = found.items.is_empty() && found.unreadable == 0;
    let of_nothing = if is_empty
        && model
            .parcel
            .as_ref()
            .is_none_or(|parcel| parcel.job() != job)
    {
        match listed_as(model, job) {
            Listing::Unread => return vec![Effect::ReadJob(job)],
            Listing::Nowhere => return not_here(model),
            Listing::As(name) => Some(name),
        }
    } else {
        None
    };
    found.items.reverse();
    let single = found.items.iter().filter(|text| !text.contains('\n'));
    model.opening = Some(Opening {
        job,
        // A writer of its own each time the job is opened: no copy of this phone can repeat it.
        intake: Intake::into(Journal::new(job, WriterId(world.bits()))),
        is_scattered: single.take(TOGETHER).count() == TOGETHER,
        texts: found.items,
        taken: 0,
        unreadable: found.unreadable,
        of_nothing,
    });
    open_further(model)
}

/// Takes in some more lines of a job, and shows it once they are all in.
pub(super) fn open_further(model: &mut Model) -> Vec<Effect> {
    let Some(mut opening) = model.opening.take() else {
        return Vec::new();
    };
    let piece = opening.taken + BYTES_AT_ONCE;
    while opening.taken < piece
        && let Some(text) = opening.texts.pop()
    {
        opening.taken += text.len();
        opening.intake.take(text);
    }
    if !opening.texts.is_empty() || opening.intake.settle_some(THINGS_AT_ONCE) {
        model.opening = Some(opening);
        return vec![Effect::OpenFurther];
    }
    opened(model, opening)
}

fn opened(model: &mut Model, opening: Opening) -> Vec<Effect> {
    let mut open = OpenJob::new(opening.intake.finish());
    open.torn = opening.unreadable;
    let unreadable = opening.unreadable + open.journal.health().unreadable;
    if unreadable > 0 {
        let records = if unreadable == 1 { "record" } else { "records" };
        let trouble = Trouble::Unreadable(format!("{unreadable} {records} of this job"));
        model.notice = Some(Notice::Trouble(trouble));
    }
    if let Some(name) = opening.of_nothing {
        let words = format!(
            "Nothing of “{name}” is stored: the page was left before it was saved. Open its file again, or the demo job; or begin it here."
        );
        model.notice = Some(Notice::Told(words));
    }
    let is_named = open.journal.registry().job.name.get().is_some();
    model.open = Some(open);
    let mut effects = arrived(model);
    // Where the name is not to be read, the one on the list is better than none.
    let card = is_named.then(|| listed(model)).flatten();
    effects.extend(card.map(Effect::PutJob));
    if opening.is_scattered {
        effects.push(Effect::Gather(opening.job));
    }
    effects.extend(carry::opened(model));
    effects
}

/// Another window wrote lines of a job: into it, or among those that are still to be taken in.
pub(super) fn lines_arrived(model: &mut Model, job: JobId, lines: Vec<String>) -> Vec<Effect> {
    if let Some(opening) = model.opening.as_mut().filter(|opening| opening.job == job) {
        opening.texts.extend(lines);
    } else if let Some(open) = model.open.as_mut().filter(|open| open.journal.job() == job) {
        open.take(lines.iter().flat_map(|text| lines_of(text)));
    }
    Vec::new()
}

/// What the list of jobs says of one of which nothing is stored. Every job has its name at least, so
/// it was never here, or was left while it was being stored.
enum Listing {
    /// The list is on its way still; it is asked again then.
    Unread,
    /// It is on no list.
    Nowhere,
    /// It is listed under this name.
    As(String),
}

fn listed_as(model: &Model, job: JobId) -> Listing {
    let id = job.0.to_string();
    match &model.jobs {
        JobList::Reading => Listing::Unread,
        JobList::Failed(_) => Listing::Nowhere,
        JobList::Here(jobs) => {
            let card = jobs.iter().find(|card| card.id == id);
            card.map_or(Listing::Nowhere, |card| Listing::As(card.name.clone()))
        }
    }
}

fn not_here(model: &mut Model) -> Vec<Effect> {
    let effects = turn_to(model, Route::Jobs);
    let words = "This job is not on this device. If you have its file, open it below.";
    model.notice = Some(Notice::Told(words.to_owned()));
    effects
}
