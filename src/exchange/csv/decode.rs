//! Bytes to characters: UTF-8, UTF-16 with its mark, and the two Western one-byte sets.

use super::finding::{Finding, FindingKind, ReadFault};
use super::scan::line_ends;
use super::{Encoding, Line};

/// A file as characters.
pub(super) struct Decoded {
    /// The text without its byte order mark.
    pub(super) text: String,
    /// How it was read.
    pub(super) encoding: Encoding,
    /// Lines with bytes in another encoding.
    pub(super) findings: Vec<Finding>,
}

/// First bytes of the files that people take for CSV, and what those files are.
const OTHER_FILES: [(&[u8], &str); 3] = [
    (
        b"PK\x03\x04",
        "a spreadsheet workbook or another packed file",
    ),
    (b"\xD0\xCF\x11\xE0", "an old spreadsheet workbook"),
    (b"%PDF-", "a PDF document"),
];

/// Windows-1252 for the bytes 80 to 9F, from the WHATWG Encoding Standard's index, where the five
/// undefined bytes stand for the control characters of the same number.
const WINDOWS_1252: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8D}', 'Ž', '\u{8F}',
    '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9D}', 'ž', 'Ÿ',
];

/// Reads bytes as characters.
pub(super) fn decode(bytes: &[u8]) -> Result<Decoded, ReadFault> {
    for (start, what) in OTHER_FILES {
        if bytes.starts_with(start) {
            return Err(ReadFault::NotText { what });
        }
    }
    if let Some(rest) = bytes.strip_prefix(b"\xFF\xFE") {
        return utf16(rest, u16::from_le_bytes);
    }
    if let Some(rest) = bytes.strip_prefix(b"\xFE\xFF") {
        return utf16(rest, u16::from_be_bytes);
    }
    let rest = bytes.strip_prefix(b"\xEF\xBB\xBF");
    let says_utf8 = rest.is_some();
    let rest = rest.unwrap_or(bytes);
    if rest.starts_with(b"{\"format\":\"bothends-job\"") {
        return Err(ReadFault::JobFile);
    }
    Ok(match std::str::from_utf8(rest) {
        Ok(text) => Decoded {
            text: text.to_owned(),
            encoding: Encoding::Utf8,
            findings: Vec::new(),
        },
        Err(_) if says_utf8 || mostly_utf8(rest) => patched_utf8(rest),
        Err(_) => one_byte(rest),
    })
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<Decoded, ReadFault> {
    let pairs = bytes.chunks_exact(2);
    if !pairs.remainder().is_empty() {
        return Err(ReadFault::DamagedUtf16);
    }
    let text: Result<String, _> =
        char::decode_utf16(pairs.map(|pair| unit([pair[0], pair[1]]))).collect();
    Ok(Decoded {
        text: text.map_err(|_| ReadFault::DamagedUtf16)?,
        encoding: Encoding::Utf16,
        findings: Vec::new(),
    })
}

/// Tells a UTF-8 file with a few pasted bytes from a one-byte file: in the latter nearly every
/// accent is broken UTF-8, in the former nearly every accent is sound.
fn mostly_utf8(bytes: &[u8]) -> bool {
    let mut sound = 0;
    let mut broken = 0;
    for chunk in bytes.utf8_chunks() {
        sound += chunk.valid().chars().filter(|c| !c.is_ascii()).count();
        broken += chunk.invalid().len();
    }
    sound > broken
}

fn patched_utf8(bytes: &[u8]) -> Decoded {
    let mut text = String::with_capacity(bytes.len());
    let mut findings: Vec<Finding> = Vec::new();
    let mut line = Line::FIRST;
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        line = line.down(line_ends(chunk.valid()));
        if chunk.invalid().is_empty() {
            continue;
        }
        text.extend(chunk.invalid().iter().copied().map(windows_1252));
        if findings.last().is_none_or(|finding| finding.line != line) {
            let kind = FindingKind::StrayBytes;
            findings.push(Finding { line, kind });
        }
    }
    Decoded {
        text,
        encoding: Encoding::Utf8,
        findings,
    }
}

fn one_byte(bytes: &[u8]) -> Decoded {
    let printed = bytes.iter().any(|byte| (0x80..=0x9F).contains(byte));
    Decoded {
        text: bytes.iter().copied().map(windows_1252).collect(),
        encoding: if printed {
            Encoding::Windows1252
        } else {
            Encoding::Latin1
        },
        findings: Vec::new(),
    }
}

fn windows_1252(byte: u8) -> char {
    match byte {
        0x80..=0x9F => WINDOWS_1252[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}
