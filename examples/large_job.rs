//! Writes a large job for measuring: `cargo run --release --example large_job -- FILE [CABLES]`, or with
//! `racks` in the place of the number one of 20 racks, 200 panels and 10,000 positions, and with `flags` an
//! order of 1,000 tags.

#[path = "../tests/support"]
mod support {
    pub(crate) mod flags;
    pub(crate) mod large;
    pub(crate) mod racks;
}

use std::error::Error;

use bothends::exchange::jobfile;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let path = arguments
        .next()
        .ok_or("Say which file to write, and how many cables after it (2,400 otherwise).")?;
    let (job, name, lines) = match arguments.next().as_deref() {
        Some("racks") => (
            support::racks::JOB,
            "Many racks",
            support::racks::many_racks(),
        ),
        Some("flags") => {
            std::fs::write(path, support::flags::flags(1_000).to_string())?;
            return Ok(());
        }
        count => {
            let cables = count.map_or(Ok(2_400), str::parse)?;
            let lines = support::large::large_job(cables, 1);
            (support::large::JOB, "Large job", lines)
        }
    };
    let file = jobfile::write(job, name, lines.iter().map(String::as_str));
    std::fs::write(path, file)?;
    Ok(())
}
