//! From modules, each with how sure it is, to the text: description, codewords, blocks, correction.

use super::correct::Field;
use super::symbol::{Plan, format_bits, masked};
use super::text::text;
use crate::codes::check::{Verdict, verify};

/// How sure a reading must be. Each check codeword that was left over and agreed, and each error whose
/// value came out of the checks, makes a chance reading about 256 times less likely.
const PROOF: usize = 4;
/// The same where the text has the form of our tags and its check character is right.
const PROOF_OF_TAG: usize = 2;

/// Modules of a symbol as they were seen: below 0 dark, above light, near 0 unsure.
pub(super) struct Seen<'a> {
    pub(super) plan: &'a Plan,
    pub(super) tones: &'a [f32],
}

impl Seen<'_> {
    /// The text of the symbol, where it can be read beyond doubt.
    pub(super) fn text(&self, field: &Field) -> Option<String> {
        let mut likely: Vec<(f32, usize)> = (0..32)
            .map(|description| (self.fits(description), description))
            .collect();
        likely.sort_by(|one, other| other.0.total_cmp(&one.0));
        likely
            .iter()
            .take(2)
            .find_map(|(_, description)| self.described(*description, field))
    }

    /// How well a description agrees with both of its copies.
    fn fits(&self, description: usize) -> f32 {
        let bits = format_bits(description);
        let copies = self.plan.formats();
        let places = copies.iter().flat_map(|copy| copy.iter().enumerate());
        places
            .map(|(bit, at)| {
                if bits >> bit & 1 == 1 {
                    -self.tones[*at]
                } else {
                    self.tones[*at]
                }
            })
            .sum()
    }

    fn described(&self, description: usize, field: &Field) -> Option<String> {
        let (level, mask) = (description >> 3, description & 7);
        let (checks, blocks) = self.plan.blocks(level);
        let (words, sure) = self.words(mask);
        let each = words.len() / blocks;
        let longer = words.len() % blocks;
        // Blocks of data in turn, the longer ones last; then the checks in turn.
        let data = each - checks;
        let mut text_words = Vec::with_capacity(words.len());
        let mut proof = usize::MAX;
        for block in 0..blocks {
            let length = data + usize::from(block >= blocks - longer);
            let place = |at: usize| {
                if at < data {
                    at * blocks + block
                } else if at < length {
                    data * blocks + block - (blocks - longer)
                } else {
                    data * blocks + longer + (at - length) * blocks + block
                }
            };
            let places: Vec<usize> = (0..length + checks).map(place).collect();
            let mut mended: Vec<u8> = places.iter().map(|at| words[*at]).collect();
            let doubts: Vec<f32> = places.iter().map(|at| sure[*at]).collect();
            proof = proof.min(mend(field, &mut mended, &doubts, checks)?);
            text_words.extend_from_slice(&mended[..length]);
        }
        let text = text(&text_words, self.plan.version)?;
        (proof >= PROOF || is_tag(&text)).then_some(text)
    }

    /// The codewords as they lie, and how sure each is.
    fn words(&self, mask: usize) -> (Vec<u8>, Vec<f32>) {
        let size = self.plan.size;
        let chunks = self.plan.bits.chunks_exact(8);
        chunks
            .map(|places| {
                let mut word = 0;
                let mut sure = f32::MAX;
                for at in places {
                    let tone = self.tones[*at];
                    let dark = (tone < 0.0) != masked(mask, at % size, at / size);
                    word = word << 1 | u8::from(dark);
                    sure = sure.min(tone.abs());
                }
                (word, sure)
            })
            .unzip()
    }
}

/// Mends a block: as it is, else with more and more of its least sure codewords taken for unknown. Gives
/// how well the result is proved.
fn mend(field: &Field, block: &mut [u8], sure: &[f32], checks: usize) -> Option<usize> {
    let mut order: Vec<usize> = (0..block.len()).collect();
    order.sort_by(|one, other| sure[*one].total_cmp(&sure[*other]));
    let mut doubted = 0;
    while doubted + PROOF_OF_TAG <= checks {
        if let Some(mended) = field.mend(block, checks, &order[..doubted]) {
            let proof = mended.errors + mended.spare;
            if proof >= PROOF_OF_TAG {
                return Some(proof);
            }
        }
        doubted += 1;
    }
    None
}

/// Whether a text ends like those of our tags, with the check character that belongs to it.
fn is_tag(text: &str) -> bool {
    let mut parts = text.rsplit([' ', '/']);
    let (Some(group), Some(code)) = (parts.next(), parts.next()) else {
        return false;
    };
    let plain = |text: &str| {
        text.bytes().all(|byte| {
            byte.is_ascii_uppercase() || byte.is_ascii_digit() || b"-./".contains(&byte)
        })
    };
    group.len() == 8
        && !code.is_empty()
        && plain(code)
        && plain(group)
        && verify(&format!("{code}{group}")) == Ok(Verdict::Right)
}
