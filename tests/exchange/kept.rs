//! Files of version 1 that were written once and are kept: files like them lie on phones, so they must
//! be read, and written, as they are for ever.

use std::fmt::Write as _;

use bothends::domain::ids::{Bits80, JobId, WriterId};
use bothends::domain::place::{Placement, Side};
use bothends::exchange::bundle::{self, Packing};
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry, picture_digest};
use bothends::names;

const JOB_FILE: &str = include_str!("../corpus/jobfiles/v1/two-phones.jobfile.txt");
const BUNDLE: &str = include_str!("../corpus/bundles/v1/two-pictures.bundle.txt");

/// What the work of the two phones comes to: each run with its ends and its marks. Both landed an end on
/// one port, both added an outlet of one code, and one took a landing back.
const SAID: &str = "\
DIN1-A: near not landed; far on B01; marked 0 times
DIN1-B: near not landed; far not landed; marked 0 times
KIT1-A: near on jack A of KIT1; far on B01; marked 1 times
KIT1-B: near not landed; far not landed; marked 0 times
KIT2-A: near not landed; far not landed; marked 0 times
KIT2-A: near not landed; far not landed; marked 0 times
";

fn said(registry: &Registry) -> String {
    let mut rows = Vec::new();
    for (id, row) in registry.cables.iter() {
        let mut text = names::cable(registry, id) + ":";
        let mut marks = 0;
        for side in Side::BOTH {
            let record = row.end(id, side);
            let placed = record.map(|record| record.placement.whole.distinct());
            let at = placed
                .unwrap_or_default()
                .into_iter()
                .map(|placed| match placed {
                    Placement::Landed { place, .. } => names::place(registry, place),
                    other => format!("{other:?}"),
                });
            let at: Vec<String> = at.collect();
            let at = match at.is_empty() {
                true => "not landed".to_owned(),
                false => format!("on {}", at.join(", ")),
            };
            let name = match side {
                Side::Near => " near",
                Side::Far => " far",
            };
            let _ = write!(text, "{name} {at};");
            marks += record.map_or(0, |record| record.marks.iter().count());
        }
        let _ = writeln!(text, " marked {marks} times");
        rows.push(text);
    }
    rows.sort();
    rows.concat()
}

#[test]
fn the_job_file_says_what_it_said_and_is_written_as_it_was() {
    let read = jobfile::read(JOB_FILE.as_bytes());
    let header = read.header.expect("a header");
    assert_eq!(read.findings, []);
    assert_eq!(read.doubtful, Vec::<String>::new());
    assert_eq!(header.job, JobId(Bits80(*b"Marrowby M")));
    let lines = read.lines.iter().map(String::as_str);
    let again = jobfile::write(header.job, &header.name, lines.clone());
    assert_eq!(again, JOB_FILE);

    let mut journal = Journal::new(header.job, WriterId(Bits80([9; 10])));
    journal.take(lines);
    assert_eq!(journal.lines().len(), read.lines.len());
    // One line is no act, and one says something that this version does not know.
    let health = journal.health();
    assert_eq!((health.unreadable, health.newer.len()), (1, 1));
    assert_eq!(
        (health.waiting, health.gaps, health.clashes),
        <_>::default()
    );
    assert_eq!(said(journal.registry()), SAID);
}

#[test]
fn the_bundle_gives_what_it_gave_and_is_written_as_it_was() {
    let read = bundle::read(BUNDLE.as_bytes()).expect("a bundle");
    assert_eq!(read.findings, []);
    assert_eq!(read.job, JOB_FILE.as_bytes());
    let mut packing = Packing::default();
    for picture in &read.pictures {
        assert_eq!(picture_digest(&picture.whole), picture.digest);
        packing.add(picture.digest, &picture.whole, &picture.small);
    }
    assert_eq!(packing.pictures(), 2);
    assert_eq!(packing.finish(JOB_FILE), BUNDLE);
}
