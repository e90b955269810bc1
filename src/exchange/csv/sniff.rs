//! Which delimiter a text uses.

use crate::domain::sorted::SortedMap;

use super::scan::{Rows, Start};
use super::{Delimiter, Limits, Line};

/// How many rows are looked at.
const SAMPLE: usize = 60;

/// Where the rows start and what separates their cells.
pub(super) struct Layout {
    /// Bytes before the first row.
    pub(super) skip: usize,
    /// The line of the first row.
    pub(super) first_line: Line,
    /// The delimiter.
    pub(super) delimiter: Delimiter,
}

/// Finds the layout: a first line such as `sep=;`, which spreadsheets read and write, decides;
/// otherwise the delimiter that gives the most even table.
pub(super) fn layout(text: &str) -> Layout {
    declared(text).unwrap_or_else(|| Layout {
        skip: 0,
        first_line: Line::FIRST,
        delimiter: guessed(text),
    })
}

fn declared(text: &str) -> Option<Layout> {
    let start = text.get(..4)?;
    if !start.eq_ignore_ascii_case("sep=") {
        return None;
    }
    let rest = &text[4..];
    let delimiter = Delimiter::ALL
        .into_iter()
        .find(|delimiter| rest.as_bytes().first() == Some(&delimiter.byte()))?;
    let rest = &rest[1..];
    let line_end = ["\r\n", "\n", "\r"]
        .into_iter()
        .find(|end| rest.starts_with(end));
    if line_end.is_none() && !rest.is_empty() {
        return None;
    }
    Some(Layout {
        skip: 5 + line_end.map_or(0, str::len),
        first_line: Line::FIRST.down(1),
        delimiter,
    })
}

fn guessed(text: &str) -> Delimiter {
    let mut best = (Delimiter::Comma, None);
    for delimiter in Delimiter::ALL {
        let fit = Fit::of(text, delimiter);
        if fit > best.1 {
            best = (delimiter, fit);
        }
    }
    best.0
}

/// How well a delimiter fits; the order of the fields is the order of their weight.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Fit {
    /// Rows with misplaced quotation marks count against it: with the wrong delimiter a quoted
    /// cell does not end where a cell ends.
    quoting: std::cmp::Reverse<usize>,
    /// Delimiters in rows of the commonest width.
    evenness: usize,
}

impl Fit {
    /// None when the delimiter separates nothing.
    fn of(text: &str, delimiter: Delimiter) -> Option<Self> {
        let start = Start {
            text,
            line: Line::FIRST,
            delimiter,
        };
        let mut odd_rows = 0;
        let mut widths: SortedMap<usize, usize> = SortedMap::new();
        for row in Rows::new(start, Limits::default().cells).take(SAMPLE) {
            odd_rows += usize::from(!row.oddities.is_empty());
            *widths.or_default(row.record.fields.len()) += 1;
        }
        let evenness = widths
            .into_iter()
            .filter(|(width, _)| *width > 1)
            .max_by_key(|(_, rows)| *rows)
            .map(|(width, rows)| (width - 1) * rows)?;
        Some(Self {
            quoting: std::cmp::Reverse(odd_rows),
            evenness,
        })
    }
}
