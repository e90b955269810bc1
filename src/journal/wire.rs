//! The stored form of an act: one line of JSON.
//!
//! The shapes here are a promise to every file ever saved, so they are apart from the working
//! types and are converted by hand. What is written is never rewritten: lines are stored and
//! carried to the letter, with whatever fields a newer version put into them.

use std::fmt;

use super::act::Act;

mod v1;

/// A line that is no act, and why. What the reader of JSON has to say of it is not carried along: no screen
/// shows it, and its words would be a part of the app.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unreadable(pub &'static str);

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "this line cannot be read: {}", self.0)
    }
}

/// The stored form of an act, without a line end.
#[must_use]
pub fn write(act: &Act) -> String {
    v1::write(act)
}

/// Reads the stored form of an act. A fact of an unknown kind, or with an unknown value, becomes
/// [`super::Fact::Unknown`]; the line that it came from stays as it is.
///
/// # Errors
/// When the line is not an act at all.
pub fn read(line: &str) -> Result<Act, Unreadable> {
    v1::read(line)
}
