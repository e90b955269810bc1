//! How long a job of 100,000 records takes to open, beside reading the same bytes without meaning:
//! `CARGO_PROFILE_RELEASE_OPT_LEVEL=3 cargo run --release --example opening [-- CABLES]`.
//!
//! The median of five, all of it in one run, so that only the ratios count.

#[path = "support/clock.rs"]
mod clock;

#[path = "../tests/support"]
mod support {
    pub(crate) mod large;
}

use std::error::Error;
use std::io::Write;
use std::time::Duration;

use bothends::domain::ids::{Bits80, WriterId};
use bothends::journal::{Journal, wire};

/// So many cables make 100,000 records.
const CABLES: usize = 20_050;

use clock::median;

fn main() -> Result<(), Box<dyn Error>> {
    let cables = std::env::args().nth(1);
    let cables = cables.map_or(Ok(CABLES), |count| count.parse())?;
    let lines = support::large::large_job(cables, 1);
    let mut out = std::io::stdout().lock();
    writeln!(out, "{} records", lines.len())?;
    let value = median(|| {
        each(&lines, |line| {
            serde_json::from_str::<serde_json::Value>(line)
        })
    });
    let read = median(|| each(&lines, wire::read));
    let open = median(|| {
        let mut journal = Journal::new(support::large::JOB, WriterId(Bits80(*b"aReader000")));
        journal.take(lines.iter().map(String::as_str));
        journal
    });
    for (what, time) in [
        ("read as JSON without meaning", value),
        ("read as what happened", read),
        ("opened: read, checked, put together, indexed", open),
    ] {
        let ratio = |to: Duration| time.as_secs_f64() / to.as_secs_f64();
        writeln!(
            out,
            "{what:<46} {time:>10.1?}   {:.2} of the first, {:.2} of the second",
            ratio(value),
            ratio(read)
        )?;
    }
    Ok(())
}

/// All lines read, and kept until the last one is.
fn each<'a, T>(lines: &'a [String], read: impl Fn(&'a str) -> T) -> Vec<T> {
    lines.iter().map(|line| read(line)).collect()
}
