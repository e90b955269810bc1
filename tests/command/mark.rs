//! Marks freeze codes; pulls, footage and tests are noted of the copper.

use bothends::command::Want;
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::Kind;
use bothends::domain::work::MarkKind;

use super::support::{Site, letter, outlet_number, room_code};

#[test]
fn the_first_mark_freezes_the_code() {
    let mut site = Site::wired_mill();
    let room = site.room("KIT");
    for kind in [MarkKind::Pen, MarkKind::Printed, MarkKind::Fixed] {
        let mut site = Site::wired_mill();
        site.does(Want::MarkEnds {
            ends: vec![site.far("KIT1-A")],
            kind,
            copies: 1,
        });
        site.does(Want::RecodeRoom {
            room,
            code: room_code("GAL"),
        });
        assert_eq!(site.codes("GAL1"), "KIT1-A GAL1-B", "{kind:?}");
        let reletter = Want::Reletter {
            cable: site.cable("KIT1-A"),
            letter: letter("C"),
        };
        site.refuses(reletter, "KIT1-A stands on the cable already");
        site.does(Want::MoveOutlet {
            outlet: site.outlet("GAL1"),
            room: site.room("DIN"),
            number: outlet_number(7),
        });
        assert_eq!(site.codes("DIN7"), "KIT1-A DIN7-B", "{kind:?}");
        // The other end gets what the first one says.
        let want = site.mark(site.near("KIT1-A"));
        site.does(want);
        assert_eq!(
            site.state("KIT1-A"),
            "KIT1-A: near marked KIT1-A, far marked KIT1-A",
            "{kind:?}"
        );
    }
    let want = site.mark(site.near("KIT1-A"));
    let act = site.does(want);
    site.undoes(act);
    site.does(Want::RecodeRoom {
        room,
        code: room_code("GAL"),
    });
    assert_eq!(site.codes("GAL1"), "GAL1-A GAL1-B");
}

#[test]
fn a_mark_needs_a_hand_and_a_code_of_its_own() {
    let mut site = Site::wired_mill();
    let end = site.near("KIT1-A");
    let none = Want::MarkEnds {
        ends: vec![end],
        kind: MarkKind::Pen,
        copies: 0,
    };
    site.refuses(none, "at least once");
    // Two phones add a third cable to one outlet at the same time.
    let mut other = Site::phone(2);
    site.meets(&mut other);
    for phone in [&mut site, &mut other] {
        let want = phone.add_cable("KIT1", Kind::Cat6Utp);
        phone.does(want);
    }
    let (mine, theirs) = (site.near("KIT1-C"), other.near("KIT1-C"));
    site.meets(&mut other);
    let refusal = site.refuses(site.mark(mine), "Two cables are called KIT1-C");
    site.takes(&refusal, 1);
    site.does(site.mark(mine));
    site.does(site.mark(theirs));
    assert_eq!(
        site.codes("KIT1").len(),
        "KIT1-A KIT1-B KIT1-C KIT1-E".len()
    );
}

#[test]
fn of_two_cables_marked_alike_one_loses_its_tags() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    let mut ends = Vec::new();
    for phone in [&mut site, &mut other] {
        let want = phone.add_cable("KIT1", Kind::Cat6Utp);
        phone.does(want);
        let end = phone.near("KIT1-C");
        let want = phone.mark(end);
        phone.does(want);
        ends.push(end);
    }
    site.meets(&mut other);
    let refusal = site.refuses(site.mark(ends[0]), "Two cables are called KIT1-C");
    site.takes(&refusal, 1);
    assert_eq!(site.state_of(ends[0].cable), "KIT1-E: near bare, far bare");
    assert_eq!(
        site.state_of(ends[1].cable),
        "KIT1-C: near marked KIT1-C, far bare"
    );
    site.does(site.mark(ends[0]));
}

#[test]
fn footage_of_one_jacket_is_read_once() {
    let mut site = Site::wired_mill();
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    site.does(Want::ShareJacket {
        cables: vec![a, b],
        jacket: None,
    });
    site.does(Want::ReadFootage {
        end: site.near("KIT1-A"),
        mark: FootageMark {
            value: 812,
            unit: LengthUnit::Feet,
        },
    });
    assert_eq!(site.state("KIT1-B"), "KIT1-B: near at 812 ft, far bare");
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far bare");
}

#[test]
fn nothing_is_noted_of_a_withdrawn_cable() {
    let mut site = Site::wired_mill();
    let want = site.add_cable("KIT1", Kind::Cat6Utp);
    let act = site.does(want);
    let end = site.near("KIT1-C");
    site.undoes(act);
    for want in [
        site.mark(end),
        Want::LoseTag { end },
        Want::SeeEnd {
            end,
            at: "KIT1".to_owned(),
        },
        Want::Lift { end },
        Want::DrawFrom {
            cable: end.cable,
            number: 3,
        },
        Want::NoteCable {
            cable: end.cable,
            note: "Blue".to_owned(),
        },
        Want::RestoreCable { cable: end.cable },
        Want::Repull {
            cable: end.cable,
            reason: "Short".to_owned(),
        },
    ] {
        site.refuses(want, "This cable is no longer in the job");
    }
}
