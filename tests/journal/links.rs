//! Links may only point back: others are ignored and reported, so that no file makes a circle.

use bothends::domain::ids::ActId;
use bothends::journal::{CannotWrite, Fact, JobFact, Lamport, Signature, WallTime};

use super::support::{Phone, Raw, act_id, fact_of, merged};

fn named(name: &str) -> Fact {
    Fact::Job(JobFact::Named(name.to_owned()))
}

/// The live names of the job after a merge of single lines, and who has ignored links.
fn names(lines: &[String]) -> (Vec<String>, Vec<ActId>, Vec<ActId>) {
    let bundles: Vec<Vec<String>> = lines.iter().map(|line| vec![line.clone()]).collect();
    let journal = merged(&bundles);
    let mut names: Vec<String> = journal
        .registry()
        .job
        .name
        .distinct()
        .into_iter()
        .cloned()
        .collect();
    names.sort();
    let health = journal.health();
    (names, health.ignored_links, health.waiting)
}

#[test]
fn a_link_to_an_act_with_the_same_or_a_higher_counter_counts_for_nothing() {
    for target in [7, 8, 1_000] {
        let mill = Raw::new(act_id(1, 1), target).facts([named("Mill")]);
        let replacing = Raw::new(act_id(2, 1), 7)
            .facts([named("Mole")])
            .replaces([fact_of(act_id(1, 1), 0)]);
        let striking = Raw::new(act_id(3, 1), 7).strikes([act_id(1, 1)]);
        let (names, ignored, waiting) = names(&[mill.line(), replacing.line(), striking.line()]);
        assert_eq!(names, ["Mill", "Mole"], "{target}");
        assert_eq!(ignored, [act_id(2, 1), act_id(3, 1)], "{target}");
        assert_eq!(waiting, []);
    }
}

#[test]
fn a_link_back_counts_although_another_link_of_the_act_does_not() {
    let lines = [
        Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line(),
        Raw::new(act_id(1, 2), 9).facts([named("Mole")]).line(),
        Raw::new(act_id(2, 1), 5)
            .strikes([act_id(1, 2), act_id(1, 1)])
            .line(),
    ];
    let (names, ignored, _) = names(&lines);
    assert_eq!(names, ["Mole"]);
    assert_eq!(ignored, [act_id(2, 1)]);
}

#[test]
fn a_link_to_a_fact_that_an_act_does_not_have_changes_nothing() {
    let lines = [
        Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line(),
        Raw::new(act_id(2, 1), 5)
            .replaces([fact_of(act_id(1, 1), 7), fact_of(act_id(1, 1), u32::MAX)])
            .line(),
    ];
    let (names, ignored, waiting) = names(&lines);
    assert_eq!(names, ["Mill"]);
    assert_eq!((ignored, waiting), (vec![], vec![]));
}

#[test]
fn a_link_said_a_hundred_thousand_times_is_one_link() {
    let mill = Raw::new(act_id(1, 1), 1).facts([named("Mill")]).line();
    let many = Raw::new(act_id(2, 1), 2)
        .replaces(vec![fact_of(act_id(1, 1), 0); 100_000])
        .line();
    let back = Raw::new(act_id(3, 1), 3)
        .strikes(vec![act_id(2, 1); 3])
        .line();
    assert_eq!(names(&[mill.clone(), many.clone()]).0, Vec::<String>::new());
    assert_eq!(names(&[mill, many, back]).0, ["Mill"]);
}

#[test]
fn at_the_highest_counter_nothing_more_can_be_written() {
    let mut phone = Phone::new(1);
    let highest = Raw::new(act_id(2, 1), Lamport::MAX.get()).facts([named("Mill")]);
    phone.journal.take([&*highest.line()]);
    let before = phone.journal.lines().len();
    let mut draft = phone.journal.draft();
    draft.push(named("Mole"));
    let signature = Signature {
        by: "J.D.".to_owned(),
        wall: WallTime(0),
    };
    assert_eq!(
        phone.journal.write(draft, signature),
        Err(CannotWrite::CounterExhausted)
    );
    assert_eq!(phone.journal.lines().len(), before);
    assert_eq!(phone.journal.draft().id(), act_id(1, 1));
    // 2^53 - 1 is the highest whole number that every reader of JSON holds exactly (RFC 8259, 6).
    assert_eq!(Lamport::MAX.get(), 9_007_199_254_740_991);
    assert_eq!(Lamport::new(9_007_199_254_740_992), None);
}

#[test]
fn a_counter_or_clock_beyond_the_highest_is_kept_unread() {
    let lines = ["lamport", "wall"].map(|field| {
        Raw::new(act_id(1, 1), 4)
            .line()
            .replace("\"lamport\":4", "\"lamport\":4 ")
            .replace(
                &format!("\"{field}\":"),
                &format!("\"{field}\":9007199254740992,\"old\":"),
            )
    });
    let journal = merged(&[lines.to_vec()]);
    assert_eq!(journal.health().unreadable, 2);
    assert_eq!(journal.len(), 0);
}

#[test]
fn at_the_highest_number_of_a_writer_nothing_more_can_be_written() {
    let mut phone = Phone::new(1);
    phone
        .journal
        .take([&*Raw::new(act_id(1, u32::MAX), 1).line()]);
    let draft = phone.journal.draft();
    let signature = Signature {
        by: String::new(),
        wall: WallTime(0),
    };
    let refused = phone.journal.write(draft, signature);
    assert_eq!(refused, Err(CannotWrite::CounterExhausted));
}

#[test]
fn a_draft_for_another_place_is_refused_and_writes_nothing() {
    let mut phone = Phone::new(1);
    let stale = phone.journal.draft();
    phone.writes([named("Mill")]);
    let signature = Signature {
        by: String::new(),
        wall: WallTime(0),
    };
    let refused = phone.journal.write(stale, signature);
    assert_eq!(refused, Err(CannotWrite::OutOfTurn));
    assert_eq!(phone.journal.len(), 1);
}

#[test]
fn a_link_to_the_act_itself_counts_for_nothing_and_holds_nothing_up() {
    let own = Raw::new(act_id(1, 1), 3)
        .facts([named("Mill")])
        .replaces([fact_of(act_id(1, 1), 0)])
        .strikes([act_id(1, 1)]);
    let (names, ignored, waiting) = names(&[own.line()]);
    assert_eq!(names, ["Mill"]);
    assert_eq!(ignored, [act_id(1, 1)]);
    assert_eq!(waiting, []);
}

#[test]
fn acts_that_point_at_each_other_do_not_wait_for_each_other_for_ever() {
    for counters in [[5, 5, 5], [5, 6, 7], [7, 6, 5], [6, 5, 7]] {
        // Each strikes the next, round in a circle.
        let lines: Vec<String> = (1..=3)
            .map(|n: u8| {
                let next = act_id(n % 3 + 1, 1);
                Raw::new(act_id(n, 1), counters[usize::from(n) - 1])
                    .facts([named(&format!("Mill {n}"))])
                    .strikes([next])
                    .line()
            })
            .collect();
        let (_, ignored, waiting) = names(&lines);
        assert_eq!(waiting, [], "{counters:?}");
        assert!(!ignored.is_empty(), "{counters:?}");
    }
}

#[test]
fn a_draft_that_names_what_is_not_here_waits_on_the_writing_phone_as_on_every_other() {
    let mut phone = Phone::new(1);
    phone.strikes([act_id(9, 1)]);
    let elsewhere = merged(&[phone.journal.lines()]);
    assert_eq!(elsewhere.health(), phone.journal.health());
    assert_eq!(phone.journal.health().waiting, [act_id(1, 1)]);
}
