//! Grey pictures, as printers and cameras see: each pixel from 0, black, to 255, white.

use std::fs;
use std::io;
use std::path::Path;

/// A grey picture, row by row from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<u8>,
}

impl Grey {
    /// An empty page.
    pub(crate) fn white(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            pixels: vec![255; width * height],
        }
    }

    /// A pixel; outside all is white, as the table is on which a page lies.
    pub(crate) fn at(&self, x: usize, y: usize) -> u8 {
        if x >= self.width {
            return 255;
        }
        let pixel = self.pixels.get(y * self.width + x);
        pixel.copied().unwrap_or(255)
    }

    /// Fills the part of a rectangle that lies on the picture.
    pub(crate) fn fill(&mut self, (x, y): (usize, usize), (width, height): (usize, usize)) {
        for row in y..(y + height).min(self.height) {
            let end = (x + width).min(self.width);
            self.pixels[row * self.width + x.min(end)..row * self.width + end].fill(0);
        }
    }

    /// The picture as a binary grey map (PGM, `P5`).
    pub(crate) fn write(&self, path: &Path) -> io::Result<()> {
        let mut bytes = format!("P5\n{} {}\n255\n", self.width, self.height).into_bytes();
        bytes.extend_from_slice(&self.pixels);
        fs::write(path, bytes)
    }
}
