//! A crossed pair that two phones put right, each without knowing of the other: one changes the tags over, the other
//! the record. Both together would cross it again.

use bothends::app::mend::Mending;
use bothends::command::{Correction, Want};
use bothends::domain::place::{Place, Placement, Side};
use bothends::query::What;

use super::asked::{asked_alike, takes, told};
use crate::mill::Mill;

/// What is asked of where ends are and where they belong.
fn places(what: &What) -> bool {
    matches!(
        what,
        What::EndAtTwoPlaces { .. } | What::Disputed { .. } | What::DoubleClaim { .. }
    )
}

/// Two phones with two cables of the kitchen, landed as planned.
fn two() -> [Mill; 2] {
    let mut mill = Mill::new();
    mill.outlets("KIT", "camera", 2);
    mill.fill("B");
    mill.land("KIT1-A", "B01");
    mill.land("KIT2-A", "B02");
    [mill.phone(8), mill.phone(9)]
}

fn uncross(mill: &mut Mill, how: Correction) {
    let want = Want::Uncross {
        ends: vec![mill.far("KIT1-A"), mill.far("KIT2-A")],
        how,
    };
    mill.does(&want);
}

/// The title and what is said by each side.
fn lines(asked: &[Mending]) -> Vec<String> {
    let lines = asked.iter().flat_map(|item| {
        let by = item
            .detail
            .iter()
            .map(|said| said.split(", by").next().unwrap_or(said));
        std::iter::once(item.title.as_str()).chain(by)
    });
    lines.map(str::to_owned).collect()
}

/// Both ways to put it right at once, and what both phones ask then.
fn put_right_twice() -> ([Mill; 2], Vec<Mending>) {
    let [mut lead, mut tech] = two();
    uncross(&mut lead, Correction::RecordChanges);
    uncross(&mut tech, Correction::TagsMove);
    let asked = asked_alike(&mut lead, &mut tech, places);
    ([lead, tech], asked)
}

#[test]
fn tags_and_record_changed_over_at_once_are_asked_about() {
    let (_, asked) = put_right_twice();
    let titles: Vec<&str> = asked.iter().map(|item| item.title.as_str()).collect();
    assert_eq!(
        titles,
        [
            "B01 has 2 cables: KIT1-A and KIT2-A.",
            "B02 has 2 cables: KIT1-A and KIT2-A.",
            "People disagree where KIT1-A at Main rack is.",
            "People disagree about KIT1-A at Main rack: where it belongs.",
            "People disagree where KIT2-A at Main rack is.",
            "People disagree about KIT2-A at Main rack: where it belongs.",
        ]
    );
    assert_eq!(
        lines(&asked[2..3]),
        [
            "People disagree where KIT1-A at Main rack is.",
            "KIT1-A at Main rack is landed on B02",
            "KIT1-A at Main rack is landed on B01",
        ]
    );
}

#[test]
fn one_look_at_the_panel_says_where_both_are() {
    for (seen, rest) in [
        ("KIT1-A is here", ["B01", "B02"]),
        ("KIT2-A is here", ["B02", "B01"]),
    ] {
        let ([mut lead, mut tech], asked) = put_right_twice();
        takes(&mut lead, &asked[0], seen);
        let left = told(&lead, places);
        // What is left is where they belong, unless that was seen with it.
        for item in &left {
            let (_, belongs) = item.title.split_once("about ").expect("a plan");
            let at = if belongs.starts_with("KIT1-A") {
                rest[0]
            } else {
                rest[1]
            };
            takes(&mut lead, item, &format!("Keep {at}"));
        }
        assert!(asked_alike(&mut lead, &mut tech, places).is_empty());
        for (code, at) in [("KIT1-A", rest[0]), ("KIT2-A", rest[1])] {
            let row = tech
                .registry()
                .cables
                .get(tech.cable(code))
                .expect("a cable");
            let end = row.end(tech.cable(code), Side::Far).expect("an end");
            let place = Place::rear(tech.position(at));
            assert!(
                matches!(end.placement.whole.get(), Some(Placement::Landed { place: there, .. }) if *there == place),
                "{code}"
            );
        }
    }
}

#[test]
fn what_both_did_alike_is_not_asked_about() {
    for how in [Correction::RecordChanges, Correction::TagsMove] {
        let [mut lead, mut tech] = two();
        uncross(&mut lead, how);
        uncross(&mut tech, how);
        assert!(asked_alike(&mut lead, &mut tech, places).is_empty());
    }
}
