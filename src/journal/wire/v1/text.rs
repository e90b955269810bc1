//! Texts that are borrowed from the line where the line has them as they are.

use std::borrow::Cow;
use std::fmt;
use std::ops::Deref;

use serde::de::{Deserialize, Deserializer, Error, Visitor};
use serde::{Serialize, Serializer};

/// A text of a stored shape. A plain `Cow` is always read as an owned copy where it stands within
/// an option or a list; this one is borrowed unless an escape in it has to be resolved.
#[derive(Clone, Default)]
pub(super) struct Str<'a>(Cow<'a, str>);

impl Str<'_> {
    pub(super) fn into_string(self) -> String {
        self.0.into_owned()
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Deref for Str<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl<'a> From<&'a str> for Str<'a> {
    fn from(text: &'a str) -> Self {
        Self(Cow::Borrowed(text))
    }
}

impl From<String> for Str<'_> {
    fn from(text: String) -> Self {
        Self(Cow::Owned(text))
    }
}

impl Serialize for Str<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Str<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(StrVisitor)
    }
}

struct StrVisitor;

impl<'de> Visitor<'de> for StrVisitor {
    type Value = Str<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a text")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        Ok(Str(Cow::Borrowed(text)))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Str(Cow::Owned(text.to_owned())))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Self::Value, E> {
        Ok(Str(Cow::Owned(text)))
    }
}
