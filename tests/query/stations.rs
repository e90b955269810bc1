//! What feeds what, followed through joints, positions, cords and ties.

use bothends::command::Want;
use bothends::domain::ids::{CableId, DeviceId, JointId};
use bothends::domain::label::{LegNumber, Letter};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::place::{End, Fitting, Place, Side};
use bothends::domain::work::JointKind;
use bothends::names;
use bothends::query::deeds::in_short;
use bothends::query::stations::{Station, Stop, behind_port, follow, ports, ways};

use crate::mill::Mill;

/// Stops as one line of text, what parts in brackets.
fn told(mill: &Mill, stops: &[Stop]) -> String {
    let told: Vec<String> = stops.iter().map(|stop| one(mill, stop)).collect();
    match told.as_slice() {
        [] => String::new(),
        [only] => only.clone(),
        several => format!("[{}]", several.join(" | ")),
    }
}

fn one(mill: &Mill, stop: &Stop) -> String {
    let registry = mill.registry();
    let words = match &stop.station {
        Station::Plate(outlet, jack) => {
            let code = registry.outlet_code(*outlet).expect("a code");
            jack.map_or(format!("{code}"), |jack| format!("{code}:{jack}"))
        }
        Station::Cable(cable) => names::cable(registry, *cable),
        Station::Position(position) => names::position(registry, *position),
        Station::Cord => "cord".to_owned(),
        Station::Port(device, port) => {
            let name = registry.devices.get(*device).and_then(|row| row.name.get());
            format!("{port} of {}", name.expect("a name"))
        }
        Station::Joint(joint) => {
            let name = registry.joints.get(*joint).and_then(|row| row.name.get());
            name.expect("a name").clone()
        }
        Station::Open(_) => "open".to_owned(),
    };
    let mut noted = if stop.listed { "?" } else { "" }.to_owned();
    if stop.disputed {
        noted.push('!');
    }
    if let Some(how) = &stop.how {
        noted = format!("{noted} ({})", in_short(registry, how));
    }
    for end in &stop.rivals {
        noted = format!("{noted} (or {})", names::end_code(registry, *end));
    }
    let on = told(mill, &stop.on);
    let on = if on.is_empty() {
        on
    } else {
        format!(" > {on}")
    };
    format!("{words}{noted}{on}")
}

fn both(mill: &Mill, code: &str) -> [String; 2] {
    let ways = follow(mill.registry(), mill.cable(code));
    assert_eq!(ways.len(), 1, "{code} has no legs at both ends");
    ways[0].sides.each_ref().map(|side| told(mill, side))
}

fn device(mill: &mut Mill, name: &str) -> DeviceId {
    let name = name.to_owned();
    mill.does(&Want::AddDevice { name, room: None });
    mill.registry().devices.iter().next().expect("one").0
}

fn joint(mill: &mut Mill, name: &str) -> JointId {
    mill.does(&Want::AddJoint {
        kind: JointKind::Splitter,
        name: name.to_owned(),
        room: None,
    });
    mill.registry().joints.iter().next().expect("one").0
}

fn land(mill: &mut Mill, end: End, place: Place) {
    mill.does(&Want::Land {
        end,
        place,
        fitting: Fitting::Adapter,
    });
}

/// A second rack `2A` with panel D of four jacks, and so many tie lines to it.
fn ties(mill: &mut Mill, count: usize) -> Vec<CableId> {
    mill.rack(2, "A", "Attic rack");
    mill.panel("2A", "D", Connector::Modular, 4, None);
    let (near, far) = (mill.rack_id("1A"), mill.rack_id("2A"));
    for _ in 0..count {
        mill.does(&Want::AddTie {
            near,
            far,
            medium: Medium::indoor(Kind::Cat6Utp),
            purpose: String::new(),
        });
    }
    let codes = (1..=count).map(|number| format!("1A/2A-{number}"));
    codes.map(|code| mill.cable(&code)).collect()
}

/// The first port of the switch, patched to a position.
fn patched(mill: &mut Mill, switch: DeviceId, position: &str) -> Place {
    let port = Place::Device {
        device: switch,
        port: "LAN 1".to_owned(),
    };
    mill.does(&Want::Patch {
        position: mill.position(position),
        to: Some(port.clone()),
    });
    port
}

#[test]
fn from_the_plate_to_the_port_of_a_device_and_back() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    assert_eq!(both(&mill, "KIT1-A"), ["KIT1?", "open?"]);
    mill.fill("B");
    assert_eq!(both(&mill, "KIT1-A"), ["KIT1?", "B01?"]);
    mill.land("KIT1-A", "B01");
    let switch = device(&mut mill, "Switch 1");
    let port = patched(&mut mill, switch, "B01");
    assert_eq!(
        both(&mill, "KIT1-A"),
        ["KIT1?", "B01 > cord > LAN 1 of Switch 1"]
    );
    assert_eq!(ports(mill.registry(), switch), std::slice::from_ref(&port));
    let back = behind_port(mill.registry(), &port);
    assert_eq!(told(&mill, &back), "cord > B01 > KIT1-A > KIT1?");
}

#[test]
fn a_tie_leads_on_to_the_other_rack() {
    let mut mill = Mill::new();
    mill.rack(2, "A", "Attic rack");
    mill.panel("2A", "D", Connector::Modular, 4, None);
    mill.outlets("KIT", "data", 1);
    mill.land("KIT1-A", "B01");
    let (near, far) = (mill.rack_id("1A"), mill.rack_id("2A"));
    mill.does(&Want::AddTie {
        near,
        far,
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    let tie = mill.cable("1A/2A-1");
    for (side, at) in [(Side::Near, "B24"), (Side::Far, "D01")] {
        let place = Place::rear(mill.position(at));
        land(&mut mill, End::whole(tie, side), place);
    }
    mill.does(&Want::Patch {
        position: mill.position("B01"),
        to: Some(Place::front(mill.position("B24"))),
    });
    assert_eq!(both(&mill, "KIT1-A")[1], "B01 > cord > B24 > 1A/2A-1 > D01");
    // From the other end of the same way.
    assert_eq!(
        both(&mill, "1A/2A-1"),
        ["B24 > cord > B01 > KIT1-A > KIT1?", "D01"]
    );
}

#[test]
fn behind_a_splitter_the_ways_part() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 2);
    let splitter = joint(&mut mill, "Attic splitter");
    let way = |way| Place::Joint {
        joint: splitter,
        way,
    };
    for (code, at) in [("KIT1-D", 1), ("KIT2-D", 2)] {
        let end = mill.far(code);
        land(&mut mill, end, way(at));
    }
    assert_eq!(both(&mill, "KIT1-D")[1], "Attic splitter > KIT2-D > KIT2?");
    assert_eq!(ways(mill.registry(), splitter), [way(1), way(2)]);
    // Shared terminals part in the same way.
    mill.outlets("KITS", "keypad", 2);
    for code in ["KITS1-A", "KITS2-A"] {
        let end = mill.far(code);
        let place = Place::rear(mill.position("T01"));
        land(&mut mill, end, place);
    }
    assert_eq!(both(&mill, "KITS1-A")[1], "T01 > KITS2-A > KITS2?");
}

#[test]
fn legs_of_a_split_end_go_each_their_way() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    let end = mill.far("KIT1-A");
    mill.does(&Want::SplitEnd {
        end,
        legs: LegNumber::new(2).expect("two"),
    });
    for (leg, at) in [(1, "B01"), (2, "B02")] {
        let leg = LegNumber::new(leg);
        let place = Place::rear(mill.position(at));
        land(&mut mill, End { leg, ..end }, place);
    }
    assert_eq!(both(&mill, "KIT1-A")[1], "[B01 | B02]");
}

#[test]
fn each_strand_of_a_tie_that_is_split_at_both_ends_has_a_line_of_its_own() {
    let mut mill = Mill::new();
    let tie = ties(&mut mill, 1)[0];
    for (side, at) in [(Side::Near, ["B01", "B02"]), (Side::Far, ["D02", "D04"])] {
        let end = End::whole(tie, side);
        mill.does(&Want::SplitEnd {
            end,
            legs: LegNumber::new(2).expect("two"),
        });
        for (leg, at) in (1..).zip(at) {
            let leg = LegNumber::new(leg);
            let place = Place::rear(mill.position(at));
            land(&mut mill, End { leg, ..end }, place);
        }
    }
    let ways = follow(mill.registry(), tie);
    let lines: Vec<_> = ways
        .iter()
        .map(|way| {
            let [near, far] = way.sides.each_ref().map(|side| told(&mill, side));
            (way.leg.map(LegNumber::get), near, far)
        })
        .collect();
    let line = |leg, near: &str, far: &str| (Some(leg), near.to_owned(), far.to_owned());
    assert_eq!(lines, [line(1, "B01", "D02"), line(2, "B02", "D04")]);
}

#[test]
fn two_that_claim_one_position_do_not_feed_each_other() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    // Landed as it is listed is one claim.
    mill.fill("B");
    let mut other = mill.phone(2);
    mill.land("KIT1-A", "B01");
    other.land("KIT2-A", "B01");
    mill.hears(&other);
    assert_eq!(both(&mill, "KIT1-A"), ["KIT1?", "B01 (or KIT2-A)"]);
    assert_eq!(both(&mill, "KIT2-A"), ["KIT2?", "B01 (or KIT1-A)"]);
    // From the switch both are seen, each with the other beside it.
    let switch = device(&mut mill, "Switch 1");
    let port = patched(&mut mill, switch, "B01");
    let back = behind_port(mill.registry(), &port);
    assert_eq!(
        told(&mill, &back),
        "cord > B01 > [KIT1-A (or KIT2-A) > KIT1? | KIT2-A (or KIT1-A) > KIT2?]"
    );
}

#[test]
fn a_cable_that_is_landed_at_two_places_leads_to_both() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.fill("B");
    let mut other = mill.phone(2);
    mill.land("KIT1-A", "B20");
    other.land("KIT1-A", "B03");
    mill.hears(&other);
    // B03 is meant for another one, which hears of it too.
    assert_eq!(
        both(&mill, "KIT1-A"),
        ["KIT1?", "[B20! | B03! (or KIT2-A)]"]
    );
    assert_eq!(both(&mill, "KIT2-A"), ["KIT2?", "B03? (or KIT1-A)"]);
}

#[test]
fn what_is_coiled_buried_or_plugged_says_so() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    let near = |mill: &Mill, code: &str| End::whole(mill.cable(code), Side::Near);
    let end = near(&mill, "KIT1-A");
    mill.does(&Want::Spare {
        end,
        kept: "behind the board, without a plate".to_owned(),
        reason: "covered, not in use".to_owned(),
    });
    assert_eq!(
        both(&mill, "KIT1-A")[0],
        "KIT1 (spare: covered, not in use)"
    );
    let end = near(&mill, "KIT1-B");
    let place = Place::Jack {
        outlet: mill.outlet_id("KIT", 1),
        jack: Letter::new('B').expect("a letter"),
    };
    mill.does(&Want::Land {
        end,
        place,
        fitting: Fitting::Plug,
    });
    let plugged = &both(&mill, "KIT1-B")[0];
    assert!(plugged.ends_with("with a plug of its own)"), "{plugged}");
}

#[test]
fn a_circle_of_cords_and_cables_comes_to_an_end() {
    let mut mill = Mill::new();
    let ties = ties(&mut mill, 2);
    for (tie, near, there) in [(ties[0], "B01", "D01"), (ties[1], "B02", "D02")] {
        for (side, at) in [(Side::Near, near), (Side::Far, there)] {
            let place = Place::rear(mill.position(at));
            land(&mut mill, End::whole(tie, side), place);
        }
    }
    for (one, other) in [("B01", "B02"), ("D01", "D02")] {
        mill.does(&Want::Patch {
            position: mill.position(one),
            to: Some(Place::front(mill.position(other))),
        });
    }
    let [_, far] = both(&mill, "1A/2A-1");
    assert_eq!(far, "D01 > cord > D02 > 1A/2A-2 > B02 > cord > B01");
}
