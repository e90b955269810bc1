//! How far apart the ports of a panel are, for the strips above them.

use super::Microns;
use crate::domain::medium::Connector;
use crate::journal::PanelMake;

/// The ports of a panel as a strip has them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ports {
    /// From the middle of one to that of the next.
    pub pitch: Microns,
    /// How many follow each other before there is a gap; 0: there is none.
    pub group: i32,
}

/// 5/8 inch, as 19-inch panels of 24 modular jacks have them, in groups of six with a gap behind each
/// that every maker has his own. Common practice, no source: strips are cut apart there.
const MODULAR: Ports = Ports {
    pitch: Microns(15_875),
    group: 6,
};

/// Whatever else, until somebody measures it. From memory.
const OTHERS: Ports = Ports {
    pitch: Microns(16_000),
    group: 0,
};

/// The ports of a panel by what it is, with the words that say so.
#[must_use]
pub(super) fn usual(make: PanelMake) -> (Ports, &'static str) {
    let is_modular = matches!(
        make.connector,
        Connector::Modular | Connector::ShieldedModular
    );
    match make.positions.get() {
        count if is_modular && count % 6 == 0 => (
            MODULAR,
            "as such panels usually have them, in groups of six to be cut apart where the panel has a gap",
        ),
        _ => (OTHERS, "as nobody said how far apart they are"),
    }
}
