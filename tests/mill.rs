//! A small job for these tests, done with commands as people do it.

use bothends::command::{Laid, Want, draft};
use bothends::domain::ids::{
    Bits80, CableId, ConduitId, JobId, OutletId, PanelId, RackId, RoomId, WriterId,
};
use bothends::domain::label::{
    OutletCode, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::Connector;
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{ConduitEnd, End, Fitting, Place, Position, Side};
use bothends::domain::work::Lying;
use bothends::journal::{Journal, PanelMake, PanelSize, Registry, Signature, WallTime};

use crate::support::tag_text::tag_text;

/// One phone's work on the mill.
pub(crate) struct Mill {
    pub(crate) journal: Journal,
}

impl Mill {
    /// A job with nothing in it.
    pub(crate) fn empty() -> Self {
        let job = JobId(Bits80(*b"Marrowby M"));
        Self {
            journal: Journal::new(job, WriterId(Bits80([1; 10]))),
        }
    }

    /// A kitchen and a pottery studio, a main rack `1A` with panel B of 24 jacks, panel C of eight F
    /// connectors and a block T of 12 terminals, the panels at units 20, 18 and 16.
    pub(crate) fn new() -> Self {
        let mut mill = Self::empty();
        mill.room("Kitchen", "KIT");
        mill.room("Kitchen store", "KITS");
        mill.rack(1, "A", "Main rack");
        mill.panel("1A", "B", Connector::Modular, 24, Some(20));
        mill.panel("1A", "C", Connector::F, 8, Some(18));
        mill.panel("1A", "T", Connector::AlarmTerminal, 12, Some(16));
        mill
    }

    /// Another phone, by its number, that knows all of it.
    pub(crate) fn phone(&self, number: u8) -> Self {
        let job = JobId(Bits80(*b"Marrowby M"));
        let mut phone = Self {
            journal: Journal::new(job, WriterId(Bits80([number; 10]))),
        };
        phone.hears(self);
        phone
    }

    /// Takes in what another phone knows.
    pub(crate) fn hears(&mut self, other: &Self) {
        let lines = other.journal.lines();
        let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
        self.journal.take(lines.iter().map(String::as_str));
    }

    pub(crate) fn registry(&self) -> &Registry {
        self.journal.registry()
    }

    /// Does what is wanted, which must not be refused.
    pub(crate) fn does(&mut self, want: &Want) {
        self.does_at(WallTime(1_772_409_600_000), want);
    }

    /// The same when the clock shows something else.
    pub(crate) fn does_at(&mut self, wall: WallTime, want: &Want) {
        let draft = draft(want, &self.journal)
            .unwrap_or_else(|refusal| panic!("{want:?} is refused: {}", refusal.words));
        let signature = Signature {
            by: "MW".to_owned(),
            wall,
        };
        self.journal.write(draft, signature).expect("a number");
    }

    /// Adds a conduit from somewhere to the cellar, with these cables in it.
    pub(crate) fn conduit(&mut self, from: &str, cables: &[&str]) -> ConduitId {
        self.does(&Want::LayConduit {
            conduit: None,
            number: None,
            laid: Laid {
                ends: [from, "the cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
                size: "25 mm".to_owned(),
                note: String::new(),
            },
        });
        let last = self.registry().next_conduit().expect("a number") - 1;
        let conduit = self.registry().conduits_numbered(last)[0];
        for cable in cables {
            self.does(&Want::PassConduit {
                cable: self.cable(cable),
                conduit,
                lying: Lying::In,
            });
        }
        conduit
    }

    pub(crate) fn room(&mut self, name: &str, code: &str) {
        self.does(&Want::AddRoom {
            name: name.to_owned(),
            code: RoomCode::new(code).expect("a code"),
            floor: None,
            unit: None,
        });
    }

    pub(crate) fn rack(&mut self, floor: u8, letter: &str, name: &str) {
        self.does(&Want::AddRack {
            space: SpaceCode::new(floor, letter).expect("a space"),
            name: name.to_owned(),
            room: None,
        });
    }

    pub(crate) fn panel(
        &mut self,
        rack: &str,
        letters: &str,
        connector: Connector,
        positions: u16,
        unit: Option<u8>,
    ) {
        self.does(&Want::AddPanel {
            rack: self.rack_id(rack),
            make: PanelMake {
                connector,
                positions: PanelSize::new(positions).expect("a size"),
            },
            letters: PanelLetters::new(letters).expect("letters"),
            unit,
        });
    }

    /// Adds outlets of a usual type to a room.
    pub(crate) fn outlets(&mut self, room: &str, kind: &str, count: usize) {
        for _ in 0..count {
            self.does(&Want::AddOutlet {
                room: self.room_id(room),
                kind: OutletKind::usual(kind).expect("a usual type"),
                purpose: String::new(),
                rack: None,
            });
        }
    }

    pub(crate) fn fill(&mut self, panel: &str) {
        let panel = self.panel_id(panel);
        self.does(&Want::FillPanel { panel });
    }

    pub(crate) fn land(&mut self, code: &str, position: &str) {
        self.does(&Want::Land {
            end: self.far(code),
            place: Place::rear(self.position(position)),
            fitting: Fitting::Direct,
        });
    }

    pub(crate) fn room_id(&self, code: &str) -> RoomId {
        let code = RoomCode::new(code).expect("a code");
        self.registry().index.rooms_by_code.get(&code)[0]
    }

    pub(crate) fn outlet_id(&self, room: &str, number: u8) -> OutletId {
        let code = OutletCode {
            room: RoomCode::new(room).expect("a code"),
            number: OutletNumber::new(number).expect("a number"),
        };
        self.registry().index.outlets_by_code.get(&code)[0]
    }

    pub(crate) fn cable(&self, code: &str) -> CableId {
        self.registry().index.cables_by_code.get(&code.to_owned())[0]
    }

    /// The text of the tag of a cable as it is printed now.
    pub(crate) fn tag_text(&self, code: &str) -> String {
        tag_text(&self.journal, self.cable(code))
    }

    pub(crate) fn far(&self, code: &str) -> End {
        End::whole(self.cable(code), Side::Far)
    }

    pub(crate) fn rack_id(&self, space: &str) -> RackId {
        let mut racks = self.registry().racks.iter();
        let is_it = |rack: &bothends::journal::Rack| {
            rack.space.get().is_some_and(|at| at.to_string() == space)
        };
        racks.find(|(_, rack)| is_it(rack)).expect("a rack").0
    }

    pub(crate) fn panel_id(&self, letters: &str) -> PanelId {
        let letters = PanelLetters::new(letters).expect("letters");
        self.registry().index.panels_by_letters.get(&letters)[0]
    }

    /// `B07`.
    pub(crate) fn position(&self, code: &str) -> Position {
        Position {
            panel: self.panel_id(&code[..1]),
            number: number(code[1..].parse().expect("a number")),
        }
    }
}

pub(crate) fn number(number: u16) -> PositionNumber {
    PositionNumber::new(number).expect("a number")
}
