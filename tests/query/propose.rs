//! The proposal of positions: small jobs by hand, and as many landed as an independent matching lands.

use bothends::command::Want;
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::place::{End, Side};
use bothends::domain::work::Availability;
use bothends::names;
use bothends::query::propose::{Why, open_count, propose};

use crate::mill::Mill;

/// Jobs by chance, small and large.
mod jobs;
/// As many as an independent matching, and no outlet split that need not be.
mod judged;

/// What is proposed, as `KIT1-A B01`, in walking order.
fn proposed(mill: &Mill) -> Vec<String> {
    let registry = mill.registry();
    let places = propose(registry).places;
    places
        .iter()
        .map(|one| {
            let shared = if one.shared { " shared" } else { "" };
            format!(
                "{} {}{shared}",
                names::end_code(registry, one.end),
                names::position(registry, one.position)
            )
        })
        .collect()
}

fn why(mill: &Mill) -> Vec<(String, Why)> {
    let left = propose(mill.registry()).left_out;
    left.into_iter()
        .map(|left| (names::end_code(mill.registry(), left.end), left.why))
        .collect()
}

fn keep(mill: &mut Mill, position: &str, kept: Availability) {
    let position = mill.position(position);
    mill.does(&Want::KeepPosition { position, kept });
}

fn reserved() -> Availability {
    Availability::Reserved {
        reason: "the owner's server".to_owned(),
    }
}

#[test]
fn cables_follow_as_one_walks_and_an_outlets_cables_lie_side_by_side() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.outlets("KITS", "data", 1);
    assert_eq!(
        proposed(&mill),
        [
            "KIT1-A B01",
            "KIT1-B B02",
            "KIT2-A B03",
            "KIT2-B B04",
            "KITS1-A B05",
            "KITS1-B B06"
        ]
    );
    assert_eq!(open_count(mill.registry()), 6);
}

#[test]
fn what_is_landed_or_kept_stays_and_a_gap_of_one_splits_no_outlet() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 3);
    mill.land("KIT2-A", "B02");
    keep(&mut mill, "B05", reserved());
    keep(
        &mut mill,
        "B06",
        Availability::Bad {
            reason: "a bent contact".to_owned(),
        },
    );
    // B01 is a stretch of one between the edge and what is landed: the single cable fits it, a pair
    // does not.
    assert_eq!(
        proposed(&mill),
        [
            "KIT1-A B03",
            "KIT1-B B04",
            "KIT2-B B01",
            "KIT3-A B07",
            "KIT3-B B08"
        ]
    );
}

#[test]
fn a_panel_serves_what_it_is_for_and_others_only_when_nothing_else_is_left() {
    let mut mill = Mill::new();
    mill.panel("1A", "D", Connector::Modular, 6, Some(22));
    let panel = mill.panel_id("D");
    let rack = mill.rack_id("1A");
    mill.does(&Want::PlacePanel {
        panel,
        rack,
        unit: Some(22),
        purpose: "Cameras and access points".to_owned(),
    });
    mill.outlets("KIT", "data", 1);
    mill.outlets("KIT", "camera", 2);
    assert_eq!(
        proposed(&mill),
        ["KIT1-A B01", "KIT1-B B02", "KIT2-A D01", "KIT3-A D02"]
    );
    // Eleven more outlets of two fill B but for one pair, which goes to the panel of the cameras.
    mill.outlets("KITS", "data", 12);
    let now = proposed(&mill);
    assert_eq!(now.len(), 28);
    let on = |letter: &str| {
        let at = |line: &&String| {
            line.split(' ')
                .nth(1)
                .is_some_and(|at| at.starts_with(letter))
        };
        now.iter().filter(at).count()
    };
    assert_eq!((on("B"), on("D")), (24, 4));
    // The guests lie at the end, so that the cameras have room to grow between.
    assert!(now.contains(&"KIT2-A D01".to_owned()) && now.contains(&"KIT3-A D02".to_owned()));
    assert!(
        now.iter().any(|line| line.ends_with("D05"))
            && now.iter().any(|line| line.ends_with("D06"))
    );
}

#[test]
fn a_panel_that_serves_the_same_comes_before_an_empty_one_and_that_before_another() {
    let mut mill = Mill::new();
    mill.panel("1A", "D", Connector::Modular, 24, Some(14));
    mill.panel("1A", "E", Connector::Modular, 24, Some(13));
    // Nobody said what the panels are for; cameras begin on D.
    mill.outlets("KIT", "camera", 1);
    mill.land("KIT1-A", "D01");
    mill.outlets("KIT", "data", 1);
    mill.outlets("KIT", "camera", 1);
    mill.outlets("KIT", "data", 1);
    assert_eq!(
        proposed(&mill),
        [
            "KIT2-A B01",
            "KIT2-B B02",
            "KIT3-A D02",
            "KIT4-A B03",
            "KIT4-B B04"
        ]
    );
    // With no room left on D, the next camera has the empty panel before that of the data.
    for position in 2..=24 {
        keep(&mut mill, &format!("D{position:02}"), reserved());
    }
    let now = proposed(&mill);
    assert!(now.contains(&"KIT3-A E01".to_owned()), "{now:?}");
    // Without an empty one, it is laid all the same.
    for position in 1..=24 {
        keep(&mut mill, &format!("E{position:02}"), reserved());
    }
    let now = proposed(&mill);
    assert!(now.contains(&"KIT3-A B03".to_owned()), "{now:?}");
}

#[test]
fn room_for_growth_stays_at_the_end_of_each_panel_while_there_is_some() {
    let mut mill = Mill::new();
    mill.panel("1A", "D", Connector::Modular, 24, Some(14));
    mill.outlets("KIT", "data", 12);
    let of = |mill: &Mill, letter: &str| {
        let all = proposed(mill);
        all.iter().filter(|line| line.contains(letter)).count()
    };
    // A sixth of 24 is kept: common practice, no source.
    assert_eq!((of(&mill, " B"), of(&mill, " D")), (20, 4));
    // With 46 for 48 there is no room to keep.
    mill.outlets("KITS", "data", 11);
    assert_eq!((of(&mill, " B"), of(&mill, " D")), (24, 22));
}

#[test]
fn a_builder_reads_it_panel_by_panel_from_the_top() {
    let mut mill = Mill::new();
    mill.panel("1A", "D", Connector::Modular, 24, Some(30));
    mill.outlets("KIT", "data", 12);
    let registry = mill.registry();
    let proposal = propose(registry);
    let mut letters: Vec<String> = Vec::new();
    for pair in proposal.by_panel(registry).windows(2) {
        let [one, next] = [pair[0].position, pair[1].position];
        assert!(one.panel != next.panel || one.number < next.number);
    }
    for one in proposal.by_panel(registry) {
        letters.push(names::panel(registry, one.position.panel));
    }
    letters.dedup();
    // D hangs above B.
    assert_eq!(letters, ["Panel D", "Panel B"]);
    assert_eq!(proposal.by_panel(registry).len(), proposal.places.len());
}

#[test]
fn nobody_takes_the_only_place_of_another() {
    // What is only known in words fits anywhere; the two coax cables fit F alone.
    let mut mill = Mill::new();
    mill.panel("1A", "D", Connector::F, 2, Some(14));
    for position in 1..=8 {
        keep(&mut mill, &format!("C0{position}"), reserved());
    }
    for position in 1..=12 {
        keep(&mut mill, &format!("T{position:02}"), reserved());
    }
    let coax = Medium::indoor(Kind::Rg6);
    let own = Medium::indoor(Kind::Own("Ladder line".to_owned()));
    mill.outlets("KIT", "camera", 1);
    let outlet = mill.outlet_id("KIT", 1);
    for medium in [own, coax.clone(), coax] {
        mill.does(&Want::AddCable {
            outlet,
            medium,
            purpose: String::new(),
            rack: None,
        });
    }
    let lines = proposed(&mill);
    assert_eq!(
        lines,
        ["KIT1-A B01", "KIT1-B B02", "KIT1-C D01", "KIT1-D D02"]
    );
}

#[test]
fn terminals_are_shared_when_there_are_fewer_than_cables_and_never_by_four_pairs() {
    let mut mill = Mill::new();
    mill.panel("1A", "P", Connector::PunchBlock, 2, Some(14));
    for position in 1..=12 {
        keep(&mut mill, &format!("T{position:02}"), reserved());
    }
    mill.outlets("KIT", "camera", 1);
    let outlet = mill.outlet_id("KIT", 1);
    for _ in 0..3 {
        mill.does(&Want::AddCable {
            outlet,
            medium: Medium::control(22, 4),
            purpose: String::new(),
            rack: None,
        });
    }
    assert_eq!(
        proposed(&mill),
        [
            "KIT1-A B01",
            "KIT1-B P01",
            "KIT1-C P02",
            "KIT1-E P01 shared"
        ]
    );
    let places = propose(mill.registry()).places;
    mill.does(&Want::PlanEnds {
        places: places.iter().map(|one| (one.end, one.position)).collect(),
    });
    assert_eq!(open_count(mill.registry()), 0);
}

#[test]
fn who_is_left_out_is_told_why() {
    let mut mill = Mill::new();
    mill.rack(2, "A", "Attic rack");
    mill.outlets("KIT", "access-point", 1);
    mill.outlets("KIT", "camera", 1);
    let attic = mill.rack_id("2A");
    let to_attic = mill.cable("KIT2-A");
    mill.does(&Want::RouteHome {
        cables: vec![to_attic],
        rack: Some(attic),
    });
    let main = mill.rack_id("1A");
    let shielded = mill.cable("KIT1-A");
    mill.does(&Want::RouteHome {
        cables: vec![shielded],
        rack: Some(main),
    });
    assert_eq!(
        why(&mill),
        [
            ("KIT2-A".to_owned(), Why::NoPanel(Some(attic))),
            (
                "KIT1-A".to_owned(),
                Why::NoConnector {
                    rack: Some(main),
                    wanted: Connector::ShieldedModular,
                }
            ),
        ]
    );
    // Three wanted, of two positions one is out of use.
    mill.panel("2A", "D", Connector::Modular, 2, None);
    keep(
        &mut mill,
        "D02",
        Availability::Bad {
            reason: "a bent contact".to_owned(),
        },
    );
    mill.outlets("KIT", "camera", 1);
    let another = mill.cable("KIT3-A");
    mill.does(&Want::RouteHome {
        cables: vec![another],
        rack: Some(attic),
    });
    assert_eq!(proposed(&mill), ["KIT2-A D01"]);
    assert!(why(&mill).contains(&(
        "KIT3-A".to_owned(),
        Why::Full {
            rack: Some(attic),
            wanted: Connector::Modular,
            taken: 1,
            reserved: 0,
            bad: 1,
        }
    )));
}

#[test]
fn ties_want_a_position_at_both_racks_and_legs_one_each() {
    let mut mill = Mill::new();
    mill.rack(2, "A", "Attic rack");
    mill.panel("2A", "D", Connector::Modular, 4, None);
    let (near, far) = (mill.rack_id("1A"), mill.rack_id("2A"));
    for _ in 0..2 {
        mill.does(&Want::AddTie {
            near,
            far,
            medium: Medium::indoor(Kind::Cat6Utp),
            purpose: String::new(),
        });
    }
    let lines = proposed(&mill);
    assert_eq!(lines.len(), 4, "{lines:?}");
    assert!(lines[0].ends_with("B01") && lines[1].ends_with("D01"));
    assert!(lines[2].ends_with("B02") && lines[3].ends_with("D02"));

    let mut mill = Mill::new();
    mill.outlets("KIT", "camera", 1);
    let whole = mill.far("KIT1-A");
    mill.does(&Want::SplitEnd {
        end: whole,
        legs: bothends::domain::label::LegNumber::new(2).expect("two"),
    });
    assert_eq!(proposed(&mill), ["KIT1-A.1 B01", "KIT1-A.2 B02"]);
}

#[test]
fn local_runs_and_settled_ends_want_nothing() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    let from = mill.outlet_id("KIT", 1);
    let cable = mill.cable("KIT2-A");
    mill.does(&Want::RouteLocal { cable, from });
    let spare = End::whole(mill.cable("KIT2-B"), Side::Far);
    mill.does(&Want::Spare {
        end: spare,
        kept: "coiled in the rack".to_owned(),
        reason: "for later".to_owned(),
    });
    assert_eq!(proposed(&mill), ["KIT1-A B01", "KIT1-B B02"]);
}

#[test]
fn a_list_that_names_a_position_twice_is_refused_and_nothing_is_written() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    let places = [mill.far("KIT1-A"), mill.far("KIT1-B")];
    let places = places.map(|end| (end, mill.position("B01"))).to_vec();
    let refusal = bothends::command::draft(&Want::PlanEnds { places }, &mill.journal);
    let refusal = refusal.expect_err("twice");
    assert_eq!(
        refusal.words,
        "KIT1-A and KIT1-B are both meant for B01. Give one of them another place first."
    );
}
