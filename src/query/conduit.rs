//! What passes where: conduits with the cables in them, and boxes with the cables drawn from them.

use crate::domain::ids::{CableId, ConduitId};
use crate::domain::order::Order;
use crate::domain::work::Lying;
use crate::journal::{Registry, drawn_from};
use crate::names;

/// A conduit as lists show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConduitLine {
    /// Which.
    pub id: ConduitId,
    /// Its number.
    pub number: u16,
    /// Its code: `CD1`.
    pub code: String,
    /// From where to where, its size, and whether it is cancelled.
    pub words: String,
    /// Whether a pull string lies in it, as far as anybody said.
    pub string: Lying,
    /// Whether it was taken out of the job.
    pub is_cancelled: bool,
    /// The cables in it, by id.
    pub cables: Vec<CableId>,
}

/// The conduits of the job, by number.
#[must_use]
pub fn conduits(registry: &Registry) -> Vec<ConduitLine> {
    let mut lines: Vec<ConduitLine> = Vec::new();
    for (number, id) in registry.conduit_numbers() {
        // People may disagree about its number: it stands where it is called so.
        let row = registry.conduits.get(id);
        let Some(row) = row.filter(|row| row.number.get() == Some(&number)) else {
            continue;
        };
        lines.push(ConduitLine {
            id,
            number,
            code: names::conduit(registry, id),
            words: words(registry, id),
            string: row.string.get().copied().unwrap_or(Lying::Out),
            is_cancelled: registry.is_conduit_cancelled(id),
            cables: registry.cables_in(id),
        });
    }
    lines
}

/// From where to where a conduit runs, its size, and whether it is cancelled.
#[must_use]
pub fn words(registry: &Registry, id: ConduitId) -> String {
    let mut words = names::conduit_ends(registry, id);
    let row = registry.conduits.get(id);
    let size = row.and_then(|row| row.size.get());
    if let Some(size) = size.filter(|size| !size.is_empty()) {
        words.push_str(", ");
        words.push_str(size);
    }
    words.push_str(names::standing(row.and_then(|row| row.standing.get())));
    words
}

/// The conduits that a cable lies in by what anybody says, by number.
#[must_use]
pub fn passed(registry: &Registry, id: CableId) -> Vec<ConduitLine> {
    let mut lines = conduits(registry);
    lines.retain(|line| line.cables.contains(&id));
    lines
}

/// The conduits that a cable may be said to lie in: those that are wanted and that it is not in.
#[must_use]
pub fn open_to(registry: &Registry, id: CableId) -> Vec<ConduitLine> {
    let mut lines = conduits(registry);
    lines.retain(|line| !line.is_cancelled && !line.cables.contains(&id));
    lines
}

/// The boxes and spools on site, and those that cables were drawn from. No box has the number 0.
#[must_use]
pub fn boxes(registry: &Registry) -> Vec<u16> {
    let held = registry.job.boxes.iter();
    let held = held.filter(|(_, held)| matches!(held.get(), Some(Some(_))));
    let mut boxes: Vec<u16> = held.map(|(number, _)| *number).collect();
    for (id, row) in registry.cables.iter() {
        if !row.added.is_empty() {
            boxes.extend(drawn_from(id, row));
        }
    }
    boxes.retain(|number| *number != 0);
    boxes.put_in_order();
    boxes.dedup();
    boxes
}

/// What a box holds, in words; empty where nobody said.
#[must_use]
pub fn held(registry: &Registry, number: u16) -> String {
    let held = registry.job.boxes.get(&number).and_then(|held| held.get());
    let held = held.and_then(Option::as_ref);
    held.map_or_else(String::new, ToString::to_string)
}

/// Whether anybody told of a box.
#[must_use]
pub fn is_known_box(registry: &Registry, number: u16) -> bool {
    !held(registry, number).is_empty() || !registry.cables_from(number).is_empty()
}
