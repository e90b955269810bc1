//! Monday: the two racks with panels of every kind, devices, joints and tie lines, and in the
//! evening a position for every cable.

use bothends::command::Want;
use bothends::domain::label::{LegNumber, PanelLetters};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use bothends::domain::place::{End, Face, Place, Side};
use bothends::domain::work::{Availability, JointKind};
use bothends::journal::{PanelMake, PanelSize};

use super::phone::Phone;

/// Panels: rack, letter, connector key, positions, rack unit; 0: mounted beside the units.
const PANELS: &[(u8, &str, &str, u16, u8)] = &[
    (0, "A", "8p8c", 24, 40),
    (0, "B", "8p8c", 48, 38),
    (0, "C", "8p8c-shielded", 24, 36),
    (0, "D", "f", 24, 34),
    (0, "E", "speaker", 24, 32),
    (0, "F", "alarm", 48, 0),
    (0, "G", "lc", 12, 42),
    (0, "H", "sc", 6, 41),
    (0, "J", "bnc", 8, 30),
    (0, "K", "rca", 8, 29),
    (1, "L", "8p8c", 24, 14),
    (1, "M", "8p8c-shielded", 12, 13),
    (1, "N", "speaker", 12, 12),
    (1, "P", "punch", 25, 0),
    (1, "R", "f", 8, 11),
    (1, "T", "lc", 12, 15),
];

const TIES: &[(&str, &str)] = &[
    ("fibre-12", "Studio uplink"),
    ("cat6a-ftp", "Studio uplink, copper"),
    ("cat6a-ftp", "Studio uplink, copper"),
    ("cat6-utp", "Door phone to the studio"),
    ("rg6", "Antenna to the studio"),
    ("control-22-4", "Alarm loop to the studio"),
];

pub(super) fn build(th: &mut Phone) {
    th.clock(0, 14, 30);
    for (rack, letters, connector, count, unit) in PANELS {
        let rack = th.rack(*rack);
        let make = PanelMake {
            connector: Connector::from_key(connector).expect("a connector"),
            positions: PanelSize::new(*count).expect("a count"),
        };
        let letters = PanelLetters::new(letters).expect("letters");
        let unit = Some(*unit).filter(|unit| *unit > 0);
        th.act(Want::AddPanel {
            rack,
            make,
            letters,
            unit,
        });
    }
    for (name, room) in [
        ("Flat A amplifier", "WHEEL"),
        ("Carrier's terminal", "WHEEL"),
        ("Door strike", "LOBBY"),
        ("Gate station", "YARD"),
        ("Gate opener", "YARD"),
        ("Mast amplifier", "ROOF"),
        ("Kiln controller", "KILN"),
        ("Studio amplifier", "STORE"),
    ] {
        let room = Some(th.room(room));
        th.act(Want::AddDevice {
            name: name.to_owned(),
            room,
        });
    }
    for (kind, name, room) in [
        (JointKind::SurgeArrester, "Antenna arrester", "WHEEL"),
        (JointKind::Splitter, "Studio antenna splitter", "STORE"),
        (JointKind::Splice, "Pond box splice", "YARD"),
        (JointKind::Barrel, "Loading bay barrel", "YARD"),
    ] {
        let room = Some(th.room(room));
        th.act(Want::AddJoint {
            kind,
            name: name.to_owned(),
            room,
        });
    }
    let (near, far) = (th.rack(0), th.rack(1));
    for (medium, purpose) in TIES {
        let medium = Medium::from_key(medium).expect("a medium");
        let purpose = (*purpose).to_owned();
        th.act(Want::AddTie {
            near,
            far,
            medium,
            purpose,
        });
    }
    for (position, reason) in [
        ("B47", "Lift telephone"),
        ("E24", "Roof terrace"),
        ("L24", "Lift telephone"),
    ] {
        keep(
            th,
            position,
            Availability::Reserved {
                reason: reason.to_owned(),
            },
        );
    }
    for (position, reason) in [("B05", "Bent contacts"), ("N12", "Stripped screw")] {
        keep(
            th,
            position,
            Availability::Bad {
                reason: reason.to_owned(),
            },
        );
    }
}

fn keep(phone: &mut Phone, position: &str, kept: Availability) {
    let position = phone.position(position);
    phone.act(Want::KeepPosition { position, kept });
}

/// Gives the cables their positions: the odd ones by hand, then panel after panel.
pub(super) fn fill(pw: &mut Phone) {
    pw.clock(0, 17, 10);
    plan(pw, "ALIV3-D", "K01");
    plan(pw, "KILN1-B", "P01");
    plan(pw, "GLAZE2-A", "P02");
    plan(pw, "GLAZE2-B", "P03");
    // One speaker zone goes straight to the amplifier.
    let (end, device) = (pw.far("ABATH1-A"), pw.device("Flat A amplifier"));
    let port = "Zone 3".to_owned();
    pw.act(Want::PlanEnd {
        end,
        place: Some(Place::Device { device, port }),
    });
    for panel in [
        "F", "J", "H", "A", "B", "C", "D", "E", "L", "M", "N", "P", "R",
    ] {
        let panel = pw.panel(panel);
        pw.act(Want::FillPanel { panel });
    }
    plan_ties(pw);
    let panel = pw.panel("T");
    pw.act(Want::FillPanel { panel });
}

fn plan(phone: &mut Phone, cable: &str, position: &str) {
    let (end, place) = (phone.far(cable), Some(phone.rear(position)));
    phone.act(Want::PlanEnd { end, place });
}

/// The legs of the twelve strands, two to a connector.
pub(super) fn fibre_legs(phone: &Phone, side: Side) -> Vec<End> {
    let cable = phone.cable("0A/1A-1");
    let leg = |number| End {
        leg: LegNumber::new(number),
        ..End::whole(cable, side)
    };
    (1..=6).map(leg).collect()
}

fn plan_ties(pw: &mut Phone) {
    for (side, panel) in [(Side::Near, "G"), (Side::Far, "T")] {
        let end = End::whole(pw.cable("0A/1A-1"), side);
        let legs = LegNumber::new(6).expect("six legs");
        pw.act(Want::SplitEnd { end, legs });
        for (number, end) in (1..).zip(fibre_legs(pw, side)) {
            let place = Some(pw.rear(&format!("{panel}{number:02}")));
            pw.act(Want::PlanEnd { end, place });
        }
    }
    for (number, near, far) in [
        (2, "C23", "M11"),
        (3, "C24", "M12"),
        (4, "B48", "L23"),
        (5, "D24", ""),
        (6, "F48", "P25"),
    ] {
        let code = format!("0A/1A-{number}");
        let (end, place) = (pw.near(&code), Some(pw.rear(near)));
        pw.act(Want::PlanEnd { end, place });
        let place = if far.is_empty() {
            let joint = pw.joint("Studio antenna splitter");
            Place::Joint { joint, way: 1 }
        } else {
            pw.rear(far)
        };
        let (end, place) = (pw.far(&code), Some(place));
        pw.act(Want::PlanEnd { end, place });
    }
}

/// What fills the racks beside the panels: rack, kind, name, rack unit, height.
const BLOCKS: &[(u8, BlockKind, &str, u8, u8)] = &[
    (0, BlockKind::CableGuide, "", 37, 1),
    (0, BlockKind::Blank, "", 35, 1),
    (0, BlockKind::Blank, "", 33, 1),
    (0, BlockKind::Shelf, "Amplifier shelf", 20, 1),
    (1, BlockKind::CableGuide, "", 10, 1),
];

/// Says how the racks are built, and hangs the rest in them.
pub(super) fn hang(th: &mut Phone) {
    th.clock(18, 16, 5);
    let units = |count| Units::new(count).expect("a count of rack units");
    for (rack, count) in [(0, 42), (1, 16)] {
        let rack = th.rack(rack);
        let build = RackBuild::Units(units(count));
        th.act(Want::BuildRack { rack, build });
    }
    for (rack, kind, name, unit, height) in BLOCKS {
        let mount = Mount {
            rack: th.rack(*rack),
            unit: Some(*unit),
            height: units(*height),
            face: Face::Front,
        };
        let (kind, name) = (*kind, (*name).to_owned());
        th.act(Want::AddBlock { kind, name, mount });
    }
    for (rack, device, unit, height, face) in [
        (0, "Flat A amplifier", 21, 2, Face::Front),
        (0, "Carrier's terminal", 40, 1, Face::Rear),
        (1, "Studio amplifier", 4, 2, Face::Front),
    ] {
        let what = Mountable::Device(th.device(device));
        let mount = Mount {
            rack: th.rack(rack),
            unit: Some(unit),
            height: units(height),
            face,
        };
        th.act(Want::Hang { what, mount });
    }
}
