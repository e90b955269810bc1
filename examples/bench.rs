//! The timings of the core on a job of 10,000 cables: `cargo xtask bench`, or by itself
//! `cargo run --release --example bench [-- CABLES]`.
//!
//! A second of one machine says nothing of another, so each figure stands beside that of a loop that
//! every machine can run: reading the same lines as JSON without any meaning, and dropping them.

#[path = "support/clock.rs"]
mod clock;

#[path = "../tests/support"]
mod support {
    pub(crate) mod large;
    pub(crate) mod unplaced;
}

use std::error::Error;
use std::io::Write;
use std::time::Duration;

use bothends::domain::ids::{Bits80, WriterId};
use bothends::domain::medium::{Fit, fit};
use bothends::exchange::jobfile;
use bothends::journal::{Journal, Registry};
use bothends::query::propose::propose;
use bothends::query::{self, find, rack};
use bothends::{names, walk};
use petgraph::algo::maximum_matching;
use petgraph::graph::UnGraph;

use clock::median;

fn main() -> Result<(), Box<dyn Error>> {
    let cables = std::env::args().nth(1);
    let cables = cables.map_or(Ok(10_000), |count| count.parse())?;
    let lines = support::large::large_job(cables, 1);
    let file = jobfile::write(
        support::large::JOB,
        "Large job",
        lines.iter().map(String::as_str),
    );
    let journal = opened(&lines);
    let registry = journal.registry();
    let index = find::SearchIndex::build(registry);
    let codes: Vec<String> = walk::cables(registry)
        .into_iter()
        .step_by(97)
        .map(|cable| names::cable(registry, cable))
        .collect();
    let typed: Vec<&str> = codes.iter().flat_map(|code| starts(code)).collect();
    let loop_time = median(|| {
        for line in &lines {
            drop(serde_json::from_str::<serde_json::Value>(line));
        }
    });
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "a job of {cables} cables in {} lines; the loop beside which all stands: {loop_time:.1?}",
        lines.len()
    )?;
    let mut says = |what: &str, time: Duration| {
        let ratio = time.as_secs_f64() / loop_time.as_secs_f64();
        writeln!(out, "{what:<44} {time:>10.1?}   {ratio:.3} of the loop")
    };
    says(
        "open it: lines into the registry",
        median(|| drop(opened(&lines))),
    )?;
    says(
        "read it as a job file, with its digests",
        median(|| drop(jobfile::read(file.as_bytes()))),
    )?;
    says("check it whole", median(|| drop(query::check(registry))))?;
    says(
        "count how far each room is",
        median(|| drop(query::tally(registry))),
    )?;
    says(
        "make the index of the search",
        median(|| drop(find::SearchIndex::build(registry))),
    )?;
    let search = median(|| {
        for text in &typed {
            drop(find::search(&index, registry, journal.job(), text));
        }
    });
    let each = search / u32::try_from(typed.len())?;
    says("search for one beginning of a code, on average", each)?;
    for cables in [500, 5_000] {
        let journal = support::unplaced::open_job(cables);
        let registry = journal.registry();
        let ours = median(|| drop(propose(registry)));
        let placed = propose(registry).places.len();
        let (graph, reference) = reference(registry);
        let theirs = median(|| drop(maximum_matching(&graph)));
        assert_eq!(placed, reference, "the matching lands as many");
        writeln!(
            out,
            "propose positions for {cables} cables: {ours:.1?}, {placed} landed; petgraph's maximum_matching on the same input: {theirs:.1?}; ratio {:.3}",
            ours.as_secs_f64() / theirs.as_secs_f64()
        )?;
    }
    Ok(())
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

fn opened(lines: &[String]) -> Journal {
    let mut journal = Journal::new(support::large::JOB, WriterId(Bits80(*b"aReader000")));
    journal.take(lines.iter().map(String::as_str));
    journal
}

/// What stands in the field after each key.
fn starts(code: &str) -> impl Iterator<Item = &str> {
    (1..=code.len()).filter_map(|end| code.get(..end))
}
