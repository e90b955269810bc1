//! Two phones that each say something of one end that cannot both be: split and landed as a whole, a local run and
//! landed at the rack, found as a loose end and cancelled. Both ask, alike, and each way out settles it for both.

use bothends::command::Want;
use bothends::domain::label::LegNumber;
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, Side};
use bothends::journal::Found;
use bothends::query::deeds::deeds;
use bothends::query::{What, check};

use super::asked::{asked_alike, takes};
use crate::mill::Mill;

fn kitchen() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "camera", 3);
    mill
}

fn legs(count: u8) -> LegNumber {
    LegNumber::new(count).expect("a number of legs")
}

fn splits(end: End) -> Want {
    Want::SplitEnd { end, legs: legs(2) }
}

fn lands(mill: &Mill, end: End, position: &str) -> Want {
    Want::Land {
        end,
        place: Place::rear(mill.position(position)),
        fitting: Fitting::Direct,
    }
}

fn says_now(what: &What) -> bool {
    matches!(
        what,
        What::EndDisputed { .. } | What::Misfit { .. } | What::Disputed { .. }
    )
}

/// Where an end, or a leg of it, is landed.
fn landed(mill: &Mill, end: End) -> bool {
    let row = mill.registry().cables.get(end.cable).expect("a cable");
    let record = row.end(end.cable, end.side).expect("an end");
    let placed = record
        .placement
        .get(end.leg)
        .and_then(|placed| placed.get());
    matches!(placed, Some(Placement::Landed { .. }))
}

#[test]
fn an_end_that_one_splits_and_another_lands_whole_is_asked_about() {
    let mill = kitchen();
    let end = mill.far("KIT1-A");
    for way in ["It is one, not split", "It is not landed so"] {
        let (mut tech, mut builder) = (mill.phone(8), mill.phone(9));
        tech.does(&splits(end));
        builder.does(&lands(&builder, end, "B03"));
        let asked = asked_alike(&mut tech, &mut builder, says_now);
        let [item] = &asked[..] else {
            panic!("{asked:?}");
        };
        assert_eq!(
            item.title,
            "KIT1-A at Main rack is split, and landed as a whole."
        );
        let said: Vec<&str> = item
            .detail
            .iter()
            .filter_map(|said| said.split(", by").next())
            .collect();
        assert_eq!(said, ["KIT1-A at Main rack is landed on B03", "2 legs"]);
        takes(&mut tech, item, way);
        assert!(asked_alike(&mut tech, &mut builder, says_now).is_empty());
        assert_eq!(
            landed(&builder, end),
            way == "It is one, not split",
            "{way}"
        );
    }
}

#[test]
fn a_leg_that_is_landed_while_another_joins_the_legs_is_asked_about() {
    let mut mill = kitchen();
    let end = mill.far("KIT1-A");
    mill.does(&splits(end));
    let leg = End {
        leg: Some(legs(1)),
        ..end
    };
    for way in ["It has 2 legs", "It is not landed so"] {
        let (mut tech, mut builder) = (mill.phone(8), mill.phone(9));
        tech.does(&Want::JoinLegs { end });
        builder.does(&lands(&builder, leg, "B03"));
        let asked = asked_alike(&mut tech, &mut builder, says_now);
        let [item] = &asked[..] else {
            panic!("{asked:?}");
        };
        assert_eq!(
            item.title,
            "KIT1-A at Main rack has no leg 1, and it is landed."
        );
        takes(&mut builder, item, way);
        assert!(asked_alike(&mut tech, &mut builder, says_now).is_empty());
        assert_eq!(landed(&tech, leg), way == "It has 2 legs", "{way}");
    }
}

#[test]
fn a_local_run_does_not_come_to_a_rack() {
    let mill = kitchen();
    let end = mill.far("KIT2-A");
    let local = Want::RouteLocal {
        cable: end.cable,
        from: mill.outlet_id("KIT", 1),
    };
    for way in ["It comes to the rack", "It is not on B03"] {
        let (mut lead, mut builder) = (mill.phone(8), mill.phone(9));
        lead.does(&local);
        builder.does(&lands(&builder, end, "B03"));
        let asked = asked_alike(&mut lead, &mut builder, says_now);
        let [item] = &asked[..] else {
            panic!("{asked:?}");
        };
        assert_eq!(item.title, "KIT2-A is a local run, and landed on B03.");
        takes(&mut lead, item, way);
        assert!(asked_alike(&mut lead, &mut builder, says_now).is_empty());
        let row = lead.registry().cables.get(end.cable).expect("a cable");
        let is_home = matches!(row.leaves.get(), Some(Leaves::Rack(Some(_))));
        assert_eq!(is_home, way == "It comes to the rack");
        assert_eq!(landed(&builder, end), is_home);
    }
    // One phone by itself is told before.
    let mut alone = mill.phone(7);
    alone.does(&lands(&alone, end, "B03"));
    let refused = bothends::command::draft(&local, &alone.journal).expect_err("it is landed");
    assert_eq!(
        refused.words,
        "KIT2-A is landed on B03. A local run does not come to a rack."
    );
    alone.does(&refused.ways_out[0].want);
    alone.does(&local);
}

#[test]
fn a_cable_that_one_found_and_another_cancelled_is_asked_about() {
    let mut mill = kitchen();
    mill.does(&Want::AddLooseEnd {
        found: Found {
            place: "the attic".to_owned(),
            ..Found::default()
        },
    });
    let loose = mill.registry().loose_ends.iter().next().expect("one").0;
    let end = End::whole(mill.cable("KIT2-A"), Side::Far);
    let join = Want::JoinLooseEnd { loose, end };
    let cancel = Want::CancelCable {
        cable: end.cable,
        reason: "not there".to_owned(),
    };
    for way in ["Keep wanted", "Keep cancelled"] {
        let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
        tech.does(&join);
        lead.does(&cancel);
        let told = deeds(&tech.journal)
            .into_iter()
            .next_back()
            .expect("a deed");
        assert!(!told.words.contains("wanted"), "{}", told.words);
        let asked = asked_alike(&mut lead, &mut tech, says_now);
        let [item] = &asked[..] else {
            panic!("{asked:?}");
        };
        takes(&mut tech, item, way);
        assert!(asked_alike(&mut lead, &mut tech, says_now).is_empty());
    }
    // One phone by itself is told before.
    mill.does(&cancel);
    let refused = bothends::command::draft(&join, &mill.journal).expect_err("it is cancelled");
    assert_eq!(refused.words, "KIT2-A is cancelled.");
    mill.does(&refused.ways_out[0].want);
    mill.does(&join);
    assert!(!check(mill.registry()).iter().any(|of| says_now(&of.what)));
}

#[test]
fn a_cable_that_one_takes_out_of_a_jacket_that_another_pulls_anew_is_asked_about() {
    let mut mill = kitchen();
    let cables = ["KIT1-A", "KIT2-A", "KIT3-A"].map(|code| mill.cable(code));
    mill.does(&Want::ShareJacket {
        cables: cables[..2].to_vec(),
        jacket: None,
    });
    for side in 0..2 {
        let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
        lead.does(&Want::ShareJacket {
            cables: cables[1..].to_vec(),
            jacket: None,
        });
        tech.does(&Want::Repull {
            cable: cables[0],
            reason: "nicked".to_owned(),
        });
        let told = deeds(&tech.journal)
            .into_iter()
            .next_back()
            .expect("a deed");
        assert!(!told.words.contains("jacket"), "{}", told.words);
        let asked = asked_alike(&mut lead, &mut tech, says_now);
        let [item] = &asked[..] else {
            panic!("{asked:?}");
        };
        assert_eq!(
            item.title,
            "People disagree about KIT2-A: the jacket that it shares."
        );
        let way = item.fixes[side].label.clone();
        takes(&mut lead, item, &way);
        assert!(asked_alike(&mut lead, &mut tech, says_now).is_empty());
    }
}
