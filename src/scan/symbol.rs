//! The plan of a symbol (ISO/IEC 18004): which modules are fixed, where the codewords lie, and how they
//! are woven into blocks.

/// Check codewords of a block, by level L, M, Q, H and version.
const CHECKS: [[u8; 40]; 4] = [
    [
        7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30,
        30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30,
    ],
    [
        10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26, 26, 28, 28,
        28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28,
    ],
    [
        13, 22, 18, 26, 18, 24, 18, 22, 20, 24, 28, 26, 24, 20, 30, 24, 28, 28, 26, 30, 28, 30, 30,
        30, 30, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30,
    ],
    [
        17, 28, 22, 16, 22, 28, 26, 26, 24, 28, 24, 28, 22, 24, 24, 30, 28, 28, 26, 28, 30, 24, 30,
        30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30,
    ],
];

/// Blocks, by level and version.
const BLOCKS: [[u8; 40]; 4] = [
    [
        1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13,
        14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25,
    ],
    [
        1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16, 17, 17, 18, 20, 21, 23,
        25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49,
    ],
    [
        1, 1, 2, 2, 4, 4, 6, 6, 8, 8, 8, 10, 12, 16, 12, 17, 16, 18, 21, 20, 23, 23, 25, 27, 29,
        34, 34, 35, 38, 40, 43, 45, 48, 51, 53, 56, 59, 62, 65, 68,
    ],
    [
        1, 1, 2, 4, 4, 4, 5, 6, 8, 8, 11, 11, 16, 16, 18, 16, 19, 21, 25, 25, 25, 34, 30, 32, 35,
        37, 40, 42, 45, 48, 51, 54, 57, 60, 63, 66, 70, 74, 77, 81,
    ],
];

/// A module that every symbol of its size has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fixed {
    Dark,
    Light,
    /// Part of the symbol's own description, or a datum.
    Open,
}

/// A symbol's size and what follows from it.
pub(super) struct Plan {
    pub(super) version: usize,
    pub(super) size: usize,
    /// Which modules hold no data, row by row.
    reserved: Vec<bool>,
    fixed: Vec<Fixed>,
    /// Where the bits of data lie, in their order.
    pub(super) bits: Vec<usize>,
}

/// The rows and columns of alignment patterns.
fn alignments(version: usize) -> Vec<usize> {
    if version < 2 {
        return Vec::new();
    }
    let count = version / 7 + 2;
    let step = (version * 8 + count * 3 + 5) / (count * 4 - 4) * 2;
    let size = 17 + 4 * version;
    let mut places: Vec<usize> = (0..count - 1).map(|at| size - 7 - at * step).collect();
    places.push(6);
    places
}

impl Plan {
    /// The plan of a version from 1 to 40.
    pub(super) fn of(version: usize) -> Self {
        let size = 17 + 4 * version;
        let mut plan = Self {
            version,
            size,
            reserved: vec![false; size * size],
            fixed: vec![Fixed::Open; size * size],
            bits: Vec::new(),
        };
        for at in 0..size {
            plan.fix(at, 6, at % 2 == 0);
            plan.fix(6, at, at % 2 == 0);
        }
        for (x, y) in [(3, 3), (size - 4, 3), (3, size - 4)] {
            plan.rings(x, y, 4, &[false, true, false, true]);
        }
        let places = alignments(version);
        for (row, y) in places.iter().enumerate() {
            for (column, x) in places.iter().enumerate() {
                // The last of the list is at 6; three of them would lie on finder patterns.
                let last = places.len() - 1;
                let on_finder = (row == last && (column == last || column == 0))
                    || (row == 0 && column == last);
                if !on_finder {
                    plan.rings(*x, *y, 2, &[true, false]);
                }
            }
        }
        for (x, y) in FORMAT.iter().chain(&format_again(size)) {
            plan.reserved[y * size + x] = true;
        }
        plan.fix(8, size - 8, true);
        if version > 6 {
            for at in 0..18 {
                let (along, across) = (at / 3, size - 11 + at % 3);
                plan.reserved[along * size + across] = true;
                plan.reserved[across * size + along] = true;
            }
        }
        plan.weave();
        plan
    }

    /// Squares round a middle, from the outermost ring inwards; what is further in is dark.
    fn rings(&mut self, x: usize, y: usize, reach: usize, tones: &[bool]) {
        for row in (y + self.size - reach)..=(y + self.size + reach) {
            for column in (x + self.size - reach)..=(x + self.size + reach) {
                let inside = |at: usize| (self.size..2 * self.size).contains(&at);
                if inside(row) && inside(column) {
                    let (row, column) = (row - self.size, column - self.size);
                    let ring = reach - row.abs_diff(y).max(column.abs_diff(x));
                    self.fix(column, row, ring >= tones.len() || tones[ring]);
                }
            }
        }
    }

    fn fix(&mut self, x: usize, y: usize, dark: bool) {
        let at = y * self.size + x;
        self.reserved[at] = true;
        self.fixed[at] = if dark { Fixed::Dark } else { Fixed::Light };
    }

    /// Pairs of columns from the right, up and down in turn.
    fn weave(&mut self) {
        let mut right = self.size - 1;
        let mut up = true;
        loop {
            for step in 0..self.size {
                let y = if up { self.size - 1 - step } else { step };
                for x in [right, right - 1] {
                    if !self.reserved[y * self.size + x] {
                        self.bits.push(y * self.size + x);
                    }
                }
            }
            up = !up;
            // The column of the vertical timing pattern is stepped over.
            right = match right {
                8 => 5,
                1 => break,
                _ => right - 2,
            };
        }
    }

    /// What a module is in every symbol of this size. Beside the symbol all is light.
    pub(super) fn fixed(&self, x: i32, y: i32) -> Fixed {
        let side = self.size as i32;
        if x < 0 || y < 0 || x >= side || y >= side {
            return Fixed::Light;
        }
        self.fixed[y as usize * self.size + x as usize]
    }

    /// The middles of the alignment patterns but the last, which is nearest to the corner without a finder.
    pub(super) fn inner_alignments(&self) -> Vec<(i32, i32)> {
        let places = alignments(self.version);
        let last = places.len().saturating_sub(1);
        let mut found = Vec::new();
        for (row, y) in places.iter().enumerate() {
            for (column, x) in places.iter().enumerate() {
                let known = (column == last || column == 0) && (row == last || row == 0);
                if !known {
                    found.push((*x as i32, *y as i32));
                }
            }
        }
        found
    }

    /// The two copies of the symbol's description, each bit where it lies, the lowest first.
    pub(super) fn formats(&self) -> [[usize; 15]; 2] {
        [FORMAT, format_again(self.size)].map(|places| places.map(|(x, y)| y * self.size + x))
    }

    /// Check codewords of a block, and how many blocks there are, at the level with these two bits.
    pub(super) fn blocks(&self, level: usize) -> (usize, usize) {
        // L is 01, M 00, Q 11, H 10.
        let row = [1, 0, 3, 2][level & 3];
        let at = self.version - 1;
        (usize::from(CHECKS[row][at]), usize::from(BLOCKS[row][at]))
    }
}

/// Where the first copy of the description lies.
const FORMAT: [(usize, usize); 15] = [
    (8, 0),
    (8, 1),
    (8, 2),
    (8, 3),
    (8, 4),
    (8, 5),
    (8, 7),
    (8, 8),
    (7, 8),
    (5, 8),
    (4, 8),
    (3, 8),
    (2, 8),
    (1, 8),
    (0, 8),
];

fn format_again(size: usize) -> [(usize, usize); 15] {
    std::array::from_fn(|bit| {
        if bit < 8 {
            (size - 1 - bit, 8)
        } else {
            (8, size - 15 + bit)
        }
    })
}

/// The fifteen bits of a description: two of the level, three of the mask, ten of checks.
pub(super) fn format_bits(description: usize) -> usize {
    let mut rest = description;
    for _ in 0..10 {
        rest = (rest << 1) ^ ((rest >> 9) * 0x537);
    }
    (description << 10 | rest) ^ 0x5412
}

/// Whether a mask turns a module round.
pub(super) fn masked(mask: usize, x: usize, y: usize) -> bool {
    let rest = match mask {
        0 => (x + y) % 2,
        1 => y % 2,
        2 => x % 3,
        3 => (x + y) % 3,
        4 => (x / 3 + y / 2) % 2,
        5 => x * y % 2 + x * y % 3,
        6 => (x * y % 2 + x * y % 3) % 2,
        _ => ((x + y) % 2 + x * y % 3) % 2,
    };
    rest == 0
}

#[cfg(test)]
mod tests {
    use super::format_bits;

    #[test]
    fn format_information_of_1_m_with_mask_010() {
        // ISO/IEC 18004, from memory and computed: 101111001111100.
        assert_eq!(format_bits(2), 0b101_1110_0111_1100);
    }
}
