//! Giving the positions of a panel to the cables that suit it.

use super::{Desk, Done, Refusal};
use crate::domain::ids::{CableId, PanelId, RackId};
use crate::domain::label::PositionNumber;
use crate::domain::medium::{Fit, Sharing, fit};
use crate::domain::order::Order;
use crate::domain::place::{End, Place, Placement, Position, RunKind, Side};
use crate::domain::work::Availability;
use crate::journal::{Cable, Draft, EndFact, EndRecord, Fact, PanelMake, side_index};
use crate::names;
use crate::walk;

impl Desk<'_> {
    /// The ends that a place is kept for; what is cancelled or withdrawn keeps nothing.
    pub(super) fn meant_for(&self, place: &Place) -> impl Iterator<Item = End> {
        let planned = self.registry.index.planned.get(place).iter().copied();
        planned.filter(|end| {
            let cable = self.registry.cables.get(end.cable);
            cable.is_some_and(walk::is_wanted_cable)
        })
    }

    /// Gives the free positions of a panel to the home runs that suit it and have none, in walking
    /// order, so that an outlet's cables lie side by side.
    pub(super) fn fill_panel(&self, draft: &mut Draft, panel: PanelId) -> Done {
        let make = self
            .make_of(panel)
            .ok_or_else(|| Refusal::new("This panel is no longer in the job."))?;
        let rack = self.registry.panels.get(panel);
        let rack = rack.and_then(|row| row.rack.get()).copied();
        let cables = walk::cables(self.registry).into_iter();
        let cables = cables.filter(|id| self.wants_position(*id, make, rack));
        for (id, place) in cables.zip(self.free_places(panel, make)) {
            let of = self.end_of(End::whole(id, Side::Far))?;
            draft.push(Fact::End(of, EndFact::Planned(Some(place))));
        }
        if draft.is_empty() {
            return Err(Refusal::new(format!(
                "No cable without a position suits {}, or it has no free position left.",
                names::panel(self.registry, panel)
            )));
        }
        Ok(())
    }

    /// Gives several ends their positions. The list is of one moment: where another end has come to one
    /// of its positions since, or it names one twice, nothing is written.
    pub(super) fn plan_ends(&self, draft: &mut Draft, places: &[(End, Position)]) -> Done {
        let mut given: Vec<(Position, End)> = Vec::new();
        for (end, position) in places {
            self.plan_end(draft, *end, Some(&Place::rear(*position)), places)?;
            given.push((*position, *end));
        }
        given.put_in_order();
        let twice = given.windows(2).find(|pair| {
            let place = Place::rear(pair[0].0);
            pair[0].0 == pair[1].0 && self.sharing(&place) == Sharing::Single
        });
        if let Some([(position, one), (_, other)]) = twice {
            return Err(Refusal::new(format!(
                "{} and {} are both meant for {}. Give one of them another place first.",
                names::end_code(self.registry, *one),
                names::end_code(self.registry, *other),
                names::position(self.registry, *position),
            )));
        }
        Ok(())
    }

    /// The positions of a panel that nothing is landed at, meant for or kept for.
    fn free_places(&self, panel: PanelId, make: PanelMake) -> impl Iterator<Item = Place> {
        let numbers = (1..=make.positions.get()).filter_map(PositionNumber::new);
        numbers.filter_map(move |number| {
            let position = Position { panel, number };
            self.is_position_free(position)
                .then(|| Place::rear(position))
        })
    }

    /// Whether nothing is landed at a position, meant for it, or keeps it.
    pub(super) fn is_position_free(&self, position: Position) -> bool {
        let place = Place::rear(position);
        let row = self.registry.panels.get(position.panel);
        let kept = row.and_then(|row| row.kept.get(&position.number)?.get());
        self.registry.index.landed.get(&place).is_empty()
            && self.meant_for(&place).next().is_none()
            && matches!(kept, None | Some(Availability::Open))
    }

    /// Whether a cable is a home run to this rack that suits a panel and has no position yet.
    fn wants_position(&self, id: CableId, make: PanelMake, rack: Option<RackId>) -> bool {
        let Some(cable) = self.registry.cables.get(id) else {
            return false;
        };
        let to_rack = self
            .registry
            .home_rack(id)
            .is_none_or(|to| Some(to) == rack);
        let medium = cable.medium.get();
        let suits = medium.is_some_and(|medium| fit(medium, make.connector) == Fit::Fits);
        let home = names::run_kind(self.registry, id) == RunKind::HomeRun;
        to_rack && suits && home && is_unplaced(id, cable)
    }
}

fn is_unplaced(id: CableId, cable: &Cable) -> bool {
    let planned = cable.planned[side_index(Side::Far)].whole.get();
    planned.is_none_or(Option::is_none) && is_unsettled(cable.end(id, Side::Far))
}

/// Whether an end is whole, and nobody said what has become of it but that it was lifted.
pub(super) fn is_unsettled(record: Option<&EndRecord>) -> bool {
    record.is_none_or(|record| {
        let whole = record.placement.whole.get();
        record.split.get().is_none() && matches!(whole, None | Some(Placement::Lifted))
    })
}
