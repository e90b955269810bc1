//! Finder patterns: squares in rings, which any line through the middle cuts in the proportion
//! 1 : 1 : 3 : 1 : 1. Lengths are in pixels of the picture that is looked at.

use super::grey::Signed;

/// What may be a finder pattern.
#[derive(Clone, Copy, Debug)]
pub(super) struct Finder {
    pub(super) x: f32,
    pub(super) y: f32,
    /// About a module's side.
    pub(super) module: f32,
    /// Whether its middle is dark, as it is unless the tag is printed white on black.
    pub(super) dark: bool,
    /// How many rows found it.
    pub(super) count: u32,
}

/// The most that are kept of a picture.
const MOST: usize = 24;

/// Whether five lengths have the proportion; gives a module's length.
fn proportion(lengths: [f32; 5], slack: f32) -> Option<f32> {
    let module = lengths.iter().sum::<f32>() / 7.0;
    let off = slack * module;
    // A threshold that is off makes all dark runs longer and all light ones shorter alike.
    let bias = (lengths[0] + lengths[2] / 3.0 + lengths[4]) / 3.0 - (lengths[1] + lengths[3]) / 2.0;
    let bias = (bias / 2.0).clamp(-0.45 * module, 0.45 * module);
    let right = |length: f32, wanted: f32| (length - wanted).abs() < off;
    (right(lengths[0], module + bias)
        && right(lengths[1], module - bias)
        && right(lengths[2], 3.0 * module + bias)
        && right(lengths[3], module - bias)
        && right(lengths[4], module + bias))
    .then_some(module)
}

/// All that may be finder patterns, the surest first.
pub(super) fn finders(signed: &Signed) -> Vec<Finder> {
    let mut found: Vec<Finder> = Vec::new();
    for (y, row) in signed.tones.chunks_exact(signed.width.max(1)).enumerate() {
        // The last six edges, and the tone before.
        let mut edges = [f32::NEG_INFINITY; 6];
        let mut before = row[0];
        for (x, tone) in row.iter().enumerate() {
            if (before ^ *tone) < 0 {
                let (from, to) = (f32::from(before), f32::from(*tone));
                let [_, one, two, three, four, five] = edges;
                let edge = x as f32 - 1.0 + from / (from - to);
                edges = [one, two, three, four, five, edge];
                let (middle, whole) = (four - three, edge - one);
                if 7.0 * middle > 1.9 * whole && 7.0 * middle < 4.1 * whole {
                    let lengths = [two - one, three - two, middle, five - four, edge - five];
                    if proportion(lengths, 0.6).is_some() {
                        note(
                            signed,
                            ((three + four) / 2.0, y as f32),
                            before < 0,
                            &mut found,
                        );
                    }
                }
            }
            before = *tone;
        }
        if found.len() > CROWDED {
            let passed = |finder: &Finder| finder.y + 4.0 * finder.module < y as f32;
            found.retain(|finder| finder.count > 1 || !passed(finder));
        }
    }
    found.sort_by_key(|finder| std::cmp::Reverse(finder.count));
    found.truncate(MOST);
    found
}

/// Above so many, what one row alone found is forgotten.
const CROWDED: usize = 48;

/// Holds a place against what is known already, else looks at it from three more sides.
fn note(signed: &Signed, (x, y): (f32, f32), dark: bool, found: &mut Vec<Finder>) {
    for known in found.iter_mut() {
        let near = 1.6 * known.module;
        if known.dark == dark && (known.x - x).abs() < near && (known.y - y).abs() < near {
            known.count += 1;
            return;
        }
    }
    let Some((up, _)) = cut(signed, x, y, (0.0, 1.0), dark) else {
        return;
    };
    let y = y + up;
    let Some((aside, across)) = cut(signed, x, y, (1.0, 0.0), dark) else {
        return;
    };
    let x = x + aside;
    let Some((up, down)) = cut(signed, x, y, (0.0, 1.0), dark) else {
        return;
    };
    let y = y + up;
    if across > 4.0 * down || down > 4.0 * across {
        return;
    }
    let falling = cut(signed, x, y, (DIAGONAL, DIAGONAL), dark);
    let rising = cut(signed, x, y, (DIAGONAL, -DIAGONAL), dark);
    let module = match (falling, rising) {
        (None, None) => return,
        // A square turned by half a right angle is cut longer upright and across.
        (Some((_, one)), Some((_, other))) => (across * down).sqrt().min((one * other).sqrt()),
        _ => (across * down).sqrt() * 0.9,
    };
    found.push(Finder {
        x,
        y,
        module,
        dark,
        count: 1,
    });
}

const DIAGONAL: f32 = std::f32::consts::FRAC_1_SQRT_2;

/// Cuts the rings through a place. Gives how far along the cut the middle is, and a module's length on it.
fn cut(signed: &Signed, x: f32, y: f32, way: (f32, f32), dark: bool) -> Option<(f32, f32)> {
    let on = edges(signed, x, y, way, dark)?;
    let back = edges(signed, x, y, (-way.0, -way.1), dark)?;
    let lengths = [
        back[2] - back[1],
        back[1] - back[0],
        back[0] + on[0],
        on[1] - on[0],
        on[2] - on[1],
    ];
    let module = proportion(lengths, 0.8)?;
    Some((
        (on[0] - back[0] + on[1] - back[1] + on[2] - back[2]) / 6.0,
        module,
    ))
}

/// How far it is to the three edges of a finder pattern from within its middle.
pub(super) fn edges(
    signed: &Signed,
    x: f32,
    y: f32,
    way: (f32, f32),
    dark: bool,
) -> Option<[f32; 3]> {
    let mut edges = [0.0; 3];
    let mut wanted = 0;
    let tone_at = |far: f32| {
        let (x, y) = (x + far * way.0, y + far * way.1);
        signed.at((x + 0.5).floor() as i32, (y + 0.5).floor() as i32)
    };
    let mut before = tone_at(0.0)?;
    if (before < 0) != dark {
        return None;
    }
    // No edge may be further off than the symbol would fill the picture.
    let most = signed.width.max(signed.height) / 4;
    let mut limit = most;
    let mut step = 0;
    while step < limit {
        step += 1;
        let tone = tone_at(step as f32)?;
        if (before < 0) != (tone < 0) {
            let (from, to) = (f32::from(before), f32::from(tone));
            edges[wanted] = step as f32 - 1.0 + from / (from - to);
            if wanted == 0 {
                // The two rings outside are not wider than three times the half of the middle.
                limit = most.min(step * 4 + 4);
            }
            wanted += 1;
            if wanted == 3 {
                return Some(edges);
            }
        }
        before = tone;
    }
    None
}
