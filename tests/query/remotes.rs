//! Numbered remotes in jacks, and what the tester's number says.

use bothends::command::{CopperTest, Want};
use bothends::domain::ids::OutletId;
use bothends::domain::place::End;
use bothends::domain::work::{PullOutcome, TestMethod, TestOutcome};
use bothends::query::remotes::{Plugged, Remote, Verdict, dealt, free, jacks, verdict};

use crate::mill::Mill;

fn pulls(mill: &mut Mill, codes: &[&str]) {
    let cables = codes.iter().map(|code| mill.cable(code)).collect();
    let outcome = PullOutcome::Pulled;
    mill.does(&Want::ReportPull { cables, outcome });
}

/// The remotes in the jacks of outlets, one outlet after the other.
fn all(mill: &Mill, outlets: &[OutletId]) -> Vec<Remote> {
    let registry = mill.registry();
    let ends: Vec<End> = outlets
        .iter()
        .flat_map(|outlet| jacks(registry, *outlet))
        .collect();
    let plugged = free(&[]).zip(ends);
    let plugged = plugged.map(|(number, end)| Plugged { number, end });
    dealt(registry, &plugged.collect::<Vec<_>>())
}

#[test]
fn a_cable_that_is_not_pulled_has_no_remote() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    let outlet = mill.outlet_id("KIT", 1);
    assert_eq!(jacks(mill.registry(), outlet), []);
    pulls(&mut mill, &["KIT1-C", "KIT1-B"]);
    let dealt = all(&mill, &[outlet]);
    let codes: Vec<(u8, &str)> = dealt
        .iter()
        .map(|one| (one.number, one.code.as_str()))
        .collect();
    assert_eq!(codes, [(1, "KIT1-B"), (2, "KIT1-C")]);
}

#[test]
fn a_cable_that_was_moved_since_is_to_be_read_again() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.land("KIT1-A", "B07");
    let outlet = mill.outlet_id("KIT", 1);
    let cable = mill.cable("KIT1-A");
    mill.does(&Want::TestCable {
        cable,
        test: CopperTest {
            method: TestMethod::Remote,
            outcome: TestOutcome::Passed,
            note: String::new(),
        },
    });
    assert!(all(&mill, &[outlet])[0].proved);
    let end = mill.far("KIT1-A");
    mill.does(&Want::Lift { end });
    mill.land("KIT1-A", "B08");
    assert!(!all(&mill, &[outlet])[0].proved);
}

#[test]
fn remotes_go_into_the_jacks_that_take_them_in_their_order() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    mill.outlets("KIT", "contact", 1);
    mill.outlets("KIT", "tv", 2);
    let outlets = [1, 3, 4].map(|number| mill.outlet_id("KIT", number));
    pulls(
        &mut mill,
        &[
            "KIT1-A", "KIT1-B", "KIT1-C", "KIT1-D", "KIT3-A", "KIT3-B", "KIT3-C", "KIT3-D",
            "KIT4-A", "KIT4-B", "KIT4-C", "KIT4-D",
        ],
    );
    let all = all(&mill, &outlets);
    let codes: Vec<(u8, &str)> = all
        .iter()
        .map(|one| (one.number, one.code.as_str()))
        .collect();
    // A set has eight.
    assert_eq!(
        codes,
        [
            (1, "KIT1-A"),
            (2, "KIT1-B"),
            (3, "KIT1-C"),
            (4, "KIT1-D"),
            (5, "KIT3-A"),
            (6, "KIT3-B"),
            (7, "KIT3-C"),
            (8, "KIT3-D"),
        ]
    );
    pulls(&mut mill, &["KIT2-A"]);
    let contact = mill.outlet_id("KIT", 2);
    assert_eq!(jacks(mill.registry(), contact), [], "a contact has no plug");
}

#[test]
fn the_number_that_comes_out_proves_the_cable_or_names_the_crossed_one() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.land("KIT1-A", "B07");
    pulls(&mut mill, &["KIT1-A", "KIT1-B"]);
    let outlet = mill.outlet_id("KIT", 1);
    let dealt = |mill: &Mill| all(mill, &[outlet]);
    let all = dealt(&mill);
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| mill.cable(code));
    assert_eq!(all[0].position.as_deref(), Some("B07"));
    assert_eq!(all[1].position, None);
    assert_eq!(verdict(&all, a, 1), Verdict::Right);
    assert_eq!(verdict(&all, a, 2), Verdict::Crossed(b));
    assert_eq!(verdict(&all, a, 3), Verdict::NoSuchRemote);
    assert!(!all[0].proved);
    let test = |method| Want::TestCable {
        cable: a,
        test: CopperTest {
            method,
            outcome: TestOutcome::Passed,
            note: String::new(),
        },
    };
    mill.does(&test(TestMethod::Toner));
    assert!(!dealt(&mill)[0].proved, "by toner alone");
    mill.does(&test(TestMethod::Remote));
    assert!(dealt(&mill)[0].proved);
}
