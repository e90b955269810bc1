//! Ends whose cable is not known yet: numbered, joined, parted.

use bothends::command::{Want, done_words};
use bothends::domain::ids::LooseEndId;
use bothends::domain::medium::{Kind, Medium};
use bothends::journal::{Fact, Found, LooseEndFact};

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
    site.takes(&refusal, 1);
    site.does(join(near, third, &site));
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
    let fact = first.journal.act(act).map(|act| act.facts.clone());
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
