//! One cable with both its ends, for whoever stands at either.

use super::deeds::{mark_words, outcome_words, placement_words, who};
use super::run::{Marked, Pulled, Run, Standpoint, Tested};
use crate::codes::tag::PullMark;
use crate::domain::ids::{CableId, LooseEndId, OutletId, PanelId};
use crate::domain::length::{LengthUnit, Millimetres};
use crate::domain::order::Order;
use crate::domain::place::{Place, Placement, RunName, Side};
use crate::domain::work::{Standing, TestMethod, TestOutcome};
use crate::journal::{EndRecord, Journal, Mark, Register, Registry, Said, side_index};
use crate::{names, walk};

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
    /// Tests of the copper that lies there now, the newest first.
    pub tests: Vec<Dated>,
    /// Names that it once had.
    pub old_names: Vec<Dated>,
    /// Remarks, the newest first.
    pub notes: Vec<Dated>,
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
    /// Where it leads: the outlet, the rack.
    pub at: String,
    /// The place in short, large: `B07`, `KIT2`, `?`.
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
    /// Several people say different things.
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
    let outlet = match cable.name.get() {
        Some(RunName::Feeds { outlet, .. }) => Some(*outlet),
        Some(RunName::Ties { .. }) | None => None,
    };
    let ends = Side::BOTH.map(|side| end_view(journal, run, side));
    let room = outlet.and_then(|outlet| registry.outlets.get(outlet)?.number.get());
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
        who: who(journal, said.stamp.act),
    }
}

fn far_place(run: Run<'_>) -> Option<&Place> {
    let landed = run.end(Side::Far).and_then(|end| end.placement.whole.get());
    match landed {
        Some(Placement::Landed { place, .. }) => Some(place),
        _ => run.cable.planned[1].whole.get()?.as_ref(),
    }
}

fn end_view(journal: &Journal, run: Run<'_>, side: Side) -> EndView {
    let registry = journal.registry();
    let record = run.end(side);
    let at = names::side(registry, run.id, side);
    let planned = run.cable.planned[side_index(side)].whole.get();
    let planned = planned.and_then(Option::as_ref);
    let mut standing = Vec::new();
    let mut state = EndState::Open;
    let mut place = match planned {
        Some(place) => short(registry, place),
        None => at.clone(),
    };
    run.each_part(side, |end, placement| {
        let register = record.and_then(|record| record.placement.get(end.leg));
        let leg = end
            .leg
            .map_or_else(String::new, |leg| format!("leg {}: ", leg.get()));
        for said in register.into_iter().flat_map(Register::all) {
            let words = placement_words(registry, said.value);
            let words = words.strip_prefix("is ").unwrap_or(&words);
            standing.push(Dated {
                words: format!("{leg}{words}"),
                who: who(journal, said.stamp.act),
            });
        }
        if register.is_some_and(Register::disputed) {
            state = EndState::Disputed;
        } else if let (Some(placement), true) = (placement, state != EndState::Disputed) {
            state = state_of(placement);
            if let Placement::Landed { place: at, .. } = placement {
                place = short(registry, at);
            }
        }
    });
    if let (EndState::Open, Some(planned)) = (state, planned) {
        state = EndState::Planned;
        standing.push(Dated {
            words: format!(
                "belongs on {}, not landed yet",
                names::place(registry, planned)
            ),
            who: String::new(),
        });
    }
    let whole = crate::domain::place::End::whole(run.id, side);
    EndView {
        side,
        at,
        place,
        state,
        standing,
        marks: record
            .map(|record| marks(journal, record))
            .unwrap_or_default(),
        footage: footage(journal, record),
        loose: registry.index.loose_by_end.get(&whole).first().copied(),
    }
}

fn state_of(placement: &Placement) -> EndState {
    match placement {
        Placement::Landed { .. } => EndState::Landed,
        Placement::Lifted => EndState::Open,
        Placement::Spare { .. } => EndState::Spare,
        Placement::Dead { .. } => EndState::Dead,
    }
}

fn short(registry: &Registry, place: &Place) -> String {
    match place {
        Place::Jack { outlet, jack } => format!("{} {jack}", names::outlet(registry, *outlet)),
        Place::Position { position, .. } => names::position(registry, *position),
        Place::Device { .. } | Place::Joint { .. } => names::place(registry, place),
    }
}

fn marks(journal: &Journal, record: &EndRecord) -> Vec<Dated> {
    let marked = record.marks.iter().map(|said| {
        let words = |mark: &Mark| format!("{} as {}", mark_words(mark.kind), mark.text);
        (said.stamp, dated(journal, said, words))
    });
    let lost = record
        .lost
        .iter()
        .map(|said| (said.stamp, dated(journal, said, |()| "tag lost".to_owned())));
    let seen = record.seen.iter().map(|said| {
        (
            said.stamp,
            dated(journal, said, |at| format!("seen at {at}")),
        )
    });
    let mut all: Vec<_> = marked.chain(lost).chain(seen).collect();
    all.order_by_key(|(stamp, _)| std::cmp::Reverse(*stamp));
    all.into_iter().map(|(_, line)| line).collect()
}

fn footage(journal: &Journal, record: Option<&EndRecord>) -> Vec<Dated> {
    let lines = record
        .into_iter()
        .flat_map(|record| record.footage.iter().rev());
    lines
        .map(|said| dated(journal, said, ToString::to_string))
        .collect()
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
            words: format!("tags with {} are void{tests}", PullMark::of(*pull)),
            who: String::new(),
        });
    }
    lines
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
    lines
        .map(|said| {
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
        })
        .collect()
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
