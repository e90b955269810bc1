//! The commands beside the gate: long tests, timings, pictures.

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{browser, paths, site};

/// The browser tests on a fresh build.
pub(crate) fn browser(names: &[String]) -> Outcome {
    let modules = site::build_and_report()?;
    site::write_next(&modules)?;
    browser::run(names)
}

/// The tests marked `#[ignore]`: each tries as many random seeds as `BOTHENDS_SEEDS` says.
pub(crate) fn long(seeds: u64) -> Outcome {
    println!("each long test tries {seeds} random seeds (BOTHENDS_SEEDS={seeds})");
    Run::new("cargo")
        .words("test --workspace -- --ignored")
        .env("BOTHENDS_SEEDS", seeds.to_string())
        .show()
}

/// The timings of `examples/bench.rs`, built as for release.
pub(crate) fn bench() -> Outcome {
    let example = paths::root().join("examples/bench.rs");
    if !example.is_file() {
        return Err(Failure::new(
            "there are no timings yet: examples/bench.rs does not exist",
        ));
    }
    Run::new("cargo")
        .words("run --release --example bench")
        .show()
}

/// Pictures of every screen on a phone and on a desk, into `shots/`.
pub(crate) fn shots() -> Outcome {
    site::build_and_report()?;
    browser::script("shots.mjs")
}

/// The PNG icons, drawn by the browser from `web/icons/*.svg`. They are committed, as they change
/// seldom and every host needs them.
pub(crate) fn icons() -> Outcome {
    browser::script("icons.mjs")
}
