//! Grey pictures and what is done to whole ones.

/// A grey picture, row by row from the top; 0 is black.
pub(super) struct Grey {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) pixels: Vec<u8>,
}

impl Grey {
    /// The mean of each two by two pixels; an odd last row or column is left out.
    pub(super) fn halved(&self) -> Self {
        let (width, height) = (self.width / 2, self.height / 2);
        let mut pixels = Vec::with_capacity(width * height);
        for y in 0..height {
            let upper = &self.pixels[2 * y * self.width..][..self.width];
            let lower = &self.pixels[(2 * y + 1) * self.width..][..self.width];
            let pairs = upper.chunks_exact(2).zip(lower.chunks_exact(2));
            pixels.extend(pairs.map(|(above, below)| {
                let sum = u16::from(above[0])
                    + u16::from(above[1])
                    + u16::from(below[0])
                    + u16::from(below[1]);
                ((sum + 2) / 4) as u8
            }));
        }
        Self {
            width,
            height,
            pixels,
        }
    }

    /// Each pixel with its neighbours, the middle counting most: less noise, softer edges.
    pub(super) fn smoothed(&self) -> Self {
        let (width, height) = (self.width, self.height);
        let mut rows: Vec<u16> = Vec::with_capacity(self.pixels.len());
        for row in self.pixels.chunks_exact(width.max(1)) {
            let wide = |at: usize| u16::from(row[at]);
            rows.extend((0..width).map(|at| {
                wide(at.saturating_sub(1)) + 2 * wide(at) + wide((at + 1).min(width - 1))
            }));
        }
        let mut pixels = Vec::with_capacity(self.pixels.len());
        for y in 0..height {
            let row = |y: usize| &rows[y * width..][..width];
            let (above, here, below) = (
                row(y.saturating_sub(1)),
                row(y),
                row((y + 1).min(height - 1)),
            );
            let three = above.iter().zip(here).zip(below);
            pixels.extend(
                three.map(|((above, here), below)| ((above + 2 * here + below + 8) / 16) as u8),
            );
        }
        Self {
            width,
            height,
            pixels,
        }
    }
}

/// How the grey of a place is held against its surroundings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Against {
    /// The middle between dark and light of the blocks around, as far as two blocks.
    Near,
    /// The mean of a wide window.
    Wide,
}

/// A picture as differences from a threshold of each place: below 0 dark, else light.
pub(super) struct Signed {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) tones: Vec<i16>,
}

/// Pixels to a side of a block.
const BLOCK: usize = 8;

impl Signed {
    pub(super) fn of(grey: &Grey, against: Against) -> Self {
        let (columns, rows) = (grey.width.div_ceil(BLOCK), grey.height.div_ceil(BLOCK));
        let mut blocks = Vec::with_capacity(columns * rows);
        for row in 0..rows {
            for column in 0..columns {
                blocks.push(Block::of(grey, column * BLOCK, row * BLOCK));
            }
        }
        let middles: Vec<i32> = blocks
            .iter()
            .map(|block| match against {
                Against::Near => i32::from(block.least) + i32::from(block.most),
                Against::Wide => 2 * i32::from(block.mean),
            })
            .collect();
        let reach = match against {
            Against::Near => 2,
            Against::Wide => 6,
        };
        let spread = spread(&middles, columns, rows, reach);
        let flat = flat(&blocks);
        let mut tones = Vec::with_capacity(grey.pixels.len());
        for (y, line) in grey.pixels.chunks_exact(grey.width.max(1)).enumerate() {
            let from = y / BLOCK * columns;
            let row = spread[from..].iter().zip(&blocks[from..]);
            for (pixels, (threshold, block)) in line.chunks(BLOCK).zip(row) {
                if block.most - block.least <= flat {
                    // Noise alone: no edges.
                    let tone = 2 * i16::from(block.mean) - threshold;
                    tones.extend(pixels.iter().map(|_| tone));
                } else {
                    tones.extend(pixels.iter().map(|pixel| 2 * i16::from(*pixel) - threshold));
                }
            }
        }
        Self {
            width: grey.width,
            height: grey.height,
            tones,
        }
    }

    #[inline]
    pub(super) fn at(&self, x: i32, y: i32) -> Option<i16> {
        let inside = x >= 0 && y >= 0 && (x as usize) < self.width && (y as usize) < self.height;
        inside.then(|| self.tones[y as usize * self.width + x as usize])
    }
}

/// What is known of a block of pixels.
struct Block {
    least: u8,
    most: u8,
    mean: u8,
}

impl Block {
    fn of(grey: &Grey, left: usize, top: usize) -> Self {
        let (right, bottom) = (
            (left + BLOCK).min(grey.width),
            (top + BLOCK).min(grey.height),
        );
        let (mut least, mut most, mut sum) = (255, 0, 0_u32);
        for y in top..bottom {
            for pixel in &grey.pixels[y * grey.width + left..y * grey.width + right] {
                least = least.min(*pixel);
                most = most.max(*pixel);
                sum += u32::from(*pixel);
            }
        }
        let mean = (sum / ((right - left) * (bottom - top)) as u32) as u8;
        Self { least, most, mean }
    }
}

/// Up to which range of greys a block holds nothing but noise: a little more than the quietest fifth of the
/// blocks has, if that is little.
fn flat(blocks: &[Block]) -> u8 {
    let mut counts = [0_usize; 256];
    for block in blocks {
        counts[usize::from(block.most - block.least)] += 1;
    }
    let mut left = blocks.len() / 5;
    for (range, count) in (0..=255).zip(counts) {
        if count > left {
            return if range > 48 { 0 } else { range + range / 4 };
        }
        left -= count;
    }
    0
}

/// The mean over the blocks around each.
fn spread(middles: &[i32], columns: usize, rows: usize, reach: usize) -> Vec<i16> {
    let mut wide = Vec::with_capacity(middles.len());
    for row in middles.chunks_exact(columns.max(1)) {
        wide.extend((0..columns).map(|at| {
            let part = &row[at.saturating_sub(reach)..(at + reach + 1).min(columns)];
            part.iter().sum::<i32>() / part.len() as i32
        }));
    }
    let mut spread = Vec::with_capacity(middles.len());
    for row in 0..rows {
        let (from, to) = (row.saturating_sub(reach), (row + reach + 1).min(rows));
        spread.extend((0..columns).map(|at| {
            let sum: i32 = (from..to).map(|row| wide[row * columns + at]).sum();
            (sum / (to - from) as i32) as i16
        }));
    }
    spread
}
