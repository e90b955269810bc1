//! What a person types at the scanner: the nearest codes where it names nothing, and what was added to it.

use bothends::app::plan::PlanForm;
use bothends::app::scan::ScanAction;
use bothends::app::{Action, Field, FindForm, Form, Screen};
use bothends::command::Want;
use bothends::domain::ids::LooseEndId;
use bothends::domain::label::OutletNumber;
use bothends::domain::place::Side;
use bothends::journal::{Fact, OutletFact, Signature, WallTime};
use bothends::ui;
use bothends::view::Touch;

use super::phone::Phone;
use super::scan::{answer_words, cable, phone};

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
            has_field |= element.attribute("id") == Some(&ui::field_id(Field::ScanText));
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

fn was_called(phone: &mut Phone, code: &str, name: &str) {
    let (cable, name) = (cable(phone, code), name.to_owned());
    let want = Want::KnowCableAs { cable, name };
    phone.acts(Action::Do { want, then: None });
}

#[test]
fn an_old_number_opens_its_cable_and_says_so() {
    let (mut phone, _) = phone();
    was_called(&mut phone, "KIT1-B", "W013");
    was_called(&mut phone, "KIT1-C", "W-0131");
    let screen = Some(Screen::Cable(cable(&phone, "KIT1-B")));
    for text in ["W013", " w013 "] {
        phone.acts(Action::Go(Screen::Scan));
        let words = typed(&mut phone, text);
        let said = "KIT1-B was once called “W013”.";
        assert!(words.contains(said), "{words}");
        assert!(!words.contains("Nothing is called"), "{words}");
        assert_eq!(phone.model.screen(), screen);
        assert_eq!(phone.field(Field::ScanText), "");
    }
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "w0131");
    assert!(
        words.contains("KIT1-C was once called “W-0131”."),
        "{words}"
    );
    // A part of it opens nothing, and each that is offered says why.
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "w01");
    assert!(words.contains("Perhaps it is one of these:"), "{words}");
    assert!(words.contains("once called “W013”"), "{words}");
    assert!(words.contains("once called “W-0131”"), "{words}");
}

#[test]
fn several_that_were_called_so_are_offered_with_the_reason() {
    let (mut phone, _) = phone();
    was_called(&mut phone, "KIT1-B", "W013");
    was_called(&mut phone, "KIT1-C", "w013");
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "W013");
    assert_eq!(phone.model.screen(), Some(Screen::Scan));
    assert!(words.contains("Which of them is it?"), "{words}");
    for words_of_one in [
        "KIT1-B",
        "once called “W013”",
        "KIT1-C",
        "once called “w013”",
    ] {
        assert!(words.contains(words_of_one), "{words}");
    }
    assert!(!words.contains("KIT1-A"), "{words}");
}

#[test]
fn what_is_called_so_now_goes_before_what_was_which_is_offered() {
    let (mut phone, _) = phone();
    was_called(&mut phone, "KIT1-B", "KIT1-C");
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "kit1c");
    let screen = Screen::Cable(cable(&phone, "KIT1-C"));
    assert_eq!(phone.model.screen(), Some(screen));
    let offered = words.split("Perhaps it is one of these:").nth(1);
    let offered = offered.expect("something");
    assert!(offered.contains("KIT1-B"), "{words}");
    assert!(offered.contains("once called “KIT1-C”"), "{words}");
}

fn loose_ends(phone: &mut Phone, count: usize) -> Vec<LooseEndId> {
    for _ in 0..count {
        phone.types(Field::LoosePlace, "Above the door");
        phone.acts(Action::Submit(Form::Find(FindForm::AddLoose)));
    }
    let registry = phone.model.registry().expect("a job");
    let rows = bothends::query::loose::loose_ends(registry);
    rows.into_iter().map(|row| row.id).collect()
}

#[test]
fn a_loose_end_is_opened_by_its_number() {
    let (mut phone, _) = phone();
    let ends = loose_ends(&mut phone, 31);
    // The last one stands on the second page of the list.
    for (text, at) in [
        ("loose end 1", 0),
        ("Loose end 1", 0),
        ("loose 1", 0),
        ("LOOSE 31", 30),
    ] {
        phone.acts(Action::Go(Screen::Scan));
        let words = typed(&mut phone, text);
        assert_eq!(phone.model.screen(), Some(Screen::Loose), "{text}: {words}");
        assert_eq!(phone.field(Field::LooseOpen), ends[at].0.to_string());
        assert_eq!(phone.model.page, at / 30);
    }
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "loose end 32");
    assert!(
        words.contains("Nothing is called “loose end 32” here."),
        "{words}"
    );
}

#[test]
fn a_loose_end_that_is_joined_leads_on_to_its_cable() {
    let (mut phone, _) = phone();
    let loose = loose_ends(&mut phone, 1)[0];
    phone.types(Field::LooseCode, "KIT1-B");
    let side = Side::Far;
    phone.acts(Action::Submit(Form::Find(FindForm::JoinLoose {
        loose,
        side,
    })));
    phone.acts(Action::Go(Screen::Scan));
    let words = typed(&mut phone, "loose 1");
    let screen = Screen::Cable(cable(&phone, "KIT1-B"));
    assert_eq!(phone.model.screen(), Some(screen));
    assert!(words.contains("Loose end 1 is KIT1-B."), "{words}");
}
