//! One fact about something on the site, lawful or not. `pick` chooses what it is about and
//! `dice` what it says, so that two people can be made to speak of the same thing.

use bothends::domain::ids::{ActId, Bits80, WriterId};
use bothends::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::mount::{BlockKind, Mount, RackBuild, Units};
use bothends::domain::outlet_type::{OutletKind, UsualType};
use bothends::domain::picture::{Point, Seen, Shows, Spotted};
use bothends::domain::place::{
    ConduitEnd, End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side,
};
use bothends::domain::work::{
    Availability, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot, Standing,
    TestMethod, TestOutcome, Waiting, WaitsFor, WallBox,
};
use bothends::journal::{
    BlockFact, CableFact, ConduitFact, CopperTest, Cover, CoverOk, DeviceFact, Draft, EndFact,
    EndOfPull, Fact, FloorFact, Found, JobFact, JointFact, LooseEndFact, Mark, OutletFact,
    OutletTypeFact, PanelFact, PanelMake, PanelSize, PictureFact, PullFact, PullRef, RackFact,
    RoomFact, UnitFact,
};

use super::Dice;
use super::site::{CableOnSite, Site};

/// Puts one fact into the draft.
pub(super) fn one(site: &mut Site, draft: &mut Draft, pick: &mut Dice, dice: &mut Dice) {
    let fact = match pick.below(115) {
        0..45 => end(site, pick, dice),
        45..58 => pull(site, pick, dice),
        58..72 => return cable(site, draft, pick, dice),
        72..80 => outlet(site, pick, dice),
        80..84 => room(site, pick, dice),
        84..91 => rack_or_panel(site, pick, dice),
        91..96 => loose_end(site, pick, dice),
        100..106 => conduit(site, pick, dice),
        106..114 => bench(site, pick, dice),
        _ => other(site, pick, dice),
    };
    draft.push(fact);
}

fn small(dice: &mut Dice, limit: u8) -> u8 {
    u8::try_from(1 + dice.below(usize::from(limit))).expect("a small number")
}

fn words(dice: &mut Dice) -> String {
    dice.of(&["Mill", "Loft", "Pottery"]).to_owned()
}

fn order(dice: &mut Dice) -> String {
    dice.of(&["", "CO 7", "CO 12"]).to_owned()
}

fn standing(dice: &mut Dice) -> Standing {
    if dice.percent(60) {
        Standing::Cancelled {
            reason: words(dice),
        }
    } else {
        Standing::Wanted
    }
}

/// A medium of the usual ones that the reference has in its table.
pub(super) fn medium(dice: &mut Dice) -> Medium {
    let keys = [
        "cat6-utp",
        "cat6-utp",
        "cat6-ftp",
        "cat6a-ftp",
        "rg6",
        "rg59",
        "speaker-16-4",
        "control-18-4",
        "shade-data",
        "fibre-2",
        "own:bell wire",
    ];
    Medium::from_key(dice.of(&keys)).expect("a medium")
}

/// The space of a rack.
pub(super) fn space(dice: &mut Dice) -> SpaceCode {
    SpaceCode::new(small(dice, 3), dice.of(&["A", "B"])).expect("a space")
}

/// The letters of a panel.
pub(super) fn letters(dice: &mut Dice) -> PanelLetters {
    let letters = dice.of(&["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "AA"]);
    PanelLetters::new(letters).expect("letters")
}

/// The kind of a joint.
pub(super) fn joint_kind(dice: &mut Dice) -> JointKind {
    dice.of(&[JointKind::Splice, JointKind::Barrel, JointKind::Splitter])
}

fn a_cable<'s>(site: &'s Site, pick: &mut Dice) -> &'s CableOnSite {
    &site.cables[pick.below(site.cables.len())]
}

fn any_end(site: &Site, pick: &mut Dice) -> EndOfPull {
    let cable = a_cable(site, pick);
    let leg = if pick.percent(15) {
        LegNumber::new(small(pick, 3))
    } else {
        None
    };
    EndOfPull {
        end: End {
            cable: cable.id,
            side: pick.of(&Side::BOTH),
            leg,
        },
        pull: if pick.percent(85) {
            *cable.pulls.last().expect("a pull")
        } else {
            pick.of(&cable.pulls)
        },
    }
}

fn position(site: &Site, dice: &mut Dice) -> Position {
    let number = if dice.percent(4) {
        13 + dice.below(3)
    } else {
        1 + dice.below(12)
    };
    let number = u16::try_from(number).expect("a small number");
    Position {
        panel: dice.of(&site.panels),
        number: PositionNumber::new(number).expect("a position"),
    }
}

fn place(site: &Site, dice: &mut Dice) -> Place {
    match dice.below(10) {
        0 => Place::Device {
            device: dice.of(&site.devices),
            port: dice.of(&["1", "2", "LAN"]).to_owned(),
        },
        1 => Place::Joint {
            joint: dice.of(&site.joints),
            way: small(dice, 3),
        },
        2..5 => Place::Jack {
            outlet: dice.of(&site.outlets),
            jack: Letter::at(dice.below(3)).expect("a letter"),
        },
        _ => Place::Position {
            position: position(site, dice),
            face: if dice.percent(90) {
                Face::Rear
            } else {
                Face::Front
            },
        },
    }
}

fn placement(site: &Site, dice: &mut Dice) -> Placement {
    let reason = dice.of(&["", " ", "for later", "not needed"]).to_owned();
    match dice.below(10) {
        0 => Placement::Lifted,
        1 => Placement::Spare {
            kept: "behind the plate".to_owned(),
            reason,
        },
        2 => Placement::Dead { reason },
        _ => Placement::Landed {
            place: place(site, dice),
            fitting: if dice.percent(80) {
                Fitting::Direct
            } else {
                Fitting::Adapter
            },
        },
    }
}

fn end(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let of = any_end(site, pick);
    let cables = &site.cables;
    let known = cables.iter().find(|cable| cable.id == of.end.cable);
    let code = &known.expect("a cable of the site").code;
    let fact = match pick.below(23) {
        0..8 => EndFact::Placed(placement(site, dice)),
        8..11 => EndFact::Planned(dice.percent(90).then(|| place(site, dice))),
        11..16 => {
            let text = if dice.percent(92) {
                code.clone()
            } else {
                a_cable(site, dice).code.clone()
            };
            EndFact::Marked(Mark {
                kind: dice.of(&[MarkKind::Pen, MarkKind::Printed, MarkKind::Fixed]),
                copies: 3,
                text,
            })
        }
        16 => EndFact::TagLost,
        17 => EndFact::Seen { at: words(dice) },
        18..22 => EndFact::Footage(FootageMark {
            value: dice.of(&[120, 120, 425, 700, 1100, 1100]),
            unit: dice.of(&[
                LengthUnit::Feet,
                LengthUnit::Feet,
                LengthUnit::Feet,
                LengthUnit::Feet,
                LengthUnit::Metres,
            ]),
        }),
        _ => EndFact::Split(LegNumber::new(small(dice, 3)).expect("a leg")),
    };
    Fact::End(of, fact)
}

fn pull(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let EndOfPull { end, pull } = any_end(site, pick);
    let of = PullRef {
        cable: end.cable,
        pull,
    };
    let fact = match pick.below(10) {
        0..5 => PullFact::Reported(dice.of(&[
            PullOutcome::Pulled,
            PullOutcome::Pulled,
            PullOutcome::Pulled,
            PullOutcome::Short,
            PullOutcome::Stuck,
            PullOutcome::Damaged,
        ])),
        5 => PullFact::DrawnFrom(u16::from(small(dice, 3))),
        _ => PullFact::Tested(CopperTest {
            method: dice.of(&[
                TestMethod::WireMap,
                TestMethod::WireMap,
                TestMethod::Certification,
            ]),
            outcome: if dice.percent(70) {
                TestOutcome::Passed
            } else {
                TestOutcome::Failed
            },
            note: String::new(),
        }),
    };
    Fact::Pull(of, fact)
}

fn cable(site: &mut Site, draft: &mut Draft, pick: &mut Dice, dice: &mut Dice) {
    let at = pick.below(site.cables.len());
    let id = site.cables[at].id;
    let fact = match pick.below(12) {
        11 => CableFact::TagKept {
            tag: site.cables[at].code.clone(),
            called: a_cable(site, dice).code.clone(),
        },
        10 => CableFact::ChangeOrdered(order(dice)),
        0 => {
            let racks = &site.racks;
            let number = u16::from(small(dice, 3));
            CableFact::Named(if dice.percent(85) {
                RunName::Feeds {
                    outlet: dice.of(&site.outlets),
                    letter: Letter::at(dice.below(4)).expect("a letter"),
                }
            } else {
                RunName::Ties {
                    near: dice.of(racks),
                    far: dice.of(racks),
                    number,
                }
            })
        }
        1 => CableFact::Leaves(match dice.below(4) {
            0 => Leaves::Rack(None),
            1 => Leaves::Outlet(dice.of(&site.outlets)),
            _ => Leaves::Rack(Some(dice.of(&site.racks))),
        }),
        2 => CableFact::MadeOf(medium(dice)),
        3 => CableFact::Purposed(words(dice)),
        4 | 5 => CableFact::InJacket(dice.of(&site.jackets)),
        6 => CableFact::Stands(standing(dice)),
        7 => {
            let known = known(dice);
            let reason = words(dice);
            CableFact::Cancelled { reason, known }
        }
        8 => CableFact::KnownAs(words(dice)),
        _ => {
            let pull = draft.mint();
            site.cables[at].pulls.push(pull);
            let reason = words(dice);
            let known = dice.percent(50).then(|| known(dice));
            CableFact::Repulled {
                pull,
                reason,
                known,
            }
        }
    };
    draft.push(Fact::Cable(id, fact));
}

fn outlet(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let fact = match pick.below(12) {
        0 | 1 => OutletFact::Numbered {
            room: dice.of(&site.rooms),
            number: OutletNumber::new(small(dice, 9)).expect("a number"),
        },
        2 => OutletFact::Typed(if dice.percent(50) {
            OutletKind::Own(dice.of(&site.types))
        } else {
            let usual = UsualType::all();
            OutletKind::Usual(usual[dice.below(usual.len())].key)
        }),
        3 => OutletFact::Purposed(words(dice)),
        4 => OutletFact::Placed(Spot {
            wall: words(dice),
            ..Spot::default()
        }),
        5 => OutletFact::Boxed(dice.of(&[WallBox::Gangs(1), WallBox::Gangs(2), WallBox::Ring])),
        6 => OutletFact::Stands(standing(dice)),
        7 => OutletFact::Slack(Slack {
            length: None,
            place: words(dice),
        }),
        8 => OutletFact::Waits(Waiting {
            whom: dice.of(&[WaitsFor::Hold, WaitsFor::Client]),
            words: words(dice),
        }),
        9 => OutletFact::ChangeOrdered(order(dice)),
        _ => OutletFact::Noted(words(dice)),
    };
    Fact::Outlet(pick.of(&site.outlets), fact)
}

fn room(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let fact = match pick.below(6) {
        5 => RoomFact::Covering(match (dice.below(3), words(dice)) {
            (0, note) => Cover::Ok(CoverOk {
                counted: 0,
                checks: Vec::new(),
                note,
                known: Vec::new(),
            }),
            (_, reason) => Cover::NotYet { reason },
        }),
        0 => RoomFact::Named(words(dice)),
        1 => RoomFact::Coded(RoomCode::new(&dice.of(&site.codes)).expect("a code")),
        2 => RoomFact::OnFloor(dice.of(&site.floors)),
        3 => RoomFact::InUnit(dice.of(&site.units)),
        _ => RoomFact::Ordered(u32::from(small(dice, 5))),
    };
    Fact::Room(pick.of(&site.rooms), fact)
}

fn rack_or_panel(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let (rack, panel) = (pick.of(&site.racks), pick.of(&site.panels));
    match pick.below(14) {
        0 => Fact::Rack(rack, RackFact::InSpace(space(dice))),
        1 => Fact::Rack(rack, RackFact::Named(words(dice))),
        2 => Fact::Rack(rack, RackFact::InRoom(dice.of(&site.rooms))),
        3 => Fact::Panel(panel, PanelFact::InRack(dice.of(&site.racks))),
        4 => Fact::Panel(panel, PanelFact::Lettered(letters(dice))),
        5 => Fact::Panel(panel, PanelFact::AtUnit(Some(small(dice, 9)))),
        6 => Fact::Panel(panel, PanelFact::Purposed(words(dice))),
        7 => Fact::Panel(
            panel,
            PanelFact::Added(PanelMake {
                connector: dice.of(&[Connector::Modular, Connector::F, Connector::PunchBlock]),
                positions: PanelSize::new(u16::from(small(dice, 12))).expect("a size"),
            }),
        ),
        8 | 9 => {
            let patched = Position {
                panel,
                ..position(site, pick)
            };
            let to = match dice.below(6) {
                0 => None,
                1 | 2 => Some(Place::front(position(site, dice))),
                _ => Some(Place::Device {
                    device: dice.of(&site.devices),
                    port: dice.of(&["1", "2", "LAN"]).to_owned(),
                }),
            };
            Fact::PositionPatched(patched, to)
        }
        _ => Fact::PositionKept(
            Position {
                panel,
                ..position(site, pick)
            },
            match dice.below(3) {
                0 => Availability::Open,
                1 => Availability::Reserved {
                    reason: words(dice),
                },
                _ => Availability::Bad {
                    reason: words(dice),
                },
            },
        ),
    }
}

/// Few rack units, so that things hang in each other's place.
fn bench(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let block = pick.of(&site.blocks);
    let units = |dice: &mut Dice, most| Units::new(small(dice, most)).expect("a few");
    let mount = |dice: &mut Dice| Mount {
        rack: dice.of(&site.racks),
        unit: dice
            .percent(90)
            .then(|| small(dice, 4) - u8::from(dice.percent(4))),
        height: units(dice, 3),
        face: dice.of(&[Face::Front, Face::Front, Face::Rear]),
    };
    match pick.below(10) {
        0 => {
            let build = match dice.below(5) {
                0 => RackBuild::Board,
                1 => RackBuild::Enclosure,
                _ => RackBuild::Units(units(dice, 8)),
            };
            Fact::Rack(pick.of(&site.racks), RackFact::Built(build))
        }
        1 => {
            let high = PanelFact::High(units(dice, 3));
            Fact::Panel(pick.of(&site.panels), high)
        }
        2 | 3 => {
            let mounted = dice.percent(85).then(|| mount(dice));
            Fact::Device(pick.of(&site.devices), DeviceFact::Mounted(mounted))
        }
        4..=6 => Fact::Block(block, BlockFact::Mounted(mount(dice))),
        7 => Fact::Block(block, BlockFact::Stands(standing(dice))),
        8 => Fact::Block(block, BlockFact::Named(words(dice))),
        _ => Fact::Block(block, BlockFact::Added(dice.of(&BlockKind::ALL))),
    }
}

fn loose_end(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let fact = match pick.below(6) {
        0 => LooseEndFact::Added {
            // Few numbers, so that two loose ends have one.
            number: u16::from(small(dice, 3)),
        },
        1 => LooseEndFact::Found(Box::new(Found {
            place: words(dice),
            ..Found::default()
        })),
        2 => LooseEndFact::Parted,
        _ => LooseEndFact::Joined(End::whole(
            // Few cables, so that two loose ends meet at one end.
            site.cables[dice.below(4)].id,
            dice.of(&Side::BOTH),
        )),
    };
    Fact::LooseEnd(pick.of(&site.loose), fact)
}

fn conduit(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let conduit = pick.of(&site.conduits);
    let lying = dice.of(&[Lying::In, Lying::Out]);
    let fact = match pick.below(8) {
        0 => ConduitFact::Added {
            // Few numbers, so that two conduits have one.
            number: u16::from(small(dice, 4)),
        },
        field @ (1 | 2) => ConduitFact::Reaches {
            side: Side::BOTH[field - 1],
            at: match dice.below(4) {
                0 => ConduitEnd::Outlet(dice.of(&site.outlets)),
                1 => ConduitEnd::Rack(dice.of(&site.racks)),
                2 => ConduitEnd::Room(dice.of(&site.rooms)),
                _ => ConduitEnd::Words(words(dice)),
            },
        },
        3 => ConduitFact::Sized(words(dice)),
        4 => ConduitFact::PullString(lying),
        5 => ConduitFact::Noted(words(dice)),
        6 => ConduitFact::Stands(standing(dice)),
        _ => {
            let cable = site.cables[pick.below(4)].id;
            return Fact::Cable(cable, CableFact::PassesThrough { conduit, lying });
        }
    };
    Fact::Conduit(conduit, fact)
}

fn picture(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let fact = match pick.below(4) {
        0 => PictureFact::Shows(match dice.below(4) {
            0 => Shows::Outlet(dice.of(&site.outlets)),
            1 => Shows::Room(dice.of(&site.rooms)),
            2 => Shows::LooseEnd(dice.of(&site.loose)),
            _ => Shows::Plan(dice.of(&site.floors)),
        }),
        1 => PictureFact::Noted(words(dice)),
        2 => {
            let points = (0..dice.below(3)).map(|_| Point {
                what: Seen::Outlet(dice.of(&site.outlets)),
                at: Spotted { x: 1, y: 2 },
                offset: words(dice),
            });
            PictureFact::Points(points.collect())
        }
        _ => PictureFact::Stands(standing(dice)),
    };
    Fact::Picture(pick.of(&site.pictures), fact)
}

fn other(site: &Site, pick: &mut Dice, dice: &mut Dice) -> Fact {
    let (device, joint) = (pick.of(&site.devices), pick.of(&site.joints));
    match pick.below(21) {
        19 => Fact::Device(device, DeviceFact::Model(words(dice))),
        20 => Fact::Device(device, DeviceFact::Serial(words(dice))),
        14 => {
            let number = u16::from(small(pick, 2));
            let medium = dice.percent(80).then(|| medium(dice));
            Fact::Job(JobFact::BoxHolds { number, medium })
        }
        15..19 => picture(site, pick, dice),
        13 => Fact::Floor(pick.of(&site.floors), FloorFact::OnSheet(words(dice))),
        0 => Fact::Job(JobFact::Named(words(dice))),
        1 => Fact::Job(JobFact::PinoutChosen(dice.of(&[Pinout::A, Pinout::B]))),
        2 => Fact::Job(JobFact::TagAddressSet(words(dice))),
        3 => Fact::Unit(pick.of(&site.units), UnitFact::Named(words(dice))),
        4 => Fact::Floor(pick.of(&site.floors), FloorFact::Named(words(dice))),
        5 => Fact::Floor(pick.of(&site.floors), FloorFact::Numbered(small(dice, 3))),
        6 => Fact::OutletType(pick.of(&site.types), OutletTypeFact::Named(words(dice))),
        7 => {
            let usual = UsualType::all();
            let cables = usual[dice.below(usual.len())].cables();
            Fact::OutletType(pick.of(&site.types), OutletTypeFact::Holds(cables))
        }
        8 => Fact::Device(device, DeviceFact::Named(words(dice))),
        9 => Fact::Device(device, DeviceFact::InRoom(dice.of(&site.rooms))),
        10 => Fact::Joint(joint, JointFact::Named(words(dice))),
        11 => Fact::Joint(joint, JointFact::InRoom(dice.of(&site.rooms))),
        _ => Fact::Joint(joint, JointFact::Added(joint_kind(dice))),
    }
}

/// Of each phone everything up to some act.
fn known(dice: &mut Dice) -> Vec<ActId> {
    let mut of_phone = |number: u8| {
        let writer = WriterId(Bits80([number; 10]));
        (1..=small(dice, 120)).map(move |n| {
            let n = u32::from(n);
            ActId { writer, n }
        })
    };
    let known = [7, 3, 5].map(&mut of_phone);
    known.into_iter().flatten().collect()
}
