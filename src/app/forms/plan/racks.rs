//! Racks, panels, tie lines, devices and joints.

use super::{EDITS, chosen, refuse, refuse_at, take, text};
use crate::app::forms::wall::medium;
use crate::app::turn::go;
use crate::app::{Effect, Field, Model, Screen, World};
use crate::codes::strict;
use crate::command::Want;
use crate::domain::ids::{DeviceId, PanelId, RackId, RoomId};
use crate::domain::label::{PanelLetters, SpaceCode};
use crate::domain::medium::Connector;
use crate::domain::place::Fitting;
use crate::domain::work::JointKind;
use crate::journal::{PanelMake, PanelSize};
use crate::query::{plan, wall};

/// How many positions a panel has when nobody says so; the most usual size, common practice.
const USUAL_SIZE: u16 = 24;

/// Reads a space code.
pub(super) fn space(code: &str) -> Result<SpaceCode, String> {
    strict::space(code).map_err(|bad| format!("{bad}."))
}

/// Reads the letters of a panel.
pub(super) fn letters(code: &str) -> Result<PanelLetters, String> {
    PanelLetters::new(code).map_err(|bad| format!("{bad}."))
}

pub(super) fn add_rack(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let room: Option<RoomId> = chosen(model, Field::RackRoom);
    let typed = text(model, Field::RackSpace).to_uppercase();
    let proposed = model
        .registry()
        .filter(|_| typed.is_empty())
        .and_then(|registry| plan::next_space(registry, room));
    let space = match proposed.map_or_else(|| space(&typed), Ok) {
        Ok(space) => space,
        Err(words) => return refuse_at(model, Field::RackSpace, &words),
    };
    let name = text(model, Field::RackName);
    let fields = [Field::RackName, Field::RackSpace, Field::RackRoom];
    let want = Want::AddRack { space, name, room };
    let mut effects = take(model, want, &fields, None, world);
    if !effects.is_empty() {
        // Its panels come next, and their form stands above.
        effects.push(Effect::FocusField(Field::PanelConnector));
    }
    effects
}

/// Begins a panel of the kind that is missing.
pub(in crate::app) fn plan_panel(
    model: &mut Model,
    rack: Option<RackId>,
    connector: Connector,
) -> Vec<Effect> {
    let mut effects = go(model, Screen::Racks);
    let rack = rack.map_or_else(String::new, |rack| rack.0.to_string());
    model.fields.set(Field::PanelRack, rack);
    let connector = connector.key().to_owned();
    model.fields.set(Field::PanelConnector, connector);
    effects.push(Effect::FocusField(Field::PanelConnector));
    effects
}

/// The rack that a new panel is added to: the one chosen, else the open one, else the first.
#[must_use]
pub fn chosen_panel_rack(model: &Model) -> Option<RackId> {
    chosen_rack(model, Field::PanelRack).ok()
}

/// The rack that a list shows: the one chosen, else the open one, else its first.
fn chosen_rack(model: &Model, field: Field) -> Result<RackId, String> {
    let racks = model.registry().map(wall::racks).unwrap_or_default();
    let known = |field| {
        let rack: Option<RackId> = chosen(model, field);
        rack.filter(|rack| racks.iter().any(|known| known.id == *rack))
    };
    known(field)
        .or_else(|| known(Field::OpenRack))
        .or_else(|| racks.first().map(|rack| rack.id))
        .ok_or_else(|| "Add a rack first: a panel stands in one.".to_owned())
}

/// Puts the place of a panel into the fields.
pub(super) fn fill(model: &mut Model, panel: PanelId) {
    let row = model.registry().and_then(|of| of.panels.get(panel));
    let rack = row.and_then(|row| row.rack.get());
    let rack = rack.map_or_else(String::new, |rack| rack.0.to_string());
    let unit = row.and_then(|row| row.unit.get().copied().flatten());
    let unit = unit.map_or_else(String::new, |unit| unit.to_string());
    let make = row.and_then(|row| row.make.get()).copied();
    let size = make.map_or_else(String::new, |make| make.positions.get().to_string());
    let connector = make.map_or("", |make| make.connector.key());
    model.fields.set(Field::EditSize, size);
    model.fields.set(Field::EditConnector, connector.to_owned());
    model.fields.set(Field::EditRack, rack);
    model.fields.set(Field::EditRackUnit, unit);
}

/// Where a panel is placed by the fields, and what for; else the field that is at fault.
pub(super) fn placed(
    model: &Model,
    panel: PanelId,
    purpose: String,
) -> Result<Want, (Field, String)> {
    let at = |field| move |words| (field, words);
    let unit = rack_unit(&text(model, Field::EditRackUnit));
    Ok(Want::PlacePanel {
        panel,
        rack: chosen_rack(model, Field::EditRack).map_err(at(Field::EditRack))?,
        unit: unit.map_err(at(Field::EditRackUnit))?,
        purpose,
    })
}

pub(super) fn add_panel(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let rack = chosen_rack(model, Field::PanelRack);
    let rack = rack.map_err(|words| (Field::PanelRack, words));
    match rack.and_then(|rack| panel(model, rack)) {
        Ok(want) => {
            // Connector and size stay: panels of one kind are added one after the other.
            let fields = [Field::PanelLetters, Field::PanelUnit];
            take(model, want, &fields, None, world)
        }
        Err((field, words)) => refuse_at(model, field, &words),
    }
}

/// The panel that the fields tell of, or the field that tells it wrong.
fn panel(model: &Model, rack: RackId) -> Result<Want, (Field, String)> {
    let at = |field| move |words| (field, words);
    let connector = Connector::from_key(model.fields.get(Field::PanelConnector));
    let connector = connector.or_else(|| Connector::all().next());
    let connector = connector.ok_or_else(|| {
        let words = "Choose what its positions are.".to_owned();
        (Field::PanelConnector, words)
    })?;
    let positions = size(&text(model, Field::PanelSize)).map_err(at(Field::PanelSize))?;
    let typed = text(model, Field::PanelLetters).to_uppercase();
    let proposed = model
        .registry()
        .filter(|_| typed.is_empty())
        .and_then(plan::next_letters);
    let letters = proposed.map_or_else(|| letters(&typed), Ok);
    let letters = letters.map_err(at(Field::PanelLetters))?;
    let unit = rack_unit(&text(model, Field::PanelUnit)).map_err(at(Field::PanelUnit))?;
    Ok(Want::AddPanel {
        rack,
        make: PanelMake {
            connector,
            positions,
        },
        letters,
        unit,
    })
}

/// The size that was typed; an empty field is the usual one.
fn size(typed: &str) -> Result<PanelSize, String> {
    let count = match typed {
        "" => Some(USUAL_SIZE),
        typed => typed.parse().ok(),
    };
    count.and_then(PanelSize::new).ok_or_else(|| {
        format!("“{typed}” is not a count of positions. Write a number from 1 to 96.")
    })
}

pub(super) fn replace_panel(model: &mut Model, panel: PanelId, world: &impl World) -> Vec<Effect> {
    let connector = Connector::from_key(model.fields.get(Field::EditConnector));
    let positions = match size(&text(model, Field::EditSize)) {
        Ok(positions) => positions,
        Err(words) => return refuse_at(model, Field::EditSize, &words),
    };
    let make = PanelMake {
        connector: connector.unwrap_or(Connector::Modular),
        positions,
    };
    let fitting = Fitting::Direct;
    let want = Want::ReplacePanel {
        panel,
        make,
        fitting,
    };
    take(model, want, &EDITS, None, world)
}

/// What is known of a device stands in the fields.
pub(super) fn fill_device(model: &mut Model, device: DeviceId) {
    let row = model
        .registry()
        .and_then(|registry| registry.devices.get(device));
    let said = |said: Option<&String>| said.cloned().unwrap_or_default();
    let (name, serial) = (
        said(row.and_then(|row| row.model.get())),
        said(row.and_then(|row| row.serial.get())),
    );
    model.fields.set(Field::EditModel, name);
    model.fields.set(Field::EditSerial, serial);
}

/// Reads a rack unit; an empty field is none.
fn rack_unit(typed: &str) -> Result<Option<u8>, String> {
    if typed.is_empty() {
        return Ok(None);
    }
    let unit = typed.parse().ok().filter(|unit| (1..=99).contains(unit));
    unit.map(Some).ok_or_else(|| {
        format!("“{typed}” is not a rack unit. Write the number beside its lower edge, counted from the bottom, or leave it empty.")
    })
}

pub(super) fn add_tie(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let racks = model.registry().map(wall::racks).unwrap_or_default();
    let known = |field| {
        let id: Option<RackId> = chosen(model, field);
        id.filter(|id| racks.iter().any(|rack| rack.id == *id))
    };
    // What was not chosen is what the lists show first.
    let near = known(Field::TieNear).or_else(|| racks.first().map(|rack| rack.id));
    let other = || {
        racks
            .iter()
            .map(|rack| rack.id)
            .find(|id| near != Some(*id))
    };
    let far = known(Field::TieFar).or_else(other);
    let (Some(near), Some(far)) = (near, far) else {
        return refuse(
            model,
            "A tie line joins two racks. Add the second rack first.",
        );
    };
    if near == far {
        return refuse_at(
            model,
            Field::TieFar,
            "A tie line joins two racks. Choose two different ones.",
        );
    }
    let medium = match medium(model) {
        Ok(medium) => medium,
        Err(refused) => return refused,
    };
    let want = Want::AddTie {
        near,
        far,
        medium,
        purpose: text(model, Field::CablePurpose),
    };
    // The racks and the medium stay: ties are added in bundles.
    take(model, want, &[Field::CablePurpose], None, world)
}

pub(super) fn add_device(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let want = Want::AddDevice {
        name: text(model, Field::DeviceLabel),
        room: chosen(model, Field::DeviceRoom),
    };
    // The room stays: devices are added where one stands.
    take(model, want, &[Field::DeviceLabel], None, world)
}

/// The value of a kind of joint in its list.
#[must_use]
pub fn joint_kind_key(kind: JointKind) -> &'static str {
    match kind {
        JointKind::Splice => "splice",
        JointKind::Barrel => "barrel",
        JointKind::Splitter => "splitter",
        JointKind::SurgeArrester => "surge-arrester",
    }
}

pub(super) fn add_joint(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let key = model.fields.get(Field::JointKind);
    let kind = plan::JOINT_KINDS
        .into_iter()
        .find(|kind| joint_kind_key(*kind) == key);
    let want = Want::AddJoint {
        kind: kind.unwrap_or(plan::JOINT_KINDS[0]),
        name: text(model, Field::JointName),
        room: chosen(model, Field::JointRoom),
    };
    take(model, want, &[Field::JointName], None, world)
}
