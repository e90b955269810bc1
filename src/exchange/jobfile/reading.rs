//! Reading a job file, whatever became of it on the way.

use std::rc::Rc;

use sha2::{Digest as _, Sha256};

use super::writing::{FirstLine, Heads, LastLine, WriterLine, hex, is_blank, unwrap_kept};
use super::{FORMAT, Finding, Header, Read, VERSION};
use crate::domain::ids::{ActId, JobId};
use crate::journal::wire;

/// How much of a file is read at most, so that no file can fill a phone's memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of the whole file.
    pub bytes: usize,
    /// Lines that are not empty.
    pub lines: usize,
    /// Bytes of one line. An import is one line whatever its length, so this is generous.
    pub line_bytes: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            bytes: 128 << 20,
            lines: 1_000_000,
            line_bytes: 32 << 20,
        }
    }
}

/// Reads a job file. What is whole comes out whatever else is the matter.
#[must_use]
pub fn read(bytes: &[u8]) -> Read {
    read_within(bytes, Limits::default())
}

/// Reads a job file within limits.
#[must_use]
pub fn read_within(bytes: &[u8], limits: Limits) -> Read {
    if bytes.len() > limits.bytes {
        return Read {
            findings: vec![Finding::TooLarge {
                bytes: bytes.len(),
                most: limits.bytes,
            }],
            ..Read::default()
        };
    }
    let mut scan = Scan::default();
    scan.file(bytes, limits);
    scan.judge()
}

/// One line between the first and the last.
enum Row<'a> {
    /// It is an act.
    Act {
        id: ActId,
        by: Rc<str>,
        line: Text<'a>,
    },
    /// It is text, but no act that is known here.
    Words { at: usize, line: Text<'a> },
    /// It is no text.
    Damaged { at: usize },
    /// It is too long, which is told already.
    LeftOut,
}

/// A stored line as it stands in the file, or as it was wrapped there.
enum Text<'a> {
    Plain(&'a str),
    Kept(String),
}

impl Text<'_> {
    fn as_str(&self) -> &str {
        match self {
            Self::Plain(line) => line,
            Self::Kept(line) => line,
        }
    }
}

/// What one pass over the file gathers.
#[derive(Default)]
struct Scan<'a> {
    header: Option<Header>,
    rows: Vec<Row<'a>>,
    last: Option<LastLine<'a>>,
    after: Vec<Row<'a>>,
    digest: Sha256,
    findings: Vec<Finding>,
}

impl<'a> Scan<'a> {
    fn file(&mut self, bytes: &'a [u8], limits: Limits) {
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let rows = bytes.split(|byte| *byte == b'\n').zip(1..);
        let rows = rows.map(|(row, at)| (row.strip_suffix(b"\r").unwrap_or(row), at));
        for (count, (row, at)) in rows.filter(|(row, _)| !is_blank(row)).enumerate() {
            if count >= limits.lines {
                let most = limits.lines;
                self.findings.push(Finding::TooManyLines { most });
                break;
            }
            if row.len() > limits.line_bytes {
                let most = limits.line_bytes;
                self.findings.push(Finding::LineTooLong { line: at, most });
                self.update(row);
                self.rows.push(Row::LeftOut);
                continue;
            }
            let text = std::str::from_utf8(row).ok();
            if count == 0 && self.first_line(text) {
                self.update(row);
            } else {
                self.row(row, text, at);
            }
        }
    }

    /// Takes the first line as header, damaged or not, unless work of somebody stands in its place.
    fn first_line(&mut self, text: Option<&str>) -> bool {
        self.header = text.and_then(header);
        self.header.is_some()
            || text.is_none_or(|text| LastLine::parse(text).is_none() && wire::read(text).is_err())
    }

    /// Lines are digested with a plain line feed, so that a file whose line ends were changed on
    /// the way still counts as whole.
    fn update(&mut self, row: &[u8]) {
        self.digest.update(row);
        self.digest.update(b"\n");
    }

    fn row(&mut self, bytes: &[u8], text: Option<&'a str>, at: usize) {
        if self.last.is_some() {
            self.after.push(row(text, at));
            return;
        }
        self.last = text.and_then(LastLine::parse);
        if self.last.is_none() {
            self.update(bytes);
            self.rows.push(row(text, at));
        }
    }

    fn judge(mut self) -> Read {
        let mut read = Read {
            header: self.header.take(),
            findings: std::mem::take(&mut self.findings),
            ..Read::default()
        };
        let any = self.rows.iter().any(|row| matches!(row, Row::Act { .. }));
        match &read.header {
            None if !any && self.last.is_none() => {
                read.findings.push(Finding::NotAJobFile);
                return read;
            }
            None => read.findings.push(Finding::HeaderDamaged),
            Some(header) if header.version > VERSION => {
                let version = header.version;
                read.findings.push(Finding::NewerVersion { version });
            }
            Some(_) => {}
        }
        let digest = hex(&std::mem::take(&mut self.digest).finalize());
        match self.last.take() {
            None => self.judge_cut(&mut read),
            Some(last) => {
                let heads = self.heads();
                let good = agreed(&last.writers, &heads);
                let same = last.writers.len() == heads.len() && good.iter().all(|good| *good);
                if last.sha256 == digest && last.acts == self.rows.len() && same {
                    self.keep_all(&mut read);
                } else {
                    self.judge_altered(&last, &heads, &good, &mut read);
                }
            }
        }
        self.judge_after(&mut read);
        read
    }

    fn heads(&self) -> Vec<WriterLine<'static>> {
        let mut heads = Heads::default();
        for row in &self.rows {
            if let Row::Act { id, line, .. } = row {
                heads.add(*id, line.as_str());
            }
        }
        heads.finish()
    }

    fn keep_all(&self, read: &mut Read) {
        for row in &self.rows {
            match row {
                // Text that is no act here is kept too: a newer version may read it.
                Row::Act { line, .. } | Row::Words { line, .. } => {
                    read.lines.push(line.as_str().to_owned());
                }
                Row::Damaged { at } => read.findings.push(Finding::Unreadable { line: *at }),
                Row::LeftOut => {}
            }
        }
    }

    fn judge_cut(&self, read: &mut Read) {
        let last = self.rows.len().saturating_sub(1);
        for (place, row) in self.rows.iter().enumerate() {
            match row {
                Row::Act { line, .. } => read.lines.push(line.as_str().to_owned()),
                // The cut goes through the last line there is, and is reported as such.
                Row::Words { .. } | Row::Damaged { .. } if place == last => {}
                Row::LeftOut => {}
                Row::Words { at, .. } | Row::Damaged { at } => {
                    read.findings.push(Finding::Unreadable { line: *at });
                }
            }
        }
        let whole = read.lines.len();
        read.findings.push(Finding::CutOff { whole });
    }

    /// The lines of everybody whose digest matches are whole; those of the others are doubtful.
    fn judge_altered(
        &self,
        last: &LastLine<'_>,
        heads: &[WriterLine<'static>],
        good: &[bool],
        read: &mut Read,
    ) {
        read.findings.push(Finding::Altered {
            expected: last.acts,
            found: self.rows.len(),
        });
        // Which of the others a writer is, as a file may have as many writers as lines.
        let mut places: Vec<Option<usize>> = vec![None; heads.len()];
        let mut others: Vec<(String, String, usize)> = Vec::new();
        for row in &self.rows {
            match row {
                Row::Act { id, by, line } => {
                    let writer = id.writer.0.to_string();
                    let Some(at) = place(heads, &writer) else {
                        continue;
                    };
                    if good[at] {
                        read.lines.push(line.as_str().to_owned());
                        continue;
                    }
                    read.doubtful.push(line.as_str().to_owned());
                    match places[at].and_then(|at| others.get_mut(at)) {
                        Some((.., lines)) => *lines += 1,
                        None => {
                            places[at] = Some(others.len());
                            others.push((writer, by.to_string(), 1));
                        }
                    }
                }
                Row::Words { at, .. } | Row::Damaged { at } => {
                    read.findings.push(Finding::Unreadable { line: *at });
                }
                Row::LeftOut => {}
            }
        }
        for (writer, by, lines) in others {
            let by = if by.is_empty() { writer } else { by };
            read.findings.push(Finding::WriterAltered { by, lines });
        }
    }

    fn judge_after(&self, read: &mut Read) {
        if self.after.is_empty() {
            return;
        }
        for row in &self.after {
            if let Row::Act { line, .. } = row {
                read.doubtful.push(line.as_str().to_owned());
            }
        }
        let lines = self.after.len();
        read.findings.push(Finding::AfterTheEnd { lines });
    }
}

fn row(text: Option<&str>, at: usize) -> Row<'_> {
    let Some(text) = text else {
        return Row::Damaged { at };
    };
    let line = unwrap_kept(text).map_or(Text::Plain(text), Text::Kept);
    match wire::read(line.as_str()) {
        Ok(act) => Row::Act {
            id: act.id,
            by: act.by,
            line,
        },
        Err(_) => Row::Words { at, line },
    }
}

fn header(line: &str) -> Option<Header> {
    let first: FirstLine<'_> = serde_json::from_str(line).ok()?;
    if first.format != FORMAT {
        return None;
    }
    Some(Header {
        version: first.version,
        job: JobId(first.job.parse().ok()?),
        name: first.name.into_owned(),
    })
}

fn alike(a: &WriterLine<'_>, b: &WriterLine<'_>) -> bool {
    (&a.writer, a.top, &a.head) == (&b.writer, b.top, &b.head)
}

/// Where the digest of a writer stands; they are in the order of the writers.
fn place(heads: &[WriterLine<'_>], writer: &str) -> Option<usize> {
    heads
        .binary_search_by(|head| (*head.writer).cmp(writer))
        .ok()
}

/// Of each digest that was found, whether it is said too, in whatever order.
fn agreed(said: &[WriterLine<'_>], found: &[WriterLine<'_>]) -> Vec<bool> {
    let mut good = vec![false; found.len()];
    for said in said {
        if let Some(at) = place(found, &said.writer).filter(|at| alike(said, &found[*at])) {
            good[at] = true;
        }
    }
    good
}
