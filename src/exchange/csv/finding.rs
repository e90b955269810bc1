//! What can be said about a file that was read, and about one that could not be.

use std::fmt;
use std::mem::discriminant;

use super::Line;

/// Something odd on a line. The row was read all the same, and nothing of it was dropped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The line on which the row starts, or which holds the odd bytes.
    pub line: Line,
    /// What was found.
    pub kind: FindingKind,
}

/// The kinds of oddity. One kind is reported once for each row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FindingKind {
    /// A quotation mark where RFC 4180 (2.5, 2.7) allows none.
    StrayQuote,
    /// A quotation mark opens a cell and none closes it before the end of the file.
    OpenQuote,
    /// Blanks between a closing quotation mark and the end of the cell.
    BlanksAfterQuote,
    /// Lines end with CR alone; reported for the first such line only.
    LoneCarriageReturn,
    /// The last row has no line end, which RFC 4180 (2.2) allows.
    NoLastLineEnd,
    /// Bytes that are not UTF-8 in a file that otherwise is.
    StrayBytes,
    /// A cell longer than the limit.
    LongCell {
        /// Characters in the cell.
        characters: usize,
    },
    /// The row has fewer cells than the header (RFC 4180, 2.4).
    ShortRow {
        /// Cells in the row.
        cells: usize,
        /// Cells in the header.
        headings: usize,
    },
    /// A cell starts with an apostrophe before a formula character, in a file that does not say
    /// that such apostrophes were added.
    Apostrophe,
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let line = self.line.number();
        match &self.kind {
            FindingKind::StrayQuote => write!(
                f,
                "Line {line} has a quotation mark inside a cell. It was kept as written; check the cells of this row."
            ),
            FindingKind::OpenQuote => write!(
                f,
                "Line {line} opens a quotation mark that never closes. It was kept as plain text so that the rows below stay rows; check this row."
            ),
            FindingKind::BlanksAfterQuote => write!(
                f,
                "Line {line} has spaces after a closing quotation mark. The spaces were left out."
            ),
            FindingKind::LoneCarriageReturn => write!(
                f,
                "From line {line} on, lines end in an old way (CR alone). Each was read as a line end."
            ),
            FindingKind::NoLastLineEnd => write!(
                f,
                "Line {line} is the last row and has no line end. That is allowed; if the file was cut off on its way, this row is where it shows."
            ),
            FindingKind::StrayBytes => write!(
                f,
                "Line {line} has characters in another encoding than the rest of the file. They were read as Windows-1252; check the accents."
            ),
            FindingKind::LongCell { characters } => write!(
                f,
                "Line {line} has a cell of {characters} characters. Look for a quotation mark that closes too late."
            ),
            FindingKind::ShortRow { cells, headings } => write!(
                f,
                "Line {line} has {cells} of the {headings} cells that the header has. The missing ones were taken as empty; check that none has moved."
            ),
            FindingKind::Apostrophe => write!(
                f,
                "Line {line} has a cell that starts with an apostrophe before a sign such as = or +. It was kept as it stands. If a spreadsheet put it there, take it off in the file and choose that again."
            ),
        }
    }
}

impl Finding {
    /// What there is to say of a file: each kind once, with how many lines have it and which are
    /// the first of them.
    #[must_use]
    pub fn told(findings: &[Self]) -> Vec<String> {
        let mut kinds: Vec<Vec<&Self>> = Vec::new();
        for finding in findings {
            let same =
                |of: &&mut Vec<&Self>| discriminant(&of[0].kind) == discriminant(&finding.kind);
            match kinds.iter_mut().find(same) {
                Some(of) => of.push(finding),
                None => kinds.push(vec![finding]),
            }
        }
        let told = kinds.into_iter().map(|of| {
            let mut words = of[0].to_string();
            if of.len() > 1 {
                let first = of.iter().take(NAMED);
                let first: Vec<String> = first.map(|it| it.line.number().to_string()).collect();
                let rest = if of.len() > NAMED { " …" } else { "" };
                words += &format!(" {} lines are so: {}{rest}", of.len(), first.join(", "));
            }
            words
        });
        told.collect()
    }
}

/// How many lines are named when many have the same oddity.
const NAMED: usize = 5;

/// Why a file could not be read as rows. Nothing of it was taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadFault {
    /// The file is larger than the limit.
    TooManyBytes {
        /// Bytes in the file.
        found: usize,
        /// Bytes allowed.
        most: usize,
    },
    /// The file has more rows than the limit.
    TooManyRows {
        /// The first line past the limit.
        line: Line,
        /// Rows allowed.
        most: usize,
    },
    /// One row has more cells than the limit.
    TooManyCells {
        /// The line on which the row starts.
        line: Line,
        /// Cells allowed.
        most: usize,
    },
    /// The bytes are those of another kind of file.
    NotText {
        /// What the file is, with its article.
        what: &'static str,
    },
    /// The file is one of our own that holds a whole job.
    JobFile,
    /// The file says that it is UTF-16, and its bytes are damaged.
    DamagedUtf16,
    /// The file is empty or holds nothing but blanks.
    NoRows,
}

impl fmt::Display for ReadFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyBytes { found, most } => write!(
                f,
                "The file has {found} bytes, and at most {most} are read. Split it, or save only the sheet with the cables."
            ),
            Self::TooManyRows { line, most } => write!(
                f,
                "The file has more than {most} rows; line {} is the first one too many. Split the file.",
                line.number()
            ),
            Self::TooManyCells { line, most } => write!(
                f,
                "Line {} has more than {most} cells. Check that this is the file with the cables.",
                line.number()
            ),
            Self::NotText { what } => write!(
                f,
                "This is {what}, not a text file. Open it in the program that made it and save the sheet as CSV."
            ),
            Self::JobFile => f.write_str(
                "This is a job file, not a schedule. Open it under “All jobs” with “Open a job file”.",
            ),
            Self::DamagedUtf16 => f.write_str(
                "The file says that it is UTF-16 text, but its characters are damaged. Save it again as CSV in UTF-8.",
            ),
            Self::NoRows => {
                f.write_str("The file holds no rows, and is no job file either. Check that it is the right one, and the right sheet of it.")
            }
        }
    }
}
