//! One table of everything that the programs of `cargo xtask bench` measured.
//!
//! Each program appends its rows to the file that [`FILE`] names, where that is set: a line each, with tabs
//! between what was measured, what stands beside it, the goal, and the figures, each as `column=figure`.
//! A dash stands for nothing.

/// The variable of the environment that names the file for the rows.
pub(crate) const FILE: &str = "BOTHENDS_ROWS";

/// What the programs of one section left.
pub(crate) struct Measured {
    /// The section, as the table calls it.
    pub(crate) section: &'static str,
    /// The lines that they wrote.
    pub(crate) lines: String,
    /// Why they did not come to their end.
    pub(crate) failure: Option<String>,
}

struct Row<'a> {
    section: &'a str,
    what: &'a str,
    beside: &'a str,
    goal: &'a str,
    figures: Vec<(&'a str, &'a str)>,
}

/// The rows of all sections in their order. Every column that a figure names is there, in the order in
/// which they were first named.
pub(crate) fn table(sections: &[Measured]) -> String {
    let failures: Vec<Option<String>> = sections.iter().map(failure).collect();
    let mut rows = Vec::new();
    for (measured, failure) in sections.iter().zip(&failures) {
        let section = measured.section;
        rows.extend(measured.lines.lines().map(|line| row(section, line)));
        rows.extend(failure.as_deref().map(|what| row(section, what)));
    }
    let mut columns: Vec<&str> = Vec::new();
    for (column, _) in rows.iter().flat_map(|row| &row.figures) {
        if !columns.contains(column) {
            columns.push(column);
        }
    }
    let mut text = line(
        ["part", "what", "beside it"]
            .into_iter()
            .chain(columns.iter().copied())
            .chain(["goal"]),
    );
    text += &line(std::iter::repeat_n("---", columns.len() + 4));
    for row in &rows {
        let figures = columns.iter().map(|column| {
            let found = row.figures.iter().find(|(name, _)| name == column);
            found.map_or("-", |(_, figure)| *figure)
        });
        text += &line(
            [row.section, row.what, row.beside]
                .into_iter()
                .chain(figures)
                .chain([row.goal]),
        );
    }
    text
}

/// What the row of a failure says. A program that misses its goal fails with all its rows written.
fn failure(measured: &Measured) -> Option<String> {
    let why = measured.failure.as_deref()?;
    let why: Vec<&str> = why.split_whitespace().collect();
    let begin = if measured.lines.is_empty() {
        "not measured"
    } else {
        "not all measured, or a goal missed"
    };
    Some(format!("{begin}: {}", why.join(" ")))
}

fn row<'a>(section: &'a str, line: &'a str) -> Row<'a> {
    let mut fields = line.split('\t');
    let mut next = || fields.next().unwrap_or("-");
    Row {
        section,
        what: next(),
        beside: next(),
        goal: next(),
        figures: fields.filter_map(|field| field.split_once('=')).collect(),
    }
}

/// A line of the table; a bar within a cell would begin another.
fn line<'a>(cells: impl Iterator<Item = &'a str>) -> String {
    let cells: Vec<String> = cells.map(|cell| cell.replace('|', "/")).collect();
    format!("| {} |\n", cells.join(" | "))
}

#[cfg(test)]
mod tests {
    use super::{Measured, table};

    fn measured(section: &'static str, lines: &str, failure: Option<&str>) -> Measured {
        Measured {
            section,
            lines: lines.to_owned(),
            failure: failure.map(str::to_owned),
        }
    }

    #[test]
    fn rows_of_all_sections_stand_below_the_columns_that_they_name() {
        let core = "check it\tanother\t0.1\t10=1 ms : 2 ms = **0.500**\t100=3 ms\n";
        let scan = "codes read\ta reader\t-\tfigure=5 : 4\n";
        let sections = [measured("core", core, None), measured("scan", scan, None)];
        assert_eq!(
            table(&sections),
            "| part | what | beside it | 10 | 100 | figure | goal |\n\
             | --- | --- | --- | --- | --- | --- | --- |\n\
             | core | check it | another | 1 ms : 2 ms = **0.500** | 3 ms | - | 0.1 |\n\
             | scan | codes read | a reader | - | - | 5 : 4 | - |\n"
        );
    }

    #[test]
    fn a_section_that_fails_says_why_in_a_row_of_its_own() {
        let text = table(&[
            measured("page", "", Some("no program\n  to mend it: a | b")),
            measured(
                "browser",
                "a tap\t-\t-\tfigure=5 ms\n",
                Some("it ended with 1"),
            ),
        ]);
        let rows: Vec<&str> = text.lines().skip(2).collect();
        assert_eq!(
            rows,
            [
                "| page | not measured: no program to mend it: a / b | - | - | - |",
                "| browser | a tap | - | 5 ms | - |",
                "| browser | not all measured, or a goal missed: it ended with 1 | - | - | - |",
            ]
        );
    }

    #[test]
    fn a_line_that_was_cut_off_is_shown_as_far_as_it_goes() {
        let text = table(&[measured("core", "check it\tanoth", None)]);
        assert!(
            text.ends_with("| core | check it | anoth | - |\n"),
            "{text}"
        );
    }
}
