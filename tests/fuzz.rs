//! Every reader of what comes from outside, on its kept corpus and on 2,000 changes of it.
//! `cargo xtask long` goes on for ten minutes each.

use crate::support::fuzz::{READERS, corpus, mutated};

/// How many changed inputs each reader gets here.
const CHANGES: u64 = 2_000;

#[test]
fn every_reader_bears_its_corpus_and_what_becomes_of_it() {
    for reader in &READERS {
        let files = corpus(reader);
        assert!(files.len() >= 3, "{} has hardly any corpus", reader.name);
        for (_, bytes) in &files {
            (reader.read)(bytes);
        }
        let files: Vec<Vec<u8>> = files.into_iter().map(|(_, bytes)| bytes).collect();
        for seed in 1..=CHANGES {
            let bytes = mutated(&files, seed);
            (reader.read)(&bytes);
        }
    }
}
