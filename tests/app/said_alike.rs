//! Two who say the same, or nearly the same: what is one becomes one in any order of the answers, what differs is
//! asked about, and nobody is asked which of two equal answers is right.

use bothends::command::Want;
use bothends::domain::ids::LooseEndId;
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::exchange::schedule::Schedule;
use bothends::journal::{Found, Signature, WallTime};
use bothends::query::{Gate, What, check};
use bothends::schedule::{origin, plan};
use bothends::{names, walk};

use super::asked::{asked_alike, takes, told};
use crate::mill::Mill;

const FIRST: &str = "Room,Cable,Medium,Purpose,Position
Bath,BTH1-A,Cat 6 U/UTP,Data,B10
Bath,BTH1-B,RG-6,TV,
Hall,HAL1-A,Cat 6 U/UTP,Door,B11
";
const SECOND: &str = "Room,Cable,Medium,Purpose,Position
Bath,BTH1-A,Cat 6 U/UTP,Data,B12
Bath,BTH1-B,RG-6,TV upper,
Hall,HAL1-A,Speaker 16/4,Door,B11
Hall,HAL1-B,RG-6,TV,
";

fn takes_in(mill: &mut Mill, file: &str, by: &str) {
    let schedule = Schedule::read(file.as_bytes()).expect("a schedule");
    let origin = origin(mill.journal.job(), file.as_bytes());
    let planned = plan(&schedule.reading(), mill.registry(), origin);
    let mut draft = mill.journal.draft();
    draft.facts = planned.facts;
    let signature = Signature {
        by: by.to_owned(),
        wall: WallTime(0),
    };
    mill.journal.write(draft, signature).expect("a number");
}

/// Two phones that each took in a version of one schedule, and heard of each other.
fn two_versions() -> [Mill; 2] {
    let base = Mill::new();
    let mut phones = [(8, FIRST, "first"), (9, SECOND, "second")].map(|(number, file, by)| {
        let mut phone = base.phone(number);
        takes_in(&mut phone, file, by);
        phone
    });
    let [first, second] = &mut phones;
    first.hears(second);
    second.hears(first);
    phones
}

fn is_twice(what: &What) -> bool {
    matches!(
        what,
        What::OutletCodeTwice { .. } | What::RoomCodeTwice { .. } | What::CodeTwice { .. }
    )
}

fn is_disputed(what: &What) -> bool {
    matches!(what, What::Disputed { .. } | What::EndDisputed { .. })
}

/// Says of what has this code, which two have, that it is one.
fn says_the_same(mill: &mut Mill, code: &str) {
    let of = |words: &str| words.contains(&format!(" {code}."));
    let found = told(mill, is_twice).into_iter().find(|one| of(&one.title));
    let found = found.unwrap_or_else(|| panic!("{code}: {:#?}", told(mill, is_twice)));
    takes(mill, &found, "These are the same");
}

/// What is wanted, by its code.
fn codes(mill: &Mill) -> Vec<String> {
    let of = mill.registry();
    let outlets = of.outlets.iter();
    let outlets = outlets.filter(|(_, row)| walk::is_wanted_outlet(row));
    let cables = of.cables.iter();
    let cables = cables.filter(|(_, row)| walk::is_wanted_cable(row));
    let outlets = outlets.map(|(id, _)| names::outlet(of, id));
    let mut all: Vec<String> = outlets
        .chain(cables.map(|(id, _)| names::cable(of, id)))
        .collect();
    all.sort_unstable();
    all
}

/// Every order of four answers.
fn orders() -> Vec<[&'static str; 4]> {
    let all = ["BTH1", "HAL1", "BTH", "HAL"];
    let mut orders = Vec::new();
    for at in 0..256 {
        let order = [at % 4, at / 4 % 4, at / 16 % 4, at / 64];
        if (0..4).all(|one| order.contains(&one)) {
            orders.push(order.map(|one| all[one]));
        }
    }
    assert_eq!(orders.len(), 24);
    orders
}

#[test]
fn two_versions_of_one_schedule_become_one_in_any_order_of_the_answers() {
    let mut ends = Vec::new();
    for order in orders() {
        let [mut first, mut second] = two_versions();
        assert_eq!(told(&first, is_twice).len(), 4);
        for code in order {
            says_the_same(&mut first, code);
            std::mem::swap(&mut first, &mut second);
            first.hears(&second);
        }
        // A cable of another make may be another one, so that is asked.
        let [twice] = &told(&first, is_twice)[..] else {
            panic!("{order:?}: {:#?}", told(&first, is_twice));
        };
        assert_eq!(twice.title, "2 cables are called HAL1-A.");
        let expected = ["BTH1", "BTH1-A", "BTH1-B", "HAL1", "HAL1-A", "HAL1-A"];
        assert_eq!(codes(&first)[..6], expected, "{order:?}");
        says_the_same(&mut first, "HAL1-A");
        let asked = asked_alike(&mut first, &mut second, is_disputed);
        assert_eq!(first.registry().dump(), second.registry().dump());
        let expected = ["BTH1", "BTH1-A", "BTH1-B", "HAL1", "HAL1-A", "HAL1-B"];
        assert_eq!(codes(&first), expected, "{order:?}");
        let sides: Vec<String> = asked.iter().map(|one| one.detail.join(" ")).collect();
        for pair in [["B10", "B12"], ["“TV”", "“TV upper”"], ["Cat 6", "16/4"]] {
            let holds = |words: &&String| pair.iter().all(|side| words.contains(side));
            let asked = sides.iter().find(holds);
            let asked = asked.unwrap_or_else(|| panic!("{pair:?}: {sides:#?}"));
            // Each as who said it, not as who said that the two are the same.
            for by in ["by first,", "by second,"] {
                assert_eq!(asked.matches(by).count(), 1, "{order:?}: {asked}");
            }
        }
        let now = check(first.registry()).into_iter();
        let now = now.filter(|finding| finding.gate == Gate::Now);
        assert_eq!(now.count(), 3, "{order:?}");
        ends.push(asked.into_iter().map(|one| one.title).collect::<Vec<_>>());
    }
    ends.dedup();
    assert_eq!(ends.len(), 1, "{ends:#?}");
}

#[test]
fn two_who_give_the_same_answers_each_in_an_order_of_his_own_agree() {
    let orders = orders();
    for (one, other) in orders.iter().zip(orders.iter().rev()) {
        let [mut first, mut second] = two_versions();
        for code in one {
            says_the_same(&mut first, code);
        }
        for code in other {
            says_the_same(&mut second, code);
        }
        let asked = asked_alike(&mut first, &mut second, is_disputed);
        assert_eq!(first.registry().dump(), second.registry().dump());
        let titles: Vec<&String> = asked.iter().map(|one| &one.title).collect();
        assert_eq!(titles.len(), 2, "{titles:#?}");
        assert_eq!(told(&first, is_twice).len(), 1);
        for disputed in &asked {
            takes(&mut first, disputed, "Keep");
        }
        assert!(told(&first, is_disputed).is_empty());
    }
}

#[test]
fn cables_of_one_letter_that_both_were_worked_on_are_asked_about_with_their_codes() {
    for pulled in [false, true] {
        let mut phones = [FIRST, FIRST].map(|_| Mill::new());
        let base = Mill::new();
        for (phone, (number, file)) in phones.iter_mut().zip([(8, FIRST), (9, SECOND)]) {
            *phone = base.phone(number);
            takes_in(phone, file, "MW");
            let cable = phone.cable("BTH1-A");
            let work = if pulled {
                Want::ReportPull {
                    cables: vec![cable],
                    outcome: PullOutcome::Pulled,
                }
            } else {
                Want::MarkEnds {
                    ends: vec![End::whole(cable, Side::Near)],
                    kind: MarkKind::Pen,
                    copies: 1,
                }
            };
            phone.does(&work);
        }
        let [mut first, second] = phones;
        first.hears(&second);
        says_the_same(&mut first, "BTH");
        says_the_same(&mut first, "BTH1");
        let twice = told(&first, is_twice);
        let titles: Vec<&str> = twice.iter().map(|one| one.title.as_str()).collect();
        assert!(
            titles.contains(&"2 cables are called BTH1-A."),
            "{titles:?}"
        );
        let of = codes(&first);
        assert_eq!(of.iter().filter(|code| *code == "BTH1-A").count(), 2);
        says_the_same(&mut first, "BTH1-A");
        let of = codes(&first);
        assert_eq!(of.iter().filter(|code| *code == "BTH1-A").count(), 1);
    }
}

#[test]
fn an_outlet_with_two_purposes_is_asked_which_it_is() {
    let base = Mill::new();
    let [mut first, second] = [(8, "Over the door"), (9, "")].map(|(number, purpose)| {
        let mut phone = base.phone(number);
        phone.outlets("KIT", "data", 1);
        let outlet = phone.outlet_id("KIT", 1);
        let purpose = purpose.to_owned();
        if !purpose.is_empty() {
            phone.does(&Want::SetOutletPurpose { outlet, purpose });
        }
        phone
    });
    let mut third = base.phone(10);
    third.hears(&first);
    let outlet = third.outlet_id("KIT", 1);
    let mut other = base.phone(11);
    other.hears(&second);
    let purpose = "By the sink".to_owned();
    let by = other.outlet_id("KIT", 1);
    other.does(&Want::SetOutletPurpose {
        outlet: by,
        purpose,
    });
    first.hears(&second);
    says_the_same(&mut first, "KIT1");
    assert!(told(&first, is_disputed).is_empty());
    let wanted = first.registry().outlets.iter();
    let mut wanted = wanted.filter(|(_, row)| walk::is_wanted_outlet(row));
    let purpose = wanted.next().expect("one").1.purpose.get();
    assert_eq!(purpose.map(String::as_str), Some("Over the door"));
    third.hears(&other);
    assert_ne!(outlet, by);
    says_the_same(&mut third, "KIT1");
    let [disputed] = &told(&third, is_disputed)[..] else {
        panic!("one question");
    };
    assert_eq!(disputed.detail.len(), 2, "{disputed:#?}");
}

#[test]
fn two_who_put_the_same_cables_into_one_jacket_agree() {
    let mut base = Mill::new();
    base.outlets("KIT", "data", 2);
    let share = |mill: &Mill, codes: &[&str]| Want::ShareJacket {
        cables: codes.iter().map(|code| mill.cable(code)).collect(),
        jacket: None,
    };
    for (others, questions) in [(&["KIT1-B", "KIT1-A"], 0), (&["KIT1-B", "KIT2-A"], 1)] {
        let (mut first, mut second) = (base.phone(8), base.phone(9));
        first.does(&share(&first, &["KIT1-A", "KIT1-B"]));
        second.does(&share(&second, others));
        let asked = asked_alike(&mut first, &mut second, is_disputed);
        assert_eq!(first.registry().dump(), second.registry().dump());
        assert_eq!(asked.len(), questions, "{asked:#?}");
        // One box gives both at once.
        let deals = ["KIT1-A", "KIT1-B"].map(|code| (first.cable(code), 3));
        if questions == 0 {
            first.does(&Want::DealBoxes {
                deals: deals.to_vec(),
            });
        }
    }
}

#[test]
fn two_who_join_two_loose_ends_to_one_cable_are_asked_once() {
    let mut base = Mill::new();
    base.outlets("KIT", "data", 1);
    for place in ["Behind the stove", "In the rack"] {
        base.does(&Want::AddLooseEnd {
            found: Found {
                place: place.to_owned(),
                ..Found::default()
            },
        });
    }
    let ends: Vec<LooseEndId> = base.registry().loose_ends.iter().map(|at| at.0).collect();
    let phones = [8, 9].map(|number| {
        let mut phone = base.phone(number);
        phone.does(&Want::JoinLooseEnds {
            near: ends[0],
            far: ends[1],
            outlet: phone.outlet_id("KIT", 1),
            medium: Medium::indoor(Kind::Cat6Utp),
        });
        phone
    });
    let [mut first, mut second] = phones;
    first.hears(&second);
    second.hears(&first);
    says_the_same(&mut first, "KIT1-C");
    let asked = asked_alike(&mut first, &mut second, |what| {
        is_disputed(what) || is_twice(what) || matches!(what, What::JoinedTwice { .. })
    });
    assert!(asked.is_empty(), "{asked:#?}");
    let cable = first.cable("KIT1-C");
    for (loose, side) in ends.into_iter().zip(Side::BOTH) {
        let row = first.registry().loose_ends.get(loose);
        let joined = row.and_then(|row| row.joined.get()).copied().flatten();
        assert_eq!(joined, Some(End::whole(cable, side)));
    }
}
