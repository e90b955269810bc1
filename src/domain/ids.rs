//! Identities: who wrote what, and which thing is meant.
//!
//! An id says nothing about a code or a name, which may change. It names the thing for ever.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::str::FromStr;

/// The sixteen characters of 80 bits in base 32, in the alphabet of Crockford (2019):
/// no I, L, O, U, so that an id read aloud or copied by hand survives.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// What each ASCII character is worth in it; none of the others.
const DIGITS: [Option<u8>; 128] = {
    let mut digits = [None; 128];
    let mut value = 0;
    while value < 32 {
        digits[ALPHABET[value] as usize] = Some(value as u8);
        value += 1;
    }
    digits
};

/// An id that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadId(pub String);

impl fmt::Display for BadId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is not an id", self.0)
    }
}

/// 80 random or derived bits, the root of every id.
#[derive(Clone, Copy)]
pub struct Bits80(pub [u8; 10]);

// Every fact that is taken in is looked up by ids many times, and two numbers are hashed and told apart faster
// than ten bytes and their count.
impl Hash for Bits80 {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let (most, rest) = self.numbers();
        state.write_u64(most);
        state.write_u16(rest);
    }
}

impl PartialEq for Bits80 {
    fn eq(&self, other: &Self) -> bool {
        self.numbers() == other.numbers()
    }
}

impl Eq for Bits80 {}

impl PartialOrd for Bits80 {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// In the order of the text form.
impl Ord for Bits80 {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.cmp(&other.0)
    }
}

impl Bits80 {
    /// The bits as two numbers, which order differently on machines of different kinds.
    fn numbers(self) -> (u64, u16) {
        let [a, b, c, d, e, f, g, h, rest @ ..] = self.0;
        let most = u64::from_ne_bytes([a, b, c, d, e, f, g, h]);
        (most, u16::from_ne_bytes(rest))
    }

    /// The first `count` characters of the text form.
    #[must_use]
    pub fn short(self, count: usize) -> String {
        let mut text = self.to_string();
        text.truncate(count);
        text
    }
}

impl fmt::Display for Bits80 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Two groups of five bytes give eight characters each.
        for group in self.0.chunks_exact(5) {
            let value = group
                .iter()
                .fold(0_u64, |sum, byte| (sum << 8) | u64::from(*byte));
            for place in (0..8).rev() {
                let digit = (value >> (place * 5)) & 31;
                write!(f, "{}", char::from(ALPHABET[digit as usize]))?;
            }
        }
        Ok(())
    }
}

impl fmt::Debug for Bits80 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Bits80 {
    type Err = BadId;

    fn from_str(text: &str) -> Result<Self, BadId> {
        let bad = || BadId(text.to_owned());
        let text = text.as_bytes();
        if text.len() != 16 {
            return Err(bad());
        }
        let mut bytes = [0; 10];
        for (group, out) in text.chunks_exact(8).zip(bytes.chunks_exact_mut(5)) {
            let mut value = 0_u64;
            for character in group {
                let digit = DIGITS.get(usize::from(*character)).copied().flatten();
                value = (value << 5) | u64::from(digit.ok_or_else(bad)?);
            }
            out.copy_from_slice(&value.to_be_bytes()[3..]);
        }
        Ok(Self(bytes))
    }
}

/// One opening of a job for writing: drawn anew each time, so that neither a restored profile,
/// a copied phone nor two tabs can repeat a writer and number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WriterId(pub Bits80);

/// A job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(pub Bits80);

impl JobId {
    /// The five characters that a tag carries to tell jobs apart.
    #[must_use]
    pub fn key(self) -> String {
        self.0.short(5)
    }
}

/// One act: the writer and its own running number, from 1.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ActId {
    /// Who wrote it.
    pub writer: WriterId,
    /// Its number among this writer's acts.
    pub n: u32,
}

impl fmt::Display for ActId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.writer.0, self.n)
    }
}

impl fmt::Debug for ActId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for ActId {
    type Err = BadId;

    fn from_str(text: &str) -> Result<Self, BadId> {
        let bad = || BadId(text.to_owned());
        // A writer has sixteen characters, always.
        let (writer, n) = text.split_at_checked(16).ok_or_else(bad)?;
        let n = n.strip_prefix('-').ok_or_else(bad)?;
        Ok(Self {
            writer: WriterId(writer.parse()?),
            n: number(n).ok_or_else(bad)?,
        })
    }
}

/// Reads a whole number that is written the one way it can be written.
fn number(text: &str) -> Option<u32> {
    if text.is_empty() || text.starts_with('0') && text != "0" {
        return None;
    }
    text.bytes().try_fold(0_u32, |sum, byte| {
        let digit = byte.is_ascii_digit().then(|| u32::from(byte - b'0'))?;
        sum.checked_mul(10)?.checked_add(digit)
    })
}

/// A thing in the registry: the act that added it and an index in that act; for a thing that an
/// import added, bits derived from job and file, and the row, so that the same schedule imported
/// on two phones gives one set of things.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ThingId {
    /// The writer, or the digest that stands in its place for an import.
    pub origin: Bits80,
    /// The act's number, or the row.
    pub n: u32,
    /// Which of the things that this act or row added.
    pub index: u32,
}

impl ThingId {
    /// The id of the thing number `index` that `act` adds.
    #[must_use]
    pub fn added_by(act: ActId, index: u32) -> Self {
        Self {
            origin: act.writer.0,
            n: act.n,
            index,
        }
    }
}

impl fmt::Display for ThingId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}-{}", self.origin, self.n, self.index)
    }
}

impl fmt::Debug for ThingId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for ThingId {
    type Err = BadId;

    fn from_str(text: &str) -> Result<Self, BadId> {
        let bad = || BadId(text.to_owned());
        let (act, index) = text.rsplit_once('-').ok_or_else(bad)?;
        let act: ActId = act.parse()?;
        Ok(Self {
            origin: act.writer.0,
            n: act.n,
            index: number(index).ok_or_else(bad)?,
        })
    }
}

/// Makes one id type per kind of thing, so that a room can never be taken for a rack.
macro_rules! thing_ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub ThingId);

        impl From<ThingId> for $name {
            fn from(id: ThingId) -> Self {
                Self(id)
            }
        }

        impl From<$name> for ThingId {
            fn from(id: $name) -> Self {
                id.0
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!(stringify!($name), "({})"), self.0)
            }
        }
    )*};
}

thing_ids! {
    /// A building or a unit (flat) of the job.
    UnitId;
    /// A floor.
    FloorId;
    /// A room.
    RoomId;
    /// An outlet type of the job's own.
    OutletTypeId;
    /// An outlet.
    OutletId;
    /// A cable run.
    CableId;
    /// One length of copper or glass that a run has been pulled with: the run itself for the
    /// first pull, a thing of its own for each re-pull.
    PullId;
    /// A jacket that holds several cables.
    JacketId;
    /// A rack, enclosure or board.
    RackId;
    /// A patch panel, terminal rail or punch block.
    PanelId;
    /// A device that cables land on without a panel.
    DeviceId;
    /// A splice, barrel, splitter or surge arrester.
    JointId;
    /// An end whose cable is not known yet.
    LooseEndId;
    /// A photograph or a plan.
    PictureId;
    /// A flexible tube for later pulls.
    ConduitId;
    /// A blank, a shelf or a cable guide in a rack.
    BlockId;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_prints_and_reads_back() {
        // Crockford 2019, check-sheet vector: "Hello" is 91JPRV3F.
        let bits = Bits80(*b"HelloHello");
        assert_eq!(bits.to_string(), "91JPRV3F91JPRV3F");
        assert_eq!("91JPRV3F91JPRV3F".parse(), Ok(bits));
        let id = ThingId {
            origin: bits,
            n: 12,
            index: 3,
        };
        assert_eq!(id.to_string(), "91JPRV3F91JPRV3F-12-3");
        assert_eq!(id.to_string().parse(), Ok(id));
        let act = ActId {
            writer: WriterId(bits),
            n: 7,
        };
        assert_eq!(act.to_string().parse(), Ok(act));
    }

    #[test]
    fn an_id_has_one_spelling() {
        for text in [
            "",
            "-",
            "91JPRV3F",
            "91JPRV3F91JPRV3F-012-3",
            "91JPRV3F91JPRV3F-+1-3",
            "91jprv3f91jprv3f-1-1",
        ] {
            assert!(text.parse::<ThingId>().is_err(), "{text}");
        }
    }
}
