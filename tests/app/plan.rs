//! The forms of planning: what was typed becomes rooms, types and racks, or a sentence, and nothing
//! is lost.

use bothends::app::plan::{
    NOWHERE, PlanForm, Planned, TypeStart, changed_type, is_open, listed_cables,
};
use bothends::app::{
    Action, Effect, Field, Form, Model, Notice, OpenJob, Route, Screen, TakeOut, update,
};
use bothends::command::Want;
use bothends::domain::ids::{Bits80, JobId, WriterId};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::outlet_type::{OutletKind, UsualType};
use bothends::domain::work::JointKind;
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry, WallTime};
use bothends::query::plan::{self, FirstStep, first_step};
use bothends::query::rack::SlotState;
use bothends::ui;
use bothends::view::Node;

use crate::mill::Mill;
use crate::support::still::Still;

/// Conduits: added, opened in their list, and cables put into them.
mod conduits;

/// The app with a job open at one of the screens of planning.
struct Bench {
    model: Model,
    world: Still,
}

impl Bench {
    fn open(mill: Mill, screen: Screen) -> Self {
        let job = mill.journal.job();
        let model = Model {
            open: Some(OpenJob::new(mill.journal)),
            route: Route::Job { job, screen },
            ..Model::default()
        };
        Self {
            model,
            world: Still::at(WallTime(1_772_409_600_000), 9),
        }
    }

    fn lets(&mut self, action: Action) -> Vec<Effect> {
        update(&mut self.model, action, &self.world)
    }

    fn types(&mut self, field: Field, text: &str) {
        let text = text.to_owned();
        self.lets(Action::Typed { field, text });
    }

    /// Sends a form, and gives what the bar says then.
    fn sends(&mut self, form: PlanForm) -> String {
        self.lets(Action::Submit(Form::Plan(form)));
        match &self.model.notice {
            None => String::new(),
            Some(
                Notice::Done { words, .. } | Notice::Told(words) | Notice::Asked { words, .. },
            ) => words.clone(),
            Some(Notice::Refused(refusal)) => format!("refused: {}", refusal.words),
            Some(Notice::Trouble(trouble)) => format!("trouble: {trouble}"),
        }
    }

    fn field(&self, field: Field) -> &str {
        self.model.fields.get(field)
    }

    fn registry(&self) -> &Registry {
        self.model.registry().expect("a job")
    }

    /// What a list on the screen offers.
    fn options(&self, field: Field) -> Vec<String> {
        let (id, mut options) = (ui::field_id(field), Vec::new());
        ui::draw(&self.model).each(&mut |element| {
            if element.tag == "select" && element.attribute("id") == Some(&id) {
                element.inside.iter().for_each(|node| {
                    node.each(&mut |option| options.extend(option.inside.iter().map(words)));
                });
            }
        });
        options
    }

    /// The codes of the rooms in walking order.
    fn walk(&self) -> Vec<String> {
        let rooms = plan::rooms(self.registry()).into_iter();
        rooms.map(|room| room.code).collect()
    }
}

fn words(node: &Node<Action>) -> String {
    match node {
        Node::Text(words) => words.to_string(),
        Node::Nothing | Node::Element(_) => String::new(),
        Node::Several(nodes) => nodes.iter().map(words).collect(),
    }
}

#[test]
fn a_room_gets_its_code_from_its_name_and_its_unit() {
    let mut bench = Bench::open(Mill::new(), Screen::Rooms);
    bench.types(Field::UnitName, "Flat A");
    assert_eq!(bench.sends(PlanForm::AddUnit), "Flat A is added.");
    bench.types(Field::FloorName, "Upper floor");
    bench.types(Field::FloorNumber, "two");
    let words = bench.sends(PlanForm::AddFloor);
    assert!(
        words.starts_with("refused: “two” is not a floor number"),
        "{words}"
    );
    assert_eq!(
        bench.field(Field::FloorName),
        "Upper floor",
        "nothing is lost"
    );
    bench.types(Field::FloorNumber, "2");
    assert_eq!(bench.sends(PlanForm::AddFloor), "Upper floor is added.");

    let unit = plan::units(bench.registry())[0].id;
    let floor = plan::floors(bench.registry())[0].id;
    bench.types(Field::RoomName, "Loft");
    let alone = bench.field(Field::RoomCode).to_owned();
    bench.types(Field::RoomUnit, &unit.0.to_string());
    bench.types(Field::RoomFloor, &floor.0.to_string());
    let code = bench.field(Field::RoomCode).to_owned();
    assert_ne!(code, alone, "the letter of the flat stands in front");
    assert!(code.starts_with('A'), "{code}");
    bench.types(Field::RoomCode, "");
    assert_eq!(
        bench.sends(PlanForm::AddRoom),
        format!("Loft is added as {code}.")
    );
    let rooms = plan::rooms(bench.registry());
    let loft = rooms
        .iter()
        .find(|room| room.code == code)
        .expect("the loft");
    assert_eq!((loft.floor, loft.unit), (Some(floor), Some(unit)));
    assert_eq!(bench.field(Field::RoomName), "");

    // A floor chosen as none is none, although the last room has one.
    bench.types(Field::RoomName, "Yard");
    bench.types(Field::RoomFloor, NOWHERE);
    bench.types(Field::RoomUnit, NOWHERE);
    bench.types(Field::RoomCode, "yrd");
    assert_eq!(bench.sends(PlanForm::AddRoom), "Yard is added as YRD.");
    let rooms = plan::rooms(bench.registry());
    let yard = rooms
        .iter()
        .find(|room| room.code == "YRD")
        .expect("the yard");
    assert_eq!((yard.floor, yard.unit), (None, None));

    bench.types(Field::RoomName, " yard");
    bench.types(Field::RoomCode, "yard");
    let words = "yard is added as YARD. There is another room of this name here: YRD.";
    assert_eq!(bench.sends(PlanForm::AddRoom), words);

    bench.types(Field::RoomName, "Court");
    bench.types(Field::RoomCode, "crt");
    bench.sends(PlanForm::AddRoom);
    let rooms = plan::rooms(bench.registry());
    let court = rooms.iter().find(|room| room.code == "CRT");
    let thing = Planned::Room(court.expect("the court").room);
    bench.sends(PlanForm::Open(thing));
    bench.types(Field::EditName, "YARD");
    let said = bench.sends(PlanForm::Rename(thing));
    assert!(
        said.starts_with("It is called YARD now. There is another room of this name here: Y"),
        "{said}"
    );
}

#[test]
fn a_room_is_renamed_recoded_and_put_on_a_floor() {
    let mill = Mill::new();
    let kitchen = mill.room_id("KIT");
    let thing = Planned::Room(kitchen);
    let mut bench = Bench::open(mill, Screen::Rooms);
    bench.sends(PlanForm::Open(thing));
    assert!(is_open(&bench.model, thing));
    assert_eq!(bench.field(Field::EditName), "Kitchen");
    assert_eq!(bench.field(Field::EditCode), "KIT");
    bench.types(Field::EditCode, "kits");
    let words = bench.sends(PlanForm::Recode(thing));
    assert!(
        words.starts_with("refused: The code KITS belongs to Kitchen store")
            && bench.model.wrong == Some(Field::EditCode),
        "{words}"
    );
    assert_eq!(bench.field(Field::EditCode), "kits");
    bench.types(Field::EditCode, "cook");
    assert_eq!(
        bench.sends(PlanForm::Recode(thing)),
        "Kitchen has the code COOK."
    );
    assert!(!is_open(&bench.model, thing));
    assert_eq!(bench.walk(), ["COOK", "KITS"]);

    bench.sends(PlanForm::Open(thing));
    bench.types(Field::EditName, "Cook house");
    bench.sends(PlanForm::Rename(thing));
    assert_eq!(plan::rooms(bench.registry())[0].name, "Cook house");

    bench.types(Field::FloorName, "Ground floor");
    bench.sends(PlanForm::AddFloor);
    let floor = plan::floors(bench.registry())[0].id;
    bench.sends(PlanForm::Open(thing));
    let words = bench.sends(PlanForm::PutRoom(kitchen));
    assert!(
        words.starts_with("refused: Choose another floor"),
        "{words}"
    );
    bench.types(Field::EditFloor, &floor.0.to_string());
    bench.sends(PlanForm::PutRoom(kitchen));
    assert_eq!(plan::rooms(bench.registry())[0].floor, Some(floor));

    // None is on the list, and is what the field then holds.
    bench.sends(PlanForm::Open(thing));
    let options = bench.options(Field::EditFloor);
    assert_eq!(options, ["On no floor", "Ground floor"]);
    bench.types(Field::EditFloor, "");
    bench.sends(PlanForm::PutRoom(kitchen));
    assert_eq!(plan::rooms(bench.registry())[0].floor, None);
}

#[test]
fn a_floor_is_renamed_and_numbered_in_one_form() {
    let mut bench = Bench::open(Mill::new(), Screen::Rooms);
    for (name, number) in [("Ground floor", "0"), ("Loft", "")] {
        bench.types(Field::FloorName, name);
        bench.types(Field::FloorNumber, number);
        bench.sends(PlanForm::AddFloor);
    }
    let floors = plan::floors(bench.registry());
    let loft = Planned::Floor(floors[1].id);
    bench.sends(PlanForm::Open(loft));
    assert_eq!(bench.field(Field::EditCode), "");
    bench.types(Field::EditCode, "0");
    let words = bench.sends(PlanForm::Rename(loft));
    assert!(
        words.starts_with("refused: Floor number 0 is Ground floor already"),
        "{words}"
    );
    bench.types(Field::EditCode, "top");
    let words = bench.sends(PlanForm::Rename(loft));
    assert!(
        words.starts_with("refused: “top” is not a floor number"),
        "{words}"
    );
    assert_eq!(bench.field(Field::EditCode), "top", "nothing is lost");
    bench.types(Field::EditCode, "2");
    bench.types(Field::EditName, "Top floor");
    assert_eq!(
        bench.sends(PlanForm::Rename(loft)),
        "It is called Top floor now."
    );
    let floor = &plan::floors(bench.registry())[1];
    assert_eq!((floor.name.as_str(), floor.number), ("Top floor", Some(2)));
    bench.sends(PlanForm::Open(loft));
    assert_eq!(bench.field(Field::EditCode), "2");
}

#[test]
fn a_panel_is_placed_and_given_a_purpose_in_one_form() {
    let mill = Mill::new();
    let panel = mill.panel_id("B");
    let thing = Planned::Panel(panel);
    let mut bench = Bench::open(mill, Screen::Racks);
    bench.types(Field::RackName, "Loft rack");
    bench.types(Field::RackSpace, "2A");
    bench.sends(PlanForm::AddRack);
    bench.sends(PlanForm::ShowPanel(panel));
    assert_eq!(bench.field(Field::EditRackUnit), "20");
    let racks = bench.options(Field::EditRack);
    assert_eq!(racks, ["1A Main rack", "2A Loft rack"]);
    bench.types(Field::EditRackUnit, "18");
    let words = bench.sends(PlanForm::Rename(thing));
    assert!(
        words.starts_with("refused: Panel C is at rack unit 18 of Main rack"),
        "{words}"
    );
    bench.types(Field::EditRackUnit, "low");
    let words = bench.sends(PlanForm::Rename(thing));
    assert!(
        words.starts_with("refused: “low” is not a rack unit"),
        "{words}"
    );
    let loft = plan::racks(bench.registry())[1].rack.expect("a rack");
    bench.types(Field::EditRack, &loft.0.to_string());
    bench.types(Field::EditRackUnit, "");
    bench.types(Field::EditName, "The flats");
    assert_eq!(bench.sends(PlanForm::Rename(thing)), "Kept for Panel B.");
    let placed = plan::racks(bench.registry())[1].panels[0].clone();
    assert_eq!(
        (placed.panel, placed.unit, placed.purpose.as_str()),
        (panel, None, "The flats")
    );
}

#[test]
fn the_address_on_tags_is_typed_where_the_job_is_named() {
    let mut bench = Bench::open(Mill::new(), Screen::Job);
    bench.sends(PlanForm::Open(Planned::Job));
    assert_eq!(bench.field(Field::EditCode), "");
    bench.types(Field::EditCode, "registry.example");
    let words = bench.sends(PlanForm::Recode(Planned::Job));
    assert!(
        words.starts_with("refused: This is not a web address"),
        "{words}"
    );
    assert_eq!(bench.field(Field::EditCode), "registry.example");
    bench.types(Field::EditCode, "https://registry.example");
    assert_eq!(
        bench.sends(PlanForm::Recode(Planned::Job)),
        "Tags begin with HTTPS://REGISTRY.EXAMPLE."
    );
    bench.sends(PlanForm::Open(Planned::Job));
    assert_eq!(bench.field(Field::EditCode), "HTTPS://REGISTRY.EXAMPLE/");
    bench.types(Field::EditCode, "");
    let words = bench.sends(PlanForm::Recode(Planned::Job));
    assert_eq!(words, "Tags have no address before their text.");
}

#[test]
fn a_floor_is_on_a_sheet_of_the_plans() {
    let mut bench = Bench::open(Mill::new(), Screen::Rooms);
    bench.types(Field::FloorName, "Upper floor");
    bench.sends(PlanForm::AddFloor);
    let sheet = |bench: &Bench| plan::floors(bench.registry())[0].sheet.clone();
    let floor = plan::floors(bench.registry())[0].id;
    let thing = Planned::Floor(floor);
    bench.sends(PlanForm::Open(thing));
    let words = bench.sends(PlanForm::PutFloor(floor));
    assert!(words.contains("it is so already"), "{words}");
    assert!(is_open(&bench.model, thing));
    bench.types(Field::FloorSheet, " E2.1b ");
    assert_eq!(
        bench.sends(PlanForm::PutFloor(floor)),
        "Sheet E2.1b is kept."
    );
    assert_eq!(sheet(&bench), "E2.1b");
    assert!(!is_open(&bench.model, thing));
    bench.sends(PlanForm::Open(thing));
    assert_eq!(bench.field(Field::FloorSheet), "E2.1b");
    bench.types(Field::FloorSheet, "");
    assert_eq!(
        bench.sends(PlanForm::PutFloor(floor)),
        "No sheet shows this floor."
    );
    assert_eq!(sheet(&bench), "");
    let Some(Notice::Done { act, .. }) = bench.model.notice else {
        panic!("{:?}", bench.model.notice);
    };
    let want = Want::Undo { act };
    bench.lets(Action::Do { want, then: None });
    assert_eq!(sheet(&bench), "E2.1b");
}

#[test]
fn rooms_change_places_in_the_walk_with_one_undo() {
    let mut mill = Mill::new();
    mill.room("Pottery studio", "POT");
    let mut bench = Bench::open(mill, Screen::Rooms);
    assert_eq!(bench.walk(), ["KIT", "KITS", "POT"]);
    let rooms = plan::rooms(bench.registry());
    assert_eq!(rooms[0].earlier, None);
    assert_eq!(rooms[2].later, None);
    let want = Want::SwapRooms {
        one: rooms[2].room,
        other: rooms[2].earlier.expect("a neighbour"),
    };
    bench.lets(Action::Do { want, then: None });
    assert_eq!(bench.walk(), ["KIT", "POT", "KITS"]);
    let Some(Notice::Done { words, act, .. }) = bench.model.notice.clone() else {
        panic!("it is done");
    };
    assert_eq!(words, "Pottery studio and Kitchen store changed places.");
    let want = Want::Undo { act };
    bench.lets(Action::Do { want, then: None });
    assert_eq!(bench.walk(), ["KIT", "KITS", "POT"]);
}

#[test]
fn rooms_with_one_place_between_them_change_places_too() {
    let mut mill = Mill::new();
    let (one, other) = (mill.room_id("KIT"), mill.room_id("KITS"));
    for room in [one, other] {
        mill.does(&Want::OrderRoom { room, order: 7 });
    }
    let mut bench = Bench::open(mill, Screen::Rooms);
    assert_eq!(
        bench.walk(),
        ["KIT", "KITS"],
        "by code, as their places are alike"
    );
    let want = Want::SwapRooms { one, other };
    bench.lets(Action::Do { want, then: None });
    assert_eq!(bench.walk(), ["KITS", "KIT"]);
}

#[test]
fn an_own_type_is_made_cable_by_cable() {
    let mut bench = Bench::open(Mill::new(), Screen::Types);
    bench.types(Field::TypeName, "Potter's wheel");
    let words = bench.sends(PlanForm::SaveType);
    assert!(
        words.starts_with("refused: No cable is on the list"),
        "{words}"
    );
    bench.types(Field::CableMedium, "rg6");
    bench.types(Field::CablePurpose, "Coax");
    for (typed, refusal) in [
        ("o", "refused: “O” is not a cable letter"),
        ("de", "refused: “DE”"),
    ] {
        bench.types(Field::TypeLetter, typed);
        let words = bench.sends(PlanForm::ListCable);
        assert!(words.starts_with(refusal), "{words}");
        assert_eq!(bench.field(Field::CablePurpose), "Coax");
    }
    bench.types(Field::TypeLetter, "d");
    assert_eq!(bench.sends(PlanForm::ListCable), "");
    bench.types(Field::TypeLetter, "d");
    let words = bench.sends(PlanForm::ListCable);
    assert!(
        words.starts_with("refused: Another cable on this list has the letter D"),
        "{words}"
    );
    bench.types(Field::TypeLetter, "");
    bench.types(Field::CablePurpose, "Control");
    let words = bench.sends(PlanForm::SaveType);
    assert!(
        words.starts_with("refused: One more cable is begun"),
        "{words}"
    );
    bench.sends(PlanForm::ListCable);
    bench.types(Field::CablePurpose, "Too much");
    bench.sends(PlanForm::ListCable);
    bench.sends(PlanForm::DropCable { place: 2 });
    let listed = listed_cables(&bench.model.fields);
    assert_eq!(listed.len(), 2);
    assert_eq!(bench.sends(PlanForm::SaveType), "Potter's wheel is added.");
    let types = plan::types(bench.registry());
    assert_eq!(types[0].words, "Potter's wheel");
    assert_eq!(types[0].cables, listed);
    assert_eq!(
        Some(&types[0].cables[0].medium),
        Medium::from_key("rg6").as_ref()
    );
    assert_eq!(
        types[0].cables[0].letter.map(|letter| letter.get()),
        Some('D')
    );
    assert_eq!(types[0].cables[1].letter, None);
    assert!(listed_cables(&bench.model.fields).is_empty());

    // Its name and its cables are changed later.
    let OutletKind::Own(own) = types[0].kind else {
        panic!("one of the job's own comes first");
    };
    bench.sends(PlanForm::StartType(TypeStart::Own(own)));
    assert_eq!(changed_type(&bench.model), Some(own));
    assert_eq!(bench.field(Field::TypeName), "Potter's wheel");
    bench.types(Field::TypeName, "Wheel");
    bench.sends(PlanForm::DropCable { place: 0 });
    bench.sends(PlanForm::SaveType);
    let types = plan::types(bench.registry());
    assert_eq!(types[0].words, "Wheel");
    assert_eq!(types[0].cables, listed[1..]);
    assert_eq!(changed_type(&bench.model), None);
}

#[test]
fn a_list_that_is_not_saved_is_not_overwritten() {
    let mut bench = Bench::open(Mill::new(), Screen::Types);
    bench.sends(PlanForm::StartType(TypeStart::Usual("tv")));
    let tv = UsualType::get("tv").expect("a usual type").cables();
    assert_eq!(listed_cables(&bench.model.fields), tv);
    let words = bench.sends(PlanForm::StartType(TypeStart::Usual("data")));
    assert!(
        words.starts_with("refused: Another list of cables"),
        "{words}"
    );
    assert_eq!(listed_cables(&bench.model.fields), tv);
    bench.sends(PlanForm::LeaveType);
    bench.sends(PlanForm::StartType(TypeStart::Usual("data")));
    assert_eq!(listed_cables(&bench.model.fields).len(), 2);
}

#[test]
fn racks_and_panels_get_the_next_free_codes() {
    let mut bench = Bench::open(Mill::new(), Screen::Racks);
    bench.types(Field::RackName, "Studio rack");
    assert_eq!(bench.sends(PlanForm::AddRack), "Studio rack is added.");
    let racks = plan::racks(bench.registry());
    let spaces: Vec<&str> = racks.iter().map(|rack| rack.space.as_str()).collect();
    assert_eq!(spaces, ["1A", "1B"]);
    let studio = racks[1].rack.expect("a rack");
    bench.types(Field::RackName, "Loft rack");
    bench.types(Field::RackSpace, "A2");
    let words = bench.sends(PlanForm::AddRack);
    assert!(
        words.starts_with("refused: ") && words.contains("like 1A"),
        "{words}"
    );
    bench.types(Field::RackSpace, "2a");
    bench.sends(PlanForm::AddRack);
    assert_eq!(plan::racks(bench.registry())[2].space, "2A");

    bench.types(Field::PanelRack, &studio.0.to_string());
    bench.types(Field::PanelConnector, Connector::ShieldedModular.key());
    bench.types(Field::PanelSize, "97");
    let words = bench.sends(PlanForm::AddPanel);
    assert!(
        words.starts_with("refused: “97” is not a count of positions"),
        "{words}"
    );
    assert_eq!(bench.model.wrong, Some(Field::PanelSize));
    bench.types(Field::PanelSize, "48");
    bench.types(Field::PanelUnit, "12");
    // B, C and T hang in the main rack, so A and then D are free.
    assert_eq!(bench.sends(PlanForm::AddPanel), "Panel A is added.");
    bench.types(Field::PanelSize, "");
    assert_eq!(bench.sends(PlanForm::AddPanel), "Panel D is added.");
    bench.types(Field::PanelLetters, "b");
    let words = bench.sends(PlanForm::AddPanel);
    assert!(
        words.starts_with("refused: Panel B exists already"),
        "{words}"
    );
    assert_eq!(bench.field(Field::PanelLetters), "b");
    assert_eq!(bench.model.wrong, Some(Field::PanelLetters));
    bench.types(Field::PanelLetters, "");
    for unit in ["ninety", "0"] {
        bench.types(Field::PanelUnit, unit);
        bench.sends(PlanForm::AddPanel);
        assert_eq!(bench.model.wrong, Some(Field::PanelUnit), "{unit}");
    }
    bench.types(Field::PanelUnit, "");
    let panels = plan::racks(bench.registry())[1].panels.clone();
    let made: Vec<_> = panels
        .iter()
        .map(|panel| {
            let make = panel.make.expect("a make");
            (panel.letters.as_str(), make.positions.get(), panel.unit)
        })
        .collect();
    assert_eq!(made, [("A", 48, Some(12)), ("D", 24, None)]);

    let thing = Planned::Panel(panels[1].panel);
    bench.sends(PlanForm::Open(thing));
    bench.types(Field::EditCode, "e");
    bench.sends(PlanForm::Recode(thing));
    let racks = plan::racks(bench.registry());
    assert_eq!(racks[1].panels[1].letters, "E");
}

#[test]
fn ties_devices_and_joints_are_added() {
    let mill = Mill::new();
    let main = mill.rack_id("1A");
    let mut bench = Bench::open(mill, Screen::Racks);
    let words = bench.sends(PlanForm::AddTie);
    assert!(
        words.starts_with("refused: A tie line joins two racks. Add"),
        "{words}"
    );
    bench.types(Field::RackName, "Loft rack");
    bench.types(Field::RackSpace, "2A");
    bench.sends(PlanForm::AddRack);
    bench.types(Field::TieFar, &main.0.to_string());
    let words = bench.sends(PlanForm::AddTie);
    assert!(
        words.starts_with("refused: A tie line joins two racks. Choose"),
        "{words}"
    );
    // Where only the first rack was chosen, the second is the other one.
    bench.types(Field::TieFar, "");
    let loft = plan::racks(bench.registry())[1].rack.expect("a rack");
    bench.types(Field::TieNear, &loft.0.to_string());
    bench.types(Field::CableMedium, "fibre-12");
    assert_eq!(bench.sends(PlanForm::AddTie), "A tie line is added.");
    let ties = plan::ties(bench.registry());
    assert_eq!(ties.len(), 1);
    assert_eq!(ties[0].name, "Fibre 12");
    assert_eq!(ties[0].code, "2A/1A-1");

    assert!(
        bench
            .sends(PlanForm::AddDevice)
            .starts_with("refused: The name of the device")
    );
    bench.types(Field::DeviceLabel, "Amplifier 1");
    assert_eq!(bench.sends(PlanForm::AddDevice), "Amplifier 1 is added.");
    bench.types(Field::JointName, "Attic splitter");
    bench.types(Field::JointKind, "splitter");
    assert_eq!(bench.sends(PlanForm::AddJoint), "Attic splitter is added.");
    let joint = plan::joints(bench.registry())[0].clone();
    let row = bench.registry().joints.get(joint.id).expect("a joint");
    assert_eq!(row.kind.get(), Some(&JointKind::Splitter));
    let thing = Planned::Joint(joint.id);
    bench.sends(PlanForm::Open(thing));
    bench.types(Field::EditName, "Loft splitter");
    bench.sends(PlanForm::Rename(thing));
    assert_eq!(plan::joints(bench.registry())[0].name, "Loft splitter");
    assert_eq!(plan::devices(bench.registry())[0].name, "Amplifier 1");
}

#[test]
fn a_panel_is_planned_in_order_and_the_rooms_are_counted() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    let panel = mill.panel_id("B");
    let mut bench = Bench::open(mill, Screen::Racks);
    let want = Want::FillPanel { panel };
    bench.lets(Action::Do { want, then: None });
    let slots = bothends::query::rack::slots(bench.registry(), panel);
    let planned = slots.iter().filter(|slot| slot.state == SlotState::Planned);
    assert_eq!(planned.count(), 4);
    let progress = plan::progress(bench.registry());
    let told = progress.iter();
    let told: Vec<_> = told
        .map(|row| (row.code.as_str(), row.name.as_str(), row.tally.cables))
        .collect();
    assert_eq!(told, [("", "The whole job", 4), ("KIT", "Kitchen", 4)]);
}

#[test]
fn the_job_is_renamed_and_taken_out() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    let mut bench = Bench::open(mill, Screen::Job);
    bench.sends(PlanForm::Open(Planned::Job));
    bench.types(Field::EditName, "Marrowby Mill");
    bench.sends(PlanForm::Rename(Planned::Job));
    assert_eq!(
        bench.model.open.as_ref().expect("a job").name(),
        "Marrowby Mill"
    );
    let mut take = |what| {
        let effects = bench.lets(Action::TakeOut(what));
        let [Effect::HandOut { name, bytes, .. }] = effects.as_slice() else {
            panic!("one file");
        };
        (name.clone(), bytes.clone())
    };
    let (_, file) = take(TakeOut::JobFile);
    let (sheet_name, sheet) = take(TakeOut::Spreadsheet);
    let (raw_name, raw) = take(TakeOut::Raw);
    assert_ne!(sheet_name, raw_name);
    assert!(sheet_name.starts_with("marrowby-mill"));
    let read = jobfile::read(&file);
    assert_eq!(read.findings, []);
    assert_eq!(read.header.expect("a header").name, "Marrowby Mill");
    for bytes in [sheet, raw] {
        let text = String::from_utf8(bytes).expect("UTF-8");
        assert!(text.contains("KIT1-A") && text.contains("KIT1-B"), "{text}");
    }
}

#[test]
fn a_new_job_begins_with_its_rooms_and_then_its_outlets() {
    let mut mill = Mill {
        journal: Journal::new(JobId(Bits80([1; 10])), WriterId(Bits80([2; 10]))),
    };
    assert_eq!(first_step(mill.registry()), Some(FirstStep::Rooms));
    mill.room("Kitchen", "KIT");
    assert_eq!(first_step(mill.registry()), Some(FirstStep::Outlets));
    mill.outlets("KIT", "data", 1);
    assert_eq!(first_step(mill.registry()), None);
}
