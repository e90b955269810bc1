//! The codes that stand on tags, panels and plates, each its own checked type.

use std::fmt;

/// Letters that a label code may use: I, O, Q, S and Z are left out because a pen makes them
/// look like 1, 0, 0, 5 and 2.
pub const LETTERS: &[u8; 21] = b"ABCDEFGHJKLMNPRTUVWXY";

/// A text that does not fit the form of a code, with the reason in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadCode {
    /// What was given.
    pub text: String,
    /// What is wrong with it, as the end of a sentence.
    pub reason: &'static str,
}

impl fmt::Display for BadCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” {}", self.text, self.reason)
    }
}

fn bad(text: &str, reason: &'static str) -> BadCode {
    BadCode {
        text: text.to_owned(),
        reason,
    }
}

/// Up to `N` capital letters kept in place, so that codes are cheap to copy and compare.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Capitals<const N: usize> {
    bytes: [u8; N],
}

impl<const N: usize> Capitals<N> {
    fn new(text: &str, least: usize, reason: &'static str) -> Result<Self, BadCode> {
        let length = text.len();
        if length < least || length > N || !text.bytes().all(|b| b.is_ascii_uppercase()) {
            return Err(bad(text, reason));
        }
        let mut bytes = [0; N];
        bytes[..length].copy_from_slice(text.as_bytes());
        Ok(Self { bytes })
    }

    fn as_str(&self) -> &str {
        let length = self.bytes.iter().position(|b| *b == 0).unwrap_or(N);
        // Only capitals are ever stored, so this is always text.
        std::str::from_utf8(&self.bytes[..length]).unwrap_or_default()
    }
}

/// The short code of a room, two to five capital letters, unique in the job: `KIT`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RoomCode(Capitals<5>);

impl RoomCode {
    /// Checks a room code.
    ///
    /// # Errors
    /// When it is not two to five capital letters.
    pub fn new(text: &str) -> Result<Self, BadCode> {
        Capitals::new(
            text,
            2,
            "is not a room code: two to five capital letters, like KIT",
        )
        .map(Self)
    }

    /// The letters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        self.0.as_str()
    }
}

/// The number of an outlet in its room, 1 to 99.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutletNumber(u8);

impl OutletNumber {
    /// Checks an outlet number; none outside 1 to 99.
    #[must_use]
    pub fn new(number: u8) -> Option<Self> {
        (1..=99).contains(&number).then_some(Self(number))
    }

    /// The number.
    #[must_use]
    pub fn get(self) -> u8 {
        self.0
    }
}

/// The letter of a cable at its outlet: one of [`LETTERS`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Letter(u8);

impl Letter {
    /// Checks a cable letter; none for a letter that a pen makes ambiguous, or no letter.
    #[must_use]
    pub fn new(letter: char) -> Option<Self> {
        let byte = u8::try_from(letter).ok()?;
        LETTERS.contains(&byte).then_some(Self(byte))
    }

    /// The letter at a place in the sequence A, B, C … Y; none past the last.
    #[must_use]
    pub fn at(place: usize) -> Option<Self> {
        LETTERS.get(place).copied().map(Self)
    }

    /// All letters in order.
    pub fn all() -> impl Iterator<Item = Self> {
        LETTERS.iter().copied().map(Self)
    }

    /// The letter as a character.
    #[must_use]
    pub fn get(self) -> char {
        char::from(self.0)
    }
}

/// The code of an outlet: room and number, `KIT2`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutletCode {
    /// The room.
    pub room: RoomCode,
    /// The outlet in it.
    pub number: OutletNumber,
}

/// A telecom space as in TIA-606: floor number and letter, `1A`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SpaceCode {
    floor: u8,
    letters: Capitals<2>,
}

impl SpaceCode {
    /// Checks a space code.
    ///
    /// # Errors
    /// When the letters are not one or two capitals, or the floor has more than two digits.
    pub fn new(floor: u8, letters: &str) -> Result<Self, BadCode> {
        if floor > 99 {
            return Err(bad(&floor.to_string(), "is not a floor number: 0 to 99"));
        }
        let letters = Capitals::new(
            letters,
            1,
            "is not a space letter: one or two capitals, like A",
        )?;
        Ok(Self { floor, letters })
    }

    /// The floor.
    #[must_use]
    pub fn floor(self) -> u8 {
        self.floor
    }

    /// The letters that tell the spaces of one floor apart.
    #[must_use]
    pub fn letters(&self) -> &str {
        self.letters.as_str()
    }
}

/// The letters of a panel, unique through the whole job: `B`, `AB`.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct PanelLetters(Capitals<2>);

impl PanelLetters {
    /// Checks panel letters.
    ///
    /// # Errors
    /// When they are not one or two capital letters.
    pub fn new(text: &str) -> Result<Self, BadCode> {
        Capitals::new(
            text,
            1,
            "is not a panel letter: one or two capitals, like B",
        )
        .map(Self)
    }

    /// The letters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        self.0.as_str()
    }
}

impl Ord for PanelLetters {
    /// `B` stands before `AB`, as on the rack.
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        let key = |letters: &Self| (letters.as_str().len(), letters.0);
        key(self).cmp(&key(other))
    }
}

impl PartialOrd for PanelLetters {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

/// The number of a position on its panel, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PositionNumber(u16);

impl PositionNumber {
    /// Checks a position number; none outside 1 to 9999 (TIA-606: two to four digits).
    #[must_use]
    pub fn new(number: u16) -> Option<Self> {
        (1..=9999).contains(&number).then_some(Self(number))
    }

    /// The number.
    #[must_use]
    pub fn get(self) -> u16 {
        self.0
    }
}

/// The short name of a position: panel letters and at least two digits, `B07`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PositionCode {
    /// The panel.
    pub panel: PanelLetters,
    /// The position on it.
    pub number: PositionNumber,
}

/// The TIA-606 identifier of a horizontal link: space and position, `1A-B07`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LinkCode {
    /// The telecom space.
    pub space: SpaceCode,
    /// The position in it.
    pub position: PositionCode,
}

/// A leg of a split end, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LegNumber(u8);

impl LegNumber {
    /// The legs of an end with so many.
    pub fn up_to(self) -> impl Iterator<Item = Self> {
        (1..=self.0).map(Self)
    }

    /// Checks a leg number; none outside 1 to 16.
    #[must_use]
    pub fn new(number: u8) -> Option<Self> {
        (1..=16).contains(&number).then_some(Self(number))
    }

    /// The number.
    #[must_use]
    pub fn get(self) -> u8 {
        self.0
    }
}

/// The code of a cable run, as it stands on its tags.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LabelCode {
    /// A run that feeds an outlet: `KIT2-C`.
    Run {
        /// The outlet that it feeds.
        outlet: OutletCode,
        /// Its letter there.
        letter: Letter,
    },
    /// A tie line between two racks, in the form of a TIA-606 backbone cable: `1A/2A-1`.
    Tie {
        /// The space that comes first on the tag.
        near: SpaceCode,
        /// The other space.
        far: SpaceCode,
        /// Which of the ties between the two.
        number: u16,
    },
}

macro_rules! display_and_debug {
    ($($name:ty, |$value:ident, $f:ident| $body:expr;)*) => {$(
        impl fmt::Display for $name {
            fn fmt(&self, $f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let $value = self;
                $body
            }
        }
    )*};
    (debug $($name:ty),*) => {$(
        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(self, f)
            }
        }
    )*};
}

display_and_debug! {
    RoomCode, |code, f| f.write_str(code.as_str());
    Letter, |letter, f| write!(f, "{}", letter.get());
    OutletCode, |code, f| write!(f, "{}{}", code.room, code.number.get());
    SpaceCode, |code, f| write!(f, "{}{}", code.floor, code.letters());
    PanelLetters, |letters, f| f.write_str(letters.as_str());
    PositionCode, |code, f| write!(f, "{}{:02}", code.panel, code.number.get());
    LinkCode, |code, f| write!(f, "{}-{}", code.space, code.position);
    LabelCode, |code, f| match code {
        Self::Run { outlet, letter } => write!(f, "{outlet}-{letter}"),
        Self::Tie { near, far, number } => write!(f, "{near}/{far}-{number}"),
    };
}
display_and_debug!(debug RoomCode, Letter, OutletCode, SpaceCode, PanelLetters, PositionCode, LinkCode, LabelCode);

/// What stands before the number of a conduit in its code.
pub const CONDUIT: &str = "CD";

/// What stands before the number of a box or spool in its code.
pub const BOX: &str = "BOX";

/// The code of the conduit of this number: `CD1`.
#[must_use]
pub fn conduit_code(number: u16) -> String {
    format!("{CONDUIT}{number}")
}

/// The code of the box or spool of this number: `BOX3`.
#[must_use]
pub fn box_code(number: u16) -> String {
    format!("{BOX}{number}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::order::Order;

    #[test]
    fn panels_sort_as_they_are_lettered() {
        let mut letters: Vec<_> = ["AB", "B", "AA", "A"]
            .map(|text| PanelLetters::new(text).expect("letters"))
            .into();
        letters.put_in_order();
        assert_eq!(format!("{letters:?}"), "[A, B, AA, AB]");
    }

    #[test]
    fn ambiguous_letters_are_not_cable_letters() {
        for letter in "IOQSZaz1".chars() {
            assert_eq!(Letter::new(letter), None, "{letter}");
        }
        assert_eq!(Letter::all().count(), 21);
    }
}
