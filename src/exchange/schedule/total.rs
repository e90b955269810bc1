//! Total lines below a schedule.

use super::heading::words;

/// Words that make a line a total.
const TOTALS: [&str; 4] = ["total", "subtotal", "sum", "count"];

/// Words that may stand in a total line beside them; singular, as `words` gives them.
const COMPANIONS: [&str; 24] = [
    "grand", "sub", "overall", "no", "of", "all", "the", "cable", "wire", "run", "drop", "outlet",
    "room", "end", "length", "metre", "meter", "m", "feet", "foot", "ft", "per", "pc", "piece",
];

/// Whether a row only counts what stands above it: every cell that is not blank is a number, a
/// formula or words such as "Grand total", and at least one cell says that it is a total.
pub(super) fn is_total(cells: &[&str]) -> bool {
    let filled: Vec<&str> = cells
        .iter()
        .map(|cell| cell.trim())
        .filter(|cell| !cell.is_empty())
        .collect();
    let says_total = |cell: &&str| kind_of(cell) == Cell::Total;
    let fits = |cell: &&str| kind_of(cell) != Cell::Other;
    // "24 cables" alone on a line is a count as well.
    let lone_count = filled.len() == 1 && kind_of(filled[0]) == Cell::CountedThings;
    lone_count || (filled.iter().any(says_total) && filled.iter().all(fits))
}

#[derive(PartialEq, Eq)]
enum Cell {
    Total,
    CountedThings,
    Number,
    Other,
}

fn kind_of(cell: &str) -> Cell {
    if cell.starts_with('=') {
        return Cell::Number;
    }
    let spoken = words(cell);
    let numeric = |word: &String| word.bytes().all(|byte| byte.is_ascii_digit());
    // "23m" is a number with its unit.
    let measured = |word: &String| {
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
        unit.len() < word.len() && COMPANIONS.contains(&unit)
    };
    let total = |word: &String| TOTALS.contains(&word.as_str());
    let companion = |word: &String| COMPANIONS.contains(&word.as_str());
    let known = |word: &String| numeric(word) || measured(word) || total(word) || companion(word);
    if spoken.is_empty() || !spoken.iter().all(known) {
        return Cell::Other;
    }
    let number_of = spoken.len() > 2 && spoken[0] == "no" && spoken[1] == "of";
    if spoken.iter().any(total) || number_of {
        Cell::Total
    } else if spoken.len() == 2 && numeric(&spoken[0]) {
        Cell::CountedThings
    } else if numeric(&spoken[0]) || measured(&spoken[0]) {
        Cell::Number
    } else {
        Cell::Other
    }
}
