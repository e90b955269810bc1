//! The text in the codewords of data (ISO/IEC 18004): digits, capitals and bytes. All else is refused,
//! since no tag has it.

/// The characters of the alphanumeric mode, each at its value.
const CAPITALS: &[u8; 45] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// Bits one after the other.
struct Bits<'a> {
    words: &'a [u8],
    at: usize,
}

impl Bits<'_> {
    fn left(&self) -> usize {
        self.words.len() * 8 - self.at
    }

    fn take(&mut self, count: usize) -> Option<usize> {
        if count > self.left() {
            return None;
        }
        let mut value = 0;
        for _ in 0..count {
            let bit = self.words[self.at / 8] >> (7 - self.at % 8) & 1;
            value = value << 1 | usize::from(bit);
            self.at += 1;
        }
        Some(value)
    }
}

/// The text; none where a mode is unknown, a value impossible, or the end comes too early.
pub(super) fn text(words: &[u8], version: usize) -> Option<String> {
    let mut bits = Bits { words, at: 0 };
    let mut bytes = Vec::new();
    let class = usize::from(version > 9) + usize::from(version > 26);
    while bits.left() >= 4 {
        match bits.take(4)? {
            0 => break,
            1 => digits(&mut bits, [10, 12, 14][class], &mut bytes)?,
            2 => capitals(&mut bits, [9, 11, 13][class], &mut bytes)?,
            4 => {
                let count = bits.take([8, 16, 16][class])?;
                for _ in 0..count {
                    bytes.push(bits.take(8)? as u8);
                }
            }
            _ => return None,
        }
    }
    // Without a word on it the standard means Latin-1; phones write UTF-8.
    Some(match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(other) => other
            .as_bytes()
            .iter()
            .map(|byte| char::from(*byte))
            .collect(),
    })
}

fn digits(bits: &mut Bits, width: usize, bytes: &mut Vec<u8>) -> Option<()> {
    let mut count = bits.take(width)?;
    while count > 0 {
        let many = count.min(3);
        let value = bits.take([0, 4, 7, 10][many])?;
        let mut unit = [1, 1, 10, 100][many];
        if value >= unit * 10 {
            return None;
        }
        for _ in 0..many {
            bytes.push(b'0' + (value / unit % 10) as u8);
            unit = (unit / 10).max(1);
        }
        count -= many;
    }
    Some(())
}

fn capitals(bits: &mut Bits, width: usize, bytes: &mut Vec<u8>) -> Option<()> {
    let mut count = bits.take(width)?;
    while count > 1 {
        let value = bits.take(11)?;
        bytes.push(*CAPITALS.get(value / 45)?);
        bytes.push(CAPITALS[value % 45]);
        count -= 2;
    }
    if count == 1 {
        bytes.push(*CAPITALS.get(bits.take(6)?)?);
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::text;

    #[test]
    fn annex_i_2_is_its_digits() {
        // ISO/IEC 18004:2006, Annex I.2.
        let words = [0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC];
        assert_eq!(text(&words, 1).as_deref(), Some("01234567"));
    }

    #[test]
    fn bytes_are_read_as_they_are_written() {
        // Mode 0100, 2 bytes: Z with dot above in UTF-8; then C4 alone, which is Latin-1.
        assert_eq!(
            text(&[0x40, 0x2C, 0x5B, 0xB0], 1).as_deref(),
            Some("\u{17b}")
        );
        assert_eq!(text(&[0x40, 0x1C, 0x40], 1).as_deref(), Some("\u{c4}"));
    }

    #[test]
    fn what_is_odd_is_refused() {
        // Kanji, an ECI, structured append, a length beyond the end, digits above 999.
        for words in [
            [0x80, 0x10, 0],
            [0x71, 0xA0, 0],
            [0x30, 0, 0],
            [0x4F, 0xF0, 0],
            [0x10, 0x0F, 0xFF],
        ] {
            assert_eq!(text(&words, 1), None, "{words:x?}");
        }
    }
}
