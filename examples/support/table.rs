//! The figures of `bench` as one table, ours beside another program's.

use std::time::Duration;

use serde::{Deserialize, Serialize};

/// Ten times as much may take so many times as long.
const GROWTH: f64 = 20.0;

/// One piece of work at several sizes.
pub(crate) struct Row {
    /// What is done.
    pub(crate) what: &'static str,
    /// What stands beside it.
    pub(crate) beside: &'static str,
    /// The largest share of the other's time that ours may take.
    pub(crate) goal: Option<f64>,
    /// The times, from the smallest size on.
    pub(crate) figures: Vec<Figure>,
}

/// How long it took.
#[derive(Clone, Copy, Serialize, Deserialize)]
pub(crate) struct Figure {
    pub(crate) ours: Duration,
    pub(crate) theirs: Option<Duration>,
}

impl Figure {
    /// A time that stands alone.
    pub(crate) fn alone(ours: Duration) -> Self {
        let theirs = None;
        Self { ours, theirs }
    }

    /// A time beside another.
    pub(crate) fn beside(ours: Duration, theirs: Duration) -> Self {
        let theirs = Some(theirs);
        Self { ours, theirs }
    }

    /// Ours as a share of the other's.
    fn ratio(self) -> Option<f64> {
        Some(self.ours.as_secs_f64() / self.theirs?.as_secs_f64())
    }

    /// Ours, theirs, and ours as a share of theirs.
    pub(super) fn cell(self) -> String {
        let ours = short(self.ours);
        match self.theirs.zip(self.ratio()) {
            Some((theirs, ratio)) => format!("{ours} : {} = **{ratio:.3}**", short(theirs)),
            None => ours,
        }
    }
}

impl Row {
    /// How many times as long each step to the next size takes.
    fn growth(&self) -> Vec<f64> {
        let seconds = |at: &Figure| at.ours.as_secs_f64();
        let steps = self.figures.windows(2);
        steps
            .map(|pair| seconds(&pair[1]) / seconds(&pair[0]))
            .collect()
    }

    /// The growth as the table has it.
    fn steps(&self) -> String {
        let steps: Vec<String> = self
            .growth()
            .iter()
            .map(|times| format!("{times:.1}"))
            .collect();
        steps.join(", ")
    }

    fn goal(&self) -> String {
        self.goal.map_or("-".to_owned(), |goal| goal.to_string())
    }

    fn is_slow(&self) -> bool {
        let above = |ratio: f64| self.goal.is_some_and(|goal| ratio > goal);
        self.figures.iter().filter_map(|at| at.ratio()).any(above)
    }

    fn has_grown(&self, sizes: &[usize]) -> bool {
        // Only a step to ten times as much has a limit.
        let tens = sizes.windows(2).map(|pair| pair[1] == pair[0] * 10);
        let grown = self.growth().into_iter().zip(tens);
        grown.into_iter().any(|(times, ten)| ten && times > GROWTH)
    }

    /// The row for the table of all measurements, which has a column for each size.
    pub(crate) fn line(&self, sizes: &[usize]) -> String {
        let missed = |is: bool| if is { ": MISSED" } else { "" };
        let mut line = format!(
            "{}\t{}\t{}{}",
            self.what,
            self.beside,
            self.goal(),
            missed(self.is_slow())
        );
        for (size, figure) in sizes.iter().zip(&self.figures) {
            line += &format!("\t{}={}", thousands(*size), figure.cell());
        }
        if self.figures.len() > 1 {
            let grown = missed(self.has_grown(sizes));
            line += &format!("\teach step takes, goal {GROWTH}={}{grown}", self.steps());
        }
        line
    }
}

/// The table, and below it which goals were missed.
pub(crate) fn table(sizes: &[usize], rows: &[Row]) -> String {
    let heads: Vec<String> = sizes.iter().map(|size| thousands(*size)).collect();
    let mut text = format!(
        "| what | beside it | {} | each step takes | goal |\n| --- | --- |{} --- | --- |\n",
        heads.join(" | "),
        " --- |".repeat(sizes.len()),
    );
    for row in rows {
        let mut cells: Vec<String> = row.figures.iter().map(|figure| figure.cell()).collect();
        cells.resize(sizes.len(), "-".to_owned());
        text += &format!(
            "| {} | {} | {} | {} times | {} |\n",
            row.what,
            row.beside,
            cells.join(" | "),
            row.steps(),
            row.goal(),
        );
    }
    let missed: Vec<&str> = rows
        .iter()
        .filter(|row| row.is_slow() || row.has_grown(sizes))
        .map(|row| row.what)
        .collect();
    text += &match missed[..] {
        [] => format!(
            "\nEvery goal is met; ten times as much takes at most {GROWTH} times as long.\n"
        ),
        _ => format!(
            "\nMISSED, by the share or as ten times as much takes more than {GROWTH} times as long: {}\n",
            missed.join("; ")
        ),
    };
    text
}

/// A time with three digits.
pub(crate) fn short(time: Duration) -> String {
    let (value, unit) = match time.as_secs_f64() {
        seconds if seconds >= 1.0 => (seconds, "s"),
        seconds if seconds >= 1e-3 => (seconds * 1e3, "ms"),
        seconds => (seconds * 1e6, "µs"),
    };
    let digits = match value {
        value if value >= 100.0 => 0,
        value if value >= 10.0 => 1,
        _ => 2,
    };
    format!("{value:.digits$} {unit}")
}

/// A number with a comma before each three digits.
pub(crate) fn thousands(number: usize) -> String {
    match (number / 1000, number % 1000) {
        (0, rest) => rest.to_string(),
        (more, rest) => format!("{},{rest:03}", thousands(more)),
    }
}
