//! The proof of printed tags: the file goes through poppler as through a printer, and what comes out is
//! measured in pixels and read by two readers that share nothing with the program.

mod damage;
mod grey;
mod measured;
mod poppler;
pub(super) mod readers;
mod worn;

use std::path::{Path, PathBuf};

use bothends::codes::qr::{Level, Matrix};
use bothends::papers::{Making, Piece, lay};
use bothends::tags::{Dots, Feed, Microns, Order, Tag};

use self::grey::Grey;
use self::poppler::{Partly, Printed};
use crate::tags::order::{order, tag};

/// A folder for pictures in the making.
fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("proof-{name}"))
}

/// Texts of QR codes with the version and the level that each needs.
const TEXTS: [(&str, usize, Level); 4] = [
    ("KIT2-C HM26K4X9", 1, Level::Q),
    ("BEDRM12-C HM26K4X9", 1, Level::M),
    ("DBEDROOM12-CA HM26K4X9", 2, Level::Q),
    ("HTTPS://REGISTRY.EXAMPLE/KIT2-C/HM26K4X9", 3, Level::Q),
];

/// So many tags with these texts in turn, each told apart by its number.
fn tags(count: usize) -> Vec<Tag> {
    let texts = TEXTS.iter().cycle().take(count).enumerate();
    let tags = texts.map(|(at, (text, ..))| Tag {
        // Letters and digits alone change, so the symbols keep their sizes.
        qr: text.replace("K4X9", &format!("K{at:03}")),
        copies: 1,
        ..tag("KIT2-C")
    });
    tags.collect()
}

fn at_dots(stock: &str, dots: Dots, count: usize) -> Order {
    let mut order = Order {
        dots,
        ..order(stock, tags(count))
    };
    // On flat labels these are tags of places: over a cable they would be folded.
    if stock.starts_with("Flat") {
        for tag in &mut order.tags {
            tag.diameter = Microns(0);
            tag.made_of.clear();
        }
    }
    order
}

/// A code on a page, by the arithmetic of the order alone.
struct Place {
    page: usize,
    /// The upper left corner of its first module, in mm.
    corner: (f64, f64),
    /// The label that it is on: upper left corner and size, in mm.
    label: [f64; 4],
    /// Dots to a module.
    dots: i32,
    text: String,
}

fn mm(length: Microns) -> f64 {
    f64::from(length.0) / 1000.0
}

/// Where the codes of an order must be. Sheets begin on the first page, where the ruler has room in a
/// margin; roll and tape have a page for the ruler alone.
fn places(order: &Order) -> Vec<Place> {
    let mut places = Vec::new();
    for (at, tag) in (0..).zip(&order.tags) {
        let (page, left, top) = match order.stock.feed {
            Feed::Sheet(grid) => {
                let at = at + order.start - 1;
                let on_page = at % (grid.columns * grid.rows);
                let step = |count: i32| f64::from(count);
                (
                    at / (grid.columns * grid.rows),
                    mm(grid.left) + step(on_page % grid.columns) * mm(grid.across),
                    mm(grid.top) + step(on_page / grid.columns) * mm(grid.down),
                )
            }
            Feed::Roll | Feed::Tape => (at + 1, 0.0, 0.0),
        };
        let laid = lay(tag, &order.stock, order.dots);
        for piece in &laid.sheet.pieces {
            if let Piece::Code { x, y, dots, .. } = piece {
                places.push(Place {
                    page: usize::try_from(page).expect("few"),
                    corner: (left + mm(*x), top + mm(*y)),
                    label: [left, top, mm(laid.width), mm(order.stock.height)],
                    dots: *dots,
                    text: tag.qr.clone(),
                });
            }
        }
    }
    places
}

fn to_pixels(length: f64, per_inch: i32) -> f64 {
    length / 25.4 * f64::from(per_inch)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place on a page, in pixels"
)]
fn whole(length: f64) -> usize {
    length.round().max(0.0) as usize
}

impl Place {
    /// The first dot of the code.
    fn dot(&self, per_inch: i32) -> (usize, usize) {
        let (x, y) = self.corner;
        (whole(to_pixels(x, per_inch)), whole(to_pixels(y, per_inch)))
    }

    fn module(&self) -> usize {
        usize::try_from(self.dots).expect("a number of dots")
    }

    /// What a person holds before the camera: the label as far as 12 mm round the code.
    fn seen(&self, page: &Grey, per_inch: i32) -> Grey {
        const ROUND: f64 = 12.0;
        let size = Matrix::of(&self.text).expect("it fits").size() * self.module();
        let side = f64::from(u32::try_from(size).expect("small")) * 25.4 / f64::from(per_inch);
        let (x, y) = self.corner;
        let [left, top, width, height] = self.label;
        let (from_x, from_y) = ((x - ROUND).max(left), (y - ROUND).max(top));
        let (to_x, to_y) = (
            (x + side + ROUND).min(left + width),
            (y + side + ROUND).min(top + height),
        );
        let dot = |length: f64| whole(to_pixels(length, per_inch));
        let from = (dot(from_x), dot(from_y));
        page.crop(from, (dot(to_x) - from.0, dot(to_y) - from.1))
    }
}

/// Reads every code of an order, printed at its own dots, with both readers: a pixel for each dot, which is
/// the least that a reader can be given.
fn all_is_read(order: &Order, name: &str) {
    let printed = Printed::of(order, name);
    for partly in [Partly::Grey, Partly::Black] {
        let pages = printed.pages(order.dots.per_inch(), partly);
        pages_are_read(order, &pages, &format!("{name}-{partly:?}"));
    }
}

fn pages_are_read(order: &Order, pages: &[Grey], name: &str) {
    let per_inch = order.dots.per_inch();
    assert_eq!(
        pages.len(),
        usize::try_from(Making::pages(order)).expect("few")
    );
    let places = places(order);
    assert!(
        places.len() >= order.tags.len(),
        "{name}: a code is missing"
    );
    let seen: Vec<Grey> = places
        .iter()
        .map(|place| place.seen(&pages[place.page], per_inch))
        .collect();
    let zbar = readers::zbar(&seen, &folder(&format!("{name}-seen")));
    for ((place, seen), zbar) in places.iter().zip(&seen).zip(zbar) {
        let about = format!("{name}, page {}, at {:?} mm", place.page + 1, place.corner);
        assert_eq!(zbar, [place.text.as_str()], "ZBar, {about}");
        assert_eq!(
            readers::rxing(seen).as_ref(),
            Some(&place.text),
            "rxing, {about}"
        );
    }
}

#[test]
fn the_texts_need_symbols_of_several_kinds() {
    for (tag, (_, version, level)) in tags(TEXTS.len()).iter().zip(TEXTS) {
        let matrix = Matrix::of(&tag.qr).expect("it fits");
        assert_eq!((matrix.version(), matrix.level()), (version, level));
    }
}

#[test]
fn two_readers_read_every_flag_of_a_roll() {
    for dots in [Dots::D203, Dots::D300] {
        let order = at_dots("Flags on a roll", dots, 8);
        all_is_read(&order, &format!("roll-{}", dots.per_inch()));
    }
}

#[test]
fn two_readers_read_every_label_of_sheets() {
    for (stock, dots) in [
        ("Flat labels, A4", Dots::D203),
        ("Flat labels, A4", Dots::D300),
        ("Flags, Letter", Dots::D300),
    ] {
        let mut order = at_dots(stock, dots, 20);
        // A used sheet, so that the labels go on to a second page.
        order.start = 14;
        let name = format!("{}-{}", stock.replace([' ', ','], ""), dots.per_inch());
        all_is_read(&order, &name);
    }
}

#[test]
fn two_readers_read_every_piece_of_tape() {
    for (stock, dots) in [
        ("Tape, 12 mm", Dots::D203),
        ("Tape, 12 mm", Dots::D300),
        ("Tape, 24 mm", Dots::D600),
    ] {
        let order = at_dots(stock, dots, 8);
        let name = format!("{}-{}", stock.replace([' ', ','], ""), dots.per_inch());
        all_is_read(&order, &name);
    }
}

#[test]
fn two_readers_read_flags_that_came_out_of_another_printer_than_they_were_made_for() {
    // Modules of six dots of 300 to the inch are 4.06 dots of 203: their edges fall between dots.
    for (stock, made_for, printed_at) in [
        ("Flags, A4", Dots::D300, 203),
        ("Flags on a roll", Dots::D300, 203),
        ("Flags on a roll", Dots::D203, 300),
    ] {
        let order = at_dots(stock, made_for, 8);
        let name = format!("other-{}-{printed_at}", stock.replace([' ', ','], ""));
        let printed = Printed::of(&order, &name);
        for partly in [Partly::Grey, Partly::Black] {
            let pages = printed.pages(printed_at, partly);
            let places = places(&order);
            let seen: Vec<Grey> = places
                .iter()
                .map(|place| place.seen(&pages[place.page], printed_at))
                .collect();
            let zbar = readers::zbar(&seen, &folder(&format!("{name}-seen")));
            for ((place, seen), zbar) in places.iter().zip(&seen).zip(zbar) {
                assert_eq!(zbar, [place.text.as_str()], "ZBar, {name} {partly:?}");
                let rxing = readers::rxing(seen);
                assert_eq!(
                    rxing.as_ref(),
                    Some(&place.text),
                    "rxing, {name} {partly:?}"
                );
            }
        }
    }
}
