//! Where the modules of a symbol lie in a picture: a plane seen askew, or round a cable, fitted to the
//! modules that every symbol of its size has.

use super::patch::Patch;
use super::symbol::{Fixed, Plan};

/// Along which side of the symbol the tag is bent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bend {
    Flat,
    Across,
    Down,
}

/// The numbers that are fitted: x and y of the four corners, then the bend.
const NUMBERS: usize = 11;

/// From the symbol to the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lay {
    /// Corners in turn from the upper left, as x and y; how modules crowd towards the edges; how far the
    /// middle stands out, in x and y.
    numbers: [f32; NUMBERS],
    bend: Bend,
    /// Numerators of x, of y, and the denominator.
    terms: [f32; 8],
}

impl Lay {
    fn of(numbers: [f32; NUMBERS], bend: Bend) -> Self {
        let [x0, y0, x1, y1, x2, y2, x3, y3, ..] = numbers;
        let (sx, sy) = (x0 - x1 + x2 - x3, y0 - y1 + y2 - y3);
        let (ax, ay, bx, by) = (x1 - x2, y1 - y2, x3 - x2, y3 - y2);
        let area = ax * by - bx * ay;
        let area = if area.abs() < 1e-3 { 1e-3 } else { area };
        let g = (sx * by - bx * sy) / area;
        let h = (ax * sy - sx * ay) / area;
        let terms = [
            x1 - x0 + g * x1,
            x3 - x0 + h * x3,
            x0,
            y1 - y0 + g * y1,
            y3 - y0 + h * y3,
            y0,
            g,
            h,
        ];
        Self {
            numbers,
            bend,
            terms,
        }
    }

    /// Through the middles of three finder patterns of a flat symbol of so many modules, with a perspective
    /// along and down.
    pub(super) fn through(middles: [(f32, f32); 3], size: f32, (g, h): (f32, f32)) -> Self {
        let f = 1.0 - 7.0 / size;
        let w = [1.0 - (g + h) * f, 1.0 + (g - h) * f, 1.0 + (h - g) * f];
        let solve = |at: [f32; 3]| {
            let e = [at[0] * w[0], at[1] * w[1], at[2] * w[2]];
            let c = (e[1] + e[2]) / (w[1] + w[2]);
            let a = (e[1] - e[0] - c * (w[1] - w[0])) / (2.0 * f);
            let b = (e[2] - e[0] - c * (w[2] - w[0])) / (2.0 * f);
            move |u: f32, v: f32| (a * u + b * v) / (1.0 + g * u + h * v) + c
        };
        let x = solve(middles.map(|(x, _)| x));
        let y = solve(middles.map(|(_, y)| y));
        let mut numbers = [0.0; NUMBERS];
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        for (at, (u, v)) in corners.into_iter().enumerate() {
            numbers[2 * at] = x(u, v);
            numbers[2 * at + 1] = y(u, v);
        }
        Self::of(numbers, Bend::Flat)
    }

    /// Where a place of the symbol is in the picture; each side reaches from -1 to 1.
    #[inline]
    pub(super) fn place(&self, mut u: f32, mut v: f32) -> (f32, f32) {
        let mut out = 0.0;
        match self.bend {
            Bend::Flat => {}
            Bend::Across => {
                out = u * u - 1.0;
                u += self.numbers[8] * u * out;
            }
            Bend::Down => {
                out = v * v - 1.0;
                v += self.numbers[8] * v * out;
            }
        }
        let (u, v) = ((u + 1.0) / 2.0, (v + 1.0) / 2.0);
        let [a, b, c, d, e, f, g, h] = self.terms;
        let below = 1.0 / (g * u + h * v + 1.0);
        (
            (a * u + b * v + c) * below + self.numbers[9] * out,
            (d * u + e * v + f) * below + self.numbers[10] * out,
        )
    }

    pub(super) fn corners(&self) -> [(f32, f32); 4] {
        std::array::from_fn(|at| (self.numbers[2 * at], self.numbers[2 * at + 1]))
    }

    /// The same, bent.
    pub(super) fn bent(&self, bend: Bend, crowd: f32) -> Self {
        let mut numbers = self.numbers;
        numbers[8] = crowd;
        Self::of(numbers, bend)
    }

    /// The upper left and lower right of what the symbol and so many modules round it take up.
    pub(super) fn frame(&self, margin: f32) -> [f32; 4] {
        let corners = self.corners();
        let least =
            |part: fn((f32, f32)) -> f32| corners.map(part).into_iter().fold(f32::MAX, f32::min);
        let most =
            |part: fn((f32, f32)) -> f32| corners.map(part).into_iter().fold(f32::MIN, f32::max);
        [
            least(|at| at.0) - margin,
            least(|at| at.1) - margin,
            most(|at| at.0) + margin,
            most(|at| at.1) + margin,
        ]
    }

    /// Whether the corners go round as those of a square that is seen from its front.
    pub(super) fn is_sound(&self) -> bool {
        let corners = self.corners();
        (0..4).all(|at| {
            let ((ax, ay), (bx, by), (cx, cy)) =
                (corners[at], corners[(at + 1) % 4], corners[(at + 2) % 4]);
            let turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx);
            turn > 16.0 && turn < 1e9
        })
    }
}

/// The fixed modules of a symbol in groups that are each lit alike.
pub(super) struct Template {
    groups: Vec<Group>,
}

struct Group {
    weight: f32,
    /// Place, and how much lighter than the group's mean it should be.
    points: Vec<(f32, f32, f32)>,
    /// Sum of the squares of the last.
    power: f32,
}

impl Template {
    pub(super) fn of(plan: &Plan) -> Self {
        let last = plan.size as i32;
        let square = |left: i32, top: i32, side: i32| {
            (0..side * side).map(move |at| (left + at % side, top + at / side))
        };
        let mut groups = Vec::new();
        for (left, top) in [(-1, -1), (last - 8, -1), (-1, last - 8)] {
            groups.push(Group::of(plan, 1.0, square(left, top, 9)));
        }
        groups.push(Group::of(plan, 0.8, (7..last - 7).map(|at| (at, 6))));
        groups.push(Group::of(plan, 0.8, (7..last - 7).map(|at| (6, at))));
        if plan.version > 1 {
            groups.push(Group::of(plan, 0.6, square(last - 9, last - 9, 5)));
        }
        if plan.version > 6 {
            for (x, y) in plan.inner_alignments() {
                groups.push(Group::of(plan, 0.2, square(x - 2, y - 2, 5)));
            }
        }
        let whole: f32 = groups.iter().map(|group| group.weight).sum();
        for group in &mut groups {
            group.weight /= whole;
        }
        Self { groups }
    }

    /// From 1, where all is as it should be, down to -1.
    pub(super) fn agrees(&self, lay: &Lay, patch: &Patch) -> f32 {
        self.groups
            .iter()
            .map(|group| group.weight * group.agrees(lay, patch))
            .sum()
    }
}

impl Group {
    fn of(plan: &Plan, weight: f32, modules: impl Iterator<Item = (i32, i32)>) -> Self {
        let scale = 2.0 / plan.size as f32;
        let mut points: Vec<(f32, f32, f32)> = modules
            .filter_map(|(x, y)| {
                let tone = match plan.fixed(x, y) {
                    Fixed::Dark => -1.0,
                    Fixed::Light => 1.0,
                    Fixed::Open => return None,
                };
                Some((
                    (x as f32 + 0.5) * scale - 1.0,
                    (y as f32 + 0.5) * scale - 1.0,
                    tone,
                ))
            })
            .collect();
        let mean = points.iter().map(|point| point.2).sum::<f32>() / points.len().max(1) as f32;
        for point in &mut points {
            point.2 -= mean;
        }
        let power = points.iter().map(|point| point.2 * point.2).sum();
        Self {
            weight,
            points,
            power,
        }
    }

    fn agrees(&self, lay: &Lay, patch: &Patch) -> f32 {
        let (mut sum, mut squares, mut with) = (0.0, 0.0, 0.0);
        for (u, v, tone) in &self.points {
            let (x, y) = lay.place(*u, *v);
            let seen = patch.at(x, y);
            sum += seen;
            squares += seen * seen;
            with += tone * seen;
        }
        let power = (squares - sum * sum / self.points.len() as f32) * self.power;
        // Two grey levels of difference say nothing.
        with / (power.max(0.0).sqrt() + 2.0 * self.power)
    }
}

/// Moves corners and bend until no small step makes it agree better. `step` is in pixels.
pub(super) fn fitted(
    start: Lay,
    template: &Template,
    patch: &Patch,
    step: f32,
    side: f32,
) -> (Lay, f32) {
    let mut lay = start;
    let mut best = template.agrees(&lay, patch);
    let numbers = if lay.bend == Bend::Flat { 8 } else { NUMBERS };
    let mut steps = [step; NUMBERS];
    steps[8] = 2.0 * step / side;
    for _ in 0..7 {
        let mut moved = false;
        for number in 0..numbers {
            let mut improved = false;
            for way in [1.0, -1.0] {
                let mut numbers = lay.numbers;
                numbers[number] += way * steps[number];
                let tried = Lay::of(numbers, lay.bend);
                let agrees = template.agrees(&tried, patch);
                if agrees > best {
                    (lay, best) = (tried, agrees);
                    // The same way once more comes first in the next round.
                    steps[number] *= way * 1.1;
                    improved = true;
                    break;
                }
            }
            if !improved {
                steps[number] *= 0.5;
            }
            moved |= improved;
        }
        if !moved && steps[..8].iter().all(|step| step.abs() < 0.1) {
            break;
        }
    }
    (lay, best)
}
