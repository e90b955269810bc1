//! How an end at the wall stands, in a word and a shape.

use crate::domain::length::LengthUnit;
use crate::domain::work::{MarkKind, PullOutcome, Slack, WallBox};
use crate::query::printed::{Tag, Void};
use crate::query::proof::Proof;
use crate::query::wall::{EndHere, MarkState, OutletView, PullState, Settled};
use crate::ui::parts::Shape;

/// How a mark stands.
pub(in crate::ui) fn mark(state: MarkState) -> (Shape, &'static str) {
    match state {
        MarkState::No => (Shape::Hollow, "not marked"),
        MarkState::Lost => (Shape::Alarm, "tag lost"),
        MarkState::Printed => (Shape::Half, "tag printed, not on"),
        MarkState::Yes(MarkKind::Pen) => (Shape::Full, "marked"),
        MarkState::Yes(MarkKind::Printed) => (Shape::Half, "tag printed"),
        MarkState::Yes(MarkKind::Fixed) => (Shape::Full, "tagged"),
    }
}

/// What can be said of a pull, with the word on its button.
pub(in crate::ui) const OUTCOMES: [(PullOutcome, &str); 4] = [
    (PullOutcome::Pulled, "Pulled"),
    (PullOutcome::Short, "Too short"),
    (PullOutcome::Stuck, "Stuck"),
    (PullOutcome::Damaged, "Damaged"),
];

/// How a pull stands.
pub(in crate::ui) fn pull(state: PullState) -> (Shape, &'static str) {
    match state {
        PullState::No => (Shape::Hollow, "not pulled"),
        PullState::Pulled => (Shape::Full, "pulled"),
        PullState::Trouble(PullOutcome::Short) => (Shape::Alarm, "short"),
        PullState::Trouble(PullOutcome::Stuck) => (Shape::Alarm, "stuck"),
        PullState::Trouble(PullOutcome::Damaged) => (Shape::Alarm, "damaged"),
        PullState::Trouble(PullOutcome::Pulled) => (Shape::Full, "pulled"),
    }
}

/// What has become of an end.
pub(in crate::ui) fn settled(state: &Settled) -> (Shape, String) {
    match state {
        Settled::Open => (Shape::Hollow, "not terminated".to_owned()),
        Settled::Landed(at) => (Shape::Full, format!("terminated on {at}")),
        Settled::Spare(reason) => (Shape::Half, format!("spare: {reason}")),
        Settled::Dead(reason) => (Shape::Half, format!("dead: {reason}")),
    }
}

/// How far a cable is proved, each state for itself; nothing where nothing is known of it.
pub(in crate::ui) fn proofs(of: &[Proof]) -> impl Iterator<Item = (Shape, &'static str)> {
    of.iter().filter_map(|proof| {
        Some(match proof {
            Proof::No => return None,
            Proof::Seen => (Shape::Half, "seen, not verified"),
            Proof::Verified => (Shape::Full, "verified"),
            Proof::Moved(_) => (Shape::Half, "moved since it was verified: test it again"),
            Proof::Failed => (Shape::Alarm, "test failed"),
        })
    })
}

/// The one word that matters most about an end, for the plate.
pub(in crate::ui) fn in_short(end: &EndHere) -> &'static str {
    match (end.mark, end.pull, &end.here) {
        _ if end.disputed => "disputed",
        (MarkState::Lost, ..) => "tag lost",
        (_, PullState::Trouble(_), _) => pull(end.pull).1,
        (_, _, Settled::Spare(_)) => "spare",
        (_, _, Settled::Dead(_)) => "dead",
        (MarkState::No, ..) => "not marked",
        (MarkState::Printed, ..) => "tag not on",
        (_, _, Settled::Landed(_)) => "landed",
        (MarkState::Yes(_), _, Settled::Open) => mark(end.mark).1,
    }
}

/// A box in words.
pub(in crate::ui) fn wall_box(wall_box: WallBox) -> String {
    match wall_box {
        WallBox::Gangs(count) => format!("{count}-gang box"),
        WallBox::Ring => "low-voltage ring".to_owned(),
        WallBox::None => "no box".to_owned(),
    }
}

/// Where an outlet is, as far as anybody said: its box, wall, height and distance, and the sheet of the
/// plans that shows its floor.
pub(in crate::ui) fn exact_place(view: &OutletView, unit: LengthUnit) -> Vec<String> {
    let mut said: Vec<String> = view.wall_box.map(wall_box).into_iter().collect();
    if let Some(spot) = &view.spot {
        if !spot.wall.is_empty() {
            said.push(spot.wall.clone());
        }
        let height = spot.height;
        said.extend(height.map(|height| format!("{} above finished floor", height.in_words(unit))));
        said.extend(spot.offset.map(|offset| {
            let from = match spot.offset_from.as_str() {
                "" => "the nearest corner or jamb",
                from => from,
            };
            format!("{} from {from}", offset.in_words(unit))
        }));
    }
    if !view.sheet.is_empty() {
        said.push(format!("sheet {}", view.sheet));
    }
    said
}

/// The cable coiled behind an outlet, in words.
pub(in crate::ui) fn slack(slack: &Slack, unit: LengthUnit) -> String {
    let length = slack.length.map(|length| length.in_words(unit));
    let mut words = "slack".to_owned();
    for part in [length.as_deref().unwrap_or_default(), &slack.place] {
        if !part.is_empty() {
            words.push(' ');
            words.push_str(part);
        }
    }
    words
}

/// A change order in words; none for an empty one.
pub(in crate::ui) fn order(order: &str) -> Option<String> {
    (!order.is_empty()).then(|| format!("change order {order}"))
}

/// What is to be known of a printed tag beside that it is there: its sheet, and why it does not hold.
pub(in crate::ui) fn tag(tag: &Tag) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(sheet) = tag.sheet {
        said.push(format!("Printed on sheet {sheet}."));
    }
    if let Some(sheet) = tag.again {
        said.push(format!("It is on; sheet {sheet} has another one."));
    }
    match &tag.void {
        Some(Void::Repulled) => {
            said.push("Its tag is void: it hangs on the cable that was pulled before.".to_owned());
        }
        Some(Void::Recoded { text }) => {
            said.push(format!(
                "Its tag says {}; by its outlet it would be {text} by now.",
                tag.text
            ));
        }
        None => {}
    }
    said
}

/// The same of the tag of a place; nothing where none was printed.
pub(in crate::ui) fn place_tag(printed: &Tag) -> Vec<String> {
    let mut said = match printed.kind {
        Some(MarkKind::Fixed) => vec!["Its own tag is on.".to_owned()],
        Some(MarkKind::Printed) => {
            vec!["Its own tag is printed, and nobody said that it is on.".to_owned()]
        }
        Some(MarkKind::Pen) | None => Vec::new(),
    };
    said.extend(tag(printed));
    said
}
