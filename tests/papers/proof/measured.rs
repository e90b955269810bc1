//! Millimetres and dots, measured on what poppler makes of the file.

use bothends::codes::qr::Matrix;
use bothends::papers::lay;
use bothends::tags::{Dots, Feed, Order};

use super::grey::Grey;
use super::poppler::{Partly, Printed};
use super::{Place, at_dots, mm, places, to_pixels};

/// What a page may be off by, in mm.
const TOLERANCE: f64 = 0.1;

fn per_dot(per_inch: i32) -> f64 {
    25.4 / f64::from(per_inch)
}

fn number(count: usize) -> f64 {
    f64::from(u32::try_from(count).expect("on a page"))
}

#[track_caller]
fn near(got: f64, wanted: f64, what: &str) {
    assert!(
        (got - wanted).abs() <= TOLERANCE,
        "{what}: {got:.3} mm, wanted {wanted:.3} mm"
    );
}

#[test]
fn pages_have_the_size_of_the_paper_and_of_the_label() {
    // A4: ISO 216; Letter: 8.5 by 11 inches (ANSI Y14.1). Flags on a roll are 90 by 16 mm, and the ruler
    // of a tape stands on a piece of 54 mm.
    let first = [
        ("Flat labels, A4", (210.0, 297.0)),
        ("Flags, A4", (210.0, 297.0)),
        ("Flat labels, Letter", (215.9, 279.4)),
        ("Wraps for data cable, Letter", (215.9, 279.4)),
        ("Flags on a roll", (90.0, 16.0)),
        ("Tape, 12 mm", (54.0, 12.0)),
        ("Tape, 24 mm", (54.0, 24.0)),
    ];
    for (stock, (width, height)) in first {
        let order = at_dots(stock, Dots::D300, 4);
        let sizes = Printed::of(&order, &format!("sizes-{}", plain(stock))).sizes();
        near(sizes[0].0, width, stock);
        near(sizes[0].1, height, stock);
        match order.stock.feed {
            Feed::Sheet(_) => assert!(sizes.iter().all(|size| *size == sizes[0])),
            Feed::Roll | Feed::Tape => {
                for (size, tag) in sizes[1..].iter().zip(&order.tags) {
                    let laid = lay(tag, &order.stock, order.dots);
                    near(size.0, mm(laid.width), stock);
                    near(size.1, height, stock);
                }
                assert_eq!(sizes.len(), 1 + order.tags.len());
            }
        }
    }
}

fn plain(stock: &str) -> String {
    stock.replace([' ', ','], "")
}

/// The longest dark run of a page from left to right, as its begin and length in pixels: the ruler, on
/// labels without lines of their own.
fn longest_run(page: &Grey) -> (usize, usize) {
    let mut longest = (0, 0);
    for row in page.pixels.chunks(page.width) {
        let mut begin = 0;
        for (x, pixel) in row.iter().enumerate() {
            if *pixel >= 128 {
                begin = x + 1;
            } else if x + 1 - begin > longest.1 {
                longest = (begin, x + 1 - begin);
            }
        }
    }
    longest
}

#[test]
fn the_ruler_has_fifty_millimetres() {
    // On sheets it begins 10 mm from the edge, on roll and tape 1 mm.
    for (stock, left) in [
        ("Flat labels, A4", 10.0),
        ("Flags, A4", 10.0),
        ("Flags, Letter", 10.0),
        ("Flat labels, Letter", 10.0),
        ("Wraps for data cable, A4", 10.0),
        ("Flags on a roll", 1.0),
        ("Tape, 12 mm", 1.0),
    ] {
        let order = at_dots(stock, Dots::D300, 2);
        let pages =
            Printed::of(&order, &format!("ruler-{}", plain(stock))).pages(300, Partly::Grey);
        let (begin, length) = longest_run(&pages[0]);
        near(number(length) * per_dot(300), 50.0, stock);
        near(number(begin) * per_dot(300), left, stock);
    }
}

/// The first dark column and row of the part of a page that holds one code and nothing else.
fn corner(page: &Grey, place: &Place, per_inch: i32) -> (f64, f64) {
    let (left, top) = place.dot(per_inch);
    // The quiet zone and the first finder pattern, which is dark along its upper and left edge.
    let (border, side) = (4 * place.module(), 11 * place.module());
    let part = page.crop((left - border, top - border), (side, side));
    let is_dark = |x: usize, y: usize| part.at(x, y) < 128;
    let column = (0..side).find(|x| (0..side).any(|y| is_dark(*x, y)));
    let row = (0..side).find(|y| (0..side).any(|x| is_dark(x, *y)));
    let place = |at: usize, found: Option<usize>| {
        number(at - border + found.expect("a code")) * per_dot(per_inch)
    };
    (place(left, column), place(top, row))
}

#[test]
fn codes_stand_where_the_grid_says() {
    // Worked out from the measures of the stock, without the part that lays tags: on flat labels the code
    // begins at the left edge with its quiet zone, in the middle of the height. A label of 63.5 by
    // 38.1 mm leaves room for 31.75 mm, and a module is never above 0.85 mm: 10 dots of 300 to the inch.
    for (stock, label, gap, columns, page) in [
        (
            "Flat labels, A4",
            (63.5, 38.1),
            (2.5, 0.0),
            3,
            (210.0, 297.0),
        ),
        (
            "Flat labels, Letter",
            (66.7, 25.4),
            (3.0, 0.0),
            3,
            (215.9, 279.4),
        ),
    ] {
        let rows = if page.1 > 290.0 { 7 } else { 10 };
        let first = |page: f64, label: f64, count: i32, gap: f64| {
            (page - f64::from(count) * label - f64::from(count - 1) * gap) / 2.0
        };
        let order = at_dots(stock, Dots::D300, 20);
        let pages = Printed::of(&order, &format!("grid-{}", plain(stock))).pages(300, Partly::Grey);
        for (at, place) in (0..).zip(places(&order)) {
            let modules = Matrix::of(&place.text).expect("it fits").size() + 8;
            let room = f64::min(label.0 / 2.0, label.1);
            let dots = (room / per_dot(300) / number(modules)).min(10.0).floor();
            let module = dots * per_dot(300);
            let (column, row) = (f64::from(at % columns), f64::from(at / columns));
            let left = first(page.0, label.0, columns, gap.0) + column * (label.0 + gap.0);
            let top = first(page.1, label.1, rows, gap.1) + row * (label.1 + gap.1);
            let x = left + 4.0 * module;
            let y = top + (label.1 - number(modules) * module) / 2.0 + 4.0 * module;
            let got = corner(&pages[place.page], &place, 300);
            near(got.0, x, &format!("{stock} {at}, left"));
            near(got.1, y, &format!("{stock} {at}, top"));
        }
    }
}

#[test]
fn codes_on_roll_and_tape_stand_where_they_were_laid() {
    for stock in ["Flags on a roll", "Tape, 12 mm", "Tape, 24 mm", "Flags, A4"] {
        for dots in [Dots::D203, Dots::D300] {
            let per_inch = dots.per_inch();
            let order = at_dots(stock, dots, 4);
            let name = format!("laid-{}-{per_inch}", plain(stock));
            let pages = Printed::of(&order, &name).pages(per_inch, Partly::Grey);
            for place in places(&order) {
                let got = corner(&pages[place.page], &place, per_inch);
                near(got.0, place.corner.0, stock);
                near(got.1, place.corner.1, stock);
            }
        }
    }
}

/// How many pixels of a code with its quiet zone are not what their modules say: 0 exactly where it is
/// dark, and 255 where it is light, so an edge that is off by a quarter of a pixel is found.
fn wrong_pixels(page: &Grey, place: &Place, per_inch: i32) -> usize {
    let matrix = Matrix::of(&place.text).expect("it fits");
    let (left, top) = place.dot(per_inch);
    let (module, size) = (place.module(), matrix.size());
    let side = (size + 8) * module;
    // The first four modules are the quiet zone.
    let inside = |pixel: usize| (pixel / module).checked_sub(4).filter(|at| *at < size);
    let is_dark = |x: usize, y: usize| match (inside(x), inside(y)) {
        (Some(x), Some(y)) => matrix.dark(x, y),
        _ => false,
    };
    (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .filter(|(x, y)| {
            let pixel = page.at(left + x - 4 * module, top + y - 4 * module);
            if is_dark(*x, *y) {
                pixel != 0
            } else {
                pixel != 255
            }
        })
        .count()
}

/// The wrong pixels of all codes of an order, seen at some dots to the inch.
fn all_wrong(order: &Order, per_inch: i32) -> Vec<usize> {
    let name = format!(
        "edges-{}-{}",
        plain(&order.stock.name),
        order.dots.per_inch()
    );
    let pages = Printed::of(order, &name).pages(per_inch, Partly::Grey);
    let places = places(order);
    places
        .iter()
        .map(|place| wrong_pixels(&pages[place.page], place, per_inch))
        .collect()
}

#[test]
fn every_edge_of_a_module_is_the_edge_of_a_dot() {
    for stock in [
        "Flat labels, A4",
        "Flags, Letter",
        "Flags on a roll",
        "Tape, 12 mm",
    ] {
        for dots in [Dots::D203, Dots::D300] {
            let wrong = all_wrong(&at_dots(stock, dots, 20), dots.per_inch());
            assert!(wrong.len() >= 20);
            let most = wrong.iter().max();
            assert_eq!(most, Some(&0), "{stock} at {dots:?}: {wrong:?}");
        }
    }
}

#[test]
fn an_edge_between_two_dots_is_found() {
    // The check above would be worth nothing if it found nothing: a file for 300 dots on a printer of 305.
    let order = at_dots("Flags on a roll", Dots::D300, 4);
    let wrong = all_wrong(&order, 305);
    assert!(wrong.iter().all(|count| *count > 100), "{wrong:?}");
    // Nor is the measure of the ruler fooled by it.
    let length = to_pixels(50.0, 305) * per_dot(300);
    assert!((length - 50.0).abs() > TOLERANCE);
}

#[test]
fn a_module_is_as_wide_as_its_dots_where_every_touched_dot_is_black() {
    for stock in ["Flat labels, A4", "Flags on a roll", "Tape, 12 mm"] {
        for dots in [Dots::D203, Dots::D300] {
            let per_inch = dots.per_inch();
            let order = at_dots(stock, dots, 4);
            let name = format!("wide-{}-{per_inch}", plain(stock));
            let pages = Printed::of(&order, &name).pages(per_inch, Partly::Black);
            for place in places(&order) {
                let most = too_wide(&pages[place.page], &place, per_inch);
                assert_eq!(most, 0, "{stock} at {per_inch}");
            }
        }
    }
}

/// By how many dots the dark modules of a code reach into light ones.
fn too_wide(page: &Grey, place: &Place, per_inch: i32) -> usize {
    let matrix = Matrix::of(&place.text).expect("it fits");
    let ((left, top), module) = (place.dot(per_inch), place.module());
    let side = matrix.size() * module;
    let is_dark = |x: usize, y: usize| matrix.dark(x / module, y / module);
    let is_near = |x: usize, y: usize, reach: usize| {
        (x.saturating_sub(reach)..=x + reach)
            .any(|x| (y.saturating_sub(reach)..=(y + reach).min(side - 1)).any(|y| is_dark(x, y)))
    };
    let reach = |x: usize, y: usize| (0..=side).find(|reach| is_near(x, y, *reach));
    (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .filter(|(x, y)| page.at(left + x, top + y) < 128)
        .filter_map(|(x, y)| reach(x, y))
        .max()
        .expect("a dark module")
}
