//! From phone to phone without a file: what one lacks is shown as a running series of codes, which
//! the other one scans.

use super::ports::Trouble;
use super::tags::Paper;
use super::turn::go;
use super::{Effect, Model, Notice, OpenJob, Screen, carry};
use crate::domain::ids::ActId;
use crate::exchange::jobfile;
use crate::exchange::known::Known;
use crate::journal::{Journal, line_id};
use crate::names;
use crate::relay::{Broken, Fault, Gathering, Heard};

/// How long each code is shown, in milliseconds: five in a second, or two for a slow camera.
const PACE: [u32; 2] = [200, 500];

/// A week, in milliseconds.
const WEEK: u64 = 7 * 24 * 3600 * 1000;

/// Which work is shown to another phone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// What was done today, by the clocks of those who did it.
    Today,
    /// What was done in the last seven days.
    Week,
    /// Everything.
    All,
    /// What the other phone said that it lacks.
    Lacking,
}

/// What happens from phone to phone.
#[derive(Clone, Debug, PartialEq)]
pub enum RelayAction {
    /// Show some of the work.
    Show(Part),
    /// Show what is here, so that the other phone knows what is lacking.
    ShowKnown,
    /// It is time for the next code of the series of that number.
    Next(u32),
    /// Stay at a code, or go on.
    Hold(bool),
    /// Show each code longer, or not.
    Slow(bool),
    /// Put the codes away.
    PutAway,
    /// Forget the codes that were scanned.
    Forget,
    /// What a whole series carried; none where it is no text.
    Unpacked(Result<Option<String>, Trouble>),
}

/// From phone to phone, as it stands.
#[derive(Debug, Default)]
pub struct Relay {
    /// The codes on the screen.
    pub showing: Option<Showing>,
    /// The codes that were scanned so far.
    pub gathering: Gathering,
    /// What the other phone has.
    pub theirs: Option<Known>,
    /// How many series were shown.
    run: u32,
}

/// A series of codes on the screen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Showing {
    /// What it carries, in words.
    pub what: String,
    /// Each code: how many modules a side has, and the dark ones as the path of an SVG. None while they are
    /// made.
    pub codes: Vec<(u32, String)>,
    /// Which of them is shown.
    pub at: usize,
    /// Whether it stays.
    pub held: bool,
    /// Whether each is shown longer.
    pub slow: bool,
    /// How often the job had changed when it was made.
    changes: u64,
    /// Which series this is.
    run: u32,
}

impl Showing {
    /// How long it takes until every code was shown, in whole seconds.
    #[must_use]
    pub fn seconds(&self) -> usize {
        (self.codes.len() * self.pace() as usize).div_ceil(1000)
    }

    fn pace(&self) -> u32 {
        PACE[usize::from(self.slow)]
    }

    /// The next code after a while; none where one code is all there is.
    fn tick(&self) -> Option<Effect> {
        (self.codes.len() > 1 && !self.held).then(|| Effect::NextCode {
            run: self.run,
            after: self.pace(),
        })
    }
}

/// Lets something happen.
pub(super) fn happen(model: &mut Model, action: RelayAction) -> Vec<Effect> {
    match action {
        RelayAction::Show(part) => show(model, part),
        RelayAction::ShowKnown => {
            let Some(known) = known(model) else {
                return Vec::new();
            };
            series(model, "What is on this device".to_owned(), known.print())
        }
        RelayAction::Next(run) => next(model, run),
        RelayAction::Hold(held) => {
            let pace = |showing: &mut Showing| showing.held = held;
            changed(model, pace)
        }
        RelayAction::Slow(slow) => {
            let pace = |showing: &mut Showing| showing.slow = slow;
            changed(model, pace)
        }
        RelayAction::PutAway => {
            model.relay.showing = None;
            Vec::new()
        }
        RelayAction::Forget => {
            model.relay.gathering = Gathering::default();
            Vec::new()
        }
        RelayAction::Unpacked(came) => unpacked(model, came),
    }
}

/// What is here of the open job.
fn known(model: &Model) -> Option<Known> {
    let journal = &model.open.as_ref()?.journal;
    Some(Known {
        job: journal.job(),
        last: journal.frontier(),
    })
}

fn show(model: &mut Model, part: Part) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let journal = &open.journal;
    let lines: Vec<&str> = journal.lines();
    let lines: Vec<&str> = match part {
        Part::All => lines,
        Part::Today | Part::Week | Part::Lacking => lines
            .into_iter()
            .filter(|line| line_id(line).is_none_or(|id| is_of(model, journal, part, id)))
            .collect(),
    };
    if lines.is_empty() {
        let words = match part {
            Part::Lacking => "The other phone has everything that is here.",
            Part::Today | Part::Week | Part::All => "Nothing was done then. Choose more.",
        };
        model.notice = Some(Notice::Told(words.to_owned()));
        return Vec::new();
    }
    let records = match lines.len() {
        1 => "1 record".to_owned(),
        count => format!("{count} records"),
    };
    let what = match part {
        Part::Today => format!("{records}: what was done today"),
        Part::Week => format!("{records}: the last seven days"),
        Part::All => format!("{records}: the whole job"),
        Part::Lacking => format!("{records}: what the other phone lacks"),
    };
    let text = jobfile::write(journal.job(), open.name(), lines);
    series(model, what, text)
}

fn is_of(model: &Model, journal: &Journal, part: Part, id: ActId) -> bool {
    let wall = journal.act(id).map_or(model.now, |act| act.wall);
    match part {
        Part::All => true,
        Part::Today => names::day(wall) == names::day(model.now),
        Part::Week => wall.0 + WEEK >= model.now.0,
        Part::Lacking => {
            let theirs = model.relay.theirs.as_ref();
            // What is here in two versions may be there in one.
            let is_one = journal.act(id).is_some();
            theirs.is_none_or(|theirs| !(is_one && theirs.has(id)))
        }
    }
}

/// Has the codes made of a text.
fn series(model: &mut Model, what: String, text: String) -> Vec<Effect> {
    model.relay.run += 1;
    model.relay.showing = Some(Showing {
        what,
        changes: model.open.as_ref().map_or(0, OpenJob::changes),
        run: model.relay.run,
        ..Showing::default()
    });
    vec![Effect::Papers {
        what: Paper::Series,
        order: text,
    }]
}

/// The codes came, a line each, or could not be made.
pub(super) fn came(model: &mut Model, came: Result<Option<Vec<u8>>, Trouble>) -> Vec<Effect> {
    let Some(showing) = &mut model.relay.showing else {
        return Vec::new();
    };
    let text = match came {
        Ok(Some(bytes)) => String::from_utf8(bytes).unwrap_or_default(),
        Ok(None) => return Vec::new(),
        Err(trouble) => {
            model.relay.showing = None;
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    };
    let code = |line: &str| {
        let (size, path) = line.split_once(' ')?;
        Some((size.parse().ok()?, path.to_owned()))
    };
    showing.codes = text.lines().filter_map(code).collect();
    if showing.codes.is_empty() {
        model.relay.showing = None;
        let words =
            "That is more than codes can carry in a few minutes. Choose less, or send a file.";
        model.notice = Some(Notice::Told(words.to_owned()));
        return Vec::new();
    }
    showing.tick().into_iter().collect()
}

fn next(model: &mut Model, run: u32) -> Vec<Effect> {
    let is_here = model.screen() == Some(Screen::Crew);
    let showing = model.relay.showing.as_mut();
    match showing.filter(|showing| showing.run == run && is_here) {
        Some(showing) if !showing.held => {
            showing.at = (showing.at + 1) % showing.codes.len().max(1);
            showing.tick().into_iter().collect()
        }
        _ => Vec::new(),
    }
}

/// Begins anew with another pace; what was on its way for the old one comes to nothing.
fn changed(model: &mut Model, change: impl FnOnce(&mut Showing)) -> Vec<Effect> {
    model.relay.run += 1;
    let run = model.relay.run;
    let Some(showing) = &mut model.relay.showing else {
        return Vec::new();
    };
    showing.run = run;
    change(showing);
    showing.tick().into_iter().collect()
}

/// Codes run on only while somebody looks at them.
pub(super) fn arrived(model: &mut Model) -> Vec<Effect> {
    // Nor do they run on without what was done meanwhile.
    let changes = model.open.as_ref().map_or(0, OpenJob::changes);
    model
        .relay
        .showing
        .take_if(|showing| showing.changes != changes);
    changed(model, |_| ())
}

/// Takes what was scanned for a code of a series; none where it is something else.
pub(super) fn hear(model: &mut Model, text: &str) -> Option<Vec<Effect>> {
    match model.relay.gathering.hear(text) {
        Err(Fault::NotOurs) => None,
        Err(fault @ Fault::Newer) => {
            model.notice = Some(Notice::Told(fault.to_string()));
            Some(vec![Effect::Signal(false)])
        }
        // It comes round again.
        Err(Fault::Damaged) | Ok(Heard::Known | Heard::New) => Some(Vec::new()),
        Ok(Heard::All) => Some(match model.relay.gathering.whole() {
            Ok(packed) => vec![Effect::Signal(true), Effect::Unpack(packed)],
            Err(fault) => {
                model.notice = Some(Notice::Told(fault.to_string()));
                Vec::new()
            }
        }),
    }
}

fn unpacked(model: &mut Model, came: Result<Option<String>, Trouble>) -> Vec<Effect> {
    let text = match came {
        Ok(Some(text)) => text,
        Ok(None) => {
            model.notice = Some(Notice::Told(Broken::Damaged.to_string()));
            return Vec::new();
        }
        Err(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    };
    let Some(theirs) = Known::read(&text) else {
        return carry::take_in(model, text.as_bytes());
    };
    let open = model.open.as_ref().map(|open| open.journal.job());
    if open != Some(theirs.job) {
        let words = "The other phone shows what it has of another job. Open that job here first, then scan once more.";
        model.notice = Some(Notice::Told(words.to_owned()));
        return Vec::new();
    }
    model.relay.theirs = Some(theirs);
    let mut effects = go(model, Screen::Crew);
    effects.extend(show(model, Part::Lacking));
    effects
}
