//! From the greys of a symbol's modules to how light or dark each is: uneven light taken out, then blur,
//! by a filter that is trained on the modules that every symbol has.

use super::lay::Lay;
use super::patch::Patch;
use super::symbol::{Fixed, Plan};

/// Modules beside the symbol that are looked at too.
const MARGIN: usize = 2;

/// A square of modules with its margin.
pub(super) struct Tones {
    side: usize,
    tones: Vec<f32>,
    /// -1 dark, 1 light, 0 not known before.
    known: Vec<f32>,
}

impl Tones {
    pub(super) fn of(plan: &Plan, lay: &Lay, patch: &Patch) -> Self {
        let side = plan.size + 2 * MARGIN;
        let scale = 2.0 / plan.size as f32;
        let (mut tones, mut known) = (
            Vec::with_capacity(side * side),
            Vec::with_capacity(side * side),
        );
        let margin = MARGIN as i32;
        for row in -margin..plan.size as i32 + margin {
            for column in -margin..plan.size as i32 + margin {
                let (x, y) = lay.place(
                    (column as f32 + 0.5) * scale - 1.0,
                    (row as f32 + 0.5) * scale - 1.0,
                );
                tones.push(patch.at(x, y));
                known.push(match plan.fixed(column, row) {
                    Fixed::Dark => -1.0,
                    Fixed::Light => 1.0,
                    Fixed::Open => 0.0,
                });
            }
        }
        // The outermost ring may be beyond a light border that was cut too close.
        let mut all = Self { side, tones, known };
        for at in 0..side * side {
            let (x, y) = (at % side, at / side);
            if x == 0 || y == 0 || x == side - 1 || y == side - 1 {
                all.known[at] = 0.0;
            }
        }
        all
    }

    /// Each tone between what is dark and what is light around it, from -1 to 1.
    pub(super) fn evened(&self) -> Self {
        let side = self.side;
        let window = |at: usize, reach: usize| at.saturating_sub(reach)..(at + reach + 1).min(side);
        let mut labels: Vec<bool> = Vec::with_capacity(self.tones.len());
        for y in 0..side {
            for x in 0..side {
                let (mut sum, mut count) = (0.0, 0.0);
                for row in window(y, 4) {
                    for tone in &self.tones[row * side..][window(x, 4)] {
                        sum += tone;
                        count += 1.0;
                    }
                }
                let at = y * side + x;
                labels.push(if self.known[at] == 0.0 {
                    self.tones[at] * count >= sum
                } else {
                    self.known[at] > 0.0
                });
            }
        }
        let mut evened = vec![0.0; self.tones.len()];
        for _ in 0..2 {
            for y in 0..side {
                for x in 0..side {
                    let (mut sums, mut counts) = ([0.0; 2], [0.0_f32; 2]);
                    for row in window(y, 4) {
                        let part = row * side..(row + 1) * side;
                        let pairs = self.tones[part.clone()][window(x, 4)]
                            .iter()
                            .zip(&labels[part][window(x, 4)]);
                        for (tone, light) in pairs {
                            sums[usize::from(*light)] += tone;
                            counts[usize::from(*light)] += 1.0;
                        }
                    }
                    let dark = sums[0] / counts[0].max(1.0);
                    let light = sums[1] / counts[1].max(1.0);
                    let half = ((light - dark) / 2.0).max(0.5);
                    evened[y * side + x] =
                        ((self.tones[y * side + x] - (light + dark) / 2.0) / half).clamp(-1.6, 1.6);
                }
            }
            for (at, label) in labels.iter_mut().enumerate() {
                if self.known[at] == 0.0 {
                    *label = evened[at] >= 0.0;
                }
            }
        }
        Self {
            side,
            tones: evened,
            known: self.known.clone(),
        }
    }

    /// Each tone as a weighted sum of those as far as `reach` around it, with the weights that fit the known
    /// modules best. `guesses` takes the unknown ones in too, for what they seem to be.
    pub(super) fn sharpened(&self, reach: usize, guesses: Option<&Self>) -> Option<Self> {
        let side = self.side;
        let across = 2 * reach + 1;
        let count = across * across + 1;
        let mut matrix = vec![0.0_f32; count * count];
        let mut wanted = vec![0.0_f32; count];
        let mut row = vec![1.0_f32; count];
        let offsets: Vec<isize> = (0..across * across)
            .map(|at| {
                (at / across) as isize * side as isize + (at % across) as isize
                    - (reach * (side + 1)) as isize
            })
            .collect();
        let gather = |row: &mut [f32], at: usize| {
            for (tone, by) in row.iter_mut().zip(&offsets) {
                *tone = self.tones[at.wrapping_add_signed(*by)];
            }
        };
        let inner = || {
            (reach..side - reach)
                .flat_map(move |y| (reach..side - reach).map(move |x| y * side + x))
        };
        for at in inner() {
            let (aim, weight) = match (self.known[at], guesses) {
                (known, _) if known != 0.0 => (known, 1.0),
                (_, Some(guesses)) => {
                    let guess = guesses.tones[at];
                    (guess.signum(), guess.abs().min(1.0))
                }
                _ => continue,
            };
            gather(&mut row, at);
            for one in 0..count {
                let weighted = weight * row[one];
                wanted[one] += weighted * aim;
                for other in 0..=one {
                    matrix[one * count + other] += weighted * row[other];
                }
            }
        }
        for at in 0..count {
            matrix[at * count + at] += RIDGE;
        }
        // What is not known is taken for the tone itself.
        wanted[count / 2] += RIDGE;
        let weights = solved(&mut matrix, wanted)?;
        let mut tones = self.tones.clone();
        for at in inner() {
            gather(&mut row, at);
            tones[at] = row
                .iter()
                .zip(&weights)
                .map(|(tone, weight)| tone * weight)
                .sum();
        }
        Some(Self {
            side,
            tones,
            known: self.known.clone(),
        })
    }

    /// The modules of the symbol without the margin.
    pub(super) fn symbol(&self) -> Vec<f32> {
        let inside = MARGIN..self.side - MARGIN;
        inside
            .clone()
            .flat_map(|y| self.tones[y * self.side..][inside.clone()].iter().copied())
            .collect()
    }
}

/// How much the filter is held to changing nothing.
const RIDGE: f32 = 6.0;

/// Solves a symmetric system whose lower half is given (Cholesky).
fn solved(matrix: &mut [f32], mut wanted: Vec<f32>) -> Option<Vec<f32>> {
    let count = wanted.len();
    for row in 0..count {
        for column in 0..=row {
            let products: f32 = (0..column)
                .map(|at| matrix[row * count + at] * matrix[column * count + at])
                .sum();
            let rest = matrix[row * count + column] - products;
            matrix[row * count + column] = if row == column {
                if rest <= 1e-6 {
                    return None;
                }
                rest.sqrt()
            } else {
                rest / matrix[column * count + column]
            };
        }
    }
    for row in 0..count {
        let known: f32 = (0..row)
            .map(|at| matrix[row * count + at] * wanted[at])
            .sum();
        wanted[row] = (wanted[row] - known) / matrix[row * count + row];
    }
    for row in (0..count).rev() {
        let known: f32 = (row + 1..count)
            .map(|at| matrix[at * count + row] * wanted[at])
            .sum();
        wanted[row] = (wanted[row] - known) / matrix[row * count + row];
    }
    Some(wanted)
}
