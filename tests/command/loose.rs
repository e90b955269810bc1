//! Ends whose cable is not known yet: numbered, joined, parted.

use bothends::command::{Want, done_words};
use bothends::domain::ids::LooseEndId;
use bothends::domain::label::PositionNumber;
use bothends::domain::medium::{Kind, Medium};
use bothends::journal::{Fact, Found, LooseEnd, LooseEndFact};
use bothends::names;

use super::support::Site;

fn number(site: &Site, loose: LooseEndId) -> Option<u16> {
    let row = site.registry().loose_ends.get(loose)?;
    row.number.get().copied()
}

#[test]
fn loose_ends_are_numbered_and_no_number_comes_twice() {
    let mut site = Site::mill();
    let nowhere = Want::AddLooseEnd {
        found: Found::default(),
    };
    site.refuses(nowhere, "Say where this end is");
    let first = site.adds_loose_end("Attic, north gable", "");
    let second = site.adds_loose_end("Behind the boiler", "");
    assert_eq!(
        [first, second].map(|loose| number(&site, loose)),
        [Some(1), Some(2)]
    );
    let last = site.journal.history().last().expect("an act").id;
    site.undoes(last);
    assert_eq!(number(&site, second), None);
    let third = site.adds_loose_end("Behind the boiler", "");
    assert_eq!(number(&site, third), Some(3));
    let describe = Want::DescribeLooseEnd {
        loose: second,
        found: Found::default(),
    };
    site.refuses(describe, "This loose end is no longer in the job");
}

#[test]
fn tails_that_nobody_knows_are_numbered_where_they_sit_and_land_there_once_known() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B02"));
    let panel = site.position("B01").panel;
    let tails = |from, to| Want::NumberTails {
        panel,
        stretch: [from, to].map(|at| PositionNumber::new(at).expect("a number")),
        note: "Den?".to_owned(),
    };
    site.refuses(tails(2, 2), "On each of these positions a cable is landed");
    site.refuses(tails(24, 25), "there is no number 25");
    site.undo_restores(&tails(1, 4));
    site.does(tails(1, 4));
    site.refuses(tails(1, 4), "or it is kept for something");
    let registry = site.registry();
    let mut found: Vec<(u16, &str, &str)> = registry
        .loose_ends
        .iter()
        .filter_map(|(_, row)| {
            let found = row.found.get()?;
            Some((*row.number.get()?, &*found.place, &*found.note))
        })
        .collect();
    found.sort_unstable();
    // The numbers of what was taken back are not given again.
    let at = |number, place| (number, place, "Den?");
    assert_eq!(found, [at(7, "B01"), at(8, "B03"), at(9, "B04")]);
    let numbered = |site: &Site, wanted: u16| {
        let mut ends = site.registry().loose_ends.iter();
        let is_it = |row: &LooseEnd| row.number.get() == Some(&wanted);
        ends.find(|(_, row)| is_it(row)).expect("numbered").0
    };
    let kept = |site: &Site, code: &str| {
        let position = site.position(code);
        let row = site.registry().panels.get(position.panel).expect("a panel");
        format!(
            "{:?}",
            row.kept.get(&position.number).and_then(|kept| kept.get())
        )
    };
    assert!(
        kept(&site, "B03").contains("Loose end 8"),
        "{}",
        kept(&site, "B03")
    );

    // One is a cable that the job has already.
    let join = Want::JoinLooseEnd {
        loose: numbered(&site, 8),
        end: site.far("DIN1-A"),
    };
    site.undo_restores(&join);
    site.does(join);
    assert!(
        site.state("DIN1-A").ends_with("far landed B03"),
        "{}",
        site.state("DIN1-A")
    );
    assert_eq!(kept(&site, "B03"), "Some(Open)");
    // It was another: the tail is unknown again, and the cable not landed.
    site.does(Want::PartLooseEnd {
        loose: numbered(&site, 8),
    });
    assert!(
        site.state("DIN1-A").ends_with("far lifted"),
        "{}",
        site.state("DIN1-A")
    );
    assert!(kept(&site, "B03").contains("Loose end 8"));

    // The end at the outlet is not what sits in a rack.
    site.does(Want::JoinLooseEnd {
        loose: numbered(&site, 9),
        end: site.near("KIT1-B"),
    });
    assert!(
        site.state("KIT1-B").contains("near bare"),
        "{}",
        site.state("KIT1-B")
    );

    // Another is one cable with an end that was found in a wall, and has a code and a place at once.
    let near = site.adds_loose_end("Den, behind the desk", "");
    let outlet = site.outlet("DIN1");
    let before = site.codes("DIN1");
    let join = Want::JoinLooseEnds {
        near,
        far: numbered(&site, 7),
        outlet,
        medium: Medium::indoor(Kind::Rg6),
    };
    site.does(join.clone());
    let done = done_words(&join, site.registry());
    assert!(done.contains("an adapter is noted there"), "{done}");
    let new = site.codes("DIN1").replace(&before, "").trim().to_owned();
    let state = site.state(&new);
    assert!(state.ends_with("far landed B01 with adapter"), "{state}");
    let end = site.far(&new);
    assert_eq!(
        names::end(site.registry(), end),
        format!("{new} at Main rack")
    );
    assert_eq!(kept(&site, "B01"), "Some(Open)");
}

#[test]
fn a_loose_end_is_joined_to_a_known_cable_and_parted() {
    let mut site = Site::wired_mill();
    let (first, second) = (
        site.adds_loose_end("Rack", ""),
        site.adds_loose_end("Rack", ""),
    );
    let end = site.far("KIT1-A");
    let join = |loose| Want::JoinLooseEnd { loose, end };
    site.does(join(first));
    assert_eq!(site.registry().index.loose_by_end.get(&end), [first]);
    site.refuses(join(first), "it is so already");
    let refusal = site.refuses(join(second), "is loose end 1 already");
    site.takes(&refusal, 1);
    assert!(site.registry().index.loose_by_end.get(&end).is_empty());
    site.refuses(Want::PartLooseEnd { loose: first }, "it is so already");
    site.does(join(second));
    assert_eq!(site.registry().index.loose_by_end.get(&end), [second]);
}

#[test]
fn a_loose_end_of_another_medium_than_its_cable_is_said_to_be_so() {
    let mut site = Site::wired_mill();
    let loose = [Kind::Rg6, Kind::Cat6Utp].map(|kind| {
        let loose = site.adds_loose_end("Rack", "");
        let found = Found {
            place: "Rack".to_owned(),
            medium: Some(Medium::indoor(kind)),
            ..Found::default()
        };
        site.does(Want::DescribeLooseEnd { loose, found });
        loose
    });
    let end = site.far("KIT1-B");
    let [coax, twisted] = loose.map(|loose| Want::JoinLooseEnd { loose, end });
    assert_eq!(
        done_words(&coax, site.registry()),
        "Loose end 1 is KIT1-B at Main rack. But it was noted as RG-6, and the cable is Cat 6 U/UTP: look again."
    );
    assert_eq!(
        done_words(&twisted, site.registry()),
        "Loose end 2 is KIT1-B at Main rack."
    );
    let both = Want::JoinLooseEnds {
        near: loose[1],
        far: loose[0],
        outlet: site.outlet("KIT1"),
        medium: Medium::indoor(Kind::Cat6Utp),
    };
    assert_eq!(
        done_words(&both, site.registry()),
        "Both ends are one cable at KIT1. But it was noted as RG-6, and the cable is Cat 6 U/UTP: look again."
    );
}

#[test]
fn two_loose_ends_become_a_cable() {
    let mut site = Site::wired_mill();
    let near = site.adds_loose_end("Kitchen, behind the fridge", "fridge 2");
    let far = site.adds_loose_end("Rack", "blue tape");
    let join = |near, far, site: &Site| Want::JoinLooseEnds {
        near,
        far,
        outlet: site.outlet("KIT1"),
        medium: Medium::indoor(Kind::Cat6Utp),
    };
    site.refuses(join(near, near, &site), "A cable has two ends");
    site.undo_restores(&join(near, far, &site));
    site.does(join(near, far, &site));
    // Two letters went to the joins that were taken back.
    let cable = site.cable("KIT1-F");
    let row = site.registry().cables.get(cable).expect("a cable");
    let old: Vec<_> = row.known_as.iter().map(|said| said.value.clone()).collect();
    assert_eq!(old, ["fridge 2", "blue tape"]);
    let joined = &site.registry().index.loose_by_end;
    assert_eq!(joined.get(&site.near("KIT1-F")), [near]);
    assert_eq!(joined.get(&site.far("KIT1-F")), [far]);
    let third = site.adds_loose_end("Rack", "");
    let refusal = site.refuses(
        join(near, third, &site),
        "Loose end 1 is KIT1-F at KIT1 already",
    );
    // The cable that was none goes with its two ends, and comes back with them.
    let parted = site.takes(&refusal, 1);
    let joined = |site: &Site| {
        let row = site.registry().cables.get(cable).expect("a cable");
        let ends = [near, far].map(|loose| {
            let row = site.registry().loose_ends.get(loose);
            row.and_then(|row| row.joined.get().copied().flatten())
        });
        (!row.added.is_empty(), ends.map(|end| end.is_some()))
    };
    assert_eq!(joined(&site), (false, [false, false]));
    let undo = site.undoes(parted);
    assert_eq!(joined(&site), (true, [true, true]));
    site.undoes(undo);
    site.does(join(near, third, &site));
}

#[test]
fn a_toner_proves_the_copper_where_it_joins() {
    let mut site = Site::wired_mill();
    let [first, near, far] = ["Rack", "Kitchen", "Rack"].map(|at| site.adds_loose_end(at, ""));
    let end = site.far("KIT1-A");
    let toned = |join| Want::Toned {
        join: Box::new(join),
    };
    let join = toned(Want::JoinLooseEnd { loose: first, end });
    site.undo_restores(&join);
    site.does(join.clone());
    assert!(site.state("KIT1-A").contains("tested 1"));
    assert_eq!(
        done_words(&join, site.registry()),
        "Loose end 1 is KIT1-A at Main rack. Toned."
    );
    site.does(toned(Want::JoinLooseEnds {
        near,
        far,
        outlet: site.outlet("KIT1"),
        medium: Medium::indoor(Kind::Cat6Utp),
    }));
    let codes = site.codes("KIT1");
    let new = codes.split(' ').next_back().expect("a cable");
    assert!(site.state(new).contains("tested 1"), "{}", site.state(new));
}

#[test]
fn a_loose_end_of_a_number_given_twice_gets_another() {
    let mut first = Site::wired_mill();
    let mut second = Site::phone(2);
    first.meets(&mut second);
    let attic = first.adds_loose_end("Attic", "");
    let cellar = second.adds_loose_end("Cellar", "");
    first.meets(&mut second);
    assert_eq!(
        [attic, cellar].map(|loose| number(&first, loose)),
        [Some(1); 2]
    );
    let want = Want::RenumberLooseEnd { loose: cellar };
    first.undo_restores(&want);
    let act = first.does(want);
    let fact = first.journal.act(act).map(|act| act.facts.to_vec());
    // Two numbers went to the acts that were taken back.
    let given = Fact::LooseEnd(cellar, LooseEndFact::Added { number: 4 });
    assert_eq!(fact, Some(vec![given]));
    assert_eq!(number(&first, attic), Some(1));
    first.meets(&mut second);
    assert_eq!(number(&second, cellar), Some(4));
    let added = second.adds_loose_end("Hall", "");
    assert_eq!(number(&second, added), Some(5));
    // One that was taken back does not come back by a number.
    let last = second.journal.history().last().expect("an act").id;
    second.undoes(last);
    let want = Want::RenumberLooseEnd { loose: added };
    second.refuses(want, "no longer in the job");
}
