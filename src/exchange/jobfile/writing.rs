//! Writing a job file, and the shapes of its own lines.

use crate::domain::order::Order;
use crate::domain::sorted::SortedMap;
use std::borrow::Cow;
use std::fmt::Write as _;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

use super::{FORMAT, VERSION};
use crate::domain::ids::{ActId, JobId, WriterId};
use crate::journal::wire;

/// The first line.
#[derive(Serialize, Deserialize)]
pub(super) struct FirstLine<'a> {
    #[serde(borrow)]
    pub(super) format: Cow<'a, str>,
    pub(super) version: u32,
    #[serde(borrow)]
    pub(super) job: Cow<'a, str>,
    #[serde(borrow, default)]
    pub(super) name: Cow<'a, str>,
}

/// The last line.
#[derive(Serialize, Deserialize)]
pub(super) struct LastLine<'a> {
    #[serde(borrow)]
    pub(super) end: Cow<'a, str>,
    pub(super) acts: usize,
    #[serde(borrow)]
    pub(super) sha256: Cow<'a, str>,
    #[serde(borrow, default)]
    pub(super) writers: Vec<WriterLine<'a>>,
}

/// One writer in the last line.
#[derive(Serialize, Deserialize)]
pub(super) struct WriterLine<'a> {
    #[serde(borrow)]
    pub(super) writer: Cow<'a, str>,
    pub(super) top: u32,
    #[serde(borrow)]
    pub(super) head: Cow<'a, str>,
}

/// A stored line that could not stand by itself.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KeptLine<'a> {
    #[serde(borrow)]
    kept: Cow<'a, str>,
}

impl<'a> LastLine<'a> {
    /// Reads a line as the last one.
    pub(super) fn parse(line: &'a str) -> Option<Self> {
        // Looking for the word first spares reading every line twice.
        if !line.contains(FORMAT) {
            return None;
        }
        serde_json::from_str::<Self>(line)
            .ok()
            .filter(|last| last.end == FORMAT)
    }
}

/// Reads a wrapped line.
pub(super) fn unwrap_kept(line: &str) -> Option<String> {
    if !line.contains("\"kept\"") {
        return None;
    }
    let kept: KeptLine<'_> = serde_json::from_str(line).ok()?;
    Some(kept.kept.into_owned())
}

/// Whether nothing but blanks is in a line, so that it is skipped.
pub(super) fn is_blank(line: &[u8]) -> bool {
    line.iter().all(u8::is_ascii_whitespace)
}

/// Writes a job file: the first line, every stored line to the letter, and the last line.
///
/// A stored line that would be taken for something else, because a line end or nothing at all is
/// in it, goes in as a JSON string under `kept` and comes out as it was.
#[must_use]
pub fn write<'a>(job: JobId, name: &str, lines: impl IntoIterator<Item = &'a str>) -> String {
    let mut file = to_json(&FirstLine {
        format: Cow::Borrowed(FORMAT),
        version: VERSION,
        job: Cow::Owned(job.0.to_string()),
        name: Cow::Borrowed(name),
    });
    file.push('\n');
    let mut heads = Heads::default();
    let mut acts = 0;
    for line in lines {
        acts += 1;
        if let Ok(act) = wire::read(line) {
            heads.add(act.id, line);
        }
        if stands_by_itself(line) {
            file.push_str(line);
        } else {
            file.push_str(&to_json(&KeptLine {
                kept: Cow::Borrowed(line),
            }));
        }
        file.push('\n');
    }
    let last = LastLine {
        end: Cow::Borrowed(FORMAT),
        acts,
        sha256: Cow::Owned(hex(&Sha256::digest(file.as_bytes()))),
        writers: heads.finish(),
    };
    file.push_str(&to_json(&last));
    file.push('\n');
    file
}

fn stands_by_itself(line: &str) -> bool {
    !line.contains(['\n', '\r'])
        && !is_blank(line.as_bytes())
        && LastLine::parse(line).is_none()
        && unwrap_kept(line).is_none()
}

/// The shapes above hold strings and whole numbers alone, which JSON always can.
fn to_json(shape: &impl Serialize) -> String {
    serde_json::to_string(shape).unwrap_or_default()
}

pub(super) fn hex(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len() * 2);
    for byte in bytes {
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// The digest of each writer's lines: by number, each followed by a line feed.
#[derive(Default)]
pub(super) struct Heads<'a>(SortedMap<WriterId, Vec<(u32, &'a str)>>);

impl<'a> Heads<'a> {
    pub(super) fn add(&mut self, id: ActId, line: &'a str) {
        self.0.or_default(id.writer).push((id.n, line));
    }

    pub(super) fn finish(self) -> Vec<WriterLine<'static>> {
        let head = |(writer, mut lines): (WriterId, Vec<(u32, &str)>)| {
            // Two contents under one number stand by their text, so that the order in which they
            // came leaves no trace.
            lines.put_in_order();
            let mut digest = Sha256::new();
            for (_, line) in &lines {
                digest.update(line.as_bytes());
                digest.update(b"\n");
            }
            WriterLine {
                writer: Cow::Owned(writer.0.to_string()),
                top: lines.last().map_or(0, |(n, _)| *n),
                head: Cow::Owned(hex(&digest.finalize())),
            }
        };
        self.0.into_iter().map(head).collect()
    }
}
