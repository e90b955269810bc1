//! What hangs in which rack, and where.

use super::{Panel, Registry};
use crate::domain::ids::RackId;
use crate::domain::mount::{Mount, Mountable, Units};
use crate::domain::order::Order;
use crate::domain::place::Face;
use crate::journal::fact::PanelMake;

/// Something in a rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hung {
    /// The rack.
    pub rack: RackId,
    /// What it is.
    pub what: Mountable,
    /// The rack unit of its lower edge; none: not said.
    pub unit: Option<u8>,
    /// How many rack units it takes.
    pub height: Units,
    /// On the front rails or on the rear ones.
    pub face: Face,
}

impl Hung {
    /// The lowest and the highest rack unit that it takes; none where it is not said.
    #[must_use]
    pub fn reach(&self) -> Option<(u8, u8)> {
        let unit = self.unit?;
        Some((unit, unit.saturating_add(self.height.get() - 1)))
    }
}

impl Panel {
    /// How many rack units it takes, or another one of this make in its place: what was said of it, else
    /// what the rows of its positions need.
    #[must_use]
    pub fn height_as(&self, make: PanelMake) -> Units {
        let usual = Units::of_positions(make.positions.get());
        self.high.get().copied().unwrap_or(usual)
    }
}

impl Registry {
    /// How many rack units a rack has; none where that was not said, or it is built without.
    #[must_use]
    pub fn rack_units(&self, rack: RackId) -> Option<Units> {
        self.racks.get(rack)?.build.get()?.units()
    }

    /// Whether rack units count in a rack: as long as nobody says that it is built without.
    #[must_use]
    pub fn counts_units(&self, rack: RackId) -> bool {
        let build = self.racks.get(rack).and_then(|row| row.build.get());
        build.is_none_or(|build| build.units().is_some())
    }

    /// Everything that hangs in a rack of the job, rack by rack: from the lowest rack unit up, what
    /// has none last, panels before devices and those before the rest.
    #[must_use]
    pub fn hung(&self) -> Vec<Hung> {
        let mut hung = Vec::new();
        for (id, panel) in self.panels.iter() {
            if let (Some(make), Some(rack)) = (panel.make.get(), panel.rack.get()) {
                hung.push(Hung {
                    rack: *rack,
                    what: Mountable::Panel(id),
                    unit: panel.unit.get().copied().flatten(),
                    height: panel.height_as(*make),
                    face: Face::Front,
                });
            }
        }
        for (id, device) in self.devices.iter() {
            let mount = device.mount.get().copied().flatten();
            if let Some(mount) = mount.filter(|_| !device.added.is_empty()) {
                hung.push(mounted(Mountable::Device(id), mount));
            }
        }
        for (id, block) in self.blocks.iter() {
            let is_there = block.kind.get().is_some() && !block.standing.is_cancelled();
            if let Some(mount) = block.mount.get().filter(|_| is_there) {
                hung.push(mounted(Mountable::Block(id), *mount));
            }
        }
        hung.retain(|hung| {
            let rack = self.racks.get(hung.rack);
            rack.is_some_and(|rack| !rack.added.is_empty())
        });
        hung.order_by_key(|hung| (hung.rack, hung.unit.is_none(), hung.unit, hung.what));
        hung
    }

    /// What hangs in one rack, in the same order.
    #[must_use]
    pub fn hung_in(&self, rack: RackId) -> Vec<Hung> {
        let mut hung = self.hung();
        hung.retain(|hung| hung.rack == rack);
        hung
    }
}

fn mounted(what: Mountable, mount: Mount) -> Hung {
    Hung {
        rack: mount.rack,
        what,
        unit: mount.unit,
        height: mount.height,
        face: mount.face,
    }
}
