//! The words of closed lists, each list one table that is read both ways.

use crate::domain::length::LengthUnit;
use crate::domain::mount::BlockKind;
use crate::domain::place::{Face, Fitting, Side};
use crate::domain::work::{
    CoverCheck, JointKind, Lying, MarkKind, Pinout, PullOutcome, TestMethod, TestOutcome, WaitsFor,
};

/// A value that is stored as one word.
pub(super) trait Word: Copy + PartialEq + 'static {
    /// All values with their words.
    const WORDS: &'static [(Self, &'static str)];

    /// The word of this value.
    fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(value, _)| *value == self)
            .map_or("", |(_, word)| word)
    }

    /// The value of a word; none for a word of a newer version.
    fn value(word: &str) -> Option<Self> {
        Self::WORDS
            .iter()
            .find(|(_, known)| *known == word)
            .map(|(value, _)| *value)
    }
}

impl Word for Side {
    const WORDS: &'static [(Self, &'static str)] = &[(Self::Near, "near"), (Self::Far, "far")];
}

impl Word for Pinout {
    const WORDS: &'static [(Self, &'static str)] = &[(Self::A, "A"), (Self::B, "B")];
}

impl Word for PullOutcome {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Pulled, "pulled"),
        (Self::Short, "short"),
        (Self::Stuck, "stuck"),
        (Self::Damaged, "damaged"),
    ];
}

impl Word for WaitsFor {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Nobody, "nobody"),
        (Self::Hold, "hold"),
        (Self::Builder, "builder"),
        (Self::Client, "client"),
        (Self::Others, "others"),
    ];
}

impl Word for CoverCheck {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Counted, "counted"),
        (Self::Marked, "marked"),
        (Self::Photographed, "photographed"),
        (Self::Boxes, "boxes"),
        (Self::NailPlates, "nail-plates"),
        (Self::Slack, "slack"),
    ];
}

impl Word for MarkKind {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Pen, "pen"),
        (Self::Printed, "printed"),
        (Self::Fixed, "fixed"),
    ];
}

impl Word for Lying {
    const WORDS: &'static [(Self, &'static str)] = &[(Self::In, "in"), (Self::Out, "out")];
}

impl Word for TestMethod {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Toner, "toner"),
        (Self::WireMap, "wire-map"),
        (Self::Remote, "remote"),
        (Self::Continuity, "continuity"),
        (Self::Certification, "certification"),
    ];
}

impl Word for TestOutcome {
    const WORDS: &'static [(Self, &'static str)] =
        &[(Self::Passed, "passed"), (Self::Failed, "failed")];
}

impl Word for LengthUnit {
    const WORDS: &'static [(Self, &'static str)] = &[(Self::Feet, "ft"), (Self::Metres, "m")];
}

impl Word for JointKind {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Splice, "splice"),
        (Self::Barrel, "barrel"),
        (Self::Splitter, "splitter"),
        (Self::SurgeArrester, "surge-arrester"),
    ];
}

impl Word for BlockKind {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Blank, "blank"),
        (Self::Shelf, "shelf"),
        (Self::CableGuide, "cable-guide"),
    ];
}

impl Word for Face {
    const WORDS: &'static [(Self, &'static str)] = &[(Self::Front, "front"), (Self::Rear, "rear")];
}

impl Word for Fitting {
    const WORDS: &'static [(Self, &'static str)] = &[
        (Self::Direct, "direct"),
        (Self::Adapter, "adapter"),
        (Self::Plug, "plug"),
    ];
}

/// Reads a whole number that is written the one way it can be written.
pub(super) fn whole_number<N: std::str::FromStr>(text: &str) -> Option<N> {
    let plain = text == "0" || text.starts_with(|c: char| ('1'..='9').contains(&c));
    if plain { text.parse().ok() } else { None }
}
