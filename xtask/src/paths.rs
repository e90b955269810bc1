//! Where things are. Everything that can be built again lies below `target/`.

use std::path::{Path, PathBuf};

/// The project's folder.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .unwrap_or(Path::new("."))
}

/// The static folder that `cargo xtask dist` makes.
pub(crate) fn dist() -> PathBuf {
    root().join("dist")
}

/// A second build that differs in its build name only, for the tests of the update.
pub(crate) fn next_dist() -> PathBuf {
    root().join("target/dist-next")
}

/// Cargo's folder for the browser build, apart from the host's, so that neither spoils the other.
pub(crate) fn web_target() -> PathBuf {
    root().join("target/web")
}

/// Results of slow steps, named by the digest of what went in.
pub(crate) fn cache() -> PathBuf {
    root().join("target/web-cache")
}

/// What the programs of a benchmark write their rows to, a file for each section.
pub(crate) fn rows() -> PathBuf {
    root().join("target/bench-rows")
}

/// The browser tests, and the npm packages that the build uses too.
pub(crate) fn browser() -> PathBuf {
    root().join("tests/browser")
}

/// Pages, scripts and icons.
pub(crate) fn web() -> PathBuf {
    root().join("web")
}
