//! Papers of a rack on whole pages: tables in columns, and the rack to scale.

use super::drawing::{Piece, Sheet};
use super::font::Font;
use crate::tags::{Booklet, Leaf, LeafKind, Microns, code_of};

/// Round the page.
const MARGIN: i32 = 12_000;
/// From the upper edge to what stands below the title, and what the foot takes.
const HEAD: i32 = 30_000;
const FOOT: i32 = 16_000;
/// The smallest type that is used. From memory: 1.6 mm is read at arm's length.
const LEAST: i32 = 1_600;
/// A row of a table at most and at least.
const ROW_MOST: i32 = 6_500;
const ROW_LEAST: i32 = 4_000;
/// A panel is 19 inches wide (IEC 60297, EIA-310).
const PANEL: i32 = 482_600;
/// A rack unit is 1.75 inches high (IEC 60297, EIA-310).
const UNIT: i32 = 44_450;
/// Scales of drawings that make things smaller (ISO 5455).
const SCALES: [i32; 3] = [5, 10, 20];

/// The pages of a leaf.
pub(super) fn lay_leaf(leaf: &Leaf, of: &Booklet) -> Vec<Sheet> {
    let page = Page {
        width: of.width.0,
        height: of.height.0,
    };
    match leaf.kind {
        LeafKind::Map => {
            let heads = ["Position", "Cable", "Room", "Far end", "Made of"];
            let columns = if leaf.rows.len() > 60 { 2 } else { 1 };
            page.table(leaf, &heads, &[13, 22, 25, 22, 18], columns)
        }
        LeafKind::Card => page.table(leaf, &["Position", "Cable", "Room"], &[19, 41, 40], 3),
        LeafKind::Elevation => vec![page.rack(leaf)],
    }
}

#[derive(Clone, Copy)]
struct Page {
    width: i32,
    height: i32,
}

impl Page {
    fn body(self) -> i32 {
        self.height - HEAD - FOOT
    }

    /// A page with what stands on every page of a leaf.
    fn headed(self, leaf: &Leaf, part: &str) -> Sheet {
        let mut sheet = Sheet::default();
        let room = self.width - 2 * MARGIN;
        left(
            &mut sheet,
            Font::Bold,
            6_500,
            (MARGIN, room),
            18_000,
            &leaf.title,
        );
        left(
            &mut sheet,
            Font::Plain,
            3_400,
            (MARGIN, room),
            24_500,
            &leaf.under,
        );
        let mut foot = leaf.foot.clone();
        let texts = [&leaf.title, &leaf.under].into_iter();
        let cells = leaf.rows.iter().flatten();
        if texts.chain(cells).any(|text| text.chars().any(lacks)) {
            foot.push_str(" A ? stands for a sign that the typeface lacks.");
        }
        let y = self.height - 8_000;
        left(
            &mut sheet,
            Font::Plain,
            2_600,
            (MARGIN, room - 30_000),
            y,
            foot.trim_start(),
        );
        let x = MARGIN + room - 28_000;
        left(&mut sheet, Font::Plain, 2_600, (x, 28_000), y, part);
        sheet
    }

    /// A table in columns, on as many pages as it takes; the rows of a map stay on one.
    fn table(self, leaf: &Leaf, heads: &[&str], parts: &[i32], columns: i32) -> Vec<Sheet> {
        let rows = i32::try_from(leaf.rows.len()).unwrap_or(i32::MAX).max(1);
        let mut in_column = (rows + columns - 1) / columns;
        // What a position is patched to stays below it.
        let next = usize::try_from(in_column)
            .ok()
            .and_then(|at| leaf.rows.get(at));
        if next.is_some_and(|row| row[0].is_empty()) {
            in_column += 1;
        }
        let fits = (self.body() / ROW_LEAST - 1).max(1);
        let per_column = match leaf.kind {
            LeafKind::Map => in_column,
            LeafKind::Card | LeafKind::Elevation => in_column.min(fits),
        };
        let row = (self.body() / (per_column + 1)).min(ROW_MOST);
        let gap = 4_000;
        let width = (self.width - 2 * MARGIN - gap * (columns - 1)) / columns;
        let per_page = usize::try_from(per_column * columns).unwrap_or(1);
        let pages = leaf.rows.len().div_ceil(per_page).max(1);
        let mut sheets = Vec::new();
        for page in 0..pages {
            let part = match pages {
                1 => String::new(),
                _ => ["Page ", &(page + 1).to_string(), " of ", &pages.to_string()].concat(),
            };
            let mut sheet = self.headed(leaf, &part);
            let on_page = leaf.rows.iter().skip(page * per_page).take(per_page);
            let mut drawn = (0..).zip(on_page).peekable();
            while let Some((at, _)) = drawn.peek() {
                let column = *at / per_column;
                let x = MARGIN + column * (width + gap);
                line(
                    &mut sheet,
                    Font::Bold,
                    (x, width),
                    HEAD + row,
                    row,
                    (heads, parts),
                );
                sheet.bar(x, HEAD + row, width, 300);
                for _ in 0..per_column {
                    let Some((at, cells)) = drawn.next() else {
                        break;
                    };
                    let y = HEAD + row * (at % per_column + 2);
                    let texts: Vec<&str> = cells.iter().map(String::as_str).collect();
                    line(&mut sheet, Font::Plain, (x, width), y, row, (&texts, parts));
                    sheet.bar(x, y, width, 60);
                }
            }
            sheets.push(sheet);
        }
        sheets
    }

    /// A rack to scale, with what hangs in it named beside it.
    fn rack(self, leaf: &Leaf) -> Sheet {
        let count = |text: &str| text.parse::<i32>().unwrap_or(1);
        let stacked: i32 = leaf.rows.iter().map(|row| count(&row[1])).sum();
        let units = match i32::from(leaf.units) {
            0 => stacked.max(1),
            units => units,
        };
        // What hangs at no rack unit is drawn below the others, half a unit down.
        let outside = leaf.rows.iter().filter(|row| row[0].is_empty());
        let outside: i32 = match leaf.units {
            0 => 0,
            _ => outside.map(|row| count(&row[1])).sum(),
        };
        let all = units + outside + i32::from(outside > 0);
        // What would not fit at the smallest scale is drawn smaller still, and says so.
        let fits =
            |scale: &i32| UNIT / scale * all <= self.body() && PANEL / scale <= self.width / 2;
        let scale = SCALES.into_iter().find(fits).unwrap_or(50);
        let (unit, wide) = (UNIT / scale, PANEL / scale);
        let said = ["1 : ", &scale.to_string()].concat();
        let mut sheet = self.headed(leaf, &["Scale ", &said].concat());
        let x = MARGIN + 8_000;
        let bottom = HEAD + 2_000 + unit * units;
        frame(&mut sheet, [x, HEAD + 2_000, wide, unit * units], 400);
        if leaf.units > 0 {
            for at in 1..=units {
                let size = (unit * 2 / 3).min(2_600);
                let y = bottom - unit * at + unit / 2 + size / 3;
                let number = at.to_string();
                for x in [x - 6_000, x + wide + 1_000] {
                    let room = (Microns(x), Microns(5_000));
                    sheet.text(Font::Plain, Microns(size), room, Microns(y), &number);
                }
            }
        }
        let mut stack = match leaf.units {
            0 => HEAD + 2_000,
            _ => bottom + unit,
        };
        if outside > 0 {
            let size = (unit * 3 / 4).min(3_000);
            let y = bottom + unit * 3 / 4;
            left(
                &mut sheet,
                Font::Plain,
                size,
                (x, wide),
                y,
                "At no rack unit",
            );
        }
        for row in &leaf.rows {
            let high = count(&row[1]) * unit;
            let top = match (leaf.units, row[0].parse::<i32>()) {
                (1.., Ok(low)) => bottom - unit * (low - 1) - high,
                _ => {
                    stack += high;
                    stack - high
                }
            };
            // What hangs in the units of a panel is drawn beside it, and named with it.
            let level: Vec<&[String; 5]> = beside(leaf, row).collect();
            let is_panel = !row[3].is_empty();
            let (x, wide) = match (level.is_empty(), is_panel) {
                (true, _) => (x, wide),
                (false, true) => (x + wide * 2 / 5, wide * 3 / 5),
                (false, false) => (x, wide * 2 / 5),
            };
            frame(&mut sheet, [x, top, wide, high], 250);
            ports(&mut sheet, [x + 500, top, wide - 1_000, high], &row[3]);
            let size = (unit * 3 / 4).min(3_000);
            let y = top + high / 2 + size / 3;
            if !is_panel {
                left(
                    &mut sheet,
                    Font::Plain,
                    size,
                    (x + 1_500, wide - 3_000),
                    y,
                    &row[2],
                );
                if !level.is_empty() {
                    continue;
                }
            }
            let mut words = row[2].clone();
            for note in std::iter::once(&row[4]).chain(level.into_iter().map(|row| &row[2])) {
                if !note.is_empty() {
                    words.push_str(", ");
                    words.push_str(note);
                }
            }
            let beside = MARGIN + 8_000 + PANEL / scale + 8_000;
            left(
                &mut sheet,
                Font::Plain,
                size,
                (beside, self.width - MARGIN - beside),
                y,
                &words,
            );
        }
        sheet
    }
}

/// The rows that take a rack unit of another one, of which one is a panel and the other none.
fn beside<'a>(leaf: &'a Leaf, row: &'a [String; 5]) -> impl Iterator<Item = &'a [String; 5]> {
    let reach = |row: &[String; 5]| {
        let [low, high] = [&row[0], &row[1]].map(|text| text.parse::<i32>().unwrap_or(0));
        (low, low + high)
    };
    let (low, end) = reach(row);
    leaf.rows.iter().filter(move |other| {
        let (other_low, other_end) = reach(other);
        leaf.units > 0
            && other[3].is_empty() != row[3].is_empty()
            && low < other_end
            && other_low < end
    })
}

/// The positions of a panel, each by the sign of its state.
fn ports(sheet: &mut Sheet, [x, y, wide, high]: [i32; 4], states: &str) {
    if states.is_empty() {
        return;
    }
    let rows = i32::try_from(states.split('/').count()).unwrap_or(1);
    for (row, signs) in (0..).zip(states.split('/')) {
        let middle = y + high / rows * row + high / rows / 2;
        let pitch = wide / 24;
        let side = (pitch * 2 / 3).min(high / rows * 2 / 3);
        for (at, sign) in (0..).zip(signs.chars()) {
            let centre = x + pitch * at + pitch / 2;
            let (left, top) = (centre - side / 2, middle - side / 2);
            match sign {
                '#' => sheet.bar(left, top, side, side),
                'o' => frame(sheet, [left, top, side, side], (side / 6).max(80)),
                '.' => sheet.bar(centre - side / 8, middle - side / 8, side / 4, side / 4),
                other => {
                    let room = (Microns(left - side), Microns(3 * side));
                    let text = other.to_string();
                    let base = Microns(middle + side / 2);
                    sheet.text(Font::Bold, Microns(side * 4 / 3), room, base, &text);
                }
            }
        }
    }
}

fn frame(sheet: &mut Sheet, [x, y, wide, high]: [i32; 4], thick: i32) {
    sheet.bar(x, y, wide, thick);
    sheet.bar(x, y + high - thick, wide, thick);
    sheet.bar(x, y, thick, high);
    sheet.bar(x + wide - thick, y, thick, high);
}

/// A row of a table: its cells by their parts of the width, in hundredths.
fn line(
    sheet: &mut Sheet,
    font: Font,
    (x, width): (i32, i32),
    y: i32,
    row: i32,
    (cells, parts): (&[&str], &[i32]),
) {
    let size = (row * 6 / 10).min(3_000);
    let mut at = x;
    // A row that says one thing has the whole width for it.
    let is_note = cells
        .iter()
        .all(|cell| cell.is_empty() || *cell == cells[1]);
    for (cell, part) in cells.iter().zip(parts) {
        let room = width * part / 100;
        let whole = if is_note { x + width - at } else { room };
        // Codes are read first.
        let font = if part == &parts[0] { Font::Bold } else { font };
        left(
            sheet,
            font,
            size,
            (at, whole - 1_000),
            y - row * 3 / 10,
            cell,
        );
        at += room;
    }
}

fn lacks(character: char) -> bool {
    code_of(character).is_none()
}

/// Puts a text at the left of a stretch, smaller where it is too long, and cut where that is not
/// enough.
fn left(sheet: &mut Sheet, font: Font, size: i32, (x, room): (i32, i32), y: i32, text: &str) {
    let sign = |character| if lacks(character) { '?' } else { character };
    let mut text: String = text.chars().map(sign).collect();
    let size = font.size_for(&text, Microns(room), Microns(size)).0;
    let size = Microns(size.max(LEAST));
    if font.width(&text, size).0 > room {
        while !text.is_empty() && font.width(&text, size).0 + size.0 > room {
            text.pop();
        }
        text.push('…');
    }
    if text.trim().is_empty() {
        return;
    }
    sheet.pieces.push(Piece::Text {
        font,
        size,
        x: Microns(x),
        y: Microns(y),
        text,
    });
}
