//! A text from one phone to another without a file and without a network: a running series of QR
//! codes that one screen shows and the other camera reads, in any order.
//!
//! The text is deflated (RFC 1951 in the frame of RFC 1950), cut into numbered pieces, and each piece
//! with its check sum is written in Base45 (RFC 9285), whose characters are those of the QR
//! alphanumeric mode. What the text says is left to whoever packs and unpacks it.

use std::fmt;

use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::decompress_to_vec_zlib_with_limit;

/// One numbered piece.
mod frame;
/// The pieces that were read so far.
mod gathering;

pub use frame::{Fault, MARK, MOST_FRAMES};
use frame::{Frame, ROOM};
pub use gathering::{Gathering, Heard};

/// The longest text that is unpacked, in bytes: no series of codes is worth showing for more.
pub const LONGEST: usize = 32 << 20;

/// A text that would take more codes than anybody would wait for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooMany {
    /// How many codes it would take.
    pub codes: usize,
}

/// Why what was read is no text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Broken {
    /// It cannot be inflated, or is no UTF-8.
    Damaged,
    /// Inflated it is longer than [`LONGEST`].
    TooLong,
}

impl fmt::Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Damaged => {
                "All codes were read, and what is in them is damaged all the same. Have the other phone show them anew."
            }
            Self::TooLong => {
                "What is in these codes is longer than any job. Nothing of it was read. Check that it is the right phone."
            }
        })
    }
}

/// The texts of the codes that carry a text, in their order.
///
/// # Errors
/// When it takes more than [`MOST_FRAMES`].
pub fn pack(text: &str) -> Result<Vec<String>, TooMany> {
    let packed = compress_to_vec_zlib(text.as_bytes(), 9);
    let codes = packed.len().div_ceil(ROOM);
    let too_many = TooMany { codes };
    let of = u16::try_from(codes).map_err(|_| too_many)?;
    if of > MOST_FRAMES {
        return Err(too_many);
    }
    let series = frame::series(&packed);
    let pieces = (0..of).zip(packed.chunks(ROOM));
    let texts = pieces.map(|(at, bytes)| {
        let bytes = bytes.to_vec();
        let frame = Frame {
            series,
            at,
            of,
            bytes,
        };
        frame.print()
    });
    Ok(texts.collect())
}

/// The text that a whole series carried.
///
/// # Errors
/// When it is no text, or longer than a text may be.
pub fn unpack(packed: &[u8]) -> Result<String, Broken> {
    unpack_within(packed, LONGEST)
}

/// The text that a whole series carried, if it is no longer than so many bytes.
///
/// # Errors
/// When it is no text, or longer.
pub fn unpack_within(packed: &[u8], most: usize) -> Result<String, Broken> {
    use miniz_oxide::inflate::TINFLStatus;
    let bytes = decompress_to_vec_zlib_with_limit(packed, most).map_err(|fault| {
        if fault.status == TINFLStatus::HasMoreOutput {
            Broken::TooLong
        } else {
            Broken::Damaged
        }
    })?;
    String::from_utf8(bytes).map_err(|_| Broken::Damaged)
}
