//! The one integration test binary; every file below `tests/` is declared here.

mod query;
