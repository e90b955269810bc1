//! Characters to rows, keeping whatever breaks the rules as it was written.

use super::finding::{Finding, FindingKind, ReadFault};
use super::{Delimiter, Limits, Line, Record};

/// Where reading starts and how.
#[derive(Clone, Copy)]
pub(super) struct Start<'a> {
    /// The text from there on.
    pub(super) text: &'a str,
    /// The line on which the text starts.
    pub(super) line: Line,
    /// What separates the cells.
    pub(super) delimiter: Delimiter,
}

/// The rows of a text.
pub(super) struct Scanned {
    pub(super) records: Vec<Record>,
    pub(super) blank_rows: usize,
    pub(super) findings: Vec<Finding>,
}

/// Reads all rows.
pub(super) fn scan(start: Start<'_>, limits: &Limits) -> Result<Scanned, ReadFault> {
    let mut scanned = Scanned {
        records: Vec::new(),
        blank_rows: 0,
        findings: Vec::new(),
    };
    let mut seen_lone_return = false;
    for row in Rows::new(start, limits.cells) {
        let line = row.record.line;
        if row.too_many_cells {
            let most = limits.cells;
            return Err(ReadFault::TooManyCells { line, most });
        }
        let mut report = |kind| scanned.findings.push(Finding { line, kind });
        row.oddities.into_iter().for_each(&mut report);
        if row.end == RowEnd::LoneReturn && !seen_lone_return {
            seen_lone_return = true;
            report(FindingKind::LoneCarriageReturn);
        }
        if row
            .record
            .fields
            .iter()
            .all(|field| field.trim().is_empty())
        {
            scanned.blank_rows += 1;
            continue;
        }
        if row.end == RowEnd::Text {
            report(FindingKind::NoLastLineEnd);
        }
        if let Some(characters) = longest_above(&row.record.fields, limits.characters) {
            report(FindingKind::LongCell { characters });
        }
        if scanned.records.len() == limits.rows {
            let most = limits.rows;
            return Err(ReadFault::TooManyRows { line, most });
        }
        scanned.records.push(row.record);
    }
    Ok(scanned)
}

/// Each kind is reported once for a row.
fn note(oddities: &mut Vec<FindingKind>, kind: FindingKind) {
    if !oddities.contains(&kind) {
        oddities.push(kind);
    }
}

fn longest_above(fields: &[String], most: usize) -> Option<usize> {
    fields
        .iter()
        // Bytes are never fewer than characters, so most cells need no counting.
        .filter(|field| field.len() > most)
        .map(|field| field.chars().count())
        .filter(|characters| *characters > most)
        .max()
}

/// How many line ends a text holds; CR LF is one.
pub(super) fn line_ends(text: &str) -> usize {
    let bytes = text.as_bytes();
    let lone = |(at, byte): (usize, &u8)| match byte {
        b'\n' => true,
        b'\r' => bytes.get(at + 1) != Some(&b'\n'),
        _ => false,
    };
    bytes.iter().enumerate().filter(|each| lone(*each)).count()
}

/// What ended a row.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum RowEnd {
    Line,
    LoneReturn,
    /// The end of the text.
    Text,
}

/// One row, blank or not.
pub(super) struct Row {
    pub(super) record: Record,
    pub(super) oddities: Vec<FindingKind>,
    pub(super) end: RowEnd,
    too_many_cells: bool,
}

/// The rows of a text, one after the other.
pub(super) struct Rows<'a> {
    text: &'a str,
    at: usize,
    line: Line,
    delimiter: u8,
    most_cells: usize,
}

/// What follows a quotation mark at the start of a cell.
enum Quoted {
    /// A sound cell; `end` is where its delimiter or line end stands.
    Sound {
        value: String,
        end: usize,
        lines: usize,
        blanks: bool,
    },
    /// The closing mark, on the same line, is followed by other text, which starts at `after`.
    Continued { after: usize },
    /// The next closing mark stands on a later line and is followed by other text: the opening
    /// mark is more likely a stray one than the start of a cell of several lines.
    Torn,
    /// There is no closing mark.
    Open,
}

impl<'a> Rows<'a> {
    pub(super) fn new(start: Start<'a>, most_cells: usize) -> Self {
        Self {
            text: start.text,
            at: 0,
            line: start.line,
            delimiter: start.delimiter.byte(),
            most_cells,
        }
    }

    fn byte(&self, at: usize) -> Option<u8> {
        self.text.as_bytes().get(at).copied()
    }

    fn ends_cell(&self, at: usize) -> bool {
        match self.byte(at) {
            None | Some(b'\r' | b'\n') => true,
            Some(byte) => byte == self.delimiter,
        }
    }

    fn cell(&mut self, oddities: &mut Vec<FindingKind>) -> String {
        let start = self.at;
        let mut search_from = start;
        if self.byte(start) == Some(b'"') {
            match self.quoted() {
                Quoted::Sound {
                    value,
                    end,
                    lines,
                    blanks,
                } => {
                    if blanks {
                        note(oddities, FindingKind::BlanksAfterQuote);
                    }
                    self.at = end;
                    self.line = self.line.down(lines);
                    return value;
                }
                Quoted::Continued { after } => search_from = after,
                Quoted::Torn => {}
                Quoted::Open => note(oddities, FindingKind::OpenQuote),
            }
        }
        let mut end = search_from;
        while !self.ends_cell(end) {
            end += 1;
        }
        self.at = end;
        let value = &self.text[start..end];
        if value.contains('"') && !oddities.contains(&FindingKind::OpenQuote) {
            note(oddities, FindingKind::StrayQuote);
        }
        value.to_owned()
    }

    /// Looks at the cell whose opening mark stands at the current place, without moving.
    ///
    /// A mark that turns out not to open a cell is looked at once more as plain text. That does
    /// not make long files slow: the search stops at the first odd run of marks, and the even runs
    /// before it close at once when they are met again.
    fn quoted(&self) -> Quoted {
        let mut value = String::new();
        let mut from = self.at + 1;
        loop {
            let Some(found) = self.text[from..].find('"') else {
                return Quoted::Open;
            };
            let close = from + found;
            value.push_str(&self.text[from..close]);
            if self.byte(close + 1) == Some(b'"') {
                value.push('"');
                from = close + 2;
                continue;
            }
            let mut end = close + 1;
            while !self.ends_cell(end) && matches!(self.byte(end), Some(b' ' | b'\t')) {
                end += 1;
            }
            let lines = line_ends(&value);
            return if self.ends_cell(end) {
                let blanks = end > close + 1;
                Quoted::Sound {
                    value,
                    end,
                    lines,
                    blanks,
                }
            } else if lines == 0 {
                Quoted::Continued { after: end }
            } else {
                Quoted::Torn
            };
        }
    }

    fn row_end(&mut self) -> RowEnd {
        let (end, width) = match (self.byte(self.at), self.byte(self.at + 1)) {
            (None, _) => return RowEnd::Text,
            (Some(b'\r'), Some(b'\n')) => (RowEnd::Line, 2),
            (Some(b'\r'), _) => (RowEnd::LoneReturn, 1),
            _ => (RowEnd::Line, 1),
        };
        self.at += width;
        self.line = self.line.down(1);
        end
    }
}

impl Iterator for Rows<'_> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        if self.at >= self.text.len() {
            return None;
        }
        let line = self.line;
        let mut fields = Vec::new();
        let mut oddities = Vec::new();
        loop {
            fields.push(self.cell(&mut oddities));
            if fields.len() > self.most_cells || self.byte(self.at) != Some(self.delimiter) {
                break;
            }
            self.at += 1;
        }
        let too_many_cells = fields.len() > self.most_cells;
        let end = self.row_end();
        Some(Row {
            record: Record { line, fields },
            oddities,
            end,
            too_many_cells,
        })
    }
}
