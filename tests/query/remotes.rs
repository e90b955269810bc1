//! Numbered remotes in jacks, and what the tester's number says.

use bothends::command::{CopperTest, Want};
use bothends::domain::work::{TestMethod, TestOutcome};
use bothends::query::remotes::{Verdict, dealt, takes_remotes, verdict};

use crate::mill::Mill;

#[test]
fn remotes_go_into_the_jacks_that_take_them_in_their_order() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    mill.outlets("KIT", "contact", 1);
    mill.outlets("KIT", "tv", 2);
    let outlets = [1, 3, 4].map(|number| mill.outlet_id("KIT", number));
    let all = dealt(mill.registry(), &outlets);
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
    assert!(
        !takes_remotes(mill.registry(), mill.outlet_id("KIT", 2)),
        "a contact has no plug"
    );
}

#[test]
fn the_number_that_comes_out_proves_the_cable_or_names_the_crossed_one() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.land("KIT1-A", "B07");
    let outlet = mill.outlet_id("KIT", 1);
    let all = dealt(mill.registry(), &[outlet]);
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
    assert!(
        !dealt(mill.registry(), &[outlet])[0].proved,
        "by toner alone"
    );
    mill.does(&test(TestMethod::Remote));
    assert!(dealt(mill.registry(), &[outlet])[0].proved);
}
