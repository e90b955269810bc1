//! Schedules with neither label codes nor outlet numbers: the app numbers the outlets itself.

use bothends::exchange::csv::Form;
use bothends::names;
use bothends::schedule::{Plan, What, export};

use super::support::{job, planned, take_back, take_in};

const FILE: &str = "Wire No;From (closet);Area;Position on wall;Kind;Service;Length est;Remarks\n\
    W001;MDF;Lobby;north wall;CAT6;data;31;\n\
    W002;MDF;Lobby;North  wall;Cat 6;data;32;\n\
    W003;MDF;Lobby;desk;cat6A;WAP;33;\n\
    W004;MDF;Bar;north wall;Coax RG6;TV;34;\n\
    W005;MDF;Lobby;;16/2 speaker;speaker;35;\n\
    W006;MDF;Lobby;;16/2 speaker;speaker;36;\n\
    W006;MDF;Lobby;door;18/2;door contact;37;\n\
    W007;MDF;;door;18/2;door contact;38;\n";

/// Line and code of each row that is added or here; the reason of a bad one.
fn told(plan: &Plan) -> Vec<String> {
    let words = |what: &What| match what {
        What::Adds { code, .. } => format!("adds {code}"),
        What::Here { code, .. } => format!("here {code}"),
        What::Bad { reason } => format!("bad {reason}"),
    };
    let rows = plan.rows.iter();
    rows.map(|row| format!("{} {}", row.line, words(&row.what)))
        .collect()
}

#[test]
fn outlets_get_the_next_numbers_of_their_rooms_and_one_place_is_one_outlet() {
    let mut journal = job(1);
    let plan = take_in(&mut journal, FILE.as_bytes());
    assert!(plan.numbers);
    assert_eq!(
        told(&plan),
        [
            "2 adds LOB1-A",
            "3 adds LOB1-B",
            "4 adds LOB2-A",
            "5 adds BAR1-A",
            "6 adds LOB3-A",
            "7 adds LOB4-A",
            "8 bad “W006” stands on line 7 already in this room. Give one of the two another name.",
            "9 bad The row says no room. Write a label code such as KIT2-C, or the room.",
        ]
    );
    let says = |at: usize| match &plan.rows[at].what {
        What::Adds { says, .. } => says.as_str(),
        other => panic!("{other:?}"),
    };
    assert_eq!(
        says(1),
        "Cat 6 U/UTP; for data; Length est 32; labelled W002, which is kept as an old name"
    );
    let registry = journal.registry();
    let cable = registry.index.cables_by_code.get(&"LOB1-B".to_owned())[0];
    let cable = registry.cables.get(cable).expect("a cable");
    let known: Vec<&String> = cable.known_as.iter().map(|said| said.value).collect();
    assert_eq!(known, ["W002"], "said once");
    let spots: Vec<(String, &str)> = registry
        .outlets
        .iter()
        .filter_map(|(id, row)| Some((names::outlet(registry, id), row.spot.get()?.wall.as_str())))
        .collect();
    for of in [
        ("LOB1", "north wall"),
        ("LOB2", "desk"),
        ("BAR1", "north wall"),
    ] {
        assert!(spots.contains(&(of.0.to_owned(), of.1)), "{spots:?}");
    }
    assert_eq!(spots.len(), 3, "{spots:?}");
}

#[test]
fn the_same_file_adds_nothing_and_one_like_it_only_what_is_new() {
    let mut journal = job(1);
    take_in(&mut journal, FILE.as_bytes());
    let before = journal.registry().dump();
    let again = take_in(&mut journal, FILE.as_bytes());
    assert_eq!((again.adds(), again.here(), again.facts.len()), (0, 6, 0));
    assert_eq!(journal.registry().dump(), before);
    // Saved anew with its rows turned round, one more among them, and another place for one.
    let head = FILE.lines().next().expect("a header");
    let rows = [
        "W008;MDF;Lobby;desk;Cat 6;data;31;",
        "W003;MDF;Lobby;desk;cat6A;WAP;33;",
        "W009;MDF;Lobby;desk;Cat 6;data;31;",
        "w001;MDF;lobby;door;CAT6;data;31;",
        "W001;MDF;Bar;;CAT6;data;31;",
    ];
    let other = format!("{head}\n{}\n", rows.join("\n"));
    let plan = take_in(&mut journal, other.as_bytes());
    assert_eq!(
        told(&plan),
        [
            // No row has said yet which outlet is the one at the desk.
            "2 adds LOB5-A",
            "3 here LOB2-A",
            "4 adds LOB2-B",
            "5 here LOB1-A",
            // Another room may have the same numbers.
            "6 adds BAR2-A",
        ]
    );
    assert_eq!(planned(&journal, other.as_bytes()).adds(), 0);
}

#[test]
fn what_was_taken_back_gets_its_numbers_again_and_others_never_do() {
    let mut journal = job(1);
    take_in(&mut journal, b"Label,Room,Cable type\nLOB3-A,Lobby,Cat 6\n");
    let first = take_in(&mut journal, FILE.as_bytes());
    assert_eq!(told(&first)[0], "2 adds LOB4-A");
    take_back(&mut journal);
    let again = take_in(&mut journal, FILE.as_bytes());
    assert!(again.taken_back);
    assert_eq!(again.facts, first.facts);
    assert_eq!(planned(&journal, FILE.as_bytes()).adds(), 0);
    take_back(&mut journal);
    // A plate may bear the numbers of the file that was taken back.
    let other = FILE.replace("WAP", "Access point");
    assert_eq!(
        told(&planned(&journal, other.as_bytes()))[0],
        "2 adds LOB8-A"
    );
}

#[test]
fn a_full_place_goes_on_beside_and_a_full_room_is_refused() {
    // 21 letters: those that a pen keeps apart.
    let rows = (1..=22).map(|n| format!("W{n:03},Lobby,floor box,Cat 6\n"));
    let file = format!("Wire,Room,Wall,Type\n{}", rows.collect::<String>());
    let plan = planned(&job(1), file.replace("Wire", "Wire no").as_bytes());
    assert_eq!(plan.adds(), 22, "{:?}", told(&plan));
    assert!(told(&plan)[21].ends_with("adds LOB2-A"));
    let rows = (1..=100).map(|n| format!("W{n:03},Lobby,Cat 6\n"));
    let file = format!("Wire no,Room,Type\n{}", rows.collect::<String>());
    let plan = planned(&job(1), file.as_bytes());
    assert_eq!(plan.adds(), 99);
    assert_eq!(
        told(&plan)[99],
        "101 bad LOB has used all 99 outlet numbers. Divide it into two rooms."
    );
}

#[test]
fn where_one_row_has_a_code_or_a_number_the_others_are_asked_for_theirs() {
    for file in [
        &b"Label,Room,Cable type\nKIT1-A,Kitchen,Cat 6\n,Kitchen,Cat 6\n"[..],
        b"Outlet,Room,Cable type\n1,Kitchen,Cat 6\n,Kitchen,Cat 6\n",
    ] {
        let plan = planned(&job(1), file);
        assert!(!plan.numbers);
        assert!(
            told(&plan)[1].contains("neither a label code nor an outlet number"),
            "{:?}",
            told(&plan)
        );
    }
    // A column of other names that somebody called codes: the reason says what to choose.
    let file = b"Label,Old name,Room,Cable type\nW001,door,Kitchen,Cat 6\n";
    let told = told(&planned(&job(1), file));
    assert!(told[0].contains("choose “Old name” for it"), "{told:?}");
}

#[test]
fn the_place_on_the_wall_goes_out_and_comes_back() {
    let mut journal = job(1);
    take_in(&mut journal, FILE.as_bytes());
    let file = export(journal.registry(), Form::Raw);
    assert!(String::from_utf8_lossy(&file).contains("north wall"));
    let mut copy = job(2);
    take_in(&mut copy, &file);
    assert_eq!(export(copy.registry(), Form::Raw), file);
    assert_eq!(planned(&journal, &file).adds(), 0);
}
