//! Racks, panels and positions as the one who punches down sees them.

/// How the positions of a panel lie side by side.
mod layout;

use super::run::{Standpoint, standpoint};
use crate::domain::ids::{ActId, CableId, PanelId, RackId};
use crate::domain::label::PositionNumber;
use crate::domain::medium::{Connector, Fit, Sharing, fit};
use crate::domain::order::Order;
use crate::domain::place::{End, Place, Placement, Position};
use crate::domain::work::Availability;
use crate::journal::{PanelMake, Register, Registry, side_index};
use crate::walk;

pub use layout::{Group, PlaceInRow, groups, place_in_row, places_in_rows};

/// A rack with its panels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RackOfPanels {
    /// The rack; none for panels whose rack is not in the job.
    pub rack: Option<RackId>,
    /// Its panels from the top: by rack unit where that is known, else by letters.
    pub panels: Vec<PanelId>,
}

/// All racks by space, then the panels that stand in none.
#[must_use]
pub fn racks(registry: &Registry) -> Vec<RackOfPanels> {
    let mut racks: Vec<RackOfPanels> = walk::racks(registry)
        .into_iter()
        .map(|rack| RackOfPanels {
            rack: Some(rack),
            panels: panels_of(registry, Some(rack)),
        })
        .collect();
    let without = panels_of(registry, None);
    if !without.is_empty() {
        racks.push(RackOfPanels {
            rack: None,
            panels: without,
        });
    }
    racks
}

/// The panels of one rack from the top.
pub(super) fn panels_in(registry: &Registry, rack: RackId) -> Vec<PanelId> {
    panels_of(registry, Some(rack))
}

/// The panels of one rack from the top, or those whose rack is not in the job.
fn panels_of(registry: &Registry, rack: Option<RackId>) -> Vec<PanelId> {
    let is_there = |id: &RackId| {
        let row = registry.racks.get(*id);
        row.is_some_and(|row| !row.added.is_empty())
    };
    let mut panels: Vec<_> = registry
        .panels
        .iter()
        .filter(|(_, panel)| panel.make.get().is_some())
        .filter(|(_, panel)| panel.rack.get().copied().filter(is_there) == rack)
        .collect();
    panels.order_by_key(|(id, panel)| {
        let unit = panel.unit.get().copied().flatten();
        // Units count from the bottom of the rack, so the highest is the first from the top.
        (
            unit.is_none(),
            std::cmp::Reverse(unit),
            panel.letters.get().copied(),
            *id,
        )
    });
    panels.into_iter().map(|(id, _)| id).collect()
}

/// Where a panel is in its rack, counted from the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FromTop {
    /// Its place, from 1.
    pub place: usize,
    /// How many panels the rack has.
    pub of: usize,
}

/// Where a panel is in its rack, if the rack unit of every panel there is known.
#[must_use]
pub fn from_top(registry: &Registry, panel: PanelId) -> Option<FromTop> {
    let rack = *registry.panels.get(panel)?.rack.get()?;
    let panels = panels_of(registry, Some(rack));
    let has_unit = |id: &PanelId| {
        let unit = registry.panels.get(*id).and_then(|row| row.unit.get());
        unit.is_some_and(Option::is_some)
    };
    let place = panels.iter().position(|id| *id == panel)?;
    panels.iter().all(has_unit).then_some(FromTop {
        place: place + 1,
        of: panels.len(),
    })
}

/// What a panel is; none when it is not in the job.
#[must_use]
pub fn make(registry: &Registry, panel: PanelId) -> Option<PanelMake> {
    registry.panels.get(panel)?.make.get().copied()
}

/// How many positions stand so; those that people disagree about count as clashes only.
#[must_use]
pub fn how_many(slots: &[Slot], state: SlotState) -> usize {
    slots.iter().filter(|slot| slot.state == state).count()
}

fn positions(registry: &Registry, panel: PanelId) -> impl Iterator<Item = Position> + use<> {
    let count = make(registry, panel).map_or(0, |make| make.positions.get());
    (1..=count)
        .filter_map(PositionNumber::new)
        .map(move |number| Position { panel, number })
}

/// How a position stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlotState {
    /// Nothing belongs there and nothing is there.
    Free,
    /// Something belongs there.
    Planned,
    /// Something is landed there.
    Landed,
    /// It is kept for something.
    Reserved,
    /// It is out of use.
    Bad,
    /// Two ends claim it, and it takes one; or people disagree whether its end is there.
    Clash,
}

impl SlotState {
    /// All of them, in the order of a legend.
    pub const ALL: [Self; 6] = [
        Self::Free,
        Self::Planned,
        Self::Landed,
        Self::Reserved,
        Self::Bad,
        Self::Clash,
    ];
}

/// How many positions stand in each way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts([usize; SlotState::ALL.len()]);

impl Counts {
    /// How many stand so; those that people disagree about count as clashes only.
    #[must_use]
    pub fn of(self, state: SlotState) -> usize {
        self.0[state as usize]
    }

    /// How many there are.
    #[must_use]
    pub fn all(self) -> usize {
        self.0.iter().sum()
    }

    /// How many have a cable, there or listed.
    #[must_use]
    pub fn taken(self) -> usize {
        self.of(SlotState::Planned) + self.of(SlotState::Landed) + self.of(SlotState::Clash)
    }
}

/// How the positions of some panels stand, counted without making lists of them.
#[must_use]
pub fn counts(registry: &Registry, panels: &[PanelId]) -> Counts {
    let mut counts = Counts::default();
    for panel in panels {
        for position in positions(registry, *panel) {
            let place = Place::rear(position);
            let claims = Claims {
                landed: registry.index.landed.get(&place),
                planned: wanted_at(registry, &place).count(),
                kept: kept(registry, position),
                single: sharing(registry, &place) == Sharing::Single,
            };
            counts.0[state(registry, &claims) as usize] += 1;
        }
    }
    counts
}

/// What decides how a position stands.
struct Claims<'a> {
    landed: &'a [End],
    planned: usize,
    kept: Option<&'a Availability>,
    single: bool,
}

impl Claims<'_> {
    /// Whether more ends claim it than it takes.
    fn clash(&self) -> bool {
        self.single && (self.landed.len() > 1 || self.planned > 1)
    }
}

fn state(registry: &Registry, claims: &Claims<'_>) -> SlotState {
    let elsewhere = |end: &End| placement(registry, *end).is_some_and(Register::disputed);
    match claims.kept {
        _ if claims.clash() || claims.landed.iter().any(elsewhere) => SlotState::Clash,
        _ if !claims.landed.is_empty() => SlotState::Landed,
        Some(Availability::Bad { .. }) => SlotState::Bad,
        _ if claims.planned > 0 => SlotState::Planned,
        Some(Availability::Reserved { .. }) => SlotState::Reserved,
        Some(Availability::Open) | None => SlotState::Free,
    }
}

/// The ends that belong at a place, of cables that are wanted.
fn wanted_at<'a>(registry: &'a Registry, place: &Place) -> impl Iterator<Item = End> + use<'a> {
    let is_wanted = |end: &End| {
        registry
            .cables
            .get(end.cable)
            .is_some_and(walk::is_wanted_cable)
    };
    let planned = registry.index.planned.get(place).iter().copied();
    planned.filter(is_wanted)
}

/// What somebody said that a position is kept for.
fn kept(registry: &Registry, position: Position) -> Option<&Availability> {
    let row = registry.panels.get(position.panel)?;
    row.kept.get(&position.number)?.get()
}

/// One position with everything that is known of its rear.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Which.
    pub position: Position,
    /// How it stands.
    pub state: SlotState,
    /// The ends that belong there.
    pub planned: Vec<End>,
    /// The ends that are landed there.
    pub landed: Vec<End>,
    /// Of the ends that belong there, those that can be landed now: nothing has become of them,
    /// and the position is not taken.
    pub ready: Vec<End>,
    /// What it is kept for.
    pub kept: Availability,
}

impl Slot {
    /// The end to show where there is room for one: what is there, else what belongs there.
    #[must_use]
    pub fn shown(&self) -> Option<End> {
        self.landed
            .first()
            .or_else(|| self.planned.first())
            .copied()
    }
}

/// The positions of a panel in the order of their numbers.
#[must_use]
pub fn slots(registry: &Registry, panel: PanelId) -> Vec<Slot> {
    positions(registry, panel)
        .map(|position| slot(registry, position))
        .collect()
}

/// One position.
#[must_use]
pub fn slot(registry: &Registry, position: Position) -> Slot {
    let place = Place::rear(position);
    let planned: Vec<End> = wanted_at(registry, &place).collect();
    let landed = registry.index.landed.get(&place);
    let claims = Claims {
        landed,
        planned: planned.len(),
        kept: kept(registry, position),
        single: sharing(registry, &place) == Sharing::Single,
    };
    let state = state(registry, &claims);
    let can_take =
        !claims.clash() && state != SlotState::Bad && (landed.is_empty() || !claims.single);
    let kept = claims.kept.cloned();
    let ready = planned.iter().copied();
    let ready = ready.filter(|end| can_take && is_open(registry, *end));
    Slot {
        position,
        state,
        ready: ready.collect(),
        planned,
        landed: landed.to_vec(),
        kept: kept.unwrap_or(Availability::Open),
    }
}

fn is_open(registry: &Registry, end: End) -> bool {
    standpoint(placement(registry, end).and_then(Register::get)) == Standpoint::Open
}

/// What is recorded of where an end is.
#[must_use]
pub fn placement(registry: &Registry, end: End) -> Option<&Register<Placement>> {
    let row = registry.cables.get(end.cable)?;
    row.end(end.cable, end.side)?.placement.get(end.leg)
}

/// Whether people disagree where an end is, or another one claims its place too.
#[must_use]
pub fn is_disputed(registry: &Registry, end: End) -> bool {
    let is_claimed = |place| !rivals(registry, end, place).is_empty();
    placement(registry, end).is_some_and(Register::disputed)
        || landed_place(registry, end).is_some_and(is_claimed)
}

/// Whether a place takes one end or more.
pub(super) fn sharing(registry: &Registry, place: &Place) -> Sharing {
    match place {
        Place::Position { position, .. } => {
            make(registry, position.panel).map_or(Sharing::Single, |make| make.connector.sharing())
        }
        Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => Sharing::Single,
    }
}

/// The other ends that keep an end from being landed at a place.
pub(super) fn rivals(registry: &Registry, end: End, place: &Place) -> Vec<End> {
    match sharing(registry, place) {
        Sharing::Shared => Vec::new(),
        Sharing::Single => {
            let landed = registry.index.landed.get(place).iter().copied();
            landed.filter(|other| *other != end).collect()
        }
    }
}

/// A run of positions that lie side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// The first.
    pub from: PositionNumber,
    /// The last.
    pub to: PositionNumber,
}

/// As many positions as people take in hand at once: half a row of 24. Common practice, no source.
pub const HANDFUL: usize = 12;

/// The first positions in one stretch whose cables can be landed as listed, a handful at most.
#[must_use]
pub fn next_stretch(slots: &[Slot]) -> Option<Stretch> {
    let start = slots.iter().position(|slot| !slot.ready.is_empty())?;
    let stretch = slots[start..].iter().take(HANDFUL);
    let last = stretch.take_while(|slot| !slot.ready.is_empty()).last()?;
    Some(Stretch {
        from: slots[start].position.number,
        to: last.position.number,
    })
}

/// The ends that can be landed as listed on a stretch of positions.
#[must_use]
pub fn listed(slots: &[Slot], stretch: Stretch) -> Vec<End> {
    slots
        .iter()
        .filter(|slot| (stretch.from..=stretch.to).contains(&slot.position.number))
        .flat_map(|slot| slot.ready.iter().copied())
        .collect()
}

/// The first free position of each panel that a cable fits on, in its own rack where that is known.
#[must_use]
pub fn free_for(registry: &Registry, cable: CableId, at_most: usize) -> Vec<Position> {
    let medium = registry.cables.get(cable).and_then(|row| row.medium.get());
    let mut panels = panels_for(registry, cable);
    panels.retain(|panel| {
        let connector = make(registry, *panel).map(|make| make.connector);
        match (connector, medium) {
            (Some(connector), Some(medium)) => fit(medium, connector) == Fit::Fits,
            _ => true,
        }
    });
    let free = panels.into_iter();
    let free = free.filter_map(|panel| first_free(registry, panel));
    free.take(at_most).collect()
}

/// The first free position of a panel that a cable does not fit on, with the reason and the connector
/// that it would fit on. Jacks are offered for jacks, and coax for coax.
#[must_use]
pub fn free_with_adapter(
    registry: &Registry,
    cable: CableId,
) -> Option<(Position, &'static str, Connector)> {
    let medium = registry.cables.get(cable)?.medium.get()?;
    let wanted = Connector::all().find(|connector| fit(medium, *connector) == Fit::Fits)?;
    let is_jack = |connector| matches!(connector, Connector::Modular | Connector::ShieldedModular);
    let is_coax = |connector| matches!(connector, Connector::F | Connector::Rca | Connector::Bnc);
    let mut free = panels_for(registry, cable).into_iter().filter_map(|panel| {
        let connector = make(registry, panel)?.connector;
        let Fit::Misfit(reason) = fit(medium, connector) else {
            return None;
        };
        let is_akin =
            is_jack(connector) && is_jack(wanted) || is_coax(connector) && is_coax(wanted);
        let position = first_free(registry, panel).filter(|_| is_akin)?;
        Some((position, reason, wanted))
    });
    free.next()
}

/// The panels that a cable may come to: those of its own rack where that is known.
fn panels_for(registry: &Registry, cable: CableId) -> Vec<PanelId> {
    let home = registry.home_rack(cable);
    let mut racks = racks(registry);
    if home.is_some_and(|home| racks.iter().any(|rack| rack.rack == Some(home))) {
        racks.retain(|rack| rack.rack == home);
    }
    racks.into_iter().flat_map(|rack| rack.panels).collect()
}

/// The first position of a panel that nothing belongs on or is on, and that is not kept.
#[must_use]
pub fn first_free(registry: &Registry, panel: PanelId) -> Option<Position> {
    let kept = &registry.panels.get(panel)?.kept;
    positions(registry, panel).find(|position| {
        let kept = kept.get(&position.number).and_then(Register::get);
        let place = Place::rear(*position);
        matches!(kept, None | Some(Availability::Open))
            && registry.index.landed.get(&place).is_empty()
            && registry.index.planned.get(&place).is_empty()
    })
}

/// Where an end belongs.
#[must_use]
pub fn planned_place(registry: &Registry, end: End) -> Option<&Place> {
    let row = registry.cables.get(end.cable)?;
    row.planned[side_index(end.side)]
        .get(end.leg)?
        .get()?
        .as_ref()
}

/// Where an end is landed.
#[must_use]
pub fn landed_place(registry: &Registry, end: End) -> Option<&Place> {
    match placement(registry, end)?.get()? {
        Placement::Landed { place, .. } => Some(place),
        Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
    }
}

/// The act by which an end was landed at a place.
#[must_use]
pub fn landed_by(registry: &Registry, end: End, place: &Place) -> Option<ActId> {
    let mut said = placement(registry, end)?.all();
    let is_there = |placement: &Placement| matches!(placement, Placement::Landed { place: at, .. } if at == place);
    said.find(|said| is_there(said.value))
        .map(|said| said.stamp.act)
}
