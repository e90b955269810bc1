//! The pull on a phone, from the boxes to the summary of the day.

use bothends::app::cover::CoverForm;
use bothends::app::wall::WallForm;
use bothends::app::{Action, Effect, Field, FootageOf, Form, Notice, Screen};
use bothends::command::Want;
use bothends::domain::place::Side;
use bothends::domain::work::{PullOutcome, Waiting, WaitsFor};
use bothends::query::pull::pulls;

use super::phone::Phone;

fn boxed(phone: &mut Phone, number: &str, medium: &str) -> Vec<Effect> {
    phone.types(Field::BoxNumber, number);
    phone.types(Field::CableMedium, medium);
    phone.acts(Action::Submit(Form::HoldBox))
}

#[test]
fn boxes_are_dealt_pulled_and_read_in_one_go() {
    let mut phone = Phone::new();
    let room = phone.room("Kitchen");
    phone.outlet(room, "data");
    phone.acts(Action::Go(Screen::Pull));
    let number = Effect::FocusField(Field::BoxNumber);
    assert_eq!(boxed(&mut phone, "third", "cat6-utp"), [number]);
    assert!(phone.refusal().contains("“third” is no number of a box"));
    assert_eq!(phone.field(Field::BoxNumber), "third");
    boxed(&mut phone, "3", "cat6-utp");
    boxed(&mut phone, "7", "cat6-utp");
    assert_eq!(phone.field(Field::BoxNumber), "");
    boxed(&mut phone, "4", "rg6");
    boxed(&mut phone, "4", "rg59");
    let Some(Notice::Done { words, .. }) = &phone.model.notice else {
        panic!("{:?}", phone.model.notice);
    };
    assert_eq!(words, "Box 4 holds RG-59. It held RG-6 before.");
    let plan = pulls(phone.model.registry().expect("a job"));
    let deals = plan.next[0].deals();
    let cables: Vec<_> = deals.iter().map(|(cable, _)| *cable).collect();
    assert_eq!(deals.iter().map(|(_, of)| *of).collect::<Vec<_>>(), [3, 7]);
    phone.acts(Action::Do {
        want: Want::DealBoxes { deals },
        then: None,
    });
    phone.acts(Action::Go(Screen::Pull));
    let told = super::scan::words(&phone);
    let said = "Until then, mark each cable with its box: 2 rings for box 2; above box 5, write the number.";
    assert!(told.contains(said), "{told}");
    // The marks of all members, one after the other.
    let of = FootageOf::Bundle(cables[0]);
    for (side, marks) in [(Side::Near, ["912", "1204"]), (Side::Far, ["780", "1071"])] {
        phone.acts(Action::Go(Screen::Footage { of, side }));
        for mark in marks {
            phone.types(Field::Footage, mark);
            phone.sends(WallForm::Footage { of, side });
        }
    }
    let plan = pulls(phone.model.registry().expect("a job"));
    assert_eq!(Side::BOTH.map(|side| plan.in_hand[0].read(side)), [2, 2]);
    let outlet = phone.ends_of(room);
    assert_eq!(outlet.len(), 2);
    let want = Want::ReportPull {
        cables,
        outcome: PullOutcome::Pulled,
    };
    phone.acts(Action::Do { want, then: None });
    let plan = pulls(phone.model.registry().expect("a job"));
    assert_eq!(plan.left(), 0);
}

#[test]
fn the_summary_says_of_a_room_that_it_is_ok_where_that_still_holds() {
    let mut phone = Phone::new();
    phone.model.person.initials = "T1".to_owned();
    let room = phone.room("Kitchen");
    let outlet = phone.outlet(room, "data");
    let acts = |phone: &mut Phone, want| phone.acts(Action::Do { want, then: None });
    let summary = |phone: &mut Phone| {
        phone.acts(Action::Submit(Form::Evening));
        phone.field(Field::Evening).to_owned()
    };
    phone.types(Field::CoverNote, "The rest comes on Friday");
    phone.acts(Action::Submit(Form::Cover(CoverForm::Sign(room))));
    let text = summary(&mut phone);
    assert!(
        text.contains("Kitchen is OK to cover in spite of: KIT1-A"),
        "{text}"
    );
    assert!(!text.contains("Not to be covered"), "{text}");
    let cable = phone.ends(outlet)[0].end.cable;
    let reason = "drilled through".to_owned();
    acts(&mut phone, Want::Repull { cable, reason });
    let text = summary(&mut phone);
    assert!(!text.contains("is OK"), "{text}");
    // The first change is told, with who made it.
    let line = "Not to be covered yet: Kitchen (signed, and changed since: KIT1-A";
    assert!(text.contains(line), "{text}");
    assert!(
        text.contains("drilled through") && text.contains("T1, "),
        "{text}"
    );
    let reason = "the plumber comes back".to_owned();
    acts(&mut phone, Want::NotToCover { room, reason });
    let text = summary(&mut phone);
    let line = "Not to be covered yet: Kitchen (the plumber comes back).";
    assert!(text.lines().any(|of| of == line), "{text}");
    assert!(!text.contains("is OK"), "{text}");
    // Closed all the same: what is missing is told as long as it is missing.
    acts(&mut phone, Want::CloseWalls { room });
    let text = summary(&mut phone);
    let line = "Not to be covered yet: Kitchen (closed already with 7 things left: look before the plaster dries).";
    assert!(text.lines().any(|of| of == line), "{text}");
}

#[test]
fn the_summary_names_a_phone_once_that_was_given_its_initials_later() {
    let mut phone = Phone::new();
    phone.room("Kitchen");
    phone.model.person.initials = "QX".to_owned();
    phone.room("Hall");
    let head = |phone: &mut Phone| {
        phone.acts(Action::Go(Screen::Wall));
        phone.types(Field::Evening, "");
        phone.acts(Action::Submit(Form::Evening));
        let text = phone.field(Field::Evening);
        text.lines().next().unwrap_or_default().to_owned()
    };
    let day = "Marrowby Mill, 1970-01-01, ";
    assert_eq!(head(&mut phone), format!("{day}QX, phone 0810"));
    // Another one stays, though its name ends alike.
    phone.model.person.initials.clear();
    phone.model.person.device = "0810".to_owned();
    phone.room("Attic");
    let both = "0810 and QX, phone 0810";
    assert_eq!(head(&mut phone), format!("{day}{both}"));
}

#[test]
fn the_summary_says_what_is_done_blocked_asked_and_to_be_brought() {
    let mut phone = Phone::new();
    let room = phone.room("Kitchen");
    let data = phone.outlet(room, "data");
    let tv = phone.outlet(room, "tv");
    boxed(&mut phone, "1", "cat6-utp");
    let cables: Vec<_> = phone.ends(data).iter().map(|end| end.end.cable).collect();
    let report = |phone: &mut Phone, cable, outcome| {
        let cables = vec![cable];
        let want = Want::ReportPull { cables, outcome };
        phone.acts(Action::Do { want, then: None });
    };
    report(&mut phone, cables[0], PullOutcome::Pulled);
    report(&mut phone, cables[1], PullOutcome::Stuck);
    phone.acts(Action::Do {
        want: Want::LetOutletWait {
            outlet: tv,
            waiting: Waiting {
                whom: WaitsFor::Builder,
                words: "is the niche closed on Friday?".to_owned(),
            },
        },
        then: None,
    });
    let effects = phone.acts(Action::Submit(Form::Evening));
    assert!(
        effects
            .iter()
            .any(|effect| matches!(effect, Effect::SetHash(_)))
    );
    assert_eq!(phone.model.screen(), Some(Screen::Evening));
    let text = phone.field(Field::Evening).to_owned();
    for line in [
        "Marrowby Mill, 1970-01-01, phone 0810",
        "Done: 1 cable pulled.",
        "Blocked: KIT1-B stuck.",
        "Questions: KIT2: question for the builder: is the niche closed on Friday?",
        "Not to be covered yet: Kitchen.",
    ] {
        assert!(text.lines().any(|of| of == line), "{line}\n--\n{text}");
    }
    // Sent is what stands there, with what was added by hand.
    let added = format!("{text}\nLadder is in the studio.");
    phone.types(Field::Evening, &added);
    let effects = phone.acts(Action::SendText(phone.field(Field::Evening).to_owned()));
    assert_eq!(effects, [Effect::SendText(added.clone())]);
    // It is there again for whoever comes back, until a new one is asked for.
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Submit(Form::Evening));
    assert_eq!(phone.field(Field::Evening), added);
    phone.acts(Action::Submit(Form::Evening));
    assert_eq!(phone.field(Field::Evening), text);
    // A damaged cable needs cable again, from a box that is not here.
    report(&mut phone, cables[1], PullOutcome::Damaged);
    let (number, medium) = (1, None);
    let want = Want::HoldBox { number, medium };
    phone.acts(Action::Do { want, then: None });
    phone.acts(Action::Submit(Form::Evening));
    let text = phone.field(Field::Evening);
    let line = "Boxes to bring: Cat 6 U/UTP for 1 cable.";
    assert!(text.lines().any(|of| of == line), "{text}");
}
