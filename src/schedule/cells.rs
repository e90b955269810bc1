//! What the cells of one row say, read strictly: each is something of the trade, or a sentence that
//! says what is wrong with it and how to write it. Nothing here knows the job.

use super::Reason;
use crate::codes::strict;
use crate::codes::typed::{self, Reading};
use crate::domain::label::{LabelCode, Letter, OutletCode, PositionCode, SpaceCode};
use crate::domain::medium::{InWords, Medium, in_words};
use crate::exchange::schedule::{Column, Row, on_tag};

/// What a cable is made of.
pub(super) fn medium_of(row: &Row) -> Result<Medium, Reason> {
    let words = row.cell(Column::Medium).ok_or(
        "The kind of cable is missing. Write what it is made of, such as Cat 6, RG-6 or 16/4.",
    )?;
    match in_words(words) {
        InWords::Just(medium) | InWords::AndMore(medium) => Ok(medium),
        InWords::Several => Err(format!(
            "“{words}” names more than one cable. Write a row for each of them, or “Own: {words}” to keep it as one."
        )),
        InWords::Unknown => Err(format!(
            "“{words}” is no kind of cable that is known here. Write it as Cat 6, Cat 6A F/UTP, RG-6, 16/4, 22/4 or Fibre 12."
        )),
    }
}

/// The kind of cable in the words of a row, where they say more than the medium that was read.
pub(super) fn more_than_medium(row: &Row) -> Option<&str> {
    let words = row.cell(Column::Medium)?;
    matches!(in_words(words), InWords::AndMore(_)).then_some(words)
}

/// The label code of a row. What stands there but is no code of ours may be an old name only where
/// room and outlet say which cable it is.
pub(super) fn code_of(row: &Row) -> Result<Option<LabelCode>, Reason> {
    let Some(text) = row.cell(Column::Code) else {
        return Ok(None);
    };
    match strict::label(&text.to_uppercase()) {
        Ok(code) => Ok(Some(code)),
        Err(_) if as_on_tag(row, text).is_some() => Ok(as_on_tag(row, text)),
        Err(_) if row.cell(Column::Outlet).is_some() && !text.contains('-') => Ok(None),
        Err(bad) => Err(format!(
            "{bad}. Write codes as KIT2-C: room, outlet, dash, letter. If the column holds other names, choose “Old name” for it."
        )),
    }
}

/// A label as pens write it, `KIT2 A` or `hal4c`, unless the row gives the outlet another number.
fn as_on_tag(row: &Row, text: &str) -> Option<LabelCode> {
    let numbered = row.cell(Column::Outlet);
    on_tag(text).filter(|code| match code {
        LabelCode::Run { outlet, .. } => {
            numbered.is_none_or(|number| number == outlet.number.get().to_string())
        }
        LabelCode::Tie { .. } => false,
    })
}

/// The letter of a cable.
pub(super) fn letter(text: &str) -> Result<Letter, Reason> {
    let upper = text.to_uppercase();
    let mut characters = upper.chars();
    let letter = characters
        .next()
        .and_then(Letter::new)
        .filter(|_| characters.next().is_none());
    letter.ok_or_else(|| {
        format!("“{text}” is no cable letter: one letter, without I, O, Q, S and Z, which a pen makes look like digits.")
    })
}

/// The position where a tie line starts.
pub(super) fn start_of(row: &Row) -> Result<Option<PositionCode>, Reason> {
    let Some(text) = row.cell(Column::From) else {
        return Ok(None);
    };
    as_spelled(&text.to_uppercase()).map(|(position, _)| Some(position))
}

/// The outlet that a local run leaves from; none where the words can only be a rack's.
pub(super) fn from_of(row: &Row) -> Option<Result<OutletCode, &str>> {
    let text = row.cell(Column::From)?;
    Some(strict::outlet(&text.to_uppercase()).map_err(|_| text))
}

/// The position that a row asks for, with its space where that is written.
pub(super) fn position_of(row: &Row) -> Result<Option<(PositionCode, Option<SpaceCode>)>, Reason> {
    let Some(text) = row.cell(Column::Position) else {
        // The whole of it may stand in the column of the panel.
        let panel = row.cell(Column::Panel);
        return Ok(panel.and_then(|text| link_or_position(&text.to_uppercase()).ok()));
    };
    let text = text.to_uppercase();
    let joined = match row.cell(Column::Panel) {
        // A port by itself, with its panel in a column of its own.
        Some(panel) if text.bytes().all(|b| b.is_ascii_digit()) => {
            format!(
                "{}{text:0>2}",
                panel.to_uppercase().trim_start_matches("PANEL").trim()
            )
        }
        _ => text,
    };
    as_spelled(&joined).map(Some)
}

/// The panel of a row that says no position on it.
pub(super) fn panel_alone(row: &Row) -> Option<&str> {
    let is_alone = row.cell(Column::Position).is_none() && matches!(position_of(row), Ok(None));
    row.cell(Column::Panel).filter(|_| is_alone)
}

fn link_or_position(text: &str) -> Result<(PositionCode, Option<SpaceCode>), Reason> {
    if let Ok(link) = strict::link(text) {
        return Ok((link.position, Some(link.space)));
    }
    strict::position(text)
        .map(|position| (position, None))
        .map_err(|bad| format!("{bad}. Write positions as B07 or 1A-B07, or leave the cell empty."))
}

/// A position as the column for it has it: as strictly written, or as people spell it, `A-01`, `A 8`
/// or `b7`. A letter is never taken for a digit.
fn as_spelled(text: &str) -> Result<(PositionCode, Option<SpaceCode>), Reason> {
    let letters = |text: &str| {
        let letters = text.chars().filter(char::is_ascii_alphabetic);
        letters.collect::<String>()
    };
    link_or_position(text).or_else(|reason| {
        let readings = typed::read(text, None).readings.into_iter();
        let mut positions = readings.filter_map(|reading| match reading {
            Reading::Position(position) => Some((position, None)),
            Reading::Link(link) => Some((link.position, Some(link.space))),
            _ => None,
        });
        let first = positions.next().filter(|(position, space)| {
            let space = space.map_or_else(String::new, |space| space.to_string());
            letters(text) == letters(&space) + position.panel.as_str()
        });
        first.filter(|_| positions.next().is_none()).ok_or(reason)
    })
}
