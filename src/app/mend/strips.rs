//! Printed strips that no longer say what is on their panels: a move makes the strip stale, never the
//! tag of the cable.

use super::Mending;
use crate::app::Screen;
use crate::domain::order::Order;
use crate::domain::place::Face;
use crate::journal::Journal;
use crate::names;
use crate::query::printed::{StripState, strip_state};
use crate::tags::strip_words;

/// The panels whose printed strips are out of date, one each, by name. Whatever is on them, they are
/// printed anew before the handover.
#[must_use]
pub fn stale_strips(journal: &Journal) -> Vec<Mending> {
    let registry = journal.registry();
    let printed = registry.panels.iter();
    let printed = printed.filter(|(_, row)| row.strips.iter().next().is_some());
    let mut stale = Vec::new();
    for (panel, _) in printed {
        let now = strip_words(registry, panel);
        let state = now.map(|now| strip_state(registry, panel, &now));
        if let Some(StripState::Stale { positions, .. }) = state {
            stale.push((names::panel(registry, panel), panel, positions));
        }
    }
    stale.put_in_order();
    let told = stale.into_iter().map(|(name, panel, positions)| {
        let at = match positions {
            1 => "1 position".to_owned(),
            _ => format!("{positions} positions"),
        };
        Mending::new(format!("The strip of {name} is out of date at {at}."))
            .because("Something was moved or changed after it was printed. Print it anew, and put the old one away.")
            .or_go("The panel", Screen::Panel {
                panel,
                face: Face::Front,
            })
    });
    told.collect()
}
