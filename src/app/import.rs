//! A cable schedule on its way into the open job: what it would add is shown before anything is
//! written, and what was picked stays until it was taken in or put away.

use super::turn::go;
use super::write::write_down;
use super::{Effect, Model, Notice, Screen, World};
use crate::command::Refusal;
use crate::domain::ids::JobId;
use crate::exchange::schedule::{Column, Schedule, Use};
use crate::journal::Registry;
use crate::schedule::{self, Plan};

/// A schedule that was picked.
pub struct Import {
    /// The name of the file.
    pub name: String,
    /// The file, read.
    pub schedule: Schedule,
    /// What taking it in would do.
    pub plan: Plan,
    /// Whether it had columns that nobody but the person can name.
    pub asks: bool,
    bytes: Vec<u8>,
}

impl Import {
    fn again(&mut self, job: JobId, registry: &Registry) {
        let reading = self.schedule.reading();
        self.plan = schedule::plan(&reading, registry, schedule::origin(job, &self.bytes));
    }
}

/// Reads a schedule that was picked.
pub(super) fn picked(model: &mut Model, name: &str, bytes: &[u8]) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    match Schedule::read(bytes) {
        Ok(schedule) => {
            let mut import = Import {
                name: name.to_owned(),
                asks: schedule.mapping().unknown().count() > 0,
                schedule,
                plan: Plan::default(),
                bytes: bytes.to_vec(),
            };
            import.again(open.journal.job(), open.journal.registry());
            model.import = Some(import);
            // What was said of another file is over.
            model.notice = None;
            go(model, Screen::Import)
        }
        Err(fault) => {
            let words = format!("{name}: {fault}");
            model.notice = Some(Notice::Refused(Refusal {
                words,
                ways_out: Vec::new(),
            }));
            Vec::new()
        }
    }
}

/// Says what a column holds; none: nothing that is wanted.
pub(super) fn map(model: &mut Model, place: usize, column: Option<Column>) {
    let (Some(import), Some(open)) = (&mut model.import, &model.open) else {
        return;
    };
    import
        .schedule
        .mapping_mut()
        .assign(place, column.map_or(Use::Ignored, Use::Holds));
    import.again(open.journal.job(), open.journal.registry());
}

/// Takes in all good rows, as the job stands now.
pub(super) fn accept(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let (Some(import), Some(open)) = (&mut model.import, &model.open) else {
        return Vec::new();
    };
    import.again(open.journal.job(), open.journal.registry());
    let adds = import.plan.adds();
    let mut draft = open.journal.draft();
    draft.facts.clone_from(&import.plan.facts);
    let words = if adds == 1 {
        "1 cable is added.".to_owned()
    } else {
        format!("{adds} cables are added.")
    };
    let effects = write_down(model, draft, |_, _| words, world);
    if !effects.is_empty() {
        model.import = None;
    }
    effects
}
