//! What the reader reads: plain symbols of every size and level, photographs, and hostile pictures.

use bothends::codes::qr::Matrix;
use bothends::scan::{Reading, Sighting, Step, grey_of};
use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, QrSegmentMode, Version};

use super::photographs::{KINDS, Kind, STEPS, photograph};

/// Reads to the end; no picture may take more steps than this.
fn read(width: usize, height: usize, grey: Vec<u8>) -> Option<Sighting> {
    const MOST: usize = 200;
    let mut reading = Reading::of(width, height, grey);
    for _ in 0..MOST {
        match reading.step() {
            Step::Found(sighting) => return Some(sighting),
            Step::More => {}
            Step::Nothing => return None,
        }
    }
    panic!("{MOST} steps, and no end");
}

/// A symbol, so many pixels to a module, with its light border.
fn drawn(size: usize, module: usize, dark: impl Fn(usize, usize) -> bool) -> (usize, Vec<u8>) {
    let side = (size + 8) * module;
    let grey = (0..side * side).map(|at| {
        let (x, y) = ((at % side) / module, (at / side) / module);
        let inside = (4..size + 4).contains(&x) && (4..size + 4).contains(&y);
        if inside && dark(x - 4, y - 4) {
            20
        } else {
            230
        }
    });
    (side, grey.collect())
}

fn drawn_code(code: &QrCode, module: usize) -> (usize, Vec<u8>) {
    let place = |at: usize| i32::try_from(at).expect("small");
    let size = usize::try_from(code.size()).expect("small");
    drawn(size, module, |x, y| code.get_module(place(x), place(y)))
}

fn read_code(code: &QrCode, module: usize) -> Option<String> {
    let (side, grey) = drawn_code(code, module);
    read(side, side, grey).map(|sighting| sighting.text)
}

fn encoded(segments: &[QrSegment], level: QrCodeEcc, version: u8, mask: Option<Mask>) -> QrCode {
    let version = Version::new(version);
    QrCode::encode_segments_advanced(segments, level, version, version, mask, false)
        .expect("it fits")
}

#[test]
fn the_symbol_of_annex_i_2() {
    // ISO/IEC 18004:2006, Annex I.2: 01234567 in version 1-M with mask pattern 010.
    let segments = QrSegment::make_segments("01234567");
    let code = encoded(&segments, QrCodeEcc::Medium, 1, Some(Mask::new(2)));
    assert_eq!(read_code(&code, 5).as_deref(), Some("01234567"));
}

#[test]
fn every_level_and_mask_of_the_sizes_that_tags_have() {
    // The symbols are made by qrcodegen, which shares nothing with the reader.
    const LEVELS: [QrCodeEcc; 4] = [
        QrCodeEcc::Low,
        QrCodeEcc::Medium,
        QrCodeEcc::Quartile,
        QrCodeEcc::High,
    ];
    let segments = QrSegment::make_segments("KIT2-C A9");
    for version in 1..=4 {
        for level in LEVELS {
            for mask in 0..8 {
                let code = encoded(&segments, level, version, Some(Mask::new(mask)));
                let text = read_code(&code, 4);
                let about = format!("version {version}, {level:?}, mask {mask}");
                assert_eq!(text.as_deref(), Some("KIT2-C A9"), "{about}");
            }
        }
    }
}

#[test]
fn larger_symbols_of_several_blocks() {
    // Every version has its own blocks, checks and alignment patterns.
    const LEVELS: [QrCodeEcc; 4] = [
        QrCodeEcc::Low,
        QrCodeEcc::Medium,
        QrCodeEcc::Quartile,
        QrCodeEcc::High,
    ];
    let segments = QrSegment::make_segments("https://registry.example/a-long-way");
    for version in 5..=40 {
        let level = LEVELS[usize::from(version) % 4];
        let code = encoded(&segments, level, version, None);
        let text = read_code(&code, 3);
        assert_eq!(
            text.as_deref(),
            Some("https://registry.example/a-long-way"),
            "version {version}, {level:?}"
        );
    }
}

#[test]
fn texts_come_as_they_are_or_not_at_all() {
    // Right-to-left marks, markup, control characters: it is for others to show them fit to read.
    for text in [
        "javascript:alert(1)",
        "<b>\u{202e}4X9\u{0}\n",
        "Kä\u{301}🙂",
        "  ",
    ] {
        let code = encoded(&QrSegment::make_segments(text), QrCodeEcc::Medium, 3, None);
        assert_eq!(read_code(&code, 4).as_deref(), Some(text));
    }
    let long = "A".repeat(1500);
    let code = encoded(&QrSegment::make_segments(&long), QrCodeEcc::Low, 25, None);
    if let Some(text) = read_code(&code, 4) {
        assert_eq!(text, long);
    }
}

#[test]
fn modes_that_no_tag_has_are_refused() {
    let kanji = QrSegment::new(QrSegmentMode::Kanji, 2, vec![true; 26]);
    let eci = QrSegment::make_eci(26);
    let text = QrSegment::make_bytes(b"KIT2-C");
    for segments in [vec![kanji], vec![eci, text]] {
        let code = encoded(&segments, QrCodeEcc::Medium, 2, None);
        assert_eq!(read_code(&code, 5), None);
    }
}

#[test]
fn a_sighting_says_where_and_how_large() {
    let matrix = Matrix::of("KIT2-C HM26K4X9").expect("it fits");
    let (side, grey) = drawn(matrix.size(), 6, |x, y| matrix.dark(x, y));
    let sighting = read(side, side, grey).expect("it is whole");
    assert!((sighting.module - 6.0).abs() < 0.2, "{}", sighting.module);
    // Pixels are counted from the middle of the first.
    let (near, far) = (23.5, 149.5);
    let corners = [(near, near), (far, near), (far, far), (near, far)];
    for ((x, y), (at_x, at_y)) in sighting.corners.into_iter().zip(corners) {
        assert!((x - at_x).abs() < 2.0 && (y - at_y).abs() < 2.0, "{x}, {y}");
    }
}

#[test]
fn of_two_codes_the_one_nearest_to_the_middle_is_read() {
    let [left, right] = ["KIT2-C HM26K4X9", "BED1-A HM26K4XX"];
    let [(side, one), (_, other)] = [left, right].map(|text| {
        let matrix = Matrix::of(text).expect("it fits");
        drawn(matrix.size(), 4, |x, y| matrix.dark(x, y))
    });
    // Paper to the left or to the right moves the middle.
    for (before, after, wanted) in [(0, 80, right), (80, 0, left)] {
        let mut both = Vec::new();
        for (one, other) in one.chunks(side).zip(other.chunks(side)) {
            both.extend(vec![230; before]);
            both.extend_from_slice(one);
            both.extend_from_slice(other);
            both.extend(vec![230; after]);
        }
        let text = read(2 * side + 80, side, both)
            .expect("both are whole")
            .text;
        assert_eq!(text, wanted);
    }
}

#[test]
fn photographs_are_read_as_well_as_they_were_and_never_wrongly() {
    // Measured on this seed when it was written, less a margin for what a change may cost.
    const LEAST: usize = 47;
    let mut right = 0;
    for kind in KINDS {
        for step in (2..=STEPS).step_by(2) {
            let made = photograph(4, kind, step);
            let Some(sighting) = read(made.width, made.height, made.grey) else {
                continue;
            };
            assert_eq!(Some(sighting.text), made.text, "{kind:?}, step {step}");
            right += 1;
        }
    }
    assert!(right >= LEAST, "{right} of {}", 13 * STEPS / 2);
}

#[test]
fn looking_on_after_the_end_says_the_same() {
    let made = photograph(4, Kind::Empty, 1);
    let mut reading = Reading::of(made.width, made.height, made.grey);
    while reading.step() != Step::Nothing {}
    assert_eq!(reading.step(), Step::Nothing);
}

#[test]
fn pictures_that_are_none_have_nothing_on_them() {
    for (width, height) in [
        (0, 0),
        (1, 1),
        (1, 700),
        (700, 1),
        (0, 9),
        (9, 0),
        (2, 2),
        (7, 9),
        (8, 8),
        (17, 3),
        (usize::MAX, usize::MAX),
        (usize::MAX, 1),
        (40, 40),
    ] {
        for grey in [vec![], vec![0; 3], vec![200; 5000]] {
            assert_eq!(read(width, height, grey), None, "{width} by {height}");
        }
    }
}

#[test]
fn pictures_by_chance_are_read_to_the_end() {
    let mut state = 7_u64;
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 33) as usize
    };
    for round in 0..120 {
        let (width, height) = (1 + next() % 200, 1 + next() % 200);
        // Noise, coarse squares, stripes, and two tones.
        let coarse = 1 + next() % 9;
        let squares: Vec<u8> = (0..40_000).map(|_| next() as u8).collect();
        let grey = (0..width * height).map(|at| {
            let (x, y) = (at % width / coarse, at / width / coarse);
            match round % 4 {
                0 => squares[at % squares.len()],
                1 => squares[(y * 200 + x) % squares.len()],
                2 => squares[x],
                _ => (squares[(y * 200 + x) % squares.len()] & 1) * 255,
            }
        });
        assert_eq!(read(width, height, grey.collect()), None, "round {round}");
    }
}

#[test]
fn colours_become_grey() {
    // ITU-R BT.601: 0.299 red, 0.587 green, 0.114 blue; from memory.
    let grey = grey_of(&[
        255, 255, 255, 255, 255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 9,
    ]);
    assert_eq!(grey, [255, 76, 149, 28]);
    assert!(grey_of(&[1, 2]).is_empty());
}

#[test]
fn what_is_too_dark_to_be_read_is_told_from_a_lit_room() {
    let is_dark = |kind, step, parts: u8| {
        let made = photograph(4, kind, step);
        let grey = made.grey.iter().map(|grey| grey / parts).collect();
        Reading::of(made.width, made.height, grey).is_dark()
    };
    for kind in [Kind::Small, Kind::Empty] {
        for step in 1..=10 {
            assert!(!is_dark(kind, step, 1), "{kind:?} {step}");
            assert!(is_dark(kind, step, 8), "{kind:?} {step}");
        }
    }
    assert!(!Reading::of(0, 0, Vec::new()).is_dark());
}

#[test]
fn what_is_too_far_away_is_told_from_a_bare_wall() {
    let small = |kind, step| {
        let made = photograph(4, kind, step);
        let mut reading = Reading::of(made.width, made.height, made.grey);
        while reading.step() == Step::More {}
        reading.is_small()
    };
    let near = (1..=4).filter(|step| small(Kind::Small, *step)).count();
    let far = (7..=10).filter(|step| small(Kind::Small, *step)).count();
    let wall = (1..=10).filter(|step| small(Kind::Empty, *step)).count();
    assert_eq!((near, wall), (0, 0));
    assert!(far >= 2, "{far} of 4");
}
