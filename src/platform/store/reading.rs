//! Reading: a whole store, or the lines of one job, with one request each.

use indexed_db_futures::prelude::QuerySource;
use indexed_db_futures::transaction::Transaction;
use indexed_db_futures::{BuildPrimitive, KeyRange, Result};
use js_sys::{Array, ArrayBuffer, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

use super::{ACTS, JOBS, PICTURES};
use crate::app::ports::{Found, JobCard, readable};

/// All jobs. One whose name cannot be read is listed by its id.
pub(super) async fn jobs(transaction: &Transaction<'_>) -> Result<Found<JobCard>> {
    let store = transaction.object_store(JOBS)?;
    // Both answers come in the order of the keys.
    let keys = store.get_all_keys::<JsValue>().primitive()?.await?;
    let names = store.get_all::<JsValue>().primitive()?.await?;
    let mut found = Found {
        items: Vec::new(),
        unreadable: 0,
    };
    for (key, name) in keys.zip(names) {
        let (id, name) = (key?.as_string(), name?.as_string());
        if id.is_none() || name.is_none() {
            found.unreadable += 1;
        }
        if let Some(id) = id {
            let name = name.unwrap_or_else(|| id.clone());
            found.items.push(JobCard { id, name });
        }
    }
    Ok(found)
}

/// Every line of a job, single or together.
pub(super) async fn lines(transaction: &Transaction<'_>, job: &str) -> Result<Found<String>> {
    let store = transaction.object_store(ACTS)?;
    let values = store
        .get_all::<JsValue>()
        .with_query::<JsValue, _>(all_of(job))
        .primitive()?
        .await?;
    let mut found = Found {
        items: Vec::with_capacity(values.len()),
        unreadable: 0,
    };
    for value in values {
        let (text, unreadable) = text_of(value?);
        found.items.extend(text);
        found.unreadable += unreadable;
    }
    Ok(found)
}

/// The lines of a stored value, and how many of them are no text.
fn text_of(value: JsValue) -> (Option<String>, usize) {
    match value.dyn_into::<ArrayBuffer>() {
        Ok(together) => {
            let (text, torn) = readable(Uint8Array::new(&together).to_vec());
            (Some(text), torn)
        }
        Err(line) => {
            let line = line.as_string();
            let torn = usize::from(line.is_none());
            (line, torn)
        }
    }
}

/// What is stored of a picture.
pub(super) async fn picture(
    transaction: &Transaction<'_>,
    key: &JsValue,
) -> Result<Option<JsValue>> {
    let store = transaction.object_store(PICTURES)?;
    store
        .get::<JsValue, JsValue, _>(key.clone())
        .primitive()?
        .await
}

/// All keys that begin with a job: an array sorts after every text and number (Indexed Database API,
/// comparison of keys), so `[job, []]` stands behind the last of them.
pub(super) fn all_of(job: &str) -> KeyRange<JsValue> {
    let job = JsValue::from_str(job);
    let first = Array::of1(&job).into();
    let behind = Array::of2(&job, &Array::new()).into();
    KeyRange::Bound(first, false, behind, true)
}

/// The keys under which lines of a job stand together, and those under which they stand singly: a number
/// sorts before every text.
pub(super) fn together_and_single(job: &JsValue) -> [KeyRange<JsValue>; 2] {
    let first: JsValue = Array::of1(job).into();
    let between: JsValue = Array::of2(job, &JsValue::from_str("")).into();
    let behind = Array::of2(job, &Array::new()).into();
    [
        KeyRange::Bound(first, false, between.clone(), true),
        KeyRange::Bound(between, false, behind, true),
    ]
}
