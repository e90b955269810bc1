//! Tags on the way from a choice to a printer.

use bothends::app::tags::{Paper, TagAction, choice};
use bothends::app::{Action, Effect, Field, Notice, Screen};
use bothends::domain::ids::{Bits80, JobId};
use bothends::domain::length::LengthUnit;

use bothends::papers::{Making, look};
use bothends::tags::{Choice, Order};

use super::phone::Phone;

fn phone() -> Phone {
    let mut phone = Phone::new();
    let room = phone.room("Kitchen");
    phone.outlet(room, "tv");
    phone
}

/// Does what the other thread would do, until nothing is asked any more.
fn answered(phone: &mut Phone, mut effects: Vec<Effect>) -> Vec<Effect> {
    let mut rest = Vec::new();
    while let Some(effect) = effects.pop() {
        let Effect::Papers { what, order } = effect else {
            rest.push(effect);
            continue;
        };
        let order = Order::read(&order).expect("an order");
        let bytes = match what {
            Paper::Look => look(&order).to_string().into_bytes(),
            Paper::Pdf => {
                let mut making = Making::of(order);
                while making.step() {}
                making.finish()
            }
            Paper::Texts | Paper::Svg | Paper::Png | Paper::Rack(..) | Paper::Series => {
                b"made".to_vec()
            }
        };
        effects.extend(phone.acts(Action::Tags(TagAction::Came(what, Ok(Some(bytes))))));
    }
    rest
}

fn does(phone: &mut Phone, action: Action) -> Vec<Effect> {
    let effects = phone.acts(action);
    answered(phone, effects)
}

fn labels(phone: &Phone) -> i32 {
    let look = phone.model.tags.look.as_ref().expect("looked at");
    look.as_ref().expect("an answer").labels
}

#[test]
fn tomorrows_tags_are_three_taps_away() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Job));
    does(&mut phone, Action::Go(Screen::Tags));
    assert_eq!(choice(&phone.model), Choice::ToPull);
    assert_eq!(labels(&phone), 16, "four cables, two tags at each end");
    let effects = does(&mut phone, Action::Tags(TagAction::Make(Paper::Pdf)));
    let out = effects.iter().find_map(|effect| match effect {
        Effect::HandOut {
            name, kind, bytes, ..
        } => Some((name.as_str(), *kind, bytes.starts_with(b"%PDF"))),
        _ => None,
    });
    assert_eq!(
        out,
        Some((
            "marrowby-mill-tags-to-pull-1970-01-01.pdf",
            "application/pdf",
            true
        ))
    );
    let kept = effects
        .iter()
        .any(|effect| matches!(effect, Effect::Keep { key: "tags", .. }));
    assert!(kept, "the same labels are there the next time");
}

#[test]
fn what_was_printed_is_noted_and_not_asked_for_again() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Tags));
    does(&mut phone, Action::Tags(TagAction::Make(Paper::Pdf)));
    does(&mut phone, Action::Tags(TagAction::Note));
    let Some(Notice::Done { words, .. }) = &phone.model.notice else {
        panic!("done: {:?}", phone.model.notice);
    };
    assert_eq!(words, "Sheet 1: 16 tags are noted as printed.");
    let look = phone.model.tags.look.as_ref().expect("looked at again");
    assert!(
        look.as_ref().expect("an answer").refused.is_some(),
        "nothing is left"
    );
    assert!(phone.model.tags.made.is_none());
}

#[test]
fn a_file_is_of_what_is_chosen_now() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Tags));
    does(&mut phone, Action::Tags(TagAction::Make(Paper::Pdf)));
    assert!(phone.model.tags.made.is_some());
    phone.types(Field::TagsSet, "6");
    assert!(phone.model.tags.made.is_none() && phone.model.tags.look.is_none());
    // An answer about the order before does not count as the file of this one.
    let late = Action::Tags(TagAction::Came(Paper::Pdf, Ok(None)));
    assert_eq!(phone.acts(late), []);
    assert!(phone.model.tags.made.is_none());
}

#[test]
fn it_can_be_given_up() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Tags));
    phone.acts(Action::Tags(TagAction::Make(Paper::Pdf)));
    phone.acts(Action::Tags(TagAction::Progress(3, 9)));
    assert_eq!(phone.model.tags.progress, Some((3, 9)));
    assert_eq!(
        phone.acts(Action::Tags(TagAction::GiveUp)),
        [Effect::GiveUpPapers]
    );
    assert_eq!(
        (phone.model.tags.making, phone.model.tags.progress),
        (None, None)
    );
}

#[test]
fn a_wrong_first_label_is_refused_in_words_and_stays_in_its_field() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Tags));
    for typed in ["0", "50", "third"] {
        let action = Action::Typed {
            field: Field::TagsStart,
            text: typed.to_owned(),
        };
        does(&mut phone, action);
        let look = phone.model.tags.look.as_ref().expect("looked at");
        let refused = look.as_ref().expect("an answer").refused.clone();
        assert!(
            refused.expect("refused").contains("has the labels 1 to 30"),
            "{typed}"
        );
        assert_eq!(phone.field(Field::TagsStart), typed);
    }
}

#[test]
fn a_wrong_diameter_is_refused_in_words_and_stays_in_its_field() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Tags));
    for typed in ["0", "-3", "abc", "0.2", "1e9"] {
        let action = Action::Typed {
            field: Field::TagsDiameter,
            text: typed.to_owned(),
        };
        does(&mut phone, action);
        let look = phone.model.tags.look.as_ref().expect("said");
        let refused = look
            .as_ref()
            .expect("words")
            .refused
            .clone()
            .expect("refused");
        assert!(
            refused.starts_with(&format!("“{typed}” is no outside diameter")),
            "{refused}"
        );
        assert_eq!(phone.field(Field::TagsDiameter), typed);
    }
    let action = Action::Typed {
        field: Field::TagsDiameter,
        text: "7.1".to_owned(),
    };
    does(&mut phone, action);
    assert_eq!(labels(&phone), 16);
}

#[test]
fn other_labels_are_described_by_their_measures() {
    let mut phone = phone();
    does(&mut phone, Action::Go(Screen::Stock));
    let keep = |phone: &mut Phone| phone.acts(Action::Tags(TagAction::KeepStock));
    phone.types(Field::StockName, "Yellow wraps");
    assert_eq!(keep(&mut phone), []);
    assert!(
        phone.refusal().starts_with("“” is no width."),
        "{}",
        phone.refusal()
    );
    for (field, text) in [
        (Field::StockWidth, "20"),
        (Field::StockHeight, "40"),
        (Field::StockOwn, "50"),
        (Field::StockFeed, "roll"),
    ] {
        phone.types(field, text);
    }
    keep(&mut phone);
    assert!(
        phone
            .refusal()
            .contains("more than the height of the label, 40 mm"),
        "{}",
        phone.refusal()
    );
    assert_eq!(
        phone.field(Field::StockName),
        "Yellow wraps",
        "nothing is lost"
    );
    phone.types(Field::StockOwn, "12,7");
    let effects = keep(&mut phone);
    let kept = effects.iter().find_map(|effect| match effect {
        Effect::Keep {
            key: "stocks",
            value,
        } => Some(value.clone()),
        _ => None,
    });
    assert_eq!(
        kept.as_deref(),
        Some("Yellow wraps;wrap;12700;20000;40000;roll")
    );
    assert_eq!(phone.model.screen(), Some(Screen::Tags));
    let stock = bothends::app::tags::stock(&phone.model).expect("a stock");
    assert_eq!(stock.name, "Yellow wraps");
    // They are changed under another name, brought back as they were, forgotten, and brought back.
    let act = |phone: &mut Phone, what| phone.acts(Action::Tags(what));
    let own = |phone: &Phone| -> Vec<String> {
        let own = phone.model.tags.own.iter();
        own.map(|stock| format!("{} {}", stock.name, stock.width))
            .collect()
    };
    does(&mut phone, Action::Go(Screen::Stock));
    act(&mut phone, TagAction::EditStock(Some(0)));
    assert_eq!(phone.field(Field::StockOwn), "12.7");
    phone.types(Field::StockName, "Wide wraps");
    phone.types(Field::StockWidth, "25.4");
    keep(&mut phone);
    assert_eq!(own(&phone), ["Wide wraps 25.4"]);
    does(&mut phone, Action::Go(Screen::Stock));
    act(&mut phone, TagAction::RestoreStock);
    assert_eq!(own(&phone), ["Yellow wraps 20", "Wide wraps 25.4"]);
    act(&mut phone, TagAction::ForgetStock(1));
    act(&mut phone, TagAction::ForgetStock(0));
    assert!(phone.model.tags.own.is_empty());
    act(&mut phone, TagAction::RestoreStock);
    assert_eq!(own(&phone), ["Yellow wraps 20"]);
}

#[test]
fn inserts_go_on_inserts_unless_somebody_chooses() {
    let mut phone = phone();
    does(&mut phone, Action::Tags(TagAction::Of(Choice::Inserts)));
    let stock = bothends::app::tags::stock(&phone.model).expect("a stock");
    assert_eq!(stock.shape, bothends::tags::Shape::Insert);
}

/// The name of the stock that is chosen.
fn on(phone: &Phone) -> String {
    let stock = bothends::app::tags::stock(&phone.model);
    stock.expect("a stock").name
}

#[test]
fn whoever_chose_nothing_gets_labels_that_take_a_code_on_the_paper_of_his_units() {
    let mut phone = phone();
    does(&mut phone, Action::Tags(TagAction::Of(Choice::All)));
    assert_eq!(on(&phone), "Flags, Letter");
    phone.model.unit = LengthUnit::Metres;
    assert_eq!(on(&phone), "Flags, A4");
    // Whoever described labels has them, whatever paper they are on.
    let mut own = bothends::app::tags::stock(&phone.model).expect("a stock");
    own.name = "Yellow flags".to_owned();
    phone.model.unit = LengthUnit::Feet;
    phone.model.tags.own.push(own);
    assert_eq!(on(&phone), "Yellow flags");
}

#[test]
fn labels_are_remembered_for_each_kind_of_tag() {
    let mut phone = phone();
    let of = |phone: &mut Phone, choice| does(phone, Action::Tags(TagAction::Of(choice)));
    of(&mut phone, Choice::Outlets);
    phone.types(Field::TagsStockPlaces, "Flat labels, Letter");
    let effects = does(&mut phone, Action::Tags(TagAction::Make(Paper::Pdf)));
    of(&mut phone, Choice::Inserts);
    assert_eq!(on(&phone), "Faceplate inserts, Letter");
    of(&mut phone, Choice::All);
    assert_eq!(on(&phone), "Flags, Letter");
    // So it is the next time, beside the flags of somebody who kept no other kind.
    let kept = effects.iter().find_map(|effect| match effect {
        Effect::Keep { key: "tags", value } => Some(value.as_str()),
        _ => None,
    });
    assert_eq!(kept, Some(";300;4;Flat labels, Letter;;"));
    for (kept, cables, places) in [
        (kept.expect("kept"), "Flags, Letter", "Flat labels, Letter"),
        // As it was kept before there was a place for each kind.
        ("Flat labels, A4;300;4", "Flat labels, A4", "Flags, Letter"),
    ] {
        let mut phone = self::phone();
        phone.reloads_with_tags(kept);
        for (choice, name) in [
            (Choice::Inserts, "Faceplate inserts, Letter"),
            (Choice::Outlets, places),
            (Choice::All, cables),
        ] {
            of(&mut phone, choice);
            assert_eq!(on(&phone), name, "{kept}");
        }
    }
}

#[test]
fn one_outlet_one_cable_and_places_have_their_tags() {
    let mut phone = phone();
    let registry = phone.model.registry().expect("a job");
    let outlet = registry.outlets.iter().next().expect("an outlet").0;
    let cable = registry.cables.iter().next().expect("a cable").0;
    for (choice, count) in [
        (Choice::Outlet(outlet), 16),
        (Choice::Cable(cable), 4),
        (Choice::Outlets, 1),
        (Choice::Inserts, 1),
    ] {
        does(&mut phone, Action::Tags(TagAction::Of(choice)));
        assert_eq!(labels(&phone), count, "{choice:?}");
        assert_eq!(
            bothends::app::tags::choice(&phone.model),
            choice,
            "over a reload too"
        );
    }
    let effects = does(&mut phone, Action::Tags(TagAction::PenList));
    assert!(
        matches!(&effects[..], [Effect::SendText(text)] if text.starts_with("Write each code"))
    );
}

/// What the file is called that comes of a choice.
fn called(phone: &mut Phone, choice: Choice, what: Paper) -> String {
    does(phone, Action::Tags(TagAction::Of(choice)));
    let effects = does(phone, Action::Tags(TagAction::Make(what)));
    let name = effects.into_iter().find_map(|effect| match effect {
        Effect::HandOut { name, .. } => Some(name),
        _ => None,
    });
    name.expect("a file")
}

#[test]
fn a_file_says_its_job_what_it_is_of_and_the_day() {
    let mut phone = phone();
    let registry = phone.model.registry().expect("a job");
    let cable = registry.cables.iter().next().expect("a cable").0;
    let room = registry.rooms.iter().next().expect("a room").0;
    for (choice, what, name) in [
        (Choice::Room(room), Paper::Texts, "room-kit-1970-01-01.csv"),
        (
            Choice::Cable(cable),
            Paper::Png,
            "cable-kit1-a-1970-01-01.png",
        ),
        (Choice::Inserts, Paper::Pdf, "inserts-1970-01-01.pdf"),
    ] {
        let name = ["marrowby-mill-tags-", name].concat();
        assert_eq!(called(&mut phone, choice, what), name);
    }
    // One dash between words, whatever else stands there.
    let job = phone.model.open.as_ref().expect("a job");
    assert_eq!(
        job.file_name(&["", "Küche / 2 ", "\u{202E}x"], "pdf"),
        "marrowby-mill-küche-2-x.pdf"
    );
}

#[test]
fn what_was_chosen_in_one_job_is_not_chosen_in_another() {
    let mut phone = phone();
    does(&mut phone, Action::Tags(TagAction::Of(Choice::Inserts)));
    phone.types(Field::TagsStart, "7");
    does(&mut phone, Action::Tags(TagAction::Make(Paper::Pdf)));
    phone.acts(Action::Tags(TagAction::Make(Paper::Pdf)));
    let other = JobId(Bits80([9; 10]));
    let effects = phone.acts(Action::OpenJob(other));
    assert!(effects.contains(&Effect::GiveUpPapers), "{effects:?}");
    assert_eq!(choice(&phone.model), Choice::ToPull);
    assert_eq!(phone.field(Field::TagsStart), "");
    assert!(phone.model.tags.made.is_none() && phone.model.tags.making.is_none());
    // Whoever loads the page again finds what was chosen.
    let mut phone = self::phone();
    does(&mut phone, Action::Tags(TagAction::Of(Choice::Inserts)));
    phone.reloads();
    assert_eq!(choice(&phone.model), Choice::Inserts);
}

#[test]
fn a_wrong_distance_from_port_to_port_is_refused_in_words() {
    let mut phone = phone();
    does(&mut phone, Action::Tags(TagAction::Of(Choice::Strips)));
    let action = Action::Typed {
        field: Field::TagsPitch,
        text: "0.5".to_owned(),
    };
    does(&mut phone, action);
    let look = phone.model.tags.look.as_ref().expect("said");
    let refused = look.as_ref().expect("words").refused.clone();
    assert_eq!(
        refused.as_deref(),
        Some(
            "“0.5” is no distance from port to port. Write millimetres from 1 to 100, or leave the field empty."
        )
    );
}
