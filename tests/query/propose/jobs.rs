//! Jobs by chance for the proposal: racks, panels, outlets; some landed, kept, spare, undecided.

use bothends::command::{Want, draft};
use bothends::domain::ids::{CableId, PanelId, RackId};
use bothends::domain::label::{PanelLetters, PositionNumber, RoomCode, SpaceCode};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::order::Order;
use bothends::domain::outlet_type::PlannedCable;
use bothends::domain::place::{End, Fitting, Place, Position, Side};
use bothends::domain::work::Availability;
use bothends::journal::{PanelMake, PanelSize};
use bothends::query::plan;
use bothends::walk;

use crate::mill::Mill;
use crate::query::generator::Dice;

/// How large a job is.
#[derive(Clone, Copy)]
pub(super) struct Size {
    pub racks: usize,
    pub panels: usize,
    pub positions: usize,
    pub outlets: usize,
    pub cables_per_outlet: usize,
    pub at_most: usize,
}

const CONNECTORS: [Connector; 6] = [
    Connector::Modular,
    Connector::ShieldedModular,
    Connector::F,
    Connector::PunchBlock,
    Connector::AlarmTerminal,
    Connector::Bnc,
];

/// Does what is wanted, or leaves it where it is refused.
fn tries(mill: &mut Mill, want: &Want) {
    if draft(want, &mill.journal).is_ok() {
        mill.does(want);
    }
}

fn medium(dice: &mut Dice) -> Medium {
    match dice.below(9) {
        0..=3 => Medium::indoor(Kind::Cat6Utp),
        4 => Medium::indoor(Kind::Cat6Ftp),
        5 => Medium::indoor(Kind::Rg59),
        6 => Medium::control(22, 4),
        7 => Medium::indoor(Kind::ShadeData),
        _ => Medium::indoor(Kind::Own("Ladder line".to_owned())),
    }
}

/// A job of this size.
pub(super) fn job(size: Size, seed: u64) -> Mill {
    let mut dice = Dice::new(seed);
    let mut mill = Mill::empty();
    let racks = racks(&mut mill, &mut dice, size);
    for room in ["KIT", "HALL", "LOFT"] {
        mill.does(&Want::AddRoom {
            name: room.to_lowercase(),
            code: RoomCode::new(room).expect("a code"),
            floor: None,
            unit: None,
        });
    }
    outlets(&mut mill, &mut dice, size, &racks);
    disturb(&mut mill, &mut dice);
    mill
}

fn racks(mill: &mut Mill, dice: &mut Dice, size: Size) -> Vec<RackId> {
    for rack in 0..size.racks {
        let floor = u8::try_from(rack + 1).expect("few racks");
        mill.does(&Want::AddRack {
            space: SpaceCode::new(floor, "A").expect("a space"),
            name: format!("Rack {floor}"),
            room: None,
        });
    }
    let racks = walk::racks(mill.registry());
    for panel in 0..1 + dice.below(size.panels) {
        let letters = char::from(b'A' + u8::try_from(panel).expect("few panels"));
        let positions = u16::try_from(1 + dice.below(size.positions)).expect("few");
        let letters = PanelLetters::new(&letters.to_string());
        let Ok(letters) = letters else {
            continue;
        };
        mill.does(&Want::AddPanel {
            rack: racks[dice.below(racks.len())],
            make: PanelMake {
                connector: CONNECTORS[dice.below(CONNECTORS.len())],
                positions: PanelSize::new(positions).expect("a size"),
            },
            letters,
            unit: None,
        });
    }
    racks
}

fn outlets(mill: &mut Mill, dice: &mut Dice, size: Size, racks: &[RackId]) {
    let rooms = walk::rooms(mill.registry());
    let mut left = size.at_most;
    for _ in 0..size.outlets {
        let room = rooms[dice.below(rooms.len())];
        let kind = medium(dice);
        let mut cables = Vec::new();
        for _ in 0..(1 + dice.below(size.cables_per_outlet)).min(left) {
            cables.push(PlannedCable {
                letter: None,
                medium: if dice.percent(25) {
                    medium(dice)
                } else {
                    kind.clone()
                },
                purpose: "Data".to_owned(),
            });
        }
        if cables.is_empty() {
            return;
        }
        left -= cables.len();
        let name = format!("Type {left}");
        mill.does(&Want::AddOutletType {
            name: name.clone(),
            cables,
        });
        let mut kinds = plan::types(mill.registry()).into_iter();
        let own = kinds.find(|kind| kind.words == name).expect("the type");
        mill.does(&Want::AddOutlet {
            room,
            kind: own.kind,
            purpose: String::new(),
            rack: None,
        });
        let outlet = *walk::outlets(mill.registry(), room).last().expect("one");
        for cable in walk::fed(mill.registry(), outlet) {
            let rack = racks.get(dice.below(racks.len() + 1)).copied();
            let cables = vec![cable];
            tries(mill, &Want::RouteHome { cables, rack });
        }
    }
}

/// Lands, keeps and settles a few things.
fn disturb(mill: &mut Mill, dice: &mut Dice) {
    let cables: Vec<CableId> = walk::cables(mill.registry());
    let mut panels: Vec<PanelId> = mill.registry().panels.iter().map(|(id, _)| id).collect();
    panels.put_in_order();
    if panels.is_empty() {
        return;
    }
    for _ in 0..dice.below(4) {
        let position = Position {
            panel: panels[dice.below(panels.len())],
            number: PositionNumber::new(u16::try_from(1 + dice.below(8)).expect("few"))
                .expect("a number"),
        };
        let reason = "of the test".to_owned();
        let kept = match dice.below(2) {
            0 => Availability::Reserved { reason },
            _ => Availability::Bad { reason },
        };
        tries(mill, &Want::KeepPosition { position, kept });
        if cables.is_empty() {
            continue;
        }
        let end = End::whole(cables[dice.below(cables.len())], Side::Far);
        let number = PositionNumber::new(u16::try_from(1 + dice.below(8)).expect("few"));
        let position = Position {
            number: number.expect("a number"),
            ..position
        };
        let want = match dice.below(3) {
            0 => Want::Land {
                end,
                place: Place::rear(position),
                fitting: Fitting::Adapter,
            },
            1 => Want::PlanEnd {
                end,
                place: Some(Place::rear(position)),
            },
            _ => Want::Spare {
                end,
                kept: "here".to_owned(),
                reason: "of the test".to_owned(),
            },
        };
        tries(mill, &want);
    }
}
