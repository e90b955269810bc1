//! What holds for every input: no panic, nothing lost, exact round trips, and the same rows as the
//! reference reader, the `csv` crate.

use bothends::exchange::csv::{Delimiter, Form, Limits, guard, read, read_within, unguard, write};
use proptest::prelude::*;

/// Cells made mostly of the characters that matter.
fn cell() -> impl Strategy<Value = String> {
    let telling = prop::sample::select(vec![
        '"', ',', ';', '\t', '\n', '\r', '\'', '=', '+', '-', '@', '\0', ' ', 's', 'e', 'p', '%',
        '\u{FEFF}', 'é', '＝', 'K', '7', '𝄞', '\u{85}', '\u{2028}',
    ]);
    prop::collection::vec(prop_oneof![4 => telling, 1 => any::<char>()], 0..8)
        .prop_map(|chars| chars.into_iter().collect())
}

/// Rows that are not blank, since blank ones are left out by design.
fn table() -> impl Strategy<Value = Vec<Vec<String>>> {
    let row = prop::collection::vec(cell(), 1..6).prop_filter("blank", |row| {
        row.iter().any(|cell| !cell.trim().is_empty())
    });
    prop::collection::vec(row, 1..12)
}

/// Texts in which quotation marks, delimiters and line ends meet in every way.
fn tangle() -> impl Strategy<Value = String> {
    prop::collection::vec(
        prop::sample::select(vec![
            "\"", "\"", ",", ";", "\n", "\r\n", "\r", "a", " ", "sep=;",
        ]),
        0..40,
    )
    .prop_map(|parts| parts.concat())
}

/// The characters of a text that are neither structure nor blank.
fn substance(text: &str) -> Vec<char> {
    let kept = |c: &char| !matches!(c, '"' | ',' | ';' | '\t') && !c.is_whitespace();
    text.chars().filter(kept).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_or_refused_in_words(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        match read(&bytes) {
            Ok(sheet) => prop_assert!(!sheet.records.is_empty()),
            Err(fault) => prop_assert!(fault.to_string().ends_with('.')),
        }
    }

    #[test]
    fn a_tangle_loses_no_text(text in tangle()) {
        prop_assume!(!text.to_lowercase().starts_with("sep="));
        if let Ok(sheet) = read(text.as_bytes()) {
            let mut kept = String::new();
            for record in &sheet.records {
                kept.extend(record.fields.iter().map(String::as_str));
            }
            prop_assert_eq!(substance(&kept), substance(&text));
            let lines: Vec<u32> = sheet.records.iter().map(|each| each.line.number()).collect();
            prop_assert!(lines.is_sorted_by(|a, b| a < b));
        }
    }

    #[test]
    fn the_raw_form_reads_back_exactly(rows in table()) {
        let sheet = read(&write(&rows, Form::Raw)).expect("we wrote rows");
        let found: Vec<Vec<String>> = sheet.records.into_iter().map(|each| each.fields).collect();
        prop_assert_eq!(found, rows);
        prop_assert_eq!(sheet.delimiter, Delimiter::Comma);
        prop_assert_eq!(sheet.findings, []);
    }

    #[test]
    fn the_spreadsheet_form_reads_back_exactly(rows in table()) {
        let sheet = read(&write(&rows, Form::Spreadsheet)).expect("we wrote rows");
        let plain = |cell: &String| Form::Spreadsheet.plain(cell).into_owned();
        let found: Vec<Vec<String>> = sheet
            .records
            .iter()
            .map(|each| each.fields.iter().map(plain).collect())
            .collect();
        prop_assert_eq!(found, rows);
        let dangerous = ['=', '+', '-', '@', '\t', '\r', '\n', '\0'];
        let mut cells = sheet.records.iter().flat_map(|each| &each.fields);
        prop_assert!(!cells.any(|cell| cell.starts_with(dangerous)));
    }

    #[test]
    fn no_two_cells_are_guarded_alike(one in cell(), other in cell()) {
        let guarded = guard(&one);
        prop_assert_eq!(unguard(&guarded), one.as_str());
        prop_assert_eq!(one == other, guard(&one) == guard(&other));
    }

    #[test]
    fn the_reference_reader_reads_what_we_write(rows in table()) {
        let bytes = write(&rows, Form::Raw);
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .from_reader(bytes.as_slice());
        let found: Vec<Vec<String>> = reader
            .records()
            .map(|record| record.expect("sound").iter().map(str::to_owned).collect())
            .collect();
        prop_assert_eq!(found, rows);
    }

    #[test]
    fn we_read_what_the_reference_writer_writes(
        rows in table(),
        delimiter in prop::sample::select(vec![b',', b';', b'\t']),
    ) {
        // A first line that names the delimiter is a rule of spreadsheets that the reference does
        // not know, and a mark at the start of the file is not part of the first cell.
        prop_assume!(!rows[0][0].to_lowercase().starts_with("sep="));
        prop_assume!(!rows[0][0].starts_with(['\u{FEFF}', '%']));
        // Header and a second row fix the delimiter.
        let fixed = vec!["h".to_owned(); 7];
        let mut writer = csv::WriterBuilder::new()
            .delimiter(delimiter)
            .flexible(true)
            .quote_style(csv::QuoteStyle::Always)
            .from_writer(Vec::new());
        for row in std::iter::once(&fixed).chain(&rows) {
            writer.write_record(row).expect("a vector takes all");
        }
        let bytes = writer.into_inner().expect("a vector takes all");
        let sheet = read(&bytes).expect("we wrote rows");
        let found: Vec<Vec<String>> = sheet.records.into_iter().map(|each| each.fields).collect();
        prop_assert_eq!(&found[1..], rows.as_slice());
    }
}

/// Long files of quotation marks must not take time that grows with the square of their length:
/// at a million characters that would be minutes, and the test would be seen to hang.
#[test]
fn hostile_quotation_marks_are_read_in_one_pass() {
    let limits = Limits {
        bytes: usize::MAX,
        rows: usize::MAX,
        cells: usize::MAX,
        characters: usize::MAX,
    };
    for pattern in ["\"a\n", "\"\"\"x\n", ",\"\"", "\"\n\"", "a,\"b\n", "\"\"x,"] {
        let text = format!("\"{}", pattern.repeat(1_000_000 / pattern.len()));
        let sheet = read_within(text.as_bytes(), &limits).expect("rows");
        let cells = sheet.records.iter().flat_map(|each| &each.fields);
        let kept: String = cells.map(String::as_str).collect();
        assert_eq!(substance(&kept), substance(&text));
    }
}
