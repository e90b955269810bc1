//! A cable schedule on its way into the open job: what it would add is shown before anything is
//! written, and what was picked stays until it was taken in or put away.

use super::turn::go;
use super::write::write_down;
use super::{Effect, Model, Notice, Screen, World};
use crate::command::Refusal;
use crate::domain::ids::JobId;
use crate::domain::order::Order;
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
    /// Why rows cannot be used, each reason once with the lines of its rows.
    pub bad: Vec<(String, Vec<u32>)>,
    /// Whether it had columns that nobody but the person can name.
    pub asks: bool,
    bytes: Vec<u8>,
}

impl Import {
    /// How many rows cannot be used.
    #[must_use]
    pub fn left_out(&self) -> usize {
        self.bad.iter().map(|(_, lines)| lines.len()).sum()
    }

    fn again(&mut self, job: JobId, registry: &Registry) {
        let reading = self.schedule.reading();
        self.plan = schedule::plan(&reading, registry, schedule::origin(job, &self.bytes));
        let unreadable = reading.bad.iter();
        let unreadable = unreadable.map(|bad| (bad.reason.to_string(), bad.line.number()));
        let refused = self.plan.bad();
        let refused = refused.map(|(line, reason)| (reason.to_owned(), line));
        let mut bad: Vec<(String, u32)> = unreadable.chain(refused).collect();
        bad.put_in_order();
        self.bad.clear();
        for (reason, line) in bad {
            match self.bad.last_mut() {
                Some((of, lines)) if *of == reason => lines.push(line),
                _ => self.bad.push((reason, vec![line])),
            }
        }
        self.bad.order_by_key(|(_, lines)| lines[0]);
    }
}

/// Reads a schedule that was picked.
pub(super) fn picked(model: &mut Model, name: &str, bytes: &[u8]) -> Vec<Effect> {
    let Some(open) = &model.open else {
        return Vec::new();
    };
    match Schedule::read(bytes) {
        Ok(schedule) => {
            let mut schedule = schedule;
            assign_as_before(&mut schedule, &model.columns);
            let mut import = Import {
                name: name.to_owned(),
                asks: schedule.mapping().unknown().count() > 0,
                schedule,
                plan: Plan::default(),
                bad: Vec::new(),
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
            model.notice = Some(Notice::Refused(Refusal::new(words)));
            Vec::new()
        }
    }
}

/// Under which name the columns are kept.
pub const COLUMNS: &str = "columns";

/// How many columns are remembered, the last that somebody spoke of.
const REMEMBERED: usize = 60;

/// A heading as it is remembered: without what would break its line.
fn remembered(heading: &str) -> String {
    heading.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Gives the columns of a schedule the uses that people gave to the same headings before.
fn assign_as_before(schedule: &mut Schedule, columns: &str) {
    let headings = schedule.mapping().headings().to_vec();
    for (place, heading) in headings.iter().enumerate() {
        let heading = remembered(heading);
        let mut lines = columns.lines().filter_map(|line| line.split_once('\t'));
        let Some((column, _)) = lines.find(|(_, of)| *of == heading && !heading.is_empty()) else {
            continue;
        };
        let mut all = Column::ALL.into_iter();
        let held = all.find(|it| it.heading() == column);
        let held = held.map_or(Use::Ignored, Use::Holds);
        schedule.mapping_mut().assign(place, held);
    }
}

/// Says what a column holds; none: nothing that is wanted. The next file with this heading has it so
/// from the start.
pub(super) fn map(model: &mut Model, place: usize, column: Option<Column>) -> Vec<Effect> {
    let (Some(import), Some(open)) = (&mut model.import, &model.open) else {
        return Vec::new();
    };
    import
        .schedule
        .mapping_mut()
        .assign(place, column.map_or(Use::Ignored, Use::Holds));
    import.again(open.journal.job(), open.journal.registry());
    model.page = 0;
    let heading = import.schedule.mapping().headings().get(place);
    let heading = remembered(heading.map_or("", String::as_str));
    if heading.is_empty() {
        return Vec::new();
    }
    let said = column.map_or("", Column::heading);
    let mut lines = vec![format!("{said}\t{heading}")];
    let before = model.columns.lines().filter(|line| {
        let of = line.split_once('\t').map(|(_, of)| of);
        of.is_some_and(|of| of != heading)
    });
    lines.extend(before.take(REMEMBERED - 1).map(str::to_owned));
    model.columns = lines.join("\n");
    vec![Effect::Keep {
        key: COLUMNS,
        value: model.columns.clone(),
    }]
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
    let mut words = if adds == 1 {
        "1 cable is added.".to_owned()
    } else {
        format!("{adds} cables are added.")
    };
    let left_out = import.left_out();
    if left_out > 0 {
        words += &format!(" Rows left out: {left_out}.");
    }
    let effects = write_down(model, draft, |_, _| words, world);
    if !effects.is_empty() {
        model.import = None;
    }
    effects
}
