//! The place that a typed text means: a position of a panel, a port of a device, a way of a joint,
//! a jack. What the app prints of a place is read as that same place.

use crate::codes::typed::{Reading, read};
use crate::domain::ids::{DeviceId, JointId};
use crate::domain::label::{Letter, PositionCode};
use crate::domain::place::{End, Place, Position};
use crate::domain::text::folded;
use crate::journal::Registry;
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
    let mut found = Vec::new();
    jacks(registry, text, &mut found);
    called(registry, text, end, &mut found);
    let place = found.pop().ok_or(no_position)?;
    if !found.is_empty() {
        return Err(format!(
            "More than one place is called “{text}”. Name one of them anew first."
        ));
    }
    match &place {
        Place::Device { port, .. } if port.is_empty() => {
            Err(format!("Write the port too, such as “OUT 1 of {text}”."))
        }
        _ => Ok(place),
    }
}

/// Where a patch cord goes: a port of the chosen device, or the front of a position.
pub(super) fn patch_typed(
    registry: &Registry,
    device: Option<DeviceId>,
    port: &str,
) -> Result<Place, String> {
    let port = port.trim();
    match device {
        Some(_) if port.is_empty() => Err("Write the port as it stands on the device.".to_owned()),
        Some(device) => Ok(Place::Device {
            device,
            port: as_written(registry, device, port),
        }),
        None => position(registry, port).map(Place::front),
    }
}

/// The ports of devices and the ways of joints that are called so. The port is empty where a device
/// was named alone.
fn called(registry: &Registry, text: &str, end: End, found: &mut Vec<Place>) {
    let devices = registry.devices.iter().map(|(device, row)| {
        let port = String::new();
        let name = row.name.get().filter(|_| !row.added.is_empty());
        (name, Place::Device { device, port })
    });
    let joints = registry.joints.iter().map(|(joint, row)| {
        let name = row.name.get().filter(|_| row.kind.get().is_some());
        (name, Place::Joint { joint, way: 0 })
    });
    for (name, mut place) in devices.chain(joints) {
        let Some(part) = name.and_then(|name| part_of(text, name)) else {
            continue;
        };
        match &mut place {
            Place::Device { device, port } => *port = as_written(registry, *device, part),
            Place::Joint { joint, way } if part.is_empty() => {
                *way = next_way(registry, *joint, end);
            }
            Place::Joint { way, .. } => {
                let part = folded(part);
                let number = part.strip_prefix("way ").unwrap_or(&part).parse();
                let Some(number) = number.ok().filter(|way| *way > 0) else {
                    continue;
                };
                *way = number;
            }
            Place::Jack { .. } | Place::Position { .. } => {}
        }
        found.push(place);
    }
}

/// What stands before `of` and a name; empty where the name stands alone.
fn part_of<'a>(text: &'a str, name: &str) -> Option<&'a str> {
    let name = folded(name);
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

/// The port as it was written first, so that `lan 1` is not another port than `LAN 1`. Where two
/// phones wrote it in two ways, the one that was typed, else always the same.
fn as_written(registry: &Registry, device: DeviceId, port: &str) -> String {
    let words = folded(port);
    let mut first: Option<&String> = None;
    let index = &registry.index;
    let known = index.landed.keys().chain(index.planned.keys());
    for known in known.chain(index.patched.keys()) {
        if let Place::Device {
            device: on,
            port: known,
        } = known
            && *on == device
            && folded(known) == words
            && first.is_none_or(|first| first != port && (known == port || known < first))
        {
            first = Some(known);
        }
    }
    first.map_or(port, String::as_str).to_owned()
}

/// The way of a joint that an end belongs on, else the first that no other end is or belongs on.
fn next_way(registry: &Registry, joint: JointId, end: End) -> u8 {
    if let Some(Place::Joint { joint: on, way }) = planned_place(registry, end)
        && *on == joint
    {
        return *way;
    }
    let index = &registry.index;
    let is_free = |way: &u8| {
        let place = Place::Joint { joint, way: *way };
        let ends = [index.landed.get(&place), index.planned.get(&place)];
        ends.into_iter().flatten().all(|other| *other == end)
    };
    (1..u8::MAX).find(is_free).unwrap_or(u8::MAX)
}

/// `jack A of KIT2`. Several, where one code was given to several outlets.
fn jacks(registry: &Registry, text: &str, found: &mut Vec<Place>) {
    let words = folded(text);
    let Some(words) = words.strip_prefix("jack ") else {
        return;
    };
    let letter = words
        .chars()
        .next()
        .map(|letter| letter.to_ascii_uppercase());
    let outlet = words.get(1..).and_then(|rest| rest.strip_prefix(" of "));
    let (Some(jack), Some(outlet)) = (letter.and_then(Letter::new), outlet) else {
        return;
    };
    for reading in read(outlet, None).readings {
        if let (Reading::Outlet(code), true) = (reading, found.is_empty()) {
            let outlets = registry.index.outlets_by_code.get(&code);
            found.extend(outlets.iter().map(|outlet| Place::Jack {
                outlet: *outlet,
                jack,
            }));
        }
    }
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
            "Write the position as it stands on the panel, such as B7, or the name of a device or joint, such as “OUT 1 of Amplifier 1”."
                .to_owned(),
        );
    };
    let panels = &registry.index.panels_by_letters;
    let known = codes
        .iter()
        .find(|code| !panels.get(&code.panel).is_empty());
    let Some(code) = known else {
        return Err(format!(
            "There is no panel {} in this job. Look at the letter on the panel again.",
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
