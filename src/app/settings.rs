//! What this device keeps beside the jobs: who works with it, the unit of lengths, bright or dark,
//! and the cautions that were read. Where they are kept is left to the outside.

use super::{Effect, Model};
use crate::domain::length::LengthUnit;

/// Who works with this device. Initials are a claim, not proof.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Person {
    /// Initials.
    pub initials: String,
    /// What the device is called.
    pub device: String,
    /// What tells it from others as long as nobody named it.
    pub alias: String,
}

impl Person {
    /// How it is written down.
    #[must_use]
    pub fn signature(&self) -> String {
        match (self.initials.trim(), self.device.trim()) {
            ("", "") => self.alias.clone(),
            ("", device) => device.to_owned(),
            (initials, "") if self.alias.is_empty() => initials.to_owned(),
            (initials, "") => format!("{initials}, {}", self.alias),
            (initials, device) => format!("{initials}, {device}"),
        }
    }
}

/// What is shown once: the usual cautions of a phase of the work, and hints for whoever is new.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// Pulling and marking in open walls.
    Wall,
    /// Terminating at the rack.
    Rack,
    /// The first steps in the app.
    FirstSteps,
    /// What a scan says, and what it does not.
    Scan,
    /// What the punch list is for.
    Punch,
}

impl Caution {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Wall,
        Self::Rack,
        Self::FirstSteps,
        Self::Scan,
        Self::Punch,
    ];

    /// How it is kept.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Rack => "rack",
            Self::FirstSteps => "first",
            Self::Scan => "scan",
            Self::Punch => "punch",
        }
    }
}

/// Bright for daylight, dark for cellars.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark ink on white.
    #[default]
    Day,
    /// Light ink on black.
    Cellar,
}

impl Theme {
    /// How it is kept.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Cellar => "cellar",
        }
    }
}

/// Has a caution not shown again.
pub(super) fn caution_read(model: &mut Model, caution: Caution) -> Vec<Effect> {
    model.cautions_read.push(caution);
    let read: Vec<&str> = model
        .cautions_read
        .iter()
        .map(|caution| caution.key())
        .collect();
    vec![Effect::Keep {
        key: "cautions",
        value: read.join(" "),
    }]
}

/// Changes between bright and dark. What was done before is no longer what the bar can undo.
pub(super) fn set_theme(model: &mut Model, theme: Theme) -> Vec<Effect> {
    model.theme = theme;
    model.notice = None;
    vec![Effect::Keep {
        key: "theme",
        value: theme.key().to_owned(),
    }]
}

/// Has lengths typed in another unit; the bar is cleared here too.
pub(super) fn set_unit(model: &mut Model, unit: LengthUnit) -> Vec<Effect> {
    model.unit = unit;
    model.notice = None;
    let value = match unit {
        LengthUnit::Feet => "ft",
        LengthUnit::Metres => "m",
    };
    vec![Effect::Keep {
        key: "unit",
        value: value.to_owned(),
    }]
}
