//! The one integration test binary; every file below `tests/` is declared here.

mod architecture;
mod codes;
mod domain;
mod exchange;
mod query;
