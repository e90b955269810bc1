//! The punch list in words, over the demo job: everything that is found says what is wrong, and
//! every tap that is offered does what it promises.

use std::collections::BTreeMap;

use bothends::app::mend::{Step, describe, describe_item, heading, stale_strips};
use bothends::command::{self, Laid, Want};
use bothends::domain::ids::{Bits80, CableId, WriterId};
use bothends::domain::label::{Letter, OutletCode, OutletNumber, PanelLetters, RoomCode};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{ConduitEnd, End, Fitting, Place, Side};
use bothends::domain::work::{Lying, PullOutcome};
use bothends::exchange::jobfile;
use bothends::journal::{Found, Journal, PanelMake, PanelSize, Signature, WallTime};
use bothends::query::{Field, Finding, Gate, Thing, What, check, due_at, items};
use bothends::tags::strip_words;
use bothends::{names, walk};

use crate::mill::Mill;

const DEMO: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");

fn demo() -> (Journal, Vec<String>) {
    let read = jobfile::read(DEMO);
    let job = read.header.expect("a first line").job;
    (reopened(job, &read.lines), read.lines)
}

fn reopened(job: bothends::domain::ids::JobId, lines: &[String]) -> Journal {
    let mut journal = Journal::new(job, WriterId(Bits80([7; 10])));
    journal.take(lines.iter().map(String::as_str));
    journal
}

/// The kind of a finding, by its name alone.
fn kind(finding: &Finding) -> String {
    let words = format!("{:?}", finding.what);
    words
        .split([' ', '{'])
        .next()
        .unwrap_or_default()
        .to_owned()
}

#[test]
fn every_finding_of_the_demo_job_is_said_in_a_sentence() {
    let (journal, _) = demo();
    let findings = check(journal.registry());
    assert!(findings.len() > 100, "{}", findings.len());
    for finding in &findings {
        let mending = describe(&journal, finding);
        for words in std::iter::once(&mending.title).chain(&mending.detail) {
            assert!(
                words.ends_with(['.', '?', '”']),
                "{}: “{words}”",
                kind(finding)
            );
        }
        assert!(
            !mending.fixes.is_empty(),
            "{}: {} leads nowhere",
            kind(finding),
            mending.title
        );
    }
    let items = items(findings);
    for item in &items {
        assert!(describe_item(&journal, item).title.ends_with('.'));
    }
    for gate in [
        Gate::Now,
        Gate::BeforePull,
        Gate::BeforeBoard,
        Gate::BeforeTrim,
        Gate::BeforeHandover,
    ] {
        let due = due_at(&items, gate);
        let all = items.iter().filter(|item| item.gate <= gate);
        assert_eq!(due.len(), all.count());
        // That gate first, the others in their order, and no heading twice.
        let mut headings: Vec<Gate> = due.iter().map(|(asked, _)| *asked).collect();
        headings.dedup();
        let rest = headings.strip_prefix(&[gate]).unwrap_or(&headings);
        assert!(rest.is_sorted_by(|one, other| one < other), "{headings:?}");
        for (asked, item) in due {
            // What is not verified is asked for before the trim, and before the handover once more.
            let is_proof = matches!(item.findings[0].what, What::NotVerified { .. });
            let again = is_proof && gate == Gate::BeforeHandover;
            assert_eq!(asked, if again { gate } else { item.gate });
        }
    }
}

#[test]
fn every_tap_that_is_offered_removes_its_finding() {
    let (journal, lines) = demo();
    let job = journal.job();
    let mut tried: BTreeMap<String, usize> = BTreeMap::new();
    for finding in check(journal.registry()) {
        let count = tried.entry(kind(&finding)).or_default();
        // A few of each kind: they differ by the cable, not by the way out.
        if *count >= 3 {
            continue;
        }
        *count += 1;
        for fix in describe(&journal, &finding).fixes {
            let Step::Do(want) = fix.step else { continue };
            let mut copy = reopened(job, &lines);
            let draft = command::draft(&want, &copy).unwrap_or_else(|refusal| {
                panic!("{}: {}: {}", kind(&finding), fix.label, refusal.words)
            });
            let signature = Signature {
                by: "PW".to_owned(),
                wall: WallTime(1_760_000_000_000),
            };
            copy.write(draft, signature).expect("there is room");
            let left = check(copy.registry());
            assert!(
                !left.contains(&finding),
                "{}: “{}” leaves it",
                kind(&finding),
                fix.label
            );
        }
    }
    assert!(tried.len() >= 10, "{tried:?}");
}

/// Two phones that heard nothing of each other, and then everything.
fn met(do_first: &[Want], do_second: &[Want], mill: Mill) -> Journal {
    let mut second = Mill {
        journal: Journal::new(mill.journal.job(), WriterId(Bits80([2; 10]))),
    };
    let mut first = mill;
    second.journal.take(first.journal.lines());
    do_first.iter().for_each(|want| first.does(want));
    do_second.iter().for_each(|want| second.does(want));
    first.journal.take(second.journal.lines());
    first.journal
}

fn outlet(mill: &Mill) -> Want {
    Want::AddOutlet {
        room: mill.room_id("KIT"),
        kind: OutletKind::usual("data").expect("a usual type"),
        purpose: String::new(),
        rack: None,
    }
}

fn labels(journal: &Journal, finding: &Finding) -> Vec<String> {
    let fixes = describe(journal, finding).fixes.into_iter();
    fixes.map(|fix| fix.label).collect()
}

#[test]
fn two_outlets_of_one_code_are_one_finding_and_each_has_a_button_of_its_own() {
    let mill = Mill::new();
    let want = outlet(&mill);
    let journal = met(
        std::slice::from_ref(&want),
        std::slice::from_ref(&want),
        mill,
    );
    let findings = check(journal.registry());
    let twice: Vec<&Finding> = findings
        .iter()
        .filter(|finding| kind(finding).ends_with("Twice"))
        .collect();
    let [finding] = twice[..] else {
        panic!("{twice:?}")
    };
    assert_eq!(kind(finding), "OutletCodeTwice");
    assert_eq!(
        labels(&journal, finding),
        [
            "These are the same outlet",
            "The one without a purpose (Data) (added by MW, 2026-03-02 00:00) (1) becomes number 2",
            "The one without a purpose (Data) (added by MW, 2026-03-02 00:00) (2) becomes number 2"
        ]
    );
}

#[test]
fn panels_and_outlets_of_one_name_are_told_apart_by_what_they_are() {
    let mill = Mill::new();
    let mut media = outlet(&mill);
    if let Want::AddOutlet { kind, .. } = &mut media {
        *kind = OutletKind::usual("tv").expect("a usual type");
    }
    let panel = |positions: u16| Want::AddPanel {
        rack: mill.rack_id("1A"),
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(positions).expect("a size"),
        },
        letters: PanelLetters::new("D").expect("a letter"),
        unit: None,
    };
    let (first, second) = ([outlet(&mill), panel(24)], [media, panel(48)]);
    let journal = met(&first, &second, mill);
    let findings = check(journal.registry());
    let labels_of = |name: &str| {
        let finding = findings.iter().find(|finding| kind(finding) == name);
        labels(&journal, finding.expect("found"))
    };
    assert_eq!(
        labels_of("PanelLettersTwice")[..2],
        [
            "The one in Main rack (24 ports, 8P8C) becomes A",
            "The one in Main rack (48 ports, 8P8C) becomes A",
        ]
    );
    let mut outlets = labels_of("OutletCodeTwice");
    outlets.sort_unstable();
    assert_eq!(
        outlets,
        [
            "The one without a purpose (Data) becomes number 2",
            "The one without a purpose (TV) becomes number 2",
            "These are the same outlet",
        ]
    );
    let code = OutletCode {
        room: RoomCode::new("KIT").expect("a code"),
        number: OutletNumber::new(1).expect("a number"),
    };
    let same = journal.registry().index.outlets_by_code.get(&code);
    let mut headings: Vec<String> = same.iter().map(|id| heading(&journal, *id)).collect();
    headings.sort_unstable();
    assert_eq!(
        headings,
        [
            "KIT1: The one without a purpose (Data)",
            "KIT1: The one without a purpose (TV)"
        ]
    );
}

#[test]
fn two_cables_of_one_code_are_told_apart_by_ends_purpose_and_room() {
    let mut mill = Mill::new();
    mill.does(&outlet(&mill));
    let cable = |purpose: &str| Want::AddCable {
        outlet: mill.outlet_id("KIT", 1),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: purpose.to_owned(),
        rack: None,
    };
    for (one, other, expected) in [
        (
            "oven",
            "hob",
            [
                "The one from KIT1 to Main rack, oven, Kitchen becomes",
                "The one from KIT1 to Main rack, hob, Kitchen becomes",
            ],
        ),
        (
            "",
            "",
            [
                "The one from KIT1 to Main rack, Kitchen (added by MW, 2026-03-02 00:00) (1) becomes",
                "The one from KIT1 to Main rack, Kitchen (added by MW, 2026-03-02 00:00) (2) becomes",
            ],
        ),
    ] {
        let again = Mill {
            journal: reopened(mill.journal.job(), &lines(&mill.journal)),
        };
        let journal = met(&[cable(one)], &[cable(other)], again);
        let findings = check(journal.registry());
        let finding = findings.iter().find(|finding| kind(finding) == "CodeTwice");
        let mut labels = labels(&journal, finding.expect("one code twice"));
        assert_eq!(labels.pop().as_deref(), Some("These are the same cable"));
        labels.sort_unstable();
        let mut expected = expected;
        expected.sort_unstable();
        assert_eq!(labels.len(), 2, "{labels:?}");
        for (label, expected) in labels.iter().zip(expected) {
            assert!(label.starts_with(expected), "{label}");
        }
    }
}

/// Two phones that each added a third cable to `KIT1`, so that two are called `KIT1-C`.
fn twins() -> Journal {
    let mut mill = Mill::new();
    mill.does(&outlet(&mill));
    let cable = |kind| Want::AddCable {
        outlet: mill.outlet_id("KIT", 1),
        medium: Medium::indoor(kind),
        purpose: String::new(),
        rack: None,
    };
    let (one, other) = (cable(Kind::Cat6Utp), cable(Kind::Cat6Ftp));
    met(&[one], &[other], mill)
}

#[test]
fn one_cable_that_two_people_noted_becomes_one_with_what_either_knew() {
    let journal = twins();
    let index = &journal.registry().index.cables_by_code;
    let twins = index.get(&"KIT1-C".to_owned()).to_vec();
    let [one, other] = twins[..] else {
        panic!("two are called so: {twins:?}");
    };
    let does = |journal: Journal, want: &Want| {
        let mut mill = Mill { journal };
        mill.does(want);
        mill.journal
    };
    // Only the second is landed.
    let mut mill = Mill { journal };
    let position = mill.position("B01");
    mill.does(&Want::Land {
        end: End::whole(other, Side::Far),
        place: Place::rear(position),
        fitting: Fitting::Adapter,
    });
    let journal = mill.journal;
    let findings = check(journal.registry());
    let finding = findings.iter().find(|finding| kind(finding) == "CodeTwice");
    let fixes = describe(&journal, finding.expect("one code twice")).fixes;
    let Some(Step::Do(want)) = fixes.last().map(|fix| fix.step.clone()) else {
        panic!("no such way out");
    };
    assert_eq!(
        want,
        Want::SameCable {
            stays: one,
            goes: other
        }
    );
    let journal = does(journal, &want);
    let registry = journal.registry();
    assert_eq!(
        registry.index.cables_by_code.get(&"KIT1-C".to_owned()),
        &[one]
    );
    let landed = registry.index.landed.get(&Place::rear(position));
    assert_eq!(landed, &[End::whole(one, Side::Far)]);
    let kinds: Vec<String> = check(registry)
        .iter()
        .filter(|finding| finding.gate == Gate::Now)
        .map(kind)
        .collect();
    let wrong = [
        "CodeTwice",
        "DoubleClaim",
        "WorkOnCancelled",
        "CableWithoutCode",
    ];
    assert!(
        !kinds.iter().any(|kind| wrong.contains(&kind.as_str())),
        "{kinds:?}"
    );
}

/// The standing disagreements of cables, as the punch list tells them.
fn standings(mill: &Mill) -> Vec<(CableId, Vec<String>)> {
    let findings = check(mill.registry());
    let of = findings.iter().filter_map(|finding| match finding.what {
        What::Disputed {
            thing: Thing::Cable(id),
            field: Field::Standing,
        } => Some((id, describe(&mill.journal, finding).detail)),
        _ => None,
    });
    of.collect()
}

#[test]
fn two_phones_that_join_one_pair_the_other_way_round_disagree_and_lose_none() {
    let mut mill = Mill { journal: twins() };
    let index = &mill.registry().index.cables_by_code;
    let [one, other] = index.get(&"KIT1-C".to_owned()).to_vec()[..] else {
        panic!("two are called so");
    };
    let mut second = mill.phone(8);
    let same = |stays, goes| Want::SameCable { stays, goes };
    mill.does(&same(one, other));
    second.does(&same(other, one));
    let mut third = second.phone(9);
    third.hears(&mill);
    mill.hears(&second);
    assert_eq!(mill.registry().dump(), third.registry().dump());
    let told = standings(&mill);
    assert_eq!(told.iter().map(|(id, _)| *id).collect::<Vec<_>>(), {
        let mut both = [one, other];
        both.sort();
        both
    });
    for (_, detail) in &told {
        let words = detail.join(" ");
        assert!(
            words.contains("the same cable as KIT1-C, noted twice"),
            "{words}"
        );
    }
    // Once somebody says for each which it is, one cable is left, and it has its name.
    for stays in [one, other] {
        let mut settled = mill.phone(10);
        let findings = check(settled.registry());
        for finding in &findings {
            let What::Disputed {
                thing: Thing::Cable(id),
                field: Field::Standing,
            } = finding.what
            else {
                continue;
            };
            let fixes = describe(&settled.journal, finding).fixes;
            let keeps =
                |fix: &&bothends::app::mend::Fix| fix.label.contains("cancelled") != (id == stays);
            let fix = fixes.iter().find(keeps).expect("both sides can be kept");
            let Step::Do(want) = &fix.step else {
                panic!("{}", fix.label);
            };
            let want = want.clone();
            settled.does(&want);
        }
        assert_eq!(standings(&settled), []);
        let wanted = settled.registry().cables.iter();
        let wanted = wanted.filter(|(_, row)| walk::is_wanted_cable(row));
        let names: Vec<String> = wanted
            .map(|(id, _)| names::cable(settled.registry(), id))
            .collect();
        assert_eq!(
            names.iter().filter(|name| *name == "KIT1-C").count(),
            1,
            "{names:?}"
        );
    }
}

#[test]
fn one_who_joins_two_cables_and_one_who_tells_them_apart_disagree() {
    let mut mill = Mill { journal: twins() };
    let index = &mill.registry().index.cables_by_code;
    let [one, other] = index.get(&"KIT1-C".to_owned()).to_vec()[..] else {
        panic!("two are called so");
    };
    // Whichever of them was to get another letter, the one that goes is spoken for.
    for (stays, goes) in [(one, other), (other, one)] {
        let mut first = mill.phone(8);
        let mut second = mill.phone(9);
        first.does(&Want::Reletter {
            cable: one,
            letter: Letter::new('E').expect("a letter"),
        });
        second.does(&Want::SameCable { stays, goes });
        first.hears(&second);
        let told = standings(&first);
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!(told[0].0, goes);
        assert_eq!(told[0].1.len(), 2, "both sides: {told:?}");
    }
    // Two who join them alike agree.
    let mut second = mill.phone(8);
    let same = Want::SameCable {
        stays: one,
        goes: other,
    };
    mill.does(&same);
    second.does(&same);
    mill.hears(&second);
    assert_eq!(standings(&mill), []);
}

#[test]
fn two_cables_of_one_code_are_two_in_every_list_of_work() {
    let journal = twins();
    let items = items(check(journal.registry()));
    let titles = items.iter().map(|item| describe_item(&journal, item).title);
    let works = ["Not pulled", "Not marked", "Not verified"];
    let is_work = |title: &String| works.iter().any(|work| title.starts_with(work));
    let titles: Vec<String> = titles.filter(is_work).collect();
    for title in &titles {
        let parts = ["KIT1-C (Cat 6 U/UTP)", "KIT1-C (Cat 6 F/UTP)"];
        for part in parts {
            assert_eq!(title.matches(part).count(), 1, "{title}");
        }
    }
    assert_eq!(titles.len(), works.len(), "{titles:?}");
}

#[test]
fn findings_of_one_of_two_cables_with_one_code_say_of_which() {
    let mut mill = Mill { journal: twins() };
    let index = &mill.journal.registry().index;
    let twins: Vec<CableId> = index.cables_by_code.get(&"KIT1-C".to_owned()).to_vec();
    for cable in &twins {
        mill.does(&Want::ReportPull {
            cables: vec![*cable],
            outcome: PullOutcome::Damaged,
        });
    }
    let mut titles: Vec<String> = items(check(mill.registry()))
        .iter()
        .map(|item| describe_item(&mill.journal, item).title)
        .filter(|title| title.contains("damaged"))
        .collect();
    titles.sort_unstable();
    for medium in ["Cat 6 U/UTP", "Cat 6 F/UTP"] {
        let called = format!("KIT1-C ({medium})");
        assert!(
            titles.iter().any(|title| title.contains(&called)),
            "{medium}: {titles:?}"
        );
    }
    let all = titles.len();
    titles.dedup();
    assert_eq!(titles.len(), all, "{titles:?}");
}

fn lines(journal: &Journal) -> Vec<String> {
    journal.lines().iter().map(ToString::to_string).collect()
}

#[test]
fn one_number_on_two_conduits_is_found_and_mended_in_a_tap() {
    let mill = Mill::new();
    let conduit = |from: &str| Want::LayConduit {
        conduit: None,
        number: None,
        laid: Laid {
            ends: [from, "the cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
            size: String::new(),
            note: String::new(),
        },
    };
    let mut journal = met(&[conduit("the attic")], &[conduit("the gate")], mill);
    let findings = check(journal.registry());
    let mending = describe(&journal, &findings[0]);
    assert_eq!(mending.title, "Several conduits are CD1.");
    let mut labels = labels(&journal, &findings[0]);
    labels.sort_unstable();
    assert_eq!(
        labels,
        [
            "The one from the attic to the cellar gets the next free number",
            "The one from the gate to the cellar gets the next free number",
        ]
    );
    let Some(Step::Do(want)) = mending.fixes.first().map(|fix| fix.step.clone()) else {
        panic!("a tap that mends it");
    };
    let draft = command::draft(&want, &journal).expect("it can be done");
    let signature = Signature {
        by: "PW".to_owned(),
        wall: WallTime(0),
    };
    journal.write(draft, signature).expect("there is room");
    assert_eq!(check(journal.registry()), []);
}

/// Keeps the first side of every disagreement, and gives how many there were.
fn settled(journal: &mut Journal) -> usize {
    let mut kept = 0;
    while let Some(finding) = check(journal.registry())
        .into_iter()
        .find(|finding| finding.gate == Gate::Now)
    {
        let mending = describe(journal, &finding);
        let keep = mending
            .fixes
            .iter()
            .filter(|fix| fix.label.starts_with("Keep "));
        assert_eq!(keep.clone().count(), 2, "{mending:?}");
        assert_eq!(mending.detail.len(), 2, "{mending:?}");
        let Some(Step::Do(want)) = keep.map(|fix| fix.step.clone()).next() else {
            panic!("a tap that settles it: {mending:?}");
        };
        let draft = command::draft(&want, journal).expect("it can be done");
        let signature = Signature {
            by: "PW".to_owned(),
            wall: WallTime(0),
        };
        journal.write(draft, signature).expect("there is room");
        kept += 1;
        assert!(kept < 12, "each tap settles one: {mending:?}");
    }
    kept
}

#[test]
fn what_people_say_of_a_conduit_is_kept_in_a_tap() {
    let mut mill = Mill::new();
    let conduit = mill.conduit("the attic", &[]);
    let lays = |from: &str, size: &str, note: &str| Want::LayConduit {
        conduit: Some(conduit),
        number: Some(1),
        laid: Laid {
            ends: [from, "the cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
            size: size.to_owned(),
            note: note.to_owned(),
        },
    };
    let strings = |lying| Want::StringConduit { conduit, lying };
    let cancels = |reason: &str| Want::CancelConduit {
        conduit,
        reason: reason.to_owned(),
    };
    let ones = [
        lays("the gate", "20 mm", "wet"),
        strings(Lying::In),
        cancels("Full"),
    ];
    let others = [
        lays("the roof", "32 mm", "dry"),
        strings(Lying::In),
        strings(Lying::Out),
        cancels("Crushed"),
    ];
    let mut journal = met(&ones, &others, mill);
    // Where it begins, its size, the note, the string, and why it is cancelled.
    assert_eq!(settled(&mut journal), 5);
}

#[test]
fn whether_a_cable_lies_in_a_conduit_is_kept_in_a_tap() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    let cable = mill.cable("KIT1-A");
    let conduit = mill.conduit("the attic", &["KIT1-A"]);
    let passes = |lying| Want::PassConduit {
        cable,
        conduit,
        lying,
    };
    let ones = [passes(Lying::Out)];
    let others = [passes(Lying::Out), passes(Lying::In)];
    let mut journal = met(&ones, &others, mill);
    assert_eq!(settled(&mut journal), 1);
}

#[test]
fn one_number_on_two_loose_ends_is_found_and_mended_in_a_tap() {
    let mill = Mill::new();
    let loose = |place: &str| Want::AddLooseEnd {
        found: Found {
            place: place.to_owned(),
            ..Found::default()
        },
    };
    let mut journal = met(&[loose("the attic")], &[loose("the cellar")], mill);
    let findings = check(journal.registry());
    let finding = &findings[0];
    let mending = describe(&journal, finding);
    assert_eq!(
        mending.title,
        "Loose end 1 stands on 2 ends whose cable is not known."
    );
    let mut labels = labels(&journal, finding);
    labels.sort_unstable();
    assert_eq!(
        labels,
        [
            "Loose ends",
            "The one at the attic gets the next free number",
            "The one at the cellar gets the next free number"
        ]
    );
    let Step::Do(want) = &mending.fixes[0].step else {
        panic!("{:?}", mending.fixes[0])
    };
    let draft = command::draft(want, &journal).expect("it can be done");
    let signature = Signature {
        by: "PW".to_owned(),
        wall: WallTime(0),
    };
    journal.write(draft, signature).expect("there is room");
    let left: Vec<String> = check(journal.registry()).iter().map(kind).collect();
    assert_eq!(left, ["LooseEndOpen", "LooseEndOpen"]);
}

#[test]
fn no_finding_of_the_demo_job_has_two_buttons_of_the_same_words() {
    let (journal, _) = demo();
    for finding in check(journal.registry()) {
        let labels = labels(&journal, &finding);
        let mut once = labels.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), labels.len(), "{}: {labels:?}", kind(&finding));
    }
}

#[test]
fn cables_without_a_rack_go_home_to_one_in_a_tap_once_there_are_two() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    let open = |journal: &Journal| {
        let findings = check(journal.registry()).into_iter();
        findings
            .filter(|finding| kind(finding) == "NoRackChosen")
            .collect::<Vec<_>>()
    };
    assert_eq!(open(&mill.journal), [], "the only rack of the job");
    mill.rack(2, "A", "Attic rack");
    let found = open(&mill.journal);
    let count = found.len();
    assert!(count > 1, "{count}");
    // The cables of one outlet are one line of the list.
    let found_items = items(found.clone());
    assert_eq!(found_items.len(), 2);
    let mending = describe_item(&mill.journal, &found_items[0]);
    assert_eq!(mending.title, "No rack is chosen for KIT1-A and KIT1-B.");
    let mending = describe_item(&mill.journal, &found_items[1]);
    let offered: Vec<&str> = mending.fixes.iter().map(|fix| fix.label.as_str()).collect();
    assert_eq!(
        offered,
        [
            "Home to Main rack",
            "Home to Attic rack",
            "Racks and panels"
        ]
    );
    let all = format!("All {count} without a rack: home to Attic rack");
    let mending = describe(&mill.journal, &found[0]);
    let fix = mending.fixes.iter().find(|fix| fix.label == all);
    let Some(Step::Do(want)) = fix.map(|fix| &fix.step) else {
        panic!("{:?}", labels(&mill.journal, &found[0]));
    };
    mill.does(want);
    assert_eq!(open(&mill.journal), []);
}

#[test]
fn a_printed_strip_is_called_out_of_date_once_a_cable_moves() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.land("KIT1-B", "B07");
    let panel = mill.panel_id("B");
    let print = |mill: &Mill| Want::PrintTags {
        stock: "Panel strips".to_owned(),
        tags: 1,
        set: 0,
        cables: Vec::new(),
        places: Vec::new(),
        strips: vec![(panel, strip_words(mill.registry(), panel).expect("a strip"))],
    };
    assert_eq!(stale_strips(&mill.journal), [], "none was printed");
    let want = print(&mill);
    mill.does(&want);
    assert_eq!(stale_strips(&mill.journal), []);
    mill.land("KIT1-B", "B08");
    let [stale] = &stale_strips(&mill.journal)[..] else {
        panic!("one strip");
    };
    assert_eq!(
        stale.title,
        "The strip of Panel B is out of date at 2 positions."
    );
    assert!(!stale.fixes.is_empty());
    let want = print(&mill);
    mill.does(&want);
    assert_eq!(stale_strips(&mill.journal), []);
}
