//! The text of a cable's tag, as it is printed or was printed once.

use bothends::codes::tag::{JobKey, PullMark, TagText, Tagged};
use bothends::domain::ids::{CableId, PullId};
use bothends::journal::Journal;

/// The tag of a cable as it is printed now.
pub(crate) fn tag_text(journal: &Journal, id: CableId) -> String {
    let row = journal.registry().cables.get(id).expect("a row");
    tag_of_pull(journal, id, row.pull(id))
}

/// The tag that a cable had while this was its pull.
pub(crate) fn tag_of_pull(journal: &Journal, id: CableId, pull: PullId) -> String {
    let registry = journal.registry();
    let row = registry.cables.get(id).expect("a row");
    let label = registry.label_of(*row.name.get().expect("a name"));
    let tagged = Tagged::Run {
        code: label.expect("a code"),
        pull: PullMark::of(pull),
    };
    let job_key = JobKey::of(journal.job());
    TagText { tagged, job_key }.to_string()
}
