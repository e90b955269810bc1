//! The counts of the demo job are the same wherever they stand: on the list of rooms at the wall, in
//! each room, and on the page of the job.

use std::collections::BTreeMap;

use bothends::command::Want;
use bothends::domain::ids::{Bits80, CableId, WriterId};
use bothends::domain::place::{End, Side};
use bothends::domain::work::MarkKind;
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry};
use bothends::query::hand::hand;
use bothends::query::plan::progress;
use bothends::query::wall::{self, EndHere, walls};
use bothends::query::{Tally, tally};
use bothends::walk;

use crate::mill::Mill;
use crate::support::marrowby;

fn demo() -> Journal {
    let file: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let mut journal = Journal::new(marrowby::JOB, WriterId(Bits80(*b"aReader000")));
    journal.take(jobfile::read(file).lines.iter().map(String::as_str));
    journal
}

/// The cables among the ends that stand on plates, and those of which all these ends are marked.
fn on_plates(ends: impl Iterator<Item = EndHere>) -> (usize, usize) {
    let mut cables: BTreeMap<CableId, bool> = BTreeMap::new();
    for end in ends {
        *cables.entry(end.end.cable).or_insert(true) &= end.is_marked();
    }
    let marked = cables.values().filter(|marked| **marked);
    (cables.len(), marked.count())
}

fn ends_of(registry: &Registry, room: bothends::domain::ids::RoomId) -> Vec<EndHere> {
    let room = wall::room(registry, room).expect("a room");
    room.outlets
        .into_iter()
        .flat_map(|line| line.ends)
        .collect()
}

fn shown(tally: Tally) -> (usize, usize) {
    (tally.cables, tally.marked)
}

#[test]
fn the_wall_the_rooms_and_the_job_count_alike() {
    let journal = demo();
    let registry = journal.registry();
    let walls = walls(registry);
    let job = progress(registry);
    for line in &walls.rooms {
        let plates = on_plates(ends_of(registry, line.room).into_iter());
        assert_eq!(shown(line.tally), plates, "{}", line.code);
        let row = job.iter().find(|row| row.code == line.code);
        let row = row.map(|row| row.tally).unwrap_or_default();
        assert_eq!(row, line.tally, "{}", line.code);
    }
    let rooms = walls.rooms.iter();
    let all = rooms.flat_map(|line| ends_of(registry, line.room));
    assert_eq!(shown(walls.all), on_plates(all));
    // The demo job has local runs between rooms, so that the rooms together count more.
    let sum: usize = walls.rooms.iter().map(|line| line.tally.cables).sum();
    assert!(sum > walls.all.cables, "{sum}");

    let whole = job[0].tally;
    let elsewhere = job.last().expect("rows").tally;
    assert_eq!(whole.cables, walls.all.cables + elsewhere.cables);
    assert_eq!(whole.cables, walk::cables(registry).len());
    let wanted = walk::cables(registry).into_iter();
    let marked = wanted.filter(|id| {
        let ends = Side::BOTH.map(|side| registry.cables.get(*id)?.end(*id, side));
        ends.iter().all(|end| {
            end.is_some_and(|end| end.marks.last().is_some() && end.lost.last().is_none())
        })
    });
    assert!(whole.marked >= marked.count());
}

#[test]
fn nothing_of_a_local_run_is_left_at_the_rack() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "contact", 2);
    mill.outlets("KITS", "contact", 1);
    mill.does(&Want::RouteLocal {
        cable: mill.cable("KIT2-A"),
        from: mill.outlet_id("KITS", 1),
    });
    let open = |mill: &Mill| -> usize {
        let keys = hand(mill.registry(), "").next.into_iter();
        keys.map(|key| key.open).sum()
    };
    let left = |mill: &Mill| {
        let whole = tally(mill.registry()).whole;
        whole.cables - whole.rack_settled
    };
    assert_eq!((left(&mill), open(&mill)), (2, 2));
    for code in ["KIT1-A", "KITS1-A"] {
        mill.does(&Want::Spare {
            end: mill.far(code),
            kept: "above the rack".to_owned(),
            reason: "FUTURE".to_owned(),
        });
    }
    assert_eq!((left(&mill), open(&mill)), (0, 0));
}

#[test]
fn a_cable_with_both_ends_in_one_room_is_one_cable_there() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.outlets("KITS", "data", 1);
    let counts = |mill: &Mill| -> Vec<(usize, usize)> {
        let tallies = tally(mill.registry());
        let rooms = tallies.rooms.iter().map(|row| row.tally);
        let all = [tallies.whole, tallies.walls].into_iter().chain(rooms);
        all.map(shown).collect()
    };
    assert_eq!(counts(&mill), [(6, 0), (6, 0), (4, 0), (2, 0)]);
    let [same, other] = ["KIT1-A", "KITS1-A"].map(|code| mill.cable(code));
    mill.does(&Want::RouteLocal {
        cable: same,
        from: mill.outlet_id("KIT", 2),
    });
    mill.does(&Want::RouteLocal {
        cable: other,
        from: mill.outlet_id("KIT", 2),
    });
    assert_eq!(counts(&mill), [(6, 0), (6, 0), (5, 0), (2, 0)]);
    let marks = |mill: &mut Mill, cable, side| {
        mill.does(&Want::MarkEnds {
            ends: vec![End::whole(cable, side)],
            kind: MarkKind::Pen,
            copies: 2,
        });
    };
    // One end of the one in one room is not enough; of the one in two rooms it is, in its room.
    marks(&mut mill, same, Side::Near);
    marks(&mut mill, other, Side::Near);
    assert_eq!(counts(&mill), [(6, 0), (6, 0), (5, 0), (2, 1)]);
    marks(&mut mill, same, Side::Far);
    assert_eq!(counts(&mill), [(6, 1), (6, 1), (5, 1), (2, 1)]);
    // A home run is marked in its room before it is marked at the rack.
    let home = mill.cable("KIT1-B");
    marks(&mut mill, home, Side::Near);
    assert_eq!(counts(&mill), [(6, 1), (6, 2), (5, 2), (2, 1)]);
}

#[test]
fn change_orders_are_counted_below_the_rooms_and_add_up_to_the_job() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 3);
    let named = |mill: &Mill| -> Vec<String> {
        let rows = progress(mill.registry()).into_iter();
        rows.map(|row| format!("{} {}", row.name, row.tally.cables))
            .collect()
    };
    let none = ["The whole job 6", "Kitchen 6"];
    assert_eq!(named(&mill), none, "no order, no row");
    let orders_outlet = |mill: &mut Mill, number, order: &str| {
        mill.does(&Want::OrderOutlet {
            outlet: mill.outlet_id("KIT", number),
            order: order.to_owned(),
        });
    };
    orders_outlet(&mut mill, 1, "CO 10");
    orders_outlet(&mut mill, 2, "CO 9");
    // A cable's own goes before that of its outlet.
    mill.does(&Want::OrderCable {
        cable: mill.cable("KIT2-B"),
        order: "CO 10".to_owned(),
    });
    mill.does(&Want::MarkEnds {
        ends: Side::BOTH
            .map(|side| End::whole(mill.cable("KIT2-B"), side))
            .to_vec(),
        kind: MarkKind::Pen,
        copies: 2,
    });
    assert_eq!(
        named(&mill)[2..],
        [
            "Change order CO 9 1",
            "Change order CO 10 3",
            "With no change order 2"
        ]
    );
    let tallies = tally(mill.registry());
    let counts = |of: fn(Tally) -> usize| -> Vec<usize> {
        tallies.orders.iter().map(|row| of(row.tally)).collect()
    };
    assert_eq!(counts(|of| of.cables), [1, 3, 2]);
    assert_eq!(counts(|of| of.marked), [0, 1, 0]);
    assert_eq!(tallies.whole.cables, 6);
    // Taken off again, there is nothing to tell apart.
    orders_outlet(&mut mill, 1, "");
    orders_outlet(&mut mill, 2, "");
    mill.does(&Want::OrderCable {
        cable: mill.cable("KIT2-B"),
        order: String::new(),
    });
    assert_eq!(named(&mill), none);
}
