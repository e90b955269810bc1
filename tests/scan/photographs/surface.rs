//! What lies before the camera: the tag with its symbol and lines of text, and its wear. Lengths are in
//! modules, from the middle of the symbol.

use bothends::codes::qr::{Matrix, QUIET_ZONE};

use super::Strength;
use super::chance::{Chance, mixed};

/// What is on the tag.
pub(super) enum Face {
    /// A symbol, row by row; true is dark.
    Symbol(Vec<bool>),
    /// No tag at all.
    Gone,
}

/// A round spot of dust or paint.
struct Speck {
    middle: (f64, f64),
    radius: f64,
    tone: f64,
}

/// A straight line of lost or added ink.
struct Scratch {
    through: (f64, f64),
    /// At a right angle to the line.
    across: (f64, f64),
    half: f64,
    tone: f64,
}

pub(super) struct Surface {
    size: usize,
    pub(super) face: Face,
    ink: f64,
    paper: f64,
    /// How far the paper reaches to the right and down.
    reach: (f64, f64),
    lines: u64,
    specks: Vec<Speck>,
    scratches: Vec<Scratch>,
}

impl Surface {
    pub(super) fn of(matrix: &Matrix, chance: &mut Chance) -> Self {
        let size = matrix.size();
        let modules = (0..size * size)
            .map(|at| matrix.dark(at % size, at / size))
            .collect();
        let quiet = size as f64 / 2.0 + QUIET_ZONE as f64;
        Self {
            size,
            face: Face::Symbol(modules),
            ink: chance.between(15.0, 50.0),
            paper: chance.between(195.0, 235.0),
            reach: (
                quiet + chance.between(0.0, 6.0),
                quiet + chance.between(0.0, 9.0),
            ),
            lines: chance.next(),
            specks: Vec::new(),
            scratches: Vec::new(),
        }
    }

    /// Modules to a side of the symbol.
    pub(super) fn side(&self) -> f64 {
        self.size as f64
    }

    pub(super) fn invert(&mut self) {
        std::mem::swap(&mut self.ink, &mut self.paper);
    }

    pub(super) fn spoil(&mut self, strength: &Strength, chance: &mut Chance) {
        let half = self.side() / 2.0;
        let mut covered = strength.dust * self.side() * self.side();
        while covered > 0.0 {
            let radius = chance.between(0.3, 1.4);
            covered -= std::f64::consts::PI * radius * radius;
            self.specks.push(Speck {
                middle: (chance.between(-half, half), chance.between(-half, half)),
                radius,
                tone: self.tone(chance),
            });
        }
        let mut wanted = strength.scratches;
        while wanted > chance.unit() {
            wanted -= 1.0;
            let turn = chance.between(0.0, std::f64::consts::PI);
            self.scratches.push(Scratch {
                through: (chance.between(-half, half), chance.between(-half, half)),
                across: (turn.cos(), turn.sin()),
                half: chance.between(0.1, 0.45),
                tone: self.tone(chance),
            });
        }
    }

    /// Mostly light, as plaster and bare paper are; now and then as dark as ink.
    fn tone(&self, chance: &mut Chance) -> f64 {
        if chance.unit() < 0.3 {
            self.ink + 20.0
        } else {
            self.paper - 15.0
        }
    }

    /// Makes it no code any more, in a way that depends on the step: modules by chance under true finder
    /// patterns, a chessboard, stripes, concentric squares, or the finder patterns of no symbol.
    pub(super) fn confuse(&mut self, step: u32, chance: &mut Chance) {
        let size = self.size;
        let Face::Symbol(modules) = &mut self.face else {
            return;
        };
        for (at, module) in modules.iter_mut().enumerate() {
            let (x, y) = (at % size, at / size);
            let corner = |from: usize, at: usize| at < from + 8 && at + 1 > from;
            let finder = (corner(0, x) && (corner(0, y) || corner(size - 8, y)))
                || (corner(size - 8, x) && corner(0, y));
            let by_chance = chance.next().is_multiple_of(2);
            let ring = (x % 8).min(7 - x % 8).min((y % 8).min(7 - y % 8));
            *module = match step % 5 {
                0 if finder || x == 6 || y == 6 => *module,
                0 => by_chance,
                1 => (x + y) % 2 == 0,
                2 => x % 2 == 0,
                3 => ring % 2 == 0,
                _ if finder => *module,
                _ => false,
            };
        }
    }

    /// The tone at a place, from 0 to 255; none beside the tag.
    pub(super) fn tone_at(&self, u: f64, v: f64) -> Option<f64> {
        let Face::Symbol(modules) = &self.face else {
            return None;
        };
        let near = self.side() / 2.0 + QUIET_ZONE as f64;
        if u < -near || v < -near || u > self.reach.0 || v > self.reach.1 {
            return None;
        }
        if let Some(speck) = self.specks.iter().find(|speck| {
            let (x, y) = (u - speck.middle.0, v - speck.middle.1);
            x * x + y * y < speck.radius * speck.radius
        }) {
            return Some(speck.tone);
        }
        if let Some(scratch) = self.scratches.iter().find(|scratch| {
            let (x, y) = (u - scratch.through.0, v - scratch.through.1);
            (x * scratch.across.0 + y * scratch.across.1).abs() < scratch.half
        }) {
            return Some(scratch.tone);
        }
        let dark = if u > near || v > near {
            self.writing(u, v)
        } else {
            let (x, y) = (
                (u + self.side() / 2.0).floor(),
                (v + self.side() / 2.0).floor(),
            );
            let inside = x >= 0.0 && y >= 0.0 && x < self.side() && y < self.side();
            inside && modules[y as usize * self.size + x as usize]
        };
        Some(if dark { self.ink } else { self.paper })
    }

    /// Strokes that look like lines of letters, beyond the light border.
    fn writing(&self, u: f64, v: f64) -> bool {
        let (row, column) = ((v / 0.6).floor() as i64, (u / 0.5).floor() as i64);
        let within = row.rem_euclid(5) < 3;
        let place = (row.div_euclid(5) as u64) << 32 ^ (column as u64 & 0xFFFF_FFFF);
        within && mixed(place ^ self.lines) % 5 < 2
    }
}
