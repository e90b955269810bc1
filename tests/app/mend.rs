//! The punch list in words, over the demo job: everything that is found says what is wrong, and
//! every tap that is offered does what it promises.

use std::collections::BTreeMap;

use bothends::app::mend::{Step, describe, describe_item};
use bothends::command;
use bothends::domain::ids::{Bits80, WriterId};
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Signature, WallTime};
use bothends::query::{Finding, check, items};

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
    for item in items(findings) {
        assert!(describe_item(&journal, &item).title.ends_with('.'));
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
