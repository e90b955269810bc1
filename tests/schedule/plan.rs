//! What taking a schedule in would do.

use bothends::domain::place::Place;
use bothends::exchange::csv::Form;
use bothends::names;
use bothends::query::find::both_ends;
use bothends::query::wall;
use bothends::schedule::{Plan, What, export};
use bothends::walk;

use super::support::{job, planned, take_back, take_in};
use crate::mill::Mill;

fn summary(plan: &Plan) -> Vec<String> {
    let words = |what: &What| match what {
        What::Adds { code, says } => format!("adds {code} {says}"),
        What::Here { code, says } => format!("{code} {says}"),
        What::Bad { reason } => format!("bad {reason}"),
    };
    plan.rows
        .iter()
        .map(|row| format!("{} {}", row.line, words(&row.what)))
        .collect()
}

#[test]
fn a_plain_schedule_becomes_rooms_outlets_cables_and_positions() {
    let file = b"Label,Room,Cable type,Outlet type,Port\n\
        KIT1-A,Kitchen,Cat 6,TV,1A-A01\n\
        KIT1-D,Kitchen,RG-6,TV,1A-C30\n\
        HAL1-A,Hall,16/4,Volume control,\n";
    let mut journal = job(1);
    let plan = take_in(&mut journal, file);
    assert_eq!(
        summary(&plan),
        [
            "2 adds KIT1-A Cat 6 U/UTP on A01, on a panel that is added",
            "3 adds KIT1-D RG-6 on C30, on a panel that is added",
            "4 adds HAL1-A Speaker 16/4"
        ]
    );
    let registry = journal.registry();
    let codes: Vec<String> = walk::cables(registry)
        .into_iter()
        .map(|id| names::cable(registry, id))
        .collect();
    assert_eq!(codes, ["KIT1-A", "KIT1-D", "HAL1-A"]);
    assert_eq!(
        plan.beside,
        [
            "Room KIT, Kitchen",
            "Outlet KIT1",
            "Rack 1A, Rack 1A",
            "Panel A, 8P8C with 24 positions",
            "Panel C, F with 48 positions",
            "Room HAL, Hall",
            "Outlet HAL1"
        ]
    );
    assert_eq!(
        bothends::query::check(registry)
            .iter()
            .filter(|finding| finding.gate == bothends::query::Gate::Now)
            .count(),
        0
    );
}

#[test]
fn each_bad_row_says_its_line_and_reason() {
    let file = include_bytes!("../../demo-data/schedule-bad-rows.csv");
    let plan = planned(&job(1), file);
    let bad: Vec<(u32, &str)> = plan.bad().collect();
    let expected = [
        (9, "AKIT2-B stands on line 3 already"),
        (10, "“string” is no kind of cable"),
        (12, "“ALIV2-I” has no cable letter"),
        (13, "“ALIV0-A” has no outlet number"),
        (22, "“+1A” has no panel letters"),
        (24, "The kind of cable is missing"),
    ];
    for (line, fragment) in expected {
        let reason = bad
            .iter()
            .find(|(at, _)| *at == line)
            .map(|(_, reason)| *reason);
        assert!(
            reason.is_some_and(|reason| reason.contains(fragment)),
            "line {line}: {reason:?}, expected “{fragment}”; all: {bad:#?}"
        );
    }
    assert_eq!(bad.len(), expected.len(), "{bad:#?}");
    for (line, reason) in bad {
        assert!(reason.ends_with('.'), "line {line}: {reason}");
    }
}

#[test]
fn a_length_keeps_the_unit_of_its_heading() {
    for (heading, said) in [
        ("Length (m)", "Length (m) in the schedule: 31.5"),
        (" Est. length ft ", "Est. length ft in the schedule: 31.5"),
    ] {
        let mut journal = job(1);
        let file = format!("Label,Cable type,{heading}\nKIT1-A,Cat 6,31.5\n");
        take_in(&mut journal, file.as_bytes());
        let registry = journal.registry();
        let (_, cable) = registry.cables.iter().next().expect("a cable");
        let notes: Vec<&String> = cable.notes.iter().map(|note| note.value).collect();
        assert_eq!(notes, [said]);
    }
}

#[test]
fn a_heading_as_long_as_a_file_does_not_stand_in_every_note() {
    // Found by hostile input: rows times the length of the heading.
    let heading = format!("Length (m){}", "\"".repeat(100_000));
    let rows = (1..=9).map(|number| format!("KIT{number}-A,Cat 6,31.5\n"));
    let file = format!("Label,Cable type,{heading}\n{}", rows.collect::<String>());
    let mut journal = job(1);
    take_in(&mut journal, file.as_bytes());
    let cables = journal.registry().cables.iter();
    let notes = cables.flat_map(|(_, cable)| cable.notes.iter().map(|note| note.value.len()));
    let notes: Vec<usize> = notes.collect();
    assert_eq!(notes.len(), 9);
    assert!(notes.iter().all(|length| *length < 100), "{notes:?}");
    // The same file adds nothing.
    let before = journal.len();
    take_in(&mut journal, file.as_bytes());
    assert_eq!(journal.len(), before);
}

#[test]
fn a_bare_floor_or_unit_keeps_its_name_and_is_said_with_its_kind() {
    let file = b"Label,Room,Cable type,Floor,Unit\n\
        KIT1-A,Kitchen,Cat 6,0,A\n\
        HAL1-A,Hall,Cat 6,-1,Mill house\n\
        DEN1-A,Den,Cat 6,Attic,12\n";
    let mut journal = job(1);
    take_in(&mut journal, file);
    let registry = journal.registry();
    let mut parts: Vec<String> = wall::walls(registry)
        .rooms
        .into_iter()
        .map(|room| room.part)
        .collect();
    parts.sort_unstable();
    assert_eq!(
        parts,
        ["Mill house, Floor -1", "Unit 12, Attic", "Unit A, Floor 0"]
    );
    let mut floors: Vec<&String> = registry
        .floors
        .iter()
        .filter_map(|(_, row)| row.name.get())
        .collect();
    floors.sort_unstable();
    assert_eq!(floors, ["-1", "0", "Attic"], "as typed");
}

#[test]
fn taken_in_twice_adds_nothing() {
    for file in [
        &include_bytes!("../../demo-data/schedule-bad-rows.csv")[..],
        include_bytes!("../../demo-data/schedule-semicolon-latin1.csv"),
        include_bytes!("../../demo-data/schedule-tabs.csv"),
        // Without letters, the next free one is given; the row's id tells that it is here.
        b"Room,Outlet number,Cable type\nKitchen,1,Cat 6\nKitchen,1,Cat 6\nKitchen,1,RG-6\n",
    ] {
        let mut journal = job(1);
        let first = take_in(&mut journal, file);
        assert!(first.adds() > 2);
        let before = journal.registry().dump();
        let second = take_in(&mut journal, file);
        assert_eq!(
            (second.adds(), second.facts.len()),
            (0, 0),
            "{:#?}",
            summary(&second)
        );
        let lines = |plan: &Plan, adds: bool| -> Vec<u32> {
            let counts = |what: &What| match what {
                What::Adds { .. } => adds,
                What::Here { .. } => !adds,
                What::Bad { .. } => false,
            };
            plan.rows
                .iter()
                .filter(|row| counts(&row.what))
                .map(|row| row.line)
                .collect()
        };
        assert_eq!(lines(&second, false), lines(&first, true));
        assert_eq!(journal.registry().dump(), before);
    }
}

#[test]
fn a_file_that_was_taken_back_can_be_taken_in_again() {
    let unlettered =
        &b"Room,Outlet number,Cable type\nKitchen,1,Cat 6\nKitchen,1,Cat 6\nKitchen,1,RG-6\n"[..];
    let tied = b"Label,Cable type,Port\n1A/2A-1,Cat 6,\nKIT1-B,Cat 6,A01\nKIT1-C,RG-6,\n";
    let outlet_there = b"Label,Cable type\nKIT1-L,Cat 6\n1A/2A-9,Cat 6\n";
    for before in [&b""[..], outlet_there] {
        for file in [
            unlettered,
            tied,
            include_bytes!("../../demo-data/schedule-tabs.csv"),
        ] {
            let mut journal = job(1);
            if !before.is_empty() {
                take_in(&mut journal, before);
            }
            let first = take_in(&mut journal, file);
            assert!(!first.taken_back);
            let cables = journal.registry().cables.len();
            take_back(&mut journal);
            let again = take_in(&mut journal, file);
            assert!(again.taken_back && again.here() == 0);
            assert_eq!(summary(&again), summary(&first));
            assert_eq!(again.facts, first.facts, "the same cables, not others");
            assert_eq!(journal.registry().cables.len(), cables);
            assert_eq!(planned(&journal, file).adds(), 0, "now it is here");
            let now = bothends::query::check(journal.registry());
            let mut now = now
                .iter()
                .filter(|it| it.gate == bothends::query::Gate::Now);
            assert_eq!(now.next(), None);
        }
    }
}

#[test]
fn a_mended_file_adds_the_cables_that_were_taken_back_with_the_first() {
    let mut journal = job(1);
    take_in(&mut journal, b"Label,Cable type\nKIT1-L,Cat 6\n");
    take_in(
        &mut journal,
        b"Label,Cable type\nKIT1-A,Cat 6\nKIT1-B,Cat 6\n",
    );
    take_back(&mut journal);
    let mended = b"Label,Cable type\nKIT1-B,RG-6\nKIT1-A,Cat 6\n";
    let plan = take_in(&mut journal, mended);
    assert_eq!(
        summary(&plan),
        ["2 adds KIT1-B RG-6", "3 adds KIT1-A Cat 6 U/UTP"]
    );
    assert!(!plan.taken_back, "another file was");
    let registry = journal.registry();
    assert_eq!(registry.cables.len(), 3, "no code has a second cable");
    let codes: Vec<String> = walk::cables(registry)
        .into_iter()
        .map(|id| names::cable(registry, id))
        .collect();
    assert_eq!(codes, ["KIT1-A", "KIT1-B", "KIT1-L"]);
    assert_eq!(planned(&journal, mended).here(), 2);
}

#[test]
fn what_a_row_says_otherwise_of_a_cable_that_is_here_is_told() {
    let mut journal = job(1);
    take_in(
        &mut journal,
        b"Label,Room,Cable type,Purpose\nKIT1-A,Kitchen,Cat 6,TV\nKIT1-B,Kitchen,Cat 6,\n1A/2A-1,,Cat 6,\n",
    );
    let other = b"Label,Room,Cable type,Purpose\n\
        KIT1-A,kitchen,Cat 6,TV\n\
        KIT1-B,Pantry,RG-6,Radio\n\
        1A/2A-1,Hall,Fibre 12,\n";
    assert_eq!(
        summary(&planned(&journal, other)),
        [
            "2 KIT1-A here already",
            "3 KIT1-B here already, but as Cat 6 U/UTP, in Kitchen, without a purpose",
            "4 1A/2A-1 here already, but as Cat 6 U/UTP"
        ]
    );
    // A code in the place of the name is the same room, and what a row leaves out is no difference.
    let other = b"Label,Room,Cable type,Purpose\nKIT1-B,KIT,Cat 6,\nKIT1-A,,Cat 6,Radio\n";
    assert_eq!(
        summary(&planned(&journal, other)),
        ["2 KIT1-B here already", "3 KIT1-A here already, but for TV"]
    );
}

#[test]
fn what_a_row_says_otherwise_of_position_length_and_note_is_told() {
    let mut journal = job(1);
    take_in(
        &mut journal,
        b"Label,Cable type,Port,Length,Notes\nKIT1-A,Cat 6,B01,40 ft,Behind the oven\nKIT1-B,Cat 6,,,\nKIT1-C,Cat 6,B03,,\n",
    );
    let other = b"Label,Cable type,Port,Length,Notes\n\
        KIT1-A,Cat 6,B01,40 ft,Behind the oven\n\
        KIT1-B,Cat 6,B02,12 ft,Coiled\n\
        KIT1-C,Cat 6,B04,,\n";
    assert_eq!(
        summary(&planned(&journal, other)),
        [
            "2 KIT1-A here already",
            "3 KIT1-B here already, but on no position, without this length, without this note",
            "4 KIT1-C here already, but on B03"
        ]
    );
}

#[test]
fn the_preview_says_all_that_a_row_adds_and_what_of_it_is_doubtful() {
    let file = b"Label,Cable type,Port,Length (ft),Notes,Outlet type\n\
        KIT1-A,Cat 6,B01,40,,Wine cooler\n\
        KIT1-B,RG-6,B02,forty,Behind the oven,\n\
        KIT1-C,Cat 6,,99999999,,\n\
        KIT1-D,Cat 6,,12' 6\",,\n";
    let plan = planned(&job(1), file);
    assert_eq!(
        summary(&plan),
        [
            "2 adds KIT1-A Cat 6 U/UTP on B01, on a panel that is added; Length (ft) 40; no outlet type is called “Wine cooler”: kept as the purpose of KIT1",
            "3 adds KIT1-B RG-6 on B02, where it does not fit: the cable and the connector are of different kinds; Length (ft) forty, which is no length of a cable: kept as a note; note: Behind the oven",
            "4 adds KIT1-C Cat 6 U/UTP; Length (ft) 99999999, which is no length of a cable: kept as a note",
            "5 adds KIT1-D Cat 6 U/UTP; Length (ft) 12' 6\""
        ]
    );
}

#[test]
fn a_rack_that_a_later_row_names_is_where_an_earlier_one_may_leave_from() {
    let mut journal = job(1);
    let file = b"Label,Cable type,From,Rack\n\
        KIT1-A,Cat 6,Main rack,\n\
        KIT1-B,Cat 6,,main  rack\n";
    assert_eq!(take_in(&mut journal, file).adds(), 2);
    let again = planned(&journal, file);
    assert_eq!((again.adds(), again.here()), (0, 2));
    let registry = journal.registry();
    let home = |code: &str| {
        let cable = registry.index.cables_by_code.get(&code.to_owned())[0];
        registry.home_rack(cable)
    };
    assert!(home("KIT1-A").is_some());
    assert_eq!(home("KIT1-A"), home("KIT1-B"));
    assert_eq!(registry.racks.iter().count(), 1);
}

#[test]
fn a_home_run_may_leave_from_a_rack_and_what_is_no_place_says_what_to_choose() {
    let mut journal = job(1);
    take_in(
        &mut journal,
        b"Label,Cable type,Rack\nHAL1-A,Cat 6,Main rack\n",
    );
    let file = b"From,Label,Cable type\n\
        Main rack,KIT1-A,Cat 6\n\
        2A,KIT1-B,Cat 6\n\
        HAL1,KIT1-C,Cat 6\n\
        Kitchen,KIT1-D,Cat 6\n";
    let plan = take_in(&mut journal, file);
    let said = summary(&plan);
    assert_eq!(
        said[..3]
            .iter()
            .filter(|row| row.contains(" adds "))
            .count(),
        3
    );
    assert!(
        said[3].starts_with("5 bad “Kitchen” is no outlet, and no rack of this job.")
            && said[3].contains(
                "choose “Rack” for it under “What the columns hold”, or add that rack first"
            )
            && said[3].contains("choose “Room”"),
        "{said:?}"
    );
    let registry = journal.registry();
    let leaves = |code: &str| {
        let cable = registry.index.cables_by_code.get(&code.to_owned())[0];
        let home = registry.home_rack(cable);
        let space = home.and_then(|rack| registry.racks.get(rack)?.space.get());
        space.map(ToString::to_string)
    };
    let main = leaves("HAL1-A");
    assert!(main.is_some());
    assert_eq!(leaves("KIT1-A"), main);
    assert_eq!(leaves("KIT1-B").as_deref(), Some("2A"));
    assert_eq!(leaves("KIT1-C"), None);
}

#[test]
fn a_tie_line_has_a_position_at_either_end() {
    let file = b"Label,Cable type,From,Port\n1A/2A-1,Cat 6,A01,2A-B03\n1A/2A-2,Cat 6,B03,\n1A/2A-3,Cat 6,KIT1,\n";
    let mut journal = job(1);
    let plan = take_in(&mut journal, file);
    let said = summary(&plan);
    assert_eq!(
        said[0],
        "2 adds 1A/2A-1 Cat 6 U/UTP on B03, on a panel that is added; from A01"
    );
    assert!(
        said[1].starts_with("3 bad B03 stands on line 2 already"),
        "{said:?}"
    );
    assert!(
        said[2].starts_with("4 bad") && said[2].contains("Write positions as B07"),
        "{said:?}"
    );
    let registry = journal.registry();
    let id = registry.index.cables_by_code.get(&"1A/2A-1".to_owned())[0];
    let row = registry.cables.get(id).expect("the tie");
    let planned = row.planned.each_ref().map(|side| {
        let Some(Some(Place::Position { position, .. })) = side.whole.get() else {
            panic!("planned on a position");
        };
        let rack = registry
            .panels
            .get(position.panel)
            .and_then(|panel| panel.rack.get());
        (
            names::position(registry, *position),
            names::rack(registry, *rack.expect("a rack")),
        )
    });
    let expected = [("A01", "Rack 1A"), ("B03", "Rack 2A")];
    assert_eq!(
        planned,
        expected.map(|(at, rack)| (at.to_owned(), rack.to_owned()))
    );
    // The other way round it is the same two ends.
    let file = b"Label,Cable type,From,Port\n1A/2A-4,Cat 6,B05,A04\n";
    take_in(&mut journal, file);
    let registry = journal.registry();
    let id = registry.index.cables_by_code.get(&"1A/2A-4".to_owned())[0];
    assert_eq!(
        both_ends(registry, id),
        "A04, not landed to B05, not landed"
    );
    let file = export(journal.registry(), Form::Raw);
    let mut copy = job(2);
    take_in(&mut copy, &file);
    assert_eq!(export(copy.registry(), Form::Raw), file);
}

#[test]
fn the_same_file_on_two_phones_is_one_set_of_cables() {
    let file = include_bytes!("../../demo-data/schedule-tabs.csv");
    let (mut one, mut two) = (job(1), job(2));
    let adds = take_in(&mut one, file).adds();
    take_in(&mut two, file);
    let lines: Vec<String> = two.lines().into_iter().map(str::to_owned).collect();
    one.take(lines.iter().map(String::as_str));
    assert_eq!(one.registry().cables.len(), adds);
    let now = bothends::query::check(one.registry());
    let now: Vec<_> = now
        .iter()
        .filter(|finding| finding.gate == bothends::query::Gate::Now)
        .collect();
    assert!(now.is_empty(), "{now:#?}");
}

#[test]
fn a_position_is_given_once() {
    let file = b"Label,Cable type,Port\nKIT1-A,Cat 6,A01\nKIT1-B,Cat 6,A01\nKIT1-C,Cat 6,A97\n";
    let plan = planned(&job(1), file);
    assert_eq!(
        summary(&plan)[1..],
        [
            "3 bad A01 stands on line 2 already. Choose another position for one of the two.",
            "4 bad A97 is beyond the largest panel, which has 96 positions."
        ]
    );
}

#[test]
fn a_panel_is_in_one_rack() {
    let mut journal = job(1);
    let file = b"Label,Cable type,Rack,Panel,Port\n\
        KIT1-A,Cat 6,Main rack,A,1\n\
        KIT1-B,Cat 6,Studio rack,A,2\n\
        KIT1-C,Cat 6,Studio rack,B,1\n\
        KIT1-D,Cat 6,main rack,A,3\n\
        KIT1-E,Cat 6,1A,A,4\n\
        KIT1-F,Cat 6,Studio rack,,1A-A05\n";
    let reason = "Panel A is in rack 1A, not in Studio rack, and two racks cannot share one panel letter. Write the letter of a panel in Studio rack, or the rack that panel A is in.";
    let plan = take_in(&mut journal, file);
    assert_eq!(plan.bad().collect::<Vec<_>>(), [(3, reason)]);
    assert_eq!(plan.adds(), 5);
    // The same where the panel is in the job already, and where the rack stands in the position.
    let other = b"Label,Cable type,Rack,Port\nKIT2-A,Cat 6,Studio rack,A07\nKIT2-B,Cat 6,,2A-A08\n";
    let plan = planned(&journal, other);
    let bad: Vec<(u32, &str)> = plan.bad().collect();
    assert_eq!(bad[0], (2, reason));
    assert!(
        bad[1].1.starts_with("Panel A is in rack 1A, not in 2A,"),
        "{bad:?}"
    );
}

#[test]
fn a_position_may_stand_in_the_column_of_the_panel_and_a_panel_alone_is_a_note() {
    let mut journal = job(1);
    let file = b"Label,Cable type,Panel,Port\n\
        KIT1-A,Cat 6,1A-B03,\nKIT1-B,Cat 6,b04,\nKIT1-C,Cat 6,Panel B,5\nKIT1-D,Cat 6,B,\n";
    let plan = take_in(&mut journal, file);
    assert_eq!(
        summary(&plan),
        [
            "2 adds KIT1-A Cat 6 U/UTP on B03, on a panel that is added",
            "3 adds KIT1-B Cat 6 U/UTP on B04",
            "4 adds KIT1-C Cat 6 U/UTP on B05",
            "5 adds KIT1-D Cat 6 U/UTP; panel B without a port: kept as a note"
        ]
    );
    let registry = journal.registry();
    let cable = registry.index.cables_by_code.get(&"KIT1-D".to_owned())[0];
    let cable = registry.cables.get(cable).expect("a cable");
    let notes: Vec<&String> = cable.notes.iter().map(|note| note.value).collect();
    assert_eq!(notes, ["Panel in the schedule: B"]);
    assert_eq!(planned(&journal, file).adds(), 0);
}

#[test]
fn where_columns_and_label_differ_the_columns_say_where_and_the_label_is_an_old_name() {
    let mut journal = job(1);
    let file = b"Label,Room code,Outlet,Letter,Cable type\n\
        LIV9-A,DEN,3,B,Cat 6\n\
        LIV9-B,DEN,4,,Cat 6\n\
        KIT1-A,KIT,1,A,Cat 6\n\
        LIV9-A,,,,Cat 6\n";
    let plan = take_in(&mut journal, file);
    assert_eq!(
        summary(&plan),
        [
            "2 adds DEN3-B Cat 6 U/UTP; labelled LIV9-A, which is kept as an old name",
            "3 adds DEN4-B Cat 6 U/UTP; labelled LIV9-B, which is kept as an old name",
            "4 adds KIT1-A Cat 6 U/UTP",
            "5 adds LIV9-A Cat 6 U/UTP"
        ]
    );
    let registry = journal.registry();
    let cable = registry.index.cables_by_code.get(&"DEN3-B".to_owned())[0];
    let cable = registry.cables.get(cable).expect("a cable");
    let names: Vec<&String> = cable.known_as.iter().map(|said| said.value).collect();
    assert_eq!(names, ["LIV9-A"]);
    // In the job the code on a tag comes first, then the one by the columns.
    let other =
        b"Label,Room code,Outlet,Letter,Cable type\nKIT1-A,HAL,1,A,Cat 6\nLIV8-C,DEN,3,B,Cat 6\n";
    assert_eq!(
        summary(&planned(&journal, other)),
        [
            "2 KIT1-A here already, but at KIT1",
            "3 DEN3-B here already"
        ]
    );
}

#[test]
fn a_label_is_read_as_pens_write_it_and_the_purpose_is_shown() {
    let file = b"Label,Outlet,Cable type,Purpose\nKIT2 A,,Cat 6,Oven\nhal3 a,3,Cat 6,\nHAL4C,,Cat 6,\nHAL4I,,Cat 6,\n";
    let said = summary(&planned(&job(1), file));
    assert_eq!(
        said[..3],
        [
            "2 adds KIT2-A Cat 6 U/UTP; for Oven",
            "3 adds HAL3-A Cat 6 U/UTP",
            "4 adds HAL4-C Cat 6 U/UTP"
        ]
    );
    assert!(said[3].starts_with("5 bad "), "{said:?}");
}

#[test]
fn a_position_that_is_taken_says_by_whom() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.land("KIT1-A", "B01");
    mill.fill("B");
    let file = b"Label,Cable type,Port\nKIT2-A,Cat 6,B01\nKIT2-B,Cat 6,B02\n";
    assert_eq!(
        summary(&planned(&mill.journal, file)),
        [
            "2 bad B01 is taken by KIT1-A already. Choose another position.",
            "3 bad B02 is meant for KIT1-B already. Choose another position."
        ]
    );
}

#[test]
fn ties_local_runs_and_own_media_come_in() {
    let file = b"Label,Cable type,From\n1A/2A-1,Fibre 12,\nDEN1-A,16/2,DEN2\nDEN2-A,Own: bell wire,\nDEN3-A,Cat 6,DEN3 \n";
    let mut journal = job(1);
    let plan = take_in(&mut journal, file);
    assert_eq!(plan.adds(), 4, "{:#?}", summary(&plan));
    let registry = journal.registry();
    let kinds: Vec<String> = walk::cables(registry)
        .into_iter()
        .map(|id| {
            format!(
                "{} {}",
                names::cable(registry, id),
                names::run_kind(registry, id).words()
            )
        })
        .collect();
    assert_eq!(
        kinds,
        [
            "DEN1-A local run",
            "DEN2-A home run",
            "DEN3-A local run",
            "1A/2A-1 tie line"
        ]
    );
}

#[test]
fn what_a_schedule_calls_a_room_otherwise_is_kept_and_said() {
    let mut journal = job(1);
    let file =
        b"Label,Cable type,Room\nKIT1-A,Cat 6,Kitchen\nKIT1-B,Cat 6,Scullery\nKIT1-C,Cat 6,kit\n";
    let plan = take_in(&mut journal, file);
    assert_eq!(plan.bad().collect::<Vec<_>>(), []);
    let says: Vec<&str> = plan
        .rows
        .iter()
        .map(|row| match &row.what {
            What::Adds { says, .. } => says.as_str(),
            other => panic!("{other:?}"),
        })
        .collect();
    let note = "Room in the schedule: Scullery";
    assert_eq!(
        says,
        [
            "Cat 6 U/UTP",
            "Cat 6 U/UTP; in Kitchen. Room in the schedule: Scullery",
            "Cat 6 U/UTP"
        ]
    );
    let registry = journal.registry();
    let noted: Vec<String> = registry
        .cables
        .iter()
        .filter(|(_, cable)| cable.notes.iter().any(|said| said.value == note))
        .filter_map(|(id, _)| Some(registry.cable_code(id)?.text))
        .collect();
    assert_eq!(noted, ["KIT1-B"]);
}

#[test]
fn what_a_schedule_says_of_a_cable_is_kept_or_refused() {
    let file = "Label,Cable type\n\
        DEN1-A,CAT 6 / RG6\n\
        DEN1-B,RG-6 quad\n\
        DEN1-C,Cat 6x\n\
        DEN1-D,Own: RG59 + 18/2\n";
    let mut journal = job(1);
    let plan = planned(&journal, file.as_bytes());
    assert_eq!(
        summary(&plan),
        [
            "2 bad “CAT 6 / RG6” names more than one cable. Write a row for each of them, or “Own: CAT 6 / RG6” to keep it as one.",
            "3 adds DEN1-B RG-6; “RG-6 quad” is kept as a note",
            "4 bad “Cat 6x” is no kind of cable that is known here. Write it as Cat 6, Cat 6A F/UTP, RG-6, 16/4, 22/4 or Fibre 12.",
            "5 adds DEN1-D RG59 + 18/2",
        ]
    );
    take_in(&mut journal, file.as_bytes());
    let again = planned(&journal, file.as_bytes());
    assert_eq!(summary(&again)[1], "3 DEN1-B here already");
    for form in [Form::Spreadsheet, Form::Raw] {
        let file = export(journal.registry(), form);
        let said = String::from_utf8_lossy(&file).into_owned();
        assert!(said.contains("Cable type in the schedule: RG-6 quad"));
        let plan = planned(&journal, &file);
        assert_eq!((plan.adds(), plan.here()), (0, 2), "{said}");
        assert_eq!(plan.bad().count(), 0);
    }
}

#[test]
fn a_position_is_read_as_people_spell_it() {
    let file = "Label,Cable type,Panel,Port\n\
        DEN1-A,Cat 6,,A-01\n\
        DEN1-B,Cat 6,,A 08\n\
        DEN1-C,Cat 6,,a7\n\
        DEN1-D,Cat 6,,A9\n\
        DEN1-E,Cat 6,,1A-A2\n\
        DEN1-F,Cat 6,A,10\n\
        DEN1-G,Cat 6,,AO3\n\
        DEN1-H,Cat 6,,11\n";
    let plan = planned(&job(1), file.as_bytes());
    let on = |at: usize| summary(&plan)[at].clone();
    for (at, position) in ["A01", "A08", "A07", "A09", "A02", "A10"]
        .iter()
        .enumerate()
    {
        assert!(on(at).contains(&format!("on {position}")), "{}", on(at));
    }
    for at in [6, 7] {
        assert!(on(at).contains("Write positions as B07"), "{}", on(at));
    }
}
