//! Pictures: which belong to what is looked at, and which are refused.

use bothends::command::Want;
use bothends::domain::ids::PictureId;
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::query::pictures::{About, about, choices, view};

use super::support::Site;

/// Adds a picture, told apart by its digest.
fn picture(site: &mut Site, number: u8, shows: Shows) -> PictureId {
    let digest = Digest([number; 32]);
    site.does(Want::AddPicture { digest, shows });
    let pictures = site.registry().pictures.iter();
    let mut this = pictures.filter(|(_, row)| row.digest.get() == Some(&digest));
    this.next().expect("it was added").0
}

fn point(site: &mut Site, picture: PictureId, what: &[Seen]) {
    let points = what.iter().map(|what| Point {
        what: *what,
        at: Spotted { x: 1, y: 2 },
        offset: String::new(),
    });
    let points = points.collect();
    site.does(Want::PointOut { picture, points });
}

/// The pictures of something, by the numbers that they were added under.
fn numbers(site: &Site, what: About) -> Vec<u8> {
    let shots = about(&site.journal, what, 0, usize::MAX);
    assert_eq!(shots.count, shots.lines.len());
    let lines = shots.lines.into_iter();
    lines.map(|line| line.digest.0[0]).collect()
}

#[test]
fn an_outlet_a_room_a_cable_and_a_plan_have_the_pictures_that_belong_to_them() {
    let mut site = Site::wired_mill();
    let (kit, din) = (site.outlet("KIT1"), site.outlet("DIN1"));
    let (kitchen, dining) = (site.room("KIT"), site.room("DIN"));
    let floor = {
        let name = "Ground floor".to_owned();
        site.does(Want::AddFloor {
            name,
            number: Some(1),
        });
        let (id, _) = site.registry().floors.iter().next().expect("a floor");
        id
    };
    site.does(Want::PutRoomOnFloor {
        room: kitchen,
        floor: Some(floor),
    });
    picture(&mut site, 1, Shows::Outlet(kit));
    picture(&mut site, 2, Shows::Room(kitchen));
    let far = picture(&mut site, 3, Shows::Room(dining));
    let plan = picture(&mut site, 4, Shows::Plan(floor));
    picture(&mut site, 5, Shows::Outlet(din));
    let cable = site.cable("KIT1-A");
    point(&mut site, far, &[Seen::Cable(cable)]);
    point(&mut site, plan, &[Seen::Outlet(kit)]);
    let shown = |shows| About::Shown(shows);
    // Its own and those on which it is pointed out, the last before the first; then its room's.
    assert_eq!(numbers(&site, shown(Shows::Outlet(kit))), [4, 3, 1, 2]);
    assert_eq!(numbers(&site, shown(Shows::Outlet(din))), [5, 3]);
    assert_eq!(numbers(&site, shown(Shows::Room(kitchen))), [2, 4, 1]);
    assert_eq!(numbers(&site, About::Cable(cable)), [3, 4, 1]);
    assert_eq!(numbers(&site, shown(Shows::Plan(floor))), [4]);
    // On a plan only outlets of its floor are pointed out, those without a pin first.
    let registry = site.registry();
    let pins = view(&site.journal, plan).expect("the plan").points;
    assert_eq!(pins[0].words, "KIT1");
    let on_plan = choices(registry, Shows::Plan(floor), &pins);
    assert_eq!(on_plan, [(Seen::Outlet(kit), "KIT1".to_owned())]);
    let names = |shows| -> Vec<String> {
        let choices = choices(registry, shows, &[]).into_iter();
        choices.map(|(_, words)| words).collect()
    };
    assert_eq!(names(Shows::Outlet(kit)), ["KIT1-A", "KIT1-B", "KIT1"]);
    assert_eq!(names(Shows::Room(dining)), ["DIN1-A", "DIN1-B", "DIN1"]);
}

#[test]
fn a_picture_that_was_put_away_belongs_to_nothing_until_that_is_taken_back() {
    let mut site = Site::wired_mill();
    let shows = Shows::Outlet(site.outlet("KIT1"));
    let picture = picture(&mut site, 1, shows);
    let reason = "too dark".to_owned();
    let act = site.does(Want::DropPicture { picture, reason });
    assert!(numbers(&site, About::Shown(shows)).is_empty());
    site.does(Want::Undo { act });
    assert_eq!(numbers(&site, About::Shown(shows)), [1]);
}

#[test]
fn the_same_picture_of_the_same_thing_is_refused() {
    let mut site = Site::wired_mill();
    let shows = Shows::Outlet(site.outlet("KIT1"));
    let want = Want::AddPicture {
        digest: Digest([1; 32]),
        shows,
    };
    site.does(want.clone());
    site.refuses(want, "here already");
}

#[test]
fn photographs_go_with_an_outlet_that_is_merged_into_another() {
    let mut site = Site::wired_mill();
    site.adds_outlet("KIT", "data");
    let [from, into] = ["KIT2", "KIT1"].map(|code| site.outlet(code));
    picture(&mut site, 1, Shows::Outlet(from));
    let want = Want::MergeOutlets { from, into };
    site.undo_restores(&want);
    site.does(want);
    assert_eq!(numbers(&site, About::Shown(Shows::Outlet(into))), [1]);
}
