//! Hostile input by seed: files of a kept corpus, changed in the ways in which files break and in those in
//! which somebody would break them, for every reader of what comes from outside.
//!
//! The same seed gives the same input on every machine.

/// Changing bytes.
mod mutate;
/// What reads what comes from outside, and what must hold of it.
mod readers;

use std::path::{Path, PathBuf};

pub(crate) use mutate::mutated;
pub(crate) use readers::{READERS, Reader};

/// The longest input.
pub(crate) const LONGEST: usize = 1 << 20;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The folder of the files that a reader begins with.
pub(crate) fn folder(reader: &Reader) -> PathBuf {
    root().join("tests/corpus/fuzz").join(reader.name)
}

/// The files that a reader begins with, by name: its own, and those that other tests keep.
pub(crate) fn corpus(reader: &Reader) -> Vec<(String, Vec<u8>)> {
    let entries = std::fs::read_dir(folder(reader)).expect("each reader has a folder");
    let own = entries.map(|entry| entry.expect("a file").path());
    let beside = reader.beside.iter().map(|path| root().join(path));
    let mut paths: Vec<PathBuf> = own.chain(beside).collect();
    paths.sort();
    let file = |path: PathBuf| {
        let bytes = std::fs::read(&path).expect("a file of the corpus");
        (path.display().to_string(), bytes)
    };
    paths.into_iter().map(file).collect()
}
