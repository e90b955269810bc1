//! The two compressed forms that web servers send.

use std::io::Write;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::failure::{Failure, Outcome};

/// Brotli at its highest level, as a host compresses once and serves often. Short blocks follow the
/// changes between the parts of a module closely: half a hundredth less than what it chooses itself.
pub(crate) fn brotli(bytes: &[u8]) -> Outcome<Vec<u8>> {
    let parameters = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        lgblock: 16,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &parameters)
        .map_err(|error| Failure::new(format!("brotli: {error}")))?;
    Ok(packed)
}

/// Gzip at its highest level, with no time stamp, so that the same build gives the same bytes.
pub(crate) fn gzip(bytes: &[u8]) -> Outcome<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder
        .write_all(bytes)
        .and_then(|()| encoder.finish())
        .map_err(|error| Failure::new(format!("gzip: {error}")))
}
