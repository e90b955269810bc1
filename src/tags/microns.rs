//! Lengths on paper.

use std::fmt;

/// A length in whole micrometres, so that sums of labels and gaps stay exact on a page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Microns(pub i32);

impl Microns {
    /// A length in tenths of a millimetre.
    #[must_use]
    pub const fn tenths(tenths: i32) -> Self {
        Self(tenths * 100)
    }

    /// Reads millimetres as people type them: `25`, `25.4`, `25,4`, `25.4 mm`; none for anything
    /// else. What is under a micrometre is left away.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let text = text.strip_suffix("mm").unwrap_or(text).trim_end();
        let (sign, digits) = match text.strip_prefix('-') {
            Some(rest) => (-1, rest),
            None => (1, text),
        };
        let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
        let all_digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || !all_digits(whole) || !all_digits(part) {
            return None;
        }
        let whole: i32 = whole.parse().ok().filter(|whole| *whole <= 99_999)?;
        let mut micron = 0;
        for place in 0..3 {
            let digit = part.as_bytes().get(place).map_or(0, |digit| digit - b'0');
            micron = micron * 10 + i32::from(digit);
        }
        Some(Self(sign * (whole * 1000 + micron)))
    }
}

impl fmt::Display for Microns {
    /// Millimetres with as many places as there are, two at most: `25.4`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = (i64::from(self.0.unsigned_abs()) + 5) / 10;
        let (whole, part) = (hundredths / 100, hundredths % 100);
        if self.0 < 0 {
            f.write_str("-")?;
        }
        match (part, part % 10) {
            (0, _) => write!(f, "{whole}"),
            (_, 0) => write!(f, "{whole}.{}", part / 10),
            _ => write!(f, "{whole}.{part:02}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_are_read_as_people_type_them() {
        for (text, micron) in [
            ("25", 25_000),
            (" 25.4 mm ", 25_400),
            ("12,7", 12_700),
            ("0.0847", 84),
            ("-3", -3_000),
        ] {
            assert_eq!(Microns::read(text), Some(Microns(micron)), "{text}");
        }
        for text in ["", "mm", ".5", "1.2.3", "1e3", "25in", "999999", "٣"] {
            assert_eq!(Microns::read(text), None, "{text}");
        }
    }

    #[test]
    fn they_are_shown_in_hundredths_at_most() {
        for (micron, text) in [
            (25_400, "25.4"),
            (9_000, "9"),
            (335, "0.34"),
            (-1_250, "-1.25"),
        ] {
            assert_eq!(Microns(micron).to_string(), text);
        }
    }
}
