//! A job of any size, two cables in three finished, for the check to be measured on. It is made of plain
//! facts and not of commands, so that 100,000 cables take seconds; each step of the work is a line, as
//! when somebody does one after the other.

use bothends::app::ports::TOGETHER;
use bothends::domain::ids::{Bits80, CableId, JobId, OutletId, PanelId, PullId, RackId, RoomId};
use bothends::domain::ids::{ThingId, WriterId};
use bothends::domain::label::{
    Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Position, RunName, Side};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::{
    CableFact, CopperTest, Draft, EndFact, EndOfPull, Fact, Intake, Journal, Mark, OutletFact,
    PanelFact, PanelMake, PanelSize, PullFact, PullRef, RackFact, RoomFact, Signature, WallTime,
};

/// The job.
pub(crate) const JOB: JobId = JobId(Bits80(*b"PlainJob00"));

const OUTLETS_EACH: u8 = 20;
const CABLES_EACH: usize = 5;
const PER_ROOM: usize = 100;
const POSITIONS: u16 = 96;

/// Stored lines as the store hands them over: a thousand in one text.
pub(crate) fn texts(lines: &[String]) -> Vec<String> {
    lines
        .chunks(TOGETHER)
        .map(|lines| lines.join("\n"))
        .collect()
}

/// A job opened from them, as the app opens it.
pub(crate) fn opened(job: JobId, texts: Vec<String>) -> Journal {
    let reader = WriterId(Bits80(*b"aReader000"));
    let mut intake = Intake::into(Journal::new(job, reader));
    texts.into_iter().for_each(|text| intake.take(text));
    intake.finish()
}

/// The stored lines of a job with at least so many cables. At most 100,000, as there are 702 letters for
/// panels.
pub(crate) fn plain_job(cables: usize) -> Vec<String> {
    let rooms = cables.div_ceil(PER_ROOM);
    let mut job = Plain {
        journal: Journal::new(JOB, WriterId(Bits80(*b"PlainWrite"))),
        lines: Vec::new(),
        cables: 0,
        landed: 0,
        panels: Vec::new(),
    };
    let landed = rooms * PER_ROOM * 2 / 3;
    let rack = job.rack(landed / usize::from(POSITIONS) + 1);
    for room in 0..rooms {
        job.room(room, rack);
    }
    job.lines
}

struct Plain {
    journal: Journal,
    lines: Vec<String>,
    cables: usize,
    landed: usize,
    panels: Vec<PanelId>,
}

impl Plain {
    fn write(&mut self, draft: Draft) {
        let signature = Signature {
            by: "PW, blue phone".to_owned(),
            wall: WallTime(1_757_289_600_000 + u64::from(draft.id().n) * 1_000),
        };
        let written = self.journal.write(draft, signature).expect("a place");
        self.lines.push(written.line);
    }

    fn says(&mut self, facts: impl IntoIterator<Item = Fact>) {
        let mut draft = self.journal.draft();
        for fact in facts {
            draft.push(fact);
        }
        self.write(draft);
    }

    fn rack(&mut self, panels: usize) -> RackId {
        let mut draft = self.journal.draft();
        let rack: RackId = draft.mint();
        let space = SpaceCode::new(1, "A").expect("a space");
        draft.push(Fact::Rack(rack, RackFact::Added));
        draft.push(Fact::Rack(rack, RackFact::InSpace(space)));
        self.write(draft);
        let capitals = || ('A'..='Z').map(String::from);
        let two =
            capitals().flat_map(|first| capitals().map(move |second| first.clone() + &second));
        for letters in capitals().chain(two).take(panels) {
            let mut draft = self.journal.draft();
            let panel: PanelId = draft.mint();
            let make = PanelMake {
                connector: Connector::Modular,
                positions: PanelSize::new(POSITIONS).expect("a size"),
            };
            let letters = PanelLetters::new(&letters).expect("letters");
            for fact in [
                PanelFact::Added(make),
                PanelFact::Lettered(letters),
                PanelFact::InRack(rack),
            ] {
                draft.push(Fact::Panel(panel, fact));
            }
            self.panels.push(panel);
            self.write(draft);
        }
        rack
    }

    fn room(&mut self, room: usize, rack: RackId) {
        let mut draft = self.journal.draft();
        let id: RoomId = draft.mint();
        let text = super::large::letters(room, 3);
        let code = RoomCode::new(&text).expect("a code");
        let order = u32::try_from(room).expect("few rooms");
        for fact in [
            RoomFact::Added,
            RoomFact::Coded(code),
            RoomFact::Ordered(order),
        ] {
            draft.push(Fact::Room(id, fact));
        }
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
            for fact in [
                CableFact::Added,
                CableFact::Named(RunName::Feeds { outlet, letter }),
                CableFact::MadeOf(medium),
                CableFact::Leaves(Leaves::Rack(Some(rack))),
            ] {
                draft.push(Fact::Cable(cable, fact));
            }
            cables.push((cable, letter));
        }
        self.write(draft);
        for (cable, letter) in cables {
            self.cables += 1;
            if !self.cables.is_multiple_of(3) {
                let code = format!("{code}{}-{letter}", number.get());
                let jack = letter;
                self.finish(cable, Place::Jack { outlet, jack }, &code);
            }
        }
    }

    fn finish(&mut self, cable: CableId, jack: Place, code: &str) {
        let pull = PullId(ThingId::from(cable));
        let of = PullRef { cable, pull };
        let test = CopperTest {
            method: TestMethod::WireMap,
            outcome: TestOutcome::Passed,
            note: String::new(),
        };
        let number = u16::try_from(self.landed % usize::from(POSITIONS) + 1).expect("a position");
        let position = Position {
            panel: self.panels[self.landed / usize::from(POSITIONS)],
            number: PositionNumber::new(number).expect("a position"),
        };
        self.landed += 1;
        let places = [jack, Place::rear(position)];
        let end = |side| EndOfPull {
            end: End::whole(cable, side),
            pull,
        };
        let at = |fact: fn(Place) -> EndFact| {
            let places = places.clone().into_iter();
            Side::BOTH
                .into_iter()
                .zip(places)
                .map(move |(side, place)| Fact::End(end(side), fact(place)))
        };
        self.says(at(|place| EndFact::Planned(Some(place))));
        let outcome = PullOutcome::Pulled;
        self.says([Fact::Pull(of, PullFact::Reported(outcome))]);
        self.says(Side::BOTH.map(|side| {
            let mark = Mark {
                kind: MarkKind::Pen,
                copies: 3,
                text: code.to_owned(),
            };
            Fact::End(end(side), EndFact::Marked(mark))
        }));
        for landed in at(|place| {
            let fitting = Fitting::Direct;
            EndFact::Placed(Placement::Landed { place, fitting })
        }) {
            self.says([landed]);
        }
        self.says([Fact::Pull(of, PullFact::Tested(test))]);
    }
}
