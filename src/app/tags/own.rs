//! Label stocks of one's own, described on this device.

use super::{Tags, choice, stock_field};
use crate::app::turn::go;
use crate::app::{Effect, Field, Model, Notice, Screen};
use crate::command::Refusal;
use crate::tags::{Feed, Grid, Microns, Shape, Stock, built_in};

/// The fields that describe a stock.
pub(super) const FIELDS: [Field; 12] = [
    Field::StockName,
    Field::StockShape,
    Field::StockFeed,
    Field::StockWidth,
    Field::StockHeight,
    Field::StockOwn,
    Field::StockColumns,
    Field::StockRows,
    Field::StockLeft,
    Field::StockTop,
    Field::StockAcross,
    Field::StockDown,
];

fn kept(model: &Model) -> Effect {
    let lines: Vec<String> = model.tags.own.iter().map(Stock::line).collect();
    Effect::Keep {
        key: "stocks",
        value: lines.join("\n"),
    }
}

/// Pages that a sheet of labels can have, by their keys, in micrometres: ISO 216 and ANSI Y14.1.
pub const PAGES: [(&str, &str, i32, i32); 2] = [
    ("a4", "A4", 210_000, 297_000),
    ("letter", "Letter", 215_900, 279_400),
];

/// Keeps the stock that the fields describe.
pub(super) fn keep(model: &mut Model) -> Vec<Effect> {
    let stock = match described(model) {
        Ok(stock) => stock,
        Err(words) => {
            model.notice = Some(Notice::Refused(Refusal::new(words)));
            return Vec::new();
        }
    };
    let name = stock.name.clone();
    let editing = model.tags.editing.take();
    let own = &mut model.tags.own;
    let is_replaced = |known: &Stock| known.name == name || Some(&known.name) == editing.as_ref();
    if let Some(at) = own.iter().position(is_replaced) {
        model.tags.before = Some(own[at].clone());
    }
    own.retain(|known| !is_replaced(known));
    let field = if choice(model).takes(stock.shape) {
        stock_field(choice(model))
    } else {
        match stock.shape {
            Shape::Wrap { .. } | Shape::Flag { .. } => Field::TagsStock,
            Shape::Flat => Field::TagsStockPlaces,
            Shape::Insert => Field::TagsStockInserts,
            Shape::Strip { .. } => Field::TagsStockStrips,
        }
    };
    model.tags.own.insert(0, stock);
    model.fields.set(field, name.clone());
    model.fields.clear(&FIELDS);
    let mut effects = vec![kept(model)];
    effects.extend(go(model, Screen::Tags));
    model.notice = Some(Notice::Told(format!("{name} is kept on this device.")));
    effects
}

/// Puts the measures of a stock into the fields.
fn fill(model: &mut Model, stock: Stock) {
    let (key, own) = stock.shape.key();
    let (feed, grid) = match stock.feed {
        Feed::Roll => ("roll", None),
        Feed::Tape => ("tape", None),
        Feed::Sheet(grid) => {
            let is_it = |(_, _, width, _): &(&str, &str, i32, i32)| *width == grid.page_width.0;
            let page = PAGES.into_iter().find(is_it).unwrap_or(PAGES[0]);
            (page.0, Some(grid))
        }
    };
    for (field, text) in [
        (Field::StockName, stock.name.clone()),
        (Field::StockShape, key.to_owned()),
        (Field::StockFeed, feed.to_owned()),
        (Field::StockWidth, stock.width.to_string()),
        (Field::StockHeight, stock.height.to_string()),
        (Field::StockOwn, own.to_string()),
    ] {
        model.fields.set(field, text);
    }
    if let Some(grid) = grid {
        for (field, text) in [
            (Field::StockColumns, grid.columns.to_string()),
            (Field::StockRows, grid.rows.to_string()),
            (Field::StockLeft, grid.left.to_string()),
            (Field::StockTop, grid.top.to_string()),
            (Field::StockAcross, grid.across.to_string()),
            (Field::StockDown, grid.down.to_string()),
        ] {
            model.fields.set(field, text);
        }
    }
    model.tags.editing = Some(stock.name);
}

/// The stock that the fields describe, or what is wrong with them.
fn described(model: &Model) -> Result<Stock, String> {
    let get = |field| model.fields.get(field).trim();
    let measure = |field, what: &str| {
        Microns::read(get(field)).ok_or_else(|| {
            format!(
                "“{}” is no {what}. Write millimetres, such as 25.4.",
                get(field)
            )
        })
    };
    let count = |field, what: &str| {
        get(field).parse::<i32>().map_err(|_| {
            format!(
                "“{}” is no number of {what}. Write how many there are.",
                get(field)
            )
        })
    };
    let (width, height) = (
        measure(Field::StockWidth, "width")?,
        measure(Field::StockHeight, "height")?,
    );
    let key = match get(Field::StockShape) {
        "" => "wrap",
        key => key,
    };
    let own = match key {
        "wrap" => measure(Field::StockOwn, "height of the printed part")?,
        "flag" => measure(Field::StockOwn, "length of a face")?,
        "strip" if !get(Field::StockOwn).is_empty() => {
            measure(Field::StockOwn, "distance from port to port")?
        }
        _ => Microns(0),
    };
    let shape = Shape::of(key, own).unwrap_or(Shape::Flat);
    let feed = match get(Field::StockFeed) {
        "roll" => Feed::Roll,
        "tape" => Feed::Tape,
        page => {
            let known = PAGES
                .into_iter()
                .find(|(key, ..)| *key == page)
                .unwrap_or(PAGES[0]);
            Feed::Sheet(Grid {
                page_width: Microns(known.2),
                page_height: Microns(known.3),
                columns: count(Field::StockColumns, "columns")?,
                rows: count(Field::StockRows, "rows")?,
                left: measure(Field::StockLeft, "distance from the left edge")?,
                top: measure(Field::StockTop, "distance from the upper edge")?,
                across: measure(Field::StockAcross, "distance from label to label")?,
                down: measure(Field::StockDown, "distance from label to label")?,
            })
        }
    };
    let stock = Stock {
        // The sign between the parts of a kept line is no part of a name.
        name: get(Field::StockName).replace(';', ","),
        shape,
        width,
        height,
        feed,
    };
    if built_in().iter().any(|known| known.name == stock.name) {
        return Err(format!(
            "{} is a stock that every device knows. Give yours another name.",
            stock.name
        ));
    }
    stock.check().map(|()| stock).map_err(|bad| bad.words)
}

/// Forgets one; it can be brought back.
pub(super) fn forget(model: &mut Model, at: usize) -> Vec<Effect> {
    if at < model.tags.own.len() {
        model.tags.before = Some(model.tags.own.remove(at));
    }
    vec![kept(model)]
}

/// Puts the measures of one into the fields, to be changed; none: empties them.
pub(super) fn edit(model: &mut Model, at: Option<usize>) -> Vec<Effect> {
    model.fields.clear(&FIELDS);
    model.tags.editing = None;
    let stock = at.and_then(|at| model.tags.own.get(at).cloned());
    if let Some(stock) = stock {
        fill(model, stock);
    }
    Vec::new()
}

/// Brings back the one that was forgotten or changed last, as it was.
pub(super) fn restore(model: &mut Model) -> Vec<Effect> {
    let Some(stock) = model.tags.before.take() else {
        return Vec::new();
    };
    model.tags.own.retain(|known| known.name != stock.name);
    model.tags.own.insert(0, stock);
    vec![kept(model)]
}

/// What was kept when the app was used before.
pub(super) fn started(tags: &mut Tags, kept: &str) {
    tags.own = kept.lines().filter_map(Stock::read).collect();
}
