//! What lies where: the cables in a conduit, and those drawn from a box.

use super::{Cable, Registry};
use crate::domain::ids::{CableId, ConduitId};
use crate::domain::order::Order;

impl Registry {
    /// Every number of a conduit, the lowest first; of one about whose number people disagree, each.
    #[must_use]
    pub fn conduit_numbers(&self) -> Vec<(u16, ConduitId)> {
        let mut numbers = Vec::new();
        for (id, row) in self.conduits.iter() {
            numbers.extend(
                row.number
                    .distinct()
                    .into_iter()
                    .map(|number| (*number, id)),
            );
        }
        numbers.put_in_order();
        numbers
    }

    /// The conduits of a number, by id.
    #[must_use]
    pub fn conduits_numbered(&self, number: u16) -> Vec<ConduitId> {
        let mut found = Vec::new();
        for (other, id) in self.conduit_numbers() {
            if other == number {
                found.push(id);
            }
        }
        found
    }

    /// The next number that no conduit ever had; none when they are used up.
    #[must_use]
    pub fn next_conduit(&self) -> Option<u16> {
        let mut last: u16 = 0;
        for (_, row) in self.conduits.iter() {
            // The withdrawn ones count too: their numbers may stand on a tag.
            for number in row.number.ever() {
                last = last.max(*number);
            }
        }
        last.checked_add(1)
    }

    /// Whether a conduit was taken out of the job.
    #[must_use]
    pub fn is_conduit_cancelled(&self, id: ConduitId) -> bool {
        let row = self.conduits.get(id);
        row.is_some_and(|row| row.standing.is_cancelled())
    }

    /// The cables that lie in a conduit by what anybody says, by id.
    #[must_use]
    pub fn cables_in(&self, id: ConduitId) -> Vec<CableId> {
        let mut found = self.index.in_conduit.get(&id.0).to_vec();
        found.retain(|cable| {
            let row = self.cables.get(*cable);
            row.is_some_and(|row| !row.added.is_empty())
        });
        found
    }

    /// The cables of which the copper that lies there now was drawn from a box, by id.
    #[must_use]
    pub fn cables_from(&self, number: u16) -> Vec<CableId> {
        let mut found = Vec::new();
        for (id, row) in self.cables.iter() {
            if !row.added.is_empty() && drawn_from(id, row).contains(&&number) {
                found.push(id);
            }
        }
        found.put_in_order();
        found
    }
}

/// The boxes that the copper of a cable that lies there now was drawn from, by what anybody says.
#[must_use]
pub fn drawn_from(id: CableId, row: &Cable) -> Vec<&u16> {
    let copper = row.copper(row.pull(id));
    let said = copper.map(|copper| copper.drawn_from.distinct());
    said.unwrap_or_default()
}
