//! Lines of text one below the other, the code the largest, at the largest sizes that a room allows.

use super::drawing::Sheet;
use super::font::{CAPITALS, Font};
use super::label::Warning;
use crate::tags::{Badge, Microns, Tag};

/// Small type, by its size: easy to read at arm's length from 1.9 mm up, and never below 1.6 mm. From
/// memory.
pub(super) const MOST: i32 = 3_000;
pub(super) const EASY: i32 = 1_900;
pub(super) const LEAST: i32 = 1_600;
/// Between two sizes that are tried.
const STEP: i32 = 100;
/// From base line to base line, in thousandths of the size.
const LINE: i32 = 1_120;
/// The largest code that is printed.
const CODE_MOST: i32 = 14_000;
/// What the code gets of the height where its width allows, in hundredths.
const CODE_PART: i32 = 36;
/// The most lines that one text takes.
const LINES: usize = 5;

/// The texts of a tag with their sizes.
pub(super) struct Block {
    lines: Vec<(Font, Microns, String)>,
}

/// One text beside the code.
struct Wanted<'a> {
    words: Words<'a>,
    what: &'static str,
}

impl Block {
    /// All texts of a tag in a room. What has no place there is left out, the far place first, and is
    /// told; the code always stands.
    pub(super) fn of(
        tag: &Tag,
        width: Microns,
        height: Microns,
        warnings: &mut Vec<Warning>,
    ) -> Self {
        let wanted = [
            (Font::Plain, tag.words.as_str(), "the words"),
            (Font::Plain, tag.far.as_str(), "the far place"),
            (Font::Bold, tag.position.as_str(), "the position"),
        ];
        let wanted = wanted.into_iter().filter(|(_, text, _)| !text.is_empty());
        let mut wanted: Vec<Wanted<'_>> = wanted
            .map(|(font, text, what)| Wanted {
                words: Words::of(font, text),
                what,
            })
            .collect();
        let mut left_out: Vec<&str> = Vec::new();
        loop {
            if let Some((block, cut)) = Self::fitting(tag, &wanted, width, height) {
                if cut {
                    warnings.push(Warning {
                        words: "The words are too long for the label, and are cut.".to_owned(),
                        code: tag.code.clone(),
                    });
                }
                if !left_out.is_empty() {
                    warnings.push(Warning {
                        words: ["The label has no room for ", &left_out.join(" and "), "."]
                            .concat(),
                        code: tag.code.clone(),
                    });
                }
                return block;
            }
            // The far place goes first, as the position was asked for and the words say what it is.
            let far = wanted
                .iter()
                .position(|wanted| wanted.what == "the far place");
            match far.or_else(|| wanted.len().checked_sub(1)) {
                Some(least) => left_out.push(wanted.remove(least).what),
                None => return Self::code_alone(tag, width, height),
            }
        }
    }

    fn code_alone(tag: &Tag, width: Microns, height: Microns) -> Self {
        let badge = badge(tag);
        let rows = if badge.is_some() { 2 } else { 1 };
        let most = Microns((height.0.max(1) / rows * 1000 / LINE).min(CODE_MOST));
        let line = |text: &str| {
            (
                Font::Bold,
                Font::Bold.size_for(text, width, most),
                text.to_owned(),
            )
        };
        Self {
            lines: badge
                .into_iter()
                .chain([tag.code.as_str()])
                .map(line)
                .collect(),
        }
    }

    /// The texts at the largest small type that leaves the code its part of the height; the second
    /// value says whether words had to be cut.
    fn fitting(
        tag: &Tag,
        wanted: &[Wanted<'_>],
        width: Microns,
        height: Microns,
    ) -> Option<(Self, bool)> {
        let by_width = Font::Bold.size_for(&tag.code, width, Microns(CODE_MOST));
        let sizes = (0..)
            .map(|step| MOST - step * STEP)
            .take_while(|small| *small >= LEAST);
        for small in sizes {
            let size = Microns(small);
            let rows = wanted.iter().map(|wanted| wanted.words.rows(size, width));
            let cut = rows.clone().any(|rows| rows > LINES);
            let is_last = small - STEP < LEAST;
            if !is_last && (cut || small > by_width.0) {
                continue;
            }
            let count: usize = rows.map(|rows| rows.min(LINES)).sum();
            let badge = badge(tag).map(|badge| {
                (
                    Font::Bold,
                    Font::Bold.size_for(badge, width, Microns(small * 3 / 2)),
                    badge.to_owned(),
                )
            });
            let line = |size: i32| size * LINE / 1000;
            let rest = i32::try_from(count).unwrap_or(0) * line(small)
                + badge.as_ref().map_or(0, |(_, size, _)| line(size.0));
            let code_size = by_width.0.min((height.0 - rest) * 1000 / LINE);
            // The code is read first, so it is larger than all else, and gets what the width allows
            // up to its part of the height.
            let enough = by_width
                .0
                .min(height.0 * CODE_PART / 100)
                .max(small * 5 / 4)
                .min(by_width.0);
            if code_size < enough.max(LEAST) {
                continue;
            }
            let mut lines: Vec<(Font, Microns, String)> = badge.into_iter().collect();
            lines.push((Font::Bold, Microns(code_size), tag.code.clone()));
            for wanted in wanted {
                let texts = wanted.words.broken(size, width, LINES).0;
                lines.extend(
                    texts
                        .into_iter()
                        .map(|text| (wanted.words.font, size, text)),
                );
            }
            return Some((Self { lines }, cut));
        }
        None
    }

    pub(super) fn height(&self) -> Microns {
        Microns(
            self.lines
                .iter()
                .map(|(_, size, _)| size.0 * LINE / 1000)
                .sum(),
        )
    }

    /// The size of its smallest type.
    pub(super) fn smallest(&self) -> Microns {
        let sizes = self.lines.iter().map(|(_, size, _)| *size);
        sizes.min().unwrap_or_default()
    }

    pub(super) fn draw(&self, sheet: &mut Sheet, stretch: (Microns, Microns), top: Microns) {
        let mut y = top.0;
        for (font, size, text) in &self.lines {
            let line = size.0 * LINE / 1000;
            // The capitals stand in the middle of the line.
            let base = y + (line + size.0 * CAPITALS / 1000) / 2;
            sheet.text(*font, *size, stretch, Microns(base), text);
            y += line;
        }
    }
}

fn badge(tag: &Tag) -> Option<&'static str> {
    (tag.badge != Badge::None).then(|| tag.badge.words())
}

/// A text as its words, each measured once.
struct Words<'a> {
    font: Font,
    words: Vec<(&'a str, i64)>,
    space: i64,
}

impl<'a> Words<'a> {
    fn of(font: Font, text: &'a str) -> Self {
        Self {
            font,
            words: text
                .split_whitespace()
                .map(|word| (word, font.thousandths(word)))
                .collect(),
            space: font.thousandths(" "),
        }
    }

    /// How many lines it takes, counting a word that is longer than a line as one too many.
    fn rows(&self, size: Microns, width: Microns) -> usize {
        let room = self.font.room(size, width);
        let (mut rows, mut line) = (0, -1);
        for (_, word) in &self.words {
            if *word > room {
                return LINES + 1;
            }
            if line >= 0 && line + self.space + word <= room {
                line += self.space + word;
            } else {
                rows += 1;
                line = *word;
            }
        }
        rows
    }

    /// The lines, broken between words where that is possible; the second value says whether something
    /// had to be cut off.
    fn broken(&self, size: Microns, width: Microns, most: usize) -> (Vec<String>, bool) {
        let room = self.font.room(size, width);
        let mut lines: Vec<(String, i64)> = Vec::new();
        for (word, length) in &self.words {
            match lines.last_mut() {
                Some((line, filled)) if *filled + self.space + length <= room => {
                    line.push(' ');
                    line.push_str(word);
                    *filled += self.space + length;
                }
                _ if *length <= room => lines.push(((*word).to_owned(), *length)),
                // A word that is longer than a line is broken where it must be.
                _ => self.chopped(word, room, &mut lines),
            }
        }
        let cut = lines.len() > most;
        let mut lines: Vec<String> = lines.into_iter().take(most).map(|(line, _)| line).collect();
        if let Some(last) = lines.last_mut().filter(|_| cut) {
            while !last.is_empty()
                && self.font.thousandths(last) + self.font.thousandths("…") > room
            {
                last.pop();
            }
            last.push('…');
        }
        (lines, cut)
    }

    fn chopped(&self, word: &str, room: i64, lines: &mut Vec<(String, i64)>) {
        let (mut part, mut filled) = (String::new(), 0);
        for character in word.chars() {
            let length = self.font.character(character);
            if !part.is_empty() && filled + length > room {
                lines.push((std::mem::take(&mut part), filled));
                filled = 0;
            }
            part.push(character);
            filled += length;
        }
        lines.push((part, filled));
    }
}

/// A text in lines of a width; the second value says whether something had to be cut off.
pub(super) fn broken(
    text: &str,
    font: Font,
    size: Microns,
    width: Microns,
    most: usize,
) -> (Vec<String>, bool) {
    Words::of(font, text).broken(size, width, most)
}
