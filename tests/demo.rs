//! The demo job: the file in the repository is what its generator makes, it is large and mixed
//! enough to be believed, and it shows the faults that it is meant to show and no others.

use std::collections::{BTreeMap, BTreeSet};

use bothends::domain::ids::{Bits80, CableId, WriterId};
use bothends::domain::medium::{Connector, Kind, Medium, Sharing};
use bothends::domain::outlet_type::{OutletKind, UsualType};
use bothends::domain::place::{Place, Placement, RunKind, Side};
use bothends::domain::work::{Availability, JointKind, PullOutcome, Standing};
use bothends::exchange::jobfile;
use bothends::journal::{Health, Journal, Lookup, Registry, Room, Taken};
use bothends::query::conduit::conduits;
use bothends::{names, walk};

use crate::support::marrowby;

const FILE: &[u8] = include_bytes!("../demo-data/marrowby-mill.jobfile.txt");

fn journal_of(lines: &[String]) -> Journal {
    let mut journal = Journal::new(marrowby::JOB, WriterId(Bits80(*b"aReader000")));
    let taken = journal.take(lines.iter().map(String::as_str));
    assert!(
        taken
            .iter()
            .all(|taken| matches!(taken, Taken::New(_) | Taken::Waits(_)))
    );
    journal
}

fn demo() -> Journal {
    journal_of(&jobfile::read(FILE).lines)
}

#[test]
fn the_file_is_whole_and_is_what_the_generator_makes() {
    let read = jobfile::read(FILE);
    assert_eq!(read.findings, []);
    let header = read.header.expect("a header");
    assert_eq!((header.job, &*header.name), (marrowby::JOB, marrowby::NAME));
    let same = FILE == marrowby::job_file().as_bytes();
    assert!(
        same,
        "run `cargo run --example demo_data` and look at what changed"
    );
    assert_eq!(demo().health(), Health::default());
}

#[test]
fn it_reads_the_same_in_any_order() {
    let mut lines = jobfile::read(FILE).lines;
    let expected = journal_of(&lines).registry().dump();
    lines.reverse();
    assert!(journal_of(&lines).registry().dump() == expected, "reversed");
    lines.sort_by_key(|line| line.bytes().rev().take(60).collect::<Vec<u8>>());
    assert!(journal_of(&lines).registry().dump() == expected, "shuffled");
    let middle = lines.len() / 3;
    lines.rotate_left(middle);
    assert!(journal_of(&lines).registry().dump() == expected, "rotated");
}

#[test]
fn it_has_the_size_and_the_media_of_a_real_job() {
    let journal = demo();
    let registry = journal.registry();
    let cables = walk::cables(registry);
    // The README and the guide say “about 190”.
    let is_said = (186..=194).contains(&cables.len());
    assert!(is_said, "{} cables", cables.len());
    assert_eq!(walk::racks(registry).len(), 2);
    let medium = |id| {
        registry
            .cables
            .get(id)
            .and_then(|cable| cable.medium.get())
            .cloned()
    };
    let media: BTreeSet<Medium> = cables.iter().filter_map(|id| medium(*id)).collect();
    for stock in Medium::stock() {
        assert!(media.contains(&stock), "no {stock}");
    }
    assert!(
        media
            .iter()
            .any(|medium| matches!(medium.kind, Kind::Own(_)))
    );
    let makes = registry
        .panels
        .iter()
        .filter_map(|(_, panel)| panel.make.get());
    let connectors: BTreeSet<Connector> = makes.map(|make| make.connector).collect();
    assert_eq!(connectors, Connector::all().collect());
    let kinds = registry
        .outlets
        .iter()
        .filter_map(|(_, outlet)| outlet.kind.get());
    let kinds: BTreeSet<OutletKind> = kinds.copied().collect();
    for usual in UsualType::all() {
        assert!(
            kinds.contains(&OutletKind::Usual(usual.key)),
            "no {}",
            usual.words
        );
    }
    assert!(kinds.iter().any(|kind| matches!(kind, OutletKind::Own(_))));
}

#[test]
fn it_has_every_kind_of_run_and_of_end() {
    let journal = demo();
    let registry = journal.registry();
    let mut runs: BTreeMap<&str, usize> = BTreeMap::new();
    let mut ends: BTreeMap<&str, usize> = BTreeMap::new();
    for id in walk::cables(registry) {
        *runs
            .entry(names::run_kind(registry, id).words())
            .or_default() += 1;
        let cable = registry.cables.get(id).expect("a cable");
        for side in Side::BOTH {
            let Some(record) = cable.end(id, side) else {
                continue;
            };
            let state = match record.placement.whole.get() {
                Some(Placement::Landed { .. }) => "landed",
                Some(Placement::Lifted) => "lifted",
                Some(Placement::Spare { .. }) => "spare",
                Some(Placement::Dead { .. }) => "dead",
                None if record.split.get().is_some() => "split",
                None => "waiting",
            };
            *ends.entry(state).or_default() += 1;
        }
    }
    for (kind, least) in [
        (RunKind::HomeRun, 150),
        (RunKind::LocalRun, 8),
        (RunKind::TieLine, 6),
    ] {
        assert!(runs.get(kind.words()) >= Some(&least), "{runs:?}");
    }
    for (state, least) in [
        ("landed", 180),
        ("spare", 2),
        ("dead", 2),
        ("split", 4),
        ("waiting", 60),
    ] {
        assert!(ends.get(state) >= Some(&least), "{ends:?}");
    }
    assert_eq!(registry.jackets.len(), 2);
    let open = registry
        .loose_ends
        .iter()
        .filter(|(_, loose)| loose.joined.get().is_none_or(Option::is_none));
    assert_eq!(open.count(), 4, "of six loose ends, two became one cable");
    let conduits: Vec<usize> = conduits(registry)
        .iter()
        .map(|line| line.cables.len())
        .collect();
    assert_eq!(conduits, [3, 1], "cables in each conduit");
    let joints = registry
        .joints
        .iter()
        .filter_map(|(_, joint)| joint.kind.get());
    assert!(
        joints
            .into_iter()
            .any(|kind| *kind == JointKind::SurgeArrester)
    );
}

/// What the two did apart, and what is not finished: exactly this is on the table.
#[test]
fn it_shows_the_faults_that_merging_makes_and_no_others() {
    let journal = demo();
    let registry = journal.registry();
    assert_eq!(crowded(&registry.index.cables_by_code), ["CKIT4-A"]);
    assert_eq!(crowded(&registry.index.outlets_by_code), ["CKIT4"]);
    assert_eq!(double_claims(registry), ["B07: BHAL1-A, BKIT1-A"]);
    let disputed = registry
        .rooms
        .iter()
        .filter(|(_, room)| room.name.disputed());
    let names_of = |room: &Room| room.name.distinct().into_iter().cloned().collect();
    let disputed: Vec<BTreeSet<String>> = disputed.map(|(_, room)| names_of(room)).collect();
    let both = ["Flat C hoist room", "Flat C river room"].map(str::to_owned);
    assert_eq!(disputed, [BTreeSet::from(both)]);
    let on_two = |code: &str| {
        let id = cable(registry, code);
        let record = registry
            .cables
            .get(id)
            .and_then(|cable| cable.end(id, Side::Far));
        record.is_some_and(|record| record.placement.whole.disputed())
    };
    assert!(on_two("BLIV2-A"));
    assert!(!on_two("BLIV2-B"));
    // The tag says DBED1-A for good, while its outlet is DGAL1 now.
    let id = cable(registry, "DBED1-A");
    let names = registry.cables.get(id).map(|cable| cable.name.distinct());
    let label = names
        .and_then(|names| registry.label_of(*names[0]))
        .expect("a label");
    assert_eq!(label.to_string(), "DGAL1-A");
    // Work on an outlet that the other cancelled.
    let id = cable(registry, "CBED3-A");
    let row = registry.cables.get(id).expect("a cable");
    assert!(matches!(
        row.standing.get(),
        Some(Standing::Cancelled { .. })
    ));
    assert_eq!(
        row.copper(row.pull(id))
            .and_then(|copper| copper.outcome.get()),
        Some(&PullOutcome::Pulled)
    );
    // A mark on the pull that the other gave up stays with that pull.
    let id = cable(registry, "CKIT1-B");
    let row = registry.cables.get(id).expect("a cable");
    assert_eq!(row.copper.len(), 2);
    assert!(
        row.end(id, Side::Far)
            .is_some_and(|end| end.marks.is_empty())
    );
    // Both numbered a loose end while the other did not know.
    let numbers = registry
        .loose_ends
        .iter()
        .filter_map(|(_, loose)| loose.number.get());
    let mut numbers: Vec<u16> = numbers.copied().collect();
    numbers.sort_unstable();
    assert_eq!(numbers, [1, 2, 3, 4, 5, 5]);
}

#[test]
fn it_has_the_corrections_of_everyday_work() {
    let journal = demo();
    let registry = journal.registry();
    let struck = journal
        .history()
        .into_iter()
        .filter(|act| journal.is_struck(act.id));
    assert_eq!(struck.count(), 2);
    let outcome = |code: &str| {
        let id = cable(registry, code);
        let row = registry.cables.get(id)?;
        row.copper(row.pull(id))?.outcome.get().copied()
    };
    assert_eq!(outcome("CLIV1-D"), Some(PullOutcome::Stuck));
    assert_eq!(outcome("ABED2-B"), Some(PullOutcome::Pulled), "pulled anew");
    let at = |code: &str| {
        let id = cable(registry, code);
        let record = registry.cables.get(id)?.end(id, Side::Far)?;
        match record.placement.whole.get()? {
            Placement::Landed { place, .. } => Some(names::place(registry, place)),
            _ => None,
        }
    };
    // The crossed pair: each is where the other was planned, and so are the plans now.
    let planned = |code: &str| {
        let row = registry.cables.get(cable(registry, code))?;
        let place = row.planned[1].whole.get()?.as_ref();
        place.map(|place| names::place(registry, place))
    };
    assert!(planned("ASTU1-A") > planned("ASTU1-B"));
    assert_eq!(at("ASTU1-A"), planned("ASTU1-A"));
    assert_eq!(at("ASTU1-B"), planned("ASTU1-B"));
    assert_eq!(
        at("ABATH1-A").as_deref(),
        Some("Zone 3 of Flat A amplifier")
    );
    assert_eq!(at("ALIV3-D").as_deref(), Some("K01"));
    // The till's third cable was meant for the rack bench, and the thermostat moved rooms.
    assert_eq!(
        registry
            .cables
            .get(cable(registry, "SHOP2-C"))
            .map(|row| row.known_as.last().cloned()),
        Some(Some("STORE1-B".to_owned()))
    );
    let moved = registry.outlets.iter().filter(|(_, row)| {
        row.number.all().count() == 1 && row.notes.iter().any(|note| note.value.contains("Moved"))
    });
    assert_eq!(
        moved
            .filter_map(|(id, _)| registry.outlet_code(id))
            .map(|code| code.to_string())
            .collect::<Vec<_>>(),
        ["GLAZE3"]
    );
    let kept = registry
        .panels
        .iter()
        .flat_map(|(_, panel)| panel.kept.values());
    let kept: Vec<&Availability> = kept.filter_map(|kept| kept.get()).collect();
    assert_eq!(
        kept.iter()
            .filter(|kept| matches!(kept, Availability::Reserved { .. }))
            .count(),
        3
    );
    assert_eq!(
        kept.iter()
            .filter(|kept| matches!(kept, Availability::Bad { .. }))
            .count(),
        2
    );
}

#[test]
fn every_kind_of_fact_in_it_is_on_the_formats_page() {
    let page = include_str!("../docs/formats.md");
    let file = String::from_utf8_lossy(FILE);
    let kinds = file.split("{\"k\":\"").skip(1);
    let kinds: BTreeSet<&str> = kinds.filter_map(|rest| rest.split('"').next()).collect();
    assert!(kinds.len() > 55, "{} kinds", kinds.len());
    for kind in kinds {
        assert!(page.contains(&format!("`{kind}`")), "{kind}");
    }
}

fn cable(registry: &Registry, code: &str) -> CableId {
    registry.index.cables_by_code.get(&code.to_owned())[0]
}

fn crowded<K, V>(lookup: &Lookup<K, V>) -> Vec<String>
where
    K: Clone + Eq + std::hash::Hash + std::fmt::Display,
    V: Copy + Eq + std::hash::Hash + Ord,
{
    let mut keys: Vec<String> = lookup.crowded().map(|(key, _)| key.to_string()).collect();
    keys.sort();
    keys
}

/// Positions that take one end and have two, with the cables that claim them.
fn double_claims(registry: &Registry) -> Vec<String> {
    let single = |place: &Place| match place {
        Place::Position { position, .. } => {
            let panel = registry
                .panels
                .get(position.panel)
                .and_then(|panel| panel.make.get());
            panel.is_some_and(|make| make.connector.sharing() == Sharing::Single)
        }
        _ => true,
    };
    let claims = registry
        .index
        .landed
        .crowded()
        .filter(|(place, _)| single(place));
    let mut claims: Vec<String> = claims
        .map(|(place, ends)| {
            let mut codes: Vec<String> = ends
                .iter()
                .map(|end| names::cable(registry, end.cable))
                .collect();
            codes.sort();
            format!("{}: {}", names::place(registry, place), codes.join(", "))
        })
        .collect();
    claims.sort();
    claims
}
