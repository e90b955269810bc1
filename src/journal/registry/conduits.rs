//! What lies where: the cables in a conduit, and those drawn from a box.

use super::{Cable, Registry};
use crate::domain::ids::{CableId, ConduitId};
use crate::domain::order::Order;

impl Registry {
    /// The conduits of a number, by id; of one about whose number people disagree, each number.
    #[must_use]
    pub fn conduits_numbered(&self, number: u16) -> Vec<ConduitId> {
        let rows = self.conduits.iter();
        let rows = rows.filter(|(_, row)| row.number.distinct().contains(&&number));
        let mut ids: Vec<ConduitId> = rows.map(|(id, _)| id).collect();
        ids.put_in_order();
        ids
    }

    /// The next number that no conduit ever had; none when they are used up.
    #[must_use]
    pub fn next_conduit(&self) -> Option<u16> {
        let rows = self.conduits.iter();
        // The withdrawn ones count too: their numbers may stand on a tag.
        let had = rows.flat_map(|(_, row)| row.number.ever().copied());
        had.max().unwrap_or(0).checked_add(1)
    }

    /// The cables that lie in a conduit by what anybody says, by code.
    #[must_use]
    pub fn cables_in(&self, id: ConduitId) -> Vec<CableId> {
        self.by_code(self.index.in_conduit.get(&id.0).to_vec())
    }

    /// The cables of which the copper that lies there now was drawn from a box, by code.
    #[must_use]
    pub fn cables_from(&self, number: u16) -> Vec<CableId> {
        let rows = self.cables.iter();
        let rows = rows.filter(|(id, row)| drawn_from(*id, row).contains(&&number));
        self.by_code(rows.map(|(id, _)| id).collect())
    }

    fn by_code(&self, cables: Vec<CableId>) -> Vec<CableId> {
        let there = cables.into_iter().filter(|id| {
            let row = self.cables.get(*id);
            row.is_some_and(|row| !row.added.is_empty())
        });
        let mut named: Vec<(Option<String>, CableId)> = there
            .map(|id| (self.cable_code(id).map(|code| code.text), id))
            .collect();
        named.put_in_order();
        named.into_iter().map(|(_, id)| id).collect()
    }
}

/// The boxes that the copper of a cable that lies there now was drawn from, by what anybody says.
#[must_use]
pub fn drawn_from(id: CableId, row: &Cable) -> Vec<&u16> {
    let copper = row.copper(row.pull(id));
    let said = copper.map(|copper| copper.drawn_from.distinct());
    said.unwrap_or_default()
}
