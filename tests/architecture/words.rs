//! Words that may stand nowhere, and words that may not stand on the screen.

use super::layout::own_text;
use super::source::{self, is_word};
use super::{TextFile, files, no_complaints};

/// Folders of one machine, hosts that packages come from, and talk of how a text came about: none
/// of it belongs in sources that outlive them. The halves are joined so that this file may hold them.
const NOWHERE: &[&str] = &[
    concat!("/wo", "rk/"),
    concat!("/ro", "ot/"),
    concat!("seed do", "cument"),
    concat!("trans", "cript"),
    concat!("registry.", "npmjs"),
    concat!("crates", ".io"),
    concat!("language", " model"),
    concat!("ai ass", "istant"),
];

/// Words of the program's inside. A person on site reads the trade's words instead.
const NOT_ON_SCREEN: &[&str] = &[
    "journal", "journals", "fold", "folds", "folded", "fork", "forks", "entry", "entries", "act",
    "acts", "segment", "segments",
];

#[test]
fn no_file_tells_of_a_machine_or_of_how_it_was_made() {
    let all = files(
        "",
        &[
            "rs",
            "md",
            "toml",
            "mjs",
            "js",
            "json",
            "html",
            "css",
            "svg",
            "txt",
            "csv",
            "webmanifest",
        ],
    );
    assert!(all.len() > 20, "the files were not found");
    let mut complaints = Vec::new();
    for file in &all {
        for (number, line) in file.text.lines().enumerate() {
            let lower = line.to_lowercase();
            for word in NOWHERE.iter().filter(|word| lower.contains(**word)) {
                complaints.push(format!("{}:{}: holds `{word}`", file.path, number + 1));
            }
        }
    }
    no_complaints(&complaints);
}

#[test]
fn no_words_for_people_come_of_debug() {
    // The app is built with `fmt-debug=none`: what `{:?}` writes in a test is empty in the browser.
    const FOR_TESTS: [&str; 2] = ["src/codes/qr.rs", "src/journal/registry.rs"];
    let sources = files("src", &["rs"]);
    let mut complaints = Vec::new();
    for file in sources
        .iter()
        .filter(|file| !FOR_TESTS.contains(&file.path.as_str()))
    {
        for (line, text) in source::read(own_text(&file.text)).strings {
            if text.contains("?}") {
                complaints.push(format!("{}:{line}: writes by Debug: {text}", file.path));
            }
        }
    }
    no_complaints(&complaints);
}

#[test]
fn the_screen_speaks_the_words_of_the_trade() {
    let sources = files("src", &["rs"]);
    let speaking = || sources.iter().filter(|file| speaks(&file.path));
    assert!(speaking().count() > 100, "the sources were not found");
    let mut complaints: Vec<String> = speaking().flat_map(strings_with_inner_words).collect();
    let mut pages = files("web", &["html"]);
    pages.extend(files("index.html", &["html"]));
    assert!(pages.len() > 1, "the pages were not found");
    for page in &pages {
        complaints
            .extend(inner_words(&page.text).map(|word| format!("{}: says `{word}`", page.path)));
    }
    no_complaints(&complaints);
}

/// Whether strings of a file reach the screen or a file for people. Below these the stored form has
/// the words of the inside, and the journal its own.
fn speaks(path: &str) -> bool {
    const FOLDERS: [&str; 7] = [
        "app", "codes", "command", "domain", "names", "query", "schedule",
    ];
    let inside = path.strip_prefix("src/").unwrap_or_default();
    let module = inside.split(['/', '.']).next().unwrap_or_default();
    module == "ui" || module == "walk" || FOLDERS.contains(&module)
}

fn strings_with_inner_words(file: &TextFile) -> Vec<String> {
    let strings = source::read(&file.text).strings;
    let tell = |line: usize, word: &str| format!("{}:{line}: a string says `{word}`", file.path);
    strings
        .iter()
        .flat_map(|(line, text)| inner_words(text).map(move |word| tell(*line, word)))
        .collect()
}

fn inner_words(text: &str) -> impl Iterator<Item = &'static str> + '_ {
    let lower = text.to_lowercase();
    NOT_ON_SCREEN.iter().copied().filter(move |word| {
        lower
            .split(|letter| !is_word(letter))
            .any(|found| found == *word)
    })
}

#[test]
fn inner_words_are_found_in_strings_and_only_whole() {
    let file = TextFile {
        path: "src/ui/x.rs".to_owned(),
        text: "let entry = fold(); // act\nsay(\"Two Entries\"); say(\"the actual folder\");"
            .to_owned(),
    };
    assert_eq!(
        strings_with_inner_words(&file),
        ["src/ui/x.rs:2: a string says `entries`"]
    );
}
