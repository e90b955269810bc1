//! Proposes the short code of a room from its name: `KIT` for a kitchen, `MBR` for the master
//! bedroom.
//!
//! A proposal has three letters or more, since two would also be the letters of a panel. It
//! never differs by one letter from a code in use, so that one slip of the pen or the tongue
//! does not name another room. There are two exceptions, which are meant to look alike: the letter
//! of the flat in front, as in `AKIT` and `BKIT`, and that of the number behind, as in `BEDA` for
//! bedroom 1 and `BEDB` for bedroom 2.

use crate::domain::sorted::SortedSet;

use crate::domain::label::{Letter, RoomCode};

/// How many letters a stem has at least, the letter of the flat not counted.
const SHORTEST_STEM: usize = 3;
/// How many letters a stem has at most in the wider search.
const LONGEST_STEM: usize = 4;
/// How many letters a room code has at most.
const LONGEST: usize = 5;

/// How many letters of a name are tried in all combinations.
const LETTERS_TRIED: usize = 12;

/// Words that say what kind of room it is, and what they are shortened to after another word.
/// Common practice on floor plans, no source.
const SHORT_FORMS: [(&str, &str); 14] = [
    ("BATH", "BA"),
    ("BATHROOM", "BA"),
    ("BED", "BR"),
    ("BEDROOM", "BR"),
    ("CLOSET", "CL"),
    ("GARAGE", "GAR"),
    ("HALL", "HL"),
    ("HALLWAY", "HL"),
    ("KITCHEN", "KT"),
    ("LAUNDRY", "LD"),
    ("OFFICE", "OF"),
    ("STORE", "ST"),
    ("STUDIO", "ST"),
    ("TOILET", "WC"),
];

/// Words that tell rooms apart from nothing, and so are left out where others are there.
const EMPTY_WORDS: [&str; 7] = ["A", "AND", "AREA", "OF", "ROOM", "SPACE", "THE"];

/// Numbers in a name, in words, because a code has letters alone.
const NUMBERS: [&str; 10] = [
    "NIL", "ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE",
];

/// Proposes a code for a room, unlike every code in `taken`. In a job with several flats,
/// `unit_prefix` is the letter of the room's flat; what is no letter is left out.
///
/// The same name and the same codes in use always give the same proposal. Once no code is left
/// that differs by two letters, one that differs by one is given, and once all are in use, one
/// that is in use; no job has so many rooms.
#[must_use]
pub fn propose_room_code(
    name: &str,
    unit_prefix: Option<char>,
    taken: &SortedSet<RoomCode>,
) -> RoomCode {
    let prefix = unit_prefix
        .map(|letter| letter.to_ascii_uppercase())
        .filter(char::is_ascii_uppercase);
    let fits = |stem: &String| with_prefix(prefix, stem);
    let is_free = |code: &RoomCode| !is_too_close(*code, prefix, taken);
    let words = words(name);
    if let Some(code) = numbered(&words, prefix, taken) {
        return code;
    }
    let from_name = stems(&words);
    // What begins as the name does is found more easily on a list of tags.
    let first = from_name.first().and_then(|stem| stem.bytes().next());
    let first = usize::from(first.map_or(0, |first| first - b'A'));
    let wider = (SHORTEST_STEM..=LONGEST_STEM).flat_map(|length| stems_of_length(length, first));
    let widest = (SHORTEST_STEM..=LONGEST).flat_map(|length| stems_of_length(length, first));
    from_name
        .iter()
        .filter_map(fits)
        .find(is_free)
        .or_else(|| wider.filter_map(|stem| fits(&stem)).find(is_free))
        .or_else(|| {
            widest
                .filter_map(|stem| fits(&stem))
                .find(|code| !taken.contains(code))
        })
        .or_else(|| from_name.iter().find_map(fits))
        .unwrap_or_else(|| RoomCode::new("ROOM").expect("four capitals are a room code"))
}

/// The code of a room with a number: the start of its noun, and the letter that stands at that place
/// among those that a pen keeps apart from digits, else the next one that is free. None for a room
/// without a number, and where no letter is free.
fn numbered(
    words: &[String],
    prefix: Option<char>,
    taken: &SortedSet<RoomCode>,
) -> Option<RoomCode> {
    let digit = |word: &String| NUMBERS.iter().position(|number| number == word);
    let digits: Vec<usize> = words.iter().rev().map_while(digit).collect();
    if digits.is_empty() {
        return None;
    }
    let noun = &words[..words.len() - digits.len()];
    let number = digits.iter().rev().fold(0, |number: usize, digit| {
        number.saturating_mul(10).saturating_add(*digit)
    });
    let stem = stems(noun).into_iter().find_map(|stem| {
        let code = with_prefix(prefix, &stem)?;
        (stem.len() == SHORTEST_STEM).then_some(code)
    })?;
    let is_alike = |code: &RoomCode| {
        let rest = code.as_str().strip_prefix(stem.as_str());
        rest.is_some_and(|rest| rest.len() <= 1)
    };
    let others = taken.iter().filter(|code| !is_alike(code)).copied();
    let others: SortedSet<RoomCode> = others.collect();
    let letters: Vec<Letter> = Letter::all().collect();
    let first = number.checked_sub(1).filter(|at| *at < letters.len());
    let from = letters.iter().cycle().skip(first.unwrap_or(0));
    from.take(letters.len())
        .filter_map(|letter| RoomCode::new(&format!("{stem}{}", letter.get())).ok())
        .find(|code| !taken.contains(code) && !is_too_close(*code, prefix, &others))
}

/// The code with the letter of the flat before it; none when that is too long or too short.
fn with_prefix(prefix: Option<char>, stem: &str) -> Option<RoomCode> {
    if stem.len() < SHORTEST_STEM {
        return None;
    }
    let code: String = prefix.into_iter().chain(stem.chars()).collect();
    RoomCode::new(&code).ok()
}

/// Whether a code is in use, or one letter changed, left out or put in makes one that is. With a
/// flat's letter in front, a change of that letter does not count.
fn is_too_close(code: RoomCode, prefix: Option<char>, taken: &SortedSet<RoomCode>) -> bool {
    let code = code.as_str();
    let is_taken = |text: &str| RoomCode::new(text).is_ok_and(|code| taken.contains(&code));
    let own_letters = usize::from(prefix.is_some());
    is_taken(code)
        || (0..=code.len()).any(|place| {
            let (head, tail) = code.split_at(place);
            let rest = tail.get(1..);
            let is_changed = |letter: char| {
                place >= own_letters
                    && rest.is_some_and(|rest| is_taken(&format!("{head}{letter}{rest}")))
            };
            let is_grown = |letter: char| is_taken(&format!("{head}{letter}{tail}"));
            rest.is_some_and(|rest| is_taken(&format!("{head}{rest}")))
                || ('A'..='Z').any(|letter| is_changed(letter) || is_grown(letter))
        })
}

/// The words of a name in capitals, without accents, numbers spelled out, and without words that
/// say nothing where others do.
fn words(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    for character in name.chars().flat_map(char::to_uppercase) {
        match without_accent(character) {
            Some(letters) => words
                .iter_mut()
                .last()
                .into_iter()
                .for_each(|word| *word += &letters),
            // An apostrophe does not part a word: the kids' room.
            None if matches!(character, '\'' | '’') => {}
            None => {
                let number = character.to_digit(10).map(|digit| NUMBERS[digit as usize]);
                words.push(number.unwrap_or_default().to_owned());
                words.push(String::new());
            }
        }
    }
    words.retain(|word| !word.is_empty());
    if words
        .iter()
        .any(|word| !EMPTY_WORDS.contains(&word.as_str()))
    {
        words.retain(|word| !EMPTY_WORDS.contains(&word.as_str()));
    }
    words
}

/// A capital as letters of ASCII, for the accents of western European languages.
fn without_accent(capital: char) -> Option<String> {
    let letters = match capital {
        'A'..='Z' => return Some(capital.to_string()),
        'À'..='Å' | 'Ā' | 'Ă' | 'Ą' => "A",
        'Æ' => "AE",
        'Ç' | 'Ć' | 'Č' => "C",
        'È'..='Ë' | 'Ē' | 'Ę' | 'Ě' => "E",
        'Ì'..='Ï' | 'Ī' => "I",
        'Ł' => "L",
        'Ñ' | 'Ń' => "N",
        'Ò'..='Ö' | 'Ø' | 'Ő' => "O",
        'Œ' => "OE",
        'Ś' | 'Š' => "S",
        'Ù'..='Ü' | 'Ű' | 'Ů' => "U",
        'Ý' | 'Ÿ' => "Y",
        'Ź' | 'Ż' | 'Ž' => "Z",
        _ => return None,
    };
    Some(letters.to_owned())
}

/// The stems that a name suggests, the best first. Some may be too short or too long.
fn stems(words: &[String]) -> Vec<String> {
    let mut letters: String = words.concat();
    if letters.len() < SHORTEST_STEM {
        letters.push_str("ROOM");
    }
    let mut stems = Vec::new();
    if let [lead @ .., last] = words
        && !lead.is_empty()
    {
        let short = SHORT_FORMS.iter().find(|(word, _)| word == last);
        stems.extend(short.map(|(_, short)| initials(lead) + short));
        initials_with(lead, last, &mut stems);
    }
    if let Some(first) = words.first() {
        let consonants: String = first
            .chars()
            .skip(1)
            .filter(|c| !"AEIOU".contains(*c))
            .collect();
        stems.push(head(first, 3).to_owned());
        stems.push(format!("{}{}", head(first, 1), head(&consonants, 2)));
        stems.push(head(first, 4).to_owned());
    }
    stems.push(head(&letters, SHORTEST_STEM).to_owned());
    // A further room of the name is called by its number, as people would call it.
    for number in &NUMBERS[2..] {
        initials_with(words, number, &mut stems);
    }
    for length in SHORTEST_STEM..=LONGEST {
        choose(
            head(&letters, LETTERS_TRIED),
            length,
            String::new(),
            &mut stems,
        );
    }
    stems
}

fn initials(words: &[String]) -> String {
    let initials = words.iter().filter_map(|word| word.chars().next());
    initials.take(2).collect()
}

/// The initials of the first words with as much of a last one as makes a stem, or one letter more.
fn initials_with(lead: &[String], last: &str, stems: &mut Vec<String>) {
    let initials = initials(lead);
    let missing = SHORTEST_STEM.saturating_sub(initials.len()).max(1);
    stems.extend([missing, missing + 1].map(|count| format!("{initials}{}", head(last, count))));
}

fn head(word: &str, count: usize) -> &str {
    word.get(..count).unwrap_or(word)
}

/// All ways to keep `length` of the letters in their order, the first of them always.
fn choose(letters: &str, length: usize, so_far: String, stems: &mut Vec<String>) {
    if so_far.len() == length {
        stems.push(so_far);
        return;
    }
    for (place, letter) in letters.char_indices() {
        choose(
            &letters[place + 1..],
            length,
            format!("{so_far}{letter}"),
            stems,
        );
        if so_far.is_empty() {
            break;
        }
    }
}

/// All stems of a length, in the order of the alphabet, which begins anew behind Z.
fn stems_of_length(length: usize, first: usize) -> impl Iterator<Item = String> {
    let places = (0..length).rev().map(|place| 26_usize.pow(place as u32));
    let places: Vec<usize> = places.collect();
    let weight = places.first().copied().unwrap_or(0);
    (0..weight * 26).map(move |number| {
        let number = number + first * weight;
        let letter = |place: &usize| ('A'..='Z').nth(number / place % 26).unwrap_or('A');
        places.iter().map(letter).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(texts: &[&str]) -> SortedSet<RoomCode> {
        texts
            .iter()
            .map(|text| RoomCode::new(text).expect("a room code"))
            .collect()
    }

    /// Names rooms one after the other, as a job is planned.
    fn planned(
        names: &[&str],
        unit_prefix: Option<char>,
        taken: &mut SortedSet<RoomCode>,
    ) -> Vec<String> {
        names
            .iter()
            .map(|name| {
                let code = propose_room_code(name, unit_prefix, taken);
                taken.insert(code);
                code.to_string()
            })
            .collect()
    }

    #[test]
    fn names_suggest_their_codes() {
        for (name, code) in [
            ("Kitchen", "KIT"),
            ("Master bedroom", "MBR"),
            ("Living room", "LIV"),
            ("The kids’ room", "KID"),
            ("Pottery studio", "PST"),
            ("Entrance hall", "EHL"),
            ("Guest bathroom", "GBA"),
            ("Plant room", "PLA"),
            ("Bedroom 2", "BEDB"),
            ("Bedroom 10", "BEDK"),
            ("Bath two", "BATB"),
            ("Master bedroom 1", "MBRA"),
            ("Room 3", "ROOC"),
            ("Küche", "KUC"),
            ("WC", "WCR"),
            ("", "ROO"),
            ("Room", "ROO"),
            ("厨房", "ROO"),
        ] {
            assert_eq!(
                propose_room_code(name, None, &SortedSet::new()).to_string(),
                code,
                "{name}"
            );
        }
    }

    #[test]
    fn rooms_of_one_name_stay_two_letters_apart() {
        let mut taken = SortedSet::new();
        let names = [
            "Kitchen",
            "Kitchen",
            "Bedroom 1",
            "Bedroom 2",
            "Bedroom 3",
            "Bathroom",
        ];
        let codes = planned(&names, None, &mut taken);
        assert_eq!(codes, ["KIT", "KTC", "BEDA", "BEDB", "BEDC", "BAT"]);
    }

    #[test]
    fn a_number_is_a_letter_behind_the_noun() {
        // What is one letter away from a room of another noun is left out.
        let mut taken = codes(&["BEA"]);
        assert_eq!(planned(&["Bedroom 1"], None, &mut taken), ["BEDB"]);
        let mut taken = SortedSet::new();
        let names = ["Bedroom", "Bedroom 1", "Bedroom 3", "Bedroom 3", "Bath 2"];
        let codes = planned(&names, None, &mut taken);
        assert_eq!(codes, ["BED", "BEDA", "BEDC", "BEDD", "BATB"]);
        let mut taken = SortedSet::new();
        assert_eq!(planned(&["Bedroom 2"], Some('A'), &mut taken), ["ABEDB"]);
        assert_eq!(planned(&["Bedroom 2"], Some('B'), &mut taken), ["BBEDB"]);
        // A number past the letters takes the first that is free, as do more rooms than letters.
        let mut taken = SortedSet::new();
        let codes = planned(&["Office 101", "Office 102"], None, &mut taken);
        assert_eq!(codes, ["OFFA", "OFFB"]);
        let mut taken = SortedSet::new();
        let codes = planned(&["Office 1"; 22], None, &mut taken);
        assert_eq!(codes[20], "OFFY");
        assert!(!codes[21].starts_with("OFF"), "{codes:?}");
    }

    #[test]
    fn further_rooms_of_one_name_are_called_by_their_number() {
        let mut taken = SortedSet::new();
        let codes = planned(&["Hall"; 5], None, &mut taken);
        assert_eq!(codes, ["HAL", "HTW", "HTHR", "HFO", "HFIV"]);
        let mut taken = SortedSet::new();
        let codes = planned(&["Master bedroom"; 3], None, &mut taken);
        assert_eq!(codes, ["MBR", "MBED", "MAS"]);
        // Thirty are more than any house has, and each begins as the name does.
        let mut taken = SortedSet::new();
        let codes = planned(&["Hall"; 30], None, &mut taken);
        assert!(codes.iter().all(|code| code.starts_with('H')), "{codes:?}");
    }

    #[test]
    fn flats_share_the_stem() {
        let mut taken = SortedSet::new();
        let names = ["Kitchen", "Master bedroom"];
        assert_eq!(planned(&names, Some('a'), &mut taken), ["AKIT", "AMBR"]);
        assert_eq!(planned(&names, Some('B'), &mut taken), ["BKIT", "BMBR"]);
        // One letter put in front is one letter, and so a flat's code keeps away from a house's.
        let taken = codes(&["KIT"]);
        assert_eq!(
            propose_room_code("Kitchen", Some('A'), &taken).to_string(),
            "AKTC"
        );
        // What is no letter is no prefix.
        assert_eq!(
            propose_room_code("Kitchen", Some('1'), &SortedSet::new()).to_string(),
            "KIT"
        );
    }

    #[test]
    fn one_edit_is_too_close() {
        for (code, prefix, taken, close) in [
            ("KIT", None, "KIT", true),
            ("KIT", None, "KIS", true),
            ("KIT", None, "AIT", true),
            ("KIT", None, "KI", true),
            ("KIT", None, "KITS", true),
            ("KIT", None, "KEIT", true),
            ("KIT", None, "KTI", false),
            ("KIT", None, "KEYT", false),
            ("AKIT", Some('A'), "BKIT", false),
            ("AKIT", None, "BKIT", true),
            ("AKIT", Some('A'), "AKIT", true),
            ("AKIT", Some('A'), "AKIS", true),
        ] {
            let code = RoomCode::new(code).expect("a room code");
            assert_eq!(
                is_too_close(code, prefix, &codes(&[taken])),
                close,
                "{code} {taken}"
            );
        }
    }

    #[test]
    fn something_is_proposed_when_all_short_codes_are_in_use() {
        let taken: SortedSet<RoomCode> = (SHORTEST_STEM..=LONGEST_STEM)
            .flat_map(|length| stems_of_length(length, 0))
            .filter_map(|stem| with_prefix(None, &stem))
            .collect();
        assert_eq!(taken.len(), 26 * 26 * 26 * 27);
        let code = propose_room_code("Kitchen", None, &taken);
        assert_eq!(code.to_string(), "KAAAA");
        let free = RoomCode::new("QQQ").expect("a room code");
        let taken = taken.into_iter().filter(|code| *code != free).collect();
        // A free code that is one letter from others is better than none.
        assert_eq!(
            propose_room_code("Kitchen", None, &taken).to_string(),
            "QQQ"
        );
    }
}
