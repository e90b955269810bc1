//! What a newer version of the program writes: carried to the letter, its links honoured, its
//! subjects told apart.

use bothends::journal::{Fact, JobFact, RoomFact};

use super::support::{Kitchen, Phone, Raw, act_id, merged, taken};

/// A line of phone 9 with these envelope fields and facts in plain JSON.
fn line(n: u32, lamport: u64, fields: &str) -> String {
    let writer = super::support::writer(9).0;
    format!(
        "{{\"v\":1,\"writer\":\"{writer}\",\"n\":{n},\"lamport\":{lamport},\"wall\":0,{fields}}}"
    )
}

/// A kitchen, and a line about its room in the words of a newer version.
fn newer(fields: impl Fn(Kitchen) -> String) -> (Phone, Kitchen, String) {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let line = line(1, 100, &fields(kitchen));
    (phone, kitchen, line)
}

#[test]
fn an_unknown_kind_or_value_marks_its_subject_and_the_line_is_carried_to_the_letter() {
    let facts = [
        r#"{"k":"RoomPainted","of":"ROOM","colour":{"deep":[1,2,{"er":null}]}}"#,
        r#"{"k":"RoomNamed","of":"ROOM","text":["Kitchen","Küche"]}"#,
        r#"{"k":"RoomNamed","of":"ROOM"}"#,
        r#"{"k":"RoomCoded","of":"ROOM","code":"KITCHEN"}"#,
        r#"{"k":"RoomOrdered","of":"ROOM","n":-1}"#,
        r#"{"k":"RoomOrdered","of":"ROOM","n":18446744073709551616}"#,
        r#"{"k":7,"of":"ROOM"}"#,
        r#"{"of":"ROOM"}"#,
        r#"[]"#,
        r#"null"#,
        r#""a word""#,
    ];
    for fact in facts {
        let (phone, kitchen, line) = newer(|kitchen| {
            let room = kitchen.room.0.to_string();
            let fact = fact.replace("ROOM", &room);
            format!("\"about\":[\"{room}\"],  \"facts\":[{fact}], \"later\" : {{\"x\":1.0e5}}")
        });
        let mut own: Vec<&str> = phone.journal.lines();
        own.push(&line);
        let journal = merged(&[own]);
        let registry = journal.registry();
        assert!(registry.changed_by_newer_version(kitchen.room.0), "{fact}");
        assert!(!registry.changed_by_newer_version(kitchen.outlet.0));
        assert_eq!(journal.health().newer, [kitchen.room.0], "{fact}");
        assert!(journal.lines().contains(&&*line), "{fact}");
        let room = registry.rooms.get(kitchen.room).unwrap();
        assert_eq!(room.name.distinct(), ["Kitchen"], "{fact}");
    }
}

#[test]
fn known_facts_beside_an_unknown_one_count() {
    let (phone, kitchen, line) = newer(|kitchen| {
        let room = kitchen.room.0;
        format!(
            "\"about\":[\"{room}\"],\"facts\":[{{\"k\":\"RoomPainted\"}},\
             {{\"k\":\"RoomOrdered\",\"of\":\"{room}\",\"n\":3,\"bend\":\"left\"}}]"
        )
    });
    let mut own = phone.journal.lines();
    own.push(&line);
    let journal = merged(&[own]);
    let room = journal.registry().rooms.get(kitchen.room).unwrap();
    assert_eq!(room.order.get(), Some(&3));
}

#[test]
fn links_of_an_act_with_unknown_facts_are_honoured() {
    let (mut phone, kitchen, _) = newer(|_| String::new());
    let renamed = phone.writes([Fact::Room(kitchen.room, RoomFact::Named("Galley".into()))]);
    let name = phone.writes([Fact::Job(JobFact::Named("Mill".to_owned()))]);
    let room = kitchen.room.0;
    let line = line(
        1,
        100,
        &format!(
            "\"about\":[\"{room}\"],\"replaces\":[\"{renamed}.0\"],\"strikes\":[\"{name}\"],\
             \"facts\":[{{\"k\":\"RoomNamedInTwoWords\",\"of\":\"{room}\"}}]"
        ),
    );
    let mut own = phone.journal.lines();
    own.push(&line);
    let journal = merged(&[own]);
    let registry = journal.registry();
    assert_eq!(registry.rooms.get(kitchen.room).unwrap().name.get(), None);
    assert_eq!(registry.job.name.get(), None);
}

#[test]
fn a_thing_that_an_unknown_fact_adds_can_be_named() {
    let sauna = bothends::domain::ids::ThingId::added_by(act_id(9, 1), 0);
    let adding = line(
        1,
        1,
        &format!("\"about\":[\"{sauna}\"],\"facts\":[{{\"k\":\"SaunaAdded\",\"of\":\"{sauna}\"}}]"),
    );
    let naming = line(
        2,
        2,
        &format!("\"about\":[\"{sauna}\"],\"facts\":[{{\"k\":\"SaunaNamed\",\"of\":\"{sauna}\"}}]"),
    );
    let alone = merged(&[vec![naming.as_str()]]);
    assert_eq!(alone.health().waiting, [act_id(9, 2)]);
    let both = merged(&[vec![naming.as_str()], vec![adding.as_str()]]);
    assert_eq!(both.health().waiting, []);
    assert_eq!(both.health().newer, [sauna]);
}

#[test]
fn an_unknown_fact_that_is_struck_or_replaced_marks_nothing_any_more() {
    let (phone, kitchen, line) = newer(|kitchen| {
        let room = kitchen.room.0;
        format!("\"about\":[\"{room}\"],\"facts\":[{{\"k\":\"RoomPainted\",\"of\":\"{room}\"}}]")
    });
    let mut own: Vec<String> = phone.journal.lines().iter().map(|&l| l.into()).collect();
    own.push(line);
    let unknown = super::support::fact_of(act_id(9, 1), 0);
    let strike = Raw::new(act_id(2, 1), 200).strikes([act_id(9, 1)]).line();
    let replace = Raw::new(act_id(3, 1), 200).replaces([unknown]).line();
    let unstrike = Raw::new(act_id(4, 1), 300).strikes([act_id(2, 1)]).line();
    let unreplace = Raw::new(act_id(5, 1), 300).strikes([act_id(3, 1)]).line();
    let cases: [(&[&String], bool); 7] = [
        (&[], true),
        (&[&strike], false),
        (&[&replace], false),
        (&[&strike, &replace], false),
        (&[&strike, &replace, &unstrike], false),
        (&[&strike, &replace, &unreplace], false),
        (&[&strike, &replace, &unreplace, &unstrike], true),
    ];
    for (at, (further, expected)) in cases.into_iter().enumerate() {
        let further = further.iter().map(|&line| line.clone()).collect();
        let journal = merged(&[own.clone(), further]);
        let marked = journal.registry().changed_by_newer_version(kitchen.room.0);
        assert_eq!(marked, expected, "case {at}");
    }
}

#[test]
fn the_kind_of_an_unknown_fact_is_told_even_when_a_field_has_another_shape() {
    let cases = [
        (r#"{"k":"RoomPainted","of":"?"}"#, "RoomPainted"),
        (r#"{"k":"RoomNamed","text":7}"#, "RoomNamed"),
        (r#"{"k":"RoomNamed","text":"\ud800"}"#, "RoomNamed"),
        (r#"{"k":{"x":1},"text":7}"#, ""),
    ];
    for (fact, expected) in cases {
        let line = line(1, 1, &format!("\"facts\":[{fact}]"));
        let journal = merged(&[vec![line.as_str()]]);
        let act = journal.act(act_id(9, 1)).expect("the act counts");
        let kind = expected.to_owned();
        assert_eq!(act.facts, [Fact::Unknown { kind }], "{fact}");
    }
}

#[test]
fn a_line_of_a_newer_stored_form_is_kept_and_not_guessed_at() {
    let first = line(1, 1, "\"facts\":[{\"k\":\"JobNamed\",\"text\":\"Mill\"}]");
    for version in ["2", "0", "4294967295"] {
        let other = first.replace("\"v\":1", &format!("\"v\":{version}"));
        let journal = taken(&[other.as_str()]);
        assert_eq!(journal.health().unreadable, 1, "version {version}");
        assert_eq!(journal.lines(), [other.as_str()]);
    }
}
