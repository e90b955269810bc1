//! What fits: a wrap on its cable, and a QR code on what lies flat or round.

use crate::codes::qr::{Matrix, QUIET_ZONE};
use crate::tags::{Dots, Microns, Stock};

/// The smallest module that phones read for sure, in micrometres. Below it a person is warned. Common
/// practice, no source; the 0.33 mm are those that design and tests go by.
pub(super) const SURE_MODULE: i32 = 330;

/// Below this no code is printed, as nobody could read it. From memory.
const LEAST_MODULE: i32 = 200;

/// Above this a larger module only takes room. From memory.
const MOST_MODULE: i32 = 850;

/// A QR code at the size that fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CodeFit {
    /// The modules.
    pub matrix: Matrix,
    /// Whole dots of the printer to a module.
    pub dots: i32,
    /// The side of a module.
    pub module: Microns,
    /// The side of the code with its quiet zone of four modules on each side (ISO/IEC 18004).
    pub side: Microns,
}

/// So many dots of a printer as a length.
#[must_use]
pub(super) fn dots_length(count: i32, dots: Dots) -> Microns {
    // 25.4 mm to the inch, exactly.
    let length =
        (i64::from(count) * 25_400 + i64::from(dots.per_inch()) / 2) / i64::from(dots.per_inch());
    Microns(i32::try_from(length).unwrap_or(i32::MAX))
}

/// The QR code of a text in a square of flat room, its modules in whole dots; none where even the
/// smallest that can be read is too large, or where the text is too long for a code.
#[must_use]
pub fn fit_code(text: &str, room: Microns, dots: Dots) -> Option<CodeFit> {
    // The smallest symbol of all has 21 modules (ISO/IEC 18004): where that does not fit, none does.
    if room.0 < modules_across(21) * LEAST_MODULE {
        return None;
    }
    let matrix = Matrix::of(text).ok()?;
    let modules = modules_across(matrix.size());
    let per_inch = i64::from(dots.per_inch());
    let at_most = i64::from(room.0) * per_inch / (25_400 * i64::from(modules));
    let enough = (i64::from(MOST_MODULE) * per_inch / 25_400).max(1);
    let count = i32::try_from(at_most.min(enough)).ok()?;
    let module = dots_length(count, dots);
    (count > 0 && module.0 >= LEAST_MODULE).then(|| CodeFit {
        side: dots_length(count * modules, dots),
        matrix,
        dots: count,
        module,
    })
}

/// The modules of a side with the quiet zone.
fn modules_across(size: usize) -> i32 {
    i32::try_from(size + 2 * QUIET_ZONE).unwrap_or(i32::MAX)
}

/// The flat room that a code needs at the smallest module that is read for sure.
#[must_use]
pub(super) fn wanted_room(text: &str) -> Microns {
    let modules = Matrix::size_for(text).map_or(0, modules_across);
    Microns(modules.saturating_mul(SURE_MODULE))
}

/// A wrap on a cable of a diameter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Once round the cable.
    pub circumference: Microns,
    /// How much of the printed part can be seen in the end: a turn at most.
    pub print: Microns,
    /// Where that begins, from the upper edge of the label. On a thin cable the printed part goes
    /// round more than once, and its beginning is covered by its own end.
    pub begin: Microns,
    /// How far the label goes on after its first turn; below 0 it does not reach round.
    pub overlap: Microns,
    /// Whether the clear tail covers all that is printed.
    pub covered: bool,
    /// What can be read at once: a third of the turn.
    pub readable: Microns,
    /// What is flat enough for a QR code: a sixth of the turn, 30° to either side. The limit of the
    /// GS1 General Specifications for curved surfaces, made for linear codes; from memory.
    pub flat: Microns,
}

/// How a wrap of so much print and so much label in all lies on a cable. π is taken as 355/113, which
/// is exact to a ten-millionth.
#[must_use]
pub fn turn(diameter: Microns, print: Microns, stock: &Stock) -> Turn {
    let round = i64::from(diameter.0) * 355 / 113;
    let circumference = Microns(i32::try_from(round).unwrap_or(i32::MAX));
    let seen = print.min(circumference);
    Turn {
        circumference,
        print: seen,
        begin: Microns(print.0 - seen.0),
        overlap: Microns(stock.height.0 - circumference.0),
        // The tail finishes the turn, then covers the print once.
        covered: i64::from(stock.height.0)
            >= i64::from(circumference.0) + i64::from(print.0.max(seen.0)),
        readable: Microns(circumference.0 / 3),
        flat: Microns(circumference.0 / 6),
    }
}
