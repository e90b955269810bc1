//! Planning: rooms, outlets and their cables, codes that are never given twice.

use bothends::command::{Want, done_words};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::outlet_type::{OutletKind, PlannedCable};
use bothends::domain::place::RunKind;
use bothends::domain::work::{PullOutcome, Spot, WallBox};
use bothends::journal::{CableFact, Fact};
use bothends::names;
use bothends::walk;

use super::support::{Site, letter, outlet_number, room_code};

#[test]
fn a_room_code_belongs_to_one_room() {
    let mut site = Site::mill();
    let again = Want::AddRoom {
        name: "Kitchenette".to_owned(),
        code: room_code("KIT"),
        floor: None,
        unit: None,
    };
    site.refuses(again, "The code KIT belongs to Kitchen already");
    let (kitchen, dining) = (site.room("KIT"), site.room("DIN"));
    let recode = |room, code| Want::RecodeRoom {
        room,
        code: room_code(code),
    };
    site.refuses(recode(dining, "KIT"), "belongs to Kitchen");
    site.refuses(recode(kitchen, "KIT"), "it is so already");
    site.does(recode(kitchen, "GAL"));
    site.does(recode(dining, "KIT"));
    assert_eq!(site.room("KIT"), dining);
}

#[test]
fn names_are_said_in_words() {
    let mut site = Site::mill();
    let room = site.room("KIT");
    let blank = |name: &str| Want::RenameRoom {
        room,
        name: name.to_owned(),
    };
    site.refuses(blank(" "), "The name of the room is empty");
    site.refuses(
        Want::AddRack {
            space: bothends::domain::label::SpaceCode::new(1, "A").expect("a space"),
            name: "Second".to_owned(),
            room: None,
        },
        "1A is Main rack already",
    );
    site.adds_outlet("KIT", "data");
    let box_of = |outlet| Want::BoxOutlet {
        outlet,
        wall_box: WallBox::Gangs(7),
    };
    site.refuses(box_of(site.outlet("KIT1")), "one to six gangs");
}

#[test]
fn an_outlet_number_is_never_given_again() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "data");
    let second = site.adds_outlet("KIT", "data");
    site.undoes(second);
    site.adds_outlet("KIT", "data");
    let third = site.outlet("KIT3");
    site.does(Want::CancelOutlet {
        outlet: third,
        reason: "The island stays free".to_owned(),
    });
    site.adds_outlet("KIT", "data");
    site.does(Want::MoveOutlet {
        outlet: site.outlet("KIT4"),
        room: site.room("DIN"),
        number: outlet_number(1),
    });
    site.adds_outlet("KIT", "data");
    assert_eq!(site.codes("KIT5"), "KIT5-A KIT5-B");
    for number in [2, 3, 4] {
        let move_to = Want::MoveOutlet {
            outlet: site.outlet("KIT1"),
            room: site.room("KIT"),
            number: outlet_number(number),
        };
        site.refuses(
            move_to,
            &format!("KIT{number} is another outlet's number, or was"),
        );
    }
    site.does(Want::MoveOutlet {
        outlet: site.outlet("DIN1"),
        room: site.room("KIT"),
        number: outlet_number(4),
    });
}

#[test]
fn an_exact_place_does_not_go_along_to_another_room() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "data");
    let outlet = site.outlet("KIT1");
    let spot = Spot {
        wall: "Window wall".to_owned(),
        ..Spot::default()
    };
    site.does(Want::PlaceOutlet {
        outlet,
        spot: spot.clone(),
    });
    let wall = |site: &Site| {
        let row = site.registry().outlets.get(outlet).expect("an outlet");
        row.spot.get().map(|spot| spot.wall.clone())
    };
    let moves = |site: &Site, room: &str, number| Want::MoveOutlet {
        outlet,
        room: site.room(room),
        number: outlet_number(number),
    };
    let renumber = moves(&site, "KIT", 7);
    site.does(renumber.clone());
    assert_eq!(wall(&site), Some(spot.wall.clone()));
    assert_eq!(
        done_words(&renumber, site.registry()),
        "The outlet is KIT7 now."
    );
    let away = moves(&site, "DIN", 1);
    let act = site.does(away.clone());
    assert_eq!(wall(&site), Some(String::new()));
    assert_eq!(
        done_words(&away, site.registry()),
        "The outlet is DIN1 now. Note its exact place anew."
    );
    site.undoes(act);
    assert_eq!(wall(&site), Some(spot.wall));
}

#[test]
fn a_room_has_99_numbers_and_no_gap_is_wasted() {
    let mut site = Site::mill();
    site.adds_outlet("DIN", "keypad");
    site.does(Want::MoveOutlet {
        outlet: site.outlet("DIN1"),
        room: site.room("DIN"),
        number: outlet_number(99),
    });
    for _ in 2..99 {
        site.adds_outlet("DIN", "keypad");
    }
    assert_eq!(site.codes("DIN98"), "DIN98-A");
    // Number 1 was given and taken away again, so it is used up too.
    let want = site.add_outlet("DIN", "keypad");
    site.refuses(want, "all 99 outlet numbers");
}

#[test]
fn letters_skip_those_that_a_pen_makes_ambiguous_and_d_is_the_coax() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "tv");
    assert_eq!(site.codes("KIT1"), "KIT1-A KIT1-B KIT1-C KIT1-D");
    let coax = site.registry().cables.get(site.cable("KIT1-D"));
    assert_eq!(
        coax.and_then(|row| row.medium.get()),
        Some(&Medium::indoor(Kind::Rg6))
    );
    site.adds_outlet("KIT", "surround");
    assert_eq!(site.codes("KIT2"), "KIT2-A KIT2-B KIT2-C KIT2-E");
    site.adds_outlet("KIT", "keypad");
    for kind in [
        Kind::Cat6Utp,
        Kind::Cat6Utp,
        Kind::Cat6Utp,
        Kind::Rg59,
        Kind::Rg6,
    ] {
        let want = site.add_cable("KIT3", kind);
        site.does(want);
    }
    assert_eq!(
        site.codes("KIT3"),
        "KIT3-A KIT3-B KIT3-C KIT3-D KIT3-E KIT3-F"
    );
    let coax = site.registry().cables.get(site.cable("KIT3-D"));
    assert_eq!(
        coax.and_then(|row| row.medium.get()),
        Some(&Medium::indoor(Kind::Rg59))
    );
    for _ in 6..21 {
        let want = site.add_cable("KIT3", Kind::Cat6Utp);
        site.does(want);
    }
    let codes = site.codes("KIT3").replace("KIT3-", "");
    assert_eq!(codes, "A B C D E F G H J K L M N P R T U V W X Y");
    let want = site.add_cable("KIT3", Kind::Cat6Utp);
    site.refuses(want, "all 21 letters");
}

#[test]
fn an_own_type_with_more_cables_than_letters_is_refused_whole() {
    let mut site = Site::mill();
    let cable = |letter| PlannedCable {
        letter,
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    };
    let type_of = |count| Want::AddOutletType {
        name: format!("Desk of {count}"),
        cables: (0..count)
            .map(|n| cable((n < 2).then(|| letter("B"))))
            .collect(),
    };
    site.refuses(type_of(0), "at least one cable");
    for (count, works) in [(21, true), (22, false)] {
        site.does(type_of(count));
        let own = site.registry().outlet_types.iter().map(|(id, _)| id).max();
        let want = Want::AddOutlet {
            room: site.room("KIT"),
            kind: OutletKind::Own(own.expect("a type")),
            purpose: "Desk".to_owned(),
            rack: None,
        };
        if works {
            site.does(want);
        } else {
            site.refuses(want, "all 21 letters");
        }
    }
    let codes = site.codes("KIT1").replace("KIT1-", "");
    assert_eq!(codes, "A B C D E F G H J K L M N P R T U V W X Y");
}

#[test]
fn a_code_is_never_given_to_another_run() {
    let mut site = Site::wired_mill();
    let third = site.add_cable("KIT1", Kind::Cat6Utp);
    let act = site.does(third.clone());
    site.undoes(act);
    site.does(Want::CancelCable {
        cable: site.cable("KIT1-B"),
        reason: "Not needed".to_owned(),
    });
    site.does(third);
    assert_eq!(site.codes("KIT1"), "KIT1-A KIT1-E");
    for taken in ["B", "C", "E"] {
        let want = Want::Reletter {
            cable: site.cable("KIT1-A"),
            letter: letter(taken),
        };
        site.refuses(want, &format!("KIT1-{taken} is taken"));
    }
    let same = Want::Reletter {
        cable: site.cable("KIT1-A"),
        letter: letter("A"),
    };
    site.refuses(same, "it is so already");
    site.does(Want::Reletter {
        cable: site.cable("KIT1-A"),
        letter: letter("F"),
    });
    // Its own earlier letter is not another run's.
    site.does(Want::Reletter {
        cable: site.cable("KIT1-F"),
        letter: letter("A"),
    });
}

#[test]
fn a_code_that_stands_on_a_cable_is_not_given_by_a_room_or_a_number() {
    let mut site = Site::wired_mill();
    let want = site.mark(site.near("KIT1-A"));
    site.does(want);
    let (kitchen, dining) = (site.room("KIT"), site.room("DIN"));
    site.does(Want::RecodeRoom {
        room: kitchen,
        code: room_code("GAL"),
    });
    assert_eq!(site.codes("GAL1"), "KIT1-A GAL1-B");
    let recode = Want::RecodeRoom {
        room: dining,
        code: room_code("KIT"),
    };
    site.refuses(recode, "KIT1-A stands on the cable at GAL1 already");
    site.adds_room("Kitchenette", "KIT");
    site.adds_outlet("KIT", "data");
    assert_eq!(site.codes("KIT1"), "KIT1-B KIT1-C");
    site.adds_room("Scullery", "SCU");
    site.adds_outlet("SCU", "data");
    site.undoes(
        site.journal
            .history()
            .iter()
            .rev()
            .nth(3)
            .expect("the data outlet")
            .id,
    );
    let want = Want::MoveOutlet {
        outlet: site.outlet("SCU1"),
        room: site.room("GAL"),
        number: outlet_number(1),
    };
    site.refuses(want, "another outlet's number");
}

#[test]
fn cancelling_an_outlet_leaves_earlier_reasons_alone() {
    let mut site = Site::wired_mill();
    let cancel = |cable, reason: &str| Want::CancelCable {
        cable,
        reason: reason.to_owned(),
    };
    let (a, b) = (site.cable("KIT1-A"), site.cable("KIT1-B"));
    site.refuses(cancel(a, ""), "The reason is empty");
    site.does(cancel(a, "Drilled through"));
    let cancelled = site.does(Want::CancelOutlet {
        outlet: site.outlet("KIT1"),
        reason: "No island".to_owned(),
    });
    assert!(site.state_of(a).contains("cancelled: Drilled through"));
    assert!(site.state_of(b).contains("cancelled: No island"));
    site.undoes(cancelled);
    assert_eq!(site.state_of(b), "KIT1-B: near bare, far bare");
    site.refuses(Want::RestoreCable { cable: b }, "it is so already");
    site.does(Want::RestoreCable { cable: a });
    assert_eq!(site.state_of(a), "KIT1-A: near bare, far bare");
}

#[test]
fn a_local_run_leaves_another_outlet() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "volume-control");
    site.adds_outlet("KIT", "speaker-pair");
    let cable = site.cable("KIT2-A");
    let local = |from| Want::RouteLocal { cable, from };
    site.refuses(local(site.outlet("KIT2")), "KIT2-A ends at KIT2 itself");
    assert_eq!(names::run_kind(site.registry(), cable), RunKind::HomeRun);
    site.does(local(site.outlet("KIT1")));
    assert_eq!(names::run_kind(site.registry(), cable), RunKind::LocalRun);
    assert_eq!(walk::out_to(site.registry(), site.outlet("KIT1")), [cable]);
    assert_eq!(
        names::end(site.registry(), site.far("KIT2-A")),
        "KIT2-A at KIT1"
    );
    site.does(Want::RouteHome {
        cables: vec![cable],
        rack: Some(site.rack("1A")),
    });
    assert_eq!(names::run_kind(site.registry(), cable), RunKind::HomeRun);
    assert!(walk::out_to(site.registry(), site.outlet("KIT1")).is_empty());
}

#[test]
fn ties_are_numbered_between_two_racks() {
    let mut site = Site::wired_mill();
    site.adds_rack(2, "A", "Studio rack");
    let tie = |near, far| Want::AddTie {
        near,
        far,
        medium: Medium::indoor(Kind::Cat6aFtp),
        purpose: String::new(),
    };
    let (main, studio) = (site.rack("1A"), site.rack("2A"));
    site.refuses(tie(main, main), "two different ones");
    site.does(tie(main, studio));
    let second = site.does(tie(main, studio));
    assert_eq!(site.state("1A/2A-2"), "1A/2A-2: near bare, far bare");
    site.undoes(second);
    site.does(tie(main, studio));
    site.does(tie(studio, main));
    let codes: Vec<_> = walk::ties(site.registry())
        .into_iter()
        .map(|cable| names::cable(site.registry(), cable))
        .collect();
    assert_eq!(codes, ["1A/2A-1", "1A/2A-3", "2A/1A-4"]);
    let cable = site.cable("1A/2A-1");
    assert_eq!(names::run_kind(site.registry(), cable), RunKind::TieLine);
    site.refuses(
        Want::RouteLocal {
            cable,
            from: site.outlet("KIT1"),
        },
        "is a tie line",
    );
    site.refuses(
        Want::RouteHome {
            cables: vec![cable],
            rack: None,
        },
        "is a tie line",
    );
}

#[test]
fn cables_in_one_jacket_are_one_pull() {
    let mut site = Site::wired_mill();
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    let share = |cables: &[_]| Want::ShareJacket {
        cables: cables.to_vec(),
        jacket: None,
    };
    site.refuses(share(&[]), "two cables or more");
    site.refuses(share(&[a]), "two cables or more");
    site.does(share(&[a, b]));
    let third = site.add_cable("KIT1", Kind::Cat6Utp);
    let added = site.does(third);
    let c = site.cable("KIT1-C");
    let jacket = site
        .registry()
        .cables
        .get(a)
        .and_then(|row| row.jacket.get())
        .copied();
    site.does(Want::ShareJacket {
        cables: vec![c],
        jacket,
    });
    site.undoes(added);
    // A withdrawn cable does not stop the others, and each is reported once.
    let act = site.does(Want::ReportPull {
        cables: vec![a, b],
        outcome: PullOutcome::Pulled,
    });
    assert_eq!(site.journal.act(act).map(|act| act.facts.len()), Some(2));
    assert_eq!(site.state_of(b), "KIT1-B, pulled: near bare, far bare");
    // They are pulled anew together too.
    let again = Want::Repull {
        cable: a,
        reason: "Stuck".to_owned(),
    };
    let act = site.does(again.clone());
    let facts = &site.journal.act(act).expect("an act").facts;
    let anew = |fact: &&Fact| matches!(fact, Fact::Cable(_, CableFact::Repulled { .. }));
    assert_eq!(facts.iter().filter(anew).count(), 2);
    // Beside it the jacket of each, and nothing else.
    let jackets = |fact: &&Fact| matches!(fact, Fact::Cable(_, CableFact::InJacket(_)));
    assert_eq!(facts.iter().filter(jackets).count(), 2);
    assert_eq!(facts.len(), 4);
    assert_eq!(site.state_of(b), "KIT1-B: near bare, far bare");
    assert_eq!(
        done_words(&again, site.registry()),
        "KIT1-A and KIT1-B share a jacket and are to be pulled anew; their old tags are void."
    );
}
