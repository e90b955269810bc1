//! How many of the photographs in folders the reader reads, and how long it takes natively:
//! `cargo run --release --example scan -- FOLDER ...`, with folders that `tag_photographs` wrote. With
//! `STEPS` in the environment no picture takes more steps than that. A list of the answers, with the time that
//! each took, is written beside each list of photographs, as `readers.py` does for the other readers.

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::io::Write;
use std::path::Path;
#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
use std::time::Instant;

use bothends::scan::{Reading, Step};

fn main() -> Result<(), Box<dyn Error>> {
    let most = std::env::var("STEPS");
    let most: usize = most.ok().map_or(Ok(usize::MAX), |text| text.parse())?;
    let mut out = std::io::stdout().lock();
    let (mut right, mut wrong) = (0, 0);
    let mut rows: BTreeMap<String, Vec<u32>> = BTreeMap::new();
    let (mut read_times, mut all_times) = (Vec::new(), Vec::new());
    for folder in std::env::args().skip(1) {
        let list = fs::read_to_string(Path::new(&folder).join("list.tsv"))?;
        let mut answers = String::new();
        for line in list.lines() {
            let fields: Vec<&str> = line.split('\t').collect();
            let [at, kind, step, text] = fields[..] else {
                return Err("the list has four columns".into());
            };
            let (width, height, grey) = picture(&Path::new(&folder).join(format!("{at}.pgm")))?;
            let begun = now();
            let found = read(Reading::of(width, height, grey), most);
            let took = begun.elapsed().as_secs_f64() * 1000.0;
            if (width, height) == (960, 720) {
                all_times.push(took);
                if found.is_some() {
                    read_times.push(took);
                }
            }
            let row = rows.entry(kind.to_owned()).or_insert_with(|| vec![0; 10]);
            let verdict = if found.as_deref() == Some(text) {
                row[step.parse::<usize>()? - 1] += 1;
                right += 1;
                "right"
            } else if found.is_some() {
                wrong += 1;
                writeln!(out, "false in {folder}, {at}: {found:?}, not {text:?}")?;
                "false"
            } else {
                "none"
            };
            answers += &format!("{at}\tours, native\t{verdict}\t{took:.3}\n");
        }
        fs::write(Path::new(&folder).join("native.tsv"), answers)?;
    }
    for (kind, row) in rows {
        writeln!(out, "{kind:12} {row:?}")?;
    }
    writeln!(out, "natively: {right} right, {wrong} false")?;
    for (what, times) in [("read", &mut read_times), ("all", &mut all_times)] {
        times.sort_by(f64::total_cmp);
        let share = |hundredths: usize| times.get(times.len() * hundredths / 100).copied();
        let (median, most) = (share(50).unwrap_or(0.0), share(95).unwrap_or(0.0));
        writeln!(
            out,
            "natively, {what}: median {median:.1} ms, p95 {most:.1} ms"
        )?;
    }
    Ok(())
}

fn read(mut reading: Reading, most: usize) -> Option<String> {
    for _ in 0..most {
        match reading.step() {
            Step::Found(found) => return Some(found.text),
            Step::More => {}
            Step::Nothing => return None,
        }
    }
    None
}

/// A binary grey map.
fn picture(path: &Path) -> Result<(usize, usize, Vec<u8>), Box<dyn Error>> {
    let bytes = fs::read(path)?;
    let line = bytes.split(|byte| *byte == b'\n').nth(1).ok_or("no size")?;
    let (width, height) = std::str::from_utf8(line)?
        .split_once(' ')
        .ok_or("no size")?;
    let (width, height): (usize, usize) = (width.parse()?, height.parse()?);
    let from = bytes.len().checked_sub(width * height).ok_or("too short")?;
    Ok((width, height, bytes[from..].to_vec()))
}

#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
fn now() -> Instant {
    Instant::now()
}
