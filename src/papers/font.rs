//! The two typefaces of every paper: Helvetica and its bold, which every viewer of PDF has.
//!
//! Their characters are those of `WinAnsiEncoding` (ISO 32000-1, annex D), and their widths those of
//! the Adobe Core 14 font metrics, so that what is measured here is what is printed.

use crate::tags::{Microns, code_of};

/// One of the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Font {
    /// For words.
    Plain,
    /// For codes.
    Bold,
}

/// The height of capitals, in thousandths of the size (Adobe Core 14 font metrics: 718 for both).
pub const CAPITALS: i32 = 718;

/// What a viewer's own version of the typeface may be wider, in thousandths.
const SLACK: i64 = 30;

impl Font {
    /// The width of a text at a size, with what a viewer's own version may be wider.
    #[must_use]
    pub fn width(self, text: &str, size: Microns) -> Microns {
        let thousandths = self.thousandths(text);
        let width = thousandths * i64::from(size.0) * (1000 + SLACK) / 1_000_000;
        Microns(i32::try_from(width).unwrap_or(i32::MAX))
    }

    /// The width of a text in thousandths of its size, with nothing added.
    #[must_use]
    pub fn thousandths(self, text: &str) -> i64 {
        text.chars()
            .map(|character| self.character(character))
            .sum()
    }

    /// The width of a character in thousandths of the size.
    #[must_use]
    pub fn character(self, character: char) -> i64 {
        let widths = match self {
            Self::Plain => &PLAIN,
            Self::Bold => &BOLD,
        };
        let code = code_of(character).and_then(|code| code.checked_sub(32));
        let width = code.and_then(|at| widths.get(usize::from(at)));
        i64::from(width.copied().unwrap_or(0))
    }

    /// How many thousandths of a size a width has room for.
    #[must_use]
    pub fn room(self, size: Microns, width: Microns) -> i64 {
        i64::from(width.0) * 1_000_000 / (i64::from(size.0.max(1)) * (1000 + SLACK))
    }

    /// The largest size up to `most` at which a text is no wider than `room`.
    #[must_use]
    pub fn size_for(self, text: &str, room: Microns, most: Microns) -> Microns {
        let thousandths = self.thousandths(text).max(1);
        let size = i64::from(room.0) * 1_000_000 / (thousandths * (1000 + SLACK));
        Microns(i32::try_from(size).unwrap_or(i32::MAX).min(most.0))
    }
}

/// Widths of the codes from 32 up.
const PLAIN: [u16; 224] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
    0, 556, 0, 222, 556, 333, 1000, 556, 556, 333, 1000, 667, 333, 1000, 0, 611, 0, 0, 222, 222,
    333, 333, 350, 556, 1000, 333, 1000, 500, 333, 944, 0, 500, 667, 278, 333, 556, 556, 556, 556,
    260, 556, 333, 737, 370, 556, 584, 333, 737, 333, 400, 584, 333, 333, 333, 556, 537, 278, 333,
    333, 365, 556, 834, 834, 834, 611, 667, 667, 667, 667, 667, 667, 1000, 722, 667, 667, 667, 667,
    278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667,
    611, 556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278, 556, 556,
    556, 556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556, 500,
];

/// The same of the bold.
const BOLD: [u16; 224] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667,
    611, 778, 722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556,
    278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
    0, 556, 0, 278, 556, 500, 1000, 556, 556, 333, 1000, 667, 333, 1000, 0, 611, 0, 0, 278, 278,
    500, 500, 350, 556, 1000, 333, 1000, 556, 333, 944, 0, 500, 667, 278, 333, 556, 556, 556, 556,
    280, 556, 333, 737, 370, 556, 584, 333, 737, 333, 400, 584, 333, 333, 333, 611, 556, 278, 333,
    333, 365, 556, 834, 834, 834, 611, 722, 722, 722, 722, 722, 722, 1000, 722, 667, 667, 667, 667,
    278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667,
    611, 556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556, 278, 278, 278, 278, 611, 611,
    611, 611, 611, 611, 611, 584, 611, 611, 611, 611, 611, 556, 611, 556,
];
