//! The order in which people walk a job.

use bothends::command::Want;
use bothends::domain::label::SpaceCode;
use bothends::domain::medium::{Kind, Medium};
use bothends::names;
use bothends::walk;

use super::support::{Site, room_code};

#[test]
fn floors_come_from_below_and_rooms_as_ordered() {
    let mut site = Site::phone(1);
    for (name, number) in [("Loft", None), ("First", Some(1)), ("Ground", Some(0))] {
        site.does(Want::AddFloor {
            name: name.to_owned(),
            number,
        });
    }
    let floors: Vec<_> = site.registry().floors.iter().map(|(id, _)| id).collect();
    for (code, floor) in [
        ("YARD", None),
        ("LOF", Some(0)),
        ("BED", Some(1)),
        ("HAL", Some(2)),
        ("KIT", Some(2)),
    ] {
        site.does(Want::AddRoom {
            name: code.to_owned(),
            code: room_code(code),
            floor: floor.map(|at: usize| floors[at]),
            unit: None,
        });
    }
    let walked = |site: &Site| {
        let rooms = walk::rooms(site.registry());
        let names = rooms
            .into_iter()
            .map(|room| names::room(site.registry(), room));
        names.collect::<Vec<_>>().join(" ")
    };
    assert_eq!(walked(&site), "HAL KIT BED LOF YARD");
    let room = site.room("KIT");
    site.does(Want::OrderRoom { room, order: 0 });
    assert_eq!(walked(&site), "KIT HAL BED LOF YARD");
}

#[test]
fn floors_without_a_number_come_in_the_order_of_their_first_rooms() {
    let mut site = Site::phone(1);
    for name in ["Attic", "Basement", "Street level"] {
        site.does(Want::AddFloor {
            name: name.to_owned(),
            number: None,
        });
    }
    let floors: Vec<_> = site.registry().floors.iter().map(|(id, _)| id).collect();
    let mut adds = |code: &str, floor: usize| {
        site.does(Want::AddRoom {
            name: code.to_owned(),
            code: room_code(code),
            floor: Some(floors[floor]),
            unit: None,
        });
    };
    for (code, floor) in [("HAL", 2), ("CEL", 1), ("LOF", 0), ("KIT", 2)] {
        adds(code, floor);
    }
    let rooms = walk::rooms(site.registry());
    let names: Vec<String> = rooms
        .into_iter()
        .map(|room| names::room(site.registry(), room))
        .collect();
    assert_eq!(names, ["HAL", "KIT", "CEL", "LOF"]);
}

#[test]
fn numbers_sort_as_numbers() {
    let mut site = Site::mill();
    for _ in 0..11 {
        site.adds_outlet("KIT", "keypad");
    }
    for number in [10, 2] {
        let cable = site.cable(&format!("KIT{number}-A"));
        site.does(Want::RouteLocal {
            cable,
            from: site.outlet("KIT1"),
        });
    }
    let out = walk::out_to(site.registry(), site.outlet("KIT1"));
    assert_eq!(out, [site.cable("KIT2-A"), site.cable("KIT10-A")]);
    site.does(Want::AddRack {
        space: SpaceCode::new(2, "A").expect("a space"),
        name: "Studio rack".to_owned(),
        room: None,
    });
    for _ in 0..10 {
        site.does(Want::AddTie {
            near: site.rack("1A"),
            far: site.rack("2A"),
            medium: Medium::indoor(Kind::Cat6Utp),
            purpose: String::new(),
        });
    }
    let last = walk::ties(site.registry()).last().copied();
    assert_eq!(last, Some(site.cable("1A/2A-10")));
}

#[test]
fn no_wanted_cable_is_left_out() {
    let mut site = Site::mill();
    let outlet = site.adds_outlet("KIT", "data");
    let want = site.add_cable("KIT1", Kind::Cat6Utp);
    site.does(want);
    let stray = site.cable("KIT1-C");
    site.undoes(outlet);
    assert_eq!(walk::cables(site.registry()), [stray]);
}
