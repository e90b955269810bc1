//! The kinds of outlet and the cables that each gets.

use super::ids::OutletTypeId;
use super::label::Letter;
use super::medium::{Kind, Medium};

/// One cable that an outlet of some type gets.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlannedCable {
    /// The letter that this cable always has at such an outlet; none: the next free one.
    pub letter: Option<Letter>,
    /// What it is made of.
    pub medium: Medium,
    /// What it is for, in words.
    pub purpose: String,
}

/// An outlet type: one of the usual ones, by its key, or one of the job's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OutletKind {
    /// A usual one.
    Usual(&'static str),
    /// The job's own.
    Own(OutletTypeId),
}

impl OutletKind {
    /// The usual type with a key; none for a key of a newer version.
    #[must_use]
    pub fn usual(key: &str) -> Option<Self> {
        UsualType::all()
            .iter()
            .find(|usual| usual.key == key)
            .map(|usual| Self::Usual(usual.key))
    }
}

/// A usual outlet type. Common practice, no source: the cables are a start that every job amends.
pub struct UsualType {
    /// The key in files.
    pub key: &'static str,
    /// The words on screen.
    pub words: &'static str,
    /// The cables as letter (`-`: the next free one), medium key and purpose.
    cables: &'static [(char, &'static str, &'static str)],
}

const USUAL: &[UsualType] = &[
    usual(
        "tv",
        "TV",
        &[
            ('A', "cat6-ftp", "Shielded data"),
            ('B', "cat6-utp", "Data"),
            ('C', "cat6-utp", "Data"),
            ('D', "rg6", "Coax"),
        ],
    ),
    usual(
        "data",
        "Data",
        &[('A', "cat6-utp", "Data"), ('B', "cat6-utp", "Data")],
    ),
    usual(
        "access-point",
        "Access point",
        &[('A', "cat6a-ftp", "Access point")],
    ),
    usual("camera", "Camera", &[('A', "cat6-utp", "Camera")]),
    usual("keypad", "Keypad", &[('-', "cat6-utp", "Keypad")]),
    usual(
        "touch-panel",
        "Touch panel",
        &[('-', "cat6-utp", "Touch panel")],
    ),
    usual(
        "speaker-pair",
        "Speaker pair",
        &[('-', "speaker-16-4", "Speakers")],
    ),
    usual(
        "volume-control",
        "Volume control",
        &[
            ('-', "speaker-16-4", "From amplifier"),
            ('-', "cat6-utp", "Control"),
        ],
    ),
    usual(
        "surround",
        "Surround",
        &[
            ('-', "speaker-14-2", "Left"),
            ('-', "speaker-14-2", "Centre"),
            ('-', "speaker-14-2", "Right"),
            ('-', "speaker-16-4", "Rear pair"),
        ],
    ),
    usual("subwoofer", "Subwoofer", &[('D', "rg6", "Subwoofer")]),
    usual(
        "projector",
        "Projector and screen",
        &[
            ('A', "cat6-ftp", "Picture"),
            ('B', "cat6-utp", "Control"),
            ('-', "control-18-4", "Screen motor"),
        ],
    ),
    usual(
        "door-station",
        "Door station and strike",
        &[
            ('A', "cat6-utp", "Door station"),
            ('-', "control-18-2", "Strike"),
        ],
    ),
    usual(
        "shade",
        "Shade",
        &[
            ('-', "shade-power", "Shade power"),
            ('-', "shade-data", "Shade data"),
        ],
    ),
    usual(
        "thermostat",
        "Thermostat",
        &[('-', "control-18-8", "Thermostat")],
    ),
    usual("contact", "Contact", &[('-', "control-22-2", "Contact")]),
    usual("motion", "Motion", &[('-', "control-22-4", "Motion")]),
    usual(
        "gate",
        "Gate",
        &[
            ('A', "burial+cat6-utp", "Gate station"),
            ('-', "control-18-4", "Gate control"),
        ],
    ),
    usual(
        "landscape",
        "Landscape",
        &[('-', "burial+speaker-14-2", "Landscape speakers")],
    ),
    usual(
        "demarcation",
        "Demarcation",
        &[
            ('A', "cat6-utp", "Line in"),
            ('D', "rg6", "Cable in"),
            ('-', "fibre-2", "Fibre in"),
        ],
    ),
    usual(
        "sources",
        "Sources",
        &[
            ('A', "cat6-ftp", "Source"),
            ('B', "cat6-ftp", "Source"),
            ('D', "rg6", "Antenna"),
        ],
    ),
];

const fn usual(
    key: &'static str,
    words: &'static str,
    cables: &'static [(char, &'static str, &'static str)],
) -> UsualType {
    UsualType { key, words, cables }
}

impl UsualType {
    /// All of them, in the order in which a list offers them.
    #[must_use]
    pub fn all() -> &'static [Self] {
        USUAL
    }

    /// The type with a key.
    #[must_use]
    pub fn get(key: &str) -> Option<&'static Self> {
        USUAL.iter().find(|usual| usual.key == key)
    }

    /// The cables that an outlet of this type gets.
    #[must_use]
    pub fn cables(&self) -> Vec<PlannedCable> {
        let planned = |(letter, medium, purpose): &(char, &str, &str)| PlannedCable {
            letter: Letter::new(*letter),
            medium: Medium::from_key(medium)
                .unwrap_or_else(|| Medium::indoor(Kind::Own((*medium).to_owned()))),
            purpose: (*purpose).to_owned(),
        };
        self.cables.iter().map(planned).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_usual_type_is_made_of_known_media() {
        assert_eq!(USUAL.len(), 20);
        for usual in USUAL {
            for cable in usual.cables() {
                assert!(
                    !matches!(cable.medium.kind, Kind::Own(_)),
                    "{}: {}",
                    usual.key,
                    cable.medium
                );
            }
            assert_eq!(
                OutletKind::usual(usual.key),
                Some(OutletKind::Usual(usual.key))
            );
        }
    }
}
