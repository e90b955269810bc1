//! Patch cords from the fronts of positions, and panels that are exchanged.

use bothends::command::{Want, draft};
use bothends::domain::ids::DeviceId;
use bothends::domain::medium::Connector;
use bothends::domain::place::{Fitting, Place, Placement, Side};
use bothends::journal::{PanelMake, PanelSize};
use bothends::query::rack::{make, slot};
use bothends::query::stations::patched_to;
use bothends::query::{self, What};

use crate::mill::Mill;

fn with_switch() -> (Mill, DeviceId) {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.does(&Want::AddDevice {
        name: "Switch 1".to_owned(),
        room: None,
    });
    let switch = mill.registry().devices.iter().next().expect("one").0;
    (mill, switch)
}

fn lan(device: DeviceId, number: u8) -> Place {
    Place::Device {
        device,
        port: format!("LAN {number}"),
    }
}

fn patch(mill: &mut Mill, position: &str, to: &Place) {
    let position = mill.position(position);
    mill.does(&Want::Patch {
        position,
        to: Some(to.clone()),
    });
}

/// What is wrong with a wish, and whether its first way out is lawful.
fn refused(mill: &Mill, want: &Want) -> (String, Option<Want>) {
    let refusal = draft(want, &mill.journal).expect_err("refused");
    let way = refusal.ways_out.into_iter().next();
    (refusal.words, way.map(|way| *way.want))
}

fn crowded(mill: &Mill) -> usize {
    let findings = query::check(mill.registry());
    let cords = findings.iter();
    cords
        .filter(|finding| matches!(finding.what, What::PatchedTwice { .. }))
        .count()
}

#[test]
fn a_port_takes_one_cord_and_who_sees_another_may_say_so() {
    let (mut mill, switch) = with_switch();
    patch(&mut mill, "B01", &lan(switch, 1));
    let want = Want::Patch {
        position: mill.position("B02"),
        to: Some(lan(switch, 1)),
    };
    let (words, way) = refused(&mill, &want);
    assert_eq!(
        words,
        "The cord of B01 is at LAN 1 of Switch 1 already. Look which one is there."
    );
    mill.does(&way.expect("a way out"));
    assert_eq!(patched_to(mill.registry(), mill.position("B01")), []);
    assert_eq!(
        patched_to(mill.registry(), mill.position("B02")),
        [lan(switch, 1)]
    );
    assert_eq!(crowded(&mill), 0);
}

#[test]
fn a_cord_between_two_fronts_is_one_whichever_end_tells_of_it() {
    let (mut mill, switch) = with_switch();
    let [one, other] = ["B01", "B02"].map(|at| Place::front(mill.position(at)));
    patch(&mut mill, "B01", &other);
    assert_eq!(
        patched_to(mill.registry(), mill.position("B02")),
        std::slice::from_ref(&one)
    );
    // Noted from the other end as well, it is the same cord.
    patch(&mut mill, "B02", &one);
    assert_eq!(crowded(&mill), 0);
    let want = Want::Patch {
        position: mill.position("B02"),
        to: Some(lan(switch, 1)),
    };
    let (words, _) = refused(&mill, &want);
    assert_eq!(
        words,
        "The cord of B01 is at the front of B02 already. Look which one is there."
    );
    // Taken out at either end, it is out at both.
    mill.does(&Want::Patch {
        position: mill.position("B02"),
        to: None,
    });
    assert_eq!(patched_to(mill.registry(), mill.position("B01")), []);
}

#[test]
fn a_cable_and_a_cord_do_not_share_a_port_of_a_device() {
    let (mut mill, switch) = with_switch();
    let end = mill.far("KIT1-A");
    let land = |place: Place| Want::Land {
        end,
        place,
        fitting: Fitting::Direct,
    };
    mill.does(&land(lan(switch, 1)));
    let want = Want::Patch {
        position: mill.position("B01"),
        to: Some(lan(switch, 1)),
    };
    let (words, way) = refused(&mill, &want);
    assert_eq!(
        words,
        "KIT1-A is at LAN 1 of Switch 1 already. Look which one is there."
    );
    mill.does(&way.expect("a way out"));
    let (words, way) = refused(&mill, &land(lan(switch, 1)));
    assert_eq!(
        words,
        "The patch cord of B01 is at LAN 1 of Switch 1 already."
    );
    mill.does(&way.expect("a way out"));
    assert_eq!(patched_to(mill.registry(), mill.position("B01")), []);
    assert_eq!(crowded(&mill), 0);
}

#[test]
fn a_cord_goes_to_a_port_or_a_front_and_nowhere_else() {
    let (mill, _) = with_switch();
    let position = mill.position("B01");
    let jack = Place::Jack {
        outlet: mill.outlet_id("KIT", 1),
        jack: bothends::domain::label::Letter::new('A').expect("a letter"),
    };
    for to in [
        Place::rear(mill.position("B02")),
        Place::front(position),
        jack,
    ] {
        let want = Want::Patch {
            position,
            to: Some(to),
        };
        let (words, way) = refused(&mill, &want);
        assert!(
            words.starts_with("A patch cord goes from one front"),
            "{words}"
        );
        assert_eq!(way, None);
    }
}

#[test]
fn a_larger_panel_keeps_what_is_landed_and_a_smaller_one_only_what_it_has_room_for() {
    let (mut mill, _) = with_switch();
    mill.land("KIT1-A", "B07");
    mill.land("KIT2-B", "B20");
    let panel = mill.panel_id("B");
    let of = |positions| Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(positions).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    mill.does(&of(48));
    let size = |mill: &Mill| make(mill.registry(), panel).map(|make| make.positions.get());
    assert_eq!(size(&mill), Some(48));
    assert_eq!(
        slot(mill.registry(), mill.position("B20")).landed,
        [mill.far("KIT2-B")]
    );
    let (words, _) = refused(&mill, &of(12));
    assert_eq!(
        words,
        "Panel B has a position in use beyond 12: B20. Give their cables and cords other positions first."
    );
    let last = mill.journal.history().last().expect("an act").id;
    mill.does(&Want::Undo { act: last });
    assert_eq!(size(&mill), Some(24));
}

#[test]
fn a_smaller_panel_is_refused_with_the_positions_that_would_be_lost() {
    let (mut mill, device) = with_switch();
    let panel = mill.panel_id("B");
    mill.outlets("KIT", "data", 9);
    mill.fill("B");
    let of = |positions| Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(positions).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    let refusal = draft(&of(6), &mill.journal).expect_err("too small");
    assert_eq!(
        refusal.words,
        "Panel B has positions in use beyond 6: B07, B08, B09, B10, B11, B12, B13, B14, B15, B16, \
         B17, B18 and 4 more. Give their cables and cords other positions first."
    );
    assert_eq!(refusal.see, Some(panel));
    // A cord at the front is in use too.
    let panel = mill.panel_id("C");
    patch(&mut mill, "C08", &lan(device, 1));
    let small = Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::F,
            positions: PanelSize::new(6).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    let (words, _) = refused(&mill, &small);
    assert!(words.contains("beyond 6: C08."), "{words}");
}

#[test]
fn a_panel_is_not_exchanged_for_a_connector_that_its_landed_cables_do_not_fit() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 9);
    mill.fill("B");
    mill.land("KIT1-A", "B01");
    let panel = mill.panel_id("B");
    let coax = |fitting| Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::F,
            positions: PanelSize::new(24).expect("a size"),
        },
        fitting,
    };
    let one = draft(&coax(Fitting::Direct), &mill.journal).expect_err("refused");
    assert!(
        one.words.starts_with(
            "Panel B is to be F, and what is landed or listed there does not fit: KIT1-A on B01, \
             KIT1-B listed for B02, "
        ),
        "{}",
        one.words
    );
    assert!(
        one.words.ends_with(
            "; the cable and the connector are of different kinds. Lift them or give them other \
             positions first."
        ),
        "{}",
        one.words
    );
    assert_eq!(one.see, Some(panel));
    for outlet in 1..=9 {
        for letter in ["A", "B"] {
            let code = format!("KIT{outlet}-{letter}");
            let at = format!("B{:02}", 2 * outlet - i32::from(letter == "A"));
            if code != "KIT1-A" {
                mill.land(&code, &at);
            }
        }
    }
    let (words, way) = refused(&mill, &coax(Fitting::Direct));
    assert!(words.contains("KIT1-A on B01, KIT1-B on B02,"), "{words}");
    assert!(words.contains("KIT6-B on B12 and 6 more;"), "{words}");
    // Another size of the same connector asks nothing.
    let larger = Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(48).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    assert!(draft(&larger, &mill.journal).is_ok());
    // With adapters, it is written, and nothing is left for the punch list.
    mill.does(&way.expect("a way out"));
    assert_eq!(
        make(mill.registry(), panel).map(|make| make.connector),
        Some(Connector::F)
    );
    let end = mill.far("KIT1-A");
    let record = mill.registry().cables.get(end.cable).expect("a cable");
    let record = record.end(end.cable, Side::Far).expect("an end");
    assert!(matches!(
        record.placement.whole.get(),
        Some(Placement::Landed {
            fitting: Fitting::Adapter,
            ..
        })
    ));
    let findings = query::check(mill.registry());
    assert!(
        !findings
            .iter()
            .any(|finding| matches!(finding.what, What::Misfit { .. }))
    );
}

#[test]
fn terminals_that_carry_two_are_not_exchanged_for_ports_that_take_one() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "keypad", 2);
    mill.panel("1A", "H", Connector::PunchBlock, 4, None);
    mill.land("KIT1-A", "H01");
    mill.land("KIT2-A", "H01");
    let exchange = Want::ReplacePanel {
        panel: mill.panel_id("H"),
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(4).expect("a size"),
        },
        fitting: Fitting::Adapter,
    };
    let refusal = draft(&exchange, &mill.journal).expect_err("refused");
    assert_eq!(
        refusal.words,
        "H01 is landed on by more than one cable, and 8P8C takes one. Give the others other positions first."
    );
}

#[test]
fn a_larger_panel_does_not_hang_over_its_neighbour() {
    let (mut mill, _) = with_switch();
    // Panel C hangs at unit 18, two below panel B at 20; one of two units at 17 reaches it.
    let panel = mill.panel_id("T");
    let rack = mill.rack_id("1A");
    mill.does(&Want::PlacePanel {
        panel,
        rack,
        unit: Some(17),
        purpose: String::new(),
    });
    let want = Want::ReplacePanel {
        panel,
        make: PanelMake {
            connector: Connector::AlarmTerminal,
            positions: PanelSize::new(48).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    let (words, way) = refused(&mill, &want);
    assert!(words.starts_with("Panel C is at rack unit 18"), "{words}");
    mill.does(&way.expect("room is made"));
    assert_eq!(
        make(mill.registry(), panel).map(|make| make.positions.get()),
        Some(48)
    );
    let findings = query::check(mill.registry());
    assert!(
        !findings
            .iter()
            .any(|finding| matches!(finding.what, What::UnitsShared { .. }))
    );
}

#[test]
fn what_calls_itself_a_password_is_not_kept_with_a_device() {
    let (mill, device) = with_switch();
    let of = |serial: &str| Want::DescribeDevice {
        device,
        model: "Eight ports".to_owned(),
        serial: serial.to_owned(),
    };
    let (words, _) = refused(&mill, &of("Password: owl"));
    assert!(words.starts_with("This looks like a password."), "{words}");
    assert!(draft(&of("MM-0417"), &mill.journal).is_ok());
}

#[test]
fn what_calls_itself_a_password_is_not_kept_as_a_port() {
    let (mill, device) = with_switch();
    let port = |port: &str| Place::Device {
        device,
        port: port.to_owned(),
    };
    let wants = |to: Place| {
        [
            Want::Patch {
                position: mill.position("B01"),
                to: Some(to.clone()),
            },
            Want::Land {
                end: mill.far("KIT1-A"),
                place: to,
                fitting: Fitting::Direct,
            },
        ]
    };
    for want in wants(port("Password: owl")) {
        let (words, way) = refused(&mill, &want);
        assert_eq!(
            words,
            "This looks like a password. Whoever holds this file can read it; keep the password \
             elsewhere, and write the port alone."
        );
        assert_eq!(way, None);
    }
    for want in wants(port("PW 4")) {
        assert!(draft(&want, &mill.journal).is_ok());
    }
}
