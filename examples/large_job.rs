//! Writes a large job for measuring: `cargo run --release --example large_job -- FILE [CABLES]`.

#[path = "../tests/support"]
mod support {
    pub(crate) mod large;
}

use std::error::Error;

use bothends::exchange::jobfile;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let path = arguments
        .next()
        .ok_or("Say which file to write, and how many cables after it (2,400 otherwise).")?;
    let cables = arguments.next().map_or(Ok(2_400), |count| count.parse())?;
    let lines = support::large::large_job(cables, 1);
    let file = jobfile::write(
        support::large::JOB,
        "Large job",
        lines.iter().map(String::as_str),
    );
    std::fs::write(path, file)?;
    Ok(())
}
