//! How many of the photographs in a folder the reader reads, and how long it takes natively:
//! `cargo run --release --example scan -- FOLDER ...`, with folders that `tag_photographs` wrote.

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
    let mut out = std::io::stdout().lock();
    let most: usize = std::env::var("STEPS")
        .ok()
        .map_or(Ok(500), |text| text.parse())?;
    let (mut sum, mut wrong) = (0, 0);
    let mut rows: Vec<(String, Vec<u32>)> = Vec::new();
    let (mut read_times, mut all_times) = (Vec::new(), Vec::new());
    for folder in std::env::args().skip(1) {
        let list = fs::read_to_string(Path::new(&folder).join("list.tsv"))?;
        for line in list.lines() {
            let fields: Vec<&str> = line.split('\t').collect();
            let [at, kind, step, text] = fields[..] else {
                return Err("a list".into());
            };
            let bytes = fs::read(Path::new(&folder).join(format!("{at}.pgm")))?;
            let head = bytes.split(|byte| *byte == b'\n').nth(1).ok_or("a head")?;
            let size: Vec<usize> = std::str::from_utf8(head)?
                .split(' ')
                .map(str::parse)
                .collect::<Result<_, _>>()?;
            let grey = bytes[bytes.len() - size[0] * size[1]..].to_vec();
            #[expect(clippy::disallowed_types, reason = "a measurement")]
            let begun = Instant::now();
            let mut reading = Reading::of(size[0], size[1], grey);
            let mut steps = 0;
            let mut spent = Vec::new();
            let found = loop {
                steps += 1;
                #[expect(clippy::disallowed_types, reason = "a measurement")]
                let at = Instant::now();
                let done = reading.step();
                spent.push(format!("{:.1}", at.elapsed().as_secs_f64() * 1000.0));
                match done {
                    Step::Found(found) => break Some(found.text),
                    Step::More if steps < most => {}
                    _ => break None,
                }
            };
            let took = begun.elapsed().as_secs_f64() * 1000.0;
            if took > 40.0 && std::env::var("SLOW").is_ok() {
                writeln!(
                    out,
                    "{folder} {at} {kind} {step} {} {}",
                    found.is_some(),
                    spent.join(" ")
                )?;
            }
            if size == [960, 720] {
                all_times.push(took);
                if found.is_some() {
                    read_times.push(took);
                }
            }
            if !rows.iter().any(|row| row.0 == kind) {
                rows.push((kind.to_owned(), vec![0; 10]));
            }
            if let Some(row) = rows.iter_mut().find(|row| row.0 == kind) {
                if found.as_deref() == Some(text) {
                    row.1[step.parse::<usize>()? - 1] += 1;
                    sum += 1;
                } else if found.is_some() {
                    wrong += 1;
                    writeln!(out, "FALSE {folder} {at} {kind} {step} {found:?} {text}")?;
                }
            }
        }
    }
    for (kind, row) in rows {
        writeln!(out, "{kind:12} {row:?}")?;
    }
    let pick = |times: &mut Vec<f64>, share: f64| {
        times.sort_by(f64::total_cmp);
        times
            .get((times.len() as f64 * share) as usize)
            .copied()
            .unwrap_or_default()
    };
    writeln!(
        out,
        "{sum} right, {wrong} false; read: median {:.1} ms, p95 {:.1}; all: median {:.1}, p95 {:.1}, most {:.1}",
        pick(&mut read_times, 0.5),
        pick(&mut read_times, 0.95),
        pick(&mut all_times, 0.5),
        pick(&mut all_times, 0.95),
        pick(&mut all_times, 0.9999)
    )?;
    Ok(())
}
