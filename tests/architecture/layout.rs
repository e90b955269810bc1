//! Files and functions: their opening, their length, and that no test file is forgotten.

use super::source::{self, is_word};
use super::{files, no_complaints, remark};

/// A file above this is worth talking about.
const TALK: usize = 400;
/// A file above this, its inner tests not counted, must be split.
const SPLIT: usize = 800;
/// A function above this should be one flat `match`.
const LONG_FUNCTION: usize = 60;

fn rust_files() -> Vec<super::TextFile> {
    ["src", "tests", "xtask/src", "examples"]
        .into_iter()
        .flat_map(|folder| files(folder, &["rs"]))
        .collect()
}

#[test]
fn every_file_opens_with_what_it_is_for() {
    let all = rust_files();
    assert!(all.len() > 10, "the sources were not found");
    let silent = all.iter().filter(|file| !file.text.starts_with("//! "));
    no_complaints(
        &silent
            .map(|file| format!("{}: does not open with a `//!` comment", file.path))
            .collect::<Vec<_>>(),
    );
}

#[test]
fn no_file_is_too_long() {
    let mut complaints = Vec::new();
    for file in rust_files() {
        let lines = own_lines(&file.text);
        if lines > SPLIT {
            complaints.push(format!(
                "{}: {lines} lines, at most {SPLIT}: split it",
                file.path
            ));
        } else if lines > TALK {
            remark(&format!(
                "{} has {lines} lines; above {TALK} a file is worth talking about",
                file.path
            ));
        }
    }
    no_complaints(&complaints);
}

/// The text before the inner tests.
pub(super) fn own_text(text: &str) -> &str {
    let mut parts = text.split("\n#[cfg(test)]\nmod tests {");
    parts.next().unwrap_or(text)
}

fn own_lines(text: &str) -> usize {
    own_text(text).lines().count()
}

#[test]
fn long_functions_are_told() {
    let all = rust_files();
    let lengths: Vec<_> = all
        .iter()
        .map(|file| (file, functions(&source::read(&file.text).code)))
        .collect();
    assert!(
        lengths.iter().map(|(_, found)| found.len()).sum::<usize>() > 20,
        "no functions were found"
    );
    for (file, found) in lengths {
        for (name, lines) in found
            .into_iter()
            .filter(|(_, lines)| *lines > LONG_FUNCTION)
        {
            remark(&format!(
                "{}: `{name}` has {lines} lines; above {LONG_FUNCTION} only a flat match should",
                file.path
            ));
        }
    }
}

/// Every function with a body: its name and its lines from `fn` to the closing brace.
fn functions(code: &str) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    for (at, _) in code
        .match_indices("fn ")
        .filter(|(at, _)| !code[..*at].ends_with(is_word))
    {
        let rest = &code[at + 3..];
        let name = &rest[..rest.find(|letter| !is_word(letter)).unwrap_or(0)];
        let body = rest
            .find(['{', ';'])
            .filter(|at| rest[*at..].starts_with('{'));
        let Some(body) = body.filter(|_| !name.is_empty()) else {
            continue;
        };
        let mut depth = 0_usize;
        let end = rest[body..].char_indices().find(|(_, letter)| {
            depth = match letter {
                '{' => depth + 1,
                '}' => depth - 1,
                _ => depth,
            };
            depth == 0
        });
        let length = end.map_or(rest.len(), |(at, _)| body + at);
        found.push((name.to_owned(), rest[..length].matches('\n').count() + 1));
    }
    found
}

#[test]
fn every_test_file_is_declared() {
    let all = files("tests", &["rs"]);
    let mut complaints = Vec::new();
    for file in all.iter().filter(|file| file.path != "tests/runner.rs") {
        let (folder, name) = file
            .path
            .trim_end_matches(".rs")
            .rsplit_once('/')
            .unwrap_or_default();
        let parent = if folder == "tests" {
            "tests/runner.rs".to_owned()
        } else {
            format!("{folder}.rs")
        };
        let declares = |line: &str| line.trim().ends_with(&format!("mod {name};"));
        if !all
            .iter()
            .any(|other| other.path == parent && other.text.lines().any(declares))
        {
            complaints.push(format!(
                "{}: not declared in {parent}, so it never runs",
                file.path
            ));
        }
    }
    no_complaints(&complaints);
}

#[test]
fn lengths_are_counted_as_a_person_would() {
    let code = "fn one() {\n  if a {\n  }\n}\ntrait T { fn none(&self); fn two() -> X {\n} }";
    assert_eq!(
        functions(code),
        [("one".to_owned(), 4), ("two".to_owned(), 2)]
    );
    assert_eq!(
        own_lines("//! a\nfn b() {}\n\n#[cfg(test)]\nmod tests {\n}\n"),
        3 - 1
    );
}
