//! What feeds what: the line of stations of a cable, the ports of a device, the ways of a joint.

use crate::app::{Action, Model, OpenJob, Screen};
use crate::domain::ids::{CableId, DeviceId, JointId};
use crate::domain::place::Place;
use crate::names;
use crate::query::stations::{Station, Stop, Way, behind_port, follow, ports, ways};
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::stations::{station, stopped, stops, words};
use crate::ui::parts::{Tone, button, code, empty, known};
use crate::view::markup;

/// Draws the line of a cable, from what feeds it or is fed by it on one side to the other.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: CableId) -> Html {
    let registry = open.journal.registry();
    let mut page = Page::new("What feeds what");
    page.above = names::cable(registry, id);
    page.back = Some(Screen::Cable(id));
    page.body = markup! {
        <div class="feeds">{ for follow(registry, id).iter().map(|way| line(open, id, way)) }</div>
    };
    page.actions = button("To the cable", Action::Go(Screen::Cable(id)), Tone::Quiet);
    framed(model, page)
}

/// Draws one way as a line: what does not part stands before the cable, so that the line is read in one
/// direction.
fn line(open: &OpenJob, id: CableId, way: &Way) -> Html {
    let [near, far] = way.sides.each_ref().map(|side| straight(side));
    let is_turned = !near.1.is_empty() && far.1.is_empty();
    let ((before, branches), then) = if is_turned {
        (far, &way.sides[0])
    } else {
        (near, &way.sides[1])
    };
    let own = Station::Cable(id);
    let first = before.last().map_or(&own, |stop| &stop.station);
    let (_, first, _) = words(open, first);
    markup! {
        <section>
            if let Some(leg) = way.leg {
                <h2>{ format!("Leg {}", leg.get()) }</h2>
            }
            if !branches.is_empty() {
                <p>{ ["These come together at ", &first, ":"].concat() }</p>
                { stops(open, branches) }
            }
            <ol class="stations">
                { for before.iter().rev().map(|stop| markup! { <li>{ stopped(open, stop) }</li> }) }
                <li class="here">
                    { station(open, &own, false, "this cable".to_owned()) }
                    { stops(open, then) }
                </li>
            </ol>
        </section>
    }
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
