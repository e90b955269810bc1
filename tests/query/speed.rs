//! How long the whole check of a large job takes beside the same questions in `SQLite`. Ignored in
//! the gate, because a busy machine is no measure: `cargo test --release speed -- --ignored`.

use super::race::{Pair, race};
use crate::support::plain::{JOB, opened, plain_job, texts};

#[test]
#[ignore = "measures time, so that it wants a quiet machine and a release build"]
fn a_large_job_is_checked_in_a_tenth_of_the_time_of_sqlite() {
    let lines = plain_job(10_000);
    let race = race(&opened(JOB, texts(&lines)), &lines);
    let told = |what: &str, pair: Pair| {
        let words = format!("{what}: {:?} here, {:?} in SQLite", pair.ours, pair.theirs);
        #[expect(clippy::print_stderr, reason = "the figure is what the run is for")]
        {
            eprintln!(
                "{} findings, {words}, asked {} times",
                race.findings, race.rounds
            );
        }
        words
    };
    let kept = told("from what is kept", race.kept);
    let bare = told("from bare facts", race.bare);
    told("progress", race.progress);
    assert!(race.kept.ours * 10 <= race.kept.theirs, "{kept}");
    assert!(race.bare.ours * 2 <= race.bare.theirs, "{bare}");
}
