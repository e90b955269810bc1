//! Scanning: what a camera, a photograph or a person reads off a tag, where whoever reads it stands,
//! and what is shown of it.

use std::mem::discriminant;

use super::ports::Trouble;
use super::route::Route;
use super::turn::{go, turn_to};
use super::write::perform;
use super::{Effect, Field, JobList, Model, Notice, Screen, World, racks, relay, remotes};
use crate::codes::tag::{JobKey, TagText};
use crate::command::Want;
use crate::domain::ids::{ActId, Bits80, CableId, JobId, LooseEndId};
use crate::domain::place::{End, Face};
use crate::journal::Registry;
use crate::query::find::Target;
use crate::query::loose::loose_ends;
use crate::query::rack::landed_place;
use crate::query::scan::{self, Here, Scanned, Stand, end_here, is_seen_at, stand_words};

/// The camera: what it does, what it can do, why there is none.
mod camera;
/// Where whoever scans stands.
mod stand;

pub use camera::{Abilities, Camera, CameraAsk, Hint, NoCamera};
use stand::{at_screen, is_walk, room_code, say, stand_at_place};
pub use stand::{stand, stand_key};

/// What happens with tags that are read.
#[derive(Clone, Debug, PartialEq)]
pub enum ScanAction {
    /// The camera is on, or cannot be had.
    Started(Result<Abilities, NoCamera>),
    /// Texts were read in one look of the camera.
    Read(Vec<String>),
    /// Why nothing is read, as far as the reader knows, or that it no longer does.
    Hint(Hint),
    /// Another app took the camera, or the screen was put away and is there again.
    Ended,
    /// The part of the app that reads tags cannot be had.
    NoReader,
    /// Turn the light on or off.
    Torch,
    /// Come nearer, or back.
    Zoom,
    /// Use the next camera of the device.
    NextLens,
    /// Try the camera once more.
    TryCamera,
    /// A photograph was looked at; none: nothing was read in it.
    PhotoRead(Result<Option<String>, Trouble>),
    /// Take what was typed as what stands on a tag.
    Typed,
    /// Go on from tag to tag without a tap, or show each.
    Walk(bool),
    /// Say where one stands.
    StandAt(Stand),
    /// Put the answer away and scan on.
    Again,
    /// Look what was typed up in the search.
    Find,
    /// Open the job that a tag is of, and read the tag there.
    OpenJob(JobId),
    /// Something happens with numbered remotes.
    Remotes(remotes::Remotes),
}

/// A tag that was read in passing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Passed {
    /// The code, or what was read.
    pub code: String,
    /// What is to be said of it.
    pub words: String,
    /// Whether all is well with it.
    pub good: bool,
    /// Whether it is a place, which is good and proves no cable.
    pub place: bool,
    /// What was read to the letter, so that one tag stands there once, and one that is to be taken off beside
    /// the good one of the same code; none of what was typed.
    text: Option<String>,
    /// By what it was noted as seen.
    act: Option<ActId>,
}

/// How many of them are remembered.
const REMEMBERED: usize = 30;

/// Scanning, as it stands.
#[derive(Debug, Default)]
pub struct Scan {
    /// The camera.
    pub camera: Camera,
    /// What was read last, while it is shown.
    pub answer: Option<Scanned>,
    /// The text of that, and how it was read.
    text: (String, By),
    /// Why nothing is read.
    pub hint: Hint,
    /// Whether the light is on.
    pub torch: bool,
    /// How many times as large.
    pub zoom: u8,
    /// Whether good tags are noted without a tap.
    pub walk: bool,
    /// What was read in passing, the last first.
    pub passed: Vec<Passed>,
    /// Whether it was explained before what to do without a camera.
    pub explained: bool,
    /// The screen that whoever scans came from.
    pub from: Option<Screen>,
    /// The screen of a place that somebody came to last without looking it up.
    walked_to: Option<Screen>,
    /// The one of these that was told where he stands. What he says himself holds until he walks on.
    told_by: Option<Screen>,
    /// Whether somebody came to scan anew, and does not go on from an answer.
    anew: bool,
    /// The screen that shows the answer.
    shown_on: Option<Screen>,
    /// The camera that was used last.
    lens: String,
    /// A text that waits until its job is open.
    pub(super) waiting: Option<(String, By)>,
    /// Numbered remotes in jacks.
    pub(super) remotes: remotes::InJacks,
}

impl Scan {
    /// The answer, on the screen that shows it.
    #[must_use]
    pub fn answer_on(&self, screen: Option<Screen>) -> Option<&Scanned> {
        self.answer.as_ref().filter(|_| self.shown_on == screen)
    }
}

/// The jobs on this device whose tags carry a key.
#[must_use]
pub fn jobs_of(model: &Model, key: JobKey) -> Vec<(JobId, String)> {
    let JobList::Here(cards) = &model.jobs else {
        return Vec::new();
    };
    let jobs = cards.iter().filter_map(|card| {
        let job = JobId(card.id.parse::<Bits80>().ok()?);
        (JobKey::of(job) == key).then(|| (job, card.name.clone()))
    });
    jobs.collect()
}

/// What is kept from before: the camera that was used, and whether a missing one was explained.
pub(super) fn started(model: &mut Model, lens: &str, explained: bool) {
    lens.clone_into(&mut model.scan.lens);
    model.scan.explained = explained;
}

/// Somebody comes to a screen from another one. Whoever opens the scanner stands where he came from.
pub(super) fn arrive(model: &mut Model, from: Option<Screen>, to: Route) {
    let to = match to {
        Route::Job { screen, .. } => Some(screen),
        Route::Jobs | Route::Scan => None,
    };
    let was_answer = from.is_some() && model.scan.shown_on == from;
    if to.is_none() || model.scan.shown_on != to {
        model.scan.answer = None;
        model.scan.shown_on = None;
    }
    if to != Some(Screen::Scan) {
        // The screen of an answer is one that the tag led to.
        let is_answer = model.scan.shown_on == to;
        let to = to.filter(|to| !is_answer && is_walk(model.scan.walked_to, from, *to));
        model.scan.walked_to = to.or(model.scan.walked_to);
        return;
    }
    let Some(from) = from.filter(|from| *from != Screen::Scan && !was_answer) else {
        return;
    };
    model.scan.from = Some(from);
    model.scan.anew = true;
    if !model.scan.walk {
        model.scan.passed.clear();
    }
    // What somebody looked up is not where he stands: that is where he walked to before.
    let walked_to = model.scan.walked_to;
    let is_new = walked_to == Some(from) || walked_to != model.scan.told_by;
    if let Some(place) = walked_to.filter(|_| is_new) {
        model.scan.told_by = walked_to;
        if let Some(stand) = at_screen(model, place) {
            say(model, stand);
        }
    }
}

/// What was noted on a walk and is taken back is not on its list any more.
pub(super) fn undone(model: &mut Model, act: ActId) {
    model.scan.passed.retain(|passed| passed.act != Some(act));
}

/// Turns the camera on and off with the screen, and reads what waited for its job.
pub(super) fn look_after(model: &mut Model, effects: &mut Vec<Effect>, world: &impl World) {
    let is_scan = model.route == Route::Scan || model.screen() == Some(Screen::Scan);
    if model.screen() == Some(Screen::Scan)
        && model.open.is_some()
        && let Some((text, by)) = model.scan.waiting.take()
    {
        // What is said of the file stays beside the answer.
        let told = model.notice.take();
        effects.extend(take(model, &text, by, world));
        model.notice = model.notice.take().or(told);
        return look_after(model, effects, world);
    }
    let is_wanted = is_scan && model.scan.answer.is_none();
    match (&model.scan.camera, is_wanted) {
        (Camera::Off, true) => {
            model.scan.camera = Camera::Starting;
            let lens = model.scan.lens.clone();
            if std::mem::take(&mut model.scan.anew) {
                effects.push(Effect::Camera(CameraAsk::Anew));
            }
            effects.push(Effect::Camera(CameraAsk::Start(lens)));
        }
        (Camera::Starting | Camera::On(_), false) => {
            model.scan.camera = Camera::Off;
            effects.push(Effect::Camera(CameraAsk::Stop));
        }
        // Somebody may have allowed it meanwhile.
        (Camera::Missing(_), false) if !is_scan => {
            model.scan.camera = Camera::Off;
            model.scan.explained = true;
        }
        _ => {}
    }
}

/// Lets something happen.
pub(super) fn happen(model: &mut Model, action: ScanAction, world: &impl World) -> Vec<Effect> {
    match action {
        ScanAction::Started(Ok(abilities)) => {
            // The screen may have been left while the camera woke.
            if model.scan.camera == Camera::Off {
                return vec![Effect::Camera(CameraAsk::Stop)];
            }
            model.scan.torch = abilities.is_lit;
            model.scan.zoom = abilities.zoom.unwrap_or(1);
            model.scan.camera = Camera::On(abilities);
            Vec::new()
        }
        ScanAction::Started(Err(why)) => {
            model.scan.camera = Camera::Missing(why);
            vec![Effect::Keep {
                key: "camera",
                value: "explained".to_owned(),
            }]
        }
        ScanAction::Read(texts) => read(model, &texts, world),
        ScanAction::Hint(hint) => {
            model.scan.hint = hint;
            Vec::new()
        }
        ScanAction::Ended => {
            model.scan.camera = Camera::Off;
            Vec::new()
        }
        ScanAction::NoReader => {
            model.notice = Some(Notice::Trouble(Trouble::PartMissing));
            Vec::new()
        }
        ScanAction::Torch => {
            model.scan.torch = !model.scan.torch;
            vec![Effect::Camera(CameraAsk::Torch(model.scan.torch))]
        }
        ScanAction::Zoom => {
            model.scan.zoom = model.scan.zoom % 3 + 1;
            vec![Effect::Camera(CameraAsk::Zoom(model.scan.zoom))]
        }
        ScanAction::NextLens => next_lens(model),
        ScanAction::TryCamera => {
            model.scan.camera = Camera::Off;
            Vec::new()
        }
        ScanAction::PhotoRead(Ok(Some(text))) => {
            model.notice = None;
            take(model, &text, By::Photograph, world)
        }
        ScanAction::PhotoRead(Ok(None)) => {
            let words = "No tag can be read in this picture. Go nearer, hold still, and let the tag fill half of it. Or type what stands on it.";
            model.notice = Some(Notice::Told(words.to_owned()));
            vec![Effect::Signal(false)]
        }
        ScanAction::PhotoRead(Err(trouble)) => {
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
        ScanAction::Typed => {
            let text = model.fields.get(Field::ScanText).trim().to_owned();
            if text.is_empty() {
                let words = "Type what stands on the tag, such as KIT2-C.";
                model.notice = Some(Notice::Told(words.to_owned()));
                return Vec::new();
            }
            let effects = take(model, &text, By::Typing, world);
            let is_found = model.scan.answer.as_ref();
            if is_found.is_none_or(|answer| !answer.targets.is_empty()) {
                model.fields.clear(&[Field::ScanText]);
            }
            effects
        }
        ScanAction::Walk(walk) => {
            model.scan.walk = walk;
            if walk {
                model.scan.passed.clear();
                // What is left stands above the picture, where it is in view from the top.
                return vec![Effect::FocusHeading];
            }
            Vec::new()
        }
        ScanAction::StandAt(stand) => {
            say(model, stand);
            let answer = model.scan.answer.clone();
            answer.map_or_else(Vec::new, |answer| note_seen(model, &answer, world))
        }
        ScanAction::Again => {
            model.scan.answer = None;
            // Whoever goes on from an answer comes from it, until he is there.
            let effects = if model.route == Route::Scan {
                Vec::new()
            } else {
                go(model, Screen::Scan)
            };
            model.scan.shown_on = None;
            effects
        }
        ScanAction::Find => {
            let text = model.scan.text.0.clone();
            model.fields.set(Field::Find, text);
            go(model, Screen::Find)
        }
        ScanAction::OpenJob(job) => {
            let waiting = later(model);
            open_job(model, job, waiting)
        }
        ScanAction::Remotes(action) => remotes::happen(model, action, world),
    }
}

/// Of the texts of one look, a tag of ours comes first.
fn read(model: &mut Model, texts: &[String], world: &impl World) -> Vec<Effect> {
    if model.scan.answer.is_some() || model.scan.camera == Camera::Off {
        return Vec::new();
    }
    let ours = texts.iter().find(|text| TagText::read(text).is_ok());
    match ours.or(texts.first()) {
        Some(text) => take(model, text, By::Camera, world),
        None => Vec::new(),
    }
}

fn next_lens(model: &mut Model) -> Vec<Effect> {
    let Camera::On(abilities) = &model.scan.camera else {
        return Vec::new();
    };
    let next = (abilities.lens + 1) % abilities.lenses.len().max(1);
    let Some((id, _)) = abilities.lenses.get(next) else {
        return Vec::new();
    };
    let id = id.clone();
    model.scan.lens.clone_from(&id);
    model.scan.camera = Camera::Starting;
    vec![
        Effect::Keep {
            key: "lens",
            value: id.clone(),
        },
        Effect::Camera(CameraAsk::Start(id)),
    ]
}

/// What was read, to be read again in another job: it is no longer here and now.
fn later(model: &mut Model) -> (String, By) {
    let (text, by) = std::mem::take(&mut model.scan.text);
    let by = match by {
        By::Camera | By::Photograph => By::Photograph,
        By::Typing => By::Typing,
    };
    (text, by)
}

/// Lets a tag whose answer is on the screen wait for the job that is being opened; whether one is.
pub(super) fn waits_for_job(model: &mut Model) -> bool {
    let is_shown = model.scan.answer_on(model.screen()).is_some();
    if is_shown {
        let waiting = later(model);
        model.scan.waiting = Some(waiting);
    }
    is_shown
}

fn open_job(model: &mut Model, job: JobId, waiting: (String, By)) -> Vec<Effect> {
    let route = Route::Job {
        job,
        screen: Screen::Scan,
    };
    let mut effects = turn_to(model, route);
    effects.push(Effect::SetHash(route.print()));
    model.scan.answer = None;
    model.scan.waiting = Some(waiting);
    effects
}

/// How a text was read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum By {
    /// By the camera, here and now.
    #[default]
    Camera,
    /// In a photograph, which may be of another day.
    Photograph,
    /// By typing, which proves no tag.
    Typing,
}

/// Shows what a text names; a tag that holds is noted as seen where whoever scans said where that is.
fn take(model: &mut Model, text: &str, by: By, world: &impl World) -> Vec<Effect> {
    if let Some(effects) = relay::hear(model, text) {
        return effects;
    }
    model.scan.text = (text.to_owned(), by);
    model.scan.hint = Hint::default();
    let is_in_job = matches!(model.route, Route::Job { .. });
    let Some(open) = model.open.as_ref().filter(|_| is_in_job) else {
        return take_outside(model, text);
    };
    let room = room_code(open.journal.registry(), stand(model));
    let mut scanned = scan::read(&open.journal, text, room);
    let mut completed = None;
    match by {
        By::Typing => {
            scanned.holds = false;
            completed = scan::completed(open.journal.registry(), &scanned, room);
            // What has a dash may be the end of a longer code, whatever else it names.
            let is_end = text.contains('-') && matches!(scanned.targets[..], [Target::Rack(_)]);
            if is_end || scanned.targets.is_empty() && scanned.nearest.is_empty() {
                scanned.nearest = scan::offered(&open.journal, open.search_index(), text);
                scanned
                    .nearest
                    .retain(|target| !scanned.targets.contains(target));
                scanned.foreign &= scanned.nearest.is_empty();
            }
            let index = open.search_index();
            let once = scan::once_called(&open.journal, index, text, &mut scanned);
            completed = completed.or(once);
        }
        By::Camera | By::Photograph => scan::off_a_tag(&mut scanned, text),
    }
    // On a walk, the code of a place that is typed says where one stands, as choosing it does.
    let is_place = model.scan.walk && by == By::Typing && scanned.said.is_empty();
    stand_at_place(model, &scanned, scanned.holds || is_place);
    let passed = model.registry().filter(|_| model.scan.walk);
    let passed = passed.and_then(|registry| passing(registry, stand(model), &scanned, by));
    let passed = passed.map(|passed| Passed {
        text: (by != By::Typing).then(|| text.trim().to_owned()),
        ..passed
    });
    let is_good = passed
        .as_ref()
        .map_or_else(|| is_well(model, &scanned), |passed| passed.good);
    let mut effects = vec![Effect::Signal(is_good)];
    if let Some(mut passed) = passed {
        let noted = note_seen(model, &scanned, world);
        if let (false, Some(Notice::Done { act, .. })) = (noted.is_empty(), &model.notice) {
            passed.act = Some(*act);
        }
        effects.extend(noted);
        // One tag counts once, however often it was in view; one that was typed, until it is seen.
        let is_same = |known: &Passed| {
            known.code == passed.code
                && (known.text == passed.text || known.text.is_none() && passed.good)
        };
        model.scan.passed.retain(|known| !is_same(known));
        model.scan.passed.insert(0, passed);
        model.scan.passed.truncate(REMEMBERED);
        return effects;
    }
    let seen = match by {
        By::Camera => note_seen(model, &scanned, world),
        By::Photograph | By::Typing => Vec::new(),
    };
    let noted = model.notice.take().filter(|_| !seen.is_empty());
    effects.extend(seen);
    let screen = match scanned.targets.as_slice() {
        [Target::Cable(id)] if is_in_hand(model, *id) => Some(Screen::HandCable(*id)),
        targets => screen_of(targets),
    };
    if let Some(screen) = screen {
        model.scan.shown_on = Some(screen);
        effects.extend(go(model, screen));
    }
    match scanned.targets[..] {
        [Target::Rack(rack)] => racks::open(model, rack),
        [Target::LooseEnd(id)] => open_loose(model, id),
        _ => {}
    }
    model.scan.shown_on = screen.or(model.screen());
    scanned.said.extend(completed);
    model.scan.answer = Some(scanned);
    model.notice = noted;
    effects
}

/// Whether all is well with what was read: it names something, nothing is to be said against it, and
/// it does not belong elsewhere.
fn is_well(model: &Model, scanned: &Scanned) -> bool {
    let is_elsewhere = match (model.registry(), scanned.targets.as_slice()) {
        (Some(registry), [Target::Cable(id)]) => {
            end_here(registry, *id, stand(model)) == Here::Elsewhere
        }
        _ => false,
    };
    !scanned.targets.is_empty() && scanned.said.is_empty() && !is_elsewhere
}

/// Whether a cable is in the hand of somebody at the rack who is about to land it.
fn is_in_hand(model: &Model, id: CableId) -> bool {
    let stand = stand(model);
    let (Some(registry), Stand::Rack(_)) = (model.registry(), stand) else {
        return false;
    };
    match end_here(registry, id, stand) {
        Here::End(side) => landed_place(registry, End::whole(id, side)).is_none(),
        Here::Unknown | Here::Elsewhere => false,
    }
}

/// Without its job a tag says what it says by itself. Where its job is on this device, it is opened.
fn take_outside(model: &mut Model, text: &str) -> Vec<Effect> {
    let scanned = scan::read_alone(text);
    if let Some(key) = scanned.other_job
        && let [(job, _)] = jobs_of(model, key)[..]
    {
        let waiting = later(model);
        return open_job(model, job, waiting);
    }
    model.scan.shown_on = None;
    model.scan.answer = Some(scanned);
    vec![Effect::Signal(false)]
}

/// Notes that a tag was seen where whoever scans stands, once for each place. Only a tag that holds
/// says that its cable is there.
fn note_seen(model: &mut Model, scanned: &Scanned, world: &impl World) -> Vec<Effect> {
    let (true, [Target::Cable(id)]) = (scanned.holds, scanned.targets.as_slice()) else {
        return Vec::new();
    };
    let (Some(registry), stand) = (model.registry(), stand(model)) else {
        return Vec::new();
    };
    let Here::End(side) = end_here(registry, *id, stand) else {
        return Vec::new();
    };
    let end = End::whole(*id, side);
    if is_seen_at(registry, end, stand) {
        return Vec::new();
    }
    let at = stand_words(registry, stand);
    perform(model, &Want::SeeEnd { end, at }, world)
}

/// What is to be said of a tag that is read in passing; none of what stops the walk with its answer. All
/// is well only with what can be noted as seen, and with a place, which says where one stands from then on.
fn passing(registry: &Registry, stand: Stand, scanned: &Scanned, by: By) -> Option<Passed> {
    let at = stand_words(registry, stand);
    let code = &scanned.shown;
    let said = scanned.said.join(" ");
    let said = (!said.is_empty()).then(|| format!("{code}: {said}"));
    let (words, good) = match scanned.targets.as_slice() {
        [Target::Outlet(_) | Target::Rack(_) | Target::Panel(_), ..]
            if scanned.holds || (by == By::Typing && scanned.said.is_empty()) =>
        {
            (format!("You stand at {at} now"), true)
        }
        [Target::Cable(id)] => match (said, end_here(registry, *id, stand)) {
            (Some(said), _) => (said, false),
            (None, Here::End(_)) if by == By::Typing => (
                format!("{code} belongs at {at}. It was typed, so it is not noted as seen."),
                false,
            ),
            (None, Here::End(_)) => (format!("{code} seen at {at}"), true),
            (None, Here::Unknown) => (
                format!("{code} read. Say where you stand, and it is noted as seen."),
                false,
            ),
            (None, Here::Elsewhere) => (
                format!("{code} does not belong at {at} by the record."),
                false,
            ),
        },
        // What is no tag of ours, or one of another job, is in sight now and then: it is said, and the walk
        // goes on.
        [] if scanned.foreign => (format!("“{code}” is not one of our tags."), false),
        [] if scanned.other_job.is_some() => (format!("{code} is a tag of another job."), false),
        _ => return None,
    };
    Some(Passed {
        code: code.clone(),
        words,
        good,
        place: !matches!(scanned.targets[..], [Target::Cable(_)]),
        text: None,
        act: None,
    })
}

/// What somebody has to choose among: several things of the likeliest kind are called so. None where it is
/// clear.
#[must_use]
pub fn choices(targets: &[Target]) -> Vec<Target> {
    let kind = targets.first().map(discriminant);
    let mut alike = targets.to_vec();
    alike.retain(|target| Some(discriminant(target)) == kind);
    if alike.len() < 2 {
        alike.clear();
    }
    alike
}

/// Where what was read is shown; none where somebody has to choose.
fn screen_of(targets: &[Target]) -> Option<Screen> {
    if !choices(targets).is_empty() {
        return None;
    }
    let mut positions = targets
        .iter()
        .filter(|target| matches!(target, Target::Position(_)));
    positions
        .next()
        .or(targets.first())
        .map(|target| screen(*target))
}

/// Opens the row of a loose end, on the page of the list where it stands.
pub(super) fn open_loose(model: &mut Model, id: LooseEndId) {
    let rows = model.registry().map(loose_ends).unwrap_or_default();
    let at = rows.iter().position(|row| row.id == id);
    model.page = at.unwrap_or(0) / racks::PAGE_ROWS;
    model.fields.set(Field::LooseOpen, id.0.to_string());
}

/// The screen of a thing that was found; that of a loose end is a row of its list.
#[must_use]
pub fn screen(target: Target) -> Screen {
    match target {
        Target::Cable(id) => Screen::Cable(id),
        Target::Outlet(id) => Screen::Outlet(id),
        Target::Room(id) => Screen::Room(id),
        Target::Rack(_) => Screen::Rack,
        Target::Panel(panel) => Screen::Panel {
            panel,
            face: Face::Rear,
        },
        Target::Position(position) => Screen::Position {
            position,
            face: Face::Rear,
        },
        Target::LooseEnd(_) => Screen::Loose,
        Target::Device(id) => Screen::Device(id),
        Target::Joint(id) => Screen::Joint(id),
        Target::Conduit(_) => Screen::Racks,
        Target::Box(_) => Screen::Pull,
    }
}
