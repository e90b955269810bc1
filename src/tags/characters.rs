//! The characters that a label can show: those of the typefaces of every paper, which are the ones of
//! `WinAnsiEncoding` (ISO 32000-1, annex D).

/// The characters of `WinAnsiEncoding` between 128 and 159, where it is not Latin-1.
const HIGH: [char; 32] = [
    '€', '\0', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\0', 'Ž', '\0', '\0', '‘',
    '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\0', 'ž', 'Ÿ',
];

/// The code of a character; none where the typefaces have none.
#[must_use]
pub fn code_of(character: char) -> Option<u8> {
    match character {
        ' '..='~' | '\u{A1}'..='\u{AC}' | '\u{AE}'..='\u{FF}' => {
            u8::try_from(u32::from(character)).ok()
        }
        '\u{A0}' => Some(b' '),
        // Feet and inches, as the app itself writes them.
        '′' => Some(b'\''),
        '″' => Some(b'"'),
        // The hyphen that does not break, and the soft one.
        '\u{2011}' | '\u{AD}' => Some(b'-'),
        '\0' => None,
        _ => {
            let at = HIGH.iter().position(|known| *known == character)?;
            u8::try_from(at + 128).ok()
        }
    }
}

/// The first character of a text that the typefaces lack.
#[must_use]
pub fn lacking(text: &str) -> Option<char> {
    text.chars().find(|character| code_of(*character).is_none())
}
