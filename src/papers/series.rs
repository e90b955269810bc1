//! A text as a series of codes that a screen shows one after the other.

use crate::codes::qr::Matrix;
use crate::relay::pack;

/// The codes for a text, a line each: how many modules a side has, and the dark ones as the path of an SVG
/// whose strokes are a module wide, each row in the middle of its line. Empty where it would take too many.
#[must_use]
pub fn series(text: &str) -> String {
    let mut lines = String::new();
    for code in pack(text).unwrap_or_default() {
        let Ok(matrix) = Matrix::of(&code) else {
            return String::new();
        };
        lines.push_str(&format!("{} {}\n", matrix.size(), path(&matrix)));
    }
    lines
}

fn path(matrix: &Matrix) -> String {
    let mut path = String::new();
    for y in 0..matrix.size() {
        let mut x = 0;
        while x < matrix.size() {
            let from = x;
            while x < matrix.size() && matrix.dark(x, y) {
                x += 1;
            }
            if x > from {
                path.push_str(&format!("M{from} {y}h{}", x - from));
            }
            x += 1;
        }
    }
    path
}
