//! The text of a tag, looked up: what it hangs on, and what is to be known about it.

use bothends::codes::tag::{JobKey, TagText, Tagged};
use bothends::command::Want;
use bothends::domain::ids::{Bits80, JobId};
use bothends::domain::label::{PanelLetters, SpaceCode};
use bothends::domain::place::TaggedPlace;

use super::{codes, mill, said};

fn text_of(job: JobId, tagged: Tagged) -> String {
    let job_key = JobKey::of(job);
    TagText { tagged, job_key }.to_string()
}

#[test]
fn the_text_of_a_tag_finds_its_cable_and_nothing_else() {
    let mill = mill();
    let tag = mill.tag_text("KIT1-B");
    let (code, group) = tag.split_once(' ').expect("a group");
    for text in [
        tag.clone(),
        tag.to_lowercase(),
        format!("HTTPS://REGISTRY.EXAMPLE/{code}/{group}"),
    ] {
        assert_eq!(codes(&mill, &text), "KIT1-B", "{text}");
        assert_eq!(said(&mill, &text), "", "{text}");
    }
    // One character copied wrongly: said, and the code that was read is still shown.
    let last = if group.ends_with('7') { '8' } else { '7' };
    let wrong = format!("{}{last}", &tag[..tag.len() - 1]);
    assert_eq!(codes(&mill, &wrong), "KIT1-B", "{wrong}");
    assert!(
        said(&mill, &wrong).ends_with('.'),
        "{}",
        said(&mill, &wrong)
    );
}

#[test]
fn tags_of_places_find_the_place() {
    let mill = mill();
    let job = mill.journal.job();
    let outlet = mill.registry().outlet_code(mill.outlet_id("KIT", 2));
    for (tagged, found) in [
        (
            Tagged::Outlet(outlet.expect("a code")),
            "KIT2, KIT2-A, KIT2-B",
        ),
        (
            Tagged::Panel(PanelLetters::new("C").expect("letters")),
            "Panel C",
        ),
        (
            Tagged::Space(SpaceCode::new(1, "A").expect("a space")),
            "1A",
        ),
    ] {
        assert_eq!(codes(&mill, &text_of(job, tagged)), found);
    }
}

#[test]
fn a_tag_that_misleads_says_so() {
    let mut mill = mill();
    let other = JobId(Bits80(*b"Oatlingrow"));
    let outlet = mill.registry().outlet_code(mill.outlet_id("KIT", 2));
    let foreign = text_of(other, Tagged::Outlet(outlet.expect("a code")));
    assert_eq!(codes(&mill, &foreign), "");
    let words = said(&mill, &foreign);
    assert!(
        words.starts_with("This tag, KIT2, is of another job"),
        "{words}"
    );

    let panel = Tagged::Panel(PanelLetters::new("X").expect("letters"));
    let unknown = text_of(mill.journal.job(), panel);
    assert_eq!(codes(&mill, &unknown), "");
    let words = said(&mill, &unknown);
    assert!(words.contains("X is not known on this device"), "{words}");

    let old = mill.tag_text("KIT1-B");
    mill.does(&Want::Repull {
        cable: mill.cable("KIT1-B"),
        reason: "Drilled through".to_owned(),
    });
    let new = mill.tag_text("KIT1-B");
    assert_ne!(old, new);
    assert_eq!(codes(&mill, &old), "KIT1-B");
    let words = said(&mill, &old);
    assert!(
        words.starts_with("This tag is void: KIT1-B was pulled anew since."),
        "{words}"
    );
    assert_eq!(said(&mill, &new), "");

    // The new pull is taken back: its tag belongs to nothing that is known to lie there.
    let act = mill.journal.history().last().expect("an act").id;
    mill.does(&Want::Undo { act });
    assert_eq!(said(&mill, &old), "");
    let words = said(&mill, &new);
    assert!(
        words.contains("a pull of KIT1-B that is not known"),
        "{words}"
    );
}

#[test]
fn a_conduit_and_a_box_are_found_with_all_their_cables() {
    let mut mill = mill();
    mill.conduit("the attic", &["KIT1-B", "KIT2-A"]);
    mill.conduit("the gate", &[]);
    for cable in ["KIT1-A", "KIT2-A"] {
        let cable = mill.cable(cable);
        mill.does(&Want::DrawFrom { cable, number: 3 });
    }
    let job = mill.journal.job();
    for (tagged, found) in [
        (Tagged::Conduit(1), "CD1, KIT1-B, KIT2-A"),
        (Tagged::Conduit(2), "CD2"),
        (Tagged::Box(3), "BOX3, KIT1-A, KIT2-A"),
    ] {
        let text = text_of(job, tagged);
        assert_eq!(codes(&mill, &text), found);
        assert_eq!(said(&mill, &text), "");
    }
    // Typed.
    assert!(codes(&mill, "cd 1").starts_with("CD1, KIT1-B, KIT2-A"));
    assert!(codes(&mill, "box3").starts_with("BOX3, KIT1-A, KIT2-A"));
    for unknown in [Tagged::Conduit(9), Tagged::Box(9)] {
        let text = text_of(job, unknown);
        assert_eq!(codes(&mill, &text), "");
        assert!(said(&mill, &text).contains("is not known on this device"));
    }
    // A pull anew is drawn from another box.
    let cable = mill.cable("KIT1-A");
    let reason = "Drilled through".to_owned();
    mill.does(&Want::Repull { cable, reason });
    assert_eq!(codes(&mill, &text_of(job, Tagged::Box(3))), "BOX3, KIT2-A");
}

#[test]
fn what_cd1_and_box3_mean_is_decided_by_what_exists() {
    let mut mill = mill();
    mill.room("Cold store", "CD");
    mill.outlets("CD", "contact", 1);
    assert!(codes(&mill, "cd1").starts_with("CD1, CD1-A"));
    mill.conduit("the attic", &["KIT1-B"]);
    // Both exist: both are given, the outlet first.
    assert!(codes(&mill, "cd1").starts_with("CD1, CD1-A, CD1, KIT1-B"));
    // The tags themselves are of one each.
    let job = mill.journal.job();
    let outlet = mill.registry().outlet_code(mill.outlet_id("CD", 1));
    let outlet = Tagged::Outlet(outlet.expect("a code"));
    assert_eq!(codes(&mill, &text_of(job, outlet)), "CD1, CD1-A");
    assert_eq!(
        codes(&mill, &text_of(job, Tagged::Conduit(1))),
        "CD1, KIT1-B"
    );
}

#[test]
fn the_old_tag_of_a_renumbered_conduit_says_what_it_is_called_by_now() {
    let mut mill = mill();
    let conduit = mill.conduit("the attic", &["KIT1-B"]);
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 1,
        set: 0,
        cables: Vec::new(),
        places: vec![TaggedPlace::Conduit(conduit)],
        strips: Vec::new(),
    });
    mill.does(&Want::RenumberConduit { conduit });
    let old = text_of(mill.journal.job(), Tagged::Conduit(1));
    assert_eq!(codes(&mill, &old), "CD2, KIT1-B");
    assert_eq!(
        said(&mill, &old),
        "This tag is void: CD1 is called CD2 by now. Take it off, and print a new one."
    );
}
