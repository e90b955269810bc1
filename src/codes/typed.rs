//! Reads what a person types or pastes: without dashes, in small letters, with O for 0 and I for
//! 1, without the room where the room is known. Every reading that makes sense is given, the
//! likeliest first; which of them exist in the job is asked elsewhere.
//!
//! Nothing is refused here. What no form fits is still words to look for in names and notes.

mod forms;
mod glyphs;

use crate::domain::order::Order;
use std::fmt;

use super::leg::LegCode;
use super::tag::{TagFault, TagText};
use crate::domain::label::{
    LabelCode, LinkCode, OutletCode, PanelLetters, PositionCode, RoomCode, SpaceCode, box_code,
    conduit_code,
};
use crate::domain::text::{folded, is_hidden};
use forms::Find;
pub use glyphs::{is_gap, latin};

/// One thing that a text may mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reading {
    /// The whole text of a tag, with its check character right.
    Tag(TagText),
    /// A cable run.
    Run(LabelCode),
    /// A leg of a split end.
    Leg(LegCode),
    /// An outlet.
    Outlet(OutletCode),
    /// A position on a panel, by its short name.
    Position(PositionCode),
    /// A position with its telecom space.
    Link(LinkCode),
    /// A telecom space.
    Space(SpaceCode),
    /// A room.
    Room(RoomCode),
    /// A panel.
    Panel(PanelLetters),
    /// A conduit, by its number.
    Conduit(u16),
    /// A box or spool, by its number.
    Box(u16),
    /// Words to look for, as they were typed.
    Words(String),
}

/// Why a text that looks like a code is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The text of a tag that cannot be trusted as it stands.
    Tag(TagFault),
    /// An outlet is followed by a character that cables do not use.
    CableLetter(char),
    /// A character that stands in no code.
    Strange(char),
    /// The number of the outlet is not one.
    OutletNumber(String),
    /// The number of the position is not one.
    PositionNumber(String),
    /// The number of the tie line is not one.
    TieNumber(String),
    /// The number of the leg is not one.
    LegNumber(String),
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Tag(fault) => fault.fmt(f),
            Self::CableLetter(character) => write!(
                f,
                "“{character}” is not a cable letter. Cables use A to Y, but not I, O, Q and S, \
                 which a pen makes look like digits."
            ),
            Self::Strange(character) => write!(
                f,
                "“{character}” stands in no code. Codes have the letters A to Z and the digits 0 to 9: \
                 type it with those."
            ),
            Self::OutletNumber(number) => write!(
                f,
                "“{number}” is not an outlet number. The outlets of a room count from 1 to 99."
            ),
            Self::PositionNumber(number) => write!(
                f,
                "“{number}” is not a position. The positions of a panel count from 1."
            ),
            Self::TieNumber(number) => write!(
                f,
                "“{number}” is not the number of a tie line. Tie lines count from 1."
            ),
            Self::LegNumber(number) => write!(
                f,
                "“{number}” is not a leg. The legs of an end count from 1 to 16."
            ),
        }
    }
}

/// What a text may mean.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Typed {
    /// The readings, the likeliest first: those of the text as it stands, then those with one O
    /// or I taken for a digit or the other way round, and last the text as words. A tag whose
    /// check character is right has no other reading. Empty for a text without anything to see.
    pub readings: Vec<Reading>,
    /// Why the text is not the code that it looks like, to be said where the job has none of
    /// the readings. A fault of a tag's text is to be said in any case.
    pub reasons: Vec<Reason>,
}

/// The longest text that may mean a code: no tag behind any address is half as long. What is longer is
/// words, and is spared the search for codes, whose time grows with the square of the length.
const LONGEST: usize = 1_000;

/// Reads what was typed. `here` is the room that the person works in, where that is known: then
/// a number is an outlet of it, and a number with a letter a cable.
#[must_use]
pub fn read(text: &str, here: Option<RoomCode>) -> Typed {
    if folded(text).is_empty() {
        return Typed::default();
    }
    let plain = plain(text);
    let is_short = plain.len() <= LONGEST;
    let mut typed = match read_tag(if is_short { &plain } else { "" }, here) {
        Ok(tags) => return tags,
        Err(Some(fault)) => about_fault(fault, here),
        Err(None) if is_short => read_code(&plain, here),
        Err(None) => Typed::default(),
    };
    typed.readings.push(Reading::Words(text.trim().to_owned()));
    typed
}

/// The characters of codes for those that look like them, without what cannot be seen, and one space for
/// each run of white space.
fn plain(text: &str) -> String {
    let words: Vec<String> = text
        .split_whitespace()
        .map(|word| {
            let seen = word.chars().filter(|c| !is_hidden(*c));
            seen.map(latin).collect::<String>()
        })
        .filter(|word| !word.is_empty())
        .collect();
    words.join(" ")
}

/// The readings of a text that is no tag.
fn read_code(plain: &str, here: Option<RoomCode>) -> Typed {
    let Some(glyphs) = glyphs::glyphs(plain) else {
        return Typed {
            readings: Vec::new(),
            reasons: strange(plain, here).into_iter().collect(),
        };
    };
    let mut finds = Vec::new();
    for spelling in glyphs::spellings(&glyphs) {
        finds.extend(forms::finds(&glyphs, *spelling, here));
    }
    finds.order_by_key(|find| (find.slips, find.rank));
    gather(finds)
}

/// The character of another script that keeps a text from being a code; none where it were none without it.
fn strange(plain: &str, here: Option<RoomCode>) -> Option<Reason> {
    let is_strange = |c: &char| !c.is_ascii() && c.is_alphanumeric();
    let first = plain.chars().find(is_strange)?;
    let rest: String = plain.chars().filter(|c| !is_strange(c)).collect();
    let has_digit = rest.contains(|c: char| c.is_ascii_digit());
    let is_code = has_digit && !read_code(&rest, here).readings.is_empty();
    is_code.then_some(Reason::Strange(first))
}

/// Keeps the readings with the fewest look-alikes, and up to one where there are better ones;
/// reasons only of what fits as it stands.
fn gather(finds: Vec<Find>) -> Typed {
    let readable = finds.iter().filter(|find| find.outcome.is_ok());
    let most = readable.map(|find| find.slips).min().unwrap_or(0).max(1);
    let mut typed = Typed::default();
    for find in finds {
        match find.outcome {
            Ok(reading) if find.slips <= most && !typed.readings.contains(&reading) => {
                typed.readings.push(reading);
            }
            Err(reason) if find.slips == 0 && !typed.reasons.contains(&reason) => {
                typed.reasons.push(reason);
            }
            Ok(_) | Err(_) => {}
        }
    }
    typed
}

/// Reads the text of a tag, pasted or copied by hand. The fault is of a text that is meant as a
/// tag; none for any other text.
fn read_tag(plain: &str, here: Option<RoomCode>) -> Result<Typed, Option<TagFault>> {
    let capitals = plain.to_ascii_uppercase();
    let strictly = TagText::read(&capitals);
    let tags = match &strictly {
        Ok(tag) => vec![Reading::Tag(*tag)],
        Err(_) => tags_with_look_alikes(plain, here),
    };
    match strictly {
        _ if !tags.is_empty() => Ok(Typed {
            readings: tags,
            reasons: Vec::new(),
        }),
        Err(fault @ (TagFault::CheckWrong { .. } | TagFault::UnknownForm { .. }))
            if ends_in_digits_too(plain) =>
        {
            Err(Some(fault))
        }
        // It is told as it was written.
        Err(fault) if capitals.contains("://") => Err(TagText::read(plain).err().or(Some(fault))),
        Ok(_) | Err(_) => Err(None),
    }
}

/// Whether the last word has a digit. Eight letters after a code are rather a word (`KIT2
/// SPEAKERS`) than a tag copied wrongly: of a hundred tags, about five have no digit there.
fn ends_in_digits_too(plain: &str) -> bool {
    let last = plain.rsplit([' ', '/']).next().unwrap_or(plain);
    last.contains(|c: char| c.is_ascii_digit())
}

/// The tags whose code and group fit once O and I are read by their place. The check character
/// decides between them.
///
/// The space between them may be missing, and others may stand where none belongs.
fn tags_with_look_alikes(plain: &str, here: Option<RoomCode>) -> Vec<Reading> {
    let whole = plain.replace(' ', "");
    let at = whole.len().checked_sub(8);
    let Some((code, group)) = at.and_then(|at| whole.split_at_checked(at)) else {
        return Vec::new();
    };
    let is_apart = plain.rsplit([' ', '/']).next() == Some(group);
    if !group.is_ascii() || !(is_apart || ends_in_digits_too(group)) {
        return Vec::new();
    }
    let code = code.trim_end_matches('/');
    let (keys, check) = group.split_at(7);
    let group = glyphs::as_of_ids(keys) + &check.to_ascii_uppercase();
    let codes = read_code(code, here).readings;
    let texts = codes.iter().filter_map(code_of);
    let tags = texts.filter_map(|code| TagText::read(&format!("{code} {group}")).ok());
    tags.map(Reading::Tag).collect()
}

/// The code as a tag would carry it.
fn code_of(reading: &Reading) -> Option<String> {
    match reading {
        Reading::Run(code) => Some(code.to_string()),
        Reading::Leg(code) => Some(code.to_string()),
        Reading::Outlet(code) => Some(code.to_string()),
        Reading::Space(code) => Some(code.to_string()),
        Reading::Panel(code) => Some(code.to_string()),
        Reading::Conduit(number) => Some(conduit_code(*number)),
        Reading::Box(number) => Some(box_code(*number)),
        Reading::Tag(_)
        | Reading::Position(_)
        | Reading::Link(_)
        | Reading::Room(_)
        | Reading::Words(_) => None,
    }
}

/// What can still be said of a tag that is not to be trusted: the code that was read.
fn about_fault(fault: TagFault, here: Option<RoomCode>) -> Typed {
    let mut typed = match &fault {
        TagFault::CheckWrong { read, .. } => read_code(read, here),
        TagFault::Empty
        | TagFault::Odd { .. }
        | TagFault::NotOurs { .. }
        | TagFault::UnknownForm { .. } => Typed::default(),
    };
    typed.reasons = vec![Reason::Tag(fault)];
    typed
}
