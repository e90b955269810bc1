//! Two phones that each say something of one end that cannot both be: split and landed as a whole, a local run and
//! landed at the rack, found as a loose end and cancelled. Both ask, alike, and each way out settles it for both.

use bothends::app::mend::Mending;
use bothends::command::{self, Want};
use bothends::domain::ids::CableId;
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

/// What both phones are asked of what each of them did, and how it is with both once one took a way out.
fn settled(mill: &Mill, one: &Want, other: &Want, way: &str) -> (Mending, Mill) {
    let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
    lead.does(one);
    tech.does(other);
    let mut asked = asked_alike(&mut lead, &mut tech, says_now);
    assert_eq!(asked.len(), 1, "{asked:?}");
    let item = asked.remove(0);
    takes(&mut tech, &item, way);
    assert!(asked_alike(&mut lead, &mut tech, says_now).is_empty());
    (item, lead)
}

/// What a phone that does a thing tells of it.
fn told(mill: &Mill, want: &Want) -> String {
    let mut phone = mill.phone(9);
    phone.does(want);
    let deed = deeds(&phone.journal).into_iter().next_back();
    deed.expect("a deed").words
}

#[test]
fn an_end_that_one_splits_and_another_lands_whole_is_asked_about() {
    let mill = kitchen();
    let end = mill.far("KIT1-A");
    for (way, stays) in [("It is one, not split", true), ("It is not so", false)] {
        let (item, phone) = settled(&mill, &splits(end), &lands(&mill, end, "B03"), way);
        assert_eq!(
            item.title,
            "KIT1-A at Main rack is split, and said to be one."
        );
        let said = item.detail.iter();
        let said: Vec<&str> = said.filter_map(|said| said.split(", by").next()).collect();
        assert_eq!(said, ["KIT1-A at Main rack is landed on B03", "2 legs"]);
        assert_eq!(landed(&phone, end), stays, "{way}");
    }
}

#[test]
fn an_end_that_one_splits_and_another_leaves_is_asked_about() {
    let mill = kitchen();
    let end = mill.far("KIT1-A");
    let spare = Want::Spare {
        end,
        kept: "coiled".to_owned(),
        reason: "later".to_owned(),
    };
    let reason = "crushed".to_owned();
    let dead = Want::Dead { end, reason };
    for leaves in [spare, dead] {
        for (way, stays) in [("It is one, not split", true), ("It is not so", false)] {
            let (item, phone) = settled(&mill, &splits(end), &leaves, way);
            assert_eq!(
                item.title,
                "KIT1-A at Main rack is split, and said to be one."
            );
            let row = phone.registry().cables.get(end.cable).expect("a cable");
            let record = row.end(end.cable, end.side).expect("an end");
            assert_eq!(record.split.get().is_none(), stays, "{way}");
            let lifted = record.placement.get(None).and_then(|placed| placed.get());
            assert_eq!(lifted != Some(&Placement::Lifted), stays, "{way}");
        }
        // One phone by itself is told before.
        let mut alone = mill.phone(7);
        alone.does(&leaves);
        let refused = command::draft(&splits(end), &alone.journal).expect_err("it is left");
        assert_eq!(
            refused.words,
            "This end is not free. Lift it before you split it."
        );
        alone.does(&refused.ways_out[0].want);
        alone.does(&splits(end));
    }
}

#[test]
fn a_leg_that_is_landed_while_another_joins_the_legs_is_asked_about() {
    let mut mill = kitchen();
    let end = mill.far("KIT1-A");
    mill.does(&splits(end));
    let leg = Some(legs(1));
    let leg = End { leg, ..end };
    for (way, stays) in [("It has 2 legs", true), ("It is not so", false)] {
        let joins = Want::JoinLegs { end };
        let (item, phone) = settled(&mill, &joins, &lands(&mill, leg, "B03"), way);
        assert_eq!(
            item.title,
            "KIT1-A at Main rack has no leg 1, and it is landed."
        );
        assert_eq!(landed(&phone, leg), stays, "{way}");
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
    let lands = lands(&mill, end, "B03");
    for (way, stays) in [("It comes to the rack", true), ("It is not on B03", false)] {
        let (item, phone) = settled(&mill, &local, &lands, way);
        assert_eq!(item.title, "KIT2-A is a local run, and landed on B03.");
        let row = phone.registry().cables.get(end.cable).expect("a cable");
        let is_home = matches!(row.leaves.get(), Some(Leaves::Rack(Some(_))));
        assert_eq!((is_home, landed(&phone, end)), (stays, stays), "{way}");
    }
    // One phone by itself is told before.
    let mut alone = mill.phone(7);
    alone.does(&lands);
    let refused = command::draft(&local, &alone.journal).expect_err("it is landed");
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
    let found = Found {
        place: "the attic".to_owned(),
        ..Found::default()
    };
    mill.does(&Want::AddLooseEnd { found });
    let loose = mill.registry().loose_ends.iter().next().expect("one").0;
    let end = End::whole(mill.cable("KIT2-A"), Side::Far);
    let join = Want::JoinLooseEnd { loose, end };
    let cancel = Want::CancelCable {
        cable: end.cable,
        reason: "not there".to_owned(),
    };
    assert!(!told(&mill, &join).contains("wanted"));
    for (way, is_wanted) in [("Keep wanted", true), ("Keep cancelled", false)] {
        let (_, phone) = settled(&mill, &cancel, &join, way);
        let row = phone.registry().cables.get(end.cable).expect("a cable");
        assert_eq!(row.standing.is_cancelled(), !is_wanted, "{way}");
    }
    // One phone by itself is told before.
    mill.does(&cancel);
    let refused = command::draft(&join, &mill.journal).expect_err("it is cancelled");
    assert_eq!(refused.words, "KIT2-A is cancelled.");
    mill.does(&refused.ways_out[0].want);
    mill.does(&join);
    assert!(!check(mill.registry()).iter().any(|of| says_now(&of.what)));
}

#[test]
fn a_cable_that_one_takes_out_of_a_jacket_that_another_pulls_anew_is_asked_about() {
    let mut mill = kitchen();
    let cables = ["KIT1-A", "KIT2-A", "KIT3-A"].map(|code| mill.cable(code));
    let shares = |cables: &[CableId]| Want::ShareJacket {
        cables: cables.to_vec(),
        jacket: None,
    };
    mill.does(&shares(&cables[..2]));
    let anew = Want::Repull {
        cable: cables[0],
        reason: "nicked".to_owned(),
    };
    assert!(!told(&mill, &anew).contains("jacket"));
    for way in ["Keep one jacket with KIT1-A", "Keep one jacket with KIT3-A"] {
        let (item, _) = settled(&mill, &shares(&cables[1..]), &anew, way);
        assert_eq!(
            item.title,
            "People disagree about KIT2-A: the jacket that it shares."
        );
    }
}

#[test]
fn opposite_answers_to_what_is_split_and_whole_are_asked_about_again() {
    let asks = |what: &What| matches!(what, What::EndDisputed { .. } | What::Disputed { .. });
    for is_leg in [false, true] {
        let mut mill = kitchen();
        let end = mill.far("KIT1-A");
        let (one, other, join, apart) = if is_leg {
            mill.does(&splits(end));
            let leg = Some(legs(1));
            let lands = lands(&mill, End { leg, ..end }, "B03");
            (
                Want::JoinLegs { end },
                lands,
                "It has 2 legs",
                "It is not so",
            )
        } else {
            let reason = "crushed".to_owned();
            let dead = Want::Dead { end, reason };
            (splits(end), dead, "It is one, not split", "It is not so")
        };
        let (mut lead, mut tech) = (mill.phone(8), mill.phone(9));
        lead.does(&one);
        tech.does(&other);
        let asked = asked_alike(&mut lead, &mut tech, asks);
        let [item] = &asked[..] else {
            panic!("one question: {asked:#?}");
        };
        takes(&mut lead, item, join);
        takes(&mut tech, item, apart);
        let again = asked_alike(&mut lead, &mut tech, asks);
        let [again] = &again[..] else {
            panic!("one question again: {again:#?}");
        };
        assert_eq!(again.detail.len(), 2, "{again:#?}");
        takes(&mut lead, again, "It is not landed");
        assert!(asked_alike(&mut lead, &mut tech, asks).is_empty());
    }
}
