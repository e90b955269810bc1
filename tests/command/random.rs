//! Whatever is wanted in whatever order: no panic, no silent double claim, no way out that leads
//! nowhere.

use std::cell::Cell;
use std::collections::BTreeMap;

use proptest::collection::vec;
use proptest::prelude::*;

use bothends::command::{Correction, Laid, Refusal, Want, draft};
use bothends::domain::ids::{ActId, CableId, ConduitId, OutletId, PanelId};
use bothends::domain::label::{LegNumber, Letter, PositionNumber};
use bothends::domain::medium::{Connector, Kind, Medium, Sharing};
use bothends::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{
    ConduitEnd, End, Face, Fitting, Place, Placement, Position, Side, TaggedPlace,
};
use bothends::domain::work::{Lying, MarkKind, PullOutcome};
use bothends::journal::{Act, Found, PanelMake, PanelSize, line_id};
use bothends::names;
use bothends::query::{What, check};
use bothends::walk;

use super::support::{Site, outlet_number, room_code};
use crate::support::seeds::runner;

/// Numbers from which one step is made: whoever acts, what, and with which things.
pub(super) type Step = [u8; 6];

/// Draws things of a site by number, so that steps mean something whatever was done before.
pub(super) struct Draw<'a> {
    pub(super) site: &'a Site,
    pub(super) step: Step,
}

impl Draw<'_> {
    fn of<T: Copy>(&self, things: &[T], place: usize) -> Option<T> {
        let count = things.len();
        (count > 0).then(|| things[usize::from(self.step[place]) % count])
    }

    fn number(&self, place: usize, below: u8) -> u8 {
        self.step[place] % below
    }

    fn cable(&self, place: usize) -> Option<CableId> {
        // The withdrawn ones too: a screen may be older than what another phone did.
        let mut all: Vec<_> = self
            .site
            .registry()
            .cables
            .iter()
            .map(|(id, _)| id)
            .collect();
        all.sort_unstable();
        self.of(&all, place)
    }

    fn outlet(&self, place: usize) -> Option<OutletId> {
        let mut all: Vec<_> = self
            .site
            .registry()
            .outlets
            .iter()
            .map(|(id, _)| id)
            .collect();
        all.sort_unstable();
        self.of(&all, place)
    }

    fn panel(&self, place: usize) -> Option<PanelId> {
        let mut all: Vec<_> = self
            .site
            .registry()
            .panels
            .iter()
            .map(|(id, _)| id)
            .collect();
        all.sort_unstable();
        // The last two of the mill: ports that take one end, and terminals that take several.
        self.of(&all[all.len().saturating_sub(2)..], place)
    }

    fn side(&self, place: usize) -> Side {
        if self.number(place, 4) == 0 {
            Side::Near
        } else {
            Side::Far
        }
    }

    fn end(&self, place: usize) -> Option<End> {
        let leg = match self.number(place + 1, 16) {
            low @ (0 | 4) => LegNumber::new(low / 4 + 1),
            _ => None,
        };
        Some(End {
            cable: self.cable(place)?,
            side: self.side(place + 1),
            leg,
        })
    }

    fn place(&self, place: usize) -> Option<Place> {
        let face = if self.number(place, 8) == 0 {
            Face::Front
        } else {
            Face::Rear
        };
        Some(match self.number(place + 1, 6) {
            0 => Place::Jack {
                outlet: self.outlet(place)?,
                jack: Letter::at(usize::from(self.number(place, 2)))?,
            },
            _ => Place::Position {
                position: Position {
                    panel: self.panel(place)?,
                    // Few positions, so that ends meet.
                    number: PositionNumber::new(u16::from(self.number(place + 1, 3)) + 1)?,
                },
                face,
            },
        })
    }

    /// A change of an outlet, with its tags as they are, kept on purpose, or new.
    fn tags(&self, change: Want) -> Want {
        let plain = change.clone();
        let change = Box::new(change);
        match self.number(4, 3) {
            0 => plain,
            1 => Want::WithOldTags { change },
            _ => Want::WithNewTags { change },
        }
    }

    fn how(&self, place: usize) -> Correction {
        if self.number(place, 2) == 0 {
            Correction::TagsMove
        } else {
            Correction::RecordChanges
        }
    }

    fn medium(&self, place: usize) -> Medium {
        Medium::indoor(
            [Kind::Cat6Utp, Kind::Rg6, Kind::Cat6Ftp][usize::from(self.number(place, 3))].clone(),
        )
    }

    /// Places that have tags, one of each kind.
    fn places(&self, place: usize) -> Vec<TaggedPlace> {
        let registry = self.site.registry();
        let conduits: Vec<ConduitId> = registry.conduits.iter().map(|(id, _)| id).collect();
        let outlet = self.outlet(place).map(TaggedPlace::Outlet);
        let panel = self.panel(place).map(TaggedPlace::Panel);
        let conduit = self.of(&conduits, place).map(TaggedPlace::Conduit);
        let rack = self.of(&walk::racks(registry), place);
        let rack = rack.map(TaggedPlace::Rack);
        let number = TaggedPlace::Box(u16::from(self.number(place, 3)) + 1);
        let places = [outlet, panel, conduit, rack, Some(number)];
        places.into_iter().flatten().collect()
    }

    /// Something about one of the conduits.
    fn conduit(&self) -> Option<Want> {
        let conduits = self.site.registry().conduits.iter();
        let mut all: Vec<ConduitId> = conduits.map(|(id, _)| id).collect();
        all.sort_unstable();
        let conduit = self.of(&all, 2);
        let lying = [Lying::In, Lying::Out][usize::from(self.number(4, 2))];
        let laid = Laid {
            ends: [
                ConduitEnd::Outlet(self.outlet(4)?),
                ConduitEnd::Words("Attic".to_owned()),
            ],
            size: String::new(),
            note: String::new(),
        };
        let number = u16::from(self.number(5, 4));
        Some(match self.number(3, 8) {
            0 => Want::LayConduit {
                conduit: None,
                number: None,
                laid,
            },
            1 | 2 => Want::LayConduit {
                conduit: conduit.filter(|_| self.number(1, 2) == 0),
                number: Some(number),
                laid,
            },
            3 => Want::CancelConduit {
                conduit: conduit?,
                reason: "It is so".to_owned(),
            },
            4 => Want::RestoreConduit { conduit: conduit? },
            5 if number == 0 => Want::RenumberConduit { conduit: conduit? },
            5 => Want::StringConduit {
                conduit: conduit?,
                lying,
            },
            _ => Want::PassConduit {
                cable: self.cable(5)?,
                conduit: conduit?,
                lying,
            },
        })
    }

    /// Something about what hangs in the racks.
    fn bench(&self) -> Option<Want> {
        let registry = self.site.registry();
        let rack = self.of(&walk::racks(registry), 2)?;
        let mount = Mount {
            rack,
            unit: (self.number(3, 9) > 0).then(|| self.number(3, 11)),
            height: Units::new(self.number(4, 3) + 1)?,
            face: [Face::Front, Face::Rear][usize::from(self.number(4, 5) / 4)],
        };
        let panels = registry.panels.iter().map(|(id, _)| Mountable::Panel(id));
        let blocks = registry.blocks.iter().map(|(id, _)| Mountable::Block(id));
        let mut all: Vec<Mountable> = panels.chain(blocks).collect();
        all.sort_unstable();
        let what = self.of(&all, 5)?;
        if self.number(2, 5) == 0 {
            return self.exchange(mount);
        }
        Some(match self.number(4, 9) {
            0 => Want::BuildRack {
                rack,
                build: match self.number(5, 4) {
                    0 => RackBuild::Board,
                    _ => RackBuild::Units(Units::new(self.number(5, 12) + 1)?),
                },
            },
            1 if self.number(4, 2) == 0 => Want::SwapLetters {
                one: self.panel(2)?,
                other: self.panel(5)?,
            },
            1 => Want::SizePanel {
                panel: self.panel(5)?,
                height: mount.height,
            },
            2..=4 => Want::AddBlock {
                kind: BlockKind::ALL[usize::from(self.number(5, 3))],
                name: String::new(),
                mount,
            },
            5 => Want::TakeOut { what },
            6 => Want::MakeRoom {
                change: Box::new(Want::Hang { what, mount }),
            },
            _ => Want::Hang { what, mount },
        })
    }

    /// Another panel in the place of one, or another name for what hangs in a rack.
    fn exchange(&self, mount: Mount) -> Option<Want> {
        let registry = self.site.registry();
        let mut blocks: Vec<_> = registry.blocks.iter().map(|(id, _)| id).collect();
        blocks.sort_unstable();
        let connectors = [
            Connector::Modular,
            Connector::ShieldedModular,
            Connector::F,
            Connector::SpeakerTerminal,
        ];
        Some(match self.number(3, 4) {
            0 => Want::RenameBlock {
                block: self.of(&blocks, 5)?,
                name: "Cover".to_owned(),
                mount: (self.number(4, 2) == 0).then_some(mount),
            },
            _ => Want::ReplacePanel {
                panel: self.panel(4)?,
                make: PanelMake {
                    connector: connectors[usize::from(self.number(5, 4))],
                    positions: PanelSize::new(u16::from(self.number(4, 7)) + 1)?,
                },
                fitting: [Fitting::Direct, Fitting::Adapter][usize::from(self.number(5, 3) / 2)],
            },
        })
    }

    pub(super) fn want(&self) -> Option<Want> {
        let end = self.end(2);
        let cables = || Some(vec![self.cable(2)?, self.cable(3)?]);
        let reason = || "It is so".to_owned();
        let rooms = walk::rooms(self.site.registry());
        let mut loose: Vec<_> = self
            .site
            .registry()
            .loose_ends
            .iter()
            .map(|(id, _)| id)
            .collect();
        loose.sort_unstable();
        Some(match self.number(1, 49) {
            0 => Want::AddOutlet {
                room: self.of(&rooms, 2)?,
                kind: OutletKind::usual(["data", "tv", "keypad"][usize::from(self.number(3, 3))])?,
                purpose: String::new(),
                rack: None,
            },
            1 => Want::CancelOutlet {
                outlet: self.outlet(2)?,
                reason: reason(),
            },
            2 if self.number(5, 4) != 0 => {
                let change = Want::MoveOutlet {
                    outlet: self.outlet(2)?,
                    room: self.of(&rooms, 3)?,
                    number: outlet_number(self.number(4, 9) + 1),
                };
                self.tags(change)
            }
            2 | 3 if self.number(5, 4) == 0 => {
                let change = Want::MergeOutlets {
                    from: self.outlet(2)?,
                    into: self.outlet(3)?,
                };
                self.tags(change)
            }
            3 if self.number(5, 4) == 1 => {
                let change = Want::SplitOutlet {
                    outlet: self.outlet(2)?,
                    cables: vec![self.cable(3)?],
                };
                self.tags(change)
            }
            3 => Want::AddCable {
                outlet: self.outlet(2)?,
                medium: self.medium(3),
                purpose: String::new(),
                rack: None,
            },
            4 => Want::CancelCable {
                cable: self.cable(2)?,
                reason: reason(),
            },
            5 => Want::RestoreCable {
                cable: self.cable(2)?,
            },
            6 => Want::Reletter {
                cable: self.cable(2)?,
                letter: Letter::at(usize::from(self.number(3, 6)))?,
            },
            7 => Want::RouteLocal {
                cable: self.cable(2)?,
                from: self.outlet(3)?,
            },
            8 => Want::ShareJacket {
                cables: cables()?,
                jacket: None,
            },
            9 => Want::ReportPull {
                cables: cables()?,
                outcome: PullOutcome::Pulled,
            },
            10 | 11 => Want::MarkEnds {
                ends: vec![end?],
                kind: MarkKind::Pen,
                copies: 1,
            },
            12 | 13 => Want::PlanEnd {
                end: end?,
                place: self.place(4),
            },
            14 if self.number(5, 2) == 0 => {
                let ends = [self.end(2)?, self.end(4)?];
                let place = |place| match place {
                    Place::Position { position, .. } => Some(position),
                    _ => None,
                };
                let positions = [place(self.place(4)?)?, place(self.place(2)?)?];
                Want::PlanEnds {
                    places: ends.into_iter().zip(positions).collect(),
                }
            }
            14 => Want::FillPanel {
                panel: self.panel(2)?,
            },
            15 => Want::LandAsPlanned {
                ends: vec![self.end(2)?, self.end(4)?],
            },
            16..=22 => Want::Land {
                end: end?,
                place: self.place(4)?,
                fitting: Fitting::Direct,
            },
            23 => Want::LandInstead {
                end: end?,
                place: self.place(4)?,
                fitting: Fitting::Direct,
            },
            24 => Want::Lift { end: end? },
            25 => Want::Dead {
                end: end?,
                reason: reason(),
            },
            26 if self.number(5, 3) == 0 => Want::JoinLegs { end: end? },
            26 => Want::SplitEnd {
                end: end?,
                legs: LegNumber::new(self.number(4, 4) + 1)?,
            },
            27 | 28 => Want::Uncross {
                ends: {
                    let cables = [self.cable(2)?, self.cable(3)?, self.cable(4)?];
                    let side = self.side(4);
                    let most = 2 + usize::from(self.number(5, 3) == 0);
                    let ends = cables.into_iter().take(most);
                    ends.map(|cable| End::whole(cable, side)).collect()
                },
                how: self.how(5),
            },
            29 | 30 => Want::CameOutAt {
                cable: self.cable(2)?,
                outlet: self.outlet(3)?,
                how: self.how(4),
            },
            31 => Want::Repull {
                cable: self.cable(2)?,
                reason: reason(),
            },
            32 if self.number(3, 4) == 0 => Want::RenumberLooseEnd {
                loose: self.of(&loose, 2)?,
            },
            32 if self.number(3, 4) == 1 => {
                let from = u16::from(self.number(4, 3)) + 1;
                let [from, to] = [from, from + 2].map(PositionNumber::new);
                let panels = self.site.registry().panels.iter();
                let mut panels: Vec<_> = panels.map(|(id, _)| id).collect();
                panels.sort_unstable();
                Want::NumberTails {
                    panel: self.of(&panels, 2)?,
                    stretch: [from?, to?],
                    note: reason(),
                }
            }
            32 => Want::AddLooseEnd {
                found: Found {
                    place: reason(),
                    ..Found::default()
                },
            },
            33 => {
                let loose = self.of(&loose, 4)?;
                let join = Box::new(Want::JoinLooseEnd { loose, end: end? });
                match self.number(2, 2) {
                    0 => Want::Toned { join },
                    _ => *join,
                }
            }
            34 => Want::JoinLooseEnds {
                near: self.of(&loose, 2)?,
                far: self.of(&loose, 3)?,
                outlet: self.outlet(4)?,
                medium: self.medium(5),
            },
            40 | 41 => Want::PrintTags {
                stock: reason(),
                tags: 3,
                set: self.number(5, 8),
                cables: cables()?,
                places: self.places(4),
                strips: vec![(self.panel(2)?, reason())],
            },
            42 => Want::FixPlaceTags {
                places: self.places(2),
            },
            43 | 44 => {
                let position = |place| match place {
                    Place::Position { position, .. } => Some(position),
                    _ => None,
                };
                let position = position(self.place(2)?)?;
                let to = match self.place(4)? {
                    Place::Position { position, .. } => Place::front(position),
                    _ => return None,
                };
                match self.number(5, 4) {
                    0 => Want::Patch { position, to: None },
                    1 => Want::PatchInstead { position, to },
                    _ => Want::Patch {
                        position,
                        to: Some(to),
                    },
                }
            }
            38 | 39 => self.conduit()?,
            45..=48 => self.bench()?,
            35 => Want::RecodeRoom {
                room: self.of(&rooms, 2)?,
                code: room_code(["KIT", "DIN", "GAL"][usize::from(self.number(3, 3))]),
            },
            _ => {
                let history = self.site.journal.history();
                // Mostly the latest acts, as people do.
                let act = history.iter().rev().nth(usize::from(self.number(2, 24)))?;
                Want::Undo { act: act.id }
            }
        })
    }
}

/// The places that take one end only and where several are landed.
fn double_claims(site: &Site) -> BTreeMap<Place, Vec<End>> {
    let landed = &site.registry().index.landed;
    let crowded = landed.crowded().filter(|(place, _)| takes_one(site, place));
    crowded
        .map(|(place, ends)| (place.clone(), ends.to_vec()))
        .collect()
}

/// The double claims that the act found, from a journal that holds nothing later.
fn double_claims_before(site: &Site, act: ActId) -> BTreeMap<Place, Vec<End>> {
    let mut earlier = Site::phone(3);
    let stamp = |id: ActId| site.journal.act(id).map(Act::stamp);
    let lines = site.journal.lines();
    let before = |line: &&str| line_id(line).and_then(stamp) < stamp(act);
    earlier.journal.take(lines.into_iter().filter(before));
    double_claims(&earlier)
}

/// The fronts and ports that more than one cord or cable is plugged into.
fn crowded_fronts(site: &Site) -> Vec<Place> {
    let findings = check(site.registry()).into_iter();
    let crowded = findings.filter_map(|finding| match finding.what {
        What::PatchedTwice { place, .. } => Some(place),
        _ => None,
    });
    crowded.collect()
}

/// A withdrawn panel is still what it was.
fn takes_one(site: &Site, place: &Place) -> bool {
    let Place::Position {
        position,
        face: Face::Rear,
    } = place
    else {
        return true;
    };
    let row = site.registry().panels.get(position.panel);
    row.and_then(|row| row.make.get().or_else(|| row.make.ever().next()))
        .is_none_or(|make| make.connector.sharing() == Sharing::Single)
}

/// The same from the rows themselves, without the index.
fn claims_in_rows(site: &Site) -> BTreeMap<Place, Vec<End>> {
    let mut claims: BTreeMap<Place, Vec<End>> = BTreeMap::new();
    for (cable, row) in site.registry().cables.iter() {
        for side in Side::BOTH {
            let Some(record) = row.end(cable, side) else {
                continue;
            };
            let legs = record
                .placement
                .legs
                .iter()
                .map(|(leg, placed)| (Some(*leg), placed));
            for (leg, placed) in legs.chain([(None, &record.placement.whole)]) {
                for placement in placed.distinct() {
                    if let Placement::Landed { place, .. } = placement {
                        let end = End { cable, side, leg };
                        claims.entry(place.clone()).or_default().push(end);
                    }
                }
            }
        }
    }
    for ends in claims.values_mut() {
        ends.sort_unstable();
        ends.dedup();
    }
    claims.retain(|place, ends| ends.len() > 1 && takes_one(site, place));
    claims
}

/// No two runs share a code.
fn double_codes(site: &Site) -> Vec<String> {
    let crowded = site.registry().index.cables_by_code.crowded();
    let mut codes: Vec<String> = crowded.map(|(code, _)| code.clone()).collect();
    codes.sort_unstable();
    codes
}

fn check_refusal(site: &mut Site, want: &Want, refusal: &Refusal, choice: u8) {
    assert!(refusal.words.ends_with('.'), "{want:?}: {}", refusal.words);
    assert!(!refusal.words.contains(".."), "{want:?}: {}", refusal.words);
    for way in &refusal.ways_out {
        assert_ne!(&*way.want, want, "{}", refusal.words);
        if let Err(again) = draft(&way.want, &site.journal) {
            panic!(
                "{want:?}: {} → {:?}: {}",
                refusal.words, way.want, again.words
            );
        }
    }
    if choice.is_multiple_of(2) && !refusal.ways_out.is_empty() {
        let way = usize::from(choice / 2) % refusal.ways_out.len();
        site.takes(refusal, way + 1);
    }
}

/// One step; whatever was wanted and done, no double claim came about by it. Only what an act
/// settled may come back with it.
fn takes_step(site: &mut Site, step: Step) {
    let Some(want) = (Draw { site, step }).want() else {
        return;
    };
    let before = double_claims(site);
    let cords = crowded_fronts(site);
    if let Err(refusal) = site.tries(&want) {
        check_refusal(site, &want, &refusal, step[0] / 16);
    }
    let after = double_claims(site);
    let settled = match want {
        Want::Undo { act } => double_claims_before(site, act),
        _ => BTreeMap::new(),
    };
    for (place, ends) in &after {
        let were = before.get(place).map_or(0, Vec::len);
        if settled
            .get(place)
            .is_some_and(|known| ends.iter().all(|end| known.contains(end)))
        {
            continue;
        }
        let here = names::place(site.registry(), place);
        assert!(
            ends.len() <= were.max(1),
            "{want:?} lands a second end at {here}"
        );
    }
    assert_eq!(after, claims_in_rows(site), "{want:?}");
    // What an act settled comes back when it is taken back.
    if !matches!(want, Want::Undo { .. }) {
        for front in crowded_fronts(site) {
            let here = names::place(site.registry(), &front);
            assert!(
                cords.contains(&front),
                "{want:?} plugs a second cord in at {here}"
            );
        }
    }
}

/// What hangs in each other's place, as the check says.
fn shared_units(site: &Site) -> usize {
    let findings = check(site.registry());
    let shared = findings
        .iter()
        .filter(|finding| matches!(finding.what, What::UnitsShared { .. }));
    shared.count()
}

fn runs_steps(cases: u32, steps: usize, check: impl Fn(Vec<Step>)) {
    let done = runner(cases).run(&vec(any::<Step>(), steps / 2..steps), |steps| {
        check(steps);
        Ok(())
    });
    if let Err(failure) = done {
        panic!("{failure}");
    }
}

pub(super) fn crowded_mill() -> Site {
    let mut site = Site::wired_mill();
    site.adds_outlet("KIT", "keypad");
    site.adds_panel("1A", "D", Connector::Modular, 4);
    site
}

#[test]
fn one_phone_alone_never_makes_a_double_claim() {
    runs_steps(200, 120, |steps| {
        let mut site = crowded_mill();
        for step in steps {
            takes_step(&mut site, step);
            assert!(double_claims(&site).is_empty());
        }
    });
}

#[test]
fn one_phone_alone_hangs_nothing_in_the_place_of_another() {
    let hung = Cell::new(0);
    runs_steps(100, 120, |steps| {
        let mut site = crowded_mill();
        for mut step in steps {
            step[1] = 45;
            let want = Draw { site: &site, step }.want();
            // What is built without rack units forgets none, and may be built with them again.
            let is_built = matches!(want, Some(Want::BuildRack { .. }));
            let before = shared_units(&site);
            takes_step(&mut site, step);
            assert!(is_built || shared_units(&site) <= before, "{want:?}");
        }
        hung.set(hung.get() + site.registry().hung().len());
    });
    assert!(hung.get() > 1_000, "hardly anything hung: {}", hung.get());
}

#[test]
fn two_phones_that_meet_now_and_then_show_every_double_claim() {
    let seen = Cell::new(0);
    runs_steps(200, 160, |steps| {
        let mut first = crowded_mill();
        let mut second = Site::phone(2);
        first.meets(&mut second);
        for step in steps {
            match step[0] % 16 {
                0 => first.meets(&mut second),
                1..=8 => takes_step(&mut first, step),
                _ => takes_step(&mut second, step),
            }
        }
        first.meets(&mut second);
        assert_eq!(double_claims(&first), claims_in_rows(&first));
        assert_eq!(double_claims(&first), double_claims(&second));
        seen.set(seen.get() + double_claims(&first).len());
    });
    assert!(
        seen.get() > 20,
        "the phones hardly ever disagreed: {}",
        seen.get()
    );
}

#[test]
fn one_phone_alone_never_gives_one_code_to_two_runs() {
    runs_steps(200, 120, |steps| {
        let mut site = crowded_mill();
        for step in steps {
            // Taking back a renaming may bring a code back that was given since; that is shown.
            let want = Draw { site: &site, step }.want();
            if !matches!(want, Some(Want::Undo { .. })) {
                takes_step(&mut site, step);
            }
            assert_eq!(double_codes(&site), Vec::<String>::new());
        }
    });
}
