//! Whether every direct dependency is named somewhere in our sources.

use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::{metadata, paths};

/// Compares each package's direct dependencies with the words of its own sources.
pub(crate) fn check() -> Outcome {
    let mut unused = Vec::new();
    let mut counted = 0;
    for package in metadata::packages()?.iter().filter(|package| package.ours) {
        let folder = if package.name == "xtask" {
            "xtask"
        } else {
            "."
        };
        let own = sources(folder, &["src"])?;
        let tests = sources(folder, &["src", "tests", "examples"])?;
        for dependency in &package.dependencies {
            counted += 1;
            if !names(
                if dependency.for_tests { &tests } else { &own },
                &dependency.name,
            ) {
                unused.push(format!("{} (of {})", dependency.name, package.name));
            }
        }
    }
    if unused.is_empty() {
        println!("{counted} direct dependencies, all of them used");
        return Ok(());
    }
    Err(Failure::new(format!(
        "dependencies that no source names: {}",
        unused.join(", ")
    )))
}

fn sources(package: &str, folders: &[&str]) -> Outcome<String> {
    let mut all = String::new();
    for folder in folders {
        gather(&paths::root().join(package).join(folder), &mut all)?;
    }
    Ok(all)
}

/// The table of modules names crates without using them, so its folder is left out.
fn gather(folder: &Path, into: &mut String) -> Outcome {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Ok(());
    };
    for path in entries.flatten().map(|entry| entry.path()) {
        let is_rust = path.extension().is_some_and(|extension| extension == "rs");
        if path.is_dir() && !path.ends_with("node_modules") && !path.ends_with("tests/architecture")
        {
            gather(&path, into)?;
        } else if is_rust {
            into.push_str(
                &std::fs::read_to_string(&path)
                    .map_err(|error| Failure::file("read", &path, &error))?,
            );
        }
    }
    Ok(())
}

/// Whether a line that is no comment holds the name as a whole word.
fn names(sources: &str, name: &str) -> bool {
    let is_part = |letter: char| letter.is_alphanumeric() || letter == '_';
    sources
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .any(|line| {
            line.split(|letter: char| !is_part(letter))
                .any(|word| word == name)
        })
}

#[cfg(test)]
mod tests {
    use super::names;

    #[test]
    fn only_whole_words_outside_comments_count() {
        assert!(names("use serde_json::Value;", "serde_json"));
        assert!(!names("use serde_json::Value;", "serde"));
        assert!(!names("// serde is not used\n", "serde"));
        assert!(names("#[derive(serde::Serialize)]", "serde"));
    }
}
