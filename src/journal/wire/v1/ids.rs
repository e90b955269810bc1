//! Lists of ids, read straight into what they are: a job has very many of them.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, SeqAccess, Visitor};
use serde::{Serialize, Serializer};
use thin_vec::ThinVec;

use super::text::Str;
use super::words::whole_number;
use crate::domain::ids::{ActId, ThingId};
use crate::journal::act::FactRef;

/// What is named by a text.
pub(super) trait Id: Sized {
    fn read(text: &str) -> Option<Self>;
    fn text(&self) -> String;
}

impl Id for ActId {
    fn read(text: &str) -> Option<Self> {
        text.parse().ok()
    }

    fn text(&self) -> String {
        self.to_string()
    }
}

impl Id for ThingId {
    fn read(text: &str) -> Option<Self> {
        text.parse().ok()
    }

    fn text(&self) -> String {
        self.to_string()
    }
}

impl Id for FactRef {
    fn read(text: &str) -> Option<Self> {
        let (act, fact) = text.split_once('.')?;
        Some(Self {
            act: act.parse().ok()?,
            fact: whole_number(fact)?,
        })
    }

    fn text(&self) -> String {
        format!("{}.{}", self.act, self.fact)
    }
}

/// A list of ids; none where one of its texts names none.
pub(super) struct Ids<T>(pub(super) Option<ThinVec<T>>);

impl<T: Clone> Ids<T> {
    pub(super) fn of(ids: &[T]) -> Self {
        Self(Some(ids.into()))
    }
}

impl<T> Ids<T> {
    pub(super) fn is_empty(&self) -> bool {
        self.0.as_ref().is_some_and(ThinVec::is_empty)
    }
}

impl<T> Default for Ids<T> {
    fn default() -> Self {
        Self(Some(ThinVec::new()))
    }
}

impl<T: Id> Serialize for Ids<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().flatten().map(Id::text))
    }
}

impl<'de, T: Id> Deserialize<'de> for Ids<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(IdsVisitor(PhantomData))
    }
}

struct IdsVisitor<T>(PhantomData<T>);

impl<'de, T: Id> Visitor<'de> for IdsVisitor<T> {
    type Value = Ids<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of texts")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Ids<T>, A::Error> {
        // Most acts are about one thing, and acts are kept for as long as the job is open.
        let mut ids = Some(ThinVec::with_capacity(1));
        while let Some(text) = list.next_element::<Str<'_>>()? {
            match (T::read(&text), &mut ids) {
                (Some(id), Some(ids)) => ids.push(id),
                (None, _) => ids = None,
                (Some(_), None) => {}
            }
        }
        if let Some(ids) = &mut ids {
            ids.shrink_to_fit();
        }
        Ok(Ids(ids))
    }
}
