//! Work that is not done yet, work that went wrong, and ends that need a word.

use crate::domain::order::Order;
use crate::domain::sorted::SortedMap;

use super::{Desk, Mending, told_apart};
use crate::app::{FootageOf, Screen};
use crate::command::Want;
use crate::domain::ids::{CableId, LooseEndId, OutletId};
use crate::domain::length::FootageMark;
use crate::domain::medium::Medium;
use crate::domain::place::{End, Fitting, Place, Placement, Position, RunKind, RunName, Side};
use crate::domain::work::{Availability, MarkKind, PullOutcome, TestMethod, TestOutcome};
use crate::journal::{CopperTest, Register, side_index};
use crate::query::cable::{test_words, tests_for};
use crate::query::deeds::{outcome_words, sayer, who};
use crate::query::printed::end_tag;
use crate::query::proof::{Proof, proof};
use crate::query::rack::landed_by;
use crate::query::{Finding, Item, What};
use crate::{names, walk};

/// How many racks or media are offered as buttons.
const OFFERED: usize = 4;

fn passed(cable: CableId, method: TestMethod) -> Want {
    Want::TestCable {
        cable,
        test: CopperTest {
            method,
            outcome: TestOutcome::Passed,
            note: String::new(),
        },
    }
}

impl Desk<'_> {
    fn at(&self, outlet: Option<OutletId>) -> String {
        outlet.map_or_else(
            || "here".to_owned(),
            |outlet| names::outlet(self.registry, outlet),
        )
    }

    pub(super) fn said_so<T: PartialEq>(&self, register: Option<&Register<T>>) -> String {
        let said = register.and_then(Register::said);
        said.map_or_else(String::new, |said| who(self.journal, said.stamp.act))
    }

    /// The codes of cables; those without a code are told apart too.
    fn codes(&self, cables: &[CableId]) -> Vec<String> {
        let names = cables.iter().map(|cable| self.name(*cable)).collect();
        let medium = |at: usize| self.medium(cables[at]);
        told_apart(names, &[&medium, &|at| self.cable_added(cables[at])])
    }

    pub(super) fn not_pulled(&self, item: &Item) -> Mending {
        let cables = cables_of(item);
        let codes = self.codes(&cables);
        let mut mending = Mending::new(format!("Not pulled: {}.", names::listed(&codes)));
        let all = if cables.len() > 1 {
            "All pulled"
        } else {
            "Pulled"
        };
        mending = mending.or(
            all,
            Want::ReportPull {
                cables: cables.clone(),
                outcome: PullOutcome::Pulled,
            },
        );
        self.show_outlet_or_cable(mending, item.outlet, &cables)
    }

    fn show_outlet_or_cable(
        &self,
        mending: Mending,
        outlet: Option<OutletId>,
        cables: &[CableId],
    ) -> Mending {
        match (outlet, cables) {
            (Some(outlet), _) => mending.or_go(
                format!("Show {}", names::outlet(self.registry, outlet)),
                Screen::Outlet(outlet),
            ),
            (None, [cable, ..]) => mending.or_go("Show the cable", Screen::Cable(*cable)),
            (None, []) => mending,
        }
    }

    pub(super) fn not_marked(&self, item: &Item) -> Mending {
        let ends: Vec<End> = item
            .findings
            .iter()
            .filter_map(|finding| match finding.what {
                What::NotMarked { end } => Some(end),
                _ => None,
            })
            .collect();
        let mut cables: Vec<CableId> = ends.iter().map(|end| end.cable).collect();
        cables.order_by_key(|cable| (self.name(*cable), *cable));
        cables.dedup();
        let codes = self.codes(&cables);
        let words = cables.iter().zip(codes).map(|(cable, code)| {
            let mut ends = ends.iter().filter(|end| end.cable == *cable);
            match (ends.next(), ends.next()) {
                (Some(end), None) => {
                    format!("{code} at {}", names::side(self.registry, *cable, end.side))
                }
                _ => format!("{code} at both ends"),
            }
        });
        let words: Vec<String> = words.collect();
        let label = match item.outlet {
            Some(_) if ends.len() > 1 => format!("Mark all of {}", self.at(item.outlet)),
            _ => "Marked with a pen".to_owned(),
        };
        let mut mending = Mending::new(format!("Not marked: {}.", names::listed(&words)));
        let mut printed = ends.clone();
        printed.retain(|end| end_tag(self.registry, *end).kind == Some(MarkKind::Printed));
        if !printed.is_empty() {
            let (why, on) = match printed.len() {
                1 => (
                    "A tag is printed, and nobody says that it is on.",
                    "The printed tag is on",
                ),
                _ => (
                    "Tags are printed, and nobody says that they are on.",
                    "The printed tags are on",
                ),
            };
            mending = mending.because(why).or(
                on,
                Want::MarkEnds {
                    ends: printed,
                    kind: MarkKind::Fixed,
                    copies: 2,
                },
            );
        }
        let mending = mending.or(
            label,
            Want::MarkEnds {
                ends,
                kind: MarkKind::Pen,
                copies: 2,
            },
        );
        self.show_outlet_or_cable(mending, item.outlet, &cables)
    }

    pub(super) fn not_verified(&self, item: &Item) -> Mending {
        let cables = cables_of(item);
        let codes = self.codes(&cables);
        let mut mending = Mending::new(format!("Not verified: {}.", names::listed(&codes)));
        let mut seen = Vec::new();
        for (cable, code) in cables.iter().zip(&codes) {
            let proofs = Side::BOTH.map(|side| proof(self.registry, End::whole(*cable, side)));
            if let Proof::Moved(act) = proofs[0] {
                let by = who(self.journal, act);
                let words = [code, " was moved after it was verified: ", &by, "."];
                mending = mending.because(words.concat());
            } else if proofs.contains(&Proof::Seen) {
                seen.push(code.clone());
            }
        }
        if !seen.is_empty() {
            let seen = names::listed(&seen);
            let words = ["Seen, which proves no copper: ", &seen, "."];
            mending = mending.because(words.concat());
        }
        // Each test is a reading of its own, so that each cable has its own tap.
        let is_one = cables.len() == 1;
        for (cable, code) in cables.iter().zip(&codes) {
            let methods = tests_for(self.registry, *cable);
            for method in methods.iter().take(if is_one { methods.len() } else { 1 }) {
                let [right, _] = test_words(*method);
                mending = mending.or([code, ": ", right].concat(), passed(*cable, *method));
            }
        }
        self.show_outlet_or_cable(mending, item.outlet, &cables)
    }

    pub(super) fn not_landed(&self, end: End) -> Mending {
        let mut mending = Mending::new(format!("Not landed: {}.", self.end(end)));
        let cable = self.registry.cables.get(end.cable);
        let plan = cable.and_then(|row| row.planned[side_index(end.side)].get(end.leg));
        let planned = plan.and_then(Register::get).and_then(Option::as_ref);
        if let Some(place) = planned {
            let at = names::place(self.registry, place);
            mending = mending.because(format!("It belongs on {at}.")).or(
                format!("Landed on {at}"),
                Want::LandAsPlanned { ends: vec![end] },
            );
        } else if let (Side::Near, Some(RunName::Feeds { outlet, letter })) =
            (end.side, cable.and_then(|row| row.name.get()))
        {
            let place = Place::Jack {
                outlet: *outlet,
                jack: *letter,
            };
            mending = mending.or(
                format!("Landed in {}", names::place(self.registry, &place)),
                Want::Land {
                    end,
                    place,
                    fitting: Fitting::Direct,
                },
            );
        }
        let at_rack = match names::run_kind(self.registry, end.cable) {
            RunKind::TieLine => true,
            RunKind::HomeRun => end.side == Side::Far,
            RunKind::LocalRun => false,
        };
        if at_rack {
            mending = mending.or_go("Choose its position", Screen::HandCable(end.cable));
        }
        mending.or_go("Show the cable", Screen::Cable(end.cable))
    }

    pub(super) fn pull_trouble(&self, cable: CableId, outcome: PullOutcome) -> Mending {
        let row = self.registry.cables.get(cable);
        let copper = row.and_then(|row| row.copper(row.pull(cable)));
        let by = self.said_so(copper.map(|copper| &copper.outcome));
        Mending::new(format!(
            "{} is {}.",
            self.name(cable),
            outcome_words(outcome)
        ))
        .because(format!("So said {by}."))
        .because(self.ends_of(cable))
        .or(
            "It lies from end to end now",
            Want::ReportPull {
                cables: vec![cable],
                outcome: PullOutcome::Pulled,
            },
        )
        .or(
            "Pull it anew; old tags are void",
            Want::Repull {
                cable,
                reason: outcome_words(outcome).to_owned(),
            },
        )
        .or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn marks_doubtful(&self, cable: CableId, outlet: Option<OutletId>) -> Mending {
        let why = "The same mark read twice counts as it is.";
        self.by_marks(cable, outlet, names::doubt, why)
    }

    pub(super) fn too_long(&self, cable: CableId, outlet: Option<OutletId>) -> Mending {
        let why = "Find a shorter way, or a rack that is nearer; else read a mark again. A passed certification settles it too.";
        self.by_marks(cable, outlet, names::excess, why)
    }

    /// What the length marks of both ends say of a cable.
    fn by_marks(
        &self,
        cable: CableId,
        outlet: Option<OutletId>,
        what: fn(FootageMark, FootageMark) -> String,
        why: &str,
    ) -> Mending {
        let row = self.registry.cables.get(cable);
        let copper = row.and_then(|row| row.copper(row.pull(cable)));
        let marks = Side::BOTH.map(|side| {
            let end = copper.map(|copper| &copper.ends[side_index(side)]);
            end.and_then(|end| end.footage.iter().next_back())
        });
        let [Some(near), Some(far)] = marks else {
            return Mending::new(self.name(cable));
        };
        let what = what(*near.value, *far.value);
        let mut mending = Mending::new([&self.name(cable), ": ", &what, "."].concat());
        for (side, said) in Side::BOTH.into_iter().zip([near, far]) {
            let at = names::side(self.registry, cable, side);
            let (mark, by) = (said.value, sayer(self.journal, said.fact));
            mending = mending.because(format!("At {at}: {mark}, by {by}."));
        }
        mending = mending.because(why);
        if let Some(outlet) = outlet {
            let of = FootageOf::Outlet(outlet);
            let side = Side::Near;
            mending = mending.or_go("Read a mark again", Screen::Footage { of, side });
        }
        mending.or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn test_failed(&self, cable: CableId) -> Mending {
        let row = self.registry.cables.get(cable);
        let copper = row.and_then(|row| row.copper(row.pull(cable)));
        let last = copper.and_then(|copper| copper.tests.iter().next_back());
        let test = last.as_ref().map(|said| said.value);
        let by = last.as_ref().map(|said| sayer(self.journal, said.fact));
        let by = by.unwrap_or_default();
        let name = self.name(cable);
        let mut mending = Mending::new(format!("{name} failed its last test."))
            .because(format!("Tested by {by}."));
        // What the test showed is what leads to the cure.
        if let Some(test) = test.filter(|test| !test.note.is_empty()) {
            mending = mending.because(["It showed: ", &test.note, "."].concat());
        }
        let is_remote = test.is_some_and(|test| test.method == TestMethod::Remote);
        if is_remote {
            mending = mending.or_go("Numbered remotes", Screen::Remotes);
        }
        for method in tests_for(self.registry, cable) {
            let [right, _] = test_words(*method);
            mending = mending.or(
                [&name, ": ", right, " now"].concat(),
                passed(cable, *method),
            );
        }
        mending
            .or(
                "Pull it anew; old tags are void",
                Want::Repull {
                    cable,
                    reason: "Failed its test".to_owned(),
                },
            )
            .or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn without_code(&self, cable: CableId) -> Mending {
        let mending = Mending::new("A cable has no code yet.")
            .because(self.ends_of(cable))
            .because("Its outlet needs a number, its room a code, or its rack a space.");
        let outlet = self.outlet_of(cable);
        let mending = self.show_outlet_or_cable(mending, outlet, &[cable]);
        mending
            .or_go("Rooms and floors", Screen::Rooms)
            .or_go("Racks and panels", Screen::Racks)
    }

    pub(super) fn outlet_of(&self, cable: CableId) -> Option<OutletId> {
        match self.registry.cables.get(cable)?.name.get()? {
            RunName::Feeds { outlet, .. } => Some(*outlet),
            RunName::Ties { .. } => None,
        }
    }

    pub(super) fn without_medium(&self, cable: CableId) -> Mending {
        let mut mending =
            Mending::new(format!("Nobody said what {} is made of.", self.name(cable)));
        let mut used: SortedMap<&Medium, usize> = SortedMap::new();
        for (_, row) in self.registry.cables.iter() {
            if let Some(medium) = row.medium.get().filter(|_| walk::is_wanted_cable(row)) {
                *used.or_default(medium) += 1;
            }
        }
        let mut used: Vec<_> = used.into_iter().collect();
        used.order_by_key(|(_, count)| std::cmp::Reverse(*count));
        let mut media: Vec<Medium> = used.into_iter().map(|(medium, _)| medium.clone()).collect();
        for stock in Medium::stock() {
            if !media.contains(&stock) {
                media.push(stock);
            }
        }
        media.truncate(OFFERED);
        for medium in media {
            mending = mending.or(medium.to_string(), Want::SetMedium { cable, medium });
        }
        self.show_outlet_or_cable(mending, self.outlet_of(cable), &[cable])
    }

    pub(super) fn no_rack(&self, item: &Item) -> Mending {
        let cables = cables_of(item);
        let codes = names::listed(&self.codes(&cables));
        let mut mending = Mending::new(format!("No rack is chosen for {codes}."));
        let all = self.without_rack(&cables);
        for rack in walk::racks(self.registry).into_iter().take(OFFERED) {
            let called = names::rack(self.registry, rack);
            let rack = Some(rack);
            let route = |cables| Want::RouteHome { cables, rack };
            mending = mending.or(format!("Home to {called}"), route(cables.clone()));
            if all.len() > cables.len() {
                let words = format!("All {} without a rack: home to {called}", all.len());
                mending = mending.or(words, route(all.clone()));
            }
        }
        mending.or_go("Racks and panels", Screen::Racks)
    }

    /// The home runs of which nobody can tell what rack they go to, where the first of them is among these; none
    /// elsewhere, so that they are offered once, and gathered once for a whole list.
    fn without_rack(&self, first: &[CableId]) -> Vec<CableId> {
        let cables = self.registry.cables.iter();
        let open = cables.filter(|(id, row)| {
            walk::is_wanted_cable(row)
                && names::run_kind(self.registry, *id) == RunKind::HomeRun
                && self.registry.home_rack(*id).is_none()
        });
        let first = first.iter().min();
        let mut found = Vec::new();
        for (id, _) in open {
            if Some(&id) < first {
                return Vec::new();
            }
            found.push(id);
        }
        found.put_in_order();
        found
    }

    pub(super) fn without_cables(&self, outlet: OutletId) -> Mending {
        Mending::new(format!(
            "{} has no cable.",
            names::outlet(self.registry, outlet)
        ))
        .or_go("Add its cables", Screen::Outlet(outlet))
        .or(
            "It is not wanted",
            Want::CancelOutlet {
                outlet,
                reason: "No cable goes there".to_owned(),
            },
        )
    }

    pub(super) fn without_room(&self, outlet: OutletId) -> Mending {
        let row = self.registry.outlets.get(outlet);
        let purpose = row.and_then(|row| row.purpose.get()).cloned();
        let mut mending = Mending::new(format!(
            "{} is in no room.",
            names::outlet(self.registry, outlet)
        ))
        .because("Its room was taken back, so that nobody walking the rooms meets it.");
        let at = row.and_then(|row| row.number.get());
        let gone = at.and_then(|at| self.registry.rooms.get(at.room));
        // A room of the same code took its place, mostly.
        let code = gone.and_then(|room| room.code.known());
        for room in code.map_or(&[][..], |code| self.registry.index.rooms_by_code.get(code)) {
            let name = names::room(self.registry, *room);
            if let Some(number) = self.next_number(*room) {
                let room = *room;
                mending = mending.or(
                    format!("It is in {name}"),
                    Want::MoveOutlet {
                        outlet,
                        room,
                        number,
                    },
                );
            }
        }
        if let Some(room) = at.map(|at| at.room) {
            let name = names::room(self.registry, room);
            for act in self.taken_back_by(room.into()) {
                let by = who(self.journal, act);
                mending = mending
                    .because(format!("Taken back by {by}."))
                    .or(format!("{name} is a room of its own"), Want::Undo { act });
            }
        }
        let mending = match purpose {
            Some(purpose) => mending.because(format!("It is for “{purpose}”.")),
            None => mending,
        };
        mending
            .or_go("Put it in a room", Screen::Outlet(outlet))
            .or(
                "It is not wanted",
                Want::CancelOutlet {
                    outlet,
                    reason: "Its room is no longer in the job".to_owned(),
                },
            )
    }

    pub(super) fn local_run_open(&self, cable: CableId) -> Mending {
        Mending::new(format!(
            "{} leaves an outlet that is not there.",
            self.name(cable)
        ))
        .because("A local run needs two outlets that are wanted.")
        .or(
            "It goes home to a rack",
            Want::RouteHome {
                cables: vec![cable],
                rack: None,
            },
        )
        .or(
            "It is not wanted",
            Want::CancelCable {
                cable,
                reason: "The outlet that it leaves is not wanted".to_owned(),
            },
        )
        .or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn outlet_gone(&self, cable: CableId) -> Mending {
        let outlet = self.outlet_of(cable);
        let row = outlet.and_then(|outlet| self.registry.outlets.get(outlet));
        let by = self.said_so(row.map(|row| &row.standing));
        let mut mending = Mending::new(format!(
            "{} is wanted, but its outlet is not.",
            self.name(cable)
        ));
        if !by.is_empty() {
            mending = mending.because(format!("The outlet was cancelled by {by}."));
        }
        mending = mending.because(format!("The cable: {}.", self.cable_added(cable)));
        if let Some(outlet) = outlet {
            mending = mending.or("The outlet is wanted too", Want::RestoreOutlet { outlet });
        }
        mending
            .or(
                "The cable is not wanted either",
                Want::CancelCable {
                    cable,
                    reason: "Its outlet was cancelled".to_owned(),
                },
            )
            .or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn loose_end_open(&self, loose: LooseEndId) -> Mending {
        let row = self.registry.loose_ends.get(loose);
        let place = row.and_then(|row| row.found.get());
        let place = place.map_or("", |found| found.place.trim());
        let at = if place.is_empty() {
            String::new()
        } else {
            format!(" ({place})")
        };
        Mending::new(format!(
            "{}{at}: nobody knows its cable.",
            self.loose_name(loose)
        ))
        .because("Tone it, then say which cable it is.")
        .or_go("Loose ends", Screen::Loose)
    }

    /// Who landed an end where it is.
    pub(super) fn landed_words(&self, end: End, place: &Place) -> String {
        let at = names::place(self.registry, place);
        let by = landed_by(self.registry, end, place);
        let by = by.map_or_else(String::new, |act| who(self.journal, act));
        format!("Landed on {at} by {by}.")
    }

    fn is_landed_on(&self, end: End, position: Position) -> bool {
        let all = self.placement(end).into_iter().flat_map(Register::all);
        all.into_iter().any(|said| {
            matches!(said.value, Placement::Landed { place: Place::Position { position: at, .. }, .. } if *at == position)
        })
    }

    pub(super) fn no_such_position(&self, end: End, position: Position) -> Mending {
        let at = names::position(self.registry, position);
        let mut mending = Mending::new(format!("{}: {at} is not there.", self.end(end)))
            .because("Its panel is smaller than that, or was taken out.");
        if self.is_landed_on(end, position) {
            mending = mending.or("It is not landed", Want::Lift { end });
        } else {
            mending = mending.or("It gets another place", Want::PlanEnd { end, place: None });
        }
        mending.or_go("Choose its position", Screen::HandCable(end.cable))
    }

    pub(super) fn landed_on_kept(&self, end: End, position: Position, how: &str) -> Mending {
        let at = names::position(self.registry, position);
        let panel = self.registry.panels.get(position.panel);
        let kept = panel.and_then(|panel| panel.kept.get(&position.number));
        let reason = match kept.and_then(Register::get) {
            Some(Availability::Bad { reason } | Availability::Reserved { reason }) => {
                reason.clone()
            }
            Some(Availability::Open) | None => String::new(),
        };
        Mending::new(format!(
            "{} is landed on {at}, which is {how}.",
            self.name(end.cable)
        ))
        .because(format!("{at}: “{reason}”, by {}.", self.said_so(kept)))
        .because(self.landed_words(end, &Place::rear(position)))
        .or(
            format!("{at} is good for it"),
            Want::KeepPosition {
                position,
                kept: Availability::Open,
            },
        )
        .or(
            format!("{} is not landed there", self.name(end.cable)),
            Want::Lift { end },
        )
        .or_go("Choose another position", Screen::HandCable(end.cable))
    }

    fn local_at_rack(&self, end: End, position: Position, at: &str) -> Mending {
        let name = self.name(end.cable);
        let from = names::side(self.registry, end.cable, Side::Far);
        let row = self.registry.cables.get(end.cable);
        let by = self.said_so(row.map(|row| &row.leaves));
        let panel = self.registry.panels.get(position.panel);
        let rack = panel.and_then(|panel| panel.rack.get()).copied();
        let mut mending = Mending::new(format!("{name} is a local run, and landed on {at}."))
            .because(format!("Local run from {from}, by {by}."))
            .because(self.landed_words(end, &Place::rear(position)));
        if end.side == Side::Far {
            let cables = vec![end.cable];
            mending = mending.or("It comes to the rack", Want::RouteHome { cables, rack });
        }
        mending
            .or(format!("It is not on {at}"), Want::Lift { end })
            .or_go("Show the cable", Screen::Cable(end.cable))
    }

    pub(super) fn misfit(&self, end: End, position: Position) -> Mending {
        let at = names::position(self.registry, position);
        let cable = self.registry.cables.get(end.cable);
        let medium = cable.and_then(|row| row.medium.get());
        let make = self
            .registry
            .panels
            .get(position.panel)
            .and_then(|row| row.make.get());
        if names::run_kind(self.registry, end.cable) == RunKind::LocalRun {
            return self.local_at_rack(end, position, &at);
        }
        let mut mending = Mending::new(format!("{} does not fit {at}.", self.name(end.cable)));
        if let (Some(medium), Some(make)) = (medium, make) {
            mending = mending.because(format!(
                "It is {medium}, and {at} is {}.",
                make.connector.words()
            ));
        }
        mending
            .or(
                "There is an adapter between",
                Want::Land {
                    end,
                    place: Place::rear(position),
                    fitting: Fitting::Adapter,
                },
            )
            .or("It is not landed there", Want::Lift { end })
            .or_go("Choose another position", Screen::HandCable(end.cable))
    }

    pub(super) fn spare_without_reason(&self, end: End) -> Mending {
        let kept = match self.placement(end).and_then(Register::get) {
            Some(Placement::Spare { kept, .. }) => kept.clone(),
            _ => String::new(),
        };
        Mending::new(format!("{} is spare, and nobody said why.", self.end(end)))
            .because("An end without a tag that says FUTURE counts as abandoned.")
            .or(
                "FUTURE: for later use",
                Want::Spare {
                    end,
                    kept,
                    reason: "FUTURE".to_owned(),
                },
            )
            .or_go("Show the cable", Screen::Cable(end.cable))
    }

    pub(super) fn dead_without_reason(&self, end: End) -> Mending {
        Mending::new(format!("{} is dead, and nobody said why.", self.end(end)))
            .or(
                "It is damaged",
                Want::Dead {
                    end,
                    reason: "Damaged".to_owned(),
                },
            )
            .or(
                "It is not in use any more",
                Want::Dead {
                    end,
                    reason: "Not in use any more".to_owned(),
                },
            )
            .or_go("Show the cable", Screen::Cable(end.cable))
    }
}

/// The cables of an item whose findings are each about one.
fn cables_of(item: &Item) -> Vec<CableId> {
    let cable = |finding: &Finding| match finding.what {
        What::NotPulled { cable } | What::NotVerified { cable } | What::NoRackChosen { cable } => {
            Some(cable)
        }
        _ => None,
    };
    item.findings.iter().filter_map(cable).collect()
}
