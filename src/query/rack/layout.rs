//! How the positions of a panel lie side by side: at most 24 in a row, left to right and top to
//! bottom from the front, each row mirrored from the rear.
//!
//! A row is drawn in two halves, so that a narrow screen can put one below the other.

use crate::domain::label::PositionNumber;
use crate::domain::mount;
use crate::domain::place::Face;
use crate::journal::PanelSize;

/// The most positions in one row.
const ROW: usize = mount::ROW as usize;

/// Where a position is in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlaceInRow {
    /// The row, from 1 at the top.
    pub row: usize,
    /// How many rows there are.
    pub rows: usize,
    /// The place from the left among the positions of its row, from 1, as seen from the face asked
    /// for.
    pub from_left: usize,
    /// The place from the right, from 1, as seen from the same face.
    pub from_right: usize,
}

/// Positions that are drawn side by side: half a row, or a short row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// The row, from 1 at the top.
    pub row: usize,
    /// Whether it is the left part of its row, or all of it.
    pub starts_row: bool,
    /// How many places wide a group of this panel is; a short one leaves room.
    pub width: usize,
    /// Which positions, from left to right; none where the last row has no position.
    pub cells: Vec<Option<PositionNumber>>,
}

/// Rows of equal width, the last one short at its end.
struct Rows {
    count: usize,
    width: usize,
}

fn rows(size: PanelSize) -> Rows {
    let size = usize::from(size.get());
    let count = size.div_ceil(ROW);
    Rows {
        count,
        width: size.div_ceil(count),
    }
}

/// Where a position is, seen from a face.
#[must_use]
pub fn place_in_row(size: PanelSize, number: PositionNumber, face: Face) -> PlaceInRow {
    let Rows { count, width } = rows(size);
    let at = usize::from(number.get()) - 1;
    let from_first = at % width + 1;
    // Where a short row ends, a panel has no ports that one could count.
    let in_row = width.min(usize::from(size.get()) - at / width * width);
    let from_last = in_row + 1 - from_first;
    let (from_left, from_right) = match face {
        Face::Front => (from_first, from_last),
        Face::Rear => (from_last, from_first),
    };
    PlaceInRow {
        row: at / width + 1,
        rows: count,
        from_left,
        from_right,
    }
}

/// Every position of a panel with where it is, seen from a face.
#[must_use]
pub fn places_in_rows(size: PanelSize, face: Face) -> Vec<(PositionNumber, PlaceInRow)> {
    let numbers = (1..=size.get()).filter_map(PositionNumber::new);
    numbers
        .map(|number| (number, place_in_row(size, number, face)))
        .collect()
}

/// The groups of a panel, row by row and from left to right as seen from a face.
#[must_use]
pub fn groups(size: PanelSize, face: Face) -> Vec<Group> {
    let Rows { count, width } = rows(size);
    let half = if width > ROW / 2 {
        width.div_ceil(2)
    } else {
        width
    };
    let mut groups = Vec::new();
    for row in 0..count {
        let mut cells: Vec<Option<PositionNumber>> = (1..=width)
            .map(|place| {
                let number = u16::try_from(row * width + place).ok()?;
                PositionNumber::new(number).filter(|number| number.get() <= size.get())
            })
            .collect();
        if face == Face::Rear {
            cells.reverse();
        }
        groups.extend(cells.chunks(half).enumerate().map(|(part, cells)| Group {
            row: row + 1,
            starts_row: part == 0,
            width: half,
            cells: cells.to_vec(),
        }));
    }
    groups
}
