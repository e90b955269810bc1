//! Lengths as people type them on site: `4'6"`, `18 in`, `1.2 m`, `30 cm`, `5 ft 3 1/2`.
//!
//! A number without a unit is read by the unit that the person works with: in feet it is inches,
//! because heights of boxes are given so; in metres it is metres, and a number that would then be
//! higher than a storey is refused with a question rather than guessed at.

use std::fmt;

use super::{LengthUnit, Millimetres};

/// Micrometres in an inch: exactly so (international yard and pound agreement of 1959).
const INCH: i64 = 25_400;
/// Micrometres in a foot, which is twelve inches.
const FOOT: i64 = 304_800;
/// Micrometres in a metre.
const METRE: i64 = 1_000_000;
/// What a typed length may be at most, in micrometres. Longer ones are slips of the finger.
const LONGEST: i64 = 10_000 * METRE;
/// What a bare number in metres may be at most: no box hangs higher in a room.
const HIGHEST_BARE: i64 = 10 * METRE;
/// How many digits a typed number may have.
const DIGITS: usize = 9;

/// A text that is no length, with the reason in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadLength {
    /// What was given.
    pub text: String,
    /// What is wrong with it and what to write, as the end of a sentence.
    pub reason: &'static str,
}

impl fmt::Display for BadLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” {}", self.text, self.reason)
    }
}

/// One step of a typed length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    Number(Ratio),
    /// Micrometres in one of this unit.
    Unit(i64),
    Over,
}

/// A typed number, exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Ratio {
    over: i64,
    under: i64,
}

impl Millimetres {
    /// Reads a typed length. Feet and inches may stand together in all the usual ways, and so may
    /// metres and centimetres; fractions may be typed as `1/2` or `½`, the decimal sign may be a
    /// point or a comma.
    ///
    /// # Errors
    /// When it is no length, or it cannot be told which one is meant.
    pub fn read(text: &str, unit: LengthUnit) -> Result<Self, BadLength> {
        let bad = |reason| BadLength {
            text: text.trim().to_owned(),
            reason,
        };
        let example = match unit {
            LengthUnit::Feet => "is no length. Write it like 18 in, 4' 6\" or 1.2 m.",
            LengthUnit::Metres => "is no length. Write it like 1.2 m, 30 cm or 450 mm.",
        };
        let parts = parts(text).ok_or_else(|| bad(example))?;
        let numbers = join_fractions(&parts).ok_or_else(|| bad(example))?;
        let micrometres = sum(&numbers, unit).ok_or_else(|| bad(example))?;
        let bare = !numbers.iter().any(|part| matches!(part, Part::Unit(_)));
        if bare && unit == LengthUnit::Metres && micrometres > HIGHEST_BARE {
            return Err(bad("could be centimetres or millimetres. Add cm or mm."));
        }
        if micrometres > LONGEST {
            return Err(bad("is longer than any cable here. Check the number."));
        }
        Ok(Self(
            i32::try_from(nearest(micrometres, 1_000)).unwrap_or(i32::MAX),
        ))
    }

    /// The length in the words of a unit: `4′ 6½″`, to the next eighth of an inch, or `1.375 m`.
    #[must_use]
    pub fn in_words(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Feet => feet_and_inches(self),
            LengthUnit::Metres => {
                let (metres, rest) = (self.0 / 1_000, (self.0 % 1_000).abs());
                let thousandths = format!("{rest:03}");
                let short = thousandths.trim_end_matches('0');
                if short.is_empty() {
                    format!("{metres} m")
                } else {
                    format!("{metres}.{short} m")
                }
            }
        }
    }

    /// The length of a run in whole feet or tenths of a metre, as fits a mark read to the foot.
    #[must_use]
    pub fn of_run(self, unit: LengthUnit) -> String {
        let micrometres = i64::from(self.0) * 1_000;
        match unit {
            LengthUnit::Feet => format!("{} ft", nearest(micrometres, FOOT)),
            LengthUnit::Metres => {
                let tenths = nearest(micrometres, METRE / 10);
                format!("{}.{} m", tenths / 10, (tenths % 10).abs())
            }
        }
    }
}

/// The whole number of `units` that comes nearest.
fn nearest(length: i64, unit: i64) -> i64 {
    (length + unit / 2).div_euclid(unit)
}

fn feet_and_inches(length: Millimetres) -> String {
    let eighths = nearest(i64::from(length.0) * 1_000, INCH / 8);
    let (feet, rest) = (eighths / 96, eighths % 96);
    let fraction = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"][(rest % 8).unsigned_abs() as usize];
    let inches = match (rest / 8, fraction) {
        (0, "") => "0".to_owned(),
        (0, fraction) => fraction.to_owned(),
        (whole, fraction) => format!("{whole}{fraction}"),
    };
    match (feet, inches.as_str()) {
        (0, inches) => format!("{inches}″"),
        (feet, "0") => format!("{feet}′"),
        (feet, inches) => format!("{feet}′ {inches}″"),
    }
}

/// Reads digits with at most one decimal sign.
fn number(text: &str) -> Option<Ratio> {
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let digits = format!("{whole}{decimals}");
    if digits.is_empty() || digits.len() > DIGITS || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    Some(Ratio {
        over: digits.parse().ok()?,
        under: 10_i64.pow(u32::try_from(decimals.len()).ok()?),
    })
}

/// Takes a text apart into numbers and units; none when anything else stands in it.
fn parts(text: &str) -> Option<Vec<Part>> {
    let lower = text.to_lowercase().replace("''", "\"");
    let mut rest = lower.as_str();
    let mut parts = Vec::new();
    while let Some(first) = rest.chars().next() {
        let after = &rest[first.len_utf8()..];
        if first.is_ascii_digit() || (matches!(first, '.' | ',') && starts_with_digit(after)) {
            let end = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
            let (typed, more) = rest.split_at(end.unwrap_or(rest.len()));
            parts.push(Part::Number(number(typed.trim_end_matches(['.', ',']))?));
            rest = more;
        } else if let Some(value) = fraction(first) {
            parts.push(Part::Number(value));
            rest = after;
        } else if let Some((unit, more)) = unit(rest) {
            parts.push(Part::Unit(unit));
            rest = more;
        } else if matches!(first, '/' | '⁄') {
            parts.push(Part::Over);
            rest = after;
        } else if first.is_whitespace() || (first == '-' && !parts.is_empty()) {
            // `4'-6"` is how drawings part feet and inches; a dash in front would be a sign.
            rest = after;
        } else {
            return None;
        }
    }
    Some(parts)
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

fn fraction(character: char) -> Option<Ratio> {
    let eighths = match character {
        '½' => 4,
        '¼' => 2,
        '¾' => 6,
        '⅛' => 1,
        '⅜' => 3,
        '⅝' => 5,
        '⅞' => 7,
        _ => return None,
    };
    Some(Ratio {
        over: eighths,
        under: 8,
    })
}

/// The unit that a text begins with, in micrometres, and what follows it.
fn unit(text: &str) -> Option<(i64, &str)> {
    const UNITS: [(&str, i64); 25] = [
        ("inches", INCH),
        ("inch", INCH),
        ("in.", INCH),
        ("in", INCH),
        ("\"", INCH),
        ("″", INCH),
        ("”", INCH),
        ("“", INCH),
        ("feet", FOOT),
        ("foot", FOOT),
        ("ft.", FOOT),
        ("ft", FOOT),
        ("'", FOOT),
        ("′", FOOT),
        ("’", FOOT),
        ("‘", FOOT),
        ("millimetres", METRE / 1_000),
        ("millimeters", METRE / 1_000),
        ("mm", METRE / 1_000),
        ("centimetres", METRE / 100),
        ("centimeters", METRE / 100),
        ("cm", METRE / 100),
        ("metres", METRE),
        ("meters", METRE),
        ("m", METRE),
    ];
    let found = UNITS
        .iter()
        .find_map(|(word, value)| Some((*value, text.strip_prefix(word)?)))?;
    let goes_on = found.1.starts_with(char::is_alphabetic);
    (!goes_on).then_some(found)
}

/// Brings `1/2` to one number, and `3 1/2` too.
fn join_fractions(parts: &[Part]) -> Option<Vec<Part>> {
    let mut joined: Vec<Part> = Vec::new();
    let mut at = 0;
    while let Some(part) = parts.get(at) {
        let part = match (part, parts.get(at + 1), parts.get(at + 2)) {
            (Part::Number(over), Some(Part::Over), Some(Part::Number(under))) => {
                at += 2;
                Part::Number(over.over(*under)?)
            }
            (Part::Over, ..) => return None,
            (part, ..) => *part,
        };
        match (joined.last_mut(), part) {
            (Some(Part::Number(whole)), Part::Number(less))
                if less.over < less.under && whole.under == 1 =>
            {
                *whole = Ratio {
                    over: whole.over * less.under + less.over,
                    under: less.under,
                };
            }
            _ => joined.push(part),
        }
        at += 1;
    }
    Some(joined)
}

impl Ratio {
    /// One whole number over another.
    fn over(self, other: Self) -> Option<Self> {
        (self.under == 1 && other.under == 1 && other.over > 0).then_some(Self {
            over: self.over,
            under: other.over,
        })
    }
}

/// Adds the parts up, each in a smaller unit than the one before.
fn sum(parts: &[Part], unit: LengthUnit) -> Option<i64> {
    let bare = match unit {
        LengthUnit::Feet => INCH,
        LengthUnit::Metres => METRE,
    };
    let mut total: i64 = 0;
    let mut last: Option<i64> = None;
    let mut rest = parts;
    while let [Part::Number(number), more @ ..] = rest {
        let (size, more) = match (more, last) {
            ([Part::Unit(size), more @ ..], _) => (*size, more),
            // What follows feet without a unit is inches, what follows metres centimetres.
            ([], Some(FOOT)) => (INCH, more),
            ([], Some(METRE)) => (METRE / 100, more),
            ([], None) => (bare, more),
            // Two bare numbers: feet and inches.
            ([Part::Number(_)], None) if unit == LengthUnit::Feet => (FOOT, more),
            _ => return None,
        };
        if last.is_some_and(|last| size >= last) {
            return None;
        }
        let part = number.over.checked_mul(size)?;
        total = total.checked_add(nearest(part, number.under))?;
        last = Some(size);
        rest = more;
    }
    (rest.is_empty() && last.is_some()).then_some(total)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_people_type_them() {
        // 1 in = 25.4 mm and 1 ft = 304.8 mm exactly (international yard and pound, 1959).
        for (text, millimetres) in [
            ("18", 457),
            ("18 in", 457),
            ("18\"", 457),
            ("18''", 457),
            ("1'6\"", 457),
            ("1' 6", 457),
            ("1 ft 6 in", 457),
            ("1ft6", 457),
            ("1′ 6″", 457),
            ("1’6”", 457),
            ("1'-6\"", 457),
            ("1 6", 457),
            ("1.5 ft", 457),
            ("1,5 ft", 457),
            ("1 1/2 ft", 457),
            ("1½ ft", 457),
            ("4' 6 1/2\"", 1384),
            ("4' 6½\"", 1384),
            ("1/2", 13),
            ("3 1/2", 89),
            ("6 Feet", 1829),
            ("0", 0),
            ("1.2 m", 1200),
            ("30 cm", 300),
            ("450mm", 450),
            ("1 m 20 cm", 1200),
            ("1m20", 1200),
            (".5 m", 500),
        ] {
            let read = Millimetres::read(text, LengthUnit::Feet);
            assert_eq!(read, Ok(Millimetres(millimetres)), "{text}");
        }
    }

    #[test]
    fn a_bare_number_follows_the_unit_in_use() {
        let read = |text| Millimetres::read(text, LengthUnit::Metres);
        assert_eq!(read("1.2"), Ok(Millimetres(1200)));
        assert_eq!(read("1,05"), Ok(Millimetres(1050)));
        assert_eq!(read("4'6\""), Ok(Millimetres(1372)));
        let refused = read("30").expect_err("thirty of what?");
        assert_eq!(
            refused.to_string(),
            "“30” could be centimetres or millimetres. Add cm or mm."
        );
    }

    #[test]
    fn what_is_no_length_is_refused() {
        for text in [
            "",
            "high",
            "-3",
            "6 in 4 ft",
            "4 ft 5 ft",
            "1/0",
            "/2",
            "1/",
            "1 2 3",
            "4 mice",
            "1..2",
            "99999999 m",
            "12 in 3",
        ] {
            for unit in [LengthUnit::Feet, LengthUnit::Metres] {
                assert!(Millimetres::read(text, unit).is_err(), "{text}");
            }
        }
    }

    #[test]
    fn what_is_shown_reads_back() {
        for (millimetres, feet, metres) in [
            (0, "0″", "0 m"),
            (457, "1′ 6″", "0.457 m"),
            (1384, "4′ 6½″", "1.384 m"),
            (305, "1′", "0.305 m"),
            (13, "½″", "0.013 m"),
            (1200, "3′ 11¼″", "1.2 m"),
        ] {
            let length = Millimetres(millimetres);
            assert_eq!(length.in_words(LengthUnit::Feet), feet);
            assert_eq!(length.in_words(LengthUnit::Metres), metres);
        }
        for millimetres in (0..6_000).step_by(7) {
            let length = Millimetres(millimetres);
            let shown = length.in_words(LengthUnit::Feet);
            let back = Millimetres::read(&shown, LengthUnit::Feet).expect(&shown);
            // An eighth of an inch is 3.2 mm, so half of it and the rounding to whole millimetres.
            assert!((back.0 - length.0).abs() <= 2, "{shown}");
            let shown = length.in_words(LengthUnit::Metres);
            assert_eq!(Millimetres::read(&shown, LengthUnit::Metres), Ok(length));
        }
    }

    #[test]
    fn a_run_is_shown_to_the_foot() {
        assert_eq!(Millimetres(30_480).of_run(LengthUnit::Feet), "100 ft");
        assert_eq!(Millimetres(30_480).of_run(LengthUnit::Metres), "30.5 m");
    }
}
