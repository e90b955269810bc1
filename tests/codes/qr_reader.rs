//! A reader of QR codes of versions 1 and 2, written from ISO/IEC 18004 for the tests alone: a
//! second way to say what stands in a matrix. It expects an undamaged symbol.

/// The 45 characters of the alphanumeric mode by value (ISO/IEC 18004, the values from memory).
pub(crate) const ALPHANUMERIC: &str = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// What the format information says, with its mask (101010000010010) taken off.
pub(crate) struct Format {
    /// 01 is L, 00 is M, 11 is Q, 10 is H.
    pub(crate) level: u16,
    pub(crate) mask: u16,
}

/// The fifteen bits of format information beside the top left finder, highest first.
pub(crate) fn format_bits(dark: &impl Fn(usize, usize) -> bool) -> u16 {
    let along: [(usize, usize); 15] = [
        (0, 8),
        (1, 8),
        (2, 8),
        (3, 8),
        (4, 8),
        (5, 8),
        (7, 8),
        (8, 8),
        (8, 7),
        (8, 5),
        (8, 4),
        (8, 3),
        (8, 2),
        (8, 1),
        (8, 0),
    ];
    along
        .iter()
        .fold(0, |bits, (x, y)| (bits << 1) | u16::from(dark(*x, *y)))
}

pub(crate) fn format(dark: &impl Fn(usize, usize) -> bool) -> Format {
    let plain = format_bits(dark) ^ 0b101_0100_0001_0010;
    Format {
        level: plain >> 13,
        mask: (plain >> 10) & 7,
    }
}

/// All codewords in their order, data first (one block, as in versions 1 and 2 at every level).
pub(crate) fn codewords(size: usize, dark: &impl Fn(usize, usize) -> bool) -> Vec<u8> {
    let mask = format(dark).mask;
    let bits: Vec<u8> = path(size)
        .into_iter()
        .filter(|(x, y)| !is_function(size, *x, *y))
        .map(|(x, y)| u8::from(dark(x, y) != is_masked(mask, x, y)))
        .collect();
    bits.chunks_exact(8)
        .map(|byte| byte.iter().fold(0, |sum, bit| (sum << 1) | bit))
        .collect()
}

/// The text of an alphanumeric symbol of versions 1 to 9.
pub(crate) fn alphanumeric_text(codewords: &[u8]) -> String {
    let bits: Vec<u8> = codewords
        .iter()
        .flat_map(|byte| (0..8).rev().map(move |place| (byte >> place) & 1))
        .collect();
    let number = |from: usize, length: usize| {
        bits[from..from + length]
            .iter()
            .fold(0_usize, |sum, bit| (sum << 1) | usize::from(*bit))
    };
    assert_eq!(number(0, 4), 0b0010, "mode indicator of alphanumeric");
    let count = number(4, 9);
    let character = |value: usize| char::from(ALPHANUMERIC.as_bytes()[value]);
    let mut text = String::new();
    for pair in 0..count / 2 {
        let value = number(13 + 11 * pair, 11);
        text.push(character(value / 45));
        text.push(character(value % 45));
    }
    if count % 2 == 1 {
        text.push(character(number(13 + 11 * (count / 2), 6)));
    }
    text
}

/// The zigzag in columns of two from the bottom right, leaving out the vertical timing pattern.
fn path(size: usize) -> Vec<(usize, usize)> {
    let mut path = Vec::new();
    let columns = (0..size).rev().filter(|x| *x != 6).collect::<Vec<_>>();
    for (turn, pair) in columns.chunks(2).enumerate() {
        for step in 0..size {
            let y = if turn % 2 == 0 { size - 1 - step } else { step };
            path.extend(pair.iter().map(|x| (*x, y)));
        }
    }
    path
}

fn is_function(size: usize, x: usize, y: usize) -> bool {
    let near = |place: usize| place < 9;
    let far = |place: usize| place >= size - 8;
    let finder = (near(y) && (near(x) || far(x))) || (near(x) && far(y));
    // The one alignment pattern of version 2 has its middle seven modules from the far sides.
    let near_middle = |place: usize| (size - 9..=size - 5).contains(&place);
    let alignment = size == 25 && near_middle(x) && near_middle(y);
    finder || alignment || x == 6 || y == 6
}

fn is_masked(mask: u16, x: usize, y: usize) -> bool {
    let value = match mask {
        0 => (x + y) % 2,
        1 => y % 2,
        2 => x % 3,
        3 => (x + y) % 3,
        4 => (x / 3 + y / 2) % 2,
        5 => x * y % 2 + x * y % 3,
        6 => (x * y % 2 + x * y % 3) % 2,
        _ => ((x + y) % 2 + x * y % 3) % 2,
    };
    value == 0
}
