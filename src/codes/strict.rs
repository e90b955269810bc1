//! Reads the printed forms of codes, and nothing else: what the program itself prints, and the
//! identifiers of TIA-606.
//!
//! Our own codes have one spelling. The digits of TIA-606 identifiers, which also come from
//! strips and plates that others lettered, may carry leading zeros: `1A-A15`, `1A-A015` and
//! `01A-A0015` name one position, and are printed as `1A-A15`, the shortest form of at least two
//! digits. A number stands for a position, so two that differ only in zeros cannot be told apart
//! on one panel.
//!
//! What a person types is read by [`crate::codes::typed`], which is forgiving.

use std::str::FromStr;

use super::leg::LegCode;
use crate::domain::label::{
    BadCode, LabelCode, LegNumber, Letter, LinkCode, OutletCode, OutletNumber, PanelLetters,
    PositionCode, PositionNumber, RoomCode, SpaceCode,
};

const NOT_OUTLET: &str = "is not an outlet: a room code and a number, like KIT2";
const NOT_RUN: &str = "is not a label code: an outlet, a dash and a letter, like KIT2-C";
const NOT_LETTER: &str = "has no cable letter after the dash: one capital, but not I, O, Q, S or Z";
const NOT_TIE: &str = "is not a tie line: two spaces and a number, like 1A/2A-1";
const NOT_TIE_NUMBER: &str =
    "has no number for the tie line: 1 to 65535 without leading zeros, as in 1A/2A-1";
const NOT_SPACE: &str = "is not a telecom space: a floor number and one or two letters, like 1A";
const NOT_POSITION: &str = "is not a position: panel letters and a number, like B07";
const NOT_PANEL: &str = "has no panel letters: one or two capitals, as in B07";
const NOT_DIGITS: &str = "has no position number: two to four digits, as in B07";
const FROM_ONE: &str = "has position number 0, but positions count from 1";
const NOT_LINK: &str = "is not a place in a space: a space, a dash and a position, like 1A-B07";
const NOT_LEG: &str = "is not a leg: a label code, a point and a number, like KIT2-C.1";
const NOT_LEG_NUMBER: &str =
    "has no leg number after the point: 1 to 16 without leading zeros, as in KIT2-C.1";

/// Reads an outlet: `KIT2`.
///
/// # Errors
/// When the text is not a room code followed by a number from 1 to 99 without leading zeros.
pub fn outlet(text: &str) -> Result<OutletCode, BadCode> {
    let (letters, digits) = split_before(text, |c| c.is_ascii_digit());
    let because = |reason| bad(text, reason);
    let room = RoomCode::new(letters).map_err(|_| because(NOT_OUTLET))?;
    let number = plain_number(digits)
        .and_then(OutletNumber::new)
        .ok_or_else(|| because("has no outlet number: 1 to 99 without leading zeros"))?;
    Ok(OutletCode { room, number })
}

/// Reads a label code, of a run that feeds an outlet or of a tie line: `KIT2-C`, `1A/2A-1`.
///
/// # Errors
/// When the text has neither form; the reason says which part does not fit.
pub fn label(text: &str) -> Result<LabelCode, BadCode> {
    if text.contains('/') {
        tie(text)
    } else {
        run(text)
    }
}

fn run(text: &str) -> Result<LabelCode, BadCode> {
    let because = |reason| bad(text, reason);
    let (place, letter) = text.split_once('-').ok_or_else(|| because(NOT_RUN))?;
    let outlet = outlet(place).map_err(|fault| because(fault.reason))?;
    let letter = only_character(letter)
        .and_then(Letter::new)
        .ok_or_else(|| because(NOT_LETTER))?;
    Ok(LabelCode::Run { outlet, letter })
}

fn tie(text: &str) -> Result<LabelCode, BadCode> {
    let because = |reason| bad(text, reason);
    let (near, rest) = text.split_once('/').ok_or_else(|| because(NOT_TIE))?;
    let (far, number) = rest.split_once('-').ok_or_else(|| because(NOT_TIE))?;
    let near = space(near).map_err(|fault| because(fault.reason))?;
    let far = space(far).map_err(|fault| because(fault.reason))?;
    let number = plain_number(number).ok_or_else(|| because(NOT_TIE_NUMBER))?;
    Ok(LabelCode::Tie { near, far, number })
}

/// Reads a leg of a split end: `KIT2-C.1`.
///
/// # Errors
/// When the text is not a label code, a point and a number from 1 to 16.
pub fn leg(text: &str) -> Result<LegCode, BadCode> {
    let because = |reason| bad(text, reason);
    let (code, number) = text.rsplit_once('.').ok_or_else(|| because(NOT_LEG))?;
    let label = label(code).map_err(|fault| because(fault.reason))?;
    let leg = plain_number(number)
        .and_then(LegNumber::new)
        .ok_or_else(|| because(NOT_LEG_NUMBER))?;
    Ok(LegCode { label, leg })
}

/// Reads a telecom space: `1A`. A floor may carry a leading zero.
///
/// # Errors
/// When the text is not one or two digits followed by one or two capital letters.
pub fn space(text: &str) -> Result<SpaceCode, BadCode> {
    let (digits, letters) = split_before(text, |c| !c.is_ascii_digit());
    let floor = (digits.len() <= 2).then(|| number(digits)).flatten();
    let floor = floor.ok_or_else(|| bad(text, NOT_SPACE))?;
    SpaceCode::new(floor, letters).map_err(|_| bad(text, NOT_SPACE))
}

/// Reads a position by its short name, which is also the TIA-606 identifier where there is only
/// one telecom space: `B07`. Its number may carry leading zeros.
///
/// # Errors
/// When the text is not one or two capital letters followed by two to four digits.
pub fn position(text: &str) -> Result<PositionCode, BadCode> {
    let because = |reason| bad(text, reason);
    let (letters, digits) = split_before(text, |c| c.is_ascii_digit());
    if letters.is_empty() || letters.len() == text.len() {
        return Err(because(NOT_POSITION));
    }
    let panel = PanelLetters::new(letters).map_err(|_| because(NOT_PANEL))?;
    let number = (2..=4).contains(&digits.len()).then(|| number(digits));
    let number = number.flatten().ok_or_else(|| because(NOT_DIGITS))?;
    let number = PositionNumber::new(number).ok_or_else(|| because(FROM_ONE))?;
    Ok(PositionCode { panel, number })
}

/// Reads the TIA-606 identifier of a horizontal link: `1A-B07`.
///
/// # Errors
/// When the text is not a telecom space, a dash and a position.
pub fn link(text: &str) -> Result<LinkCode, BadCode> {
    let because = |reason| bad(text, reason);
    let (near, place) = text.split_once('-').ok_or_else(|| because(NOT_LINK))?;
    Ok(LinkCode {
        space: space(near).map_err(|fault| because(fault.reason))?,
        position: position(place).map_err(|fault| because(fault.reason))?,
    })
}

/// Reads a number from 1 behind letters that say of what: `CD1`, `BOX3`; none for any other text.
#[must_use]
pub fn numbered(text: &str, letters: &str) -> Option<u16> {
    plain_number(text.strip_prefix(letters)?)
}

fn bad(text: &str, reason: &'static str) -> BadCode {
    BadCode {
        text: text.to_owned(),
        reason,
    }
}

/// Splits before the first character that fits; the second part is empty where none does.
fn split_before(text: &str, fits: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(fits).unwrap_or(text.len()))
}

/// The one character of a text that has only one.
fn only_character(text: &str) -> Option<char> {
    let mut characters = text.chars();
    characters.next().filter(|_| characters.next().is_none())
}

/// A number in digits alone. `parse` by itself would also take a plus sign.
fn number<N: FromStr>(digits: &str) -> Option<N> {
    let all_digits = digits.bytes().all(|byte| byte.is_ascii_digit());
    all_digits.then(|| digits.parse().ok()).flatten()
}

/// A number from 1 in its one spelling.
fn plain_number<N: FromStr>(digits: &str) -> Option<N> {
    if digits.starts_with('0') {
        return None;
    }
    number(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a text is read as, printed again, or the refusal in words.
    fn said<T: ToString>(result: Result<T, BadCode>) -> String {
        match result {
            Ok(code) => code.to_string(),
            Err(fault) => fault.to_string(),
        }
    }

    #[test]
    fn refusals_name_the_part_that_does_not_fit() {
        for (refusal, part) in [
            (said(label("KIT2")), "an outlet, a dash and a letter"),
            (said(label("KIT2-O")), "not I, O, Q, S or Z"),
            (said(label("KIT2-CC")), "no cable letter"),
            (said(label("KIT02-C")), "no outlet number"),
            (said(label("K2-C")), "not an outlet"),
            (said(label("1A/2A")), "two spaces and a number"),
            (said(label("1A/2A-0")), "no number for the tie line"),
            (said(label("1A/AA-1")), "not a telecom space"),
            (said(leg("KIT2-C")), "a point and a number"),
            (said(leg("KIT2-C.0")), "no leg number"),
            (said(leg("KIT2-C.17")), "no leg number"),
            (said(leg("KIT2-S.1")), "not I, O, Q, S or Z"),
            (said(position("B7")), "two to four digits"),
            (said(position("B00")), "positions count from 1"),
            (said(position("ABC07")), "one or two capitals"),
            (said(position("07")), "panel letters and a number"),
            (said(link("1A")), "a dash and a position"),
            (said(space("A1")), "a floor number"),
        ] {
            assert!(refusal.contains(part), "{refusal} / {part}");
        }
    }

    #[test]
    fn the_whole_text_is_repeated_in_a_refusal() {
        assert!(said(label("KIT2-C.")).starts_with("“KIT2-C.”"));
        assert!(said(link("1A-A1")).starts_with("“1A-A1”"));
    }

    #[test]
    fn one_spelling_of_our_own_codes() {
        for text in [
            "kit2", "KIT 2", "KIT+2", "KIT2 ", "", "KIT", "KIT100", "K２",
        ] {
            assert!(outlet(text).is_err(), "{text}");
        }
        for text in [
            "KIT2C", "KIT2-c", "KIT2–C", "KIT2-", "-C", "1A/2A-01", "1A/2A-+1", "/-",
        ] {
            assert!(label(text).is_err(), "{text}");
        }
    }
}
