//! The reader of tags: a grey picture in, the text of a code in it out (ISO/IEC 18004).
//!
//! It is a state machine without a clock. The caller makes a [`Reading`] of each picture, takes one
//! [`Reading::step`] after the other, and stops when its time is up. It says nothing of what a text means.

mod correct;
mod finder;
mod grey;
mod lay;
mod patch;
mod symbol;
mod text;
mod tones;
mod trio;
mod words;

use correct::Field;
use finder::finders;
use grey::{Against, Grey, Signed};
use lay::{Bend, Lay, Template, fitted};
use patch::Patch;
use symbol::Plan;
use tones::Tones;
use trio::{Trio, trios};
use words::Seen;

/// A code that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Sighting {
    /// Its text as it stands there: hostile input, fit for nothing but to be read.
    pub text: String,
    /// Its corners in pixels, in turn from the one that is the upper left when it stands upright.
    pub corners: [(f32, f32); 4],
    /// The mean side of a module in pixels.
    pub module: f32,
}

/// What a step came to.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// A code was read.
    Found(Sighting),
    /// Nothing yet; another step may find it.
    More,
    /// All was tried.
    Nothing,
}

/// One way to look at the whole picture.
#[derive(Clone, Copy)]
struct Look {
    /// Each pixel is the mean of so many by so many.
    scale: usize,
    smooth: bool,
    against: Against,
}

/// The looks in their order.
const LOOKS: [Look; 5] = [
    Look {
        scale: 2,
        smooth: false,
        against: Against::Near,
    },
    Look {
        scale: 1,
        smooth: false,
        against: Against::Near,
    },
    Look {
        scale: 1,
        smooth: true,
        against: Against::Wide,
    },
    Look {
        scale: 2,
        smooth: true,
        against: Against::Wide,
    },
    Look {
        scale: 2,
        smooth: false,
        against: Against::Wide,
    },
];

/// A picture that is being read.
pub struct Reading {
    grey: Grey,
    half: Option<Grey>,
    looks: usize,
    waiting: Vec<Trio>,
    tried: Vec<Trio>,
    field: Field,
}

impl Reading {
    /// Begins with a picture, row by row from the top; 0 is black. Pixels that are missing are black, and
    /// those that are too many are not looked at.
    #[must_use]
    pub fn of(width: usize, height: usize, grey: Vec<u8>) -> Self {
        let mut pixels = grey;
        // Sides beyond these are no picture; a product of them is no memory.
        let (width, height) = if width > MOST || height > MOST {
            (0, 0)
        } else {
            (width, height)
        };
        pixels.resize(width * height, 0);
        Self {
            grey: Grey {
                width,
                height,
                pixels,
            },
            half: None,
            looks: 0,
            waiting: Vec::new(),
            tried: Vec::new(),
            field: Field::new(),
        }
    }

    /// Does a little more: looks at the whole picture in another way, or tries one place that a look found.
    pub fn step(&mut self) -> Step {
        if let Some(trio) = self.waiting.pop() {
            let found = self.attempt(&trio);
            self.tried.push(trio);
            return found.map_or(Step::More, Step::Found);
        }
        let Some(look) = LOOKS.get(self.looks) else {
            return Step::Nothing;
        };
        self.looks += 1;
        self.look(*look);
        Step::More
    }

    fn look(&mut self, look: Look) {
        if look.scale == 2 && self.half.is_none() {
            self.half = Some(self.grey.halved());
        }
        let grey = match &self.half {
            Some(half) if look.scale == 2 => half,
            _ => &self.grey,
        };
        let signed = if look.smooth {
            Signed::of(&grey.smoothed(), look.against)
        } else {
            Signed::of(grey, look.against)
        };
        let found = trios(&signed, &finders(&signed), look.scale as f32);
        self.waiting = found;
        let tried = &self.tried;
        self.waiting
            .retain(|trio| !tried.iter().any(|other| trio.is_like(other)));
    }

    fn attempt(&self, trio: &Trio) -> Option<Sighting> {
        let [corner, right, below] = trio.middles;
        let along = (right.0 - corner.0).hypot(right.1 - corner.1);
        let down = (below.0 - corner.0).hypot(below.1 - corner.1);
        let module = (along + down) / 2.0 / (trio.size - 7.0);
        let rough = Lay::through(trio.middles, trio.size, (0.0, 0.0), Bend::Flat, 0.0);
        let reach = (0.33 * along.min(down) / (trio.size - 7.0)) as usize;
        let patch = Patch::of(&self.grey, rough.frame(6.0 * module), reach, trio.dark)?;
        let about = ((trio.size - 17.0) / 4.0).round() as i32;
        let mut fits: Vec<(f32, Lay, Plan, Template)> = Vec::new();
        for version in [about, about - 1, about + 1] {
            if !(1..=40).contains(&version) {
                continue;
            }
            let plan = Plan::of(version as usize);
            let template = Template::of(&plan);
            let mut best: Option<(f32, Lay)> = None;
            for g in [0.0, -0.1, 0.1] {
                for h in [0.0, -0.1, 0.1] {
                    let lay = Lay::through(trio.middles, plan.size as f32, (g, h), Bend::Flat, 0.0);
                    if lay.is_sound() {
                        let agrees = template.agrees(&lay, &patch);
                        if best.is_none_or(|best| agrees > best.0) {
                            best = Some((agrees, lay));
                        }
                    }
                }
            }
            if let Some((agrees, lay)) = best {
                fits.push((agrees, lay, plan, template));
            }
        }
        fits.sort_by(|one, other| other.0.total_cmp(&one.0));
        for (agrees, lay, plan, template) in fits.iter().take(2) {
            if *agrees < 0.3 {
                continue;
            }
            let (lay, agrees) = fitted(*lay, template, &patch, 0.4 * module, along);
            if agrees < 0.45 {
                continue;
            }
            if let Some(found) = self.read(plan, &lay, &patch) {
                return Some(found);
            }
            if agrees > 0.95 {
                continue;
            }
            for bend in [Bend::Across, Bend::Down] {
                let mut best: Option<(Lay, f32)> = None;
                for crowd in [-0.08, -0.18, -0.3] {
                    let start = lay.bent(bend, crowd);
                    let bent = fitted(start, template, &patch, 0.5 * module, along);
                    if best.is_none_or(|best| bent.1 > best.1) {
                        best = Some(bent);
                    }
                }
                if let Some((bent, better)) = best
                    && better > agrees + 0.01
                    && let Some(found) = self.read(plan, &bent, &patch)
                {
                    return Some(found);
                }
            }
        }
        None
    }

    fn read(&self, plan: &Plan, lay: &Lay, patch: &Patch) -> Option<Sighting> {
        let evened = Tones::of(plan, lay, patch).evened();
        let try_one = |tones: &Tones| {
            let tones = tones.symbol();
            Seen {
                plan,
                tones: &tones,
            }
            .text(&self.field)
        };
        let text = try_one(&evened).or_else(|| {
            let sharp = evened.sharpened(1, None)?;
            try_one(&sharp).or_else(|| {
                let sharper = evened.sharpened(1, Some(&sharp))?;
                try_one(&sharper).or_else(|| try_one(&evened.sharpened(2, Some(&sharper))?))
            })
        })?;
        let corners = lay.corners();
        let side = |one: (f32, f32), other: (f32, f32)| (one.0 - other.0).hypot(one.1 - other.1);
        let round: f32 = (0..4)
            .map(|at| side(corners[at], corners[(at + 1) % 4]))
            .sum();
        Some(Sighting {
            text,
            corners,
            module: round / 4.0 / plan.size as f32,
        })
    }
}

/// A picture of red, green, blue and opacity as grey, by the weights of ITU-R BT.601.
#[must_use]
pub fn grey_of(pixels: &[u8]) -> Vec<u8> {
    let grey = pixels.chunks_exact(4).map(|pixel| {
        let sum = 77 * u32::from(pixel[0]) + 150 * u32::from(pixel[1]) + 29 * u32::from(pixel[2]);
        (sum >> 8) as u8
    });
    grey.collect()
}

/// The longest side of a picture, in pixels.
const MOST: usize = 1 << 13;
