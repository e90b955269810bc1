//! Photographs of tags in steps of worse, and of what is no tag, drawn anew from a seed.
//!
//! A tag is laid flat or round a cable before a pinhole camera, lit, put out of focus, moved, worn and
//! given the noise of a sensor. The symbol is made by the program, whose texts are those of its tags; all
//! else here shares nothing with the reader.
//!
//! How strong each spoiling is at each step, how tags lie and what stands round them was chosen by us, so
//! that the first steps are easy and the last hardly possible: common practice, no source. The shares of
//! such photographs on a site are not known, so the sum over all steps compares readers with each other,
//! and says nothing of a day's work. Readers are tuned on the seeds 1 to 3 alone and reported on 101 to
//! 105. Once a reader has been tuned on these photographs they must not be changed any more.

mod chance;
mod scene;
mod surface;

use bothends::codes::qr::Matrix;
use bothends::codes::strict;
use bothends::codes::tag::{JobKey, PullMark, TagText, Tagged, WebAddress};
use bothends::domain::ids::{Bits80, JobId, PullId, ThingId};

use chance::Chance;
use scene::{Scene, photographed};
use surface::{Face, Surface};

/// How many steps each kind has, from nearly whole to hardly readable.
pub(crate) const STEPS: u32 = 10;

/// What gets worse from step to step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Held askew: up to 72 degrees away from the camera.
    Tilted,
    /// Round a cable: half of the symbol reaches up to 80 degrees round it.
    Cylinder,
    /// Out of focus: a spread of up to 0.9 modules.
    Blurred,
    /// Moved while the shutter was open: up to 2.4 modules.
    Moved,
    /// Noise of a dark place.
    Noisy,
    /// Dust, plaster and paint on it.
    Dusty,
    /// Scratched through.
    Scratched,
    /// A lamp from one side, a shadow across, a highlight.
    UnevenLight,
    /// Faded: the black is hardly darker than the paper.
    Faint,
    /// Far away: down to 1.2 pixels to a module.
    Small,
    /// White on black, with a little of everything.
    Inverted,
    /// Everything together, each by chance.
    Mixed,
    /// Other sizes of picture, with a little of everything.
    OtherSizes,
    /// No code: a wall, a rack, a bundle of cables.
    Empty,
    /// No code, but what looks like one.
    LookAlike,
}

/// All kinds in the order of the tables.
pub(crate) const KINDS: [Kind; 15] = [
    Kind::Tilted,
    Kind::Cylinder,
    Kind::Blurred,
    Kind::Moved,
    Kind::Noisy,
    Kind::Dusty,
    Kind::Scratched,
    Kind::UnevenLight,
    Kind::Faint,
    Kind::Small,
    Kind::Inverted,
    Kind::Mixed,
    Kind::OtherSizes,
    Kind::Empty,
    Kind::LookAlike,
];

/// A photograph with what must be read on it.
pub(crate) struct Photograph {
    pub(crate) kind: Kind,
    pub(crate) step: u32,
    /// The text of the tag; none where there is no code.
    pub(crate) text: Option<String>,
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Row by row from the top, 0 is black.
    pub(crate) grey: Vec<u8>,
}

/// All photographs of a seed, made one after the other: each kind at each step.
pub(crate) fn photographs(seed: u64) -> impl Iterator<Item = Photograph> {
    KINDS
        .into_iter()
        .flat_map(move |kind| (1..=STEPS).map(move |step| photograph(seed, kind, step)))
}

/// One photograph.
pub(crate) fn photograph(seed: u64, kind: Kind, step: u32) -> Photograph {
    let mut chance = Chance::of(seed, kind as u64, u64::from(step));
    let worse = f64::from(step) / f64::from(STEPS);
    let text = text(&mut chance);
    let mut scene = Scene::usual(&mut chance);
    let matrix = Matrix::of(&text).expect("a tag's text fits");
    let mut surface = Surface::of(&matrix, &mut chance);
    let mut shown = Some(text);
    let strength = Strength::of(kind, worse, &mut chance);
    scene.spoil(&strength, surface.side(), &mut chance);
    surface.spoil(&strength, &mut chance);
    match kind {
        Kind::Inverted => surface.invert(),
        Kind::Mixed if chance.unit() < 0.1 => surface.invert(),
        Kind::OtherSizes => {
            const SIZES: [(usize, usize); 5] = [
                (640, 480),
                (480, 640),
                (720, 960),
                (1280, 960),
                (1600, 1200),
            ];
            (scene.width, scene.height) = SIZES[chance.below(SIZES.len())];
        }
        Kind::Empty => {
            surface.face = Face::Gone;
            shown = None;
        }
        Kind::LookAlike => {
            surface.confuse(step, &mut chance);
            shown = None;
        }
        _ => {}
    }
    Photograph {
        kind,
        step,
        text: shown,
        width: scene.width,
        height: scene.height,
        grey: photographed(&scene, &surface, &mut chance),
    }
}

/// How strong each spoiling is.
#[derive(Clone, Copy, Default)]
struct Strength {
    /// Away from the camera, in radians.
    tilt: f64,
    /// How far half of the symbol reaches round the cable, in radians; 0 is flat.
    round: f64,
    /// Spread of the focus, in modules.
    blur: f64,
    /// Way during the exposure, in modules.
    motion: f64,
    /// Standard deviation of the noise, in grey levels of 255.
    noise: f64,
    /// Share of the symbol under dust.
    dust: f64,
    /// Scratches from edge to edge.
    scratches: f64,
    /// Unevenness of the light, from 0 to 1.
    light: f64,
    /// How much of the contrast is gone, from 0 to 1.
    faded: f64,
    /// Pixels to a module; 0 leaves the usual.
    module: f64,
}

impl Strength {
    fn of(kind: Kind, worse: f64, chance: &mut Chance) -> Self {
        let usual = Self {
            tilt: 0.26 * chance.unit(),
            round: 0.0,
            blur: 0.15 + 0.1 * chance.unit(),
            motion: 0.0,
            noise: 2.0 + 2.0 * chance.unit(),
            dust: 0.0,
            scratches: 0.0,
            light: 0.15 * chance.unit(),
            faded: 0.2 * chance.unit(),
            module: 0.0,
        };
        match kind {
            Kind::Tilted => Self {
                tilt: 72_f64.to_radians() * worse,
                ..usual
            },
            Kind::Cylinder => Self {
                round: 80_f64.to_radians() * worse,
                ..usual
            },
            Kind::Blurred => Self {
                blur: 0.9 * worse,
                ..usual
            },
            Kind::Moved => Self {
                motion: 2.4 * worse,
                ..usual
            },
            Kind::Noisy => Self {
                noise: 60.0 * worse,
                ..usual
            },
            Kind::Dusty => Self {
                dust: 0.12 * worse,
                ..usual
            },
            Kind::Scratched => Self {
                scratches: 7.0 * worse,
                ..usual
            },
            Kind::UnevenLight => Self {
                light: worse,
                ..usual
            },
            Kind::Faint => Self {
                faded: 1.0 - 0.5 * (1.03 - worse),
                ..usual
            },
            Kind::Small => Self {
                module: 3.4 - 2.2 * worse,
                ..usual
            },
            Kind::Inverted | Kind::OtherSizes => Self::everything(0.6 * worse, chance),
            Kind::Mixed => Self::everything(worse, chance),
            Kind::Empty | Kind::LookAlike => Self::everything(0.4 * worse, chance),
        }
    }

    /// A share of each spoiling by chance, so that seldom two are at their worst together.
    fn everything(worse: f64, chance: &mut Chance) -> Self {
        let mut share = || {
            let drawn = chance.unit();
            worse * drawn * drawn
        };
        Self {
            tilt: 1.1 * share(),
            round: 1.2 * share(),
            blur: 0.15 + 0.5 * share(),
            motion: 1.2 * share(),
            noise: 3.0 + 45.0 * share(),
            dust: 0.1 * share(),
            scratches: 3.0 * share(),
            light: share(),
            faded: 0.9 * share(),
            module: 6.0 - 4.0 * share(),
        }
    }
}

/// A text as tags have it: mostly an end of a cable, sometimes a place, sometimes behind an address.
fn text(chance: &mut Chance) -> String {
    const ROOMS: [&str; 8] = ["KIT", "BED", "HALL", "DEN", "LOFT", "BATH", "GAR", "STUDY"];
    let room = format!(
        "{}{}",
        ROOMS[chance.below(ROOMS.len())],
        1 + chance.below(12)
    );
    let n = 1 + u32::try_from(chance.below(400)).expect("small");
    let origin = Bits80(chance.bytes());
    let pull = PullMark::of(PullId(ThingId {
        origin,
        n,
        index: 0,
    }));
    let letter = char::from(b'A' + u8::try_from(chance.below(8)).expect("small"));
    let tagged = match chance.below(8) {
        0 => Tagged::Outlet(strict::outlet(&room).expect("an outlet")),
        1 => {
            let code = strict::leg(&format!("{room}-{letter}.2")).expect("a leg");
            Tagged::Leg { code, pull }
        }
        _ => {
            let code = strict::label(&format!("{room}-{letter}")).expect("a label");
            Tagged::Run { code, pull }
        }
    };
    let job_key = JobKey::of(JobId(Bits80(chance.bytes())));
    let tag = TagText { tagged, job_key };
    if chance.below(6) == 0 {
        let address = WebAddress::new("HTTPS://REGISTRY.EXAMPLE/").expect("an address");
        tag.behind(&address)
    } else {
        tag.to_string()
    }
}
