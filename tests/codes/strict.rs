//! The printed forms against TIA-606, and printer and parser against each other.

use bothends::codes::strict;
use bothends::domain::label::LabelCode;
use proptest::prelude::*;

use super::any_code;

/// Every form that reads a text, with what it prints the value as.
fn readings(text: &str) -> Vec<String> {
    let mut readings = Vec::new();
    readings.extend(strict::space(text).map(|code| format!("space {code}")));
    readings.extend(strict::position(text).map(|code| format!("position {code}")));
    readings.extend(strict::link(text).map(|code| format!("link {code}")));
    readings.extend(strict::label(text).map(|code| format!("label {code}")));
    readings.extend(strict::leg(text).map(|code| format!("leg {code}")));
    readings
}

#[test]
fn tia_606_identifiers_are_read() {
    // Worked examples after TIA/EIA-606-A: `fs`, `fs-an`, `an` and `fs1/fs2-n`. The parts of
    // 1A-A15 stand in a university's published labelling rules; the others are built from the
    // format as remembered (one or two letters for the panel, two to four digits for the port).
    for (text, reading) in [
        ("1A", "space 1A"),
        ("1A-A15", "link 1A-A15"),
        ("1A-B24", "link 1A-B24"),
        ("12C-AB0144", "link 12C-AB144"),
        ("A15", "position A15"),
        ("1A/2A-1", "label 1A/2A-1"),
    ] {
        assert_eq!(readings(text), [reading], "{text}");
    }
}

#[test]
fn the_parts_of_an_identifier_are_told_apart() {
    // TIA/EIA-606-A: floor 12, space C, panel AB, port 144.
    let link = strict::link("12C-AB0144").expect("a link");
    assert_eq!(link.space.floor(), 12);
    assert_eq!(link.space.letters(), "C");
    assert_eq!(link.position.panel.as_str(), "AB");
    assert_eq!(link.position.number.get(), 144);
}

#[test]
fn what_tia_606_does_not_allow_is_refused() {
    // Too few digits, too many letters, no floor; then the forms of ISO/IEC TR 14763-2-1 and of
    // a campus, which the job does not use; the last omits a point and fits no scheme.
    for text in [
        "1A-A1",
        "1A-ABC01",
        "A-A01",
        "A9",
        "1A-A00",
        "1A-A00001",
        "1a-a15",
        "1A/2A-1.03",
        "[0115-1A]/[0117-1A]-2",
        "1A.AD02",
        "1A.AD02-35",
        "1A.AD02-35:01",
        "1A.AD02-35:01/1A.AK05-22:01",
        "4BK01-55:50/DC.C03-14:04",
    ] {
        assert_eq!(readings(text), [""; 0], "{text}");
    }
}

#[test]
fn leading_zeros_name_the_same_position() {
    for text in ["1A-A15", "1A-A015", "1A-A0015", "01A-A15"] {
        assert_eq!(readings(text), ["link 1A-A15"], "{text}");
    }
    // Numbers sort as numbers, not as text (TIA/EIA-606-A: A09 before A10; A9 is no identifier).
    let position = |text| strict::position(text).expect("a position");
    assert!(position("A09") < position("A10"));
    assert!(position("A99") < position("A0100"));
}

#[test]
fn only_cable_letters_follow_an_outlet() {
    let read: String = ('A'..='Z')
        .filter(|letter| strict::label(&format!("KIT2-{letter}")).is_ok())
        .collect();
    assert_eq!(read, "ABCDEFGHJKLMNPRTUVWXY");
}

proptest! {
    #[test]
    fn what_is_printed_is_read_back(
        outlet in any_code::outlet(),
        space in any_code::space(),
        position in any_code::position(),
        link in any_code::link(),
        label in any_code::label(),
        leg in any_code::leg(),
    ) {
        prop_assert_eq!(strict::outlet(&outlet.to_string()), Ok(outlet));
        prop_assert_eq!(strict::space(&space.to_string()), Ok(space));
        prop_assert_eq!(strict::position(&position.to_string()), Ok(position));
        prop_assert_eq!(strict::link(&link.to_string()), Ok(link));
        prop_assert_eq!(strict::label(&label.to_string()), Ok(label));
        prop_assert_eq!(strict::leg(&leg.to_string()), Ok(leg));
    }

    #[test]
    fn what_is_read_of_our_own_codes_is_printed_the_same(
        text in "[A-Z]{1,6}[0-9]{0,3}(-[A-Z]{0,2})?(\\.[0-9]{0,2})?",
    ) {
        if let Ok(outlet) = strict::outlet(&text) {
            prop_assert_eq!(outlet.to_string(), text.clone());
        }
        if let Ok(label @ LabelCode::Run { .. }) = strict::label(&text) {
            prop_assert_eq!(label.to_string(), text.clone());
        }
        if let Ok(leg) = strict::leg(&text) {
            prop_assert_eq!(leg.to_string(), text);
        }
    }

    #[test]
    fn what_is_read_of_tia_606_differs_from_the_print_in_zeros_only(
        text in "0?[0-9]{1,2}[A-Z]{1,2}-[A-Z]{1,2}[0-9]{1,5}",
    ) {
        if let Ok(link) = strict::link(&text) {
            let printed = link.to_string();
            prop_assert!(printed.len() <= text.len());
            let without_zeros = |text: &str| text.replace('0', "");
            prop_assert_eq!(without_zeros(&printed), without_zeros(&text));
            prop_assert_eq!(strict::link(&printed), Ok(link));
        }
    }

    #[test]
    fn any_text_is_answered_and_has_at_most_one_printed_form(text in "\\PC{0,12}|[0-9A-Z./-]{0,12}") {
        prop_assert!(readings(&text).len() <= 1, "{:?}", readings(&text));
    }
}
