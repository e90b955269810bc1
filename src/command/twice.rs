//! What is given once: names of things that are chosen by name, numbers of floors.
//! Two phones may still give them twice; that is seen when they meet, and put right by a new name.

use super::{Desk, Done, Refusal};
use crate::domain::ids::{DeviceId, FloorId, OutletTypeId, UnitId};
use crate::domain::outlet_type::UsualType;
use crate::domain::text::folded;

impl Desk<'_> {
    pub(super) fn free_unit_name(&self, name: &str, except: UnitId) -> Done {
        let others = self.registry.units.iter();
        let others = others.filter(|(id, row)| *id != except && !row.added.is_empty());
        let mut names = others.filter_map(|(_, row)| Some(row.name.get()?.as_str()));
        free_name(name, "a building or unit", &mut names)
    }

    pub(super) fn free_floor_name(&self, name: &str, except: FloorId) -> Done {
        let others = self.registry.floors.iter();
        let others = others.filter(|(id, row)| *id != except && !row.added.is_empty());
        let mut names = others.filter_map(|(_, row)| Some(row.name.get()?.as_str()));
        free_name(name, "a floor", &mut names)
    }

    pub(super) fn free_device_name(&self, name: &str, except: DeviceId) -> Done {
        let others = self.registry.devices.iter();
        let others = others.filter(|(id, row)| *id != except && !row.added.is_empty());
        let mut names = others.filter_map(|(_, row)| Some(row.name.get()?.as_str()));
        free_name(name, "a device", &mut names)
    }

    /// The usual types stand on the same list as those of the job.
    pub(super) fn free_type_name(&self, name: &str, except: OutletTypeId) -> Done {
        let others = self.registry.outlet_types.iter();
        let others = others.filter(|(id, row)| *id != except && !row.added.is_empty());
        let own = others.filter_map(|(_, row)| Some(row.name.get()?.as_str()));
        let usual = UsualType::all().iter().map(|usual| usual.words);
        free_name(name, "an outlet type", &mut own.chain(usual))
    }

    pub(super) fn free_floor_number(&self, number: u8, except: FloorId) -> Done {
        let mut floors = self.registry.floors.iter();
        let holder = floors.find(|(id, row)| {
            *id != except && !row.added.is_empty() && row.number.get() == Some(&number)
        });
        let Some((_, row)) = holder else {
            return Ok(());
        };
        let name = row.name.get().map_or("another floor", String::as_str);
        Err(Refusal::new(format!(
            "Floor number {number} is {name} already. Choose another, or change that one first."
        )))
    }
}

/// Names are the same when they look the same: whatever case, spaces and characters that hide.
fn free_name(name: &str, what: &str, taken: &mut dyn Iterator<Item = &str>) -> Done {
    let own = folded(name);
    for other in taken {
        if folded(other) == own {
            return Err(Refusal::new(format!(
                "There is {what} called {other} already. Choose another name."
            )));
        }
    }
    Ok(())
}
