//! Labels as they are bought, described by their measures alone.
//!
//! The built-in ones are common sizes (common practice, no source); whoever holds another one
//! describes it.

use std::fmt;

use super::Microns;
use crate::domain::length::LengthUnit;

/// What a label is for, with the measures that only this kind has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Goes round a cable: a printed part at the top, and a clear tail that covers it.
    Wrap {
        /// How much of the height is printed, round the cable.
        print: Microns,
    },
    /// Folds round a cable, its two faces back to back; what lies between them goes round.
    Flag {
        /// The length of one face.
        face: Microns,
    },
    /// Lies flat, on a box, a panel, a rack or a reel.
    Flat,
    /// Goes behind the window of a faceplate, a part for each jack.
    Insert,
    /// Goes above or below the ports of a panel.
    Strip {
        /// From port to port; 0: as the panel has them.
        pitch: Microns,
    },
}

impl Shape {
    /// What such labels are called in a list.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Wrap { .. } => "Wrap",
            Self::Flag { .. } => "Flag",
            Self::Flat => "Flat label",
            Self::Insert => "Faceplate insert",
            Self::Strip { .. } => "Panel strip",
        }
    }

    /// Its key, and its own measure.
    #[must_use]
    pub fn key(self) -> (&'static str, Microns) {
        match self {
            Self::Wrap { print } => ("wrap", print),
            Self::Flag { face } => ("flag", face),
            Self::Flat => ("flat", Microns(0)),
            Self::Insert => ("insert", Microns(0)),
            Self::Strip { pitch } => ("strip", pitch),
        }
    }

    /// The shape of a key, with its own measure.
    #[must_use]
    pub fn of(key: &str, own: Microns) -> Option<Self> {
        Some(match key {
            "wrap" => Self::Wrap { print: own },
            "flag" => Self::Flag { face: own },
            "flat" => Self::Flat,
            "insert" => Self::Insert,
            "strip" => Self::Strip { pitch: own },
            _ => return None,
        })
    }
}

/// How labels lie on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grid {
    /// Width of the page.
    pub page_width: Microns,
    /// Height of the page.
    pub page_height: Microns,
    /// Labels side by side.
    pub columns: i32,
    /// Labels one below the other.
    pub rows: i32,
    /// From the left edge of the page to the first label.
    pub left: Microns,
    /// From the upper edge of the page to the first label.
    pub top: Microns,
    /// From the left edge of one label to that of the next.
    pub across: Microns,
    /// From the upper edge of one label to that of the next.
    pub down: Microns,
}

/// How labels come to the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feed {
    /// On sheets.
    Sheet(Grid),
    /// One behind the other on a roll, each printed as a page of its own.
    Roll,
    /// As a tape that is cut to the length of what is printed; the label's width is the longest
    /// piece that is wanted.
    Tape,
}

/// One kind of label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Its plain name.
    pub name: String,
    /// What it is for.
    pub shape: Shape,
    /// Along the text: along the cable for a wrap, the whole length for a flag.
    pub width: Microns,
    /// Across the text: round the cable for a wrap, with its clear tail.
    pub height: Microns,
    /// How it comes.
    pub feed: Feed,
}

/// Measures that no label can have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadStock {
    /// What is wrong and what to do, as a sentence.
    pub words: String,
}

impl fmt::Display for BadStock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// The longest page that is made; no label is longer than this.
const LONGEST: Microns = Microns(1_500_000);

impl Stock {
    /// How many labels a sheet has; none where they come one by one.
    #[must_use]
    pub fn per_page(&self) -> Option<i32> {
        match self.feed {
            Feed::Sheet(grid) => Some(grid.columns * grid.rows),
            Feed::Roll | Feed::Tape => None,
        }
    }

    /// Whether it lies on sheets of the paper that is common where lengths are told in this unit.
    #[must_use]
    pub fn is_common(&self, unit: LengthUnit) -> bool {
        let (width, _) = match unit {
            LengthUnit::Feet => LETTER,
            LengthUnit::Metres => A4,
        };
        matches!(self.feed, Feed::Sheet(grid) if grid.page_width == Microns::tenths(width))
    }

    /// Whether the measures can be those of a label.
    ///
    /// # Errors
    /// The first measure that is wrong, in words.
    pub fn check(&self) -> Result<(), BadStock> {
        let bad = |words: String| Err(BadStock { words });
        if self.name.trim().is_empty() {
            return bad("The label stock has no name. Give it one that you know it by.".to_owned());
        }
        let own = match self.shape {
            Shape::Wrap { print } => Some(("printed part", print, self.height, "the height")),
            Shape::Flag { face } => {
                Some(("face", face, Microns(self.width.0 / 2), "half the width"))
            }
            Shape::Strip { pitch: Microns(0) } => None,
            Shape::Strip { pitch } => {
                Some(("distance from port to port", pitch, self.width, "the width"))
            }
            Shape::Flat | Shape::Insert => None,
        };
        for (what, measure) in [("width", self.width), ("height", self.height)]
            .into_iter()
            .chain(own.map(|(what, measure, ..)| (what, measure)))
        {
            if measure.0 <= 0 || measure > LONGEST {
                return bad(format!(
                    "The {what} of {} is {measure} mm. Measure the label, and write a number above 0 and up to {LONGEST} mm.",
                    self.name
                ));
            }
        }
        if let Some((what, measure, most, of)) = own
            && measure > most
        {
            return bad(format!(
                "The {what} of {} is {measure} mm, more than {of} of the label, {most} mm. Measure both again.",
                self.name
            ));
        }
        match self.feed {
            Feed::Sheet(grid) => self.check_grid(&grid),
            Feed::Roll | Feed::Tape => Ok(()),
        }
    }

    fn check_grid(&self, grid: &Grid) -> Result<(), BadStock> {
        let bad = |words: String| Err(BadStock { words });
        for (what, measure) in [
            ("width of the page", grid.page_width),
            ("height of the page", grid.page_height),
        ] {
            if measure.0 <= 0 || measure > LONGEST {
                return bad(format!(
                    "The {what} is {measure} mm. Write a number above 0 and up to {LONGEST} mm."
                ));
            }
        }
        if !(1..=100).contains(&grid.columns) || !(1..=100).contains(&grid.rows) {
            return bad(format!(
                "A sheet of {} has {} columns and {} rows. Write 1 to 100 of each.",
                self.name, grid.columns, grid.rows
            ));
        }
        for (way, first, count, step, label, page) in [
            (
                "wide",
                grid.left,
                grid.columns,
                grid.across,
                self.width,
                grid.page_width,
            ),
            (
                "high",
                grid.top,
                grid.rows,
                grid.down,
                self.height,
                grid.page_height,
            ),
        ] {
            if first.0 < 0 {
                return bad(format!(
                    "The first label of {} begins {first} mm before the edge of the page. Write 0 or more.",
                    self.name
                ));
            }
            if count > 1 && step < label {
                return bad(format!(
                    "Labels of {} are {label} mm {way} and follow each other every {step} mm, so they lie over each other. Measure from edge to edge of two neighbours.",
                    self.name
                ));
            }
            let end =
                i64::from(first.0) + i64::from(count - 1) * i64::from(step.0) + i64::from(label.0);
            if end > i64::from(page.0) {
                let end = Microns(i32::try_from(end).unwrap_or(i32::MAX));
                return bad(format!(
                    "{count} {} of {} reach {end} mm, and the page is {page} mm {way}. Take fewer, or measure again.",
                    if count == 1 { "label" } else { "labels" },
                    self.name
                ));
            }
        }
        Ok(())
    }

    /// The stock as one line of text, for settings and orders.
    #[must_use]
    pub fn line(&self) -> String {
        let (shape, own) = self.shape.key();
        let mut line = self.name.replace([';', '\n', '\r'], " ");
        let mut put = |text: &str| {
            line.push(';');
            line.push_str(text);
        };
        put(shape);
        for measure in [own, self.width, self.height] {
            put(&measure.0.to_string());
        }
        match self.feed {
            Feed::Roll => put("roll"),
            Feed::Tape => put("tape"),
            Feed::Sheet(grid) => {
                put("sheet");
                let Grid {
                    page_width,
                    page_height,
                    columns,
                    rows,
                    left,
                    top,
                    across,
                    down,
                } = grid;
                for number in [
                    page_width.0,
                    page_height.0,
                    columns,
                    rows,
                    left.0,
                    top.0,
                    across.0,
                    down.0,
                ] {
                    put(&number.to_string());
                }
            }
        }
        line
    }

    /// Reads such a line; none where it is not one. The measures are not checked.
    #[must_use]
    pub fn read(line: &str) -> Option<Self> {
        let mut parts = line.split(';');
        let name = parts.next()?.to_owned();
        let shape = parts.next()?;
        let mut number = || -> Option<i32> { parts.next()?.parse().ok() };
        let (own, width, height) = (Microns(number()?), Microns(number()?), Microns(number()?));
        let feed = match parts.next()? {
            "roll" => Feed::Roll,
            "tape" => Feed::Tape,
            "sheet" => {
                let mut number = || -> Option<i32> { parts.next()?.parse().ok() };
                Feed::Sheet(Grid {
                    page_width: Microns(number()?),
                    page_height: Microns(number()?),
                    columns: number()?,
                    rows: number()?,
                    left: Microns(number()?),
                    top: Microns(number()?),
                    across: Microns(number()?),
                    down: Microns(number()?),
                })
            }
            _ => return None,
        };
        Some(Self {
            name,
            shape: Shape::of(shape, own)?,
            width,
            height,
            feed,
        })
    }
}

/// A4 (ISO 216) and Letter (ANSI Y14.1), in tenths of a millimetre.
const A4: (i32, i32) = (2100, 2970);
const LETTER: (i32, i32) = (2159, 2794);

/// A sheet stock: labels in the middle of the page, with a gap between them.
fn sheet(
    name: &str,
    shape: Shape,
    label: (i32, i32),
    page: (i32, i32),
    count: (i32, i32),
    gap: (i32, i32),
) -> Stock {
    let first = |page: i32, label: i32, count: i32, gap: i32| {
        (page - count * label - (count - 1) * gap) / 2
    };
    Stock {
        name: name.to_owned(),
        shape,
        width: Microns::tenths(label.0),
        height: Microns::tenths(label.1),
        feed: Feed::Sheet(Grid {
            page_width: Microns::tenths(page.0),
            page_height: Microns::tenths(page.1),
            columns: count.0,
            rows: count.1,
            left: Microns::tenths(first(page.0, label.0, count.0, gap.0)),
            top: Microns::tenths(first(page.1, label.1, count.1, gap.1)),
            across: Microns::tenths(label.0 + gap.0),
            down: Microns::tenths(label.1 + gap.1),
        }),
    }
}

fn single(name: &str, shape: Shape, label: (i32, i32), feed: Feed) -> Stock {
    Stock {
        name: name.to_owned(),
        shape,
        width: Microns::tenths(label.0),
        height: Microns::tenths(label.1),
        feed,
    }
}

/// The stocks that every device knows, the likeliest first.
#[must_use]
pub fn built_in() -> Vec<Stock> {
    let wrap = |print| Shape::Wrap {
        print: Microns::tenths(print),
    };
    let flag = |face| Shape::Flag {
        face: Microns::tenths(face),
    };
    let strip = Shape::Strip { pitch: Microns(0) };
    vec![
        sheet("Flags, A4", flag(300), (900, 160), A4, (2, 16), (60, 10)),
        sheet(
            "Flags, Letter",
            flag(300),
            (900, 160),
            LETTER,
            (2, 15),
            (60, 10),
        ),
        sheet(
            "Wraps for data cable, A4",
            wrap(127),
            (254, 381),
            A4,
            (7, 7),
            (20, 10),
        ),
        sheet(
            "Wraps for data cable, Letter",
            wrap(127),
            (254, 381),
            LETTER,
            (7, 6),
            (20, 10),
        ),
        sheet(
            "Wraps for thick cable, A4",
            wrap(254),
            (254, 762),
            A4,
            (7, 3),
            (20, 100),
        ),
        sheet(
            "Wraps for thick cable, Letter",
            wrap(254),
            (254, 762),
            LETTER,
            (7, 3),
            (20, 100),
        ),
        sheet(
            "Flat labels, A4",
            Shape::Flat,
            (635, 381),
            A4,
            (3, 7),
            (25, 0),
        ),
        sheet(
            "Flat labels, Letter",
            Shape::Flat,
            (667, 254),
            LETTER,
            (3, 10),
            (30, 0),
        ),
        sheet(
            "Faceplate inserts, A4",
            Shape::Insert,
            (600, 95),
            A4,
            (3, 24),
            (40, 15),
        ),
        sheet(
            "Faceplate inserts, Letter",
            Shape::Insert,
            (600, 95),
            LETTER,
            (3, 22),
            (40, 15),
        ),
        sheet("Panel strips, A4", strip, (1920, 90), A4, (1, 22), (0, 30)),
        sheet(
            "Panel strips, Letter",
            strip,
            (1920, 90),
            LETTER,
            (1, 20),
            (0, 30),
        ),
        single("Wraps on a roll", wrap(127), (254, 381), Feed::Roll),
        single(
            "Wraps for thick cable on a roll",
            wrap(254),
            (254, 762),
            Feed::Roll,
        ),
        single("Flags on a roll", flag(300), (900, 160), Feed::Roll),
        single("Flat labels on a roll", Shape::Flat, (500, 250), Feed::Roll),
        single("Tape, 12 mm", Shape::Flat, (1000, 120), Feed::Tape),
        single("Tape, 24 mm", Shape::Flat, (1500, 240), Feed::Tape),
    ]
}
