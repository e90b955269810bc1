//! One rack as it stands: what hangs at which rack unit, in front and behind, and how its positions
//! stand.

use super::check::{Field, Thing, in_racks};
use super::rack::{Slot, SlotState, make, panels_in, slots};
use crate::domain::ids::{DeviceId, PanelId, RackId};
use crate::domain::mount::{Mountable, RackBuild, Units};
use crate::domain::order::Order;
use crate::domain::place::Face;
use crate::journal::{Hung, PanelMake, Registry};
use crate::names;

/// A rack with everything in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elevation {
    /// How it is built, where somebody said.
    pub build: Option<RackBuild>,
    /// How many rack units are drawn: those that it has, else as many as are used; none for what is
    /// built without, or where nothing hangs at a rack unit.
    pub units: Option<u8>,
    /// Everything in it from the top: what has a rack unit by that, then the panels as listed, then
    /// the rest.
    pub pieces: Vec<Piece>,
    /// What people disagree about of the rack itself.
    pub disputed: Vec<(Thing, Field)>,
}

/// Something in a rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What hangs where.
    pub hung: Hung,
    /// What it is called.
    pub name: String,
    /// What it is as a panel.
    pub make: Option<PanelMake>,
    /// The positions of a panel; none of anything else.
    pub slots: Vec<Slot>,
    /// Whether something else on its side takes a rack unit of it.
    pub clashes: bool,
    /// What people disagree about of it, or of its positions.
    pub disputed: Vec<(Thing, Field)>,
}

impl Piece {
    /// Whether it has a place in the drawing of rack units.
    #[must_use]
    pub fn is_drawn(&self, units: u8) -> bool {
        let reach = self.hung.reach();
        reach.is_some_and(|(low, high)| low > 0 && high <= units)
    }

    /// How many of its positions stand so.
    #[must_use]
    pub fn count(&self, state: SlotState) -> usize {
        super::rack::how_many(&self.slots, state)
    }
}

/// The most rack units that are drawn.
const MOST: u8 = 60;

/// One rack as it stands; none where it is not in the job.
#[must_use]
pub fn elevation(registry: &Registry, rack: RackId) -> Option<Elevation> {
    let row = registry.racks.get(rack)?;
    if row.added.is_empty() {
        return None;
    }
    let build = row.build.get().copied();
    let hung = registry.hung_in(rack);
    let highest = hung.iter().filter_map(|hung| Some(hung.reach()?.1)).max();
    let units = match build {
        Some(build) => build.units().map(Units::get),
        None => highest.map(|highest| highest.clamp(1, MOST)),
    };
    // As the other screens list them.
    let listed = panels_in(registry, rack);
    let place = |what: Mountable| match what {
        Mountable::Panel(id) => listed.iter().position(|panel| *panel == id),
        Mountable::Device(_) | Mountable::Block(_) => None,
    };
    let disputes = in_racks(registry);
    let mut pieces: Vec<Piece> = Vec::new();
    for one in &hung {
        let meets = |other: &Hung| other.what != one.what && meets(one, other);
        let clashes = units.is_some() && hung.iter().any(meets);
        let mut piece = piece(registry, *one, clashes);
        let of_it = disputes.iter().filter(|(thing, _)| is_of(one.what, *thing));
        piece.disputed.extend(of_it);
        pieces.push(piece);
    }
    pieces.order_by_key(|piece| {
        let unit = piece.hung.unit.filter(|_| units.is_some());
        let at = place(piece.hung.what);
        (
            unit.is_none(),
            std::cmp::Reverse(unit),
            at.is_none(),
            at,
            piece.hung.what,
        )
    });
    let of_rack = disputes.into_iter();
    Some(Elevation {
        build,
        units,
        pieces,
        disputed: of_rack
            .filter(|(thing, _)| *thing == Thing::Rack(rack))
            .collect(),
    })
}

/// Whether a thing is what hangs there, or a position of it.
fn is_of(what: Mountable, thing: Thing) -> bool {
    match what {
        Mountable::Panel(id) => match thing {
            Thing::Position(position) => position.panel == id,
            _ => thing == Thing::Panel(id),
        },
        Mountable::Device(id) => thing == Thing::Device(id),
        Mountable::Block(id) => thing == Thing::Block(id),
    }
}

/// Whether two things take one rack unit, on whichever side.
fn is_level(one: &Hung, other: &Hung) -> bool {
    match (one.reach(), other.reach()) {
        (Some(one), Some(other)) => one.0 <= other.1 && other.0 <= one.1,
        _ => false,
    }
}

/// Whether two things on one side take one rack unit.
fn meets(one: &Hung, other: &Hung) -> bool {
    one.face == other.face && is_level(one, other)
}

/// Whether a piece is seen from the rear beside another one: a panel, whose rear is worked on, with what
/// hangs on the rear rails in its units.
#[must_use]
pub fn is_beside(of: &Elevation, piece: &Piece) -> bool {
    let is_panel = panel_of(piece).is_some();
    let is_seen = |one: &Piece| panel_of(one).is_some() || one.hung.face == Face::Rear;
    let is_other = |one: &&Piece| panel_of(one).is_some() != is_panel && is_seen(one);
    let mut others = of.pieces.iter().filter(is_other);
    of.units.is_some() && is_seen(piece) && others.any(|one| is_level(&one.hung, &piece.hung))
}

/// Whether what hangs on the other side of a rack hides a piece, at least in part.
#[must_use]
pub fn is_hidden(of: &Elevation, piece: &Piece) -> bool {
    let mut others = of.pieces.iter();
    others.any(|one| one.hung.face != piece.hung.face && is_level(&one.hung, &piece.hung))
}

fn piece(registry: &Registry, hung: Hung, clashes: bool) -> Piece {
    let (make, slots) = match hung.what {
        Mountable::Panel(id) => (make(registry, id), slots(registry, id)),
        Mountable::Device(_) | Mountable::Block(_) => (None, Vec::new()),
    };
    Piece {
        name: names::mountable(registry, hung.what),
        hung,
        make,
        slots,
        clashes,
        disputed: Vec::new(),
    }
}

/// Devices that hang in no rack, by name.
#[must_use]
pub fn devices_outside(registry: &Registry) -> Vec<(DeviceId, String)> {
    let mut devices = Vec::new();
    for (id, row) in registry.devices.iter() {
        if !row.added.is_empty() && row.mount.get().copied().flatten().is_none() {
            devices.push((id, names::mountable(registry, Mountable::Device(id))));
        }
    }
    devices.order_by_key(|(id, name)| (name.clone(), *id));
    devices
}

/// The panel that a piece is.
#[must_use]
pub fn panel_of(piece: &Piece) -> Option<PanelId> {
    match piece.hung.what {
        Mountable::Panel(id) => Some(id),
        Mountable::Device(_) | Mountable::Block(_) => None,
    }
}

/// The highest rack unit at which something so high is free to hang on a side.
#[must_use]
pub fn next_free(of: &Elevation, face: Face, height: Units) -> Option<u8> {
    let more = height.get() - 1;
    let is_free = |unit: &u8| {
        let on_side = of.pieces.iter().filter(|piece| piece.hung.face == face);
        let mut reach = on_side.filter_map(|piece| piece.hung.reach());
        reach.all(|(low, high)| unit + more < low || high < *unit)
    };
    (1..=of.units?.saturating_sub(more)).rev().find(is_free)
}
