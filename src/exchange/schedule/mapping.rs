//! Which column of a sheet holds what: proposed from the headings, amended by the person.

use super::Column;
use super::heading;
use super::label::is_label;

/// What is done with one column of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// It holds this.
    Holds(Column),
    /// The person said that it is not wanted, or it is the mark of our own files.
    Ignored,
    /// Its heading is not known: somebody has to say.
    Unknown,
}

/// What stands in the column at a place.
type Cells<'a> = &'a dyn Fn(usize) -> Vec<&'a str>;

/// The use of every column of one sheet. No two columns hold the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mapping {
    headings: Vec<String>,
    uses: Vec<Use>,
}

impl Mapping {
    /// Proposes a mapping. Sure headings come first; of two columns that seem to hold the same,
    /// the left one gets it and the other stays unknown. `cells` gives what stands under a heading,
    /// blank cells left out: it may speak against what the heading says.
    pub(super) fn proposed(headings: Vec<String>, cells: Cells<'_>) -> Self {
        let uses = vec![Use::Unknown; headings.len()];
        let mut mapping = Self { headings, uses };
        for place in 0..mapping.headings.len() {
            let heading = &mapping.headings[place];
            if heading::marks_guard(heading) {
                mapping.uses[place] = Use::Ignored;
            } else if let Some(column) = heading::sure(heading)
                && (column != Column::Code || mapping.may_be_codes(place, cells))
            {
                mapping.offer(place, column);
            }
        }
        for place in 0..mapping.headings.len() {
            let columns = heading::loose(&mapping.headings[place]);
            if mapping.is_headed_as_codes(place) && are_letters(&cells(place)) {
                mapping.offer(place, Column::Letter);
            }
            for column in columns {
                if *column != Column::Code || mapping.may_be_codes(place, cells) {
                    mapping.offer(place, *column);
                } else if !columns.contains(&Column::Medium) {
                    // What numbers something numbers cables, and not the outlets of a room.
                    break;
                }
            }
        }
        // What seems to be codes by its heading and is none is lengths, or the names so far.
        let names = match mapping.place_of(Column::OldName) {
            None => Column::OldName,
            Some(_) => Column::Code,
        };
        for place in 0..mapping.headings.len() {
            if mapping.uses[place] != Use::Unknown {
                continue;
            }
            let heading = &mapping.headings[place];
            if heading::is_length(heading) && are_numbers(&cells(place)) {
                mapping.offer(place, Column::Length);
            } else if mapping.is_headed_as_codes(place) {
                mapping.offer(place, names);
            }
        }
        mapping
    }

    /// Whether a column that is headed as codes is to be offered as such: another one is, or it holds
    /// one, or nothing at all.
    fn may_be_codes(&self, place: usize, cells: Cells<'_>) -> bool {
        self.place_of(Column::Code).is_some() || {
            let cells = cells(place);
            cells.is_empty() || cells.into_iter().any(is_label)
        }
    }

    fn is_headed_as_codes(&self, place: usize) -> bool {
        let heading = &self.headings[place];
        heading::sure(heading) == Some(Column::Code)
            || heading::loose(heading).contains(&Column::Code)
    }

    fn offer(&mut self, place: usize, column: Column) {
        if self.uses[place] == Use::Unknown && self.place_of(column).is_none() {
            self.uses[place] = Use::Holds(column);
        }
    }

    /// The headings from left to right, as they stand in the file; empty texts when the sheet has
    /// no header.
    #[must_use]
    pub fn headings(&self) -> &[String] {
        &self.headings
    }

    /// The uses from left to right, as many as there are headings.
    #[must_use]
    pub fn uses(&self) -> &[Use] {
        &self.uses
    }

    /// Where a column stands, counted from 0 at the left.
    #[must_use]
    pub fn place_of(&self, column: Column) -> Option<usize> {
        self.uses
            .iter()
            .position(|held| *held == Use::Holds(column))
    }

    /// The heading over a column as it stands in the file, for instance to see the unit in
    /// "Length (ft)".
    #[must_use]
    pub fn heading_of(&self, column: Column) -> Option<&str> {
        self.place_of(column)
            .map(|place| self.headings[place].as_str())
    }

    /// The places, from 0, of the columns whose use somebody still has to say. A column with
    /// neither heading nor text is among them too.
    pub fn unknown(&self) -> impl Iterator<Item = usize> {
        self.uses
            .iter()
            .enumerate()
            .filter(|(_, held)| **held == Use::Unknown)
            .map(|(place, _)| place)
    }

    /// Sets the use of the column at a place. Gives the place of the column that held the same
    /// until now and has become unknown by this. A place outside the sheet changes nothing.
    pub fn assign(&mut self, place: usize, held: Use) -> Option<usize> {
        if place >= self.uses.len() {
            return None;
        }
        let displaced = match held {
            Use::Holds(column) => self.place_of(column).filter(|other| *other != place),
            Use::Ignored | Use::Unknown => None,
        };
        if let Some(other) = displaced {
            self.uses[other] = Use::Unknown;
        }
        self.uses[place] = held;
        displaced
    }
}

/// Whether all cells are letters, as they tell the cables of one outlet apart.
fn are_letters(cells: &[&str]) -> bool {
    let is_letter = |cell: &&str| cell.len() == 1 && cell.starts_with(char::is_alphabetic);
    !cells.is_empty() && cells.iter().all(is_letter)
}

/// Whether all cells are numbers, perhaps with their unit.
fn are_numbers(cells: &[&str]) -> bool {
    let is_number = |cell: &&str| {
        cell.starts_with(|c: char| c.is_ascii_digit())
            && !cell.contains(|c: char| c.is_alphabetic() && !"ftmFTM".contains(c))
    };
    !cells.is_empty() && cells.iter().all(is_number)
}
