//! What lies where on a label, what was chosen, and why.

use super::block::{Block, LEAST as SMALL_LEAST, MOST as SMALL_MOST, broken};
use super::drawing::Sheet;
use super::fit::{CodeFit, SURE_MODULE, Turn, dots_length, fit_code, turn, wanted_room};
use super::font::{CAPITALS, Font};
use crate::codes::qr::QUIET_ZONE;
use crate::tags::{Dots, Feed, Microns, Shape, Stock, Tag};

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
    match stock.shape {
        Shape::Wrap { print } => wrap(tag, stock, print, dots),
        Shape::Flag { face } => flag(tag, stock, face, dots),
        Shape::Flat if stock.feed == Feed::Tape => tape(tag, stock, dots),
        Shape::Flat => flat(tag, stock, dots),
        Shape::Insert => insert(tag, stock),
        Shape::Strip { pitch } => strip(tag, stock, pitch),
    }
}

fn what(tag: &Tag) -> String {
    match tag.made_of.as_str() {
        "" => tag.code.clone(),
        made_of if tag.diameter.0 > 0 => format!("{made_of}, {} mm", tag.diameter),
        made_of => made_of.to_owned(),
    }
}

fn wrap(tag: &Tag, stock: &Stock, print: Microns, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        ..Laid::default()
    };
    let what = what(tag);
    let width = Microns(stock.width.0 - 2 * MARGIN);
    if tag.diameter.0 <= 0 {
        laid.warnings.push(Warning::of(format!(
            "No outside diameter is known of {what}, so nobody can say whether the wrap fits. Measure the cable and write it above."
        )));
        let block = Block::of(tag, width, Microns(print.0 - MARGIN), &mut laid.warnings);
        laid.repeats = 1;
        laid.block = block.height();
        laid.reason = format!("{what}: the text once, as the turn is not known.");
        block.draw(
            &mut laid.sheet,
            (Microns(MARGIN), width),
            Microns(MARGIN / 2),
        );
        return laid;
    }
    let turn = turn(tag.diameter, print, stock);
    let code = (!tag.qr.is_empty())
        .then(|| fit_code(&tag.qr, turn.flat, dots))
        .flatten()
        .filter(|code| code.module.0 >= SURE_MODULE && code.side.0 + 10_000 <= stock.width.0);
    let beside = code.as_ref().map_or(0, |code| code.side.0);
    let width = Microns(width.0 - beside);
    let (block, height) = readable(tag, width, &turn, &mut laid.warnings);
    let step = block.height().0 + BETWEEN;
    laid.repeats = ((turn.print.0 + BETWEEN / 2) / step).max(1);
    laid.block = block.height();
    let spread = turn.print.0 / laid.repeats;
    for at in 0..laid.repeats {
        let down = turn.begin.0 + at * spread + (spread - block.height().0) / 2;
        block.draw(
            &mut laid.sheet,
            (Microns(MARGIN + beside), width),
            Microns(down),
        );
    }
    if let Some(code) = &code {
        let down = turn.begin.0 + (turn.print.0 - code.side.0).max(0) / 2;
        put_code(&mut laid.sheet, code, MARGIN, down, dots);
    }
    let times = match laid.repeats {
        1 => "once".to_owned(),
        times => format!("{times} times"),
    };
    let choice = match (&code, tag.qr.as_str()) {
        (Some(code), _) => format!("wrap with its code, {} mm a module", code.module),
        (None, "") => "wrap with text".to_owned(),
        (None, qr) => format!(
            "wrap with text alone, since a code needs {} mm of flat width and this cable shows {} mm; take flags for codes",
            wanted_room(qr),
            turn.flat
        ),
    };
    laid.reason = format!(
        "{what}: {choice}. {} round the turn of {} mm{}, and the label passes its beginning by {} mm.",
        capital(&times),
        turn.circumference,
        if height > turn.readable {
            ", turn it a little to read it all"
        } else {
            ""
        },
        turn.overlap.max(Microns(0))
    );
    warn_of_turn(&mut laid, &what, stock, print, &turn);
    laid
}

/// The texts of a tag in what can be read at once, else in the half of the turn that can be seen, else
/// on all of the print: the smallest height that leaves nothing out.
fn readable(
    tag: &Tag,
    width: Microns,
    turn: &Turn,
    warnings: &mut Vec<Warning>,
) -> (Block, Microns) {
    let most = turn.print.0 - BETWEEN / 2;
    let heights = [turn.readable.0, turn.circumference.0 / 2, most];
    let mut heights = heights
        .map(|height| Microns(height.min(most).max(2 * SMALL_LEAST)))
        .into_iter()
        .peekable();
    loop {
        let mut found = Vec::new();
        let height = heights.next().unwrap_or(Microns(most));
        let block = Block::of(tag, width, height, &mut found);
        if found.is_empty() || heights.peek().is_none() {
            warnings.extend(found);
            return (block, height);
        }
    }
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

fn flag(tag: &Tag, stock: &Stock, face: Microns, dots: Dots) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
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
            let block = Block::of(
                tag,
                Microns(room),
                Microns(stock.height.0 - MARGIN),
                &mut warnings,
            );
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
            "{what}: flag with its code, {} mm a module, flat enough to scan.",
            code.module
        ),
        None if tag.qr.is_empty() => format!("{what}: flag with text."),
        None => format!(
            "{what}: flag with text alone, since a code needs {} mm each way and the face has {} mm.",
            wanted_room(&tag.qr),
            stock.height.min(face)
        ),
    };
    warn_of_module(&mut laid, code.as_ref(), stock);
    if tag.diameter.0 > 0 {
        let turn = turn(tag.diameter, Microns(0), stock);
        if middle < turn.circumference {
            laid.warnings.push(Warning::of(format!(
                "The part of {} between its faces, {middle} mm, does not go round {what} ({} mm). Take flags with a longer middle.",
                stock.name, turn.circumference
            )));
        }
    }
    laid
}

fn warn_of_module(laid: &mut Laid, code: Option<&CodeFit>, stock: &Stock) {
    if let Some(code) = code.filter(|code| code.module.0 < SURE_MODULE) {
        laid.warnings.push(Warning::of(format!(
            "On {} a module of the code is {} mm; below 0.33 mm not every phone reads it. Take a larger label, or a finer printer.",
            stock.name, code.module
        )));
    }
}

fn flat(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
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
    let side = code.as_ref().map_or(MARGIN, |code| code.side.0);
    if let Some(code) = &code {
        put_code(
            &mut laid.sheet,
            code,
            0,
            (stock.height.0 - code.side.0) / 2,
            dots,
        );
    }
    let room = Microns(stock.width.0 - side - MARGIN);
    let block = Block::of(
        tag,
        room,
        Microns(stock.height.0 - 2 * MARGIN),
        &mut laid.warnings,
    );
    laid.block = block.height();
    block.draw(
        &mut laid.sheet,
        (Microns(side), room),
        Microns((stock.height.0 - block.height().0) / 2),
    );
    laid.reason = flat_reason(tag, code.as_ref(), stock);
    warn_of_module(&mut laid, code.as_ref(), stock);
    laid
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

/// A tape is cut behind what is printed, so the text gets the width that it needs.
fn tape(tag: &Tag, stock: &Stock, dots: Dots) -> Laid {
    let mut laid = Laid {
        repeats: 1,
        ..Laid::default()
    };
    let code = fit_code(&tag.qr, stock.height, dots).filter(|_| !tag.qr.is_empty());
    let side = code.as_ref().map_or(MARGIN, |code| code.side.0);
    let height = stock.height.0 - 2 * MARGIN;
    let small = Microns((height / 5).clamp(SMALL_LEAST, SMALL_MOST));
    let longest = [&tag.words, &tag.far]
        .map(|text| Font::Plain.width(text, small))
        .into_iter()
        .max();
    let big = Font::Bold.width(&tag.code, Microns(height * 2 / 5));
    let wanted = big.max(longest.unwrap_or(big)).0.max(10_000);
    let room = wanted.min(stock.width.0 - side - MARGIN).max(10_000);
    laid.width = Microns(side + room + MARGIN);
    if let Some(code) = &code {
        put_code(
            &mut laid.sheet,
            code,
            0,
            (stock.height.0 - code.side.0) / 2,
            dots,
        );
    }
    let block = Block::of(tag, Microns(room), Microns(height), &mut laid.warnings);
    laid.block = block.height();
    block.draw(
        &mut laid.sheet,
        (Microns(side), Microns(room)),
        Microns((stock.height.0 - block.height().0) / 2),
    );
    laid.reason = flat_reason(tag, code.as_ref(), stock).replace("Flat labels", "Tape");
    warn_of_module(&mut laid, code.as_ref(), stock);
    laid
}

/// The code of the outlet, then a letter for each jack.
fn insert(tag: &Tag, stock: &Stock) -> Laid {
    let mut laid = Laid {
        width: stock.width,
        repeats: 1,
        ..Laid::default()
    };
    let letters: Vec<&str> = tag.words.lines().collect();
    let (width, height) = (stock.width.0, stock.height.0);
    let code_room = if letters.is_empty() {
        width
    } else {
        width * 2 / 5
    };
    let put = |sheet: &mut Sheet, x: i32, room: i32, text: &str| {
        let most = Microns(height * 700 / CAPITALS);
        let size = Font::Bold.size_for(text, Microns(room - 2 * MARGIN), most);
        let y = height / 2 + size.0 * CAPITALS / 2_000;
        sheet.text(
            Font::Bold,
            size,
            (Microns(x), Microns(room)),
            Microns(y),
            text,
        );
    };
    put(&mut laid.sheet, 0, code_room, &tag.code);
    let count = i32::try_from(letters.len()).unwrap_or(1).max(1);
    let each = (width - code_room) / count;
    for (at, letter) in (0..).zip(&letters) {
        put(&mut laid.sheet, code_room + at * each, each, letter);
        laid.sheet.bar(code_room + at * each, 0, 100, height);
    }
    outline(&mut laid.sheet, width, height);
    laid.block = stock.height;
    laid.reason =
        "Inserts with the outlet's code and a letter for each jack, to be cut along the lines."
            .to_owned();
    laid
}

/// For each port the room's words, the code, and the number below them.
fn strip(tag: &Tag, stock: &Stock, pitch: Microns) -> Laid {
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
        let size = Microns((height * 22 / 100).clamp(SMALL_LEAST, SMALL_MOST));
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
            laid.sheet.bar(at * pitch.0, 0, 80, height);
        }
    }
    if count > 0 {
        outline(&mut laid.sheet, count * pitch.0, height);
    }
    laid.block = stock.height;
    laid.reason = format!(
        "Strips with a port every {pitch} mm, to be cut along the lines; measure the panel before you print all."
    );
    laid
}

/// A thin line to cut along.
fn outline(sheet: &mut Sheet, width: i32, height: i32) {
    sheet.bar(0, 0, width, 60);
    sheet.bar(0, height - 60, width, 60);
    sheet.bar(0, 0, 60, height);
    sheet.bar(width - 60, 0, 60, height);
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

fn capital(text: &str) -> String {
    let mut characters = text.chars();
    let first: String = characters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + characters.as_str()
}
