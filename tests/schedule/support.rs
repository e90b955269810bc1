//! A job into which schedules are taken.

use bothends::domain::ids::{ActId, Bits80, JobId, WriterId};
use bothends::exchange::schedule::Schedule;
use bothends::journal::{Draft, Journal, Signature, WallTime};
use bothends::schedule::{Plan, origin, plan};

/// The job of these tests.
pub(super) const JOB: JobId = JobId(Bits80([1; 10]));

/// An empty job on the phone with this number.
pub(super) fn job(phone: u8) -> Journal {
    Journal::new(JOB, WriterId(Bits80([phone; 10])))
}

/// What taking a file in would do.
pub(super) fn planned(journal: &Journal, file: &[u8]) -> Plan {
    let schedule = Schedule::read(file).expect("a schedule");
    plan(&schedule.reading(), journal.registry(), origin(JOB, file))
}

/// Takes a file in.
pub(super) fn take_in(journal: &mut Journal, file: &[u8]) -> Plan {
    let plan = planned(journal, file);
    if !plan.facts.is_empty() {
        let mut draft = journal.draft();
        draft.facts.clone_from(&plan.facts);
        write(journal, draft);
    }
    plan
}

/// Takes the last thing back that was done on this phone.
pub(super) fn take_back(journal: &mut Journal) {
    let mut draft = journal.draft();
    let act = draft.id();
    draft.strikes.push(ActId {
        n: act.n - 1,
        ..act
    });
    write(journal, draft);
}

fn write(journal: &mut Journal, draft: Draft) {
    let signature = Signature {
        by: "PW".to_owned(),
        wall: WallTime(1_700_000_000_000),
    };
    journal.write(draft, signature).expect("it has a place");
}
