//! What is given once: units of a rack. Two phones may still give them twice; that is seen when they
//! meet, and put right by a new place.

use super::{Desk, Done, Refusal};
use crate::domain::ids::{PanelId, RackId};
use crate::names;

impl Desk<'_> {
    /// A panel takes one unit, since nobody says how high it is.
    pub(super) fn free_rack_unit(&self, rack: RackId, unit: Option<u8>, except: PanelId) -> Done {
        let mut panels = self.registry.panels.iter();
        let holder = panels.find(|(id, row)| {
            *id != except
                && row.make.get().is_some()
                && row.rack.get() == Some(&rack)
                && row.unit.get() == Some(&unit)
        });
        let (Some(unit), Some((holder, _))) = (unit, holder) else {
            return Ok(());
        };
        Err(Refusal::new(format!(
            "{} is at rack unit {unit} of {} already. Choose another, or move that one first.",
            names::panel(self.registry, holder),
            names::rack(self.registry, rack)
        )))
    }
}
