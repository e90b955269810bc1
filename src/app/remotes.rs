//! Numbered remotes in the jacks of outlets, remembered by this device, and what the tester shows at
//! the rack.

use super::route::{Route, Screen};
use super::scan::ScanAction;
use super::turn::go;
use super::write::perform;
use super::{Effect, Model, Notice, World};
use crate::command::{CopperTest, Correction, Want};
use crate::domain::ids::{CableId, JobId, OutletId};
use crate::domain::place::{End, Side};
use crate::domain::work::{TestMethod, TestOutcome};
use crate::names;
use crate::query::proof::{Proof, proof};
use crate::query::remotes::{Mixed, Plugged, Remote, Verdict, dealt, free, jacks, mixed, verdict};

/// What happens with numbered remotes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remotes {
    /// They go into the jacks of an outlet, after those that are in jacks already.
    Into(OutletId),
    /// All are taken out.
    Out,
    /// The remote of this number is in the jack of a cable; none: that jack has none.
    In(CableId, Option<u8>),
    /// The remote of this number is missing from the set, and another takes its place.
    Missing(u8),
    /// It is there again.
    Found(u8),
    /// At the far end of this cable the tester shows a number; none: it shows nothing.
    Shown(CableId, Option<u8>),
    /// A reading is put away, to read it again now.
    Again(CableId),
    /// The reading says that the cable is bad, and those that it is crossed with.
    Failed(CableId),
    /// This cable is crossed with others, and this is put right for all of them.
    Crossed(CableId, Correction),
}

/// A jack with a remote in it.
#[derive(Debug)]
struct Jack {
    job: JobId,
    /// The end of the cable in it, and the number of its remote.
    plugged: Plugged,
    /// What the tester showed at the other end and proves nothing; `Some(None)`: it showed nothing.
    reading: Option<Option<u8>>,
}

/// The jacks with remotes in them. It stays when cables or outlets come in between, since the remotes do.
#[derive(Debug, Default)]
pub(super) struct InJacks {
    jacks: Vec<Jack>,
    /// The numbers of the remotes that are missing from the set.
    missing: Vec<u8>,
    /// The cable that is read next, where somebody chose one.
    asked: Option<CableId>,
    /// Those that were put right and are to be read anew, whatever was read of them before.
    put_right: Vec<CableId>,
}

impl InJacks {
    fn read(&mut self, cable: CableId, reading: Option<Option<u8>>) {
        for jack in &mut self.jacks {
            if jack.plugged.end.cable == cable {
                jack.reading = reading;
            }
        }
    }

    /// The numbers that are in no jack of a job and not missing.
    fn free(&self, job: JobId) -> Vec<u8> {
        let here = self.jacks.iter().filter(|jack| jack.job == job);
        let mut taken = self.missing.clone();
        taken.extend(here.map(|jack| jack.plugged.number));
        free(&taken).collect()
    }
}

/// How they are kept.
const KEY: &str = "remotes";
/// The words for the side of an end, for a tester that shows nothing, and for what is missing.
const FAR: &str = "far";
const NOTHING: &str = "nothing";
const MISSING: &str = "missing";

/// What was kept, a line for each jack: the address of its cable, which end of it that is, the number of the
/// remote behind a `#` (none: counted by the lines), and what was read and proves nothing. A line of its own
/// says which numbers are missing.
pub(super) fn started(model: &mut Model, kept: &str) {
    let jacks = kept.lines().zip(1..).filter_map(|(line, counted)| {
        let (number, line) = match line.split_once(" #") {
            Some((before, after)) => {
                let (number, reading) = after.split_once(' ').unwrap_or((after, ""));
                (number.parse().ok()?, [before, " ", reading].concat())
            }
            None => (counted, line.to_owned()),
        };
        let mut words = line.split(' ').filter(|word| !word.is_empty());
        let route = Route::parse(words.next()?);
        let side = match words.next()? {
            FAR => Side::Far,
            _ => Side::Near,
        };
        let reading = words.next().map(|shown| shown.parse().ok());
        let Route::Job {
            job,
            screen: Screen::Cable(cable),
        } = route
        else {
            return None;
        };
        let end = End::whole(cable, side);
        let plugged = Plugged { number, end };
        Some(Jack {
            job,
            plugged,
            reading,
        })
    });
    model.scan.remotes.jacks = jacks.collect();
    let missing = kept.lines().find_map(|line| line.strip_prefix(MISSING));
    let missing = missing.into_iter().flat_map(|line| line.split(' '));
    model.scan.remotes.missing = missing.filter_map(|number| number.parse().ok()).collect();
}

fn keep(model: &Model) -> Effect {
    let lines = model.scan.remotes.jacks.iter().map(|jack| {
        let Plugged { number, end } = jack.plugged;
        let (job, screen) = (jack.job, Screen::Cable(end.cable));
        let mut line = Route::Job { job, screen }.print();
        line.push_str(match end.side {
            Side::Near => " near #",
            Side::Far => " far #",
        });
        line.push_str(&number.to_string());
        if let Some(shown) = jack.reading {
            line.push(' ');
            line.push_str(&shown.map_or_else(|| NOTHING.to_owned(), |shown| shown.to_string()));
        }
        line
    });
    let mut lines: Vec<String> = lines.collect();
    let missing = &model.scan.remotes.missing;
    if !missing.is_empty() {
        let mut line = MISSING.to_owned();
        for number in missing {
            line.push(' ');
            line.push_str(&number.to_string());
        }
        lines.push(line);
    }
    let value = lines.join("\n");
    Effect::Keep { key: KEY, value }
}

/// The remotes in the jacks of the open job.
#[must_use]
pub fn remotes(model: &Model) -> Vec<Remote> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let job = open.journal.job();
    let here = model
        .scan
        .remotes
        .jacks
        .iter()
        .filter(|jack| jack.job == job);
    let plugged: Vec<Plugged> = here.map(|jack| jack.plugged).collect();
    let mut all = dealt(open.journal.registry(), &plugged);
    for remote in &mut all {
        remote.failed &= !model.scan.remotes.put_right.contains(&remote.cable);
    }
    all
}

/// The numbers that may go into a jack of the open job: those that are in no other, and not missing.
#[must_use]
pub fn spare(model: &Model) -> Vec<u8> {
    let open = model.open.as_ref();
    open.map_or_else(Vec::new, |open| model.scan.remotes.free(open.journal.job()))
}

/// The numbers that are missing from the set.
#[must_use]
pub fn missing(model: &Model) -> &[u8] {
    &model.scan.remotes.missing
}

/// What the tester showed at the far end of a cable that this did not prove.
#[must_use]
pub fn readings(model: &Model, cable: CableId) -> Option<Option<u8>> {
    let mut jacks = model.scan.remotes.jacks.iter();
    jacks.find(|jack| jack.plugged.end.cable == cable)?.reading
}

/// Who is mixed up with whom, by what was read so far.
#[must_use]
pub fn mixed_up(model: &Model, all: &[Remote], from: &Remote) -> Mixed {
    mixed(all, from, |cable| readings(model, cable))
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

/// Puts remotes into the jacks of an outlet, after those that are in jacks of this job already.
fn into(model: &mut Model, outlet: OutletId) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    let (job, registry) = (open.journal.job(), open.journal.registry());
    let here = |jack: &&Jack| jack.job == job;
    let has = model.scan.remotes.jacks.iter().filter(here);
    let has: Vec<CableId> = has.map(|jack| jack.plugged.end.cable).collect();
    let new = jacks(registry, outlet).into_iter();
    let new: Vec<End> = new.filter(|end| !has.contains(&end.cable)).collect();
    let free = model.scan.remotes.free(job);
    let left = new.len().saturating_sub(free.len());
    let plugged = free.into_iter().zip(new);
    let new = plugged.map(|(number, end)| Jack {
        job,
        plugged: Plugged { number, end },
        reading: None,
    });
    model.scan.remotes.jacks.extend(new);
    let mut effects = vec![keep(model)];
    effects.extend(go(model, Screen::Remotes));
    if left > 0 {
        let words = format!(
            "No more remotes are left of the set of eight, so {left} of this outlet's jacks have none. Read these first, and take them out."
        );
        model.notice = Some(Notice::Told(words));
    }
    effects
}

/// Puts another remote into the jack of a cable, or none. What was read of it, or shows the number that it
/// had, was read with the other one.
fn put_in(model: &mut Model, cable: CableId, number: Option<u8>) {
    let had = remotes(model).into_iter();
    let mut had = had.filter(|remote| remote.cable == cable);
    let had = had.next().map(|remote| Some(remote.number));
    let jacks = &mut model.scan.remotes.jacks;
    for jack in jacks.iter_mut() {
        let is_it = jack.plugged.end.cable == cable;
        if is_it || (jack.reading.is_some() && jack.reading == had) {
            jack.reading = None;
        }
        if let (true, Some(number)) = (is_it, number) {
            jack.plugged.number = number;
        }
    }
    if number.is_none() {
        jacks.retain(|jack| jack.plugged.end.cable != cable);
    }
}

/// Lets something happen.
pub(super) fn happen(model: &mut Model, action: Remotes, world: &impl World) -> Vec<Effect> {
    match action {
        Remotes::Into(outlet) => into(model, outlet),
        Remotes::Out => out(model, world),
        Remotes::In(cable, number) => {
            put_in(model, cable, number);
            vec![keep(model)]
        }
        Remotes::Missing(number) => {
            model.scan.remotes.missing.push(number);
            let cables = remotes(model).into_iter();
            let its = cables.filter(|remote| remote.number == number);
            for cable in its.map(|remote| remote.cable).collect::<Vec<_>>() {
                let other = spare(model).first().copied();
                put_in(model, cable, other);
            }
            vec![keep(model)]
        }
        Remotes::Found(number) => {
            model.scan.remotes.missing.retain(|one| *one != number);
            vec![keep(model)]
        }
        Remotes::Again(cable) => {
            model.scan.remotes.read(cable, None);
            model.scan.remotes.asked = Some(cable);
            vec![keep(model)]
        }
        Remotes::Shown(cable, number) => {
            model.scan.remotes.asked = None;
            model.scan.remotes.put_right.retain(|right| *right != cable);
            let is_right = number
                .is_some_and(|number| verdict(&remotes(model), cable, number) == Verdict::Right);
            if is_right {
                let passed = by_remote(cable, TestOutcome::Passed, String::new());
                let mut effects = perform(model, &passed, world);
                if !effects.is_empty() {
                    model.scan.remotes.read(cable, None);
                    effects.push(keep(model));
                }
                effects.push(Effect::Signal(true));
                return effects;
            }
            // What was said of the cable before is not meant for this one.
            model.notice = None;
            model.scan.remotes.read(cable, Some(number));
            let mut effects = vec![Effect::Signal(false), keep(model)];
            // A cable that was proved before is so no more, whatever is decided.
            if let Some(open) = &model.open
                && proof(open.journal.registry(), End::whole(cable, Side::Far)) == Proof::Verified
                && let Some(failure) = failure(model, cable)
            {
                effects.extend(perform(model, &failure, world));
            }
            effects
        }
        Remotes::Failed(cable) => {
            let mut effects = Vec::new();
            let all = remotes(model);
            let from = all.iter().find(|remote| remote.cable == cable);
            let ring = match from.map(|from| mixed_up(model, &all, from)) {
                Some(Mixed::Ring(ring)) => ring,
                _ => from.into_iter().cloned().collect(),
            };
            for one in &ring {
                // What was noted when it was read is not noted twice.
                let failure = failure(model, one.cable).filter(|_| !one.failed);
                if let Some(failure) = failure {
                    effects.extend(perform(model, &failure, world));
                }
                model.scan.remotes.read(one.cable, None);
            }
            effects.push(keep(model));
            effects
        }
        Remotes::Crossed(cable, how) => {
            let all = remotes(model);
            let from = all.iter().find(|remote| remote.cable == cable);
            let Some(Mixed::Ring(ring)) = from.map(|from| mixed_up(model, &all, from)) else {
                return Vec::new();
            };
            let ends = ring.iter().map(|remote| remote.end).collect();
            let mut effects = perform(model, &Want::Uncross { ends, how }, world);
            if !effects.is_empty() {
                // What was changed is proved by reading it again.
                for remote in &ring {
                    model.scan.remotes.read(remote.cable, None);
                    model.scan.remotes.put_right.push(remote.cable);
                }
                effects.push(keep(model));
            }
            effects
        }
    }
}

/// What a reading that proves nothing says of a cable, as a test that failed; none where nothing was read.
fn failure(model: &Model, cable: CableId) -> Option<Want> {
    let shown = readings(model, cable)?;
    let all = remotes(model);
    let note = match shown {
        None => "no remote answers at its other end".to_owned(),
        Some(number) => match verdict(&all, cable, number) {
            Verdict::Crossed(other) => {
                let crossed = all.iter().find(|remote| remote.cable == other);
                let code = crossed.map_or("another", |remote| remote.code.as_str());
                format!("crossed with {code}: remote {number} answers")
            }
            Verdict::Right | Verdict::NoSuchRemote => format!("remote {number} answers"),
        },
    };
    Some(by_remote(cable, TestOutcome::Failed, note))
}

/// All remotes come out. A reading that proved nothing is kept with its cable as a test that failed, so
/// that a crossing that was found is not forgotten with them.
fn out(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let all = remotes(model);
    let mut effects = Vec::new();
    let mut failed: Vec<String> = Vec::new();
    for remote in &all {
        let Some(failure) = failure(model, remote.cable) else {
            continue;
        };
        // One that was proved before is kept as failed since it was read.
        if !remote.failed {
            effects.extend(perform(model, &failure, world));
        }
        failed.push(remote.code.clone());
    }
    // What is missing from the set is missing from the next outlets too.
    model.scan.remotes.jacks.clear();
    model.scan.remotes.asked = None;
    model.scan.remotes.put_right.clear();
    if !failed.is_empty() {
        model.notice = Some(Notice::Told(format!(
            "What the tester showed of {} is kept as a test that failed; it is on the punch list.",
            names::listed(&failed)
        )));
    }
    effects.push(keep(model));
    effects
}

fn by_remote(cable: CableId, outcome: TestOutcome, note: String) -> Want {
    let test = CopperTest {
        method: TestMethod::Remote,
        outcome,
        note,
    };
    Want::TestCable { cable, test }
}

/// Something that happens with remotes, as something that happens with tags.
#[must_use]
pub fn of(action: Remotes) -> ScanAction {
    ScanAction::Remotes(action)
}
