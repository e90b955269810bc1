//! Digests that name files and builds.

use sha2::{Digest, Sha256};

/// SHA-256 in lower-case hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// The first 12 digits of the SHA-256: enough to tell the files of two builds apart by name.
pub(crate) fn short(bytes: &[u8]) -> String {
    let mut digest = sha256(bytes);
    digest.truncate(12);
    digest
}

#[cfg(test)]
mod tests {
    /// FIPS 180-2, appendix B.1, from memory.
    #[test]
    fn the_published_digest_of_abc() {
        assert_eq!(
            super::sha256(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(super::short(b"abc"), "ba7816bf8f01");
    }
}
