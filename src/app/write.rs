//! Writing down what a person wants: it is said on the bar, stored, and the list of jobs calls the
//! job what it is called then.

use super::ports::{JobCard, StoredLine, Trouble};
use super::saving::Saved;
use super::{Effect, Field, JobList, Model, Notice, World, carry};
use crate::command::{self, Want};
use crate::domain::ids::ActId;
use crate::domain::work::{PullOutcome, TestOutcome};
use crate::journal::{Draft, Journal, Signature};
use crate::query::deeds;

/// Does what a person wants, and has it stored.
pub(super) fn perform(model: &mut Model, want: &Want, world: &impl World) -> Vec<Effect> {
    let Some(open) = &mut model.open else {
        return Vec::new();
    };
    let draft = match command::draft(want, &open.journal) {
        Ok(draft) => draft,
        Err(refusal) => {
            model.notice = Some(Notice::Refused(refusal));
            return Vec::new();
        }
    };
    // A box is chosen among other particulars of the same part, which therefore stays open; and a
    // picture comes when it is ready, whatever is being typed meanwhile.
    let closes = !matches!(want, Want::BoxOutlet { .. } | Want::AddPicture { .. });
    // What is taken back may be more than whoever looks at one cable can see.
    let words = |journal: &Journal, act| match want {
        Want::Undo { .. } => deeds::what_was_done(journal, act),
        // A mistyped code would empty a position unnoticed.
        Want::Land { .. } | Want::LandInstead { .. } => {
            let words = command::done_words(want, journal.registry());
            match deeds::moved_from(journal, act) {
                Some(at) => [&words, " It was on ", &at, "."].concat(),
                None => words,
            }
        }
        _ => command::done_words(want, journal.registry()),
    };
    let effects = write_down(model, draft, words, world);
    if let Some(Notice::Done { good, .. }) = &mut model.notice {
        *good = !tells_failure(want);
    }
    if let (Want::Undo { act }, false) = (want, effects.is_empty()) {
        super::scan::undone(model, *act);
    }
    if closes && !effects.is_empty() {
        model.fields.clear(&[Field::OpenPart]);
    }
    effects
}

/// Whether what is wanted notes that something went wrong.
fn tells_failure(want: &Want) -> bool {
    match want {
        Want::TestCable { test, .. } => test.outcome == TestOutcome::Failed,
        Want::ReportPull { outcome, .. } => !matches!(outcome, PullOutcome::Pulled),
        _ => false,
    }
}

/// Writes a draft down, says what was done, and has it stored.
pub(super) fn write_down(
    model: &mut Model,
    draft: Draft,
    words: impl FnOnce(&Journal, ActId) -> String,
    world: &impl World,
) -> Vec<Effect> {
    // What could not be stored is not added to.
    let newer = Saved::Failed(Trouble::NewerStore);
    if model.saving.state() == newer {
        model.notice = Some(Notice::Trouble(Trouble::NewerStore));
        return Vec::new();
    }
    let named = name_device(model);
    let Some(open) = &mut model.open else {
        return Vec::new();
    };
    let signature = Signature {
        by: model.person.signature(),
        wall: world.now(),
    };
    let written = match open.write(draft, signature) {
        Ok(written) => written,
        Err(trouble) => {
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    };
    model.notice = Some(Notice::Done {
        words: words(&open.journal, written.id),
        act: written.id,
        good: true,
        again: takes_back(&open.journal, written.id),
    });
    let line = stored(written.id, &written.line);
    let job = open.journal.job().0.to_string();
    let card = listed(model);
    let batch = model.saving.begin(&job, vec![line], card);
    let mut effects = vec![Effect::Save(batch), Effect::AskToKeep];
    effects.extend(named);
    effects
}

/// Whether an act takes something back: one that takes back such an act does not.
fn takes_back(journal: &Journal, act: ActId) -> bool {
    let act = journal.act(act).filter(|act| act.facts.is_empty());
    let struck = act.and_then(|act| act.strikes.first());
    struck.is_some_and(|struck| !takes_back(journal, *struck))
}

/// Gives a device a name that nobody has named, so that two of them are told apart in what was done.
fn name_device(model: &mut Model) -> Option<Effect> {
    let open = model.open.as_ref()?;
    if !model.person.alias.is_empty() || !model.person.device.trim().is_empty() {
        return None;
    }
    let writer = open.journal.writer().0.to_string();
    let value = ["phone ", writer.get(..4).unwrap_or_default()].concat();
    model.person.alias.clone_from(&value);
    let key = "alias";
    Some(Effect::Keep { key, value })
}

/// Has the list of jobs call the open job what it is called, whoever named it and however: an undo
/// and a file of another phone rename it too.
pub(super) fn listed(model: &mut Model) -> Option<JobCard> {
    let open = model.open.as_ref()?;
    let card = JobCard {
        id: open.journal.job().0.to_string(),
        name: open.name().to_owned(),
    };
    list(model, card)
}

/// Puts a job on the list, if it does not stand there so already.
pub(super) fn list(model: &mut Model, card: JobCard) -> Option<JobCard> {
    if let JobList::Here(jobs) = &mut model.jobs {
        if jobs.contains(&card) {
            return None;
        }
        carry::put(jobs, &card);
    }
    Some(card)
}

/// A line with the parts of its key.
pub(super) fn stored(id: ActId, line: &str) -> StoredLine {
    let hash = crate::journal::line_hash(line);
    StoredLine {
        writer: id.writer.0.to_string(),
        n: id.n,
        hash,
        line: line.to_owned(),
    }
}
