//! What people type, and what it may mean.

use bothends::codes::strict;
use bothends::codes::tag::{JobKey, PullMark, TagText, Tagged};
use bothends::codes::typed::{Reading, Reason, read};
use bothends::domain::ids::{Bits80, JobId, PullId, ThingId};
use bothends::domain::label::{LabelCode, RoomCode};
use proptest::prelude::*;

use super::any_code;

fn kit() -> RoomCode {
    RoomCode::new("KIT").expect("a room")
}

/// One reading as the tables below write it.
fn written(reading: &Reading) -> String {
    match reading {
        Reading::Tag(tag) => format!("tag {tag}"),
        Reading::Run(code) => format!("run {code}"),
        Reading::Leg(code) => format!("leg {code}"),
        Reading::Outlet(code) => format!("outlet {code}"),
        Reading::Position(code) => format!("position {code}"),
        Reading::Link(code) => format!("link {code}"),
        Reading::Space(code) => format!("space {code}"),
        Reading::Room(code) => format!("room {code}"),
        Reading::Panel(code) => format!("panel {code}"),
        Reading::Conduit(number) => format!("conduit {number}"),
        Reading::Box(number) => format!("box {number}"),
        Reading::Words(words) => format!("words {words}"),
    }
}

/// The readings but for the words, with commas between them.
fn meaning(text: &str, here: Option<RoomCode>) -> String {
    let readings = read(text, here).readings;
    let codes = readings
        .iter()
        .filter(|reading| !matches!(reading, Reading::Words(_)));
    codes.map(written).collect::<Vec<_>>().join(", ")
}

fn reasons(text: &str, here: Option<RoomCode>) -> Vec<String> {
    read(text, here)
        .reasons
        .iter()
        .map(ToString::to_string)
        .collect()
}

#[test]
fn typed_anywhere() {
    for (text, expected) in [
        ("kit2c", "run KIT2-C"),
        ("KIT 2 C", "run KIT2-C"),
        ("KIT2-C", "run KIT2-C"),
        ("kit-2-c", "run KIT2-C"),
        ("KIT2–C", "run KIT2-C"),
        ("  kit2_c ", "run KIT2-C"),
        ("kit02c", "run KIT2-C"),
        ("ＫＩＴ２Ｃ", "run KIT2-C"),
        // Cyrillic, Greek, and digits of Arabic.
        ("KIT2-А", "run KIT2-A"),
        ("кіт2-с", "run KIT2-C"),
        ("ΚΙΤ2Α", "run KIT2-A"),
        ("KIT٢C", "run KIT2-C"),
        ("KIT2-Ж", ""),
        ("KIT2-É", ""),
        ("kit2c.1", "leg KIT2-C.1"),
        ("KIT2-C 1", "leg KIT2-C.1"),
        ("kit2", "outlet KIT2"),
        ("kit2-", "outlet KIT2"),
        ("kit", "room KIT"),
        ("b7", "position B07"),
        ("B07", "position B07"),
        ("b 007", "position B07"),
        ("1a-b7", "link 1A-B07"),
        ("1A B 7", "link 1A-B07"),
        ("1A-B07", "link 1A-B07"),
        ("1a", "space 1A"),
        ("1a/2a-1", "run 1A/2A-1"),
        ("1A 2A 1", "run 1A/2A-1"),
        ("1a/2a-1.3", "leg 1A/2A-1.3"),
        ("b", "panel B"),
        ("ab", "room AB, panel AB"),
        ("ab12", "outlet AB12, position AB12"),
        ("1abc07", "link 1A-BC07, link 1AB-C07, outlet IABC7"),
        ("cd1", "outlet CD1, position CD01, conduit 1, room CDI"),
        ("CD 120", "position CD120, conduit 120"),
        ("box 3", "outlet BOX3, box 3"),
        ("B0X3", "outlet BOX3, box 3"),
        ("box65536", ""),
        ("old blue cable", ""),
        ("kitchen", ""),
        ("kit2c and kit3c", ""),
        ("kit²", ""),
    ] {
        assert_eq!(meaning(text, None), expected, "{text}");
    }
}

#[test]
fn typed_inside_a_room() {
    for (text, expected) in [
        ("2c", "run KIT2-C, space 2C"),
        ("2 C", "run KIT2-C, space 2C"),
        ("2", "outlet KIT2"),
        ("12", "outlet KIT12"),
        ("2c1", "leg KIT2-C.1"),
        ("bed1a", "run BED1-A, room BEDIA"),
        ("b7", "position B07"),
    ] {
        assert_eq!(meaning(text, Some(kit())), expected, "{text}");
    }
    assert_eq!(meaning("2", None), "");
}

#[test]
fn look_alikes_are_told_apart_by_their_place() {
    for (text, expected) in [
        ("K1T2C", "run KIT2-C"),
        ("k1t2-c", "run KIT2-C"),
        ("KIT2O", "outlet KIT20"),
        ("KITl2", "outlet KITI2, outlet KITL2, outlet KIT12"),
        // A small l among capitals is rather a capital I; in small letters it is an l.
        ("KlT2-C", "run KIT2-C, run KLT2-C"),
        ("klt2-c", "run KLT2-C"),
        ("Hall 2", "outlet HALL2"),
        ("BO7", "outlet BO7, position BO07, position B07"),
        ("B O7", "position B07"),
        ("lA-B07", "link 1A-B07"),
        ("IA-B07", "link 1A-B07"),
        ("KIT I-C", "run KIT1-C"),
        ("0FF1-A", "run OFF1-A"),
    ] {
        assert_eq!(meaning(text, None), expected, "{text}");
    }
}

#[test]
fn what_looks_like_a_code_and_is_none_says_why() {
    for (text, here, part) in [
        ("KIT 2 O", None, "“O” is not a cable letter"),
        ("kit2-s", None, "“S” is not a cable letter"),
        ("KIT2-0", None, "“0” is not a cable letter"),
        ("2z", Some(kit()), "“Z” is not a cable letter"),
        ("KIT0", None, "“0” is not an outlet number"),
        ("KIT100", None, "“100” is not an outlet number"),
        ("kit100c", None, "“100” is not an outlet number"),
        ("B0", None, "“0” is not a position"),
        ("1a-b00", None, "“00” is not a position"),
        ("1a/2a-0", None, "“0” is not the number of a tie line"),
        ("kit2c.17", None, "“17” is not a leg"),
    ] {
        let reasons = reasons(text, here).join(" | ");
        assert!(reasons.contains(part), "{text}: {reasons}");
    }
    // Nothing to explain where every form that fits is a code, or where nothing looks like one.
    for text in [
        "kit2c",
        "KIT20",
        "ab12",
        "old blue cable",
        "KIT2 speakers",
        "the kids' room",
        "",
    ] {
        assert_eq!(reasons(text, None), [""; 0], "{text}");
    }
}

#[test]
fn words_are_kept_as_typed_and_come_last() {
    for text in ["Old  Blue cable", "kit2c", "Küche 2", "\u{202E}x"] {
        let last = read(text, None).readings.pop();
        assert_eq!(last, Some(Reading::Words(text.to_owned())), "{text}");
    }
    for text in ["", "  \n", "\u{200B}\u{FEFF}"] {
        assert_eq!(read(text, Some(kit())).readings, [], "{text:?}");
    }
}

fn kitchen_tag() -> TagText {
    let pull = PullId(ThingId {
        origin: Bits80(*b"HelloHello"),
        n: 1,
        index: 0,
    });
    TagText {
        tagged: Tagged::Run {
            code: strict::label("KIT2-C").expect("a label code"),
            pull: PullMark::of(pull),
        },
        job_key: JobKey::of(JobId(Bits80(*b"HelloHello"))),
    }
}

#[test]
fn the_text_of_a_tag_is_taken_whole() {
    let tag = kitchen_tag();
    let text = tag.to_string();
    assert_eq!(text, "KIT2-C 91JPR9YE");
    for typed in [
        text.clone(),
        text.to_ascii_lowercase(),
        format!(" {text}\n"),
        format!("\u{FEFF}{text}\u{200B}"),
        text.replace(' ', "  "),
        text.replace('-', " "),
        // By hand, with I for 1 in both groups, and l as Crockford reads it.
        "K1T2-C 9IJPR9YE".to_owned(),
        "kit2c 9ljpr9ye".to_owned(),
        "https://registry.example/kit2-c/91jpr9ye".to_owned(),
    ] {
        assert_eq!(
            read(&typed, None).readings,
            [Reading::Tag(tag)],
            "{typed:?}"
        );
        assert_eq!(read(&typed, None).reasons, [], "{typed:?}");
    }
}

#[test]
fn a_tag_with_a_wrong_character_still_says_what_was_read() {
    let typed = read("KIT3-C 91JPR9YE", None);
    assert!(
        matches!(typed.reasons[..], [Reason::Tag(_)]),
        "{:?}",
        typed.reasons
    );
    let label = strict::label("KIT3-C").expect("a label code");
    assert_eq!(typed.readings.first(), Some(&Reading::Run(label)));
    // A web address that is none of ours is told, and kept as words.
    let foreign = read("https://example.org/a", None);
    assert!(matches!(foreign.reasons[..], [Reason::Tag(_)]));
    assert_eq!(foreign.readings.len(), 1);
}

/// Whether a text, in the ways people leave parts of it out, still reads as meant.
fn is_read(text: &str, meant: &Reading) -> bool {
    [
        text.to_owned(),
        text.to_ascii_lowercase(),
        text.replace(['-', '.', '/'], " "),
    ]
    .iter()
    .all(|typed| read(typed, None).readings.contains(meant))
}

proptest! {
    #[test]
    fn what_is_printed_is_among_the_readings(
        outlet in any_code::outlet(),
        space in any_code::space(),
        position in any_code::position(),
        link in any_code::link(),
        label in any_code::label(),
        leg in any_code::leg(),
        room in any_code::room(),
        panel in any_code::panel(),
    ) {
        prop_assert!(is_read(&outlet.to_string(), &Reading::Outlet(outlet)));
        prop_assert!(is_read(&space.to_string(), &Reading::Space(space)));
        prop_assert!(is_read(&position.to_string(), &Reading::Position(position)));
        prop_assert!(is_read(&link.to_string(), &Reading::Link(link)));
        prop_assert!(is_read(&label.to_string(), &Reading::Run(label)));
        prop_assert!(is_read(&leg.to_string(), &Reading::Leg(leg)));
        prop_assert!(is_read(&room.to_string(), &Reading::Room(room)));
        prop_assert!(is_read(&panel.to_string(), &Reading::Panel(panel)));
    }

    #[test]
    fn a_run_needs_neither_separators_nor_its_room(label in any_code::run()) {
        let LabelCode::Run { outlet, letter } = label else { unreachable!("runs only") };
        let reading = Reading::Run(label);
        let joined = label.to_string().replace('-', "");
        prop_assert_eq!(&read(&joined, None).readings[0], &reading);
        let short = format!("{}{letter}", outlet.number.get());
        prop_assert_eq!(&read(&short, Some(outlet.room)).readings[0], &reading);
    }

    #[test]
    fn every_tag_is_read_in_small_letters(tag in any_code::tag()) {
        let typed = read(&tag.to_string().to_ascii_lowercase(), None);
        prop_assert_eq!(typed.readings, vec![Reading::Tag(tag)]);
    }

    #[test]
    fn any_text_is_answered(
        text in prop_oneof![any::<String>(), "[0-9A-Za-zOoIl /.:-]{0,48}", "\\PC{0,8} [0-9A-Z]{8}"],
        here in proptest::option::of(any_code::room()),
    ) {
        let typed = read(&text, here);
        // Each reading is given once, and the words are kept, in the last place.
        for (place, reading) in typed.readings.iter().enumerate() {
            prop_assert!(!typed.readings[..place].contains(reading));
        }
        match typed.readings.last() {
            Some(Reading::Words(words)) => prop_assert_eq!(words, text.trim()),
            Some(Reading::Tag(_)) => {}
            other => prop_assert!(other.is_none() && bothends::domain::text::folded(&text).is_empty()),
        }
    }
}

/// The time of the search for codes grows with the square of the length: a page of digits is spared it.
#[test]
fn a_whole_page_is_words_alone() {
    for page in [
        "KIT2-C ".repeat(200),
        "7".repeat(1_001),
        "HTTPS://A/".repeat(101),
    ] {
        let typed = read(&page, None);
        assert_eq!(typed.readings, [Reading::Words(page.trim().to_owned())]);
        assert_eq!(typed.reasons, []);
    }
}
