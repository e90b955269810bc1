//! Numbered remotes in the jacks of outlets, remembered by this device, and what the tester shows at
//! the rack.

use super::route::{Route, Screen};
use super::scan::ScanAction;
use super::turn::go;
use super::write::perform;
use super::{Effect, Model, Notice, World};
use crate::command::{CopperTest, Correction, Want};
use crate::domain::ids::{CableId, JobId, OutletId};
use crate::domain::sorted::SortedMap;
use crate::domain::work::{TestMethod, TestOutcome};
use crate::query::remotes::{Remote, Verdict, dealt, end_of, verdict};

/// What happens with numbered remotes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remotes {
    /// They go into the jacks of an outlet, after those that are in jacks already.
    Into(OutletId),
    /// All are taken out.
    Out,
    /// At the far end of this cable the tester shows a number; none: it shows nothing.
    Shown(CableId, Option<u8>),
    /// A reading is put away, to read it again now.
    Again(CableId),
    /// The reading says that the cable is bad.
    Failed(CableId),
    /// Two cables are crossed, and this is put right.
    Crossed(CableId, CableId, Correction),
}

/// Where the remotes are, with what was read and proves nothing.
#[derive(Debug, Default)]
pub(super) struct InJacks {
    outlets: Vec<(JobId, OutletId)>,
    readings: SortedMap<CableId, Option<u8>>,
    /// The cable that is read next, where somebody chose one.
    asked: Option<CableId>,
}

/// How they are kept.
const KEY: &str = "remotes";

/// What was kept: the address of the outlet, a line each.
pub(super) fn started(model: &mut Model, kept: &str) {
    let outlets = kept.lines().filter_map(|line| match Route::parse(line) {
        Route::Job {
            job,
            screen: Screen::Outlet(outlet),
        } => Some((job, outlet)),
        _ => None,
    });
    model.scan.remotes.outlets = outlets.collect();
}

fn keep(model: &Model) -> Vec<Effect> {
    let outlets = model.scan.remotes.outlets.iter();
    let lines = outlets.map(|(job, outlet)| {
        let (job, screen) = (*job, Screen::Outlet(*outlet));
        Route::Job { job, screen }.print()
    });
    let value = lines.collect::<Vec<_>>().join("\n");
    vec![Effect::Keep { key: KEY, value }]
}

/// The remotes in the jacks of the open job.
#[must_use]
pub fn remotes(model: &Model) -> Vec<Remote> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let job = open.journal.job();
    let outlets = model.scan.remotes.outlets.iter();
    let outlets: Vec<OutletId> = outlets
        .filter(|(of, _)| *of == job)
        .map(|(_, outlet)| *outlet)
        .collect();
    dealt(open.journal.registry(), &outlets)
}

/// What the tester showed at the far end of a cable that this did not prove.
#[must_use]
pub fn readings(model: &Model, cable: CableId) -> Option<Option<u8>> {
    model.scan.remotes.readings.get(&cable).copied()
}

/// The remote that is read next: the one that somebody chose, else the first that nothing is known of.
#[must_use]
pub fn next<'a>(model: &Model, all: &'a [Remote]) -> Option<&'a Remote> {
    let asked = model.scan.remotes.asked;
    let is_open = |remote: &&Remote| {
        !remote.proved && !remote.failed && readings(model, remote.cable).is_none()
    };
    let chosen = all.iter().find(|remote| Some(remote.cable) == asked);
    chosen.or_else(|| all.iter().find(is_open))
}

/// Lets something happen.
pub(super) fn happen(model: &mut Model, action: Remotes, world: &impl World) -> Vec<Effect> {
    match action {
        Remotes::Into(outlet) => {
            let Some(open) = &model.open else {
                return Vec::new();
            };
            let of = (open.journal.job(), outlet);
            let before = remotes(model).len();
            let is_new = !model.scan.remotes.outlets.contains(&of);
            if is_new {
                model.scan.remotes.outlets.push(of);
            }
            let mut effects = keep(model);
            effects.extend(go(model, Screen::Remotes));
            if is_new && remotes(model).len() == before {
                model.scan.remotes.outlets.pop();
                let words = "All eight remotes are in jacks already, so none is left for this outlet. Take them out first.";
                model.notice = Some(Notice::Told(words.to_owned()));
            }
            effects
        }
        Remotes::Out => {
            model.scan.remotes = InJacks::default();
            keep(model)
        }
        Remotes::Again(cable) => {
            model.scan.remotes.readings.remove(&cable);
            model.scan.remotes.asked = Some(cable);
            Vec::new()
        }
        Remotes::Shown(cable, number) => {
            model.scan.remotes.asked = None;
            let is_right = number
                .is_some_and(|number| verdict(&remotes(model), cable, number) == Verdict::Right);
            if is_right {
                let mut effects = test(model, cable, TestOutcome::Passed, world);
                effects.push(Effect::Signal(true));
                return effects;
            }
            // What was said of the cable before is not meant for this one.
            model.notice = None;
            model.scan.remotes.readings.insert(cable, number);
            vec![Effect::Signal(false)]
        }
        Remotes::Failed(cable) => test(model, cable, TestOutcome::Failed, world),
        Remotes::Crossed(cable, other, how) => {
            let all = remotes(model);
            let [a, b] = [cable, other].map(|cable| end_of(&all, cable));
            let effects = perform(model, &Want::Uncross { a, b, how }, world);
            if !effects.is_empty() {
                // What was changed is proved by reading it again.
                for cable in [cable, other] {
                    model.scan.remotes.readings.remove(&cable);
                }
            }
            effects
        }
    }
}

fn test(
    model: &mut Model,
    cable: CableId,
    outcome: TestOutcome,
    world: &impl World,
) -> Vec<Effect> {
    let test = CopperTest {
        method: TestMethod::Remote,
        outcome,
        note: String::new(),
    };
    let effects = perform(model, &Want::TestCable { cable, test }, world);
    if !effects.is_empty() {
        model.scan.remotes.readings.remove(&cable);
    }
    effects
}

/// Something that happens with remotes, as something that happens with tags.
#[must_use]
pub fn of(action: Remotes) -> ScanAction {
    ScanAction::Remotes(action)
}
