//! Why the text of a QR code is not taken as a tag.

use super::read::LONGEST;
use std::fmt;

use crate::domain::text::visible;

/// How many characters of a strange text are shown.
const SHOWN: usize = 48;

/// Why a text is not a tag, or not one to trust. Texts in it are fit to show: cut, and with
/// hidden characters drawn as marks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TagFault {
    /// There is no text.
    Empty,
    /// The text is longer than any tag, or has characters that cannot be seen.
    Odd {
        /// The text, cut.
        shown: String,
        /// How many characters it has.
        length: usize,
    },
    /// The text is something else.
    NotOurs {
        /// The text, cut.
        shown: String,
    },
    /// The text has the form of a tag, but the check character belongs to another text.
    CheckWrong {
        /// The code that was read.
        read: String,
        /// The check character that belongs to what was read.
        expected: char,
        /// The one that is there.
        found: char,
    },
    /// The check character is right, but this version does not know the form.
    UnknownForm {
        /// The text, cut.
        shown: String,
    },
}

impl TagFault {
    pub(super) fn odd(text: &str) -> Self {
        Self::Odd {
            shown: cut(text),
            length: text.chars().count(),
        }
    }

    pub(super) fn not_ours(text: &str) -> Self {
        Self::NotOurs { shown: cut(text) }
    }

    pub(super) fn unknown_form(text: &str) -> Self {
        Self::UnknownForm { shown: cut(text) }
    }
}

/// The head of a text, fit to show.
fn cut(text: &str) -> String {
    let mut characters = text.chars();
    let head: String = characters.by_ref().take(SHOWN).collect();
    let rest = if characters.next().is_some() {
        "…"
    } else {
        ""
    };
    format!("{}{rest}", visible(&head))
}

impl fmt::Display for TagFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("The code holds no text. Scan another, or type the label."),
            Self::Odd { shown, length } if *length > LONGEST => write!(
                f,
                "This is not one of our tags: it has {length} characters. It begins “{shown}”."
            ),
            Self::Odd { shown, .. } => write!(
                f,
                "This is not one of our tags: it has characters that cannot be seen. It begins \
                 “{shown}”."
            ),
            Self::NotOurs { shown } => write!(
                f,
                "This is not one of our tags. It reads “{shown}”. Scan the tag on the cable or \
                 the plate, or type the label."
            ),
            Self::CheckWrong {
                read,
                expected,
                found,
            } => write!(
                f,
                "It reads {read}, but it ends in {found} where {expected} belongs, so at least one \
                 character is wrong. Compare it with the letters on the tag, or type the label."
            ),
            Self::UnknownForm { shown } => write!(
                f,
                "The tag is whole, but this version does not know its form: “{shown}”. A newer \
                 version may have made it."
            ),
        }
    }
}
