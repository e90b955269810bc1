//! Lines of text one below the other, the code the largest, at the largest sizes that a room allows.

use super::drawing::Sheet;
use super::font::{CAPITALS, Font};
use super::label::Warning;
use crate::tags::{Badge, Microns, Tag};

/// Small type, by its size, never below 1.6 mm. From memory.
pub(super) const MOST: i32 = 3_000;
pub(super) const LEAST: i32 = 1_600;
/// Between two sizes that are tried.
const STEP: i32 = 100;
/// From base line to base line, in thousandths of the size.
const LINE: i32 = 1_120;
/// The largest code that is printed.
const CODE_MOST: i32 = 14_000;
/// What the code gets of the height where its width allows, in hundredths; and what it is content with
/// before words are cut.
const CODE_PART: i32 = 36;
const CODE_LEAST: i32 = 24;
/// The most lines that one text takes.
const LINES: usize = 5;

/// The texts of a tag with their sizes.
pub(super) struct Block {
    lines: Vec<(Font, Microns, String)>,
}

/// What of a tag's texts is tried, one after the other, until it fits: the words lose what the code or
/// the jacket says too, then the position goes beside the far place, then it goes, then the words are cut
/// and go. The far place stays as long as any line but the code does.
const TRIED: [Tried; 12] = [
    Tried::of(Said::Whole, LINES, LINES, Position::Below),
    Tried::of(Said::Short, LINES, LINES, Position::Below),
    Tried::of(Said::Whole, LINES, LINES, Position::Beside),
    Tried::of(Said::Short, LINES, LINES, Position::Beside),
    Tried::of(Said::Whole, LINES, LINES, Position::Nowhere),
    Tried::of(Said::Short, LINES, LINES, Position::Nowhere),
    Tried::of(Said::Short, 3, LINES, Position::Nowhere),
    Tried::of(Said::Short, 2, LINES, Position::Nowhere),
    Tried::of(Said::Short, 1, LINES, Position::Nowhere),
    Tried::of(Said::Nothing, 0, LINES, Position::Nowhere),
    Tried::of(Said::Nothing, 0, 2, Position::Nowhere),
    Tried::of(Said::Nothing, 0, 1, Position::Nowhere),
];

/// So many of them, the first ones, cut nothing.
const UNCUT: usize = 6;

/// How much of the words stands there.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Said {
    Whole,
    Short,
    Nothing,
}

/// Where the position stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Position {
    Below,
    Beside,
    Nowhere,
}

/// One of them.
#[derive(Clone, Copy)]
struct Tried {
    said: Said,
    /// Above so many lines the words are cut.
    words: usize,
    /// Above so many lines the far place is.
    far: usize,
    position: Position,
}

impl Tried {
    const fn of(said: Said, words: usize, far: usize, position: Position) -> Self {
        Self {
            said,
            words,
            far,
            position,
        }
    }
}

/// One text beside the code, in at most so many lines.
struct Wanted<'t, 'a> {
    words: &'t Words<'a>,
    lines: usize,
    /// Whether it may be cut to them.
    may_cut: bool,
}

impl<'t, 'a> Wanted<'t, 'a> {
    fn of(words: &'t Words<'a>, lines: usize) -> Self {
        Self {
            words,
            lines,
            may_cut: lines < LINES,
        }
    }
}

/// Where the texts of a tag go.
#[derive(Clone, Copy)]
pub(super) struct Room {
    pub(super) width: Microns,
    pub(super) height: Microns,
    /// What there is of height beyond that, before words are cut: round a cable, what is in sight
    /// though not read at once. Never below the height.
    pub(super) tall: Microns,
    /// Whether it is a stretch round a cable. There type grows with the cable and never shrinks: what
    /// is left out gives the rest no larger type, since a little more of the turn brings it back.
    pub(super) is_round: bool,
}

/// What the texts may take.
#[derive(Clone, Copy)]
struct Bounds {
    /// The height of all of them.
    height: Microns,
    /// The height that the code is to have where its width allows.
    code: i32,
    /// The largest small type.
    small: i32,
}

impl Block {
    /// All texts of a tag in a room, as far as they fit; what is cut or left out is told. The code
    /// always stands.
    pub(super) fn of(tag: &Tag, room: Room, warnings: &mut Vec<Warning>) -> Self {
        let short = if tag.short.is_empty() {
            &tag.words
        } else {
            &tag.short
        };
        let beside = [&tag.far, " ", &tag.position].concat();
        let [whole, short, far, beside] =
            [&tag.words, short, &tag.far, &beside].map(|text| Words::of(Font::Plain, text));
        let below = Words::of(Font::Bold, &tag.position);
        // Each is tried with all the height there is before anything is said shorter, so that the tags
        // of one sheet say the same; and all with a smaller code before anything is cut.
        let (whole_words, cut_words) = TRIED.split_at(UNCUT);
        let heights = if room.tall > room.height { 2 } else { 1 };
        let all = whole_words.iter().flat_map(|tried| {
            let heights = [room.height, room.tall].into_iter().take(heights);
            heights.map(move |height| (tried, height, CODE_PART))
        });
        let last = whole_words.iter().chain(cut_words);
        let last = last.map(|tried| (tried, room.tall, CODE_LEAST));
        for (at, (tried, most_height, part)) in all.chain(last).enumerate() {
            let words = match tried.said {
                Said::Whole => Some(&whole),
                Said::Short => Some(&short),
                Said::Nothing => None,
            };
            let (far, below) = match tried.position {
                Position::Below => (&far, Some(&below)),
                Position::Beside => (&beside, None),
                Position::Nowhere => (&far, None),
            };
            // The position is one word, which is never cut.
            let all = [
                words.map(|words| Wanted::of(words, tried.words)),
                Some(Wanted::of(far, tried.far)),
                below.map(|below| Wanted {
                    words: below,
                    lines: 1,
                    may_cut: false,
                }),
            ];
            let wanted: Vec<Wanted<'_, '_>> = all
                .into_iter()
                .flatten()
                .filter(|wanted| !wanted.words.words.is_empty())
                .collect();
            if wanted.is_empty() && at > 0 {
                continue;
            }
            let most = if at == 0 || !room.is_round {
                MOST
            } else {
                LEAST
            };
            let bounds = Bounds {
                height: most_height,
                code: room.height.0 * part / 100,
                small: most,
            };
            if let Some((block, cut)) = Self::fitting(tag, &wanted, room, bounds) {
                told(tag, tried, cut, warnings);
                return block;
            }
        }
        let nothing = Tried::of(Said::Nothing, 0, 0, Position::Nowhere);
        told(tag, &nothing, false, warnings);
        Self::code_alone(tag, room)
    }

    fn code_alone(tag: &Tag, room: Room) -> Self {
        let badge = badge(tag);
        let rows = if badge.is_some() { 2 } else { 1 };
        let most = (room.height.0.max(1) / rows * 1000 / LINE).min(CODE_MOST);
        let is_all = [&tag.words, &tag.far, &tag.position]
            .iter()
            .all(|text| text.is_empty());
        let most = if room.is_round && !is_all {
            most.min(LEAST * 5 / 4)
        } else {
            most
        };
        let line = |text: &str| {
            (
                Font::Bold,
                Font::Bold.size_for(text, room.width, Microns(most)),
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

    /// The texts at the largest small type within bounds; the second value says whether words had to be
    /// cut.
    fn fitting(
        tag: &Tag,
        wanted: &[Wanted<'_, '_>],
        room: Room,
        bounds: Bounds,
    ) -> Option<(Self, bool)> {
        let width = room.width;
        let by_width = Font::Bold.size_for(&tag.code, width, Microns(CODE_MOST));
        let sizes = (0..)
            .map(|step| bounds.small - step * STEP)
            .take_while(|small| *small >= LEAST);
        for small in sizes {
            let size = Microns(small);
            let rows = |wanted: &Wanted<'_, '_>| wanted.words.rows(size, width);
            let cut = wanted.iter().any(|wanted| rows(wanted) > wanted.lines);
            let must = wanted
                .iter()
                .any(|wanted| !wanted.may_cut && rows(wanted) > wanted.lines);
            let is_last = small - STEP < LEAST;
            if must || !is_last && (cut || small > by_width.0) {
                continue;
            }
            let count: usize = wanted
                .iter()
                .map(|wanted| rows(wanted).min(wanted.lines))
                .sum();
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
            let fits = by_width.0.min((bounds.height.0 - rest) * 1000 / LINE);
            // The code is read first, so it is larger than all else, and gets what the width allows
            // up to its part of the height.
            let enough = by_width
                .0
                .min(bounds.code)
                .max(small * 5 / 4)
                .min(by_width.0);
            if fits < enough.max(LEAST) {
                continue;
            }
            let code_size = if room.is_round && !wanted.is_empty() {
                enough
            } else {
                fits
            };
            let mut lines: Vec<(Font, Microns, String)> = badge.into_iter().collect();
            lines.push((Font::Bold, Microns(code_size), tag.code.clone()));
            for wanted in wanted {
                let texts = wanted.words.broken(size, width, wanted.lines).0;
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

/// Tells what of a tag is cut or left out.
fn told(tag: &Tag, tried: &Tried, cut: bool, warnings: &mut Vec<Warning>) {
    let mut tell = |words: &str| {
        warnings.push(Warning {
            words: words.to_owned(),
            code: tag.code.clone(),
        });
    };
    if cut {
        tell(match tried.said {
            Said::Nothing => "The far place is too long for the label, and is cut.",
            Said::Whole | Said::Short => "The words are too long for the label, and are cut.",
        });
    }
    let left_out: Vec<&str> = [
        (&tag.words, "the words", tried.said != Said::Nothing),
        (&tag.far, "the far place", tried.far > 0),
        (
            &tag.position,
            "the position",
            tried.position != Position::Nowhere,
        ),
    ]
    .into_iter()
    .filter(|(text, _, stands)| !stands && !text.trim().is_empty())
    .map(|(_, what, _)| what)
    .collect();
    if !left_out.is_empty() {
        tell(&["The label has no room for ", &left_out.join(" and "), "."].concat());
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
    /// The first word behind the last slash, and the length from there to the end.
    last: (usize, i64),
}

impl<'a> Words<'a> {
    fn of(font: Font, text: &'a str) -> Self {
        let words: Vec<(&str, i64)> = text
            .split_whitespace()
            .map(|word| (word, font.thousandths(word)))
            .collect();
        let space = font.thousandths(" ");
        let slash = words.iter().rposition(|(word, _)| *word == "/");
        let first = slash.map_or(usize::MAX, |at| at + 1);
        let rest = words.iter().skip(first);
        let length = rest.map(|(_, length)| length + space).sum::<i64>() - space;
        Self {
            font,
            words,
            space,
            last: (first, length),
        }
    }

    /// What has to fit behind a word's beginning for the word to stand on a line that is begun: what a
    /// cable is made of stays in one line where a line has room for it, which takes no line more.
    fn together(&self, at: usize, length: i64, room: i64) -> i64 {
        let (first, whole) = self.last;
        if at == first && whole <= room {
            whole
        } else {
            length
        }
    }

    /// Whether a word is the slash before what a cable is made of. It never begins a line: where a line
    /// ends, the two are parted without it.
    fn parts(&self, at: usize) -> bool {
        at + 1 == self.last.0
    }

    /// How many lines it takes, counting a word that is longer than a line as one too many.
    fn rows(&self, size: Microns, width: Microns) -> usize {
        let room = self.font.room(size, width);
        let (mut rows, mut line) = (0, -1);
        for (at, (_, word)) in self.words.iter().enumerate() {
            if *word > room {
                return LINES + 1;
            }
            if line >= 0 && line + self.space + self.together(at, *word, room) <= room {
                line += self.space + word;
            } else if !self.parts(at) {
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
        for (at, (word, length)) in self.words.iter().enumerate() {
            let together = self.together(at, *length, room);
            match lines.last_mut() {
                Some((line, filled)) if *filled + self.space + together <= room => {
                    line.push(' ');
                    line.push_str(word);
                    *filled += self.space + length;
                }
                _ if self.parts(at) => {}
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slash_between_texts_stands_alone_on_no_line() {
        let size = Microns(2_000);
        let words = Words::of(Font::Bold, "KITCHEN TV / CAT 6 U/UTP");
        let mut broken_at_the_slash = 0;
        for width in (4_000..40_000).step_by(50).map(Microns) {
            let (lines, _) = words.broken(size, width, LINES);
            assert!(lines.iter().all(|line| !line.starts_with("/")), "{lines:?}");
            let rows = words.rows(size, width);
            if rows <= LINES {
                assert_eq!(lines.len(), rows, "{lines:?}");
                broken_at_the_slash += usize::from(lines == ["KITCHEN TV", "CAT 6 U/UTP"]);
            }
        }
        assert!(broken_at_the_slash > 0);
        let wide = words.broken(size, Microns(40_000), LINES).0;
        assert_eq!(wide, ["KITCHEN TV / CAT 6 U/UTP"]);
    }
}
