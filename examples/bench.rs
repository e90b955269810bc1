//! The timings of the core as one table: `cargo xtask bench`, or by itself
//! `cargo run --release --example bench [-- CABLES ...]`.
//!
//! A second of one machine says nothing of another, so ours stands beside another program that does the
//! same on the same machine in the same run, and a loop of plain arithmetic beside all. Each figure is
//! the median of five. Each size is measured in a process of its own, as the app has one job in memory that
//! was fresh: a job that is put together in what a larger one gave back lies all over it. Opening is
//! measured in five processes that do nothing else, too, since nobody opens a job five times over; and
//! what walks over a whole job in five of them with nothing of the job in the caches, so that what grows is
//! the work, and not what has no room there. How the times grow is drawn into `docs/pictures/growth.svg`.

#[path = "support/once.rs"]
mod once;
#[path = "support/plot.rs"]
mod plot;
#[path = "support/table.rs"]
mod table;

#[path = "../tests/support"]
#[expect(
    dead_code,
    reason = "the jobs of other measurements stand in the same files"
)]
mod support {
    pub(crate) mod clock;
    pub(crate) mod flags;
    pub(crate) mod large;
    pub(crate) mod plain;
    pub(crate) mod unplaced;
}

#[path = "../tests/query"]
#[expect(dead_code, reason = "the tests ask more of the same tables")]
mod query_tests {
    pub(crate) mod flat;
    pub(crate) mod race;
    pub(crate) mod reference;
}

use std::error::Error;
use std::fs::OpenOptions;
use std::hint::black_box;
use std::io::Write;
use std::path::Path;

use bothends::domain::medium::{Fit, fit};
use bothends::exchange::jobfile;
use bothends::journal::{Registry, wire};
use bothends::papers::Making;
use bothends::query::propose::propose;
use bothends::query::{find, rack};
use bothends::tags::Order;
use bothends::{names, walk};
use petgraph::algo::maximum_matching;
use petgraph::graph::UnGraph;
use serde::{Deserialize, Serialize};

use once::{ALONE, New, Once, alone, each, parsed};
use query_tests::race::{Pair, Race, race};
use support::clock::{ROUNDS, median, median_with};
use support::plain::{JOB, opened, plain_job, texts};
use table::{Figure, Row, short, table, thousands};

/// The sizes that are measured unless others are named.
const SIZES: [usize; 3] = [1_000, 10_000, 100_000];
/// The largest size for the proposal, whose reference has an edge for each cable and position that fit,
/// and for tags.
const SMALLER: usize = 10_000;
/// Jobs as they are, for which the proposal is timed beside the reference too.
const USUAL: [usize; 2] = [500, 5_000];

/// The loop that every machine can run.
const ARITHMETIC: &str = "20,000,000 rounds of plain arithmetic";
/// The reference of the proposal.
const MATCHING: &str = "maximum_matching of petgraph, on the same input";

/// All that is measured five times over in one process.
const JOB_ITSELF: &str = "job";

fn main() -> Result<(), Box<dyn Error>> {
    let mut told = std::env::args().skip(1).peekable();
    let mut out = std::io::stdout().lock();
    if told.next_if(|word| word == ALONE).is_some() {
        let what = told.next().ok_or("alone, but what?")?;
        let size = told.next().ok_or("how many cables?")?.parse()?;
        match &what[..] {
            JOB_ITSELF => serde_json::to_writer(out, &Job::measured(size))?,
            once => serde_json::to_writer(out, &Once::named(once)?.timed(size))?,
        }
        return Ok(());
    }
    let named: Result<Vec<usize>, _> = told.map(|size| size.parse()).collect();
    let named = named?;
    let sizes = if named.is_empty() { &SIZES } else { &named[..] };
    let loop_took = short(median(arithmetic));
    writeln!(out, "{ARITHMETIC}: {loop_took}")?;
    // For the table at the end of `cargo xtask bench`, as its `rows.rs` has them.
    let mut lines = vec![format!("{ARITHMETIC}\t-\t-\tfigure={loop_took}")];
    let mut jobs = Vec::new();
    for size in sizes {
        let mut job: Job = alone(JOB_ITSELF, *size)?;
        job.new = Some(New::measured(*size)?);
        let rounds = match job.race.rounds {
            ROUNDS => String::new(),
            rounds => format!("; SQLite was asked {rounds} times"),
        };
        writeln!(
            out,
            "{} cables: {} lines, {} findings{rounds}",
            thousands(*size),
            thousands(job.lines),
            thousands(job.race.findings),
        )?;
        jobs.push(job);
    }
    let rows = rows(&jobs);
    writeln!(out, "\n{}", table(sizes, &rows))?;
    lines.extend(rows.iter().map(|row| row.line(sizes)));
    for cables in USUAL.iter().filter(|_| named.is_empty()) {
        let what = format!("propose positions for {}", thousands(*cables));
        let figure = proposal(*cables).cell();
        writeln!(out, "{what}: {figure}")?;
        lines.push(format!("{what}\t{MATCHING}\t-\tfigure={figure}"));
    }
    keep(&lines)?;
    if named.is_empty() {
        draw(sizes, &rows)?;
    }
    Ok(())
}

fn draw(sizes: &[usize], rows: &[Row]) -> std::io::Result<()> {
    let drawn: Vec<&Row> = rows.iter().filter(|row| is_drawn(row)).collect();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/pictures/growth.svg");
    std::fs::write(path, plot::plot(sizes, &drawn))
}

/// Adds lines to the file for them, where one is named.
fn keep(lines: &[String]) -> std::io::Result<()> {
    let Some(path) = std::env::var_os("BOTHENDS_ROWS") else {
        return Ok(());
    };
    let mut file = OpenOptions::new().append(true).create(true).open(path)?;
    writeln!(file, "{}", lines.join("\n"))
}

/// The figures of one job.
#[derive(Serialize, Deserialize)]
struct Job {
    lines: usize,
    race: Race,
    /// What is measured in other processes.
    new: Option<New>,
    open: Figure,
    read: Figure,
    /// None when the file is larger than the app takes in.
    file: Option<Figure>,
    index: Figure,
    search: Figure,
    /// Of as many cables without positions, unless that are too many for the reference.
    proposal: Option<Figure>,
    /// Of as many tags, unless there are too many.
    tags: Option<Figure>,
}

impl Job {
    fn measured(cables: usize) -> Self {
        let lines = plain_job(cables);
        let journal = opened(JOB, texts(&lines));
        let registry = journal.registry();
        let race = race(&journal, &lines);
        let index = find::SearchIndex::build(registry);
        let codes: Vec<String> = walk::cables(registry)
            .into_iter()
            .step_by(97)
            .map(|cable| names::cable(registry, cable))
            .take(100)
            .collect();
        let typed: Vec<&str> = codes.iter().flat_map(|code| starts(code)).collect();
        let search = median(|| {
            for text in &typed {
                drop(find::search(&index, registry, JOB, text));
            }
        });
        let keys = u32::try_from(typed.len()).expect("few keys");
        let json = median(|| each(&lines, parsed));
        let file = jobfile::write(JOB, "Large job", lines.iter().map(String::as_str));
        let is_smaller = cables <= SMALLER;
        Self {
            lines: lines.len(),
            race,
            new: None,
            open: Figure::beside(
                median_with(|| texts(&lines), |texts| opened(JOB, texts)),
                json,
            ),
            read: Figure::beside(median(|| each(&lines, wire::read)), json),
            file: jobfile::read(file.as_bytes())
                .findings
                .is_empty()
                .then(|| Figure::beside(median(|| jobfile::read(file.as_bytes())), json)),
            index: Figure::alone(median(|| find::SearchIndex::build(registry))),
            search: Figure::alone(search / keys),
            proposal: is_smaller.then(|| proposal(cables)),
            tags: is_smaller.then(|| tags(cables)),
        }
    }
}

fn rows(jobs: &[Job]) -> Vec<Row> {
    let row = |what, beside, goal, of: fn(&Job) -> Figure| Row {
        what,
        beside,
        goal,
        figures: jobs.iter().map(of).collect(),
    };
    let some = |what, beside, of: fn(&Job) -> Option<Figure>| Row {
        what,
        beside,
        goal: None,
        figures: jobs.iter().filter_map(of).collect(),
    };
    vec![
        row("check it whole", "SQLite, asked", Some(0.1), |job| {
            beside(job.race.kept)
        }),
        row(
            "open and check it",
            "SQLite, filled and asked",
            Some(0.5),
            |job| beside(job.race.bare),
        ),
        row(
            "count how far each room is",
            "SQLite, asked that too",
            None,
            |job| beside(job.race.progress),
        ),
        Row {
            goal: Some(1.0),
            ..some("open it, once", "its JSON parsed, once", |job| {
                Some(job.new?.open)
            })
        },
        Row {
            goal: Some(4.0),
            ..some("the same", "what happened read from it, once", |job| {
                Some(job.new?.open_by_reading)
            })
        },
        some("check it whole, nothing of it in the cache", "-", |job| {
            Some(job.new?.check)
        }),
        some("count how far each room is, so too", "-", |job| {
            Some(job.new?.rooms)
        }),
        some("propose positions, so too", "-", |job| job.new?.proposal),
        row(
            "open it five times over",
            "its JSON parsed, so too",
            None,
            |job| job.open,
        ),
        row(
            "of this, read what happened",
            "its JSON parsed",
            None,
            |job| job.read,
        ),
        some(
            "read it as a job file, with its digests",
            "its JSON parsed",
            |job| job.file,
        ),
        row("make the index of the search", "-", None, |job| job.index),
        row("one key in the search", "-", None, |job| job.search),
        some("propose positions", MATCHING, |job| job.proposal),
        some("as many tags with codes to PDF", "-", |job| job.tags),
    ]
}

fn beside(pair: Pair) -> Figure {
    Figure::beside(pair.ours, pair.theirs)
}

/// What shows how the work grows, without lines that lie on others.
fn is_drawn(row: &Row) -> bool {
    [
        "check it whole",
        "open and check it",
        "open it, once",
        "one key in the search",
    ]
    .contains(&row.what)
}

/// What every machine can run: the same loop as in the browser.
fn arithmetic() -> u64 {
    let mut sum = 0_u64;
    for at in 0..20_000_000_u64 {
        sum = black_box((sum + at * at) % 1_000_003);
    }
    sum
}

/// What stands in the field after each key.
fn starts(code: &str) -> impl Iterator<Item = &str> {
    (1..=code.len()).filter_map(|end| code.get(..end))
}

/// So many cables without positions, of three kinds, for four racks.
fn proposal(cables: usize) -> Figure {
    let journal = support::unplaced::open_job(cables);
    let registry = journal.registry();
    let ours = median(|| propose(registry));
    let placed = propose(registry).places.len();
    let (graph, reference) = reference(registry);
    assert_eq!(placed, reference, "the matching lands as many");
    Figure::beside(ours, median(|| maximum_matching(&graph)))
}

/// Cables and positions as a graph with an edge for each pair that fits, for the reference, and how
/// many it lands.
fn reference(registry: &Registry) -> (UnGraph<(), ()>, usize) {
    let mut graph = UnGraph::new_undirected();
    let mut free = Vec::new();
    for rack in rack::racks(registry) {
        for panel in rack.panels {
            let connector = rack::make(registry, panel).map(|make| make.connector);
            for _ in rack::slots(registry, panel) {
                free.push((rack.rack, connector, graph.add_node(())));
            }
        }
    }
    for cable in walk::cables(registry) {
        let node = graph.add_node(());
        let medium = registry.cables.get(cable).and_then(|row| row.medium.get());
        let home = registry.home_rack(cable);
        for (rack, connector, position) in &free {
            let fits = match (medium, connector) {
                (Some(medium), Some(connector)) => fit(medium, *connector) == Fit::Fits,
                _ => false,
            };
            if fits && *rack == home {
                graph.add_edge(node, *position, ());
            }
        }
    }
    let landed = maximum_matching(&graph).len();
    (graph, landed)
}

/// So many different flags for a printer of labels.
fn tags(count: usize) -> Figure {
    let order = support::flags::flags(count);
    Figure::alone(median(|| made(order.clone())))
}

fn made(order: Order) -> Vec<u8> {
    let mut making = Making::of(order);
    while making.step() {}
    making.finish()
}
