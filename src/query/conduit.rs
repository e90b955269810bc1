//! What passes where: conduits with the cables in them, and boxes with the cables drawn from them.

use crate::domain::ids::{CableId, ConduitId};
use crate::domain::order::Order;
use crate::domain::sorted::SortedSet;
use crate::domain::work::{Lying, Standing};
use crate::journal::{Registry, drawn_from};
use crate::names;

/// A conduit as lists show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConduitLine {
    /// Which.
    pub id: ConduitId,
    /// Its code: `CD1`.
    pub code: String,
    /// From where to where, its size, and whether it is cancelled.
    pub words: String,
    /// Whether a pull string lies in it; none: nobody said.
    pub string: Option<Lying>,
    /// Whether it was taken out of the job.
    pub is_cancelled: bool,
    /// The cables in it, by code.
    pub cables: Vec<CableId>,
}

/// A conduit; none that is not in the job.
#[must_use]
pub fn conduit(registry: &Registry, id: ConduitId) -> Option<ConduitLine> {
    let row = registry.conduits.get(id)?;
    row.number.get()?;
    let standing = row.standing.get();
    Some(ConduitLine {
        id,
        code: names::conduit(registry, id),
        words: words(registry, id),
        string: row.string.get().copied(),
        is_cancelled: matches!(standing, Some(Standing::Cancelled { .. })),
        cables: registry.cables_in(id),
    })
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

/// The conduits of the job, by number.
#[must_use]
pub fn conduits(registry: &Registry) -> Vec<ConduitLine> {
    let rows = registry.conduits.iter();
    let mut ids: Vec<_> = rows
        .map(|(id, row)| (row.number.get().copied(), id))
        .collect();
    ids.put_in_order();
    let lines = ids.into_iter();
    lines.filter_map(|(_, id)| conduit(registry, id)).collect()
}

/// The conduits that a cable lies in by what anybody says, by number.
#[must_use]
pub fn passed(registry: &Registry, id: CableId) -> Vec<ConduitLine> {
    let mut lines = conduits(registry);
    lines.retain(|line| line.cables.contains(&id));
    lines
}

/// The conduits that a cable may be said to lie in: it is not in them, and they are wanted.
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
    let mut all: SortedSet<u16> = held.map(|(number, _)| *number).collect();
    for (id, row) in registry.cables.iter() {
        if !row.added.is_empty() {
            for number in drawn_from(id, row) {
                all.insert(*number);
            }
        }
    }
    all.iter().copied().filter(|number| *number > 0).collect()
}

/// What a box holds, and how many cables are drawn from it.
#[must_use]
pub fn box_words(registry: &Registry, number: u16) -> String {
    let held = registry.job.boxes.get(&number).and_then(|held| held.get());
    let held = held.and_then(Option::as_ref);
    let cables = match registry.cables_from(number).len() {
        1 => "1 cable drawn from it".to_owned(),
        count => format!("{count} cables drawn from it"),
    };
    match held {
        Some(medium) => format!("{medium}, {cables}"),
        None => cables,
    }
}
