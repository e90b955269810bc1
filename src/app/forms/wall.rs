//! What is typed and tapped at the wall, as wants.

use super::plan::room_part;
use super::{refuse_at, take};
use crate::app::{Action, Effect, Field, FootageOf, Model, Screen, World, update};
use crate::command::Want;
use crate::domain::ids::{CableId, OutletId, RackId, RoomId, ThingId};
use crate::domain::label::RoomCode;
use crate::domain::medium::{Kind, Medium};
use crate::domain::outlet_type::OutletKind;
use crate::domain::place::{End, Side};
use crate::domain::work::WaitsFor;
use crate::query::wall;

/// Length marks, one after the other.
mod footage;
/// Which row and which part of a screen is open.
mod parts;
/// The next text for the pen.
mod pen;
/// Slack, questions and change orders.
mod rough;
/// Where exactly an outlet is.
mod spot;

pub use footage::{footage_cable, footage_ends, read_mark};
pub use parts::{WallPart, open_part, open_row};
pub use pen::{PEN_COPIES, PenText, Wrote, pen_text};
pub use rough::{are_tags_new, is_chosen, with_tags};

/// A form at the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum WallForm {
    /// A new outlet of a kind.
    AddOutlet { room: RoomId, kind: OutletKind },
    /// Open or close a cable's row.
    OpenRow(CableId),
    /// Open or close a part of the screen of an outlet.
    OpenPart { outlet: OutletId, part: WallPart },
    /// The text on the screen was written with the pen, or is passed over.
    Pen {
        outlet: OutletId,
        place: usize,
        wrote: Wrote,
    },
    /// The length mark in the field.
    Footage { of: FootageOf, side: Side },
    /// There is no mark to read: go on to the next cable.
    PassFootage { of: FootageOf, side: Side },
    /// Where exactly an outlet is.
    Spot(OutletId),
    /// What an outlet is for.
    Purpose(OutletId),
    /// A remark on an outlet.
    NoteOutlet(OutletId),
    /// The cable coiled behind an outlet.
    Slack(OutletId),
    /// Whom an outlet waits for, with the question in the field.
    Waits { outlet: OutletId, whom: WaitsFor },
    /// The change order that an outlet came with.
    Order(OutletId),
    /// The change order that a cable came with.
    OrderCable(CableId),
    /// The box that a cable was drawn from.
    DrawnFrom(CableId),
    /// A cable is chosen to be split off its outlet, or is not after all.
    ChooseSplit(CableId),
    /// The chosen cables get an outlet of their own.
    SplitOff(OutletId),
    /// A further cable of an outlet.
    AddCable(OutletId),
    /// What a cable is made of.
    Medium(CableId),
    /// What a cable is for.
    CablePurpose(CableId),
    /// An old name of a cable.
    OldName(CableId),
    /// A remark on a cable.
    NoteCable(CableId),
    /// Something that needs a reason, with the one that was typed.
    Reason(Cause),
}

/// Something that needs a reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// A new pull.
    Repull(CableId),
    /// A cable taken out of the job.
    CancelCable(CableId),
    /// An outlet taken out of the job.
    CancelOutlet(OutletId),
    /// An end left coiled.
    Spare(End),
    /// An end out of use.
    Dead(End),
}

impl Cause {
    /// The want with its reason.
    #[must_use]
    pub fn want(self, reason: &str) -> Want {
        let reason = reason.to_owned();
        match self {
            Self::Repull(cable) => Want::Repull { cable, reason },
            Self::CancelCable(cable) => Want::CancelCable { cable, reason },
            Self::CancelOutlet(outlet) => Want::CancelOutlet { outlet, reason },
            Self::Spare(end) => Want::Spare {
                end,
                kept: "coiled in the box".to_owned(),
                reason,
            },
            Self::Dead(end) => Want::Dead { end, reason },
        }
    }
}

/// Sends a form of the wall.
pub(super) fn submit(model: &mut Model, form: WallForm, world: &impl World) -> Vec<Effect> {
    match form {
        WallForm::AddOutlet { room, kind } => add_outlet(model, room, kind, world),
        WallForm::OpenRow(cable) => parts::toggle_row(model, cable),
        WallForm::OpenPart { outlet, part } => parts::toggle_part(model, outlet, part),
        WallForm::Pen {
            outlet,
            place,
            wrote,
        } => pen::next(model, outlet, place, wrote, world),
        WallForm::Footage { of, side } => footage::take_mark(model, of, side, world),
        WallForm::PassFootage { of, side } => footage::pass(model, of, side, world),
        WallForm::Spot(outlet) => spot::take_spot(model, outlet, world),
        WallForm::Purpose(outlet) => {
            let purpose = model.fields.get(Field::OutletPurpose).trim().to_owned();
            let want = Want::SetOutletPurpose { outlet, purpose };
            take(model, want, &[Field::OutletPurpose], None, world)
        }
        WallForm::NoteOutlet(outlet) => {
            let note = text(model, Field::Note);
            let want = Want::NoteOutlet { outlet, note };
            take(model, want, &[Field::Note], None, world)
        }
        WallForm::Slack(outlet) => rough::take_slack(model, outlet, world),
        WallForm::Waits { outlet, whom } => rough::wait(model, outlet, whom, world),
        WallForm::Order(outlet) => {
            let order = text(model, Field::ChangeOrder);
            let want = Want::OrderOutlet { outlet, order };
            take(model, want, &[Field::ChangeOrder], None, world)
        }
        WallForm::OrderCable(cable) => {
            let order = text(model, Field::ChangeOrder);
            let want = Want::OrderCable { cable, order };
            take(model, want, &[Field::ChangeOrder], None, world)
        }
        WallForm::DrawnFrom(cable) => rough::draw(model, cable, world),
        WallForm::ChooseSplit(cable) => rough::choose(model, cable),
        WallForm::SplitOff(outlet) => {
            let cables = rough::chosen(model, outlet);
            let want = with_tags(model, Want::SplitOutlet { outlet, cables });
            take(model, want, &[Field::SplitOff], None, world)
        }
        WallForm::AddCable(outlet) => add_cable(model, outlet, world),
        WallForm::Medium(cable) => match medium(model) {
            Ok(medium) => {
                let fields = [Field::CableMedium, Field::CableOwnMedium];
                take(
                    model,
                    Want::SetMedium { cable, medium },
                    &fields,
                    None,
                    world,
                )
            }
            Err(refused) => refused,
        },
        WallForm::CablePurpose(cable) => {
            let purpose = text(model, Field::CablePurpose);
            let want = Want::SetPurpose { cable, purpose };
            take(model, want, &[Field::CablePurpose], None, world)
        }
        WallForm::OldName(cable) => {
            let name = text(model, Field::CableOldName);
            let want = Want::KnowCableAs { cable, name };
            take(model, want, &[Field::CableOldName], None, world)
        }
        WallForm::NoteCable(cable) => {
            let note = text(model, Field::Note);
            let want = Want::NoteCable { cable, note };
            take(model, want, &[Field::Note], None, world)
        }
        WallForm::Reason(cause) => {
            let want = cause.want(&text(model, Field::Reason));
            take(model, want, &[Field::Reason], None, world)
        }
    }
}

pub(super) fn text(model: &Model, field: Field) -> String {
    model.fields.get(field).trim().to_owned()
}

/// Keeps the proposed code beside the name and the unit of a new room, unless the person typed
/// another.
pub(in crate::app) fn room_is_described(model: &mut Model, field: Field, text: &str) {
    let proposal = |model: &Model| {
        let registry = model.registry()?;
        let (_, unit) = room_part(model);
        wall::proposed_code(registry, model.fields.get(Field::RoomName), unit)
    };
    let words = |code: Option<RoomCode>| code.map(|code| code.to_string()).unwrap_or_default();
    let before = words(proposal(model));
    model.fields.set(field, text);
    let code = model.fields.get(Field::RoomCode);
    if code.trim().is_empty() || code == before {
        let code = words(proposal(model));
        model.fields.set(Field::RoomCode, code);
    }
}

/// The rack that new cables run to: the one chosen in the field, else the most likely one.
fn rack(model: &Model) -> Option<RackId> {
    let registry = model.registry()?;
    let chosen: Option<ThingId> = model.fields.get(Field::OutletRack).parse().ok();
    let chosen = chosen.map(RackId::from);
    let racks = wall::racks(registry);
    chosen
        .filter(|rack| racks.iter().any(|known| known.id == *rack))
        .or_else(|| wall::default_rack(registry))
}

fn add_outlet(
    model: &mut Model,
    room: RoomId,
    kind: OutletKind,
    world: &impl World,
) -> Vec<Effect> {
    let want = Want::AddOutlet {
        room,
        kind,
        purpose: text(model, Field::OutletPurpose),
        rack: rack(model),
    };
    take(model, want, &[Field::OutletPurpose], None, world)
}

fn add_cable(model: &mut Model, outlet: OutletId, world: &impl World) -> Vec<Effect> {
    let medium = match medium(model) {
        Ok(medium) => medium,
        Err(refused) => return refused,
    };
    let want = Want::AddCable {
        outlet,
        medium,
        purpose: text(model, Field::CablePurpose),
        rack: rack(model),
    };
    let fields = [
        Field::CableMedium,
        Field::CableOwnMedium,
        Field::CablePurpose,
    ];
    take(model, want, &fields, None, world)
}

/// The value of the choice “something else” among the media.
pub const OWN_MEDIUM: &str = "own";

/// The medium in the fields; the first of the stock when nothing was chosen, as the list shows it. What comes of
/// the refusal, where it is not said.
pub(super) fn medium(model: &mut Model) -> Result<Medium, Vec<Effect>> {
    let key = model.fields.get(Field::CableMedium);
    if key == OWN_MEDIUM {
        let words = text(model, Field::CableOwnMedium);
        if words.is_empty() {
            let words = "Say in a few words what the cable is made of.";
            return Err(refuse_at(model, Field::CableOwnMedium, words));
        }
        return Ok(Medium::indoor(Kind::Own(words)));
    }
    let chosen = Medium::from_key(key).or_else(|| Medium::stock().into_iter().next());
    let words = "Choose what the cable is made of.";
    chosen.ok_or_else(|| refuse_at(model, Field::CableMedium, words))
}

/// Goes to a screen of the open job.
fn go(model: &mut Model, screen: Screen, world: &impl World) -> Vec<Effect> {
    update(model, Action::Go(screen), world)
}
