//! Opening the database, and making its stores at first.

use std::cell::RefCell;
use std::future::{Future, poll_fn};
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

use indexed_db_futures::database::{Database, VersionChangeEvent};
use indexed_db_futures::error::{Error, OpenDbError};
use indexed_db_futures::future::OpenDbRequest;
use indexed_db_futures::{Build, OpenDbResult};
use wasm_bindgen_futures::spawn_local;

use super::{ACTS, JOBS, PICTURES, trouble_of};
use crate::app::ports::Trouble;
use crate::platform::browser::local_storage_reachable;

/// Name of the database.
const NAME: &str = "bothends";
/// The version of the stores that this program makes. Raising it needs a step in [`make_stores`].
///
/// 1: `jobs` and `acts`. 2: `pictures` beside them; what is in the other two stays as it is. 3: in `acts`
/// lines may stand together.
const VERSION: u32 = 3;

/// Opens the database at this program's version, and makes its stores where there are none.
pub(super) async fn at_our_version() -> Result<Database, Trouble> {
    let blocked = Rc::new(RefCell::new(Blocked::NotYet(None)));
    let told = Rc::clone(&blocked);
    let request = Database::open(NAME)
        .with_version(VERSION)
        .with_on_blocked(move |_| {
            tell(&told);
            Ok(())
        })
        .with_on_upgrade_needed(make_stores)
        .build()
        .map_err(trouble_of_opening)?;
    let mut request = Box::pin(request);
    let opened = poll_fn(|context| match request.as_mut().poll(context) {
        Poll::Ready(opened) => Poll::Ready(Some(opened)),
        Poll::Pending => look(&blocked, context).map(|()| None),
    })
    .await;
    match opened {
        Some(opened) => whole(opened),
        None => {
            close_when_it_comes(request);
            Err(Trouble::HeldByOlder)
        }
    }
}

/// Opens the database at whatever version it has.
pub(super) async fn as_it_is() -> Result<Database, Trouble> {
    let request = Database::open(NAME)
        .with_on_upgrade_needed(make_stores)
        .build()
        .map_err(trouble_of_opening)?;
    whole(request.await)
}

/// Makes the stores that are missing.
fn make_stores(_: VersionChangeEvent, database: Database) -> Result<(), Error> {
    for store in missing_stores(&database) {
        database.create_object_store(store).build()?;
    }
    Ok(())
}

/// The database if all its stores are there. One without them is not taken for an empty one.
fn whole(opened: OpenDbResult<Database>) -> Result<Database, Trouble> {
    let database = opened.map_err(trouble_of_opening)?;
    if missing_stores(&database).is_empty() {
        return Ok(database);
    }
    database.close();
    Err(Trouble::Unreadable(
        "a part of the storage is missing".to_owned(),
    ))
}

fn missing_stores(database: &Database) -> Vec<&'static str> {
    let there: Vec<String> = database.object_store_names().collect();
    let mut stores = vec![JOBS, ACTS, PICTURES];
    stores.retain(|store| !there.iter().any(|name| name == store));
    stores
}

/// Lets a request that was blocked run to its end, and closes what comes of it. Were it dropped, the
/// browser would still carry it out, but nobody would make the stores.
fn close_when_it_comes(request: Pin<Box<OpenDbRequest>>) {
    spawn_local(async move {
        if let Ok(database) = request.await {
            database.close();
        }
    });
}

/// Whether another window keeps the database from being brought to our version.
enum Blocked {
    /// Not as far as is known, and who is to be woken when it becomes known.
    NotYet(Option<Waker>),
    /// The browser said so.
    Yes,
}

fn tell(blocked: &RefCell<Blocked>) {
    if let Blocked::NotYet(Some(waiting)) = blocked.replace(Blocked::Yes) {
        waiting.wake();
    }
}

fn look(blocked: &RefCell<Blocked>, context: &Context<'_>) -> Poll<()> {
    match &mut *blocked.borrow_mut() {
        Blocked::NotYet(waiting) => {
            *waiting = Some(context.waker().clone());
            Poll::Pending
        }
        Blocked::Yes => Poll::Ready(()),
    }
}

fn trouble_of_opening(error: OpenDbError) -> Trouble {
    match error {
        // The version is never zero: `indexed_db_futures` says this whenever the browser refuses the
        // call itself, which it does where storage is blocked.
        OpenDbError::VersionZero
        | OpenDbError::NullFactory
        | OpenDbError::UnsupportedEnvironment => Trouble::Blocked,
        OpenDbError::Base(error) => match trouble_of(error) {
            // Chromium calls a blocked database an unknown error, but refuses local storage in plain
            // words.
            Trouble::Other(_) if !local_storage_reachable() => Trouble::Blocked,
            trouble => trouble,
        },
    }
}
