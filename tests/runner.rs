//! The one integration test binary; every file below `tests/` is declared here.

mod architecture;
mod codes;
mod exchange;
mod journal;
mod schedule;
