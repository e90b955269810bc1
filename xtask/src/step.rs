//! Named and timed steps of a longer command.

#![expect(
    clippy::disallowed_types,
    reason = "the core owns no clock; this tool measures how long its steps take"
)]

use std::time::Instant;

use crate::failure::{Failure, Outcome};

/// A list of steps that all run, whatever became of those before, and are summed up at the end.
pub(crate) struct Steps {
    begun: Instant,
    done: Vec<Done>,
}

struct Done {
    name: &'static str,
    seconds: f64,
    trouble: Option<Failure>,
}

impl Steps {
    /// Starts the clock.
    pub(crate) fn new() -> Self {
        Self {
            begun: Instant::now(),
            done: Vec::new(),
        }
    }

    /// Runs one step and tells whether it went well.
    pub(crate) fn run(&mut self, name: &'static str, work: impl FnOnce() -> Outcome) -> bool {
        println!("\n=== {name}");
        let (outcome, seconds) = timed(work);
        let trouble = outcome.err();
        match &trouble {
            None => println!("=== {name}: passed, {seconds:.1} s"),
            Some(failure) => println!("=== {name}: FAILED, {seconds:.1} s\n{failure}"),
        }
        let passed = trouble.is_none();
        self.done.push(Done {
            name,
            seconds,
            trouble,
        });
        passed
    }

    /// Prints the summary; one failed step fails the whole.
    pub(crate) fn finish(self) -> Outcome {
        println!("\n=== summary");
        for step in &self.done {
            let word = if step.trouble.is_some() {
                "FAILED"
            } else {
                "passed"
            };
            println!("{word}  {:7.1} s  {}", step.seconds, step.name);
        }
        let failed: Vec<&str> = self
            .done
            .iter()
            .filter(|step| step.trouble.is_some())
            .map(|step| step.name)
            .collect();
        println!(
            "{} steps, {:.1} s",
            self.done.len(),
            self.begun.elapsed().as_secs_f64()
        );
        if failed.is_empty() {
            Ok(())
        } else {
            Err(Failure::new(format!("failed: {}", failed.join(", "))))
        }
    }
}

/// Runs `work` and gives the seconds it took.
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let begun = Instant::now();
    let result = work();
    (result, begun.elapsed().as_secs_f64())
}
