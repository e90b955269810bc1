//! What the ends and the copper of each run lack or contradict.

use crate::domain::order::Order;
use std::fmt::{self, Write};

use super::places::is_in_no_room;
use super::{Gate, Group, List, What, disputes};
use crate::domain::ids::CableId;
use crate::domain::label::LabelCode;
use crate::domain::medium::{Fit, fit};
use crate::domain::place::{
    End, Fitting, Leaves, Place, Placement, Position, RunKind, RunName, Side,
};
use crate::domain::work::Availability;
use crate::journal::{Cable, EndRecord, Register, Registry, side_index};
use crate::query::run::{
    Course, Marked, Pulled, Run, Standpoint, Tested, shown_outlet, standpoint,
};

/// Goes through all runs.
pub(super) fn find(list: &mut List<'_>) {
    let registry = list.registry;
    for (id, cable) in registry.cables.iter() {
        let outlet = shown_outlet(cable);
        let group = Group {
            outlet,
            rank: outlet.map_or(0, |outlet| list.rank(outlet)),
        };
        let run = Run::new(registry, id, cable);
        let mut desk = Desk { list, group, run };
        if cable.added.is_empty() {
            // Somebody may have said that it is not there, knowing of the work.
            let is_settled = cable.standing.is_cancelled()
                && !cable.foreseen.is_empty()
                && cable.unforeseen().is_empty();
            if has_work(cable) && !is_settled {
                desk.add(Gate::Now, What::WorkOnWithdrawn { cable: id });
            }
            continue;
        }
        disputes::cable(desk.list, outlet, id, cable);
        desk.ends_that_disagree();
        if cable.standing.is_cancelled() {
            if desk.is_landed_anywhere() || !cable.unforeseen().is_empty() {
                desk.add(Gate::Now, What::WorkOnCancelled { cable: id });
            }
            continue;
        }
        desk.contradictions();
        desk.work();
    }
}

/// Whether anything was done with the copper of a run, whichever pull.
fn has_work(cable: &Cable) -> bool {
    cable.copper.iter().any(|(_, copper)| {
        copper.outcome.get().is_some()
            || copper.drawn_from.get().is_some()
            || !copper.tests.is_empty()
            || copper.ends.iter().any(has_end_work)
    })
}

fn has_end_work(end: &EndRecord) -> bool {
    let mut placements = end.placement.all();
    !end.marks.is_empty()
        || !end.lost.is_empty()
        || !end.seen.is_empty()
        || !end.footage.is_empty()
        || end.split.get().is_some()
        || placements.any(|(_, register)| register.get().is_some())
}

/// Hands over every live value once; nearly always there is one.
fn each_value<'a, T: PartialEq>(register: &'a Register<T>, see: impl FnMut(&'a T)) {
    if register.disputed() {
        register.distinct().into_iter().for_each(see);
    } else {
        register.get().into_iter().for_each(see);
    }
}

/// One run and the list that its findings go to.
struct Desk<'l, 'a> {
    list: &'l mut List<'a>,
    group: Group,
    run: Run<'a>,
}

impl<'a> Desk<'_, 'a> {
    fn add(&mut self, gate: Gate, what: What) {
        self.list.add_ranked(gate, self.group, what);
    }

    fn id(&self) -> CableId {
        self.run.id
    }

    /// All live placements of the copper, also of legs that the end is not split into.
    fn placements(&self) -> impl Iterator<Item = (End, &'a Register<Placement>)> + use<'a> {
        let (cable, copper) = (self.run.id, self.run.copper);
        let sides = copper
            .into_iter()
            .flat_map(|copper| Side::BOTH.map(|side| (side, &copper.ends[side_index(side)])));
        sides.flat_map(move |(side, record)| {
            record
                .placement
                .all()
                .map(move |(leg, register)| (End { cable, side, leg }, register))
        })
    }

    fn is_landed_anywhere(&self) -> bool {
        self.placements().any(|(_, register)| {
            let mut live = register.all();
            live.any(|said| standpoint(Some(said.value)) == Standpoint::Landed)
        })
    }

    fn ends_that_disagree(&mut self) {
        for (end, register) in self.placements() {
            if !register.disputed() {
                // That a leg which is no more was spare says nothing.
                let speaks = match standpoint(register.get()) {
                    Standpoint::Open => false,
                    Standpoint::Landed => true,
                    Standpoint::OutOfUse => end.leg.is_none(),
                };
                if speaks && !self.is_part(end) {
                    self.add(Gate::Now, What::EndDisputed { end });
                }
                continue;
            }
            let mut places: Vec<Place> = Vec::new();
            for placement in register.distinct() {
                if let Placement::Landed { place, .. } = placement {
                    places.push(place.clone());
                }
            }
            places.put_in_order();
            places.dedup();
            let what = if places.len() > 1 {
                What::EndAtTwoPlaces { end, places }
            } else {
                What::EndDisputed { end }
            };
            self.add(Gate::Now, what);
        }
    }

    /// Whether an end is one where it is not split, and a leg one of those that it is split into.
    fn is_part(&self, end: End) -> bool {
        let record = self.run.end(end.side);
        let legs = record.and_then(|record| record.split.get());
        match (end.leg, legs) {
            (None, legs) => legs.is_none(),
            (Some(leg), legs) => legs.is_some_and(|legs| leg <= *legs),
        }
    }

    /// What is wrong now, whatever the next gate.
    fn contradictions(&mut self) {
        self.tags_and_code();
        for (end, register) in self.placements() {
            each_value(register, |placement| {
                if let Placement::Landed {
                    place: Place::Position { position, .. },
                    fitting,
                } = placement
                {
                    self.landed(end, *position, *fitting);
                }
            });
        }
        for side in Side::BOTH {
            for (leg, register) in self.run.cable.planned[side_index(side)].all() {
                let cable = self.id();
                each_value(register, |place| {
                    if let Some(Place::Position { position, .. }) = place {
                        self.is_there(End { cable, side, leg }, *position);
                    }
                });
            }
        }
        let cable = self.id();
        if !self.run.cable.astray(cable).is_empty() {
            self.add(Gate::Now, What::WorkAstray { cable });
        }
        if let Pulled::Trouble(outcome) = self.run.pulled() {
            self.add(Gate::Now, What::PullTrouble { cable, outcome });
        }
        if self.run.doubtful_marks().is_some() {
            self.add(Gate::Now, What::MarksDoubtful { cable });
        }
        if self.run.tested() == Tested::Failed {
            self.add(Gate::Now, What::TestFailed { cable });
        }
    }

    fn tags_and_code(&mut self) {
        let cable = self.id();
        let Some(first) = Registry::first_mark(self.run.cable) else {
            return;
        };
        let frozen = first.value.text.as_str();
        if Side::BOTH
            .iter()
            .any(|side| self.is_marked_otherwise(*side, frozen))
        {
            self.add(Gate::Now, What::MarksDiffer { cable });
        }
        let name = self.run.cable.name.get();
        let label = name.and_then(|name| self.run.registry.label_of(*name));
        let is_kept = |label: &LabelCode| {
            let mut kept = self.run.cable.kept_tags.iter();
            kept.any(|said| said.value.tag == frozen && reads_as(label, &said.value.called))
        };
        if label.is_some_and(|label| !reads_as(&label, frozen) && !is_kept(&label)) {
            self.add(Gate::Now, What::CodeMoved { cable });
        }
    }

    /// Whether a mark that is still on the end says something else than the code.
    fn is_marked_otherwise(&self, side: Side, code: &str) -> bool {
        let mut borne = self.run.borne(side);
        borne.any(|mark| mark.value.text != code)
    }

    fn landed(&mut self, end: End, position: Position, fitting: Fitting) {
        self.is_there(end, position);
        let Some(panel) = self.run.registry.panels.get(position.panel) else {
            return;
        };
        let kept = panel.kept.get(&position.number).and_then(Register::get);
        match kept {
            Some(Availability::Bad { .. }) => {
                self.add(Gate::Now, What::LandedOnBad { end, position });
            }
            Some(Availability::Reserved { .. }) => {
                self.add(Gate::Now, What::LandedOnReserved { end, position });
            }
            Some(Availability::Open) | None => {}
        }
        // A local run does not come to a rack, whatever it would need there.
        let is_local = self.run.kind() == RunKind::LocalRun;
        let medium = self.run.cable.medium.get();
        if let Some(make) = panel.make.get()
            && (is_local
                || fitting == Fitting::Direct
                    && medium.is_some_and(|medium| fit(medium, make.connector) != Fit::Fits))
        {
            self.add(Gate::Now, What::Misfit { end, position });
        }
    }

    fn is_there(&mut self, end: End, position: Position) {
        let panel = self.run.registry.panels.get(position.panel);
        let make = panel.and_then(|panel| panel.make.get());
        if make.is_none_or(|make| position.number.get() > make.positions.get()) {
            self.add(Gate::Now, What::NoSuchPosition { end, position });
        }
    }

    /// What is left to do at each gate.
    fn work(&mut self) {
        let cable = self.id();
        match self.run.course() {
            Course::Clear => {}
            Course::OutletGone => return self.add(Gate::BeforePull, What::OutletGone { cable }),
            Course::LocalRunOpen => {
                return self.add(Gate::BeforePull, What::LocalRunOpen { cable });
            }
        }
        self.before_pull();
        if self.run.pulled() == Pulled::No {
            self.add(Gate::BeforeBoard, What::NotPulled { cable });
        }
        if self.run.is_too_long() {
            self.add(Gate::BeforeBoard, What::TooLong { cable });
        }
        for side in Side::BOTH {
            if self.run.marked(side) != Marked::Yes {
                let end = End::whole(cable, side);
                self.add(Gate::BeforeBoard, What::NotMarked { end });
            }
            self.termination(side);
        }
        if self.run.wants_test() {
            self.add(Gate::BeforeTrim, What::NotVerified { cable });
        }
    }

    fn before_pull(&mut self) {
        let Run {
            registry,
            id: cable,
            cable: row,
            ..
        } = self.run;
        let named = || registry.label_of(*row.name.get()?);
        // An outlet without a room is put right first, and its cables with it.
        let waits = || match row.name.get() {
            Some(RunName::Feeds { outlet, .. }) => {
                let outlet = registry.outlets.get(*outlet);
                outlet.is_some_and(|outlet| is_in_no_room(registry, outlet))
            }
            _ => false,
        };
        if Registry::first_mark(row).is_none() && named().is_none() && !waits() {
            self.add(Gate::BeforePull, What::CableWithoutCode { cable });
        }
        if row.medium.get().is_none() {
            self.add(Gate::BeforePull, What::CableWithoutMedium { cable });
        }
        let stands = |rack| {
            let rack = registry.racks.get(rack);
            rack.is_some_and(|rack| !rack.added.is_empty())
        };
        let chosen = match (row.name.get(), row.leaves.get()) {
            (Some(RunName::Ties { near, far, .. }), _) => stands(*near) && stands(*far),
            (_, Some(Leaves::Outlet(_))) => true,
            // An end that is left on purpose goes to no rack.
            (_, Some(Leaves::Rack(_)) | None) => {
                registry.home_rack(cable).is_some_and(stands) || self.run.is_out_of_use(Side::Far)
            }
        };
        if !chosen {
            self.add(Gate::BeforePull, What::NoRackChosen { cable });
        }
    }

    fn termination(&mut self, side: Side) {
        let landing = match (self.run.kind(), side) {
            (RunKind::HomeRun, Side::Far) | (RunKind::TieLine, _) => Gate::BeforeTrim,
            (RunKind::HomeRun, Side::Near) | (RunKind::LocalRun, _) => Gate::BeforeHandover,
        };
        let (list, group) = (&mut *self.list, self.group);
        self.run.each_part(side, |end, placement| match placement {
            Some(Placement::Landed { .. }) => {}
            Some(Placement::Lifted) | None => {
                list.add_ranked(landing, group, What::NotLanded { end });
            }
            Some(Placement::Spare { reason, .. }) if reason.trim().is_empty() => {
                list.add_ranked(
                    Gate::BeforeHandover,
                    group,
                    What::SpareWithoutReason { end },
                );
            }
            Some(Placement::Dead { reason }) if reason.trim().is_empty() => {
                list.add_ranked(Gate::BeforeHandover, group, What::DeadWithoutReason { end });
            }
            Some(Placement::Spare { .. } | Placement::Dead { .. }) => {}
        });
    }
}

/// Whether a code reads as a text, told without building its text.
fn reads_as(code: &impl fmt::Display, text: &str) -> bool {
    struct Rest<'a>(&'a str);

    impl Write for Rest<'_> {
        fn write_str(&mut self, part: &str) -> fmt::Result {
            self.0 = self.0.strip_prefix(part).ok_or(fmt::Error)?;
            Ok(())
        }
    }

    let mut rest = Rest(text);
    write!(rest, "{code}").is_ok() && rest.0.is_empty()
}
