//! What people say of an outlet at rough-in: its slack, whom it waits for, its change order; and
//! outlets merged and split.

use bothends::app::wall::{WallForm, WallPart, is_chosen, open_part};
use bothends::app::{Action, Effect, Field, FindForm, Form, Notice, Screen};
use bothends::command::Want;
use bothends::domain::ids::OutletId;
use bothends::domain::length::{LengthUnit, Millimetres};
use bothends::domain::work::{Slack, WaitsFor};
use bothends::query::cable;
use bothends::query::wall::{self, OutletStanding, OutletView};

use super::phone::Phone;

/// A phone with a data outlet of two cables in the kitchen, its screen open.
fn at_outlet() -> (Phone, OutletId) {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "data");
    (phone, outlet)
}

fn seen(phone: &Phone, outlet: OutletId) -> OutletView {
    wall::outlet(phone.model.registry().expect("a job"), outlet).expect("an outlet")
}

fn opens(phone: &mut Phone, outlet: OutletId, part: WallPart) {
    phone.sends(WallForm::OpenPart { outlet, part });
    assert_eq!(open_part(&phone.model), Some(part));
}

/// Takes back what was done last; the bar said so in these words.
fn undoes(phone: &mut Phone, words: &str) {
    let Some(Notice::Done {
        words: said, act, ..
    }) = phone.model.notice.clone()
    else {
        panic!("nothing to undo: {:?}", phone.model.notice);
    };
    assert_eq!(said, words);
    let want = Want::Undo { act };
    phone.acts(Action::Do { want, then: None });
}

#[test]
fn slack_is_a_length_or_a_place_and_opens_as_it_is_known() {
    let (mut phone, outlet) = at_outlet();
    let form = WallForm::Slack(outlet);
    opens(&mut phone, outlet, WallPart::Slack);
    assert_eq!(phone.sends(form), []);
    assert!(phone.refusal().contains("Type how much"));
    phone.types(Field::SlackLength, "some");
    phone.types(Field::SlackPlace, "in the box");
    let leads = Effect::FocusField(Field::SlackLength);
    assert_eq!(phone.sends(form), [leads]);
    assert_eq!(
        phone.refusal(),
        "Slack: “some” is no length. Write it like 18 in, 4' 6\" or 1.2 m."
    );
    assert_eq!(phone.field(Field::SlackLength), "some");
    assert_eq!(phone.field(Field::SlackPlace), "in the box");
    assert_eq!(open_part(&phone.model), Some(WallPart::Slack));
    // A bare number is inches while feet are in use, and metres while metres are.
    phone.types(Field::SlackLength, "18");
    phone.sends(form);
    let slack = |length| {
        let place = "in the box".to_owned();
        Some(Slack { length, place })
    };
    assert_eq!(seen(&phone, outlet).slack, slack(Some(Millimetres(457))));
    assert_eq!(open_part(&phone.model), None);
    phone.acts(Action::SetUnit(LengthUnit::Metres));
    opens(&mut phone, outlet, WallPart::Slack);
    assert_eq!(phone.field(Field::SlackPlace), "in the box");
    phone.types(Field::SlackLength, "1.2");
    phone.sends(form);
    assert_eq!(seen(&phone, outlet).slack, slack(Some(Millimetres(1200))));
    undoes(&mut phone, "The slack at KIT1 is kept.");
    assert_eq!(seen(&phone, outlet).slack, slack(Some(Millimetres(457))));
    opens(&mut phone, outlet, WallPart::Slack);
    phone.types(Field::SlackLength, "");
    phone.sends(form);
    assert_eq!(seen(&phone, outlet).slack, slack(None));
}

#[test]
fn an_outlet_waits_with_its_question_until_it_waits_for_nobody() {
    let (mut phone, outlet) = at_outlet();
    let waits = |whom| WallForm::Waits { outlet, whom };
    let said = |phone: &Phone| seen(phone, outlet).waits.map(|waits| waits.to_string());
    opens(&mut phone, outlet, WallPart::Waits);
    for whom in [WaitsFor::Builder, WaitsFor::Client] {
        let leads = Effect::FocusField(Field::Question);
        assert_eq!(phone.sends(waits(whom)), [leads]);
        assert_eq!(
            phone.refusal(),
            "Type the question first, then tap who is to answer."
        );
    }
    assert_eq!(phone.sends(waits(WaitsFor::Nobody)), []);
    assert!(phone.refusal().contains("it is so already"));
    phone.sends(waits(WaitsFor::Hold));
    assert_eq!(said(&phone).as_deref(), Some("on hold"));
    opens(&mut phone, outlet, WallPart::Waits);
    phone.types(Field::Question, " Left or right of the stove? ");
    phone.sends(waits(WaitsFor::Client));
    let asked = "question for the client: Left or right of the stove?";
    assert_eq!(said(&phone).as_deref(), Some(asked));
    // Its room says so too.
    let registry = phone.model.registry().expect("a job");
    let room = seen(&phone, outlet).room.expect("a room");
    let line = &wall::room(registry, room).expect("the room").outlets[0];
    assert_eq!(line.waits, seen(&phone, outlet).waits);
    // The question stays when somebody else is to answer it, and goes with the waiting.
    opens(&mut phone, outlet, WallPart::Waits);
    assert_eq!(phone.field(Field::Question), "Left or right of the stove?");
    phone.sends(waits(WaitsFor::Builder));
    let asked = "question for the builder: Left or right of the stove?";
    assert_eq!(said(&phone).as_deref(), Some(asked));
    opens(&mut phone, outlet, WallPart::Waits);
    phone.sends(waits(WaitsFor::Nobody));
    assert_eq!(said(&phone), None);
    undoes(&mut phone, "KIT1: waits for nobody.");
    assert_eq!(said(&phone).as_deref(), Some(asked));
}

#[test]
fn an_outlet_or_one_of_its_cables_came_with_a_change_order() {
    let (mut phone, outlet) = at_outlet();
    let cables = [0, 1].map(|at: usize| phone.ends(outlet)[at].end.cable);
    let orders = |phone: &Phone| {
        let open = phone.model.open.as_ref().expect("a job");
        cables.map(|id| cable::view(&open.journal, id).expect("a cable").order)
    };
    opens(&mut phone, outlet, WallPart::Order);
    assert_eq!(phone.sends(WallForm::Order(outlet)), []);
    assert!(phone.refusal().contains("it is so already"));
    phone.types(Field::ChangeOrder, " CO 7 ");
    phone.sends(WallForm::Order(outlet));
    assert_eq!(seen(&phone, outlet).order, "CO 7");
    assert_eq!(orders(&phone), ["CO 7", "CO 7"]);
    // One cable of it came later; the form does not show the order of the outlet as its own.
    phone.sends(WallForm::OpenRow(cables[1]));
    opens(&mut phone, outlet, WallPart::OrderCable);
    assert_eq!(phone.field(Field::ChangeOrder), "");
    phone.types(Field::ChangeOrder, "CO 12");
    phone.sends(WallForm::OrderCable(cables[1]));
    assert_eq!(orders(&phone), ["CO 7", "CO 12"]);
    assert_eq!(phone.ends(outlet)[1].order, "CO 12");
    opens(&mut phone, outlet, WallPart::OrderCable);
    assert_eq!(phone.field(Field::ChangeOrder), "CO 12");
    undoes(&mut phone, "KIT1-B came with change order CO 12.");
    assert_eq!(orders(&phone), ["CO 7", "CO 7"]);
    // An empty number takes the order off.
    opens(&mut phone, outlet, WallPart::Order);
    assert_eq!(phone.field(Field::ChangeOrder), "CO 7");
    phone.types(Field::ChangeOrder, "");
    phone.sends(WallForm::Order(outlet));
    assert_eq!(orders(&phone), ["", ""]);
    undoes(&mut phone, "KIT1 came with no change order.");
    assert_eq!(seen(&phone, outlet).order, "CO 7");
}

/// The codes of the cables of each outlet in its room.
fn codes(phone: &Phone, outlet: OutletId) -> Vec<Vec<String>> {
    let registry = phone.model.registry().expect("a job");
    let room = seen(phone, outlet).room.expect("a room");
    let outlets = wall::room(registry, room).expect("the room").outlets;
    let ends = outlets.into_iter().map(|line| line.ends.into_iter());
    ends.map(|ends| ends.map(|end| end.code).collect())
        .collect()
}

#[test]
fn some_cables_of_an_outlet_are_chosen_and_split_off() {
    let (mut phone, outlet) = at_outlet();
    let split = WallForm::SplitOff(outlet);
    let [first, second] = [0, 1].map(|at: usize| phone.ends(outlet)[at].end.cable);
    opens(&mut phone, outlet, WallPart::SplitOff);
    assert_eq!(phone.sends(split), []);
    assert!(phone.refusal().starts_with("Choose some of its cables"));
    for cable in [first, second] {
        phone.sends(WallForm::ChooseSplit(cable));
        assert!(is_chosen(&phone.model, cable));
    }
    assert_eq!(phone.sends(split), []);
    assert!(phone.refusal().contains("but not all"));
    assert!(is_chosen(&phone.model, second), "what was chosen stays");
    phone.sends(WallForm::ChooseSplit(first));
    assert!(!is_chosen(&phone.model, first));
    phone.sends(split);
    assert!(!is_chosen(&phone.model, second));
    assert_eq!(codes(&phone, outlet), [["KIT1-A"], ["KIT2-B"]]);
    undoes(
        &mut phone,
        "1 cable given an outlet of its own. Its number is on the list of the room.",
    );
    assert_eq!(codes(&phone, outlet), [["KIT1-A", "KIT1-B"]]);
}

#[test]
fn what_was_chosen_at_one_outlet_is_not_split_off_another() {
    let (mut phone, outlet) = at_outlet();
    let room = seen(&phone, outlet).room.expect("a room");
    let cable = phone.ends(outlet)[0].end.cable;
    phone.sends(WallForm::ChooseSplit(cable));
    let other = phone.outlet(room, "data");
    assert_eq!(phone.sends(WallForm::SplitOff(other)), []);
    assert!(phone.refusal().starts_with("Choose some of its cables"));
}

#[test]
fn an_outlet_is_merged_with_another_which_is_then_shown() {
    let (mut phone, from) = at_outlet();
    let room = seen(&phone, from).room.expect("a room");
    let into = phone.outlet(room, "camera");
    let hall = phone.room("Hall");
    let far = phone.outlet(hall, "data");
    let registry = phone.model.registry().expect("a job");
    let targets = wall::targets(registry, from);
    let targets: Vec<_> = targets.iter().map(|target| target.id).collect();
    assert_eq!(targets, [into, far], "those of the same room first");
    let want = Want::MergeOutlets { from, into };
    let then = Some(Screen::Outlet(into));
    phone.acts(Action::Do { want, then });
    assert_eq!(phone.model.screen(), then);
    assert_eq!(seen(&phone, from).standing, OutletStanding::Cancelled);
    assert_eq!(codes(&phone, into), [["KIT2-A", "KIT2-B", "KIT2-C"]]);
    undoes(&mut phone, "The cables belong to KIT2 now.");
    assert_eq!(
        codes(&phone, into),
        [vec!["KIT1-A", "KIT1-B"], vec!["KIT2-A"]]
    );
}

#[test]
fn a_cable_was_drawn_from_another_box_than_recorded() {
    let (mut phone, outlet) = at_outlet();
    let cable = phone.ends(outlet)[0].end.cable;
    let form = WallForm::DrawnFrom(cable);
    let drawn = |phone: &Phone| phone.ends(outlet)[0].drawn_from;
    phone.sends(WallForm::OpenRow(cable));
    opens(&mut phone, outlet, WallPart::DrawnFrom);
    for typed in ["", "the red one", "7a", "-1", "70000"] {
        phone.types(Field::CableFrom, typed);
        let leads = Effect::FocusField(Field::CableFrom);
        assert_eq!(phone.sends(form), [leads]);
        let words = format!("“{typed}” is no number of a box. Type the whole number");
        assert!(phone.refusal().starts_with(&words), "{}", phone.refusal());
        assert_eq!(phone.field(Field::CableFrom), typed);
    }
    phone.types(Field::CableFrom, " 7 ");
    phone.sends(form);
    assert_eq!(drawn(&phone), Some(7));
    opens(&mut phone, outlet, WallPart::DrawnFrom);
    assert_eq!(phone.field(Field::CableFrom), "7");
    assert_eq!(phone.sends(form), []);
    assert!(phone.refusal().contains("it is so already"));
    phone.types(Field::CableFrom, "8");
    phone.sends(form);
    assert_eq!(drawn(&phone), Some(8));
    undoes(&mut phone, "KIT1-A is drawn from box 8.");
    assert_eq!(drawn(&phone), Some(7));
}

#[test]
fn what_is_noted_of_a_loose_end_can_be_changed() {
    let mut phone = Phone::new();
    phone.acts(Action::Go(Screen::Loose));
    let sends = |phone: &mut Phone, form| phone.acts(Action::Submit(Form::Find(form)));
    phone.types(Field::LoosePlace, "Attic");
    phone.types(Field::LooseNote, "blue tape");
    sends(&mut phone, FindForm::AddLoose);
    let ends = &phone.model.registry().expect("a job").loose_ends;
    let loose = ends.iter().next().expect("a loose end").0;
    sends(&mut phone, FindForm::EditLoose(loose));
    assert_eq!(phone.field(Field::LoosePlace), "Attic");
    phone.types(Field::LoosePlace, "Attic, north gable");
    sends(&mut phone, FindForm::DescribeLoose(loose));
    let registry = phone.model.registry().expect("a job");
    let row = registry.loose_ends.get(loose).expect("a loose end");
    let found = row.found.get().expect("what is noted");
    assert_eq!(
        (found.place.as_str(), found.note.as_str()),
        ("Attic, north gable", "blue tape")
    );
    assert_eq!(phone.field(Field::LoosePlace), "");
    for expected in ["Attic, north gable", ""] {
        sends(&mut phone, FindForm::EditLoose(loose));
        assert_eq!(phone.field(Field::LoosePlace), expected);
    }
}
