//! The short keys on a tag: which job, and which pull.

use std::fmt;

use sha2::{Digest, Sha256};

use crate::domain::ids::{JobId, PullId, ThingId};

/// The 32 characters that ids are written in (Crockford 2019): no I, L, O, U.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// The first character of the marks of places, which no pull's mark has.
pub(super) const PLACE: char = 'Z';
/// The mark of an outlet, in the wall.
pub(super) const OUTLET: &str = "ZW";
/// The mark of a panel.
pub(super) const PANEL: &str = "ZP";
/// The mark of a telecom space.
pub(super) const SPACE: &str = "ZS";
/// The mark of a conduit.
pub(super) const CONDUIT: &str = "ZC";
/// The mark of a box or spool.
pub(super) const BOX: &str = "ZB";

/// The five characters that tell jobs apart on a tag.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobKey([u8; 5]);

impl JobKey {
    /// The key of a job.
    #[must_use]
    pub fn of(job: JobId) -> Self {
        let mut key = [b'0'; 5];
        for (place, byte) in key.iter_mut().zip(job.key().bytes()) {
            *place = byte;
        }
        Self(key)
    }

    pub(super) fn new(text: &str) -> Option<Self> {
        of_the_alphabet(text).map(Self)
    }
}

impl fmt::Display for JobKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_characters(&self.0, f)
    }
}

impl fmt::Debug for JobKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// The two characters that tell the copper of a run from what it had before a re-pull.
///
/// They are ten bits of the SHA-256 of the pull id's text, in base 32, the first character from
/// the higher bits: the first ten bits, or where those give a Z in front, the next ten, and so
/// on. There are 992 marks, so one re-pull in 992 repeats the mark of the pull before it. Two
/// different marks are always two different pulls.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PullMark([u8; 2]);

impl PullMark {
    /// The mark of a pull.
    #[must_use]
    pub fn of(pull: PullId) -> Self {
        let digest = Sha256::digest(ThingId::from(pull).to_string());
        // Four draws of ten bits stand in five bytes; two bytes of the 32 are left over.
        digest
            .chunks_exact(5)
            .flat_map(draws)
            .find(|mark| char::from(mark[0]) != PLACE)
            // All 24 draws begin with Z once in 32^24 ids.
            .map_or(Self([b'0'; 2]), Self)
    }

    pub(super) fn new(text: &str) -> Option<Self> {
        if text.starts_with(PLACE) {
            return None;
        }
        of_the_alphabet(text).map(Self)
    }
}

impl fmt::Display for PullMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_characters(&self.0, f)
    }
}

impl fmt::Debug for PullMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// The four pairs of characters in forty bits.
fn draws(bytes: &[u8]) -> [[u8; 2]; 4] {
    let bits = bytes
        .iter()
        .fold(0_u64, |sum, byte| (sum << 8) | u64::from(*byte));
    let character = |shift: u32| ALPHABET[((bits >> shift) & 31) as usize];
    [35, 25, 15, 5].map(|shift| [character(shift), character(shift - 5)])
}

fn of_the_alphabet<const N: usize>(text: &str) -> Option<[u8; N]> {
    let bytes: [u8; N] = text.as_bytes().try_into().ok()?;
    bytes
        .iter()
        .all(|byte| ALPHABET.contains(byte))
        .then_some(bytes)
}

fn write_characters(bytes: &[u8], f: &mut fmt::Formatter<'_>) -> fmt::Result {
    bytes
        .iter()
        .try_for_each(|byte| write!(f, "{}", char::from(*byte)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::ids::Bits80;

    fn pull(n: u32) -> PullId {
        PullId(ThingId {
            origin: Bits80(*b"HelloHello"),
            n,
            index: 0,
        })
    }

    #[test]
    fn forty_bits_are_four_pairs() {
        // Crockford 2019, check-sheet vector: "Hello" is 91JPRV3F.
        assert_eq!(draws(b"Hello"), [*b"91", *b"JP", *b"RV", *b"3F"]);
    }

    #[test]
    fn no_pull_has_the_mark_of_a_place() {
        let marks: Vec<String> = (1..=4000)
            .map(|n| PullMark::of(pull(n)).to_string())
            .collect();
        for mark in &marks {
            assert!(!mark.starts_with(PLACE), "{mark}");
            assert_eq!(
                PullMark::new(mark).map(|m| m.to_string()).as_ref(),
                Some(mark)
            );
        }
        // All other first characters turn up, so the draw does not favour a few.
        let firsts: crate::domain::sorted::SortedSet<u8> =
            marks.iter().map(|mark| mark.as_bytes()[0]).collect();
        assert_eq!(firsts.len(), 31);
        for place in [OUTLET, PANEL, SPACE, CONDUIT, BOX] {
            assert_eq!(PullMark::new(place), None, "{place}");
        }
    }

    #[test]
    fn the_key_of_a_job_is_the_head_of_its_id() {
        let key = JobKey::of(JobId(Bits80(*b"HelloHello")));
        assert_eq!(key.to_string(), "91JPR");
        assert_eq!(JobKey::new("91JPR"), Some(key));
        for text in ["91JP", "91JPRV", "91JPI", "91jpr", "91JPé"] {
            assert_eq!(JobKey::new(text), None, "{text}");
        }
    }
}
