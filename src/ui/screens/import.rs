//! A cable schedule on its way in: what would be added, what is here already, what cannot be used.

use crate::names;
use crate::ui::Html;
use crate::view::{Touch, Words, markup};

use crate::app::{Action, Import, Model, OpenJob, Purpose, Screen};
use crate::exchange::csv::Finding;
use crate::exchange::schedule::{Column, Use};
use crate::schedule::{Outcome, What};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{PAGE_ROWS, Shape, Tone, button, code, empty, pager, state};

/// Draws the import.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Bring a cable schedule in");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    match &model.import {
        None => {
            page.body = empty(
                "A schedule is a table saved as CSV, with a row for each cable. Columns may stand in any order.",
                markup! { <p>{ "Before anything is added you see what would be, row by row." }</p> },
            );
            let pick = Action::PickFile(Purpose::Schedule);
            page.actions = markup! {
                <>
                    { button("Choose the file", pick, Tone::Main) }
                    if open.journal.registry().outlets.iter().next().is_some() {
                        { button("To the walls", Action::Go(Screen::Wall), Tone::Quiet) }
                    }
                </>
            };
        }
        Some(import) => {
            page.body = preview(model, import);
            page.actions = actions(import);
        }
    }
    framed(model, page)
}

fn actions(import: &Import) -> Html {
    let adds = import.plan.adds();
    let bad = import.left_out();
    let label: Words = match (adds, bad) {
        (0, _) => "Choose another file".into(),
        (1, 0) => "Add the cable".into(),
        (_, 0) => format!("Add all {adds} cables").into(),
        (1, _) => format!("Add the good row, leave {bad} out").into(),
        _ => format!("Add the {adds} good rows, leave {bad} out").into(),
    };
    let action = match adds {
        0 => Action::PickFile(Purpose::Schedule),
        _ => Action::TakeScheduleIn,
    };
    markup! { <>{ button(label, action, Tone::Main) }{ button("Add nothing", Action::DropSchedule, Tone::Quiet) }</> }
}

fn preview(model: &Model, import: &Import) -> Html {
    let reading = import.schedule.reading();
    let (adds, here) = (import.plan.adds(), import.plan.here());
    let good: Vec<&Outcome> = import
        .plan
        .rows
        .iter()
        .filter(|row| !matches!(row.what, What::Bad { .. }))
        .collect();
    markup! {
        <>
            <p class="import-sums">
                { import.name.clone() }{ ": " }
                { state(Shape::Full, format!("{adds} to add")) }{ " " }
                { state(Shape::Half, format!("{here} here already")) }{ " " }
                { state(if import.bad.is_empty() { Shape::Hollow } else { Shape::Alarm }, format!("{} cannot be used", import.left_out())) }
            </p>
            { for Finding::told(&reading.findings).into_iter().map(|words| markup! { <p class="notice told">{ words }</p> }) }
            if import.plan.taken_back {
                <p class="notice told">{ "This file was taken in before and taken back. Its cables can be added again." }</p>
            }
            if import.plan.numbers {
                <p class="notice told">{ NUMBERS }</p>
            }
            if good.is_empty() {
                <p class="notice refused">{ NOTHING_USABLE }</p>
                if import.schedule.mapping().headings().len() == 1 {
                    <p class="notice told">{ ONE_COLUMN }</p>
                }
            }
            { mapping(import) }
            { beside(import) }
            { rows(model.page, &import.bad, &good) }
            if !reading.skipped.is_empty() {
                <details class="more">
                    <summary>{ format!("Rows left out, such as totals: {}", reading.skipped.len()) }</summary>
                    <ul>{ for reading.skipped.iter().take(60).map(|row| markup! {
                        <li>{ row.to_string() }</li>
                    }) }</ul>
                </details>
            }
        </>
    }
}

const NOTHING_USABLE: &str = "No row of this file can be used. Say below what its columns hold. Or mend the file: headings, such as “Label code” and “Cable type”, and a row for each cable. Then choose it again.";

const NUMBERS: &str = "The file has no outlet numbers: the outlets of each room are numbered in its order. Rows of one place on the wall are one outlet.";

const ONE_COLUMN: &str = "The whole of each line stands in one column. What parts the columns must be a comma, a semicolon or a tab: save the table with one of these.";

/// The rows that a page of the list shows, first those that cannot be used.
fn rows(page: usize, bad: &[(String, Vec<u32>)], good: &[&Outcome]) -> Html {
    let from = page * PAGE_ROWS;
    let bad_here: Vec<_> = bad.iter().skip(from).take(PAGE_ROWS).collect();
    let room = PAGE_ROWS - bad_here.len();
    let good_here: Vec<_> = good
        .iter()
        .skip(from.saturating_sub(bad.len()))
        .take(room)
        .collect();
    markup! {
        <>
            if !bad_here.is_empty() {
                <section aria-labelledby="bad-rows">
                    <h2 id="bad-rows">{ "Rows that cannot be used" }</h2>
                    <ul class="rows">
                        { for bad_here.iter().map(|(reason, lines)| markup! {
                            <li class="row bad-row"><b>{ said_lines(lines) }</b><p>{ reason.clone() }</p></li>
                        }) }
                    </ul>
                </section>
            }
            if !good_here.is_empty() {
                <section aria-labelledby="good-rows">
                    <h2 id="good-rows">{ "Rows that can be used" }</h2>
                    <ul class="rows">{ for good_here.iter().map(|row| good_row(row)) }</ul>
                </section>
            }
            { pager(page, bad.len() + good.len()) }
        </>
    }
}

/// The lines of rows that share a reason, those that follow each other as one: "Lines 4, 7 to 9 and 11".
fn said_lines(lines: &[u32]) -> String {
    let runs = lines.chunk_by(|one, next| one + 1 == *next);
    let runs: Vec<String> = runs
        .map(|run| match run {
            [first, .., last] => format!("{first} to {last}"),
            _ => run[0].to_string(),
        })
        .collect();
    let word = if lines.len() == 1 { "Line " } else { "Lines " };
    [word, &names::listed(&runs)].concat()
}

fn beside(import: &Import) -> Html {
    if import.plan.beside.is_empty() {
        return markup! {};
    }
    let beside = &import.plan.beside;
    markup! {
        <details class="more">
            <summary>{ format!("Added beside the cables, such as rooms and racks: {}", beside.len()) }</summary>
            <ul>{ for beside.iter().take(60).map(|words| markup! { <li>{ words.clone() }</li> }) }</ul>
        </details>
    }
}

fn good_row(row: &Outcome) -> Html {
    let (text, note) = match &row.what {
        What::Adds { code, says } | What::Here { code, says } => (code, says.as_str()),
        What::Bad { reason } => (reason, ""),
    };
    markup! {
        <li class="row good-row">
            { code(text.clone()) }<span>{ note.to_owned() }</span><span>{ format!("line {}", row.line) }</span>
        </li>
    }
}

/// What each column holds. Columns whose heading says nothing are asked for; the others may be
/// looked at.
fn mapping(import: &Import) -> Html {
    let mapping = import.schedule.mapping();
    let unknown = mapping.unknown().count();
    let title: Words = match unknown {
        0 => "What the columns hold".into(),
        _ => format!("Columns not understood: {unknown}. Say what they hold, or leave them out.")
            .into(),
    };
    markup! {
        <details class="more" open={import.asks}>
            <summary>{ title }</summary>
            { for mapping.headings().iter().zip(mapping.uses()).enumerate().map(|(place, (heading, held))| {
                column(import, place, heading, *held)
            }) }
        </details>
    }
}

fn column(import: &Import, place: usize, heading: &str, held: Use) -> Html {
    let id = format!("column-{place}");
    let is_unknown = held == Use::Unknown;
    let held = match held {
        Use::Holds(column) => Some(column),
        Use::Ignored | Use::Unknown => None,
    };
    let chosen = Touch::Chosen(Box::new(move |text| {
        let mut all = Column::ALL.into_iter();
        let column = all.find(|column| column.heading() == text);
        Action::MapColumn { place, column }
    }));
    let samples = import.schedule.samples(place, 3).join(" · ");
    // A line break within a heading is the table's way to keep a column narrow.
    let heading = heading.split_whitespace().collect::<Vec<_>>().join(" ");
    let called = match heading.as_str() {
        "" => format!("Column {}", place + 1),
        _ => format!("“{heading}”"),
    };
    let label = if is_unknown {
        format!("{called}, not understood")
    } else {
        called
    };
    markup! {
        <div class="field" key={id.clone()}>
            <label for={id.clone()}>{ label }</label>
            <select id={id} onchange={chosen}>
                <option selected={held.is_none()} value="">{ "Leave out" }</option>
                { for Column::ALL.into_iter().map(|column| markup! {
                    <option selected={held == Some(column)} value={column.heading()}>{ column.heading() }</option>
                }) }
            </select>
            <p class="hint">{ format!("For example: {samples}") }</p>
        </div>
    }
}
