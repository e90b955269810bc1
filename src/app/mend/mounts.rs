//! What hangs where something else hangs, or outside of its rack.

use super::{Desk, Mending};
use crate::app::Screen;
use crate::command::Want;
use crate::domain::ids::RackId;
use crate::domain::mount::{Mount, Mountable, RackBuild, Units};
use crate::domain::place::Face;
use crate::journal::Hung;
use crate::names;

/// The screen that shows a rack.
pub(super) fn elevation(rack: RackId) -> Screen {
    let face = Face::Front;
    Screen::Elevation { rack, face }
}

impl Desk<'_> {
    pub(super) fn units_shared(&self, rack: RackId, face: Face, things: &[Mountable]) -> Mending {
        let name = |what: Mountable| names::mountable(self.registry, what);
        let called: Vec<String> = things.iter().map(|what| name(*what)).collect();
        let side = names::face(face);
        let mut mending = Mending::new(format!(
            "{} hang in each other's place at the {side} of {}.",
            names::listed(&called),
            names::rack(self.registry, rack)
        ));
        for hung in self.hung(rack, things) {
            if let Some(unit) = hung.unit {
                let units = names::units_from(unit, hung.height);
                mending = mending.because(format!("{} is said to be at {units}.", name(hung.what)));
            }
        }
        for hung in self.hung(rack, things) {
            let what = hung.what;
            mending = mending.or(format!("{} hangs elsewhere", name(what)), anew(&hung));
        }
        mending.or_go("See the rack", elevation(rack))
    }

    pub(super) fn outside_rack(&self, rack: RackId, thing: Mountable) -> Mending {
        let units = self.registry.rack_units(rack).map_or(0, Units::get);
        let name = names::mountable(self.registry, thing);
        let hung = self.hung(rack, &[thing]);
        let high = hung
            .first()
            .and_then(Hung::reach)
            .map_or(0, |(_, high)| high);
        let of = names::rack(self.registry, rack);
        let mut mending = Mending::new(if high > units && units > 0 {
            format!("{name} reaches to unit {high} of {of}, which has {units}.")
        } else {
            format!("{name} is said to be below the first unit of {of}.")
        });
        for hung in hung {
            mending = mending.or(format!("{name} hangs elsewhere"), anew(&hung));
        }
        if let Some(high) = Units::new(high) {
            let build = RackBuild::Units(high);
            let label = format!("The rack has {} units", high.get());
            mending = mending.or(label, Want::BuildRack { rack, build });
        }
        mending.or_go("See the rack", elevation(rack))
    }

    fn hung(&self, rack: RackId, things: &[Mountable]) -> Vec<Hung> {
        let mut hung = self.registry.hung_in(rack);
        hung.retain(|hung| things.contains(&hung.what));
        hung
    }
}

/// Hanging a thing where it is said to hang: what is in the way there is refused with the nearest
/// place that is free.
fn anew(hung: &Hung) -> Want {
    Want::Hang {
        what: hung.what,
        mount: Mount {
            rack: hung.rack,
            unit: hung.unit,
            height: hung.height,
            face: hung.face,
        },
    }
}
