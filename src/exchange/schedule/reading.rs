//! A sheet as a cable schedule: its header, its mapping, and the sorting of its rows, so that
//! nothing of the file disappears unseen.

use crate::domain::order::Order;
use crate::domain::sorted::{SortedMap, SortedSet};
use std::borrow::Cow;

use super::heading;
use super::rows::{BadReason, BadRow, Reading, Row, SkipReason};
use super::total::is_total;
use super::{Column, Mapping, Use};
use crate::exchange::csv::{self, Finding, FindingKind, Form, Line, ReadFault, Record, Sheet};

/// How many rows from the top are looked at for the header; schedules often start with a title.
const HEADER_SEARCH: usize = 20;

/// How many rows are looked at for what a column holds: in a sheet of a thousand columns that are all
/// headed as codes, each cell takes its time.
const LOOKED_AT: usize = 200;

/// Where the header of a sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Header {
    /// In this record of the sheet, counted from 0.
    Record(usize),
    /// Nowhere: the first row is a cable already.
    Absent,
}

/// A sheet with what is known about its columns. The person may amend header, mapping and form;
/// [`Schedule::reading`] then gives the rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    sheet: Sheet,
    long_cells: SortedMap<Line, usize>,
    header: Header,
    form: Form,
    mapping: Mapping,
}

/// How many characters of a heading are kept with every row.
const HEADING: usize = 64;

/// The heading over the lengths goes into the note of every cable, so that one of a hundred thousand
/// characters would fill the memory.
fn shortened(heading: &str) -> String {
    heading.chars().take(HEADING).collect()
}

impl Schedule {
    /// Reads a file as a schedule.
    ///
    /// # Errors
    /// When the file cannot be read as rows.
    pub fn read(bytes: &[u8]) -> Result<Self, ReadFault> {
        csv::read(bytes).map(Self::of)
    }

    /// Takes a sheet as a schedule and proposes its header, mapping and form.
    #[must_use]
    pub fn of(sheet: Sheet) -> Self {
        let header = likely_header(&sheet.records);
        let long_cells = sheet
            .findings
            .iter()
            .filter_map(|finding| match finding.kind {
                FindingKind::LongCell { characters } => Some((finding.line, characters)),
                _ => None,
            })
            .collect();
        let mut schedule = Self {
            long_cells,
            sheet,
            header,
            form: Form::Raw,
            mapping: Mapping::proposed(Vec::new(), &|_| Vec::new()),
        };
        schedule.set_header(header);
        schedule
    }

    /// The sheet as it was read.
    #[must_use]
    pub fn sheet(&self) -> &Sheet {
        &self.sheet
    }

    /// Where the header is.
    #[must_use]
    pub fn header(&self) -> Header {
        self.header
    }

    /// Says where the header is, and proposes mapping and form anew. A record that the sheet does
    /// not have counts as absent.
    pub fn set_header(&mut self, header: Header) {
        let row = match header {
            Header::Record(at) => self.sheet.records.get(at),
            Header::Absent => None,
        };
        self.header = row.map_or(Header::Absent, |_| header);
        let mut headings = row.map_or_else(Vec::new, |row| row.fields.clone());
        let guarded = headings.iter().any(|text| heading::marks_guard(text));
        self.form = if guarded {
            Form::Spreadsheet
        } else {
            Form::Raw
        };
        if self.header == Header::Absent {
            let widths = self
                .sheet
                .records
                .iter()
                .map(|row| filled_width(&row.fields));
            headings.resize(widths.max().unwrap_or(0), String::new());
        } else {
            headings.truncate(filled_width(&headings));
        }
        let body = &self.body()[..self.body().len().min(LOOKED_AT)];
        self.mapping = Mapping::proposed(headings, &|place| {
            let cells = body.iter().filter_map(|record| record.fields.get(place));
            let cells = cells.map(|cell| cell.trim());
            cells.filter(|cell| !cell.is_empty()).collect()
        });
    }

    /// The form that the file was written in, as its header tells; it decides whether apostrophes
    /// before dangerous first characters are taken off.
    #[must_use]
    pub fn form(&self) -> Form {
        self.form
    }

    /// Says in which form the file was written.
    pub fn set_form(&mut self, form: Form) {
        self.form = form;
    }

    /// Which column holds what.
    #[must_use]
    pub fn mapping(&self) -> &Mapping {
        &self.mapping
    }

    /// Which column holds what, to be amended.
    pub fn mapping_mut(&mut self) -> &mut Mapping {
        &mut self.mapping
    }

    /// Up to `most` different texts of the column at a place, from 0, to show beside its heading.
    #[must_use]
    pub fn samples(&self, place: usize, most: usize) -> Vec<Cow<'_, str>> {
        let mut samples: Vec<Cow<'_, str>> = Vec::new();
        for record in self.body() {
            let cell = record.fields.get(place).map_or("", String::as_str);
            if samples.len() == most {
                break;
            }
            let cell = self.form.plain(cell);
            if !cell.trim().is_empty() && !samples.contains(&cell) {
                samples.push(cell);
            }
        }
        samples
    }

    fn above(&self) -> &[Record] {
        match self.header {
            Header::Record(at) => &self.sheet.records[..at],
            Header::Absent => &[],
        }
    }

    fn body(&self) -> &[Record] {
        match self.header {
            Header::Record(at) => &self.sheet.records[at + 1..],
            Header::Absent => &self.sheet.records,
        }
    }

    /// Sorts the rows by header, mapping and form as they are now.
    #[must_use]
    pub fn reading(&self) -> Reading {
        let mut reading = Reading {
            blank_rows: self.sheet.blank_rows,
            findings: self.sheet.findings.clone(),
            length_heading: self.mapping.heading_of(Column::Length).map(shortened),
            ..Reading::default()
        };
        for record in self.above() {
            reading.skip(record, SkipReason::AboveHeader);
        }
        for record in self.body() {
            self.sort(record, &mut reading);
        }
        // What is the reason of a bad row need not be said twice.
        let bad: SortedSet<Line> = reading.bad.iter().map(|bad| bad.line).collect();
        reading.findings.retain(|finding| {
            !matches!(finding.kind, FindingKind::LongCell { .. }) || !bad.contains(&finding.line)
        });
        reading.findings.order_by_key(|finding| finding.line);
        reading
    }

    fn sort(&self, record: &Record, reading: &mut Reading) {
        if self.repeats_header(record) {
            return reading.skip(record, SkipReason::HeaderAgain);
        }
        let plain: Vec<Cow<'_, str>> = record
            .fields
            .iter()
            .map(|field| self.form.plain(field))
            .collect();
        let cells = self.cells(&plain);
        let texts: Vec<&str> = plain.iter().map(AsRef::as_ref).collect();
        if is_total(&texts) {
            return reading.skip(record, SkipReason::Total);
        }
        if let Some(reason) = self.fault(record, &cells) {
            reading.bad.push(BadRow {
                line: record.line,
                fields: record.fields.clone(),
                reason,
            });
            return;
        }
        self.remark(record, &mut reading.findings);
        reading.rows.push(Row {
            line: record.line,
            cells,
        });
    }

    fn repeats_header(&self, record: &Record) -> bool {
        let headings = self.mapping.headings();
        self.header != Header::Absent
            && record.fields[..filled_width(&record.fields)] == headings[..]
    }

    fn cells(&self, plain: &[Cow<'_, str>]) -> SortedMap<Column, String> {
        let mut cells = SortedMap::new();
        for (cell, held) in plain.iter().zip(self.mapping.uses()) {
            if let Use::Holds(column) = held
                && !cell.trim().is_empty()
            {
                cells.insert(*column, cell.clone().into_owned());
            }
        }
        cells
    }

    fn fault(&self, record: &Record, cells: &SortedMap<Column, String>) -> Option<BadReason> {
        let filled = filled_width(&record.fields);
        let headings = self.mapping.headings().len();
        if filled > headings {
            return Some(BadReason::TooManyCells {
                cells: filled,
                headings,
            });
        }
        if let Some(characters) = self.long_cells.get(&record.line).copied() {
            return Some(BadReason::LongCell { characters });
        }
        cells.is_empty().then_some(BadReason::NothingUsed)
    }

    fn remark(&self, record: &Record, findings: &mut Vec<Finding>) {
        let line = record.line;
        let headings = self.mapping.headings().len();
        let cells = record.fields.len();
        if self.header != Header::Absent && cells < headings {
            let kind = FindingKind::ShortRow { cells, headings };
            findings.push(Finding { line, kind });
        }
        let prefixed = |field: &String| csv::unguard(field) != field.as_str();
        if self.form == Form::Raw && record.fields.iter().any(prefixed) {
            let kind = FindingKind::Apostrophe;
            findings.push(Finding { line, kind });
        }
    }
}

/// The number of cells up to the last one that is not blank.
fn filled_width(fields: &[String]) -> usize {
    fields
        .iter()
        .rposition(|field| !field.trim().is_empty())
        .map_or(0, |at| at + 1)
}

/// The header is the row with the most known headings, two at least (one in a sheet of one or two
/// columns). Without such a row the first one is the header unless it holds digits, which headings
/// seldom do and cables nearly always.
fn likely_header(records: &[Record]) -> Header {
    let known = |record: &Record| {
        let mapping = Mapping::proposed(record.fields.clone(), &|_| Vec::new());
        let uses = mapping.uses();
        uses.iter()
            .filter(|held| matches!(held, Use::Holds(_)))
            .count()
    };
    let mut best = (0, 0);
    for (at, record) in records.iter().take(HEADER_SEARCH).enumerate() {
        let count = known(record);
        let least = if record.fields.len() <= 2 { 1 } else { 2 };
        if count >= least && count > best.1 {
            best = (at, count);
        }
    }
    let first_has_digits = records.first().is_some_and(|record| {
        let digit = |c: char| c.is_ascii_digit();
        record.fields.iter().any(|field| field.contains(digit))
    });
    match best {
        (at, 1..) => Header::Record(at),
        _ if first_has_digits => Header::Absent,
        _ => Header::Record(0),
    }
}
