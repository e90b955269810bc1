//! The example files of Marrowby Mill, as a person would bring them.

use bothends::exchange::csv::{Delimiter, Encoding, FindingKind};
use bothends::exchange::schedule::{BadReason, Column, Header, Reading, Row, Schedule, SkipReason};
use proptest::prelude::*;

const SEMICOLONS: &[u8] = include_bytes!("../../demo-data/schedule-semicolon-latin1.csv");
const BAD_ROWS: &[u8] = include_bytes!("../../demo-data/schedule-bad-rows.csv");
const TABS: &[u8] = include_bytes!("../../demo-data/schedule-tabs.csv");

fn schedule(bytes: &[u8]) -> Schedule {
    Schedule::read(bytes).expect("an example file")
}

fn at(reading: &Reading, line: u32) -> &Row {
    let mut rows = reading.rows.iter();
    rows.find(|row| row.line.number() == line)
        .expect("a good row on that line")
}

#[test]
fn semicolons_and_latin_1_below_a_title() {
    let schedule = schedule(SEMICOLONS);
    assert_eq!(schedule.sheet().delimiter, Delimiter::Semicolon);
    assert_eq!(schedule.sheet().encoding, Encoding::Latin1);
    assert_eq!(schedule.header(), Header::Record(2));
    assert_eq!(schedule.mapping().unknown().count(), 0);
    assert_eq!(
        schedule.mapping().heading_of(Column::Length),
        Some("Length (m)")
    );
    let reading = schedule.reading();
    assert_eq!(reading.rows.len(), 21);
    assert_eq!(reading.blank_rows, 1);
    assert!(reading.bad.is_empty() && reading.findings.is_empty());
    let skipped: Vec<_> = reading.skipped.iter().map(|row| row.reason).collect();
    assert_eq!(
        skipped,
        [
            SkipReason::AboveHeader,
            SkipReason::AboveHeader,
            SkipReason::Total
        ]
    );
    let kitchen = at(&reading, 5);
    assert_eq!(kitchen.cell(Column::Code), Some("AKIT1-A"));
    assert_eq!(kitchen.cell(Column::RoomCode), Some("AKIT"));
    assert_eq!(kitchen.cell(Column::Length), Some("18,5"));
    assert_eq!(
        kitchen.cell(Column::Notes),
        Some("above the worktop, café corner")
    );
    assert_eq!(
        at(&reading, 23).cell(Column::Room),
        Some("Pottery studio, Töpferei")
    );
    assert_eq!(
        at(&reading, 17).cell(Column::Notes),
        Some("no drilling: \"Fußbodenheizung\"; ask first")
    );
}

#[test]
fn bad_rows_are_listed_and_good_ones_kept() {
    let schedule = schedule(BAD_ROWS);
    assert_eq!(schedule.sheet().delimiter, Delimiter::Comma);
    assert_eq!(schedule.sheet().encoding, Encoding::Utf8);
    let expected = [
        Column::Code,
        Column::Room,
        Column::RoomCode,
        Column::Outlet,
        Column::Letter,
        Column::Medium,
        Column::Purpose,
        Column::Position,
        Column::Length,
        Column::Notes,
    ];
    for (place, column) in expected.into_iter().enumerate() {
        assert_eq!(schedule.mapping().place_of(column), Some(place));
    }
    let reading = schedule.reading();
    // Line 4 to 5 is the rest of a cell with line ends, line 6 and others are blank.
    let lines: Vec<u32> = reading.rows.iter().map(|row| row.line.number()).collect();
    assert_eq!(
        lines,
        [
            2, 3, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18, 19, 21, 22, 24, 25
        ]
    );
    assert_eq!(reading.blank_rows, 3);
    assert_eq!(reading.bad.len(), 1);
    assert_eq!(reading.bad[0].line.number(), 15);
    assert_eq!(
        reading.bad[0].reason,
        BadReason::TooManyCells {
            cells: 11,
            headings: 10
        }
    );
    let skipped: Vec<_> = reading
        .skipped
        .iter()
        .map(|row| (row.line.number(), row.reason))
        .collect();
    assert_eq!(
        skipped,
        [(20, SkipReason::HeaderAgain), (26, SkipReason::Total)]
    );
    let findings: Vec<_> = reading
        .findings
        .iter()
        .map(|finding| (finding.line.number(), finding.kind.clone()))
        .collect();
    assert_eq!(
        findings,
        [
            (
                14,
                FindingKind::ShortRow {
                    cells: 8,
                    headings: 10
                }
            ),
            (18, FindingKind::StrayQuote),
        ]
    );
}

#[test]
fn odd_cells_stay_exactly_as_they_are() {
    let reading = schedule(BAD_ROWS).reading();
    for (line, column, cell) in [
        (
            3,
            Column::Notes,
            Some("Two lines:\nthe plate is left of the window,\n420 mm from the jamb"),
        ),
        (8, Column::Notes, Some("tag says \"KITCHEN TV\"")),
        (9, Column::Code, Some("AKIT2-B")),
        (10, Column::Medium, Some("string")),
        (11, Column::Code, None),
        (12, Column::Letter, Some("I")),
        (13, Column::Outlet, Some("0")),
        (
            16,
            Column::Notes,
            Some("=HYPERLINK(\"http://example.invalid/\",\"open\")"),
        ),
        (18, Column::Notes, Some("1/2\" tube")),
        (19, Column::Notes, Some("'tis pulled with CLIV2-A")),
        (22, Column::Position, Some("+1A")),
        (25, Column::Length, Some("@35 ft")),
    ] {
        assert_eq!(at(&reading, line).cell(column), cell, "line {line}");
    }
}

#[test]
fn tabs_and_other_spellings_in_another_order() {
    let schedule = schedule(TABS);
    assert_eq!(schedule.sheet().delimiter, Delimiter::Tab);
    assert_eq!(schedule.mapping().unknown().count(), 0);
    let reading = schedule.reading();
    assert_eq!(reading.rows.len(), 16);
    assert!(reading.bad.is_empty() && reading.skipped.is_empty());
    let first = at(&reading, 2);
    for (column, cell) in [
        (Column::Position, "1"),
        (Column::Panel, "A"),
        (Column::Rack, "Main rack"),
        (Column::Room, "Hall"),
        (Column::Medium, "Cat 6"),
        (Column::Code, "AHAL1-A"),
        (Column::OldName, "door 1"),
        (Column::Unit, "A"),
    ] {
        assert_eq!(first.cell(column), Some(cell));
    }
    let speaker = at(&reading, 10);
    assert_eq!(speaker.cell(Column::From), Some("volume control CBAT1"));
    assert_eq!(speaker.cell(Column::Rack), None);
    // The file ends without a line end, which is said and nothing more.
    assert_eq!(reading.findings.len(), 1);
    assert_eq!(reading.findings[0].line.number(), 17);
    assert_eq!(reading.findings[0].kind, FindingKind::NoLastLineEnd);
    assert_eq!(at(&reading, 17).cell(Column::OldName), Some("\"spare\""));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Damage on the way: bytes changed, put in or lost at any place, or the end cut off.
    #[test]
    fn damaged_files_are_read_or_refused_and_no_row_disappears(
        file in prop::sample::select(vec![SEMICOLONS, BAD_ROWS, TABS]),
        hits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..3), 1..12),
        cut in any::<prop::sample::Index>(),
    ) {
        let mut bytes = file.to_vec();
        for (place, byte, way) in hits {
            let place = place.index(bytes.len());
            match way {
                0 => bytes[place] = byte,
                1 => bytes.insert(place, byte),
                _ => { bytes.remove(place); }
            }
        }
        bytes.truncate(cut.index(bytes.len()) + 1);
        if let Ok(schedule) = Schedule::read(&bytes) {
            let reading = schedule.reading();
            let header = usize::from(schedule.header() != Header::Absent);
            let found = reading.rows.len() + reading.bad.len() + reading.skipped.len() + header;
            prop_assert_eq!(found, schedule.sheet().records.len());
        }
    }
}
