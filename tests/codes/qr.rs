//! Matrices against ISO/IEC 18004.

use bothends::codes::qr::{Level, Matrix, QUIET_ZONE};
use proptest::prelude::*;
use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};

use super::qr_reader::{ALPHANUMERIC, alphanumeric_text, codewords, format, format_bits};

/// A small letter is outside the alphanumeric set, so such a text is in byte mode.
const BYTES: &str = "a";
const LETTERS: &str = "A";
const DIGITS: &str = "1";

fn matrix(text: &str) -> Matrix {
    Matrix::of(text).expect("the text fits")
}

/// The symbol that the standard's Annex I.2 works out by hand: 01234567 in version 1-M with
/// mask pattern 010.
fn annex_i_2() -> QrCode {
    QrCode::encode_segments_advanced(
        &QrSegment::make_segments("01234567"),
        QrCodeEcc::Medium,
        Version::MIN,
        Version::MIN,
        Some(Mask::new(2)),
        false,
    )
    .expect("the text fits")
}

fn dark(code: &QrCode) -> impl Fn(usize, usize) -> bool {
    let place = |number: usize| i32::try_from(number).expect("small");
    move |x, y| code.get_module(place(x), place(y))
}

#[test]
fn annex_i_2_codewords() {
    // ISO/IEC 18004:2006, Annex I.2: 16 codewords of data, then 10 of error correction, read
    // back out of the drawn symbol by the tests' own reader.
    let code = annex_i_2();
    let read = codewords(21, &dark(&code));
    let data = [
        0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC,
        0x11,
    ];
    let correction = [0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55];
    assert_eq!(read[..16], data);
    assert_eq!(read[16..], correction);
}

#[test]
fn format_information_of_1_m_with_mask_010() {
    // ISO/IEC 18004, from memory and computed: 101111001111100.
    let code = annex_i_2();
    assert_eq!(format_bits(&dark(&code)), 0b101_1110_0111_1100);
}

#[test]
fn the_example_ac_42() {
    // ISO/IEC 18004, from memory that it is the standard's example; the bits are computed.
    let segment = QrSegment::make_alphanumeric("AC-42");
    let bits: String = segment
        .data()
        .iter()
        .map(|bit| if *bit { '1' } else { '0' })
        .collect();
    assert_eq!(bits, "0011100111011100111001000010");
    let matrix = matrix("AC-42");
    let words = codewords(matrix.size(), &|x, y| matrix.dark(x, y));
    let head: String = words[..5]
        .iter()
        .map(|word| format!("{word:08b}"))
        .collect();
    assert_eq!(head, "0010000000101001110011101110011100100001"[..40]);
    assert_eq!(alphanumeric_text(&words), "AC-42");
}

#[test]
fn sizes() {
    // ISO/IEC 18004: 17 modules and 4 for each version; a light border of 4.
    for (length, version, size) in [(14, 1, 21), (213, 10, 57), (997, 25, 117), (2331, 40, 177)] {
        let matrix = matrix(&BYTES.repeat(length));
        assert_eq!((matrix.version(), matrix.size()), (version, size));
    }
    assert_eq!(QUIET_ZONE, 4);
}

/// The largest numbers of digits, capitals and bytes that a version holds
/// (ISO/IEC 18004, table of capacities).
struct Capacity {
    version: usize,
    at_m: [usize; 3],
    at_q: [usize; 3],
}

const fn capacity(version: usize, at_m: [usize; 3], at_q: [usize; 3]) -> Capacity {
    Capacity {
        version,
        at_m,
        at_q,
    }
}

const CAPACITIES: [Capacity; 11] = [
    capacity(1, [34, 20, 14], [27, 16, 11]),
    capacity(2, [63, 38, 26], [48, 29, 20]),
    capacity(3, [101, 61, 42], [77, 47, 32]),
    capacity(4, [149, 90, 62], [111, 67, 46]),
    capacity(5, [202, 122, 84], [144, 87, 60]),
    capacity(6, [255, 154, 106], [178, 108, 74]),
    capacity(7, [293, 178, 122], [207, 125, 86]),
    capacity(8, [365, 221, 152], [259, 157, 108]),
    capacity(9, [432, 262, 180], [312, 189, 130]),
    capacity(10, [513, 311, 213], [364, 221, 151]),
    capacity(40, [5596, 3391, 2331], [3993, 2420, 1663]),
];

/// Whether a version at a level holds a text.
fn holds(version: usize, level: QrCodeEcc, text: &str) -> bool {
    let version = Version::new(u8::try_from(version).expect("at most 40"));
    let (segments, mask) = (QrSegment::make_segments(text), Some(Mask::new(0)));
    QrCode::encode_segments_advanced(&segments, level, version, version, mask, false).is_ok()
}

#[test]
fn capacities_and_the_order_of_levels() {
    for Capacity {
        version,
        at_m,
        at_q,
    } in CAPACITIES
    {
        for (character, m, q) in [
            (DIGITS, at_m[0], at_q[0]),
            (LETTERS, at_m[1], at_q[1]),
            (BYTES, at_m[2], at_q[2]),
        ] {
            let made = |length: usize| {
                let matrix = matrix(&character.repeat(length));
                (matrix.version(), matrix.level())
            };
            assert_eq!(made(m), (version, Level::M), "{character} {m}");
            // From version 5 on, the version before holds more at M than this one at Q.
            if version < 5 {
                assert_eq!(made(q), (version, Level::Q), "{character} {q}");
                assert_eq!(made(q + 1), (version, Level::M), "{character} {q} + 1");
            }
            if version < 40 {
                assert_eq!(made(m + 1).0, version + 1, "{character} {m} + 1");
            }
            // Where Q is not chosen, the library itself is asked.
            for (level, most) in [(QrCodeEcc::Medium, m), (QrCodeEcc::Quartile, q)] {
                for (length, fits) in [(most, true), (most + 1, false)] {
                    let got = holds(version, level, &character.repeat(length));
                    assert_eq!(got, fits, "{version} {character} {length}");
                }
            }
        }
    }
    // Beyond the largest symbol at M there is no symbol.
    for (character, most) in [(DIGITS, 5596), (LETTERS, 3391), (BYTES, 2331)] {
        assert!(Matrix::of(&character.repeat(most + 1)).is_err());
    }
}

#[test]
fn the_alphanumeric_set() {
    // ISO/IEC 18004: 45 characters, the colon the last; values from memory.
    assert_eq!(ALPHANUMERIC.len(), 45);
    assert_eq!(ALPHANUMERIC.find(':'), Some(44));
    for character in '\0'..='\u{FF}' {
        let fits = ALPHANUMERIC.contains(character);
        assert_eq!(
            QrSegment::is_alphanumeric(&character.to_string()),
            fits,
            "{character:?}"
        );
        // Sixteen of them fill version 1 at Q exactly; in byte mode they do not fit.
        if !character.is_ascii_digit() {
            let matrix = matrix(&character.to_string().repeat(16));
            assert_eq!(
                (matrix.version(), matrix.level()) == (1, Level::Q),
                fits,
                "{character:?}"
            );
        }
    }
    // The identifiers of TIA-606 stay in the set, those of a campus and of cords do not.
    assert!(QrSegment::is_alphanumeric("1A.AD02-35:01/1A.AK05-22:01"));
    for text in [
        "[0115-1A]/[0117-1A]-2",
        "=1A",
        "1A\\2A",
        "T?C=1",
        "#1",
        "kit2",
    ] {
        assert!(!QrSegment::is_alphanumeric(text), "{text}");
    }
}

proptest! {
    #[test]
    fn another_reader_finds_the_text_again(text in "[0-9A-Z $%*+./:-]{0,38}[A-Z]") {
        prop_assume!(text.len() <= 38);
        let matrix = matrix(&text);
        let at = |x: usize, y: usize| matrix.dark(x, y);
        let level = if matrix.level() == Level::Q { 0b11 } else { 0b00 };
        prop_assert_eq!(format(&at).level, level);
        prop_assert_eq!(alphanumeric_text(&codewords(matrix.size(), &at)), text);
    }
}
