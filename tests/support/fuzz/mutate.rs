//! Changing bytes by a seed.

use super::LONGEST;

/// Random numbers from a seed: `SplitMix64` (Steele, Lea, Flood 2014), its constants from memory.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number below; 0 where there is none.
    fn below(&mut self, end: usize) -> usize {
        (self.next() % (end.max(1) as u64)) as usize
    }

    /// A number below that is mostly small.
    fn few(&mut self, end: usize) -> usize {
        let most = 1_usize << self.below(12);
        self.below(end.min(most))
    }

    fn of<'a, T: ?Sized>(&mut self, things: &[&'a T]) -> &'a T {
        things[self.below(things.len())]
    }
}

/// Numbers at which widths end, and what looks like one.
const NUMBERS: [&str; 16] = [
    "0",
    "-0",
    "-1",
    "1.5",
    "1e999",
    "255",
    "256",
    "65535",
    "65536",
    "2147483647",
    "-2147483648",
    "4294967295",
    "4294967296",
    "9007199254740991",
    "9007199254740992",
    "18446744073709551616",
];

/// Parts that mean something to one reader or another.
const WORDS: [&str; 44] = [
    "\n",
    "\r",
    "\r\n",
    "\u{feff}",
    "\0",
    "\"",
    "\\",
    "\\u0000",
    "\\ud800",
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    ";",
    "\t",
    "=",
    "+",
    "'",
    "null",
    "true",
    "\"kept\":",
    "\"end\":\"bothends-job\"",
    "\"format\":\"bothends-job\"",
    "{\"picture\":",
    "\"strikes\":[",
    "\"replaces\":[",
    "\"facts\":[",
    "91JPRV3F91JPRV3F-1-4",
    "sep=;",
    "Floor",
    "KIT2-C",
    "1A/2A-1",
    "B07",
    "HTTPS://",
    "BOTHENDS1:",
    "bothends-known 1 ",
    "\u{1d}",
    "\u{1e}",
    "\u{1f}",
    "é",
    "\u{202e}",
    "\u{1f373}",
];

/// A file of the corpus, changed a few times.
pub(crate) fn mutated(corpus: &[Vec<u8>], seed: u64) -> Vec<u8> {
    let mut dice = Dice(seed);
    let whole = dice.below(corpus.len());
    let mut bytes = corpus.get(whole).cloned().unwrap_or_default();
    for _ in 0..=dice.few(16) {
        change(&mut bytes, corpus, &mut dice);
    }
    bytes.truncate(LONGEST);
    bytes
}

fn change(bytes: &mut Vec<u8>, corpus: &[Vec<u8>], dice: &mut Dice) {
    let at = dice.below(bytes.len() + 1);
    let end = at + dice.few(bytes.len() + 1 - at);
    match dice.below(16) {
        0 | 1 => flip(bytes, dice),
        2 => insert(
            bytes,
            at,
            &dice.next().to_le_bytes()[..end.min(at + 8) - at],
        ),
        3 => drop(bytes.drain(at..end)),
        4 => {
            let copy = bytes[at..end].to_vec();
            insert(bytes, dice.below(bytes.len() + 1), &copy);
        }
        5 => bytes.truncate(at),
        6 | 7 => number(bytes, at, dice),
        8 | 9 => insert(bytes, at, dice.of(&WORDS).as_bytes()),
        10 => {
            let word = dice.of(&WORDS).as_bytes().to_vec();
            bytes.splice(at..end, word);
        }
        11 => {
            // The head of one file and the tail of another.
            let other = &corpus[dice.below(corpus.len())];
            let from = dice.below(other.len() + 1);
            bytes.truncate(at);
            bytes.extend(&other[from..]);
        }
        12 => {
            let other = &corpus[dice.below(corpus.len())];
            let from = dice.below(other.len() + 1);
            let to = from + dice.few(other.len() + 1 - from);
            insert(bytes, at, &other[from..to]);
        }
        13 | 14 => lines(bytes, dice),
        _ => repeated(bytes, at, end, dice),
    }
}

fn insert(bytes: &mut Vec<u8>, at: usize, more: &[u8]) {
    bytes.splice(at..at, more.iter().copied());
}

fn flip(bytes: &mut [u8], dice: &mut Dice) {
    let at = dice.below(bytes.len());
    if let Some(byte) = bytes.get_mut(at) {
        *byte ^= 1 << dice.below(8);
    }
}

/// Puts another number in the place of the next one.
fn number(bytes: &mut Vec<u8>, from: usize, dice: &mut Dice) {
    let digits = |byte: &u8| byte.is_ascii_digit();
    let Some(at) = bytes[from..].iter().position(digits) else {
        return;
    };
    let at = from + at;
    let length = bytes[at..].iter().take_while(|byte| digits(byte)).count();
    let number = dice.of(&NUMBERS).bytes();
    bytes.splice(at..at + length, number);
}

/// Puts a line where another is, or one more of it.
fn lines(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let mut lines: Vec<Vec<u8>> = bytes
        .split_inclusive(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    let (one, other) = (dice.below(lines.len()), dice.below(lines.len()));
    if lines.is_empty() {
        return;
    }
    match dice.below(3) {
        0 => lines.swap(one, other),
        1 => lines.insert(one, lines[other].clone()),
        _ => drop(lines.remove(one)),
    }
    *bytes = lines.concat();
}

/// The same part again and again: a long line, many lines, or brackets within brackets.
fn repeated(bytes: &mut Vec<u8>, at: usize, end: usize, dice: &mut Dice) {
    let part = match dice.below(4) {
        0 => dice
            .of(&["[", "{\"a\":", "(", "\"", "[[{\"k\":", "/"])
            .as_bytes()
            .to_vec(),
        _ => bytes[at..end].to_vec(),
    };
    // Most stay short, so that many are tried.
    let most = 1 << (8 + dice.below(4) * dice.below(5));
    let times = dice.below(most / part.len().max(1) + 2);
    insert(bytes, at, &part.repeat(times));
}
