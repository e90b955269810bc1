//! The bundle: a job file with pictures, as one text, since phones share no archives.
//!
//! The first line names the format, then the job file stands to the letter, then a line for each
//! picture, and the last line counts them. A picture is called after the SHA-256 of its bytes, so each
//! shows by itself whether it is whole.

use std::fmt;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde::{Deserialize, Serialize};

use crate::domain::picture::Digest;
use crate::journal::picture_digest;

/// The word that marks the first and the last line.
const FORMAT: &str = "bothends-bundle";

/// What the line of a picture begins with.
const PICTURE: &[u8] = b"{\"picture\":";

/// The most bytes of a picture line: a picture of 1600 pixels takes a fortieth of it.
const LONGEST_LINE: usize = 32 << 20;

/// The most pictures of one bundle.
const MOST_PICTURES: usize = 10_000;

/// A picture in both its sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Its name.
    pub digest: Digest,
    /// The picture.
    pub whole: Vec<u8>,
    /// The same for lists.
    pub small: Vec<u8>,
}

/// What a bundle gave.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bundle<'a> {
    /// The job file, to the letter.
    pub job: &'a [u8],
    /// The pictures that are whole.
    pub pictures: Vec<Carried>,
    /// What is to be said about the bundle.
    pub findings: Vec<Finding>,
}

/// Something about a bundle that its reader should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Finding {
    /// So many pictures are damaged; they were left out.
    Damaged(usize),
    /// The end is missing.
    CutOff,
    /// It has more pictures than a job has; the others were left out.
    TooMany,
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Damaged(1) => f.write_str(
                "1 picture in this file is damaged and was left out. Send or copy the file again.",
            ),
            Self::Damaged(count) => write!(
                f,
                "{count} pictures in this file are damaged and were left out. Send or copy the file again."
            ),
            Self::CutOff => f.write_str(
                "The end of this file is missing, and pictures with it. Send or copy it again if you can.",
            ),
            Self::TooMany => write!(
                f,
                "This file has more than {MOST_PICTURES} pictures. Only those were read. Check that it is the right file."
            ),
        }
    }
}

#[derive(Serialize, Deserialize)]
struct FirstLine<'a> {
    format: &'a str,
    version: u32,
}

#[derive(Serialize, Deserialize)]
struct PictureLine<'a> {
    picture: &'a str,
    whole: &'a str,
    small: &'a str,
}

#[derive(Serialize, Deserialize)]
struct LastLine<'a> {
    end: &'a str,
    pictures: usize,
}

/// The pictures of a bundle on its way out. The job file comes in when all else is done, so that it is as
/// new as the bundle.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Packing {
    /// Their lines.
    text: String,
    pictures: usize,
}

impl Packing {
    /// How many pictures are in it.
    #[must_use]
    pub fn pictures(&self) -> usize {
        self.pictures
    }

    /// How many bytes it has so far.
    #[must_use]
    pub fn size(&self) -> usize {
        self.text.len()
    }

    /// Adds a picture.
    pub fn add(&mut self, digest: Digest, whole: &[u8], small: &[u8]) {
        let [whole, small] = [whole, small].map(|bytes| STANDARD.encode(bytes));
        let line = PictureLine {
            picture: &digest.to_string(),
            whole: &whole,
            small: &small,
        };
        put(&mut self.text, &line);
        self.pictures += 1;
    }

    /// The whole text, with the job file as it is now.
    #[must_use]
    pub fn finish(self, job: &str) -> String {
        let mut text = String::new();
        let first = FirstLine {
            format: FORMAT,
            version: 1,
        };
        put(&mut text, &first);
        text.push_str(job);
        text.push_str(&self.text);
        let last = LastLine {
            end: FORMAT,
            pictures: self.pictures,
        };
        put(&mut text, &last);
        text
    }
}

/// The shapes hold strings and whole numbers alone, which JSON always can.
fn put(text: &mut String, shape: &impl Serialize) {
    text.push_str(&serde_json::to_string(shape).unwrap_or_default());
    text.push('\n');
}

/// Reads a bundle; none where the file is something else.
#[must_use]
pub fn read(bytes: &[u8]) -> Option<Bundle<'_>> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let (first, rest) = split(bytes);
    let first: FirstLine<'_> = as_json(first)?;
    if first.format != FORMAT {
        return None;
    }
    // The job file ends where the first picture or the last line of the bundle stands.
    let mut after = rest;
    let mut bundle = Bundle::default();
    while !after.is_empty() && !after.starts_with(PICTURE) && last(split(after).0).is_none() {
        after = split(after).1;
    }
    bundle.job = &rest[..rest.len() - after.len()];
    let mut damaged = 0;
    let mut counted = None;
    while !after.is_empty() {
        let (line, next) = split(after);
        after = next;
        if let Some(count) = last(line) {
            counted = Some(count);
            break;
        }
        if bundle.pictures.len() >= MOST_PICTURES {
            bundle.findings.push(Finding::TooMany);
            return Some(bundle);
        }
        match picture(line) {
            Some(picture) => bundle.pictures.push(picture),
            None if line.trim_ascii().is_empty() => {}
            None => damaged += 1,
        }
    }
    match counted {
        None => bundle.findings.push(Finding::CutOff),
        // What is missing from the middle of the file is damage too.
        Some(count) => damaged = damaged.max(count.saturating_sub(bundle.pictures.len())),
    }
    if damaged > 0 {
        bundle.findings.push(Finding::Damaged(damaged));
    }
    Some(bundle)
}

/// A line as JSON. It is read as a text like everything else, since a reader of bytes beside it makes the
/// app larger.
fn as_json<'a, T: Deserialize<'a>>(line: &'a [u8]) -> Option<T> {
    serde_json::from_str(std::str::from_utf8(line).ok()?).ok()
}

/// The first line, and everything after it.
fn split(bytes: &[u8]) -> (&[u8], &[u8]) {
    match bytes.iter().position(|byte| *byte == b'\n') {
        Some(at) => (&bytes[..at], &bytes[at + 1..]),
        None => (bytes, &[]),
    }
}

/// How many pictures the last line counts; none where it is another line.
fn last(line: &[u8]) -> Option<usize> {
    if line.len() > 200 {
        return None;
    }
    let last: LastLine<'_> = as_json(line)?;
    (last.end == FORMAT).then_some(last.pictures)
}

fn picture(line: &[u8]) -> Option<Carried> {
    if line.len() > LONGEST_LINE {
        return None;
    }
    let line: PictureLine<'_> = as_json(line)?;
    let digest: Digest = line.picture.parse().ok()?;
    let whole = STANDARD.decode(line.whole).ok()?;
    let small = STANDARD.decode(line.small).ok()?;
    // JPEG begins with its start of image (ITU-T T.81, B.1.1.3), and nothing else is ever kept.
    let is_jpeg = |bytes: &[u8]| bytes.starts_with(&[0xFF, 0xD8, 0xFF]);
    let is_whole = picture_digest(&whole) == digest && is_jpeg(&whole) && is_jpeg(&small);
    is_whole.then_some(Carried {
        digest,
        whole,
        small,
    })
}
