//! Labels that lie flat: places, tape, faceplates, panels; and what is too short to fold over its cable.

use super::{Laid, MARGIN, Warning, put_code, warn_of_module, what};
use crate::papers::block::{Block, LEAST, MOST, Room, broken};
use crate::papers::drawing::Sheet;
use crate::papers::fit::{CodeFit, SURE_MODULE, fit_code, turn, wanted_room};
use crate::papers::font::{CAPITALS, Font};
use crate::tags::{Dots, Feed, Microns, Ports, Stock, Tag};

pub(super) fn flat(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        ..Laid::default()
    };
    let code = fit_code(
        &tag.qr,
        Microns(stock.height.0.min(stock.width.0 / 2)),
        dots,
    )
    .filter(|_| !tag.qr.is_empty());
    beside(&mut laid, tag, stock, code.as_ref(), dots, None);
    laid.reason = flat_reason(tag, code.as_ref(), stock);
    laid
}

/// The code on the left, and the text in what is left of the label's width. Round a cable, the text has
/// what is read at once of the turn, and at most what is in sight of it.
fn beside(
    laid: &mut Laid,
    tag: &Tag,
    stock: &Stock,
    code: Option<&CodeFit>,
    dots: Dots,
    round: Option<[Microns; 2]>,
) {
    let height = stock.height.0;
    let whole = Microns(height - 2 * MARGIN);
    let [read, seen] = round.map_or([whole; 2], |round| round.map(|room| room.min(whole)));
    let side = code.map_or(MARGIN, |code| code.side.0);
    if let Some(code) = code {
        put_code(&mut laid.sheet, code, 0, (height - code.side.0) / 2, dots);
    }
    let room = Room {
        width: Microns(laid.width.0 - side - MARGIN),
        height: read,
        tall: seen,
        is_round: round.is_some(),
    };
    let block = Block::of(tag, room, &mut laid.warnings);
    laid.block = block.height();
    let top = Microns((height - laid.block.0) / 2);
    if round.is_some() {
        laid.text = top;
    }
    block.draw(&mut laid.sheet, (Microns(side), room.width), top);
    warn_of_module(laid, code, stock);
}

fn flat_reason(tag: &Tag, code: Option<&CodeFit>, stock: &Stock) -> String {
    match code {
        Some(code) => format!(
            "Flat labels with a code of {} mm a module, beside the text.",
            code.module
        ),
        None if tag.qr.is_empty() => "Flat labels with text.".to_owned(),
        None => format!(
            "Flat labels with text alone, since a code needs {} mm each way and {} is {} mm high.",
            wanted_room(&tag.qr),
            stock.name,
            stock.height
        ),
    }
}

/// A label along its cable, of which a stretch of the turn is seen and less is flat enough for a code.
pub(super) fn along(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        ..Laid::default()
    };
    let turn = turn(tag.diameter, Microns(0), stock);
    let is_known = turn.circumference.0 > 0;
    let flat = Microns(turn.flat.0.min(stock.height.0).min(stock.width.0 / 2));
    let code = fit_code(&tag.qr, flat, dots)
        .filter(|code| !tag.qr.is_empty() && code.module.0 >= SURE_MODULE);
    if stock.feed == Feed::Tape {
        laid.width = Microns(tape_width(tag, stock, dots).min(stock.width.0));
    }
    let round = [turn.readable, Microns(turn.circumference.0 / 2)];
    let round = is_known.then_some(round);
    beside(&mut laid, tag, stock, code.as_ref(), dots, round);
    let what = what(tag);
    laid.reason = match &code {
        Some(code) => format!(
            "{what}: along the cable with its code, {} mm a module, since {} is too short to fold over it and this cable is flat enough.",
            code.module, stock.name
        ),
        None if tag.qr.is_empty() => format!("{what}: along the cable with text."),
        None => format!(
            "{what}: along the cable with text alone, since {} is too short to fold over it, and a code needs {} mm of flat width; take longer labels or flags for codes.",
            stock.name,
            wanted_room(&tag.qr)
        ),
    };
    laid
}

/// A tape is cut behind what is printed, so the text gets the width that it needs.
pub(super) fn tape(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: Microns(tape_width(tag, stock, dots).min(stock.width.0)),
        repeats: 1,
        ..Laid::default()
    };
    let code = fit_code(&tag.qr, stock.height, dots).filter(|_| !tag.qr.is_empty());
    beside(&mut laid, tag, stock, code.as_ref(), dots, None);
    laid.reason = flat_reason(tag, code.as_ref(), stock).replace("Flat labels", "Tape");
    laid
}

/// How much of a tape its code and its texts take side by side.
pub(super) fn tape_width(tag: &Tag, stock: &Stock, dots: Dots) -> i32 {
    let code = fit_code(&tag.qr, stock.height, dots).filter(|_| !tag.qr.is_empty());
    let side = code.map_or(MARGIN, |code| code.side.0);
    let height = stock.height.0 - 2 * MARGIN;
    let small = Microns((height / 5).clamp(LEAST, MOST));
    let longest = [&tag.words, &tag.far]
        .map(|text| Font::Plain.width(text, small))
        .into_iter()
        .max();
    let big = Font::Bold.width(&tag.code, Microns(height * 2 / 5));
    side + big.max(longest.unwrap_or(big)).0.max(10_000) + MARGIN
}

/// The code of the outlet and what it is for, as far as that fits, then a letter for each jack.
pub(super) fn insert(tag: &Tag, stock: &Stock) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        ..Laid::default()
    };
    let letters: Vec<&str> = tag.far.split_whitespace().collect();
    let (width, height) = (stock.width.0, stock.height.0);
    let code_room = if letters.is_empty() {
        width
    } else {
        width * 2 / 5
    };
    let head = Tag {
        far: String::new(),
        position: String::new(),
        ..tag.clone()
    };
    let room = Room {
        width: Microns(code_room - 2 * MARGIN),
        height: Microns(height - 2 * EDGE),
        tall: Microns(height - 2 * EDGE),
        is_round: false,
    };
    let block = Block::of(&head, room, &mut laid.warnings);
    let top = Microns((height - block.height().0) / 2);
    block.draw(&mut laid.sheet, (Microns(MARGIN), room.width), top);
    let count = i32::try_from(letters.len()).unwrap_or(1).max(1);
    let each = (width - code_room) / count;
    for (at, letter) in (0..).zip(&letters) {
        let x = code_room + at * each;
        let most = Microns(height * 700 / CAPITALS);
        let size = Font::Bold.size_for(letter, Microns(each - 2 * MARGIN), most);
        let y = height / 2 + size.0 * CAPITALS / 2_000;
        laid.sheet.text(
            Font::Bold,
            size,
            (Microns(x), Microns(each)),
            Microns(y),
            letter,
        );
        laid.sheet.bar(x, 0, 100, height);
    }
    outline(&mut laid.sheet, width, height);
    laid.block = stock.height;
    laid.reason =
        "Inserts with the outlet's code, what it is for, and a letter for each jack, to be cut along the lines."
            .to_owned();
    laid
}

/// For each port the room's words, the code, and the number below them.
pub(super) fn strip(tag: &Tag, stock: &Stock) -> Laid {
    let Ports { pitch, group } = tag.ports;
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        ..Laid::default()
    };
    let lines: Vec<&str> = tag.words.lines().collect();
    let height = stock.height.0;
    let count = i32::try_from(lines.len()).unwrap_or(0);
    let room = Microns(pitch.0 - MARGIN);
    for (at, line) in (0..).zip(&lines) {
        let mut cells = line.split('\t');
        let (number, words, code) = (cells.next(), cells.next(), cells.next());
        let x = Microns(at * pitch.0 + MARGIN / 2);
        let number_size = Microns(height * 30 / 100);
        laid.sheet.text(
            Font::Bold,
            number_size,
            (x, room),
            Microns(height * 95 / 100),
            number.unwrap_or_default(),
        );
        let code = code.unwrap_or_default();
        let code_size = Font::Bold.size_for(code, room, Microns(height * 24 / 100));
        laid.sheet.text(
            Font::Bold,
            code_size,
            (x, room),
            Microns(height * 66 / 100),
            code,
        );
        let words = words.unwrap_or_default();
        let size = Microns((height * 22 / 100).clamp(LEAST, MOST));
        let (lines, cut) = broken(words, Font::Plain, size, room, 2);
        if cut {
            laid.warnings.push(Warning::on(
                tag,
                format!("“{words}” is too long for a port of {pitch} mm, and is cut."),
            ));
        }
        let top =
            height * 43 / 100 - i32::try_from(lines.len().saturating_sub(1)).unwrap_or(0) * size.0;
        for (row, words) in (0..).zip(&lines) {
            laid.sheet.text(
                Font::Plain,
                size,
                (x, room),
                Microns(top + row * size.0),
                words,
            );
        }
        if at > 0 {
            let is_gap = group > 0 && at % group == 0;
            let line = if is_gap { 4 * EDGE } else { EDGE };
            laid.sheet.bar(at * pitch.0 - line / 2, 0, line, height);
        }
    }
    if count > 0 {
        outline(&mut laid.sheet, count * pitch.0, height);
    }
    laid.block = stock.height;
    laid.reason = format!(
        "Strips with a port every {pitch} mm, {}, to be cut along the lines; lay one on the panel before you print all.",
        tag.made_of
    );
    laid
}

/// How wide a line to cut along is.
const EDGE: i32 = 60;

/// A thin line to cut along.
fn outline(sheet: &mut Sheet, width: i32, height: i32) {
    sheet.bar(0, 0, width, EDGE);
    sheet.bar(0, height - EDGE, width, EDGE);
    sheet.bar(0, 0, EDGE, height);
    sheet.bar(width - EDGE, 0, EDGE, height);
}
