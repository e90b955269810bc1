//! One piece of a series: how it is written and read.
//!
//! `BOTHENDS1:` and, in Base45: four bytes that name the series, how many pieces there are, which of
//! them this is, from 0, each in two bytes with the greater first, the bytes of the piece, and four
//! bytes of check sum. Series and check sum are the first bytes of a SHA-256 (FIPS 180-4): over all
//! that the pieces carry, and over everything that stands before it.

use std::fmt;

use sha2::{Digest as _, Sha256};

/// What every piece begins with; the digit is the version.
pub const MARK: &str = "BOTHENDS1:";

/// What pieces of any version begin with.
const ANY: &str = "BOTHENDS";

/// How many codes a series has at most.
pub const MOST_FRAMES: u16 = 2000;

/// How many bytes a piece carries: what makes a symbol of version 13 at level M, 483 characters
/// (ISO/IEC 18004), which a camera reads from a screen at arm's length.
pub(super) const ROOM: usize = 302;

const HEAD: usize = 8;
const SUM: usize = 4;

/// The name of a series.
pub(super) type Series = [u8; 4];

/// One piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Frame {
    pub(super) series: Series,
    pub(super) at: u16,
    pub(super) of: u16,
    pub(super) bytes: Vec<u8>,
}

/// Why a text is no piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It does not look like one.
    NotOurs,
    /// A newer version of the program wrote it.
    Newer,
    /// It looks like one, and its check sum does not fit.
    Damaged,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotOurs => "This code is none of a series.",
            Self::Newer => {
                "The other phone has a newer version of this app, whose codes this one cannot read. Update the app here, or send a file."
            }
            Self::Damaged => "A code was read wrongly and is left out. It comes round again.",
        })
    }
}

/// The name of what the pieces carry together.
pub(super) fn series(packed: &[u8]) -> Series {
    first(&Sha256::digest(packed))
}

fn first(digest: &[u8]) -> [u8; 4] {
    let mut bytes = [0; 4];
    bytes.copy_from_slice(&digest[..4]);
    bytes
}

impl Frame {
    pub(super) fn print(&self) -> String {
        let mut bytes = Vec::with_capacity(HEAD + self.bytes.len() + SUM);
        bytes.extend(self.series);
        bytes.extend(self.of.to_be_bytes());
        bytes.extend(self.at.to_be_bytes());
        bytes.extend(&self.bytes);
        let sum = first(&Sha256::digest(&bytes));
        bytes.extend(sum);
        MARK.to_owned() + &base45::encode(bytes)
    }

    pub(super) fn read(text: &str) -> Result<Self, Fault> {
        let Some(rest) = text.strip_prefix(MARK) else {
            let newer = text.strip_prefix(ANY).is_some_and(|rest| {
                let version = rest.split_once(':').map_or("", |(version, _)| version);
                version.parse::<u16>().is_ok_and(|version| version > 1)
            });
            return Err(if newer { Fault::Newer } else { Fault::NotOurs });
        };
        let most = (HEAD + ROOM + SUM).div_ceil(2) * 3;
        if rest.len() > most {
            return Err(Fault::Damaged);
        }
        let bytes = base45::decode(rest).map_err(|_| Fault::Damaged)?;
        let (body, sum) = bytes.split_last_chunk::<SUM>().ok_or(Fault::Damaged)?;
        let (head, piece) = body.split_first_chunk::<HEAD>().ok_or(Fault::Damaged)?;
        let [a, b, c, d, of_high, of_low, at_high, at_low] = *head;
        let of = u16::from_be_bytes([of_high, of_low]);
        let at = u16::from_be_bytes([at_high, at_low]);
        // Every piece but the last is full.
        let is_last = of.checked_sub(1) == Some(at);
        let is_whole = piece.len() == ROOM || (is_last && !piece.is_empty());
        if first(&Sha256::digest(body)) != *sum || at >= of || of > MOST_FRAMES || !is_whole {
            return Err(Fault::Damaged);
        }
        Ok(Self {
            series: [a, b, c, d],
            at,
            of,
            bytes: piece.to_vec(),
        })
    }
}
