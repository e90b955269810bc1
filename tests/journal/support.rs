//! The one boundary between these tests and the journal: phones that write and hear each other,
//! and a merge that is always checked in every order at hand.

use std::fmt::{Debug, Write as _};
use std::hash::Hash;

use bothends::domain::ids::{
    ActId, Bits80, CableId, JobId, OutletId, PanelId, PullId, RackId, RoomId, ThingId, WriterId,
};
use bothends::domain::label::{
    Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::medium::Connector;
use bothends::domain::place::{End, Fitting, Place, Placement, Position, RunName, Side};
use bothends::journal::{
    Act, CableFact, EndFact, EndOfPull, Fact, FactRef, Health, Index, Journal, Lamport, Lookup,
    Mark, OutletFact, PanelFact, PanelMake, PanelSize, RackFact, Registry, RoomFact, Signature,
    WallTime, wire,
};

/// The job that all these tests are about.
pub(crate) fn job() -> JobId {
    JobId(Bits80(*b"Marrowby M"))
}

/// The writer of the phone with a number.
pub(crate) fn writer(number: u8) -> WriterId {
    WriterId(Bits80([number; 10]))
}

/// The act of a phone with a number.
pub(crate) fn act_id(phone: u8, n: u32) -> ActId {
    ActId {
        writer: writer(phone),
        n,
    }
}

/// One fact of an act.
pub(crate) fn fact_of(act: ActId, fact: u32) -> FactRef {
    FactRef { act, fact }
}

/// A phone with the job open for writing.
pub(crate) struct Phone {
    pub(crate) journal: Journal,
    /// What its clock shows next.
    pub(crate) wall: u64,
}

impl Phone {
    pub(crate) fn new(number: u8) -> Self {
        Self {
            journal: Journal::new(job(), writer(number)),
            wall: 1_700_000_000_000,
        }
    }

    /// A phone that has heard everything that another knows.
    pub(crate) fn beside(number: u8, other: &Self) -> Self {
        let mut phone = Self::new(number);
        phone.hears(other);
        phone
    }

    fn sign(&mut self) -> Signature {
        self.wall += 1_000;
        Signature {
            by: "J.D.".to_owned(),
            wall: WallTime(self.wall.min(Lamport::MAX.get())),
        }
    }

    /// Writes one act with these facts.
    pub(crate) fn writes(&mut self, facts: impl IntoIterator<Item = Fact>) -> ActId {
        let mut draft = self.journal.draft();
        draft.facts.extend(facts);
        let signature = self.sign();
        let written = self.journal.write(draft, signature);
        written.expect("the draft is of this phone's turn").id
    }

    /// Writes one act that takes others back.
    pub(crate) fn strikes(&mut self, acts: impl IntoIterator<Item = ActId>) -> ActId {
        let mut draft = self.journal.draft();
        draft.strikes.extend(acts);
        let signature = self.sign();
        let written = self.journal.write(draft, signature);
        written.expect("the draft is of this phone's turn").id
    }

    /// Writes one act that adds one thing; the first fact is made from the thing's id.
    pub(crate) fn adds<I: From<ThingId> + Copy>(
        &mut self,
        facts: impl FnOnce(I) -> Vec<Fact>,
    ) -> I {
        let mut draft = self.journal.draft();
        let id = draft.mint();
        draft.facts.extend(facts(id));
        let signature = self.sign();
        self.journal
            .write(draft, signature)
            .expect("the draft is of this phone's turn");
        id
    }

    pub(crate) fn hears(&mut self, other: &Self) {
        self.journal.take(other.journal.lines());
    }

    pub(crate) fn registry(&self) -> &Registry {
        self.journal.registry()
    }

    /// The id of the act last written.
    pub(crate) fn last(&self) -> ActId {
        let next = self.journal.draft().id();
        ActId {
            n: next.n - 1,
            ..next
        }
    }
}

/// Everything that may be seen of a journal, as values to compare.
#[derive(PartialEq, Eq, Debug)]
pub(crate) struct Picture {
    pub(crate) dump: String,
    pub(crate) lines: Vec<String>,
    pub(crate) health: Health,
    pub(crate) index: String,
    /// Acts that count, with those taken back set apart.
    pub(crate) history: Vec<String>,
}

impl Picture {
    pub(crate) fn of(journal: &Journal) -> Self {
        let history = journal.history().into_iter().map(|act| {
            let struck = if journal.is_struck(act.id) {
                " struck"
            } else {
                ""
            };
            format!("{:?}{struck}", act.id)
        });
        Self {
            dump: journal.registry().dump(),
            lines: journal.lines().into_iter().map(str::to_owned).collect(),
            health: journal.health(),
            index: index_text(&journal.registry().index),
            history: history.collect(),
        }
    }
}

/// The whole index as text that is the same for the same content.
pub(crate) fn index_text(index: &Index) -> String {
    fn table<K: Clone + Eq + Hash + Debug, V: Copy + Eq + Hash + Ord + Debug>(
        text: &mut String,
        name: &str,
        lookup: &Lookup<K, V>,
    ) {
        let mut rows: Vec<String> = lookup
            .keys()
            .map(|key| format!("{key:?} {:?}", lookup.get(key)))
            .collect();
        rows.sort();
        for row in rows {
            let _ = writeln!(text, "{name} {row}");
        }
    }
    let mut text = String::new();
    macro_rules! tables {
        ($($name:ident),* $(,)?) => {$(
            table(&mut text, stringify!($name), &index.$name);
        )*};
    }
    tables!(
        cables_by_code,
        outlets_by_code,
        rooms_by_code,
        racks_by_space,
        panels_by_letters,
        landed,
        planned,
        fed,
        out_to,
        outlets_in,
        panels_in,
        runs_to,
        in_jacket,
        loose_by_end,
    );
    text
}

/// A journal of its own that took these lines in one go.
pub(crate) fn taken<L: AsRef<str>>(lines: &[L]) -> Journal {
    let mut journal = Journal::new(job(), writer(250));
    journal.take(lines.iter().map(AsRef::as_ref));
    journal
}

/// A journal of its own that took these lines one by one.
pub(crate) fn taken_singly<L: AsRef<str>>(lines: &[L]) -> Journal {
    let mut journal = Journal::new(job(), writer(250));
    for line in lines {
        journal.take([line.as_ref()]);
    }
    journal
}

/// Merges bundles of lines, and checks that the mirrored merge, the repeated merge and the merge
/// line by line all give the same, and that no line is lost.
pub(crate) fn merged<L: AsRef<str>>(bundles: &[Vec<L>]) -> Journal {
    let lines: Vec<&str> = bundles.iter().flatten().map(AsRef::as_ref).collect();
    let mirrored: Vec<&str> = lines.iter().rev().copied().collect();

    let mut journal = Journal::new(job(), writer(250));
    for bundle in bundles {
        journal.take(bundle.iter().map(AsRef::as_ref));
    }
    let picture = Picture::of(&journal);

    assert_eq!(picture, Picture::of(&taken(&lines)), "all at once");
    assert_eq!(picture, Picture::of(&taken(&mirrored)), "mirrored");
    assert_eq!(picture, Picture::of(&taken_singly(&lines)), "line by line");
    assert_eq!(
        picture,
        Picture::of(&taken_singly(&mirrored)),
        "mirrored, line by line"
    );
    for bundle in bundles.iter().rev() {
        journal.take(bundle.iter().map(AsRef::as_ref));
    }
    assert_eq!(picture, Picture::of(&journal), "repeated");

    let mut expected: Vec<&str> = lines;
    expected.sort_unstable();
    expected.dedup();
    let mut kept = journal.lines();
    kept.sort_unstable();
    assert_eq!(expected, kept, "no line is lost and none is made up");
    journal
}

/// Merges what several phones know, with all the checks of [`merged`], and checks that each phone
/// that hears all others sees that same picture.
pub(crate) fn met(phones: &[&Phone]) -> Journal {
    let bundles: Vec<Vec<&str>> = phones.iter().map(|phone| phone.journal.lines()).collect();
    merged(&bundles)
}

/// The stored line of an act that no honest phone would write like this.
pub(crate) struct Raw(Act);

impl Raw {
    pub(crate) fn new(id: ActId, lamport: u64) -> Self {
        Self(Act {
            id,
            lamport: Lamport::new(lamport).expect("a counter in range"),
            wall: WallTime(1_700_000_000_000),
            by: "".into(),
            about: [].into(),
            replaces: [].into(),
            strikes: [].into(),
            facts: [].into(),
        })
    }

    pub(crate) fn facts(mut self, facts: impl IntoIterator<Item = Fact>) -> Self {
        for fact in facts {
            fact.mentions(&mut |thing| self.0.about.push(thing));
            self.0.facts.push(fact);
        }
        self
    }

    pub(crate) fn replaces(mut self, facts: impl IntoIterator<Item = FactRef>) -> Self {
        self.0.replaces.extend(facts);
        self
    }

    pub(crate) fn strikes(mut self, acts: impl IntoIterator<Item = ActId>) -> Self {
        self.0.strikes.extend(acts);
        self
    }

    pub(crate) fn line(self) -> String {
        wire::write(&self.0)
    }
}

/// A small part of Marrowby Mill: a kitchen with one outlet, one cable of it, and a rack with one
/// panel.
#[derive(Clone, Copy)]
pub(crate) struct Kitchen {
    pub(crate) room: RoomId,
    pub(crate) outlet: OutletId,
    pub(crate) cable: CableId,
    pub(crate) rack: RackId,
    pub(crate) panel: PanelId,
}

impl Kitchen {
    /// Each thing is added by an act of its own, with its name and code.
    pub(crate) fn wired_by(phone: &mut Phone) -> Self {
        let room = phone.adds(|room| {
            vec![
                Fact::Room(room, RoomFact::Added),
                Fact::Room(room, RoomFact::Named("Kitchen".to_owned())),
                Fact::Room(room, RoomFact::Coded(room_code("KIT"))),
            ]
        });
        let outlet = phone.adds(|outlet| {
            vec![
                Fact::Outlet(outlet, OutletFact::Added),
                numbered(outlet, room, 2),
            ]
        });
        let cable = phone.adds(|cable| cable_added(cable, outlet, 'C'));
        let rack = phone.adds(|rack| {
            vec![
                Fact::Rack(rack, RackFact::Added),
                Fact::Rack(rack, RackFact::InSpace(space("A"))),
            ]
        });
        let panel = phone.adds(|panel| panel_added(panel, rack, "B"));
        Self {
            room,
            outlet,
            cable,
            rack,
            panel,
        }
    }

    /// A further cable of the outlet.
    pub(crate) fn further(self, phone: &mut Phone, letter: char) -> CableId {
        phone.adds(|cable| cable_added(cable, self.outlet, letter))
    }

    pub(crate) fn position(self, number: u16) -> Position {
        Position {
            panel: self.panel,
            number: PositionNumber::new(number).expect("a position"),
        }
    }
}

pub(crate) fn room_code(text: &str) -> RoomCode {
    RoomCode::new(text).expect("a room code")
}

pub(crate) fn space(letters: &str) -> SpaceCode {
    SpaceCode::new(1, letters).expect("a space code")
}

pub(crate) fn letter(letter: char) -> Letter {
    Letter::new(letter).expect("a cable letter")
}

pub(crate) fn numbered(outlet: OutletId, room: RoomId, number: u8) -> Fact {
    let number = OutletNumber::new(number).expect("an outlet number");
    Fact::Outlet(outlet, OutletFact::Numbered { room, number })
}

pub(crate) fn feeds(cable: CableId, outlet: OutletId, code: char) -> Fact {
    let letter = letter(code);
    Fact::Cable(cable, CableFact::Named(RunName::Feeds { outlet, letter }))
}

fn cable_added(cable: CableId, outlet: OutletId, code: char) -> Vec<Fact> {
    vec![
        Fact::Cable(cable, CableFact::Added),
        feeds(cable, outlet, code),
    ]
}

pub(crate) fn panel_added(panel: PanelId, rack: RackId, letters: &str) -> Vec<Fact> {
    let make = PanelMake {
        connector: Connector::Modular,
        positions: PanelSize::new(24).expect("a size"),
    };
    let letters = PanelLetters::new(letters).expect("panel letters");
    vec![
        Fact::Panel(panel, PanelFact::Added(make)),
        Fact::Panel(panel, PanelFact::InRack(rack)),
        Fact::Panel(panel, PanelFact::Lettered(letters)),
    ]
}

/// A fact about a whole end of the first pull.
pub(crate) fn at_end(cable: CableId, side: Side, fact: EndFact) -> Fact {
    on_pull(cable, PullId(cable.0), side, fact)
}

/// A fact about a whole end of some pull.
pub(crate) fn on_pull(cable: CableId, pull: PullId, side: Side, fact: EndFact) -> Fact {
    let end = End::whole(cable, side);
    Fact::End(EndOfPull { end, pull }, fact)
}

pub(crate) fn landed(position: Position) -> EndFact {
    EndFact::Placed(Placement::Landed {
        place: Place::rear(position),
        fitting: Fitting::Direct,
    })
}

pub(crate) fn marked(text: &str) -> EndFact {
    EndFact::Marked(Mark {
        kind: bothends::domain::work::MarkKind::Pen,
        copies: 2,
        text: text.to_owned(),
    })
}
