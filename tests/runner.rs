//! The one integration test binary; every file below `tests/` is declared here.

mod demo;
mod exchange;
mod large;
mod support;
