//! The text of tags: printed and read, spoilt and refused, and how large its symbol is.

use bothends::codes::check::{Verdict, verify};
use bothends::codes::qr::{Level, Matrix};
use bothends::codes::strict;
use bothends::codes::tag::{JobKey, PullMark, TagFault, TagText, Tagged, WebAddress};
use bothends::domain::ids::{Bits80, JobId, PullId, ThingId};
use bothends::domain::label::PanelLetters;
use proptest::prelude::*;

use super::any_code;
use super::qr_reader::{ALPHANUMERIC, alphanumeric_text, codewords};

fn job_key() -> JobKey {
    JobKey::of(JobId(Bits80(*b"HelloHello")))
}

fn pull(n: u32) -> PullMark {
    PullMark::of(PullId(ThingId {
        origin: Bits80(*b"HelloHello"),
        n,
        index: 0,
    }))
}

fn tag(tagged: Tagged) -> TagText {
    TagText {
        tagged,
        job_key: job_key(),
    }
}

fn cable(code: &str, n: u32) -> TagText {
    let code = strict::label(code).expect("a label code");
    tag(Tagged::Run {
        code,
        pull: pull(n),
    })
}

fn printed_tags() -> Vec<TagText> {
    let leg = strict::leg("KIT2-C.1").expect("a leg");
    vec![
        cable("KIT2-C", 1),
        cable("1A/2A-1", 1),
        tag(Tagged::Leg {
            code: leg,
            pull: pull(1),
        }),
        tag(Tagged::Outlet(strict::outlet("KIT2").expect("an outlet"))),
        tag(Tagged::Panel(PanelLetters::new("B").expect("letters"))),
        tag(Tagged::Space(strict::space("1A").expect("a space"))),
        tag(Tagged::Conduit(1)),
        tag(Tagged::Box(3)),
    ]
}

#[test]
fn the_mark_of_a_pull_as_another_program_counts_it() {
    // SHA-256 (FIPS 180-4) and base 32 worked out with Python's hashlib. The first draw for the
    // pulls 36, 118 and 148 begins with Z, so the second counts.
    for (n, mark) in [
        (1, "9Y"),
        (2, "71"),
        (3, "6V"),
        (36, "9S"),
        (118, "0S"),
        (148, "84"),
    ] {
        assert_eq!(pull(n).to_string(), mark, "{n}");
    }
}

#[test]
fn the_text_of_every_kind_of_tag() {
    let printed: Vec<String> = printed_tags().iter().map(ToString::to_string).collect();
    // The check characters are computed with python-stdnum 2.2.
    assert_eq!(
        printed,
        [
            "KIT2-C 91JPR9YE",
            "1A/2A-1 91JPR9YG",
            "KIT2-C.1 91JPR9YO",
            "KIT2 91JPRZWZ",
            "B 91JPRZPA",
            "1A 91JPRZSC",
            "CD1 91JPRZC9",
            "BOX3 91JPRZBZ",
        ]
    );
}

#[test]
fn tags_behind_an_address() {
    let address = WebAddress::new("https://registry.example/mill").expect("an address");
    for tag in printed_tags() {
        let text = tag.behind(&address);
        assert!(text.starts_with("HTTPS://REGISTRY.EXAMPLE/MILL/"), "{text}");
        assert_eq!(
            text.replace("HTTPS://REGISTRY.EXAMPLE/MILL/", ""),
            tag.to_string().replace(' ', "/")
        );
        assert_eq!(TagText::read(&text), Ok(tag), "{text}");
        // A browser may hand the host back in small letters.
        let pasted = text.replace("HTTPS://REGISTRY.EXAMPLE", "https://registry.example");
        assert_eq!(TagText::read(&pasted), Ok(tag), "{pasted}");
    }
}

#[test]
fn a_re_pull_changes_the_tag() {
    assert_ne!(cable("KIT2-C", 1), cable("KIT2-C", 2));
    assert_ne!(
        cable("KIT2-C", 1).to_string(),
        cable("KIT2-C", 2).to_string()
    );
}

/// A refusal, as the test writes it.
fn refusal(text: &str) -> String {
    let fault = TagText::read(text).expect_err("refused");
    let kind = match fault {
        TagFault::Empty => "empty",
        TagFault::Odd { .. } => "odd",
        TagFault::NotOurs { .. } => "not ours",
        TagFault::CheckWrong { .. } => "check wrong",
        TagFault::UnknownForm { .. } => "unknown form",
    };
    format!("{kind}: {fault}")
}

#[test]
fn refusals_tell_apart_what_is_wrong() {
    for (text, parts) in [
        ("", &["empty", "holds no text"][..]),
        ("HELLO", &["not ours", "“HELLO”"]),
        ("https://example.org/", &["not ours"]),
        ("https://", &["not ours"]),
        ("KIT2-C", &["not ours"]),
        ("KIT2-C 91JPR9", &["not ours"]),
        ("KIT2-C 91JPR9YAB", &["not ours"]),
        ("KIT2-C 91JPI9YA", &["not ours"]),
        (" 91JPR9YA", &["not ours"]),
        ("WIFI:S:mill;T:WPA;P:grain;;", &["not ours", "WIFI"]),
        ("kit2-c 91jpr9y0", &["not ours"]),
        ("KIT2-C\u{202E} 91JPR9YA", &["odd", "‹U+202E›"]),
        ("KIT2-C 91JPR9YA\n", &["odd", "␊"]),
        ("KIT2-C 91JPR9Y00", &["not ours"]),
    ] {
        let refusal = refusal(text);
        for part in parts {
            assert!(refusal.contains(part), "{text}: {refusal}");
        }
    }
    let long = refusal(&"KITCHEN ".repeat(40));
    assert!(
        long.starts_with("odd: ") && long.contains("320 characters"),
        "{long}"
    );
    assert!(long.len() < 200, "{long}");
}

#[test]
fn a_wrong_check_character_says_what_was_read() {
    let text = cable("KIT2-C", 1).to_string();
    let spoilt = text.replace("KIT2", "KIT3");
    let TagFault::CheckWrong {
        read,
        expected,
        found,
    } = TagText::read(&spoilt).expect_err("spoilt")
    else {
        panic!("{}", refusal(&spoilt));
    };
    assert_eq!(read, "KIT3-C");
    assert_eq!(Some(found), text.chars().next_back());
    assert_ne!(expected, found);
    assert!(
        refusal(&spoilt).contains("It reads KIT3-C"),
        "{}",
        refusal(&spoilt)
    );
}

#[test]
fn a_form_of_a_later_version_is_not_called_foreign() {
    // A kind of place that does not exist, a cable's code with a place's mark, a spelling with
    // a zero: each with the check character that belongs to it.
    for head in [
        "KIT2 91JPRZ7",
        "KIT2-C 91JPRZP",
        "01A 91JPRZS",
        "KIT2 91JPR9Y",
        "CD01 91JPRZC",
        "CD0 91JPRZC",
        "CD65536 91JPRZC",
        "BOX3 91JPRZC",
        "CD1 91JPRZB",
        "CD1 91JPR9Y",
    ] {
        let check = bothends::codes::check::check_character(head).expect("letters and digits");
        let text = format!("{head}{check}");
        assert!(
            refusal(&text).starts_with("unknown form"),
            "{}",
            refusal(&text)
        );
    }
}

#[test]
fn the_mark_tells_a_conduit_and_a_box_from_outlets_of_rooms_that_are_called_so() {
    for (code, other) in [("CD1", Tagged::Conduit(1)), ("BOX3", Tagged::Box(3))] {
        let outlet = tag(Tagged::Outlet(strict::outlet(code).expect("an outlet")));
        let other = tag(other);
        let [first, second] = [&outlet, &other].map(ToString::to_string);
        assert_ne!(first, second);
        assert_eq!(TagText::read(&first), Ok(outlet));
        assert_eq!(TagText::read(&second), Ok(other));
        // One wrong character of the mark does not make one of the other.
        assert!(
            strict::label(code).is_err() && strict::leg(code).is_err(),
            "{code}"
        );
    }
}

#[test]
fn symbols_of_the_sizes_that_the_design_promises() {
    for (text, version, level) in [
        (cable("KIT2-C", 1), 1, Level::Q),
        (cable("KIT12-C", 1), 1, Level::Q),
        (cable("AKIT12-C", 1), 1, Level::M),
        (cable("KITCH99-Y", 1), 1, Level::M),
        (cable("1A/2A-1", 1), 1, Level::Q),
        (cable("12AB/12AC-65535", 1), 2, Level::Q),
        (tag(Tagged::Conduit(1)), 1, Level::Q),
        (tag(Tagged::Box(65_535)), 1, Level::M),
    ] {
        let matrix = Matrix::of(&text.to_string()).expect("it fits");
        assert_eq!(
            (matrix.version(), matrix.level()),
            (version, level),
            "{text}"
        );
    }
}

proptest! {
    #[test]
    fn what_is_printed_is_read_back(tag in any_code::tag()) {
        let text = tag.to_string();
        prop_assert_eq!(TagText::read(&text), Ok(tag));
        prop_assert_eq!(verify(&text), Ok(Verdict::Right));
        let address = WebAddress::new("https://registry.example").expect("an address");
        prop_assert_eq!(TagText::read(&tag.behind(&address)), Ok(tag));
    }

    #[test]
    fn what_is_read_is_printed_the_same(text in "[A-Z]{1,5}[0-9]{0,2}(-[A-Z])?(\\.[1-9])? [0-9A-HJKMNP-TV-Z]{7}") {
        let check = bothends::codes::check::check_character(&text).expect("letters and digits");
        let text = format!("{text}{check}");
        if let Ok(tag) = TagText::read(&text) {
            prop_assert_eq!(tag.to_string(), text);
        }
    }

    #[test]
    fn every_tag_fits_the_alphanumeric_set_and_scans(tag in any_code::tag()) {
        let text = tag.to_string();
        prop_assert!(text.chars().all(|c| ALPHANUMERIC.contains(c)), "{}", text);
        let matrix = Matrix::of(&text).expect("it fits");
        prop_assert!(matrix.version() <= 2);
        let words = codewords(matrix.size(), &|x, y| matrix.dark(x, y));
        prop_assert_eq!(alphanumeric_text(&words), text);
    }

    #[test]
    fn one_wrong_character_is_never_read_as_another_tag(
        tag in any_code::tag(),
        place in any::<prop::sample::Index>(),
        other in "[0-9A-Z]",
    ) {
        let text = tag.to_string();
        let place = place.index(text.len());
        let mut wrong = text.clone();
        wrong.replace_range(place..=place, &other);
        prop_assume!(wrong != text);
        prop_assert!(TagText::read(&wrong).is_err(), "{} for {}", wrong, text);
    }

    #[test]
    fn any_text_is_answered_in_words(text in any::<String>()) {
        if let Err(fault) = TagText::read(&text) {
            let words = fault.to_string();
            prop_assert!(words.len() > 20);
            prop_assert!(!words.chars().any(bothends::domain::text::is_hidden));
        }
    }
}
