//! The forms of codes as people type them, with separators anywhere between their parts.

use super::glyphs::{Glyph, Read, SmallL, as_digit, as_letter};
use super::{Reading, Reason};
use crate::codes::leg::LegCode;
use crate::domain::label::{
    BOX, CONDUIT, LabelCode, LegNumber, Letter, LinkCode, OutletCode, OutletNumber, PanelLetters,
    PositionCode, PositionNumber, RoomCode, SpaceCode,
};

/// One part of a form.
#[derive(Clone, Copy)]
enum Slot {
    /// So many letters at most; the least number is given first.
    Letters(usize, usize),
    /// From one digit to so many.
    Digits(usize),
    /// The letter of a cable. Any letter is taken, so that a wrong one can be told.
    CableLetter,
    /// A separator that may not be left out.
    Gap,
}

/// What a form makes of its parts; no outcome where the form does not fit after all.
type Build = fn(&[String], Option<RoomCode>) -> Option<Result<Reading, Reason>>;

/// A form, its place in [`FORMS`] being its likelihood.
struct Form {
    slots: &'static [Slot],
    build: Build,
}

/// What one form finds in a text.
pub(super) struct Find {
    /// How many look-alikes were exchanged.
    pub(super) slips: u8,
    /// How unlikely the form is.
    pub(super) rank: usize,
    pub(super) outcome: Result<Reading, Reason>,
}

const ROOM: Slot = Slot::Letters(2, 5);
const SHORT: Slot = Slot::Letters(1, 2);
const FLOOR: Slot = Slot::Digits(2);
/// Longer than an outlet's number may be, so that a number too high can be told.
const NUMBER: Slot = Slot::Digits(4);
const FIVE: Slot = Slot::Digits(5);
const LEG: Slot = Slot::Digits(2);
const CABLE: Slot = Slot::CableLetter;

/// All forms. Those of the room that the person works in come first, since whoever leaves the
/// room out means that one.
const FORMS: [Form; 15] = [
    form(&[NUMBER, CABLE], |p, here| run(here?, &p[0], &p[1])),
    form(&[NUMBER, CABLE, LEG], |p, here| {
        leg(run(here?, &p[0], &p[1])?, &p[2])
    }),
    form(&[NUMBER], |p, here| {
        Some(outlet(here?, &p[0]).map(Reading::Outlet))
    }),
    form(&[ROOM, NUMBER, CABLE], |p, _| {
        run(room(&p[0])?, &p[1], &p[2])
    }),
    form(&[ROOM, NUMBER, CABLE, LEG], |p, _| {
        leg(run(room(&p[0])?, &p[1], &p[2])?, &p[3])
    }),
    form(&[ROOM, NUMBER], |p, _| {
        Some(outlet(room(&p[0])?, &p[1]).map(Reading::Outlet))
    }),
    form(&[SHORT, NUMBER], |p, _| {
        Some(position(&p[0], &p[1])?.map(Reading::Position))
    }),
    form(&[Slot::Letters(2, 2), FIVE], |p, _| {
        numbered(p, CONDUIT).map(|number| Ok(Reading::Conduit(number)))
    }),
    form(&[Slot::Letters(3, 3), FIVE], |p, _| {
        numbered(p, BOX).map(|number| Ok(Reading::Box(number)))
    }),
    form(&[FLOOR, SHORT, SHORT, NUMBER], |p, _| {
        let space = space(&p[0], &p[1])?;
        let position = position(&p[2], &p[3])?;
        Some(position.map(|position| Reading::Link(LinkCode { space, position })))
    }),
    form(&[FLOOR, SHORT, FLOOR, SHORT, FIVE], |p, _| tie(p)),
    form(
        &[FLOOR, SHORT, FLOOR, SHORT, FIVE, Slot::Gap, LEG],
        |p, _| leg(tie(p)?, &p[5]),
    ),
    form(&[FLOOR, SHORT], |p, _| {
        Some(Ok(Reading::Space(space(&p[0], &p[1])?)))
    }),
    form(&[ROOM], |p, _| Some(Ok(Reading::Room(room(&p[0])?)))),
    form(&[SHORT], |p, _| Some(Ok(Reading::Panel(panel(&p[0])?)))),
];

const fn form(slots: &'static [Slot], build: Build) -> Form {
    Form { slots, build }
}

/// All that the forms find.
pub(super) fn finds(glyphs: &[Glyph], small_l: SmallL, here: Option<RoomCode>) -> Vec<Find> {
    let mut finds = Vec::new();
    for (rank, form) in FORMS.iter().enumerate() {
        let mut matches = Vec::new();
        extend(glyphs, form.slots, small_l, &Match::default(), &mut matches);
        finds.extend(matches.into_iter().filter_map(|found| {
            Some(Find {
                slips: found.slips,
                rank,
                outcome: (form.build)(&found.parts, here)?,
            })
        }));
    }
    finds
}

/// A text cut into the parts of a form, as far as it has come.
#[derive(Clone, Default)]
struct Match {
    parts: Vec<String>,
    slips: u8,
}

/// More look-alikes than this in one code are not a slip but another text.
const MOST_SLIPS: u8 = 3;

/// Tries every way to cut the rest of the text into the rest of the slots.
fn extend(
    rest: &[Glyph],
    slots: &[Slot],
    small_l: SmallL,
    so_far: &Match,
    matches: &mut Vec<Match>,
) {
    let after_gap = so_far.parts.is_empty() || rest.first() == Some(&Glyph::Gap);
    let rest = rest.strip_prefix(&[Glyph::Gap]).unwrap_or(rest);
    let Some((slot, later)) = slots.split_first() else {
        if rest.is_empty() {
            matches.push(so_far.clone());
        }
        return;
    };
    if matches!(slot, Slot::Gap) {
        if after_gap {
            extend(rest, later, small_l, so_far, matches);
        }
        return;
    }
    let (least, most) = slot.least_and_most();
    let mut part = Part::default();
    for (place, glyph) in rest.iter().enumerate().take(most) {
        let Some(read) = slot.read(*glyph, small_l, after_gap) else {
            return;
        };
        part.push(read);
        let slips = so_far.slips + part.slips;
        if slips > MOST_SLIPS {
            return;
        }
        let rest = &rest[place + 1..];
        if place + 1 >= least && part.is_plausible(*slot, after_gap, rest.first()) {
            let mut so_far = so_far.clone();
            so_far.parts.push(part.text.clone());
            so_far.slips = slips;
            extend(rest, later, small_l, &so_far, matches);
        }
    }
}

/// The characters read for one slot.
#[derive(Default)]
struct Part {
    text: String,
    slips: u8,
    /// Whether the last character is a look-alike of what was typed.
    ends_in_slip: bool,
}

impl Part {
    fn push(&mut self, read: Read) {
        self.text.push(read.character);
        self.slips += read.slips;
        self.ends_in_slip = read.slips > 0;
    }

    /// Whether look-alikes stand where a person may have put them. A 0 or 1 is a letter among
    /// more letters (`K1T2`), not where the number begins (`KIT12`). An O or I is a digit beside
    /// a digit (`BO7`), or where it begins or ends a part (`IA-B07`, `KITI-A`), not inside a word.
    fn is_plausible(&self, slot: Slot, after_gap: bool, next: Option<&Glyph>) -> bool {
        let (slips, length) = (usize::from(self.slips), self.text.len());
        let next_is_character = matches!(next, Some(Glyph::Character(_)));
        match slot {
            Slot::Letters(..) => 2 * slips < length && !(self.ends_in_slip && next_is_character),
            Slot::Digits(_) => slips < length || after_gap || next == Some(&Glyph::Gap),
            Slot::CableLetter | Slot::Gap => true,
        }
    }
}

impl Slot {
    /// How many characters the part may have.
    fn least_and_most(self) -> (usize, usize) {
        match self {
            Self::Letters(least, most) => (least, most),
            Self::Digits(most) => (1, most),
            Self::CableLetter => (1, 1),
            Self::Gap => (0, 0),
        }
    }

    fn read(self, glyph: Glyph, small_l: SmallL, after_gap: bool) -> Option<Read> {
        let Glyph::Character(character) = glyph else {
            return None;
        };
        let as_it_stands = |character| {
            Some(Read {
                character,
                slips: 0,
            })
        };
        match self {
            Self::Letters(..) => as_letter(character, small_l),
            Self::Digits(_) => as_digit(character),
            Self::CableLetter if character.is_ascii_alphabetic() => as_letter(character, small_l),
            // A digit set apart, as in KIT2-0, was meant as a letter; in KIT20 it was not.
            Self::CableLetter if after_gap => as_it_stands(character),
            Self::CableLetter | Self::Gap => None,
        }
    }
}

fn room(letters: &str) -> Option<RoomCode> {
    RoomCode::new(letters).ok()
}

fn panel(letters: &str) -> Option<PanelLetters> {
    PanelLetters::new(letters).ok()
}

fn space(floor: &str, letters: &str) -> Option<SpaceCode> {
    SpaceCode::new(floor.parse().ok()?, letters).ok()
}

fn outlet(room: RoomCode, number: &str) -> Result<OutletCode, Reason> {
    let checked = number.parse().ok().and_then(OutletNumber::new);
    let number = checked.ok_or_else(|| Reason::OutletNumber(number.to_owned()))?;
    Ok(OutletCode { room, number })
}

fn position(letters: &str, number: &str) -> Option<Result<PositionCode, Reason>> {
    let panel = panel(letters)?;
    let checked = number.parse().ok().and_then(PositionNumber::new);
    let number = checked.ok_or_else(|| Reason::PositionNumber(number.to_owned()));
    Some(number.map(|number| PositionCode { panel, number }))
}

fn run(room: RoomCode, number: &str, letter: &str) -> Option<Result<Reading, Reason>> {
    let letter = letter.chars().next()?;
    Some(outlet(room, number).and_then(|outlet| {
        let letter = Letter::new(letter).ok_or(Reason::CableLetter(letter))?;
        Ok(Reading::Run(LabelCode::Run { outlet, letter }))
    }))
}

/// A number from 1 behind these letters.
fn numbered(parts: &[String], letters: &str) -> Option<u16> {
    let number = parts[1].parse().ok().filter(|number| *number != 0);
    number.filter(|_| parts[0] == letters)
}

fn tie(parts: &[String]) -> Option<Result<Reading, Reason>> {
    let near = space(&parts[0], &parts[1])?;
    let far = space(&parts[2], &parts[3])?;
    let number = &parts[4];
    let checked = number.parse().ok().filter(|number| *number != 0);
    let number = checked.ok_or_else(|| Reason::TieNumber(number.clone()));
    Some(number.map(|number| Reading::Run(LabelCode::Tie { near, far, number })))
}

fn leg(run: Result<Reading, Reason>, number: &str) -> Option<Result<Reading, Reason>> {
    // A run that is refused says so already, in its own form.
    let Ok(Reading::Run(label)) = run else {
        return None;
    };
    let checked = number.parse().ok().and_then(LegNumber::new);
    let leg = checked.ok_or_else(|| Reason::LegNumber(number.to_owned()));
    Some(leg.map(|leg| Reading::Leg(LegCode { label, leg })))
}
