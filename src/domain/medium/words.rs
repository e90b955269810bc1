//! How people write media in schedules. What cannot be read for sure is not guessed: several cables
//! in one cell are told apart from one, and words that say more than the medium are told.

use super::{Conductors, Kind, Medium, Sheath};

/// What the words of a schedule say about a cable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InWords {
    /// One medium, and nothing else.
    Just(Medium),
    /// One medium, and words that say more than it.
    AndMore(Medium),
    /// More than one cable.
    Several,
    /// Nothing known.
    Unknown,
}

/// Letters alone, digits alone, or one of the signs that mean something.
struct Atom<'a> {
    text: &'a str,
    /// Whether it follows the one before without anything between.
    joined: bool,
    /// Whether it says no more than the medium does.
    told: bool,
}

const BURIAL: &[&str] = &[
    "burial",
    "buried",
    "underground",
    "outdoor",
    "outdoors",
    "uv",
];

/// Words beside any medium that say no more than it.
const USUAL: &[&str] = &["cable", "cables", "wire", "wires", "awg", "direct", "/"];

/// Words before a kind that say that there are two of it.
const TWICE: &[&str] = &["two", "dual", "double", "twin"];

/// Reads the words of a schedule.
#[must_use]
pub fn in_words(words: &str) -> InWords {
    // The way to say that a medium is the job's own, whatever it reminds of.
    if let Some((own, words)) = words.split_once(':')
        && own.trim().eq_ignore_ascii_case("own")
    {
        return InWords::Just(Medium::indoor(Kind::Own(words.trim().to_owned())));
    }
    let lower = words.to_lowercase();
    let mut atoms = atoms(&lower);
    let has = |atoms: &[Atom], words: &[&str]| atoms.iter().any(|atom| words.contains(&atom.text));
    let is_buried = has(&atoms, BURIAL);
    let mut kinds = Vec::new();
    let mut at = 0;
    while at < atoms.len() {
        let next = |ahead: usize| atoms.get(at + ahead).map_or("", |atom| atom.text);
        let (found, used) = match atoms[at].text {
            "cat" | "category" => category(&atoms[at..]),
            "rg" => match next(1) {
                "6" => (Some(Kind::Rg6), 2),
                "59" => (Some(Kind::Rg59), 2),
                _ => (None, 2),
            },
            "fibre" | "fiber" | "fibres" | "fibers" => (Some(Kind::Fibre { strands: 0 }), 1),
            "x" | "×" if is_count(next(1)) && next(2).is_empty() => return InWords::Several,
            "siamese" => return InWords::Several,
            text if is_count(text) || TWICE.contains(&text) => {
                let times = usize::from(matches!(next(1), "x" | "×"));
                let is_next = matches!(next(1 + times), "cat" | "category" | "rg")
                    || (times == 1 && next(3) == "/");
                if is_next {
                    return InWords::Several;
                }
                match conductors(text, next(1), next(2)) {
                    Some(kind) => (Some(kind), 3),
                    None => {
                        at += 1;
                        continue;
                    }
                }
            }
            _ => {
                at += 1;
                continue;
            }
        };
        kinds.push((found, at, used));
        at += used;
    }
    // `Cat 6 23/4` gives the gauge of the pairs, not a second cable.
    let is_category = |kind: &Option<Kind>| matches!(kind, Some(Kind::Cat6Utp | Kind::Cat6aFtp));
    if kinds.iter().any(|(kind, ..)| is_category(kind)) {
        kinds.retain(|(kind, ..)| !is_pairs(kind.as_ref()));
    }
    // A shade says what a cable is for where the cable itself is given, unless as a gauge.
    if has(&atoms, &["shade", "shades", "blind", "blinds"])
        && kinds.iter().all(|(kind, ..)| is_conductors(kind.as_ref()))
    {
        let is_data = has(&atoms, &["data", "bus"]);
        let kind = if is_data {
            Kind::ShadeData
        } else {
            Kind::ShadePower
        };
        kinds = vec![(Some(kind), 0, 0)];
    }
    // Coax alone is series 6.
    let is_coax = |kind: &Option<Kind>| matches!(kind, None | Some(Kind::Rg6 | Kind::Rg59));
    let is_coax_alone = kinds.is_empty();
    if has(&atoms, &["coax"]) && !kinds.iter().any(|(kind, ..)| is_coax(kind)) {
        kinds.push((Some(Kind::Rg6), 0, 0));
    }
    if kinds.len() > 1 {
        return InWords::Several;
    }
    let Some((Some(mut kind), from, used)) = kinds.pop() else {
        return InWords::Unknown;
    };
    for atom in atoms.iter_mut().skip(from).take(used) {
        atom.told = true;
    }
    tell(&mut atoms, &mut kind, is_buried);
    let is_all = atoms.iter().all(|atom| atom.told);
    if is_coax_alone && kind == Kind::Rg6 && !is_all {
        return InWords::Unknown;
    }
    let counted = !matches!(kind, Kind::Fibre { strands: 0 });
    if let Kind::Fibre { strands } = &mut kind {
        *strands = if *strands == 0 { 2 } else { *strands };
    }
    let sheath = if is_buried {
        Sheath::DirectBurial
    } else {
        Sheath::Indoor
    };
    let medium = Medium { kind, sheath };
    if is_all && counted {
        InWords::Just(medium)
    } else {
        InWords::AndMore(medium)
    }
}

/// Marks what says no more than the kind, and reads what belongs to it: the shield of a category
/// cable and the strands of a fibre.
fn tell(atoms: &mut [Atom], kind: &mut Kind, is_buried: bool) {
    for at in 0..atoms.len() {
        let (before, rest) = atoms.split_at_mut(at);
        let (atom, after) = rest.split_first_mut().unwrap_or_else(|| unreachable!());
        if atom.told {
            continue;
        }
        let last = before.last().map_or("", |atom| atom.text);
        let text = atom.text;
        let is_foil = text == "utp" && before.iter().rev().nth(1).is_some_and(|f| f.text == "f");
        atom.told = USUAL.contains(&text)
            || BURIAL.contains(&text)
            || (text == "indoor" && !is_buried)
            || match kind {
                Kind::Cat6Utp | Kind::Cat6Ftp | Kind::Cat6aFtp => {
                    let shield = ["ftp", "stp", "shield", "shielded", "screened", "screen"];
                    let is_shielded =
                        is_foil || shield.contains(&text) && !matches!(last, "non" | "not" | "no");
                    if is_shielded && *kind == Kind::Cat6Utp {
                        *kind = Kind::Cat6Ftp;
                    }
                    let bare = matches!(text, "u" | "utp" | "unshielded");
                    is_shielded
                        || (bare && *kind != Kind::Cat6aFtp)
                        || (text == "f" && after.get(1).is_some_and(|next| next.text == "utp"))
                        || matches!(text, "data" | "network" | "ethernet" | "lan")
                }
                Kind::Rg6 | Kind::Rg59 => matches!(text, "coax" | "u" | "coaxial"),
                Kind::Speaker(_) => matches!(text, "speaker" | "audio" | "speakers"),
                Kind::Control(_) => matches!(text, "control" | "alarm" | "security"),
                Kind::ShadePower | Kind::ShadeData => matches!(
                    text,
                    "shade" | "shades" | "blind" | "blinds" | "power" | "data" | "bus"
                ),
                Kind::Fibre { strands } => {
                    let count = text.parse().ok().filter(|count| (1..=288).contains(count));
                    match count.filter(|_| *strands == 0 && !(atom.joined && is_letters(last))) {
                        Some(count) => {
                            *strands = count;
                            true
                        }
                        None => matches!(
                            text,
                            "strand" | "strands" | "core" | "cores" | "optic" | "optical"
                        ),
                    }
                }
                Kind::Own(_) => true,
            };
    }
}

fn atoms(lower: &str) -> Vec<Atom<'_>> {
    let mut atoms: Vec<Atom> = Vec::new();
    let mut end = 0;
    let mut rest = lower;
    while let Some(first) = rest.chars().next() {
        let alike = |c: char| {
            c.is_alphabetic() && first.is_alphabetic()
                || c.is_ascii_digit() && first.is_ascii_digit()
        };
        let long = rest.find(|c| !alike(c)).unwrap_or(rest.len());
        let at = lower.len() - rest.len();
        let (text, after) = rest.split_at(long.max(first.len_utf8()));
        if long > 0 || matches!(first, '/' | '×') {
            let joined = at == end && at > 0;
            atoms.push(Atom {
                text,
                joined,
                told: false,
            });
            end = at + text.len();
        }
        rest = after;
    }
    atoms
}

/// The kind of a category cable, and how many atoms say it; none for a category that is not known.
fn category(atoms: &[Atom]) -> (Option<Kind>, usize) {
    let text = |at: usize| atoms.get(at).map_or("", |atom| atom.text);
    match (text(1), text(2)) {
        ("6", "a") => (Some(Kind::Cat6aFtp), 3),
        // One letter behind it makes it another category.
        ("6", letter) if letter.len() == 1 && is_letters(letter) && atoms[2].joined => (None, 3),
        ("6", _) => (Some(Kind::Cat6Utp), 2),
        _ => (None, 1),
    }
}

/// The kind of `16/4`.
fn conductors(gauge: &str, slash: &str, count: &str) -> Option<Kind> {
    let (gauge, count) = (gauge.parse().ok()?, count.parse().ok()?);
    let conductors = Conductors { gauge, count };
    match gauge {
        _ if slash != "/" || !(1..=24).contains(&count) => None,
        10 | 12 | 14 | 16 => Some(Kind::Speaker(conductors)),
        18..=24 => Some(Kind::Control(conductors)),
        _ => None,
    }
}

fn is_conductors(kind: Option<&Kind>) -> bool {
    matches!(kind, Some(Kind::Speaker(_) | Kind::Control(_)))
}

/// Whether it may be the gauge and count of a category cable's pairs.
fn is_pairs(kind: Option<&Kind>) -> bool {
    matches!(kind, Some(Kind::Control(c)) if c.gauge >= 22 && c.count == 4)
}

fn is_letters(text: &str) -> bool {
    text.starts_with(char::is_alphabetic)
}

/// Whether it is a number above one.
fn is_count(text: &str) -> bool {
    text.parse::<u16>().is_ok_and(|count| count > 1)
}
