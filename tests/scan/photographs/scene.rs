//! The camera and its surroundings: from a surface to grey pixels.

use super::Strength;
use super::chance::{Chance, mixed};
use super::surface::Surface;

/// A board, a cable or a shadow's edge behind the tag.
struct Board {
    middle: (f64, f64),
    along: (f64, f64),
    half: (f64, f64),
    tone: f64,
    /// Width of its stripes in pixels; 0 for none.
    stripes: f64,
}

pub(super) struct Scene {
    pub(super) width: usize,
    pub(super) height: usize,
    /// Pixels to a module in the middle of the symbol.
    module: f64,
    /// Where the symbol's middle is, as shares of the picture.
    middle: (f64, f64),
    turn: f64,
    tilt: (f64, f64),
    /// Radius of the cable in modules; 0 where the tag lies flat.
    radius: f64,
    /// Whether the cable runs along the lines of text.
    along: bool,
    blur: f64,
    motion: (f64, f64),
    noise: f64,
    light: f64,
    faded: f64,
    grounds: (f64, f64),
    texture: u64,
    boards: Vec<Board>,
}

impl Scene {
    /// A tag at a hand's breadth, turned anyhow.
    pub(super) fn usual(chance: &mut Chance) -> Self {
        let boards = (0..4 + chance.below(10))
            .map(|_| Board::by(chance))
            .collect();
        Self {
            width: 960,
            height: 720,
            module: chance.between(3.5, 7.5),
            middle: (chance.between(0.35, 0.65), chance.between(0.35, 0.65)),
            turn: chance.between(0.0, std::f64::consts::TAU),
            tilt: (0.0, 0.0),
            radius: 0.0,
            along: chance.below(2) == 0,
            blur: 0.0,
            motion: (0.0, 0.0),
            noise: 0.0,
            light: 0.0,
            faded: 0.0,
            grounds: (chance.between(40.0, 200.0), chance.between(10.0, 60.0)),
            texture: chance.next(),
            boards,
        }
    }

    /// Takes over what spoils the picture, for a symbol of so many modules to a side.
    pub(super) fn spoil(&mut self, strength: &Strength, side: f64, chance: &mut Chance) {
        if strength.module > 0.0 {
            self.module = strength.module;
        }
        let towards = chance.between(0.0, std::f64::consts::TAU);
        self.tilt = (strength.tilt * towards.cos(), strength.tilt * towards.sin());
        if strength.round > 0.02 {
            self.radius = side / 2.0 / strength.round;
        }
        self.blur = strength.blur * self.module;
        let towards = chance.between(0.0, std::f64::consts::TAU);
        let way = strength.motion * self.module;
        self.motion = (way * towards.cos(), way * towards.sin());
        self.noise = strength.noise;
        self.light = strength.light;
        self.faded = strength.faded;
    }

    /// Where a ray through a pixel meets the surface, in modules from the symbol's middle.
    fn meets(&self, turned: &Turned, x: f64, y: f64) -> Option<(f64, f64)> {
        let seen = [
            (x - turned.middle.0) / turned.focus,
            (y - turned.middle.1) / turned.focus,
            1.0,
        ];
        // The camera in the frame of the tag, and the way of the ray.
        let way = turned.back(seen);
        let from = turned.from;
        if self.radius == 0.0 {
            let far = -from[2] / way[2];
            return (far > 0.0).then(|| (from[0] + far * way[0], from[1] + far * way[1]));
        }
        let (across, up) = if self.along { (1, 0) } else { (0, 1) };
        let depth = from[2] - self.radius;
        let square = way[across] * way[across] + way[2] * way[2];
        let half = from[across] * way[across] + depth * way[2];
        let rest = from[across] * from[across] + depth * depth - self.radius * self.radius;
        let root = half * half - square * rest;
        if root < 0.0 {
            return None;
        }
        let far = (-half - root.sqrt()) / square;
        let (side, deep) = (from[across] + far * way[across], from[2] + far * way[2]);
        let round = self.radius * side.atan2(self.radius - deep);
        let straight = from[up] + far * way[up];
        Some(if self.along {
            (straight, round)
        } else {
            (round, straight)
        })
    }

    fn behind(&self, x: f64, y: f64) -> f64 {
        let board = self
            .boards
            .iter()
            .rev()
            .find(|board| board.holds(x, y, self));
        let ground = board.map_or(self.grounds.0, |board| board.tone_at(x, y, self));
        let coarse = self.grain(x / 37.0, y / 37.0) + 0.5 * self.grain(x / 9.0, y / 9.0);
        ground + self.grounds.1 * (coarse - 0.75)
    }

    /// Smooth unevenness between 0 and 1.
    fn grain(&self, x: f64, y: f64) -> f64 {
        let (left, top) = (x.floor(), y.floor());
        let ease = |part: f64| part * part * (3.0 - 2.0 * part);
        let (right, down) = (ease(x - left), ease(y - top));
        let corner = |dx: i64, dy: i64| {
            let place =
                ((left as i64 + dx) as u64) << 32 ^ ((top as i64 + dy) as u64 & 0xFFFF_FFFF);
            (mixed(place ^ self.texture) >> 40) as f64 / (1_u64 << 24) as f64
        };
        let row = |dy| corner(0, dy) * (1.0 - right) + corner(1, dy) * right;
        row(0) * (1.0 - down) + row(1) * down
    }

    /// What the ray through a pixel sees.
    fn sees(&self, turned: &Turned, surface: &Surface, x: f64, y: f64) -> Option<f64> {
        let (u, v) = self.meets(turned, x, y)?;
        surface.tone_at(u, v)
    }
}

impl Board {
    fn by(chance: &mut Chance) -> Self {
        let turn = chance.between(0.0, std::f64::consts::PI);
        Self {
            middle: (chance.unit(), chance.unit()),
            along: (turn.cos(), turn.sin()),
            half: (chance.between(0.02, 0.6), chance.between(0.01, 0.12)),
            tone: chance.between(10.0, 245.0),
            stripes: if chance.below(3) == 0 {
                chance.between(3.0, 20.0)
            } else {
                0.0
            },
        }
    }

    fn place(&self, x: f64, y: f64, scene: &Scene) -> (f64, f64) {
        let width = scene.width as f64;
        let (x, y) = (x / width - self.middle.0, y / width - self.middle.1);
        (
            x * self.along.0 + y * self.along.1,
            y * self.along.0 - x * self.along.1,
        )
    }

    fn holds(&self, x: f64, y: f64, scene: &Scene) -> bool {
        let (along, across) = self.place(x, y, scene);
        along.abs() < self.half.0 && across.abs() < self.half.1
    }

    fn tone_at(&self, x: f64, y: f64, scene: &Scene) -> f64 {
        let (along, _) = self.place(x, y, scene);
        let on = self.stripes > 0.0
            && (along * scene.width as f64 / self.stripes).floor() as i64 % 2 == 0;
        if on { 255.0 - self.tone } else { self.tone }
    }
}

/// The tag's frame as the camera has it.
struct Turned {
    rows: [[f64; 3]; 3],
    from: [f64; 3],
    focus: f64,
    middle: (f64, f64),
}

impl Turned {
    fn of(scene: &Scene) -> Self {
        let longer = scene.width.max(scene.height) as f64;
        // About 65 degrees across, as phones have.
        let focus = 0.78 * longer;
        let about = |turn: f64| (turn.cos(), turn.sin());
        let ((cz, sz), (cx, sx), (cy, sy)) =
            (about(scene.turn), about(scene.tilt.0), about(scene.tilt.1));
        let rows = times(
            &[[cz, -sz, 0.0], [sz, cz, 0.0], [0.0, 0.0, 1.0]],
            &times(
                &[[1.0, 0.0, 0.0], [0.0, cx, -sx], [0.0, sx, cx]],
                &[[cy, 0.0, sy], [0.0, 1.0, 0.0], [-sy, 0.0, cy]],
            ),
        );
        let middle = (
            scene.width as f64 * scene.middle.0,
            scene.height as f64 * scene.middle.1,
        );
        let mut turned = Self {
            rows,
            from: [0.0; 3],
            focus,
            middle,
        };
        turned.from = turned.back([0.0, 0.0, -focus / scene.module]);
        turned
    }

    /// From the camera's frame to the tag's.
    fn back(&self, way: [f64; 3]) -> [f64; 3] {
        std::array::from_fn(|column| (0..3).map(|row| self.rows[row][column] * way[row]).sum())
    }
}

fn times(one: &[[f64; 3]; 3], other: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    std::array::from_fn(|row| {
        std::array::from_fn(|column| (0..3).map(|at| one[row][at] * other[at][column]).sum())
    })
}

/// The picture that the camera takes.
pub(super) fn photographed(scene: &Scene, surface: &Surface, chance: &mut Chance) -> Vec<u8> {
    let turned = Turned::of(scene);
    let mut light = seen(scene, surface, &turned);
    lit(scene, &turned, &mut light, chance);
    let (width, height) = (scene.width, scene.height);
    let kernel = normal_kernel(scene.blur);
    light = along(&light, width, height, &kernel, |at| (at, 0.0));
    light = along(&light, width, height, &kernel, |at| (0.0, at));
    let way = scene.motion.0.hypot(scene.motion.1);
    if way > 0.3 {
        let reach = (way * 2.0).ceil() as i64;
        let step = 1.0 / (2 * reach) as f64;
        let even: Vec<(f64, f64)> = (-reach..=reach)
            .map(|at| (at as f64 * step, 1.0 / (2 * reach + 1) as f64))
            .collect();
        light = along(&light, width, height, &even, |at| {
            (at * scene.motion.0, at * scene.motion.1)
        });
    }
    light
        .iter()
        .map(|tone| {
            (f64::from(*tone) + scene.noise * chance.normal())
                .round()
                .clamp(0.0, 255.0) as u8
        })
        .collect()
}

/// What falls onto the sensor, before light and lens: nine rays to a pixel on the tag.
fn seen(scene: &Scene, surface: &Surface, turned: &Turned) -> Vec<f32> {
    const RAYS: [f64; 3] = [-1.0 / 3.0, 0.0, 1.0 / 3.0];
    let mut light = Vec::with_capacity(scene.width * scene.height);
    for row in 0..scene.height {
        for column in 0..scene.width {
            let (x, y) = (column as f64, row as f64);
            let near = [
                (0.0, 0.0),
                (-1.0, -1.0),
                (1.0, -1.0),
                (-1.0, 1.0),
                (1.0, 1.0),
            ];
            let touched = near
                .iter()
                .any(|(dx, dy)| scene.sees(turned, surface, x + dx, y + dy).is_some());
            let behind = scene.behind(x, y);
            let mut sum = 0.0;
            if touched {
                for dy in RAYS {
                    for dx in RAYS {
                        sum += scene
                            .sees(turned, surface, x + dx, y + dy)
                            .unwrap_or(behind)
                            / 9.0;
                    }
                }
            } else {
                sum = behind;
            }
            light.push(sum as f32);
        }
    }
    light
}

/// A lamp from one side, the edge of a shadow, a highlight near the tag; then what is faded.
fn lit(scene: &Scene, turned: &Turned, light: &mut [f32], chance: &mut Chance) {
    let side = scene.module * 25.0;
    let towards = chance.between(0.0, std::f64::consts::TAU);
    let (gx, gy) = (towards.cos() / side, towards.sin() / side);
    let shadow = chance.between(0.0, std::f64::consts::TAU);
    let edge = (
        chance.between(-0.4, 0.4) * side,
        chance.between(0.02, 0.2) * side,
    );
    let spot = (
        chance.between(-0.7, 0.7) * side,
        chance.between(-0.7, 0.7) * side,
    );
    let spread = chance.between(0.1, 0.3) * side;
    let mid = chance.between(90.0, 170.0);
    for (at, tone) in light.iter_mut().enumerate() {
        let x = (at % scene.width) as f64 - turned.middle.0;
        let y = (at / scene.width) as f64 - turned.middle.1;
        let lamp = (1.0 + 0.9 * scene.light * (x * gx + y * gy)).clamp(0.1, 2.0);
        let beyond = (x * shadow.cos() + y * shadow.sin() - edge.0) / edge.1;
        let shade = 1.0 - 0.75 * scene.light / (1.0 + (-beyond).clamp(-30.0, 30.0).exp());
        let away = ((x - spot.0).powi(2) + (y - spot.1).powi(2)) / (spread * spread);
        let glare = 260.0 * scene.light * scene.light * (-away).max(-30.0).exp();
        let bright = (f64::from(*tone) * lamp * shade + glare).clamp(0.0, 255.0);
        *tone = (mid + (bright - mid) * (1.0 - scene.faded)) as f32;
    }
}

/// Weights of a normal spread, by their distance in pixels.
fn normal_kernel(spread: f64) -> Vec<(f64, f64)> {
    let reach = (3.0 * spread).ceil().max(1.0) as i64;
    let weight = |at: i64| (-0.5 * (at as f64 / spread.max(0.05)).powi(2)).exp();
    let sum: f64 = (-reach..=reach).map(weight).sum();
    (-reach..=reach)
        .map(|at| (at as f64, weight(at) / sum))
        .collect()
}

/// The weighted mean over places beside each pixel; between pixels it is the nearest.
fn along(
    light: &[f32],
    width: usize,
    height: usize,
    weights: &[(f64, f64)],
    place: impl Fn(f64) -> (f64, f64),
) -> Vec<f32> {
    let steps: Vec<(i64, i64, f32)> = weights
        .iter()
        .map(|(at, weight)| {
            let (x, y) = place(*at);
            (x.round() as i64, y.round() as i64, *weight as f32)
        })
        .collect();
    let reach = |part: fn(&(i64, i64, f32)) -> i64| steps.iter().map(part).max().unwrap_or(0);
    let reach = (reach(|step| step.0.abs()), reach(|step| step.1.abs()));
    let (last_x, last_y) = (width as i64 - 1, height as i64 - 1);
    let flat: Vec<(i64, f32)> = steps
        .iter()
        .map(|(dx, dy, weight)| (dy * width as i64 + dx, *weight))
        .collect();
    let mut out = Vec::with_capacity(light.len());
    for y in 0..=last_y {
        let high = y >= reach.1 && y <= last_y - reach.1;
        for x in 0..=last_x {
            let mut sum = 0.0;
            if high && x >= reach.0 && x <= last_x - reach.0 {
                let at = y * width as i64 + x;
                for (by, weight) in &flat {
                    sum += light[(at + by) as usize] * weight;
                }
            } else {
                for (dx, dy, weight) in &steps {
                    let (column, row) = ((x + dx).clamp(0, last_x), (y + dy).clamp(0, last_y));
                    sum += light[row as usize * width + column as usize] * weight;
                }
            }
            out.push(sum);
        }
    }
    out
}
