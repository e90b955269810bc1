//! The tags that the browser tests show to a camera: texts of the demo job, and their QR codes as
//! rows of 0 and 1, so that the tests need no second program that makes codes.
//!
//! They stand in `tests/browser/fixtures/tags.txt`. Run this test with the variable
//! `BOTHENDS_WRITE_FIXTURES` set to write them anew.

use bothends::codes::qr::Matrix;
use bothends::codes::tag::{JobKey, TagText, Tagged};
use bothends::domain::ids::{Bits80, CableId, JobId, WriterId};
use bothends::domain::medium::Medium;
use bothends::domain::place::{End, Placement, RunName, Side};
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry};
use bothends::query::scan::read;

use crate::support::tag_text::{tag_of_pull, tag_text};

const FILE: &str = "tests/browser/fixtures/tags.txt";

fn demo() -> Journal {
    let file: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let read = jobfile::read(file);
    let job = read.header.expect("a first line").job;
    let mut journal = Journal::new(job, WriterId(Bits80([7; 10])));
    journal.take(read.lines.iter().map(String::as_str));
    journal
}

/// The first cable in the order of the codes that answers to something.
fn first(registry: &Registry, is_it: impl Fn(CableId) -> bool) -> CableId {
    let mut all: Vec<(String, CableId)> = registry
        .cables
        .iter()
        .filter(|(id, row)| {
            let code = registry.cable_code(*id).map(|code| code.text);
            let twins = code.map(|code| registry.index.cables_by_code.get(&code).len());
            !row.added.is_empty() && twins == Some(1)
        })
        .filter_map(|(id, _)| Some((registry.cable_code(id)?.text, id)))
        .collect();
    all.sort();
    let mut all = all.into_iter().map(|(_, id)| id);
    all.find(|id| is_it(*id)).expect("a cable")
}

/// Each tag with its name.
fn told() -> Vec<(&'static str, String)> {
    let journal = demo();
    let registry = journal.registry();
    let row = |id| registry.cables.get(id).expect("a row");
    let landed = |id: CableId| {
        let plugs = row(id).medium.get().is_some_and(Medium::is_category);
        let feeds = matches!(row(id).name.get(), Some(RunName::Feeds { .. }));
        let end = End::whole(id, Side::Far);
        let record = row(id).end(end.cable, end.side);
        let placed = record.and_then(|record| record.placement.whole.get());
        matches!(placed, Some(Placement::Landed { .. }))
            && plugs
            && feeds
            && row(id).repull.get().is_none()
    };
    let good = first(registry, landed);
    let anew = first(registry, |id| row(id).repull.get().is_some());
    let outlet = match row(good).name.get() {
        Some(RunName::Feeds { outlet, .. }) => *outlet,
        other => panic!("no outlet: {other:?}"),
    };
    let job_key = JobKey::of(journal.job());
    let outlet = TagText {
        tagged: Tagged::Outlet(registry.outlet_code(outlet).expect("a code")),
        job_key,
    };
    let good = tag_text(&journal, good);
    let other = TagText::read(&good).expect("a tag").tagged;
    let other = TagText {
        tagged: other,
        job_key: JobKey::of(JobId(Bits80(*b"Oatlingrow"))),
    };
    let last = if good.ends_with('7') { '8' } else { '7' };
    let damaged = format!("{}{last}", &good[..good.len() - 1]);
    vec![
        ("good", good),
        ("void", tag_of_pull(&journal, anew, anew.0.into())),
        ("outlet", outlet.to_string()),
        ("another job", other.to_string()),
        ("damaged", damaged),
        ("strange", "https://example.org/<b>bold</b>".to_owned()),
    ]
}

fn line(name: &str, text: &str) -> String {
    let code = Matrix::of(text).expect("a code");
    let rows: Vec<String> = (0..code.size())
        .map(|y| {
            (0..code.size())
                .map(|x| if code.dark(x, y) { '1' } else { '0' })
                .collect()
        })
        .collect();
    format!("{name}\t{text}\t{}\n", rows.join(" "))
}

#[test]
fn the_tags_for_the_camera_are_those_of_the_demo_job() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(FILE);
    let told = told();
    let lines: String = told.iter().map(|(name, text)| line(name, text)).collect();
    if std::env::var_os("BOTHENDS_WRITE_FIXTURES").is_some() {
        std::fs::write(&path, &lines).expect("the file is writable");
    }
    let kept = std::fs::read_to_string(&path).expect("the file is there");
    assert_eq!(kept, lines, "write the fixtures anew");
    let journal = demo();
    let holds = |at: usize| read(&journal, &told[at].1, None).holds;
    assert!(holds(0) && !holds(1) && holds(2) && !holds(3) && !holds(4) && !holds(5));
    assert!(read(&journal, &told[1].1, None).said[0].starts_with("This tag is void"));
}
