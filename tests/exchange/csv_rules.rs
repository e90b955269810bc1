//! The rules of RFC 4180 section 2, one test each, and the guard against formulas.

use bothends::exchange::csv::{Delimiter, Form, guard, read, unguard, write};

/// The rows of a text, each as its line and cells.
fn rows(text: &str) -> Vec<(u32, Vec<String>)> {
    let sheet = read(text.as_bytes()).expect("the text holds rows");
    let row =
        |record: &bothends::exchange::csv::Record| (record.line.number(), record.fields.clone());
    sheet.records.iter().map(row).collect()
}

fn row(line: u32, cells: &[&str]) -> (u32, Vec<String>) {
    (line, cells.iter().map(|cell| (*cell).to_owned()).collect())
}

/// RFC 4180, 2.1: each record is on a line of its own, ended by CR LF; the example is its own.
#[test]
fn rule_1_records_end_with_cr_lf() {
    assert_eq!(
        rows("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
        [
            row(1, &["aaa", "bbb", "ccc"]),
            row(2, &["zzz", "yyy", "xxx"])
        ]
    );
    assert_eq!(
        write([["aaa", "bbb"], ["zzz", "yyy"]], Form::Raw),
        b"aaa,bbb\r\nzzz,yyy\r\n"
    );
}

/// RFC 4180, 2.2: the last record may have no line end; the example is its own.
#[test]
fn rule_2_the_last_line_end_is_optional() {
    assert_eq!(
        rows("aaa,bbb,ccc\r\nzzz,yyy,xxx"),
        rows("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")
    );
}

/// RFC 4180, 2.3: a header has the same form as the other records, so the reader gives it as one.
#[test]
fn rule_3_a_header_is_a_record() {
    assert_eq!(
        rows("field_name,field_name\r\naaa,bbb\r\n"),
        [
            row(1, &["field_name", "field_name"]),
            row(2, &["aaa", "bbb"])
        ]
    );
}

/// RFC 4180, 2.4: spaces belong to the cell, and a comma at the end of a line starts one more,
/// empty cell.
#[test]
fn rule_4_spaces_are_data() {
    assert_eq!(
        rows(" aaa ,bbb\r\nccc,\r\n"),
        [row(1, &[" aaa ", "bbb"]), row(2, &["ccc", ""])]
    );
}

/// RFC 4180, 2.5: cells may be enclosed in quotation marks; the example is its own.
#[test]
fn rule_5_cells_may_be_quoted() {
    assert_eq!(
        rows("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n"),
        [
            row(1, &["aaa", "bbb", "ccc"]),
            row(2, &["zzz", "yyy", "xxx"])
        ]
    );
}

/// RFC 4180, 2.6: cells with line ends, quotation marks or commas are quoted; the example is its
/// own. The next row's line counts the quoted line end.
#[test]
fn rule_6_line_ends_may_be_quoted() {
    let text = "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n";
    assert_eq!(
        rows(text),
        [
            row(1, &["aaa", "b\r\nbb", "ccc"]),
            row(3, &["zzz", "yyy", "xxx"])
        ]
    );
    for (cell, written) in [
        ("a,b", "\"a,b\"\r\n"),
        ("a\rb", "\"a\rb\"\r\n"),
        ("a\nb", "\"a\nb\"\r\n"),
        ("a b", "a b\r\n"),
    ] {
        assert_eq!(write([[cell]], Form::Raw), written.as_bytes());
    }
}

/// RFC 4180, 2.7: a quotation mark inside a cell is doubled; the example is its own.
#[test]
fn rule_7_quotation_marks_are_doubled() {
    assert_eq!(
        rows("\"aaa\",\"b\"\"bb\",\"ccc\"\r\n"),
        [row(1, &["aaa", "b\"bb", "ccc"])]
    );
    assert_eq!(write([["a\"b"]], Form::Raw), b"\"a\"\"b\"\r\n");
}

/// OWASP ASVS 5, requirement 1.2.10: = + - @ tab and NUL. OWASP's page on CSV injection adds CR,
/// LF and (from memory) the full-width signs; CWE-1236 has the first four.
#[test]
fn every_dangerous_first_character_gets_an_apostrophe() {
    for first in [
        '=', '+', '-', '@', '\t', '\0', '\r', '\n', '＝', '＋', '－', '＠',
    ] {
        let cell = format!("{first}1+1");
        assert_eq!(guard(&cell), format!("'{cell}"));
        let bytes = write([["x", cell.as_str()]], Form::Spreadsheet);
        let text = String::from_utf8(bytes).expect("we write UTF-8");
        let after_comma = text.split_once(',').expect("two cells").1;
        assert!(after_comma.trim_start_matches('"').starts_with('\''));
    }
}

/// An apostrophe that was there before is not mistaken for ours, and ordinary apostrophes stay.
#[test]
fn the_guard_can_always_be_taken_off() {
    for (cell, guarded) in [
        ("=A1", "'=A1"),
        ("'=A1", "''=A1"),
        ("''=A1", "'''=A1"),
        ("'tis", "'tis"),
        ("5' 6\"", "5' 6\""),
        ("'", "'"),
        ("", ""),
        ("KIT2-C", "KIT2-C"),
        // ISO/IEC TR 14763-2-1 starts places with + and functions with =.
        ("+1A", "'+1A"),
    ] {
        assert_eq!(guard(cell), guarded);
        assert_eq!(unguard(guarded), cell);
    }
    // Typed into the spreadsheet after the export: no apostrophe of ours to take off.
    assert_eq!(unguard("=B2"), "=B2");
}

/// A spreadsheet set to another delimiter must not see the start of a new cell inside one.
#[test]
fn other_delimiters_inside_a_cell_are_enclosed() {
    assert_eq!(write([["a;=1"]], Form::Raw), b"\"a;=1\"\r\n");
    assert_eq!(write([["a\t=1"]], Form::Raw), b"\"a\t=1\"\r\n");
}

/// The byte order mark makes spreadsheets read UTF-8; other programs get none.
#[test]
fn only_the_form_for_spreadsheets_has_a_byte_order_mark() {
    assert_eq!(
        write([["é"]], Form::Spreadsheet),
        b"\xEF\xBB\xBF\xC3\xA9\r\n"
    );
    assert_eq!(write([["é"]], Form::Raw), b"\xC3\xA9\r\n");
}

#[test]
fn the_delimiter_is_found() {
    for (text, delimiter) in [
        ("a,b,c\n1,2,3\n", Delimiter::Comma),
        ("a;b;c\n1;2;3\n", Delimiter::Semicolon),
        ("a\tb\tc\n1\t2\t3\n", Delimiter::Tab),
        // Decimal commas in a semicolon file.
        ("code;length\nK1;12,5\nK2;13,0\n", Delimiter::Semicolon),
        // Semicolons and tabs in the notes of a comma file.
        ("code,notes\nK1,a;b;c\nK2,\"d\te\"\n", Delimiter::Comma),
        // A title above, quoted commas inside.
        (
            "Marrowby Mill\n\na;b\n\"x,y\";\"z,w\"\n",
            Delimiter::Semicolon,
        ),
        // One column.
        ("code\nK1\nK2\n", Delimiter::Comma),
        // A first line that says so, though the commas are more.
        ("sep=;\r\na,b,c;d\r\n1,2,3;4\r\n", Delimiter::Semicolon),
        ("SEP=\t\na,b\tc\n", Delimiter::Tab),
    ] {
        let sheet = read(text.as_bytes()).expect("the text holds rows");
        assert_eq!(sheet.delimiter, delimiter, "{text:?}");
    }
}

#[test]
fn a_line_that_names_the_delimiter_is_no_row_and_counts_as_a_line() {
    assert_eq!(rows("sep=;\r\na;b\r\n"), [row(2, &["a", "b"])]);
    // The same text in quotation marks is a cell.
    assert_eq!(
        rows("\"sep=;\"\r\na\r\n"),
        [row(1, &["sep=;"]), row(2, &["a"])]
    );
}
