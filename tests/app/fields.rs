//! Which field a refused form asks for, and that what was typed in one job is not met in another.

use bothends::app::plan::PlanForm;
use bothends::app::{Action, Field, Form};

use super::phone::Phone;

/// Sends a form with these texts in its fields, and gives the field that is to be put right.
fn asks(phone: &mut Phone, form: PlanForm, texts: &[(Field, &str)]) -> Option<Field> {
    for (field, text) in texts {
        phone.types(*field, text);
    }
    phone.acts(Action::Submit(Form::Plan(form)));
    let wrong = phone.model.wrong;
    for (field, _) in texts {
        phone.types(*field, "");
    }
    wrong
}

#[test]
fn a_refused_form_asks_for_the_field_that_is_at_fault() {
    let mut phone = Phone::new();
    for (form, texts) in [
        (PlanForm::AddUnit, &[(Field::UnitName, "Flat A")][..]),
        (
            PlanForm::AddFloor,
            &[(Field::FloorName, "Roof"), (Field::FloorNumber, "3")],
        ),
        (
            PlanForm::AddRoom,
            &[(Field::RoomName, "Kitchen"), (Field::RoomCode, "KIT")],
        ),
        (
            PlanForm::AddRack,
            &[(Field::RackName, "Main rack"), (Field::RackSpace, "1A")],
        ),
        (PlanForm::AddDevice, &[(Field::DeviceLabel, "Amplifier")]),
        (PlanForm::AddJoint, &[(Field::JointName, "Pond splice")]),
    ] {
        assert_eq!(asks(&mut phone, form, texts), None, "{texts:?}");
    }
    let records = phone
        .model
        .open
        .as_ref()
        .expect("a job")
        .journal
        .acts()
        .count();
    for (form, texts, field) in [
        (PlanForm::AddUnit, &[][..], Field::UnitName),
        (
            PlanForm::AddUnit,
            &[(Field::UnitName, "flat a")],
            Field::UnitName,
        ),
        (PlanForm::AddFloor, &[], Field::FloorName),
        (
            PlanForm::AddFloor,
            &[(Field::FloorName, "roof"), (Field::FloorNumber, "4")],
            Field::FloorName,
        ),
        (
            PlanForm::AddFloor,
            &[(Field::FloorName, "Attic"), (Field::FloorNumber, "3")],
            Field::FloorNumber,
        ),
        (PlanForm::AddRoom, &[], Field::RoomName),
        (
            PlanForm::AddRoom,
            &[(Field::RoomName, "Galley"), (Field::RoomCode, "kit")],
            Field::RoomCode,
        ),
        (PlanForm::AddRack, &[], Field::RackName),
        (
            PlanForm::AddRack,
            &[(Field::RackName, "MAIN rack")],
            Field::RackName,
        ),
        (
            PlanForm::AddRack,
            &[(Field::RackName, "Loft rack"), (Field::RackSpace, "1a")],
            Field::RackSpace,
        ),
        (PlanForm::AddDevice, &[], Field::DeviceLabel),
        (
            PlanForm::AddDevice,
            &[(Field::DeviceLabel, "amplifier")],
            Field::DeviceLabel,
        ),
        (PlanForm::AddJoint, &[], Field::JointName),
        (
            PlanForm::AddJoint,
            &[(Field::JointName, "pond  splice")],
            Field::JointName,
        ),
        (PlanForm::LayConduit, &[], Field::ConduitFrom),
        (
            PlanForm::LayConduit,
            &[(Field::ConduitFrom, "Meter"), (Field::ConduitNumber, "0")],
            Field::ConduitNumber,
        ),
    ] {
        assert_eq!(asks(&mut phone, form, texts), Some(field), "{texts:?}");
    }
    let journal = &phone.model.open.as_ref().expect("a job").journal;
    assert_eq!(journal.acts().count(), records, "nothing of it was written");
}

#[test]
fn what_was_begun_in_one_job_waits_there_and_is_not_met_in_another() {
    let mut phone = Phone::new();
    let first = phone.model.route.print();
    phone.types(Field::Find, "abed1a");
    phone.types(Field::RackName, "Loft");
    phone.types(Field::TagsDots, "203");
    phone.acts(Action::GoToJobs);
    for name in ["Quibble Barn", "Weir house"] {
        phone.types(Field::JobName, name);
        // Through the list, and straight from one job into a new one.
        phone.acts(Action::Submit(Form::NewJob));
        for field in [Field::Find, Field::RackName, Field::JobName] {
            assert_eq!(phone.field(field), "", "{name}");
        }
        assert_eq!(
            phone.field(Field::TagsDots),
            "203",
            "the printer is the same"
        );
        phone.types(Field::Find, name);
    }
    phone.acts(Action::HashChanged(first));
    assert_eq!(phone.field(Field::Find), "abed1a");
    assert_eq!(phone.field(Field::RackName), "Loft");
}
