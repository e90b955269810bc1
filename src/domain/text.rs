//! Texts that people type or paste: kept as they are, shown so that nothing in them hides, and
//! compared as people compare names.
//!
//! Nothing here changes a stored text. [`visible`] is for the screen and for reports, [`folded`]
//! is for asking whether two names are the same.

/// The text with every control, bidirectional and zero-width character drawn as a mark that can
/// be seen: `␀` for NUL, `‹U+202E›` for an override of the reading direction.
///
/// Variation selectors stay, since they only choose how the character before them is drawn.
#[must_use]
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        match u32::from(character) {
            // U+2400 and following are the pictures of the control characters in their order.
            code @ 0..=0x1F => shown.extend(char::from_u32(0x2400 + code)),
            0x7F => shown.push('\u{2421}'),
            code if is_hidden(character) => shown.push_str(&format!("‹U+{code:04X}›")),
            _ => shown.push(character),
        }
    }
    shown
}

/// The text as names are compared: without characters that cannot be seen, in one case, with
/// each run of white space as one space and none at the ends.
///
/// Letters with accents are not brought to one Unicode normal form, so a name typed with a
/// combining accent differs from one typed with the accented letter.
#[must_use]
pub fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    let mut space_waits = false;
    for character in text.chars() {
        if character.is_whitespace() {
            space_waits = !folded.is_empty();
        } else if !is_hidden(character) && !is_variation_selector(character) {
            if space_waits {
                folded.push(' ');
                space_waits = false;
            }
            if character.is_ascii() {
                // The same, without the tables: an index of a large job folds a million of these.
                folded.push(character.to_ascii_lowercase());
            } else {
                folded.extend(one_case(character));
            }
        }
    }
    folded
}

/// One case for a character. Through the capitals and back, because only that way `ß`, `ẞ` and
/// `ss`, or the two small sigmas, come to the same.
fn one_case(character: char) -> impl Iterator<Item = char> {
    character
        .to_lowercase()
        .flat_map(char::to_uppercase)
        .flat_map(char::to_lowercase)
}

/// Whether the character draws nothing of its own: controls, marks of the reading direction,
/// zero-width characters, separators of lines, and letters that are blank.
///
/// Source: the Unicode property `Default_Ignorable_Code_Point` of Unicode 16 without the
/// variation selectors, and the controls, line separators and annotation marks.
#[must_use]
pub fn is_hidden(character: char) -> bool {
    if character.is_control() {
        return true;
    }
    let ignorable = matches!(
        u32::from(character),
        0xAD | 0x34F
            | 0x61C
            | 0x115F..=0x1160
            | 0x17B4..=0x17B5
            | 0x180E
            | 0x200B..=0x200F
            | 0x2028..=0x202E
            | 0x2060..=0x206F
            | 0x3164
            | 0xFEFF
            | 0xFFA0
            | 0xFFF0..=0xFFFB
            | 0x1_BCA0..=0x1_BCA3
            | 0x1_D173..=0x1_D17A
            | 0xE_0000..=0xE_0FFF
    );
    ignorable && !is_variation_selector(character)
}

/// Whether a character only chooses how the one before it is drawn.
#[must_use]
pub fn is_variation_selector(character: char) -> bool {
    matches!(
        u32::from(character),
        0x180B..=0x180D | 0x180F | 0xFE00..=0xFE0F | 0xE_0100..=0xE_01EF
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_hides_is_shown() {
        for (text, shown) in [
            ("Kitchen", "Kitchen"),
            ("Küche 2", "Küche 2"),
            ("a\0b", "a␀b"),
            ("two\nlines\t", "two␊lines␉"),
            ("del\u{7F}", "del␡"),
            ("next\u{85}line", "next‹U+0085›line"),
            ("\u{202E}tik", "‹U+202E›tik"),
            ("a\u{200D}b", "a‹U+200D›b"),
            ("\u{FEFF}bom", "‹U+FEFF›bom"),
            ("soft\u{AD}hyphen", "soft‹U+00AD›hyphen"),
            ("tag\u{E0041}", "tag‹U+E0041›"),
            ("tea ☕\u{FE0F}", "tea ☕\u{FE0F}"),
        ] {
            assert_eq!(visible(text), shown, "{text:?}");
        }
    }

    #[test]
    fn names_that_look_alike_compare_alike() {
        for (one, other) in [
            ("Kitchen", "kitchen"),
            ("  Pottery \t studio\n", "pottery studio"),
            ("\u{FEFF}Kitchen", "Kitchen"),
            ("Kit\u{200D}chen\0", "Kitchen"),
            ("\u{202E}Kitchen\u{202C}", "Kitchen"),
            ("Flat\u{A0}A", "flat a"),
            ("STRASSE", "Straße"),
            ("ΟΔΟΣ", "οδος"),
            ("tea ☕\u{FE0F}", "Tea ☕"),
        ] {
            assert_eq!(folded(one), folded(other), "{one:?} {other:?}");
        }
        assert_ne!(folded("Kitchen 1"), folded("Kitchen 2"));
        assert_ne!(folded("pot store"), folded("potstore"));
        assert_eq!(folded(" \u{200B}\u{FEFF}\n"), "");
    }

    #[test]
    fn every_character_folds_once_and_shows_nothing_hidden() {
        for character in '\0'..=char::MAX {
            let text = format!("a{character}b");
            let once = folded(&text);
            assert_eq!(folded(&once), once, "{text:?}");
            assert!(!visible(&text).chars().any(is_hidden), "{text:?}");
        }
    }
}
