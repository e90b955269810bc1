//! What people do at the wall.

use bothends::app::mend::{Step, describe};
use bothends::app::ports::Trouble;
use bothends::app::wall::{Cause, WallForm, WallPart, Wrote, open_part, open_row, read_mark};
use bothends::app::{Action, Effect, Field, FootageOf, Notice, Saved, Screen};
use bothends::domain::length::{FootageMark, LengthUnit, Millimetres};
use bothends::domain::place::Side;
use bothends::query::wall::{self, Settled};
use bothends::query::{What, check};
use bothends::ui;
use bothends::view::Node;

use super::phone::Phone;

#[test]
fn a_room_gets_the_proposed_code_unless_another_was_typed() {
    let mut phone = Phone::new();
    phone.types(Field::RoomName, "Kitchen");
    assert_eq!(phone.field(Field::RoomCode), "KIT");
    phone.types(Field::RoomName, "Pantry");
    assert_eq!(phone.field(Field::RoomCode), "PAN");
    phone.types(Field::RoomCode, "pty");
    phone.types(Field::RoomName, "Pantry 2");
    assert_eq!(phone.field(Field::RoomCode), "pty");
    phone.adds_room();
    let rooms = wall::walls(phone.model.registry().expect("a job")).rooms;
    assert_eq!(
        (rooms[0].name.as_str(), rooms[0].code.as_str()),
        ("Pantry 2", "PTY")
    );
    assert_eq!(phone.field(Field::RoomName), "");

    phone.types(Field::RoomName, "Larder");
    phone.types(Field::RoomCode, "L4");
    let leads = Effect::FocusField(Field::RoomCode);
    assert_eq!(phone.adds_room(), [leads]);
    assert_eq!(phone.model.wrong, Some(Field::RoomCode));
    assert!(
        phone.refusal().contains("two to five capital letters"),
        "{}",
        phone.refusal()
    );
    assert_eq!(
        phone.field(Field::RoomName),
        "Larder",
        "what was typed stays"
    );
}

#[test]
fn what_could_not_be_stored_is_not_called_done() {
    let mut phone = Phone::new();
    phone.room("Kitchen");
    let shown = |phone: &Phone| {
        let mut texts = String::new();
        ui::draw(&phone.model).each(&mut |element| {
            for node in &element.inside {
                if let Node::Text(text) = node {
                    texts.push_str(text);
                }
            }
        });
        texts
    };
    let words = match &phone.model.notice {
        Some(Notice::Done { words, .. }) => words.clone(),
        other => panic!("{other:?}"),
    };
    let as_failed = format!("Not saved yet: {words}");
    let is_done = |phone: &Phone| {
        let texts = shown(phone);
        assert!(texts.contains(&words), "{texts}");
        assert_eq!(texts.contains(&as_failed), texts.contains("▲ "), "{texts}");
        !texts.contains(&as_failed)
    };
    assert!(is_done(&phone));
    phone.acts(Action::BatchFailed(Trouble::Full));
    assert!(!is_done(&phone), "{}", shown(&phone));
    // Once all of it is stored, it is done.
    for effect in phone.acts(Action::SaveAgain) {
        if let Effect::Save(batch) = effect {
            phone.acts(Action::BatchSaved(batch.token));
        }
    }
    assert_eq!(phone.model.saved(), Saved::Saved);
    assert!(is_done(&phone));
}

#[test]
fn what_was_typed_and_not_sent_is_there_when_the_page_is_loaded_again() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    phone.outlet(kitchen, "tv");
    let note = "Behind the\nfridge; ask for the key, 2 m up\t(ladder)";
    phone.types(Field::Note, note);
    phone.types(Field::OutletHeight, "18 in");
    phone.reloads();
    assert_eq!(phone.field(Field::Note), note);
    assert_eq!(phone.field(Field::OutletHeight), "18 in");
    // On another screen nobody looks for it, and on none that was loaded by another address. Whoever
    // comes back finds it.
    let typed = phone.model.typed();
    let screen = phone.model.screen().expect("an outlet");
    phone.acts(Action::Go(Screen::Job));
    assert_eq!(phone.field(Field::Note), "");
    assert_ne!(phone.model.typed(), typed);
    phone.acts(Action::Go(screen));
    assert_eq!(phone.field(Field::Note), note);
    phone.acts(Action::Go(Screen::Job));
    phone.reloads();
    assert_eq!(phone.field(Field::Note), "");
}

#[test]
fn each_tap_of_the_pen_notes_what_was_written_and_nothing_else() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let pen = |place, wrote| WallForm::Pen {
        outlet,
        place,
        wrote,
    };
    for (place, wrote, marked) in [
        (0, Wrote::Yes, "A"),
        (1, Wrote::Skipped, "A"),
        (2, Wrote::Yes, "AC"),
    ] {
        let effects = phone.sends(pen(place, wrote));
        let saves = effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)));
        assert_eq!(saves, wrote == Wrote::Yes);
        let place = place + 1;
        assert_eq!(phone.model.screen(), Some(Screen::Pen { outlet, place }));
        assert_eq!(phone.marked(outlet), marked);
    }
    phone.sends(pen(3, Wrote::Yes));
    assert_eq!(phone.model.screen(), Some(Screen::Outlet(outlet)));
    assert_eq!(phone.marked(outlet), "ACD");
    // Only the skipped one is left to write.
    phone.sends(pen(0, Wrote::Yes));
    assert_eq!(phone.marked(outlet), "ABCD");
    assert_eq!(phone.model.screen(), Some(Screen::Outlet(outlet)));
}

#[test]
fn marks_are_read_one_after_the_other() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let (of, side) = (FootageOf::Outlet(outlet), Side::Near);
    phone.acts(Action::Go(Screen::Footage { of, side }));
    phone.types(Field::Footage, "0482");
    phone.sends(WallForm::Footage { of, side });
    assert_eq!(phone.field(Field::Footage), "");
    phone.sends(WallForm::PassFootage { of, side });
    phone.types(Field::Footage, "12 m");
    phone.sends(WallForm::Footage { of, side });
    phone.types(Field::Footage, "-3");
    let leads = Effect::FocusField(Field::Footage);
    assert_eq!(phone.sends(WallForm::Footage { of, side }), [leads]);
    assert!(phone.refusal().contains("“-3” is no length mark"));
    assert_eq!(phone.field(Field::Footage), "-3");
    let marks: Vec<_> = phone
        .ends(outlet)
        .iter()
        .map(|end| end.near_footage)
        .collect();
    let mark = |value, unit| Some(FootageMark { value, unit });
    assert_eq!(
        marks,
        [
            mark(482, LengthUnit::Feet),
            None,
            mark(12, LengthUnit::Metres),
            None
        ]
    );
}

#[test]
fn the_last_cable_without_a_mark_leads_on() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let of = FootageOf::Outlet(outlet);
    let (near, far) = (Side::Near, Side::Far);
    phone.acts(Action::Go(Screen::Footage { of, side: near }));
    for (side, leads_to) in [
        (near, Screen::Footage { of, side: far }),
        (far, Screen::Outlet(outlet)),
    ] {
        for _ in phone.ends(outlet) {
            let here = Some(Screen::Footage { of, side });
            assert_eq!(phone.model.screen(), here);
            phone.sends(WallForm::PassFootage { of, side });
        }
        assert_eq!(phone.model.screen(), Some(leads_to));
    }
}

#[test]
fn a_doubtful_mark_is_kept_and_read_again() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let of = FootageOf::Outlet(outlet);
    let reads = |phone: &mut Phone, side, mark: &str| {
        phone.types(Field::Footage, mark);
        phone.sends(WallForm::Footage { of, side });
        phone.field(Field::OpenRow).to_owned()
    };
    phone.acts(Action::Go(Screen::Footage {
        of,
        side: Side::Near,
    }));
    let cables: Vec<String> = phone
        .ends(outlet)
        .iter()
        .map(|end| end.end.cable.0.to_string())
        .collect();
    assert_eq!(reads(&mut phone, Side::Near, "482"), cables[1]);
    phone.acts(Action::Go(Screen::Footage {
        of,
        side: Side::Far,
    }));
    // The field stays with the cable until it is read again, or read the same twice.
    assert_eq!(reads(&mut phone, Side::Far, "482"), cables[0]);
    let first = &phone.ends(outlet)[0];
    assert!(first.is_doubtful && first.far_footage.is_some());
    assert_eq!(reads(&mut phone, Side::Far, "1600"), cables[0]);
    assert_eq!(reads(&mut phone, Side::Far, "1600"), cables[1]);
    assert!(!phone.ends(outlet)[0].is_doubtful);
}

#[test]
fn a_mark_is_a_whole_number() {
    for (text, expected) in [
        ("482", Some((482, LengthUnit::Feet))),
        (" 0482 ", Some((482, LengthUnit::Feet))),
        ("1,204 ft", Some((1204, LengthUnit::Feet))),
        ("1 204", Some((1204, LengthUnit::Feet))),
        ("99,999", Some((99_999, LengthUnit::Feet))),
        ("0000412", Some((412, LengthUnit::Feet))),
        ("37M", Some((37, LengthUnit::Metres))),
        ("", None),
        ("48.2", None),
        // What may be a decimal comma, or a slip of the finger, is not read as another number.
        ("12,5", None),
        ("12 5", None),
        ("1,2345", None),
        ("1234,567", None),
        ("1,23,456", None),
        (",412", None),
        ("412,", None),
        ("100000", None),
        ("1,000,000", None),
        ("+48", None),
        ("99999999999", None),
        ("m", None),
    ] {
        let read = read_mark(text, LengthUnit::Feet).ok();
        assert_eq!(
            read.map(|mark| (mark.value, mark.unit)),
            expected,
            "{text:?}"
        );
    }
    let refused = |text| read_mark(text, LengthUnit::Feet).expect_err("a sentence");
    let to_type = "Type the whole number printed on the jacket, for example 412.";
    assert_eq!(refused("  "), to_type);
    assert_eq!(
        refused("12,5"),
        format!("“12,5” is no length mark. {to_type}")
    );
    for text in ["1000000 ft", "99999999999 ft"] {
        assert_eq!(
            refused(text),
            format!("“{text}” is more than any jacket carries, which is five digits. {to_type}")
        );
    }
}

#[test]
fn a_part_opens_with_what_is_known_and_closes_when_it_is_done() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let spot = WallForm::OpenPart {
        outlet,
        part: WallPart::Spot,
    };
    phone.sends(spot);
    phone.types(Field::OutletWall, "Window wall");
    phone.types(Field::OutletHeight, "1' 6");
    phone.types(Field::OutletOffset, "a bit");
    let leads = Effect::FocusField(Field::OutletOffset);
    assert_eq!(phone.sends(WallForm::Spot(outlet)), [leads]);
    assert_eq!(
        phone.refusal(),
        "Distance: “a bit” is no length. Write it like 18 in, 4' 6\" or 1.2 m."
    );
    assert_eq!(open_part(&phone.model), Some(WallPart::Spot));
    phone.types(Field::OutletOffset, "");
    phone.sends(WallForm::Spot(outlet));
    assert_eq!(open_part(&phone.model), None);
    let view = wall::outlet(phone.model.registry().expect("a job"), outlet).expect("an outlet");
    assert_eq!(view.spot.expect("a place").height, Some(Millimetres(457)));
    phone.sends(spot);
    assert_eq!(phone.field(Field::OutletHeight), "1′ 6″");
}

#[test]
fn rows_and_parts_close_with_the_screen() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let cable = phone.ends(outlet)[1].end.cable;
    phone.sends(WallForm::OpenRow(cable));
    assert_eq!(open_row(&phone.model), Some(cable));
    let part = WallPart::Repull;
    phone.sends(WallForm::OpenPart { outlet, part });
    let leads = Effect::FocusField(Field::Reason);
    let again = WallForm::Reason(Cause::Repull(cable));
    assert_eq!(phone.sends(again), [leads]);
    assert!(phone.refusal().contains("reason"), "{}", phone.refusal());
    phone.types(Field::Reason, "Drilled through");
    assert_eq!(phone.model.wrong, None, "once somebody types");
    phone.sends(WallForm::Reason(Cause::Repull(cable)));
    assert_eq!(
        phone.ends(outlet)[1].repull.as_deref(),
        Some("Drilled through")
    );
    assert_eq!(open_part(&phone.model), None);
    assert_eq!(open_row(&phone.model), Some(cable));
    phone.acts(Action::Go(Screen::Wall));
    assert_eq!(open_row(&phone.model), None);
}

#[test]
fn a_spare_end_says_why_in_one_tap() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "camera");
    let end = phone.ends(outlet)[0].end;
    let want = Cause::Spare(end).want("FUTURE");
    phone.acts(Action::Do { want, then: None });
    assert_eq!(
        phone.ends(outlet)[0].here,
        Settled::Spare("FUTURE (coiled in the box)".to_owned())
    );
}

#[test]
fn what_one_outlet_is_for_does_not_stand_where_the_next_one_is_added() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    for (field, part) in [
        (Field::OutletPurpose, WallPart::Purpose),
        (Field::CablePurpose, WallPart::AddCable),
    ] {
        phone.acts(Action::Go(Screen::Outlet(outlet)));
        phone.sends(WallForm::OpenPart { outlet, part });
        phone.types(field, "Above the window");
        phone.acts(Action::Go(Screen::Room(kitchen)));
        assert_eq!(phone.field(field), "");
        phone.acts(Action::Go(Screen::Outlet(outlet)));
        assert_eq!(phone.field(field), "Above the window");
    }
}

#[test]
fn a_cable_that_is_too_long_is_told_where_its_marks_are_read_and_on_the_punch_list() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "data");
    let of = FootageOf::Outlet(outlet);
    for (side, mark) in [(Side::Near, "500"), (Side::Far, "200")] {
        phone.acts(Action::Go(Screen::Footage { of, side }));
        phone.types(Field::Footage, mark);
        phone.sends(WallForm::Footage { of, side });
    }
    let end = &phone.ends(outlet)[0];
    assert!(end.is_too_long && !end.is_doubtful);
    let side = Side::Far;
    phone.acts(Action::Go(Screen::Footage { of, side }));
    let told = super::scan::words(&phone);
    assert!(told.contains("= 300 ft ▲ above 90 m"), "{told}");
    let journal = &phone.model.open.as_ref().expect("a job").journal;
    let findings = check(journal.registry());
    let finding = findings
        .iter()
        .find(|finding| matches!(finding.what, What::TooLong { .. }));
    let mending = describe(journal, finding.expect("it is found"));
    assert_eq!(
        mending.title,
        "KIT1-A: 300 ft between the two marks, more than the 90 m (295 ft) of a link of category cable."
    );
    assert_eq!(mending.detail.len(), 3, "{mending:?}");
    let side = Side::Near;
    let again = Step::Go(Screen::Footage { of, side });
    assert!(mending.fixes.iter().any(|fix| fix.step == again));
}
