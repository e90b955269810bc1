//! The reader of tags: a grey picture in, the text of a code in it out (ISO/IEC 18004).
//!
//! It is a state machine without a clock. The caller makes a [`Reading`] of each picture, takes one
//! [`Reading::step`] after the other, and stops when its time is up. It says nothing of what a text means.
//!
//! A look at the whole picture finds finder patterns ([`finder`]) and groups them in threes ([`trio`]); a
//! third that is spoilt is guessed from two. The modules that every symbol of a size has are then fitted to
//! the picture, flat or round a cable ([`lay`]), each module is read with light and blur taken out
//! ([`tones`]), and the codewords are corrected, the doubtful ones taken for unknown ([`words`]). Nothing is
//! said to be read that the checks of the code do not prove.
//!
//! Of several codes that a look finds clearly, the one nearest to the middle of the picture comes first. Steps may go on
//! after a code was found; they then find others, or the same once more.

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
use trio::{Trio, pairs, trios};
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
    /// How often the picture is halved before.
    half: usize,
    smooth: bool,
    against: Against,
}

/// The looks in their order.
const LOOKS: [Look; 5] = [
    Look {
        half: 1,
        smooth: false,
        against: Against::Near,
    },
    Look {
        half: 0,
        smooth: false,
        against: Against::Near,
    },
    Look {
        half: 0,
        smooth: true,
        against: Against::Wide,
    },
    Look {
        half: 1,
        smooth: true,
        against: Against::Wide,
    },
    Look {
        half: 1,
        smooth: false,
        against: Against::Wide,
    },
];

/// A picture that is being read.
pub struct Reading {
    /// The whole picture, then each a half of the one before, as far as they were needed.
    sizes: Vec<Grey>,
    looks: usize,
    waiting: Vec<Trio>,
    tried: Vec<Trio>,
    /// Places that look like a symbol and were not read yet.
    fits: Vec<Fit>,
    field: Field,
    /// Whether three finder patterns stand as a symbol has them, too small for the rest to be read.
    small: bool,
}

/// A picture is dark where fewer than one in so many pixels is as light as this, of 255: no paper is in it
/// that light falls on. Chosen, no source.
const DARK: u8 = 50;
const LIGHTEST_OF: usize = 20;

/// Below so many pixels to a module hardly any symbol is read.
const SMALL: f32 = 2.2;

/// How a symbol of one size lies in a part of the picture.
struct Fit {
    plan: Plan,
    template: Template,
    patch: Patch,
    lay: Lay,
    /// How well it agrees, from 1 down.
    agrees: f32,
    /// About a module's side in pixels.
    module: f32,
}

/// From here on a place is worth more work.
const PROMISING: f32 = 0.5;
/// From here on it is hardly anything but a symbol.
const LIKELY: f32 = 0.75;

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
            sizes: vec![Grey {
                width,
                height,
                pixels,
            }],
            looks: 0,
            waiting: Vec::new(),
            tried: Vec::new(),
            fits: Vec::new(),
            field: Field::new(),
            small: false,
        }
    }

    /// Whether something was seen so far that looks like a code and is too small to be read: whoever
    /// holds the camera has to go nearer.
    #[must_use]
    pub fn is_small(&self) -> bool {
        self.small
    }

    /// Whether the picture is so dark that no tag in it can be told from its ground. It is of use where
    /// nothing was read.
    #[must_use]
    pub fn is_dark(&self) -> bool {
        let Some(whole) = self.sizes.first().filter(|whole| !whole.pixels.is_empty()) else {
            return false;
        };
        let light = whole.pixels.iter().filter(|grey| **grey >= DARK).count();
        light * LIGHTEST_OF < whole.pixels.len()
    }

    /// Does a little more: looks at the whole picture in another way, or tries one place that a look found.
    pub fn step(&mut self) -> Step {
        if let Some(trio) = self.waiting.pop() {
            let found = self.attempt(&trio);
            self.tried.push(trio);
            return found.map_or(Step::More, Step::Found);
        }
        let look = LOOKS.get(self.looks);
        let wanted = if look.is_some() { LIKELY } else { PROMISING };
        if let Some(fit) = self.next_fit(wanted) {
            return self.look_closer(fit).map_or(Step::More, Step::Found);
        }
        let Some(look) = look else {
            return Step::Nothing;
        };
        self.looks += 1;
        self.look(*look);
        Step::More
    }

    fn look(&mut self, look: Look) {
        let grey = self.size(look.half);
        let signed = if look.smooth {
            Signed::of(&grey.smoothed(), look.against)
        } else {
            Signed::of(grey, look.against)
        };
        let finders = finders(&signed);
        let scale = (1 << look.half) as f32;
        self.waiting = pairs(&signed, &finders, scale);
        let trios = trios(&signed, &finders, scale);
        self.small |= trios
            .iter()
            .any(|trio| trio.is_clear() && trio.module() < SMALL);
        self.waiting.extend(trios);
        let tried = &self.tried;
        self.waiting
            .retain(|trio| !tried.iter().any(|other| trio.is_like(other)));
    }

    /// The picture after so many halvings.
    fn size(&mut self, halvings: usize) -> &Grey {
        while self.sizes.len() <= halvings {
            let next = self.sizes[self.sizes.len() - 1].halved();
            self.sizes.push(next);
        }
        &self.sizes[halvings]
    }

    /// The best of what is at least so good.
    fn next_fit(&mut self, wanted: f32) -> Option<Fit> {
        let best = (0..self.fits.len())
            .max_by(|one, other| self.fits[*one].agrees.total_cmp(&self.fits[*other].agrees))?;
        (self.fits[best].agrees >= wanted).then(|| self.fits.swap_remove(best))
    }

    /// Fits a symbol to three finder patterns and reads it as it lies.
    fn attempt(&mut self, trio: &Trio) -> Option<Sighting> {
        let (along, down) = trio.sides();
        let module = trio.module();
        let rough = Lay::through(trio.middles, trio.size, (0.0, 0.0));
        let short = along.min(down) / (trio.size - 7.0);
        let halvings =
            usize::from(short > 5.0) + usize::from(short > 10.0) + usize::from(short > 20.0);
        let scale = (1 << halvings) as f32;
        let reach = usize::from(short > 2.9 * scale);
        let patch = Patch::of(
            self.size(halvings),
            rough.frame(6.0 * module),
            scale,
            reach,
            trio.dark,
        )?;
        let about = ((trio.size - 17.0) / 4.0).round() as i32;
        let mut fits: Vec<(f32, Lay, Plan, Template)> = Vec::new();
        let slack = i32::from(trio.guessed.is_none());
        for version in about - slack..=about + slack {
            if !(1..=40).contains(&version) {
                continue;
            }
            let plan = Plan::of(version as usize);
            let template = Template::of(&plan);
            let found = match trio.guessed {
                Some(corner) => sought(trio, corner, module, &template, &patch, plan.size),
                None => askew(trio, &plan, &template, &patch),
            };
            if let Some((agrees, lay)) = found {
                fits.push((agrees, lay, plan, template));
            }
        }
        fits.sort_by(|one, other| other.0.total_cmp(&one.0));
        let least = fits.first().map_or(1.0, |best| best.0 - 0.15).max(0.3);
        let mut patch = Some(patch);
        for (agrees, lay, plan, template) in fits.into_iter().take(2) {
            let here = patch.take()?;
            if agrees < least {
                break;
            }
            let (lay, agrees) = fitted(lay, &template, &here, 0.4 * module, along);
            if agrees > 0.55
                && let Some(found) = self.read(&plan, &lay, &here)
            {
                return Some(found);
            }
            if agrees > PROMISING {
                self.fits.push(Fit {
                    plan,
                    template,
                    patch: here.clone(),
                    lay,
                    agrees,
                    module,
                });
            }
            patch = Some(here);
        }
        None
    }

    /// Bends the symbol round a cable and reads it again.
    fn look_closer(&self, fit: Fit) -> Option<Sighting> {
        let side = fit.module * fit.plan.size as f32;
        let mut starts: Vec<(f32, Lay)> = Vec::new();
        for bend in [Bend::Across, Bend::Down] {
            for crowd in [-0.07, -0.15, -0.25, -0.35] {
                let start = fit.lay.bent(bend, crowd);
                starts.push((fit.template.agrees(&start, &fit.patch), start));
            }
        }
        starts.sort_by(|one, other| other.0.total_cmp(&one.0));
        for (_, start) in starts.iter().take(2) {
            let (bent, agrees) = fitted(*start, &fit.template, &fit.patch, 0.5 * fit.module, side);
            if agrees > fit.agrees + 0.005
                && let Some(found) = self.read(&fit.plan, &bent, &fit.patch)
            {
                return Some(found);
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

/// The perspective, of a few, in which a symbol between three finder patterns agrees best.
fn askew(trio: &Trio, plan: &Plan, template: &Template, patch: &Patch) -> Option<(f32, Lay)> {
    let mut best: Option<(f32, Lay)> = None;
    let straight = Lay::through(trio.middles, plan.size as f32, (0.0, 0.0));
    if template.agrees(&straight, patch) < 0.2 {
        return None;
    }
    for g in [0.0, -0.1, 0.1] {
        for h in [0.0, -0.1, 0.1] {
            let lay = Lay::through(trio.middles, plan.size as f32, (g, h));
            if lay.is_sound() {
                let agrees = template.agrees(&lay, patch);
                if best.is_none_or(|best| agrees > best.0) {
                    best = Some((agrees, lay));
                }
            }
        }
    }
    best
}

/// Where, around the place that was guessed for it, a finder pattern that is spoilt agrees best.
fn sought(
    trio: &Trio,
    corner: usize,
    module: f32,
    template: &Template,
    patch: &Patch,
    size: usize,
) -> Option<(f32, Lay)> {
    let mut best: Option<(f32, Lay)> = None;
    for row in -3..=3 {
        for column in -3..=3 {
            let mut middles = trio.middles;
            middles[corner].0 += 0.7 * module * column as f32;
            middles[corner].1 += 0.7 * module * row as f32;
            let lay = Lay::through(middles, size as f32, (0.0, 0.0));
            let agrees = template.agrees(&lay, patch);
            if best.is_none_or(|best| agrees > best.0) && lay.is_sound() {
                best = Some((agrees, lay));
            }
        }
    }
    best
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
