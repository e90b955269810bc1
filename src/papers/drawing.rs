//! A label as pieces, each with its place from the upper left corner of the label.

use super::Font;
use crate::codes::qr::Matrix;
use crate::tags::Microns;

/// One thing that is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// A line of text.
    Text {
        /// In which typeface.
        font: Font,
        /// Its size.
        size: Microns,
        /// The left end of its base line.
        x: Microns,
        /// The base line.
        y: Microns,
        /// The text.
        text: String,
    },
    /// A filled rectangle.
    Bar {
        /// Its left edge.
        x: Microns,
        /// Its upper edge.
        y: Microns,
        /// Its width.
        width: Microns,
        /// Its height.
        height: Microns,
    },
    /// A QR code without its quiet zone.
    Code {
        /// The left edge of its first module.
        x: Microns,
        /// The upper edge of its first module.
        y: Microns,
        /// How many dots of the printer a module has.
        dots: i32,
        /// The modules.
        matrix: Matrix,
    },
}

/// A drawing of one label.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// What is on it.
    pub pieces: Vec<Piece>,
}

impl Sheet {
    /// Puts a line of text in the middle of a stretch, its capitals' lower edge on `y`.
    pub fn text(
        &mut self,
        font: Font,
        size: Microns,
        (x, room): (Microns, Microns),
        y: Microns,
        text: &str,
    ) {
        if text.is_empty() {
            return;
        }
        let width = font.width(text, size);
        self.pieces.push(Piece::Text {
            font,
            size,
            x: Microns(x.0 + (room.0 - width.0).max(0) / 2),
            y,
            text: text.to_owned(),
        });
    }

    /// Puts a filled rectangle.
    pub fn bar(&mut self, x: i32, y: i32, width: i32, height: i32) {
        let [x, y, width, height] = [x, y, width, height].map(Microns);
        self.pieces.push(Piece::Bar {
            x,
            y,
            width,
            height,
        });
    }

    /// Puts another drawing beside or below what is there.
    pub fn put(&mut self, other: &Self, right: Microns, down: Microns) {
        self.pieces
            .extend(other.pieces.iter().map(|piece| match piece.clone() {
                Piece::Text {
                    font,
                    size,
                    x,
                    y,
                    text,
                } => Piece::Text {
                    font,
                    size,
                    x: Microns(x.0 + right.0),
                    y: Microns(y.0 + down.0),
                    text,
                },
                Piece::Bar {
                    x,
                    y,
                    width,
                    height,
                } => Piece::Bar {
                    x: Microns(x.0 + right.0),
                    y: Microns(y.0 + down.0),
                    width,
                    height,
                },
                Piece::Code { x, y, dots, matrix } => Piece::Code {
                    x: Microns(x.0 + right.0),
                    y: Microns(y.0 + down.0),
                    dots,
                    matrix,
                },
            }));
    }
}
