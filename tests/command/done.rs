//! What the bar with the undo button says.

use bothends::command::{Correction, Want, done_words};
use bothends::domain::label::SpaceCode;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::outlet_type::PlannedCable;
use bothends::domain::work::{Availability, Pinout};
use bothends::journal::Found;

use super::support::{Site, letter, outlet_number, panel_letters, room_code};

/// Does what is wanted and expects the words for it.
#[track_caller]
fn says(site: &mut Site, want: Want, words: &str) {
    site.does(want.clone());
    assert_eq!(done_words(&want, site.registry()), words);
}

#[test]
fn names_codes_and_places_are_said() {
    let mut site = Site::wired_mill();
    let (room, rack, panel) = (site.room("KIT"), site.rack("1A"), site.panel("B"));
    let name = || "Scullery".to_owned();
    let wants = [
        (
            Want::ChoosePinout { pinout: Pinout::A },
            "Jacks are wired T568A.",
        ),
        (
            Want::RenameRoom { room, name: name() },
            "It is called Scullery now.",
        ),
        (
            Want::RenameRack { rack, name: name() },
            "It is called Scullery now.",
        ),
        (
            Want::RecodeRoom {
                room,
                code: room_code("SCU"),
            },
            "Scullery has the code SCU.",
        ),
        (
            Want::OrderRoom { room, order: 9 },
            "Scullery has another place.",
        ),
        (
            Want::RespaceRack {
                rack,
                space: SpaceCode::new(2, "B").expect("a space"),
            },
            "Scullery is space 2B.",
        ),
        (
            Want::LetterPanel {
                panel,
                letters: panel_letters("E"),
            },
            "It is panel E now.",
        ),
        (
            Want::PlacePanel {
                panel,
                rack,
                unit: Some(7),
                purpose: name(),
            },
            "Kept for Panel E.",
        ),
        (
            Want::SetTagAddress {
                address: "HTTPS://REGISTRY.EXAMPLE".to_owned(),
            },
            "Tags begin with HTTPS://REGISTRY.EXAMPLE.",
        ),
        (
            Want::SetTagAddress {
                address: String::new(),
            },
            "Tags have no address before their text.",
        ),
    ];
    for (want, words) in wants {
        says(&mut site, want, words);
    }
    let position = site.position("C03");
    let reason = || "Aerial".to_owned();
    for (kept, words) in [
        (
            Availability::Reserved { reason: reason() },
            "C03 is reserved.",
        ),
        (Availability::Bad { reason: reason() }, "C03 is bad."),
        (Availability::Open, "C03 is free for use."),
    ] {
        says(&mut site, Want::KeepPosition { position, kept }, words);
    }
    let cables = vec![PlannedCable {
        letter: None,
        medium: Medium::indoor(Kind::Rg6),
        purpose: String::new(),
    }];
    site.does(Want::AddOutletType {
        name: "Kiln".to_owned(),
        cables: cables.clone(),
    });
    let kind = site.registry().outlet_types.iter().next().expect("one").0;
    let cables = [cables.clone(), cables].concat();
    let name = "Kiln".to_owned();
    let want = Want::ChangeOutletType { kind, name, cables };
    says(
        &mut site,
        want,
        "Outlets added from now on get these cables.",
    );
}

#[test]
fn work_on_cables_is_said() {
    let mut site = Site::wired_mill();
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    let end = site.near("KIT1-A");
    let (outlet, room) = (site.outlet("KIT1"), site.room("KIT"));
    let wants = [
        (
            Want::ShareJacket {
                cables: vec![a, b],
                jacket: None,
            },
            "KIT1-A and KIT1-B lie in one jacket.",
        ),
        (
            Want::Reletter {
                cable: b,
                letter: letter("K"),
            },
            "The cable is KIT1-K now.",
        ),
        (
            Want::DrawFrom {
                cable: a,
                number: 3,
            },
            "KIT1-A is drawn from box 3.",
        ),
        (
            Want::SeeEnd {
                end,
                at: "the ceiling".to_owned(),
            },
            "KIT1-A at KIT1 seen at the ceiling.",
        ),
    ];
    for (want, words) in wants {
        says(&mut site, want, words);
    }
    site.does(site.mark(end));
    site.does(Want::MoveOutlet {
        outlet,
        room,
        number: outlet_number(5),
    });
    let words = "KIT5-A is to be marked anew; its old marks are void, the tags come off.";
    says(&mut site, Want::TagsAnew { cable: a }, words);
}

#[test]
fn loose_ends_say_their_number() {
    let mut site = Site::wired_mill();
    let found = |place: &str| Found {
        place: place.to_owned(),
        ..Found::default()
    };
    let add = |place| Want::AddLooseEnd {
        found: found(place),
    };
    let tag = |number| format!("It is loose end {number}: write that on its tag.");
    says(&mut site, add("Attic"), &tag(1));
    says(&mut site, add("Rack"), &tag(2));
    let mut all: Vec<_> = site
        .registry()
        .loose_ends
        .iter()
        .map(|(id, _)| id)
        .collect();
    all.sort_unstable();
    let [loose, other] = all[..] else {
        panic!("two loose ends")
    };
    let renumber = Want::RenumberLooseEnd { loose };
    says(&mut site, renumber, &tag(3));
    let describe = Want::DescribeLooseEnd {
        loose,
        found: found("Loft"),
    };
    says(&mut site, describe, "Loose end 3: kept.");
    let end = site.far("KIT1-A");
    let join = Want::JoinLooseEnd { loose, end };
    says(&mut site, join, "Loose end 3 is KIT1-A at Main rack.");
    let part = Want::PartLooseEnd { loose };
    says(&mut site, part, "Loose end 3 is of no known cable again.");
    let joined = Want::JoinLooseEnds {
        near: loose,
        far: other,
        outlet: site.outlet("KIT1"),
        medium: Medium::indoor(Kind::Cat6Utp),
    };
    says(&mut site, joined, "Both ends are one cable at KIT1.");
}

#[test]
fn landing_where_nothing_should_be_is_said() {
    let mut site = Site::wired_mill();
    for (position, cable, kept, words) in [
        (
            "B05",
            "KIT1-A",
            Availability::Bad {
                reason: "Bent contacts".to_owned(),
            },
            "KIT1-A is landed on B05. It is marked as bad: Bent contacts",
        ),
        (
            "B06",
            "KIT1-B",
            Availability::Reserved {
                reason: "the alarm".to_owned(),
            },
            "KIT1-B is landed on B06. It is kept for: the alarm",
        ),
    ] {
        let bothends::domain::place::Place::Position { position: at, .. } = site.place(position)
        else {
            panic!("{position} is no position");
        };
        site.does(Want::KeepPosition { position: at, kept });
        let land = site.land(site.far(cable), position);
        says(&mut site, land, words);
    }
}

#[test]
fn a_filled_panel_counts_what_was_landed_without_a_plan() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let panel = site.panel("B");
    // Three cables are left that suit the panel.
    says(
        &mut site,
        Want::FillPanel { panel },
        "Panel B is planned: 4 of its 24 positions have a cable.",
    );
}

#[test]
fn a_crossed_pair_of_two_kinds_is_doubted() {
    let mut site = Site::wired_mill();
    let (a, b) = (site.far("KIT1-A"), site.far("DIN1-A"));
    let how = Correction::TagsMove;
    says(
        &mut site,
        Want::Uncross {
            ends: vec![a, b],
            how,
        },
        "KIT1-A and DIN1-A: the tags are changed over.",
    );
    site.does(Want::SetMedium {
        cable: site.cable("DIN1-A"),
        medium: Medium::indoor(Kind::Rg6),
    });
    says(
        &mut site,
        Want::Uncross {
            ends: vec![a, b],
            how,
        },
        "KIT1-A and DIN1-A: the tags are changed over. Look again: one is Cat 6 U/UTP, the other RG-6.",
    );
}
