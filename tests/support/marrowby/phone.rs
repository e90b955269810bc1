//! A phone of one of the two, with the things that are done over and over.

use std::collections::BTreeMap;

use bothends::command::{Want, draft};
use bothends::domain::ids::{
    ActId, Bits80, CableId, DeviceId, JointId, OutletId, PanelId, RackId, RoomId, ThingId, WriterId,
};
use bothends::domain::label::{
    Letter, OutletCode, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Fitting, Place, Placement, Position, RunName, Side};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::{CopperTest, EndRecord, Journal, Registry, Signature, Taken, WallTime};
use bothends::walk;
use sha2::{Digest as _, Sha256};

/// Midnight before the first Monday, 8 September 2025 (UTC), in milliseconds since 1970.
const MONDAY: u64 = 1_757_289_600_000;

/// What a full box and a full spool hold, in feet (common practice, no source).
const BOX: u32 = 1_000;
const SPOOL: u32 = 500;

pub(super) struct Phone {
    journal: Journal,
    by: &'static str,
    now: u64,
    /// The box in use for each medium, with what is left in it.
    boxes: BTreeMap<String, (u16, u32)>,
    next_box: u16,
}

impl Phone {
    pub(super) fn new(by: &'static str, first_box: u16) -> Self {
        Self {
            journal: Journal::new(super::JOB, WriterId(Bits80([0; 10]))),
            by,
            now: MONDAY,
            boxes: BTreeMap::new(),
            next_box: first_box,
        }
    }

    /// Opens the job for writing, which gives a new writer each time.
    pub(super) fn open(&mut self, when: &str, lines: &[String]) {
        self.journal = Journal::new(super::JOB, writer(self.by, when));
        self.take(lines);
    }

    pub(super) fn take(&mut self, lines: &[String]) {
        let taken = self.journal.take(lines.iter().map(String::as_str));
        let good =
            |taken: &Taken| matches!(taken, Taken::New(_) | Taken::Known(_) | Taken::Waits(_));
        assert!(
            taken.iter().all(good),
            "every line of the other can be taken in"
        );
    }

    pub(super) fn lines(&self) -> Vec<String> {
        self.journal
            .lines()
            .into_iter()
            .map(str::to_owned)
            .collect()
    }

    /// Sets the clock: days after the first Monday, hour and minute.
    pub(super) fn clock(&mut self, day: u64, hour: u64, minute: u64) {
        let time = MONDAY + ((day * 24 + hour) * 60 + minute) * 60_000;
        assert!(time >= self.now, "the clock of {} goes forward", self.by);
        self.now = time;
    }

    /// Does what a screen would do; a refusal is a mistake in this script.
    pub(super) fn act(&mut self, want: Want) -> ActId {
        let draft = draft(&want, &self.journal)
            .unwrap_or_else(|refusal| panic!("{want:?}: {}", refusal.words));
        // Nobody works like a clock: the pauses differ, but not from run to run.
        self.now += 20_000;
        let signature = Signature {
            by: self.by.to_owned(),
            // Whole minutes: the file is in every copy of the app, and seconds tell a reader nothing.
            wall: WallTime(self.now / 60_000 * 60_000),
        };
        self.journal
            .write(draft, signature)
            .expect("numbers are left")
            .id
    }

    /// Lets the minutes pass that the work itself takes.
    fn work(&mut self, minutes: u64) {
        self.now += minutes * 60_000;
    }

    /// Does something that adds a thing, and gives its id.
    pub(super) fn add<I: From<ThingId>>(&mut self, want: Want) -> I {
        I::from(ThingId::added_by(self.act(want), 0))
    }

    pub(super) fn registry(&self) -> &Registry {
        self.journal.registry()
    }
}

/// Finding things by what stands on them.
impl Phone {
    pub(super) fn room(&self, code: &str) -> RoomId {
        let key = RoomCode::new(code).expect("a room code");
        only(self.registry().index.rooms_by_code.get(&key), code)
    }

    pub(super) fn outlet(&self, code: &str) -> OutletId {
        let digits = code.trim_start_matches(|c: char| c.is_ascii_uppercase());
        let room = RoomCode::new(&code[..code.len() - digits.len()]).expect("a room code");
        let number = digits
            .parse()
            .ok()
            .and_then(OutletNumber::new)
            .expect("an outlet number");
        only(
            self.registry()
                .index
                .outlets_by_code
                .get(&OutletCode { room, number }),
            code,
        )
    }

    pub(super) fn cable(&self, code: &str) -> CableId {
        only(
            self.registry().index.cables_by_code.get(&code.to_owned()),
            code,
        )
    }

    pub(super) fn near(&self, code: &str) -> End {
        End::whole(self.cable(code), Side::Near)
    }

    pub(super) fn far(&self, code: &str) -> End {
        End::whole(self.cable(code), Side::Far)
    }

    pub(super) fn rack(&self, floor: u8) -> RackId {
        let space = SpaceCode::new(floor, "A").expect("a space code");
        only(self.registry().index.racks_by_space.get(&space), "rack")
    }

    pub(super) fn panel(&self, letters: &str) -> PanelId {
        let key = PanelLetters::new(letters).expect("panel letters");
        only(self.registry().index.panels_by_letters.get(&key), letters)
    }

    /// The rear of a position like `B07`.
    pub(super) fn rear(&self, code: &str) -> Place {
        Place::rear(self.position(code))
    }

    pub(super) fn position(&self, code: &str) -> Position {
        let (letters, number) = code.split_at(1);
        let number = number.parse().ok().and_then(PositionNumber::new);
        Position {
            panel: self.panel(letters),
            number: number.expect("a position number"),
        }
    }

    pub(super) fn device(&self, name: &str) -> DeviceId {
        let mut devices = self.registry().devices.iter();
        let found = devices.find(|(_, row)| row.name.get().is_some_and(|known| known == name));
        found.unwrap_or_else(|| panic!("no device {name}")).0
    }

    pub(super) fn joint(&self, name: &str) -> JointId {
        let mut joints = self.registry().joints.iter();
        let found = joints.find(|(_, row)| row.name.get().is_some_and(|known| known == name));
        found.unwrap_or_else(|| panic!("no joint {name}")).0
    }

    /// The cables that feed an outlet, by letter.
    pub(super) fn fed(&self, outlet: &str) -> Vec<CableId> {
        walk::fed(self.registry(), self.outlet(outlet))
    }

    /// The codes of all outlets of a room, by number.
    pub(super) fn outlets(&self, room: &str) -> Vec<String> {
        let outlets = walk::outlets(self.registry(), self.room(room));
        let code = |id: &OutletId| {
            self.registry()
                .outlet_code(*id)
                .map(|code| code.to_string())
        };
        outlets.iter().filter_map(code).collect()
    }

    fn letter(&self, cable: CableId) -> Letter {
        match self
            .registry()
            .cables
            .get(cable)
            .and_then(|row| row.name.get())
        {
            Some(RunName::Feeds { letter, .. }) => *letter,
            name => panic!("{name:?} has no letter"),
        }
    }

    fn medium(&self, cable: CableId) -> Medium {
        let row = self.registry().cables.get(cable).expect("a cable");
        row.medium.get().expect("a medium").clone()
    }
}

/// Things that are done over and over.
impl Phone {
    /// Pulls all cables of an outlet over about this length in feet.
    pub(super) fn pull(&mut self, outlet: &str, feet: u32) {
        let mut done: Vec<CableId> = Vec::new();
        let mut heads = Vec::new();
        for cable in self.fed(outlet) {
            if !done.contains(&cable) {
                heads.push(cable);
                done.extend(self.in_one_jacket(cable));
            }
        }
        self.act(Want::ReportPull {
            cables: heads.clone(),
            outcome: PullOutcome::Pulled,
        });
        self.work(4);
        for (place, cable) in (0..).zip(heads) {
            self.work(2);
            self.measure(cable, feet + place * 3 % 7);
        }
    }

    fn in_one_jacket(&self, cable: CableId) -> Vec<CableId> {
        let row = self.registry().cables.get(cable);
        match row.and_then(|row| row.jacket.get()) {
            Some(jacket) => self.registry().index.in_jacket.get(jacket).to_vec(),
            None => vec![cable],
        }
    }

    /// Notes the box and the length marks of a cable that is so long.
    pub(super) fn measure(&mut self, cable: CableId, feet: u32) {
        let medium = self.medium(cable);
        let full = if medium.is_category() { BOX } else { SPOOL };
        let current = self.boxes.get(&medium.key()).copied();
        let (number, left) = current.filter(|(_, left)| *left > feet).unwrap_or_else(|| {
            self.next_box += 1;
            (self.next_box - 1, full)
        });
        self.boxes.insert(medium.key(), (number, left - feet));
        self.act(Want::DrawFrom { cable, number });
        for (side, value) in [(Side::Near, left), (Side::Far, left - feet)] {
            let mark = FootageMark {
                value,
                unit: LengthUnit::Feet,
            };
            self.act(Want::ReadFootage {
                end: End::whole(cable, side),
                mark,
            });
        }
    }

    /// Writes the codes of an outlet on this side of its cables.
    pub(super) fn mark(&mut self, outlet: &str, side: Side, kind: MarkKind) {
        let ends = self
            .fed(outlet)
            .into_iter()
            .map(|cable| End::whole(cable, side));
        let copies = if kind == MarkKind::Pen { 2 } else { 1 };
        let ends = ends.collect();
        self.work(1);
        self.act(Want::MarkEnds { ends, kind, copies });
    }

    /// Lands the rack ends of an outlet where they are planned, and not yet landed.
    pub(super) fn land_home(&mut self, outlet: &str) {
        let waits = |cable: &CableId| {
            let row = self.registry().cables.get(*cable).expect("a cable");
            let record = row.end(*cable, Side::Far);
            let placed = record.and_then(|record| record.placement.whole.get());
            placed.is_none() && matches!(row.planned[1].whole.get(), Some(Some(_)))
        };
        let waiting = self.fed(outlet).into_iter().filter(waits);
        let ends: Vec<End> = waiting.map(|cable| End::whole(cable, Side::Far)).collect();
        if !ends.is_empty() {
            self.work(3 * ends.len() as u64);
            self.act(Want::LandAsPlanned { ends });
        }
    }

    /// Lands the wall ends of an outlet, each on the jack of its own letter.
    pub(super) fn land_wall(&mut self, outlet: &str) {
        let at = self.outlet(outlet);
        for cable in self.fed(outlet) {
            let place = Place::Jack {
                outlet: at,
                jack: self.letter(cable),
            };
            self.land(End::whole(cable, Side::Near), place);
        }
    }

    pub(super) fn land(&mut self, end: End, place: Place) -> ActId {
        self.work(3);
        self.act(Want::Land {
            end,
            place,
            fitting: Fitting::Direct,
        })
    }

    /// Whether both ends are terminated, whole or by legs.
    fn is_finished(&self, cable: CableId) -> bool {
        let row = self.registry().cables.get(cable).expect("a cable");
        let done = |record: &EndRecord| {
            let landed =
                |place: Option<&Placement>| matches!(place, Some(Placement::Landed { .. }));
            landed(record.placement.whole.get())
                || record.placement.legs.values().any(|leg| landed(leg.get()))
        };
        Side::BOTH
            .iter()
            .all(|side| row.end(cable, *side).is_some_and(done))
    }

    /// Proves the copper of the finished cables of an outlet, each in the way of its kind.
    pub(super) fn test(&mut self, outlet: &str) {
        for cable in self.fed(outlet) {
            if !self.is_finished(cable) {
                continue;
            }
            self.work(1);
            let medium = self.medium(cable);
            let (method, note) = match &medium.kind {
                Kind::Cat6Utp | Kind::Cat6Ftp | Kind::Cat6aFtp => (
                    TestMethod::Certification,
                    "Permanent link, result kept under the code",
                ),
                Kind::Fibre { .. } => (TestMethod::Continuity, "Light seen on every strand"),
                _ => (TestMethod::Continuity, ""),
            };
            self.tested(cable, method, TestOutcome::Passed, note);
        }
    }

    pub(super) fn tested(
        &mut self,
        cable: CableId,
        method: TestMethod,
        outcome: TestOutcome,
        note: &str,
    ) {
        let test = CopperTest {
            method,
            outcome,
            note: note.to_owned(),
        };
        self.act(Want::TestCable { cable, test });
    }
}

/// A writer that looks drawn at random and is the same every time.
fn writer(by: &str, when: &str) -> WriterId {
    let digest = Sha256::digest(format!("{by}, {when}"));
    let mut bits = [0; 10];
    bits.copy_from_slice(&digest[..10]);
    WriterId(Bits80(bits))
}

fn only<T: Copy + std::fmt::Debug>(found: &[T], what: &str) -> T {
    match found {
        [one] => *one,
        _ => panic!("{what} is {found:?}"),
    }
}
