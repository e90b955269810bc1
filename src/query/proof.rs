//! How far it is proved that a cable is the one it is called. A scan alone proves nothing: two tails
//! whose tags were crossed scan perfectly. A test proves the copper between two ends as they stood when it
//! was made, and nothing of an end that was moved, lifted or landed anew since.

use super::run::{Run, Tested};
use crate::domain::ids::ActId;
use crate::domain::place::End;
use crate::journal::Registry;

/// How far it is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Not at all.
    No,
    /// Its tag was scanned at this end.
    Seen,
    /// Toner, wire map, remote or another test proved the copper.
    Verified,
    /// A test proved it, and this act moved an end of it afterwards.
    Moved(ActId),
    /// The last test failed.
    Failed,
}

/// How far a cable is proved, for somebody at an end of it.
#[must_use]
pub fn proof(registry: &Registry, end: End) -> Proof {
    let Some(cable) = registry.cables.get(end.cable) else {
        return Proof::No;
    };
    let run = Run::new(registry, end.cable, cable);
    let is_seen = || {
        let record = run.end(end.side);
        record.is_some_and(|record| !record.seen.is_empty())
    };
    match run.tested() {
        Tested::Passed => Proof::Verified,
        Tested::Moved(act) => Proof::Moved(act),
        Tested::Failed => Proof::Failed,
        Tested::No if is_seen() => Proof::Seen,
        Tested::No => Proof::No,
    }
}
