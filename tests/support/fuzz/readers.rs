//! What reads what comes from outside, and what must hold of everything that is read.

use bothends::codes::tag::TagText;
use bothends::codes::typed;
use bothends::domain::ids::{Bits80, JobId, WriterId};
use bothends::domain::label::RoomCode;
use bothends::exchange::bundle::{self, Packing};
use bothends::exchange::csv::{self, Form};
use bothends::exchange::heads::in_full;
use bothends::exchange::jobfile;
use bothends::exchange::known::Known;
use bothends::exchange::schedule::Schedule;
use bothends::journal::{Journal, Signature, WallTime};
use bothends::query::check;
use bothends::relay::{Gathering, Heard, MARK, pack, unpack_within};
use bothends::schedule::{origin, plan};
use bothends::tags::{Booklet, Order, Stock};
use sha2::{Digest as _, Sha256};

/// One reader.
pub(crate) struct Reader {
    /// What its folder is called.
    pub(crate) name: &'static str,
    /// Files that other tests keep and that it begins with too.
    pub(crate) beside: &'static [&'static str],
    /// Reads, and panics where something does not hold.
    pub(crate) read: fn(&[u8]),
}

/// All of them.
pub(crate) const READERS: [Reader; 11] = [
    Reader {
        name: "jobfile",
        beside: &[
            "tests/corpus/jobfiles/v1/two-phones.jobfile.txt",
            "tests/corpus/journals/v1/every-kind.jsonl",
        ],
        read: job_file,
    },
    Reader {
        name: "bundle",
        beside: &["tests/corpus/bundles/v1/two-pictures.bundle.txt"],
        read: a_bundle,
    },
    Reader {
        name: "csv",
        beside: &["demo-data/schedule-bad-rows.csv"],
        read: comma_separated,
    },
    Reader {
        name: "schedule",
        beside: &[
            "demo-data/schedule-bad-rows.csv",
            "demo-data/schedule-semicolon-latin1.csv",
            "demo-data/schedule-tabs.csv",
        ],
        read: cable_schedule,
    },
    Reader {
        name: "codes",
        beside: &[],
        read: code,
    },
    Reader {
        name: "frames",
        beside: &[],
        read: frames,
    },
    Reader {
        name: "inflate",
        beside: &[],
        read: inflated,
    },
    Reader {
        name: "known",
        beside: &[],
        read: known,
    },
    Reader {
        name: "heads",
        beside: &[],
        read: heads,
    },
    Reader {
        name: "stock",
        beside: &[],
        read: stock,
    },
    Reader {
        name: "orders",
        beside: &[],
        read: orders,
    },
];

const JOB: JobId = JobId(Bits80(*b"MarrowMill"));

fn phone() -> Journal {
    Journal::new(JOB, WriterId(Bits80([7; 10])))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// What a job file gives can be taken in without a loss in any order, and written and read again.
fn job_file(bytes: &[u8]) {
    let read = jobfile::read(bytes);
    for finding in &read.findings {
        let words = finding.to_string();
        assert!(words.ends_with('.') || words.ends_with(')'), "{words}");
    }
    let lines: Vec<&str> = read
        .lines
        .iter()
        .chain(&read.doubtful)
        .map(String::as_str)
        .collect();
    if let Some(header) = &read.header {
        let again = jobfile::write(header.job, &header.name, lines.iter().copied());
        let again = jobfile::read(again.as_bytes());
        assert_eq!(again.findings, []);
        assert_eq!(again.lines, lines);
        assert_eq!(
            again.header.map(|again| again.name),
            Some(header.name.clone())
        );
    }
    let mut journal = phone();
    let taken = journal.take(lines.iter().copied());
    assert_eq!(taken.len(), lines.len());
    let mut backwards = phone();
    backwards.take(lines.iter().rev().copied());
    let mut given = lines;
    given.sort_unstable();
    given.dedup();
    let mut kept = journal.lines();
    kept.sort_unstable();
    assert_eq!(kept, given);
    assert_eq!(journal.health(), backwards.health());
    assert_eq!(journal.registry().dump(), backwards.registry().dump());
    let listed = check(journal.registry());
    assert_eq!(listed, check(backwards.registry()));
    assert!(journal.frontier().len() <= given.len());
}

/// What a bundle gives is a part of it, and can be packed and read again.
fn a_bundle(bytes: &[u8]) {
    let Some(read) = bundle::read(bytes) else {
        return;
    };
    for finding in &read.findings {
        assert!(finding.to_string().ends_with('.'));
    }
    assert!(
        bytes
            .windows(read.job.len().max(1))
            .any(|part| part == read.job)
            || read.job.is_empty()
    );
    let Ok(job) = std::str::from_utf8(read.job) else {
        return;
    };
    if !job.is_empty() && !job.ends_with('\n') {
        return;
    }
    let mut packing = Packing::default();
    for picture in &read.pictures {
        packing.add(picture.digest, &picture.whole, &picture.small);
    }
    let packed = packing.finish(job);
    let again = bundle::read(packed.as_bytes()).expect("it was packed here");
    assert_eq!(again.findings, []);
    assert_eq!((again.job, &again.pictures), (read.job, &read.pictures));
}

/// Rows can be written and read again.
fn comma_separated(bytes: &[u8]) {
    let sheet = match csv::read(bytes) {
        Ok(sheet) => sheet,
        Err(fault) => return assert!(fault.to_string().ends_with('.'), "{fault}"),
    };
    let rows: Vec<Vec<String>> = sheet.records.into_iter().map(|row| row.fields).collect();
    assert!(!rows.is_empty());
    for form in [Form::Raw, Form::Spreadsheet] {
        let again = csv::read(&csv::write(&rows, form)).expect("it was written here");
        let again = again.records.into_iter();
        let plain = |cell: &String| form.plain(cell).into_owned();
        let again: Vec<Vec<String>> = again
            .map(|row| row.fields.iter().map(plain).collect())
            .collect();
        assert_eq!(again, rows);
    }
}

/// Each row of a schedule has one outcome, what is added can be written, and adds nothing twice.
fn cable_schedule(bytes: &[u8]) {
    let Ok(schedule) = Schedule::read(bytes) else {
        return;
    };
    let reading = schedule.reading();
    let mut journal = phone();
    let planned = plan(&reading, journal.registry(), origin(JOB, bytes));
    let sum = planned.adds() + planned.here() + planned.bad().count();
    assert_eq!(sum, planned.rows.len());
    assert_eq!(sum, reading.rows.len());
    if planned.facts.is_empty() {
        return;
    }
    let mut draft = journal.draft();
    draft.facts.clone_from(&planned.facts);
    let signature = Signature {
        by: "PW".to_owned(),
        wall: WallTime(1_757_318_400_000),
    };
    let written = journal.write(draft, signature).expect("it has a place");
    let mut other = phone();
    other.take([written.line.as_str()]);
    assert_eq!(other.registry().dump(), journal.registry().dump());
    let again = plan(&reading, journal.registry(), origin(JOB, bytes));
    assert_eq!(again.adds(), 0);
    // A row that stood twice in the file is one that is here by now.
    assert!(again.here() >= planned.adds() + planned.here());
}

/// A tag that is read prints as itself, and what is typed is always something.
fn code(bytes: &[u8]) {
    let text = text(bytes);
    let here = RoomCode::new("KIT").ok();
    for line in [text.as_str()].into_iter().chain(text.lines()) {
        match TagText::read(line) {
            Ok(tag) => assert_eq!(TagText::read(&tag.to_string()), Ok(tag)),
            Err(fault) => assert!(!fault.to_string().is_empty()),
        }
        for room in [None, here] {
            let read = typed::read(line, room);
            assert!(
                read.reasons
                    .iter()
                    .all(|reason| !reason.to_string().is_empty())
            );
        }
    }
}

/// A piece with the check sum that belongs to what stands before it.
fn sealed(line: &str) -> Option<String> {
    let mut bytes = base45::decode(line.strip_prefix(MARK)?).ok()?;
    bytes.truncate(bytes.len().checked_sub(4)?);
    let sum = Sha256::digest(&bytes);
    bytes.extend(&sum[..4]);
    Some(MARK.to_owned() + &base45::encode(bytes))
}

/// Pieces come as they are and with a right check sum; what they carry together is unpacked.
fn frames(bytes: &[u8]) {
    let text = text(bytes);
    for seal in [false, true] {
        let mut gathering = Gathering::default();
        for line in text.lines() {
            let sealed = sealed(line).filter(|_| seal);
            let heard = gathering.hear(sealed.as_deref().unwrap_or(line));
            let (here, of) = gathering.progress();
            assert!(here <= of && of <= 2_000);
            match heard {
                Ok(Heard::All) => {
                    assert_eq!(here, of);
                    if let Ok(whole) = gathering.whole() {
                        inflated(&whole);
                    }
                    assert!(gathering.is_empty());
                }
                Ok(Heard::New | Heard::Known) => assert!(here > 0),
                Err(fault) => assert!(fault.to_string().ends_with('.')),
            }
        }
    }
}

/// The most bytes that may be unpacked here.
const UNPACKED: usize = 1 << 20;

/// What is unpacked is not too long, and can be packed, gathered and unpacked again.
fn inflated(bytes: &[u8]) {
    let text = match unpack_within(bytes, UNPACKED) {
        Ok(text) => text,
        Err(broken) => return assert!(broken.to_string().ends_with('.')),
    };
    assert!(text.len() <= UNPACKED);
    // Packing anew is slow, so only for what is short.
    if text.len() > 4_096 {
        return;
    }
    let codes = pack(&text).expect("few codes");
    let mut gathering = Gathering::default();
    for code in codes.iter().rev() {
        gathering.hear(code).expect("a piece");
    }
    let whole = gathering.whole().expect("all pieces");
    assert_eq!(unpack_within(&whole, UNPACKED), Ok(text));
}

/// What another phone has can be printed and read again.
fn known(bytes: &[u8]) {
    let Some(known) = Known::read(&text(bytes)) else {
        return;
    };
    assert_eq!(Known::read(&known.print()).as_ref(), Some(&known));
    assert!(known.last.iter().all(|id| known.has(*id)));
}

/// A text without short lines stays as it is, and short ones do not become endless.
fn heads(bytes: &[u8]) {
    let short = text(bytes);
    let full = in_full(&short);
    assert!(
        full.len() <= short.len() * 64 + 256,
        "{} from {}",
        full.len(),
        short.len()
    );
    if !short
        .split_inclusive('\n')
        .any(|line| line.starts_with(['=', '+']))
    {
        assert_eq!(full, short);
    }
}

/// A line of a stock is written as it was read, and its measures are judged in words.
fn stock(bytes: &[u8]) {
    for line in text(bytes).lines() {
        let Some(stock) = Stock::read(line) else {
            continue;
        };
        // A character that parts lines becomes a blank in the name; then nothing changes any more.
        let line = stock.line();
        assert_eq!(Stock::read(&line).map(|stock| stock.line()), Some(line));
        let fits = stock.check();
        if fits.is_ok() {
            assert!(stock.per_page().is_none_or(|labels| labels > 0));
        }
    }
}

/// Orders and booklets that were read can be written and read again.
fn orders(bytes: &[u8]) {
    let text = text(bytes);
    // Characters that part fields become blanks in other places; then nothing changes any more.
    if let Ok(order) = Order::read(&text) {
        let print = order.to_string();
        let again = Order::read(&print).map(|order| order.to_string());
        assert_eq!(again, Ok(print));
        assert!(order.labels() >= 0);
    }
    if let Some(booklet) = Booklet::read(&text) {
        let print = booklet.to_string();
        let again = Booklet::read(&print).map(|booklet| booklet.to_string());
        assert_eq!(again, Some(print));
    }
}
