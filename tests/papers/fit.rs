//! What fits on what, against tables and standards.

use bothends::papers::{Font, fit_code, turn};
use bothends::tags::{Dots, Microns, Shape, Stock, built_in, code_of, lacking};

fn wrap(print: i32, height: i32) -> Stock {
    Stock {
        height: Microns(height),
        shape: Shape::Wrap {
            print: Microns(print),
        },
        ..built_in().remove(0)
    }
}

/// Whether a wrap covers its print on a cable without the print going round more than once.
fn suits(print: i32, height: i32, diameter: i32) -> bool {
    let turn = turn(Microns(diameter), Microns(print), &wrap(print, height));
    turn.covered && turn.begin.0 == 0
}

#[test]
fn the_range_of_cables_of_a_wrap_is_that_of_label_catalogues() {
    // Print and length in mm, then the smallest and the largest cable. The ranges in inches that
    // catalogues print for such labels are 0.159 to 0.264 and 0.159 to 0.318 (from memory); the two
    // inequalities behind them, print at most a turn and the tail at least one, are derived.
    for (print, height, least, most) in [
        (12_700, 33_800, 4_040, 6_720),
        (12_700, 38_100, 4_040, 8_090),
        (25_400, 76_200, 8_090, 16_200),
        (9_500, 25_400, 3_020, 5_060),
    ] {
        for (diameter, is_suited) in [
            (least - 60, false),
            (least + 60, true),
            (most - 60, true),
            (most + 60, false),
        ] {
            assert_eq!(
                suits(print, height, diameter),
                is_suited,
                "{print} {height} {diameter}"
            );
        }
    }
}

#[test]
fn a_turn_is_pi_diameters_and_a_code_may_take_a_sixth_of_it() {
    // 5.8 mm: turn 18.2 mm, readable third 6.1 mm, flat sixth 3.04 mm; 9.4 mm: 29.5, 9.8, 4.92.
    // The sixth is the 30° to either side of the GS1 General Specifications (from memory); π D computed.
    for (diameter, round, third, sixth) in
        [(5_800, 18_221, 6_073, 3_036), (9_400, 29_531, 9_843, 4_921)]
    {
        let turn = turn(Microns(diameter), Microns(12_700), &wrap(12_700, 38_100));
        let got = [turn.circumference.0, turn.readable.0, turn.flat.0];
        for (got, wanted) in got.into_iter().zip([round, third, sixth]) {
            assert!((got - wanted).abs() <= 1, "{got} {wanted}");
        }
    }
}

#[test]
fn modules_are_whole_dots_and_the_quiet_zone_is_four_modules() {
    // 203 dpi: 0.125 mm a dot; 300 dpi: 0.0847 mm (25.4 / n). ISO/IEC 18004: version 1 has 21 modules,
    // 29 with four light ones on either side; version 2 has 25 and 33.
    for (dots, dot) in [
        (Dots::D203, 25_400.0 / 203.0),
        (Dots::D300, 25_400.0 / 300.0),
        (Dots::D600, 25_400.0 / 600.0),
    ] {
        for room in [7_000, 9_600, 12_000, 16_000, 24_000] {
            let Some(code) = fit_code("KIT2-C HM26K4X9", Microns(room), dots) else {
                continue;
            };
            assert_eq!(code.matrix.version(), 1);
            assert!((f64::from(code.module.0) - dot * f64::from(code.dots)).abs() <= 1.0);
            assert!((f64::from(code.side.0) - dot * f64::from(code.dots) * 29.0).abs() <= 1.0);
            assert!(code.side.0 <= room, "{room}");
        }
    }
    // A QR text of 26 characters needs version 2 at level Q: 33 modules with its quiet zone.
    let long = fit_code("DBEDROOM12-C/HM26K4X9/ABCD", Microns(16_000), Dots::D300).expect("a code");
    assert_eq!((long.matrix.version(), long.dots), (2, 5));
}

#[test]
fn no_code_is_better_than_one_that_nobody_reads() {
    // 29 modules of 0.2 mm are 5.8 mm.
    assert!(fit_code("KIT2-C HM26K4X9", Microns(5_700), Dots::D600).is_none());
    assert!(fit_code("KIT2-C HM26K4X9", Microns(6_200), Dots::D600).is_some());
    assert!(fit_code(&"x".repeat(4_000), Microns(90_000), Dots::D600).is_none());
}

#[test]
fn the_typefaces_are_those_of_every_viewer() {
    // Adobe Core 14 font metrics, as a package of the metrics has them.
    for (text, plain, bold) in [
        (" ", 278, 278),
        ("A", 667, 722),
        ("M", 833, 833),
        ("W", 944, 944),
        ("i", 222, 278),
        ("-", 333, 333),
        ("0123456789", 5_560, 5_560),
        ("ÄÖÜß", 667 + 778 + 722 + 611, 722 + 778 + 722 + 611),
        ("€…–", 556 + 1000 + 556, 556 + 1000 + 556),
    ] {
        assert_eq!(Font::Plain.thousandths(text), plain, "{text}");
        assert_eq!(Font::Bold.thousandths(text), bold, "{text}");
    }
    // ISO 32000-1, annex D: WinAnsiEncoding.
    for (character, code) in [
        ('A', 0o101),
        ('€', 0o200),
        ('Š', 0o212),
        ('…', 0o205),
        ('ÿ', 0o377),
        ('é', 0o351),
    ] {
        assert_eq!(code_of(character), Some(code), "{character}");
    }
    assert_eq!(lacking("Küche “groß” – 1½"), None);
    for (text, lacks) in [
        ("Łódź", 'Ł'),
        ("厨房", '厨'),
        ("a\u{202E}b", '\u{202E}'),
        ("a\tb", '\t'),
    ] {
        assert_eq!(lacking(text), Some(lacks), "{text}");
    }
}
