//! The square matrix of a QR code (ISO/IEC 18004) for a text.

use std::fmt;

use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};

/// The light border that a reader needs on every side, in modules (ISO/IEC 18004).
pub const QUIET_ZONE: usize = 4;

/// How much of a symbol may be spoilt, of the levels that tags use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// About 15 % of the codewords.
    M,
    /// About 25 % of the codewords.
    Q,
}

/// A text too long for any QR code at level M.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong {
    /// How many characters the text has.
    pub length: usize,
}

impl fmt::Display for TooLong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} characters are too many for one QR code. Use a shorter text.",
            self.length
        )
    }
}

/// The modules of a QR code, without the light border round it.
#[derive(Clone, PartialEq, Eq)]
pub struct Matrix {
    size: usize,
    level: Level,
    /// Row by row from the top left; true is dark.
    modules: Vec<bool>,
}

impl Matrix {
    /// Makes the smallest symbol for a text, and at that size the stronger level that fits: the
    /// size of a module decides on a small tag whether it scans, more than the level does. So
    /// version 1 at Q, version 1 at M, version 2 at Q, and so on.
    ///
    /// # Errors
    /// When the text does not fit into the largest symbol.
    pub fn of(text: &str) -> Result<Self, TooLong> {
        // One mode for the whole text, the most compact that has all its characters.
        let segments = QrSegment::make_segments(text);
        Self::smallest(&segments, None).ok_or_else(|| TooLong {
            length: text.chars().count(),
        })
    }

    /// How many modules a side of the symbol of a text has, without the quiet zone; none when the text
    /// does not fit into the largest. It is a ninth of the work of making the symbol.
    #[must_use]
    pub fn size_for(text: &str) -> Option<usize> {
        let segments = QrSegment::make_segments(text);
        let any = Some(Mask::new(0));
        Self::smallest(&segments, any).map(|matrix| matrix.size)
    }

    fn smallest(segments: &[QrSegment], mask: Option<Mask>) -> Option<Self> {
        (Version::MIN.value()..=Version::MAX.value())
            .flat_map(|version| [(version, Level::Q), (version, Level::M)])
            .find_map(|(version, level)| Self::at(segments, version, level, mask))
    }

    fn at(segments: &[QrSegment], version: u8, level: Level, mask: Option<Mask>) -> Option<Self> {
        let correction = match level {
            Level::M => QrCodeEcc::Medium,
            Level::Q => QrCodeEcc::Quartile,
        };
        let version = Version::new(version);
        // The last argument would raise the level where there is room, which is decided above.
        let code =
            QrCode::encode_segments_advanced(segments, correction, version, version, mask, false)
                .ok()?;
        let side = code.size();
        let size = usize::try_from(side).ok()?;
        let mut modules = Vec::with_capacity(size * size);
        for y in 0..side {
            modules.extend((0..side).map(|x| code.get_module(x, y)));
        }
        Some(Self {
            size,
            level,
            modules,
        })
    }

    /// How many modules a side has, without the quiet zone: 17 and 4 for each version.
    #[must_use]
    pub fn size(&self) -> usize {
        self.size
    }

    /// The version, from 1, which is another name for the size.
    #[must_use]
    pub fn version(&self) -> usize {
        (self.size - 17) / 4
    }

    /// How much of the symbol may be spoilt.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// Whether the module in column `x` and row `y`, from the top left, is dark. Everything
    /// outside is light, as the quiet zone is.
    #[must_use]
    pub fn dark(&self, x: usize, y: usize) -> bool {
        x < self.size && y < self.size && self.modules[y * self.size + x]
    }
}

impl fmt::Debug for Matrix {
    /// Draws the symbol, so that a failed test can be seen.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "version {} at {:?}", self.version(), self.level)?;
        for row in self.modules.chunks(self.size) {
            let line: String = row
                .iter()
                .map(|dark| if *dark { "██" } else { "  " })
                .collect();
            writeln!(f, "{line}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outside_is_light() {
        let matrix = Matrix::of("KIT2").expect("short");
        // The corner of a finder pattern, and beyond it.
        assert!(matrix.dark(20, 0));
        assert!(!matrix.dark(21, 0));
        assert!(!matrix.dark(0, 21));
        assert!(!matrix.dark(usize::MAX, 3));
    }

    #[test]
    fn a_text_too_long_is_refused() {
        let fault = Matrix::of(&"a".repeat(2332)).expect_err("no room");
        assert_eq!(fault, TooLong { length: 2332 });
        assert!(Matrix::of(&"a".repeat(2331)).is_ok());
    }
}
