//! Numbers by chance that are the same for the same seed.

/// A stream of numbers, by the splitmix64 step of Steele, Lea and Flood (2014).
pub(super) struct Chance {
    state: u64,
}

impl Chance {
    /// The stream of one photograph.
    pub(super) fn of(seed: u64, kind: u64, step: u64) -> Self {
        let mut chance = Self {
            state: seed.wrapping_mul(1_000_003) ^ (kind << 40) ^ (step << 50),
        };
        chance.next();
        chance
    }

    pub(super) fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mixed(self.state)
    }

    /// From 0 to below 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.unit()
    }

    pub(super) fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % most as u64).expect("small")
    }

    /// About normal with standard deviation 1: the sum of four even draws.
    pub(super) fn normal(&mut self) -> f64 {
        let bits = self.next();
        let sum: u64 = (0..4).map(|part| (bits >> (16 * part)) & 0xFFFF).sum();
        (sum as f64 / 65_535.0 - 2.0) * 3_f64.sqrt()
    }

    pub(super) fn bytes(&mut self) -> [u8; 10] {
        let (one, other) = (self.next().to_le_bytes(), self.next().to_le_bytes());
        std::array::from_fn(|at| if at < 8 { one[at] } else { other[at - 8] })
    }
}

/// A number by chance for a place, the same each time.
pub(super) fn mixed(place: u64) -> u64 {
    let mut mixed = place;
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    mixed ^ (mixed >> 31)
}
