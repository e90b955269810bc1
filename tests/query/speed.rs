//! How long the whole check of a large job takes beside the same questions in `SQLite`. Ignored in
//! the gate, because a busy machine is no measure: `cargo test --release speed -- --ignored`.

use std::time::Duration;
#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
use std::time::Instant;

use bothends::domain::ids::{Bits80, CableId, OutletId, PanelId, PullId, RackId, RoomId, WriterId};
use bothends::domain::label::{
    Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Position, RunName, Side};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::{
    CableFact, CopperTest, Draft, EndFact, EndOfPull, Fact, Journal, Mark, OutletFact, PanelFact,
    PanelMake, PanelSize, PullFact, PullRef, RackFact, RoomFact, Signature, WallTime,
};
use bothends::query::check;

use super::flat::Ids;
use super::generator::JOB;
use super::reference::Reference;

const ROOMS: usize = 100;
const OUTLETS_EACH: u8 = 20;
const CABLES_EACH: usize = 5;

/// A job of 10,000 cables, three in four of them finished.
struct Large {
    journal: Journal,
    facts: Vec<Fact>,
    landed: usize,
    panels: Vec<PanelId>,
}

impl Large {
    fn write(&mut self, draft: Draft) {
        self.facts.extend(draft.facts.iter().cloned());
        let signature = Signature {
            by: "MW".to_owned(),
            wall: WallTime(0),
        };
        self.journal.write(draft, signature).expect("a place");
    }

    fn rack(&mut self) -> RackId {
        let mut draft = self.journal.draft();
        let rack: RackId = draft.mint();
        draft.push(Fact::Rack(rack, RackFact::Added));
        let space = SpaceCode::new(1, "A").expect("a space");
        draft.push(Fact::Rack(rack, RackFact::InSpace(space)));
        let capitals = || ('A'..='Z').map(String::from);
        let letters =
            capitals().flat_map(|first| capitals().map(move |second| first.clone() + &second));
        for letters in letters.take(10_000 / 96 + 1) {
            let panel: PanelId = draft.mint();
            let make = PanelMake {
                connector: Connector::Modular,
                positions: PanelSize::new(96).expect("a size"),
            };
            draft.push(Fact::Panel(panel, PanelFact::Added(make)));
            let letters = PanelLetters::new(&letters).expect("letters");
            draft.push(Fact::Panel(panel, PanelFact::Lettered(letters)));
            self.panels.push(panel);
        }
        self.write(draft);
        rack
    }

    fn room(&mut self, room: usize, rack: RackId) {
        let mut draft = self.journal.draft();
        let id: RoomId = draft.mint();
        draft.push(Fact::Room(id, RoomFact::Added));
        let letter = |number: usize| char::from(b'A' + u8::try_from(number).expect("a letter"));
        let text = format!("R{}{}", letter(room / 26), letter(room % 26));
        let code = RoomCode::new(&text).expect("a code");
        draft.push(Fact::Room(id, RoomFact::Coded(code)));
        let order = u32::try_from(room).expect("few rooms");
        draft.push(Fact::Room(id, RoomFact::Ordered(order)));
        self.write(draft);
        for number in 1..=OUTLETS_EACH {
            self.outlet(id, number, &text, rack);
        }
    }

    fn outlet(&mut self, room: RoomId, number: u8, code: &str, rack: RackId) {
        let mut draft = self.journal.draft();
        let outlet: OutletId = draft.mint();
        let number = OutletNumber::new(number).expect("a number");
        draft.push(Fact::Outlet(outlet, OutletFact::Added));
        draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
        let mut cables = Vec::new();
        for letter in Letter::all().take(CABLES_EACH) {
            let cable: CableId = draft.mint();
            let medium = Medium::from_key("cat6-utp").expect("a medium");
            let name = RunName::Feeds { outlet, letter };
            for fact in [
                CableFact::Added,
                CableFact::Named(name),
                CableFact::MadeOf(medium),
                CableFact::Leaves(Leaves::Rack(Some(rack))),
            ] {
                draft.push(Fact::Cable(cable, fact));
            }
            cables.push((cable, letter));
        }
        self.write(draft);
        for (cable, letter) in cables {
            self.landed += 1;
            if !self.landed.is_multiple_of(4) {
                let code = format!("{code}{}-{letter}", number.get());
                self.finish(
                    cable,
                    Place::Jack {
                        outlet,
                        jack: letter,
                    },
                    code,
                );
            }
        }
    }

    fn finish(&mut self, cable: CableId, jack: Place, code: String) {
        let mut draft = self.journal.draft();
        let pull = PullId(cable.0);
        let of = PullRef { cable, pull };
        let test = CopperTest {
            method: TestMethod::WireMap,
            outcome: TestOutcome::Passed,
            note: String::new(),
        };
        draft.push(Fact::Pull(of, PullFact::Reported(PullOutcome::Pulled)));
        draft.push(Fact::Pull(of, PullFact::Tested(test)));
        let number = u16::try_from(self.landed % 96 + 1).expect("a position");
        let position = Position {
            panel: self.panels[self.landed / 96],
            number: PositionNumber::new(number).expect("a position"),
        };
        for (side, place) in Side::BOTH.into_iter().zip([jack, Place::rear(position)]) {
            let end = EndOfPull {
                end: End::whole(cable, side),
                pull,
            };
            let mark = Mark {
                kind: MarkKind::Pen,
                copies: 3,
                text: code.clone(),
            };
            let fitting = Fitting::Direct;
            draft.push(Fact::End(end, EndFact::Planned(Some(place.clone()))));
            draft.push(Fact::End(end, EndFact::Marked(mark)));
            draft.push(Fact::End(
                end,
                EndFact::Placed(Placement::Landed { place, fitting }),
            ));
        }
        self.write(draft);
    }
}

/// The shortest of several runs.
fn shortest(mut run: impl FnMut()) -> Duration {
    let once = |()| {
        #[expect(clippy::disallowed_types, reason = "a measurement needs a clock")]
        let start = Instant::now();
        run();
        start.elapsed()
    };
    let runs = std::iter::repeat_n((), 7).map(once);
    runs.min().expect("seven runs")
}

#[test]
#[ignore = "measures time, so that it wants a quiet machine and a release build"]
fn a_large_job_is_checked_in_a_tenth_of_the_time_of_sqlite() {
    let mut large = Large {
        journal: Journal::new(JOB, WriterId(Bits80([1; 10]))),
        facts: Vec::new(),
        landed: 0,
        panels: Vec::new(),
    };
    let rack = large.rack();
    for room in 0..ROOMS {
        large.room(room, rack);
    }
    let mut findings = 0;
    let ours = shortest(|| findings = check(large.journal.registry()).len());
    let mut theirs = Duration::MAX;
    for _ in 0..3 {
        let reference = Reference::fill(&mut Ids::default(), &large.facts, &[], &[]);
        let mut answers = 0;
        // Asking fills tables, so that it can be done once for each filling.
        #[expect(clippy::disallowed_types, reason = "a measurement needs a clock")]
        let start = Instant::now();
        reference.ask();
        theirs = theirs.min(start.elapsed());
        answers += reference.findings().len();
        assert_eq!(answers, findings);
    }
    assert!(
        ours * 10 <= theirs,
        "{findings} findings: {ours:?} here, {theirs:?} in SQLite"
    );
    #[expect(clippy::print_stderr, reason = "the figure is what the run is for")]
    {
        eprintln!("{findings} findings: {ours:?} here, {theirs:?} in SQLite");
    }
}
