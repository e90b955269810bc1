//! What feeds what: the line of stations of a cable, the ports of a device, the ways of a joint.

use crate::app::{Action, Model, OpenJob, Screen};
use crate::domain::ids::{CableId, DeviceId, JointId};
use crate::domain::place::Place;
use crate::names;
use crate::query::stations::{Station, Stop, behind_port, follow, ports, ways};
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::stations::{station, stops};
use crate::ui::parts::{Tone, button, code, empty, known};
use crate::view::markup;

/// Draws the line of a cable, from what feeds it or is fed by it on one side to the other.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: CableId) -> Html {
    let registry = open.journal.registry();
    let mut page = Page::new("What feeds what");
    page.above = names::cable(registry, id);
    page.back = Some(Screen::Cable(id));
    let way = follow(registry, id);
    let [near, far] = &way.sides;
    let (before, branches) = straight(near);
    page.body = markup! {
        <div class="feeds">
            if !branches.is_empty() {
                <h2>{ "Joined at the first of these" }</h2>
                { stops(open, branches) }
            }
            <ol class="stations">
                { for before.iter().rev().map(|stop| markup! { <li>{ station(open, &stop.station, stop.listed) }</li> }) }
                <li class="here">
                    { station(open, &Station::Cable(id), false) }
                    { stops(open, far) }
                </li>
            </ol>
        </div>
    };
    page.actions = button("To the cable", Action::Go(Screen::Cable(id)), Tone::Quiet);
    framed(model, page)
}

/// The stops that follow one another without parting, and what parts behind the last.
fn straight(mut stops: &[Stop]) -> (Vec<&Stop>, &[Stop]) {
    let mut line = Vec::new();
    while let [only] = stops {
        line.push(only);
        stops = &only.on;
    }
    (line, stops)
}

/// Draws a device: what it is, and its ports with what feeds them.
pub(in crate::ui) fn device(model: &Model, open: &OpenJob, id: DeviceId) -> Html {
    let registry = open.journal.registry();
    let row = registry.devices.get(id);
    let name = row.and_then(|row| row.name.get()).cloned();
    let mut page = Page::new(name.unwrap_or_else(|| "A device".to_owned()));
    page.back = Some(Screen::Rack);
    let room = row.and_then(|row| row.room.get());
    page.above = room.map_or_else(|| "Device".to_owned(), |room| names::room(registry, *room));
    let said = |what: &str, said: Option<&String>| {
        let said = said.filter(|said| !said.is_empty());
        said.map(|said| format!("{what}: {said}"))
    };
    let mut lines: Vec<String> = Vec::new();
    lines.extend(said("Model", row.and_then(|row| row.model.get())));
    lines.extend(said("Serial number", row.and_then(|row| row.serial.get())));
    let ports = ports(registry, id);
    page.body = markup! {
        <>
            { known(&lines) }
            if ports.is_empty() {
                <p>{ "Nothing is landed on it or patched to it yet." }</p>
            }
            { for ports.iter().map(|place| section(open, place)) }
            { button("Name, model and serial number", Action::Go(Screen::Racks), Tone::Quiet) }
        </>
    };
    framed(model, page)
}

/// Draws a joint with everything that passes there.
pub(in crate::ui) fn joint(model: &Model, open: &OpenJob, id: JointId) -> Html {
    let registry = open.journal.registry();
    let row = registry.joints.get(id);
    let name = row.and_then(|row| row.name.get()).cloned();
    let mut page = Page::new(name.unwrap_or_else(|| "A joint".to_owned()));
    page.back = Some(Screen::Racks);
    let room = row.and_then(|row| row.room.get());
    page.above = room.map_or_else(|| "Joint".to_owned(), |room| names::room(registry, *room));
    let ways = ways(registry, id);
    page.body = if ways.is_empty() {
        empty(
            "Nothing is landed on it yet. Take a cable in hand and type the name of this joint as its place.",
            button("Cable in hand", Action::Go(Screen::Hand), Tone::Quiet),
        )
    } else {
        markup! { <>{ for ways.iter().map(|place| section(open, place)) }</> }
    };
    framed(model, page)
}

/// A port or way with what is behind it.
fn section(open: &OpenJob, place: &Place) -> Html {
    let registry = open.journal.registry();
    let behind = behind_port(registry, place);
    let title = match place {
        Place::Device { port, .. } => port.clone(),
        Place::Joint { way, .. } => format!("Way {way}"),
        Place::Jack { .. } | Place::Position { .. } => names::place(registry, place),
    };
    markup! {
        <section>
            <h2>{ code(title) }</h2>
            { stops(open, &behind) }
        </section>
    }
}
