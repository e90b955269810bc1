//! A test proves the copper between two ends as they stood: what was moved since is open again.

use bothends::command::{CopperTest, Want, draft};
use bothends::domain::place::{End, Fitting, Place, Side};
use bothends::domain::work::{TestMethod, TestOutcome};
use bothends::query::cable::{Next, view};
use bothends::query::proof::{Proof, proof, proofs};
use bothends::query::{What, check};

use crate::mill::Mill;

const CODE: &str = "KIT1-A";

/// The mill with a cable that is landed at the rack and proved there.
fn proved() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.land(CODE, "B07");
    tests(&mut mill, TestOutcome::Passed);
    assert_eq!(how(&mill), Proof::Verified);
    mill
}

fn tests(mill: &mut Mill, outcome: TestOutcome) {
    mill.does(&Want::TestCable {
        cable: mill.cable(CODE),
        test: CopperTest {
            method: TestMethod::Remote,
            outcome,
            note: String::new(),
        },
    });
}

fn how(mill: &Mill) -> Proof {
    proof(mill.registry(), mill.far(CODE))
}

fn is_moved(mill: &Mill) -> bool {
    matches!(how(mill), Proof::Moved(_))
}

fn lifts(mill: &mut Mill) {
    let end = mill.far(CODE);
    mill.does(&Want::Lift { end });
}

/// Whether the punch list asks for a test.
fn is_asked(mill: &Mill) -> bool {
    let cable = mill.cable(CODE);
    let findings = check(mill.registry());
    findings
        .iter()
        .any(|finding| finding.what == What::NotVerified { cable })
}

#[test]
fn a_proof_is_open_again_once_an_end_is_moved_lifted_or_landed_anew() {
    for again in ["B08", "B07", ""] {
        let mut mill = proved();
        assert!(!is_asked(&mill));
        lifts(&mut mill);
        if !again.is_empty() {
            mill.land(CODE, again);
        }
        assert!(is_moved(&mill), "{again}");
        assert!(is_asked(&mill), "{again}");
        let shown = view(&mill.journal, mill.cable(CODE)).expect("a cable");
        assert_eq!(shown.tests[0].words, "moved since it was verified");
        assert_eq!(shown.tests[0].who, "MW, 2026-03-02 00:00");
        assert_eq!(shown.tests[1].words, "numbered remote passed");
        // A new test proves it as it stands now.
        tests(&mut mill, TestOutcome::Passed);
        assert_eq!(how(&mill), Proof::Verified);
        assert!(!is_asked(&mill));
    }
}

#[test]
fn what_was_seen_stays_beside_a_proof_that_holds_no_more() {
    let mut mill = proved();
    let end = mill.far(CODE);
    mill.does(&Want::SeeEnd {
        end,
        at: "Main rack".to_owned(),
    });
    assert_eq!(proofs(mill.registry(), end), [Proof::Verified]);
    lifts(&mut mill);
    let both = proofs(mill.registry(), end);
    assert!(
        matches!(both[..], [Proof::Seen, Proof::Moved(_)]),
        "{both:?}"
    );
}

#[test]
fn a_first_landing_after_the_test_moves_nothing() {
    let mut mill = proved();
    let outlet = mill.outlet_id("KIT", 1);
    mill.does(&Want::Land {
        end: End::whole(mill.cable(CODE), Side::Near),
        place: Place::Jack {
            outlet,
            jack: bothends::domain::label::Letter::new('A').expect("a letter"),
        },
        fitting: Fitting::Direct,
    });
    assert_eq!(how(&mill), Proof::Verified);
}

#[test]
fn a_move_that_is_taken_back_leaves_the_proof() {
    let mut mill = proved();
    let end = mill.far(CODE);
    let moved = draft(&Want::Lift { end }, &mill.journal).expect("no refusal");
    let act = moved.id();
    mill.does(&Want::Lift { end });
    assert!(is_moved(&mill));
    mill.does(&Want::Undo { act });
    assert_eq!(how(&mill), Proof::Verified);
}

#[test]
fn what_failed_or_was_never_tested_is_as_before() {
    let mut mill = proved();
    tests(&mut mill, TestOutcome::Failed);
    lifts(&mut mill);
    assert_eq!(how(&mill), Proof::Failed);
    let other = End::whole(mill.cable("KIT1-B"), Side::Near);
    assert_eq!(proof(mill.registry(), other), Proof::No);
    mill.does(&Want::SeeEnd {
        end: other,
        at: "KIT1".to_owned(),
    });
    assert_eq!(proof(mill.registry(), other), Proof::Seen);
    // The pull, the marks and the rest of what follows from a test are those of the copper.
    let mut mill = proved();
    lifts(&mut mill);
    let next = view(&mill.journal, mill.cable(CODE)).map(|cable| cable.next);
    assert_eq!(next, Some(Next::Mark), "it lies there");
}
