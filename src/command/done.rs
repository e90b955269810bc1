//! What was done, in a few words for the bar with the undo button.

use super::{Correction, Want};
use crate::domain::place::End;
use crate::domain::work::{MarkKind, PullOutcome, TestOutcome};
use crate::journal::Registry;
use crate::names;

/// Says what was done.
#[must_use]
pub fn done_words(want: &Want, registry: &Registry) -> String {
    let cable = |id| names::cable(registry, id);
    let outlet = |id| names::outlet(registry, id);
    let end = |end: &End| names::end(registry, *end);
    match want {
        Want::NameJob { name } => format!("The job is called {name}."),
        Want::AddUnit { name } | Want::AddFloor { name, .. } | Want::AddOutletType { name, .. } => {
            format!("{name} is added.")
        }
        Want::AddRoom { name, code, .. } => format!("{name} is added as {code}."),
        Want::SwapRooms { one, other } => format!(
            "{} and {} changed places.",
            names::room(registry, *one),
            names::room(registry, *other)
        ),
        Want::AddOutlet { room, .. } => {
            format!("An outlet is added in {}.", names::room(registry, *room))
        }
        Want::AddCable { outlet: at, .. } => format!("A cable is added at {}.", outlet(*at)),
        Want::AddTie { .. } => "A tie line is added.".to_owned(),
        Want::AddRack { name, .. } | Want::AddDevice { name, .. } | Want::AddJoint { name, .. } => {
            format!("{name} is added.")
        }
        Want::AddPanel { letters, .. } => format!("Panel {letters} is added."),
        Want::CancelOutlet { outlet: at, .. } => {
            format!("{} is cancelled with its cables.", outlet(*at))
        }
        Want::MoveOutlet { outlet: at, .. } => format!("The outlet is {} now.", outlet(*at)),
        Want::PlaceOutlet { outlet: at, .. }
        | Want::BoxOutlet { outlet: at, .. }
        | Want::SetOutletPurpose { outlet: at, .. }
        | Want::NoteOutlet { outlet: at, .. } => format!("Kept for {}.", outlet(*at)),
        Want::SetMedium { cable: id, .. }
        | Want::SetPurpose { cable: id, .. }
        | Want::KnowCableAs { cable: id, .. }
        | Want::NoteCable { cable: id, .. } => format!("Kept for {}.", cable(*id)),
        Want::RouteHome { cable: id, .. } => format!("{} is a home run.", cable(*id)),
        Want::RouteLocal { cable: id, from } => {
            format!("{} is a local run from {}.", cable(*id), outlet(*from))
        }
        Want::CancelCable { cable: id, .. } => format!("{} is cancelled.", cable(*id)),
        Want::RestoreCable { cable: id } => format!("{} is wanted again.", cable(*id)),
        Want::MarkEnds { ends, kind, .. } => {
            let how = match kind {
                MarkKind::Pen => "marked",
                MarkKind::Printed => "printed",
                MarkKind::Fixed => "tagged",
            };
            counted(ends.len(), "end", how)
        }
        Want::LoseTag { end: at } => format!("{} has no tag.", end(at)),
        Want::ReportPull { cables, outcome } => {
            let how = match outcome {
                PullOutcome::Pulled => "pulled",
                PullOutcome::Short => "short",
                PullOutcome::Stuck => "stuck",
                PullOutcome::Damaged => "damaged",
            };
            counted(cables.len(), "cable", how)
        }
        Want::ReadFootage { end: at, mark } => format!("{}: {mark}.", end(at)),
        Want::Land { end: at, place, .. } | Want::LandInstead { end: at, place, .. } => {
            format!(
                "{} is landed on {}.",
                cable(at.cable),
                names::place(registry, place)
            )
        }
        Want::LandAsPlanned { ends } => counted(ends.len(), "end", "landed"),
        Want::LandInPlate { outlet: at, jacks } => {
            format!(
                "{}: {}",
                outlet(*at),
                counted(jacks.len(), "jack", "terminated")
            )
        }
        Want::PlanEnd {
            end: at,
            place: Some(place),
        } => {
            format!(
                "{} belongs on {}.",
                cable(at.cable),
                names::place(registry, place)
            )
        }
        Want::PlanEnd {
            end: at,
            place: None,
        } => format!("{} has no place planned.", end(at)),
        Want::FillPanel { panel } => format!("{} is planned.", names::panel(registry, *panel)),
        Want::Lift { end: at } => format!("{} is not landed.", end(at)),
        Want::Spare { end: at, .. } => format!("{} is spare.", end(at)),
        Want::Dead { end: at, .. } => format!("{} is out of use.", end(at)),
        Want::SplitEnd { end: at, legs } => format!("{} has {} legs.", end(at), legs.get()),
        Want::TestCable { cable: id, test } => {
            let how = match test.outcome {
                TestOutcome::Passed => "passed",
                TestOutcome::Failed => "failed",
            };
            format!("{} {how}.", cable(*id))
        }
        Want::Uncross { a, b, how, .. } => {
            let what = match how {
                Correction::TagsMove => "tags are changed over",
                Correction::RecordChanges => "record is changed over",
            };
            format!("{} and {}: the {what}.", cable(*a), cable(*b))
        }
        Want::CameOutAt {
            cable: id,
            outlet: at,
            ..
        } => format!("{} is at {}.", cable(*id), outlet(*at)),
        Want::Repull { cable: id, .. } => format!(
            "{} is to be pulled anew; its old tags are void.",
            cable(*id)
        ),
        Want::Undo { .. } => "Taken back.".to_owned(),
        Want::KeepSaid { .. } => "Settled.".to_owned(),
        Want::TagsAnew { cable: id } => {
            format!(
                "{} is to be marked anew; its old tags come off.",
                cable(*id)
            )
        }
        _ => "Done.".to_owned(),
    }
}

fn counted(count: usize, thing: &str, how: &str) -> String {
    if count == 1 {
        format!("1 {thing} {how}.")
    } else {
        format!("{count} {thing}s {how}.")
    }
}
