//! The app with a job of stored lines open.

use bothends::app::ports::Found;
use bothends::app::{Action, Model, update};
use bothends::domain::ids::JobId;
use bothends::journal::WallTime;

use super::still::Still;

/// Opens a job of which these lines are stored, piece by piece as the app does.
pub(crate) fn opened(job: JobId, lines: Vec<String>) -> (Model, Still) {
    let mut model = Model::default();
    let world = Still::at(WallTime(0), 0);
    update(&mut model, Action::OpenJob(job), &world);
    let lines = Ok(Found {
        items: lines,
        unreadable: 0,
    });
    update(&mut model, Action::JobRead { job, lines }, &world);
    while model.opening.is_some() {
        update(&mut model, Action::OpenFurther, &world);
    }
    assert!(model.open.is_some(), "the job is open");
    (model, world)
}
