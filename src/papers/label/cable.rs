//! Labels that go on a cable: round it, folded over it, or along it.

use super::flat::{along, tape_width};
use super::{BETWEEN, Laid, MARGIN, Warning, put_code, warn_of_module, what};
use crate::papers::block::{Block, Room};
use crate::papers::fit::{SURE_MODULE, Turn, fit_code, turn, wanted_room};
use crate::tags::{Dots, Feed, Microns, Stock, Tag};

/// What one text takes round a cable at most. More is not read better, and leaves no room for a code.
/// From memory.
const TEXT_MOST: i32 = 12_000;

/// The usual data cable (common practice, no source): as on it, a text is laid where no outside diameter
/// is known.
const USUAL: Microns = Microns(6_000);

pub(super) fn wrap(tag: &Tag, stock: &Stock, print: Microns, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        ..Laid::default()
    };
    let what = what(tag);
    let width = Microns(stock.width.0 - 2 * MARGIN);
    let is_known = tag.diameter.0 > 0;
    let turn = turn(if is_known { tag.diameter } else { USUAL }, print, stock);
    // Whoever reads it sees a third of the turn at once, and half of it aslant.
    let [height, tall] = [turn.readable.0, turn.circumference.0 / 2]
        .map(|round| Microns(round.min(turn.print.0 - BETWEEN / 2).min(TEXT_MOST)));
    let room = Room {
        width,
        height,
        tall,
        is_round: true,
    };
    let block = Block::of(tag, room, &mut laid.warnings);
    laid.block = block.height();
    if !is_known {
        laid.warnings.push(Warning::of(format!(
            "No outside diameter is known of {what}, so nobody can say whether the wrap fits. Measure the cable and write it above."
        )));
        laid.repeats = 1;
        laid.reason = format!("{what}: the text once, as the turn is not known.");
        block.draw(
            &mut laid.sheet,
            (Microns(MARGIN), width),
            Microns(MARGIN / 2),
        );
        return laid;
    }
    // A code stands behind the text on the turn, so that it takes nothing from its type.
    let step = block.height().0 + BETWEEN;
    let code = (!tag.qr.is_empty())
        .then(|| {
            let free = Microns(turn.flat.0.min(turn.print.0 - step).min(width.0));
            fit_code(&tag.qr, free, dots)
        })
        .flatten()
        .filter(|code| code.module.0 >= SURE_MODULE)
        // Where it does not reach round, nothing but the text is sure to be seen.
        .filter(|_| turn.overlap.0 >= 0);
    let side = code.as_ref().map_or(0, |code| code.side.0);
    let print_left = turn.print.0 - side;
    laid.repeats = ((print_left + BETWEEN / 2) / step).max(1);
    let spread = print_left / laid.repeats;
    for at in 0..laid.repeats {
        let down = turn.begin.0 + at * spread + (spread - block.height().0) / 2;
        block.draw(&mut laid.sheet, (Microns(MARGIN), width), Microns(down));
        if at <= (laid.repeats - 1) / 2 {
            laid.text = Microns(down);
        }
    }
    if let Some(code) = &code {
        let right = MARGIN + (width.0 - side) / 2;
        put_code(
            &mut laid.sheet,
            code,
            right,
            turn.begin.0 + print_left,
            dots,
        );
    }
    let round = turn.circumference;
    let times = match laid.repeats {
        1 if code.is_none() => format!(
            "Once round the turn of {round} mm, as two of these texts take {} mm of print and there are {} mm",
            Microns(2 * step - BETWEEN / 2),
            turn.print
        ),
        1 => format!("Once round the turn of {round} mm"),
        times => format!("{times} times round the turn of {round} mm"),
    };
    let choice = match (&code, tag.qr.as_str()) {
        (Some(code), _) => format!("wrap with its code, {} mm a module", code.module),
        (None, "") => "wrap with text".to_owned(),
        (None, qr) if wanted_room(qr) <= turn.flat => {
            "wrap with text alone, since the label has no room for a code behind it".to_owned()
        }
        (None, qr) => format!(
            "wrap with text alone, since a code needs {} mm of flat width and this cable shows {} mm; take flags for codes",
            wanted_room(qr),
            turn.flat
        ),
    };
    laid.reason = format!(
        "{what}: {choice}. {times}{}.",
        if turn.overlap.0 < 0 {
            String::new()
        } else {
            format!(
                ", and the label passes its beginning by {} mm",
                turn.overlap
            )
        }
    );
    warn_of_turn(&mut laid, &what, stock, print, &turn);
    laid
}

fn warn_of_turn(laid: &mut Laid, what: &str, stock: &Stock, print: Microns, turn: &Turn) {
    if turn.overlap.0 < 0 {
        laid.warnings.push(Warning::of(format!(
            "{} is {} mm long and does not reach round {what} ({} mm). Take a longer wrap or a flag.",
            stock.name, stock.height, turn.circumference
        )));
    } else if !turn.covered {
        laid.warnings.push(Warning::of(format!(
            "The clear tail of {} does not cover the whole print on {what}: it needs {} mm, the label has {} mm. Take a longer wrap, or the print wears off.",
            stock.name,
            Microns(turn.circumference.0 + print.0),
            stock.height
        )));
    }
    if turn.begin.0 > 0 {
        laid.warnings.push(Warning::of(format!(
            "On {what} the printed part of {} goes round more than once, so its last {} mm alone are used.",
            stock.name, turn.print
        )));
    }
}

/// The shortest face of what is folded over a cable: a short code in type that is read at arm's length.
/// From memory.
const FACE_LEAST: i32 = 12_000;

/// Tape and flat labels on a cable: folded over it like a flag, where they are long enough for that.
pub(super) fn folded(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let is_known = tag.diameter.0 > 0;
    let round = turn(
        if is_known { tag.diameter } else { USUAL },
        Microns(0),
        stock,
    )
    .circumference;
    let most = (stock.width.0 - round.0) / 2;
    if most < FACE_LEAST {
        return along(tag, stock, dots);
    }
    let is_tape = stock.feed == Feed::Tape;
    let (face, goes) = if is_tape {
        let goes = "tape folded over the cable like a flag, its ends back to back,";
        (tape_width(tag, stock, dots).clamp(FACE_LEAST, most), goes)
    } else {
        let goes = "flat label folded over the cable like a flag, its ends back to back,";
        (most, goes)
    };
    let width = if is_tape {
        Microns(2 * face + round.0)
    } else {
        stock.width
    };
    let cut = Stock {
        width,
        ..stock.clone()
    };
    let mut laid = flag(tag, &cut, Microns(face), dots, goes);
    if !is_known {
        laid.warnings.push(Warning::of(format!(
            "No outside diameter is known of {}, so between the faces there is room for a cable of {USUAL} mm. Measure the cable and write it above.",
            what(tag)
        )));
    }
    laid
}

/// A label with a face at either end. How it goes on is said in the sentence that tells the choice.
pub(super) fn flag(tag: &Tag, stock: &Stock, face: Microns, dots: Dots, goes: &str) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        face,
        ..Laid::default()
    };
    let what = what(tag);
    let middle = Microns(stock.width.0 - 2 * face.0);
    let code =
        fit_code(&tag.qr, Microns(stock.height.0.min(face.0)), dots).filter(|_| !tag.qr.is_empty());
    let side = code.as_ref().map_or(0, |code| code.side.0);
    // Text and code side by side where both have room; else one on each face.
    let apart = side > 0 && face.0 - side - MARGIN < 9_000;
    for (at, is_left) in [(0, true), (stock.width.0 - face.0, false)] {
        let (mut x, mut room) = (at + MARGIN, face.0 - 2 * MARGIN);
        if let Some(code) = code.as_ref().filter(|_| !apart || is_left) {
            let right = if apart { (face.0 - code.side.0) / 2 } else { 0 };
            put_code(
                &mut laid.sheet,
                code,
                at + right,
                (stock.height.0 - code.side.0) / 2,
                dots,
            );
            x = at + code.side.0;
            room = face.0 - code.side.0 - MARGIN;
        }
        if !(apart && is_left) {
            let mut warnings = Vec::new();
            let of = Room {
                width: Microns(room),
                height: Microns(stock.height.0 - MARGIN),
                tall: Microns(stock.height.0 - MARGIN),
                is_round: false,
            };
            let block = Block::of(tag, of, &mut warnings);
            laid.block = block.height();
            let down = (stock.height.0 - block.height().0) / 2;
            block.draw(&mut laid.sheet, (Microns(x), Microns(room)), Microns(down));
            for warning in warnings {
                if !laid.warnings.contains(&warning) {
                    laid.warnings.push(warning);
                }
            }
        }
    }
    laid.reason = match &code {
        Some(code) => format!(
            "{what}: {goes} with its code{}, {} mm a module, flat enough to scan.",
            if apart {
                " on one face and the text on the other"
            } else {
                ""
            },
            code.module
        ),
        None if tag.qr.is_empty() => format!("{what}: {goes} with text."),
        None => format!(
            "{what}: {goes} with text alone, since a code needs {} mm each way and the face has {} mm.",
            wanted_room(&tag.qr),
            stock.height.min(face)
        ),
    };
    warn_of_module(&mut laid, code.as_ref(), stock);
    if tag.diameter.0 > 0 {
        let turn = turn(tag.diameter, Microns(0), stock);
        if middle < turn.circumference {
            laid.warnings.push(Warning::of(format!(
                "The part of {} between its faces, {middle} mm, does not go round {what} ({} mm). Describe flags with a longer middle.",
                stock.name, turn.circumference
            )));
        }
    }
    laid
}
