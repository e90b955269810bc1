//! The place that a typed text means: a position of a panel, a port of a device, a way of a joint,
//! a jack. What the app prints of a place is read as that same place.

use crate::codes::typed::{Reading, read};
use crate::domain::ids::JointId;
use crate::domain::label::{Letter, PositionCode};
use crate::domain::place::{End, Place, Position};
use crate::domain::text::folded;
use crate::journal::Registry;
use crate::query::plan;
use crate::query::rack::planned_place;

/// The place that was typed for an end.
///
/// # Errors
/// What is wrong with the text, and what can be written.
pub fn place_typed(registry: &Registry, text: &str, end: End) -> Result<Place, String> {
    let text = text.trim();
    // A device may be called like a position of a panel that is not there.
    let no_position = match position(registry, text) {
        Ok(position) => return Ok(Place::rear(position)),
        Err(words) => words,
    };
    match called(registry, text, end).as_slice() {
        [] => Err(no_position),
        [Place::Device { port, .. }] if port.is_empty() => {
            Err(format!("Write the port too, such as “OUT 1 of {text}”."))
        }
        [place] => Ok(place.clone()),
        _ => Err(format!(
            "“{text}” may mean more than one place. Give one of them another name first, where racks and devices are planned."
        )),
    }
}

/// The places that are called so, in no panel. The port of a device is empty where none was named.
fn called(registry: &Registry, text: &str, end: End) -> Vec<Place> {
    let mut found = Vec::new();
    for device in plan::devices(registry) {
        if let Some(port) = part_of(text, &device.name) {
            found.push(in_use(
                registry,
                Place::Device {
                    device: device.id,
                    port: port.to_owned(),
                },
            ));
        }
    }
    for joint in plan::joints(registry) {
        let joint_id = joint.id;
        found.extend(match part_of(text, &joint.name) {
            None => None,
            Some("") => next_way(registry, joint_id, end),
            Some(part) => way(part).map(|way| Place::Joint {
                joint: joint_id,
                way,
            }),
        });
    }
    found.extend(jacks(registry, text).into_iter().flatten());
    found
}

/// What stands before `of` and a name; empty where the name stands alone.
fn part_of<'a>(text: &'a str, name: &str) -> Option<&'a str> {
    let name = folded(name);
    if name.is_empty() {
        return None;
    }
    if folded(text) == name {
        return Some("");
    }
    let mut spaces = text.char_indices().filter(|(_, it)| it.is_whitespace());
    let (at, _) = spaces.find(|(at, _)| {
        let rest = folded(&text[*at..]);
        rest.strip_prefix("of ") == Some(name.as_str())
    })?;
    Some(text[..at].trim())
}

/// The port as it was written first, so that `lan 1` is not another port than `LAN 1`.
fn in_use(registry: &Registry, place: Place) -> Place {
    let Place::Device { device, port } = &place else {
        return place;
    };
    let index = &registry.index;
    let words = folded(port);
    let known = index.landed.keys().chain(index.planned.keys());
    let same = known.filter(|known| {
        matches!(known, Place::Device { device: on, port } if on == device && folded(port) == words)
    });
    // Two phones may have written it in two ways: then the one that was typed, else always the same.
    let same = same.min_by_key(|known| (**known != place, *known));
    same.cloned().unwrap_or(place)
}

/// `way 2`, or its number alone.
fn way(part: &str) -> Option<u8> {
    let part = folded(part);
    let number = part.strip_prefix("way ").unwrap_or(&part);
    number.parse().ok().filter(|way| *way > 0)
}

/// The way of a joint that an end belongs on, else the first that no other end is or belongs on.
fn next_way(registry: &Registry, joint: JointId, end: End) -> Option<Place> {
    let planned = planned_place(registry, end);
    let planned = planned.filter(|at| matches!(at, Place::Joint { joint: on, .. } if *on == joint));
    planned.cloned().or_else(|| {
        let mut ways = (1..=u8::MAX).map(|way| Place::Joint { joint, way });
        ways.find(|place| {
            let index = &registry.index;
            let mut there = index.landed.get(place).iter();
            there.all(|other| *other == end)
                && index.planned.get(place).iter().all(|other| *other == end)
        })
    })
}

/// `jack A of KIT2`. Several, where one code was given to several outlets.
fn jacks(registry: &Registry, text: &str) -> Option<Vec<Place>> {
    let words = folded(text).to_uppercase();
    let (letter, outlet) = words.strip_prefix("JACK ")?.split_once(" OF ")?;
    let mut letters = letter.chars();
    let jack = Letter::new(letters.next()?).filter(|_| letters.next().is_none())?;
    let mut readings = read(outlet, None).readings.into_iter();
    let outlets = readings.find_map(|reading| match reading {
        Reading::Outlet(code) => {
            let outlets = registry.index.outlets_by_code.get(&code);
            (!outlets.is_empty()).then_some(outlets)
        }
        _ => None,
    })?;
    let outlets = outlets.iter().copied();
    Some(outlets.map(|outlet| Place::Jack { outlet, jack }).collect())
}

/// The position that a typed code means, or what is wrong with it.
fn position(registry: &Registry, text: &str) -> Result<Position, String> {
    let codes = read(text, None).readings.into_iter();
    let codes: Vec<PositionCode> = codes
        .filter_map(|reading| match reading {
            Reading::Position(code) => Some(code),
            Reading::Link(link) => Some(link.position),
            _ => None,
        })
        .collect();
    let Some(first) = codes.first() else {
        return Err(
            "Write the position as it stands on the panel, such as B7, or a device or joint by its name, such as “OUT 1 of Amplifier 1”."
                .to_owned(),
        );
    };
    let panels = &registry.index.panels_by_letters;
    let known = codes
        .iter()
        .find(|code| !panels.get(&code.panel).is_empty());
    let Some(code) = known else {
        return Err(format!(
            "There is no panel {} in this job, and no device or joint called so. Look at the letter on the panel again.",
            first.panel
        ));
    };
    match panels.get(&code.panel) {
        [panel] => Ok(Position {
            panel: *panel,
            number: code.number,
        }),
        _ => Err(format!(
            "More than one panel is lettered {}. Settle that on the punch list first.",
            code.panel
        )),
    }
}
