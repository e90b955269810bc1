//! The port `Store` on IndexedDB, where the records are safe from the first moment.
//!
//! Database `bothends`. Store `jobs`: key the id of a job, value its name. Store `acts`: key
//! `[job, writer, number, digest]`, value the line, a text. Keys stand outside the values. A line is
//! added, never put over another, and goes only with the whole job. Writing is done when the transaction is complete with strict
//! durability: in trials a browser killed right then lost nothing.
//!
//! Since version 3 lines that are many stand in `acts` together too: key `[job, number]`, counted from 1,
//! value an `ArrayBuffer` with the lines in UTF-8, a line feed between. The browser hands over a record of
//! a thousand lines about as fast as one of a single line. In the order of keys they stand first.
//!
//! Store `pictures`, since version 2: key `[job, size, digest]`, size `whole` or `small`, digest the
//! SHA-256 of the whole one in hexadecimal digits, value an `ArrayBuffer` with a JPEG. The job stands
//! first, as in `acts`, so that all that belongs to one job is one range of keys: a picture that two
//! jobs have is stored twice. Not a `Blob`: those that iOS had stored were found damaged.

mod gathering;
mod opening;
mod reading;
mod standing;
mod writing;

use std::cell::Cell;
use std::rc::Rc;

use indexed_db_futures::Build;
use indexed_db_futures::database::Database;
use indexed_db_futures::error::{Error, JSError};
use indexed_db_futures::transaction::Transaction;
use js_sys::{Array, ArrayBuffer, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

use self::standing::Standing;
use super::trouble;
use crate::app::ports::{
    Found, JobCard, PictureBytes, PictureSize, Pictures, Store, StoredLine, Trouble,
};

pub use self::standing::Closed;

/// Name of the store of jobs.
const JOBS: &str = "jobs";
/// Name of the store of lines.
const ACTS: &str = "acts";
/// Name of the store of pictures.
const PICTURES: &str = "pictures";

/// The store of all jobs on this device. Copies are the same store.
#[derive(Clone, Debug)]
pub struct IndexedDb {
    database: Database,
    standing: Rc<Cell<Standing>>,
}

impl IndexedDb {
    /// Opens the store, and makes it where there is none. `on_closed` is called at most once, when
    /// the store is closed while the page is open; from then on only a reload helps.
    ///
    /// A store that a newer version has changed is opened to read; adding to it answers
    /// [`Trouble::NewerStore`].
    ///
    /// # Errors
    ///
    /// The browser blocks storage, another window holds an older version of the store, or the store
    /// cannot be opened or lacks its parts.
    pub async fn open(on_closed: impl FnOnce(Closed) + 'static) -> Result<Self, Trouble> {
        let (database, standing) = match opening::at_our_version().await {
            Ok(database) => (database, Standing::Open),
            Err(Trouble::NewerStore) => (opening::as_it_is().await?, Standing::ReadOnly),
            Err(trouble) => return Err(trouble),
        };
        let standing = Rc::new(Cell::new(standing));
        standing::watch(&database, &standing, on_closed)?;
        Ok(Self { database, standing })
    }

    /// Whether a newer version has changed the store, so that this one may only read it.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.standing.get() == Standing::ReadOnly
    }

    /// A transaction to read from a store.
    fn to_read(&self, store: &str) -> Result<Transaction<'_>, Trouble> {
        self.standing.get().may_read()?;
        self.database.transaction(store).build().map_err(trouble_of)
    }
}

impl Store for IndexedDb {
    async fn jobs(&self) -> Result<Found<JobCard>, Trouble> {
        reading::jobs(&self.to_read(JOBS)?)
            .await
            .map_err(trouble_of)
    }

    async fn put_job(&self, card: &JobCard) -> Result<(), Trouble> {
        self.standing.get().may_write()?;
        writing::put_all(&self.database, JOBS, vec![writing::row_of(card)]).await
    }

    async fn lines(&self, job: &str) -> Result<Found<String>, Trouble> {
        reading::lines(&self.to_read(ACTS)?, job)
            .await
            .map_err(trouble_of)
    }

    async fn add(
        &self,
        job: &str,
        lines: &[StoredLine],
        listed: Option<&JobCard>,
    ) -> Result<(), Trouble> {
        self.standing.get().may_write()?;
        writing::add(&self.database, job, lines, listed).await
    }

    async fn take_off(&self, job: &str) -> Result<(), Trouble> {
        self.standing.get().may_write()?;
        writing::take_off(&self.database, job).await
    }

    async fn gather(&self, job: &str) -> Result<(), Trouble> {
        self.standing.get().may_write()?;
        while gathering::some(&self.database, job).await? {}
        Ok(())
    }
}

impl Pictures for IndexedDb {
    async fn keep_picture(
        &self,
        job: &str,
        name: &str,
        bytes: &PictureBytes,
    ) -> Result<(), Trouble> {
        self.standing.get().may_write()?;
        // The name says what the bytes are, so that what is there already may be put there again.
        let both = [
            (PictureSize::Whole, &bytes.whole),
            (PictureSize::Small, &bytes.small),
        ];
        let both = both.map(|(size, bytes)| {
            let buffer = Uint8Array::from(bytes.as_slice()).buffer();
            (picture_key(job, size, name), JsValue::from(buffer))
        });
        writing::put_all(&self.database, PICTURES, both.into()).await
    }

    async fn picture(
        &self,
        job: &str,
        name: &str,
        size: PictureSize,
    ) -> Result<Option<Vec<u8>>, Trouble> {
        let transaction = self.to_read(PICTURES)?;
        let found = reading::picture(&transaction, &picture_key(job, size, name)).await;
        match found.map_err(trouble_of)? {
            None => Ok(None),
            Some(value) => match value.dyn_into::<ArrayBuffer>() {
                Ok(buffer) => Ok(Some(Uint8Array::new(&buffer).to_vec())),
                Err(_) => Err(Trouble::Unreadable("a picture".to_owned())),
            },
        }
    }
}

fn picture_key(job: &str, size: PictureSize, name: &str) -> JsValue {
    let size = match size {
        PictureSize::Whole => "whole",
        PictureSize::Small => "small",
    };
    Array::of3(
        &JsValue::from_str(job),
        &JsValue::from_str(size),
        &JsValue::from_str(name),
    )
    .into()
}

/// The trouble that an error of the store stands for.
fn trouble_of(error: Error) -> Trouble {
    match error {
        Error::DomException(exception) => trouble::from_js(&JsValue::from(exception)),
        Error::Unknown(JSError::Error(thrown)) => trouble::from_js(&thrown),
        Error::Unknown(JSError::Unknown(thrown)) => trouble::from_js(&thrown),
        // Not in the library's own words, which bring its printing of floating-point numbers.
        Error::Serialisation(_) => Trouble::Other("a value could not be stored".to_owned()),
        Error::MissingData(_) => Trouble::Other("the storage gave no answer".to_owned()),
    }
}
