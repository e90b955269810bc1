//! What is given once: names of things that are chosen by name, numbers of floors.
//! Two phones may still give them twice; that is seen when they meet, and put right by a new name.

use super::{Desk, Done, Fault, Refusal};
use crate::domain::ids::{DeviceId, FloorId, JointId, OutletTypeId, RackId, UnitId};
use crate::domain::outlet_type::UsualType;
use crate::domain::text::folded;
use crate::journal::Register;

impl Desk<'_> {
    pub(super) fn free_unit_name(&self, name: &str, except: UnitId) -> Done {
        let rows = self.registry.units.iter();
        let mut names = rows.map(|(id, row)| (id != except && !row.added.is_empty(), &row.name));
        free_name(name, "a building or unit", &mut names)
    }

    pub(super) fn free_floor_name(&self, name: &str, except: FloorId) -> Done {
        let rows = self.registry.floors.iter();
        let mut names = rows.map(|(id, row)| (id != except && !row.added.is_empty(), &row.name));
        free_name(name, "a floor", &mut names)
    }

    pub(super) fn free_rack_name(&self, name: &str, except: Option<RackId>) -> Done {
        let rows = self.registry.racks.iter();
        let mut names =
            rows.map(|(id, row)| (Some(id) != except && !row.added.is_empty(), &row.name));
        free_name(name, "a rack", &mut names)
    }

    pub(super) fn free_device_name(&self, name: &str, except: DeviceId) -> Done {
        let rows = self.registry.devices.iter();
        let mut names = rows.map(|(id, row)| (id != except && !row.added.is_empty(), &row.name));
        free_name(name, "a device", &mut names)
    }

    pub(super) fn free_joint_name(&self, name: &str, except: Option<JointId>) -> Done {
        let rows = self.registry.joints.iter();
        let mut names =
            rows.map(|(id, row)| (Some(id) != except && row.kind.get().is_some(), &row.name));
        free_name(name, "a joint", &mut names)
    }

    /// The usual types stand on the same list as those of the job.
    pub(super) fn free_type_name(&self, name: &str, except: OutletTypeId) -> Done {
        let (own, what) = (folded(name), "an outlet type");
        for usual in UsualType::all() {
            differ(&own, usual.words, what)?;
        }
        let rows = self.registry.outlet_types.iter();
        let mut names = rows.map(|(id, row)| (id != except && !row.added.is_empty(), &row.name));
        free_name(name, what, &mut names)
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
        let words = format!(
            "Floor number {number} is {name} already. Choose another, or change that one first."
        );
        Err(Refusal::of(Fault::Code, words))
    }
}

/// A row whose name is looked at: whether it is another one that exists, and what it is called.
type Named<'a> = (bool, &'a Register<String>);

fn free_name(name: &str, what: &str, rows: &mut dyn Iterator<Item = Named<'_>>) -> Done {
    let own = folded(name);
    for (is_another, taken) in rows {
        if let Some(taken) = taken.get().filter(|_| is_another) {
            differ(&own, taken, what)?;
        }
    }
    Ok(())
}

/// Names are the same when they look the same: whatever case, spaces and characters that hide.
fn differ(own: &str, taken: &str, what: &str) -> Done {
    if folded(taken) != own {
        return Ok(());
    }
    let words = format!("There is {what} called {taken} already. Choose another name.");
    Err(Refusal::of(Fault::Name, words))
}
