//! The commands beside the gate: long tests, timings, pictures.

use std::path::Path;

use crate::arguments::LongWish;
use crate::failure::Outcome;
use crate::run::Run;
use crate::{browser, paths, rows, settings, site};

/// The browser tests on a fresh build.
pub(crate) fn browser(names: &[String]) -> Outcome {
    let modules = site::build_and_report()?;
    site::write_next(&modules)?;
    browser::run(names)
}

/// What takes too long for the gate: the generated tests with so many random seeds, histories
/// of several phones with more, the race
/// against `SQLite`, hostile input for every reader, a browser that is killed again and again while it stores, and 500 photographs.
pub(crate) fn long(wish: &LongWish) -> Outcome {
    let seeds = wish.seeds;
    println!("each generated test tries {seeds} random seeds (BOTHENDS_SEEDS={seeds})");
    Run::new("cargo")
        .words("test -p bothends --test runner -- journal command sqlite --skip histories")
        .env("BOTHENDS_SEEDS", seeds.to_string())
        .show()?;
    let histories = settings::LONG_HISTORIES;
    println!("each test of histories tries {histories} random seeds (BOTHENDS_SEEDS={histories})");
    Run::new("cargo")
        .words("test -p bothends --test runner -- histories")
        .env("BOTHENDS_SEEDS", histories.to_string())
        .show()?;
    Run::new("cargo")
        .words("test --release -p bothends --test runner -- --ignored")
        .show()?;
    Run::new("cargo")
        .words("run --profile fuzz --example fuzz --")
        .arg(wish.fuzz_seconds.to_string())
        .show()?;
    site::build_and_report()?;
    browser::script("kills.mjs")?.show()?;
    browser::script("photographs.mjs")?.show()
}

/// The timings of the core, natively, compiled to be fast, as what stands beside it was.
pub(crate) fn bench_core_for_speed(rows: &Path) -> Outcome {
    Run::new("cargo")
        .words("run --profile speed --example bench")
        .env(rows::FILE, rows)
        .show()
}

/// The same compiled to be small, as the app is.
pub(crate) fn bench_core(rows: &Path) -> Outcome {
    // With the sizes named it draws no picture.
    Run::new("cargo")
        .words("run --release --example bench -- 1000 10000 100000")
        .env(rows::FILE, rows)
        .show()
}

/// The timings of a large job in a browser slowed four times.
pub(crate) fn bench_browser(rows: &Path) -> Outcome {
    let modules = site::build_and_report()?;
    site::write_next(&modules)?;
    let made = |name: &str, what: &str| {
        let file = paths::cache().join(name);
        Run::new("cargo")
            .words("run --release --example large_job --")
            .arg(&file)
            .arg(what)
            .show()?;
        Ok(file)
    };
    let job = made("large-job.txt", "10000")?;
    let larger = made("larger-job.txt", "20050")?;
    let flags = made("flags.txt", "flags")?;
    let racks = made("many-racks.txt", "racks")?;
    let script = |name: &str| -> Outcome<Run> { Ok(browser::script(name)?.env(rows::FILE, rows)) };
    script("bench.mjs")?
        .arg(&job)
        .arg(flags)
        .arg(larger)
        .show()?;
    script("visits.mjs")?.arg(job).show()?;
    script("racks.mjs")?.arg(racks).show()
}

/// Pictures of every screen on a phone and on a desk, into `shots/`.
pub(crate) fn shots() -> Outcome {
    site::build_and_report()?;
    browser::script("shots.mjs")?.show()
}

/// The PNG icons, drawn by the browser from `web/icons/*.svg`. They are committed, as they change
/// seldom and every host needs them.
pub(crate) fn icons() -> Outcome {
    browser::script("icons.mjs")?.show()
}
