//! Headings as people spell them. The spellings are common practice, no source.

use crate::domain::sorted::SortedMap;
use std::sync::LazyLock;

use super::Column;

/// The heading of the column by which our own files for spreadsheets say that apostrophes were
/// put before dangerous first characters.
pub(super) const GUARD_HEADING: &str = "Apostrophe guard";

/// Spellings that mean one thing only, parted by commas.
const SURE: [(Column, &str); 18] = [
    (
        Column::Code,
        "label code, label, label id, label number, label text, code, cable id, \
         cable no, cable code, cable label, cable name, cable ref, cable reference, \
         cable tag, cable identifier, identifier, id, tag, tag id, tag no, wire id, \
         wire no, wire label, wire tag, run, run id, run no, drop, drop id, drop no, \
         home run",
    ),
    (
        Column::Floor,
        "floor, floor no, floor level, floor name, level, storey, story",
    ),
    (
        Column::Unit,
        "unit, unit no, unit name, flat, flat no, apartment, apartment no, apt, apt no, \
         building, block, dwelling, suite, house",
    ),
    (
        Column::Room,
        "room, room name, room description, location name, area, area name, \
         space, zone, destination room, to room",
    ),
    (
        Column::RoomCode,
        "room code, room abbreviation, room abbrev, room abbr, room id, room no, \
         room ref, room prefix, room short name, area code, location code",
    ),
    (
        Column::Outlet,
        "outlet, outlet no, outlet id, outlet code, plate, plate no, wall plate, \
         wall plate no, wallplate, faceplate, face plate, socket, socket no, point, \
         point no",
    ),
    (
        Column::OutletType,
        "outlet type, outlet kind, type of outlet, plate type, faceplate type, \
         socket type, point type",
    ),
    (
        Column::Spot,
        "place on the wall, place on wall, position on wall, location on wall, wall, \
         wall position, wall location, exact spot, spot",
    ),
    (
        Column::Letter,
        "letter, cable letter, suffix, cable suffix, letter suffix",
    ),
    (
        Column::Medium,
        "cable type, type of cable, cable kind, cable medium, cable media, \
         cable category, cable spec, cable specification, cabling type, medium, media, \
         media type, wire type, type of wire, wire spec, category",
    ),
    (
        Column::Purpose,
        "purpose, use, usage, used for, function, service, device, application, system, \
         equipment, for",
    ),
    (
        Column::From,
        "leaves from, from, from location, from room, from outlet, from device, origin, \
         source, start, starts at, fed from, feed from",
    ),
    (
        Column::Rack,
        "rack, rack id, rack name, rack no, cabinet, cabinet id, cabinet no, enclosure, \
         head end, headend, telecom space, telecom room, to rack, wiring closet, from closet",
    ),
    (
        Column::Panel,
        "panel, panel id, panel name, panel no, panel code, patch panel, patch panel id, \
         patch panel name, patch panel no",
    ),
    (
        Column::Position,
        "position, rack position, panel position, patch panel position, port, port no, \
         panel port, panel port no, patch panel port, patch panel port no, patch port, \
         rack port, terminal, terminal no, termination, terminates at, terminated at, \
         landed at, lands at, panel and port",
    ),
    (
        Column::OldName,
        "old name, old label, old code, old id, old tag, old cable id, old cable name, \
         previous name, previous label, previous id, former name, existing label, \
         existing name, hand written name, handwritten name, alias, also known as, aka",
    ),
    (
        Column::Length,
        "length, cable length, run length, estimated length, est length, len, footage, \
         distance, metres, meters, feet",
    ),
    (
        Column::Notes,
        "notes, note, remarks, notes remarks, remarks notes, notes comments, comments, \
         comment, memo, additional information, info",
    ),
];

/// Spellings that mean the first of these columns that no surer heading has taken.
const LOOSE: [(&str, &[Column]); 11] = [
    ("cable", &[Column::Code, Column::Medium]),
    ("wire", &[Column::Medium, Column::Code]),
    ("no", &[Column::Code, Column::Outlet]),
    ("name", &[Column::Code, Column::Room]),
    ("ref", &[Column::Code]),
    ("reference", &[Column::Code]),
    ("type", &[Column::Medium, Column::OutletType]),
    ("kind", &[Column::Medium, Column::OutletType]),
    ("spec", &[Column::Medium]),
    ("location", &[Column::Room, Column::Spot]),
    ("description", &[Column::Purpose, Column::Notes]),
];

/// Words that give a unit and change nothing about what a column holds.
const UNITS: [&str; 8] = ["m", "ft", "in", "foot", "feet", "metre", "meter", "approx"];

/// Words of a heading that may be one over lengths.
const LENGTHS: [&str; 8] = ["length", "len", "ft", "foot", "feet", "m", "metre", "meter"];

/// Whether a heading that is not known may be one over lengths.
pub(super) fn is_length(heading: &str) -> bool {
    words(heading)
        .iter()
        .any(|word| LENGTHS.contains(&word.as_str()))
}

/// The sure spellings as words, made once.
static SURE_WORDS: LazyLock<SortedMap<Vec<String>, Column>> = LazyLock::new(|| {
    let each = |(column, spellings): &(Column, &'static str)| {
        let column = *column;
        spellings
            .split(',')
            .map(move |spelling| (words(spelling), column))
    };
    SURE.iter().flat_map(each).collect()
});

/// Whether a heading is the one that marks a file made for spreadsheets.
pub(super) fn marks_guard(heading: &str) -> bool {
    words(heading) == words(GUARD_HEADING)
}

/// The column that a heading names, when its spelling leaves no doubt.
pub(super) fn sure(heading: &str) -> Option<Column> {
    let spoken = words(heading);
    if spoken.is_empty() {
        return None;
    }
    exact(&spoken).or_else(|| {
        let bare: Vec<String> = spoken
            .iter()
            .filter(|word| !UNITS.contains(&word.as_str()))
            .cloned()
            .collect();
        exact(&bare)
    })
}

fn exact(spoken: &[String]) -> Option<Column> {
    SURE_WORDS.get(spoken).copied()
}

/// The columns that a heading may name, the likeliest first.
pub(super) fn loose(heading: &str) -> &'static [Column] {
    let spoken = words(heading);
    LOOSE
        .iter()
        .find(|(spelling, _)| words(spelling) == spoken)
        .map_or(&[], |(_, columns)| *columns)
}

/// A text as plain words: lower case, no punctuation, no plural, one word for "number", so that
/// `Cable No.`, `CABLE_NUMBER`, `Cable #` and `cableNumbers` are the same.
pub(super) fn words(text: &str) -> Vec<String> {
    let mut spaced = String::with_capacity(text.len() + 8);
    let mut after_lower = false;
    for c in text.chars() {
        match c {
            '#' | '№' => spaced.push_str(" no "),
            // The degree sign is often typed for the ordinal sign of nº.
            '°' => spaced.push('º'),
            '\'' | '’' => {}
            _ if c.is_alphanumeric() => {
                if after_lower && c.is_uppercase() {
                    spaced.push(' ');
                }
                spaced.extend(c.to_lowercase());
            }
            _ => spaced.push(' '),
        }
        after_lower = c.is_lowercase();
    }
    spaced.split_whitespace().map(singular).collect()
}

fn singular(word: &str) -> String {
    match word {
        "number" | "numbers" | "num" | "nr" | "nbr" | "nos" | "nº" => "no".to_owned(),
        _ if word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") => {
            word[..word.len() - 1].to_owned()
        }
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_spelling_means_two_columns() {
        let mut seen: SortedMap<Vec<String>, Column> = SortedMap::new();
        for (column, spellings) in SURE {
            for spelling in spellings.split(',') {
                let other = *seen.or_insert(words(spelling), column);
                assert_eq!(other, column, "{spelling}");
            }
        }
        assert!(
            LOOSE
                .iter()
                .all(|(spelling, _)| !seen.contains_key(&words(spelling)))
        );
    }
}
