//! Writing: one transaction, all or none, done when it is on the disk.

use indexed_db_futures::database::Database;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::QuerySource;
use indexed_db_futures::transaction::{
    Transaction, TransactionDone, TransactionDurability, TransactionFinishKind, TransactionMode,
    TransactionOptions,
};
use indexed_db_futures::{Build, BuildPrimitive};
use js_sys::Array;
use wasm_bindgen::JsValue;

use super::{ACTS, JOBS, trouble_of};
use crate::app::ports::{JobCard, StoredLine, Trouble};

type Outcome<T> = indexed_db_futures::Result<T>;

/// Puts a job on the list, or renames it there.
pub(super) async fn put_job(database: &Database, card: &JobCard) -> Result<(), Trouble> {
    let (transaction, done) = begin(database, JOBS).map_err(trouble_of)?;
    put(&transaction, card).await.map_err(trouble_of)?;
    finish(&transaction, done).await
}

async fn put(transaction: &Transaction<'_>, card: &JobCard) -> Outcome<()> {
    let store = transaction.object_store(JOBS)?;
    let put = store.put(card.name.as_str()).with_key(card.id.as_str());
    put.without_key_type().primitive()?.await
}

/// Stores lines, all or none.
pub(super) async fn add(
    database: &Database,
    job: &str,
    lines: &[StoredLine],
) -> Result<(), Trouble> {
    if lines.is_empty() {
        return Ok(());
    }
    let (transaction, done) = begin(database, ACTS).map_err(trouble_of)?;
    {
        let store = transaction.object_store(ACTS).map_err(trouble_of)?;
        let job = JsValue::from_str(job);
        for line in lines {
            // Leaving here drops the transaction, which takes everything back.
            add_one(&store, &job, line).await?;
        }
    }
    finish(&transaction, done).await
}

/// Adds a line unless it is there.
async fn add_one(store: &ObjectStore<'_>, job: &JsValue, line: &StoredLine) -> Result<(), Trouble> {
    let key = JsValue::from(Array::of4(
        job,
        &JsValue::from_str(&line.writer),
        &JsValue::from(line.n),
        &JsValue::from_str(&line.hash),
    ));
    let there = there(store, &key).await.map_err(trouble_of)?;
    match there {
        None => add_new(store, key, &line.line).await.map_err(trouble_of),
        Some(there) if there.as_string().as_deref() == Some(&line.line) => Ok(()),
        Some(_) => Err(Trouble::Unreadable(format!(
            "another text stands under writer {} and number {}",
            line.writer, line.n
        ))),
    }
}

async fn there(store: &ObjectStore<'_>, key: &JsValue) -> Outcome<Option<JsValue>> {
    store
        .get::<JsValue, JsValue, _>(key.clone())
        .primitive()?
        .await
}

/// `add` and never `put`: should the key have come to be taken, this fails.
async fn add_new(store: &ObjectStore<'_>, key: JsValue, line: &str) -> Outcome<()> {
    let add = store.add(line).with_key(key);
    add.without_key_type().primitive()?.await
}

/// A transaction that writes to one store, and the news of its end.
fn begin<'a>(database: &'a Database, store: &str) -> Outcome<(Transaction<'a>, TransactionDone)> {
    let mut options = TransactionOptions::new();
    options.set_durability(TransactionDurability::Strict);
    let transaction = database
        .transaction(store)
        .with_mode(TransactionMode::Readwrite)
        .with_options(options)
        .build()?;
    let done = transaction.on_done()?;
    Ok((transaction, done))
}

/// Waits until the transaction has ended, which it does by itself when nothing more is asked of it.
/// Unlike `Transaction::commit` this leaves the reason of a failure to be read, and that is where
/// the browser says that there is no room.
async fn finish(transaction: &Transaction<'_>, done: TransactionDone) -> Result<(), Trouble> {
    match done.await {
        TransactionFinishKind::Ok => Ok(()),
        TransactionFinishKind::Err | TransactionFinishKind::Abort => {
            Err(transaction.error().map_or_else(taken_back, trouble_of))
        }
    }
}

fn taken_back() -> Trouble {
    Trouble::Other("it took the writing back without a reason".to_owned())
}
