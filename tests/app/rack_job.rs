//! The job that the browser tests of the rack start from, as stored lines.
//!
//! The lines stand in `tests/browser/fixtures/rack-job.txt`. Run this test with the variable
//! `BOTHENDS_WRITE_FIXTURES` set to write them anew.

use bothends::command::Want;
use bothends::domain::ids::{Bits80, WriterId};
use bothends::domain::medium::Connector;
use bothends::journal::{Journal, Taken};
use bothends::query::rack::{SlotState, racks, slots};

use crate::mill::Mill;

const FILE: &str = "tests/browser/fixtures/rack-job.txt";

/// Panels A and E in a loft rack and B, C and T in the main rack; B is planned in order from the
/// kitchen on, and C has one coax.
fn told() -> Mill {
    let mut mill = Mill::new();
    let name = "Marrowby Mill".to_owned();
    mill.does(&Want::NameJob { name });
    mill.room("Pottery studio", "POT");
    mill.outlets("KIT", "tv", 3);
    mill.outlets("KIT", "data", 4);
    mill.outlets("KITS", "camera", 1);
    mill.outlets("POT", "data", 5);
    mill.rack(2, "A", "Loft rack");
    mill.panel("2A", "A", Connector::Modular, 48, None);
    mill.panel("2A", "E", Connector::ShieldedModular, 12, None);
    mill.fill("B");
    mill.fill("C");
    mill
}

#[test]
fn the_stored_job_is_the_one_that_the_browser_tests_expect() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(FILE);
    if std::env::var_os("BOTHENDS_WRITE_FIXTURES").is_some() {
        let mill = told();
        let lines: String = mill
            .journal
            .lines()
            .iter()
            .map(|line| format!("{line}\n"))
            .collect();
        std::fs::write(&path, lines).expect("the file is writable");
    }
    let text = std::fs::read_to_string(&path).expect("the file is there");
    let told = told();
    let mut mill = Mill {
        journal: Journal::new(told.journal.job(), WriterId(Bits80([3; 10]))),
    };
    let taken = mill.journal.take(text.lines());
    assert!(taken.iter().all(|taken| matches!(taken, Taken::New(_))));
    // The same things, whatever the commands write besides.
    assert_eq!(mill.registry().cables.len(), told.registry().cables.len());
    let racks = racks(mill.registry());
    assert_eq!(racks.iter().map(|rack| rack.panels.len()).sum::<usize>(), 5);
    let planned = slots(mill.registry(), mill.panel_id("B"));
    assert!(
        planned[..14]
            .iter()
            .all(|slot| slot.state == SlotState::Planned)
    );
    for (code, position) in [("KIT1-B", "B01"), ("KIT4-A", "B07"), ("KIT1-D", "C01")] {
        let slots = slots(mill.registry(), mill.position(position).panel);
        let number = usize::from(mill.position(position).number.get());
        assert_eq!(slots[number - 1].planned, [mill.far(code)], "{code}");
    }
}
