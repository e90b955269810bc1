//! Conduits: numbered, described, and the cables in them.

use bothends::command::{Laid, Want, done_words};
use bothends::domain::ids::ConduitId;
use bothends::domain::place::ConduitEnd;
use bothends::domain::work::{Lying, Standing};
use bothends::journal::{ConduitFact, Fact};
use bothends::names;

use super::support::Site;

fn laid(from: &str, to: &str) -> Laid {
    Laid {
        ends: [from, to].map(|at| ConduitEnd::Words(at.to_owned())),
        size: "25 mm".to_owned(),
        note: String::new(),
    }
}

fn add(number: Option<u16>, from: &str) -> Want {
    Want::LayConduit {
        conduit: None,
        number,
        laid: laid(from, "Cellar"),
    }
}

fn anew(conduit: ConduitId, number: Option<u16>, from: &str) -> Want {
    Want::LayConduit {
        conduit: Some(conduit),
        number,
        laid: laid(from, "Cellar"),
    }
}

/// The conduits of the site, by number.
fn conduits(site: &Site) -> Vec<(String, ConduitId)> {
    let rows = site.registry().conduits.iter();
    let there = rows.filter(|(_, row)| row.number.get().is_some());
    let mut all: Vec<_> = there
        .map(|(id, _)| (names::conduit(site.registry(), id), id))
        .collect();
    all.sort();
    all
}

fn codes(site: &Site) -> Vec<String> {
    conduits(site).into_iter().map(|(code, _)| code).collect()
}

fn pass(cable: &str, site: &Site, conduit: ConduitId, lying: Lying) -> Want {
    Want::PassConduit {
        cable: site.cable(cable),
        conduit,
        lying,
    }
}

#[test]
fn conduits_get_the_next_number_and_no_number_comes_twice() {
    let mut site = Site::mill();
    site.refuses(
        Want::LayConduit {
            conduit: None,
            number: None,
            laid: Laid {
                ends: ["", ""].map(|at| ConduitEnd::Words(at.to_owned())),
                ..laid("", "")
            },
        },
        "Say where the conduit begins or ends",
    );
    site.refuses(add(Some(0), "Attic"), "Conduits count from 1");
    site.does(add(None, "Attic"));
    site.does(add(Some(7), "Gate"));
    assert_eq!(codes(&site), ["CD1", "CD7"]);
    site.refuses(
        add(Some(7), "Loft"),
        "CD7 is there already, from Gate to Cellar. Open that one",
    );
    // A number that stood on a tag is not given again.
    let last = site.journal.history().last().expect("an act").id;
    site.undoes(last);
    site.does(add(None, "Gate"));
    assert_eq!(codes(&site), ["CD1", "CD8"]);
}

#[test]
fn a_conduit_is_described_anew_and_only_what_is_new_is_written() {
    let mut site = Site::mill();
    site.does(add(None, "Attic"));
    site.does(add(None, "Gate"));
    let conduit = conduits(&site)[0].1;
    site.refuses(anew(conduit, Some(1), "Attic"), "it is so already");
    site.refuses(anew(conduit, Some(2), "Attic"), "CD2 is there already");
    let act = site.does(anew(conduit, None, "Loft"));
    // And that it is there, for whoever cancels it meanwhile.
    let facts = &site.journal.act(act).expect("it").facts;
    let [reaches, stands] = &facts[..] else {
        panic!("{facts:?}");
    };
    assert!(matches!(
        reaches,
        Fact::Conduit(_, ConduitFact::Reaches { .. })
    ));
    let wanted = ConduitFact::Stands(Standing::Wanted);
    assert_eq!(*stands, Fact::Conduit(conduit, wanted));
    assert_eq!(
        names::conduit_ends(site.registry(), conduit),
        "from Loft to Cellar"
    );
    let loft = add(None, "Loft");
    site.does(loft.clone());
    assert_eq!(done_words(&loft, site.registry()), "CD3 is kept.");
    let renumber = Want::RenumberConduit { conduit };
    site.does(renumber.clone());
    assert_eq!(codes(&site), ["CD2", "CD3", "CD4"]);
    assert_eq!(done_words(&renumber, site.registry()), "CD4 is kept.");
    let renumbered = anew(conduit, Some(9), "Loft");
    site.does(renumbered.clone());
    assert_eq!(codes(&site), ["CD2", "CD3", "CD9"]);
    assert_eq!(done_words(&renumbered, site.registry()), "CD9 is kept.");
}

#[test]
fn two_conduits_of_one_number_are_each_described_and_told_apart() {
    let mut site = Site::mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    site.does(add(None, "Attic"));
    other.does(add(None, "Gate"));
    site.meets(&mut other);
    assert_eq!(codes(&site), ["CD1", "CD1"]);
    site.refuses(add(Some(1), "Loft"), "CD1 is there already");
    let conduit = conduits(&site)[1].1;
    site.does(anew(conduit, Some(1), "Loft"));
    assert_eq!(
        names::conduit_ends(site.registry(), conduit),
        "from Loft to Cellar"
    );
    site.does(Want::RenumberConduit { conduit });
    assert_eq!(codes(&site), ["CD1", "CD2"]);
}

#[test]
fn a_cable_lies_in_several_conduits_and_is_taken_out_again() {
    let mut site = Site::wired_mill();
    site.does(add(None, "Attic"));
    site.does(add(None, "Gate"));
    let [first, second] = [0, 1].map(|at| conduits(&site)[at].1);
    for (cable, conduit) in [("KIT1-B", first), ("KIT1-A", first), ("KIT1-A", second)] {
        site.does(pass(cable, &site, conduit, Lying::In));
    }
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| site.cable(code));
    assert_eq!(site.registry().cables_in(first), [a, b]);
    assert_eq!(site.registry().cables_in(second), [a]);
    site.refuses(pass("KIT1-A", &site, first, Lying::In), "it is so already");
    site.refuses(
        pass("KIT1-B", &site, second, Lying::Out),
        "it is so already",
    );
    let out = pass("KIT1-A", &site, first, Lying::Out);
    site.does(out.clone());
    assert_eq!(
        done_words(&out, site.registry()),
        "KIT1-A does not lie in CD1."
    );
    assert_eq!(site.registry().cables_in(first), [b]);
    assert_eq!(site.registry().cables_in(second), [a]);
}

#[test]
fn a_conduit_that_is_given_up_holds_no_cable() {
    let mut site = Site::wired_mill();
    site.does(add(None, "Attic"));
    let conduit = conduits(&site)[0].1;
    site.does(pass("KIT1-A", &site, conduit, Lying::In));
    let cancel = |reason: &str| Want::CancelConduit {
        conduit,
        reason: reason.to_owned(),
    };
    site.refuses(cancel(" "), "The reason is empty");
    let given_up = site.does(cancel("Crushed"));
    assert_eq!(site.registry().cables_in(conduit), []);
    let refusal = site.refuses(
        pass("KIT1-A", &site, conduit, Lying::In),
        "CD1 is cancelled",
    );
    site.undoes(given_up);
    assert_eq!(site.registry().cables_in(conduit), [site.cable("KIT1-A")]);
    site.does(cancel("Crushed"));
    site.takes(&refusal, 1);
    site.does(pass("KIT1-A", &site, conduit, Lying::In));
}

#[test]
fn two_phones_may_say_both_that_a_cable_lies_there_and_that_it_does_not() {
    let mut site = Site::wired_mill();
    site.does(add(None, "Attic"));
    let conduit = conduits(&site)[0].1;
    site.does(pass("KIT1-A", &site, conduit, Lying::In));
    let mut other = Site::phone(2);
    site.meets(&mut other);
    site.does(pass("KIT1-A", &site, conduit, Lying::Out));
    site.does(pass("KIT1-A", &site, conduit, Lying::In));
    other.does(pass("KIT1-A", &other, conduit, Lying::Out));
    site.meets(&mut other);
    let cable = site.cable("KIT1-A");
    let row = site.registry().cables.get(cable).expect("a cable");
    assert!(row.conduits.get(&conduit).expect("said").disputed());
    // Whoever looks for it must look there.
    assert_eq!(site.registry().cables_in(conduit), [cable]);
    site.does(pass("KIT1-A", &site, conduit, Lying::Out));
    assert_eq!(site.registry().cables_in(conduit), []);
}
