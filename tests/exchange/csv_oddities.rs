//! Files that break the rules: kept as written, and said with the line.

use bothends::exchange::csv::{FindingKind, Limits, ReadFault, Sheet, read, read_within};

fn sheet(text: &str) -> Sheet {
    read(text.as_bytes()).expect("the text holds rows")
}

/// Rows as `line: cell|cell`, findings as `line kind`.
fn told(text: &str) -> (Vec<String>, Vec<String>) {
    let sheet = sheet(text);
    let rows = sheet
        .records
        .iter()
        .map(|record| format!("{}: {}", record.line.number(), record.fields.join("|")));
    let findings = sheet
        .findings
        .iter()
        .map(|finding| format!("{} {:?}", finding.line.number(), finding.kind));
    (rows.collect(), findings.collect())
}

#[test]
fn odd_quotation_marks_lose_nothing() {
    // (text, rows, findings)
    for (text, rows, findings) in [
        // An inch sign in the middle of a cell.
        (
            "a,1\" tube\n",
            &["1: a|1\" tube"][..],
            &["1 StrayQuote"][..],
        ),
        // Text after a closing mark: the cell as written, its comma inside.
        (
            "a,\"b, c\" d,e\n",
            &["1: a|\"b, c\" d|e"],
            &["1 StrayQuote"],
        ),
        // Spaces after a closing mark.
        ("\"a\" ,b\n", &["1: a|b"], &["1 BlanksAfterQuote"]),
        // A space before an opening mark makes it part of the text.
        ("a, \"b\"\n", &["1: a| \"b\""], &["1 StrayQuote"]),
        // A mark that never closes must not swallow the rows below.
        (
            "a,\"b\nc,d\ne,f\n",
            &["1: a|\"b", "2: c|d", "3: e|f"],
            &["1 OpenQuote"],
        ),
        // Neither must one that the next row's opening mark seems to close.
        (
            "a,\"b\nc,\"d\"\ne,f\n",
            &["1: a|\"b", "2: c|d", "3: e|f"],
            &["1 StrayQuote"],
        ),
        // An empty quoted cell and a cell that is one mark.
        ("\"\",\"\"\"\"\n", &["1: |\""], &[]),
    ] {
        let (found_rows, found_findings) = told(text);
        assert_eq!(found_rows, rows, "{text:?}");
        assert_eq!(found_findings, findings, "{text:?}");
    }
}

#[test]
fn every_kind_of_line_end_ends_a_row_and_counts_one_line() {
    let lines = |text: &str| -> Vec<u32> {
        let lines = sheet(text).records.into_iter();
        lines.map(|record| record.line.number()).collect()
    };
    assert_eq!(lines("a,b\n\"c\n\nc\",d\ne,f\n"), [1, 2, 5]);
    assert_eq!(lines("a,b\r\n\"c\r\n\r\nc\",d\r\ne,f\r\n"), [1, 2, 5]);
    assert_eq!(lines("a,b\r\"c\r\rc\",d\re,f\r"), [1, 2, 5]);
    assert_eq!(lines("a,b\n\"c\r\nc\rc\",d\re,f\r\ng,h\n"), [1, 2, 5, 6]);
}

#[test]
fn cr_alone_is_said_once_and_a_missing_last_line_end_too() {
    let (rows, findings) = told("a,b\rc,d\re,f");
    assert_eq!(rows, ["1: a|b", "2: c|d", "3: e|f"]);
    assert_eq!(findings, ["1 LoneCarriageReturn", "3 NoLastLineEnd"]);
}

#[test]
fn blank_rows_are_counted_and_keep_the_line_numbers() {
    let sheet = sheet("a,b\n\n , \n\"\",\nc,d\n\n");
    assert_eq!(sheet.blank_rows, 4);
    assert_eq!(sheet.records[1].line.number(), 5);
}

#[test]
fn ragged_rows_stay_as_they_are() {
    let (rows, _) = told("a,b,c\nd\ne,f,g,h\n");
    assert_eq!(rows, ["1: a|b|c", "2: d", "3: e|f|g|h"]);
}

#[test]
fn what_is_too_large_is_refused_with_its_place() {
    let limits = Limits {
        bytes: 40,
        rows: 2,
        cells: 3,
        characters: 5,
    };
    let read = |text: &str| read_within(text.as_bytes(), &limits);
    let fault = read(&"x".repeat(41)).expect_err("too many bytes");
    assert!(fault.to_string().contains("41 bytes"), "{fault}");
    let fault = read("a\n\nb\nc\n").expect_err("too many rows");
    assert!(matches!(fault, ReadFault::TooManyRows { line, most: 2 } if line.number() == 4));
    let fault = read("a,b\n1,2,3,4\n").expect_err("too many cells");
    assert!(matches!(fault, ReadFault::TooManyCells { line, most: 3 } if line.number() == 2));
    assert!(
        fault
            .to_string()
            .starts_with("Line 2 has more than 3 cells")
    );
    // A long cell is kept; characters count, not bytes.
    let sheet = read("a,ééééé\nb,éééééé\n").expect("a long cell is no fault");
    assert_eq!(sheet.records[1].fields[1], "éééééé");
    assert_eq!(sheet.findings.len(), 1);
    assert_eq!(sheet.findings[0].line.number(), 2);
    assert_eq!(
        sheet.findings[0].kind,
        FindingKind::LongCell { characters: 6 }
    );
}

#[test]
fn findings_say_where_and_what_to_do() {
    let sheet = sheet("a,\"b\nc,d\n");
    assert_eq!(
        sheet.findings[0].to_string(),
        "Line 1 opens a quotation mark that never closes. It was kept as plain text so that the rows below stay rows; check this row."
    );
}
