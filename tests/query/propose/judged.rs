//! The proposal beside an independent judge on jobs by chance.
//!
//! How many can be landed at all is a maximum matching, for which the crate petgraph (its
//! `maximum_matching`, after Gabow) is asked the same. How few outlets need to be split is searched
//! through to the end on small jobs.

use bothends::domain::ids::{CableId, OutletId, RackId};
use bothends::domain::medium::{Connector, Fit, Sharing, fit};
use bothends::domain::order::Order;
use bothends::domain::place::{End, Place, Position, RunName, Side};
use bothends::domain::work::Availability;
use bothends::journal::Registry;
use bothends::query::propose::{Proposed, propose};
use bothends::walk;
use petgraph::algo::maximum_matching;
use petgraph::graph::UnGraph;

use super::jobs::{Size, job};
use crate::mill::number;
use crate::support::seeds::seeds;
use crate::support::unplaced::open_job;

/// A cable that wants a position, and what the judge knows of it.
#[derive(Clone)]
struct Wanting {
    cable: CableId,
    outlet: Option<OutletId>,
    rack: Option<RackId>,
    connectors: Vec<Connector>,
    fits: Vec<Position>,
    /// Whether there is a terminal that it may share.
    shares: bool,
}

fn wanting(registry: &Registry) -> Vec<Wanting> {
    let positions = positions(registry);
    let cables = walk::cables(registry).into_iter();
    cables
        .filter_map(|id| {
            let cable = registry.cables.get(id)?;
            if cable.planned[1].whole.get().is_some_and(Option::is_some) {
                return None;
            }
            let record = cable.end(id, Side::Far);
            if record.is_some_and(|record| record.placement.whole.get().is_some()) {
                return None;
            }
            let medium = cable.medium.get()?;
            let rack = registry.home_rack(id);
            let reaches = |position: &Position| {
                let panel = registry.panels.get(position.panel);
                let panel = panel.expect("a panel");
                let connector = panel.make.get().expect("a make").connector;
                (rack.is_none() || panel.rack.get() == rack.as_ref())
                    && fit(medium, connector) == Fit::Fits
            };
            let terminal = |position: &Position| {
                let panel = registry.panels.get(position.panel);
                let make = panel.and_then(|panel| panel.make.get()).expect("a make");
                make.connector.sharing() == Sharing::Shared
            };
            let usable = positions.iter().filter(|(position, _)| reaches(position));
            let free = usable.clone().filter(|(_, free)| *free);
            let outlet = match cable.name.get() {
                Some(RunName::Feeds { outlet, .. }) => Some(*outlet),
                _ => None,
            };
            Some(Wanting {
                cable: id,
                outlet,
                rack,
                connectors: Connector::all()
                    .filter(|connector| fit(medium, *connector) == Fit::Fits)
                    .collect(),
                fits: free.map(|(position, _)| *position).collect(),
                shares: !medium.is_category()
                    && usable.clone().any(|(position, _)| terminal(position)),
            })
        })
        .collect()
}

/// The positions that are neither reserved nor bad, and whether they are free.
fn positions(registry: &Registry) -> Vec<(Position, bool)> {
    let mut positions = Vec::new();
    for (panel, row) in registry.panels.iter() {
        for at in 1..=row.make.get().expect("a make").positions.get() {
            let position = Position {
                panel,
                number: number(at),
            };
            let kept = row.kept.get(&position.number).and_then(|kept| kept.get());
            if kept.is_some_and(|kept| *kept != Availability::Open) {
                continue;
            }
            let place = Place::rear(position);
            let index = &registry.index;
            let empty = index.planned.get(&place).is_empty() && index.landed.get(&place).is_empty();
            positions.push((position, empty));
        }
    }
    positions.put_in_order();
    positions
}

/// How many of these can have a position that is not taken.
fn matched(wanting: &[&Wanting], taken: &[Position]) -> usize {
    let mut graph = UnGraph::<(), ()>::new_undirected();
    let mut places: Vec<(Position, petgraph::graph::NodeIndex)> = Vec::new();
    for one in wanting {
        let node = graph.add_node(());
        if one.shares {
            let own = graph.add_node(());
            graph.add_edge(node, own, ());
        }
        for position in one.fits.iter().filter(|at| !taken.contains(at)) {
            let known = places.iter().find(|(at, _)| at == position);
            let place = known.map(|(_, place)| *place);
            let place = place.unwrap_or_else(|| {
                let place = graph.add_node(());
                places.push((*position, place));
                place
            });
            graph.add_edge(node, place, ());
        }
    }
    maximum_matching(&graph).len()
}

/// Cables that should lie side by side: of one outlet, to one rack, onto the same connectors.
fn groups(wanting: &[Wanting]) -> Vec<Vec<&Wanting>> {
    let mut groups: Vec<Vec<&Wanting>> = Vec::new();
    for one in wanting {
        let own = groups.iter_mut().find(|group| {
            let first = group[0];
            first.outlet == one.outlet
                && first.rack == one.rack
                && first.connectors == one.connectors
        });
        match own {
            Some(group) => group.push(one),
            None => groups.push(vec![one]),
        }
    }
    groups
}

fn is_together(places: &mut [Position]) -> bool {
    places.put_in_order();
    places.windows(2).all(|pair| {
        pair[0].panel == pair[1].panel && pair[0].number.get() + 1 == pair[1].number.get()
    })
}

fn split(groups: &[Vec<&Wanting>], places: &[Proposed]) -> usize {
    let is_split = |group: &&Vec<&Wanting>| {
        let of = |one: &Proposed| group.iter().any(|wanting| wanting.cable == one.end.cable);
        let mut own: Vec<Position> = places
            .iter()
            .filter(|one| of(one))
            .map(|one| one.position)
            .collect();
        !is_together(&mut own)
    };
    groups.iter().filter(is_split).count()
}

/// Whether as many can be landed with fewer than so many groups split.
fn can_do_better(groups: &[Vec<&Wanting>], most: usize, fewer_than: usize) -> bool {
    let mut taken = Vec::new();
    let mut loose = Vec::new();
    go(groups, most, fewer_than, &mut taken, &mut loose)
}

fn go<'a>(
    groups: &[Vec<&'a Wanting>],
    most: usize,
    fewer_than: usize,
    taken: &mut Vec<Position>,
    loose: &mut Vec<&'a Wanting>,
) -> bool {
    if fewer_than == 0 {
        return false;
    }
    let Some((group, others)) = groups.split_first() else {
        return taken.len() + matched(loose, taken) >= most;
    };
    if let [one] = group.as_slice() {
        loose.push(one);
        let can = go(others, most, fewer_than, taken, loose);
        loose.pop();
        return can;
    }
    let fits = &group[0].fits;
    for count in (0..=group.len()).rev() {
        for start in fits {
            let at = |step: usize| Position {
                panel: start.panel,
                number: number(start.number.get() + u16::try_from(step).expect("few")),
            };
            let block: Vec<Position> = (0..count).map(at).collect();
            let is_free = |at: &Position| fits.contains(at) && !taken.contains(at);
            if !block.iter().all(is_free) {
                continue;
            }
            let before = taken.len();
            taken.extend(block);
            let can = go(others, most, fewer_than, taken, loose);
            taken.truncate(before);
            if can {
                return true;
            }
            if count == 0 {
                break;
            }
        }
    }
    let before = loose.len();
    loose.extend(group.iter().copied());
    let can = go(others, most, fewer_than - 1, taken, loose);
    loose.truncate(before);
    can
}

/// What a proposal must never do, whatever the job.
fn holds_the_rules(registry: &Registry, wanting: &[Wanting], places: &[Proposed], seed: u64) {
    let mut taken: Vec<Position> = Vec::new();
    let mut ends: Vec<End> = Vec::new();
    for one in places {
        let of = wanting
            .iter()
            .find(|wanting| wanting.cable == one.end.cable);
        let of = of.unwrap_or_else(|| panic!("seed {seed}: nobody asked for {one:?}"));
        if one.shared {
            assert!(of.shares, "seed {seed}: {one:?}");
        } else {
            assert!(of.fits.contains(&one.position), "seed {seed}: {one:?}");
            assert!(!taken.contains(&one.position), "seed {seed}: {one:?} twice");
            taken.push(one.position);
        }
        assert!(!ends.contains(&one.end), "seed {seed}: {one:?} twice");
        ends.push(one.end);
    }
    assert!(registry.cables.len() >= places.len());
}

#[test]
fn as_many_are_landed_as_a_maximum_matching_lands() {
    let size = Size {
        racks: 3,
        panels: 7,
        positions: 8,
        outlets: 12,
        cables_per_outlet: 4,
        at_most: 40,
    };
    let mut short = 0;
    for seed in seeds(0..1500) {
        let mill = job(size, seed);
        let registry = mill.registry();
        let wanting = wanting(registry);
        let proposal = propose(registry);
        holds_the_rules(registry, &wanting, &proposal.places, seed);
        let most = matched(&wanting.iter().collect::<Vec<_>>(), &[]);
        assert_eq!(proposal.places.len(), most, "seed {seed}");
        assert_eq!(
            proposal.places.len() + proposal.left_out.len(),
            wanting.len(),
            "seed {seed}"
        );
        assert_eq!(propose(registry), proposal, "seed {seed}");
        short += usize::from(most < wanting.len());
    }
    assert!(short > 300, "most jobs must be short of positions: {short}");
}

#[test]
fn a_job_of_hundreds_of_cables_is_landed_as_far_as_it_can_be() {
    let journal = open_job(300);
    let wanting = wanting(journal.registry());
    let proposal = propose(journal.registry());
    let most = matched(&wanting.iter().collect::<Vec<_>>(), &[]);
    assert_eq!(proposal.places.len(), most);
    assert!(
        most < wanting.len() && most > 200,
        "{most} of {}",
        wanting.len()
    );
    assert_eq!(split(&groups(&wanting), &proposal.places), 0);
}

#[test]
fn no_outlet_is_split_that_need_not_be() {
    let size = Size {
        racks: 1,
        panels: 4,
        positions: 5,
        outlets: 4,
        cables_per_outlet: 4,
        at_most: 8,
    };
    let (mut ours, mut worse, mut jobs) = (0, 0, 0);
    for seed in seeds(0..1500) {
        let mill = job(size, seed);
        let registry = mill.registry();
        let wanting = wanting(registry);
        if wanting.iter().any(|one| one.shares) {
            continue;
        }
        jobs += 1;
        let places = propose(registry).places;
        let groups = groups(&wanting);
        let split = split(&groups, &places);
        ours += split;
        for fewer in (1..=split).rev() {
            if !can_do_better(&groups, places.len(), fewer) {
                break;
            }
            worse += 1;
        }
    }
    assert!(jobs > 200 && ours > 10, "{jobs} jobs, {ours} outlets split");
    assert_eq!(worse, 0, "of {ours} split outlets");
}
