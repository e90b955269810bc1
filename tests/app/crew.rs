//! Two phones on one job: what a file would bring is seen before it is taken in, both sides of a
//! disagreement are kept, and each phone remembers what is on it alone and where others worked.

use std::rc::Rc;

use bothends::app::mend::clocks;
use bothends::app::ports::{Found, PictureBytes};
use bothends::app::wall::WallForm;
use bothends::app::{
    Action, Ask, Crew, Effect, Field, Form, JobList, Notice, PackAction, Person, PictureAction,
    Purpose, Question, Route, Screen, TakeOut, alone,
};
use bothends::command::Want;
use bothends::domain::ids::{JobId, RoomId};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::picture::{Digest, Shows};
use bothends::journal::picture_digest;
use bothends::view::Node;

use super::phone::Phone;

/// The job file that a phone gives out, and that it left.
fn file_of(phone: &mut Phone) -> Vec<u8> {
    let mut effects = phone.acts(Action::TakeOut(TakeOut::JobFile));
    let Some(Effect::HandOut { bytes, records, .. }) = effects.pop() else {
        panic!("no file");
    };
    let job = phone.model.open.as_ref().expect("a job").journal.job();
    phone.acts(Action::GivenOut { job, records });
    // It may lie beside the app on the same device.
    let Some(Notice::Told(words)) = &phone.model.notice else {
        panic!("nothing told");
    };
    assert!(
        words.contains("only once it lies on another device"),
        "{words}"
    );
    bytes
}

/// Opens a file; where the job is not there yet, nothing is stored of it.
fn opens(phone: &mut Phone, bytes: Vec<u8>) -> Vec<Effect> {
    let effects = phone.acts(Action::FilePicked {
        purpose: Purpose::JobFile,
        name: "mill.jobfile.txt".to_owned(),
        bytes,
    });
    let reads = effects.iter().find_map(|effect| match effect {
        Effect::ReadJob(job) => Some(*job),
        _ => None,
    });
    let Some(job) = reads else {
        return effects;
    };
    let lines = Ok(Found {
        items: Vec::new(),
        unreadable: 0,
    });
    phone.acts(Action::JobRead { job, lines })
}

pub(super) fn records(phone: &Phone) -> usize {
    phone.model.open.as_ref().expect("a job").journal.len()
}

fn called(phone: &mut Phone, initials: &str) {
    phone.model.person.initials = initials.to_owned();
}

/// Two phones that know one room; the second has its own writer.
pub(super) fn two() -> (Phone, Phone) {
    let mut first = Phone::new();
    called(&mut first, "PW");
    first.room("Kitchen");
    let mut second = Phone::another();
    called(&mut second, "TH");
    opens(&mut second, file_of(&mut first));
    second.acts(Action::TakeIn);
    assert_eq!(second.model.screen(), Some(Screen::Wall));
    (first, second)
}

pub(super) fn adds_outlet(phone: &mut Phone) {
    let rooms = bothends::query::wall::walls(phone.model.registry().expect("a job")).rooms;
    let kind = OutletKind::usual("tv").expect("a usual type");
    let room = rooms[0].room;
    phone.sends(WallForm::AddOutlet { room, kind });
}

#[test]
fn what_would_come_in_is_shown_before_anything_does() {
    let (mut first, mut second) = two();
    adds_outlet(&mut second);
    adds_outlet(&mut first);
    let before = records(&first);
    first.acts(Action::Go(Screen::Punch));
    let effects = opens(&mut first, file_of(&mut second));
    assert!(
        !effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)))
    );
    assert_eq!(records(&first), before);
    assert_eq!(first.model.screen(), Some(Screen::Incoming));
    let incoming = first.model.incoming.as_ref().expect("something comes");
    assert_eq!(incoming.people, [("TH, phone CNJP".to_owned(), 1)]);
    assert_eq!((incoming.fresh(), incoming.here), (1, before - 1));
    // Both gave the number 1 in one room, and so the same codes to their cables.
    assert!(
        incoming
            .disagreements
            .iter()
            .any(|words| words == "2 outlets are called KIT1."),
        "{:?}",
        incoming.disagreements
    );
    assert_eq!(incoming.rooms.len(), 1);
    assert_eq!(incoming.rooms[0].1, "TH, phone CNJP");

    let effects = first.acts(Action::TakeIn);
    assert!(
        effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)))
    );
    assert_eq!(records(&first), before + 1);
    assert_eq!(
        first.model.screen(),
        Some(Screen::Punch),
        "back where he was"
    );
    assert_eq!(
        first.model.notice,
        Some(Notice::Told("1 new record was taken in.".to_owned()))
    );
    // A second tap does nothing.
    assert_eq!(first.acts(Action::TakeIn), []);
}

fn has(effects: &[Effect], what: fn(&Effect) -> bool) -> bool {
    effects.iter().any(what)
}

#[test]
fn a_phone_without_the_job_looks_before_anything_is_kept() {
    let (mut first, _) = two();
    adds_outlet(&mut first);
    let file = file_of(&mut first);
    let stores = |effect: &Effect| matches!(effect, Effect::Save(_) | Effect::PutJob(_));
    let mut third = Phone::another();
    let list = Ok(Found {
        items: Vec::new(),
        unreadable: 0,
    });
    third.acts(Action::JobsRead(list));
    let effects = opens(&mut third, file.clone());
    assert!(!has(&effects, stores));
    assert!(has(&effects, |effect| matches!(
        effect,
        Effect::ReplaceHash(_)
    )));
    assert_eq!(third.model.screen(), Some(Screen::Incoming));
    let incoming = third.model.incoming.as_ref().expect("something comes");
    assert!(incoming.is_new);
    assert_eq!(
        incoming.people.last(),
        Some(&("PW, phone 0810".to_owned(), 2))
    );
    assert_eq!(incoming.kinds, ["1 room", "1 outlet", "4 cables"]);
    assert_eq!(incoming.room_names, ["Kitchen: PW, phone 0810"]);
    assert_eq!(incoming.missing, [""; 0]);

    let effects = third.acts(Action::LeaveIt);
    assert!(!has(&effects, stores));
    assert_eq!(third.model.route, Route::Jobs);
    assert_eq!(third.model.jobs, JobList::Here(Vec::new()));
    let told = third.model.notice.clone();
    assert!(
        matches!(told, Some(Notice::Told(words)) if words.starts_with("Nothing was taken in."))
    );

    opens(&mut third, file);
    let effects = third.acts(Action::TakeIn);
    // The list and the lines are stored together or not at all.
    let together = |effect: &Effect| matches!(effect, Effect::Save(batch) if batch.listed.is_some() && !batch.lines.is_empty());
    assert!(has(&effects, together));
    assert_eq!(third.model.screen(), Some(Screen::Wall));
    assert_eq!(records(&third), 3);
    // Whoever worked there last may be there still.
    assert_eq!(
        third.model.crew.in_room(job_of(&third), room_of(&third)),
        Some("PW, phone 0810")
    );
}

/// Whether some words stand on the screen.
fn shows(phone: &Phone, words: &str) -> bool {
    let mut found = false;
    bothends::ui::draw(&phone.model).each(&mut |element| {
        for node in &element.inside {
            found |= matches!(node, Node::Text(text) if text.contains(words));
        }
    });
    found
}

fn job_of(phone: &Phone) -> JobId {
    phone.model.open.as_ref().expect("a job").journal.job()
}

fn room_of(phone: &Phone) -> RoomId {
    bothends::query::wall::walls(phone.model.registry().expect("a job")).rooms[0].room
}

#[test]
fn what_a_file_lacks_is_said_before_it_comes_in_and_where_the_job_begins() {
    let (mut first, _) = two();
    adds_outlet(&mut first);
    adds_outlet(&mut first);
    let open = first.model.open.as_ref().expect("a job");
    // The second line adds the room that the others speak of.
    let mut lines = open.journal.lines();
    lines.remove(1);
    let text = bothends::exchange::jobfile::write(open.journal.job(), open.name(), lines);
    let mut third = Phone::another();
    opens(&mut third, text.into_bytes());
    let incoming = third.model.incoming.as_ref().expect("something comes");
    assert_eq!((incoming.waits, incoming.fresh()), (2, 3));
    let waits = "2 records wait for the work of another phone.";
    let lacks = "1 record is missing, of the work of PW, phone 0810.";
    assert!(
        incoming.missing[0].starts_with(waits),
        "{:?}",
        incoming.missing
    );
    assert!(
        incoming.missing[1].starts_with(lacks),
        "{:?}",
        incoming.missing
    );
    assert!(shows(&third, lacks));
    assert!(shows(
        &third,
        "that cannot be used until what is missing comes"
    ));
    third.acts(Action::TakeIn);
    assert_eq!(third.model.screen(), Some(Screen::Wall));
    assert!(shows(&third, waits) && shows(&third, lacks));
    opens(&mut third, file_of(&mut first));
    third.acts(Action::TakeIn);
    third.acts(Action::Go(Screen::Wall));
    assert!(!shows(&third, waits) && !shows(&third, lacks));
}

#[test]
fn a_file_of_another_job_says_so_before_it_leads_there() {
    let (mut first, mut second) = two();
    adds_outlet(&mut first);
    let file = file_of(&mut first);
    second.types(Field::JobName, "Weir cottage");
    second.acts(Action::Submit(Form::NewJob));
    let here = second.model.route;
    let picked = Action::FilePicked {
        purpose: Purpose::JobFile,
        name: "mill.jobfile.txt".to_owned(),
        bytes: file,
    };
    assert_eq!(second.acts(picked.clone()), []);
    assert_eq!(second.model.route, here);
    let Some(Notice::Asked {
        words,
        question: Question::OtherJob(job),
    }) = second.model.notice.clone()
    else {
        panic!("nothing is asked: {:?}", second.model.notice);
    };
    assert!(words.contains("another job: Marrowby Mill"), "{words}");
    // Whoever puts that away is done with the file.
    second.acts(Action::DismissNotice);
    assert!(second.model.parcel.is_none());
    second.acts(picked);
    second.acts(Action::OpenJob(job));
    let open = first.model.open.as_ref().expect("a job");
    let lines = open.journal.lines();
    let lines = Ok(Found {
        items: lines[..2].iter().map(|line| (*line).to_owned()).collect(),
        unreadable: 0,
    });
    second.acts(Action::JobRead { job, lines });
    assert_eq!(second.model.screen(), Some(Screen::Incoming));
    second.acts(Action::TakeIn);
    assert_eq!((job_of(&second), records(&second)), (job, 3));
}

#[test]
fn leaving_it_leaves_everything_as_it_was() {
    let (mut first, mut second) = two();
    adds_outlet(&mut second);
    let before = records(&first);
    let screen = first.model.screen();
    opens(&mut first, file_of(&mut second));
    let effects = first.acts(Action::LeaveIt);
    assert!(
        !effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)))
    );
    assert_eq!((records(&first), first.model.screen()), (before, screen));
    assert_eq!(first.model.incoming, None);
}

#[test]
fn a_file_that_brings_nothing_says_so_at_once() {
    let (mut first, mut second) = two();
    opens(&mut first, file_of(&mut second));
    assert_eq!(
        first.model.notice,
        Some(Notice::Told(
            "Everything in this file was here already.".to_owned()
        ))
    );
}

#[test]
fn two_phones_that_nobody_named_are_told_apart() {
    let mut phones: [Phone; 2] = two().into();
    let names = phones.each_mut().map(|phone| {
        phone.model.person = Person::default();
        let want = Want::AddUnit {
            name: "Mill house".to_owned(),
        };
        let effects = phone.acts(Action::Do { want, then: None });
        let kept = effects.iter().find_map(|effect| match effect {
            Effect::Keep {
                key: "alias",
                value,
            } => Some(value.clone()),
            _ => None,
        });
        let name = kept.unwrap_or_default();
        assert_eq!(phone.model.person.signature(), name);
        let want = Want::AddUnit {
            name: "Annex".to_owned(),
        };
        let again = phone.acts(Action::Do { want, then: None });
        assert!(!has(&again, |effect| matches!(
            effect,
            Effect::Keep { key: "alias", .. }
        )));
        name
    });
    assert!(
        names.iter().all(|name| name.starts_with("phone ")),
        "{names:?}"
    );
    assert_ne!(names[0], names[1]);
}

#[test]
fn the_room_where_others_worked_is_remembered_over_a_reload() {
    let (mut first, mut second) = two();
    adds_outlet(&mut second);
    opens(&mut first, file_of(&mut second));
    let room = first
        .model
        .incoming
        .as_ref()
        .expect("something comes")
        .rooms[0]
        .0;
    let effects = first.acts(Action::TakeIn);
    let kept = effects.iter().rev().find_map(|effect| match effect {
        Effect::Keep { key: "crew", value } => Some(value.clone()),
        _ => None,
    });
    let job = first.model.open.as_ref().expect("a job").journal.job();
    let crew = Crew::read(&kept.expect("it is kept"));
    assert_eq!(crew, first.model.crew);
    assert_eq!(crew.in_room(job, room), Some("TH, phone CNJP"));
    // What another program wrote there is left out.
    assert_eq!(Crew::read("nonsense\n\tx\n"), Crew::default());
}

#[test]
fn what_is_on_this_phone_alone_is_counted_until_a_file_leaves() {
    let (mut first, mut second) = two();
    assert_eq!((alone(&first.model), alone(&second.model)), (0, 0));
    adds_outlet(&mut first);
    first.types(Field::RoomName, "Hall");
    first.adds_room();
    assert_eq!(alone(&first.model), 2);
    adds_outlet(&mut second);
    opens(&mut first, file_of(&mut second));
    first.acts(Action::TakeIn);
    assert_eq!(
        alone(&first.model),
        2,
        "what came from another phone is there"
    );
    // A share sheet that was closed gave nothing out.
    first.acts(Action::TakeOut(TakeOut::JobFile));
    assert_eq!(alone(&first.model), 2);
    file_of(&mut first);
    assert_eq!(alone(&first.model), 0);
}

#[test]
fn a_file_that_is_dropped_is_looked_at_where_it_was_dropped() {
    let (mut first, mut second) = two();
    adds_outlet(&mut second);
    let file = file_of(&mut second);
    first.acts(Action::Go(Screen::Punch));
    let address = first.model.route.print();
    let effects = first.acts(Action::HashChanged("#/arrived".to_owned()));
    assert_eq!(
        effects,
        [Effect::ReplaceHash(address), Effect::FetchArrived]
    );
    first.acts(Action::Arrived(Some(file)));
    assert_eq!(first.model.screen(), Some(Screen::Incoming));

    // A table is a schedule, which is shown row by row.
    let table = b"Label,Cable type\nKIT1-L,Cat 6\n".to_vec();
    first.acts(Action::Arrived(Some(table)));
    assert_eq!(first.model.screen(), Some(Screen::Import));
    assert!(first.model.import.is_some());
    first.acts(Action::Arrived(None));
    assert!(matches!(first.model.notice, Some(Notice::Told(_))));
}

/// A picture as the disk has it.
fn jpeg(seed: u8) -> Rc<PictureBytes> {
    Rc::new(PictureBytes {
        whole: vec![0xFF, 0xD8, 0xFF, seed],
        small: vec![0xFF, 0xD8, 0xFF],
    })
}

/// Takes a picture of the first room.
fn photographs(phone: &mut Phone, seed: u8) {
    let open = phone.model.open.as_ref().expect("a job");
    let job = open.journal.job();
    let rooms = bothends::query::wall::walls(open.journal.registry()).rooms;
    let shows = Shows::Room(rooms[0].room);
    let bytes = jpeg(seed);
    let digest = picture_digest(&bytes.whole);
    phone.acts(Action::Picture(PictureAction::Taken(job, shows, bytes)));
    phone.acts(Action::Picture(PictureAction::Kept(digest)));
}

#[test]
fn pictures_travel_in_a_bundle_and_are_stored_once_the_job_is_taken_in() {
    let (mut first, mut second) = two();
    photographs(&mut first, 1);
    photographs(&mut first, 2);
    let mut effects = first.acts(Action::Pack(PackAction::Begin));
    let mut read = 0;
    while let [Effect::Ask(Ask::Pack(_, digest))] = effects[..] {
        assert_eq!(first.acts(Action::Pack(PackAction::GiveOut)), [], "not yet");
        let seed = [1, 2]
            .into_iter()
            .find(|seed| picture_digest(&jpeg(*seed).whole) == digest);
        let found = Ok(seed.map(jpeg));
        effects = first.acts(Action::Pack(PackAction::Came(digest, found)));
        read += 1;
    }
    assert_eq!(read, 2);
    let packing = first.model.packing.as_ref().expect("it is packed");
    assert_eq!(packing.ready().map(|(pictures, _)| pictures), Some(2));
    // What is done until it is given out is in it too.
    adds_outlet(&mut first);
    let effects = first.acts(Action::Pack(PackAction::GiveOut));
    let [Effect::HandOut { name, bytes, .. }] = &effects[..] else {
        panic!("no file: {effects:?}");
    };
    assert_eq!(name, "marrowby-mill-pictures.bundle.txt");
    assert!(first.model.packing.is_none());

    opens(&mut second, bytes.clone());
    let incoming = second.model.incoming.as_ref().expect("something comes");
    assert_eq!((incoming.pictures(), incoming.fresh()), (2, 3));
    let effects = second.acts(Action::TakeIn);
    let kept: Vec<Digest> = effects
        .iter()
        .filter_map(|effect| match effect {
            Effect::Ask(Ask::Keep(unkept)) => Some(unkept.digest()),
            _ => None,
        })
        .collect();
    assert_eq!(kept.len(), 2);
    assert!(
        second.model.would_lose(),
        "they are on their way to the disk"
    );
    let before = records(&second);
    for digest in kept {
        second.acts(Action::Picture(PictureAction::Kept(digest)));
    }
    assert_eq!(records(&second), before, "the lines came with the job");
    assert_eq!(
        second.model.notice,
        Some(Notice::Told(
            "3 new records were taken in. 2 pictures came along.".to_owned()
        ))
    );
}

#[test]
fn a_picture_of_another_phone_stays_there_and_is_told() {
    let (mut first, _) = two();
    photographs(&mut first, 1);
    let effects = first.acts(Action::Pack(PackAction::Begin));
    let [Effect::Ask(Ask::Pack(_, digest))] = effects[..] else {
        panic!("nothing is read");
    };
    first.acts(Action::Pack(PackAction::Came(digest, Ok(None))));
    let packing = first.model.packing.as_ref().expect("it is packed");
    assert_eq!(packing.elsewhere(), 1);
    assert_eq!(packing.ready().map(|(pictures, _)| pictures), Some(0));
    first.acts(Action::Pack(PackAction::Stop));
    assert!(first.model.packing.is_none());
}

#[test]
fn a_clock_that_is_days_ahead_is_told_and_moves_nothing() {
    let (mut first, _) = two();
    assert_eq!(clocks(&first.model), None);
    let open = first.model.open.as_ref().expect("a job");
    let line = open.journal.lines()[0].replace("\"wall\":0", "\"wall\":172800001");
    // The same line from a writer of its own.
    let line = line.replace(&open.journal.writer().0.to_string(), "91JPRV3F91JPRV3F");
    let job = open.journal.job();
    let lines = vec![line];
    first.acts(Action::LinesArrived { job, lines });
    let told = clocks(&first.model).expect("it is told");
    assert_eq!(
        told.title,
        "1 record says a time more than a day ahead of this device."
    );
    adds_outlet(&mut first);
    let deeds = first.model.open.as_ref().expect("a job").deeds();
    assert!(deeds[0].who.contains("1970-01-01"), "{}", deeds[0].who);
}
