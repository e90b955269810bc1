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

/// All that is known of how far a cable is proved, for somebody at an end of it: that its tag was seen there
/// stands beside a test that holds no more.
#[must_use]
pub fn proofs(registry: &Registry, end: End) -> Vec<Proof> {
    let proof = proof(registry, end);
    let is_beside = match proof {
        Proof::Moved(_) | Proof::Failed => is_seen(registry, end),
        Proof::No | Proof::Seen | Proof::Verified => false,
    };
    let seen = is_beside.then_some(Proof::Seen);
    seen.into_iter().chain([proof]).collect()
}

/// Whether the tag of an end was scanned there.
#[must_use]
pub fn is_seen(registry: &Registry, end: End) -> bool {
    let row = registry.cables.get(end.cable);
    let record = row.and_then(|row| row.end(end.cable, end.side));
    record.is_some_and(|record| !record.seen.is_empty())
}

/// How far a cable is proved, for somebody at an end of it.
#[must_use]
pub fn proof(registry: &Registry, end: End) -> Proof {
    let Some(cable) = registry.cables.get(end.cable) else {
        return Proof::No;
    };
    let run = Run::new(registry, end.cable, cable);
    match run.tested() {
        Tested::Passed => Proof::Verified,
        Tested::Moved(act) => Proof::Moved(act),
        Tested::Failed => Proof::Failed,
        Tested::No if is_seen(registry, end) => Proof::Seen,
        Tested::No => Proof::No,
    }
}
