//! Scanning on a phone: from a text that was read to the screen that answers, and the camera with it.

use bothends::app::ports::Found;
use bothends::app::racks;
use bothends::app::scan::{Abilities, Camera, CameraAsk, Hint, NoCamera, ScanAction, stand};
use bothends::app::{Action, Effect, Field, Model, Notice, Purpose, Route, Screen};
use bothends::codes::tag::{JobKey, TagText, Tagged};
use bothends::command::{Laid, Want};
use bothends::domain::ids::{Bits80, CableId, JobId, OutletId, PanelId, RackId};
use bothends::domain::label::{PanelLetters, PositionNumber, SpaceCode};
use bothends::domain::medium::Connector;
use bothends::domain::place::{ConduitEnd, Face, Position, Side};
use bothends::domain::work::Lying;
use bothends::exchange::jobfile;
use bothends::journal::{PanelMake, PanelSize};
use bothends::query::find::Target;
use bothends::query::rack;
use bothends::query::room_of;
use bothends::query::scan::Stand;
use bothends::ui::{self, Html};
use bothends::view::{Node, Touch};
use bothends::walk;

use super::phone::Phone;
use crate::support::tag_text::tag_text;

/// A phone with an outlet of four cables, at its screen.
pub(super) fn phone() -> (Phone, OutletId) {
    let mut phone = Phone::new();
    let room = phone.room("Kitchen");
    let outlet = phone.outlet(room, "tv");
    (phone, outlet)
}

pub(super) fn cable(phone: &Phone, code: &str) -> CableId {
    let registry = phone.model.registry().expect("a job");
    registry.index.cables_by_code.get(&code.to_owned())[0]
}

fn tag(phone: &Phone, code: &str) -> String {
    let open = phone.model.open.as_ref().expect("a job");
    tag_text(&open.journal, cable(phone, code))
}

fn scans(phone: &mut Phone, text: &str) -> Vec<Effect> {
    let read = ScanAction::Read(vec![text.to_owned()]);
    phone.acts(Action::Scan(read))
}

/// Opens the scanner with a camera that works.
fn opens(phone: &mut Phone) {
    let effects = phone.acts(Action::Go(Screen::Scan));
    let asked = |effect: &Effect| matches!(effect, Effect::Camera(CameraAsk::Start(_)));
    assert_eq!(effects.iter().filter(|effect| asked(effect)).count(), 1);
    let on = ScanAction::Started(Ok(Abilities::read("torch zoom 1\na\tBack\t*\nb\tFront\t")));
    assert_eq!(phone.acts(Action::Scan(on)), []);
}

pub(super) fn words(phone: &Phone) -> String {
    words_of(&ui::draw(&phone.model))
}

fn words_of(drawing: &Html) -> String {
    let mut words = String::new();
    drawing.each(&mut |element| {
        for node in &element.inside {
            if let Node::Text(text) = node {
                words.push_str(text);
                words.push('\n');
            }
        }
    });
    words
}

/// What the answer says, without the screen below it.
pub(super) fn answer_words(phone: &Phone) -> String {
    let mut words = String::new();
    ui::draw(&phone.model).each(&mut |element| {
        if element.attribute("class") == Some("scanned") {
            words = element.inside.iter().map(words_of).collect();
        }
    });
    words
}

fn seen(phone: &Phone, code: &str, side: Side) -> Vec<String> {
    let id = cable(phone, code);
    let row = phone
        .model
        .registry()
        .and_then(|registry| registry.cables.get(id));
    let record = row.and_then(|row| row.end(id, side));
    record.map_or_else(Vec::new, |record| {
        record.seen.iter().map(|said| said.value.clone()).collect()
    })
}

#[test]
fn a_scan_at_an_outlet_answers_in_one_screen_and_notes_what_was_seen() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    let text = tag(&phone, "KIT1-B");
    let effects = scans(&mut phone, &text);
    assert!(effects.contains(&Effect::Signal(true)));
    assert!(
        effects.contains(&Effect::Camera(CameraAsk::Stop)),
        "the camera rests"
    );
    assert_eq!(
        phone.model.screen(),
        Some(Screen::Cable(cable(&phone, "KIT1-B")))
    );
    assert_eq!(seen(&phone, "KIT1-B", Side::Near), ["KIT1"]);
    assert!(
        matches!(&phone.model.notice, Some(Notice::Done { words, .. }) if words.contains("KIT1-B"))
    );
    let words = words(&phone);
    assert!(words.contains("You stand at KIT1."), "{words}");
    assert!(words.contains("The other end: "), "{words}");
    // The same once more notes nothing anew; a tag that is still in view is not asked for at once.
    let effects = phone.acts(Action::Scan(ScanAction::Again));
    assert!(!effects.contains(&Effect::Camera(CameraAsk::Anew)));
    assert!(matches!(phone.model.scan.from, Some(Screen::Outlet(_))));
    scans(&mut phone, &text);
    assert_eq!(seen(&phone, "KIT1-B", Side::Near).len(), 1);
    // Whoever goes elsewhere leaves the answer behind.
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Go(Screen::Cable(cable(&phone, "KIT1-B"))));
    assert!(phone.model.scan.answer.is_none());
}

#[test]
fn where_one_stands_is_asked_when_nothing_says_so() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Go(Screen::Job));
    opens(&mut phone);
    let text = tag(&phone, "KIT1-A");
    scans(&mut phone, &text);
    assert!(words(&phone).contains("Where do you stand?"));
    assert_eq!(seen(&phone, "KIT1-A", Side::Near), [""; 0]);
    phone.acts(Action::Scan(ScanAction::StandAt(Stand::Outlet(outlet))));
    assert_eq!(seen(&phone, "KIT1-A", Side::Near), ["KIT1"]);
    assert!(words(&phone).contains("You stand at KIT1."));
}

#[test]
fn a_tail_that_is_scanned_at_the_rack_is_in_the_hand() {
    let (mut phone, _) = phone();
    let code = "KIT1-A";
    adds_rack(&mut phone, 1, "Main rack");
    phone.acts(Action::Go(Screen::Rack));
    opens(&mut phone);
    let text = tag(&phone, code);
    scans(&mut phone, &text);
    let id = cable(&phone, code);
    assert_eq!(phone.model.screen(), Some(Screen::HandCable(id)));
    assert_eq!(seen(&phone, code, Side::Far), ["Main rack"]);
    let words = words(&phone);
    assert!(words.contains("You stand at Main rack."), "{words}");
}

#[test]
fn a_walk_needs_no_tap_between_good_tags() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    phone.acts(Action::Scan(ScanAction::Walk(true)));
    for code in ["KIT1-A", "KIT1-B", "KIT1-C"] {
        let text = tag(&phone, code);
        scans(&mut phone, &text);
        assert_eq!(phone.model.screen(), Some(Screen::Scan));
        assert!(matches!(phone.model.scan.camera, Camera::On(_)));
        assert_eq!(seen(&phone, code, Side::Near), ["KIT1"]);
    }
    assert_eq!(phone.model.scan.passed.len(), 3);
    // What is no tag of ours is said in passing, and the walk goes on.
    scans(&mut phone, "http://example.org/");
    assert!(words(&phone).contains("“http://example.org/” is not one of our tags."));
    assert!(!phone.model.scan.passed[0].good);
    assert!(phone.model.scan.answer.is_none());
    assert!(matches!(phone.model.scan.camera, Camera::On(_)));
    // So is the tag of another job: old cables often hang beside the new ones.
    let other = TagText {
        job_key: JobKey::of(JobId(Bits80(*b"elsewhere!"))),
        ..TagText::read(&tag(&phone, "KIT1-A")).expect("a tag")
    };
    scans(&mut phone, &other.to_string());
    assert!(words(&phone).contains("is a tag of another job."));
    assert!(phone.model.scan.answer.is_none());
    // A tag that is damaged stops the walk with what it may be.
    let text = tag(&phone, "KIT1-D");
    let last = if text.ends_with('7') { '8' } else { '7' };
    scans(&mut phone, &format!("{}{last}", &text[..text.len() - 1]));
    assert!(words(&phone).contains("Perhaps it is one of these:"));
}

#[test]
fn both_ends_are_drawn_while_where_one_stands_is_asked() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Go(Screen::Job));
    opens(&mut phone);
    let text = tag(&phone, "KIT1-A");
    scans(&mut phone, &text);
    let mut drawn = 0;
    ui::draw(&phone.model).each(&mut |element| {
        drawn += usize::from(element.attribute("class") == Some("jack-here"));
    });
    assert_eq!(drawn, 1, "the jack is marked on its plate");
    assert!(
        words(&phone).contains("Jack A of KIT1"),
        "{}",
        words(&phone)
    );
    phone.acts(Action::Scan(ScanAction::StandAt(Stand::Outlet(outlet))));
    assert!(words(&phone).contains("The other end: "));
}

#[test]
fn why_nothing_is_read_is_said_with_the_light_where_there_is_one() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    for (word, said) in [
        ("dark", "Too dark: use the light below."),
        ("far", "There is a code, too small to read. Go nearer."),
        ("", "Hold the tag flat in view"),
    ] {
        phone.acts(Action::Scan(ScanAction::Hint(Hint::of(word))));
        assert!(words(&phone).contains(said), "{}", words(&phone));
    }
}

#[test]
fn a_camera_that_is_still_awake_keeps_its_light_and_how_near_it_is() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    assert!(
        words(&phone).contains("Light on\nLarger\n"),
        "{}",
        words(&phone)
    );
    phone.acts(Action::Go(Screen::Find));
    phone.acts(Action::Go(Screen::Scan));
    let abilities = Abilities::read("torch lit zoom 2\na\tBack\t*");
    phone.acts(Action::Scan(ScanAction::Started(Ok(abilities))));
    assert!(
        words(&phone).contains("Light off\n2 times as large\n"),
        "{}",
        words(&phone)
    );
    let effects = phone.acts(Action::Scan(ScanAction::Torch));
    assert_eq!(effects, [Effect::Camera(CameraAsk::Torch(false))]);
    // One that slept shows things as they are, in the light that there is.
    phone.acts(Action::Go(Screen::Find));
    opens(&mut phone);
    assert!(
        words(&phone).contains("Light on\nLarger\n"),
        "{}",
        words(&phone)
    );
}

#[test]
fn the_tag_that_asked_for_a_job_file_is_answered_from_it() {
    let (phone, _) = phone();
    let text = tag(&phone, "KIT1-A");
    let open = phone.model.open.as_ref().expect("a job");
    let file = jobfile::write(open.journal.job(), open.name(), open.journal.lines());
    for typed in [false, true] {
        let mut other = Phone::new();
        other.model = Model::default();
        other.acts(Action::ToScan);
        if typed {
            other.types(Field::ScanText, "kit1a");
            other.acts(Action::Scan(ScanAction::Typed));
            assert!(words(&other).contains("By its form it names cable A of outlet 1"));
        } else {
            scans(&mut other, &text);
        }
        assert!(words(&other).contains("Open a job file"));
        let picked = Action::FilePicked {
            purpose: Purpose::JobFile,
            name: "marrowby-mill.jobfile.txt".to_owned(),
            bytes: file.clone().into_bytes(),
        };
        let effects = other.acts(picked);
        let read = effects.iter().find_map(|effect| match effect {
            Effect::ReadJob(job) => Some(*job),
            _ => None,
        });
        let lines = Ok(Found {
            items: Vec::new(),
            unreadable: 0,
        });
        let job = read.expect("the job is read");
        other.acts(Action::JobRead { job, lines });
        assert_eq!(other.model.screen(), Some(Screen::Incoming));
        other.acts(Action::TakeIn);
        let id = cable(&other, "KIT1-A");
        assert_eq!(other.model.screen(), Some(Screen::Cable(id)));
        assert!(other.model.scan.answer.is_some());
        // What is not read here and now says nothing of where the tag is.
        assert_eq!(seen(&other, "KIT1-A", Side::Near), [""; 0]);
    }
}

#[test]
fn the_tag_of_a_place_says_where_one_stands() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Go(Screen::Job));
    opens(&mut phone);
    assert_eq!(stand(&phone.model), Stand::Unknown);
    let open = phone.model.open.as_ref().expect("a job");
    let text = TagText {
        tagged: Tagged::Outlet(open.journal.registry().outlet_code(outlet).expect("a code")),
        job_key: JobKey::of(open.journal.job()),
    };
    scans(&mut phone, &text.to_string());
    assert_eq!(phone.model.screen(), Some(Screen::Outlet(outlet)));
    assert_eq!(stand(&phone.model), Stand::Outlet(outlet));
}

#[test]
fn the_tag_of_a_conduit_or_a_box_shows_all_cables_of_it() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Go(Screen::Job));
    let laid = Laid {
        ends: [
            ConduitEnd::Outlet(outlet),
            ConduitEnd::Words("the attic".to_owned()),
        ],
        size: String::new(),
        note: String::new(),
    };
    let does = |phone: &mut Phone, want| {
        phone.acts(Action::Do { want, then: None });
    };
    does(
        &mut phone,
        Want::LayConduit {
            conduit: None,
            number: None,
            laid,
        },
    );
    let registry = phone.model.registry().expect("a job");
    let conduit = registry.conduits_numbered(1)[0];
    let [first, second] = ["KIT1-A", "KIT1-C"].map(|code| cable(&phone, code));
    let lying = Lying::In;
    does(
        &mut phone,
        Want::PassConduit {
            cable: first,
            conduit,
            lying,
        },
    );
    let number = 3;
    does(
        &mut phone,
        Want::DrawFrom {
            cable: second,
            number,
        },
    );
    for (tagged, screen, shown, not_shown) in [
        (Tagged::Conduit(1), Screen::Racks, "KIT1-A", "KIT1-C"),
        (Tagged::Box(3), Screen::Pull, "KIT1-C", "KIT1-A"),
    ] {
        phone.acts(Action::Go(Screen::Job));
        opens(&mut phone);
        let open = phone.model.open.as_ref().expect("a job");
        let job_key = JobKey::of(open.journal.job());
        scans(&mut phone, &TagText { tagged, job_key }.to_string());
        assert_eq!(phone.model.screen(), Some(screen));
        let answer = answer_words(&phone);
        assert!(answer.contains("Its cables:"), "{answer}");
        let cables = answer.split("Its cables:").nth(1).unwrap_or_default();
        assert!(
            cables.contains(shown) && !cables.contains(not_shown),
            "{cables}"
        );
    }
}

#[test]
fn without_a_camera_there_is_a_way_round_which_is_explained_once() {
    let (mut phone, _) = phone();
    phone.acts(Action::Go(Screen::Scan));
    let refused = NoCamera::of("NotAllowedError", "Permission denied");
    let effects = phone.acts(Action::Scan(ScanAction::Started(Err(refused))));
    assert!(
        effects
            .iter()
            .any(|effect| matches!(effect, Effect::Keep { key: "camera", .. }))
    );
    assert!(words(&phone).contains("Pictures are read on this device and go nowhere."));
    // A photograph, and what was typed, lead to the same answer.
    phone.acts(Action::PickFile(Purpose::TagPhoto));
    let text = tag(&phone, "KIT1-A");
    phone.acts(Action::Scan(ScanAction::PhotoRead(Ok(Some(text)))));
    assert_eq!(
        phone.model.screen(),
        Some(Screen::Cable(cable(&phone, "KIT1-A")))
    );
    phone.acts(Action::Scan(ScanAction::Again));
    phone.types(Field::ScanText, "2b");
    phone.acts(Action::Scan(ScanAction::Typed));
    assert_eq!(phone.field(Field::ScanText), "2b", "what was typed stays");
    phone.types(Field::ScanText, "1b");
    phone.acts(Action::Scan(ScanAction::Again));
    phone.acts(Action::Scan(ScanAction::Typed));
    assert_eq!(
        phone.model.screen(),
        Some(Screen::Cable(cable(&phone, "KIT1-B")))
    );
    assert_eq!(phone.field(Field::ScanText), "");
}

#[test]
fn a_tag_that_is_read_before_any_job_is_open_opens_its_job() {
    let (phone, _) = phone();
    let text = tag(&phone, "KIT1-A");
    let open = phone.model.open.as_ref().expect("a job");
    let job = open.journal.job();
    let lines: Vec<String> = open
        .journal
        .lines()
        .into_iter()
        .map(str::to_owned)
        .collect();
    let card = bothends::app::ports::JobCard {
        id: job.0.to_string(),
        name: "Marrowby Mill".to_owned(),
    };
    let mut other = Phone::new();
    other.model = Model::default();
    let found = Found {
        items: vec![card],
        unreadable: 0,
    };
    other.acts(Action::JobsRead(Ok(found)));
    other.acts(Action::ToScan);
    assert_eq!(other.model.route, Route::Scan);
    let effects = scans(&mut other, &text);
    assert!(effects.contains(&Effect::ReadJob(job)), "{effects:?}");
    let found = Found {
        items: lines,
        unreadable: 0,
    };
    other.acts(Action::JobRead {
        job,
        lines: Ok(found),
    });
    assert_eq!(
        other.model.screen(),
        Some(Screen::Cable(cable(&other, "KIT1-A")))
    );
}

#[test]
fn what_a_camera_reads_is_seen_only_if_it_is_a_tag_to_the_letter() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    phone.acts(Action::Scan(ScanAction::Walk(true)));
    let whole = tag(&phone, "KIT1-A");
    // A character that reverses the reading, one without width, small letters, and the code alone.
    let odd = [
        format!("\u{202E}{whole}"),
        whole.replace('-', "\u{200B}-"),
        whole.replace(' ', "\u{FE0F} "),
        whole.to_lowercase(),
        "KIT1-A".to_owned(),
    ];
    for (count, text) in odd.iter().enumerate() {
        scans(&mut phone, text);
        let passed = &phone.model.scan.passed;
        assert_eq!(passed.len(), count + 1, "{text:?}");
        let words = &passed[0].words;
        assert!(!passed[0].good, "{text:?}: {words}");
        assert!(words.starts_with("KIT1-A: "), "{words}");
        assert!(words.contains("not noted as seen"), "{text:?}");
        assert!(seen(&phone, "KIT1-A", Side::Near).is_empty(), "{text:?}");
        let hides = text.chars().any(|character| u32::from(character) > 0x2000);
        assert_eq!(hides, words.contains("cannot be seen"), "{words}");
    }
    // What is well and what is to be looked at do not hide each other, in either order.
    scans(&mut phone, &whole);
    assert!(phone.model.scan.passed[0].good);
    assert_eq!(phone.model.scan.passed.len(), odd.len() + 1);
    assert_eq!(seen(&phone, "KIT1-A", Side::Near), ["KIT1"]);
    // So it is with the tag of another job that has the same codes, and with one of other copper.
    let read = TagText::read(&whole).expect("a tag");
    let other = TagText {
        job_key: JobKey::of(JobId(Bits80(*b"elsewhere!"))),
        ..read
    };
    let beside = TagText::read(&tag(&phone, "KIT1-B")).expect("a tag");
    let (Tagged::Run { code, .. }, Tagged::Run { pull, .. }) = (read.tagged, beside.tagged) else {
        panic!("two runs");
    };
    let old = TagText {
        tagged: Tagged::Run { code, pull },
        ..read
    };
    for (count, text) in [other, old].iter().enumerate() {
        scans(&mut phone, &text.to_string());
        let passed = &phone.model.scan.passed;
        assert!(!passed[0].good, "{}", passed[0].words);
        assert_eq!(passed.len(), odd.len() + 2 + count);
        assert_eq!(passed.iter().filter(|passed| passed.good).count(), 1);
    }
    // What is taken back is off the list, and is noted when it is seen again.
    let passed = phone.model.scan.passed.len();
    let text = tag(&phone, "KIT1-B");
    scans(&mut phone, &text);
    let Some(Notice::Done { act, .. }) = phone.model.notice.clone() else {
        panic!("nothing to undo");
    };
    let want = Want::Undo { act };
    phone.acts(Action::Do { want, then: None });
    assert_eq!(phone.model.scan.passed.len(), passed);
    assert!(seen(&phone, "KIT1-B", Side::Near).is_empty());
    scans(&mut phone, &text);
    assert_eq!(seen(&phone, "KIT1-B", Side::Near), ["KIT1"]);
    // Outside of a walk the same is said on the answer.
    phone.acts(Action::Scan(ScanAction::Walk(false)));
    scans(&mut phone, &whole.replace('-', "\u{200B}-"));
    assert!(answer_words(&phone).contains("It has characters that cannot be seen"));
}

#[test]
fn a_lookup_on_the_way_brings_no_place_back_that_was_left() {
    let (mut phone, outlet) = phone();
    let (rack, _) = with_rack(&mut phone);
    // At the rack, where a tag is scanned, then to the outlet by its room.
    phone.types(Field::OpenRack, &racks::key(Some(rack)));
    phone.acts(Action::Go(Screen::Rack));
    opens(&mut phone);
    assert_eq!(stand(&phone.model), Stand::Rack(rack));
    let room = room_of(phone.model.registry().expect("a job"), outlet).expect("a room");
    for screen in [Screen::Wall, Screen::Room(room), Screen::Outlet(outlet)] {
        phone.acts(Action::Go(screen));
    }
    // What is looked up there changes nothing.
    phone.acts(Action::Go(Screen::Find));
    let id = cable(&phone, "KIT1-C");
    phone.acts(Action::Go(Screen::Cable(id)));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(stand(&phone.model), Stand::Outlet(outlet));
    // What he says himself holds until he walks on.
    phone.acts(Action::Scan(ScanAction::StandAt(Stand::Rack(rack))));
    phone.acts(Action::Go(Screen::Find));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(stand(&phone.model), Stand::Rack(rack));
}

/// What is read aloud on request.
fn aloud(phone: &Phone) -> Vec<String> {
    let mut words = Vec::new();
    ui::draw(&phone.model).each(&mut |element| {
        for touch in &element.touches {
            if let Touch::Tap(Action::Say(said)) = touch {
                words.push(said.clone());
            }
        }
    });
    words
}

#[test]
fn in_a_room_a_tag_that_belongs_elsewhere_is_not_seen() {
    let (mut phone, outlet) = phone();
    let other = phone.room("Pantry");
    let room = room_of(phone.model.registry().expect("a job"), outlet).expect("a room");
    phone.acts(Action::Go(Screen::Room(room)));
    opens(&mut phone);
    assert_eq!(stand(&phone.model), Stand::Room(room));
    let text = tag(&phone, "KIT1-A");
    scans(&mut phone, &text);
    assert_eq!(seen(&phone, "KIT1-A", Side::Near), ["Kitchen"]);
    phone.acts(Action::Go(Screen::Room(other)));
    opens(&mut phone);
    let text = tag(&phone, "KIT1-B");
    scans(&mut phone, &text);
    assert!(answer_words(&phone).contains("does not come out here"));
    assert!(seen(&phone, "KIT1-B", Side::Near).is_empty());
}

#[test]
fn every_answer_can_be_heard_with_what_it_says() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Go(Screen::Outlet(outlet)));
    opens(&mut phone);
    for (text, heard) in [
        (tag(&phone, "KIT1-A"), "The other end:"),
        ("KIT1".to_owned(), "KIT1-B, "),
        ("http://example.org/".to_owned(), "not one of our tags"),
    ] {
        phone.acts(Action::Go(Screen::Scan));
        match text.contains("//") || text.contains(' ') {
            true => scans(&mut phone, &text),
            false => {
                phone.types(Field::ScanText, &text);
                phone.acts(Action::Scan(ScanAction::Typed))
            }
        };
        let said = aloud(&phone);
        assert!(
            said.iter().any(|words| words.contains(heard)),
            "{text}: {said:?}"
        );
    }
    // Without any job, too.
    let mut outside = Phone::another();
    outside.acts(Action::ToScan);
    scans(&mut outside, "KIT1-A HM26K4X9");
    assert!(!aloud(&outside).is_empty());
}

#[test]
fn a_strange_text_that_was_scanned_is_not_answered_as_if_it_were_typed() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    scans(&mut phone, "م ABED1");
    let words = answer_words(&phone);
    assert!(
        words.contains("This is not one of our tags. It reads “م ABED1”."),
        "{words}"
    );
    assert!(!words.contains("stands in no code"), "{words}");
    // What was typed is said as it was typed.
    for text in ["https://example.org/Tag", "ZZZZ9-A"] {
        phone.types(Field::ScanText, text);
        phone.acts(Action::Scan(ScanAction::Typed));
        let words = answer_words(&phone);
        assert!(words.contains(text), "{words}");
    }
    assert!(answer_words(&phone).contains("Nothing is called “ZZZZ9-A” here."));
}

#[test]
fn on_a_walk_what_is_typed_is_not_called_seen_and_a_place_does_not_stop_it() {
    let (mut phone, _) = phone();
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Go(Screen::Scan));
    phone.acts(Action::Scan(ScanAction::Walk(true)));
    for text in ["KIT1", "KIT1-A", "KIT1-A"] {
        phone.types(Field::ScanText, text);
        phone.acts(Action::Scan(ScanAction::Typed));
        assert_eq!(phone.model.screen(), Some(Screen::Scan), "{text}");
    }
    assert_eq!(phone.model.scan.passed.len(), 2, "one of a kind");
    assert!(!phone.model.scan.passed[0].good);
    assert!(words(&phone).contains("it is not noted as seen"));
    assert!(seen(&phone, "KIT1-A", Side::Near).is_empty());
    // The list is still there for whoever comes back to it.
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(phone.model.scan.passed.len(), 2);
}

fn adds_rack(phone: &mut Phone, floor: u8, name: &str) {
    let want = Want::AddRack {
        space: SpaceCode::new(floor, "A").expect("a space"),
        name: name.to_owned(),
        room: None,
    };
    phone.acts(Action::Do { want, then: None });
}

/// A phone whose rack A has a panel of 24 and no cable on it; it shows the rack.
fn with_rack(phone: &mut Phone) -> (RackId, PanelId) {
    adds_rack(phone, 1, "Main rack");
    let rack = walk::racks(phone.model.registry().expect("a job"))[0];
    let add = Want::AddPanel {
        rack,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(24).expect("a size"),
        },
        letters: PanelLetters::new("A").expect("letters"),
        unit: None,
    };
    phone.acts(Action::Do {
        want: add,
        then: None,
    });
    let racks = rack::racks(phone.model.registry().expect("a job"));
    let panel = racks[0].panels[0];
    (rack, panel)
}

#[test]
fn what_was_looked_up_is_not_where_one_stands() {
    let (mut phone, outlet) = phone();
    let (rack, panel) = with_rack(&mut phone);
    let position = Screen::Position {
        position: Position {
            panel,
            number: PositionNumber::new(7).expect("a number"),
        },
        face: Face::Rear,
    };
    // At the outlet, a position is looked up in the search and from a cable.
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Go(Screen::Outlet(outlet)));
    opens(&mut phone);
    assert_eq!(stand(&phone.model), Stand::Outlet(outlet));
    for from in [Screen::Find, Screen::Cable(cable(&phone, "KIT1-A"))] {
        phone.acts(Action::Go(from));
        phone.acts(Action::Go(position));
        phone.acts(Action::Go(Screen::Scan));
        assert_eq!(stand(&phone.model), Stand::Outlet(outlet), "{from:?}");
    }
    // The code of a position that is typed is looked up too.
    phone.types(Field::ScanText, "A07");
    phone.acts(Action::Scan(ScanAction::Typed));
    assert_eq!(phone.model.screen(), Some(position));
    phone.acts(Action::Scan(ScanAction::Again));
    assert_eq!(stand(&phone.model), Stand::Outlet(outlet));
    // Whoever comes to it through its rack stands there.
    phone.acts(Action::Go(Screen::Rack));
    phone.acts(Action::Go(position));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(stand(&phone.model), Stand::Rack(rack));
    // So does whoever looks into it in the list of several.
    adds_rack(&mut phone, 2, "Annex");
    phone.acts(Action::Scan(ScanAction::StandAt(Stand::Unknown)));
    phone.acts(Action::Go(Screen::Rack));
    phone.types(Field::OpenRack, &racks::key(Some(rack)));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(stand(&phone.model), Stand::Rack(rack));
    // An outlet that is looked up from there, and left again, changes nothing.
    phone.acts(Action::Go(Screen::Find));
    phone.acts(Action::Go(Screen::Outlet(outlet)));
    phone.acts(Action::Go(Screen::Scan));
    assert_eq!(stand(&phone.model), Stand::Rack(rack));
}

#[test]
fn a_tag_is_understood_however_its_text_is_spaced() {
    let (mut phone, _) = phone();
    let text = tag(&phone, "KIT1-A");
    let (code, group) = text.split_once(' ').expect("two parts");
    let (key, rest) = group.split_at(5);
    opens(&mut phone);
    for spelled in [
        [code, group].concat(),
        format!("{code} {key} {rest}"),
        format!("{} {key}{rest}", code.to_lowercase()),
    ] {
        phone.types(Field::ScanText, &spelled);
        phone.acts(Action::Scan(ScanAction::Typed));
        let shown = Some(Screen::Cable(cable(&phone, "KIT1-A")));
        assert_eq!(phone.model.screen(), shown, "{spelled}");
        phone.acts(Action::Scan(ScanAction::Again));
    }
    // A camera that reads such a text reads no tag of ours: nothing is noted.
    scans(&mut phone, &[code, group].concat());
    assert_eq!(seen(&phone, "KIT1-A", Side::Near), [""; 0]);
    phone.acts(Action::Scan(ScanAction::Again));
    // Its head alone offers it.
    phone.types(Field::ScanText, &format!("{code} {key}"));
    phone.acts(Action::Scan(ScanAction::Typed));
    let answer = phone.model.scan.answer.as_ref().expect("an answer");
    let offered = answer.nearest.first().or(answer.targets.first());
    let expected = Target::Cable(cable(&phone, "KIT1-A"));
    assert_eq!(offered, Some(&expected));
}

#[test]
fn a_leg_of_an_end_that_is_not_split_is_said_to_be_none() {
    let (mut phone, _) = phone();
    opens(&mut phone);
    phone.types(Field::ScanText, "KIT1-A.1");
    phone.acts(Action::Scan(ScanAction::Typed));
    let words = answer_words(&phone);
    assert!(words.contains("KIT1-A has none of that number"), "{words}");
    let answer = phone.model.scan.answer.as_ref().expect("an answer");
    assert!(!answer.void, "nothing is wrong with its tag");
}

#[test]
fn what_is_typed_and_means_two_things_is_answered_as_the_first_and_offers_the_other() {
    let (mut phone, outlet) = phone();
    let (rack, _) = with_rack(&mut phone);
    phone.acts(Action::Go(Screen::Wall));
    phone.acts(Action::Go(Screen::Outlet(outlet)));
    opens(&mut phone);
    // In this room a cable, in the job a space.
    phone.types(Field::ScanText, "1A");
    phone.acts(Action::Scan(ScanAction::Typed));
    let answer = phone.model.scan.answer.as_ref().expect("an answer");
    let cable = Target::Cable(cable(&phone, "KIT1-A"));
    assert_eq!(answer.targets, [cable, Target::Rack(rack)]);
    let words = answer_words(&phone);
    assert!(words.contains("The other end: "), "{words}");
    assert!(words.contains("Or was this meant?"), "{words}");
}
