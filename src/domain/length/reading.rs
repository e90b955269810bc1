//! Lengths as people type them on site: `4'6"`, `18 in`, `1.2 m`, `30 cm`, `5 ft 3 1/2`.
//!
//! A number without a unit is read by the unit that the person works with: in feet it is inches,
//! because heights of boxes are given so; in metres it is metres, and a number that would then be
//! higher than a storey is refused with a question rather than guessed at.

use std::fmt;

use super::{LengthUnit, Millimetres};

/// Millimetres in an inch: exactly so (international yard and pound agreement of 1959).
const INCH: f64 = 25.4;
/// Millimetres in a foot, which is twelve inches.
const FOOT: f64 = 304.8;
/// What a typed length may be at most. Longer ones are slips of the finger.
const LONGEST: f64 = 10_000_000.0;
/// What a bare number in metres may be at most: no box hangs higher in a room.
const HIGHEST_BARE: f64 = 10.0;

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
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    Number(f64),
    /// Millimetres in one of this unit.
    Unit(f64),
    Over,
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
        let millimetres = sum(&numbers, unit).ok_or_else(|| bad(example))?;
        let bare = !numbers.iter().any(|part| matches!(part, Part::Unit(_)));
        if bare && unit == LengthUnit::Metres && millimetres > HIGHEST_BARE * 1_000.0 {
            return Err(bad("could be centimetres or millimetres. Add cm or mm."));
        }
        if millimetres > LONGEST {
            return Err(bad("is longer than any cable here. Check the number."));
        }
        Ok(Self(millimetres.round() as i32))
    }

    /// The length in the words of a unit: `4′ 6½″`, to the next eighth of an inch, or `1.375 m`.
    #[must_use]
    pub fn in_words(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Feet => feet_and_inches(self),
            LengthUnit::Metres => {
                let metres = format!("{:.3}", f64::from(self.0) / 1_000.0);
                let short = metres.trim_end_matches('0').trim_end_matches('.');
                format!("{short} m")
            }
        }
    }

    /// The length of a run in whole feet or tenths of a metre, as fits a mark read to the foot.
    #[must_use]
    pub fn of_run(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Feet => format!("{:.0} ft", f64::from(self.0) / FOOT),
            LengthUnit::Metres => format!("{:.1} m", f64::from(self.0) / 1_000.0),
        }
    }
}

fn feet_and_inches(length: Millimetres) -> String {
    let eighths = (f64::from(length.0) / INCH * 8.0).round() as i64;
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

/// Takes a text apart into numbers and units; none when anything else stands in it.
fn parts(text: &str) -> Option<Vec<Part>> {
    let lower = text.to_lowercase().replace("''", "\"");
    let mut rest = lower.as_str();
    let mut parts = Vec::new();
    while let Some(first) = rest.chars().next() {
        let after = &rest[first.len_utf8()..];
        if first.is_ascii_digit() || (matches!(first, '.' | ',') && starts_with_digit(after)) {
            let end = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
            let (number, more) = rest.split_at(end.unwrap_or(rest.len()));
            let number = number.trim_end_matches(['.', ',']).replace(',', ".");
            parts.push(Part::Number(number.parse().ok()?));
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

fn fraction(character: char) -> Option<f64> {
    Some(match character {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

/// The unit that a text begins with, in millimetres, and what follows it.
fn unit(text: &str) -> Option<(f64, &str)> {
    const UNITS: [(&str, f64); 25] = [
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
        ("millimetres", 1.0),
        ("millimeters", 1.0),
        ("mm", 1.0),
        ("centimetres", 10.0),
        ("centimeters", 10.0),
        ("cm", 10.0),
        ("metres", 1_000.0),
        ("meters", 1_000.0),
        ("m", 1_000.0),
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
                (*under > 0.0).then_some(Part::Number(over / under))?
            }
            (Part::Over, ..) => return None,
            (part, ..) => *part,
        };
        match (joined.last_mut(), part) {
            (Some(Part::Number(whole)), Part::Number(less))
                if less < 1.0 && whole.fract() == 0.0 =>
            {
                *whole += less;
            }
            _ => joined.push(part),
        }
        at += 1;
    }
    Some(joined)
}

/// Adds the parts up, each in a smaller unit than the one before.
fn sum(parts: &[Part], unit: LengthUnit) -> Option<f64> {
    let bare = match unit {
        LengthUnit::Feet => INCH,
        LengthUnit::Metres => 1_000.0,
    };
    let mut total = 0.0;
    let mut last: Option<f64> = None;
    let mut rest = parts;
    while let [Part::Number(number), more @ ..] = rest {
        let (size, more) = match (more, last) {
            ([Part::Unit(size), more @ ..], _) => (*size, more),
            // What follows feet without a unit is inches, what follows metres centimetres.
            ([], Some(FOOT)) => (INCH, more),
            ([], Some(1_000.0)) => (10.0, more),
            ([], None) => (bare, more),
            // Two bare numbers: feet and inches.
            ([Part::Number(_)], None) if unit == LengthUnit::Feet => (FOOT, more),
            _ => return None,
        };
        if last.is_some_and(|last| size >= last) {
            return None;
        }
        total += number * size;
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
