//! The pull: bundles for the boxes at hand.

use std::collections::{BTreeMap, BTreeSet};

use bothends::command::Want;
use bothends::domain::ids::CableId;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::Side;
use bothends::domain::work::{PullOutcome, Waiting, WaitsFor};
use bothends::journal::Registry;
use bothends::query::pull::{Bundle, Pulls, busy, pulls};
use bothends::walk;
use proptest::collection::vec;
use proptest::prelude::*;

use crate::mill::Mill;
use crate::support::seeds::runner;

fn cat6() -> Medium {
    Medium::indoor(Kind::Cat6Utp)
}

fn coax() -> Medium {
    Medium::indoor(Kind::Rg6)
}

fn holds(mill: &mut Mill, number: u16, medium: Medium) {
    let medium = Some(medium);
    mill.does(&Want::HoldBox { number, medium });
}

/// An outlet with just these cables.
fn outlet(mill: &mut Mill, room: &str, number: u8, media: &[Medium]) {
    mill.does(&Want::AddOutlet {
        room: mill.room_id(room),
        kind: OutletKind::usual("data").expect("a usual type"),
        purpose: String::new(),
        rack: Some(mill.rack_id("1A")),
    });
    let outlet = mill.outlet_id(room, number);
    for cable in walk::fed(mill.registry(), outlet) {
        mill.does(&Want::CancelCable {
            cable,
            reason: "not in this test".to_owned(),
        });
    }
    for medium in media {
        mill.does(&Want::AddCable {
            outlet,
            medium: medium.clone(),
            purpose: String::new(),
            rack: Some(mill.rack_id("1A")),
        });
    }
}

/// A bundle as the boxes with their codes.
fn told(bundle: &Bundle) -> Vec<String> {
    let strands = bundle.strands.iter();
    strands
        .map(|strand| format!("{} = {}", strand.box_number, strand.codes.join("+")))
        .collect()
}

fn next(mill: &Mill) -> Vec<Vec<String>> {
    pulls(mill.registry()).next.iter().map(told).collect()
}

#[test]
fn the_cables_of_an_outlet_go_together_and_neighbouring_rooms_share_a_bundle() {
    let mut mill = Mill::new();
    for number in 1..=3 {
        holds(&mut mill, number, cat6());
    }
    holds(&mut mill, 8, coax());
    outlet(&mut mill, "KIT", 1, &[cat6(), cat6(), coax()]);
    outlet(&mut mill, "KIT", 2, &[cat6(), cat6()]);
    outlet(&mut mill, "KITS", 1, &[cat6(), coax()]);
    // The letters A and B are those of the cables that were cancelled.
    assert_eq!(
        next(&mill),
        [
            vec!["1 = KIT1-C", "2 = KIT1-E", "8 = KIT1-D"],
            vec!["1 = KIT2-C", "2 = KIT2-E", "3 = KITS1-C", "8 = KITS1-D"],
        ]
    );
    let pulls = pulls(mill.registry());
    assert_eq!(pulls.next[1].from, "Main rack");
    assert_eq!(pulls.next[1].rooms, ["Kitchen", "Kitchen store"]);
    assert_eq!(pulls.left(), 7);
}

#[test]
fn an_outlet_with_more_cables_than_boxes_takes_several_bundles() {
    let mut mill = Mill::new();
    holds(&mut mill, 1, cat6());
    holds(&mut mill, 2, cat6());
    outlet(
        &mut mill,
        "KIT",
        1,
        &[cat6(), cat6(), cat6(), cat6(), cat6()],
    );
    let bundles = next(&mill);
    let sizes: Vec<usize> = bundles.iter().map(Vec::len).collect();
    assert_eq!(sizes, [2, 2, 1], "{bundles:?}");
}

#[test]
fn what_no_box_holds_and_what_waits_is_told_apart() {
    let mut mill = Mill::new();
    holds(&mut mill, 4, cat6());
    outlet(&mut mill, "KIT", 1, &[cat6(), coax()]);
    outlet(&mut mill, "KIT", 2, &[cat6()]);
    mill.does(&Want::LetOutletWait {
        outlet: mill.outlet_id("KIT", 2),
        waiting: Waiting {
            whom: WaitsFor::Client,
            words: "which side of the window?".to_owned(),
        },
    });
    let pulls = pulls(mill.registry());
    assert_eq!(next(&mill), [["4 = KIT1-C"]]);
    assert_eq!(pulls.no_box.len(), 1);
    assert_eq!(pulls.no_box[0].medium, "RG-6");
    assert_eq!(pulls.no_box[0].codes, ["KIT1-D"]);
    assert_eq!(
        pulls.waiting,
        ["KIT2: question for the client: which side of the window?"]
    );
    // The box goes home: its cables wait for another.
    mill.does(&Want::HoldBox {
        number: 4,
        medium: None,
    });
    assert_eq!(next(&mill), [] as [Vec<String>; 0]);
}

#[test]
fn a_bundle_stays_in_hand_until_it_is_pulled_and_its_marks_can_be_read() {
    let mut mill = Mill::new();
    holds(&mut mill, 1, cat6());
    holds(&mut mill, 2, cat6());
    outlet(&mut mill, "KIT", 1, &[cat6(), cat6()]);
    outlet(&mut mill, "KITS", 1, &[cat6()]);
    let deal = |mill: &mut Mill| {
        let deals = pulls(mill.registry()).next[0].deals();
        mill.does(&Want::DealBoxes { deals });
    };
    deal(&mut mill);
    let now = pulls(mill.registry());
    assert_eq!(told(&now.in_hand[0].bundle), ["1 = KIT1-C", "2 = KIT1-E"]);
    assert_eq!(next(&mill), [["1 = KITS1-C"]]);
    let (c, e) = (mill.cable("KIT1-C"), mill.cable("KIT1-E"));
    assert_eq!(now.in_hand[0].unpulled(), [c, e]);
    let report = |mill: &mut Mill, cable, outcome| {
        let cables = vec![cable];
        mill.does(&Want::ReportPull { cables, outcome });
    };
    report(&mut mill, c, PullOutcome::Pulled);
    report(&mut mill, e, PullOutcome::Stuck);
    let now = pulls(mill.registry());
    assert_eq!(now.in_hand[0].unpulled(), []);
    assert_eq!(now.in_hand[0].read(Side::Near), 0);
    // The next bundle takes its place.
    deal(&mut mill);
    let now = pulls(mill.registry());
    assert_eq!(now.in_hand.len(), 1);
    assert_eq!(told(&now.in_hand[0].bundle), ["1 = KITS1-C"]);
}

#[test]
fn what_is_stuck_stays_on_a_list_until_it_is_pulled() {
    let mut mill = Mill::new();
    holds(&mut mill, 1, cat6());
    outlet(&mut mill, "KIT", 1, &[cat6()]);
    let cable = mill.cable("KIT1-C");
    let report = |mill: &mut Mill, outcome| {
        let cables = vec![cable];
        mill.does(&Want::ReportPull { cables, outcome });
    };
    let trouble = |mill: &Mill| -> Vec<(String, Option<PullOutcome>)> {
        let strands = pulls(mill.registry()).trouble.into_iter();
        strands
            .map(|strand| (strand.codes[0].clone(), strand.outcome))
            .collect()
    };
    let deal = |mill: &mut Mill| {
        let deals = pulls(mill.registry()).next[0].deals();
        mill.does(&Want::DealBoxes { deals });
    };
    deal(&mut mill);
    report(&mut mill, PullOutcome::Stuck);
    // A bundle that is dealt since takes the place in hand, not that on the list.
    outlet(&mut mill, "KITS", 1, &[cat6()]);
    deal(&mut mill);
    let stuck = [("KIT1-C".to_owned(), Some(PullOutcome::Stuck))];
    assert_eq!(trouble(&mill), stuck);
    assert_eq!(pulls(mill.registry()).left(), 2);
    report(&mut mill, PullOutcome::Pulled);
    assert_eq!(trouble(&mill), []);
    report(&mut mill, PullOutcome::Damaged);
    mill.does(&Want::Repull {
        cable,
        reason: "damaged".to_owned(),
    });
    assert_eq!(trouble(&mill), []);
    assert_eq!(next(&mill), [["1 = KIT1-C"]]);
}

#[test]
fn one_jacket_is_one_pull_from_one_box() {
    let mut mill = Mill::new();
    holds(&mut mill, 4, coax());
    outlet(&mut mill, "KIT", 1, &[coax(), Medium::control(18, 2)]);
    let outlet = mill.outlet_id("KIT", 1);
    let cables = walk::fed(mill.registry(), outlet);
    let jacket = None;
    mill.does(&Want::ShareJacket { cables, jacket });
    // A box of plain coax does not hold the jacket.
    assert_eq!(next(&mill), [] as [Vec<String>; 0]);
    let words = pulls(mill.registry()).no_box[0].medium.clone();
    assert_eq!(words, "Control 18/2 and RG-6");
    holds(&mut mill, 5, Medium::indoor(Kind::Own(words)));
    assert_eq!(next(&mill).len(), 1, "{:?}", next(&mill));
    let deals = pulls(mill.registry()).next[0].deals();
    assert_eq!(deals.iter().map(|(_, of)| *of).collect::<Vec<_>>(), [5, 5]);
    mill.does(&Want::DealBoxes { deals });
    let now = pulls(mill.registry());
    assert_eq!(now.in_hand[0].bundle.strands.len(), 1);
    let strand = now.in_hand[0].bundle.strands[0].clone();
    mill.does(&Want::ReportPull {
        cables: strand.cables,
        outcome: PullOutcome::Stuck,
    });
    assert_eq!(pulls(mill.registry()).left(), 2);
    let now = pulls(mill.registry());
    assert_eq!(now.trouble.len(), 1);
    let codes = now.trouble[0].codes.join(" ");
    assert_eq!(codes, "KIT1-C KIT1-D");
    mill.does(&Want::Repull {
        cable: now.trouble[0].cables[1],
        reason: "stuck".to_owned(),
    });
    assert_eq!(next(&mill), [["5 = KIT1-C+KIT1-D"]]);
}

/// The cables of each medium at one outlet, against the boxes: no plan needs fewer pulls than the
/// medium that is shortest of boxes does.
fn fewest(registry: &Registry, pulls: &Pulls) -> usize {
    let mut wanted: BTreeMap<Medium, usize> = BTreeMap::new();
    for strand in pulls.next.iter().flat_map(|bundle| &bundle.strands) {
        let row = registry.cables.get(strand.cables[0]).expect("a cable");
        *wanted
            .entry(row.medium.get().expect("a medium").clone())
            .or_default() += 1;
    }
    let boxes = |medium: &Medium| {
        pulls
            .boxes
            .iter()
            .filter(|(_, holds)| holds == medium)
            .count()
    };
    let pulls = wanted
        .iter()
        .map(|(medium, count)| count.div_ceil(boxes(medium)));
    pulls.max().unwrap_or_default()
}

#[test]
fn every_cable_is_dealt_once_and_every_box_gives_one_at_a_time() {
    let media = [cat6(), coax(), Medium::speaker(16, 2)];
    let cable = 0..media.len();
    let outlets = vec((0..2_usize, vec(cable.clone(), 1..7)), 1..7);
    let boxes = vec(cable, 0..8);
    runner(40)
        .run(&(outlets, boxes), |(outlets, boxes)| {
            let mut mill = Mill::new();
            for (at, medium) in boxes.iter().enumerate() {
                let number = u16::try_from(at).expect("few") + 1;
                holds(&mut mill, number, media[*medium].clone());
            }
            let mut counts = [0_u8; 2];
            for (room, cables) in &outlets {
                counts[*room] += 1;
                let of: Vec<Medium> = cables.iter().map(|at| media[*at].clone()).collect();
                outlet(&mut mill, ["KIT", "KITS"][*room], counts[*room], &of);
            }
            let registry = mill.registry();
            let plan = pulls(registry);
            let mut dealt: Vec<CableId> = Vec::new();
            for bundle in &plan.next {
                let mut used = BTreeSet::new();
                for strand in &bundle.strands {
                    prop_assert!(used.insert(strand.box_number), "{:?}", told(bundle));
                    let (_, gives) = plan
                        .boxes
                        .iter()
                        .find(|(number, _)| *number == strand.box_number)
                        .expect("a box on site");
                    let row = registry.cables.get(strand.cables[0]).expect("a cable");
                    prop_assert_eq!(row.medium.get(), Some(gives));
                    dealt.extend(&strand.cables);
                }
            }
            let without: usize = plan.no_box.iter().map(|one| one.codes.len()).sum();
            let all = walk::cables(registry);
            prop_assert_eq!(dealt.len() + without, all.len());
            prop_assert_eq!(dealt.iter().collect::<BTreeSet<_>>().len(), dealt.len());
            if outlets.len() == 1 {
                prop_assert_eq!(plan.next.len(), fewest(registry, &plan));
            }
            prop_assert!(plan.next.len() >= fewest(registry, &plan));
            prop_assert_eq!(pulls(registry), plan, "the same plan twice");
            Ok(())
        })
        .expect("it holds");
}

#[test]
fn cables_of_one_code_are_in_no_bundle_until_they_are_told_apart() {
    let story = "room KIT; code KIT KIT; rack rackA; space rackA A
        outlet KIT1; number KIT1 KIT 1; box 1 cat6-utp; box 2 cat6-utp
        cable one; feeds one KIT1 A; to one rackA; made one cat6-utp
        cable two; feeds two KIT1 A; to two rackA; made two cat6-utp
        cable three; feeds three KIT1 B; to three rackA; made three cat6-utp";
    let desk = super::desk::told(story);
    let of_one_code = pulls(desk.registry());
    let bundles: Vec<_> = of_one_code.next.iter().map(told).collect();
    assert_eq!(bundles, [["1 = KIT1-B"]]);
    let alike = &of_one_code.alike;
    assert_eq!(alike.len(), 1);
    assert_eq!((alike[0].code.as_str(), alike[0].cables), ("KIT1-A", 2));
    assert_eq!(of_one_code.left(), 3);
    let apart = super::desk::told(&format!("{story}\n feeds two KIT1 C"));
    let apart = pulls(apart.registry());
    assert_eq!(apart.alike, []);
    let dealt: usize = apart.next.iter().map(|bundle| bundle.strands.len()).sum();
    assert_eq!((dealt, apart.left()), (3, 3));
}

#[test]
fn a_box_that_is_out_with_one_bundle_is_told_with_the_next() {
    let mut mill = Mill::new();
    holds(&mut mill, 1, cat6());
    outlet(&mut mill, "KIT", 1, &[cat6()]);
    outlet(&mut mill, "KIT", 2, &[cat6()]);
    let deals = pulls(mill.registry()).next[0].deals();
    let dealt = deals[0].0;
    mill.does(&Want::DealBoxes { deals });
    let all = pulls(mill.registry());
    let code = mill.registry().cable_code(dealt).expect("a code").text;
    assert_eq!(busy(&all.next[0], &all.in_hand), [(1, vec![code])]);
    mill.does(&Want::ReportPull {
        cables: vec![dealt],
        outcome: PullOutcome::Pulled,
    });
    let all = pulls(mill.registry());
    assert_eq!(busy(&all.next[0], &all.in_hand), []);
}
