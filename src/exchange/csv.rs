//! Comma-separated files as RFC 4180 describes them and as spreadsheets really write them.
//!
//! Reading is tolerant: what breaks the rules is kept as written and listed as a [`Finding`] with
//! its line. Only a file that cannot be read as rows at all gives a [`ReadFault`].
//!
//! The reader is our own because four things are needed that the usual crates do not give
//! together: the line on which each row starts (with quoted line ends and with CR alone), a word
//! about each stray quotation mark, an unclosed quotation mark that does not swallow the rows below
//! it, and several encodings. The tests compare it with a reference reader.

mod decode;
mod finding;
mod scan;
mod sniff;
mod write;

use crate::domain::order::Order;
use std::fmt;

pub use finding::{Finding, FindingKind, ReadFault};
pub use write::{Form, guard, unguard, write};

/// The number of a line in a file, from 1. CR LF, LF alone and CR alone each end one line, inside
/// quotation marks too, so that the number is the one a text editor shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Line(u32);

impl Line {
    /// The first line.
    pub const FIRST: Self = Self(1);

    /// The number, from 1.
    #[must_use]
    pub fn number(self) -> u32 {
        self.0
    }

    /// The line that many lines further down.
    #[must_use]
    fn down(self, lines: usize) -> Self {
        Self(
            self.0
                .saturating_add(u32::try_from(lines).unwrap_or(u32::MAX)),
        )
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.0)
    }
}

/// What stands between two cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Delimiter {
    /// `,`, as in RFC 4180.
    Comma,
    /// `;`, as spreadsheets write where the comma is the decimal sign.
    Semicolon,
    /// The tab character.
    Tab,
}

impl Delimiter {
    /// All delimiters, the preferred first.
    const ALL: [Self; 3] = [Self::Comma, Self::Semicolon, Self::Tab];

    fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }
}

impl fmt::Display for Delimiter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Comma => "comma",
            Self::Semicolon => "semicolon",
            Self::Tab => "tab",
        })
    }
}

/// How the bytes of a file were read as characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte order mark.
    Utf8,
    /// UTF-16 with a byte order mark, which spreadsheets call "Unicode text".
    Utf16,
    /// ISO/IEC 8859-1: every byte is the character of that number.
    Latin1,
    /// Windows-1252: Latin-1 with printed characters at 80 to 9F.
    Windows1252,
}

impl fmt::Display for Encoding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Utf8 => "UTF-8",
            Self::Utf16 => "UTF-16",
            Self::Latin1 => "Latin-1",
            Self::Windows1252 => "Windows-1252",
        })
    }
}

/// One row that is not blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// The line on which the row starts.
    pub line: Line,
    /// Its cells as they stand in the file, spaces and all, without the enclosing quotation marks.
    pub fields: Vec<String>,
}

/// A whole file as rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// What separates the cells.
    pub delimiter: Delimiter,
    /// How the bytes were read.
    pub encoding: Encoding,
    /// The rows in the order of the file, without the blank ones. Never empty.
    pub records: Vec<Record>,
    /// How many rows held nothing but blanks and were left out.
    pub blank_rows: usize,
    /// What was odd, in the order of the lines.
    pub findings: Vec<Finding>,
}

/// How much is read at most, so that a wrong file cannot fill the memory of a phone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Bytes in the file.
    pub bytes: usize,
    /// Rows that are not blank.
    pub rows: usize,
    /// Cells in one row.
    pub cells: usize,
    /// Characters in one cell; a longer one is kept and reported, not refused.
    pub characters: usize,
}

impl Default for Limits {
    /// Far above any cable schedule. 32,767 characters is the most that one cell of a common
    /// spreadsheet holds (common practice, from memory).
    fn default() -> Self {
        Self {
            bytes: 4 * 1024 * 1024,
            rows: 20_000,
            cells: 1_000,
            characters: 32_767,
        }
    }
}

/// Reads a file within the default limits.
///
/// # Errors
/// When the bytes are no text, hold no rows, or exceed the limits.
pub fn read(bytes: &[u8]) -> Result<Sheet, ReadFault> {
    read_within(bytes, &Limits::default())
}

/// Reads a file within given limits.
///
/// # Errors
/// When the bytes are no text, hold no rows, or exceed the limits.
pub fn read_within(bytes: &[u8], limits: &Limits) -> Result<Sheet, ReadFault> {
    if bytes.len() > limits.bytes {
        return Err(ReadFault::TooManyBytes {
            found: bytes.len(),
            most: limits.bytes,
        });
    }
    let decoded = decode::decode(bytes)?;
    let layout = sniff::layout(&decoded.text);
    let start = scan::Start {
        text: &decoded.text[layout.skip..],
        line: layout.first_line,
        delimiter: layout.delimiter,
    };
    let scanned = scan::scan(start, limits)?;
    if scanned.records.is_empty() {
        return Err(ReadFault::NoRows);
    }
    let mut findings = decoded.findings;
    findings.extend(scanned.findings);
    findings.order_by_key(|finding| finding.line);
    Ok(Sheet {
        delimiter: layout.delimiter,
        encoding: decoded.encoding,
        records: scanned.records,
        blank_rows: scanned.blank_rows,
        findings,
    })
}
