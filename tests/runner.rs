//! The one integration test binary; every file below `tests/` is declared here.

mod app;
mod architecture;
mod codes;
mod domain;
mod exchange;
mod mill;
mod query;
