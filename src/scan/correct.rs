//! Errors and erasures of a block of codewords, corrected by its Reed-Solomon code (ISO/IEC 18004):
//! bytes over GF(256) with the polynomial 0x11D, whose generator begins at the zeroth power.

/// Powers and logarithms of the field.
pub(super) struct Field {
    powers: [u8; 512],
    logs: [u8; 256],
}

/// How a block was mended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Mended {
    /// Codewords that were wrong although nobody doubted them.
    pub(super) errors: usize,
    /// Check codewords that were left over, and agreed.
    pub(super) spare: usize,
}

impl Field {
    pub(super) fn new() -> Self {
        let (mut powers, mut logs) = ([0; 512], [0; 256]);
        let mut value: usize = 1;
        for power in 0..255_u8 {
            powers[usize::from(power)] = value as u8;
            powers[usize::from(power) + 255] = value as u8;
            logs[value] = power;
            value <<= 1;
            if value > 255 {
                value ^= 0x11D;
            }
        }
        Self { powers, logs }
    }

    fn times(&self, one: u8, other: u8) -> u8 {
        if one == 0 || other == 0 {
            return 0;
        }
        let sum =
            usize::from(self.logs[usize::from(one)]) + usize::from(self.logs[usize::from(other)]);
        self.powers[sum]
    }

    fn inverse(&self, value: u8) -> u8 {
        self.powers[255 - usize::from(self.logs[usize::from(value)])]
    }

    fn power(&self, exponent: usize) -> u8 {
        self.powers[exponent % 255]
    }

    /// The value of a polynomial, lowest coefficient first.
    fn value(&self, polynomial: &[u8], at: u8) -> u8 {
        polynomial
            .iter()
            .rev()
            .fold(0, |sum, factor| self.times(sum, at) ^ factor)
    }

    fn product(&self, one: &[u8], other: &[u8], most: usize) -> Vec<u8> {
        let mut product = vec![0; (one.len() + other.len() - 1).min(most)];
        for (at, factor) in one.iter().enumerate() {
            for (by, with) in other.iter().enumerate() {
                if let Some(sum) = product.get_mut(at + by) {
                    *sum ^= self.times(*factor, *with);
                }
            }
        }
        product
    }

    /// Corrects a block whose last `checks` codewords are checks, with those at `doubted` taken for
    /// unknown. None where it cannot be done; the block is then as it was.
    pub(super) fn mend(
        &self,
        block: &mut [u8],
        checks: usize,
        doubted: &[usize],
    ) -> Option<Mended> {
        let length = block.len();
        if doubted.len() > checks || checks >= length || length > 255 {
            return None;
        }
        let spare = |errors: usize| checks.checked_sub(doubted.len() + 2 * errors);
        let syndromes: Vec<u8> = (0..checks)
            .map(|at| {
                let root = self.power(at);
                block
                    .iter()
                    .fold(0, |sum, word| self.times(sum, root) ^ word)
            })
            .collect();
        if syndromes.iter().all(|syndrome| *syndrome == 0) {
            return Some(Mended {
                errors: 0,
                spare: checks - doubted.len(),
            });
        }
        let place = |at: usize| self.power(length - 1 - at);
        let doubts = doubted.iter().fold(vec![1], |product, at| {
            self.product(&product, &[1, place(*at)], checks + 1)
        });
        let locator = self.locator(&syndromes, &doubts, doubted.len())?;
        let roots: Vec<usize> = (0..length)
            .filter(|at| self.value(&locator, self.inverse(place(*at))) == 0)
            .collect();
        let degree = locator.iter().rposition(|factor| *factor != 0)?;
        if roots.len() != degree {
            return None;
        }
        let errors = roots.iter().filter(|at| !doubted.contains(at)).count();
        let spare = spare(errors)?;
        let evaluator = self.product(&syndromes, &locator, checks);
        let changes: Option<Vec<u8>> = roots
            .iter()
            .map(|at| {
                let point = self.inverse(place(*at));
                // The formal derivative has the odd coefficients alone.
                let odd: Vec<u8> = locator
                    .iter()
                    .enumerate()
                    .skip(1)
                    .map(|(at, factor)| if at % 2 == 1 { *factor } else { 0 })
                    .collect();
                let slope = self.value(&odd, point);
                if slope == 0 {
                    return None;
                }
                let above = self.value(&evaluator, point);
                Some(self.times(self.times(above, self.inverse(slope)), place(*at)))
            })
            .collect();
        for (at, change) in roots.iter().zip(changes?) {
            block[*at] ^= change;
        }
        Some(Mended { errors, spare })
    }

    /// The polynomial whose roots are the places of errors and doubts (Berlekamp and Massey, begun
    /// with the doubts).
    fn locator(&self, syndromes: &[u8], doubts: &[u8], count: usize) -> Option<Vec<u8>> {
        let checks = syndromes.len();
        let mut locator = doubts.to_vec();
        let mut before = doubts.to_vec();
        let mut length = count;
        for step in count..checks {
            before.insert(0, 0);
            let discrepancy = locator
                .iter()
                .take(step + 1)
                .enumerate()
                .fold(0, |sum, (at, factor)| {
                    sum ^ self.times(*factor, syndromes[step - at])
                });
            if discrepancy == 0 {
                continue;
            }
            let mut next = locator.clone();
            next.resize(next.len().max(before.len()), 0);
            for (sum, factor) in next.iter_mut().zip(&before) {
                *sum ^= self.times(*factor, discrepancy);
            }
            if 2 * length <= step + count {
                length = step + 1 + count - length;
                let inverse = self.inverse(discrepancy);
                before = locator
                    .iter()
                    .map(|factor| self.times(*factor, inverse))
                    .collect();
            }
            locator = next;
        }
        let degree = locator.iter().rposition(|factor| *factor != 0)?;
        locator.truncate(degree + 1);
        (2 * length.saturating_sub(count) + count <= checks).then_some(locator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 18004:2006, Annex I.2: 16 codewords of data, then 10 of error correction.
    const ANNEX: [u8; 26] = [
        0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC,
        0x11, 0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55,
    ];

    #[test]
    fn a_whole_block_stays() {
        let mut block = ANNEX;
        let mended = Field::new().mend(&mut block, 10, &[]);
        assert_eq!(
            mended,
            Some(Mended {
                errors: 0,
                spare: 10
            })
        );
        assert_eq!(block, ANNEX);
    }

    #[test]
    fn every_mix_of_errors_and_doubts_that_the_checks_bear_is_mended() {
        let field = Field::new();
        for errors in 0..=5_usize {
            for doubts in 0..=10 - 2 * errors {
                for start in 0..26 {
                    let mut block = ANNEX;
                    let at = |step: usize| (start + 7 * step) % 26;
                    for step in 0..errors + doubts {
                        block[at(step)] ^= 0x5A + step as u8;
                    }
                    let doubted: Vec<usize> = (errors..errors + doubts).map(at).collect();
                    let mended = field.mend(&mut block, 10, &doubted);
                    let spare = 10 - doubts - 2 * errors;
                    assert_eq!(
                        mended,
                        Some(Mended { errors, spare }),
                        "{errors} {doubts} {start}"
                    );
                    assert_eq!(block, ANNEX);
                }
            }
        }
    }

    #[test]
    fn what_is_too_much_is_refused_and_left() {
        let mut block = ANNEX;
        for at in 0..6 {
            block[at * 3] ^= 0x31;
        }
        let spoilt = block;
        assert_eq!(Field::new().mend(&mut block, 10, &[]), None);
        assert_eq!(block, spoilt);
    }
}
