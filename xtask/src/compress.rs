//! The two compressed forms that web servers send.

use std::io::Write;
use std::path::Path;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::failure::{Failure, Outcome};
use crate::paths;
use crate::run::Run;

/// The brotli form of a file: the smallest that `xtask/brotli.mjs` finds with the packer that Node has in it.
pub(crate) fn brotli(file: &Path) -> Outcome<Vec<u8>> {
    let packed = paths::cache().join("packed.br");
    Run::new("node")
        .arg(paths::root().join("xtask/brotli.mjs"))
        .arg(file)
        .arg(&packed)
        .read()?;
    std::fs::read(&packed).map_err(|error| Failure::file("read", &packed, &error))
}

/// Gzip at its highest level, with no time stamp, so that the same build gives the same bytes.
pub(crate) fn gzip(bytes: &[u8]) -> Outcome<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder
        .write_all(bytes)
        .and_then(|()| encoder.finish())
        .map_err(|error| Failure::new(format!("gzip: {error}")))
}
