//! How stored lines and the acts that count are kept: there are very many of both.

use std::ops::{Deref, Range};
use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::act::Act;
use crate::domain::ids::ActId;

/// A text that lines came in with, as it came.
pub(super) struct Text(pub(super) String);

/// One stored line, where it stands in the text that it came in with: a whole job comes in as a few large
/// texts, and a copy of each line takes a tenth of the time of opening it.
#[derive(Clone)]
pub(super) struct Line {
    text: Rc<Text>,
    at: Range<usize>,
}

impl Line {
    /// A line that came by itself.
    pub(super) fn alone(line: &str) -> Self {
        Self {
            at: 0..line.len(),
            text: Rc::new(Text(line.to_owned())),
        }
    }

    /// The lines of a text.
    pub(super) fn all(text: &Rc<Text>) -> impl Iterator<Item = Self> {
        let line = |at| Self {
            text: Rc::clone(text),
            at,
        };
        places(&text.0).map(line)
    }
}

/// The stored lines of a text of one or more. A carriage return before the line feed is part of a line: stored
/// lines are kept to the letter.
pub fn lines_of(text: &str) -> impl Iterator<Item = &str> {
    places(text).filter_map(|at| text.get(at))
}

/// Stored bytes as a text of lines, and how many of their lines are no UTF-8 and left out: one damaged byte takes
/// its own line along and none of the others.
#[must_use]
pub fn readable(bytes: Vec<u8>) -> (String, usize) {
    let damaged = match String::from_utf8(bytes) {
        Ok(text) => return (text, 0),
        Err(error) => error.into_bytes(),
    };
    let lines = damaged.split(|byte| *byte == b'\n');
    let (mut text, mut torn) = (String::new(), 0);
    for line in lines {
        match str::from_utf8(line) {
            Ok(line) => {
                text.push_str(line);
                text.push('\n');
            }
            Err(_) => torn += 1,
        }
    }
    (text, torn)
}

fn places(text: &str) -> impl Iterator<Item = Range<usize>> {
    let mut from = 0;
    let lines = text.split('\n').map(move |line| {
        let at = from..from + line.len();
        from = at.end + 1;
        at
    });
    lines.filter(|at| !at.is_empty())
}

impl Deref for Line {
    type Target = str;

    fn deref(&self) -> &str {
        self.text.0.get(self.at.clone()).unwrap_or_default()
    }
}

/// One act that counts, as it was stored, and how it stands.
pub(super) struct Entry {
    pub(super) act: Act,
    pub(super) line: Line,
    /// How many live acts strike it.
    pub(super) strikes: u32,
}

/// The acts that count, found by id.
#[derive(Default)]
pub(super) struct Entries {
    /// In the order in which they came.
    all: Vec<Entry>,
    places: FxHashMap<ActId, u32>,
}

impl Entries {
    pub(super) fn contains(&self, id: ActId) -> bool {
        self.places.contains_key(&id)
    }

    pub(super) fn get(&self, id: ActId) -> Option<&Entry> {
        let place = *self.places.get(&id)?;
        self.all.get(place as usize)
    }

    pub(super) fn get_mut(&mut self, id: ActId) -> Option<&mut Entry> {
        let place = *self.places.get(&id)?;
        self.all.get_mut(place as usize)
    }

    /// Takes in an act that is not here yet.
    pub(super) fn insert(&mut self, entry: Entry) {
        let place = u32::try_from(self.all.len()).unwrap_or(u32::MAX);
        self.places.insert(entry.act.id, place);
        self.all.push(entry);
    }

    /// All, in no order that means anything: sort before showing.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Entry> {
        self.all.iter()
    }

    pub(super) fn into_lines(self) -> impl Iterator<Item = Line> {
        self.all.into_iter().map(|entry| entry.line)
    }

    pub(super) fn len(&self) -> usize {
        self.all.len()
    }
}
