//! What is typed and tapped where a job is planned, as wants.

use super::wall::text;
use super::{refuse, refuse_at, take};
use crate::app::racks::show;
use crate::app::turn::go;
use crate::app::{Effect, Field, Model, Screen, World};
use crate::command::Want;
use crate::domain::ids::{
    ConduitId, DeviceId, FloorId, JointId, OutletTypeId, PanelId, RackId, RoomId, ThingId, UnitId,
};

/// Conduits.
mod conduits;
/// Racks, panels, tie lines, devices and joints.
mod racks;
/// Units, floors and rooms.
mod rooms;
/// Outlet types.
mod types;

pub(in crate::app) use racks::plan_panel;
pub use racks::{chosen_panel_rack, joint_kind_key};
pub use rooms::{NOWHERE, room_part};
pub use types::{changed_type, listed_cables};

/// A form of planning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum PlanForm {
    /// Open a thing to change it, or close it.
    Open(Planned),
    /// Give the thing the name in the field, and what stands beside it: a floor its number, a panel
    /// its place and purpose.
    Rename(Planned),
    /// Give the thing the code in the field.
    Recode(Planned),
    /// A new building or unit.
    AddUnit,
    /// A new floor.
    AddFloor,
    /// Which sheet of the plans shows a floor.
    PutFloor(FloorId),
    /// A new room.
    AddRoom,
    /// Put a room on the chosen floor and in the chosen unit.
    PutRoom(RoomId),
    /// Put a cable on the list of the outlet type that is being made.
    ListCable,
    /// Take a cable off that list.
    DropCable { place: usize },
    /// Save the outlet type that is being made or changed.
    SaveType,
    /// Make a new type from the cables of another, or change those of one of the job's own.
    StartType(TypeStart),
    /// Let the list go, and with it the change of a type.
    LeaveType,
    /// A new rack.
    AddRack,
    /// A new panel.
    AddPanel,
    /// A new tie line.
    AddTie,
    /// Another panel in the place of one.
    ReplacePanel(PanelId),
    /// A new device.
    AddDevice,
    /// Model and serial number of a device.
    DescribeDevice(DeviceId),
    /// A new joint.
    AddJoint,
    /// A conduit, new or the one that is open.
    LayConduit,
    /// Turn to the form of a panel, open in the list of its rack.
    ShowPanel(PanelId),
    /// Turn to a conduit that was found, open in its list.
    ShowConduit(ConduitId),
    /// A conduit is taken out of the job, for the reason typed.
    CancelConduit(ConduitId),
}

/// What a list of cables is started from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TypeStart {
    /// A usual type, by its key: a new type begins with its cables.
    Usual(&'static str),
    /// One of the job's own, which is changed.
    Own(OutletTypeId),
}

/// Something that can be opened to change it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Planned {
    /// The job itself.
    Job,
    /// A building or unit.
    Unit(UnitId),
    /// A floor.
    Floor(FloorId),
    /// A room.
    Room(RoomId),
    /// A rack.
    Rack(RackId),
    /// A panel.
    Panel(PanelId),
    /// A device.
    Device(DeviceId),
    /// A joint.
    Joint(JointId),
    /// A conduit.
    Conduit(ConduitId),
}

/// The fields of the thing that is open.
const EDITS: [Field; 11] = [
    Field::OpenRow,
    Field::EditName,
    Field::EditCode,
    Field::EditFloor,
    Field::EditUnit,
    Field::EditRack,
    Field::EditRackUnit,
    Field::EditConnector,
    Field::EditSize,
    Field::EditModel,
    Field::EditSerial,
];

impl Planned {
    /// How it stands in the field of the open row.
    fn key(self) -> String {
        let thing: ThingId = match self {
            Self::Job => return "job".to_owned(),
            Self::Unit(id) => id.0,
            Self::Floor(id) => id.0,
            Self::Room(id) => id.0,
            Self::Rack(id) => id.0,
            Self::Panel(id) => id.0,
            Self::Device(id) => id.0,
            Self::Joint(id) => id.0,
            Self::Conduit(id) => id.0,
        };
        thing.to_string()
    }
}

/// Whether a thing is open.
#[must_use]
pub fn is_open(model: &Model, thing: Planned) -> bool {
    model.fields.get(Field::OpenRow) == thing.key()
}

/// Sends a form of planning.
pub(super) fn submit(model: &mut Model, form: PlanForm, world: &impl World) -> Vec<Effect> {
    match form {
        PlanForm::Open(thing) => toggle(model, thing),
        PlanForm::Rename(thing) => rename(model, thing, world),
        PlanForm::Recode(thing) => recode(model, thing, world),
        PlanForm::AddUnit => {
            let name = text(model, Field::UnitName);
            take(
                model,
                Want::AddUnit { name },
                &[Field::UnitName],
                None,
                world,
            )
        }
        PlanForm::AddFloor => rooms::add_floor(model, world),
        PlanForm::PutFloor(floor) => {
            let sheet = text(model, Field::FloorSheet);
            let want = Want::PutFloorOnSheet { floor, sheet };
            take(model, want, &EDITS, None, world)
        }
        PlanForm::AddRoom => rooms::add_room(model, world),
        PlanForm::PutRoom(room) => rooms::put_room(model, room, world),
        PlanForm::ListCable => types::list_cable(model),
        PlanForm::DropCable { place } => types::drop_cable(model, place),
        PlanForm::SaveType => types::save(model, world),
        PlanForm::StartType(start) => types::start(model, start),
        PlanForm::LeaveType => types::leave(model),
        PlanForm::AddRack => racks::add_rack(model, world),
        PlanForm::AddPanel => racks::add_panel(model, world),
        PlanForm::AddTie => racks::add_tie(model, world),
        PlanForm::ReplacePanel(panel) => racks::replace_panel(model, panel, world),
        PlanForm::AddDevice => racks::add_device(model, world),
        PlanForm::DescribeDevice(device) => {
            let want = Want::DescribeDevice {
                device,
                model: text(model, Field::EditModel),
                serial: text(model, Field::EditSerial),
            };
            take(model, want, &EDITS, None, world)
        }
        PlanForm::AddJoint => racks::add_joint(model, world),
        PlanForm::LayConduit => conduits::lay(model, world),
        PlanForm::ShowPanel(panel) => {
            let mut effects = go(model, Screen::Racks);
            show(model, panel);
            if !is_open(model, Planned::Panel(panel)) {
                toggle(model, Planned::Panel(panel));
            }
            effects.push(Effect::FocusField(Field::EditCode));
            effects
        }
        PlanForm::ShowConduit(conduit) => {
            let mut effects = go(model, Screen::Racks);
            if !is_open(model, Planned::Conduit(conduit)) {
                toggle(model, Planned::Conduit(conduit));
            }
            // Its row is far down the screen.
            effects.push(Effect::FocusField(Field::ConduitNumber));
            effects
        }
        PlanForm::CancelConduit(conduit) => {
            let reason = text(model, Field::Reason);
            let want = Want::CancelConduit { conduit, reason };
            take(model, want, &[Field::Reason, Field::OpenRow], None, world)
        }
    }
}

/// Closes what shares its fields with something new.
pub(in crate::app) fn leave(model: &mut Model) {
    conduits::leave(model);
}

/// Opens a thing with what is known of it standing in the fields, or closes it.
fn toggle(model: &mut Model, thing: Planned) -> Vec<Effect> {
    let was_open = is_open(model, thing);
    conduits::close(model, thing);
    model.fields.clear(&EDITS);
    if !was_open {
        model.fields.set(Field::OpenRow, thing.key());
        fill(model, thing);
    }
    Vec::new()
}

fn fill(model: &mut Model, thing: Planned) {
    let Some(registry) = model.registry() else {
        return;
    };
    let mut code = None;
    let name = match thing {
        Planned::Job => {
            code = registry.job.tag_address.get().cloned();
            registry.job.name.get()
        }
        Planned::Unit(id) => registry.units.get(id).and_then(|row| row.name.get()),
        Planned::Floor(id) => registry.floors.get(id).and_then(|row| {
            code = row.number.get().map(ToString::to_string);
            row.name.get()
        }),
        Planned::Room(id) => registry.rooms.get(id).and_then(|row| {
            code = row.code.get().map(ToString::to_string);
            row.name.get()
        }),
        Planned::Rack(id) => registry.racks.get(id).and_then(|row| {
            code = row.space.get().map(ToString::to_string);
            row.name.get()
        }),
        Planned::Panel(id) => registry.panels.get(id).and_then(|row| {
            code = row.letters.get().map(ToString::to_string);
            row.purpose.get()
        }),
        Planned::Device(id) => registry.devices.get(id).and_then(|row| row.name.get()),
        Planned::Joint(id) => registry.joints.get(id).and_then(|row| row.name.get()),
        Planned::Conduit(_) => None,
    };
    let name = name.cloned().unwrap_or_default();
    model.fields.set(Field::EditName, name);
    model.fields.set(Field::EditCode, code.unwrap_or_default());
    if let Planned::Floor(floor) = thing {
        rooms::fill_sheet(model, floor);
    }
    if let Planned::Room(room) = thing {
        rooms::fill(model, room);
    }
    if let Planned::Panel(panel) = thing {
        racks::fill(model, panel);
    }
    if let Planned::Conduit(conduit) = thing {
        conduits::fill(model, conduit);
    }
    if let Planned::Device(device) = thing {
        racks::fill_device(model, device);
    }
}

fn rename(model: &mut Model, thing: Planned, world: &impl World) -> Vec<Effect> {
    let name = text(model, Field::EditName);
    let want = match thing {
        Planned::Job => Want::NameJob { name },
        Planned::Unit(unit) => Want::RenameUnit { unit, name },
        Planned::Floor(floor) => match rooms::floor_number(&text(model, Field::EditCode)) {
            Ok(number) => Want::RenameFloor {
                floor,
                name,
                number,
            },
            Err(words) => return refuse_at(model, Field::EditCode, &words),
        },
        Planned::Room(room) => Want::RenameRoom { room, name },
        Planned::Rack(rack) => Want::RenameRack { rack, name },
        Planned::Panel(panel) => match racks::placed(model, panel, name) {
            Ok(want) => want,
            Err((field, words)) => return refuse_at(model, field, &words),
        },
        Planned::Device(device) => Want::RenameDevice { device, name },
        Planned::Joint(joint) => Want::RenameJoint { joint, name },
        Planned::Conduit(_) => return conduits::lay(model, world),
    };
    take(model, want, &EDITS, None, world)
}

fn recode(model: &mut Model, thing: Planned, world: &impl World) -> Vec<Effect> {
    let code = text(model, Field::EditCode).to_uppercase();
    let want = match thing {
        Planned::Room(room) => rooms::room_code(&code).map(|code| Want::RecodeRoom { room, code }),
        Planned::Rack(rack) => racks::space(&code).map(|space| Want::RespaceRack { rack, space }),
        Planned::Panel(panel) => {
            racks::letters(&code).map(|letters| Want::LetterPanel { panel, letters })
        }
        Planned::Job => Ok(Want::SetTagAddress { address: code }),
        Planned::Unit(_)
        | Planned::Floor(_)
        | Planned::Device(_)
        | Planned::Joint(_)
        | Planned::Conduit(_) => Err("This has a name, but no code.".to_owned()),
    };
    match want {
        Ok(want) => {
            let effects = take(model, want, &EDITS, None, world);
            // It is the only field of its form.
            if effects.is_empty() {
                model.wrong = Some(Field::EditCode);
            }
            effects
        }
        Err(words) => refuse_at(model, Field::EditCode, &words),
    }
}

/// The thing chosen in a field, if one is.
fn chosen<I: From<ThingId>>(model: &Model, field: Field) -> Option<I> {
    let id: Option<ThingId> = model.fields.get(field).parse().ok();
    id.map(I::from)
}
