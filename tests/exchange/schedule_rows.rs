//! Rows of a schedule: good, bad, left out; and the way out and back in.

use bothends::domain::sorted::SortedMap;

use bothends::exchange::csv::Form;
use bothends::exchange::schedule::{Column, Reading, Schedule, SkipReason, Use, write};
use proptest::prelude::*;

fn reading(text: &str) -> Reading {
    Schedule::read(text.as_bytes())
        .expect("the text holds rows")
        .reading()
}

fn row(cells: &[(Column, &str)]) -> SortedMap<Column, String> {
    let owned = |(column, cell): &(Column, &str)| (*column, (*cell).to_owned());
    cells.iter().map(owned).collect()
}

#[test]
fn totals_are_left_out_and_cables_never() {
    for total in [
        "Total,,24",
        "TOTAL:,,",
        ",Grand total,1 024",
        "Sum,,=SUM(C2:C9)",
        "Subtotal,3,12.5 m",
        ",,24 cables",
        "Number of cables,,24",
        "Count:,24,",
        "Total cables: 24,,",
        "Total length,,23m",
    ] {
        let reading = reading(&format!("Label,Room,Length\nK1,Hall,5\n{total}\n"));
        assert_eq!(reading.skipped.len(), 1, "{total}");
        assert_eq!(reading.skipped[0].reason, SkipReason::Total);
        assert_eq!(reading.skipped[0].line.number(), 3);
        assert_eq!(reading.rows.len(), 1);
    }
    for cable in [
        "K2,Total,5",
        "TOTAL-A,Hall,5",
        "17,Hall,5",
        "K2,,",
        "24,,24",
        "Sum house,,",
        "Sumner,,4",
        "12 runs,Hall,4",
    ] {
        let reading = reading(&format!("Label,Room,Length\nK1,Hall,5\n{cable}\n"));
        assert_eq!(reading.rows.len(), 2, "{cable}");
        assert!(reading.skipped.is_empty(), "{cable}");
    }
}

#[test]
fn every_row_ends_up_in_one_list_with_its_line() {
    let reading = reading(
        "Mill\n\nLabel,Room,Notes,Colour\nK1,Hall,\"a\nb\",red\nK2,Hall\nK3,Hall,over, the,door\n,,,blue\n\nLabel,Room,Notes,Colour\nTotal,3,,\n",
    );
    let lines: Vec<u32> = reading.rows.iter().map(|row| row.line.number()).collect();
    assert_eq!(lines, [4, 6]);
    assert_eq!(reading.blank_rows, 2);
    let bad: Vec<String> = reading
        .bad
        .iter()
        .map(|bad| format!("{} {}", bad.line.number(), bad.reason))
        .collect();
    assert_eq!(
        bad,
        [
            "7 The row has 5 cells and the header has 4. Perhaps a cell holds the separator without quotation marks around it; put them in and import again.",
            "8 The row has text only in columns that are not used. Say what these columns hold, or leave the row out.",
        ]
    );
    assert_eq!(
        reading.bad[0].fields,
        ["K3", "Hall", "over", " the", "door"]
    );
    let skipped: Vec<String> = reading.skipped.iter().map(ToString::to_string).collect();
    assert_eq!(
        skipped,
        [
            "Line 1 stands above the header and was left out.",
            "Line 10 repeats the header and was left out.",
            "Line 11 is a total and was left out.",
        ]
    );
    let findings: Vec<String> = reading.findings.iter().map(ToString::to_string).collect();
    assert_eq!(
        findings,
        [
            "Line 6 has 2 of the 4 cells that the header has. The missing ones were taken as empty; check that none has moved."
        ]
    );
}

#[test]
fn empty_cells_past_the_header_are_no_fault() {
    let reading = reading("Label,Room,,\nK1,Hall,,,,\nK2,Hall,\n");
    assert_eq!(reading.rows.len(), 2);
    assert!(reading.bad.is_empty() && reading.findings.is_empty());
}

#[test]
fn a_long_cell_makes_its_row_bad_and_is_said_once() {
    let long = "x".repeat(32_768);
    let reading = reading(&format!("Label,Notes\nK1,{long}\nK2,y\n"));
    assert_eq!(reading.rows.len(), 1);
    assert_eq!(reading.bad.len(), 1);
    assert_eq!(reading.bad[0].fields[1], long);
    assert!(
        reading.bad[0]
            .reason
            .to_string()
            .contains("32768 characters")
    );
    assert!(reading.findings.is_empty());
}

#[test]
fn apostrophes_are_taken_off_only_where_the_file_says_so() {
    let rows = [row(&[(Column::Code, "K1"), (Column::Notes, "=A1")])];
    let spreadsheet = write(&rows, Form::Spreadsheet);
    assert!(String::from_utf8_lossy(&spreadsheet).contains(",'=A1,yes"));
    let schedule = Schedule::read(&spreadsheet).expect("rows");
    assert_eq!(schedule.form(), Form::Spreadsheet);
    assert_eq!(schedule.reading().rows[0].cell(Column::Notes), Some("=A1"));

    // Somebody else's file: kept and said; the person may decide otherwise.
    let mut schedule = Schedule::read(b"Label,Notes\nK1,'=A1\nK2,'tis\n").expect("rows");
    assert_eq!(schedule.form(), Form::Raw);
    let reading = schedule.reading();
    assert_eq!(reading.rows[0].cell(Column::Notes), Some("'=A1"));
    assert_eq!(reading.findings.len(), 1);
    assert_eq!(reading.findings[0].line.number(), 2);
    schedule.set_form(Form::Spreadsheet);
    let reading = schedule.reading();
    assert_eq!(reading.rows[0].cell(Column::Notes), Some("=A1"));
    assert_eq!(reading.rows[1].cell(Column::Notes), Some("'tis"));
    assert!(reading.findings.is_empty());
}

/// A file of ours, saved again by a spreadsheet of another country with other columns and one row
/// more, whose formula-like text somebody typed without an apostrophe.
#[test]
fn a_file_saved_again_by_a_spreadsheet_still_says_that_it_was_guarded() {
    let bytes = b"Notes;Apostrophe guard;Label code\r\n'+caf\xE9;yes;K1\r\n=B2;;K2\r\n";
    let reading = Schedule::read(bytes).expect("rows").reading();
    assert_eq!(reading.rows[0].cell(Column::Notes), Some("+café"));
    assert_eq!(reading.rows[1].cell(Column::Notes), Some("=B2"));
    assert!(reading.findings.is_empty());
}

/// ISO/IEC TR 14763-2-1 names places with + and functions with =: both must survive a spreadsheet.
#[test]
fn standard_identifiers_survive_both_forms() {
    let rows = [row(&[
        (Column::Code, "K1"),
        (Column::Rack, "+1A"),
        (Column::Purpose, "=W1"),
        (Column::OldName, "'-old"),
    ])];
    for form in [Form::Spreadsheet, Form::Raw] {
        let found = Schedule::read(&write(&rows, form)).expect("rows").reading();
        assert_eq!(found.rows[0].cells, rows[0], "{form:?}");
    }
}

#[test]
fn a_schedule_without_cables_has_a_header_and_no_rows() {
    let bytes = write(Vec::<SortedMap<Column, String>>::new(), Form::Raw);
    let schedule = Schedule::read(&bytes).expect("a header");
    assert_eq!(schedule.mapping().unknown().count(), 0);
    let nothing = Reading {
        length_heading: Some("Length".to_owned()),
        ..Reading::default()
    };
    assert_eq!(schedule.reading(), nothing);
}

fn rows() -> impl Strategy<Value = Vec<SortedMap<Column, String>>> {
    let column = prop::sample::select(Column::ALL.to_vec());
    let cell = "[ '=+@\\-\",;\t\r\n\u{0}a-zA-Zé0-9]{0,12}"
        .prop_filter("blank", |cell| !cell.trim().is_empty());
    let row = (
        "[A-Z]{2,5}[1-9]-[A-H]",
        prop::collection::vec((column, cell), 0..8),
    )
        .prop_map(|(code, cells)| {
            let mut cells = SortedMap::from_iter(cells);
            cells.insert(Column::Code, code);
            cells
        });
    prop::collection::vec(row, 0..10)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_written_reads_back_with_a_complete_mapping(rows in rows()) {
        for form in [Form::Spreadsheet, Form::Raw] {
            let bytes = write(&rows, form);
            let schedule = Schedule::read(&bytes).expect("at least a header");
            prop_assert_eq!(schedule.mapping().unknown().count(), 0);
            prop_assert_eq!(schedule.form(), form);
            let reading = schedule.reading();
            prop_assert!(reading.bad.is_empty() && reading.skipped.is_empty());
            let found: Vec<_> = reading.rows.into_iter().map(|row| row.cells).collect();
            prop_assert_eq!(&found, &rows);
            // Written again, the file is the same.
            prop_assert_eq!(write(&found, form), bytes);
        }
    }

    #[test]
    fn every_row_of_any_sheet_is_good_bad_or_left_out(
        text in "((Label|Room|Notes|Total|K1|'=x|\"a\nb\"|7)?[,;]?){1,6}(\n((Label|Room|Total|K1|\"|'=x|24)?[,;]?){0,6}){0,8}",
        place in 0usize..4,
        column in prop::sample::select(Column::ALL.to_vec()),
    ) {
        if let Ok(mut schedule) = Schedule::read(text.as_bytes()) {
            schedule.mapping_mut().assign(place, Use::Holds(column));
            let reading = schedule.reading();
            let header = usize::from(schedule.header() != bothends::exchange::schedule::Header::Absent);
            let found = reading.rows.len() + reading.bad.len() + reading.skipped.len() + header;
            prop_assert_eq!(found, schedule.sheet().records.len());
        }
    }
}
