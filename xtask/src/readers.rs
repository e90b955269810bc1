//! The reader of tags beside others: `cargo xtask bench scan`.

use std::path::{Path, PathBuf};

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{browser, paths, rows, settings, site};

/// The variable of the environment that says why the other readers were not asked.
const OTHERS_FAILED: &str = "OTHERS_FAILED";

/// Makes the photographs, reads them natively, in wasm and with two other readers, and prints one table.
/// Where the others are not to be had, ours is measured all the same.
pub(crate) fn bench(rows: &Path) -> Outcome {
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
    let script = browser::script("readers.mjs")?
        .env(rows::FILE, rows)
        .arg(settings::SCAN_STEPS.to_string());
    let script = match others(&folders) {
        Ok(()) => script,
        Err(failure) => {
            println!("{failure}");
            script.env(OTHERS_FAILED, failure.within(paths::root()))
        }
    };
    folders.iter().fold(script, Run::arg).show()
}

/// Has the other readers read all photographs; their lists stand beside these.
fn others(folders: &[PathBuf]) -> Outcome {
    let run = Run::new(python()?).arg(paths::browser().join("readers.py"));
    folders.iter().fold(run, Run::arg).show()
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
            .map_err(|error| Failure::file("write", &folder, &error))?;
    }
    Ok(program)
}
