//! Writes the photographs of a seed as binary grey maps, with a list of what must be read on each:
//! `cargo run --release --example tag_photographs -- FOLDER SEED`.

#[path = "../tests/scan"]
mod scan {
    pub(crate) mod photographs;
}

use std::error::Error;
use std::fmt::Write;
use std::fs;
use std::path::PathBuf;

use scan::photographs;

fn main() -> Result<(), Box<dyn Error>> {
    let mut given = std::env::args().skip(1);
    let folder = PathBuf::from(given.next().ok_or("which folder?")?);
    let seed = given.next().ok_or("which seed?")?.parse()?;
    fs::create_dir_all(&folder)?;
    let mut list = String::new();
    for (at, photograph) in photographs::photographs(seed).enumerate() {
        let (width, height) = (photograph.width, photograph.height);
        let mut bytes = format!("P5\n{width} {height}\n255\n").into_bytes();
        bytes.extend_from_slice(&photograph.grey);
        fs::write(folder.join(format!("{at}.pgm")), bytes)?;
        let text = photograph.text.unwrap_or_default();
        writeln!(
            list,
            "{at}\t{:?}\t{}\t{text}",
            photograph.kind, photograph.step
        )?;
    }
    fs::write(folder.join("list.tsv"), list)?;
    Ok(())
}
