//! Two readers of codes that share nothing with each other or with what made them: `ZBar`, in C, by its
//! program `zbarimg`; and rxing, in Rust after `ZXing`.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use rxing::BarcodeFormat;
use rxing::helpers::detect_in_luma;

use super::grey::Grey;

/// What mends a missing program; `cargo xtask test` does it by itself where it may.
const MEND: &str = "sudo apt-get update && sudo apt-get install -y --no-install-recommends poppler-utils zbar-tools";

/// Runs a program of the machine.
///
/// # Panics
/// When it is not there, with the command that mends it: what was not checked must not pass.
pub(crate) fn run(program: &str, command: &mut Command) -> Output {
    command.output().unwrap_or_else(|error| {
        panic!("cannot start `{program}`: {error}\n  to mend it: {MEND}\n  (on a machine without apt-get: install poppler's and ZBar's programs)")
    })
}

/// What `ZBar` reads on each picture, all of them in one call.
///
/// # Panics
/// When the program is not there, or cannot read the files.
pub(crate) fn zbar(pictures: &[Grey], folder: &Path) -> Vec<Vec<String>> {
    fs::create_dir_all(folder).expect("a folder for pictures");
    let mut command = Command::new("zbarimg");
    command
        .current_dir(folder)
        .args(["-q", "--xml", "-Sdisable", "-Sqr.enable"]);
    for (at, picture) in pictures.iter().enumerate() {
        let name = format!("{at}.pgm");
        picture.write(&folder.join(&name)).expect("it is written");
        command.arg(name);
    }
    let output = run("zbarimg", &mut command);
    // 4 says that some picture has no code, which is for the caller to judge.
    assert!(
        matches!(output.status.code(), Some(0 | 4)),
        "zbarimg: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    fs::remove_dir_all(folder).expect("the folder is emptied");
    let mut read = vec![Vec::new(); pictures.len()];
    let xml = String::from_utf8_lossy(&output.stdout).into_owned();
    for source in xml.split("<source href='").skip(1) {
        let (name, rest) = source.split_once('\'').expect("the name of a file");
        let at: usize = name
            .strip_suffix(".pgm")
            .and_then(|number| number.parse().ok())
            .expect("one of ours");
        read[at] = rest
            .split("<![CDATA[")
            .skip(1)
            .filter_map(|data| data.split_once("]]>"))
            .map(|(text, _)| text.to_owned())
            .collect();
    }
    read
}

/// What rxing reads on a picture.
pub(crate) fn rxing(picture: &Grey) -> Option<String> {
    let side = |length: usize| u32::try_from(length).expect("a picture");
    detect_in_luma(
        picture.pixels.clone(),
        side(picture.width),
        side(picture.height),
        Some(BarcodeFormat::QR_CODE),
    )
    .ok()
    .map(|result| result.getText().to_owned())
}
