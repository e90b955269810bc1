//! The characters of a typed text, each with what it may stand for.

/// What is typed in one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Glyph {
    /// A letter or digit of ASCII, in the case it was typed.
    Character(char),
    /// One separator or several.
    Gap,
}

/// What a small `l` is. Among capitals it is more often a capital I that somebody's keyboard or
/// eye made an l, and so both are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SmallL {
    IsL,
    IsI,
}

/// A character read for its place, and how many look-alikes that took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Read {
    pub(super) character: char,
    pub(super) slips: u8,
}

/// No code is longer; a text that is cannot be one.
const LONGEST: usize = 40;

/// The characters of a text; none when it has some that stand in no code, or too many.
pub(super) fn glyphs(text: &str) -> Option<Vec<Glyph>> {
    let mut glyphs = Vec::new();
    for character in text.chars() {
        let glyph = match character {
            c if c.is_ascii_alphanumeric() => Glyph::Character(c),
            c if is_gap(c) => Glyph::Gap,
            _ => return None,
        };
        if glyph != Glyph::Gap || glyphs.last() != Some(&Glyph::Gap) {
            glyphs.push(glyph);
        }
        if glyphs.len() > LONGEST {
            return None;
        }
    }
    Some(glyphs)
}

/// Letters of other scripts that look like those of codes, each before the Latin one. Of the small ones only
/// those that look like the letter that their capital is taken for. Source: the table of confusable
/// characters of UTS #39, from memory.
const LOOK_ALIKES: &str = "АAВBЕEНHІIЈJКKМMОOРPСCЅSТTУYҮYХXаaвbеeнhіiјjкkмmоoрpсcѕsтtуyүyхx\
                           ΑAΒBΕEΖZΗHΙIΚKΜMΝNΟOΡPΤTΥYΧXαaβbεeιiκkοoρpτtχx";

/// The ASCII character for one that a keyboard of another script types in its place: a full-width one, a
/// digit of another script, a letter that looks the same. Any other character as it is.
pub fn latin(character: char) -> char {
    if character.is_ascii() {
        return character;
    }
    let moved = match u32::from(character) {
        code @ 0xFF01..=0xFF5E => Some(code - 0xFEE0),
        code @ 0x660..=0x669 => Some(code - 0x630),
        code @ 0x6F0..=0x6F9 => Some(code - 0x6C0),
        _ => None,
    };
    let mut pairs = LOOK_ALIKES.chars();
    let like = || pairs.find(|one| *one == character).and(pairs.next());
    moved
        .and_then(char::from_u32)
        .or_else(like)
        .unwrap_or(character)
}

/// Whether a character may stand between the parts of a code.
pub fn is_gap(character: char) -> bool {
    // Besides what the printed forms use: what a keyboard makes of a dash, and lists.
    character.is_whitespace()
        || "-/.:_,;\\".contains(character)
        || matches!(character, '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{B7}')
}

/// The ways to read the small l in a text, the likelier first.
pub(super) fn spellings(glyphs: &[Glyph]) -> &'static [SmallL] {
    let letters = || {
        glyphs.iter().filter_map(|glyph| match glyph {
            Glyph::Character(c) if c.is_ascii_alphabetic() => Some(*c),
            Glyph::Character(_) | Glyph::Gap => None,
        })
    };
    let mut others = letters().filter(|c| *c != 'l').peekable();
    let is_among_capitals = letters().any(|c| c == 'l')
        && others.peek().is_some()
        && others.all(|c| c.is_ascii_uppercase());
    if is_among_capitals {
        &[SmallL::IsI, SmallL::IsL]
    } else {
        &[SmallL::IsL]
    }
}

/// A character in the place of a letter.
pub(super) fn as_letter(character: char, small_l: SmallL) -> Option<Read> {
    let as_it_stands = |character| {
        Some(Read {
            character,
            slips: 0,
        })
    };
    match character {
        'l' if small_l == SmallL::IsI => as_it_stands('I'),
        c if c.is_ascii_alphabetic() => as_it_stands(c.to_ascii_uppercase()),
        '0' => Some(Read {
            character: 'O',
            slips: 1,
        }),
        '1' => Some(Read {
            character: 'I',
            slips: 1,
        }),
        _ => None,
    }
}

/// A character in the place of a digit.
pub(super) fn as_digit(character: char) -> Option<Read> {
    let slip = |character| {
        Some(Read {
            character,
            slips: 1,
        })
    };
    match character {
        c if c.is_ascii_digit() => Some(Read {
            character: c,
            slips: 0,
        }),
        'O' | 'o' => slip('0'),
        'I' | 'i' | 'l' => slip('1'),
        _ => None,
    }
}

/// Characters of ids as Crockford's base 32 reads them: I and L are 1, O is 0, in either case.
pub(super) fn as_of_ids(text: &str) -> String {
    let one = |character: char| match character.to_ascii_uppercase() {
        'I' | 'L' => '1',
        'O' => '0',
        other => other,
    };
    text.chars().map(one).collect()
}
