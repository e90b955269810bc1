//! The job file: what is written comes back to the letter, and what was cut, altered or mixed up
//! is told, with whatever is whole still offered.

use bothends::command::{Want, draft};
use bothends::domain::ids::{Bits80, JobId, WriterId};
use bothends::exchange::jobfile::{Finding, Limits, read, read_within, write};
use bothends::journal::{Journal, Signature, WallTime};
use proptest::prelude::*;

const JOB: JobId = JobId(Bits80(*b"MarrowMill"));

/// The work of two people: three lines of one, two of the other.
fn work() -> Vec<String> {
    let mut lines = Vec::new();
    for (writer, by, names) in [
        (b"AAAAAAAAAA", "PW", ["One", "Two", "Three"].as_slice()),
        (b"BBBBBBBBBB", "TH", ["Four", "Five"].as_slice()),
    ] {
        let mut journal = Journal::new(JOB, WriterId(Bits80(*writer)));
        for name in names {
            let name = (*name).to_owned();
            let draft = draft(&Want::AddUnit { name }, &journal).expect("a unit can be added");
            let signature = Signature {
                by: by.to_owned(),
                wall: WallTime(1_757_318_400_000),
            };
            lines.push(journal.write(draft, signature).expect("a first act").line);
        }
    }
    lines
}

fn file_of(lines: &[String]) -> String {
    write(JOB, "Marrowby Mill", lines.iter().map(String::as_str))
}

#[test]
fn a_whole_file_comes_back_to_the_letter() {
    let lines = work();
    let file = file_of(&lines);
    let with_crlf = file.replace('\n', "\r\n");
    let with_mark = format!("\u{feff}{file}");
    let with_gaps = file.replace('\n', "\n\n");
    let without_last_end = file.trim_end().to_owned();
    for text in [file, with_crlf, with_mark, with_gaps, without_last_end] {
        let read = read(text.as_bytes());
        assert_eq!(read.findings, [], "{text}");
        assert_eq!(read.lines, lines);
        assert_eq!(read.doubtful, Vec::<String>::new());
        let header = read.header.expect("a header");
        assert_eq!((header.job, &*header.name), (JOB, "Marrowby Mill"));
        assert_eq!(header.other_job(JOB), None);
    }
}

/// The digests are those of any other program: these were made with `sha256sum` of GNU coreutils
/// from the same text, the head with the lines of its writer alone (`grep '"writer":"…"'`).
#[test]
fn the_digests_are_sha_256() {
    let line = r#"{"v":1,"writer":"85146H258514AH25","n":1,"lamport":1,"wall":0,"facts":[]}"#;
    let file = write(JOB, "Marrowby Mill", [line]);
    let last = file.lines().last().expect("a last line");
    assert_eq!(
        last,
        r#"{"end":"bothends-job","acts":1,"sha256":"f0b1002eabb193af432d9972bb7e7f1930f9d4f933cde2cd88c0a27060516dea","writers":[{"writer":"85146H258514AH25","top":1,"head":"aa693574e6017941058131508a2465f8fc58635729cee07a00fd4dd218ac84ff"}]}"#
    );
}

#[test]
fn lines_that_cannot_stand_by_themselves_come_back_too() {
    let mut lines = work();
    lines.push("{\"v\":1,\n\"writer\":\"broken over two lines".to_owned());
    lines.push(String::new());
    lines.push(" \t".to_owned());
    lines.push("ends in a return\r".to_owned());
    lines.push(r#"{"kept":"looks wrapped"}"#.to_owned());
    lines.push(r#"{"end":"bothends-job","acts":0,"sha256":"looks like the end"}"#.to_owned());
    lines.push("not of this version: \u{1F3ED}".to_owned());
    let read = read(file_of(&lines).as_bytes());
    assert_eq!(read.findings, []);
    assert_eq!(read.lines, lines);
}

#[test]
fn a_file_cut_anywhere_is_told_and_gives_what_is_whole() {
    let lines = work();
    let file = file_of(&lines);
    let body = file.trim_end().len();
    let first_end = file.find('\n').expect("lines");
    for cut in first_end..body {
        let read = read(&file.as_bytes()[..cut]);
        let whole = read.lines.len();
        assert_eq!(read.findings, [Finding::CutOff { whole }], "cut at {cut}");
        assert_eq!(read.lines, lines[..whole], "cut at {cut}");
        let complete = file[..cut].matches('\n').count().saturating_sub(1);
        assert!(
            whole >= complete.min(lines.len()),
            "cut at {cut}: {whole} of {complete}"
        );
    }
    let words = Finding::CutOff { whole: 4 }.to_string();
    assert!(
        words.contains("cut off") && words.contains("4 lines in it are whole"),
        "{words}"
    );
}

#[test]
fn the_work_of_whoever_was_not_altered_is_kept_apart() {
    let lines = work();
    let file = file_of(&lines).replace("\"Five\"", "\"Fife\"");
    let read = read(file.as_bytes());
    assert_eq!(
        read.findings,
        [
            Finding::Altered {
                expected: 5,
                found: 5
            },
            Finding::WriterAltered {
                by: "TH".to_owned(),
                lines: 2
            },
        ]
    );
    assert_eq!(read.lines, lines[..3]);
    assert_eq!(read.doubtful.len(), 2);
    // A renamed job leaves everybody's work whole.
    let renamed = file_of(&lines).replace("Marrowby", "Narrowby");
    let read = bothends::exchange::jobfile::read(renamed.as_bytes());
    assert_eq!(
        read.findings,
        [Finding::Altered {
            expected: 5,
            found: 5
        }]
    );
    assert_eq!(read.lines, lines);
}

#[test]
fn a_missing_line_is_told_by_count() {
    let lines = work();
    let file = file_of(&lines).replace(&format!("{}\n", lines[1]), "");
    let read = read(file.as_bytes());
    assert_eq!(
        read.findings[0],
        Finding::Altered {
            expected: 5,
            found: 4
        }
    );
    assert_eq!(
        read.lines,
        lines[3..],
        "only the other writer's work is sure"
    );
    assert_eq!(read.doubtful, [lines[0].clone(), lines[2].clone()]);
}

#[test]
fn two_files_joined_and_files_of_other_kinds_are_told() {
    let file = file_of(&work());
    let joined = read(format!("{file}{file}").as_bytes());
    assert_eq!(joined.lines, work());
    assert_eq!(joined.findings, [Finding::AfterTheEnd { lines: 7 }]);
    for other in [
        "",
        "Room,Cable\nKIT,1\n",
        "\u{feff}",
        "{}\n{}\n",
        "%PDF-1.7\n",
    ] {
        let read = read(other.as_bytes());
        assert_eq!(read.findings, [Finding::NotAJobFile], "{other}");
        assert_eq!((read.header, read.lines.len()), (None, 0));
    }
    let wide: Vec<u8> = file.encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert_eq!(read(&wide).findings, [Finding::NotAJobFile]);
}

#[test]
fn a_damaged_first_line_is_told_and_the_work_still_comes() {
    let file = file_of(&work()).replacen("\"job\":\"", "\"job\":\"!", 1);
    let read = read(file.as_bytes());
    assert_eq!(read.header, None);
    assert_eq!(
        read.findings,
        [
            Finding::HeaderDamaged,
            Finding::Altered {
                expected: 5,
                found: 5
            }
        ]
    );
    assert_eq!(read.lines, work());
}

#[test]
fn newer_files_and_other_jobs_are_told() {
    let newer = file_of(&work()).replacen("\"version\":1", "\"version\":2", 1);
    let read = read(newer.as_bytes());
    assert_eq!(read.findings[0], Finding::NewerVersion { version: 2 });
    assert_eq!(read.lines, work());
    let other = JobId(Bits80(*b"OtherOther"));
    let finding = read
        .header
        .expect("a header")
        .other_job(other)
        .expect("another job");
    let words = finding.to_string();
    assert!(words.contains("Marrowby Mill"), "{words}");
    assert!(
        words.contains(&JOB.key()) && words.contains(&other.key()),
        "{words}"
    );
}

#[test]
fn files_beyond_the_limits_are_refused_in_words() {
    let lines = work();
    let file = file_of(&lines);
    let within = |limits| read_within(file.as_bytes(), limits);
    let all = Limits::default();
    let bytes = file.len();
    let small = within(Limits {
        bytes: bytes - 1,
        ..all
    });
    assert_eq!(
        small.findings,
        [Finding::TooLarge {
            bytes,
            most: bytes - 1
        }]
    );
    assert_eq!(small.lines.len(), 0);
    let few = within(Limits { lines: 3, ..all });
    assert_eq!(few.findings[0], Finding::TooManyLines { most: 3 });
    assert_eq!(few.lines, lines[..2], "the first line counts");
    let most = lines[2].len() - 1;
    let narrow = within(Limits {
        line_bytes: most,
        ..all
    });
    assert!(
        narrow
            .findings
            .contains(&Finding::LineTooLong { line: 4, most })
    );
}

/// A file may have as many writers as lines. The time must not grow with their square: at so many that
/// would be minutes, and the test would be seen to hang.
#[test]
fn as_many_writers_as_lines_are_told_apart_in_one_pass() {
    let count: u16 = 30_000;
    let line = |number: u16| {
        let mut bits = [0; 10];
        bits[..2].copy_from_slice(&number.to_be_bytes());
        let writer = Bits80(bits);
        format!(r#"{{"v":1,"writer":"{writer}","n":1,"lamport":1,"wall":0,"facts":[]}}"#)
    };
    let lines: Vec<String> = (0..count).map(line).collect();
    let file = file_of(&lines);
    assert_eq!(read(file.as_bytes()).lines.len(), lines.len());
    let altered = read(file.replace("\"wall\":0", "\"wall\":1").as_bytes());
    assert_eq!(altered.doubtful.len(), lines.len());
    assert_eq!(altered.findings.len(), lines.len() + 1);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_lines_come_back(lines in proptest::collection::vec(any::<String>(), 0..8)) {
        let read = read(file_of(&lines).as_bytes());
        prop_assert_eq!(read.findings, []);
        prop_assert_eq!(read.lines, lines);
    }

    #[test]
    fn no_bytes_make_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let read = read(&bytes);
        prop_assert!(!read.findings.is_empty());
    }

    #[test]
    fn every_change_of_a_byte_is_told_or_harmless(at in 0_usize..2_000, byte in any::<u8>()) {
        let lines = work();
        let mut bytes = file_of(&lines).into_bytes();
        let at = at % bytes.len();
        bytes[at] = byte;
        let read = read(&bytes);
        prop_assert!(!read.findings.is_empty() || read.lines == lines, "byte {} at {}", byte, at);
        prop_assert!(read.lines.iter().all(|line| lines.contains(line)) || !read.findings.is_empty());
    }

    #[test]
    fn every_way_of_tearing_it_up_is_told(cuts in proptest::collection::vec(0_usize..2_000, 1..6)) {
        let lines = work();
        let file = file_of(&lines).into_bytes();
        let mut pieces: Vec<&[u8]> = Vec::new();
        for cut in cuts {
            let cut = cut % file.len();
            pieces.push(&file[cut..]);
            pieces.push(&file[..cut]);
        }
        let torn = pieces.concat();
        let read = read(&torn);
        prop_assert!(!read.findings.is_empty() || read.lines == lines);
    }
}
