//! Which room a row of a schedule speaks of.

use bothends::journal::Journal;

use super::support::{job, planned, take_in};

/// Codes, names, floors and units of the rooms of a job.
fn rooms_told(journal: &Journal) -> Vec<String> {
    let registry = journal.registry();
    let rooms = registry.rooms.iter().map(|(_, room)| {
        let code = room.code.get().map(ToString::to_string);
        let floor = room.floor.get().and_then(|id| registry.floors.get(*id));
        let unit = room.unit.get().and_then(|id| registry.units.get(*id));
        let words = [
            code,
            room.name.get().cloned(),
            floor.and_then(|floor| floor.name.get().cloned()),
            unit.and_then(|unit| unit.name.get().cloned()),
        ];
        words.into_iter().flatten().collect::<Vec<_>>().join(", ")
    });
    let mut rooms: Vec<String> = rooms.collect();
    rooms.sort();
    rooms
}

#[test]
fn a_room_name_that_means_two_rooms_is_asked_about() {
    // Found by hostile input: such a row was put into one of the two, and which changed with the job.
    let mut journal = job(1);
    let both = b"Label,Room,Cable type\nABTH1-A,Bathroom,Cat 6\nBBTH1-A,Bathroom,Cat 6\n";
    take_in(&mut journal, both);
    let third = b"Room,Outlet,Cable type\nBathroom,2,Cat 6\n";
    let plan = planned(&journal, third);
    let bad: Vec<&str> = plan.bad().map(|(_, reason)| reason).collect();
    assert_eq!(
        bad,
        [
            "2 rooms are called “Bathroom”: ABTH and BBTH. Write the code of the one that is meant into the row."
        ]
    );
    // With its code it is one of them.
    let told = b"Room,Room abbr.,Outlet,Cable type\nBathroom,BBTH,2,Cat 6\n";
    assert_eq!(planned(&journal, told).adds(), 1);
}

#[test]
fn rooms_of_one_name_on_two_floors_or_in_two_units_are_two_rooms() {
    let mut journal = job(1);
    let file = b"Floor,Unit,Room,Outlet,Cable type\n\
        Ground,Flat A,Bathroom,1,Cat 6\n\
        Ground,Flat B,Bathroom,1,Cat 6\n\
        Upper,Flat B,Bathroom,1,Cat 6\n\
        ground,flat  a,bathroom,1,Cat 6\n\
        Ground,Flat A,Den,1,Cat 6\n\
        Ground,Flat B,Den,1,Cat 6\n";
    assert_eq!(take_in(&mut journal, file).adds(), 6);
    let rooms = [
        "ABAT, Bathroom, Ground, Flat A",
        "ADEN, Den, Ground, Flat A",
        "BBAT, Bathroom, Ground, Flat B",
        "BBTH, Bathroom, Upper, Flat B",
        "BDEN, Den, Ground, Flat B",
    ];
    assert_eq!(rooms_told(&journal), rooms);
    let again = planned(&journal, file);
    assert_eq!((again.adds(), again.here()), (0, 6));
    // Another file finds each by floor and unit; what it does not say leaves both open.
    let other = b"Floor,Unit,Room,Outlet,Cable type\n\
        Upper,Flat B,Bathroom,2,Cat 6\n\
        ,Flat A,Bathroom,2,Cat 6\n\
        ,Flat B,Bathroom,2,Cat 6\n";
    let plan = take_in(&mut journal, other);
    assert_eq!(plan.adds(), 2);
    let bad: Vec<&str> = plan.bad().map(|(_, reason)| reason).collect();
    assert_eq!(
        bad,
        [
            "2 rooms are called “Bathroom”: BBAT and BBTH. Write the code of the one that is meant into the row."
        ]
    );
    assert_eq!(rooms_told(&journal), rooms);
}

#[test]
fn a_floor_that_a_schedule_calls_otherwise_than_the_job_is_no_second_floor() {
    let mut journal = job(1);
    let file = b"Floor,Room,Outlet,Cable type\nGround,Kitchen,1,Cat 6\nUpper,Study,1,Cat 6\n";
    take_in(&mut journal, file);
    let before = rooms_told(&journal);
    let other = b"Floor,Room,Outlet,Cable type\n\
        Level 0,Kitchen,2,Cat 6\n\
        Level 0,Pantry,1,Cat 6\n\
        Level 0,Kitchen,3,Cat 6\n";
    assert_eq!(take_in(&mut journal, other).adds(), 3);
    let rooms = rooms_told(&journal);
    assert_eq!(rooms.len(), 3, "{rooms:?}");
    assert!(before.iter().all(|room| rooms.contains(room)), "{rooms:?}");
    // Where the job has both floors, they are two.
    let third = b"Floor,Room,Outlet,Cable type\nUpper,Kitchen,1,Cat 6\n";
    take_in(&mut journal, third);
    assert_eq!(rooms_told(&journal).len(), 4);
}
