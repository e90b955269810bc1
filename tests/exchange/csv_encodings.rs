//! Bytes to characters.

use bothends::exchange::csv::{Encoding, FindingKind, ReadFault, Sheet, read};

fn sheet(bytes: &[u8]) -> Sheet {
    read(bytes).expect("the bytes hold rows")
}

/// The byte order mark is EF BB BF (RFC 3629, section 6); left in, it would hide the first heading.
#[test]
fn utf_8_is_read_with_and_without_its_mark() {
    for bytes in [&b"\xEF\xBB\xBFcaf\xC3\xA9,b\n"[..], &b"caf\xC3\xA9,b\n"[..]] {
        let sheet = sheet(bytes);
        assert_eq!(sheet.encoding, Encoding::Utf8);
        assert_eq!(sheet.records[0].fields, ["café", "b"]);
    }
}

/// ISO/IEC 8859-1: E9 is é, DF is ß.
#[test]
fn latin_1_is_read_and_named() {
    let sheet = sheet(b"caf\xE9;stra\xDFe\n");
    assert_eq!(sheet.encoding, Encoding::Latin1);
    assert_eq!(sheet.records[0].fields, ["café", "straße"]);
}

/// WHATWG Encoding Standard, index windows-1252: 80 is the euro sign, 96 the en dash, 92 the
/// apostrophe; 81 is undefined and stays the control character.
#[test]
fn windows_1252_is_read_and_named() {
    let sheet = sheet(b"\x80 5,A\x96D,tenant\x92s,x\x81y\n");
    assert_eq!(sheet.encoding, Encoding::Windows1252);
    assert_eq!(
        sheet.records[0].fields,
        ["€ 5", "A–D", "tenant’s", "x\u{81}y"]
    );
}

/// What spreadsheets call Unicode text: UTF-16 with a mark, in either byte order, and tabs.
#[test]
fn utf_16_is_read_by_its_mark() {
    let units: Vec<u16> = "code\troom\nK1\tcafé 𝄞\n".encode_utf16().collect();
    let little = units.iter().flat_map(|unit| unit.to_le_bytes());
    let big = units.iter().flat_map(|unit| unit.to_be_bytes());
    let files: [Vec<u8>; 2] = [
        [0xFF, 0xFE].into_iter().chain(little).collect(),
        [0xFE, 0xFF].into_iter().chain(big).collect(),
    ];
    for bytes in files {
        let sheet = sheet(&bytes);
        assert_eq!(sheet.encoding, Encoding::Utf16);
        assert_eq!(sheet.records[1].fields, ["K1", "café 𝄞"]);
    }
    assert_eq!(read(b"\xFF\xFEa"), Err(ReadFault::DamagedUtf16));
    // D800 is half of a pair.
    assert_eq!(read(b"\xFF\xFE\x00\xD8"), Err(ReadFault::DamagedUtf16));
}

/// One pasted byte must not turn the accents of the whole file into rubbish.
#[test]
fn a_few_foreign_bytes_in_utf_8_are_patched_and_reported() {
    let mut bytes = "café,über\nK1,x\nna".as_bytes().to_vec();
    bytes.push(0xEF);
    bytes.extend_from_slice("ve,y\nK2,z\n".as_bytes());
    let sheet = sheet(&bytes);
    assert_eq!(sheet.encoding, Encoding::Utf8);
    assert_eq!(sheet.records[0].fields, ["café", "über"]);
    assert_eq!(sheet.records[2].fields, ["naïve", "y"]);
    assert_eq!(sheet.findings.len(), 1);
    assert_eq!(sheet.findings[0].line.number(), 3);
    assert_eq!(sheet.findings[0].kind, FindingKind::StrayBytes);
}

/// Other files are named as what they are: ZIP starts with 50 4B 03 04 (APPNOTE 4.3.7), the old
/// compound file with D0 CF 11 E0, PDF with "%PDF-" (from memory).
#[test]
fn other_files_are_refused_in_words() {
    for (bytes, what) in [
        (&b"PK\x03\x04rest"[..], "workbook"),
        (&b"\xD0\xCF\x11\xE0rest"[..], "old spreadsheet workbook"),
        (&b"%PDF-1.7"[..], "PDF"),
    ] {
        let fault = read(bytes).expect_err("not a text file");
        assert!(fault.to_string().contains(what), "{fault}");
        assert!(fault.to_string().contains("save the sheet as CSV"));
    }
}

#[test]
fn a_file_without_rows_is_refused_and_not_taken_for_an_empty_schedule() {
    for bytes in [
        &b""[..],
        b"\xEF\xBB\xBF",
        b"\r\n\r\n",
        b" , ,\n,,\n",
        b"sep=;\n",
    ] {
        assert_eq!(read(bytes), Err(ReadFault::NoRows), "{bytes:?}");
    }
}
