//! How many seeds a test tries: always the same in the gate, others by chance in `cargo xtask long`.

use std::hash::{BuildHasher, Hasher, RandomState};
use std::ops::Range;

use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngSeed, TestCaseResult, TestRunner};

/// How many seeds `BOTHENDS_SEEDS` asks for; none in the gate.
fn wanted() -> Option<u32> {
    let count = std::env::var("BOTHENDS_SEEDS").ok()?;
    Some(count.parse().expect("BOTHENDS_SEEDS is a number"))
}

/// The seeds of a test: those of the gate, else so many others as are wanted, from a start by chance.
/// A failure names its seed.
pub(crate) fn seeds(gate: Range<u64>) -> Range<u64> {
    match wanted() {
        None => gate,
        Some(count) => {
            let start = RandomState::new().build_hasher().finish() >> 8;
            start..start + u64::from(count)
        }
    }
}

/// A runner of generated cases, so many in the gate. A failure prints what it shrank to, so nothing is
/// written beside the tests.
pub(crate) fn runner(cases: u32) -> TestRunner {
    let wanted = wanted();
    TestRunner::new(Config {
        cases: wanted.unwrap_or(cases),
        rng_seed: match wanted {
            Some(_) => RngSeed::Random,
            None => RngSeed::Fixed(1),
        },
        failure_persistence: None,
        ..Config::default()
    })
}

/// Tries one case for each seed: the kept ones, a line each, and then `gate` others. A failure names its
/// seed, which is then kept for ever.
pub(crate) fn each_seed<S: Strategy>(
    kept: &str,
    gate: u64,
    cases: &S,
    check: impl Fn(S::Value) -> TestCaseResult,
) {
    let kept = kept.lines().filter(|line| !line.starts_with('#'));
    let kept = kept.map(|line| line.trim().parse().expect("a seed is a number"));
    for seed in kept.chain(seeds(1..gate + 1)) {
        let mut runner = TestRunner::new(Config {
            cases: 1,
            rng_seed: RngSeed::Fixed(seed),
            failure_persistence: None,
            ..Config::default()
        });
        if let Err(failure) = runner.run(cases, &check) {
            panic!("seed {seed}: {failure}");
        }
    }
}
