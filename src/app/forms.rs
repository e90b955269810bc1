//! What the fields of a form mean: a want, or a sentence that says what is wrong with them. What
//! was typed stays in its field until it was taken.

use super::{Action, Effect, Field, Model, Notice, OpenJob, Route, Screen, World, update};
use crate::app::turn::{arrived, change_job, signed};
use crate::command::{Fault, Refusal, Want};
use crate::domain::ids::{JobId, WriterId};
use crate::journal::Journal;

/// How racks are built, and what hangs in them.
pub mod bench;
/// The forms of one cable and of loose ends.
mod find;
/// Forms of planning.
pub mod plan;

pub use find::FindForm;
/// Whether walls may be closed.
pub mod cover;
/// Forms of one picture.
pub mod pictures;
/// The pull, and the summary of the day.
mod pull;
/// Forms at the wall.
pub mod wall;

use bench::BenchForm;
use cover::CoverForm;
use pictures::PictureForm;
use plan::PlanForm;
use wall::WallForm;
/// The forms of the rack.
mod rack;

pub use rack::{Accept, FRONT, RackForm, place_typed, shown_stretch, stretch};

/// A form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A new job.
    NewJob,
    /// Who works with this device.
    Person,
    /// One of a cable or of loose ends.
    Find(FindForm),
    /// One at the wall.
    Wall(WallForm),
    /// Something at the rack.
    Rack(RackForm),
    /// Something that is planned.
    Plan(PlanForm),
    /// One about closing walls.
    Cover(CoverForm),
    /// Keep what a box holds.
    HoldBox,
    /// Write the summary of the day.
    Evening,
    /// One of a picture.
    Picture(PictureForm),
    /// One of a rack as it stands.
    Bench(BenchForm),
}

/// Sends a form.
pub(super) fn submit(model: &mut Model, form: Form, world: &impl World) -> Vec<Effect> {
    match form {
        Form::NewJob => new_job(model, world),
        Form::Person => person(model),
        Form::Find(form) => find::submit(model, form, world),
        Form::Wall(form) => wall::submit(model, form, world),
        Form::Rack(form) => rack::submit(model, form, world),
        Form::Plan(form) => plan::submit(model, form, world),
        Form::Cover(form) => cover::submit(model, form, world),
        Form::HoldBox => pull::hold_box(model, world),
        Form::Evening => pull::evening(model, world),
        Form::Picture(form) => pictures::submit(model, form, world),
        Form::Bench(form) => bench::submit(model, form, world),
    }
}

/// Refuses a form in words; its fields stay as they are.
pub(super) fn refuse(model: &mut Model, words: &str) -> Vec<Effect> {
    model.notice = Some(Notice::Refused(Refusal::new(words)));
    Vec::new()
}

/// The same, with the field that is to be put right.
pub(super) fn refuse_at(model: &mut Model, field: Field, words: &str) -> Vec<Effect> {
    model.wrong = Some(field);
    refuse(model, words)
}

/// Fields for codes, letters and numbers, beside those for words.
const CODES: [Field; 6] = [
    Field::EditCode,
    Field::FloorNumber,
    Field::RoomCode,
    Field::RackSpace,
    Field::PanelLetters,
    Field::ConduitNumber,
];

/// The field of a form that is to be put right.
fn blamed(model: &Model, fault: Fault, fields: &[Field]) -> Option<Field> {
    let is_meant = |field: &Field| {
        let is_code = CODES.contains(field);
        match (fault, field) {
            (_, Field::OpenRow) => false,
            (Fault::Missing, _) => !is_code && model.fields.get(*field).trim().is_empty(),
            (Fault::Name, _) => !is_code,
            (Fault::Code, _) => is_code,
            (Fault::Unit, field) => matches!(
                field,
                Field::PanelUnit | Field::EditRackUnit | Field::BenchUnit
            ),
        }
    };
    fields.iter().copied().find(is_meant)
}

/// Does what a form means and, once that is written, empties its fields.
pub(super) fn take(
    model: &mut Model,
    want: Want,
    fields: &[Field],
    then: Option<Screen>,
    world: &impl World,
) -> Vec<Effect> {
    let effects = update(model, Action::Do { want, then }, world);
    if !effects.is_empty() {
        model.fields.clear(fields);
    } else if let Some(Notice::Refused(refusal)) = &model.notice
        && let Some(fault) = refusal.fault
    {
        model.wrong = blamed(model, fault, fields);
    }
    effects
}

fn new_job(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let name = model.fields.get(Field::JobName).trim().to_owned();
    if name.is_empty() {
        return refuse_at(
            model,
            Field::JobName,
            "Give the job a name, such as the house or the street.",
        );
    }
    let job = JobId(world.bits());
    model.open = Some(OpenJob::new(Journal::new(job, WriterId(world.bits()))));
    let route = Route::Job {
        job,
        screen: Screen::Job,
    };
    change_job(model, Some(job));
    model.route = route;
    let mut effects = take(
        model,
        Want::NameJob { name },
        &[Field::JobName],
        None,
        world,
    );
    effects.push(Effect::SetHash(route.print()));
    effects.extend(arrived(model));
    effects
}

/// How many characters initials have at most.
const MOST_INITIALS: usize = 12;

/// Keeps who works with this device.
fn person(model: &mut Model) -> Vec<Effect> {
    let initials = model.fields.get(Field::Initials).trim().to_owned();
    if initials.chars().count() > MOST_INITIALS {
        return refuse_at(
            model,
            Field::Initials,
            "Initials are a few letters, 12 at most: they stand beside everything that you do.",
        );
    }
    model.person.initials = initials;
    model.person.device = model.fields.get(Field::DeviceName).trim().to_owned();
    if !(model.signing && matches!(model.notice, Some(Notice::Done { .. }))) {
        let words = "From now on this stands beside everything that you do here.";
        model.notice = Some(Notice::Told(words.to_owned()));
    }
    let mut effects = signed(model);
    for (key, value) in [
        ("initials", &model.person.initials),
        ("device", &model.person.device),
    ] {
        let value = value.clone();
        effects.push(Effect::Keep { key, value });
    }
    effects
}
