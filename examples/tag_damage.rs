//! How much damage a code on a tag bears at each level of error correction, as a table for
//! `docs/measurements.md`: `cargo run --release --example tag_damage [-- CODES]`.
//!
//! Each pair of figures is the share of codes in hundredths that `ZBar` and that rxing read, of codes that
//! are damaged by the same seeds at every level. It needs `zbarimg`.

#[path = "../tests/papers/proof"]
mod proof {
    pub(crate) mod damage;
    pub(crate) mod grey;
    pub(crate) mod readers;
}

use std::error::Error;
use std::io::Write;
use std::path::Path;

use proof::damage::{Damage, damaged, drawn, symbol, text};
use proof::grey::Grey;
use proof::readers;
use qrcodegen::QrCodeEcc;

const LEVELS: [QrCodeEcc; 4] = [
    QrCodeEcc::Low,
    QrCodeEcc::Medium,
    QrCodeEcc::Quartile,
    QrCodeEcc::High,
];

/// The steps of damage, each with what its row is called.
fn steps() -> Vec<(String, Damage)> {
    let mut steps = vec![("none".to_owned(), Damage::None)];
    for share in [1.0, 2.0, 3.0, 5.0, 7.5, 10.0] {
        steps.push((format!("covered, {share} %"), Damage::Cover(share)));
    }
    for share in [1.0, 2.0, 3.0, 5.0, 7.5, 10.0] {
        let name = format!("covered beside the finders, {share} %");
        steps.push((name, Damage::CoverData(share)));
    }
    for count in 1..=4 {
        steps.push((format!("scratched, {count}"), Damage::Scratch(count)));
    }
    for modules in [0.125, 0.25, 0.375, 0.5, 0.625] {
        steps.push((format!("blurred, {modules}"), Damage::Blur(modules)));
    }
    steps
}

/// How many of the codes both readers read, each by itself: `ZBar`, then rxing.
fn read(damage: Damage, level: QrCodeEcc, codes: u64, folder: &Path) -> (usize, usize) {
    let texts: Vec<String> = (0..codes).map(text).collect();
    let pictures: Vec<Grey> = texts
        .iter()
        .zip(0..)
        .map(|(text, seed)| damaged(&drawn(&symbol(text, level)), damage, seed))
        .collect();
    let zbar = readers::zbar(&pictures, folder);
    let by_zbar = zbar
        .iter()
        .zip(&texts)
        .filter(|(read, text)| read.contains(text));
    let by_rxing = pictures
        .iter()
        .zip(&texts)
        .filter(|(picture, text)| readers::rxing(picture).as_ref() == Some(*text));
    (by_zbar.count(), by_rxing.count())
}

fn main() -> Result<(), Box<dyn Error>> {
    let codes = std::env::args()
        .nth(1)
        .map_or(Ok(40), |count| count.parse())?;
    let folder = std::env::temp_dir().join(format!("tag-damage-{}", std::process::id()));
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "| damage | L | M | Q | H |\n| --- | --- | --- | --- | --- |"
    )?;
    for (name, damage) in steps() {
        write!(out, "| {name} |")?;
        for level in LEVELS {
            let (zbar, rxing) = read(damage, level, codes, &folder);
            let share = |count: usize| u64::try_from(count).map(|count| count * 100 / codes.max(1));
            write!(out, " {} / {} |", share(zbar)?, share(rxing)?)?;
        }
        writeln!(out)?;
        out.flush()?;
    }
    Ok(())
}
