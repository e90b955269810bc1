//! What feeds what: from a cable on to both sides, through joints, positions, patch cords and ties,
//! until a plate or a device is reached.

use super::rack::{placement, planned_place, sharing};
use crate::domain::ids::{CableId, DeviceId, JointId, OutletId};
use crate::domain::label::{LegNumber, Letter};
use crate::domain::medium::Sharing;
use crate::domain::order::Order;
use crate::domain::place::{End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side};
use crate::journal::{Register, Registry};

/// One stop on the way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Station {
    /// A plate, and the jack in it; none while the end is not landed.
    Plate(OutletId, Option<Letter>),
    /// A cable.
    Cable(CableId),
    /// A position of a panel.
    Position(Position),
    /// A patch cord.
    Cord,
    /// A port of a device, as printed on it.
    Port(DeviceId, String),
    /// A joint.
    Joint(JointId),
    /// An end of a cable that is nowhere.
    Open(End),
}

/// A station, and what leads on from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The station.
    pub station: Station,
    /// Whether the way to it is only listed, and not landed yet.
    pub listed: bool,
    /// What has become of the end on the way to it, where that is more than that it is landed there.
    pub how: Option<Placement>,
    /// Whether people disagree where that end is.
    pub disputed: bool,
    /// The other ends that claim the place on the way to it, which takes one: they feed nothing here.
    pub rivals: Vec<End>,
    /// What is connected behind it: one way mostly, several behind a splitter.
    pub on: Vec<Self>,
}

impl Stop {
    fn at(station: Station, on: Vec<Self>) -> Self {
        Self {
            station,
            listed: false,
            how: None,
            disputed: false,
            rivals: Vec::new(),
            on,
        }
    }
}

/// The way from a cable, or from one of its legs, to both its sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// The leg; none for the cable as a whole.
    pub leg: Option<LegNumber>,
    /// Behind its ends, near and far. An end that is split at one side alone has a stop for each leg.
    pub sides: [Vec<Stop>; 2],
}

/// Follows a cable to both sides: one way, or one for each leg where it is split at both ends.
#[must_use]
pub fn follow(registry: &Registry, cable: CableId) -> Vec<Way> {
    let ends = Side::BOTH.map(|side| parts(registry, cable, side));
    let mut legs: Vec<Option<LegNumber>> = vec![None];
    if ends
        .iter()
        .all(|ends| ends.iter().all(|end| end.leg.is_some()))
    {
        legs = ends.iter().flatten().map(|end| end.leg).collect();
        legs.put_in_order();
        legs.dedup();
    }
    let way = |leg: Option<LegNumber>| Way {
        leg,
        sides: ends.each_ref().map(|ends| {
            let mut seen = vec![cable];
            let ends = ends.iter().filter(|end| leg.is_none() || end.leg == leg);
            ends.flat_map(|end| behind(registry, *end, &mut seen))
                .collect()
        }),
    };
    legs.into_iter().map(way).collect()
}

/// What is behind a port of a device: the way back to the wall.
#[must_use]
pub fn behind_port(registry: &Registry, place: &Place) -> Vec<Stop> {
    let mut seen = Vec::new();
    let mut on = cables_at(registry, place, &mut seen);
    for position in registry.index.patched.get(place) {
        on.push(cord(registry, Place::front(*position), &mut seen));
    }
    on
}

/// The ports of a device that are in use or meant to be, in the order of their names.
#[must_use]
pub fn ports(registry: &Registry, device: DeviceId) -> Vec<Place> {
    let index = &registry.index;
    let keys = index.landed.keys().chain(index.planned.keys());
    let is_of = |place: &&Place| matches!(place, Place::Device { device: on, .. } if *on == device);
    used(keys.chain(index.patched.keys()).filter(is_of))
}

/// The ways of a joint that are in use or meant to be.
#[must_use]
pub fn ways(registry: &Registry, joint: JointId) -> Vec<Place> {
    let index = &registry.index;
    let keys = index.landed.keys().chain(index.planned.keys());
    used(keys.filter(|place| matches!(place, Place::Joint { joint: on, .. } if *on == joint)))
}

fn used<'a>(places: impl Iterator<Item = &'a Place>) -> Vec<Place> {
    let mut used: Vec<Place> = Vec::new();
    places.for_each(|place| used.push(place.clone()));
    used.put_in_order();
    used.dedup();
    used
}

/// An end, or its legs where it is split.
fn parts(registry: &Registry, cable: CableId, side: Side) -> Vec<End> {
    let row = registry.cables.get(cable);
    row.map_or_else(
        || vec![End::whole(cable, side)],
        |row| row.parts(cable, side),
    )
}

/// Where an end is, every place where people disagree, or where it belongs as long as it is nowhere.
fn places_of(registry: &Registry, end: End) -> Vec<(&Place, bool)> {
    let said = placement(registry, end).into_iter();
    let landed = said
        .flat_map(Register::distinct)
        .filter_map(|said| match said {
            Placement::Landed { place, .. } => Some((place, false)),
            Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
        });
    let mut places: Vec<(&Place, bool)> = landed.collect();
    if places.is_empty() {
        places.extend(planned_place(registry, end).map(|place| (place, true)));
    }
    places
}

/// The ends that are or belong at a place, and whether they are only listed there. What is listed here
/// and landed elsewhere is not here.
fn claims(registry: &Registry, place: &Place) -> Vec<(End, bool)> {
    let index = &registry.index;
    let landed = index.landed.get(place).iter().map(|end| (*end, false));
    let meant = index.planned.get(place).iter().map(|end| (*end, true));
    let is_here = |(end, _): &(End, bool)| {
        let places = places_of(registry, *end);
        places.iter().any(|(at, _)| *at == place)
    };
    landed.chain(meant).filter(is_here).collect()
}

/// The other ends that claim a place that takes one.
fn rivals(registry: &Registry, end: End, place: &Place) -> Vec<End> {
    match sharing(registry, place) {
        Sharing::Shared => Vec::new(),
        Sharing::Single => {
            let claims = claims(registry, place).into_iter();
            let others = claims.map(|(other, _)| other);
            let mut others: Vec<End> = others.filter(|other| *other != end).collect();
            // What is landed as listed claims it once.
            others.put_in_order();
            others.dedup();
            others
        }
    }
}

/// What is behind an end: one place mostly, several where people disagree.
fn behind(registry: &Registry, end: End, seen: &mut Vec<CableId>) -> Vec<Stop> {
    let said = placement(registry, end);
    let disputed = said.is_some_and(Register::disputed);
    let how_at = |place: &Place| {
        let said = said.into_iter().flat_map(Register::distinct);
        let mut here = said.filter(|said| {
            matches!(said, Placement::Landed { place: at, fitting: Fitting::Plug } if at == place)
        });
        here.next().cloned()
    };
    // What is coiled or out of use is not on its way to anything.
    let rest = said.and_then(Register::get);
    let rest = rest.filter(|said| matches!(said, Placement::Spare { .. } | Placement::Dead { .. }));
    let mut stops: Vec<Stop> = Vec::new();
    if rest.is_none() || disputed {
        for (place, listed) in places_of(registry, end) {
            stops.push(Stop {
                listed,
                how: how_at(place),
                disputed,
                rivals: rivals(registry, end, place),
                ..at(registry, place, seen)
            });
        }
    }
    if stops.is_empty() {
        let station = match home_outlet(registry, end) {
            Some(outlet) => Station::Plate(outlet, None),
            None => Station::Open(end),
        };
        stops.push(Stop {
            listed: rest.is_none(),
            how: rest.cloned(),
            ..Stop::at(station, Vec::new())
        });
    }
    stops
}

/// The outlet that a wall end comes out of.
fn home_outlet(registry: &Registry, end: End) -> Option<OutletId> {
    let row = registry.cables.get(end.cable)?;
    match (end.side, row.name.get(), row.leaves.get()) {
        (Side::Near, Some(RunName::Feeds { outlet, .. }), _) => Some(*outlet),
        (Side::Far, _, Some(Leaves::Outlet(outlet))) => Some(*outlet),
        _ => None,
    }
}

/// A place that a cable comes to, and what is connected with it there.
fn at(registry: &Registry, place: &Place, seen: &mut Vec<CableId>) -> Stop {
    let (station, on) = match place {
        Place::Jack { outlet, jack } => (Station::Plate(*outlet, Some(*jack)), Vec::new()),
        Place::Device { device, port } => (Station::Port(*device, port.clone()), Vec::new()),
        Place::Position { position, face } => {
            // Others may share the terminal; where it takes one end, others only claim it.
            let mut on = match sharing(registry, place) {
                Sharing::Shared => cables_at(registry, place, seen),
                Sharing::Single => Vec::new(),
            };
            on.extend(match face {
                Face::Rear => cords_of(registry, *position, seen),
                Face::Front => cables_at(registry, &Place::rear(*position), seen),
            });
            (Station::Position(*position), on)
        }
        Place::Joint { joint, .. } => {
            let others = ways(registry, *joint);
            let others = others.iter().filter(|way| *way != place);
            let on = others.flat_map(|way| cables_at(registry, way, seen));
            (Station::Joint(*joint), on.collect())
        }
    };
    Stop::at(station, on)
}

/// The cables that are or belong at a place, apart from those that were come along already, each with
/// what is behind its other end.
fn cables_at(registry: &Registry, place: &Place, seen: &mut Vec<CableId>) -> Vec<Stop> {
    let mut stops = Vec::new();
    for (end, listed) in claims(registry, place) {
        if seen.contains(&end.cable) {
            continue;
        }
        seen.push(end.cable);
        let mut other = parts(registry, end.cable, end.side.other());
        // A leg goes on as the same leg where the other end is split too.
        if let Some(leg) = end.leg
            && other.len() > 1
        {
            other.retain(|other| other.leg == Some(leg));
        }
        let other = other.into_iter();
        let on = other.flat_map(|end| behind(registry, end, seen)).collect();
        stops.push(Stop {
            listed,
            disputed: placement(registry, end).is_some_and(Register::disputed),
            rivals: rivals(registry, end, place),
            ..Stop::at(Station::Cable(end.cable), on)
        });
    }
    stops
}

/// What the cords at the front of a position go to, whichever end they were noted from.
#[must_use]
pub fn patched_to(registry: &Registry, position: Position) -> Vec<Place> {
    let own = registry.cord_goes_to(position).into_iter();
    let mut to: Vec<Place> = own.cloned().collect();
    for other in registry.index.patched.get(&Place::front(position)) {
        let front = Place::front(*other);
        if !to.contains(&front) {
            to.push(front);
        }
    }
    to
}

fn cords_of(registry: &Registry, position: Position, seen: &mut Vec<CableId>) -> Vec<Stop> {
    let to = patched_to(registry, position).into_iter();
    to.map(|to| cord(registry, to, seen)).collect()
}

/// A cord and what it is plugged into. Cords are not followed from a front to the next one's cord:
/// behind a front is the cable at its rear.
fn cord(registry: &Registry, to: Place, seen: &mut Vec<CableId>) -> Stop {
    let on = vec![at(registry, &to, seen)];
    Stop::at(Station::Cord, on)
}
