//! Planning racks and panels, tie lines, devices and joints.

use crate::app::plan::{PlanForm, Planned, chosen_panel_rack, joint_kind_key};
use crate::app::racks::{Line, lines};
use crate::app::{Action, Field, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::ids::{RoomId, ThingId};
use crate::domain::medium::Connector;
use crate::domain::place::Face as Seen;
use crate::names;
use crate::query::plan::{self, PanelPlan, RackPlan};
use crate::query::wall::Target;
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::medium::medium_fields;
use crate::ui::parts::opening::{
    Face, card, left_empty, opening, plan_form, recode_form, rename_form,
};
use crate::ui::parts::racks::rack_line;
use crate::ui::parts::{
    PAGE_ROWS, Tone, button, choice, code, empty, likely_choice, number_field, page_of, pager,
    text_field,
};
use crate::ui::screens::cable::sentence;
use crate::ui::screens::rack::without_position;
use crate::view::markup;

mod conduits;

/// What is drawn with.
#[derive(Clone, Copy)]
struct Desk<'a> {
    model: &'a Model,
    open: &'a OpenJob,
}

/// Draws the racks to plan them.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let desk = Desk { model, open };
    let racks = plan::racks(open.journal.registry());
    let mut page = Page::new("Racks and panels");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    page.body = markup! {
        <>
            if racks.is_empty() {
                { empty("There is no rack yet. Add the first one; its panels come next.", markup! {}) }
            } else {
                { rack_list(desk, &racks) }
                { add_panel(desk, &racks) }
            }
            { add_rack(desk) }
            { ties(desk, &racks) }
            { devices(desk) }
            { joints(desk) }
            { conduits::section(desk) }
        </>
    };
    // Once there is a panel, what comes next is which cable goes where.
    if racks.iter().any(|rack| !rack.panels.is_empty()) {
        page.actions = without_position(open, Tone::Main);
    }
    framed(model, page)
}

/// Draws all conduits, page by page.
pub(in crate::ui) fn conduits(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Conduits");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Racks);
    page.body = conduits::whole(Desk { model, open });
    framed(model, page)
}

fn rack_list(desk: Desk<'_>, racks: &[RackPlan]) -> Html {
    let counts: Vec<_> = racks.iter().map(|of| (of.rack, of.panels.len())).collect();
    let lines = lines(desk.model, &counts);
    let draw = |line: &Line| match *line {
        Line::Rack { at, is_open } => {
            let panels = racks[at].panels.iter().map(|panel| panel.panel);
            let panels: Vec<_> = panels.collect();
            rack_line(desk.open, racks[at].rack, &panels, is_open)
        }
        Line::Whole(at) => rack_row(desk, &racks[at], racks.len() == 1),
        Line::Panel(at, panel) => panel_row(desk, racks, &racks[at].panels[panel]),
    };
    markup! {
        <section aria-label="Racks with their panels">
            <ul class="rows">{ for page_of(&lines, desk.model.page).iter().map(draw) }</ul>
            { pager(desk.model.page, lines.len()) }
        </section>
    }
}

/// What can be changed of a rack; its line above says what it is called, unless it is the only one.
fn rack_row(desk: Desk<'_>, rack: &RackPlan, is_only: bool) -> Html {
    let Some(id) = rack.rack else {
        return markup! {};
    };
    let thing = Planned::Rack(id);
    let name = if is_only {
        rack.name.clone()
    } else {
        "Its name and space".to_owned()
    };
    let face = Face {
        lead: code(rack.space.clone()),
        text: name.into(),
        note: rack.room.clone().into(),
    };
    opening(desk.model, thing, face, || {
        markup! {
            <>
                { rename_form(desk.model, thing) }
                { recode_form(desk.model, thing, "Space", "Number of the floor and a letter, such as 1A") }
            </>
        }
    })
}

/// The racks to choose from.
fn rack_options(racks: &[RackPlan]) -> Vec<(String, String)> {
    let options = racks.iter().filter_map(|rack| {
        Some((
            rack.rack?.0.to_string(),
            format!("{} {}", rack.space, rack.name),
        ))
    });
    options.collect()
}

fn unit_field(model: &Model, field: Field) -> Html {
    number_field(
        model,
        field,
        "Rack unit of its lower edge, if you want",
        "Counted from the bottom of the rack",
    )
}

fn panel_row(desk: Desk<'_>, racks: &[RackPlan], panel: &PanelPlan) -> Html {
    let Desk { model, .. } = desk;
    let thing = Planned::Panel(panel.panel);
    let what = panel.make.map(names::make).into_iter();
    let purpose = Some(panel.purpose.clone()).filter(|purpose| !purpose.is_empty());
    let what: Vec<String> = what.chain(purpose).collect();
    let what = what.join(", ");
    let unit = panel.unit.map(|unit| format!("unit {unit}"));
    let face = Face {
        lead: markup! { <span class="panel-letters">{ code(panel.letters.clone()) }</span> },
        text: what.into(),
        note: unit.unwrap_or_default().into(),
    };
    opening(model, thing, face, || {
        let fill = Action::Do {
            want: Want::FillPanel { panel: panel.panel },
            then: None,
        };
        let look = Action::Go(Screen::Panel {
            panel: panel.panel,
            face: Seen::Front,
        });
        let place = markup! {
            <>
                { choice(model, Field::EditRack, "In which rack", rack_options(racks)) }
                { unit_field(model, Field::EditRackUnit) }
                { text_field(model, Field::EditName, "What it is for", "") }
            </>
        };
        let connectors = Connector::all().map(|one| (one.key().to_owned(), one.words().to_owned()));
        let replaced = markup! {
            <>
                { choice(model, Field::EditConnector, "Its positions are", connectors) }
                { number_field(model, Field::EditSize, "How many positions", "") }
            </>
        };
        markup! {
            <>
                { button("Plan this panel in order", fill, Tone::Quiet) }
                <p class="hint">{ "Gives its free positions to the cables that suit it and have none, in walking order." }</p>
                { button("Look at this panel", look, Tone::Quiet) }
                { recode_form(model, thing, "Letter", "Panels are lettered through the whole job, so that B07 alone says which.") }
                { plan_form(PlanForm::Rename(thing), place, "Change place or purpose") }
                { plan_form(PlanForm::ReplacePanel(panel.panel), replaced, "Another panel in its place") }
                <p class="hint">{ "What is landed, listed or patched stays at its number." }</p>
            </>
        }
    })
}

fn add_panel(desk: Desk<'_>, racks: &[RackPlan]) -> Html {
    let Desk { model, open } = desk;
    let options = rack_options(racks);
    let likely = chosen_panel_rack(model).map(|id| id.0.to_string());
    let connectors = Connector::all().map(|one| (one.key().to_owned(), one.words().to_owned()));
    let letters = plan::next_letters(open.journal.registry());
    let fields = markup! {
        <>
            if options.len() > 1 {
                { likely_choice(model, Field::PanelRack, "In which rack", options, likely) }
            }
            { choice(model, Field::PanelConnector, "Its positions are", connectors) }
            { number_field(model, Field::PanelSize, "How many positions", "Such as 12, 24 or 48; 96 at most. Left empty: 24.") }
            { text_field(model, Field::PanelLetters, "Letter", "Panels are lettered through the whole job.") }
            { left_empty(letters.map(|letters| letters.to_string())) }
            { unit_field(model, Field::PanelUnit) }
        </>
    };
    card(
        "add-panel",
        "Add a panel",
        plan_form(PlanForm::AddPanel, fields, "Add this panel"),
    )
}

/// The rooms to choose from, none first.
fn room_options(desk: Desk<'_>) -> Vec<(String, String)> {
    let rooms = plan::rooms(desk.open.journal.registry()).into_iter();
    let rooms = rooms.map(|room| {
        let words = format!("{} {}", room.code, room.name);
        (room.room.0.to_string(), words)
    });
    std::iter::once((String::new(), "Not said".to_owned()))
        .chain(rooms)
        .collect()
}

fn add_rack(desk: Desk<'_>) -> Html {
    let Desk { model, open } = desk;
    let room: Option<ThingId> = model.fields.get(Field::RackRoom).parse().ok();
    let space = plan::next_space(open.journal.registry(), room.map(RoomId::from));
    let fields = markup! {
        <>
            { text_field(model, Field::RackName, "Name of the rack", "Such as “Main rack”") }
            { choice(model, Field::RackRoom, "Room that it stands in", room_options(desk)) }
            { text_field(model, Field::RackSpace, "Space", "Number of the floor and a letter, such as 1A") }
            { left_empty(space.map(|space| space.to_string())) }
        </>
    };
    card(
        "add-rack",
        "Add a rack",
        plan_form(PlanForm::AddRack, fields, "Add this rack"),
    )
}

/// A list of which the first part is shown, and how many more there are.
fn first_part<T>(items: &[T], draw: impl Fn(&T) -> Html) -> Html {
    let more = items.len().saturating_sub(PAGE_ROWS);
    markup! {
        <>
            <ul class="rows">{ for page_of(items, 0).iter().map(draw) }</ul>
            if more > 0 {
                <p class="hint">{ format!("And {more} more. Find them by their name.") }</p>
            }
        </>
    }
}

fn ties(desk: Desk<'_>, racks: &[RackPlan]) -> Html {
    let Desk { model, open } = desk;
    let options = rack_options(racks);
    if options.len() < 2 {
        return markup! {};
    }
    let ties = plan::ties(open.journal.registry());
    // The two lists show two different racks until somebody chooses the second.
    let far = options.clone();
    let near = model.fields.get(Field::TieNear);
    let near = options
        .iter()
        .find(|(value, _)| value == near)
        .or(options.first());
    let second = far.iter().find(|other| Some(*other) != near);
    let second = second.map(|(value, _)| value.clone());
    let fields = markup! {
        <>
            { choice(model, Field::TieNear, "From rack", options) }
            { likely_choice(model, Field::TieFar, "To rack", far, second) }
            { medium_fields(model) }
            { text_field(model, Field::CablePurpose, "What it is for", "") }
        </>
    };
    let row = |tie: &Target<_>| {
        markup! { <li class="row listed"><p>{ code(tie.code.clone()) }{ " " }{ &tie.name }</p></li> }
    };
    card(
        "ties",
        "Tie lines between racks",
        markup! {
            <>
                { first_part(&ties, row) }
                { plan_form(PlanForm::AddTie, fields, "Add this tie line") }
            </>
        },
    )
}

fn named(desk: Desk<'_>, thing: Planned, name: &str, more: Html) -> Html {
    let face = Face {
        lead: markup! {},
        text: name.to_owned().into(),
        note: "".into(),
    };
    opening(
        desk.model,
        thing,
        face,
        || markup! { <>{ rename_form(desk.model, thing) }{ more }</> },
    )
}

fn devices(desk: Desk<'_>) -> Html {
    let Desk { model, open } = desk;
    let devices = plan::devices(open.journal.registry());
    let fields = markup! {
        <>
            { text_field(model, Field::DeviceLabel, "Name of the device", "Such as “Amplifier 1”") }
            { choice(model, Field::DeviceRoom, "Room that it is in", room_options(desk)) }
        </>
    };
    card(
        "devices",
        "Devices without a panel",
        markup! {
            <>
                <p class="hint">{ "Cables that end on a device itself, such as an amplifier or an alarm panel." }</p>
                { first_part(&devices, |device| {
                    let said = markup! {
                        <>
                            { text_field(model, Field::EditModel, "Model", "") }
                            { text_field(model, Field::EditSerial, "Serial number", "As it stands on it. Never a password: whoever holds this file can read it.") }
                        </>
                    };
                    named(desk, Planned::Device(device.id), &device.name, markup! {
                        <>
                            { plan_form(PlanForm::DescribeDevice(device.id), said, "Keep model and serial number") }
                            { button("Its ports, and what feeds them", Action::Go(Screen::Device(device.id)), Tone::Quiet) }
                        </>
                    })
                }) }
                { plan_form(PlanForm::AddDevice, fields, "Add this device") }
            </>
        },
    )
}

fn joints(desk: Desk<'_>) -> Html {
    let Desk { model, open } = desk;
    let joints = plan::joints(open.journal.registry());
    let kinds = plan::JOINT_KINDS.map(|kind| {
        let key = joint_kind_key(kind).to_owned();
        (key, sentence(kind.words()))
    });
    let fields = markup! {
        <>
            { choice(model, Field::JointKind, "What it is", kinds) }
            { text_field(model, Field::JointName, "Name of the joint", "Where somebody finds it, such as “Attic splitter”") }
            { choice(model, Field::JointRoom, "Room that it is in", room_options(desk)) }
        </>
    };
    card(
        "joints",
        "Splices, splitters and other joints",
        markup! {
            <>
                { first_part(&joints, |joint| {
                    let look = button("What passes here", Action::Go(Screen::Joint(joint.id)), Tone::Quiet);
                    named(desk, Planned::Joint(joint.id), &joint.name, look)
                }) }
                { plan_form(PlanForm::AddJoint, fields, "Add this joint") }
            </>
        },
    )
}
