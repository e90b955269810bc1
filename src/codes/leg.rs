//! The code of one leg of a split end.

use std::fmt;

use crate::domain::label::{LabelCode, LegNumber};

/// One leg of a run whose end is split by conductor group: `KIT2-C.1`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LegCode {
    /// The run.
    pub label: LabelCode,
    /// The leg at its split end.
    pub leg: LegNumber,
}

impl fmt::Display for LegCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.label, self.leg.get())
    }
}

impl fmt::Debug for LegCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}
