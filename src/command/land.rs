//! Where ends belong and where they are: planned, landed, lifted, spare, dead, split.

use super::{Desk, Done, JackEnd, Refusal, Want, words};
use crate::domain::ids::PanelId;
use crate::domain::label::{LegNumber, PositionNumber};
use crate::domain::medium::{Connector, Fit, Sharing, fit};
use crate::domain::place::{End, Face, Fitting, Leaves, Place, Placement, Position, RunKind, Side};
use crate::domain::work::Availability;
use crate::journal::{Draft, EndFact, Fact, PanelMake, side_index};
use crate::names;
use crate::walk;

impl Desk<'_> {
    pub(super) fn land(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::PlanEnd { end, place } => self.plan_end(draft, *end, place.as_ref()),
            Want::FillPanel { panel } => self.fill_panel(draft, *panel),
            Want::Land {
                end,
                place,
                fitting,
            } => self
                .refuse_taken(*end, place, *fitting)
                .and_then(|()| self.land_end(draft, *end, place, *fitting)),
            Want::LandInstead {
                end,
                place,
                fitting,
            } => self.land_instead(draft, *end, place, *fitting),
            Want::LandAsPlanned { ends } => ends
                .iter()
                .try_for_each(|end| self.land_as_planned(draft, *end)),
            Want::LandInPlate { outlet, jacks } => {
                jacks.iter().try_for_each(|JackEnd { end, jack }| {
                    let place = Place::Jack {
                        outlet: *outlet,
                        jack: *jack,
                    };
                    self.refuse_taken(*end, &place, Fitting::Direct)
                        .and_then(|()| self.land_end(draft, *end, &place, Fitting::Direct))
                })
            }
            Want::Lift { end } => self.place(draft, *end, Placement::Lifted),
            Want::Spare { end, kept, reason } => {
                words(reason, "The reason why this end stays unused").and_then(|why| {
                    self.place(
                        draft,
                        *end,
                        Placement::Spare {
                            kept: kept.clone(),
                            reason: why.to_owned(),
                        },
                    )
                })
            }
            Want::Dead { end, reason } => words(reason, "The reason why this end is out of use")
                .and_then(|reason| {
                    self.place(
                        draft,
                        *end,
                        Placement::Dead {
                            reason: reason.to_owned(),
                        },
                    )
                }),
            Want::SplitEnd { end, legs } => self.split(draft, *end, *legs),
            _ => return None,
        })
    }

    fn place(&self, draft: &mut Draft, end: End, placement: Placement) -> Done {
        let of = self.end_of(end)?;
        draft.push(Fact::End(of, EndFact::Placed(placement)));
        Ok(())
    }

    /// What a panel is, if it is still there.
    fn make_of(&self, panel: PanelId) -> Option<PanelMake> {
        self.registry.panels.get(panel)?.make.get().copied()
    }

    /// Checks that a place exists.
    fn refuse_nowhere(&self, place: &Place) -> Done {
        let gone = |what: &str| {
            Err(Refusal::new(format!(
                "{what} is no longer in the job. Choose another place."
            )))
        };
        match place {
            Place::Position { position, .. } => match self.make_of(position.panel) {
                None => gone(&names::panel(self.registry, position.panel)),
                Some(make) if position.number.get() > make.positions.get() => {
                    Err(Refusal::new(format!(
                        "{} has {} positions; there is no number {}.",
                        names::panel(self.registry, position.panel),
                        make.positions.get(),
                        position.number.get()
                    )))
                }
                Some(_) => Ok(()),
            },
            Place::Jack { outlet, .. } => match self.registry.outlets.get(*outlet) {
                Some(row) if !row.added.is_empty() => Ok(()),
                _ => gone("That outlet"),
            },
            Place::Device { device, port } => match self.registry.devices.get(*device) {
                Some(row) if !row.added.is_empty() => words(port, "The port").map(|_| ()),
                _ => gone("That device"),
            },
            Place::Joint { joint, way } => match self.registry.joints.get(*joint) {
                Some(row) if row.kind.get().is_some() && *way > 0 => Ok(()),
                _ => gone("That joint"),
            },
        }
    }

    /// The ends that keep a place from taking another one.
    fn holders(&self, end: End, place: &Place) -> Vec<End> {
        let sharing = match place {
            Place::Position {
                position,
                face: Face::Rear,
            } => self
                .make_of(position.panel)
                .map_or(Sharing::Single, |make| make.connector.sharing()),
            Place::Position { .. }
            | Place::Jack { .. }
            | Place::Device { .. }
            | Place::Joint { .. } => Sharing::Single,
        };
        match sharing {
            Sharing::Shared => Vec::new(),
            Sharing::Single => {
                let landed = self.registry.index.landed.get(place).iter().copied();
                landed.filter(|other| *other != end).collect()
            }
        }
    }

    /// A second claim is refused, with who holds the place and since when.
    fn refuse_taken(&self, end: End, place: &Place, fitting: Fitting) -> Done {
        let Some(holder) = self.holders(end, place).first().copied() else {
            return Ok(());
        };
        let since = self.landed_since(holder, place);
        let here = names::place(self.registry, place);
        let holder_code = names::cable(self.registry, holder.cable);
        let mine = names::cable(self.registry, end.cable);
        Err(Refusal::new(format!(
            "{here} is taken: {holder_code} is landed there{since}."
        ))
        .or(
            format!("{mine} is here, I see it. {holder_code} goes back to not landed."),
            Want::LandInstead {
                end,
                place: place.clone(),
                fitting,
            },
        ))
    }

    fn landed_since(&self, end: End, place: &Place) -> String {
        let record = self
            .registry
            .cables
            .get(end.cable)
            .and_then(|cable| cable.end(end.cable, end.side));
        let placements = record.and_then(|record| record.placement.get(end.leg));
        let said = placements.and_then(|placements| {
            placements.all().find(
                |said| matches!(said.value, Placement::Landed { place: at, .. } if at == place),
            )
        });
        let act = said.and_then(|said| self.journal.act(said.stamp.act));
        act.map(|act| {
            let by = if act.by.is_empty() {
                String::new()
            } else {
                format!(" by {}", act.by)
            };
            format!(" since {}{by}", names::day(act.wall))
        })
        .unwrap_or_default()
    }

    fn land_end(&self, draft: &mut Draft, end: End, place: &Place, fitting: Fitting) -> Done {
        self.refuse_nowhere(place)?;
        self.refuse_misfit(end, place, fitting)?;
        let record = self
            .registry
            .cables
            .get(end.cable)
            .and_then(|cable| cable.end(end.cable, end.side));
        if let (None, Some(legs)) = (end.leg, record.and_then(|record| record.split.get())) {
            return Err(Refusal::new(format!(
                "{} is split into {} legs here. Land each leg by itself.",
                names::cable(self.registry, end.cable),
                legs.get()
            )));
        }
        self.place(
            draft,
            end,
            Placement::Landed {
                place: place.clone(),
                fitting,
            },
        )
    }

    fn refuse_misfit(&self, end: End, place: &Place, fitting: Fitting) -> Done {
        let Place::Position { position, .. } = place else {
            return Ok(());
        };
        let connector = self.make_of(position.panel).map(|make| make.connector);
        let medium = self
            .registry
            .cables
            .get(end.cable)
            .and_then(|cable| cable.medium.get());
        match (connector, medium, fitting) {
            (Some(connector), Some(medium), Fitting::Direct) => match fit(medium, connector) {
                Fit::Fits => Ok(()),
                Fit::Misfit(reason) => Err(Refusal::new(format!(
                    "{} is {medium}, and {} is {}: {reason}.",
                    names::cable(self.registry, end.cable),
                    names::place(self.registry, place),
                    connector.words()
                ))
                .or(
                    "Land it with an adapter",
                    Want::Land {
                        end,
                        place: place.clone(),
                        fitting: Fitting::Adapter,
                    },
                )),
            },
            _ => Ok(()),
        }
    }

    /// It is here, I see it: whoever was recorded here is not.
    fn land_instead(&self, draft: &mut Draft, end: End, place: &Place, fitting: Fitting) -> Done {
        for holder in self.holders(end, place) {
            self.place(draft, holder, Placement::Lifted)?;
        }
        let misfit = self.refuse_misfit(end, place, fitting).is_err();
        let fitting = if misfit { Fitting::Adapter } else { fitting };
        self.land_end(draft, end, place, fitting)
    }

    fn land_as_planned(&self, draft: &mut Draft, end: End) -> Done {
        let planned = self.registry.cables.get(end.cable);
        let planned = planned.and_then(|cable| cable.planned[side_index(end.side)].get(end.leg));
        let Some(place) = planned
            .and_then(|planned| planned.get())
            .and_then(Option::as_ref)
        else {
            return Err(Refusal::new(format!(
                "{} has no position planned. Choose one first.",
                names::cable(self.registry, end.cable)
            )));
        };
        self.refuse_taken(end, place, Fitting::Direct)?;
        self.land_end(draft, end, place, Fitting::Direct)
    }

    fn plan_end(&self, draft: &mut Draft, end: End, place: Option<&Place>) -> Done {
        if let Some(place) = place {
            self.refuse_nowhere(place)?;
            let planned = self.registry.index.planned.get(place).iter().copied();
            let taken = planned
                .chain(self.holders(end, place))
                .find(|other| *other != end);
            let shared = matches!(place, Place::Position { position, face: Face::Rear }
                if self.make_of(position.panel).is_some_and(|make| make.connector.sharing() == Sharing::Shared));
            if let Some(other) = taken.filter(|_| !shared) {
                return Err(Refusal::new(format!(
                    "{} is meant for {} already. Choose a free one, or give {} another place first.",
                    names::place(self.registry, place),
                    names::cable(self.registry, other.cable),
                    names::cable(self.registry, other.cable),
                )));
            }
        }
        let of = self.end_of(end)?;
        draft.push(Fact::End(of, EndFact::Planned(place.cloned())));
        Ok(())
    }

    /// Gives the free positions of a panel to the home runs that suit it and have none, in walking
    /// order, so that an outlet's cables lie side by side.
    fn fill_panel(&self, draft: &mut Draft, panel: PanelId) -> Done {
        let make = self
            .make_of(panel)
            .ok_or_else(|| Refusal::new("This panel is no longer in the job."))?;
        let rack = self
            .registry
            .panels
            .get(panel)
            .and_then(|row| row.rack.get())
            .copied();
        let mut free = (1..=make.positions.get())
            .filter_map(PositionNumber::new)
            .filter(|number| {
                let position = Position {
                    panel,
                    number: *number,
                };
                let place = Place::rear(position);
                let kept = self
                    .registry
                    .panels
                    .get(panel)
                    .and_then(|row| row.kept.get(number))
                    .and_then(|kept| kept.get());
                self.registry.index.landed.get(&place).is_empty()
                    && self.registry.index.planned.get(&place).is_empty()
                    && matches!(kept, None | Some(Availability::Open))
            });
        let mut any = false;
        for id in walk::cables(self.registry) {
            let Some(cable) = self.registry.cables.get(id) else {
                continue;
            };
            let end = End::whole(id, Side::Far);
            let to_rack = match cable.leaves.get() {
                Some(Leaves::Rack(Some(to))) => Some(*to) == rack,
                Some(Leaves::Rack(None)) | None => true,
                Some(Leaves::Outlet(_)) => false,
            };
            let unplaced = cable.planned[side_index(Side::Far)]
                .whole
                .get()
                .is_none_or(Option::is_none)
                && cable
                    .end(id, Side::Far)
                    .is_none_or(|record| record.placement.whole.get().is_none());
            let suits = cable
                .medium
                .get()
                .is_some_and(|medium| suits(make.connector, medium));
            if !(to_rack
                && unplaced
                && suits
                && names::run_kind(self.registry, id) == RunKind::HomeRun)
            {
                continue;
            }
            let Some(number) = free.next() else { break };
            let of = self.end_of(end)?;
            let place = Place::rear(Position { panel, number });
            draft.push(Fact::End(of, EndFact::Planned(Some(place))));
            any = true;
        }
        if any {
            return Ok(());
        }
        Err(Refusal::new(format!(
            "No cable without a position suits {}, or it has no free position left.",
            names::panel(self.registry, panel)
        )))
    }

    fn split(&self, draft: &mut Draft, end: End, legs: LegNumber) -> Done {
        if end.leg.is_some() || legs.get() < 2 {
            return Err(Refusal::new(
                "An end is split into two legs or more, and a leg is not split again.",
            ));
        }
        let record = self
            .registry
            .cables
            .get(end.cable)
            .and_then(|cable| cable.end(end.cable, end.side));
        let landed = record.and_then(|record| record.placement.whole.get());
        if matches!(landed, Some(Placement::Landed { .. })) {
            return Err(Refusal::new(
                "This end is landed as a whole. Lift it before you split it.",
            )
            .or("Lift it", Want::Lift { end }));
        }
        let of = self.end_of(end)?;
        draft.push(Fact::End(of, EndFact::Split(legs)));
        Ok(())
    }
}

fn suits(connector: Connector, medium: &crate::domain::medium::Medium) -> bool {
    fit(medium, connector) == Fit::Fits
}
