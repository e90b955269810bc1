//! A job of any size for measuring: houses of rooms with data outlets, panels to match, most of it
//! marked and landed. It looks like a real one only as far as the work of the program goes.

use bothends::command::{Want, draft};
use bothends::domain::ids::{Bits80, CableId, JobId, PanelId, RackId, RoomId, ThingId, WriterId};
use bothends::domain::label::{PanelLetters, RoomCode, SpaceCode};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::Connector;
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::journal::{Journal, PanelMake, PanelSize, Signature, WallTime};
use bothends::walk;

/// The large job.
pub(crate) const JOB: JobId = JobId(Bits80(*b"LargeJob00"));

/// Cables of one data outlet, and outlets of one room.
const PER_OUTLET: usize = 2;
pub(super) const PER_ROOM: usize = 10;

/// The stored lines of a job with at least so many cables, the same for the same seed.
pub(crate) fn large_job(cables: usize, seed: u64) -> Vec<String> {
    let mut site = Site::new(seed);
    let rack = site.add::<RackId>(&Want::AddRack {
        space: SpaceCode::new(1, "A").expect("a space code"),
        name: "Main rack".to_owned(),
        room: None,
    });
    let outlets = cables.div_ceil(PER_OUTLET);
    for room in 0..outlets.div_ceil(PER_ROOM) {
        let in_room = PER_ROOM.min(outlets - room * PER_ROOM);
        site.add_room(room, in_room, rack);
    }
    for panel in 0..(outlets * PER_OUTLET).div_ceil(48) {
        site.add_panel(panel, rack);
    }
    site.work();
    site.lines
}

pub(super) struct Site {
    pub(super) journal: Journal,
    lines: Vec<String>,
    state: u64,
}

impl Site {
    pub(super) fn new(seed: u64) -> Self {
        Self {
            journal: Journal::new(JOB, WriterId(Bits80(*b"LargeWrite"))),
            lines: Vec::new(),
            state: seed,
        }
    }

    pub(super) fn act(&mut self, want: &Want) -> ThingId {
        let draft = draft(want, &self.journal)
            .unwrap_or_else(|refusal| panic!("{want:?}: {}", refusal.words));
        let id = ThingId::added_by(draft.id(), 0);
        let signature = Signature {
            by: "PW, blue phone".to_owned(),
            wall: WallTime(1_757_289_600_000 + u64::from(id.n) * 1_000),
        };
        let written = self
            .journal
            .write(draft, signature)
            .expect("numbers are left");
        self.lines.push(written.line);
        id
    }

    pub(super) fn add<I: From<ThingId>>(&mut self, want: &Want) -> I {
        I::from(self.act(want))
    }

    /// A number below `most`, by the splitmix64 step of Steele, Lea and Flood (2014).
    fn below(&mut self, most: u64) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (mixed ^ (mixed >> 31)) % most
    }

    fn add_room(&mut self, number: usize, outlets: usize, rack: RackId) {
        self.add_room_of("data", number, outlets, rack);
    }

    pub(super) fn add_room_of(&mut self, kind: &str, number: usize, outlets: usize, rack: RackId) {
        let room: RoomId = self.add(&Want::AddRoom {
            name: format!("Room {}", number + 1),
            code: RoomCode::new(&letters(number, 4)).expect("a room code"),
            floor: None,
            unit: None,
        });
        let kind = OutletKind::usual(kind).expect("a usual type");
        for outlet in 0..outlets {
            let purpose = format!("Desk {}", outlet + 1);
            self.act(&Want::AddOutlet {
                room,
                kind,
                purpose,
                rack: Some(rack),
            });
        }
    }

    fn add_panel(&mut self, number: usize, rack: RackId) {
        let make = PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(48).expect("a size"),
        };
        let letters = PanelLetters::new(&letters(number, 2)).expect("panel letters");
        let panel: PanelId = self.add(&Want::AddPanel {
            rack,
            make,
            letters,
            unit: None,
        });
        self.act(&Want::FillPanel { panel });
    }

    /// Of ten cables about nine are pulled and marked, eight landed at the rack.
    fn work(&mut self) {
        for cable in walk::cables(self.journal.registry()) {
            if self.below(10) == 0 {
                continue;
            }
            self.pull(cable);
            if self.below(9) > 0 {
                let ends = vec![End::whole(cable, Side::Far)];
                self.act(&Want::LandAsPlanned { ends });
            }
        }
    }

    fn pull(&mut self, cable: CableId) {
        let (cables, outcome) = (vec![cable], PullOutcome::Pulled);
        self.act(&Want::ReportPull { cables, outcome });
        let ends = Side::BOTH.map(|side| End::whole(cable, side));
        let length = 40 + u32::try_from(self.below(200)).unwrap_or(0);
        for (end, value) in ends.into_iter().zip([900, 900 - length]) {
            let mark = FootageMark {
                value,
                unit: LengthUnit::Feet,
            };
            self.act(&Want::ReadFootage { end, mark });
        }
        let ends = ends.to_vec();
        self.act(&Want::MarkEnds {
            ends,
            kind: MarkKind::Pen,
            copies: 2,
        });
    }
}

/// A number in capital letters, so many of them: AAAA, AAAB and so on.
pub(super) fn letters(number: usize, count: u32) -> String {
    let digit = |place| b'A' + u8::try_from(number / 26_usize.pow(place) % 26).unwrap_or(0);
    (0..count)
        .rev()
        .map(|place| char::from(digit(place)))
        .collect()
}
