//! The reader of tags beside others: `cargo xtask bench scan`.

use std::path::PathBuf;

use crate::failure::Outcome;
use crate::run::Run;
use crate::{browser, paths, settings, site};

/// Makes the photographs, reads them natively, in wasm and with two other readers, and prints one table.
pub(crate) fn bench() -> Outcome {
    site::build_and_report()?;
    let photographs = paths::root().join("target/scan-photographs");
    let mut folders: Vec<PathBuf> = Vec::new();
    for seed in settings::SCAN_SEEDS {
        let folder = photographs.join(seed.to_string());
        Run::new("cargo")
            .words("run --release --example tag_photographs --")
            .arg(&folder)
            .arg(seed.to_string())
            .show()?;
        folders.push(folder);
    }
    let native = folders.iter().fold(
        Run::new("cargo").words("run --release --example scan --"),
        Run::arg,
    );
    native
        .env("STEPS", settings::SCAN_STEPS.to_string())
        .show()?;
    let others = folders.iter().fold(
        Run::new(python()?).arg(paths::browser().join("readers.py")),
        Run::arg,
    );
    others.show()?;
    let mut given = vec![PathBuf::from(settings::SCAN_STEPS.to_string())];
    given.extend(folders);
    browser::script("readers.mjs", &given)
}

/// An environment of its own for the other readers, which are no part of the app. They also need
/// Debian's `libzbar0`.
fn python() -> Outcome<PathBuf> {
    let folder = paths::root().join("target/scan-bench");
    let program = folder.join("bin/python");
    if !folder.join("done").is_file() {
        Run::new("python3").words("-m venv").arg(&folder).show()?;
        Run::new(&program)
            .words("-m pip install --quiet")
            .words(settings::SCAN_OTHERS)
            .show()?;
        std::fs::write(folder.join("done"), "")
            .map_err(|error| crate::failure::Failure::file("write", &folder, &error))?;
    }
    Ok(program)
}
