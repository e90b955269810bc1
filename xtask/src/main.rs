//! The project's own commands: `cargo xtask serve | test | dist | long | bench | shots | icons`.
//!
//! Reading order: `settings` (every figure and list), `failure` and `run` (how a command is started
//! and how trouble is told), `toolchain` and `packages` (what the machine must have), `wasm`, `text`,
//! `site` and `report` (the static folder), `serve`, `browser`, `bench` and `rows` (one table of what `extras`,
//! `readers` and `page` measure), `licences`, `unused` and `gate`.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a command line tool talks to a terminal"
)]

mod arguments;
mod bench;
mod browser;
mod compress;
mod extras;
mod failure;
mod gate;
mod hash;
mod imports;
mod licences;
mod metadata;
mod order;
mod packages;
mod page;
mod paths;
mod readers;
mod report;
mod rows;
mod run;
mod scripts;
mod serve;
mod settings;
mod site;
mod step;
mod text;
mod toolchain;
mod unused;
mod wasm;

use std::process::ExitCode;

use arguments::Command;
use failure::Outcome;

fn main() -> ExitCode {
    let given: Vec<String> = std::env::args().skip(1).collect();
    match arguments::parse(&given).and_then(perform) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("\n{failure}");
            ExitCode::FAILURE
        }
    }
}

fn perform(command: Command) -> Outcome {
    match command {
        Command::Help => {
            println!("{}", arguments::HELP);
            Ok(())
        }
        Command::Dist => site::build_and_report().map(|_| ()),
        Command::Serve(wish) => serve::build_and_serve(&wish),
        Command::Test(scope) => gate::run(scope),
        Command::Browser(names) => extras::browser(&names),
        Command::Long(wish) => extras::long(&wish),
        Command::Bench(parts) => bench::run(&parts),
        Command::Shots => extras::shots(),
        Command::Icons => extras::icons(),
    }
}
