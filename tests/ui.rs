//! Every screen drawn without a browser: it can be used by ear and by key, everything in it can be
//! tapped without a fault of the program, and a large job never makes a long page.

use bothends::app::ports::{PictureSize, Trouble};
use bothends::app::scan::ScanAction;
use bothends::app::tags::TagAction;
use bothends::app::wall::WallForm;
use bothends::app::{
    Action, Effect, Field, FootageOf, Form, Model, PictureAction, Screen, settled, update,
};
use bothends::command::{self, Want};
use bothends::domain::ids::{Bits80, JobId, OutletId, WriterId};
use bothends::domain::label::{PanelLetters, PositionNumber, SpaceCode};
use bothends::domain::length::Millimetres;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::domain::place::{End, Face, Position, RunName, Side};
use bothends::domain::text::is_hidden;
use bothends::domain::work::{PullOutcome, Slack, Waiting, WaitsFor};
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Signature, WallTime};
use bothends::names;
use bothends::papers::look;
use bothends::query::find::{SearchIndex, search};
use bothends::query::rack;
use bothends::tags::Order;
use bothends::ui::{self, Html};
use bothends::view::{Node, Touch, faults};
use bothends::walk;

use crate::support::large::{self, large_job};
use crate::support::marrowby;
use crate::support::opened::opened;
use crate::support::still::Still;

/// A phone with a job open.
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

    /// Shows a screen as it is come to.
    fn shows(&mut self, screen: Screen) -> Html {
        self.acts(Action::Go(screen));
        ui::draw(&self.model)
    }

    /// Every screen of the job, with so many of each thing.
    fn screens(&self, of_each: usize) -> Vec<Screen> {
        let registry = self.model.registry().expect("a job");
        let mut screens = vec![
            Screen::Wall,
            Screen::Pull,
            Screen::PullSheet,
            Screen::Evening,
            Screen::Tags,
            Screen::Stock,
            Screen::Covers,
            Screen::Rack,
            Screen::Hand,
            Screen::Scan,
            Screen::Proposal,
            Screen::Remotes,
            Screen::Find,
            Screen::Punch,
            Screen::Job,
            Screen::Rooms,
            Screen::Types,
            Screen::Racks,
            Screen::Conduits,
            Screen::Loose,
            Screen::Import,
            Screen::History,
        ];
        let rooms = walk::rooms(registry);
        let outlets = rooms.iter().flat_map(|room| walk::outlets(registry, *room));
        for outlet in outlets.take(of_each) {
            screens.push(Screen::Outlet(outlet));
            screens.push(Screen::Pen { outlet, place: 0 });
            let of = FootageOf::Outlet(outlet);
            screens.extend(Side::BOTH.map(|side| Screen::Footage { of, side }));
        }
        for cable in walk::cables(registry).into_iter().take(of_each) {
            screens.extend([Screen::Cable(cable), Screen::HandCable(cable)]);
        }
        for room in rooms.into_iter().take(of_each) {
            screens.extend([Screen::Room(room), Screen::Cover(room)]);
        }
        for rack in walk::racks(registry).into_iter().take(of_each) {
            let faces = [Face::Front, Face::Rear];
            screens.extend(faces.map(|face| Screen::Elevation { rack, face }));
        }
        let panels = rack::racks(registry)
            .into_iter()
            .flat_map(|rack| rack.panels);
        for panel in panels.take(of_each) {
            let faces = [Face::Front, Face::Rear];
            screens.extend(faces.map(|face| Screen::Panel { panel, face }));
        }
        screens
    }
}

/// What taps of a drawing mean.
fn taps(drawing: &Html) -> Vec<Action> {
    let mut taps = Vec::new();
    drawing.each(&mut |element| {
        for touch in &element.touches {
            match touch {
                Touch::Tap(action) | Touch::Sent(action) => taps.push(action.clone()),
                Touch::Placed(action) => taps.push(action(2500, 7500)),
                Touch::Typed(_) | Touch::Chosen(_) => {}
            }
        }
    });
    taps
}

fn texts(drawing: &Html) -> Vec<String> {
    let mut texts = Vec::new();
    drawing.each(&mut |element| {
        for node in &element.inside {
            if let Node::Text(text) = node {
                texts.push(text.to_string());
            }
        }
    });
    texts
}

fn count(drawing: &Html, tag: &str) -> usize {
    let mut count = 0;
    drawing.each(&mut |element| count += usize::from(element.tag == tag));
    count
}

#[test]
fn every_screen_of_the_demo_job_can_be_used_by_everybody() {
    let mut phone = Phone::demo();
    let screens = phone.screens(usize::MAX);
    assert!(screens.len() > 600, "{} screens", screens.len());
    for screen in screens {
        let drawing = phone.shows(screen);
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{screen:?}");
        assert_eq!(count(&drawing, "h1"), 1, "{screen:?}");
    }
}

#[test]
fn everything_on_a_screen_can_be_tapped_and_leads_to_a_screen() {
    let lines = Phone::demo().screens(12);
    let mut tapped = 0;
    for screen in lines {
        let mut phone = Phone::demo();
        for action in taps(&phone.shows(screen)) {
            // What is asked of the outside is not answered here.
            if matches!(action, Action::GoToJobs) {
                continue;
            }
            phone.shows(screen);
            phone.acts(action.clone());
            let drawing = ui::draw(&phone.model);
            assert_eq!(
                faults(&drawing),
                Vec::<String>::new(),
                "{screen:?}: {action:?}"
            );
            tapped += 1;
        }
    }
    assert!(tapped > 1000, "{tapped}");
}

#[test]
fn a_picture_and_what_is_seen_on_it_can_be_used_by_everybody() {
    let mut phone = Phone::demo();
    let registry = phone.model.registry().expect("a job");
    let cable = registry.index.cables_by_code.get(&"BKIT1-A".to_owned())[0];
    let room = walk::rooms(registry)[0];
    let outlets = walk::outlets(registry, room);
    let digest = Digest([1; 32]);
    let shows = Shows::Outlet(outlets[0]);
    let act = |phone: &mut Phone, want| phone.acts(Action::Do { want, then: None });
    act(&mut phone, Want::AddPicture { digest, shows });
    let pictures = &phone.model.registry().expect("a job").pictures;
    let picture = pictures.iter().next().expect("a picture").0;
    let point = Point {
        what: Seen::Cable(cable),
        at: Spotted { x: 1, y: 2 },
        offset: "12 in left of the stud".to_owned(),
    };
    let points = vec![point];
    act(&mut phone, Want::PointOut { picture, points });
    let whole = (digest, PictureSize::Whole);
    for found in [Ok(Some("blob:1".to_owned())), Ok(None), Err(Trouble::Full)] {
        phone.shows(Screen::Picture(picture));
        phone.acts(Action::Picture(PictureAction::Read(whole, found.clone())));
        let drawing = ui::draw(&phone.model);
        assert_eq!(
            count(&drawing, "img"),
            usize::from(matches!(found, Ok(Some(_))))
        );
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{found:?}");
        for action in taps(&drawing) {
            phone.shows(Screen::Picture(picture));
            phone.acts(action.clone());
            let faults = faults(&ui::draw(&phone.model));
            assert_eq!(faults, Vec::<String>::new(), "{action:?}");
        }
    }
    for screen in [
        Screen::Outlet(outlets[0]),
        Screen::Room(room),
        Screen::Cable(cable),
    ] {
        let drawing = phone.shows(screen);
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{screen:?}");
    }
}

#[test]
fn a_name_hides_nothing_and_turns_no_words_round_it() {
    let mut phone = Phone::demo();
    let name = "Mill \u{202E}llim\u{200B}".to_owned();
    let want = Want::NameJob { name };
    phone.acts(Action::Do { want, then: None });
    let drawing = phone.shows(Screen::Job);
    let texts = texts(&drawing);
    let shown = texts
        .iter()
        .filter(|text| text.contains("‹U+202E›llim‹U+200B›"));
    assert!(shown.count() > 0, "{texts:?}");
    assert!(!texts.iter().any(|text| text.contains(is_hidden)));
}

#[test]
fn a_disagreement_is_no_plain_fact_on_any_screen() {
    let mut phone = Phone::demo();
    let registry = phone.model.registry().expect("a job");
    let cable = |code: &str| registry.index.cables_by_code.get(&code.to_owned())[0];
    let [moved, first, second] = ["BLIV2-A", "BKIT1-A", "BHAL1-A"].map(cable);
    let letters = PanelLetters::new("B").expect("letters");
    let panel = registry.index.panels_by_letters.get(&letters)[0];
    let rear = Screen::Panel {
        panel,
        face: Face::Rear,
    };
    for (screen, expected) in [
        (Screen::HandCable(moved), "People disagree: B40 or B13"),
        (Screen::HandCable(first), "BHAL1-A is landed there too"),
        (Screen::HandCable(second), "BKIT1-A is landed there too"),
        (rear, "landed, 3 disputed."),
    ] {
        let texts = texts(&phone.shows(screen));
        let said = texts.iter().any(|text| text.contains(expected));
        assert!(said, "{screen:?}: {texts:?}");
    }
    for number in [13, 40] {
        let number = PositionNumber::new(number).expect("a number");
        let position = Position { panel, number };
        let face = Face::Rear;
        let texts = texts(&phone.shows(Screen::Position { position, face }));
        for words in [", disputed: B40 or B13", "Settle it on the punch list"] {
            let said = texts.iter().any(|text| text.contains(words));
            assert!(said, "{number:?}: {texts:?}");
        }
    }
    // Whoever scans such a tag is warned before the place is relied on.
    let text = "BHAL1-A".to_owned();
    phone.acts(Action::Go(Screen::Scan));
    phone.acts(Action::Scan(ScanAction::Read(vec![text])));
    let said = texts(&ui::draw(&phone.model));
    let doubts = said
        .iter()
        .filter(|text| text.starts_with("People disagree about this place."));
    assert_eq!(doubts.count(), 1, "{said:?}");
    // What is to be settled of a cable stands first, whatever else is due.
    for (cable, code) in [(moved, "BLIV2-A"), (first, "BKIT1-A")] {
        phone.acts(Action::Settle(cable));
        assert_eq!(phone.model.screen(), Some(Screen::Punch));
        let texts = texts(&ui::draw(&phone.model));
        let mut titles = texts.iter().skip_while(|text| *text != "Now");
        let about = |text: &&String| text.contains("-A") && text.contains(' ');
        let title = titles.find(about).expect("a finding");
        assert!(title.contains(code), "{title} {texts:?}");
        phone.acts(Action::Go(Screen::Rack));
        assert_eq!(settled(&phone.model), None, "it is of that way alone");
    }
    phone.acts(Action::Go(Screen::Find));
    for (code, expected) in [
        ("BLIV2-A", "BLIV2 to B40 or B13, disputed"),
        ("BKIT1-A", "BKIT1 to B07, disputed"),
    ] {
        phone.acts(Action::Typed {
            field: Field::Find,
            text: code.to_owned(),
        });
        let texts = texts(&ui::draw(&phone.model));
        assert!(texts.iter().any(|text| text == expected), "{texts:?}");
    }
}

#[test]
fn a_cancelled_cable_is_called_so_in_its_panel_and_a_cancelled_outlet_offers_no_work() {
    let mut phone = Phone::demo();
    let registry = phone.model.registry().expect("a job");
    let cable = registry.index.cables_by_code.get(&"BKIT1-A".to_owned())[0];
    let called = |id: &OutletId| names::outlet(registry, *id) == "BKIT2";
    let outlet = registry.outlets.iter().map(|(id, _)| id).find(called);
    let outlet = outlet.expect("an outlet");
    let number = PositionNumber::new(7).expect("a number");
    let letters = PanelLetters::new("B").expect("letters");
    let panel = registry.index.panels_by_letters.get(&letters)[0];
    let position = Position { panel, number };
    let face = Face::Rear;
    let says = |phone: &mut Phone, screen, words: &str| {
        texts(&phone.shows(screen))
            .iter()
            .any(|text| text.contains(words))
    };
    let at = Screen::Position { position, face };
    assert!(!says(&mut phone, at, ", cancelled"));
    assert!(says(&mut phone, Screen::Outlet(outlet), "Cancel outlet"));
    let reason = "Not needed".to_owned();
    let want = Want::CancelCable {
        cable,
        reason: reason.clone(),
    };
    phone.acts(Action::Do { want, then: None });
    let want = Want::CancelOutlet { outlet, reason };
    phone.acts(Action::Do { want, then: None });
    assert!(says(&mut phone, at, ", cancelled"));
    assert!(says(
        &mut phone,
        Screen::Panel { panel, face },
        ", cancelled"
    ));
    assert!(!says(&mut phone, Screen::Outlet(outlet), "Cancel outlet"));
    assert!(says(&mut phone, Screen::Outlet(outlet), "Note"));
}

#[test]
fn a_rack_without_panels_stands_beside_those_that_have_some() {
    let mut phone = Phone::demo();
    let want = Want::AddRack {
        space: SpaceCode::new(9, "A").expect("a space"),
        name: "Cellar rack".to_owned(),
        room: None,
    };
    phone.acts(Action::Do { want, then: None });
    let said = "It has no panel yet. Add a panel";
    let racks = rack::racks(phone.model.registry().expect("a job"));
    for of in racks {
        let text = bothends::app::racks::key(of.rack);
        let field = Field::OpenRack;
        phone.acts(Action::Typed { field, text });
        let words = texts(&phone.shows(Screen::Rack)).join(" ");
        assert_eq!(words.contains(said), of.panels.is_empty(), "{words}");
        assert!(words.contains("See the rack"), "{words}");
        let words = texts(&phone.shows(Screen::Racks)).join(" ");
        let forms = words.matches("Its name and space").count();
        assert_eq!(forms, 1, "{words}");
    }
}

#[test]
fn a_loose_end_that_is_found_is_open_in_its_list() {
    let mut phone = Phone::demo();
    phone.shows(Screen::Find);
    let (field, text) = (Field::Find, "loose end 1".to_owned());
    phone.acts(Action::Typed { field, text });
    let opens = |action: &Action| {
        matches!(
            action,
            Action::Typed {
                field: Field::LooseOpen,
                ..
            }
        )
    };
    let found = taps(&ui::draw(&phone.model)).into_iter().find(opens);
    phone.acts(found.expect("a loose end"));
    assert_eq!(phone.model.screen(), Some(Screen::Loose));
    assert_ne!(phone.model.fields.get(Field::LooseOpen), "");
}

#[test]
fn a_disputed_wall_end_says_so_in_words_wherever_its_outlet_is_drawn() {
    let mut lines = marrowby::lines();
    let phone = |writer| {
        let mut journal = Journal::new(marrowby::JOB, WriterId(Bits80([writer; 10])));
        journal.take(lines.iter().map(String::as_str));
        journal
    };
    let [mut one, mut other] = [7, 8].map(phone);
    let cable = one
        .registry()
        .index
        .cables_by_code
        .get(&"AHAL1-A".to_owned())[0];
    let end = End::whole(cable, Side::Near);
    let (kept, reason) = ("coiled in the box".to_owned(), "no device yet".to_owned());
    for (journal, want) in [
        (&mut one, Want::Lift { end }),
        (&mut other, Want::Spare { end, kept, reason }),
    ] {
        let draft = command::draft(&want, journal).unwrap_or_else(|no| panic!("{want:?}: {no:?}"));
        let signature = Signature {
            by: "TH".to_owned(),
            wall: WallTime(0),
        };
        journal.write(draft, signature).expect("a number is left");
    }
    one.take(other.lines());
    let name = one
        .registry()
        .cables
        .get(cable)
        .and_then(|row| row.name.get());
    let Some(RunName::Feeds { outlet, .. }) = name.copied() else {
        panic!("{name:?} feeds an outlet");
    };
    lines = one.lines().iter().map(ToString::to_string).collect();
    let mut phone = Phone::with(marrowby::JOB, lines);
    let texts = texts(&phone.shows(Screen::Outlet(outlet)));
    let said = texts.iter().filter(|text| *text == "disputed");
    assert_eq!(said.count(), 2, "on the plate and in the row: {texts:?}");
}

#[test]
fn what_an_outlet_waits_for_its_slack_and_its_change_order_are_shown_where_they_matter() {
    let mut phone = Phone::demo();
    let registry = phone.model.registry().expect("a job");
    let cable = registry.index.cables_by_code.get(&"AHAL1-A".to_owned())[0];
    let name = registry.cables.get(cable).and_then(|row| row.name.get());
    let Some(RunName::Feeds { outlet, .. }) = name.copied() else {
        panic!("{name:?} feeds an outlet");
    };
    let numbered = registry
        .outlets
        .get(outlet)
        .and_then(|row| row.number.get());
    let room = numbered.expect("a room").room;
    let slack = Slack {
        length: Some(Millimetres(610)),
        place: "in the box".to_owned(),
    };
    let waiting = Waiting {
        whom: WaitsFor::Builder,
        words: "Stud or tile?".to_owned(),
    };
    let order = "CO 7".to_owned();
    for want in [
        Want::LeaveSlack { outlet, slack },
        Want::LetOutletWait { outlet, waiting },
        Want::OrderOutlet { outlet, order },
    ] {
        phone.acts(Action::Do { want, then: None });
    }
    let waits = "question for the builder: Stud or tile?";
    // 610 mm is 24.02 in, by 25.4 mm to the inch.
    for (screen, expected) in [
        (Screen::Room(room), [waits, "", ""]),
        (
            Screen::Outlet(outlet),
            [waits, "slack 2′ in the box", "change order CO 7"],
        ),
        (
            Screen::Cable(cable),
            [
                "Question for the builder: Stud or tile?",
                "Slack 2′ in the box",
                "Change order CO 7",
            ],
        ),
    ] {
        let texts = texts(&phone.shows(screen));
        for words in expected {
            let said = texts.iter().any(|text| text.contains(words));
            assert!(said, "{screen:?}: {words}: {texts:?}");
        }
    }
}

#[test]
fn every_part_of_an_outlet_and_of_its_cables_can_be_used_by_everybody() {
    let mut phone = Phone::demo();
    let registry = phone.model.registry().expect("a job");
    let rooms = walk::rooms(registry).into_iter();
    let outlets = rooms.flat_map(|room| walk::outlets(registry, room));
    let fullest = outlets.max_by_key(|outlet| walk::fed(registry, *outlet).len());
    let outlet = fullest.expect("an outlet");
    let cable = walk::fed(registry, outlet)[0];
    phone.shows(Screen::Outlet(outlet));
    let row = Action::Submit(Form::Wall(WallForm::OpenRow(cable)));
    phone.acts(row);
    let is_part = |action: &Action| {
        matches!(
            action,
            Action::Submit(Form::Wall(WallForm::OpenPart { .. }))
        )
    };
    let mut parts = taps(&ui::draw(&phone.model));
    parts.retain(is_part);
    assert_eq!(parts.len(), 24, "all parts: {parts:?}");
    for part in parts {
        phone.acts(part.clone());
        let drawing = ui::draw(&phone.model);
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{part:?}");
        let rows = count(&drawing, "li");
        assert!(rows <= 60, "{part:?}: {rows} rows");
        phone.acts(part);
    }
}

#[test]
fn the_job_says_which_ends_are_meant_by_marked() {
    let texts = texts(&Phone::demo().shows(Screen::Job));
    let count = |words: &str| texts.iter().filter(|text| *text == words).count();
    // The whole job and what is in no room; every other row is a room.
    assert_eq!(count("marked at both ends"), 2);
    assert!(count("marked here") > 10);
    assert_eq!(count("marked"), 0);
}

#[test]
fn the_pull_sheet_says_what_no_box_gives_and_how_boxes_are_told_apart() {
    let mut phone = Phone::demo();
    let numbers = (1..=99).filter(|number| {
        let registry = phone.model.registry().expect("a job");
        registry.job.boxes.get(number).is_some()
    });
    let numbers: Vec<u16> = numbers.collect();
    let medium = None;
    for number in numbers {
        let medium = medium.clone();
        let want = Want::HoldBox { number, medium };
        phone.acts(Action::Do { want, then: None });
    }
    let told = |phone: &mut Phone| texts(&phone.shows(Screen::PullSheet)).join("\n");
    let text = told(&mut phone);
    assert!(text.contains("No box is at hand"), "{text}");
    assert!(text.contains("No box here holds"), "{text}");
    assert!(text.contains("1970-01-01"), "{text}");
    for number in [2, 7] {
        let medium = Some(Medium::indoor(Kind::Cat6Utp));
        let want = Want::HoldBox { number, medium };
        phone.acts(Action::Do { want, then: None });
    }
    let text = told(&mut phone);
    for words in [
        "Box 2: Cat 6 U/UTP, 2 rings",
        "Box 7: Cat 6 U/UTP, write the number, rings would be too many",
        "Sheet 1 of",
        "No box here holds",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

#[test]
fn where_all_is_pulled_no_sheet_is_offered_and_no_tag_is_missed() {
    let mut phone = Phone::demo();
    let sheet = "Pull sheet to print";
    let none = "No cable is still to be pulled. Choose another kind above.";
    let has = |phone: &mut Phone, screen, words: &str| {
        texts(&phone.shows(screen)).contains(&words.to_owned())
    };
    assert!(has(&mut phone, Screen::Pull, sheet));
    for cable in walk::cables(phone.model.registry().expect("a job")) {
        let (cables, outcome) = (vec![cable], PullOutcome::Pulled);
        let want = Want::ReportPull { cables, outcome };
        phone.acts(Action::Do { want, then: None });
    }
    assert!(has(&mut phone, Screen::Pull, "Every cable is pulled."));
    assert!(!has(&mut phone, Screen::Pull, sheet));
    let asked = update(&mut phone.model, Action::Go(Screen::Tags), &phone.world);
    for effect in asked {
        if let Effect::Papers { what, order } = effect {
            let order = Order::read(&order).expect("an order");
            let came = Ok(Some(look(&order).to_string().into_bytes()));
            phone.acts(Action::Tags(TagAction::Came(what, came)));
        }
    }
    let told = texts(&ui::draw(&phone.model));
    assert!(told.contains(&none.to_owned()), "{told:?}");
}

#[test]
fn the_wall_says_which_cables_it_counts() {
    let lead = texts(&Phone::demo().shows(Screen::Wall));
    let words = "cables to outlets marked at the wall.";
    assert!(lead.iter().any(|text| text.ends_with(words)), "{lead:?}");
}

#[test]
fn a_large_job_never_makes_a_long_page() {
    let mut phone = Phone::with(large::JOB, large_job(3000, 1));
    for screen in phone.screens(2) {
        let drawing = phone.shows(screen);
        let rows = count(&drawing, "li");
        assert!(rows <= 60, "{screen:?}: {rows} rows");
    }
    phone.acts(Action::Go(Screen::Find));
    for text in ["", "R", "1", "A", "sofa"] {
        phone.acts(Action::Typed {
            field: Field::Find,
            text: text.to_owned(),
        });
        let rows = count(&ui::draw(&phone.model), "li");
        assert!(rows <= 60, "{text:?}: {rows} rows");
    }
}

#[test]
fn the_search_is_ready_before_the_first_key_and_finds_the_same() {
    let mut phone = Phone::with(large::JOB, large_job(3000, 1));
    let asks = |effects: &[Effect]| effects.contains(&Effect::PrepareSearch);
    let mut effects = update(&mut phone.model, Action::Go(Screen::Find), &phone.world);
    let mut rounds = 0;
    while asks(&effects) {
        effects = update(&mut phone.model, Action::PrepareSearch, &phone.world);
        rounds += 1;
    }
    assert!((4..20).contains(&rounds), "{rounds}");
    let open = phone.model.open.as_ref().expect("a job");
    let registry = open.journal.registry();
    let whole = SearchIndex::build(registry);
    for text in ["r1", "r12", "data", "1", "a01"] {
        let search = |index| search(index, registry, large::JOB, text);
        assert_eq!(search(open.search_index()), search(&whole), "{text}");
    }
}
