//! The picture of a tag on its cable at true proportion, and of a tag alone, as SVG in millimetres.

use super::drawing::{Piece, Sheet};
use super::fit::dots_length;
use super::font::Font;
use super::label::{Laid, lay};
use super::pdf::rectangles;
use crate::tags::{Dots, Microns, Order, Shape, Tag};

/// How much of the cable is seen on either side of its tag.
const AROUND: i32 = 8_000;

/// How much of a strip is seen.
const SEEN_OF_A_STRIP: i32 = 70_000;

/// A tag on what it goes on.
#[must_use]
pub(super) fn picture(tag: &Tag, order: &Order) -> String {
    let laid = lay(tag, &order.stock, order.dots);
    match order.stock.shape {
        _ if tag.diameter.0 == 0 => flat(tag, order),
        Shape::Wrap { print } => on_cable(tag, &laid, order, print),
        Shape::Flag { .. } | Shape::Flat if laid.face.0 > 0 => as_flag(tag, &laid, order),
        Shape::Flat => on_cable(tag, &laid, order, order.stock.height),
        Shape::Flag { .. } | Shape::Insert | Shape::Strip { .. } => flat(tag, order),
    }
}

/// A tag alone, and nothing but what is printed of it.
#[must_use]
pub(super) fn bare(tag: &Tag, order: &Order) -> String {
    let (mut svg, laid) = begun(tag, order);
    svg.sheet(&laid.sheet, order.dots);
    svg.end()
}

/// As much of a tag's backing as is shown of it.
fn begun(tag: &Tag, order: &Order) -> (Svg, Laid) {
    let laid = lay(tag, &order.stock, order.dots);
    let mut width = laid.width;
    if matches!(order.stock.shape, Shape::Strip { .. }) {
        // Of a long strip the beginning, so that it can be read.
        width = width.min(Microns(SEEN_OF_A_STRIP));
    }
    (Svg::new(width, order.stock.height), laid)
}

/// A tag alone, as it lies on its backing.
fn flat(tag: &Tag, order: &Order) -> String {
    let (mut svg, laid) = begun(tag, order);
    let (width, height) = svg.size;
    svg.frame(0, 0, width.0, height.0, "#fff");
    if let Shape::Wrap { print } = order.stock.shape {
        svg.frame(0, print.0, width.0, height.0 - print.0, "#eef");
    }
    svg.sheet(&laid.sheet, order.dots);
    svg.end()
}

/// A label round its cable, seen from the side: what is not in front grows narrow and goes out of sight.
/// Above it what is printed, as it lies flat, so that nobody takes what is bent for stretched.
fn on_cable(tag: &Tag, laid: &Laid, order: &Order, print: Microns) -> String {
    let (width, across) = (laid.width.0 + 2 * AROUND, tag.diameter.0);
    let above = print.0 + 2_000;
    let mut svg = Svg::new(Microns(width), Microns(above + across + 2_000));
    svg.frame(AROUND, 1_000, laid.width.0, print.0, "#fff");
    for piece in &laid.sheet.pieces {
        svg.piece(piece, AROUND, 1_000, order.dots);
    }
    svg.frame(0, above + 1_000, width, across, "#b9c4d0");
    svg.frame(AROUND, above + 1_000, laid.width.0, across, "#fff");
    // The cable is turned so that one text is in front.
    let front = laid.text.0 + laid.block.0 / 2;
    let radius = f64::from(across) / 2.0;
    let middle = f64::from(above) + 1_000.0 + radius;
    for piece in &laid.sheet.pieces {
        let centre = match piece {
            // Letters stand above their base line.
            Piece::Text { y, size, .. } => y.0 - size.0 * 36 / 100,
            Piece::Bar { y, height, .. } => y.0 + height.0 / 2,
            Piece::Code {
                y, dots, matrix, ..
            } => y.0 + side_of(matrix.size(), *dots, order.dots) / 2,
        };
        let angle = f64::from(centre - front) / radius;
        if angle.abs() >= std::f64::consts::FRAC_PI_2 {
            continue;
        }
        let (down, flat) = (middle + radius * angle.sin(), angle.cos());
        svg.open(f64::from(AROUND), down, flat);
        svg.piece(piece, 0, -centre, order.dots);
        svg.close();
    }
    svg.shade(above + 1_000, width, across);
    svg.end()
}

/// A flag on its cable: the cable from the side, the face standing off it.
fn as_flag(tag: &Tag, laid: &Laid, order: &Order) -> String {
    let face = laid.face;
    let (height, across) = (order.stock.height.0, tag.diameter.0);
    let mut svg = Svg::new(
        Microns(across + 1_000 + face.0 + 1_000),
        Microns(height + 2 * AROUND),
    );
    svg.frame(1_000, 0, across, height + 2 * AROUND, "#b9c4d0");
    svg.frame(1_000, AROUND, across, height, "#eef");
    svg.frame(1_000 + across, AROUND, face.0, height, "#fff");
    // The face on the right of the label is the one that a reader sees with the cable on its left.
    let mut front = Sheet::default();
    let begin = laid.width.0 - face.0;
    front.put(
        &laid.sheet,
        Microns(1_000 + across - begin),
        Microns(AROUND),
    );
    front.pieces.retain(|piece| {
        let (Piece::Text { x, .. } | Piece::Bar { x, .. } | Piece::Code { x, .. }) = piece;
        x.0 >= 1_000 + across
    });
    svg.sheet(&front, order.dots);
    svg.end()
}

fn side_of(modules: usize, dots: i32, printer: Dots) -> i32 {
    dots_length(dots * i32::try_from(modules).unwrap_or(0), printer).0
}

/// An SVG in the making. Numbers in it are micrometres; the view box and the size make them
/// millimetres.
struct Svg {
    text: String,
    size: (Microns, Microns),
}

impl Svg {
    fn new(width: Microns, height: Microns) -> Self {
        Self {
            text: format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {} {}\"><rect width=\"{}\" height=\"{}\" fill=\"#fff\"/>",
                width.0, height.0, width.0, height.0
            ),
            size: (width, height),
        }
    }

    fn frame(&mut self, x: i32, y: i32, width: i32, height: i32, fill: &str) {
        self.text += &format!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{fill}\" stroke=\"#445\" stroke-width=\"80\"/>"
        );
    }

    /// Darkens a cable towards its edges, as what is round looks.
    fn shade(&mut self, y: i32, width: i32, height: i32) {
        self.text += &format!(
            "<linearGradient id=\"r\" x2=\"0\" y2=\"1\"><stop stop-opacity=\".25\"/><stop offset=\".3\" stop-opacity=\"0\"/><stop offset=\".6\" stop-opacity=\"0\"/><stop offset=\"1\" stop-opacity=\".3\"/></linearGradient><rect y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"url(#r)\"/>"
        );
    }

    fn open(&mut self, right: f64, down: f64, flat: f64) {
        self.text +=
            &format!("<g transform=\"translate({right:.0} {down:.0}) scale(1 {flat:.3})\">");
    }

    fn close(&mut self) {
        self.text += "</g>";
    }

    fn sheet(&mut self, sheet: &Sheet, dots: Dots) {
        for piece in &sheet.pieces {
            self.piece(piece, 0, 0, dots);
        }
    }

    fn piece(&mut self, piece: &Piece, right: i32, down: i32, dots: Dots) {
        match piece {
            Piece::Text {
                font,
                size,
                x,
                y,
                text,
            } => {
                let weight = match font {
                    Font::Plain => "400",
                    Font::Bold => "700",
                };
                let length = font.thousandths(text) * i64::from(size.0) / 1000;
                self.text += &format!(
                    "<text x=\"{}\" y=\"{}\" font-family=\"Helvetica, Arial, sans-serif\" font-weight=\"{weight}\" font-size=\"{}\" textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                    x.0 + right,
                    y.0 + down,
                    size.0,
                    escaped(text)
                );
            }
            Piece::Bar {
                x,
                y,
                width,
                height,
            } => {
                self.text += &format!(
                    "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                    x.0 + right,
                    y.0 + down,
                    width.0,
                    height.0
                );
            }
            Piece::Code {
                x,
                y,
                dots: count,
                matrix,
            } => {
                let module = dots_length(*count, dots).0;
                self.text += "<path shape-rendering=\"crispEdges\" d=\"";
                for (left, top, width, height) in rectangles(matrix) {
                    let at = |modules: usize| i32::try_from(modules).unwrap_or(0) * module;
                    self.text += &format!(
                        "M{} {}h{}v{}h-{}z",
                        x.0 + right + at(left),
                        y.0 + down + at(top),
                        at(width),
                        at(height),
                        at(width)
                    );
                }
                self.text += "\"/>";
            }
        }
    }

    fn end(mut self) -> String {
        self.text += "</svg>";
        self.text
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
