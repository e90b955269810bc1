//! The one integration test binary; every file below `tests/` is declared here.

mod app;
mod architecture;
mod bench;
mod codes;
mod command;
mod demo;
mod domain;
mod exchange;
mod fuzz;
mod journal;
mod large;
mod mill;
mod papers;
mod query;
mod relay;
mod scan;
mod schedule;
mod support;
mod tags;
mod ui;
