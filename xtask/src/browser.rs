//! The tests in a real browser.

use std::path::PathBuf;

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{packages, paths};

/// Runs the spec files whose names contain one of `names`, or all of them.
pub(crate) fn run(names: &[String]) -> Outcome {
    let specs = specs(names)?;
    let run = node()?.words("--test --test-reporter=spec --test-concurrency=1");
    specs.iter().fold(run, Run::arg).show()
}

/// One of the scripts in `tests/browser/`, to be run.
pub(crate) fn script(name: &str) -> Outcome<Run> {
    Ok(node()?.arg(paths::browser().join(name)))
}

fn node() -> Outcome<Run> {
    packages::npm()?;
    Ok(Run::new("node")
        .env("CHROMIUM", packages::chromium()?)
        .env("BOTHENDS_DIST", paths::dist())
        .env("BOTHENDS_DIST_NEXT", paths::next_dist()))
}

fn specs(names: &[String]) -> Outcome<Vec<PathBuf>> {
    let folder = paths::browser().join("specs");
    let entries =
        std::fs::read_dir(&folder).map_err(|error| Failure::file("read", &folder, &error))?;
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| {
            let file = path.file_name().unwrap_or_default().to_string_lossy();
            file.ends_with(".test.mjs")
                && (names.is_empty() || names.iter().any(|name| file.contains(name.as_str())))
        })
        .collect();
    found.sort();
    if found.is_empty() {
        return Err(Failure::new(format!(
            "no spec file in {} is called like that",
            folder.display()
        )));
    }
    Ok(found)
}
