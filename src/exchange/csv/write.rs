//! Rows to bytes, in a form for spreadsheets and in a raw one.

use std::borrow::Cow;

/// The two forms of an exported file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// For spreadsheets: a byte order mark, so that accents are read as UTF-8, and an apostrophe
    /// before each cell that a spreadsheet could take for a formula (see [`guard`]).
    Spreadsheet,
    /// The cells exactly as they are, for other programs. Do not open it in a spreadsheet.
    Raw,
}

impl Form {
    /// The cell as it is written in this form.
    #[must_use]
    pub fn written(self, cell: &str) -> Cow<'_, str> {
        match self {
            Self::Spreadsheet => guard(cell),
            Self::Raw => Cow::Borrowed(cell),
        }
    }

    /// The cell as it was before it was written in this form.
    #[must_use]
    pub fn plain(self, cell: &str) -> Cow<'_, str> {
        match self {
            Self::Spreadsheet => unguard(cell),
            Self::Raw => Cow::Borrowed(cell),
        }
    }
}

/// First characters that a spreadsheet may take for the start of a formula: the union of OWASP
/// ASVS 5 requirement 1.2.10 (= + - @ tab NUL), OWASP's page on CSV injection (also CR, LF and the
/// full-width forms of the four signs, the latter from memory) and CWE-1236 (= + - @).
const DANGEROUS: [char; 12] = [
    '=', '+', '-', '@', '\t', '\r', '\n', '\0', '＝', '＋', '－', '＠',
];

/// Puts one apostrophe before a cell that starts with a dangerous character, or with apostrophes
/// and then a dangerous character. All other cells stay as they are.
///
/// Cells that already start with apostrophes get one more, so that no two cells are written alike
/// and [`unguard`] gives back every cell exactly.
#[must_use]
pub fn guard(cell: &str) -> Cow<'_, str> {
    if is_dangerous(cell.trim_start_matches('\'')) {
        Cow::Owned(format!("'{cell}"))
    } else {
        Cow::Borrowed(cell)
    }
}

/// Takes off the one apostrophe that [`guard`] put on.
///
/// A cell that starts with a dangerous character itself was changed after it was written, and
/// stays as it is. The limit: in a file that was never guarded, a text such as `'=` would lose
/// its apostrophe. Hence this is done only for a file that says that it was guarded.
#[must_use]
pub fn unguard(cell: &str) -> Cow<'_, str> {
    match cell.strip_prefix('\'') {
        Some(rest) if is_dangerous(rest.trim_start_matches('\'')) => Cow::Borrowed(rest),
        _ => Cow::Borrowed(cell),
    }
}

fn is_dangerous(cell: &str) -> bool {
    cell.starts_with(DANGEROUS)
}

/// Writes rows as RFC 4180 has them: commas, CR LF after every row, quotation marks doubled.
/// The encoding is UTF-8.
#[must_use]
pub fn write<R>(rows: R, form: Form) -> Vec<u8>
where
    R: IntoIterator,
    R::Item: IntoIterator,
    <R::Item as IntoIterator>::Item: AsRef<str>,
{
    let mut text = String::new();
    if form == Form::Spreadsheet {
        text.push('\u{FEFF}');
    }
    for row in rows {
        for (place, cell) in row.into_iter().enumerate() {
            if place > 0 {
                text.push(',');
            }
            push_cell(&mut text, &form.written(cell.as_ref()));
        }
        text.push_str("\r\n");
    }
    text.into_bytes()
}

fn push_cell(text: &mut String, cell: &str) {
    if !needs_quotes(cell) {
        text.push_str(cell);
        return;
    }
    text.push('"');
    text.push_str(&cell.replace('"', "\"\""));
    text.push('"');
}

/// RFC 4180 (2.6) asks for quotation marks around CR, LF, comma and quotation mark. The rest is
/// our own caution: semicolon and tab, at which a spreadsheet set to another delimiter would start
/// a new, unguarded cell; control characters, the byte order mark and the first characters of
/// other files, by which a reader could take the file for something else; and outer spaces, which
/// some readers drop.
fn needs_quotes(cell: &str) -> bool {
    let special = |c: char| matches!(c, ',' | ';' | '"' | '\u{FEFF}') || c.is_control();
    cell.contains(special)
        || cell.starts_with([' ', '%'])
        || cell.ends_with(' ')
        || cell.eq_ignore_ascii_case("sep=")
}
