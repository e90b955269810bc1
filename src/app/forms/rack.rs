//! The forms of the rack: what is landed where, and what a position or a tail is kept for.

use super::{refuse, refuse_at, take};
use crate::app::{Effect, Field, Fields, Model, Screen, World};
use crate::codes::tag::Tagged;
use crate::codes::typed::{Reading, read};
use crate::command::{Correction, Want};
use crate::domain::ids::{CableId, DeviceId, PanelId, RackId, ThingId};
use crate::domain::label::LegNumber;
use crate::domain::place::{End, Fitting, Place, Position, RunKind, RunName, Side};
use crate::domain::work::Availability;
use crate::journal::Registry;
use crate::query::plan;
use crate::query::propose::{Proposed, propose};
use crate::query::rack::{Slot, Stretch, listed, next_stretch, slots};
use crate::{names, walk};

mod place;

use place::patch_typed;
pub use place::place_typed;

/// Says in the list of devices that a patch cord goes to the front of another position.
pub const FRONT: &str = "front";

/// A form of the rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackForm {
    /// Give ends the positions that are proposed for them now.
    Accept(Accept),
    /// A cord from the front of a position is plugged into the device and port of the fields.
    Patch(Position),
    /// Land a stretch of positions as listed.
    LandStretch(PanelId),
    /// Land the cable whose code was typed.
    LandHere(Position),
    /// Number the tail at a position, whose cable nobody knows.
    NumberTail(Position),
    /// Number the tails on a stretch of positions.
    NumberTails(PanelId),
    /// Keep a position for something.
    Reserve(Position),
    /// Put a position out of use.
    Bad(Position),
    /// Land an end at the place that was typed.
    LandAt(End),
    /// Say that an end belongs at the place that was typed.
    PlanAt(End),
    /// An end was taken for that of the cable whose code was typed.
    Crossed(End, Correction),
    /// Divide an end into as many legs as were typed.
    Split(End),
    /// Leave an end coiled on purpose.
    Spare(End),
    /// Put an end out of use.
    Dead(End),
}

/// How much of the proposal is accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Accept {
    /// All of it.
    Whole,
    /// What it says of one panel.
    Panel(PanelId),
    /// What it says of one end.
    End(End),
}

impl Accept {
    fn takes(self, proposed: &Proposed) -> bool {
        match self {
            Self::Whole => true,
            Self::Panel(panel) => proposed.position.panel == panel,
            Self::End(end) => proposed.end == end,
        }
    }
}

/// The stretch that is landed next on a panel: as it was chosen, and what was not chosen as it
/// follows from the list; where nothing is listed, the panel from end to end. None when nothing is
/// chosen and nothing is listed.
#[must_use]
pub fn stretch(fields: &Fields, panel: PanelId, slots: &[Slot]) -> Option<Stretch> {
    let from = fields.position(Field::RangeFrom, panel);
    let to = fields.position(Field::RangeTo, panel);
    let next = |at: usize| next_stretch(slots.get(at..).unwrap_or_default());
    match (from, to) {
        (None, None) => next(0),
        (Some(from), None) => {
            let all = slots.last().filter(|_| next(0).is_none());
            let last = all.map_or(from, |slot| slot.position.number);
            let to = next(usize::from(from.get()) - 1).map_or(last, |next| next.to);
            Some(Stretch { from, to })
        }
        (from, Some(to)) => {
            let from = from.or_else(|| next(0).map(|next| next.from));
            let from = from.or_else(|| slots.first().map(|slot| slot.position.number));
            let from = from.unwrap_or(to);
            Some(Stretch {
                from: from.min(to),
                to: from.max(to),
            })
        }
    }
}

/// The stretch that a choice begins with: what is landed next, else the whole panel. None for a panel
/// without positions.
#[must_use]
pub fn shown_stretch(fields: &Fields, panel: PanelId, slots: &[Slot]) -> Option<Stretch> {
    stretch(fields, panel, slots).or_else(|| {
        Some(Stretch {
            from: slots.first()?.position.number,
            to: slots.last()?.position.number,
        })
    })
}

pub(super) fn submit(model: &mut Model, form: RackForm, world: &impl World) -> Vec<Effect> {
    match form {
        RackForm::Accept(part) => {
            let proposal = model.registry().map(propose).unwrap_or_default();
            let places = proposal.places.iter().filter(|one| part.takes(one));
            let places = places.map(|one| (one.end, one.position)).collect();
            take(model, Want::PlanEnds { places }, &[], None, world)
        }
        RackForm::Patch(position) => {
            let Some(registry) = model.registry() else {
                return Vec::new();
            };
            // What was not chosen is what the list shows first.
            let device = match model.fields.get(Field::PatchDevice) {
                FRONT => None,
                chosen => match chosen.parse::<ThingId>() {
                    Ok(device) => Some(DeviceId::from(device)),
                    Err(_) => plan::devices(registry).first().map(|device| device.id),
                },
            };
            let port = model.fields.get(Field::PatchPort);
            let to = match patch_typed(registry, device, port) {
                Ok(to) => Some(to),
                Err(words) => return refuse_at(model, Field::PatchPort, &words),
            };
            let fields = [Field::PatchPort];
            take(model, Want::Patch { position, to }, &fields, None, world)
        }
        RackForm::LandStretch(panel) => land_stretch(model, panel, world),
        RackForm::NumberTail(position) => {
            let note = model.fields.get(Field::LooseNote).trim().to_owned();
            let want = Want::NumberTails {
                panel: position.panel,
                stretch: [position.number; 2],
                note,
            };
            take(model, want, &[Field::LooseNote], None, world)
        }
        RackForm::NumberTails(panel) => {
            let Some(registry) = model.registry() else {
                return Vec::new();
            };
            let Some(shown) = shown_stretch(&model.fields, panel, &slots(registry, panel)) else {
                return Vec::new();
            };
            let want = Want::NumberTails {
                panel,
                stretch: [shown.from, shown.to],
                note: String::new(),
            };
            let fields = [Field::RangeFrom, Field::RangeTo];
            take(model, want, &fields, None, world)
        }
        RackForm::LandHere(position) => land_here(model, position, world),
        RackForm::Reserve(position) => keep(model, position, world, |reason| {
            Availability::Reserved { reason }
        }),
        RackForm::Bad(position) => keep(model, position, world, |reason| Availability::Bad {
            reason,
        }),
        RackForm::LandAt(end) | RackForm::PlanAt(end) => {
            let Some(registry) = model.registry() else {
                return Vec::new();
            };
            let typed = model.fields.get(Field::LandPosition);
            let place = match place_typed(registry, typed, end) {
                Ok(place) => place,
                Err(words) => return refuse_at(model, Field::LandPosition, &words),
            };
            let fields = [Field::LandPosition];
            if form == RackForm::PlanAt(end) {
                let place = Some(place);
                return take(model, Want::PlanEnd { end, place }, &fields, None, world);
            }
            let fitting = Fitting::Direct;
            let want = Want::Land {
                end,
                place,
                fitting,
            };
            // Whoever is at the rack takes the next cable; whoever is at a plate stays there.
            let then = match model.screen() {
                Some(Screen::Outlet(_)) => None,
                _ => Some(Screen::Hand),
            };
            take(model, want, &fields, then, world)
        }
        RackForm::Crossed(end, how) => crossed(model, end, how, world),
        RackForm::Split(end) => {
            let legs = model.fields.get(Field::Legs).trim().parse().ok();
            let Some(legs) = legs.and_then(LegNumber::new) else {
                return refuse_at(model, Field::Legs, "Write into how many legs, 2 to 16.");
            };
            // Of a leg the end is meant that it is a part of.
            let end = End::whole(end.cable, end.side);
            let want = Want::SplitEnd { end, legs };
            take(model, want, &[Field::Legs], None, world)
        }
        RackForm::Spare(end) => {
            let want = Want::Spare {
                end,
                kept: model.fields.get(Field::Kept).trim().to_owned(),
                reason: model.fields.get(Field::Reason).trim().to_owned(),
            };
            let fields = [Field::Reason, Field::Kept];
            take(model, want, &fields, Some(Screen::Hand), world)
        }
        RackForm::Dead(end) => {
            let reason = model.fields.get(Field::Reason).trim().to_owned();
            let want = Want::Dead { end, reason };
            take(model, want, &[Field::Reason], Some(Screen::Hand), world)
        }
    }
}

fn land_stretch(model: &mut Model, panel: PanelId, world: &impl World) -> Vec<Effect> {
    let Some(registry) = model.registry() else {
        return Vec::new();
    };
    let slots = slots(registry, panel);
    let ends = stretch(&model.fields, panel, &slots).map(|stretch| listed(&slots, stretch));
    match ends {
        Some(ends) if !ends.is_empty() => {
            let fields = [Field::RangeFrom, Field::RangeTo];
            take(model, Want::LandAsPlanned { ends }, &fields, None, world)
        }
        _ => refuse(
            model,
            "On these positions nothing is listed that is not landed yet. Choose others, or plan the panel first.",
        ),
    }
}

fn keep(
    model: &mut Model,
    position: Position,
    world: &impl World,
    as_what: impl FnOnce(String) -> Availability,
) -> Vec<Effect> {
    let reason = model.fields.get(Field::Reason).trim().to_owned();
    if reason.is_empty() {
        return refuse_at(
            model,
            Field::Reason,
            "Say in a few words why, so that the next one at the rack knows it.",
        );
    }
    let kept = as_what(reason);
    let want = Want::KeepPosition { position, kept };
    take(model, want, &[Field::Reason], None, world)
}

fn land_here(model: &mut Model, position: Position, world: &impl World) -> Vec<Effect> {
    let Some(registry) = model.registry() else {
        return Vec::new();
    };
    let rack = registry.panels.get(position.panel);
    let rack = rack.and_then(|panel| panel.rack.get()).copied();
    match end_of_typed(registry, model.fields.get(Field::LandCode), rack) {
        Ok(end) => {
            let want = Want::Land {
                end,
                place: Place::rear(position),
                fitting: Fitting::Direct,
            };
            take(model, want, &[Field::LandCode], None, world)
        }
        Err(words) => refuse_at(model, Field::LandCode, &words),
    }
}

fn crossed(model: &mut Model, end: End, how: Correction, world: &impl World) -> Vec<Effect> {
    let Some(registry) = model.registry() else {
        return Vec::new();
    };
    let name = registry
        .cables
        .get(end.cable)
        .and_then(|cable| cable.name.get());
    let rack = match (name, end.side) {
        (Some(RunName::Ties { near, .. }), Side::Near) => Some(*near),
        (Some(RunName::Ties { far, .. }), Side::Far) => Some(*far),
        (Some(RunName::Feeds { .. }) | None, _) => registry.home_rack(end.cable),
    };
    match end_of_typed(registry, model.fields.get(Field::LandCode), rack) {
        Ok(other) => {
            let want = Want::Uncross {
                ends: vec![end, other],
                how,
            };
            take(model, want, &[Field::LandCode], None, world)
        }
        Err(words) => refuse_at(model, Field::LandCode, &words),
    }
}

/// The end that a typed code means at a rack, or what is wrong with it.
fn end_of_typed(registry: &Registry, text: &str, rack: Option<RackId>) -> Result<End, String> {
    let text = text.trim();
    if text.is_empty() {
        return Err("Write the code that stands on the cable, such as KIT2-C.".to_owned());
    }
    let mut meant: Vec<(String, Option<LegNumber>)> = vec![(text.to_uppercase(), None)];
    for reading in read(text, None).readings {
        match reading {
            Reading::Tag(tag) => match tag.tagged {
                Tagged::Leg { code, .. } => meant.push((code.label.to_string(), Some(code.leg))),
                other => meant.push((other.code(), None)),
            },
            Reading::Run(label) => meant.push((label.to_string(), None)),
            Reading::Leg(leg) => meant.push((leg.label.to_string(), Some(leg.leg))),
            _ => {}
        }
    }
    let found = meant.into_iter().find_map(|(code, leg)| {
        let cables = registry.index.cables_by_code.get(&code);
        (!cables.is_empty()).then_some((code, leg, cables))
    });
    match found {
        None => Err(outlet_typed(registry, text).unwrap_or_else(|| {
            format!(
                "No cable of this job is called “{text}”. Look at its tag again, or look it up under Find."
            )
        })),
        Some((_, leg, [cable])) => end_at(registry, *cable, leg, rack),
        Some((code, ..)) => Err(format!(
            "More than one cable is called {code}. Settle that on the punch list first."
        )),
    }
}

/// What is said where an outlet was typed in the place of one of its cables.
fn outlet_typed(registry: &Registry, text: &str) -> Option<String> {
    let readings = read(text, None).readings.into_iter();
    let mut outlets = readings.filter_map(|reading| match reading {
        Reading::Outlet(code) => registry.index.outlets_by_code.get(&code).first().copied(),
        _ => None,
    });
    let outlet = outlets.next()?;
    let codes: Vec<String> = walk::fed(registry, outlet)
        .into_iter()
        .map(|cable| names::cable(registry, cable))
        .collect();
    let name = names::outlet(registry, outlet);
    (!codes.is_empty()).then(|| {
        format!(
            "{name} is an outlet. Write which of its cables it is: {}.",
            names::listed(&codes)
        )
    })
}

/// The end of a cable that comes out at a rack.
fn end_at(
    registry: &Registry,
    cable: CableId,
    leg: Option<LegNumber>,
    rack: Option<RackId>,
) -> Result<End, String> {
    if names::run_kind(registry, cable) == RunKind::LocalRun {
        return Err(format!(
            "{} is a local run from {} to {} and does not come to a rack. If it does, send it home first.",
            names::cable(registry, cable),
            names::side(registry, cable, Side::Far),
            names::side(registry, cable, Side::Near)
        ));
    }
    let name = registry
        .cables
        .get(cable)
        .and_then(|cable| cable.name.get());
    let side = match name {
        Some(RunName::Ties { near, .. }) if Some(*near) == rack => Side::Near,
        _ => Side::Far,
    };
    Ok(End { cable, side, leg })
}
