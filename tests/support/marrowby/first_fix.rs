//! Tuesday to Friday: first fix. Flat A and the studio are pulled and landed at the racks, flat B
//! is pulled and named, flat C is half pulled, flat D waits.

use bothends::command::{Correction, Want};
use bothends::domain::label::{Letter, OutletNumber};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Fitting, Place, Side};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::journal::Found;

use super::phone::Phone;
use super::racks::fibre_legs;

/// Pulls a room, names both ends with the pen, and takes length marks. `feet` is the way to the
/// rack from its nearest outlet.
fn pull_room(phone: &mut Phone, room: &str, feet: u32) {
    for (place, outlet) in (0..).zip(phone.outlets(room)) {
        phone.pull(&outlet, feet + place * 4);
        phone.mark(&outlet, Side::Near, MarkKind::Pen);
        phone.mark(&outlet, Side::Far, MarkKind::Pen);
    }
}

fn land_room_home(phone: &mut Phone, room: &str) {
    for outlet in phone.outlets(room) {
        phone.land_home(&outlet);
    }
}

/// Lands the far end of a local run in the box that it leaves.
fn land_out(phone: &mut Phone, cable: &str, from: &str, jack: char) {
    let jack = Letter::new(jack).expect("a letter");
    let place = Place::Jack {
        outlet: phone.outlet(from),
        jack,
    };
    let end = phone.far(cable);
    phone.land(end, place);
}

pub(super) fn flats_a_and_b(pw: &mut Phone) {
    pw.clock(1, 7, 35);
    for (room, feet) in [("AHAL", 62), ("AKIT", 84), ("ALIV", 96), ("ABED", 110)] {
        pull_room(pw, room, feet);
    }
    pw.clock(2, 7, 40);
    for (room, feet) in [("ASTU", 118), ("ABATH", 92)] {
        pull_room(pw, room, feet);
    }
    subwoofer_with_adapter(pw);
    for room in ["AHAL", "AKIT", "ALIV", "ABED", "ASTU", "ABATH"] {
        land_room_home(pw, room);
    }
    for (cable, from, jack) in [
        ("AKIT4-A", "AKIT3", 'C'),
        ("AKIT5-A", "AHAL2", 'B'),
        ("ABED5-A", "ABED4", 'C'),
        ("ALIV7-B", "ALIV6", 'C'),
    ] {
        land_out(pw, cable, from, jack);
    }
    // Before the pull, the owner of flat B chose to keep the shutters.
    pw.clock(3, 7, 50);
    let outlet = pw.outlet("BBED3");
    let reason = "The old shutters stay, no motor wanted".to_owned();
    pw.act(Want::CancelOutlet { outlet, reason });
    for (room, feet) in [("BHAL", 104), ("BKIT", 121), ("BLIV", 138), ("BBED", 149)] {
        pull_room(pw, room, feet);
    }
    pw.clock(4, 8, 5);
    damaged_by_the_plumber(pw);
    old_names(pw);
}

/// The panel has phono positions, and the cable ends in a threaded plug.
fn subwoofer_with_adapter(pw: &mut Phone) {
    let (end, place) = (pw.far("ALIV3-D"), pw.rear("K01"));
    let fitting = Fitting::Adapter;
    pw.act(Want::Land {
        end,
        place,
        fitting,
    });
}

fn damaged_by_the_plumber(pw: &mut Phone) {
    let cable = pw.cable("ABED2-B");
    let (cables, outcome) = (vec![cable], PullOutcome::Damaged);
    pw.act(Want::ReportPull { cables, outcome });
    let note = "Drilled through behind the radiator, plumber told".to_owned();
    pw.act(Want::NoteCable { cable, note });
}

fn old_names(pw: &mut Phone) {
    let cable = pw.cable("YARD4-A");
    pw.act(Want::KnowCableAs {
        cable,
        name: "CAM 3".to_owned(),
    });
}

pub(super) fn common_parts(pw: &mut Phone) {
    pw.clock(4, 9, 20);
    for (room, feet) in [("WHEEL", 14), ("LOBBY", 48), ("STAIR", 71), ("ROOF", 90)] {
        pull_room(pw, room, feet);
        land_room_home(pw, room);
    }
    for (outlet, feet) in [("YARD1", 130), ("YARD2", 214), ("YARD4", 96)] {
        pw.pull(outlet, feet);
        pw.mark(outlet, Side::Near, MarkKind::Pen);
        pw.mark(outlet, Side::Far, MarkKind::Pen);
        pw.land_home(outlet);
    }
    gate(pw);
    antenna(pw);
    devices(pw);
    // The trunking fell off the wall behind the old camera's supply.
    for end in [pw.near("YARD4-B"), pw.far("YARD4-B")] {
        let reason = "Old supply removed, cable stays in the wall".to_owned();
        pw.act(Want::Dead { end, reason });
    }
    loose_ends(pw);
    ties(pw);
}

/// The gate is farther than a category link may be long.
fn gate(pw: &mut Phone) {
    pw.pull("YARD3", 352);
    pw.mark("YARD3", Side::Near, MarkKind::Pen);
    pw.mark("YARD3", Side::Far, MarkKind::Pen);
    pw.land_home("YARD3");
    let cable = pw.cable("YARD3-A");
    let note = "Direct burial with the water pipe, depth 600 mm".to_owned();
    pw.act(Want::NoteCable { cable, note });
}

/// Down from the mast to the arrester by the duct, and on from there to the rack.
fn antenna(pw: &mut Phone) {
    let joint = pw.joint("Antenna arrester");
    let way = |way| Place::Joint { joint, way };
    let (down, on) = (pw.far("ROOF1-D"), pw.near("WHEEL3-D"));
    pw.land(down, way(1));
    pw.land(on, way(2));
    let (end, device) = (pw.near("ROOF1-D"), pw.device("Mast amplifier"));
    pw.land(
        end,
        Place::Device {
            device,
            port: "OUT".to_owned(),
        },
    );
}

fn devices(pw: &mut Phone) {
    for (cable, device, port) in [
        ("LOBBY1-B", "Door strike", "1 and 2"),
        ("YARD3-A", "Gate station", "LAN"),
        ("YARD3-B", "Gate opener", "OPEN and COM"),
        ("WHEEL1-B", "Carrier's terminal", "Fibre in"),
        ("WHEEL1-A", "Carrier's terminal", "LAN 1"),
    ] {
        let (end, device) = (pw.near(cable), pw.device(device));
        pw.land(
            end,
            Place::Device {
                device,
                port: port.to_owned(),
            },
        );
    }
}

fn found(phone: &Phone, place: &str, room: &str, medium: &str, note: &str) -> Found {
    Found {
        place: place.to_owned(),
        room: Some(phone.room(room)),
        medium: Medium::from_key(medium),
        note: note.to_owned(),
    }
}

fn loose_ends(pw: &mut Phone) {
    let on_the_beam = found(
        pw,
        "On the beam over the rack",
        "WHEEL",
        "cat6-utp",
        "HALL ?",
    );
    pw.act(Want::AddLooseEnd { found: on_the_beam });
    let landing = found(pw, "Blank plate on the landing", "STAIR", "cat6-utp", "");
    let near = pw.add(Want::AddLooseEnd { found: landing });
    let bundle = found(
        pw,
        "Bundle left of the rack",
        "WHEEL",
        "cat6-utp",
        "LANDING PHONE",
    );
    let far = pw.add(Want::AddLooseEnd { found: bundle });
    // Toned: these two are one cable, left by whoever was here before.
    let (outlet, medium) = (pw.outlet("STAIR2"), Medium::indoor(Kind::Cat6Utp));
    pw.act(Want::JoinLooseEnds {
        near,
        far,
        outlet,
        medium,
    });
    let (cable, rack) = (pw.cable("STAIR2-B"), Some(pw.rack(0)));
    pw.act(Want::RouteHome {
        cables: vec![cable],
        rack,
    });
    let purpose = "Landing telephone, from before".to_owned();
    pw.act(Want::SetPurpose { cable, purpose });
    // Taken for the lobby's spare, which the toner then disproved.
    let coax = found(pw, "Coax end behind the post boxes", "LOBBY", "rg6", "");
    let loose = pw.add(Want::AddLooseEnd { found: coax });
    let end = pw.near("WHEEL2-D");
    pw.act(Want::JoinLooseEnd { loose, end });
    pw.act(Want::PartLooseEnd { loose });
}

fn ties(pw: &mut Phone) {
    for number in 1..=6 {
        let cable = pw.cable(&format!("0A/1A-{number}"));
        let (cables, outcome) = (vec![cable], PullOutcome::Pulled);
        pw.act(Want::ReportPull { cables, outcome });
        pw.measure(cable, 176 + number * 2);
        let ends = Side::BOTH.map(|side| End::whole(cable, side));
        let (ends, kind, copies) = (ends.to_vec(), MarkKind::Pen, 2);
        pw.act(Want::MarkEnds { ends, kind, copies });
    }
    let ends = fibre_legs(pw, Side::Near);
    pw.act(Want::LandAsPlanned { ends });
    let ends = ["2", "3", "4", "5", "6"].map(|number| pw.near(&format!("0A/1A-{number}")));
    pw.act(Want::LandAsPlanned {
        ends: ends.to_vec(),
    });
}

pub(super) fn studio(th: &mut Phone) {
    th.clock(1, 7, 45);
    for (room, feet) in [("STORE", 12), ("THROW", 44), ("GLAZE", 52), ("KILN", 66)] {
        pull_room(th, room, feet);
    }
    th.clock(2, 7, 30);
    pull_room(th, "SHOP", 78);
    for room in ["STORE", "THROW", "KILN", "SHOP"] {
        land_room_home(th, room);
    }
    land_out(th, "SHOP9-A", "SHOP8", 'C');
    // Landed one port too far, seen at once and taken back.
    let end = th.near("STORE1-A");
    let outlet = th.outlet("STORE1");
    let wrong = Place::Jack {
        outlet,
        jack: Letter::new('B').expect("a letter"),
    };
    let act = th.land(end, wrong);
    th.act(Want::Undo { act });
    // Its tag says GLAZE1-A, and it came out at the potter's desk, where it stays.
    let (cable, outlet) = (th.cable("GLAZE1-A"), th.outlet("THROW1"));
    let how = Correction::RecordChanges;
    th.act(Want::CameOutAt { cable, outlet, how });
    // The rack bench got one cable that was meant for the till: its tags come off.
    let (cable, outlet) = (th.cable("STORE1-B"), th.outlet("SHOP2"));
    let how = Correction::TagsMove;
    th.act(Want::CameOutAt { cable, outlet, how });
    thermostat_moves(th);
}

/// The thermostat is wanted in the glaze room, and its cable reaches.
fn thermostat_moves(th: &mut Phone) {
    let (outlet, room) = (th.outlet("THROW4"), th.room("GLAZE"));
    let number = OutletNumber::new(3).expect("a number");
    th.act(Want::MoveOutlet {
        outlet,
        room,
        number,
    });
    let note = "Moved through the wall, the kiln's heat misled it".to_owned();
    th.act(Want::NoteOutlet { outlet, note });
}

pub(super) fn flat_c(th: &mut Phone) {
    th.clock(3, 8, 10);
    pull_room(th, "CHAL", 126);
    for (place, outlet) in (0..).zip(th.outlets("CKIT")) {
        th.pull(&outlet, 141 + place * 4);
        th.mark(&outlet, Side::Near, MarkKind::Pen);
    }
    for (code, outcome) in [
        ("CKIT1-B", PullOutcome::Short),
        ("CLIV1-D", PullOutcome::Stuck),
    ] {
        let cables = vec![th.cable(code)];
        th.act(Want::ReportPull { cables, outcome });
    }
    let cable = th.cable("CLIV1-D");
    let note = "Stuck in the bend above the hoist beam".to_owned();
    th.act(Want::NoteCable { cable, note });
    let (cables, outcome) = (th.fed("CLIV2"), PullOutcome::Pulled);
    th.act(Want::ReportPull { cables, outcome });
}
