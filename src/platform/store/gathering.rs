//! Lines that are stored together, by the thousand.

use indexed_db_futures::BuildPrimitive;
use indexed_db_futures::database::Database;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::QuerySource;
use indexed_db_futures::{KeyRange, Result as Outcome};
use js_sys::{Array, Uint8Array};
use wasm_bindgen::JsValue;

use super::reading::together_and_single;
use super::writing::{addition, begin, finish, reason};
use super::{ACTS, trouble_of};
use crate::app::ports::{TOGETHER, Trouble};

/// Puts some lines of a job together that stand singly, in one transaction; whether there may be more.
pub(super) async fn some(database: &Database, job: &str) -> Result<bool, Trouble> {
    let (transaction, done) = begin(database, &[ACTS]).map_err(trouble_of)?;
    let store = transaction.object_store(ACTS).map_err(trouble_of)?;
    let job = JsValue::from_str(job);
    // Leaving on an error drops the transaction, which takes everything back.
    let is_done = replace_some(&store, &job).await;
    let is_done =
        is_done.map_err(|error| reason(&transaction).unwrap_or_else(|| trouble_of(error)))?;
    drop(store);
    finish(&transaction, done).await?;
    Ok(is_done)
}

async fn replace_some(store: &ObjectStore<'_>, job: &JsValue) -> Outcome<bool> {
    let [_, single] = together_and_single(job);
    let most = u32::try_from(TOGETHER).unwrap_or(u32::MAX);
    // Both answers come in the order of the keys.
    let keys = store
        .get_all_keys::<JsValue>()
        .with_query::<JsValue, _>(single.clone());
    let keys = keys.with_limit(most).primitive()?.await?;
    let lines = store.get_all::<JsValue>().with_query::<JsValue, _>(single);
    let lines = lines.with_limit(most).primitive()?.await?;
    if lines.len() < TOGETHER {
        return Ok(false);
    }
    let mut range = None;
    let mut texts = Vec::with_capacity(TOGETHER);
    for (key, line) in keys.zip(lines) {
        // What is no text stays where it is, and whatever is behind it.
        let Some(text) = line?.as_string() else { break };
        let key = key?;
        range = Some(match range {
            None => (key.clone(), key),
            Some((first, _)) => (first, key),
        });
        texts.push(text);
    }
    let Some((first, last)) = range else {
        return Ok(false);
    };
    add_together(store, job, &texts).await?;
    let gone = KeyRange::Bound(first, false, last, false);
    store.delete::<JsValue, _>(gone).primitive()?.await?;
    Ok(true)
}

/// Adds lines as one record, beside whatever is there.
pub(super) async fn add_together(
    store: &ObjectStore<'_>,
    job: &JsValue,
    lines: &[impl AsRef<str>],
) -> Outcome<()> {
    let [together, _] = together_and_single(job);
    let keys = store
        .get_all_keys::<JsValue>()
        .with_query::<JsValue, _>(together);
    let last = keys.primitive()?.await?.last().transpose()?;
    // No transaction that writes runs beside this one, so nobody else takes the next number.
    let number = last.map_or(0.0, |key| {
        Array::from(&key).get(1).as_f64().unwrap_or_default()
    });
    let mut text = String::new();
    for line in lines {
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(line.as_ref());
    }
    let key = Array::of2(job, &JsValue::from_f64(number + 1.0));
    let bytes = Uint8Array::from(text.as_bytes()).buffer();
    addition(store, key.into(), bytes.into())?.await
}
