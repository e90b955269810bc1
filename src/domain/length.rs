//! Lengths, each with the unit it was read in.

use std::fmt;

/// Lengths as people type them.
mod reading;

pub use reading::BadLength;

/// A length in whole millimetres: the unit of every length that the registry computes with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Millimetres(pub i32);

/// The unit in which a number was read off a jacket or typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthUnit {
    /// Feet, as most jackets are printed.
    Feet,
    /// Metres.
    Metres,
}

/// The number printed on a jacket where the cable was cut, kept as it was read: the unit is that
/// of the print, and no conversion is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FootageMark {
    /// The printed number.
    pub value: u32,
    /// The unit of the print.
    pub unit: LengthUnit,
}

impl FootageMark {
    /// The highest number that is printed: marks run to five digits (common practice, no source).
    pub const HIGHEST: u32 = 99_999;

    /// The longest run that one box gives: 1000 ft, or 305 m (from memory).
    const LONGEST: Millimetres = Millimetres(305_000);

    /// The longest permanent link of category cable, from the panel to the jack: 90 m, or 295 ft
    /// (ANSI/TIA-568 and ISO/IEC 11801).
    pub const LONGEST_LINK: Millimetres = Millimetres(90_000);

    /// Whether one of two marks was hardly read right: no cable lies between them, more than a box
    /// holds, or they are of two units.
    #[must_use]
    pub fn is_doubtful_with(self, other: Self) -> bool {
        !matches!(self.span(other), Some(span) if span.0 > 0 && span <= Self::LONGEST)
    }

    /// The cable length between two marks of one print, whichever way the box counts; none when
    /// the two marks are in different units, since such a pair was misread.
    #[must_use]
    pub fn span(self, other: Self) -> Option<Millimetres> {
        (self.unit == other.unit).then(|| {
            let span = i64::from(self.value.abs_diff(other.value));
            // 1 ft = 304.8 mm exactly (international foot); kept in tenths to stay whole.
            let tenths = span
                * match self.unit {
                    LengthUnit::Feet => 3_048,
                    LengthUnit::Metres => 10_000,
                };
            Millimetres(i32::try_from((tenths + 5) / 10).unwrap_or(i32::MAX))
        })
    }
}

impl fmt::Display for FootageMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = match self.unit {
            LengthUnit::Feet => "ft",
            LengthUnit::Metres => "m",
        };
        write!(f, "{} {unit}", self.value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_span_is_exact_and_has_no_direction() {
        let mark = |value| FootageMark {
            value,
            unit: LengthUnit::Feet,
        };
        assert_eq!(mark(1000).span(mark(900)), Some(Millimetres(30_480)));
        assert_eq!(mark(900).span(mark(1000)), Some(Millimetres(30_480)));
        assert_eq!(
            mark(1).span(FootageMark {
                value: 1,
                unit: LengthUnit::Metres
            }),
            None
        );
    }

    #[test]
    fn a_pair_is_doubtful_beyond_what_a_box_holds() {
        let mark = |value, unit| FootageMark { value, unit };
        for (unit, apart, doubtful) in [
            (LengthUnit::Feet, 0, true),
            (LengthUnit::Feet, 1, false),
            (LengthUnit::Feet, 1000, false),
            (LengthUnit::Feet, 1001, true),
            (LengthUnit::Metres, 305, false),
            (LengthUnit::Metres, 306, true),
        ] {
            let (start, end) = (mark(4000, unit), mark(4000 - apart, unit));
            assert_eq!(start.is_doubtful_with(end), doubtful, "{apart} {unit:?}");
        }
        let feet = mark(4000, LengthUnit::Feet);
        assert!(feet.is_doubtful_with(mark(3900, LengthUnit::Metres)));
    }
}
