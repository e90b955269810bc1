//! What a text says by itself, to somebody without its job.

use super::{Scanned, hidden_in, plain, shown};
use crate::codes::tag::{TagFault, TagText, Tagged};
use crate::codes::typed::{self, Reading, Typed};
use crate::domain::label::LabelCode;

/// What a tag says by itself: one sentence a line.
#[must_use]
pub fn alone(tag: &TagText) -> Vec<String> {
    let hangs = matches!(tag.tagged, Tagged::Run { .. } | Tagged::Leg { .. });
    let verb = if hangs { "It hangs on " } else { "It is " };
    let reading = match tag.tagged {
        Tagged::Run { code, .. } => Reading::Run(code),
        Tagged::Leg { code, .. } => Reading::Leg(code),
        Tagged::Outlet(code) => Reading::Outlet(code),
        Tagged::Panel(letters) => Reading::Panel(letters),
        Tagged::Space(space) => Reading::Space(space),
        Tagged::Conduit(number) => Reading::Conduit(number),
        Tagged::Box(number) => Reading::Box(number),
    };
    let what = named(&reading).unwrap_or_default();
    vec![
        [verb, &what, "."].concat(),
        format!("It is of a job whose tags carry {}.", tag.job_key),
    ]
}

/// Reads what a camera read or a person typed while no job is open.
#[must_use]
pub fn read_alone(text: &str) -> Scanned {
    let text = text.trim();
    let typed = typed::read(&plain(text), None);
    let tag = meant(TagText::read(text), &typed);
    let mut scanned = Scanned {
        shown: shown(text),
        ..Scanned::default()
    };
    let fault = match tag {
        Ok(tag) => {
            scanned.shown = tag.tagged.code();
            scanned.said = alone(&tag);
            scanned.said.extend(hidden_in(text));
            scanned.other_job = Some(tag.job_key);
            scanned.wants_job = true;
            return scanned;
        }
        Err(fault) => fault,
    };
    let named = typed.readings.iter().find_map(named);
    let is_odd = matches!(fault, TagFault::Odd { .. } | TagFault::Empty);
    let named = named.filter(|_| !is_odd);
    scanned.wants_job = named.is_some();
    if !scanned.wants_job || matches!(fault, TagFault::CheckWrong { .. }) {
        scanned.said.push(fault.to_string());
    }
    if let Some(named) = named {
        scanned
            .said
            .push(["By its form it names ", &named, "."].concat());
    }
    scanned
}

/// The tag that a text is, read strictly or as people type it.
pub(super) fn meant(strict: Result<TagText, TagFault>, typed: &Typed) -> Result<TagText, TagFault> {
    strict.or_else(|fault| match typed.readings.first() {
        Some(Reading::Tag(tag)) => Ok(*tag),
        _ => Err(fault),
    })
}

/// What a reading names, in words; none of mere words.
fn named(reading: &Reading) -> Option<String> {
    let run = |code: &LabelCode| match code {
        LabelCode::Run { outlet, letter } => format!(
            "cable {letter} of outlet {} in the room {}",
            outlet.number.get(),
            outlet.room
        ),
        LabelCode::Tie { near, far, number } => {
            format!("cable {number} between the racks in {near} and {far}")
        }
    };
    Some(match reading {
        Reading::Tag(_) | Reading::Words(_) => return None,
        Reading::Run(code) => run(code),
        Reading::Leg(code) => format!("leg {} of {}", code.leg.get(), run(&code.label)),
        Reading::Outlet(code) => {
            format!("outlet {} in the room {}", code.number.get(), code.room)
        }
        Reading::Position(code) => format!("position {code} of a panel"),
        Reading::Link(code) => format!("position {code}"),
        Reading::Space(space) => format!("the rack in {space}"),
        Reading::Room(room) => format!("the room {room}"),
        Reading::Panel(letters) => format!("panel {letters}"),
        Reading::Conduit(number) => format!("conduit {number}"),
        Reading::Box(number) => format!("box or spool {number} that cable is drawn from"),
    })
}
