//! Where the cables that have no position yet might land.
//!
//! What a rack builder judges a plan by, in this order: as many as can be landed are landed; an
//! outlet's cables lie side by side; panels hold what they are for; room for growth stays at the end
//! of each panel; outlets follow as one walks. What is landed or listed already is not moved. The
//! same job gives the same proposal on every phone.

mod allot;
mod flow;
/// Which panels are there for what a cable is for.
mod purpose;

use rustc_hash::FxHashSet;

use self::allot::{Bench, Board, ENDLESS, Tail, allot};
use self::purpose::{Purposes, Said, stated};
use super::rack::{Slot, SlotState, placement, racks, slots};
use super::run::{Standpoint, standpoint};
use crate::domain::ids::{CableId, PanelId, RackId, ThingId};
use crate::domain::medium::{Connector, Fit, Kind, Medium, Sharing, fit};
use crate::domain::order::Order;
use crate::domain::place::{End, Place, Position, RunKind, RunName, Side};
use crate::journal::{Cable, Register, Registry, side_index};
use crate::{names, walk};

/// A proposal for the whole job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proposal {
    /// Where ends might land, in walking order.
    pub places: Vec<Proposed>,
    /// The ends that found no position, in walking order.
    pub left_out: Vec<LeftOut>,
}

impl Proposal {
    /// Its places as a builder fills them: panel by panel, as they hang in their racks.
    #[must_use]
    pub fn by_panel(&self, registry: &Registry) -> Vec<Proposed> {
        let racks = racks(registry).into_iter();
        let panels: Vec<PanelId> = racks.flat_map(|rack| rack.panels).collect();
        let hangs = |id: PanelId| panels.iter().position(|panel| *panel == id);
        let mut places = self.places.clone();
        places.order_by_key(|one| (hangs(one.position.panel), one.position));
        places
    }
}

/// Whether there is any cable that may want a position.
#[must_use]
pub fn has_cables(registry: &Registry) -> bool {
    !walk::cables(registry).is_empty()
}

/// Where one end might land.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proposed {
    /// The end.
    pub end: End,
    /// The position.
    pub position: Position,
    /// Whether it would share its terminal, since there are fewer than cables.
    pub shared: bool,
}

/// An end without a position to propose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The end.
    pub end: End,
    /// Why.
    pub why: Why,
}

/// Why an end finds no position.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// People disagree where it belongs or is.
    Disputed,
    /// Nobody said what the cable is made of, or people disagree.
    NoMedium,
    /// There is no panel where it could come to: in this rack, or in the whole job.
    NoPanel(Option<RackId>),
    /// No panel there takes such a cable.
    NoConnector {
        /// The rack; none: any.
        rack: Option<RackId>,
        /// The connector that is wanted.
        wanted: Connector,
    },
    /// All positions that it fits on are spoken for.
    Full {
        /// The rack; none: any.
        rack: Option<RackId>,
        /// The connector that it would fit best.
        wanted: Connector,
        /// How many are taken, listed for others or proposed to others.
        taken: usize,
        /// How many are kept for something.
        reserved: usize,
        /// How many are out of use.
        bad: usize,
    },
}

/// Which positions a cable fits.
#[derive(Clone, PartialEq, Eq)]
struct Class {
    rack: Option<RackId>,
    fits: Vec<Connector>,
    may_share: bool,
}

/// Positions that take the same cables.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Pool {
    rack: Option<RackId>,
    connector: Connector,
    /// Terminals of which each takes more than one cable.
    doubled: bool,
}

/// A panel with how its positions stand.
struct Panel {
    id: PanelId,
    rack: Option<RackId>,
    connector: Connector,
    slots: Vec<Slot>,
    /// What it is for, each in words that must all occur.
    purposes: Vec<Vec<String>>,
}

/// The positions of a board in the order in which they are given.
type Given = Vec<Position>;

/// Works out a proposal.
#[must_use]
pub fn propose(registry: &Registry) -> Proposal {
    let panels = panels(registry);
    let pools = pools(&panels);
    let mut proposal = Proposal::default();
    let mut ends: Vec<End> = Vec::new();
    let mut classes: Vec<Class> = Vec::new();
    let mut bench = Bench::default();
    let mut outlets = Outlets::default();
    let mut purposes = Purposes::new(&panels);
    let mut said = Said::default();
    for (end, cable) in open_ends(registry, walk::cables(registry).into_iter()) {
        match class_of(registry, &pools, end, cable) {
            Err(why) => proposal.left_out.push(LeftOut { end, why }),
            Ok(class) => {
                let class = place_of(&mut classes, class);
                bench.tails.push(Tail {
                    class,
                    outlet: outlets.number(cable),
                    purpose: purposes.rank(registry, cable),
                    said: said.number(registry, cable),
                });
                ends.push(end);
            }
        }
    }
    let mut given = boards(&panels, &pools, &mut bench);
    for (board, panel) in bench.boards.iter_mut().zip(&panels) {
        board.said = said.there(registry, &panel.slots);
    }
    bench.classes = classes.iter().map(|class| fitting(class, &pools)).collect();
    bench.ranks = purposes.ranks(bench.boards.len());
    let spots = allot(&bench);
    let alone = bench.tails.iter().zip(&spots).filter_map(|(tail, spot)| {
        let spot = spot.filter(|_| !classes[tail.class].may_share)?;
        Some(given[spot.board][spot.at])
    });
    let alone: FxHashSet<Position> = alone.collect();
    share_others(&bench.boards, &pools, &mut given, &alone);
    for ((end, spot), tail) in ends.iter().zip(&spots).zip(&bench.tails) {
        match spot {
            Some(spot) => {
                let positions = &given[spot.board];
                proposal.places.push(Proposed {
                    end: *end,
                    position: positions[spot.at % positions.len()],
                    shared: pools[bench.boards[spot.board].pool].doubled,
                });
            }
            None => proposal.left_out.push(LeftOut {
                end: *end,
                why: full(&panels, &classes[tail.class]),
            }),
        }
    }
    proposal.left_out.order_by_key(|left| left.why.clone());
    proposal
}

/// How many ends want a position and have none.
#[must_use]
pub fn open_count(registry: &Registry) -> usize {
    // In no order, since putting thousands of cables in order takes longer than counting them.
    let wanted = registry.cables.iter();
    let wanted = wanted.filter(|(_, cable)| walk::is_wanted_cable(cable));
    open_ends(registry, wanted.map(|(id, _)| id)).count()
}

/// The ends of these cables that want a position and have none.
fn open_ends(
    registry: &Registry,
    cables: impl Iterator<Item = CableId>,
) -> impl Iterator<Item = (End, &Cable)> {
    let cables = cables.filter_map(|id| Some((id, registry.cables.get(id)?)));
    let ends = cables.flat_map(move |(id, cable)| {
        let sides: &[Side] = match names::run_kind(registry, id) {
            RunKind::HomeRun => &[Side::Far],
            RunKind::TieLine => &Side::BOTH,
            RunKind::LocalRun => &[],
        };
        let parts = sides.iter().flat_map(move |side| cable.parts(id, *side));
        parts.map(move |end| (end, cable))
    });
    ends.filter(|(end, cable)| wants_position(registry, *end, cable))
}

fn planned(end: End, cable: &Cable) -> Option<&Register<Option<Place>>> {
    cable.planned[side_index(end.side)].get(end.leg)
}

fn is_disputed(registry: &Registry, end: End, cable: &Cable) -> bool {
    planned(end, cable).is_some_and(Register::disputed)
        || placement(registry, end).is_some_and(Register::disputed)
}

fn wants_position(registry: &Registry, end: End, cable: &Cable) -> bool {
    if is_disputed(registry, end, cable) {
        return true;
    }
    let has_plan = planned(end, cable).and_then(Register::get);
    has_plan.is_none_or(Option::is_none)
        && standpoint(placement(registry, end).and_then(Register::get)) == Standpoint::Open
}

fn panels(registry: &Registry) -> Vec<Panel> {
    let racks = racks(registry).into_iter();
    let all = racks.flat_map(|rack| rack.panels.into_iter().map(move |panel| (rack.rack, panel)));
    all.filter_map(|(rack, id)| {
        let row = registry.panels.get(id)?;
        Some(Panel {
            id,
            rack,
            connector: row.make.get()?.connector,
            slots: slots(registry, id),
            purposes: stated(row.purpose.get().map_or("", String::as_str)),
        })
    })
    .collect()
}

// Pools are as many as there are kinds of connector in racks, however many panels there are.
fn class_of(registry: &Registry, pools: &[Pool], end: End, cable: &Cable) -> Result<Class, Why> {
    if is_disputed(registry, end, cable) {
        return Err(Why::Disputed);
    }
    let medium = cable.medium.get().ok_or(Why::NoMedium)?;
    let rack = match (cable.name.get(), end.side) {
        (Some(RunName::Ties { near, .. }), Side::Near) => Some(*near),
        (Some(RunName::Ties { far, .. }), Side::Far) => Some(*far),
        _ => registry.home_rack(end.cable),
    };
    let fits = connectors(medium);
    let mut there = pools
        .iter()
        .filter(|pool| rack.is_none() || pool.rack == rack)
        .peekable();
    if there.peek().is_none() {
        return Err(Why::NoPanel(rack));
    }
    if !there.any(|pool| fits.contains(&pool.connector)) {
        return Err(Why::NoConnector {
            rack,
            wanted: wanted(&fits),
        });
    }
    Ok(Class {
        rack,
        fits,
        // Registry and standard let terminals be shared; four pairs on terminals of others are a
        // fault all the same.
        may_share: !medium.is_category(),
    })
}

/// The connectors that a medium fits, the best first. What is only known in words is laid on
/// terminals where there are some.
fn connectors(medium: &Medium) -> Vec<Connector> {
    let fits = |connector: &Connector| fit(medium, *connector) == Fit::Fits;
    let mut all: Vec<Connector> = Connector::all().filter(fits).collect();
    if matches!(medium.kind, Kind::Own(_)) {
        all.order_by_key(|connector| connector.position_word() != "terminal");
    }
    all
}

fn wanted(fits: &[Connector]) -> Connector {
    fits.first().copied().unwrap_or(Connector::Modular)
}

/// The place of a value in a list that it is added to where it is new.
fn place_of<T: PartialEq>(list: &mut Vec<T>, value: T) -> usize {
    list.iter()
        .position(|known| *known == value)
        .unwrap_or_else(|| {
            list.push(value);
            list.len() - 1
        })
}

fn pools(panels: &[Panel]) -> Vec<Pool> {
    let mut pools = Vec::new();
    for doubled in [false, true] {
        for panel in panels {
            if !doubled || panel.connector.sharing() == Sharing::Shared {
                let pool = Pool {
                    rack: panel.rack,
                    connector: panel.connector,
                    doubled,
                };
                place_of(&mut pools, pool);
            }
        }
    }
    pools
}

/// The pools that a class fits: by connector, single positions before shared ones.
fn fitting(class: &Class, pools: &[Pool]) -> Vec<usize> {
    let rank = |pool: &Pool| {
        let is_there = class.rack.is_none() || pool.rack == class.rack;
        let at = class.fits.iter().position(|one| *one == pool.connector)?;
        (is_there && (class.may_share || !pool.doubled)).then_some((pool.doubled, at))
    };
    let ranked = pools.iter().enumerate();
    let mut ranked: Vec<_> = ranked
        .filter_map(|(at, pool)| Some((rank(pool)?, at)))
        .collect();
    ranked.put_in_order();
    ranked.into_iter().map(|(_, at)| at).collect()
}

/// One board for the free positions of each panel, and one for the shared terminals of each pool.
fn boards(panels: &[Panel], pools: &[Pool], bench: &mut Bench) -> Vec<Given> {
    let mut given = Vec::new();
    bench.pools = vec![0; pools.len()];
    for panel in panels {
        let own = Pool {
            rack: panel.rack,
            connector: panel.connector,
            doubled: false,
        };
        let free = |slot: &&Slot| slot.state == SlotState::Free;
        let runs = panel
            .slots
            .chunk_by(|a, b| a.state == b.state)
            .filter(|run| free(&&run[0]));
        let stretches: Vec<usize> = runs.map(<[Slot]>::len).collect();
        let pool = pools.iter().position(|pool| *pool == own).unwrap_or(0);
        bench.pools[pool] += stretches.iter().sum::<usize>();
        bench.boards.push(Board {
            pool,
            stretches,
            said: Vec::new(),
        });
        let positions = panel.slots.iter().filter(free);
        given.push(positions.map(|slot| slot.position).collect());
    }
    for (at, pool) in pools.iter().enumerate().filter(|(_, pool)| pool.doubled) {
        let of = panels
            .iter()
            .filter(|panel| panel.rack == pool.rack && panel.connector == pool.connector);
        let mut terminals: Vec<&Slot> = of
            .flat_map(|panel| &panel.slots)
            .filter(|slot| {
                matches!(
                    slot.state,
                    SlotState::Free | SlotState::Planned | SlotState::Landed
                )
            })
            .collect();
        // Those that hold something already come last.
        terminals.order_by_key(|slot| slot.planned.len() + slot.landed.len());
        if !terminals.is_empty() {
            bench.pools[at] = ENDLESS;
            bench.boards.push(Board {
                pool: at,
                stretches: vec![ENDLESS],
                said: Vec::new(),
            });
            given.push(terminals.into_iter().map(|slot| slot.position).collect());
        }
    }
    given
}

/// Terminals are shared with those that may share, as long as there are such.
fn share_others(
    boards: &[Board],
    pools: &[Pool],
    given: &mut [Given],
    alone: &FxHashSet<Position>,
) {
    for (board, given) in boards.iter().zip(given) {
        let may_share = |position: &Position| !alone.contains(position);
        if pools[board.pool].doubled && given.iter().any(may_share) {
            given.retain(may_share);
        }
    }
}

fn full(panels: &[Panel], class: &Class) -> Why {
    let there = panels.iter().filter(|panel| {
        (class.rack.is_none() || panel.rack == class.rack) && class.fits.contains(&panel.connector)
    });
    let (mut taken, mut reserved, mut bad) = (0, 0, 0);
    for slot in there.flat_map(|panel| &panel.slots) {
        match slot.state {
            SlotState::Free | SlotState::Planned | SlotState::Landed | SlotState::Clash => {
                taken += 1;
            }
            SlotState::Reserved => reserved += 1,
            SlotState::Bad => bad += 1,
        }
    }
    Why::Full {
        rack: class.rack,
        wanted: wanted(&class.fits),
        taken,
        reserved,
        bad,
    }
}

/// Outlets by number, in the order of their first cable. A cable without one lies by itself.
#[derive(Default)]
struct Outlets {
    last: Option<[ThingId; 2]>,
    count: usize,
}

impl Outlets {
    fn number(&mut self, cable: &Cable) -> usize {
        let own = cable.name.get().map(|name| match name {
            RunName::Feeds { outlet, .. } => [outlet.0; 2],
            RunName::Ties { near, far, .. } => [near.0, far.0],
        });
        if own.is_none() || own != self.last {
            self.count += 1;
        }
        self.last = own;
        self.count
    }
}
