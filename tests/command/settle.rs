//! Two phones disagreed, or a code went out of date: one side is kept alone, tags come off.

use bothends::command::Want;
use bothends::domain::place::{Fitting, Place};
use bothends::journal::FactRef;

use super::support::{Site, outlet_number};

/// Two phones that know the same, with the wired mill.
fn two_phones() -> (Site, Site) {
    let mut first = Site::wired_mill();
    let mut second = Site::phone(2);
    first.meets(&mut second);
    (first, second)
}

fn rename(site: &Site, name: &str) -> Want {
    Want::RenameRoom {
        room: site.room("KIT"),
        name: name.to_owned(),
    }
}

fn names(site: &Site) -> Vec<String> {
    let row = site.registry().rooms.get(site.room("KIT")).expect("a room");
    row.name.distinct().into_iter().cloned().collect()
}

fn first_fact(act: bothends::domain::ids::ActId) -> Want {
    let fact = FactRef { act, fact: 0 };
    Want::KeepSaid { fact }
}

#[test]
fn one_of_two_values_is_kept_alone_on_both_phones() {
    let (mut first, mut second) = two_phones();
    let scullery = first.does(rename(&first, "Scullery"));
    let pantry = second.does(rename(&second, "Pantry"));
    first.meets(&mut second);
    assert_eq!(names(&first).len(), 2);
    first.undo_restores(&first_fact(scullery));
    first.does(first_fact(scullery));
    assert_eq!(names(&first), ["Scullery"]);
    first.refuses(first_fact(scullery), "it is so already");
    first.meets(&mut second);
    assert_eq!(names(&second), ["Scullery"]);
    // The other one was right after all.
    second.does(first_fact(pantry));
    assert_eq!(names(&second), ["Pantry"]);
}

#[test]
fn what_was_taken_back_in_the_meantime_is_not_kept() {
    let (mut first, mut second) = two_phones();
    let act = first.does(rename(&first, "Scullery"));
    second.does(rename(&second, "Pantry"));
    first.meets(&mut second);
    first.undoes(act);
    first.refuses(first_fact(act), "taken back in the meantime");
    let none = FactRef { act, fact: 7 };
    first.refuses(Want::KeepSaid { fact: none }, "taken back in the meantime");
}

#[test]
fn a_landing_is_not_kept_where_another_end_is() {
    let (mut first, mut second) = two_phones();
    let end = first.far("KIT1-A");
    let here = first.does(first.land(end, "B07"));
    second.does(second.land(end, "B08"));
    first.meets(&mut second);
    let place = first.place("B08");
    assert_eq!(first.registry().index.landed.get(&place), [end]);
    let there = second.does(Want::Lift { end });
    second.undoes(there);
    first.does(first_fact(here));
    assert_eq!(first.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
    // On the other phone the place was given to another cable since.
    let other = second.far("DIN1-A");
    second.does(Want::LandInstead {
        end: other,
        place: Place::rear(second.position("B07")),
        fitting: Fitting::Direct,
    });
    let refusal = second.refuses(first_fact(here), "DIN1-A");
    assert!(!refusal.ways_out.is_empty(), "{}", refusal.words);
}

#[test]
fn old_tags_come_off_and_the_cable_gets_the_code_of_now() {
    let mut site = Site::wired_mill();
    let cable = site.cable("KIT1-A");
    let tags = Want::TagsAnew { cable };
    site.refuses(tags.clone(), "KIT1-A is what stands on it");
    for end in [site.near("KIT1-A"), site.far("KIT1-A")] {
        site.does(site.mark(end));
    }
    site.refuses(tags.clone(), "KIT1-A is what stands on it");
    let outlet = site.outlet("KIT1");
    let room = site.room("KIT");
    site.does(Want::MoveOutlet {
        outlet,
        room,
        number: outlet_number(5),
    });
    let marked = "KIT1-A: near marked KIT1-A, far marked KIT1-A";
    assert_eq!(site.state_of(cable), marked);
    site.undo_restores(&tags);
    site.does(tags.clone());
    assert_eq!(site.state_of(cable), "KIT5-A: near bare, far bare");
    let row = site.registry().cables.get(cable).expect("a cable");
    let old: Vec<_> = row.known_as.iter().map(|said| said.value.clone()).collect();
    assert_eq!(old, ["KIT1-A"]);
    site.refuses(tags, "KIT5-A is what stands on it");
    // The new code is written, and the old one stays taken for ever.
    site.does(site.mark(site.near("KIT5-A")));
    assert_eq!(site.state_of(cable), "KIT5-A: near marked KIT5-A, far bare");
}

#[test]
fn tags_that_stay_are_right_until_the_run_is_called_otherwise_again() {
    let mut site = Site::wired_mill();
    let cable = site.cable("KIT1-A");
    let keep = Want::KeepTag { cable };
    site.refuses(keep.clone(), "nothing");
    site.does(site.mark(site.near("KIT1-A")));
    let (outlet, room) = (site.outlet("KIT1"), site.room("KIT"));
    let moves = |number| Want::MoveOutlet {
        outlet,
        room,
        number: outlet_number(number),
    };
    let kept = |change| {
        let change = Box::new(change);
        Want::WithOldTags { change }
    };
    let is_asked = |site: &Site| {
        let mut findings = bothends::query::check(site.registry()).into_iter();
        findings.any(|finding| finding.what == bothends::query::What::CodeMoved { cable })
    };
    site.does(moves(5));
    assert!(is_asked(&site));
    site.does(keep.clone());
    assert!(!is_asked(&site));
    site.refuses(keep, "already");
    site.undo_restores(&kept(moves(6)));
    site.does(moves(6));
    assert!(is_asked(&site), "another name");
    site.does(kept(moves(7)));
    assert!(!is_asked(&site), "kept with the change");
    // An outlet of its own, and back.
    let split = Want::SplitOutlet {
        outlet,
        cables: vec![cable],
    };
    site.does(kept(split));
    assert!(!is_asked(&site));
    assert_eq!(site.state_of(cable), "KIT1-A: near marked KIT1-A, far bare");
}

#[test]
fn tags_do_not_come_off_for_a_code_that_another_cable_bears() {
    let (mut first, mut second) = two_phones();
    let cable = first.cable("KIT1-A");
    first.does(first.mark(first.near("KIT1-A")));
    let outlet = first.outlet("KIT1");
    let room = first.room("KIT");
    let number = outlet_number(5);
    first.does(Want::MoveOutlet {
        outlet,
        room,
        number,
    });
    // Meanwhile somebody numbers a new outlet five, and writes its codes.
    second.adds_outlet("KIT", "data");
    let other = second.outlet("KIT2");
    second.does(Want::MoveOutlet {
        outlet: other,
        room,
        number,
    });
    second.does(second.mark(second.near("KIT5-A")));
    first.meets(&mut second);
    first.refuses(
        Want::TagsAnew { cable },
        "KIT5-A stands on the cable at KIT5 already",
    );
}
