//! Monday: the house, its rooms and outlets, with the cables that each gets.

use bothends::command::Want;
use bothends::domain::ids::{FloorId, OutletId, OutletTypeId, RoomId, UnitId};
use bothends::domain::label::{Letter, RoomCode, SpaceCode};
use bothends::domain::length::Millimetres;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::outlet_type::{OutletKind, PlannedCable};
use bothends::domain::work::{Pinout, Spot, WallBox};

use super::phone::Phone;
use super::tables::{COMMON, FLAT_A, FLOORS, OTHER_FLATS, OWN_TYPES, ROOMS, STUDIO, UNITS};

pub(super) fn set_up(pw: &mut Phone) {
    pw.clock(0, 7, 40);
    pw.act(Want::NameJob {
        name: super::NAME.to_owned(),
    });
    pw.act(Want::ChoosePinout { pinout: Pinout::B });
    let units: Vec<UnitId> = UNITS
        .iter()
        .map(|name| {
            pw.add(Want::AddUnit {
                name: (*name).to_owned(),
            })
        })
        .collect();
    let floors: Vec<FloorId> = (0..)
        .zip(FLOORS)
        .map(|(number, name)| {
            let (name, number) = ((*name).to_owned(), Some(number));
            pw.add(Want::AddFloor { name, number })
        })
        .collect();
    for (code, name, unit, floor) in ROOMS {
        pw.act(Want::AddRoom {
            name: (*name).to_owned(),
            code: RoomCode::new(code).expect("a room code"),
            floor: Some(floors[*floor]),
            unit: Some(units[*unit]),
        });
    }
    for (floor, name, room) in [(0, "Main rack", "WHEEL"), (1, "Studio rack", "STORE")] {
        let room = Some(pw.room(room));
        let space = SpaceCode::new(floor, "A").expect("a space code");
        pw.act(Want::AddRack {
            space,
            name: name.to_owned(),
            room,
        });
    }
    for (name, cables) in OWN_TYPES {
        let cables = cables.iter().map(planned).collect();
        pw.act(Want::AddOutletType {
            name: (*name).to_owned(),
            cables,
        });
    }
}

fn planned((letter, medium, purpose): &(char, &str, &str)) -> PlannedCable {
    PlannedCable {
        letter: Letter::new(*letter),
        medium: Medium::from_key(medium).expect("a medium"),
        purpose: (*purpose).to_owned(),
    }
}

pub(super) fn plan_flats(pw: &mut Phone) {
    pw.clock(0, 12, 50);
    for row in [COMMON, FLAT_A, OTHER_FLATS]
        .into_iter()
        .flat_map(str::lines)
    {
        add_outlet(pw, row, 0);
    }
    // The speakers of a volume control hang on it, and the kitchen keypad on that of the hall.
    for (cable, from) in [
        ("AKIT4-A", "AKIT3"),
        ("AKIT5-A", "AHAL2"),
        ("ABED5-A", "ABED4"),
        ("ALIV7-B", "ALIV6"),
        ("BKIT3-A", "BKIT2"),
        ("CKIT3-A", "CKIT2"),
        ("DKIT2-A", "DHAL1"),
        ("ROOF1-D", "WHEEL3"),
    ] {
        local(pw, cable, from);
    }
    // The balcony is far from its volume control, and the gate feed lies in the ground.
    set_medium(pw, "CKIT3-A", "speaker-14-4");
    set_medium(pw, "YARD3-B", "burial+control-18-4");
    for cables in [["YARD4-A", "YARD4-B"], ["ABED6-A", "ABED6-B"]] {
        let cables = cables.map(|code| pw.cable(code)).to_vec();
        pw.act(Want::ShareJacket {
            cables,
            jacket: None,
        });
    }
    // Added in the wrong room, and taken back.
    let room = pw.room("ABATH");
    let kind = OutletKind::usual("data").expect("a usual type");
    let purpose = "Desk".to_owned();
    let act = pw.act(Want::AddOutlet {
        room,
        kind,
        purpose,
        rack: None,
    });
    pw.act(Want::Undo { act });
    let outlet = pw.outlet("YARD4");
    let note = "Old camera stays until the yard camera runs".to_owned();
    pw.act(Want::NoteOutlet { outlet, note });
}

pub(super) fn plan_studio(th: &mut Phone) {
    th.clock(0, 12, 40);
    for row in STUDIO.lines() {
        add_outlet(th, row, 1);
    }
    local(th, "SHOP9-A", "SHOP8");
    let (outlet, rack) = (th.outlet("SHOP3"), Some(th.rack(1)));
    let medium = Medium::indoor(Kind::Fibre { strands: 4 });
    let purpose = "Picture over fibre".to_owned();
    th.act(Want::AddCable {
        outlet,
        medium,
        purpose,
        rack,
    });
}

fn local(phone: &mut Phone, cable: &str, from: &str) {
    let (cable, from) = (phone.cable(cable), phone.outlet(from));
    phone.act(Want::RouteLocal { cable, from });
}

fn set_medium(phone: &mut Phone, cable: &str, key: &str) {
    let medium = Medium::from_key(key).expect("a medium");
    let cable = phone.cable(cable);
    phone.act(Want::SetMedium { cable, medium });
}

fn add_outlet(phone: &mut Phone, row: &str, rack: u8) {
    let row: Vec<&str> = row.split(" | ").collect();
    let [room, kind, purpose, spot @ ..] = row.as_slice() else {
        return;
    };
    let (room, rack) = (phone.room(room), Some(phone.rack(rack)));
    let outlet = phone.add(Want::AddOutlet {
        room,
        kind: kind_of(phone, kind),
        purpose: (*purpose).to_owned(),
        rack,
    });
    if let [wall, offset, from] = spot {
        let spot = Spot {
            wall: (*wall).to_owned(),
            height: height_of(kind).map(Millimetres),
            offset: offset.parse().ok().map(Millimetres),
            offset_from: (*from).to_owned(),
        };
        phone.act(Want::PlaceOutlet { outlet, spot });
        let wall_box = box_of(kind);
        phone.act(Want::BoxOutlet { outlet, wall_box });
    }
}

pub(super) fn new_outlet(phone: &mut Phone, room: &str, kind: &str, purpose: &str) -> OutletId {
    let room: RoomId = phone.room(room);
    let kind = kind_of(phone, kind);
    let (purpose, rack) = (purpose.to_owned(), Some(phone.rack(0)));
    phone.add(Want::AddOutlet {
        room,
        kind,
        purpose,
        rack,
    })
}

fn kind_of(phone: &Phone, name: &str) -> OutletKind {
    if let Some(usual) = OutletKind::usual(name) {
        return usual;
    }
    let mut own = phone.registry().outlet_types.iter();
    let own = own.find(|(_, row)| row.name.get().is_some_and(|known| known == name));
    let id: OutletTypeId = own.unwrap_or_else(|| panic!("no outlet type {name}")).0;
    OutletKind::Own(id)
}

/// Usual heights above the finished floor (common practice, no source); none in ceilings.
fn height_of(kind: &str) -> Option<i32> {
    match kind {
        "tv" => Some(1_500),
        "data" | "subwoofer" | "surround" => Some(400),
        "keypad" | "touch-panel" | "volume-control" | "thermostat" => Some(1_220),
        "door-station" | "gate" => Some(1_370),
        "motion" => Some(2_300),
        "contact" => Some(2_050),
        "camera" | "Old camera" => Some(2_700),
        "demarcation" | "sources" | "Antenna feed" | "Kiln" => Some(1_500),
        _ => None,
    }
}

fn box_of(kind: &str) -> WallBox {
    match kind {
        "tv" | "surround" => WallBox::Gangs(2),
        "data" | "keypad" | "volume-control" | "thermostat" | "subwoofer" | "Kiln" => {
            WallBox::Gangs(1)
        }
        "touch-panel" | "door-station" => WallBox::Ring,
        _ => WallBox::None,
    }
}
