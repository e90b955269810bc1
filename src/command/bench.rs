//! How racks are built, what hangs where in them, and the room that is made for what comes between.

use super::{Desk, Done, Fault, Refusal, Want, words};
use crate::domain::ids::{BlockId, PanelId, RackId};
use crate::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use crate::domain::place::Face;
use crate::domain::work::Standing;
use crate::journal::{
    BlockFact, DeviceFact, Draft, Fact, Hung, Panel, PanelFact, RackFact, Registry,
};
use crate::names;

/// The highest rack unit where nobody said how many a rack has.
const TOP: u8 = 60;

/// Where something is to hang.
#[derive(Clone, Copy)]
pub(super) struct Seat {
    pub(super) rack: RackId,
    pub(super) unit: Option<u8>,
    pub(super) height: Units,
    pub(super) face: Face,
    /// What is to hang there; none of what is not in the job yet.
    pub(super) what: Option<Mountable>,
    /// By how many rack units it becomes higher where it hangs.
    grows: u8,
}

impl Desk<'_> {
    pub(super) fn bench(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::BuildRack { rack, build } => self.build(draft, *rack, *build),
            Want::SizePanel { panel, height } => {
                draft.push(Fact::Panel(*panel, PanelFact::High(*height)));
                self.free_seat_of(draft, want)
            }
            Want::AddBlock { kind, name, mount } => self
                .free_seat_of(draft, want)
                .map(|()| add_block(draft, *kind, name, *mount)),
            Want::RenameBlock { block, name, mount } => self.free_seat_of(draft, want).map(|()| {
                let name = BlockFact::Named(name.trim().to_owned());
                draft.push(Fact::Block(*block, name));
                if let Some(mount) = mount {
                    self.hang(draft, Mountable::Block(*block), *mount);
                }
            }),
            Want::Hang { what, mount } => self
                .free_seat_of(draft, want)
                .map(|()| self.hang(draft, *what, *mount)),
            Want::TakeOut { what } => {
                draft.push(match *what {
                    Mountable::Panel(id) => Fact::Panel(id, PanelFact::AtUnit(None)),
                    Mountable::Device(id) => Fact::Device(id, DeviceFact::Mounted(None)),
                    Mountable::Block(id) => {
                        let reason = "taken out".to_owned();
                        Fact::Block(id, BlockFact::Stands(Standing::Cancelled { reason }))
                    }
                });
                Ok(())
            }
            Want::MakeRoom { change } => self.make_room(draft, change),
            _ => return None,
        })
    }

    fn build(&self, draft: &mut Draft, rack: RackId, build: RackBuild) -> Done {
        if let Some(units) = build.units() {
            let reach = |hung: &Hung| hung.reach().map(|(_, high)| (high, hung.what));
            let highest = self.registry.hung_in(rack).iter().filter_map(reach).max();
            if let Some((high, what)) = highest.filter(|(high, _)| *high > units.get()) {
                let refusal = Refusal::new(format!(
                    "{} reaches to unit {high} of {}. Move it down first.",
                    names::mountable(self.registry, what),
                    names::rack(self.registry, rack)
                ));
                return Err(match Units::new(high) {
                    Some(high) => {
                        let build = RackBuild::Units(high);
                        let label = format!("The rack has {} units", high.get());
                        refusal.or(label, Want::BuildRack { rack, build })
                    }
                    None => refusal,
                });
            }
        }
        draft.push(Fact::Rack(rack, RackFact::Built(build)));
        Ok(())
    }

    fn hang(&self, draft: &mut Draft, what: Mountable, mount: Mount) {
        match what {
            Mountable::Panel(id) => {
                self.change(draft, Fact::Panel(id, PanelFact::InRack(mount.rack)));
                self.change(draft, Fact::Panel(id, PanelFact::AtUnit(mount.unit)));
                if self.height(what) != Some(mount.height) {
                    draft.push(Fact::Panel(id, PanelFact::High(mount.height)));
                }
            }
            Mountable::Device(id) => {
                draft.push(Fact::Device(id, DeviceFact::Mounted(Some(mount))));
            }
            Mountable::Block(id) => {
                let wanted = BlockFact::Stands(Standing::Wanted);
                self.change(draft, Fact::Block(id, wanted));
                self.change(draft, Fact::Block(id, BlockFact::Mounted(mount)));
            }
        }
    }

    /// How many rack units a panel takes.
    fn height(&self, what: Mountable) -> Option<Units> {
        let Mountable::Panel(id) = what else {
            return None;
        };
        let row = self.registry.panels.get(id)?;
        Some(row.height_as(*row.make.get()?))
    }

    /// Where something wanted would hang once the draft is written; none where it is not about that.
    fn seat(&self, draft: &Draft, want: &Want) -> Option<Seat> {
        let on_front = |what, rack, unit, height| Seat {
            rack,
            unit,
            height,
            face: Face::Front,
            what,
            grows: 0,
        };
        let where_it_is = |panel: PanelId, height: &dyn Fn(&Panel) -> Units| {
            let row = self.registry.panels.get(panel)?;
            let what = Mountable::Panel(panel);
            let unit = unit_in(draft, what).unwrap_or(row.unit.get().copied().flatten());
            let seat = on_front(Some(what), *row.rack.get()?, unit, height(row));
            let was = self.height(what)?;
            Some(Seat {
                grows: seat.height.get().saturating_sub(was.get()),
                ..seat
            })
        };
        Some(match want {
            Want::AddPanel {
                rack, make, unit, ..
            } => {
                let height = Units::of_positions(make.positions.get());
                on_front(None, *rack, *unit, height)
            }
            Want::PlacePanel {
                panel, rack, unit, ..
            } => {
                let what = Mountable::Panel(*panel);
                on_front(Some(what), *rack, *unit, self.height(what)?)
            }
            Want::SizePanel { panel, height } => where_it_is(*panel, &|_| *height)?,
            Want::ReplacePanel { panel, make, .. } => {
                where_it_is(*panel, &|row: &Panel| row.height_as(*make))?
            }
            Want::AddBlock { mount, .. } => seat_of(None, *mount),
            Want::Hang { what, mount } => seat_of(Some(*what), *mount),
            Want::RenameBlock { block, mount, .. } => {
                seat_of(Some(Mountable::Block(*block)), (*mount)?)
            }
            _ => return None,
        })
    }

    /// Refuses what would hang where something hangs already, or outside of its rack.
    pub(super) fn free_seat_of(&self, draft: &Draft, want: &Want) -> Done {
        let Some(seat) = self.seat(draft, want) else {
            return Ok(());
        };
        self.free_seat(draft, seat).map_err(|mut refusal| {
            refusal.fault = Some(Fault::Unit);
            self.or_elsewhere(refusal, want, seat)
        })
    }

    fn free_seat(&self, draft: &Draft, seat: Seat) -> Done {
        let Some(unit) = seat.unit else {
            return Ok(());
        };
        let rack = names::rack(self.registry, seat.rack);
        if matches!(seat.what, Some(Mountable::Panel(_))) && seat.face == Face::Rear {
            return Err(Refusal::new(
                "A panel hangs on the front rails. Choose the front.",
            ));
        }
        if !self.registry.counts_units(seat.rack) {
            return Err(Refusal::new(format!(
                "{rack} has no rack units. Leave the unit empty."
            )));
        }
        let high = unit.saturating_add(seat.height.get() - 1);
        if unit == 0 {
            return Err(Refusal::new(
                "Rack units count from 1, the lowest. Choose another.",
            ));
        }
        if let Some(units) = self.registry.rack_units(seat.rack)
            && high > units.get()
        {
            return Err(Refusal::new(format!(
                "{rack} has {} rack units, and this would reach to unit {high}. Choose a lower one.",
                units.get()
            )));
        }
        let hung = others(self.registry, draft, seat);
        let holder = hung.iter().find_map(|hung| {
            let (low, top) = hung.reach()?;
            (low <= high && unit <= top).then_some((hung, low))
        });
        let Some((holder, low)) = holder else {
            return Ok(());
        };
        Err(Refusal::new(format!(
            "{} is at rack {} of {rack} already. Choose another, or move that one first.",
            names::mountable(self.registry, holder.what),
            names::units_from(low, holder.height),
        )))
    }

    /// The nearest place that is free, and the room that others can make.
    fn or_elsewhere(&self, mut refusal: Refusal, want: &Want, seat: Seat) -> Refusal {
        if !self.registry.counts_units(seat.rack) {
            return match with_unit(want, seat, None) {
                Some(want) => refusal.or("Without a rack unit", want),
                None => refusal,
            };
        }
        let nowhere = self.journal.draft();
        let hung = others(self.registry, &nowhere, seat);
        let top = self.registry.rack_units(seat.rack).map_or(TOP, Units::get);
        match nearest(&hung, seat, top) {
            Some(unit) => {
                if let Some(want) = with_unit(want, seat, Some(unit)) {
                    let at = names::units_from(unit, seat.height);
                    refusal = refusal.or(format!("At {at}: it is free"), want);
                }
            }
            None => {
                refusal.words.push_str(&format!(
                    " Nothing of {} is free there.",
                    names::units_high(seat.height)
                ));
            }
        }
        let Some(moves) = pushed(&hung, seat, top) else {
            return refusal;
        };
        let named: Vec<String> = moves
            .iter()
            .map(|(what, mount)| {
                let what = names::mountable(self.registry, *what);
                format!("{what} to unit {}", mount.unit.unwrap_or_default())
            })
            .collect();
        let label = format!("Make room: {}", names::listed(&named));
        let change = Box::new(want.clone());
        refusal.or(label, Want::MakeRoom { change })
    }

    fn make_room(&self, draft: &mut Draft, change: &Want) -> Done {
        let seat = self.seat(draft, change).filter(|seat| seat.unit.is_some());
        let Some(seat) = seat else {
            return Err(Refusal::new("Say at which rack unit it is to hang."));
        };
        let hung = others(self.registry, draft, seat);
        let top = self.registry.rack_units(seat.rack).map_or(TOP, Units::get);
        let Some(moves) = pushed(&hung, seat, top) else {
            return Err(Refusal::new(format!(
                "The others in {} cannot make room there. Choose another unit.",
                names::rack(self.registry, seat.rack)
            )));
        };
        for (what, mount) in moves {
            self.hang(draft, what, mount);
        }
        // What was wanted is told first, though it is checked with the others out of its way.
        let moved = draft.facts.len();
        self.write(change, draft)?;
        draft.facts.rotate_left(moved);
        Ok(())
    }
}

fn add_block(draft: &mut Draft, kind: BlockKind, name: &str, mount: Mount) {
    let block: BlockId = draft.mint();
    draft.push(Fact::Block(block, BlockFact::Added(kind)));
    if let Ok(name) = words(name, "") {
        let name = BlockFact::Named(name.trim().to_owned());
        draft.push(Fact::Block(block, name));
    }
    draft.push(Fact::Block(block, BlockFact::Mounted(mount)));
}

fn seat_of(what: Option<Mountable>, mount: Mount) -> Seat {
    Seat {
        rack: mount.rack,
        unit: mount.unit,
        height: mount.height,
        face: mount.face,
        what,
        grows: 0,
    }
}

/// The same, at another rack unit.
fn with_unit(want: &Want, seat: Seat, at: Option<u8>) -> Option<Want> {
    let mut other = want.clone();
    match &mut other {
        Want::AddPanel { unit, .. } | Want::PlacePanel { unit, .. } => *unit = at,
        Want::AddBlock { mount, .. }
        | Want::Hang { mount, .. }
        | Want::RenameBlock {
            mount: Some(mount), ..
        } => mount.unit = at,
        // It hangs where the panel hangs that it comes in the place of.
        Want::ReplacePanel { .. } => return None,
        _ => {
            return seat.what.map(|what| Want::Hang {
                what,
                mount: Mount {
                    rack: seat.rack,
                    unit: at,
                    height: seat.height,
                    face: seat.face,
                },
            });
        }
    }
    Some(other)
}

/// What else hangs on the same side of the rack, from the lowest up, as it will be once the draft is
/// written.
fn others(registry: &Registry, draft: &Draft, seat: Seat) -> Vec<Hung> {
    let mut hung = registry.hung_in(seat.rack);
    for hung in &mut hung {
        if let Some(unit) = unit_in(draft, hung.what) {
            hung.unit = unit;
        }
    }
    hung.retain(|hung| hung.face == seat.face && Some(hung.what) != seat.what);
    hung
}

/// The rack unit that a draft gives to something; none where it does not say.
fn unit_in(draft: &Draft, what: Mountable) -> Option<Option<u8>> {
    let mut facts = draft.facts.iter().rev();
    facts.find_map(|fact| match (fact, what) {
        (Fact::Panel(id, PanelFact::AtUnit(unit)), Mountable::Panel(of)) if *id == of => {
            Some(*unit)
        }
        (Fact::Device(id, DeviceFact::Mounted(Some(mount))), Mountable::Device(of))
            if *id == of =>
        {
            Some(mount.unit)
        }
        (Fact::Block(id, BlockFact::Mounted(mount)), Mountable::Block(of)) if *id == of => {
            Some(mount.unit)
        }
        _ => None,
    })
}

/// The rack unit nearest to the one that was asked for at which nothing is in the way.
fn nearest(hung: &[Hung], seat: Seat, top: u8) -> Option<u8> {
    let asked = seat.unit?;
    let last = top.checked_sub(seat.height.get() - 1)?;
    let is_free = |unit: &u8| {
        let high = *unit + seat.height.get() - 1;
        let mut reach = hung.iter().filter_map(Hung::reach);
        reach.all(|(low, top)| high < low || top < *unit)
    };
    // Of two that are as near, the higher one comes last and stays.
    let mut best: Option<u8> = None;
    for unit in (1..=last).filter(is_free) {
        if best.is_none_or(|best| unit.abs_diff(asked) <= best.abs_diff(asked)) {
            best = Some(unit);
        }
    }
    best
}

/// How things move so that a place becomes free, and stay in their order: those from there on up, as
/// little as they must; where that has no room, those below it down. What becomes higher grows down then,
/// so that those above it stay above. None where there is no room, or nothing is in the way.
fn pushed(hung: &[Hung], seat: Seat, top: u8) -> Option<Vec<(Mountable, Mount)>> {
    let asked = seat.unit.filter(|unit| *unit > 0)?;
    let next = asked.checked_add(seat.height.get())?;
    let placed = |hung: &&Hung| hung.reach().is_some();
    let reach = |hung: &Hung| hung.reach().unwrap_or_default();
    let at = |hung: &Hung, unit: u8| {
        let mount = Mount {
            rack: hung.rack,
            unit: Some(unit),
            height: hung.height,
            face: hung.face,
        };
        (hung.what, mount)
    };
    let mut moves = Vec::new();
    let mut free = next;
    for hung in hung.iter().filter(placed) {
        let (low, high) = reach(hung);
        if high >= asked && low < free {
            moves.push(at(hung, free));
            free = free.saturating_add(hung.height.get());
        }
    }
    if free - 1 <= top {
        return Some(moves).filter(|moves| !moves.is_empty());
    }
    moves.clear();
    let unit = asked.checked_sub(seat.grows).filter(|unit| *unit > 0)?;
    let next = next - seat.grows;
    if next - 1 > top {
        return None;
    }
    if let Some(what) = seat.what.filter(|_| unit < asked) {
        let mount = Mount {
            rack: seat.rack,
            unit: Some(unit),
            height: seat.height,
            face: seat.face,
        };
        moves.push((what, mount));
    }
    let mut free = unit;
    for hung in hung.iter().rev().filter(placed) {
        let (low, high) = reach(hung);
        if low < next && high >= free {
            free = free
                .checked_sub(hung.height.get())
                .filter(|free| *free > 0)?;
            moves.push(at(hung, free));
        }
    }
    Some(moves).filter(|moves| !moves.is_empty())
}
