//! The codes of outlets and runs.

use super::Registry;
use super::rows::Cable;
use crate::domain::ids::{CableId, OutletId};
use crate::domain::label::{LabelCode, OutletCode};
use crate::domain::place::RunName;
use crate::journal::fact::Mark;
use crate::journal::register::Said;

/// The code of a run as it stands now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CableCode {
    /// The text.
    pub text: String,
    /// Whether a mark has fixed it for ever.
    pub held: Hold,
}

/// Whether a code may still change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// It follows the outlet's number and the room's code.
    Follows,
    /// It stands on a cable or a tag.
    Frozen,
}

impl Registry {
    /// The code of an outlet; none while its room has none.
    #[must_use]
    pub fn outlet_code(&self, outlet: OutletId) -> Option<OutletCode> {
        let numbering = self.outlets.get(outlet)?.number.get()?;
        let room = *self.rooms.get(numbering.room)?.code.get()?;
        Some(OutletCode {
            room,
            number: numbering.number,
        })
    }

    /// The code that a name gives, apart from what is written on the cable.
    #[must_use]
    pub fn label_of(&self, name: RunName) -> Option<LabelCode> {
        match name {
            RunName::Feeds { outlet, letter } => Some(LabelCode::Run {
                outlet: self.outlet_code(outlet)?,
                letter,
            }),
            RunName::Ties { near, far, number } => {
                let space = |rack| self.racks.get(rack)?.space.get().copied();
                Some(LabelCode::Tie {
                    near: space(near)?,
                    far: space(far)?,
                    number,
                })
            }
        }
    }

    /// The first mark ever made on a run, on whatever copper: its text is the run's code for good.
    #[must_use]
    pub fn first_mark(cable: &Cable) -> Option<Said<'_, Mark>> {
        let ends = cable.copper.iter().flat_map(|(_, copper)| &copper.ends);
        ends.filter_map(|end| end.marks.iter().next())
            .min_by_key(|said| (said.stamp, said.fact))
    }

    /// The code of a run; none while neither a mark nor a room's code gives one.
    #[must_use]
    pub fn cable_code(&self, id: CableId) -> Option<CableCode> {
        let cable = self.cables.get(id)?;
        if let Some(mark) = Self::first_mark(cable) {
            return Some(CableCode {
                text: mark.value.text.clone(),
                held: Hold::Frozen,
            });
        }
        let text = self.label_of(*cable.name.get()?)?.to_string();
        Some(CableCode {
            text,
            held: Hold::Follows,
        })
    }
}
