//! Photographs of open walls, and plans: what they show, and what can be seen where on them.
//!
//! The bytes of a picture lie apart, found by their digest.

use std::fmt;
use std::str::FromStr;

use super::ids::{CableId, FloorId, LooseEndId, OutletId, RoomId, ThingId};

/// SHA-256 of the bytes of a picture.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest(pub [u8; 32]);

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// A text that is no digest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BadDigest;

impl FromStr for Digest {
    type Err = BadDigest;

    /// Reads 64 hexadecimal digits in lower case, the only spelling there is.
    fn from_str(text: &str) -> Result<Self, BadDigest> {
        let value = |digit: u8| match digit {
            b'0'..=b'9' => Ok(digit - b'0'),
            b'a'..=b'f' => Ok(digit - b'a' + 10),
            _ => Err(BadDigest),
        };
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return Err(BadDigest);
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            *byte = value(pair[0])? * 16 + value(pair[1])?;
        }
        Ok(Self(bytes))
    }
}

/// What a picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shows {
    /// The open wall at an outlet.
    Outlet(OutletId),
    /// A room.
    Room(RoomId),
    /// A loose end.
    LooseEnd(LooseEndId),
    /// The plan of a floor.
    Plan(FloorId),
}

impl Shows {
    /// The thing that is shown.
    #[must_use]
    pub fn thing(self) -> ThingId {
        match self {
            Self::Outlet(id) => id.0,
            Self::Room(id) => id.0,
            Self::LooseEnd(id) => id.0,
            Self::Plan(id) => id.0,
        }
    }
}

/// What is seen at a point of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Seen {
    /// A cable.
    Cable(CableId),
    /// An outlet.
    Outlet(OutletId),
}

impl Seen {
    /// The thing that is seen.
    #[must_use]
    pub fn thing(self) -> ThingId {
        match self {
            Self::Cable(id) => id.0,
            Self::Outlet(id) => id.0,
        }
    }
}

/// A place on a picture, in ten-thousandths of its width from the left and of its height from above,
/// so that it holds at whatever size the picture is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spotted {
    /// From the left.
    pub x: u16,
    /// From above.
    pub y: u16,
}

impl Spotted {
    /// The whole width or height.
    pub const WHOLE: u16 = 10_000;

    /// A place; none outside the picture.
    #[must_use]
    pub fn new(x: u16, y: u16) -> Option<Self> {
        (x <= Self::WHOLE && y <= Self::WHOLE).then_some(Self { x, y })
    }
}

/// Something that is seen at a place of a picture.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// What.
    pub what: Seen,
    /// Where on the picture.
    pub at: Spotted,
    /// How far it is from what, in words, as read from a tape held there.
    pub offset: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_digest_has_one_spelling() {
        // SHA-256 of the empty message, FIPS 180-4 example values.
        let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        let digest: Digest = empty.parse().expect("a digest");
        assert_eq!(digest.to_string(), empty);
        for bad in [&empty.to_uppercase(), &empty[1..], &format!("{empty}0"), ""] {
            assert_eq!(bad.parse::<Digest>(), Err(BadDigest));
        }
    }

    #[test]
    fn a_place_lies_on_the_picture() {
        assert!(Spotted::new(0, Spotted::WHOLE).is_some());
        assert!(Spotted::new(Spotted::WHOLE + 1, 0).is_none());
    }
}
