//! How tags lie on paper: what fits on which label, the picture of it, and the file that prints at
//! the right size.
//!
//! It is built into a module of its own that runs in another thread, and is loaded to print alone.
//! It knows nothing of a job but the order that it is given.

/// Lines of text at the largest sizes that fit.
mod block;
/// A label as pieces with their places.
mod drawing;
/// What fits on a label.
mod fit;
/// The typefaces and their widths.
mod font;
/// What lies where on a label.
mod label;
/// Papers of a rack on whole pages.
mod leaf;
/// The file.
mod pdf;
/// The picture of a tag on its cable.
mod picture;
/// A series of codes.
mod series;

use crate::exchange::csv::{self, Form};
use crate::tags::{Look, Order, Tag, lacking};

pub use drawing::{Piece, Sheet};
pub use fit::{CodeFit, Turn, fit_code, turn};
pub use font::{CAPITALS, Font};
pub use label::{Laid, Warning, lay};
pub use pdf::{MICRONS_PER_POINT, Making};
pub use series::series;

/// The most sentences of one kind that are told.
const TOLD: usize = 8;

/// Looks at an order: whether it can be printed, and how it would come out.
#[must_use]
pub fn look(order: &Order) -> Look {
    if let Err(words) = check(order) {
        return Look {
            refused: Some(words),
            ..Look::default()
        };
    }
    let mut look = Look {
        labels: order.labels(),
        counts: counts(order),
        ..Look::default()
    };
    let mut warned: Vec<(String, Vec<String>)> = Vec::new();
    let mut without = 0;
    for tag in &order.tags {
        let laid = lay(tag, &order.stock, order.dots);
        let is_code = |piece: &Piece| matches!(piece, Piece::Code { .. });
        if !tag.qr.is_empty() && !laid.sheet.pieces.iter().any(is_code) {
            without += 1;
        }
        if !look.reasons.contains(&laid.reason) {
            look.reasons.push(laid.reason);
        }
        for warning in laid.warnings {
            match warned.iter_mut().find(|(words, _)| *words == warning.words) {
                Some((_, codes)) => codes.push(warning.code),
                None => warned.push((warning.words, vec![warning.code])),
            }
        }
    }
    look.counts
        .push_str(&without_code(without, order.tags.len()));
    look.warnings = warned
        .into_iter()
        .map(|(words, codes)| told(&words, &codes))
        .collect();
    look.warnings.extend(pdf::short_ruler(&order.stock));
    look.picture = order
        .tags
        .first()
        .map(|tag| picture::picture(tag, order))
        .unwrap_or_default();
    for sentences in [&mut look.reasons, &mut look.warnings] {
        let more = sentences.len().saturating_sub(TOLD);
        sentences.truncate(TOLD);
        if more > 0 {
            sentences.push(format!("And {more} more of this kind."));
        }
    }
    look
}

/// How many labels on how many pages, what the first is where it is no label of the order, and which
/// printer the file is for.
fn counts(order: &Order) -> String {
    let of =
        |count: i32, what: &str| format!("{count} {what}{}", if count == 1 { "" } else { "s" });
    let first = if pdf::begins_with_ruler(order) {
        ", the first of them the ruler to check the size by"
    } else {
        ""
    };
    format!(
        "{} on {}{first}. For a printer of {} dots to the inch.",
        of(order.labels(), "label"),
        of(Making::pages(order), "page"),
        order.dots.per_inch()
    )
}

/// On how many tags there is no room for the code that they should carry.
fn without_code(without: usize, of: usize) -> String {
    match (without, of) {
        (0, _) => String::new(),
        (1, 1) => " It has no QR code: text alone.".to_owned(),
        (without, of) if without == of => " They have no QR code: text alone.".to_owned(),
        (1, _) => " One tag has no QR code: text alone.".to_owned(),
        (without, _) => format!(" {without} tags have no QR code: text alone."),
    }
}

/// How many tags are named where it is so on many.
const NAMED: usize = 4;

/// A warning with the tags that it is about.
fn told(words: &str, codes: &[String]) -> String {
    let mut codes: Vec<&str> = codes
        .iter()
        .map(String::as_str)
        .filter(|code| !code.is_empty())
        .collect();
    codes.dedup();
    match codes.as_slice() {
        [] => words.to_owned(),
        few if few.len() <= NAMED => format!("{words} It is so on {}.", few.join(", ")),
        many => format!(
            "{words} It is so on {} and {} more.",
            many[..NAMED].join(", "),
            many.len() - NAMED
        ),
    }
}

/// Whether an order can be printed at all.
///
/// # Errors
/// What is wrong and what to do, as a sentence.
pub fn check(order: &Order) -> Result<(), String> {
    order.stock.check().map_err(|bad| bad.words)?;
    if order.tags.is_empty() {
        return Err(
            "Nothing is chosen, so there is nothing to print. Choose what the tags are for."
                .to_owned(),
        );
    }
    if let Some(count) = order.stock.per_page()
        && !(1..=count).contains(&order.start)
    {
        return Err(format!(
            "A sheet of {} has the labels 1 to {count}. Write the number of the first one that is still there.",
            order.stock.name
        ));
    }
    match order
        .tags
        .iter()
        .filter_map(lacks)
        .collect::<Vec<_>>()
        .as_slice()
    {
        [] => Ok(()),
        bad => {
            let named: Vec<&str> = bad.iter().take(NAMED).map(String::as_str).collect();
            let more = bad.len().saturating_sub(NAMED);
            let more = if more > 0 {
                format!(", and {more} more")
            } else {
                String::new()
            };
            Err(format!(
                "The typeface of the tags lacks {}{more}. Write these names with other letters, or choose the rest room by room.",
                named.join("; ")
            ))
        }
    }
}

/// A character that the typefaces lack would be printed as something else: what and where.
fn lacks(tag: &Tag) -> Option<String> {
    let texts = [&tag.code, &tag.far, &tag.position].map(String::as_str);
    let cells = tag.words.lines().flat_map(|line| line.split('\t'));
    texts.into_iter().chain(cells).find_map(|text| {
        let character = lacking(text)?;
        Some(format!("“{character}” of {} in “{text}”", tag.code))
    })
}

/// The texts of the tags for a printer that has its own software, a row for each tag.
#[must_use]
pub fn texts(order: &Order) -> Vec<u8> {
    let head = [
        "Code",
        "Words",
        "Far place",
        "Position",
        "Before the code",
        "QR text",
        "Copies",
    ]
    .map(str::to_owned);
    let rows = order.tags.iter().map(|tag| {
        [
            tag.code.clone(),
            tag.words.replace(['\n', '\t'], " "),
            tag.far.clone(),
            tag.position.clone(),
            tag.badge.words().to_owned(),
            tag.qr.clone(),
            tag.copies.to_string(),
        ]
    });
    csv::write(std::iter::once(head).chain(rows), Form::Raw)
}

/// One tag alone as SVG, in millimetres.
#[must_use]
pub fn single(order: &Order) -> String {
    order
        .tags
        .first()
        .map(|tag| picture::bare(tag, order))
        .unwrap_or_default()
}
