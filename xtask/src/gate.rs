//! The one gate: what must pass before a change goes in.

use crate::arguments::Scope;
use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::step::Steps;
use crate::{browser, licences, packages, site, unused, wasm};

/// Runs every step, whatever became of those before, and fails if one failed.
pub(crate) fn run(scope: Scope) -> Outcome {
    let mut steps = Steps::new();
    steps.run("format", || {
        Run::new("cargo").words("fmt --all --check").show()
    });
    steps.run("lints, host", || {
        Run::new("cargo")
            .words("clippy --workspace --all-targets --locked -- -D warnings")
            .show()
    });
    steps.run("lints, browser", wasm::clippy);
    steps.run("readers of tags", packages::tag_readers);
    steps.run("tests", || {
        Run::new("cargo").words("test --workspace --locked").show()
    });
    let built = steps.run("dist and its budgets", || {
        site::build_and_report().and_then(|modules| site::write_next(&modules))
    });
    if scope == Scope::Whole {
        steps.run("browser tests", || match built {
            true => browser::run(&[]),
            false => Err(Failure::new("not run, as there is no build to test")),
        });
    }
    steps.run("licences", licences::check);
    steps.run("unused dependencies", unused::check);
    steps.finish()
}
