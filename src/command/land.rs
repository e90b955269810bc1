//! Where ends belong and where they are: planned, landed, lifted, spare, dead, split.

use super::check::empty;
use super::cord::refuse_secret;
use super::{Correction, Desk, Done, JackEnd, Refusal, Want, words};
use crate::domain::ids::PanelId;
use crate::domain::label::LegNumber;
use crate::domain::medium::{Connector, Fit, Sharing, fit};
use crate::domain::place::{End, Face, Fitting, Place, Placement, Position};
use crate::journal::{Draft, EndFact, EndOfPull, EndRecord, Fact, PanelMake, side_index};
use crate::names;

impl Desk<'_> {
    pub(super) fn land(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::PlanEnd { end, place } => self.plan_end(draft, *end, place.as_ref(), &[]),
            Want::PlanEnds { places } => self.plan_ends(draft, places),
            Want::FillPanel { panel } => self.fill_panel(draft, *panel),
            Want::Land {
                end,
                place,
                fitting,
            } => self.land_end(draft, *end, place, *fitting),
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
            Want::Lift { end } => self.lift(draft, *end),
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
            Want::Dead { end, reason } => words(reason, "The reason why this end is dead")
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
            Want::JoinLegs { end } => self.join_legs(draft, End::whole(end.cable, end.side)),
            _ => return None,
        })
    }

    fn place(&self, draft: &mut Draft, end: End, placement: Placement) -> Done {
        let of = self.end_of(end)?;
        self.refuse_part(end)?;
        draft.push(Fact::End(of, EndFact::Placed(placement)));
        Ok(())
    }

    /// What is recorded as landed, spare or dead may always be lifted, split or not: two people may
    /// have split and landed it at the same time.
    fn lift(&self, draft: &mut Draft, end: End) -> Done {
        let of = self.end_of(end)?;
        let record = self.end_record(end.cable, end.side);
        if !record.is_some_and(|record| is_settled(record, end.leg)) {
            self.refuse_part(end)?;
        }
        draft.push(Fact::End(of, EndFact::Placed(Placement::Lifted)));
        Ok(())
    }

    /// A whole end is spoken of as long as it is not split, and a leg when it is.
    pub(super) fn refuse_part(&self, end: End) -> Done {
        let record = self.end_record(end.cable, end.side);
        let legs = record.and_then(|record| record.split.get());
        let cable = names::cable(self.registry, end.cable);
        match (end.leg, legs) {
            (None, None) => Ok(()),
            (Some(leg), Some(legs)) if leg <= *legs => Ok(()),
            (None, Some(legs)) => Err(Refusal::new(format!(
                "{cable} is split into {} legs here. Choose a leg.",
                legs.get()
            ))),
            (Some(leg), Some(legs)) => Err(Refusal::new(format!(
                "{cable} has {} legs here; there is no leg {}.",
                legs.get(),
                leg.get()
            ))),
            (Some(_), None) => Err(Refusal::new(format!(
                "{cable} is not split here. Split it first, or land it as a whole."
            ))),
        }
    }

    /// What a panel is, if it is still there.
    pub(super) fn make_of(&self, panel: PanelId) -> Option<PanelMake> {
        self.registry.panels.get(panel)?.make.get().copied()
    }

    /// Checks that a place exists.
    pub(super) fn refuse_nowhere(&self, place: &Place) -> Done {
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
                Some(row) if !row.added.is_empty() => {
                    words(port, "The port").and_then(|_| refuse_secret(&[port], "the port"))
                }
                _ => gone("That device"),
            },
            Place::Joint { joint, way } => match self.registry.joints.get(*joint) {
                Some(row) if row.kind.get().is_some() && *way > 0 => Ok(()),
                _ => gone("That joint"),
            },
        }
    }

    /// Whether a place takes one end or more.
    pub(super) fn sharing(&self, place: &Place) -> Sharing {
        match place {
            Place::Position {
                position,
                face: Face::Rear,
            } => {
                // A withdrawn panel is still what it was.
                let row = self.registry.panels.get(position.panel);
                let make = row.and_then(|row| row.make.ever().last());
                make.map_or(Sharing::Single, |make| make.connector.sharing())
            }
            Place::Position { .. }
            | Place::Jack { .. }
            | Place::Device { .. }
            | Place::Joint { .. } => Sharing::Single,
        }
    }

    /// The ends that keep a place from taking another one.
    fn holders(&self, end: End, place: &Place) -> Vec<End> {
        match self.sharing(place) {
            Sharing::Shared => Vec::new(),
            Sharing::Single => {
                let landed = self.registry.index.landed.get(place).iter().copied();
                landed.filter(|other| *other != end).collect()
            }
        }
    }

    /// A second claim is refused, with who holds the place and since when.
    pub(super) fn refuse_taken(&self, end: End, place: &Place, fitting: Fitting) -> Done {
        let holders = self.holders(end, place);
        let Some(holder) = holders.first().copied() else {
            return self.refuse_corded(end, place, fitting);
        };
        let codes = holders.iter();
        let codes: Vec<String> = codes
            .map(|holder| names::end_code(self.registry, *holder))
            .collect();
        let (codes, is, since) = match codes.len() {
            1 => (codes.concat(), "is", self.landed_since(holder, place)),
            _ => (names::listed(&codes), "are", String::new()),
        };
        let here = names::place(self.registry, place);
        let mine = names::end_code(self.registry, end);
        let mut refusal = Refusal::new(format!(
            "{here} is taken: {codes} {is} landed there{since}."
        ))
        .or(
            format!(
                "{mine} is here, I see it{}. {codes} {is} not.",
                self.adapter_words(end, place, fitting)
            ),
            Want::LandInstead {
                end,
                place: place.clone(),
                fitting,
            },
        );
        let record = self.end_record(end.cable, end.side);
        let own = record.and_then(|record| record.placement.get(end.leg)?.get());
        if let Some(Placement::Landed { place: own, .. }) = own
            && own != place
            && holders.len() == 1
        {
            let own = names::place(self.registry, own);
            let how = Correction::RecordChanges;
            let ends = vec![end, holder];
            refusal = refusal.or(
                ["Swap the two: ", &codes, " is on ", &own].concat(),
                Want::Uncross { ends, how },
            );
        }
        Err(refusal)
    }

    /// What is said of an adapter, where one is needed.
    pub(super) fn adapter_words(&self, end: End, place: &Place, fitting: Fitting) -> &'static str {
        match self.fitting_here(end, place, fitting) {
            Fitting::Adapter => ", with an adapter",
            Fitting::Direct | Fitting::Plug => "",
        }
    }

    pub(super) fn landed_since(&self, end: End, place: &Place) -> String {
        let record = self.end_record(end.cable, end.side);
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

    /// What no way out could mend is checked first, so that every way out that is offered works.
    fn land_end(&self, draft: &mut Draft, end: End, place: &Place, fitting: Fitting) -> Done {
        self.end_of(end)?;
        self.refuse_nowhere(place)?;
        self.refuse_part(end)?;
        self.refuse_taken(end, place, fitting)?;
        let landed = |fitting| Placement::Landed {
            place: place.clone(),
            fitting,
        };
        let record = self.end_record(end.cable, end.side);
        let recorded = record.and_then(|record| record.placement.get(end.leg)?.get());
        if recorded == Some(&landed(Fitting::Adapter)) {
            // It has its adapter already, and is not asked about it again.
            return self.place(draft, end, landed(Fitting::Adapter));
        }
        self.refuse_misfit(end, place, fitting)?;
        self.place(draft, end, landed(fitting))
    }

    /// How an end sits where it is seen: what does not fit has an adapter.
    pub(super) fn fitting_here(&self, end: End, place: &Place, fitting: Fitting) -> Fitting {
        match self.refuse_misfit(end, place, fitting) {
            Ok(()) => fitting,
            Err(_) => Fitting::Adapter,
        }
    }

    /// Why a cable does not fit a connector; none where it does, or where nobody said what it is.
    pub(super) fn misfit(&self, end: End, connector: Connector) -> Option<&'static str> {
        let cable = self.registry.cables.get(end.cable)?;
        match fit(cable.medium.get()?, connector) {
            Fit::Fits => None,
            Fit::Misfit(reason) => Some(reason),
        }
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
        let (Some(connector), Some(medium), Fitting::Direct) = (connector, medium, fitting) else {
            return Ok(());
        };
        let Some(reason) = self.misfit(end, connector) else {
            return Ok(());
        };
        Err(Refusal::new(format!(
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
        ))
    }

    /// It is here, I see it: whoever was recorded here is not.
    fn land_instead(&self, draft: &mut Draft, end: End, place: &Place, fitting: Fitting) -> Done {
        self.refuse_nowhere(place)?;
        let own = self.meant(end).filter(|own| own != place);
        for cord in self.cords_in(place) {
            draft.push(Fact::PositionPatched(cord, None));
        }
        for holder in self.holders(end, place) {
            self.let_go(draft, holder, place);
            // Where the two were listed the other way round, the list follows what was seen: else both
            // would be said to belong where they are not.
            if let Some(own) = &own
                && self.meant(holder).as_ref() == Some(place)
            {
                let (of, other) = (self.end_of(end)?, self.end_of(holder)?);
                // What fits there alone belongs there; for the rest a place is to be chosen.
                let fits = self.refuse_misfit(holder, own, Fitting::Direct).is_ok();
                let own = Some(own.clone()).filter(|_| fits);
                draft.push(Fact::End(other, EndFact::Planned(own)));
                draft.push(Fact::End(of, EndFact::Planned(Some(place.clone()))));
            }
        }
        let landed = Placement::Landed {
            place: place.clone(),
            fitting: self.fitting_here(end, place, fitting),
        };
        self.place(draft, end, landed)
    }

    /// A holder is not here. Whoever said so of it says no more than that: where somebody else saw it
    /// elsewhere, it stays there.
    pub(super) fn let_go(&self, draft: &mut Draft, holder: End, place: &Place) {
        // A withdrawn cable too must let go of the place where another one is seen.
        let Some(row) = self.registry.cables.get(holder.cable) else {
            return;
        };
        let record = row.end(holder.cable, holder.side);
        let said = record.and_then(|record| record.placement.get(holder.leg));
        let is_here = |placement: &Placement| matches!(placement, Placement::Landed { place: at, .. } if at == place);
        let (here, elsewhere): (Vec<_>, Vec<_>) = said
            .into_iter()
            .flat_map(|said| said.all())
            .partition(|said| is_here(said.value));
        if elsewhere.is_empty() {
            let of = EndOfPull {
                end: holder,
                pull: row.pull(holder.cable),
            };
            draft.push(Fact::End(of, EndFact::Placed(Placement::Lifted)));
        } else {
            draft
                .also_replaces
                .extend(here.iter().map(|said| said.fact));
        }
    }

    fn land_as_planned(&self, draft: &mut Draft, end: End) -> Done {
        let Some(place) = self.meant(end) else {
            return Err(Refusal::new(format!(
                "{} has no position planned. Choose one first.",
                names::cable(self.registry, end.cable)
            )));
        };
        let is_there = |placement: &Placement| matches!(placement, Placement::Landed { place: at, .. } if *at == place);
        let record = self.end_record(end.cable, end.side);
        let landed = record.and_then(|record| record.placement.get(end.leg));
        if landed.is_some_and(|landed| {
            landed.all().all(|said| is_there(said.value)) && landed.get().is_some()
        }) {
            return Ok(());
        }
        self.land_end(draft, end, &place, Fitting::Direct)?;
        self.refuse_twice(draft, &place)
    }

    /// Two ends of one list may be meant for one place, where two people planned at the same time.
    fn refuse_twice(&self, draft: &Draft, place: &Place) -> Done {
        if self.sharing(place) == Sharing::Shared {
            return Ok(());
        }
        let mut here = draft.facts.iter().filter_map(|fact| match fact {
            Fact::End(of, EndFact::Placed(Placement::Landed { place: at, .. })) => {
                (at == place).then_some(of.end)
            }
            _ => None,
        });
        let first = here.next();
        let (Some(first), Some(second)) = (first, here.find(|end| Some(*end) != first)) else {
            return Ok(());
        };
        let [first, second] = [first, second].map(|end| names::cable(self.registry, end.cable));
        Err(Refusal::new(format!(
            "{first} and {second} are both meant for {}. Give one of them another place first.",
            names::place(self.registry, place)
        )))
    }

    /// Of the ends that get another place at the same time, none is in the way.
    pub(super) fn plan_end(
        &self,
        draft: &mut Draft,
        end: End,
        place: Option<&Place>,
        along: &[(End, Position)],
    ) -> Done {
        if let Some(place) = place {
            self.refuse_nowhere(place)?;
            self.refuse_part(end)?;
            let stays = |other: &End| along.iter().all(|(moved, _)| moved != other);
            let meant = self.meant_for(place).filter(stays);
            let mut taken = meant.chain(self.holders(end, place));
            let taken = taken.find(|other| *other != end);
            if let Some(other) = taken.filter(|_| self.sharing(place) == Sharing::Single) {
                let code = names::cable(self.registry, other.cable);
                let refusal = Refusal::new(format!(
                    "{} is meant for {code} already. Choose a free one, or give {code} another place first.",
                    names::place(self.registry, place),
                ));
                let own = self.meant(end);
                return Err(match (own.and_then(rear_of), rear_of(place.clone())) {
                    (Some(own), Some(at)) => refusal.or(
                        format!(
                            "Swap the two: {code} belongs on {}",
                            names::position(self.registry, own)
                        ),
                        Want::PlanEnds {
                            places: vec![(end, at), (other, own)],
                        },
                    ),
                    _ => refusal,
                });
            }
        }
        let of = self.end_of(end)?;
        draft.push(Fact::End(of, EndFact::Planned(place.cloned())));
        Ok(())
    }

    fn split(&self, draft: &mut Draft, end: End, legs: LegNumber) -> Done {
        if end.leg.is_some() || legs.get() < 2 {
            return Err(Refusal::new(
                "An end is split into two legs or more, and a leg is not split again.",
            ));
        }
        let of = self.end_of(end)?;
        let record = self.end_record(end.cable, end.side);
        if record.is_some_and(|record| is_settled(record, None)) {
            return Err(
                Refusal::new("This end is not free. Lift it before you split it.")
                    .or("Lift it", Want::Lift { end }),
            );
        }
        let before = format!("split this end into {} legs", legs.get());
        self.refuse_landed_leg(end, Some(legs), &before)?;
        draft.push(Fact::End(of, EndFact::Split(legs)));
        // Whoever lifts a leg meanwhile, because the end is not split, disagrees with this.
        let placed = record
            .into_iter()
            .flat_map(|record| record.placement.legs.iter());
        for (leg, placed) in placed.filter(|(leg, placed)| **leg <= legs && !placed.disputed()) {
            if let Some(landed @ Placement::Landed { .. }) = placed.get() {
                let end = End {
                    leg: Some(*leg),
                    ..end
                };
                let of = EndOfPull { end, ..of };
                draft.push(Fact::End(of, EndFact::Placed(landed.clone())));
            }
        }
        // Where the whole end belongs, its first leg does.
        let row = self.registry.cables.get(end.cable);
        let planned = row.map(|row| &row.planned[side_index(end.side)].whole);
        if let Some(Some(place)) = planned.and_then(|planned| planned.get()) {
            let leg = LegNumber::new(1);
            let of = EndOfPull {
                end: End { leg, ..end },
                ..of
            };
            draft.push(Fact::End(of, EndFact::Planned(Some(place.clone()))));
            draft.also_replaces.extend(
                planned
                    .into_iter()
                    .flat_map(|planned| planned.all())
                    .map(|said| said.fact),
            );
        }
        Ok(())
    }

    /// Marks and tests are the cable's and stay. Where its other legs belong, and that one is spare
    /// or dead, counts no more.
    fn join_legs(&self, draft: &mut Draft, end: End) -> Done {
        self.end_of(end)?;
        let record = self.end_record(end.cable, end.side);
        let record = record.filter(|record| record.split.get().is_some());
        let (Some(row), Some(record)) = (self.registry.cables.get(end.cable), record) else {
            return Err(Refusal::new("This end is not split, so it is one already."));
        };
        self.refuse_landed_leg(end, None, "join the legs")?;
        empty(draft, &record.split);
        for (_, placed) in record.placement.legs.iter() {
            empty(draft, placed);
        }
        let planned = &row.planned[side_index(end.side)];
        for (_, planned) in planned.legs.iter() {
            empty(draft, planned);
        }
        // Whoever lifts it meanwhile, because it is split, disagrees with this.
        let whole = &record.placement.whole;
        let settled = whole.get().filter(|_| !whole.disputed());
        if let Some(settled) = settled.filter(|placed| **placed != Placement::Lifted) {
            draft.push(Fact::End(
                self.end_of(end)?,
                EndFact::Placed(settled.clone()),
            ));
        }
        // Where the first leg belongs, the whole end does again.
        let first = LegNumber::new(1).and_then(|first| planned.legs.get(&first)?.get());
        if let (None, Some(Some(place))) = (planned.whole.get(), first) {
            let of = self.end_of(end)?;
            draft.push(Fact::End(of, EndFact::Planned(Some(place.clone()))));
        }
        Ok(())
    }

    /// A leg that is landed stays one; only those above a number are asked about.
    fn refuse_landed_leg(&self, end: End, above: Option<LegNumber>, before: &str) -> Done {
        let record = self.end_record(end.cable, end.side).into_iter();
        let mut landed = record.flat_map(|record| {
            let legs = record.placement.legs.keys().copied().map(Some);
            legs.filter(|leg| is_landed(record, *leg))
        });
        let Some(leg) = landed.find(|leg| *leg > above) else {
            return Ok(());
        };
        Err(Refusal::new(format!(
            "Leg {} is landed. Lift it before you {before}.",
            leg.map_or(0, LegNumber::get)
        ))
        .or(
            "Lift it",
            Want::Lift {
                end: End { leg, ..end },
            },
        ))
    }
}

/// The position of a place at the rear of one.
fn rear_of(place: Place) -> Option<Position> {
    match place {
        Place::Position {
            position,
            face: Face::Rear,
        } => Some(position),
        Place::Position { .. }
        | Place::Jack { .. }
        | Place::Device { .. }
        | Place::Joint { .. } => None,
    }
}

/// Whether an end or a leg is landed, spare or dead.
fn is_settled(record: &EndRecord, leg: Option<LegNumber>) -> bool {
    is_said(record, leg, |said| !matches!(said, Placement::Lifted))
}

fn is_landed(record: &EndRecord, leg: Option<LegNumber>) -> bool {
    is_said(record, leg, |said| matches!(said, Placement::Landed { .. }))
}

/// Whether anybody says such a thing of what became of an end or a leg.
fn is_said(record: &EndRecord, leg: Option<LegNumber>, such: fn(&Placement) -> bool) -> bool {
    let placed = record.placement.get(leg);
    placed.is_some_and(|placed| placed.all().any(|said| such(said.value)))
}
