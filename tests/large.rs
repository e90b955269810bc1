//! The large job: as large as asked, and the same every time.

use bothends::domain::ids::{Bits80, CableId, WriterId};
use bothends::domain::place::Side;
use bothends::journal::{EndRecord, Health, Journal};
use bothends::walk;

use crate::support::large::{JOB, large_job};

#[test]
fn a_large_job_is_as_large_as_asked_and_mostly_landed() {
    let lines = large_job(301, 7);
    assert_eq!(lines, large_job(301, 7));
    assert_ne!(lines, large_job(301, 8));
    let mut journal = Journal::new(JOB, WriterId(Bits80(*b"aReader000")));
    journal.take(lines.iter().map(String::as_str));
    assert_eq!(journal.health(), Health::default());
    let registry = journal.registry();
    let cables = walk::cables(registry);
    assert_eq!(cables.len(), 302, "outlets have two each");
    let done = |read: fn(&EndRecord) -> bool| {
        let far = |id: &&CableId| {
            let cable = registry
                .cables
                .get(**id)
                .and_then(|cable| cable.end(**id, Side::Far));
            cable.is_some_and(read)
        };
        cables.iter().filter(far).count()
    };
    let marked = done(|end| !end.marks.is_empty());
    let landed = done(|end| end.placement.whole.get().is_some());
    assert!((240..302).contains(&marked), "{marked}");
    assert!((200..marked).contains(&landed), "{landed}");
}
