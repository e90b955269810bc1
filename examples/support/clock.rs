//! The clock of measurements.

use std::time::Duration;
#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
use std::time::Instant;

/// How often each piece of work is done; the median counts.
const ROUNDS: usize = 5;

/// How long a piece of work takes, the median of five; what it makes is dropped after that.
pub(crate) fn median<T>(work: impl Fn() -> T) -> Duration {
    let mut times: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let begun = now();
            let made = work();
            let time = begun.elapsed();
            drop(made);
            time
        })
        .collect();
    times.sort_unstable();
    times[ROUNDS / 2]
}

#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
fn now() -> Instant {
    Instant::now()
}
