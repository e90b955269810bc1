//! Where a home run goes home to: what was chosen, and what follows while nothing is.

use super::Registry;
use super::rows::{PerLeg, side_index};
use crate::domain::ids::{CableId, RackId};
use crate::domain::place::{Leaves, Place, Placement, Side};

impl Registry {
    /// The rack that a home run goes to. While none is chosen it is the rack of the panel where its
    /// far end is landed, else of the one that it is meant for, else the only rack of the job.
    #[must_use]
    pub fn home_rack(&self, id: CableId) -> Option<RackId> {
        let cable = self.cables.get(id)?;
        match cable.leaves.get() {
            Some(Leaves::Rack(Some(rack))) => return Some(*rack),
            Some(Leaves::Outlet(_)) => return None,
            Some(Leaves::Rack(None)) | None => {}
        }
        let landed = cable.end(id, Side::Far).and_then(|record| {
            self.first_rack(&record.placement, |said| match said.get()? {
                Placement::Landed { place, .. } => Some(place),
                Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
            })
        });
        let planned = || {
            let planned = &cable.planned[side_index(Side::Far)];
            self.first_rack(planned, |said| said.get()?.as_ref())
        };
        landed.or_else(planned).or_else(|| self.only_rack())
    }

    /// The rack of the first part of an end, the whole end before its legs, that is on a panel.
    fn first_rack<T>(
        &self,
        parts: &PerLeg<T>,
        place: impl Fn(&T) -> Option<&Place>,
    ) -> Option<RackId> {
        let legs = parts.legs.iter().map(|(_, leg)| leg);
        let mut places = std::iter::once(&parts.whole).chain(legs).filter_map(place);
        places.find_map(|place| match place {
            Place::Position { position, .. } => {
                self.panels.get(position.panel)?.rack.get().copied()
            }
            Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => None,
        })
    }

    fn only_rack(&self) -> Option<RackId> {
        let mut racks = self.racks.iter().filter(|(_, row)| !row.added.is_empty());
        let first = racks.next()?.0;
        racks.next().is_none().then_some(first)
    }
}
