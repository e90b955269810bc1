//! The clock of measurements.

use std::time::Duration;
#[expect(
    clippy::disallowed_types,
    reason = "a measurement needs a clock; the core has none"
)]
use std::time::Instant;

/// How often each piece of work is done; the median counts.
pub(crate) const ROUNDS: usize = 5;

/// How long a piece of work takes, the median of five; what it makes is dropped after that.
pub(crate) fn median<T>(work: impl Fn() -> T) -> Duration {
    median_with(|| (), |()| work())
}

/// The same of work that uses up something, which is made ready outside the time.
pub(crate) fn median_with<S, T>(ready: impl Fn() -> S, work: impl Fn(S) -> T) -> Duration {
    let round = |_| {
        let ready = ready();
        timed(|| work(ready)).0
    };
    middle((0..ROUNDS).map(round).collect())
}

/// How long a piece of work takes once, and what it makes.
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    #[expect(
        clippy::disallowed_types,
        reason = "a measurement needs a clock; the core has none"
    )]
    let begun = Instant::now();
    let made = work();
    (begun.elapsed(), made)
}

/// The median.
pub(crate) fn middle(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}
