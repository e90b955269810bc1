//! The part of a picture round one symbol, smoothed as its modules allow, and read between pixels.

use super::grey::Grey;

/// A part of a picture.
#[derive(Clone)]
pub(super) struct Patch {
    left: i32,
    top: i32,
    width: i32,
    height: i32,
    /// Pixels of the whole picture to one of this.
    scale: f32,
    tones: Vec<f32>,
}

impl Patch {
    /// The part within a frame of a picture of which each pixel is `scale` by `scale` of the whole one: from the upper left to the lower right, each pixel the mean of a square that
    /// reaches so many pixels to each side. Where the symbol is not `dark` on light, it is turned round.
    pub(super) fn of(
        grey: &Grey,
        frame: [f32; 4],
        scale: f32,
        reach: usize,
        dark: bool,
    ) -> Option<Self> {
        let frame = frame.map(|at| at / scale);
        let within = |at: f32, most: usize| (at.clamp(0.0, most as f32) as usize).min(most);
        let (left, top) = (within(frame[0], grey.width), within(frame[1], grey.height));
        let (right, bottom) = (
            within(frame[2] + 1.0, grey.width),
            within(frame[3] + 1.0, grey.height),
        );
        if right < left + 8 || bottom < top + 8 {
            return None;
        }
        let (width, height) = (right - left, bottom - top);
        let mut tones = Vec::with_capacity(width * height);
        for y in top..bottom {
            tones.extend(
                grey.pixels[y * grey.width + left..y * grey.width + right]
                    .iter()
                    .map(|pixel| f32::from(if dark { *pixel } else { !*pixel })),
            );
        }
        if reach > 0 {
            let rows = means(&tones, width, height, reach);
            tones = means(&rows, height, width, reach);
        }
        Some(Self {
            left: left as i32,
            top: top as i32,
            scale,
            width: width as i32,
            height: height as i32,
            tones,
        })
    }

    /// The tone at a place of the picture; beyond the edge that of the edge.
    #[inline]
    pub(super) fn at(&self, x: f32, y: f32) -> f32 {
        let half = 0.5 / self.scale - 0.5;
        let (x, y) = (
            x / self.scale + half - self.left as f32,
            y / self.scale + half - self.top as f32,
        );
        let x = x.clamp(0.0, (self.width - 1) as f32 - 0.001);
        let y = y.clamp(0.0, (self.height - 1) as f32 - 0.001);
        let (column, row) = (x as usize, y as usize);
        let (right, down) = (x - column as f32, y - row as f32);
        let at = row * self.width as usize + column;
        let [a, b, c, d] = [0, 1, self.width as usize, self.width as usize + 1]
            .map(|by| self.tones.get(at + by).copied().unwrap_or(0.0));
        let (upper, lower) = (a + right * (b - a), c + right * (d - c));
        upper + down * (lower - upper)
    }
}

/// The mean of each row's neighbours, written column by column.
fn means(tones: &[f32], width: usize, height: usize, reach: usize) -> Vec<f32> {
    let mut turned = vec![0.0; tones.len()];
    let share = 1.0 / (2 * reach + 1) as f32;
    for (y, row) in tones.chunks_exact(width).enumerate() {
        let at = |place: usize| row[place.saturating_sub(reach).min(width - 1)];
        let mut sum: f32 = (0..2 * reach + 1).map(at).sum();
        for x in 0..width {
            turned[x * height + y] = sum * share;
            sum += at(x + 2 * reach + 1) - at(x);
        }
    }
    turned
}
