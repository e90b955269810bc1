//! What a person types at the scanner: the nearest codes where it names nothing, and what was added to it.

use bothends::app::plan::PlanForm;
use bothends::app::scan::ScanAction;
use bothends::app::{Action, Field, Form, Screen};
use bothends::domain::label::OutletNumber;
use bothends::journal::{Fact, OutletFact, Signature, WallTime};
use bothends::ui;
use bothends::view::Touch;

use super::phone::Phone;
use super::scan::{answer_words, phone};

fn typed(phone: &mut Phone, text: &str) -> String {
    phone.types(Field::ScanText, text);
    phone.acts(Action::Scan(ScanAction::Typed));
    answer_words(phone)
}

#[test]
fn what_is_left_of_a_tag_is_offered_as_the_search_finds_it_and_the_field_stays() {
    let (mut phone, _) = phone();
    phone.acts(Action::Go(Screen::Scan));
    for text in ["ki", "it1"] {
        phone.acts(Action::Go(Screen::Wall));
        phone.acts(Action::Go(Screen::Scan));
        let words = typed(&mut phone, text);
        assert!(words.contains("Perhaps it is one of these:"), "{words}");
        assert!(
            words.contains("KIT1-B") || words.contains("KIT1\n"),
            "{words}"
        );
        assert_eq!(phone.field(Field::ScanText), text);
        let mut has_field = false;
        ui::draw(&phone.model).each(&mut |element| {
            has_field |= element.attribute("id") == Some("field-scantext");
        });
        assert!(has_field, "{text} is to be mended");
        assert!(words.contains(&format!("Find {text}")), "{words}");
        phone.acts(Action::Scan(ScanAction::Find));
        assert_eq!(phone.model.screen(), Some(Screen::Find));
        assert_eq!(phone.field(Field::Find), text);
    }
    // Nothing has it: there is nothing to find.
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "zzzz");
    assert!(words.contains("Nothing is called “zzzz” here."), "{words}");
    assert!(!words.contains("Find zzzz"), "{words}");
}

#[test]
fn a_code_that_was_completed_with_the_room_is_said_to_be() {
    let (mut phone, _) = phone();
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "1-B");
    let said = "“1-B” is taken as KIT1-B, since you stand in KIT.";
    assert!(words.contains(said), "{words}");
    phone.acts(Action::Scan(ScanAction::Again));
    let words = typed(&mut phone, "kit1b");
    assert!(!words.contains("is taken as"), "{words}");
}

#[test]
fn what_names_a_rack_and_has_a_dash_may_be_the_end_of_a_code_too() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    phone.outlet(kitchen, "tv");
    phone.acts(Action::Go(Screen::Racks));
    phone.types(Field::RackName, "Main rack");
    phone.types(Field::RackSpace, "1A");
    phone.acts(Action::Submit(Form::Plan(PlanForm::AddRack)));
    for (text, offers) in [("1-A", true), ("1A", false)] {
        phone.acts(Action::Go(Screen::Scan));
        let words = typed(&mut phone, text);
        assert_eq!(phone.model.screen(), Some(Screen::Rack), "{words}");
        assert_eq!(words.contains("KIT1-A"), offers, "{words}");
    }
}

#[test]
fn an_outlet_code_that_two_outlets_share_is_asked_about_and_the_rack_is_named() {
    let (mut phone, outlet) = phone();
    // Another phone gave the same number.
    let room = phone
        .model
        .registry()
        .and_then(|registry| registry.outlets.get(outlet)?.number.get())
        .expect("a number")
        .room;
    let second = phone.outlet(room, "data");
    let number = OutletNumber::new(1).expect("a number");
    let open = phone.model.open.as_mut().expect("a job");
    let mut draft = open.journal.draft();
    draft.push(Fact::Outlet(second, OutletFact::Numbered { room, number }));
    let signature = Signature {
        by: "TH".to_owned(),
        wall: WallTime(0),
    };
    open.write(draft, signature).expect("a place");
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "KIT1");
    assert!(words.contains("Which of them is it?"), "{words}");
    assert_eq!(phone.model.screen(), Some(Screen::Scan));
    let mut ways = 0;
    ui::draw(&phone.model).each(&mut |element| {
        for touch in &element.touches {
            let to = |id| matches!(touch, Touch::Tap(Action::Go(Screen::Outlet(to))) if *to == id);
            ways += usize::from(to(outlet)) + 10 * usize::from(to(second));
        }
    });
    // Both, and the way back to where one was before.
    assert!(ways >= 11, "{ways}: {words}");
}
