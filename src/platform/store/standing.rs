//! What the open store still allows, and who is told when that ends.

use std::cell::Cell;
use std::rc::Rc;

use indexed_db_futures::database::Database;
use wasm_bindgen_futures::spawn_local;

use super::trouble_of;
use crate::app::ports::Trouble;

/// Why the store was closed while the page was open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closed {
    /// A newer version in another window needs the store for itself.
    ForNewerVersion,
    /// It was deleted, or the browser gave it up, as it does when site data are cleared.
    ByBrowser,
}

/// What may be done with the store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// Read and write.
    Open,
    /// Read, as a newer version has changed the store.
    ReadOnly,
    /// Nothing any more.
    Closed(Closed),
}

impl Standing {
    pub(super) fn may_read(self) -> Result<(), Trouble> {
        match self {
            Self::Open | Self::ReadOnly => Ok(()),
            Self::Closed(Closed::ForNewerVersion) => Err(Trouble::NewerStore),
            Self::Closed(Closed::ByBrowser) => Err(Trouble::Other(
                "it closed the store of this page; reload the page".to_owned(),
            )),
        }
    }

    pub(super) fn may_write(self) -> Result<(), Trouble> {
        match self {
            Self::ReadOnly => Err(Trouble::NewerStore),
            Self::Open | Self::Closed(_) => self.may_read(),
        }
    }
}

/// Closes the store when a newer version asks for it, as it would wait for ever otherwise, and tells
/// `on_closed` about that and about a closing by the browser.
pub(super) fn watch(
    database: &Database,
    standing: &Rc<Cell<Standing>>,
    on_closed: impl FnOnce(Closed) + 'static,
) -> Result<(), Trouble> {
    let mut changes = database.version_changes().map_err(trouble_of)?;
    let database = database.clone();
    let standing = Rc::clone(standing);
    spawn_local(async move {
        // No version to come means that the store is being deleted.
        let closed = match changes.recv().await {
            Some(change) if change.new_version().is_some() => Closed::ForNewerVersion,
            Some(_) | None => Closed::ByBrowser,
        };
        standing.set(Standing::Closed(closed));
        database.close();
        on_closed(closed);
    });
    Ok(())
}
