//! Patch cords that are said to be where there is room for one.

use super::{Desk, Mending};
use crate::command::Want;
use crate::domain::place::{End, Fitting, Place, Position};
use crate::names;
use crate::query::deeds::who;

impl Desk<'_> {
    pub(super) fn patched_twice(&self, place: &Place, from: &[Position], ends: &[End]) -> Mending {
        let at = names::place(self.registry, place);
        let name = |position: &Position| names::position(self.registry, *position);
        let mut plugs: Vec<String> = Vec::new();
        plugs.extend(
            from.iter()
                .map(|position| format!("the cord of {}", name(position))),
        );
        plugs.extend(ends.iter().map(|end| self.name(end.cable)));
        let mut mending = Mending::new(format!(
            "{at} takes one, and is said to have {}.",
            names::listed(&plugs)
        ));
        for position in from {
            let said = self.registry.cord(*position);
            for said in said.into_iter().flat_map(|said| said.all()) {
                mending = mending.because(format!(
                    "The cord of {} was noted by {}.",
                    name(position),
                    who(self.journal, said.stamp.act)
                ));
            }
        }
        for position in from {
            let is_own = Place::front(*position) == *place;
            let to = if is_own {
                self.registry
                    .cord(*position)
                    .and_then(|cord| cord.get()?.clone())
            } else {
                Some(place.clone())
            };
            mending = mending.or(
                format!("The cord of {} is here, I see it", name(position)),
                Want::PatchInstead {
                    position: *position,
                    to: to.unwrap_or_else(|| place.clone()),
                },
            );
        }
        for end in ends {
            mending = mending.or(
                format!("{} is here, I see it", self.name(end.cable)),
                Want::LandInstead {
                    end: *end,
                    place: place.clone(),
                    fitting: Fitting::Direct,
                },
            );
        }
        for position in from {
            mending = mending.or(
                format!("The cord of {} is not plugged in", name(position)),
                Want::Patch {
                    position: *position,
                    to: None,
                },
            );
        }
        mending
    }
}
