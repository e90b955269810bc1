//! Which row and which part of a screen is open. It stands in the fields like everything that
//! lasts only while a screen is looked at.

use super::OWN_MEDIUM;
use crate::app::{Effect, Field, Model};
use crate::domain::ids::{CableId, OutletId, ThingId};
use crate::domain::medium::Kind;
use crate::query::wall;

/// A part of the screen of an outlet that opens with a tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallPart {
    /// The cable was taken for another one.
    Crossed,
    /// It came out at another outlet.
    Elsewhere,
    /// It is pulled anew.
    Repull,
    /// Its end stays coiled.
    Spare,
    /// Its end is out of use.
    Dead,
    /// It is taken out of the job.
    CancelCable,
    /// What it is made of and for.
    Made,
    /// Where it leaves: another outlet, or a rack.
    Local,
    /// An old name.
    OldName,
    /// A remark on the cable.
    NoteCable,
    /// Where exactly the outlet is.
    Spot,
    /// What the outlet is for.
    Purpose,
    /// A further cable.
    AddCable,
    /// The outlet moved.
    Moved,
    /// The outlet is taken out of the job.
    CancelOutlet,
    /// A remark on the outlet.
    NoteOutlet,
    /// The cable coiled behind the outlet.
    Slack,
    /// Whom the outlet waits for.
    Waits,
    /// The change order of the outlet.
    Order,
    /// The change order of the cable alone.
    OrderCable,
    /// Another outlet gets its cables.
    Merge,
    /// Some of its cables get an outlet of their own.
    SplitOff,
    /// The cable was drawn from another box than recorded.
    DrawnFrom,
    /// The cable lies in one jacket with another.
    Jacket,
}

/// All parts with their word in the field.
const PARTS: [(WallPart, &str); 24] = [
    (WallPart::Crossed, "crossed"),
    (WallPart::Elsewhere, "elsewhere"),
    (WallPart::Repull, "repull"),
    (WallPart::Spare, "spare"),
    (WallPart::Dead, "dead"),
    (WallPart::CancelCable, "cancel-cable"),
    (WallPart::Made, "made"),
    (WallPart::Local, "local"),
    (WallPart::OldName, "old-name"),
    (WallPart::NoteCable, "note-cable"),
    (WallPart::Spot, "spot"),
    (WallPart::Purpose, "purpose"),
    (WallPart::AddCable, "add-cable"),
    (WallPart::Moved, "moved"),
    (WallPart::CancelOutlet, "cancel-outlet"),
    (WallPart::NoteOutlet, "note-outlet"),
    (WallPart::Slack, "slack"),
    (WallPart::Waits, "waits"),
    (WallPart::Order, "order"),
    (WallPart::OrderCable, "order-cable"),
    (WallPart::Merge, "merge"),
    (WallPart::SplitOff, "split-off"),
    (WallPart::DrawnFrom, "drawn-from"),
    (WallPart::Jacket, "jacket"),
];

impl WallPart {
    fn word(self) -> &'static str {
        let found = PARTS.iter().find(|(part, _)| *part == self);
        found.map_or("", |(_, word)| word)
    }
}

/// The part that is open.
#[must_use]
pub fn open_part(model: &Model) -> Option<WallPart> {
    let word = model.fields.get(Field::OpenPart);
    let found = PARTS.iter().find(|(_, known)| *known == word);
    found.map(|(part, _)| *part)
}

/// The cable whose row is open.
#[must_use]
pub fn open_row(model: &Model) -> Option<CableId> {
    let id: Option<ThingId> = model.fields.get(Field::OpenRow).parse().ok();
    id.map(CableId::from)
}

/// Opens a row, or closes it when it is open.
pub(super) fn toggle_row(model: &mut Model, cable: CableId) -> Vec<Effect> {
    let was = open_row(model);
    model.fields.clear(&[Field::OpenRow, Field::OpenPart]);
    if was != Some(cable) {
        model.fields.set(Field::OpenRow, cable.0.to_string());
    }
    Vec::new()
}

/// Opens a part with what is known standing in its fields, or closes it when it is open.
pub(super) fn toggle_part(model: &mut Model, outlet: OutletId, part: WallPart) -> Vec<Effect> {
    let was = open_part(model);
    model.fields.clear(&[Field::OpenPart]);
    if was != Some(part) {
        model.fields.set(Field::OpenPart, part.word());
        model.page = 0;
        fill(model, outlet, part);
    }
    Vec::new()
}

fn fill(model: &mut Model, outlet: OutletId, part: WallPart) {
    let row = open_row(model);
    let view = model
        .registry()
        .and_then(|registry| wall::outlet(registry, outlet));
    let Some(view) = view else {
        return;
    };
    match part {
        WallPart::Spot => super::spot::fill(model, view.spot.unwrap_or_default()),
        WallPart::Purpose => model.fields.set(Field::OutletPurpose, view.purpose),
        WallPart::Slack => super::rough::fill_slack(model, view.slack.unwrap_or_default()),
        WallPart::Waits => {
            let words = view.waits.map(|waits| waits.words);
            model.fields.set(Field::Question, words.unwrap_or_default());
        }
        WallPart::Order => model.fields.set(Field::ChangeOrder, view.order),
        WallPart::Made | WallPart::OrderCable | WallPart::DrawnFrom => {
            let end = view.ends.into_iter().find(|end| Some(end.end.cable) == row);
            let Some(end) = end else {
                return;
            };
            model.fields.set(Field::ChangeOrder, end.order);
            let number = end.drawn_from.map(|number| number.to_string());
            model
                .fields
                .set(Field::CableFrom, number.unwrap_or_default());
            model.fields.set(Field::CablePurpose, end.purpose);
            model.fields.clear(&[Field::CableOwnMedium]);
            if let Some(medium) = end.medium {
                match &medium.kind {
                    Kind::Own(words) => {
                        model.fields.set(Field::CableMedium, OWN_MEDIUM);
                        model.fields.set(Field::CableOwnMedium, words.clone());
                    }
                    _ => model.fields.set(Field::CableMedium, medium.key()),
                }
            }
        }
        WallPart::AddCable => model.fields.clear(&[Field::CablePurpose]),
        WallPart::SplitOff => model.fields.clear(&[Field::SplitOff]),
        WallPart::Crossed
        | WallPart::Elsewhere
        | WallPart::Repull
        | WallPart::Spare
        | WallPart::Dead
        | WallPart::CancelCable
        | WallPart::Jacket
        | WallPart::Local
        | WallPart::OldName
        | WallPart::NoteCable
        | WallPart::Moved
        | WallPart::Merge
        | WallPart::CancelOutlet
        | WallPart::NoteOutlet => {}
    }
}
