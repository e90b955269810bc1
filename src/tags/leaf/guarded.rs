//! What a card on an open door does not tell: which cables belong to alarms and cameras.

use crate::domain::medium::{Connector, Kind};
use crate::domain::place::{End, Position};
use crate::domain::text::folded;
use crate::journal::Registry;
use crate::names;
use crate::query::shown_outlet;

/// Words of alarms and cameras, as they stand in purposes and names of types. Common practice, no
/// source.
const WORDS: [&str; 15] = [
    "alarm",
    "alarms",
    "camera",
    "cameras",
    "cctv",
    "surveillance",
    "security",
    "siren",
    "motion",
    "pir",
    "intrusion",
    "burglar",
    "contact",
    "contacts",
    "glassbreak",
];

/// Whether a text speaks of an alarm or a camera.
#[must_use]
pub(super) fn speaks_of_it(text: &str) -> bool {
    let text = folded(text).to_lowercase();
    let mut words = text.split(|character: char| !character.is_alphanumeric());
    words.any(|word| WORDS.contains(&word))
}

/// Whether an end on a position belongs to an alarm or a camera: by its medium, by the terminals that
/// it is on, or by what people say that cable, outlet, type or panel is for.
#[must_use]
pub fn is_guarded(registry: &Registry, position: Position, end: End) -> bool {
    let panel = registry.panels.get(position.panel);
    let make = panel.and_then(|panel| panel.make.get());
    if make.is_some_and(|make| make.connector == Connector::AlarmTerminal) {
        return true;
    }
    let cable = registry.cables.get(end.cable);
    let medium = cable.and_then(|cable| cable.medium.get());
    let by_medium = match medium.map(|medium| &medium.kind) {
        // Control cable of two pairs and more runs to keypads and shades as well. Better one row too
        // few than one too many.
        Some(Kind::Control(_)) => true,
        Some(Kind::Own(words)) => speaks_of_it(words),
        _ => false,
    };
    let outlet = cable.and_then(shown_outlet);
    let outlet = outlet.and_then(|outlet| registry.outlets.get(outlet));
    let kind = outlet.and_then(|outlet| outlet.kind.get());
    let kind = kind.map(|kind| names::outlet_kind(registry, *kind));
    let said = [
        cable.and_then(|cable| cable.purpose.get()),
        outlet.and_then(|outlet| outlet.purpose.get()),
        panel.and_then(|panel| panel.purpose.get()),
        kind.as_ref(),
    ];
    by_medium || said.into_iter().flatten().any(|text| speaks_of_it(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alarms_and_cameras_are_known_by_their_words() {
        for text in [
            "Camera, gable",
            "ALARM panel",
            "door contact",
            "PIR",
            "cctv 2",
        ] {
            assert!(speaks_of_it(text), "{text}");
        }
        for text in [
            "",
            "TV",
            "Desk",
            "for the contractor",
            "empire",
            "Motionless",
        ] {
            assert!(!speaks_of_it(text), "{text}");
        }
    }
}
