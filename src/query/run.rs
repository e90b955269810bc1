//! How one run stands: what kind it is, what lies there now, and what of its work is done.
//!
//! The punch list and the counts of progress both read this, so that they cannot disagree.

use crate::domain::ids::{ActId, CableId, OutletId, RoomId};
use crate::domain::label::LegNumber;
use crate::domain::length::FootageMark;
use crate::domain::medium::Medium;
use crate::domain::place::{End, Leaves, Placement, RunKind, RunName, Side};
use crate::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome, Waiting, WaitsFor};
use crate::journal::{
    Cable, Copper, EndRecord, FactRef, Mark, Outlet, Register, Registry, Said, Stamp, side_index,
};
use crate::walk::is_wanted_outlet;

/// The outlet that a run feeds, as it is named now.
#[must_use]
pub fn shown_outlet(cable: &Cable) -> Option<OutletId> {
    match cable.name.get() {
        Some(RunName::Feeds { outlet, .. }) => Some(*outlet),
        Some(RunName::Ties { .. }) | None => None,
    }
}

/// The room that an outlet is numbered in.
#[must_use]
pub fn room_of(registry: &Registry, outlet: OutletId) -> Option<RoomId> {
    let row = registry.outlets.get(outlet)?;
    row.number.get().map(|numbering| numbering.room)
}

/// Whom an outlet waits for; none when it waits for nobody.
pub(super) fn waits(outlet: &Outlet) -> Option<&Waiting> {
    let waits = outlet.waits.get();
    waits.filter(|waits| waits.whom != WaitsFor::Nobody)
}

/// The change order that a run came with: its own, else that of the outlet that it feeds. Empty when
/// it came with none.
pub(super) fn change_order<'a>(registry: &'a Registry, cable: &'a Cable) -> &'a str {
    let own = cable.change_order.get().map_or("", |order| order.trim());
    if !own.is_empty() {
        return own;
    }
    let outlet = shown_outlet(cable).and_then(|outlet| registry.outlets.get(outlet));
    let order = outlet.and_then(|row| row.change_order.get());
    order.map_or("", |order| order.trim())
}

/// Where a run stands between its two places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Course {
    /// Both places are known as far as they must be.
    Clear,
    /// A home run without a wanted outlet.
    OutletGone,
    /// A local run without two wanted outlets.
    LocalRunOpen,
}

/// How far a pull is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pulled {
    /// It lies there, by its own report or that of another cable in its jacket, or as its ends or its test show.
    Yes,
    /// Nobody says so.
    No,
    /// It went wrong.
    Trouble(PullOutcome),
}

/// What the tests say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tested {
    /// Passed at least once, and the last time.
    Passed,
    /// Passed the last time, and this act moved an end since.
    Moved(ActId),
    /// Failed the last time.
    Failed,
    /// Never.
    No,
}

/// What has become of an end or of a leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standpoint {
    /// Neither of the others.
    Open,
    /// Terminated at its place.
    Landed,
    /// Left spare or dead.
    OutOfUse,
}

/// Whether an end bears its code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Marked {
    /// It does.
    Yes,
    /// A tag for it is printed, and nobody says that it is on.
    Printed,
    /// It does not, or not any more.
    No,
}

/// A wanted run with what lies there now.
#[derive(Clone, Copy)]
pub(super) struct Run<'a> {
    pub(super) registry: &'a Registry,
    pub(super) id: CableId,
    pub(super) cable: &'a Cable,
    pub(super) copper: Option<&'a Copper>,
}

impl<'a> Run<'a> {
    pub(super) fn new(registry: &'a Registry, id: CableId, cable: &'a Cable) -> Self {
        Self {
            registry,
            id,
            cable,
            copper: cable.copper(cable.pull(id)),
        }
    }

    /// The kind of run. It is a home run unless it is declared local, so that no orphan hides.
    pub(super) fn kind(&self) -> RunKind {
        match (self.cable.name.get(), self.cable.leaves.get()) {
            (Some(RunName::Ties { .. }), _) => RunKind::TieLine,
            (_, Some(Leaves::Outlet(_))) => RunKind::LocalRun,
            (_, Some(Leaves::Rack(_)) | None) => RunKind::HomeRun,
        }
    }

    /// Whether both places are known as far as they must be before work on the run can be listed.
    pub(super) fn course(&self) -> Course {
        let wanted = |outlet| {
            let row = self.registry.outlets.get(outlet);
            row.is_some_and(is_wanted_outlet)
        };
        let near = shown_outlet(self.cable).is_some_and(wanted);
        match (self.kind(), self.cable.leaves.get()) {
            (RunKind::TieLine, _) => Course::Clear,
            (RunKind::LocalRun, Some(Leaves::Outlet(far))) if near && wanted(*far) => Course::Clear,
            (RunKind::LocalRun, _) => Course::LocalRunOpen,
            (RunKind::HomeRun, _) if near => Course::Clear,
            (RunKind::HomeRun, _) => Course::OutletGone,
        }
    }

    /// How far the pull is. What is landed, passed its test or was found as a loose end lies there,
    /// although nobody reported its pull; a tag that was marked or seen proves nothing. Cables in one
    /// jacket are pulled together, so one report does for all of them; but a cable that was pulled
    /// anew no longer shares the pull of those that were not.
    pub(super) fn pulled(&self) -> Pulled {
        match self.copper.and_then(|copper| copper.outcome.get()) {
            Some(PullOutcome::Pulled) => Pulled::Yes,
            Some(trouble) => Pulled::Trouble(*trouble),
            None if self.lies_there() || self.is_pulled_with_its_jacket() => Pulled::Yes,
            None => Pulled::No,
        }
    }

    fn lies_there(&self) -> bool {
        let passed = matches!(self.tested(), Tested::Passed | Tested::Moved(_));
        self.is_landed() || passed || self.is_found()
    }

    /// Whether a loose end was joined to an end. A join names the run, so it says nothing of copper
    /// that is to be pulled anew.
    fn is_found(&self) -> bool {
        let joined = &self.registry.index.loose_by_end;
        let is_joined = |side: &Side| !joined.get(&End::whole(self.id, *side)).is_empty();
        self.cable.repull.get().is_none() && Side::BOTH.iter().any(is_joined)
    }

    /// Whether an end, or a leg of one, is landed.
    fn is_landed(&self) -> bool {
        let mut is_landed = false;
        for side in Side::BOTH {
            self.each_part(side, |_, placement| {
                is_landed |= standpoint(placement) == Standpoint::Landed;
            });
        }
        is_landed
    }

    fn is_pulled_with_its_jacket(&self) -> bool {
        let Some(jacket) = self.cable.jacket.get() else {
            return false;
        };
        let again = |cable: &Cable| cable.repull.get().is_some();
        let mates = self.registry.index.in_jacket.get(jacket).iter();
        mates
            .filter_map(|id| Some((*id, self.registry.cables.get(*id)?)))
            .filter(|(_, mate)| !mate.added.is_empty() && again(mate) == again(self.cable))
            .any(|(id, mate)| {
                let copper = mate.copper(mate.pull(id));
                let outcome = copper.and_then(|copper| copper.outcome.get());
                outcome == Some(&PullOutcome::Pulled)
            })
    }

    /// What the tests of the copper say.
    pub(super) fn tested(&self) -> Tested {
        let Some(copper) = self.copper else {
            return Tested::No;
        };
        let Some(test) = copper.tests.iter().next_back() else {
            return Tested::No;
        };
        match (
            test.value.outcome,
            moved_since(copper, (test.stamp, test.fact)),
        ) {
            (TestOutcome::Failed, _) => Tested::Failed,
            (TestOutcome::Passed, Some(act)) => Tested::Moved(act),
            (TestOutcome::Passed, None) => Tested::Passed,
        }
    }

    /// What is known of an end of the copper.
    pub(super) fn end(&self, side: Side) -> Option<&'a EndRecord> {
        self.copper.map(|copper| &copper.ends[side_index(side)])
    }

    /// The last length marks of both ends, and whether one of them is sure: it was read twice and is the same.
    fn last_marks(&self) -> Option<([FootageMark; 2], bool)> {
        let mut is_sure = false;
        let mut last = |side| {
            let mut read = self.end(side)?.footage.iter().rev().map(|said| *said.value);
            let last = read.next()?;
            is_sure |= read.next() == Some(last);
            Some(last)
        };
        let marks = [last(Side::Near)?, last(Side::Far)?];
        Some((marks, is_sure))
    }

    /// The length marks of both ends, where one was hardly read right. A mark that was read twice and
    /// is the same counts as it is.
    pub(super) fn doubtful_marks(&self) -> Option<[FootageMark; 2]> {
        let ([near, far], is_sure) = self.last_marks()?;
        (!is_sure && near.is_doubtful_with(far)).then_some([near, far])
    }

    /// Whether the marks give more than a link of category cable may have, and no certification says that it
    /// does what it must all the same.
    pub(super) fn is_too_long(&self) -> bool {
        let Some(([near, far], is_sure)) = self.last_marks() else {
            return false;
        };
        let is_category = self.cable.medium.get().is_some_and(Medium::is_category);
        let test = self
            .copper
            .and_then(|copper| copper.tests.iter().next_back());
        let is_certified = test.is_some_and(|test| {
            test.value.method == TestMethod::Certification
                && test.value.outcome == TestOutcome::Passed
        });
        let is_read = is_sure || !near.is_doubtful_with(far);
        let is_long = |length| length > FootageMark::LONGEST_LINK;
        is_category && !is_certified && is_read && near.span(far).is_some_and(is_long)
    }

    /// Whether an end bears its code.
    pub(super) fn marked(&self, side: Side) -> Marked {
        let mut marked = Marked::No;
        for mark in self.borne(side) {
            match mark.value.kind {
                MarkKind::Pen | MarkKind::Fixed => return Marked::Yes,
                MarkKind::Printed => marked = Marked::Printed,
            }
        }
        marked
    }

    /// The marks that an end still bears: those since its tag was lost, in the order of display.
    pub(super) fn borne(&self, side: Side) -> impl Iterator<Item = Said<'a, Mark>> + use<'a> {
        let end = self.end(side);
        let lost = end.and_then(|end| end.lost.iter().next_back());
        let lost = lost.map(|said| (said.stamp, said.fact));
        let marks = end.into_iter().flat_map(|end| end.marks.iter());
        marks.filter(move |mark| lost.is_none_or(|lost| lost < (mark.stamp, mark.fact)))
    }

    /// Hands the end to `see`, or each leg of it when it is split, with what has become of it.
    pub(super) fn each_part(&self, side: Side, mut see: impl FnMut(End, Option<&'a Placement>)) {
        let record = self.end(side);
        let legs = record.and_then(|record| record.split.get());
        let mut part = |leg: Option<LegNumber>| {
            let register = record.and_then(|record| record.placement.get(leg));
            let end = End {
                cable: self.id,
                side,
                leg,
            };
            see(end, register.and_then(Register::get));
        };
        match legs {
            None => part(None),
            Some(count) => (1..=count.get()).for_each(|leg| part(LegNumber::new(leg))),
        }
    }

    /// What has become of a whole end: of a split one, landed or out of use only when every leg is
    /// settled, and out of use only when every leg is.
    pub(super) fn standpoint(&self, side: Side) -> Standpoint {
        let mut sum = None;
        self.each_part(side, |_, placement| {
            let part = standpoint(placement);
            sum = Some(match (sum, part) {
                (None, part) => part,
                (Some(Standpoint::Open), _) | (_, Standpoint::Open) => Standpoint::Open,
                (Some(Standpoint::Landed), _) | (_, Standpoint::Landed) => Standpoint::Landed,
                (Some(Standpoint::OutOfUse), Standpoint::OutOfUse) => Standpoint::OutOfUse,
            });
        });
        sum.unwrap_or(Standpoint::Open)
    }

    /// Whether an end is left spare or dead, all of it.
    pub(super) fn is_out_of_use(&self, side: Side) -> bool {
        self.standpoint(side) == Standpoint::OutOfUse
    }

    /// Whether the copper must still be proved: nobody tests what is out of use.
    pub(super) fn wants_test(&self) -> bool {
        matches!(self.tested(), Tested::No | Tested::Moved(_))
            && !Side::BOTH.iter().any(|side| self.is_out_of_use(*side))
    }
}

/// The act that moved an end of some copper after a time in the order of display: the end was landed at
/// that time, and something else was said of it since that holds. An end that is landed for the first
/// time was not moved. A place that two people noted alike is no move; one where the end is landed again
/// after it was lifted is.
fn moved_since(copper: &Copper, time: (Stamp, FactRef)) -> Option<ActId> {
    let moved = |register: &Register<Placement>| {
        let is_before = |said: &Said<'_, Placement>| (said.stamp, said.fact) < time;
        let then = register.ever_said().take_while(is_before).last()?;
        let Placement::Landed { .. } = then.value else {
            return None;
        };
        let mut since = register.ever_said().skip_while(is_before);
        let differs = since.any(|said| said.value != then.value);
        let now = register.said().filter(|said| differs && !is_before(said))?;
        Some(now.stamp)
    };
    let legs = copper.ends.iter().flat_map(|end| {
        let legs = end.placement.legs.iter().map(|(_, leg)| leg);
        std::iter::once(&end.placement.whole).chain(legs)
    });
    Some(legs.filter_map(moved).max()?.act)
}

/// What a placement comes to.
pub(super) fn standpoint(placement: Option<&Placement>) -> Standpoint {
    match placement {
        Some(Placement::Landed { .. }) => Standpoint::Landed,
        Some(Placement::Spare { .. } | Placement::Dead { .. }) => Standpoint::OutOfUse,
        Some(Placement::Lifted) | None => Standpoint::Open,
    }
}
