//! What feeds what, drawn as a line of stations: each leads to its own screen.

use crate::app::{OpenJob, Screen};
use crate::domain::place::{Face, Placement};
use crate::names;
use crate::query::deeds::{in_short, spare_words};
use crate::query::stations::{Station, Stop};
use crate::ui::{Html, go};
use crate::view::{classes, markup, when};

/// Draws stops one below the other, and what is behind each of them below it.
pub(in crate::ui) fn stops(open: &OpenJob, all: &[Stop]) -> Html {
    if all.is_empty() {
        return markup! {};
    }
    // Several ways part here; one way goes straight on.
    let class = classes(["stations", when(all.len() > 1, "parting")]);
    markup! {
        <ol class={class}>
            { for all.iter().map(|stop| markup! {
                <li>
                    { stopped(open, stop) }
                    { stops(open, &stop.on) }
                </li>
            }) }
        </ol>
    }
}

/// Draws one stop: its station, and what is to be known of the way to it.
pub(in crate::ui) fn stopped(open: &OpenJob, stop: &Stop) -> Html {
    let registry = open.journal.registry();
    let mut note = Vec::new();
    if stop.listed {
        note.push("not landed yet".to_owned());
    }
    note.extend(stop.how.as_ref().map(|how| match how {
        Placement::Landed { .. } => "with a plug of its own".to_owned(),
        Placement::Spare { kept, reason } => ["spare: ", &spare_words(kept, reason)].concat(),
        Placement::Lifted | Placement::Dead { .. } => in_short(registry, how),
    }));
    if stop.disputed {
        note.push("people disagree where it is".to_owned());
    }
    if !stop.rivals.is_empty() {
        let rivals = stop.rivals.iter();
        let rivals: Vec<String> = rivals.map(|end| names::end_code(registry, *end)).collect();
        note.push(["claimed by ", &names::listed(&rivals), " too"].concat());
    }
    station(open, &stop.station, stop.listed, note.join(", "))
}

/// Draws one station with a note.
pub(in crate::ui) fn station(
    open: &OpenJob,
    station: &Station,
    listed: bool,
    note: String,
) -> Html {
    let (shape, words, screen) = words(open, station);
    let class = classes(["station", shape, when(listed, "listed")]);
    let inside = markup! {
        <>
            <span class="station-mark" aria-hidden="true"></span>
            <span class="station-words">{ words }</span>
            <span class="row-note">{ note }</span>
        </>
    };
    match screen {
        Some(screen) => markup! {
            <button type="button" class={class} onclick={go(screen)}>{ inside }</button>
        },
        None => markup! { <p class={class}>{ inside }</p> },
    }
}

/// The shape of a station, its words, and the screen that it leads to.
pub(in crate::ui) fn words(
    open: &OpenJob,
    station: &Station,
) -> (&'static str, String, Option<Screen>) {
    let registry = open.journal.registry();
    match station {
        Station::Plate(outlet, jack) => {
            let code = registry.outlet_code(*outlet);
            let code = code.map_or_else(
                || "outlet without a code".to_owned(),
                |code| code.to_string(),
            );
            let jack = jack.map_or_else(String::new, |jack| format!(", jack {jack}"));
            let room = registry
                .outlets
                .get(*outlet)
                .and_then(|row| row.number.get());
            let room = room.map_or_else(String::new, |at| {
                format!(", {}", names::room(registry, at.room))
            });
            (
                "plate",
                format!("{code}{jack}{room}"),
                Some(Screen::Outlet(*outlet)),
            )
        }
        Station::Cable(id) => {
            let medium = registry.cables.get(*id).and_then(|row| row.medium.get());
            let medium = medium.map_or_else(String::new, |medium| format!(", {medium}"));
            let code = names::cable(registry, *id);
            ("wire", format!("{code}{medium}"), Some(Screen::Cable(*id)))
        }
        Station::Position(position) => {
            let rack = registry
                .panels
                .get(position.panel)
                .and_then(|row| row.rack.get());
            let rack = rack.map_or_else(String::new, |rack| {
                format!(", {}", names::rack(registry, *rack))
            });
            let words = format!("{}{rack}", names::position(registry, *position));
            let screen = Screen::Position {
                position: *position,
                face: Face::Front,
            };
            ("port-stop", words, Some(screen))
        }
        Station::Cord => ("wire", "patch cord".to_owned(), None),
        Station::Port(device, port) => {
            let place = crate::domain::place::Place::Device {
                device: *device,
                port: port.clone(),
            };
            (
                "gear",
                names::place(registry, &place),
                Some(Screen::Device(*device)),
            )
        }
        Station::Joint(joint) => {
            let name = registry.joints.get(*joint).and_then(|row| row.name.get());
            let name = name.cloned().unwrap_or_else(|| "a joint".to_owned());
            ("knot", name, Some(Screen::Joint(*joint)))
        }
        Station::Open(end) => (
            "open-end",
            format!(
                "{}: no place yet",
                names::side(registry, end.cable, end.side)
            ),
            Some(Screen::HandCable(end.cable)),
        ),
    }
}
