//! Two phones that do not know of each other, of which one pulls a cable anew: what the other did on its copper is
//! asked about, and each way out settles it.

use bothends::app::mend::{Mending, Step};
use bothends::command::Want;
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::query::What;

use super::asked::{asked_alike, takes, told};
use crate::mill::Mill;

fn astray(what: &What) -> bool {
    matches!(what, What::WorkAstray { .. })
}

/// Two phones with one cable in the kitchen, pulled.
fn two() -> [Mill; 2] {
    let mut mill = Mill::new();
    let want = Want::AddOutlet {
        room: mill.room_id("KIT"),
        kind: OutletKind::usual("camera").expect("a usual type"),
        purpose: String::new(),
        rack: Some(mill.rack_id("1A")),
    };
    mill.does(&want);
    let want = pulled(&mill);
    mill.does(&want);
    [mill.phone(8), mill.phone(9)]
}

fn pulled(mill: &Mill) -> Want {
    Want::ReportPull {
        cables: vec![mill.cable("KIT1-A")],
        outcome: PullOutcome::Pulled,
    }
}

fn marks(mill: &Mill) -> Want {
    Want::MarkEnds {
        ends: vec![End::whole(mill.cable("KIT1-A"), Side::Near)],
        kind: MarkKind::Pen,
        copies: 1,
    }
}

fn anew(mill: &Mill) -> Want {
    Want::Repull {
        cable: mill.cable("KIT1-A"),
        reason: "drilled".to_owned(),
    }
}

fn does_marks(mill: &mut Mill) {
    let want = marks(mill);
    mill.does(&want);
}

fn does_anew(mill: &mut Mill) {
    let want = anew(mill);
    mill.does(&want);
}

/// How many facts of work stand on the copper that lies there now.
fn work_here(mill: &Mill) -> usize {
    let cable = mill.cable("KIT1-A");
    let row = mill.registry().cables.get(cable).expect("a cable");
    let copper = row.copper(row.pull(cable));
    copper.map_or(0, |copper| {
        let marks = copper.ends.iter().map(|end| end.marks.iter().count());
        usize::from(copper.outcome.get().is_some()) + marks.sum::<usize>()
    })
}

#[test]
fn work_that_was_unknown_to_whoever_pulled_anew_is_asked_about() {
    let [mut lead, mut tech] = two();
    does_anew(&mut lead);
    // What he knew of is past without a word.
    assert!(told(&lead, astray).is_empty());
    does_marks(&mut tech);
    let asked = asked_alike(&mut lead, &mut tech, astray);
    let [asked] = &asked[..] else {
        panic!("{asked:#?}");
    };
    let words = asked.detail.join(" ");
    assert!(words.contains("Pulled anew by"), "{words}");
    assert!(words.contains("marked"), "{words}");
    for (way, left) in [
        ("That work is past", 0),
        ("That work is on the cable that lies there", 1),
        // The old copper with what was done on it first.
        ("It was not pulled anew", 2),
    ] {
        let mut other = lead.phone(10);
        takes(&mut other, asked, way);
        assert!(told(&other, astray).is_empty(), "{way}");
        assert_eq!(work_here(&other), left, "{way}");
        // On the next phone too.
        let mut heard = tech.phone(11);
        heard.hears(&other);
        assert!(told(&heard, astray).is_empty(), "{way}");
    }
}

#[test]
fn work_on_a_pull_that_was_taken_back_is_asked_about() {
    let [mut lead, mut tech] = two();
    does_anew(&mut lead);
    let act = lead.journal.history().last().expect("an act").id;
    tech.hears(&lead);
    let want = pulled(&tech);
    tech.does(&want);
    does_marks(&mut tech);
    lead.does(&Want::Undo { act });
    lead.hears(&tech);
    let [asked] = &told(&lead, astray)[..] else {
        panic!("nothing is asked");
    };
    assert!(
        asked.detail.join(" ").contains("Taken back by"),
        "{asked:#?}"
    );
    for (way, left) in [
        ("That work is past", 1),
        ("That work is on the cable that lies there", 2),
        ("It was pulled anew all the same", 2),
    ] {
        let mut other = lead.phone(10);
        takes(&mut other, asked, way);
        assert!(told(&other, astray).is_empty(), "{way}");
        assert_eq!(work_here(&other), left, "{way}");
    }
}

#[test]
fn of_two_new_pulls_the_one_that_is_not_kept_leaves_no_work_in_silence() {
    let [mut lead, mut tech] = two();
    does_anew(&mut lead);
    does_anew(&mut tech);
    lead.hears(&tech);
    tech.hears(&lead);
    let disputed = |what: &What| matches!(what, What::Disputed { .. });
    let [asked] = &told(&lead, disputed)[..] else {
        panic!("which pull lies there is not asked");
    };
    let keep = |mending: &Mending| match &mending.fixes[0].step {
        Step::Do(want) => want.clone(),
        Step::Go(_) => panic!("{mending:#?}"),
    };
    let want = keep(asked);
    lead.does(&want);
    does_marks(&mut tech);
    lead.hears(&tech);
    // Either the mark is on the pull that was kept, or it is asked about.
    let asked = told(&lead, astray).len();
    assert_eq!(asked + work_here(&lead), 1);
}

#[test]
fn a_new_pull_counts_as_work_that_whoever_cancels_did_not_know_of() {
    let [mut lead, mut tech] = two();
    let cancel = Want::CancelCable {
        cable: lead.cable("KIT1-A"),
        reason: "No camera".to_owned(),
    };
    lead.does(&cancel);
    does_anew(&mut tech);
    lead.hears(&tech);
    let cancelled = |what: &What| matches!(what, What::WorkOnCancelled { .. });
    let [asked] = &told(&lead, cancelled)[..] else {
        panic!("nothing is asked");
    };
    assert!(asked.detail.join(" ").contains("pulled anew"), "{asked:#?}");
}
