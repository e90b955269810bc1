//! Rows of texts by column to a file that reads back with a complete mapping.

use crate::domain::sorted::SortedMap;
use std::borrow::Borrow;

use super::Column;
use super::heading::GUARD_HEADING;
use crate::exchange::csv::{self, Form};

/// Writes a schedule: a header with all columns, then one row for each map. In the form for
/// spreadsheets a last column says that apostrophes were added, so that reading takes them off
/// again, and only then.
///
/// A row without any text is not written, since reading leaves blank rows out.
#[must_use]
pub fn write<R>(rows: R, form: Form) -> Vec<u8>
where
    R: IntoIterator,
    R::Item: Borrow<SortedMap<Column, String>>,
{
    let mark = |text: &'static str| (form == Form::Spreadsheet).then(|| text.to_owned());
    let header: Vec<String> = Column::ALL
        .iter()
        .map(|column| column.heading().to_owned())
        .chain(mark(GUARD_HEADING))
        .collect();
    let body = rows.into_iter().filter_map(|row| {
        let row = row.borrow();
        let filled = row.values().any(|cell| !cell.trim().is_empty());
        let cells = Column::ALL
            .iter()
            .map(|column| row.get(column).cloned().unwrap_or_default())
            .chain(mark("yes"));
        filled.then(|| cells.collect())
    });
    csv::write(std::iter::once(header).chain(body), form)
}
