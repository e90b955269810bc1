//! Small jobs told in a few words, one act a line, and their findings as words.
//!
//! A line that starts with `meanwhile` is done on a second phone, which knows what stands above
//! the first such line and nothing after it. `undo` takes back the act of the line it repeats.
//! A thing keeps the name that its first line gave it.

use std::collections::HashMap;

use bothends::domain::ids::{
    ActId, Bits80, BlockId, CableId, ConduitId, DeviceId, JacketId, JobId, LooseEndId, OutletId,
    PanelId, PictureId, PullId, RackId, RoomId, ThingId, WriterId,
};
use bothends::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::mount::{BlockKind, Mount, RackBuild, Units};
use bothends::domain::picture::{Digest, Shows};
use bothends::domain::place::{
    End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side,
};
use bothends::domain::work::{
    Availability, Lying, MarkKind, PullOutcome, Standing, TestMethod, TestOutcome,
};
use bothends::journal::{
    BlockFact, CableFact, ConduitFact, CopperTest, DeviceFact, Draft, EndFact, EndOfPull, Fact,
    JobFact, Journal, LooseEndFact, Mark, OutletFact, PanelFact, PanelMake, PanelSize, PictureFact,
    PullFact, PullRef, RackFact, Registry, RoomFact, Signature, WallTime,
};
use bothends::query::{Finding, Thing, What};

/// A job on one or two phones.
pub(super) struct Desk {
    phones: Vec<Journal>,
    names: HashMap<String, ThingId>,
    pulls: HashMap<CableId, PullId>,
    acts: HashMap<String, ActId>,
}

fn units(count: &str) -> Units {
    let count = count.parse().ok().and_then(Units::new);
    count.expect("a count of rack units")
}

fn journal(writer: u8) -> Journal {
    Journal::new(JobId(Bits80([9; 10])), WriterId(Bits80([writer; 10])))
}

/// Tells a story, one act a line, and brings the phones together.
pub(super) fn told(story: &str) -> Desk {
    let mut desk = Desk {
        phones: vec![journal(1)],
        names: HashMap::new(),
        pulls: HashMap::new(),
        acts: HashMap::new(),
    };
    for line in story.split([';', '\n']).map(str::trim) {
        match line.strip_prefix("meanwhile ") {
            _ if line.is_empty() => {}
            None => desk.tell(0, line),
            Some(line) => {
                if desk.phones.len() == 1 {
                    let mut second = journal(2);
                    second.take(desk.phones[0].lines());
                    desk.phones.push(second);
                }
                desk.tell(1, line);
            }
        }
    }
    if let [first, second] = desk.phones.as_mut_slice() {
        first.take(second.lines());
    }
    desk
}

impl Desk {
    /// What is known after the phones met.
    pub(super) fn registry(&self) -> &Registry {
        self.phones[0].registry()
    }

    fn tell(&mut self, phone: usize, line: &str) {
        let mut draft = self.phones[phone].draft();
        if let Some(earlier) = line.strip_prefix("undo ") {
            draft.strikes.push(self.acts[earlier]);
        } else {
            self.fill(&mut draft, line);
        }
        self.acts.insert(line.to_owned(), draft.id());
        let signature = Signature {
            by: "MW".to_owned(),
            wall: WallTime(0),
        };
        self.phones[phone].write(draft, signature).expect("a place");
    }

    fn adds<I: From<ThingId> + Into<ThingId> + Copy>(
        &mut self,
        draft: &mut Draft,
        name: &str,
    ) -> I {
        let id: I = draft.mint();
        self.names.insert(name.to_owned(), id.into());
        id
    }

    fn id<I: From<ThingId>>(&self, name: &str) -> I {
        let known = self.names.get(name);
        I::from(*known.unwrap_or_else(|| panic!("nobody told of {name}")))
    }

    fn mount(&self, rack: &str, unit: &str, height: &str, face: &str) -> Mount {
        Mount {
            rack: self.id(rack),
            unit: Some(unit.parse().expect("a unit")),
            height: units(height),
            face: match face {
                "rear" => Face::Rear,
                _ => Face::Front,
            },
        }
    }

    fn fill(&mut self, draft: &mut Draft, line: &str) {
        let words: Vec<&str> = line.split(' ').collect();
        match words.as_slice() {
            ["room", name] => {
                let room: RoomId = self.adds(draft, name);
                draft.push(Fact::Room(room, RoomFact::Added));
            }
            ["code", room, code] => {
                let code = RoomCode::new(code).expect("a code");
                draft.push(Fact::Room(self.id(room), RoomFact::Coded(code)));
            }
            ["order", room, place] => {
                let place = place.parse().expect("a number");
                draft.push(Fact::Room(self.id(room), RoomFact::Ordered(place)));
            }
            ["outlet", name] => {
                let outlet: OutletId = self.adds(draft, name);
                draft.push(Fact::Outlet(outlet, OutletFact::Added));
            }
            ["number", outlet, room, number] => {
                let number = OutletNumber::new(number.parse().expect("a number"));
                let fact = OutletFact::Numbered {
                    room: self.id(room),
                    number: number.expect("a number"),
                };
                draft.push(Fact::Outlet(self.id(outlet), fact));
            }
            ["rack", name] => {
                let rack: RackId = self.adds(draft, name);
                draft.push(Fact::Rack(rack, RackFact::Added));
            }
            ["space", rack, letter] => {
                let space = SpaceCode::new(1, letter).expect("a space");
                draft.push(Fact::Rack(self.id(rack), RackFact::InSpace(space)));
            }
            ["panel", letters, connector] => self.panel(draft, letters, letters, connector),
            ["panel", name, "lettered", letters] => self.panel(draft, name, letters, "8p8c"),
            ["mount", panel, rack] => {
                let fact = PanelFact::InRack(self.id(rack));
                draft.push(Fact::Panel(self.id(panel), fact));
            }
            ["at", panel, unit] => {
                let unit = Some(unit.parse().expect("a unit"));
                draft.push(Fact::Panel(self.id(panel), PanelFact::AtUnit(unit)));
            }
            ["high", panel, count] => {
                let high = PanelFact::High(units(count));
                draft.push(Fact::Panel(self.id(panel), high));
            }
            ["built", rack, how] => {
                let build = match *how {
                    "board" => RackBuild::Board,
                    count => RackBuild::Units(units(count)),
                };
                draft.push(Fact::Rack(self.id(rack), RackFact::Built(build)));
            }
            ["shelf", name, rack, unit, height, face] => {
                let block: BlockId = self.adds(draft, name);
                let mount = self.mount(rack, unit, height, face);
                draft.push(Fact::Block(block, BlockFact::Added(BlockKind::Shelf)));
                draft.push(Fact::Block(block, BlockFact::Mounted(mount)));
            }
            ["out", name] => {
                let reason = String::new();
                let out = BlockFact::Stands(Standing::Cancelled { reason });
                draft.push(Fact::Block(self.id(name), out));
            }
            ["hang", device, rack, unit, height, face] => {
                let mount = Some(self.mount(rack, unit, height, face));
                draft.push(Fact::Device(self.id(device), DeviceFact::Mounted(mount)));
            }
            ["keep", position, state] => {
                let reason = String::new();
                let kept = match *state {
                    "bad" => Availability::Bad { reason },
                    "reserved" => Availability::Reserved { reason },
                    _ => Availability::Open,
                };
                draft.push(Fact::PositionKept(self.position(position), kept));
            }
            ["patch", position, to] => {
                let to = (*to != "nothing").then(|| self.place(to));
                draft.push(Fact::PositionPatched(self.position(position), to));
            }
            ["device", name] => {
                let device: DeviceId = self.adds(draft, name);
                draft.push(Fact::Device(device, DeviceFact::Added));
            }
            ["loose", number] => {
                let loose: LooseEndId = self.adds(draft, &format!("loose {number}"));
                let number = number.parse().expect("a number");
                draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
            }
            ["conduit", number] => {
                let conduit: ConduitId = self.adds(draft, &format!("conduit {number}"));
                let number = number.parse().expect("a number");
                draft.push(Fact::Conduit(conduit, ConduitFact::Added { number }));
            }
            ["conduit", of, "is", to] => {
                let conduit = self.id(&format!("conduit {of}"));
                let number = to.parse().expect("a number");
                draft.push(Fact::Conduit(conduit, ConduitFact::Added { number }));
            }
            ["conduit", of, "cancelled"] => {
                let conduit = self.id(&format!("conduit {of}"));
                let reason = String::new();
                let cancelled = ConduitFact::Stands(Standing::Cancelled { reason });
                draft.push(Fact::Conduit(conduit, cancelled));
            }
            ["passes", cable, of] => {
                let passes = CableFact::PassesThrough {
                    conduit: self.id(&format!("conduit {of}")),
                    lying: Lying::In,
                };
                draft.push(Fact::Cable(self.id(cable), passes));
            }
            ["leaves", cable, "conduit", of] => {
                let passes = CableFact::PassesThrough {
                    conduit: self.id(&format!("conduit {of}")),
                    lying: Lying::Out,
                };
                draft.push(Fact::Cable(self.id(cable), passes));
            }
            ["picture", name] => {
                let picture: PictureId = self.adds(draft, name);
                let added = PictureFact::Added(Digest([1; 32]));
                draft.push(Fact::Picture(picture, added));
            }
            ["remark", name, note] => {
                let note = PictureFact::Noted((*note).to_owned());
                draft.push(Fact::Picture(self.id(name), note));
            }
            ["shows", name, outlet] => {
                let shows = PictureFact::Shows(Shows::Outlet(self.id(outlet)));
                draft.push(Fact::Picture(self.id(name), shows));
            }
            ["box", number, key] => {
                let number = number.parse().expect("a number");
                let medium = Medium::from_key(key);
                draft.push(Fact::Job(JobFact::BoxHolds { number, medium }));
            }
            ["renumber", number, to] => {
                let loose = self.id(&format!("loose {number}"));
                let number = to.parse().expect("a number");
                draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
            }
            ["join", number, cable, side] => {
                let end = End::whole(self.id(cable), self::side(side));
                let loose = self.id(&format!("loose {number}"));
                draft.push(Fact::LooseEnd(loose, LooseEndFact::Joined(end)));
            }
            ["cancel", name] => {
                let standing = Standing::Cancelled {
                    reason: String::new(),
                };
                draft.push(if name.contains('-') {
                    Fact::Cable(self.id(name), CableFact::Stands(standing))
                } else {
                    Fact::Outlet(self.id(name), OutletFact::Stands(standing))
                });
            }
            ["cable", name] => {
                let cable: CableId = self.adds(draft, name);
                self.pulls.insert(cable, PullId(cable.0));
                draft.push(Fact::Cable(cable, CableFact::Added));
            }
            ["feeds", cable, outlet, letter] => {
                let letter = letter.chars().next().and_then(Letter::new);
                let name = RunName::Feeds {
                    outlet: self.id(outlet),
                    letter: letter.expect("a letter"),
                };
                draft.push(Fact::Cable(self.id(cable), CableFact::Named(name)));
            }
            ["ties", cable, near, far] => {
                let name = RunName::Ties {
                    near: self.id(near),
                    far: self.id(far),
                    number: 1,
                };
                draft.push(Fact::Cable(self.id(cable), CableFact::Named(name)));
            }
            ["to", cable, place] => {
                let leaves = match *place {
                    "?" => Leaves::Rack(None),
                    rack if rack.starts_with("rack") => Leaves::Rack(Some(self.id(rack))),
                    outlet => Leaves::Outlet(self.id(outlet)),
                };
                draft.push(Fact::Cable(self.id(cable), CableFact::Leaves(leaves)));
            }
            ["made", cable, medium] => {
                let medium = Medium::from_key(medium).expect("a medium");
                draft.push(Fact::Cable(self.id(cable), CableFact::MadeOf(medium)));
            }
            ["jacket", jacket, cables @ ..] => {
                let jacket: JacketId = self.adds(draft, jacket);
                draft.push(Fact::JacketAdded(jacket));
                for cable in cables {
                    draft.push(Fact::Cable(self.id(cable), CableFact::InJacket(jacket)));
                }
            }
            ["repull", cable] => {
                let id = self.id(cable);
                let pull: PullId = draft.mint();
                self.pulls.insert(id, pull);
                let reason = String::new();
                draft.push(Fact::Cable(
                    id,
                    CableFact::Repulled {
                        pull,
                        reason,
                        known: None,
                    },
                ));
            }
            ["pull", cable, outcome] => {
                let outcome = match *outcome {
                    "short" => PullOutcome::Short,
                    "stuck" => PullOutcome::Stuck,
                    "damaged" => PullOutcome::Damaged,
                    _ => PullOutcome::Pulled,
                };
                let of = self.pull_of(self.id(cable));
                draft.push(Fact::Pull(of, PullFact::Reported(outcome)));
            }
            ["test", cable, outcome] => {
                let test = CopperTest {
                    method: if *outcome == "certified" {
                        TestMethod::Certification
                    } else {
                        TestMethod::WireMap
                    },
                    outcome: if *outcome == "failed" {
                        TestOutcome::Failed
                    } else {
                        TestOutcome::Passed
                    },
                    note: String::new(),
                };
                let of = self.pull_of(self.id(cable));
                draft.push(Fact::Pull(of, PullFact::Tested(test)));
            }
            ["kept", cable, tag, called] => {
                let (tag, called) = ((*tag).to_owned(), (*called).to_owned());
                let kept = CableFact::TagKept { tag, called };
                draft.push(Fact::Cable(self.id(cable), kept));
            }
            [verb, cable, side, rest @ ..] => {
                let fact = self.end_fact(verb, rest);
                draft.push(Fact::End(self.end(cable, side), fact));
            }
            _ => panic!("{line} means nothing"),
        }
    }

    fn panel(&mut self, draft: &mut Draft, name: &str, letters: &str, connector: &str) {
        let panel: PanelId = self.adds(draft, name);
        let make = PanelMake {
            connector: Connector::from_key(connector).expect("a connector"),
            positions: PanelSize::new(12).expect("a size"),
        };
        draft.push(Fact::Panel(panel, PanelFact::Added(make)));
        let letters = PanelLetters::new(letters).expect("letters");
        draft.push(Fact::Panel(panel, PanelFact::Lettered(letters)));
    }

    fn end_fact(&self, verb: &str, rest: &[&str]) -> EndFact {
        let reason = rest.join(" ");
        let place = || self.place(rest[0]);
        match verb {
            "plan" => EndFact::Planned(Some(place())),
            "land" => EndFact::Placed(Placement::Landed {
                place: place(),
                fitting: Fitting::Direct,
            }),
            "adapt" => EndFact::Placed(Placement::Landed {
                place: place(),
                fitting: Fitting::Adapter,
            }),
            "lift" => EndFact::Placed(Placement::Lifted),
            "spare" => EndFact::Placed(Placement::Spare {
                kept: String::new(),
                reason,
            }),
            "dead" => EndFact::Placed(Placement::Dead { reason }),
            "split" => {
                let legs = rest[0].parse().ok().and_then(LegNumber::new);
                EndFact::Split(legs.expect("a count of legs"))
            }
            "mark" | "print" => EndFact::Marked(Mark {
                kind: if verb == "mark" {
                    MarkKind::Pen
                } else {
                    MarkKind::Printed
                },
                copies: 3,
                text: reason,
            }),
            "lose" => EndFact::TagLost,
            "read" => EndFact::Footage(FootageMark {
                value: rest[0].parse().expect("a mark"),
                unit: match rest.get(1) {
                    Some(&"m") => LengthUnit::Metres,
                    _ => LengthUnit::Feet,
                },
            }),
            _ => panic!("{verb} means nothing"),
        }
    }

    fn pull_of(&self, cable: CableId) -> PullRef {
        PullRef {
            cable,
            pull: self.pulls[&cable],
        }
    }

    /// An end: `far`, or `far.2` for its second leg.
    fn end(&self, cable: &str, at: &str) -> EndOfPull {
        let (at, leg) = at.split_once('.').unwrap_or((at, ""));
        let cable = self.id(cable);
        EndOfPull {
            end: End {
                cable,
                side: side(at),
                leg: leg.parse().ok().and_then(LegNumber::new),
            },
            pull: self.pulls[&cable],
        }
    }

    /// A place: `B07`, `B07/front`, `jack:KIT1:A`, `switch:3`.
    fn place(&self, text: &str) -> Place {
        let parts: Vec<&str> = text.split(':').collect();
        match parts.as_slice() {
            ["jack", outlet, letter] => Place::Jack {
                outlet: self.id(outlet),
                jack: letter.chars().next().and_then(Letter::new).expect("a jack"),
            },
            [device, port] => Place::Device {
                device: self.id(device),
                port: (*port).to_owned(),
            },
            _ => match text.strip_suffix("/front") {
                Some(position) => Place::Position {
                    position: self.position(position),
                    face: Face::Front,
                },
                None => Place::rear(self.position(text)),
            },
        }
    }

    fn position(&self, text: &str) -> Position {
        let (panel, number) = text.split_at(text.len() - 2);
        let number = number.parse().ok().and_then(PositionNumber::new);
        Position {
            panel: self.id(panel),
            number: number.expect("a position"),
        }
    }
}

fn side(word: &str) -> Side {
    match word {
        "near" => Side::Near,
        "far" => Side::Far,
        _ => panic!("{word} is no side"),
    }
}

/// Findings in words: gate, heading, kind, what it names.
impl Desk {
    /// One finding.
    pub(super) fn words(&self, finding: &Finding) -> String {
        let outlet = finding.outlet.map_or("-", |outlet| self.name(outlet));
        let kind = format!("{:?}", finding.what);
        let kind = kind.split(' ').next().unwrap_or_default();
        let names = self.args(&finding.what);
        format!("{:?} {outlet} {kind} {names}", finding.gate)
    }

    fn name(&self, id: impl Into<ThingId>) -> &str {
        let id = id.into();
        let mut names = self.names.iter().filter(|(_, known)| **known == id);
        names.next().map_or("?", |(name, _)| name)
    }

    fn list<I: Into<ThingId> + Copy>(&self, ids: &[I]) -> String {
        let names: Vec<_> = ids.iter().map(|id| self.name(*id)).collect();
        names.join(" ")
    }

    fn end_words(&self, end: End) -> String {
        let side = match end.side {
            Side::Near => "near",
            Side::Far => "far",
        };
        let leg = end
            .leg
            .map_or(String::new(), |leg| format!(".{}", leg.get()));
        format!("{} {side}{leg}", self.name(end.cable))
    }

    fn position_words(&self, position: Position) -> String {
        format!("{}{:02}", self.name(position.panel), position.number.get())
    }

    fn place_words(&self, place: &Place) -> String {
        match place {
            Place::Jack { outlet, jack } => format!("jack:{}:{jack}", self.name(*outlet)),
            Place::Position { position, face } => {
                let face = match face {
                    Face::Rear => "",
                    Face::Front => "/front",
                };
                self.position_words(*position) + face
            }
            Place::Device { device, port } => format!("{}:{port}", self.name(*device)),
            Place::Joint { joint, way } => format!("{}:{way}", self.name(*joint)),
        }
    }

    fn claim(&self, place: &Place, ends: &[End]) -> String {
        let ends: Vec<_> = ends.iter().map(|end| self.end_words(*end)).collect();
        format!("{}: {}", self.place_words(place), ends.join(", "))
    }

    fn args(&self, what: &What) -> String {
        match what {
            What::DoubleClaim { place, ends } | What::PlannedTwice { place, ends } => {
                self.claim(place, ends)
            }
            What::PatchedTwice { place, from, ends } => {
                let from: Vec<_> = from.iter().map(|at| self.position_words(*at)).collect();
                format!("{} {}", self.claim(place, ends), from.join(" "))
            }
            What::EndAtTwoPlaces { end, places } => {
                let places: Vec<_> = places.iter().map(|place| self.place_words(place)).collect();
                format!("{}: {}", self.end_words(*end), places.join(", "))
            }
            What::CodeTwice { cables } => self.list(cables),
            What::OutletCodeTwice { outlets } => self.list(outlets),
            What::RoomCodeTwice { rooms } => self.list(rooms),
            What::PanelLettersTwice { panels } => self.list(panels),
            What::SpaceTwice { racks } => self.list(racks),
            What::JoinedTwice { end, loose } => {
                format!("{}: {}", self.end_words(*end), self.list(loose))
            }
            What::Disputed { thing, field } => format!("{} {field:?}", self.thing_words(*thing)),
            What::NoSuchPosition { end, position }
            | What::LandedOnBad { end, position }
            | What::LandedOnReserved { end, position }
            | What::Misfit { end, position } => {
                format!(
                    "{} {}",
                    self.end_words(*end),
                    self.position_words(*position)
                )
            }
            What::PullTrouble { cable, outcome } => format!("{} {outcome:?}", self.name(*cable)),
            What::MarksDiffer { cable }
            | What::CodeMoved { cable }
            | What::WorkOnWithdrawn { cable }
            | What::WorkOnCancelled { cable }
            | What::WorkAstray { cable }
            | What::MarksDoubtful { cable }
            | What::TestFailed { cable }
            | What::CableWithoutCode { cable }
            | What::CableWithoutMedium { cable }
            | What::NoRackChosen { cable }
            | What::LocalRunOpen { cable }
            | What::OutletGone { cable }
            | What::NotPulled { cable }
            | What::TooLong { cable }
            | What::NotVerified { cable } => self.name(*cable).to_owned(),
            What::OutletWithoutCables { outlet } | What::OutletWithoutRoom { outlet } => {
                self.name(*outlet).to_owned()
            }
            What::RoomWithoutCode { room } => self.name(*room).to_owned(),
            What::LooseNumberTwice { loose } => self.list(loose),
            What::ConduitNumberTwice { conduits } => self.list(conduits),
            What::UnitsShared { rack, face, things } => {
                let things: Vec<ThingId> = things.iter().map(|what| what.thing()).collect();
                format!("{} {face:?}: {}", self.name(*rack), self.list(&things))
            }
            What::OutsideRack { rack, thing } => {
                format!("{} {}", self.name(*rack), self.name(thing.thing()))
            }
            What::LooseEndOpen { loose } => self.name(*loose).to_owned(),
            What::EndDisputed { end }
            | What::NotMarked { end }
            | What::NotLanded { end }
            | What::SpareWithoutReason { end }
            | What::DeadWithoutReason { end } => self.end_words(*end),
        }
    }

    fn thing_words(&self, thing: Thing) -> String {
        match thing {
            Thing::Job => "job".to_owned(),
            Thing::End(end) => self.end_words(end),
            Thing::Position(position) => self.position_words(position),
            Thing::Unit(id) => self.name(id).to_owned(),
            Thing::Floor(id) => self.name(id).to_owned(),
            Thing::Room(id) => self.name(id).to_owned(),
            Thing::OutletType(id) => self.name(id).to_owned(),
            Thing::Outlet(id) => self.name(id).to_owned(),
            Thing::Cable(id) => self.name(id).to_owned(),
            Thing::Rack(id) => self.name(id).to_owned(),
            Thing::Panel(id) => self.name(id).to_owned(),
            Thing::Device(id) => self.name(id).to_owned(),
            Thing::Joint(id) => self.name(id).to_owned(),
            Thing::LooseEnd(id) => self.name(id).to_owned(),
            Thing::Picture(id) => self.name(id).to_owned(),
            Thing::Box(number) => format!("box {number}"),
            Thing::Conduit(id) => self.name(id).to_owned(),
            Thing::Block(id) => self.name(id).to_owned(),
            Thing::Passage(cable, conduit) => {
                format!("{} in {}", self.name(cable), self.name(conduit))
            }
        }
    }
}
