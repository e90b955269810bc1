//! The one boundary between these tests and the commands: a site that holds what one phone knows,
//! does what is wanted, expects refusals, takes ways out, and says in words how a cable stands.

use std::fmt::Write as _;

use bothends::command::{Correction, Refusal, Want, draft};
use bothends::domain::ids::{
    ActId, Bits80, CableId, JobId, LooseEndId, OutletId, PanelId, RackId, RoomId, WriterId,
};
use bothends::domain::label::{
    LegNumber, Letter, OutletCode, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{End, Face, Fitting, Place, Placement, Position, Side};
use bothends::domain::work::{MarkKind, PullOutcome, Standing};
use bothends::journal::{
    Cable, EndRecord, Fact, Found, Journal, PanelMake, PanelSize, Register, Registry, Signature,
    Taken, WallTime, side_index, wire,
};
use bothends::names;

/// What one phone knows of the job, and who holds it.
pub(crate) struct Site {
    pub(crate) journal: Journal,
    initials: String,
    clock: u64,
}

/// 2026-03-02 00:00 UTC, a Monday; every act is a minute later than the one before.
const MONDAY: u64 = 1_772_409_600_000;

impl Site {
    /// The phone with a number, on which nothing was done yet.
    pub(crate) fn phone(number: u8) -> Self {
        let writer = WriterId(Bits80([number; 10]));
        Self {
            journal: Journal::new(JobId(Bits80(*b"Marrowby M")), writer),
            initials: format!("P{number}"),
            clock: MONDAY,
        }
    }

    /// A kitchen and a dining room, a main rack `1A` with panel B of 24 ports, panel C of 8 F
    /// connectors and panel T of 12 alarm terminals; no outlet yet.
    pub(crate) fn mill() -> Self {
        let mut site = Self::phone(1);
        site.adds_room("Kitchen", "KIT");
        site.adds_room("Dining room", "DIN");
        site.adds_rack(1, "A", "Main rack");
        for (letters, connector, positions) in [
            ("B", Connector::Modular, 24),
            ("C", Connector::F, 8),
            ("T", Connector::AlarmTerminal, 12),
        ] {
            site.adds_panel("1A", letters, connector, positions);
        }
        site
    }

    /// The mill with two outlets of the data type, `KIT1` and `DIN1`: two cables each.
    pub(crate) fn wired_mill() -> Self {
        let mut site = Self::mill();
        site.adds_outlet("KIT", "data");
        site.adds_outlet("DIN", "data");
        site
    }

    /// Sets the clock that many hours off what it showed.
    pub(crate) fn clock_is_wrong_by(&mut self, hours: i8) {
        let hour = 3_600_000;
        self.clock = (self.clock + 128 * hour)
            .saturating_sub((128 - i64::from(hours)).unsigned_abs() * hour);
    }

    pub(crate) fn registry(&self) -> &Registry {
        self.journal.registry()
    }

    /// Does what is wanted. What was written must read back as it was meant.
    pub(crate) fn tries(&mut self, want: &Want) -> Result<ActId, Refusal> {
        let draft = draft(want, &self.journal)?;
        self.clock += 60_000;
        let signature = Signature {
            by: self.initials.clone(),
            wall: WallTime(self.clock),
        };
        let written = self.journal.write(draft, signature).expect("a free number");
        let read = wire::read(&written.line).expect("a written line is readable");
        assert_eq!(Some(&read), self.journal.act(written.id), "{want:?}");
        assert!(
            !read
                .facts
                .iter()
                .any(|fact| matches!(fact, Fact::Unknown { .. }))
        );
        Ok(written.id)
    }

    /// Does what is wanted, which must not be refused.
    pub(crate) fn does(&mut self, want: Want) -> ActId {
        self.tries(&want)
            .unwrap_or_else(|refusal| panic!("{want:?} is refused: {}", refusal.words))
    }

    /// Expects a refusal that says something, and leaves everything as it was.
    pub(crate) fn refuses(&mut self, want: Want, fragment: &str) -> Refusal {
        let before = self.registry().dump();
        let Err(refusal) = self.tries(&want) else {
            panic!("{want:?} is not refused");
        };
        assert!(
            refusal.words.contains(fragment),
            "“{}” does not say “{fragment}”",
            refusal.words
        );
        assert!(refusal.words.ends_with('.'), "{}", refusal.words);
        assert_eq!(self.registry().dump(), before);
        refusal
    }

    /// Takes the way out with a number, from 1.
    pub(crate) fn takes(&mut self, refusal: &Refusal, number: usize) -> ActId {
        let way = refusal.ways_out.get(number - 1);
        let way = way.unwrap_or_else(|| panic!("no way out {number}: {}", refusal.words));
        self.does((*way.want).clone())
    }

    pub(crate) fn undoes(&mut self, act: ActId) -> ActId {
        self.does(Want::Undo { act })
    }

    /// Two phones tell each other everything; both then know the same.
    pub(crate) fn meets(&mut self, other: &mut Self) {
        for (from, to) in
            [(&*other.journal.lines(), 0), (&*self.journal.lines(), 1)].map(|(lines, to)| {
                (
                    lines.iter().map(ToString::to_string).collect::<Vec<_>>(),
                    to,
                )
            })
        {
            let hearer = if to == 0 { &mut *self } else { &mut *other };
            let taken = hearer.journal.take(from.iter().map(String::as_str));
            assert!(!taken.contains(&Taken::Unreadable));
        }
        assert_eq!(self.registry().dump(), other.registry().dump());
        self.clock = self.clock.max(other.clock);
    }

    /// What can be seen of the job, without the rows of things that are gone.
    pub(crate) fn live(&self) -> String {
        let writer = ", 0"; // Every live value names its act, and every writer here begins so.
        let dump = self.registry().dump();
        let live = dump.lines().filter(|line| line.contains(writer));
        live.fold(String::new(), |text, line| text + line + "\n")
    }

    /// Does something, takes it back, and expects that all is as before. The first time makes
    /// empty rows, which stay; so the second time is the one that counts.
    pub(crate) fn undo_restores(&mut self, want: &Want) {
        let cables = self.cables();
        let act = self.does(want.clone());
        self.undoes(act);
        assert_eq!(self.cables(), cables, "{want:?}");
        let before = self.live();
        let act = self.does(want.clone());
        assert_ne!(self.live(), before, "{want:?} changes nothing");
        self.undoes(act);
        assert_eq!(self.live(), before, "{want:?}");
    }
}

// Short forms of what many tests need.
impl Site {
    pub(crate) fn adds_room(&mut self, name: &str, code: &str) -> RoomId {
        self.does(Want::AddRoom {
            name: name.to_owned(),
            code: room_code(code),
            floor: None,
            unit: None,
        });
        self.room(code)
    }

    pub(crate) fn adds_rack(&mut self, floor: u8, letter: &str, name: &str) -> RackId {
        let space = SpaceCode::new(floor, letter).expect("a space");
        self.does(Want::AddRack {
            space,
            name: name.to_owned(),
            room: None,
        });
        self.rack(&space.to_string())
    }

    pub(crate) fn adds_panel(
        &mut self,
        rack: &str,
        letters: &str,
        connector: Connector,
        positions: u16,
    ) -> PanelId {
        let rack = self.rack(rack);
        self.does(Want::AddPanel {
            rack,
            make: PanelMake {
                connector,
                positions: PanelSize::new(positions).expect("a size"),
            },
            letters: panel_letters(letters),
            unit: None,
        });
        self.panel(letters)
    }

    pub(crate) fn add_outlet(&self, room: &str, kind: &str) -> Want {
        Want::AddOutlet {
            room: self.room(room),
            kind: OutletKind::usual(kind).expect("a usual type"),
            purpose: String::new(),
            rack: None,
        }
    }

    pub(crate) fn adds_outlet(&mut self, room: &str, kind: &str) -> ActId {
        self.does(self.add_outlet(room, kind))
    }

    pub(crate) fn add_cable(&self, outlet: &str, kind: Kind) -> Want {
        Want::AddCable {
            outlet: self.outlet(outlet),
            medium: Medium::indoor(kind),
            purpose: String::new(),
            rack: None,
        }
    }

    pub(crate) fn land(&self, end: End, place: &str) -> Want {
        Want::Land {
            end,
            place: self.place(place),
            fitting: Fitting::Direct,
        }
    }

    pub(crate) fn plan(&self, end: End, place: &str) -> Want {
        Want::PlanEnd {
            end,
            place: Some(self.place(place)),
        }
    }

    pub(crate) fn mark(&self, end: End) -> Want {
        Want::MarkEnds {
            ends: vec![end],
            kind: MarkKind::Pen,
            copies: 2,
        }
    }

    pub(crate) fn came_out(&self, cable: &str, outlet: &str, how: Correction) -> Want {
        Want::CameOutAt {
            cable: self.cable(cable),
            outlet: self.outlet(outlet),
            how,
        }
    }

    pub(crate) fn adds_loose_end(&mut self, place: &str, note: &str) -> LooseEndId {
        let found = Found {
            place: place.to_owned(),
            note: note.to_owned(),
            ..Found::default()
        };
        let act = self.does(Want::AddLooseEnd { found });
        let ends = self.registry().loose_ends.iter();
        let mut ends = ends
            .map(|(id, _)| id)
            .filter(|id| (id.0.origin, id.0.n) == (act.writer.0, act.n));
        ends.next().expect("a loose end")
    }
}

// Finding things by what stands on them.
impl Site {
    pub(crate) fn room(&self, code: &str) -> RoomId {
        one(
            self.registry().index.rooms_by_code.get(&room_code(code)),
            code,
        )
    }

    pub(crate) fn outlet(&self, code: &str) -> OutletId {
        let at = code.find(|c: char| c.is_ascii_digit()).expect("a number");
        let code_of = OutletCode {
            room: room_code(&code[..at]),
            number: outlet_number(code[at..].parse().expect("a number")),
        };
        one(self.registry().index.outlets_by_code.get(&code_of), code)
    }

    pub(crate) fn cable(&self, code: &str) -> CableId {
        one(
            self.registry().index.cables_by_code.get(&code.to_owned()),
            code,
        )
    }

    pub(crate) fn near(&self, code: &str) -> End {
        End::whole(self.cable(code), Side::Near)
    }

    pub(crate) fn far(&self, code: &str) -> End {
        End::whole(self.cable(code), Side::Far)
    }

    pub(crate) fn leg(&self, code: &str, leg: u8) -> End {
        End {
            leg: LegNumber::new(leg),
            ..self.far(code)
        }
    }

    pub(crate) fn rack(&self, space: &str) -> RackId {
        let racks = self.registry().racks.iter();
        let mut racks =
            racks.filter(|(_, rack)| rack.space.get().is_some_and(|at| at.to_string() == space));
        racks.next().expect(space).0
    }

    pub(crate) fn panel(&self, letters: &str) -> PanelId {
        let letters_of = panel_letters(letters);
        one(
            self.registry().index.panels_by_letters.get(&letters_of),
            letters,
        )
    }

    pub(crate) fn position(&self, code: &str) -> Position {
        let at = code.find(|c: char| c.is_ascii_digit()).expect("a number");
        Position {
            panel: self.panel(&code[..at]),
            number: PositionNumber::new(code[at..].parse().expect("a number")).expect("a number"),
        }
    }

    /// `B07`: the rear; `front of B07`; `jack A of KIT1`.
    pub(crate) fn place(&self, words: &str) -> Place {
        if let Some(code) = words.strip_prefix("front of ") {
            return Place::Position {
                position: self.position(code),
                face: Face::Front,
            };
        }
        if let Some((jack, outlet)) = words
            .strip_prefix("jack ")
            .and_then(|w| w.split_once(" of "))
        {
            return Place::Jack {
                outlet: self.outlet(outlet),
                jack: letter(jack),
            };
        }
        Place::rear(self.position(words))
    }
}

// Saying how things stand.
impl Site {
    /// The codes of all cables that are in the job, each with its medium.
    pub(crate) fn codes(&self, outlet: &str) -> String {
        let outlet = self.outlet(outlet);
        let cables = bothends::walk::fed(self.registry(), outlet);
        let codes = cables
            .iter()
            .map(|cable| names::cable(self.registry(), *cable));
        codes.collect::<Vec<_>>().join(" ")
    }

    /// `KIT1-A: near marked KIT1-A, far landed B07`.
    pub(crate) fn state(&self, code: &str) -> String {
        self.state_of(self.cable(code))
    }

    pub(crate) fn state_of(&self, id: CableId) -> String {
        let registry = self.registry();
        let Some(cable) = registry.cables.get(id).filter(|row| !row.added.is_empty()) else {
            return "withdrawn".to_owned();
        };
        let mut text = names::cable(registry, id);
        if let Some(Standing::Cancelled { reason }) = cable.standing.get() {
            let _ = write!(text, " (cancelled: {reason})");
        }
        let copper = cable.copper(cable.pull(id));
        match copper.and_then(|copper| copper.outcome.get()) {
            None => {}
            Some(PullOutcome::Pulled) => text.push_str(", pulled"),
            Some(other) => {
                let _ = write!(text, ", {other:?}");
            }
        }
        let tests = copper.map_or(0, |copper| copper.tests.iter().count());
        if tests > 0 {
            let _ = write!(text, ", tested {tests}");
        }
        let near = self.end_state(id, cable, Side::Near);
        let far = self.end_state(id, cable, Side::Far);
        format!("{text}: near {near}, far {far}")
    }

    fn end_state(&self, id: CableId, cable: &Cable, side: Side) -> String {
        let mut words: Vec<String> = Vec::new();
        let plan = &cable.planned[side_index(side)];
        let parts = [None].into_iter().chain((1..=16).map(LegNumber::new));
        let empty = EndRecord::default();
        let record = cable.end(id, side).unwrap_or(&empty);
        let marks = record
            .marks
            .iter()
            .map(|said| format!("marked {}", said.value.text));
        words.extend(marks);
        words.extend(
            record
                .footage
                .iter()
                .map(|said| format!("at {}", said.value)),
        );
        words.extend(
            record
                .split
                .get()
                .map(|legs| format!("split {}", legs.get())),
        );
        for leg in parts {
            let name = leg
                .map(|leg| format!(".{} ", leg.get()))
                .unwrap_or_default();
            let planned = plan.get(leg).map(Register::distinct).unwrap_or_default();
            for place in planned.into_iter().flatten() {
                words.push(format!(
                    "{name}planned {}",
                    names::place(self.registry(), place)
                ));
            }
            let placed = record.placement.get(leg).map(Register::distinct);
            for placement in placed.unwrap_or_default() {
                words.push(name.clone() + &self.placement(placement));
            }
        }
        if words.is_empty() {
            "bare".to_owned()
        } else {
            words.join(" ")
        }
    }

    fn placement(&self, placement: &Placement) -> String {
        match placement {
            Placement::Landed { place, fitting } => {
                let with = match fitting {
                    Fitting::Plug => " with a plug",
                    Fitting::Direct => "",
                    Fitting::Adapter => " with adapter",
                };
                format!("landed {}{with}", names::place(self.registry(), place))
            }
            Placement::Lifted => "lifted".to_owned(),
            Placement::Spare { reason, .. } => format!("spare ({reason})"),
            Placement::Dead { reason } => format!("dead ({reason})"),
        }
    }

    /// How every cable stands that is in the job.
    pub(crate) fn cables(&self) -> Vec<String> {
        let cables = bothends::walk::cables(self.registry());
        cables
            .into_iter()
            .map(|cable| self.state_of(cable))
            .collect()
    }
}

fn one<T: Copy>(found: &[T], what: &str) -> T {
    assert_eq!(found.len(), 1, "{what} is found {} times", found.len());
    found[0]
}

pub(crate) fn room_code(code: &str) -> RoomCode {
    RoomCode::new(code).expect("a room code")
}

pub(crate) fn panel_letters(letters: &str) -> PanelLetters {
    PanelLetters::new(letters).expect("panel letters")
}

pub(crate) fn outlet_number(number: u8) -> OutletNumber {
    OutletNumber::new(number).expect("an outlet number")
}

pub(crate) fn letter(letter: &str) -> Letter {
    Letter::new(letter.chars().next().expect("a letter")).expect("a cable letter")
}
