//! Writes the demo job anew: `cargo run --example demo_data`.

#[path = "../tests/support"]
mod support {
    pub(crate) mod marrowby;
}

/// Where the demo job lies in the repository.
const FILE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/demo-data/marrowby-mill.jobfile.txt"
);

fn main() -> std::io::Result<()> {
    std::fs::write(FILE, support::marrowby::job_file())
}
