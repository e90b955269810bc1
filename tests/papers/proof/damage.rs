//! Codes as they look after years on a cable: covered, scratched, blurred, always the same for a seed.

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

use super::grey::Grey;

/// Pixels to a module.
pub(crate) const MODULE: usize = 8;
/// The light border, in modules (ISO/IEC 18004).
const QUIET: usize = 4;

/// Random numbers that are the same everywhere (xorshift64*, Vigna 2016).
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice that fall the same for the same seed.
    pub(crate) fn of(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        // Small seeds differ in few bits at first.
        for _ in 0..8 {
            dice.next();
        }
        dice
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A whole number below a limit.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        let limit = u64::try_from(limit).expect("small");
        usize::try_from(self.next() % limit).expect("small")
    }

    /// A number from 0 up to 1.
    pub(crate) fn part(&mut self) -> f64 {
        // The upper half is the better one, and fits a float exactly.
        f64::from(u32::try_from(self.next() >> 32).expect("half of it")) / 4_294_967_296.0
    }
}

/// What happens to a code.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Damage {
    /// Nothing.
    None,
    /// A disc over so many hundredths of the symbol, wholly on it, anywhere; as often dark as light.
    Cover(f64),
    /// The same, beside the three finder patterns.
    CoverData(f64),
    /// So many straight scratches from one edge to another, half a module wide, light.
    Scratch(usize),
    /// A blur: three times over, each pixel becomes the mean of a square that reaches so many modules to
    /// each side, which is about what a lens out of focus does.
    Blur(f64),
}

/// The text of a tag of 15 characters, as most are.
pub(crate) fn text(seed: u64) -> String {
    const ROOMS: [&str; 6] = ["KIT", "BED", "DEN", "HAL", "BTH", "GAR"];
    const MARKS: &[u8] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    let mut dice = Dice::of(seed);
    let letter = |at: usize| char::from(b'A' + u8::try_from(at).expect("small"));
    let mut text = format!(
        "{}{}-{} ",
        ROOMS[dice.below(ROOMS.len())],
        1 + dice.below(9),
        letter(dice.below(8))
    );
    text.extend((0..8).map(|_| char::from(MARKS[dice.below(MARKS.len())])));
    text
}

/// The smallest symbol of a text at a level.
pub(crate) fn symbol(text: &str, level: QrCodeEcc) -> QrCode {
    let segments = QrSegment::make_segments(text);
    QrCode::encode_segments_advanced(&segments, level, Version::MIN, Version::MAX, None, false)
        .expect("a short text")
}

/// The symbol as a picture, with its light border.
pub(crate) fn drawn(code: &QrCode) -> Grey {
    let size = usize::try_from(code.size()).expect("a size");
    let side = (size + 2 * QUIET) * MODULE;
    let mut grey = Grey::white(side, side);
    for (y, row) in (0..code.size()).zip(QUIET..) {
        for (x, column) in (0..code.size()).zip(QUIET..) {
            if code.get_module(x, y) {
                grey.fill((column * MODULE, row * MODULE), (MODULE, MODULE));
            }
        }
    }
    grey
}

/// The picture after the damage that falls by a seed.
pub(crate) fn damaged(whole: &Grey, damage: Damage, seed: u64) -> Grey {
    let mut dice = Dice::of(seed);
    match damage {
        Damage::None => whole.clone(),
        Damage::Cover(hundredths) => covered(whole, hundredths, false, &mut dice),
        Damage::CoverData(hundredths) => covered(whole, hundredths, true, &mut dice),
        Damage::Scratch(count) => scratched(whole, count, &mut dice),
        Damage::Blur(modules) => blurred(whole, modules),
    }
}

/// The begin of the symbol in the picture, and its side, in pixels.
fn symbol_in(grey: &Grey) -> (f64, f64) {
    let border = pixels(QUIET * MODULE);
    (border, pixels(grey.width) - 2.0 * border)
}

fn pixels(count: usize) -> f64 {
    f64::from(u32::try_from(count).expect("a picture"))
}

/// Gives the pixels for which `is_in` holds a value; it is asked of their middles.
fn paint(grey: &mut Grey, value: u8, is_in: impl Fn(f64, f64) -> bool) {
    for y in 0..grey.height {
        for x in 0..grey.width {
            if is_in(pixels(x) + 0.5, pixels(y) + 0.5) {
                grey.pixels[y * grey.width + x] = value;
            }
        }
    }
}

fn covered(whole: &Grey, hundredths: f64, spares_finders: bool, dice: &mut Dice) -> Grey {
    let (begin, side) = symbol_in(whole);
    let radius = side * (hundredths / 100.0 / std::f64::consts::PI).sqrt();
    let room = side - 2.0 * radius;
    let (x, y) = loop {
        let (x, y) = (radius + room * dice.part(), radius + room * dice.part());
        if !spares_finders || !touches_finder((x, y), radius, side) {
            break (begin + x, begin + y);
        }
    };
    let value = if dice.below(2) == 0 { 0 } else { 255 };
    let mut grey = whole.clone();
    paint(&mut grey, value, |px, py| (px - x).hypot(py - y) <= radius);
    grey
}

/// Whether a disc touches one of the three squares of seven modules in the corners.
fn touches_finder((x, y): (f64, f64), radius: f64, side: f64) -> bool {
    let finder = 7.0 * pixels(MODULE);
    let far = side - finder;
    [(0.0, 0.0), (far, 0.0), (0.0, far)]
        .into_iter()
        .any(|(left, top)| {
            let nearest = (x.clamp(left, left + finder), y.clamp(top, top + finder));
            (x - nearest.0).hypot(y - nearest.1) < radius
        })
}

fn scratched(whole: &Grey, count: usize, dice: &mut Dice) -> Grey {
    let (begin, side) = symbol_in(whole);
    let half = pixels(MODULE) / 4.0;
    let mut grey = whole.clone();
    for _ in 0..count {
        let (from, to) = (side * dice.part(), side * dice.part());
        // Across, or down.
        let is_across = dice.below(2) == 0;
        let length = side.hypot(to - from);
        paint(&mut grey, 255, |x, y| {
            let (along, aside) = if is_across { (x, y) } else { (y, x) };
            let line = from + (to - from) * (along - begin) / side;
            (aside - begin - line).abs() * side / length <= half
        });
    }
    grey
}

fn blurred(whole: &Grey, modules: f64) -> Grey {
    // Whole pixels: an eighth of a module each.
    let reach = (0..)
        .find(|reach| pixels(*reach) >= modules * pixels(MODULE))
        .expect("a number");
    (0..3).fold(whole.clone(), |grey, _| {
        let along = blurred_rows(&grey, reach);
        turned(&blurred_rows(&turned(&along), reach))
    })
}

fn turned(grey: &Grey) -> Grey {
    let pixels = (0..grey.width)
        .flat_map(|x| (0..grey.height).map(move |y| (x, y)))
        .map(|(x, y)| grey.at(x, y))
        .collect();
    Grey {
        width: grey.height,
        height: grey.width,
        pixels,
    }
}

fn blurred_rows(grey: &Grey, reach: usize) -> Grey {
    let count = 2 * reach + 1;
    let mut blurred = grey.clone();
    for y in 0..grey.height {
        for x in 0..grey.width {
            // A place before the first is written as one far behind the last: white too.
            let sum: usize = (0..count)
                .map(|step| usize::from(grey.at((x + step).wrapping_sub(reach), y)))
                .sum();
            let mean = (sum + count / 2) / count;
            blurred.pixels[y * grey.width + x] = u8::try_from(mean).unwrap_or(255);
        }
    }
    blurred
}
