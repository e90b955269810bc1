//! Codes that suffered: a small form of the table in `docs/measurements.md`, so that a change for the worse is
//! seen. The whole of it: `cargo run --release --example tag_damage`.

use bothends::codes::qr::{Level, Matrix};
use qrcodegen::QrCodeEcc;

use super::damage::{Damage, damaged, drawn, symbol, text};
use super::folder;
use super::grey::Grey;
use super::readers;

const CODES: u64 = 40;

/// The codes of 40 tags at level Q after some damage, with their texts.
fn codes(damage: Damage) -> (Vec<String>, Vec<Grey>) {
    let texts: Vec<String> = (0..CODES).map(text).collect();
    let drawn = texts
        .iter()
        .zip(0..)
        .map(|(text, seed)| damaged(&drawn(&symbol(text, QrCodeEcc::Quartile)), damage, seed))
        .collect();
    (texts, drawn)
}

/// How many of them `ZBar` reads, and how many rxing.
fn read(damage: Damage, name: &str) -> (usize, usize) {
    let (texts, pictures) = codes(damage);
    let zbar = readers::zbar(&pictures, &folder(name));
    let by_zbar = zbar.iter().zip(&texts);
    let by_rxing = pictures.iter().zip(&texts);
    (
        by_zbar.filter(|(read, text)| read.contains(text)).count(),
        by_rxing
            .filter(|(picture, text)| readers::rxing(picture).as_ref() == Some(*text))
            .count(),
    )
}

#[test]
fn the_codes_that_are_damaged_are_those_of_tags() {
    for seed in 0..CODES {
        let text = text(seed);
        let code = symbol(&text, QrCodeEcc::Quartile);
        let matrix = Matrix::of(&text).expect("it fits");
        assert_eq!((matrix.version(), matrix.level()), (1, Level::Q), "{text}");
        for (y, row) in (0..code.size()).zip(0..) {
            for (x, column) in (0..code.size()).zip(0..) {
                assert_eq!(code.get_module(x, y), matrix.dark(column, row));
            }
        }
    }
}

#[test]
fn undamaged_codes_are_all_read() {
    assert_eq!(read(Damage::None, "whole"), (40, 40));
}

/// Holds what is read against the least that must be. Both readers read 40 of 40, but for discs that fall
/// on finder patterns; the least is below that, since another edition of a reader may be a little worse.
#[track_caller]
fn at_least((zbar, rxing): (usize, usize), least: usize) {
    assert!(
        zbar >= least && rxing >= least,
        "of 40, ZBar reads {zbar} and rxing {rxing}; wanted {least}"
    );
}

#[test]
fn a_twentieth_beside_the_finder_patterns_may_be_covered() {
    at_least(read(Damage::CoverData(5.0), "data"), 36);
}

#[test]
fn most_codes_bear_a_spot_anywhere() {
    // A hundredth of the symbol: 39 and 34.
    at_least(read(Damage::Cover(1.0), "spot"), 30);
}

#[test]
fn a_scratch_spares_most_codes() {
    // 33 and 29.
    at_least(read(Damage::Scratch(1), "scratch"), 24);
}

#[test]
fn a_blur_of_three_eighths_of_a_module_is_borne() {
    at_least(read(Damage::Blur(0.375), "blur"), 36);
}
