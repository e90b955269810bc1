//! Places that are typed for a tail: what the app prints of a place is read as that same place, and
//! devices and joints are found by their names.

use std::collections::BTreeSet;

use bothends::app::{
    Action, Field, Form, Model, Notice, OpenJob, RackForm, Route, Screen, place_typed, update,
};
use bothends::command::Want;
use bothends::domain::ids::{Bits80, DeviceId, JointId, WriterId};
use bothends::domain::place::{End, Place, Side};
use bothends::domain::work::JointKind;
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry, WallTime};
use bothends::query::hand::in_hand;
use bothends::query::plan;
use bothends::query::rack::{landed_place, planned_place};
use bothends::view::Touch;
use bothends::{names, ui, walk};

use crate::mill::Mill;
use crate::support::marrowby;
use crate::support::still::Still;

/// A phone with the card of a cable open.
struct Card {
    model: Model,
    world: Still,
}

impl Card {
    fn open(journal: Journal, end: End) -> Self {
        let job = journal.job();
        let screen = Screen::HandCable(end.cable);
        Self {
            model: Model {
                open: Some(OpenJob::new(journal)),
                route: Route::Job { job, screen },
                ..Model::default()
            },
            world: Still::at(WallTime(1_772_409_600_000), 9),
        }
    }

    fn lets(&mut self, action: Action) {
        update(&mut self.model, action, &self.world);
    }

    /// Types into a field and sends a form; then what the bar says.
    fn sends(&mut self, field: Field, text: &str, form: RackForm) -> String {
        let text = text.to_owned();
        self.lets(Action::Typed { field, text });
        self.lets(Action::Submit(Form::Rack(form)));
        match &self.model.notice {
            Some(Notice::Done { words, .. }) => words.clone(),
            Some(Notice::Refused(refusal)) => format!("refused: {}", refusal.words),
            other => panic!("{other:?}"),
        }
    }

    fn lands(&mut self, end: End, text: &str) -> String {
        self.sends(Field::LandPosition, text, RackForm::LandAt(end))
    }

    fn plans(&mut self, end: End, text: &str) -> String {
        self.sends(Field::LandPosition, text, RackForm::PlanAt(end))
    }

    fn registry(&self) -> &Registry {
        self.model.registry().expect("a job")
    }
}

fn device(registry: &Registry, name: &str) -> DeviceId {
    let devices = plan::devices(registry).into_iter();
    let mut named = devices.filter(|device| device.name == name);
    named.next().expect("a device").id
}

fn joint(registry: &Registry, name: &str) -> JointId {
    let joints = plan::joints(registry).into_iter();
    let mut named = joints.filter(|joint| joint.name == name);
    named.next().expect("a joint").id
}

/// Three data outlets, an amplifier, a splitter, and a device called like a position.
fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 3);
    for name in ["Flat A amplifier", "Head of line", "TV 2"] {
        let name = name.to_owned();
        mill.does(&Want::AddDevice { name, room: None });
    }
    mill.does(&Want::AddJoint {
        kind: JointKind::Splitter,
        name: "Attic splitter".to_owned(),
        room: None,
    });
    mill
}

#[test]
fn what_is_printed_of_a_place_is_read_as_that_place() {
    let file: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let mut journal = Journal::new(marrowby::JOB, WriterId(Bits80([7; 10])));
    let lines = jobfile::read(file).lines;
    journal.take(lines.iter().map(String::as_str));
    let registry = journal.registry();
    let index = &registry.index;
    let places = index.landed.keys().chain(index.planned.keys());
    let places: BTreeSet<&Place> = places.collect();
    let cables = walk::cables(registry);
    let end = End::whole(cables[0], Side::Near);
    let mut kinds = [0; 4];
    for place in places {
        let kind = match place {
            Place::Jack { .. } => 0,
            Place::Position { .. } => 1,
            Place::Device { .. } => 2,
            Place::Joint { .. } => 3,
        };
        kinds[kind] += 1;
        let words = names::place(registry, place);
        for words in [words.to_lowercase(), words.to_uppercase(), words] {
            let read = place_typed(registry, &words, end);
            assert_eq!(read.as_ref(), Ok(place), "{words}");
        }
    }
    let [jacks, positions, ports, ways] = kinds;
    assert!(jacks > 50 && positions > 100, "{kinds:?}");
    assert!(ports > 5 && ways >= 3, "{kinds:?}");
}

#[test]
fn a_tail_is_landed_on_a_port_of_a_device() {
    let mill = mill();
    let [kit1, kit2] = ["KIT1-A", "KIT2-A"].map(|code| mill.far(code));
    let mut card = Card::open(mill.journal, kit1);
    let said = card.lands(kit1, " flat a  AMPLIFIER");
    let words = "refused: Write the port too, such as “OUT 1 of flat a  AMPLIFIER”.";
    assert_eq!(said, words);
    assert_eq!(
        card.model.fields.get(Field::LandPosition),
        " flat a  AMPLIFIER"
    );
    let said = card.lands(kit1, "Zone 1 of flat A amplifier");
    assert_eq!(said, "KIT1-A is landed on Zone 1 of Flat A amplifier.");
    assert_eq!(card.model.screen(), Some(Screen::Hand));
    let place = Place::Device {
        device: device(card.registry(), "Flat A amplifier"),
        port: "Zone 1".to_owned(),
    };
    assert_eq!(landed_place(card.registry(), kit1), Some(&place));

    // The same port in other letters is the same port.
    let said = card.lands(kit2, "zone 1 OF Flat A amplifier");
    let words = "refused: Zone 1 of Flat A amplifier is taken: KIT1-A is landed there";
    assert!(said.starts_with(words), "{said}");
    card.lands(kit2, "Zone 2 of Flat A amplifier");
    assert!(landed_place(card.registry(), kit2).is_some());

    // A name with `of` in it, and one that looks like a position of a panel that is not there.
    let said = card.lands(kit2, "IN of 2 of head of line");
    assert_eq!(
        said,
        "KIT2-A is landed on IN of 2 of Head of line. It was on Zone 2 of Flat A amplifier."
    );
    let said = card.lands(kit2, "tv 2");
    assert_eq!(
        said,
        "refused: Write the port too, such as “OUT 1 of tv 2”."
    );
}

#[test]
fn a_joint_gives_its_next_free_way_or_the_one_that_was_named() {
    let mill = mill();
    let [kit1, kit2, kit3] = ["KIT1-A", "KIT2-A", "KIT3-A"].map(|code| mill.far(code));
    let mut card = Card::open(mill.journal, kit1);
    let splitter = joint(card.registry(), "Attic splitter");
    let way = |way| Place::Joint {
        joint: splitter,
        way,
    };
    let said = card.lands(kit1, "attic splitter");
    assert_eq!(said, "KIT1-A is landed on way 1 of Attic splitter.");
    let said = card.plans(kit2, "Way 3 of Attic splitter");
    assert_eq!(said, "KIT2-A belongs on way 3 of Attic splitter.");
    assert_eq!(planned_place(card.registry(), kit2), Some(&way(3)));
    card.lands(kit3, "Attic splitter");
    assert_eq!(landed_place(card.registry(), kit3), Some(&way(2)));
    // It goes where it belongs, and nobody else is sent there.
    card.lands(kit1, "Attic splitter");
    card.lands(kit2, "Attic splitter");
    assert_eq!(landed_place(card.registry(), kit2), Some(&way(3)));
    let said = card.lands(kit1, "2 of Attic splitter");
    let words = "refused: way 2 of Attic splitter is taken: KIT3-A is landed there";
    assert!(said.starts_with(words), "{said}");
    let said = card.lands(kit1, "way 0 of Attic splitter");
    assert!(said.starts_with("refused: Write the position"), "{said}");
}

#[test]
fn what_is_not_there_or_there_twice_is_said_with_what_can_be_written() {
    let mut mill = mill();
    for name in ["Attic splitter", "KIT3"] {
        let name = name.to_owned();
        mill.does(&Want::AddDevice { name, room: None });
    }
    let end = mill.far("KIT1-A");
    let mut card = Card::open(mill.journal, end);
    for (text, words) in [
        (
            "Zone 1 of the shed",
            "Write the position as it stands on the panel, such as B7, or the name of a device or joint",
        ),
        ("X7", "There is no panel X in this job"),
        ("jack A of DIN4", "Write the position"),
        ("jack AB of KIT1", "Write the position"),
        (
            "jack A of KIT3",
            "More than one place is called “jack A of KIT3”",
        ),
        (
            "way 1 of attic splitter",
            "More than one place is called “way 1 of attic splitter”",
        ),
    ] {
        let said = card.lands(end, text);
        assert!(said.starts_with(&format!("refused: {words}")), "{said}");
        assert_eq!(card.model.fields.get(Field::LandPosition), text);
    }
    let said = card.plans(end, "jack b of kit 2");
    assert_eq!(said, "KIT1-A belongs on jack B of KIT2.");
    assert_eq!(card.model.screen(), Some(Screen::HandCable(end.cable)));
}

#[test]
fn an_end_is_split_its_legs_land_each_for_itself_and_undo_makes_it_whole() {
    let mut mill = mill();
    mill.land("KIT2-A", "B01");
    let [kit1, kit2] = ["KIT1-A", "KIT2-A"].map(|code| mill.far(code));
    let mut card = Card::open(mill.journal, kit1);
    for text in ["", "many", "0", "17"] {
        let said = card.sends(Field::Legs, text, RackForm::Split(kit1));
        assert_eq!(said, "refused: Write into how many legs, 2 to 16.");
    }
    let said = card.sends(Field::Legs, "1", RackForm::Split(kit1));
    assert!(said.starts_with("refused: An end is split into two legs or more"));
    assert_eq!(card.model.fields.get(Field::Legs), "1");
    let said = card.sends(Field::Legs, "2", RackForm::Split(kit2));
    assert!(said.starts_with("refused: This end is not free. Lift it"));

    let said = card.sends(Field::Legs, " 2 ", RackForm::Split(kit1));
    assert_eq!(said, "KIT1-A at Main rack has 2 legs.");
    assert_eq!(card.model.fields.get(Field::Legs), "");
    assert_eq!(card.model.screen(), Some(Screen::HandCable(kit1.cable)));
    let legs = |card: &Card| -> Vec<End> {
        let found = in_hand(card.registry(), kit1.cable).expect("a cable");
        found.tails.iter().map(|tail| tail.end).collect()
    };
    let Some(Notice::Done { act, .. }) = card.model.notice.clone() else {
        panic!("it can be taken back: {:?}", card.model.notice);
    };
    let [one, two] = legs(&card)[..] else {
        panic!("two legs: {:?}", legs(&card));
    };
    card.lets(Action::Do {
        want: Want::Undo { act },
        then: None,
    });
    assert_eq!(legs(&card), [kit1]);

    card.sends(Field::Legs, "2", RackForm::Split(kit1));
    for (leg, zone) in [(one, "Zone 1"), (two, "Zone 2")] {
        card.lands(leg, &format!("{zone} of Flat A amplifier"));
        let place = Place::Device {
            device: device(card.registry(), "Flat A amplifier"),
            port: zone.to_owned(),
        };
        assert_eq!(landed_place(card.registry(), leg), Some(&place));
    }
    // A leg speaks for its end, which may have been counted wrongly.
    card.sends(Field::Legs, "3", RackForm::Split(two));
    assert_eq!(legs(&card).len(), 3);

    // Its legs are joined again where it is split, once none of them is landed.
    let joins = |card: &Card| {
        let mut joins = Vec::new();
        ui::draw(&card.model).each(&mut |element| {
            let taps = element.touches.iter().filter_map(|touch| match touch {
                Touch::Tap(Action::Do { want, .. }) => Some(want.clone()),
                _ => None,
            });
            joins.extend(taps.filter(|want| matches!(want, Want::JoinLegs { .. })));
        });
        joins
    };
    card.lets(Action::Go(Screen::HandCable(kit1.cable)));
    card.lets(Action::Typed {
        field: Field::HandTail,
        text: names::end(card.registry(), two),
    });
    let wants = joins(&card);
    assert_eq!(wants, [Want::JoinLegs { end: two }]);
    for want in [Want::Lift { end: one }, Want::Lift { end: two }] {
        card.lets(Action::Do { want, then: None });
    }
    card.lets(Action::Do {
        want: wants[0].clone(),
        then: None,
    });
    assert_eq!(legs(&card), [kit1]);
    assert_eq!(joins(&card), []);
}

#[test]
fn an_end_at_the_wall_has_the_same_ways_on_the_card() {
    let mill = mill();
    let near = End::whole(mill.cable("KIT1-A"), Side::Near);
    let mut card = Card::open(mill.journal, near);
    let fields = |card: &Card| {
        let mut ids = Vec::new();
        ui::draw(&card.model).each(&mut |element| {
            let submits = element.touches.iter().filter_map(|touch| match touch {
                Touch::Sent(Action::Submit(Form::Rack(RackForm::LandAt(end)))) => Some(*end),
                _ => None,
            });
            ids.extend(submits);
        });
        ids
    };
    let far = End::whole(near.cable, Side::Far);
    assert_eq!(fields(&card), [far]);
    card.lets(Action::Typed {
        field: Field::HandTail,
        text: names::end(card.registry(), near),
    });
    assert_eq!(fields(&card), [near]);
    let said = card.lands(near, "IN of Flat A amplifier");
    assert_eq!(said, "KIT1-A is landed on IN of Flat A amplifier.");
    assert_eq!(landed_place(card.registry(), far), None);
    assert!(landed_place(card.registry(), near).is_some());
}
