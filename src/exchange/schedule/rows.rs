//! The rows of a schedule, sorted into good, bad and left out.

use crate::domain::sorted::SortedMap;
use std::fmt;

use super::Column;
use crate::exchange::csv::{Finding, Line, Record};

/// One row with the texts of its columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The line on which it starts.
    pub line: Line,
    /// The cells of the mapped columns exactly as they are, without the blank ones.
    pub cells: SortedMap<Column, String>,
}

impl Row {
    /// The text of a column without outer blanks; none when the cell is blank or missing.
    #[must_use]
    pub fn cell(&self, column: Column) -> Option<&str> {
        self.cells.get(&column).map(|cell| cell.trim())
    }
}

/// A row that cannot be taken in, whole as it stands in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadRow {
    /// The line on which it starts.
    pub line: Line,
    /// All its cells.
    pub fields: Vec<String>,
    /// Why.
    pub reason: BadReason,
}

/// Why a row cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadReason {
    /// The row has text to the right of the last heading.
    TooManyCells {
        /// Cells in the row.
        cells: usize,
        /// Cells in the header.
        headings: usize,
    },
    /// A cell is longer than any cell of a schedule.
    LongCell {
        /// Characters in the cell.
        characters: usize,
    },
    /// All its text stands in columns that are not used.
    NothingUsed,
}

impl fmt::Display for BadReason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyCells { cells, headings } => write!(
                f,
                "The row has {cells} cells and the header has {headings}. Perhaps a cell holds the separator without quotation marks around it; put them in and import again."
            ),
            Self::LongCell { characters } => write!(
                f,
                "The row has a cell of {characters} characters. Look for a quotation mark that closes too late."
            ),
            Self::NothingUsed => f.write_str(
                "The row has text only in columns that are not used. Say what these columns hold, or leave the row out.",
            ),
        }
    }
}

/// A row that is no cable, whole as it stands in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Skipped {
    /// The line on which it starts.
    pub line: Line,
    /// All its cells.
    pub fields: Vec<String>,
    /// What it was taken for.
    pub reason: SkipReason,
}

/// What a row that is no cable was taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SkipReason {
    /// It stands above the header: a title or a date.
    AboveHeader,
    /// The header once more, as at the top of a printed page.
    HeaderAgain,
    /// A total.
    Total,
}

impl fmt::Display for Skipped {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let line = self.line.number();
        match self.reason {
            SkipReason::AboveHeader => {
                write!(f, "Line {line} stands above the header and was left out.")
            }
            SkipReason::HeaderAgain => {
                write!(f, "Line {line} repeats the header and was left out.")
            }
            SkipReason::Total => write!(f, "Line {line} is a total and was left out."),
        }
    }
}

/// All rows of a schedule, each list in the order of the lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// Rows that can be taken in.
    pub rows: Vec<Row>,
    /// The heading over the lengths, since their unit mostly stands there and nowhere else.
    pub length_heading: Option<String>,
    /// Rows that cannot.
    pub bad: Vec<BadRow>,
    /// Rows that are no cables.
    pub skipped: Vec<Skipped>,
    /// How many blank rows there were.
    pub blank_rows: usize,
    /// What was odd about rows that were taken in all the same, or about the file.
    pub findings: Vec<Finding>,
}

impl Reading {
    pub(super) fn skip(&mut self, record: &Record, reason: SkipReason) {
        self.skipped.push(Skipped {
            line: record.line,
            fields: record.fields.clone(),
            reason,
        });
    }
}
