//! Racks as they stand: what the drawing holds, and that it stays small however many racks there are.

use bothends::app::bench::{BenchForm, RackPaper};
use bothends::app::mend::{Step, describe};
use bothends::app::tags::{Paper, TagAction};
use bothends::app::{Action, Effect, Field, Form, Model, Notice, OpenJob, Route, Screen, update};
use bothends::command::{self, Want};
use bothends::domain::ids::{Bits80, JobId, RackId, WriterId};
use bothends::domain::medium::Connector;
use bothends::domain::mount::{BlockKind, Mount, Mountable, Units};
use bothends::domain::place::Face;
use bothends::domain::work::Availability;
use bothends::exchange::jobfile;
use bothends::journal::{Fact, Journal, PanelFact, PanelMake, PanelSize, Signature, WallTime};
use bothends::names;
use bothends::query::{Finding, What, check};
use bothends::tags::Readers;
use bothends::ui::{self, Html};
use bothends::view::{Node, Touch, faults};
use bothends::walk;

use crate::mill::Mill;
use crate::support::marrowby;
use crate::support::opened::opened;
use crate::support::racks::{JOB, many_racks};
use crate::support::still::Still;

struct Phone {
    model: Model,
    world: Still,
}

impl Phone {
    fn with(job: JobId, lines: Vec<String>) -> Self {
        let (model, world) = opened(job, lines);
        Self { model, world }
    }

    fn demo() -> Self {
        let file: &[u8] = include_bytes!("../demo-data/marrowby-mill.jobfile.txt");
        Self::with(marrowby::JOB, jobfile::read(file).lines)
    }

    fn acts(&mut self, action: Action) {
        update(&mut self.model, action, &self.world);
    }

    fn types(&mut self, field: Field, text: &str) {
        let text = text.to_owned();
        self.acts(Action::Typed { field, text });
    }

    fn sends(&mut self, form: BenchForm) -> String {
        self.model.notice = None;
        self.acts(Action::Submit(Form::Bench(form)));
        match &self.model.notice {
            Some(Notice::Refused(refusal)) => format!("refused: {}", refusal.words),
            Some(Notice::Done { words, .. }) => words.clone(),
            other => format!("{other:?}"),
        }
    }

    fn shows(&mut self, screen: Screen) -> Html {
        self.acts(Action::Go(screen));
        ui::draw(&self.model)
    }

    fn racks(&self) -> Vec<RackId> {
        walk::racks(self.model.registry().expect("a job"))
    }
}

fn elements(drawing: &Html) -> usize {
    let mut count = 0;
    drawing.each(&mut |_| count += 1);
    count
}

fn texts(drawing: &Html) -> String {
    let mut texts = Vec::new();
    drawing.each(&mut |element| {
        for node in &element.inside {
            if let Node::Text(text) = node {
                texts.push(text.to_string());
            }
        }
    });
    texts.join(" ")
}

/// The positions that can be tapped in the drawing.
fn positions(drawing: &Html) -> usize {
    let mut count = 0;
    drawing.each(&mut |element| {
        let is_tapped = element
            .touches
            .iter()
            .any(|touch| matches!(touch, Touch::Tap(Action::Go(Screen::Position { .. }))));
        count += usize::from(is_tapped);
    });
    count
}

#[test]
fn twenty_racks_of_ten_thousand_positions_stay_small() {
    let mut phone = Phone::with(JOB, many_racks());
    let racks = phone.racks();
    assert_eq!(racks.len(), 20);
    let all = phone.shows(Screen::Rack);
    assert!(elements(&all) < 700, "{} elements", elements(&all));
    for face in [Face::Front, Face::Rear] {
        let rack = racks[7];
        phone.types(Field::BenchSize, "");
        let whole = phone.shows(Screen::Elevation { rack, face });
        assert_eq!(faults(&whole), Vec::<String>::new());
        // Two numbers for each of the 42 rack units, and a handful for each panel.
        assert!(elements(&whole) < 500, "{} elements", elements(&whole));
        assert_eq!(positions(&whole), 0);
        phone.types(Field::BenchSize, "4");
        let large = ui::draw(&phone.model);
        assert_eq!(positions(&large), 500);
        assert!(elements(&large) < 1_000, "{} elements", elements(&large));
        // Each panel's letters stand once, on the edge that stays, so that they cover no other.
        let registry = phone.model.registry().expect("a job");
        let panels = registry.panels.iter();
        let here = panels.filter(|(_, panel)| panel.rack.get() == Some(&rack));
        let mut drawn = Vec::new();
        large.each(&mut |element| {
            if let ("text", [Node::Text(text)]) = (element.tag, &*element.inside) {
                drawn.push(text.to_string());
            }
        });
        for (_, panel) in here {
            let letters = panel.letters.get().expect("letters").to_string();
            let count = drawn.iter().filter(|text| **text == letters).count();
            assert_eq!(count, 1, "{letters}");
        }
    }
}

#[test]
fn a_rack_of_more_positions_than_can_be_drawn_is_opened_panel_by_panel() {
    // Nobody builds so: 42 panels of 96 in one rack unit each.
    let mut phone = Phone::demo();
    let rack = phone.racks()[0];
    let journal = &mut phone.model.open.as_mut().expect("a job").journal;
    let mut draft = journal.draft();
    for unit in 1..=42 {
        let panel = draft.mint();
        let make = PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(96).expect("a size"),
        };
        for fact in [
            PanelFact::Added(make),
            PanelFact::InRack(rack),
            PanelFact::AtUnit(Some(unit)),
            PanelFact::High(Units::ONE),
        ] {
            draft.push(Fact::Panel(panel, fact));
        }
    }
    let signature = Signature {
        by: String::new(),
        wall: WallTime(0),
    };
    journal.write(draft, signature).expect("a number");
    phone.types(Field::BenchSize, "4");
    let face = Face::Front;
    let large = phone.shows(Screen::Elevation { rack, face });
    let count = positions(&large);
    assert!((96..=1_200).contains(&count), "{count} positions");
    // Letters and units stand beside the positions, in a drawing of their own.
    assert!(elements(&large) < 2_300, "{} elements", elements(&large));
}

#[test]
fn things_are_hung_moved_and_taken_out_by_the_form() {
    let mut phone = Phone::demo();
    let (rack, face) = (phone.racks()[0], Face::Rear);
    phone.acts(Action::Go(Screen::Elevation { rack, face }));
    phone.types(Field::BenchUnits, "0");
    assert!(
        phone
            .sends(BenchForm::Build(rack))
            .starts_with("refused: “0” is no number of rack units")
    );
    phone.types(Field::BenchUnits, "45");
    let name = names::rack(phone.model.registry().expect("a job"), rack);
    assert_eq!(
        phone.sends(BenchForm::Build(rack)),
        format!("{name}: it has 45 rack units.")
    );
    phone.types(Field::BenchWhat, "shelf");
    phone.types(Field::BenchName, "Router shelf");
    phone.types(Field::BenchUnit, "two");
    phone.types(Field::BenchHeight, "2");
    let refused = phone.sends(BenchForm::Hang(rack, face));
    assert!(
        refused.starts_with("refused: “two” is no rack unit"),
        "{refused}"
    );
    // What was typed is still there.
    assert_eq!(phone.model.fields.get(Field::BenchName), "Router shelf");
    phone.types(Field::BenchUnit, "2");
    assert_eq!(
        phone.sends(BenchForm::Hang(rack, face)),
        "Router shelf is added."
    );
    let words = texts(&ui::draw(&phone.model));
    assert!(
        words.contains("Router shelf, 2 rack units high, at the rear"),
        "{words}"
    );
    let front = texts(&phone.shows(Screen::Elevation {
        rack,
        face: Face::Front,
    }));
    assert!(front.contains("Behind: Router shelf"), "{front}");
    phone.shows(Screen::Elevation { rack, face });
    let registry = phone.model.registry().expect("a job");
    let block = registry.blocks.iter().map(|(id, _)| id);
    let shelf = block.filter(|id| names::block(registry, *id) == "Router shelf");
    let shelf = shelf.max().expect("the shelf");
    let key = format!("block {}", shelf.0);
    phone.types(Field::BenchWhat, &key);
    phone.types(Field::BenchUnit, "5");
    assert_eq!(
        phone.sends(BenchForm::Hang(rack, face)),
        format!("Router shelf is at units 5 to 6 of {name}, rear.")
    );
    // A tap on it in the list chooses it: the form shows where it hangs and how it is called.
    phone.types(Field::BenchWhat, "");
    let chosen = |phone: &Phone| {
        let fields = [Field::BenchWhat, Field::BenchUnit, Field::BenchName];
        fields.map(|field| phone.model.fields.get(field).to_owned())
    };
    let what = Mountable::Block(shelf);
    let choose = Action::Submit(Form::Bench(BenchForm::Choose(what)));
    let mut rows = 0;
    ui::draw(&phone.model).each(&mut |element| {
        let is_tap = |touch: &Touch<Action>| matches!(touch, Touch::Tap(tap) if *tap == choose);
        rows += element.touches.iter().filter(|touch| is_tap(touch)).count();
    });
    assert_eq!(rows, 1);
    phone.acts(choose);
    assert_eq!(chosen(&phone), [&*key, "5", "Router shelf"]);
    phone.types(Field::BenchName, " Shelf for the clock ");
    assert_eq!(
        phone.sends(BenchForm::Hang(rack, Face::Front)),
        "It is called Shelf for the clock now."
    );
    let words = texts(&ui::draw(&phone.model));
    assert!(
        words.contains("Shelf for the clock, 2 rack units high, at the rear"),
        "{words}"
    );
    // It stays chosen, and what the fields say of it is still so.
    assert_eq!(chosen(&phone), [&*key, "5", "Shelf for the clock"]);
    phone.types(Field::BenchName, "Clock shelf");
    phone.types(Field::BenchUnit, "7");
    assert_eq!(
        phone.sends(BenchForm::Hang(rack, face)),
        format!("Clock shelf is at units 7 to 8 of {name}, rear.")
    );
    // Something new is proposed where it fits: the highest that is free.
    phone.types(Field::BenchWhat, "blank");
    assert_eq!(phone.model.fields.get(Field::BenchUnit), "45");
    phone.types(Field::BenchWhat, &key);
    assert_eq!(
        phone.sends(BenchForm::TakeOut(rack)),
        "Clock shelf is taken out."
    );
}

#[test]
fn what_hangs_in_anothers_place_is_mended_by_hanging_it_elsewhere() {
    let mut mill = Mill::new();
    let panel = mill.panel_id("C");
    // As another phone may have written it meanwhile: panel B is there.
    let mut draft = mill.journal.draft();
    draft.push(Fact::Panel(panel, PanelFact::AtUnit(Some(20))));
    let signature = Signature {
        by: String::new(),
        wall: WallTime(0),
    };
    mill.journal.write(draft, signature).expect("a number");
    let findings = check(mill.registry());
    let shared = |finding: &&Finding| matches!(finding.what, What::UnitsShared { .. });
    let finding = findings.iter().find(shared).expect("a finding");
    let mending = describe(&mill.journal, finding);
    assert_eq!(
        mending.title,
        "Panel B and Panel C hang in each other's place at the front of Main rack."
    );
    let labels: Vec<&str> = mending.fixes.iter().map(|fix| &*fix.label).collect();
    assert_eq!(
        labels,
        [
            "Panel B hangs elsewhere",
            "Panel C hangs elsewhere",
            "See the rack"
        ]
    );
    let Step::Do(want) = &mending.fixes[1].step else {
        panic!("it is done at once");
    };
    let refusal = command::draft(want, &mill.journal).expect_err("it is taken");
    // 20 is taken by B, and above it is as near as below.
    assert_eq!(refusal.ways_out[0].label, "At unit 21: it is free");
    mill.does(&refusal.ways_out[0].want);
    assert!(
        !check(mill.registry())
            .iter()
            .any(|finding| shared(&finding))
    );
}

#[test]
fn the_list_of_a_rack_says_what_people_disagree_about() {
    let mut mill = Mill::new();
    let (rack, panel, position) = (mill.rack_id("1A"), mill.panel_id("B"), mill.position("B01"));
    let lines = |mill: &Mill| -> Vec<String> {
        let lines = mill.journal.lines().into_iter();
        lines.map(str::to_owned).collect()
    };
    let writer = WriterId(Bits80([2; 10]));
    let mut other = Mill {
        journal: Journal::new(mill.journal.job(), writer),
    };
    other.journal.take(lines(&mill).iter().map(String::as_str));
    // Two phones that do not meet.
    for (phone, word) in [(&mut mill, "Ours"), (&mut other, "Theirs")] {
        let name = word.to_owned();
        phone.does(&Want::RenameRack { rack, name });
        phone.does(&Want::PlacePanel {
            panel,
            rack,
            unit: Some(20),
            purpose: word.to_owned(),
        });
        let reason = word.to_owned();
        let kept = Availability::Reserved { reason };
        phone.does(&Want::KeepPosition { position, kept });
    }
    mill.journal.take(lines(&other).iter().map(String::as_str));
    let (job, face) = (mill.journal.job(), Face::Front);
    let screen = Screen::Elevation { rack, face };
    let model = Model {
        open: Some(OpenJob::new(mill.journal)),
        route: Route::Job { job, screen },
        ..Model::default()
    };
    let words = texts(&ui::draw(&model));
    assert!(words.contains("people disagree: its name"), "{words}");
    let said = "people disagree: what it is for, B01 what it is kept for";
    assert!(words.contains(said), "{words}");
}

#[test]
fn the_proposal_of_a_job_without_cables_says_so_and_where_to_plan_them() {
    let shown = |mill: Mill| {
        let (job, screen) = (mill.journal.job(), Screen::Proposal);
        let model = Model {
            open: Some(OpenJob::new(mill.journal)),
            route: Route::Job { job, screen },
            ..Model::default()
        };
        texts(&ui::draw(&model))
    };
    let words = shown(Mill::new());
    assert!(words.contains("This job has no cable yet"), "{words}");
    assert!(words.contains("Plan rooms and outlets"), "{words}");
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.fill("B");
    let words = shown(mill);
    assert!(words.contains("Every home run and every tie line has its position."));
}

#[test]
fn each_paper_of_a_rack_has_a_file_name_of_its_own() {
    let mut phone = Phone::demo();
    let rack = phone.racks()[0];
    let name = |phone: &mut Phone, paper| {
        phone.acts(Action::Submit(Form::Bench(BenchForm::Print(rack, paper))));
        let what = Paper::Rack(rack, paper);
        let came = Action::Tags(TagAction::Came(what, Ok(Some(Vec::new()))));
        let effects = update(&mut phone.model, came, &phone.world);
        let name = effects.into_iter().find_map(|effect| match effect {
            Effect::HandOut { name, .. } => Some(name),
            _ => None,
        });
        name.expect("a file")
    };
    let names = [
        RackPaper::Elevation,
        RackPaper::Maps,
        RackPaper::Card(Readers::Trade),
        RackPaper::Card(Readers::Everybody),
    ]
    .map(|paper| name(&mut phone, paper));
    let day = names::day(phone.model.now);
    let told = [
        "elevation",
        "panel-maps",
        "door-card",
        "door-card-without-alarms-and-cameras",
    ];
    let rack = names::rack(phone.model.registry().expect("a job"), rack);
    let rack = rack.to_lowercase().replace(' ', "-");
    for (name, told) in names.iter().zip(told) {
        assert_eq!(*name, format!("marrowby-mill-{rack}-{told}-{day}.pdf"));
    }
}

#[test]
fn what_hangs_behind_a_panel_in_its_units_is_drawn_beside_it() {
    let mut mill = Mill::new();
    let rack = mill.rack_id("1A");
    // Panel B hangs at unit 20.
    for (kind, name, unit, face) in [
        (BlockKind::Shelf, "Clock shelf", 20, Face::Rear),
        (BlockKind::Shelf, "Deep shelf", 3, Face::Front),
        (BlockKind::Shelf, "Low shelf", 3, Face::Rear),
    ] {
        mill.does(&Want::AddBlock {
            kind,
            name: name.to_owned(),
            mount: Mount {
                rack,
                unit: Some(unit),
                height: Units::ONE,
                face,
            },
        });
    }
    let job = mill.journal.job();
    let mut model = Model {
        open: Some(OpenJob::new(mill.journal)),
        ..Model::default()
    };
    let mut drawn = |face| {
        let screen = Screen::Elevation { rack, face };
        model.route = Route::Job { job, screen };
        let mut squeezed = 0;
        let mut names = Vec::new();
        ui::draw(&model).each(&mut |element| {
            let said = |name| element.attributes.iter().find(|(of, _)| *of == name);
            squeezed += usize::from(said("transform").is_some());
            let is_name = said("class").is_some_and(|(_, class)| class.starts_with("rack-name"));
            if let (true, [Node::Text(text)]) = (is_name, &*element.inside) {
                names.push(text.to_string());
            }
        });
        (squeezed, names)
    };
    // From the rear, panel B makes room for the shelf; the shelf before another one is named alone.
    assert_eq!(
        drawn(Face::Rear),
        (1, vec!["Clock shelf".to_owned(), "Low shelf".to_owned()])
    );
    // From the front, a panel hides what is behind it.
    assert_eq!(drawn(Face::Front), (0, vec!["Deep shelf".to_owned()]));
}
