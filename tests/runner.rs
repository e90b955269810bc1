//! The one integration test binary; every file below `tests/` is declared here.

mod app;
mod architecture;
mod codes;
mod exchange;
mod query;
