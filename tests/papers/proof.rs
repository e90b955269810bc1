//! The proof of printed tags, by two readers that share nothing with the program.

mod damage;
mod grey;
mod readers;
mod worn;

use std::path::{Path, PathBuf};

/// A folder for pictures in the making.
fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("proof-{name}"))
}
