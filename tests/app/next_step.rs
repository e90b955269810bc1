//! A job from nothing: each screen leads to what comes next.

use bothends::app::mend::walls;
use bothends::app::plan::PlanForm;
use bothends::app::{Action, Effect, Field, Form, Screen};
use bothends::command::Want;
use bothends::domain::ids::CableId;
use bothends::domain::place::{End, Side};
use bothends::domain::work::MarkKind;
use bothends::query::wall;
use bothends::ui;
use bothends::view::Node;

use super::phone::Phone;

/// The words of the main buttons and those of the others, as they are drawn.
fn buttons(phone: &Phone) -> (Vec<String>, Vec<String>) {
    let (mut main, mut others) = (Vec::new(), Vec::new());
    ui::draw(&phone.model).each(&mut |element| {
        let words = element.inside.iter().filter_map(|node| match node {
            Node::Text(words) => Some(words.as_ref()),
            _ => None,
        });
        let words: String = words.collect();
        match element.attribute("class") {
            Some("button main") => main.push(words),
            Some("button") => others.push(words),
            _ => {}
        }
    });
    (main, others)
}

fn first_cable(phone: &Phone) -> CableId {
    let registry = phone.model.registry().expect("a job");
    registry.cables.iter().next().expect("a cable").0
}

#[test]
fn the_form_of_the_panels_has_the_focus_once_there_is_a_rack() {
    let mut phone = Phone::new();
    phone.acts(Action::Go(Screen::Racks));
    let adds = Action::Submit(Form::Plan(PlanForm::AddRack));
    phone.types(Field::RackName, "Main rack");
    phone.types(Field::RackSpace, "no space");
    let stays = Effect::FocusField(Field::RackSpace);
    assert_eq!(phone.acts(adds.clone()), [stays], "refused");
    phone.types(Field::RackSpace, "");
    let effects = phone.acts(adds);
    let panels = Effect::FocusField(Field::PanelConnector);
    assert_eq!(effects.last(), Some(&panels));
}

#[test]
fn the_rooms_lead_to_the_wall_until_each_has_an_outlet() {
    let mut phone = Phone::new();
    phone.acts(Action::Go(Screen::Rooms));
    assert!(buttons(&phone).0.is_empty());
    let kitchen = phone.room("Kitchen");
    let studio = phone.room("Studio");
    phone.acts(Action::Go(Screen::Rooms));
    assert_eq!(buttons(&phone).0, ["Add the outlets of KIT"]);
    phone.outlet(kitchen, "tv");
    phone.acts(Action::Go(Screen::Rooms));
    assert_eq!(buttons(&phone).0, ["Add the outlets of STU"]);
    phone.outlet(studio, "tv");
    phone.acts(Action::Go(Screen::Rooms));
    assert!(buttons(&phone).0.is_empty());
}

#[test]
fn where_no_rack_is_the_way_to_one_comes_first() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    phone.outlet(kitchen, "tv");
    phone.acts(Action::Go(Screen::Rack));
    let (main, others) = buttons(&phone);
    assert_eq!(
        (main, others),
        (
            vec!["Add a rack".to_owned()],
            vec!["Cable in hand".to_owned()]
        )
    );
    let cable = first_cable(&phone);
    phone.acts(Action::Go(Screen::HandCable(cable)));
    assert!(buttons(&phone).1.contains(&"Add a rack".to_owned()));
    phone.acts(Action::Go(Screen::Racks));
    phone.types(Field::RackName, "Main rack");
    phone.acts(Action::Submit(Form::Plan(PlanForm::AddRack)));
    phone.acts(Action::Go(Screen::Rack));
    assert_eq!(buttons(&phone).0, ["Add a panel"]);
    phone.acts(Action::Go(Screen::HandCable(cable)));
    assert!(buttons(&phone).1.contains(&"Add a panel".to_owned()));
    phone.acts(Action::Go(Screen::Racks));
    phone.acts(Action::Submit(Form::Plan(PlanForm::AddPanel)));
    phone.acts(Action::Go(Screen::Rack));
    assert_eq!(buttons(&phone).0, ["Cable in hand"]);
}

#[test]
fn printed_tags_are_not_on_until_somebody_says_so() {
    let mut phone = Phone::new();
    let kitchen = phone.room("Kitchen");
    let outlet = phone.outlet(kitchen, "tv");
    let marks = |phone: &Phone, kind| {
        let registry = phone.model.registry().expect("a job");
        let cables = registry.cables.iter().map(|(cable, _)| cable);
        let ends = cables.flat_map(|cable| Side::BOTH.map(|side| End::whole(cable, side)));
        let want = Want::MarkEnds {
            ends: ends.collect(),
            kind,
            copies: 2,
        };
        Action::Do { want, then: None }
    };
    let printed = marks(&phone, MarkKind::Printed);
    phone.acts(printed);
    phone.acts(Action::Go(Screen::Outlet(outlet)));
    assert_eq!(buttons(&phone).0, ["The printed tags are on (4)"]);
    let registry = phone.model.registry().expect("a job");
    assert_eq!(
        wall::next_outlet(registry, None).map(|next| next.outlet),
        Some(outlet)
    );
    let fixed = marks(&phone, MarkKind::Fixed);
    phone.acts(fixed);
    assert_eq!(buttons(&phone).0, ["All marked. To the rooms"]);
}

#[test]
fn one_is_told_as_one_and_several_as_several() {
    let mut phone = Phone::new();
    let beside = |phone: &mut Phone, outlet| {
        let cable = phone.ends(outlet)[0].end.cable;
        phone.acts(Action::Go(Screen::Cable(cable)));
        super::scan::words(phone)
    };
    let why = |phone: &Phone| {
        let open = phone.model.open.as_ref().expect("a job");
        walls(open).expect("a room to cover").detail.join(" ")
    };
    let kitchen = phone.room("Kitchen");
    let contact = phone.outlet(kitchen, "contact");
    let told = beside(&mut phone, contact);
    assert!(told.contains("and 1 more that was done with it."), "{told}");
    let told = why(&phone);
    assert!(
        told.starts_with("Nobody has signed for its walls,"),
        "{told}"
    );
    let studio = phone.room("Studio");
    let data = phone.outlet(studio, "data");
    let told = beside(&mut phone, data);
    assert!(
        told.contains("and 2 more that were done with it."),
        "{told}"
    );
    let told = why(&phone);
    assert!(
        told.starts_with("Nobody has signed for their walls,"),
        "{told}"
    );
}
