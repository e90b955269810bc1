//! Pictures on their way in and on the page, with the store played by the test.

use std::rc::Rc;

use bothends::app::picture::{PictureForm, seen_key, spotted, spotted_text};
use bothends::app::ports::{PictureBytes, PictureFrom, PictureSize, Trouble};
use bothends::app::wall::{WallForm, WallPart, open_part};
use bothends::app::{
    Action, Ask, Effect, Field, Form, Notice, PictureAction, Saved, Screen, Sight, Wanted,
};
use bothends::command::Want;
use bothends::domain::ids::{JobId, OutletId, PictureId};
use bothends::domain::label::OutletNumber;
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::query::cover::{self, Missing};
use bothends::query::pictures::{About, PictureLine, about, view};
use bothends::ui;

use super::phone::Phone;

impl Phone {
    fn job(&self) -> JobId {
        self.model.open.as_ref().expect("a job").journal.job()
    }

    fn pictures(&mut self, action: PictureAction) -> Vec<Effect> {
        self.acts(Action::Picture(action))
    }

    /// A picture was taken and made smaller; what the store is asked for.
    fn takes(&mut self, shows: Shows, content: u8) -> Vec<Effect> {
        let job = self.job();
        self.pictures(PictureAction::Taken(job, shows, bytes(content)))
    }

    /// Takes a picture, stores it, and gives its id.
    fn keeps(&mut self, shows: Shows, content: u8) -> PictureId {
        let effects = self.takes(shows, content);
        self.pictures(PictureAction::Kept(digest(&effects)));
        self.lines(About::Shown(shows))[0].picture
    }

    fn lines(&self, what: About) -> Vec<PictureLine> {
        let open = self.model.open.as_ref().expect("a job");
        about(&open.journal, what, 0, usize::MAX).lines
    }

    fn points(&self, picture: PictureId) -> Vec<Point> {
        let row = self.model.registry().expect("a job").pictures.get(picture);
        row.and_then(|row| row.points.get())
            .cloned()
            .unwrap_or_default()
    }

    fn sends_picture(&mut self, form: PictureForm) -> Vec<Effect> {
        self.acts(Action::Submit(Form::Picture(form)))
    }
}

fn bytes(content: u8) -> Rc<PictureBytes> {
    Rc::new(PictureBytes {
        whole: vec![content; 3],
        small: vec![content],
    })
}

/// The digest that the store is asked to keep a picture under.
fn digest(effects: &[Effect]) -> Digest {
    let kept = effects.iter().find_map(|effect| match effect {
        Effect::Ask(Ask::Keep(unkept)) => Some(unkept.digest()),
        _ => None,
    });
    kept.expect("the store is asked to keep it")
}

fn reads(effects: &[Effect]) -> Vec<Wanted> {
    let reads = effects.iter().filter_map(|effect| match effect {
        Effect::Ask(Ask::Read(_, wanted)) => Some(*wanted),
        _ => None,
    });
    reads.collect()
}

fn forgets(effects: &[Effect]) -> usize {
    let forgets = |effect: &&Effect| matches!(effect, Effect::ForgetPicture(_));
    effects.iter().filter(forgets).count()
}

fn kitchen() -> (Phone, OutletId) {
    let mut phone = Phone::new();
    let room = phone.room("Kitchen");
    let outlet = phone.outlet(room, "data");
    (phone, outlet)
}

#[test]
fn a_picture_of_a_moved_outlet_is_of_its_old_place() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    phone.keeps(shows, 1);
    let pantry = phone.room("Pantry");
    let number = OutletNumber::new(1).expect("a number");
    let want = Want::MoveOutlet {
        outlet,
        room: pantry,
        number,
    };
    phone.acts(Action::Do { want, then: None });
    let lacks = |phone: &Phone| {
        let open = phone.model.open.as_ref().expect("a job");
        let room = cover::room(&open.journal, pantry).expect("a room with an outlet");
        let mut missing = room.missing.iter();
        missing.any(|missing| matches!(missing, Missing::NoPicture(_)))
    };
    assert!(lacks(&phone));
    let lines = phone.lines(About::Shown(shows));
    assert!(
        lines[0].words.contains("taken when it was in Kitchen"),
        "{}",
        lines[0].words
    );
    phone.keeps(shows, 2);
    assert!(!lacks(&phone));
    let lines = phone.lines(About::Shown(shows));
    assert!(!lines[0].words.contains("taken when"), "the last one first");
}

#[test]
fn a_batch_is_counted_and_what_is_refused_in_it_is_said_until_it_is_read() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    let progress = |phone: &Phone| phone.model.pictures.progress();
    phone.pictures(PictureAction::Chosen(4));
    assert_eq!(progress(&phone), Some((1, 4)));
    assert_eq!(phone.model.saved(), Saved::Saving);
    let first = phone.takes(shows, 1);
    assert_eq!(progress(&phone), Some((1, 4)));
    phone.pictures(PictureAction::Kept(digest(&first)));
    assert_eq!(progress(&phone), Some((2, 4)));
    let name = "notes.txt".to_owned();
    let trouble = Trouble::NoPicture(name.clone());
    phone.pictures(PictureAction::Refused(name, trouble));
    let large = "huge.jpg".to_owned();
    phone.pictures(PictureAction::Refused(large, Trouble::NotShrunk));
    let last = phone.takes(shows, 2);
    assert_eq!(progress(&phone), Some((4, 4)));
    phone.pictures(PictureAction::Kept(digest(&last)));
    assert_eq!(progress(&phone), None);
    let refused = phone.model.pictures.refused();
    assert_eq!(refused.len(), 2);
    assert!(refused[0].contains("notes.txt"), "{refused:?}");
    assert!(refused[1].starts_with("huge.jpg: "), "{refused:?}");
    phone.pictures(PictureAction::RefusedRead);
    assert!(phone.model.pictures.refused().is_empty());
}

#[test]
fn a_picture_is_stored_before_it_is_written_down() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    let picked = phone.pictures(PictureAction::Pick(shows, PictureFrom::Camera));
    let job = phone.job();
    let from = PictureFrom::Camera;
    assert_eq!(picked, [Effect::PickPictures { job, shows, from }]);
    let effects = phone.takes(shows, 1);
    // SHA-256 of the bytes 01 01 01: `printf '\1\1\1' | sha256sum`.
    let name = "75c8fd04ad916aec3e3d5cb76a452b116b3d4d0912a0a485e9fb8e3d240e210c";
    assert_eq!(digest(&effects).to_string(), name);
    assert!(
        phone.lines(About::Shown(shows)).is_empty(),
        "nothing points at it yet"
    );
    assert!(
        !effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)))
    );
    let effects = phone.pictures(PictureAction::Kept(digest(&effects)));
    assert!(matches!(effects[0], Effect::Save(_)), "{effects:?}");
    assert_eq!(phone.lines(About::Shown(shows)).len(), 1);
    // And now the page wants to see it, small.
    let [(read, PictureSize::Small)] = reads(&effects)[..] else {
        panic!("{effects:?}");
    };
    assert_eq!(read.to_string(), name);
}

#[test]
fn the_same_picture_of_the_same_thing_is_written_down_once() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    phone.keeps(shows, 1);
    let effects = phone.takes(shows, 1);
    phone.pictures(PictureAction::Kept(digest(&effects)));
    assert!(
        phone.refusal().contains("here already"),
        "{}",
        phone.refusal()
    );
    assert_eq!(phone.lines(About::Shown(shows)).len(), 1);
    // One picture may show two things.
    let room = phone.room("Pantry");
    phone.keeps(Shows::Room(room), 1);
}

#[test]
fn where_there_is_no_room_the_picture_waits_and_what_was_typed_stays() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    let part = WallPart::Purpose;
    phone.sends(WallForm::OpenPart { outlet, part });
    phone.types(Field::OutletPurpose, "behind the sofa");
    phone.keeps(shows, 6);
    assert_eq!(open_part(&phone.model), Some(part), "it is being typed");
    let effects = phone.takes(shows, 7);
    assert_eq!(phone.model.saved(), Saved::Saving);
    let digest = digest(&effects);
    phone.pictures(PictureAction::NotKept(Trouble::Full));
    assert_eq!(phone.model.saved(), Saved::Failed(Trouble::Full));
    assert!(phone.model.would_lose());
    assert_eq!(phone.field(Field::OutletPurpose), "behind the sofa");
    assert_eq!(phone.model.screen(), Some(Screen::Outlet(outlet)));
    let mut texts = String::new();
    ui::draw(&phone.model).each(&mut |element| {
        for node in &element.inside {
            if let bothends::view::Node::Text(text) = node {
                texts.push_str(text);
            }
        }
    });
    for words in ["no room left", "nothing was lost", "Take the picture out"] {
        assert!(texts.contains(words), "{words}: {texts}");
    }
    // Out as a file, whole.
    let out = phone.pictures(PictureAction::TakeOut);
    let [
        Effect::HandOut {
            kind: "image/jpeg",
            bytes,
            ..
        },
    ] = &out[..]
    else {
        panic!("{out:?}");
    };
    assert_eq!(*bytes, [7, 7, 7]);
    // And again, once there is room.
    let again = phone.acts(Action::SaveAgain);
    // The lines of the job, which nobody has stored here either, and the picture.
    assert!(
        matches!(again.last(), Some(Effect::Ask(Ask::Keep(unkept))) if unkept.digest() == digest),
        "{again:?}"
    );
    phone.pictures(PictureAction::Kept(digest));
    assert_eq!(phone.lines(About::Shown(shows)).len(), 2);
    assert!(!matches!(phone.model.saved(), Saved::Failed(_)));
    assert!(!bothends::app::Model::default().would_lose());
}

#[test]
fn a_picture_whose_job_was_closed_meanwhile_is_not_put_into_another() {
    let (mut phone, outlet) = kitchen();
    let effects = phone.takes(Shows::Outlet(outlet), 7);
    phone.acts(Action::GoToJobs);
    phone.acts(Action::OpenJob(JobId(bothends::domain::ids::Bits80(
        [9; 10],
    ))));
    phone.pictures(PictureAction::Kept(digest(&effects)));
    let told =
        matches!(&phone.model.notice, Some(Notice::Told(words)) if words.contains("was closed"));
    assert!(told, "{:?}", phone.model.notice);
}

#[test]
fn no_more_is_held_than_the_page_shows() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    for content in 0..20 {
        phone.keeps(shows, content);
    }
    let mut held: Vec<String> = Vec::new();
    let effects = phone.acts(Action::Go(Screen::Wall));
    let mut asked = 0;
    let mut play = |phone: &mut Phone, effects: Vec<Effect>, held: &mut Vec<String>| {
        for effect in effects {
            match effect {
                Effect::Ask(Ask::Read(_, wanted)) => {
                    asked += 1;
                    let address = format!("blob:{asked}");
                    held.push(address.clone());
                    let read = PictureAction::Read(wanted, Ok(Some(address)));
                    assert_eq!(phone.pictures(read), []);
                }
                Effect::ForgetPicture(address) => held.retain(|other| *other != address),
                _ => {}
            }
        }
    };
    play(&mut phone, effects, &mut held);
    assert_eq!(held.len(), 0, "the rooms show none");
    let effects = phone.acts(Action::Go(Screen::Outlet(outlet)));
    play(&mut phone, effects, &mut held);
    assert_eq!(held.len(), 6);
    for from in ["6", "12", "18"] {
        let (field, text) = (Field::PicturesFrom, from.to_owned());
        let effects = phone.acts(Action::Typed { field, text });
        play(&mut phone, effects, &mut held);
    }
    assert_eq!(held.len(), 2, "18 to 20 of 20");
    let picture = phone.lines(About::Shown(shows))[0].picture;
    let effects = phone.acts(Action::Go(Screen::Picture(picture)));
    assert!(matches!(reads(&effects)[..], [(_, PictureSize::Whole)]));
    play(&mut phone, effects, &mut held);
    assert_eq!(held.len(), 1);
    // Back from it, the list is where it was; from the rooms it begins anew.
    let effects = phone.acts(Action::Go(Screen::Outlet(outlet)));
    play(&mut phone, effects, &mut held);
    assert_eq!(held.len(), 2);
    phone.acts(Action::Go(Screen::Wall));
    let effects = phone.acts(Action::Go(Screen::Outlet(outlet)));
    play(&mut phone, effects, &mut held);
    assert_eq!(phone.field(Field::PicturesFrom), "");
}

#[test]
fn a_picture_that_comes_too_late_is_given_back() {
    let (mut phone, outlet) = kitchen();
    let effects = phone.takes(Shows::Outlet(outlet), 1);
    let effects = phone.pictures(PictureAction::Kept(digest(&effects)));
    let wanted = reads(&effects)[0];
    phone.acts(Action::Go(Screen::Wall));
    let late = PictureAction::Read(wanted, Ok(Some("blob:1".to_owned())));
    assert_eq!(forgets(&phone.pictures(late)), 1);
    assert_eq!(*phone.model.pictures.sight(wanted), Sight::Reading);
}

#[test]
fn a_tap_and_a_choice_point_a_cable_out_and_it_can_be_taken_back() {
    let (mut phone, outlet) = kitchen();
    let picture = phone.keeps(Shows::Outlet(outlet), 1);
    phone.acts(Action::Go(Screen::Picture(picture)));
    phone.types(Field::PointOffset, "12 in left of the stud");
    phone.sends_picture(PictureForm::Point(picture));
    assert!(
        phone.refusal().contains("Tap the picture"),
        "{}",
        phone.refusal()
    );
    assert_eq!(phone.field(Field::PointOffset), "12 in left of the stud");
    let cable = phone.ends(outlet)[1].end.cable;
    phone.types(Field::PointAt, &spotted_text(1234, 9905));
    phone.types(Field::PointWhat, &seen_key(Seen::Cable(cable)));
    phone.sends_picture(PictureForm::Point(picture));
    let point = Point {
        what: Seen::Cable(cable),
        at: Spotted::new(1234, 9905).expect("on the picture"),
        offset: "12 in left of the stud".to_owned(),
    };
    assert_eq!(phone.points(picture), std::slice::from_ref(&point));
    assert_eq!(phone.field(Field::PointOffset), "");
    // The next one, typed: the list shows what is not pointed out yet.
    let other = phone.ends(outlet)[0].end.cable;
    phone.types(Field::PointAt, "40, 62,5");
    phone.sends_picture(PictureForm::Point(picture));
    assert_eq!(phone.points(picture)[1].what, Seen::Cable(other));
    assert_eq!(phone.points(picture)[1].at, Spotted { x: 4000, y: 6250 });
    let act = match &phone.model.notice {
        Some(Notice::Done { act, .. }) => *act,
        other => panic!("{other:?}"),
    };
    let want = Want::Undo { act };
    phone.acts(Action::Do { want, then: None });
    assert_eq!(phone.points(picture), std::slice::from_ref(&point));
    // Of the cable it is told where it is.
    let lines = phone.lines(About::Cable(cable));
    assert!(
        lines[0].words.contains("12 in left of the stud"),
        "{lines:?}"
    );
    phone.sends_picture(PictureForm::Unpoint(picture, 0));
    assert_eq!(phone.points(picture), []);
}

#[test]
fn a_second_pin_of_an_outlet_on_a_plan_moves_the_first() {
    let (mut phone, outlet) = kitchen();
    let want = Want::AddFloor {
        name: "Ground floor".to_owned(),
        number: Some(1),
    };
    phone.acts(Action::Do { want, then: None });
    let floors = &phone.model.registry().expect("a job").floors;
    let floor = floors.iter().next().expect("a floor").0;
    let picture = phone.keeps(Shows::Plan(floor), 1);
    for (at, expected) in [("10 20", 1000), ("30 40", 3000)] {
        phone.types(Field::PointAt, at);
        phone.types(Field::PointWhat, &seen_key(Seen::Outlet(outlet)));
        phone.sends_picture(PictureForm::Point(picture));
        let points = phone.points(picture);
        assert_eq!((points.len(), points[0].at.x), (1, expected));
    }
}

#[test]
fn a_place_is_read_as_people_type_it() {
    let place = |x, y| Some(Spotted { x, y });
    for (text, expected) in [
        ("40 62", place(4000, 6200)),
        ("40% 62%", place(4000, 6200)),
        ("40, 62", place(4000, 6200)),
        ("12.34 5.6", place(1234, 560)),
        ("12,34;5,6", place(1234, 560)),
        ("0 100", place(0, 10_000)),
        ("0 100.01", None),
        ("40", None),
        ("1 2 3", None),
        ("-1 2", None),
        ("1.234 5", None),
        ("1e1 5", None),
        ("99999 5", None),
        ("", None),
    ] {
        assert_eq!(spotted(text), expected, "{text}");
    }
    for (x, y) in [(0, 0), (9, 10_000), (1230, 45)] {
        assert_eq!(spotted(&spotted_text(x, y)), place(x, y));
    }
}

#[test]
fn a_note_is_kept_and_putting_away_wants_a_reason() {
    let (mut phone, outlet) = kitchen();
    let shows = Shows::Outlet(outlet);
    let picture = phone.keeps(shows, 1);
    phone.acts(Action::Go(Screen::Picture(picture)));
    phone.types(Field::Note, "before the insulation");
    phone.sends_picture(PictureForm::Note(picture));
    assert!(
        phone.lines(About::Shown(shows))[0]
            .words
            .contains("before the insulation")
    );
    phone.sends_picture(PictureForm::Drop(picture));
    assert!(phone.refusal().contains("reason"), "{}", phone.refusal());
    phone.types(Field::Reason, "too dark");
    phone.sends_picture(PictureForm::Drop(picture));
    assert_eq!(phone.model.screen(), Some(Screen::Outlet(outlet)));
    assert!(phone.lines(About::Shown(shows)).is_empty());
    let open = phone.model.open.as_ref().expect("a job");
    let view = view(&open.journal, picture).expect("it is still known");
    assert_eq!(view.dropped.as_deref(), Some("too dark"));
    // The same can be taken again.
    phone.keeps(shows, 1);
}
