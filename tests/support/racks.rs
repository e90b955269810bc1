//! A job of 20 racks, 200 panels and 10,000 positions, seven of eight of them landed: the size that
//! the screens of the rack must stand.

use bothends::domain::ids::PullId;
use bothends::domain::ids::{Bits80, CableId, JobId, OutletId, PanelId, RackId, RoomId, WriterId};
use bothends::domain::label::{
    Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::mount::{RackBuild, Units};
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Position, RunName, Side};
use bothends::journal::{
    CableFact, Draft, EndFact, EndOfPull, Fact, Journal, OutletFact, PanelFact, PanelMake,
    PanelSize, RackFact, RoomFact, Signature, WallTime,
};

/// The job.
pub(crate) const JOB: JobId = JobId(Bits80(*b"ManyRacks0"));

const RACKS: u8 = 20;
const PANELS: u16 = 10;
const POSITIONS: u16 = 50;
/// Cables of one outlet.
const PER_OUTLET: usize = 4;
/// Outlets of one room.
const PER_ROOM: u16 = 50;

struct Site {
    journal: Journal,
    lines: Vec<String>,
    rooms: u16,
    outlets: u16,
    room: Option<RoomId>,
}

/// The stored lines of the job.
pub(crate) fn many_racks() -> Vec<String> {
    let mut site = Site {
        journal: Journal::new(JOB, WriterId(Bits80(*b"ManyWriter"))),
        lines: Vec::new(),
        rooms: 0,
        outlets: PER_ROOM,
        room: None,
    };
    for number in 0..RACKS {
        let mut draft = site.journal.draft();
        let rack: RackId = draft.mint();
        let letter = char::from(b'A' + number);
        let space = SpaceCode::new(1, &letter.to_string()).expect("a space");
        let units = Units::new(42).expect("a count");
        draft.push(Fact::Rack(rack, RackFact::Added));
        draft.push(Fact::Rack(rack, RackFact::InSpace(space)));
        draft.push(Fact::Rack(rack, RackFact::Named(format!("Rack {letter}"))));
        draft.push(Fact::Rack(rack, RackFact::Built(RackBuild::Units(units))));
        site.write(draft);
        for at in 0..PANELS {
            site.panel(rack, u16::from(number) * PANELS + at, at);
        }
    }
    site.lines
}

impl Site {
    fn write(&mut self, draft: Draft) {
        let signature = Signature {
            by: "MW".to_owned(),
            wall: WallTime(1_772_409_600_000),
        };
        let written = self.journal.write(draft, signature).expect("a number");
        self.lines.push(written.line);
    }

    /// A panel with its cables, each of them landed but every eighth.
    fn panel(&mut self, rack: RackId, number: u16, at: u16) {
        let mut draft = self.journal.draft();
        let panel: PanelId = draft.mint();
        let make = PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(POSITIONS).expect("a size"),
        };
        let letters = |number: u16| {
            let digit = |digit: u16| char::from(b'A' + u8::try_from(digit % 26).expect("small"));
            let text: String = [digit(number / 26), digit(number)].iter().collect();
            PanelLetters::new(&text).expect("letters")
        };
        // Three rows take three rack units.
        let unit = u8::try_from(1 + at * 3).expect("small");
        draft.push(Fact::Panel(panel, PanelFact::Added(make)));
        draft.push(Fact::Panel(panel, PanelFact::InRack(rack)));
        draft.push(Fact::Panel(panel, PanelFact::Lettered(letters(number))));
        draft.push(Fact::Panel(panel, PanelFact::AtUnit(Some(unit))));
        let numbers: Vec<u16> = (1..=POSITIONS).collect();
        for numbers in numbers.chunks(PER_OUTLET) {
            let outlet = self.outlet(&mut draft);
            for (letter, number) in Letter::all().zip(numbers) {
                let number = PositionNumber::new(*number).expect("a number");
                let position = Position { panel, number };
                cable(&mut draft, outlet, letter, rack, position);
            }
        }
        self.write(draft);
    }

    fn outlet(&mut self, draft: &mut Draft) -> OutletId {
        if self.outlets == PER_ROOM || self.room.is_none() {
            let room: RoomId = draft.mint();
            let digit = |digit: u16| char::from(b'A' + u8::try_from(digit % 26).expect("small"));
            let code: String = ['R', digit(self.rooms / 26), digit(self.rooms)]
                .iter()
                .collect();
            let code = RoomCode::new(&code).expect("a code");
            draft.push(Fact::Room(room, RoomFact::Added));
            draft.push(Fact::Room(room, RoomFact::Coded(code)));
            draft.push(Fact::Room(
                room,
                RoomFact::Named(format!("Room {}", self.rooms + 1)),
            ));
            self.room = Some(room);
            self.rooms += 1;
            self.outlets = 0;
        }
        self.outlets += 1;
        let room = self.room.expect("a room");
        let number = OutletNumber::new(u8::try_from(self.outlets).expect("small"));
        let number = number.expect("a number");
        let outlet: OutletId = draft.mint();
        draft.push(Fact::Outlet(outlet, OutletFact::Added));
        draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
        outlet
    }
}

fn cable(draft: &mut Draft, outlet: OutletId, letter: Letter, rack: RackId, position: Position) {
    let cable: CableId = draft.mint();
    let about = [
        CableFact::Added,
        CableFact::Named(RunName::Feeds { outlet, letter }),
        CableFact::Leaves(Leaves::Rack(Some(rack))),
        CableFact::MadeOf(Medium::indoor(Kind::Cat6Utp)),
    ];
    draft
        .facts
        .extend(about.map(|fact| Fact::Cable(cable, fact)));
    let end = EndOfPull {
        end: End::whole(cable, Side::Far),
        pull: PullId(cable.0),
    };
    let place = Place::rear(position);
    draft.push(Fact::End(end, EndFact::Planned(Some(place.clone()))));
    if !position.number.get().is_multiple_of(8) {
        let fitting = Fitting::Direct;
        let landed = Placement::Landed { place, fitting };
        draft.push(Fact::End(end, EndFact::Placed(landed)));
    }
}
