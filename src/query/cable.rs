//! One cable with both its ends, for whoever stands at either.

/// How one end stands.
mod ends;

use super::deeds::{outcome_words, sayer, who};
use super::rack::{landed_place, planned_place};
use super::run::{Marked, Pulled, Run, Standpoint, Tested, change_order, shown_outlet, waits};
use crate::codes::tag::PullMark;
use crate::domain::ids::{CableId, LooseEndId, OutletId, PanelId};
use crate::domain::length::{LengthUnit, Millimetres};
use crate::domain::medium::{Kind, Medium};
use crate::domain::place::{End, Place, Side};
use crate::domain::work::{PullOutcome, Slack, Standing, TestMethod, TestOutcome, Waiting};
use crate::journal::{Journal, Registry, Said};
use crate::{names, walk};
use ends::end_view;

/// One cable with both its ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CableView {
    /// The code.
    pub code: String,
    /// What kind of run it is.
    pub kind: &'static str,
    /// What it is made of, in words.
    pub medium: String,
    /// What it is for.
    pub purpose: String,
    /// The room, for a run that feeds an outlet.
    pub room: String,
    /// The outlet that it feeds.
    pub outlet: Option<OutletId>,
    /// The panel of its far end.
    pub panel: Option<PanelId>,
    /// Both ends, the near one first.
    pub ends: [EndView; 2],
    /// How the pull went, with who said so.
    pub pull: Vec<Dated>,
    /// Earlier pulls: the copper that is void.
    pub void_pulls: Vec<Dated>,
    /// The cable length between the marks of both ends, where both were read in one unit.
    pub length: Option<Measured>,
    /// Tests of the copper that lies there now, the newest first; before them that an end was moved since
    /// the last, where it was.
    pub tests: Vec<Dated>,
    /// Names that it once had.
    pub old_names: Vec<Dated>,
    /// Remarks, the newest first.
    pub notes: Vec<Dated>,
    /// The change order that it came with, alone or with its outlet; empty when it came with none.
    pub order: String,
    /// The cable coiled behind its outlet.
    pub slack: Option<Slack>,
    /// Whom its outlet waits for; none when it waits for nobody.
    pub waits: Option<Waiting>,
    /// Why it was cancelled.
    pub cancelled: Option<String>,
    /// What to do next.
    pub next: Next,
}

/// A length with the unit that it was read in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measured {
    /// The length.
    pub length: Millimetres,
    /// The unit of the print on the jacket.
    pub unit: LengthUnit,
}

/// Something said, with who said it and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated {
    /// What.
    pub words: String,
    /// By whom and when.
    pub who: String,
}

/// One end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndView {
    /// Which.
    pub side: Side,
    /// What it comes out at.
    pub outlet_or_rack: OutletOrRack,
    /// Where it leads: the outlet, the rack.
    pub at: String,
    /// The place in short, large: `B07`, `KIT2`; of a split end, that of every landed leg.
    pub place: String,
    /// How it stands.
    pub state: EndState,
    /// How it stands, in words, with who said so.
    pub standing: Vec<Dated>,
    /// Its marks, losses of tags and sightings.
    pub marks: Vec<Dated>,
    /// The length marks read on it.
    pub footage: Vec<Dated>,
    /// The loose end that it turned out to be.
    pub loose: Option<LooseEndId>,
}

/// What an end comes out at. A tie line has two ends at racks, a local run two at outlets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutletOrRack {
    /// An outlet; none: nobody said which.
    Outlet(Option<OutletId>),
    /// A rack.
    Rack,
}

/// How an end stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndState {
    /// Terminated.
    Landed,
    /// Meant for a place, not there yet.
    Planned,
    /// Nothing is known.
    Open,
    /// Left coiled on purpose.
    Spare,
    /// Out of use.
    Dead,
    /// Several people say different things, or another end claims its place too.
    Disputed,
}

/// The next sensible thing to do with a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// Nothing: it is done.
    Nothing,
    /// Somebody must decide what went wrong.
    Settle,
    /// Pull it.
    Pull,
    /// Mark both ends.
    Mark,
    /// Land an end.
    Land(Side),
    /// Test it.
    Test,
}

/// Gathers what is known of a cable; none when it was never added or was withdrawn.
#[must_use]
pub fn view(journal: &Journal, id: CableId) -> Option<CableView> {
    let registry = journal.registry();
    let cable = registry
        .cables
        .get(id)
        .filter(|row| !row.added.is_empty())?;
    let run = Run::new(registry, id, cable);
    let outlet = shown_outlet(cable);
    let ends = Side::BOTH.map(|side| end_view(journal, run, side));
    let row = outlet.and_then(|outlet| registry.outlets.get(outlet));
    let room = row.and_then(|row| row.number.get());
    let panel = far_place(run).and_then(|place| match place {
        Place::Position { position, .. } => Some(position.panel),
        Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => None,
    });
    Some(CableView {
        code: names::cable(registry, id),
        kind: run.kind().words(),
        medium: cable
            .medium
            .get()
            .map(ToString::to_string)
            .unwrap_or_default(),
        purpose: cable.purpose.get().cloned().unwrap_or_default(),
        room: room.map_or_else(String::new, |at| names::room(registry, at.room)),
        outlet,
        panel,
        pull: pulls(journal, run),
        void_pulls: void_pulls(journal, run),
        length: length(run),
        tests: tests(journal, run),
        old_names: cable
            .known_as
            .iter()
            .map(|said| dated(journal, said, Clone::clone))
            .collect(),
        notes: cable
            .notes
            .iter()
            .rev()
            .map(|said| dated(journal, said, Clone::clone))
            .collect(),
        order: change_order(registry, cable).to_owned(),
        slack: row.and_then(|row| row.slack.get()).cloned(),
        waits: row.and_then(waits).cloned(),
        cancelled: match cable.standing.get() {
            Some(Standing::Cancelled { reason }) => Some(reason.clone()),
            Some(Standing::Wanted) | None => None,
        },
        next: next(run, &ends),
        ends,
    })
}

fn dated<T>(journal: &Journal, said: Said<'_, T>, words: impl FnOnce(&T) -> String) -> Dated {
    Dated {
        words: words(said.value),
        who: sayer(journal, said.fact),
    }
}

fn far_place(run: Run<'_>) -> Option<&Place> {
    let far = End::whole(run.id, Side::Far);
    landed_place(run.registry, far).or_else(|| planned_place(run.registry, far))
}

fn length(run: Run<'_>) -> Option<Measured> {
    let near = run.end(Side::Near)?.footage.last()?;
    let far = run.end(Side::Far)?.footage.last()?;
    Some(Measured {
        length: near.span(*far)?,
        unit: near.unit,
    })
}

fn pulls(journal: &Journal, run: Run<'_>) -> Vec<Dated> {
    let mut lines = Vec::new();
    let Some(copper) = run.copper else {
        return lines;
    };
    for said in copper.outcome.all() {
        lines.push(dated(journal, said, |outcome| {
            outcome_words(*outcome).to_owned()
        }));
    }
    if lines.is_empty() && run.pulled() == Pulled::Yes {
        lines.push(Dated {
            words: outcome_words(PullOutcome::Pulled).to_owned(),
            who: String::new(),
        });
    }
    for said in copper.drawn_from.all() {
        lines.push(dated(journal, said, |number| format!("from box {number}")));
    }
    lines
}

/// The pulls before the one that lies there now, each with the mark that its void tags carry.
fn void_pulls(journal: &Journal, run: Run<'_>) -> Vec<Dated> {
    let repulls = run.cable.repull.all();
    let mut lines: Vec<Dated> = repulls
        .map(|said| {
            dated(journal, said, |repull| {
                format!("pulled anew: {}", repull.reason)
            })
        })
        .collect();
    let now = run.cable.pull(run.id);
    for (pull, copper) in run.cable.copper.iter().filter(|(pull, _)| *pull != now) {
        let tested = copper.tests.iter().count();
        let tests = match tested {
            0 => String::new(),
            1 => ", 1 test on it is past".to_owned(),
            count => format!(", {count} tests on it are past"),
        };
        lines.push(Dated {
            words: format!(
                "tags from before that are void{tests} (they carry {})",
                PullMark::of(*pull)
            ),
            who: String::new(),
        });
    }
    lines
}

/// The tests that suit what a cable is made of, the quickest first: a wire map is for pairs, and no
/// tone goes through glass. Common practice, no source.
#[must_use]
pub fn tests_for(registry: &Registry, id: CableId) -> &'static [TestMethod] {
    let medium = registry.cables.get(id).and_then(|row| row.medium.get());
    match medium {
        Some(medium) if medium.is_category() => &[TestMethod::Toner, TestMethod::WireMap],
        Some(Medium {
            kind: Kind::Fibre { .. },
            ..
        }) => &[TestMethod::Continuity],
        Some(_) | None => &[TestMethod::Toner, TestMethod::Continuity],
    }
}

/// What a test by a method says when it passed and when it failed.
#[must_use]
pub fn test_words(method: TestMethod) -> [&'static str; 2] {
    match method {
        TestMethod::Toner => ["toned and right", "toner found nothing"],
        TestMethod::WireMap => ["wire map and right", "wire map is wrong"],
        TestMethod::Remote => ["remotes and right", "remotes are wrong"],
        TestMethod::Continuity => ["goes through", "does not go through"],
        TestMethod::Certification => ["certified", "not certified"],
    }
}

/// How the copper was tested, in words.
#[must_use]
pub fn method_words(method: TestMethod) -> &'static str {
    match method {
        TestMethod::Toner => "toned",
        TestMethod::WireMap => "wire map",
        TestMethod::Remote => "numbered remote",
        TestMethod::Continuity => "continuity",
        TestMethod::Certification => "certified",
    }
}

fn tests(journal: &Journal, run: Run<'_>) -> Vec<Dated> {
    let lines = run
        .copper
        .into_iter()
        .flat_map(|copper| copper.tests.iter().rev());
    let moved = match run.tested() {
        Tested::Moved(act) => Some(Dated {
            words: "moved since it was verified".to_owned(),
            who: who(journal, act),
        }),
        Tested::Passed | Tested::Failed | Tested::No => None,
    };
    let lines = lines.map(|said| {
        dated(journal, said, |test| {
            let how = match test.outcome {
                TestOutcome::Passed => "passed",
                TestOutcome::Failed => "failed",
            };
            let note = test.note.trim();
            let note = if note.is_empty() {
                String::new()
            } else {
                format!(": {note}")
            };
            format!("{} {how}{note}", method_words(test.method))
        })
    });
    moved.into_iter().chain(lines).collect()
}

fn next(run: Run<'_>, ends: &[EndView; 2]) -> Next {
    let disputed = ends.iter().any(|end| end.state == EndState::Disputed);
    let marked = Side::BOTH
        .iter()
        .all(|side| run.marked(*side) == Marked::Yes);
    let open = |side| run.standpoint(side) == Standpoint::Open;
    if !walk::is_wanted_cable(run.cable) {
        return Next::Nothing;
    }
    match (run.pulled(), run.tested()) {
        _ if disputed => Next::Settle,
        (Pulled::Trouble(_), _) | (_, Tested::Failed) => Next::Settle,
        (Pulled::No, _) => Next::Pull,
        _ if !marked => Next::Mark,
        _ if open(Side::Far) => Next::Land(Side::Far),
        _ if run.wants_test() => Next::Test,
        _ if open(Side::Near) => Next::Land(Side::Near),
        _ => Next::Nothing,
    }
}
