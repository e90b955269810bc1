//! What lies where on a label, what was chosen, and why.

use super::drawing::Sheet;
use super::fit::{CodeFit, SURE_MODULE, dots_length};
use crate::codes::qr::QUIET_ZONE;
use crate::tags::{Dots, Feed, Microns, Shape, Stock, Tag};

/// Labels on cables.
mod cable;
/// Labels that lie flat.
mod flat;

use cable::{flag, folded, wrap};
use flat::{flat, insert, strip, tape};

/// A label with everything on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Laid {
    /// The pieces.
    pub sheet: Sheet,
    /// How long the label is; a tape is cut to it.
    pub width: Microns,
    /// What was chosen and why, in one sentence.
    pub reason: String,
    /// What does not come out well.
    pub warnings: Vec<Warning>,
    /// How often the text stands round the cable; 1 on what lies flat.
    pub repeats: i32,
    /// The height of one text among these.
    pub block: Microns,
    /// The upper edge of one that is in the middle of these; 0 on what lies flat.
    pub text: Microns,
    /// The length of one face, where it is folded over the cable; 0 where it is not.
    pub face: Microns,
}

/// Something that does not come out well on a tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// What, as a sentence that names no tag, so that many tags share it.
    pub words: String,
    /// The tag, where it is a matter of its own texts.
    pub code: String,
}

impl Warning {
    fn of(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            code: String::new(),
        }
    }

    fn on(tag: &Tag, words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            code: tag.code.clone(),
        }
    }
}

/// What is left free at the edges of a label.
const MARGIN: i32 = 800;
/// Between texts that stand round a cable.
const BETWEEN: i32 = 800;

/// Lays a tag on a label.
#[must_use]
pub fn lay(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let mut laid = laid(tag, stock, dots);
    let sizes = laid.sheet.pieces.iter().filter_map(|piece| match piece {
        super::Piece::Text { size, .. } => Some(size.0),
        super::Piece::Bar { .. } | super::Piece::Code { .. } => None,
    });
    if sizes.min().is_some_and(|size| size < LEGIBLE) {
        laid.warnings.push(Warning::on(
            tag,
            format!("On {} some type is under 4 points, smaller than anybody reads at arm's length. Take a larger label, or a flag.", stock.name),
        ));
    }
    laid
}

/// Below 4 points (of 1/72 inch) no type is read for sure: its capitals are 1 mm high. Common practice,
/// no source.
const LEGIBLE: i32 = 4 * 25_400 / 72;

fn laid(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    match stock.shape {
        Shape::Wrap { print } => wrap(tag, stock, print, dots),
        Shape::Flag { face } => {
            let goes = if is_of_cable(tag) {
                "flag folded over the cable,"
            } else {
                "flag"
            };
            flag(tag, stock, face, dots, goes)
        }
        // What sticks on all its back is folded over a cable too: along it, no code lies flat.
        Shape::Flat if is_of_cable(tag) => folded(tag, stock, dots),
        Shape::Flat if stock.feed == Feed::Tape => tape(tag, stock, dots),
        Shape::Flat => flat(tag, stock, dots),
        Shape::Insert => insert(tag, stock),
        Shape::Strip { .. } => strip(tag, stock),
    }
}

fn is_of_cable(tag: &Tag) -> bool {
    tag.diameter.0 > 0 || !tag.made_of.is_empty()
}

fn what(tag: &Tag) -> String {
    match tag.made_of.as_str() {
        "" => "Places".to_owned(),
        made_of if tag.diameter.0 > 0 => format!("{made_of}, {} mm", tag.diameter),
        made_of => made_of.to_owned(),
    }
}

fn warn_of_module(laid: &mut Laid, code: Option<&CodeFit>, stock: &Stock) {
    if let Some(code) = code.filter(|code| code.module.0 < SURE_MODULE) {
        laid.warnings.push(Warning::of(format!(
            "On {} a module of the code is {} mm; below 0.33 mm not every phone reads it. Take a larger label, or a finer printer.",
            stock.name, code.module
        )));
    }
}

/// Puts a code with its quiet zone at a corner.
fn put_code(sheet: &mut Sheet, code: &CodeFit, x: i32, y: i32, dots: Dots) {
    let quiet = dots_length(code.dots * i32::try_from(QUIET_ZONE).unwrap_or(4), dots).0;
    sheet.pieces.push(super::Piece::Code {
        x: Microns(x + quiet),
        y: Microns(y + quiet),
        dots: code.dots,
        matrix: code.matrix.clone(),
    });
}
