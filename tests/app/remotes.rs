//! Numbered remotes on a phone: into the jacks of an outlet, and read at the rack.

use bothends::app::remotes::{Remotes, of, readings, remotes};
use bothends::app::{Action, Effect, Notice, Screen};
use bothends::command::{Correction, Want};
use bothends::domain::ids::OutletId;
use bothends::domain::place::{End, Side};
use bothends::domain::work::PullOutcome;
use bothends::query::{self, What};

use super::phone::Phone;
use super::scan::{cable, phone, words};

fn pulls_all(phone: &mut Phone, outlet: OutletId) {
    let ends = phone.ends(outlet).into_iter();
    let cables = ends.map(|end| end.end.cable).collect();
    let outcome = PullOutcome::Pulled;
    let want = Want::ReportPull { cables, outcome };
    phone.acts(Action::Do { want, then: None });
}

#[test]
fn remotes_and_what_was_read_of_them_are_there_after_a_reload_and_read_in_any_order() {
    let (mut phone, outlet) = phone();
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    assert!(remotes(&phone.model).is_empty(), "nothing is pulled");
    pulls_all(&mut phone, outlet);
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    let [a, b, c, _] = ["KIT1-A", "KIT1-B", "KIT1-C", "KIT1-D"].map(|code| cable(&phone, code));
    assert!(words(&phone).contains("Read KIT1-C now"));
    phone.acts(Action::Scan(of(Remotes::Again(c))));
    phone.acts(Action::Scan(of(Remotes::Shown(c, Some(2)))));
    let effects = phone.acts(Action::Scan(of(Remotes::Shown(a, None))));
    let kept = effects.iter().find_map(|effect| match effect {
        Effect::Keep {
            key: "remotes",
            value,
        } => Some(value.clone()),
        _ => None,
    });
    phone.reloads_with(&kept.expect("what is kept"));
    assert_eq!(remotes(&phone.model).len(), 4);
    assert_eq!(readings(&phone.model, c), Some(Some(2)));
    assert_eq!(readings(&phone.model, a), Some(None));
    assert_eq!(readings(&phone.model, b), None);
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(3)))));
    assert!(
        words(&phone).contains("KIT1-B and KIT1-C are crossed"),
        "{}",
        words(&phone)
    );
}

#[test]
fn remotes_prove_a_cable_and_name_the_crossed_one() {
    let (mut phone, outlet) = phone();
    pulls_all(&mut phone, outlet);
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    assert_eq!(phone.model.screen(), Some(Screen::Remotes));
    assert_eq!(remotes(&phone.model).len(), 4);
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| cable(&phone, code));
    phone.acts(Action::Scan(of(Remotes::Shown(a, Some(1)))));
    assert!(remotes(&phone.model)[0].proved);
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(1)))));
    assert!(words(&phone).contains("read KIT1-A and KIT1-B again"));
    // Both have the button for it, the verified one too.
    assert_eq!(words(&phone).matches("Read it again").count(), 2);
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(7)))));
    assert!(words(&phone).contains("somebody else has put remote 7 elsewhere"));
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(3)))));
    assert!(
        words(&phone).contains("Read KIT1-C next."),
        "{}",
        words(&phone)
    );
    let c = cable(&phone, "KIT1-C");
    phone.acts(Action::Scan(of(Remotes::Shown(c, Some(2)))));
    assert!(
        words(&phone).contains("KIT1-B and KIT1-C are crossed"),
        "{}",
        words(&phone)
    );
    phone.acts(Action::Scan(of(Remotes::Crossed(b, Correction::TagsMove))));
    let now = words(&phone);
    assert!(!now.contains("are crossed"), "read again: {now}");
    assert!(now.contains("which number does the tester show?"), "{now}");
    let end = End::whole(b, Side::Far);
    assert_eq!(remotes(&phone.model)[1].end, end);
    phone.acts(Action::Scan(of(Remotes::Out)));
    assert!(remotes(&phone.model).is_empty());
}

#[test]
fn three_that_are_mixed_up_are_named_and_put_right_at_once() {
    let (mut phone, outlet) = phone();
    pulls_all(&mut phone, outlet);
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    let [a, b, c] = ["KIT1-A", "KIT1-B", "KIT1-C"].map(|code| cable(&phone, code));
    for (cable, number) in [(a, 2), (b, 3)] {
        phone.acts(Action::Scan(of(Remotes::Shown(cable, Some(number)))));
    }
    assert!(words(&phone).contains("Read KIT1-C next: it tells who."));
    phone.acts(Action::Scan(of(Remotes::Shown(c, Some(2)))));
    assert!(words(&phone).contains("read KIT1-C and KIT1-A again"));
    phone.acts(Action::Scan(of(Remotes::Shown(c, Some(1)))));
    let told = "KIT1-A is really KIT1-B, KIT1-B is really KIT1-C and KIT1-C is really KIT1-A.";
    assert_eq!(words(&phone).matches(told).count(), 1, "{}", words(&phone));
    assert!(words(&phone).contains("I change the tags here: KIT1-A to KIT1-B"));
    phone.acts(Action::Scan(of(Remotes::Crossed(b, Correction::TagsMove))));
    let said = "KIT1-B, KIT1-C and KIT1-A: the tags are changed over.";
    assert!(words(&phone).contains(said), "{}", words(&phone));
    assert_eq!(
        [a, b, c].map(|cable| readings(&phone.model, cable)),
        [None; 3]
    );
}

#[test]
fn a_remote_that_is_missing_is_left_out_and_stays_missing() {
    let (mut phone, outlet) = phone();
    pulls_all(&mut phone, outlet);
    let acts = |phone: &mut Phone, action| phone.acts(Action::Scan(of(action)));
    let numbers = |phone: &Phone| -> Vec<(u8, String)> {
        let all = remotes(&phone.model).into_iter();
        all.map(|remote| (remote.number, remote.code)).collect()
    };
    let dealt = |all: &[(u8, &str)]| -> Vec<(u8, String)> {
        let all = all.iter();
        all.map(|(number, code)| (*number, (*code).to_owned()))
            .collect()
    };
    acts(&mut phone, Remotes::Into(outlet));
    let [a, b, c, d] = ["KIT1-A", "KIT1-B", "KIT1-C", "KIT1-D"].map(|code| cable(&phone, code));
    acts(&mut phone, Remotes::Shown(d, Some(3)));
    acts(&mut phone, Remotes::Missing(3));
    let with_five = dealt(&[(1, "KIT1-A"), (2, "KIT1-B"), (4, "KIT1-D"), (5, "KIT1-C")]);
    assert_eq!(numbers(&phone), with_five);
    assert_eq!(
        readings(&phone.model, d),
        None,
        "it was read with the other"
    );
    acts(&mut phone, Remotes::Shown(d, Some(5)));
    assert!(words(&phone).contains("which is in the jack of KIT1-C"));
    acts(&mut phone, Remotes::In(a, Some(8)));
    let effects = acts(&mut phone, Remotes::In(b, None));
    let [Effect::Keep { value, .. }] = &effects[..] else {
        panic!("{effects:?}");
    };
    phone.reloads_with(value);
    let left = dealt(&[(4, "KIT1-D"), (5, "KIT1-C"), (8, "KIT1-A")]);
    assert_eq!(numbers(&phone), left);
    assert_eq!(readings(&phone.model, d), Some(Some(5)));
    acts(&mut phone, Remotes::Again(d));
    acts(&mut phone, Remotes::Out);
    acts(&mut phone, Remotes::Into(outlet));
    let anew = [(1, "KIT1-A"), (2, "KIT1-B"), (4, "KIT1-C"), (5, "KIT1-D")];
    assert_eq!(numbers(&phone), dealt(&anew));
    assert!(words(&phone).contains("Remote 3 is missing: it is there again"));
    acts(&mut phone, Remotes::Found(3));
    acts(&mut phone, Remotes::In(c, Some(3)));
    assert_eq!(numbers(&phone)[2], (3, "KIT1-C".to_owned()));
    // What was kept before remotes had a choice is counted by its lines.
    let older: String = value.lines().take(2).collect::<Vec<_>>().join("\n");
    phone.reloads_with(&older.replace(" #8", "").replace(" #5", ""));
    assert_eq!(numbers(&phone), dealt(&[(1, "KIT1-A"), (2, "KIT1-C")]));
}

#[test]
fn a_crossing_that_remotes_found_outlives_them() {
    let (mut phone, outlet) = phone();
    pulls_all(&mut phone, outlet);
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| cable(&phone, code));
    phone.acts(Action::Scan(of(Remotes::Shown(a, Some(2)))));
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(1)))));
    phone.acts(Action::Scan(of(Remotes::Out)));
    assert!(remotes(&phone.model).is_empty());
    let open = phone.model.open.as_ref().expect("a job");
    let findings = query::check(open.journal.registry());
    for cable in [a, b] {
        let failed = What::TestFailed { cable };
        assert!(findings.iter().any(|finding| finding.what == failed));
    }
}

#[test]
fn a_remote_that_contradicts_what_was_proved_undoes_the_proof_at_once() {
    let (mut phone, outlet) = phone();
    pulls_all(&mut phone, outlet);
    let [a, b] = ["KIT1-A", "KIT1-B"].map(|code| cable(&phone, code));
    phone.acts(Action::Scan(of(Remotes::Into(outlet))));
    phone.acts(Action::Scan(of(Remotes::Shown(a, Some(1)))));
    phone.acts(Action::Scan(of(Remotes::Again(a))));
    phone.acts(Action::Scan(of(Remotes::Shown(a, Some(2)))));
    phone.acts(Action::Scan(of(Remotes::Shown(b, Some(1)))));
    let failed = |phone: &Phone| {
        let open = phone.model.open.as_ref().expect("a job");
        let findings = query::check(open.journal.registry());
        let has = |cable| {
            let failed = What::TestFailed { cable };
            findings.iter().filter(|one| one.what == failed).count()
        };
        [a, b].map(has)
    };
    assert_eq!(failed(&phone), [1, 0], "the other was never proved");
    let undo = matches!(&phone.model.notice, Some(Notice::Done { good: true, .. }));
    assert!(!undo, "a failure is no good news");
    // Noting the pair notes both.
    assert!(words(&phone).contains("are crossed"), "{}", words(&phone));
    phone.acts(Action::Scan(of(Remotes::Failed(a))));
    assert_eq!(failed(&phone), [1, 1]);
    assert_eq!(readings(&phone.model, a), None);
    assert_eq!(readings(&phone.model, b), None);
    let registry = phone.model.registry().expect("a job");
    let tests = |id| {
        registry.cables.get(id).map(|row| {
            row.copper
                .iter()
                .map(|(_, copper)| copper.tests.iter().count())
                .sum()
        })
    };
    assert_eq!(
        [a, b].map(tests),
        [Some(2_usize), Some(1)],
        "noted once each"
    );
    // What is put right is to be read anew, though it failed before.
    for (cable, number) in [(a, 2), (b, 1)] {
        phone.acts(Action::Scan(of(Remotes::Again(cable))));
        phone.acts(Action::Scan(of(Remotes::Shown(cable, Some(number)))));
    }
    phone.acts(Action::Scan(of(Remotes::Crossed(a, Correction::TagsMove))));
    let failed = remotes(&phone.model).into_iter();
    assert_eq!(failed.filter(|remote| remote.failed).count(), 0);
}
