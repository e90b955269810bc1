//! The check character of a tag: ISO/IEC 7064 MOD 37,36 over letters and digits.
//!
//! It catches every single wrong character, and all but 72 of the 45 360 cases of two
//! neighbours swapped: `1AH89` and `1AH98` share one. So a right check character is a strong
//! hint and no proof, and an answer still says in words what was found.

use std::fmt;

use crate::domain::text::visible;

/// The modulus of the additions; the doublings are taken modulo one more.
const MODULUS: u32 = 36;

/// The characters that are left out before counting, since people add and drop them freely.
pub const SEPARATORS: [char; 5] = [' ', '-', '/', '.', ':'];

/// Why a text has no check character.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Uncheckable {
    /// A character that is neither a letter, a digit nor a separator.
    Stray(char),
    /// No character is left beside the check character.
    TooShort,
}

impl fmt::Display for Uncheckable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Stray(character) => write!(
                f,
                "“{}” is neither a letter, a digit nor a separator",
                visible(&character.to_string())
            ),
            Self::TooShort => f.write_str("there is nothing to check"),
        }
    }
}

/// What a check character says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It fits the text before it.
    Right,
    /// It does not fit.
    Wrong {
        /// The one that would fit.
        expected: char,
        /// The one that is there, as a capital.
        found: char,
    },
}

/// The check character for a text, a digit or a capital letter.
///
/// Separators do not count, and small letters count as capitals.
///
/// # Errors
/// When the text has a character that is neither a letter, a digit nor a separator, or none
/// that counts.
pub fn check_character(text: &str) -> Result<char, Uncheckable> {
    let values = values(text)?;
    if values.is_empty() {
        return Err(Uncheckable::TooShort);
    }
    let product = values.into_iter().fold(MODULUS, step);
    Ok(character((MODULUS + 1 - product) % MODULUS))
}

/// Compares the last character of a text with the check character of what stands before it.
///
/// # Errors
/// When there is a character that is neither a letter, a digit nor a separator, or nothing
/// stands before the last.
pub fn verify(text: &str) -> Result<Verdict, Uncheckable> {
    let text = text.trim_end_matches(SEPARATORS);
    let Some(found) = text.chars().next_back() else {
        return Err(Uncheckable::TooShort);
    };
    value(found)?;
    let found = found.to_ascii_uppercase();
    let expected = check_character(&text[..text.len() - found.len_utf8()])?;
    Ok(if expected == found {
        Verdict::Right
    } else {
        Verdict::Wrong { expected, found }
    })
}

/// One step of the hybrid system: add modulo 36 with 36 in the place of 0, double modulo 37.
fn step(product: u32, value: u32) -> u32 {
    let sum = match (product + value) % MODULUS {
        0 => MODULUS,
        sum => sum,
    };
    sum * 2 % (MODULUS + 1)
}

fn values(text: &str) -> Result<Vec<u32>, Uncheckable> {
    text.chars()
        .filter(|character| !SEPARATORS.contains(character))
        .map(value)
        .collect()
}

/// The value of a digit or letter. Only ASCII counts: other alphabets have letters whose
/// capitals are ASCII, and a tag has none of them.
fn value(character: char) -> Result<u32, Uncheckable> {
    character
        .to_digit(MODULUS)
        .ok_or(Uncheckable::Stray(character))
}

fn character(value: u32) -> char {
    // The value is a remainder modulo 36, so it always has a character.
    char::from_digit(value, MODULUS)
        .unwrap_or_default()
        .to_ascii_uppercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn separators_and_case_do_not_count() {
        let plain = check_character("KIT2CHM26K4X");
        assert!(plain.is_ok());
        for text in ["kit2c hm26k4x", "KIT2-C HM26K4X", " K/I.T:2-C-HM26K4X "] {
            assert_eq!(check_character(text), plain, "{text}");
        }
    }

    #[test]
    fn what_cannot_be_checked_says_why() {
        assert_eq!(check_character(""), Err(Uncheckable::TooShort));
        assert_eq!(check_character(" - "), Err(Uncheckable::TooShort));
        assert_eq!(verify(""), Err(Uncheckable::TooShort));
        assert_eq!(verify("7"), Err(Uncheckable::TooShort));
        assert_eq!(verify("A15_"), Err(Uncheckable::Stray('_')));
        // The long s, whose capital is the S of ASCII, and a full-width digit.
        for stray in ['ſ', '１', '\u{202E}'] {
            let text = format!("KIT2{stray}");
            assert_eq!(check_character(&text), Err(Uncheckable::Stray(stray)));
            assert_eq!(verify(&text), Err(Uncheckable::Stray(stray)));
        }
        assert_eq!(
            Uncheckable::Stray('\u{202E}').to_string(),
            "“‹U+202E›” is neither a letter, a digit nor a separator"
        );
    }

    #[test]
    fn a_wrong_character_is_told_with_the_right_one() {
        assert_eq!(verify("123AB-x"), Ok(Verdict::Right));
        let wrong = Verdict::Wrong {
            expected: 'X',
            found: 'Y',
        };
        assert_eq!(verify("123abY "), Ok(wrong));
    }
}
