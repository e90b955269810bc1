//! The text in a tag's QR code: `KIT2-C HM26K4XX`.
//!
//! The code comes first, since a stranger's camera shows nothing but the text. Then a space and
//! eight characters: five of the job's key, two of the *mark*, and one check character
//! ([`crate::codes::check`]) over everything before it.
//!
//! The mark is two characters of the 32 that ids use (no I, L, O, U). On a cable's tag it stands
//! for the pull ([`PullMark`]), so that after a re-pull the old tags can be told from the new.
//! On the tag of a place it names the kind of place and begins with Z: `ZW` an outlet in the
//! wall, `ZP` a panel, `ZS` a telecom space with its racks, `ZC` a conduit, `ZB` a box or spool that
//! cable is drawn from. No pull's mark begins with Z.
//!
//! Where the job sets a web address, the text follows it as two parts of a path:
//! `HTTPS://REGISTRY.EXAMPLE/KIT2-C/HM26K4XX`. The address is not checked by the check
//! character, so that the same tag reads the same behind any address.

mod fault;
mod marks;
mod read;
mod web;

use std::fmt;

pub use fault::TagFault;
pub use marks::{JobKey, PullMark};
pub use web::{BadAddress, WebAddress};

use super::check::check_character;
use super::leg::LegCode;
use crate::domain::label::{
    LabelCode, OutletCode, PanelLetters, SpaceCode, box_code, conduit_code,
};

/// What a tag hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tagged {
    /// Either end of a cable.
    Run {
        /// The run.
        code: LabelCode,
        /// The copper that the run had when the tag was made.
        pull: PullMark,
    },
    /// One leg of a split end.
    Leg {
        /// The leg.
        code: LegCode,
        /// The copper that the run had when the tag was made.
        pull: PullMark,
    },
    /// An outlet, inside its box or behind its plate.
    Outlet(OutletCode),
    /// A panel, terminal rail or punch block.
    Panel(PanelLetters),
    /// A telecom space and the racks in it.
    Space(SpaceCode),
    /// A conduit, by its number from 1.
    Conduit(u16),
    /// A box or spool that cable is drawn from, by its number from 1.
    Box(u16),
}

impl Tagged {
    /// The code as it stands at the head of the text.
    #[must_use]
    pub fn code(&self) -> String {
        match self {
            Self::Run { code, .. } => code.to_string(),
            Self::Leg { code, .. } => code.to_string(),
            Self::Outlet(code) => code.to_string(),
            Self::Panel(code) => code.to_string(),
            Self::Space(code) => code.to_string(),
            Self::Conduit(number) => conduit_code(*number),
            Self::Box(number) => box_code(*number),
        }
    }

    fn mark(&self) -> String {
        match self {
            Self::Run { pull, .. } | Self::Leg { pull, .. } => pull.to_string(),
            Self::Outlet(_) => marks::OUTLET.to_owned(),
            Self::Panel(_) => marks::PANEL.to_owned(),
            Self::Space(_) => marks::SPACE.to_owned(),
            Self::Conduit(_) => marks::CONDUIT.to_owned(),
            Self::Box(_) => marks::BOX.to_owned(),
        }
    }
}

/// The whole text of a tag. Printed by `Display`, read by [`TagText::read`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TagText {
    /// What it hangs on.
    pub tagged: Tagged,
    /// The job, so that a tag of the house next door is not taken for ours.
    pub job_key: JobKey,
}

impl TagText {
    /// Reads the text of a QR code, with or without a web address before it.
    ///
    /// # Errors
    /// When it is not a tag of this program, or is one that cannot be trusted as it stands.
    pub fn read(text: &str) -> Result<Self, TagFault> {
        read::read(text)
    }

    /// The text behind a web address.
    #[must_use]
    pub fn behind(&self, address: &WebAddress) -> String {
        format!("{address}{}/{}", self.tagged.code(), self.group())
    }

    /// The eight characters after the code.
    fn group(&self) -> String {
        let group = format!("{}{}", self.job_key, self.tagged.mark());
        let check = check_character(&format!("{}{group}", self.tagged.code()));
        debug_assert!(check.is_ok(), "codes and marks are letters and digits");
        format!("{group}{}", check.unwrap_or('0'))
    }
}

impl fmt::Display for TagText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.tagged.code(), self.group())
    }
}
