//! Three finder patterns that may belong to one symbol.

use super::finder::{Finder, edges};
use super::grey::Signed;

/// Three finder patterns in their places, with what they say of the symbol.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trio {
    /// Upper left, upper right, lower left, as the symbol lies.
    pub(super) middles: [(f32, f32); 3],
    pub(super) dark: bool,
    /// About how many modules a side has; not rounded.
    pub(super) size: f32,
    /// Which of the three was not seen, but is guessed from the two others.
    pub(super) guessed: Option<usize>,
    /// How unlikely it is.
    odd: f32,
}

impl Trio {
    /// From the middle of the corner's finder pattern to those of the two others, in pixels.
    pub(super) fn sides(&self) -> (f32, f32) {
        let [corner, right, below] = self.middles;
        let to = |other: (f32, f32)| (other.0 - corner.0).hypot(other.1 - corner.1);
        (to(right), to(below))
    }

    /// About a module's side in pixels.
    pub(super) fn module(&self) -> f32 {
        let (along, down) = self.sides();
        (along + down) / 2.0 / (self.size - 7.0)
    }

    /// Whether it is hardly anything but a symbol's.
    pub(super) fn is_clear(&self) -> bool {
        self.odd < CLEAR
    }

    /// Whether it is the same as one that was tried.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        let near = self
            .middles
            .iter()
            .zip(&other.middles)
            .all(|(one, other)| (one.0 - other.0).abs().max((one.1 - other.1).abs()) < 1.5);
        near && self.dark == other.dark && (self.size - other.size).abs() < 2.0
    }
}

/// The most that are tried of one look.
const MOST: usize = 5;

/// Below this a trio is hardly anything but a symbol's.
const CLEAR: f32 = 0.5;

/// The trios of a look, the likeliest last. Of likely ones, the nearest to the picture's middle comes
/// first.
pub(super) fn trios(signed: &Signed, finders: &[Finder], scale: f32) -> Vec<Trio> {
    let mut found = Vec::new();
    for (at, one) in finders.iter().enumerate() {
        for (by, two) in finders.iter().enumerate().skip(at + 1) {
            for three in &finders[by + 1..] {
                if let Some(trio) = trio(signed, [one, two, three]) {
                    found.push(trio);
                }
            }
        }
    }
    found.sort_by(|one: &Trio, other| one.odd.total_cmp(&other.odd));
    found.truncate(MOST);
    let middle = (signed.width as f32 / 2.0, signed.height as f32 / 2.0);
    let order = |trio: &Trio| {
        let [_, (ax, ay), (bx, by)] = trio.middles;
        let away = ((ax + bx) / 2.0 - middle.0).hypot((ay + by) / 2.0 - middle.1);
        if trio.odd < CLEAR {
            away
        } else {
            1e6 * trio.odd
        }
    };
    found.sort_by(|one, other| order(other).total_cmp(&order(one)));
    for trio in &mut found {
        trio.middles = trio
            .middles
            .map(|(x, y)| ((x + 0.5) * scale - 0.5, (y + 0.5) * scale - 0.5));
    }
    found
}

fn distance(one: &Finder, other: &Finder) -> f32 {
    (one.x - other.x).hypot(one.y - other.y)
}

fn trio(signed: &Signed, of: [&Finder; 3]) -> Option<Trio> {
    let [one, two, three] = of;
    if one.dark != two.dark || two.dark != three.dark {
        return None;
    }
    let modules = of.map(|finder| finder.module);
    let least = modules[0].min(modules[1]).min(modules[2]);
    let most = modules[0].max(modules[1]).max(modules[2]);
    if most > 2.5 * least {
        return None;
    }
    // The corner lies opposite the longest side.
    let sides = [
        distance(two, three),
        distance(one, three),
        distance(one, two),
    ];
    let longest = if sides[0] >= sides[1] && sides[0] >= sides[2] {
        0
    } else if sides[1] >= sides[2] {
        1
    } else {
        2
    };
    let corner = of[longest];
    let (mut right, mut below) = (of[(longest + 1) % 3], of[(longest + 2) % 3]);
    let turn =
        (right.x - corner.x) * (below.y - corner.y) - (right.y - corner.y) * (below.x - corner.x);
    if turn < 0.0 {
        std::mem::swap(&mut right, &mut below);
    }
    let (along, down) = (distance(corner, right), distance(corner, below));
    if along < 10.0 * least || down < 10.0 * least || along > 4.0 * down || down > 4.0 * along {
        return None;
    }
    let slant = ((right.x - corner.x) * (below.x - corner.x)
        + (right.y - corner.y) * (below.y - corner.y))
        / (along * down);
    if slant.abs() > 0.9 {
        return None;
    }
    let across = modules_between(signed, corner, right, along);
    let upright = modules_between(signed, corner, below, down);
    let (across, upright) = match (across, upright) {
        (Some(across), Some(upright)) => (across, upright),
        (Some(one), None) | (None, Some(one)) => (one, one),
        (None, None) => return None,
    };
    let size = (across + upright) / 2.0 + 7.0;
    if !(17.0..190.0).contains(&size) {
        return None;
    }
    let uneven = (across - upright).abs() / (across + upright);
    let ratio = (along / down).max(down / along) - 1.0;
    let counts = of.iter().map(|finder| finder.count).min().unwrap_or(0);
    let odd = 3.0 * uneven
        + 0.4 * slant.abs()
        + 0.2 * ratio
        + 0.5 * (most / least - 1.0)
        + 0.5 / counts as f32
        + if size > 46.0 { 0.3 } else { 0.0 };
    let middles = [corner, right, below].map(|finder| (finder.x, finder.y));
    Some(Trio {
        middles,
        dark: one.dark,
        size,
        guessed: None,
        odd,
    })
}

/// The most pairs that are tried of one look.
const MOST_PAIRS: usize = 2;

/// Trios of which one finder pattern is spoilt: all places where it may be, by two that were found. The
/// likeliest last.
pub(super) fn pairs(signed: &Signed, finders: &[Finder], scale: f32) -> Vec<Trio> {
    let mut found: Vec<(f32, [&Finder; 2], f32)> = Vec::new();
    for (at, one) in finders.iter().enumerate() {
        for two in &finders[at + 1..] {
            let alike = (one.module / two.module).max(two.module / one.module);
            if one.dark != two.dark || alike > 1.5 || one.count.min(two.count) < 3 {
                continue;
            }
            let far = distance(one, two);
            if let Some(between) = modules_between(signed, one, two, far)
                && (12.0..46.0).contains(&between)
            {
                // A finder pattern is seven modules high, so many rows find those that are whole.
                let seen = one.count.min(two.count) as f32 / (3.0 * one.module).max(1.0);
                found.push((alike - seen.min(1.0), [one, two], between));
            }
        }
    }
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    found.truncate(MOST_PAIRS);
    let mut trios = Vec::new();
    for (odd, [one, two], between) in found.into_iter().rev() {
        let way = ((two.x - one.x), (two.y - one.y));
        let far = distance(one, two);
        let upright = (-way.1 / far, way.0 / far);
        let high = [one, two].map(|finder| width(signed, finder, upright));
        let Some(high) = high[0].or(high[1]) else {
            continue;
        };
        let (a, b) = ((one.x, one.y), (two.x, two.y));
        let beside = |from: (f32, f32), by: f32| (from.0 + by * upright.0, from.1 + by * upright.1);
        let mut guess = |middles: [(f32, f32); 3], guessed: usize, apart: f32| {
            let middles = middles.map(|(x, y)| ((x + 0.5) * scale - 0.5, (y + 0.5) * scale - 0.5));
            trios.push(Trio {
                middles,
                dark: one.dark,
                size: apart + 7.0,
                guessed: Some(guessed),
                odd,
            });
        };
        let sides = |apart: f32| ((apart - 10.0) / 4.0).round() * 4.0 + 10.0;
        if between > 17.0 {
            let apart = sides(between * std::f32::consts::FRAC_1_SQRT_2);
            let half = apart * high * std::f32::consts::FRAC_1_SQRT_2;
            let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
            guess([beside(middle, half), a, b], 0, apart);
            guess([beside(middle, -half), b, a], 0, apart);
        }
        if between < 33.0 {
            let apart = sides(between);
            let by = apart * high;
            guess([a, b, beside(a, by)], 2, apart);
            guess([b, a, beside(b, -by)], 2, apart);
            guess([a, beside(a, -by), b], 1, apart);
            guess([b, beside(b, by), a], 1, apart);
        }
    }
    trios
}

/// A module's length in a direction, by the width of a finder pattern.
fn width(signed: &Signed, finder: &Finder, way: (f32, f32)) -> Option<f32> {
    let on = edges(signed, finder.x, finder.y, way, finder.dark);
    let back = edges(signed, finder.x, finder.y, (-way.0, -way.1), finder.dark);
    match (on, back) {
        (Some(on), Some(back)) => Some((on[2] + back[2]) / 7.0),
        (Some(one), None) | (None, Some(one)) => Some(one[2] / 3.5),
        (None, None) => None,
    }
}

/// How many modules lie between the middles of two finder patterns, by the width that each has in the
/// direction of the other.
fn modules_between(signed: &Signed, one: &Finder, other: &Finder, far: f32) -> Option<f32> {
    let way = ((other.x - one.x) / far, (other.y - one.y) / far);
    let module = match (width(signed, one, way), width(signed, other, way)) {
        (Some(one), Some(other)) => (one + other) / 2.0,
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => return None,
    };
    Some(far / module)
}
