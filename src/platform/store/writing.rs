//! Writing: one transaction, all or none, done when it is on the disk.
//!
//! Requests of a transaction are answered in the order in which they were made, and they must be
//! awaited in that order. `indexed_db_futures` listens for the failure of a transaction with a
//! function that throws when it is called a second time, and if one request fails, all behind it
//! fail too. Whoever awaits the first that fails hears of it before the transaction does, and drops
//! the transaction, which takes that function off.

use std::collections::BTreeMap;

use indexed_db_futures::database::Database;
use indexed_db_futures::future::{BasicRequest, VoidRequest};
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::QuerySource;
use indexed_db_futures::transaction::{
    Transaction, TransactionDone, TransactionDurability, TransactionFinishKind, TransactionMode,
    TransactionOptions,
};
use indexed_db_futures::{Build, BuildPrimitive, KeyRange};
use js_sys::Array;
use wasm_bindgen::JsValue;

use super::gathering::add_together;
use super::reading::all_of;
use super::{ACTS, JOBS, PICTURES, trouble_of};
use crate::app::ports::{JobCard, StoredLine, TOGETHER, Trouble};

type Outcome<T> = indexed_db_futures::Result<T>;

/// Puts values under their keys, all or none, over what is there.
pub(super) async fn put_all(
    database: &Database,
    store: &str,
    values: Vec<(JsValue, JsValue)>,
) -> Result<(), Trouble> {
    let (transaction, done) = begin(database, &[store]).map_err(trouble_of)?;
    for (key, value) in values {
        put(&transaction, store, key, value)
            .await
            .map_err(|error| reason(&transaction).unwrap_or_else(|| trouble_of(error)))?;
    }
    finish(&transaction, done).await
}

/// A job as it stands on the list: its key, and what it is called.
pub(super) fn row_of(card: &JobCard) -> (JsValue, JsValue) {
    (JsValue::from_str(&card.id), JsValue::from_str(&card.name))
}

async fn put(
    transaction: &Transaction<'_>,
    store: &str,
    key: JsValue,
    value: JsValue,
) -> Outcome<()> {
    let store = transaction.object_store(store)?;
    let put = store.put(value).with_key(key);
    put.without_key_type().primitive()?.await
}

/// Takes a job off the list, and everything that belongs to it with it.
pub(super) async fn take_off(database: &Database, job: &str) -> Result<(), Trouble> {
    let (transaction, done) = begin(database, &[JOBS, ACTS, PICTURES]).map_err(trouble_of)?;
    let listed = KeyRange::Only(JsValue::from_str(job));
    for (store, keys) in [(JOBS, listed), (ACTS, all_of(job)), (PICTURES, all_of(job))] {
        // Leaving on an error drops the transaction, which takes everything back.
        delete(&transaction, store, keys)
            .await
            .map_err(|error| reason(&transaction).unwrap_or_else(|| trouble_of(error)))?;
    }
    finish(&transaction, done).await
}

async fn delete(
    transaction: &Transaction<'_>,
    store: &str,
    keys: KeyRange<JsValue>,
) -> Outcome<()> {
    let store = transaction.object_store(store)?;
    store.delete::<JsValue, _>(keys).primitive()?.await
}

/// Stores lines, and what the list of jobs calls the job: all or none.
pub(super) async fn add(
    database: &Database,
    job: &str,
    lines: &[StoredLine],
    listed: Option<&JobCard>,
) -> Result<(), Trouble> {
    let lines = distinct(lines)?;
    if lines.is_empty() && listed.is_none() {
        return Ok(());
    }
    let stores: &[&str] = match listed {
        Some(_) => &[ACTS, JOBS],
        None => &[ACTS],
    };
    let (transaction, done) = begin(database, stores).map_err(trouble_of)?;
    let job = JsValue::from_str(job);
    if let Some((key, value)) = listed.map(row_of) {
        put(&transaction, JOBS, key, value)
            .await
            .map_err(|error| reason(&transaction).unwrap_or_else(|| trouble_of(error)))?;
    }
    // Leaving here drops the transaction, which takes everything back.
    add_all(&transaction, &job, &lines)
        .await
        .map_err(|trouble| reason(&transaction).unwrap_or(trouble))?;
    finish(&transaction, done).await
}

/// The lines without repetitions.
fn distinct(lines: &[StoredLine]) -> Result<Vec<&StoredLine>, Trouble> {
    let mut seen = BTreeMap::new();
    let mut distinct = Vec::with_capacity(lines.len());
    for line in lines {
        match seen.insert((&line.writer, line.n, &line.hash), &line.line) {
            None => distinct.push(line),
            Some(before) if *before == line.line => {}
            Some(_) => return Err(clash(line)),
        }
    }
    Ok(distinct)
}

/// Adds lines: together where they are many, and the rest of them each by itself.
async fn add_all(
    transaction: &Transaction<'_>,
    job: &JsValue,
    lines: &[&StoredLine],
) -> Result<(), Trouble> {
    let store = transaction.object_store(ACTS).map_err(trouble_of)?;
    let mut thousands = lines.chunks_exact(TOGETHER);
    for some in &mut thousands {
        let texts: Vec<&String> = some.iter().map(|line| &line.line).collect();
        add_together(&store, job, &texts)
            .await
            .map_err(trouble_of)?;
    }
    add_some(&store, job, thousands.remainder()).await
}

/// Adds the lines that are not there, each by itself.
async fn add_some(
    store: &ObjectStore<'_>,
    job: &JsValue,
    lines: &[&StoredLine],
) -> Result<(), Trouble> {
    let mut looks = Vec::with_capacity(lines.len());
    for line in lines {
        let key = key(job, line);
        let look = look(store, &key).map_err(trouble_of)?;
        looks.push((key, *line, look));
    }
    let mut missing = Vec::with_capacity(lines.len());
    for (key, line, look) in looks {
        match look.await.map_err(trouble_of)? {
            None => missing.push((key, line)),
            Some(there) if there.as_string().as_deref() == Some(&line.line) => {}
            Some(_) => return Err(clash(line)),
        }
    }
    let mut additions = Vec::with_capacity(missing.len());
    for (key, line) in missing {
        additions.push(addition(store, key, JsValue::from_str(&line.line)).map_err(trouble_of)?);
    }
    for addition in additions {
        addition.await.map_err(trouble_of)?;
    }
    Ok(())
}

fn key(job: &JsValue, line: &StoredLine) -> JsValue {
    JsValue::from(Array::of4(
        job,
        &JsValue::from_str(&line.writer),
        &JsValue::from(line.n),
        &JsValue::from_str(&line.hash),
    ))
}

fn look(store: &ObjectStore<'_>, key: &JsValue) -> Outcome<BasicRequest<Option<JsValue>>> {
    store.get::<JsValue, JsValue, _>(key.clone()).primitive()
}

/// `add` and never `put`: should the key be taken after all, this fails.
pub(super) fn addition(
    store: &ObjectStore<'_>,
    key: JsValue,
    value: JsValue,
) -> Outcome<VoidRequest> {
    let add = store.add(value).with_key(key);
    add.without_key_type().primitive()
}

fn clash(line: &StoredLine) -> Trouble {
    Trouble::Unreadable(format!(
        "another text stands under writer {} and number {}",
        line.writer, line.n
    ))
}

/// A transaction that writes to these stores, and the news of its end.
pub(super) fn begin<'a>(
    database: &'a Database,
    stores: &[&str],
) -> Outcome<(Transaction<'a>, TransactionDone)> {
    let mut options = TransactionOptions::new();
    options.set_durability(TransactionDurability::Strict);
    let transaction = database
        .transaction(stores.to_vec())
        .with_mode(TransactionMode::Readwrite)
        .with_options(options)
        .build()?;
    let done = transaction.on_done()?;
    Ok((transaction, done))
}

/// Waits until the transaction has ended, which it does by itself when nothing more is asked of it.
/// Unlike `Transaction::commit` this leaves the reason of a failure to be read, and that is where
/// the browser says that there is no room.
pub(super) async fn finish(
    transaction: &Transaction<'_>,
    done: TransactionDone,
) -> Result<(), Trouble> {
    match done.await {
        TransactionFinishKind::Ok => Ok(()),
        TransactionFinishKind::Err | TransactionFinishKind::Abort => Err(reason(transaction)
            .unwrap_or_else(|| {
                Trouble::Other("it took the writing back without a reason".to_owned())
            })),
    }
}

/// Why the browser has ended a transaction, if it has. A request that fails because of that knows
/// only that it was ended.
pub(super) fn reason(transaction: &Transaction<'_>) -> Option<Trouble> {
    transaction.error().map(trouble_of)
}
