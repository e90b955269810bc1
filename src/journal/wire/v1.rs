//! The first stored form.
//!
//! An act is an object with the fields of [`ActV1`]; a fact is an object with its kind under `k`
//! and the few fields of [`FactV1`] that this kind uses. `docs/formats.md` lists them.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use super::Unreadable;
use crate::domain::ids::{ActId, Bits80, ThingId, WriterId};
use crate::journal::act::{Act, FactRef, Lamport, WallTime};
use crate::journal::fact::Fact;

mod reading;
mod words;
mod writing;

#[derive(Serialize, Deserialize)]
struct ActV1<'a> {
    v: u32,
    #[serde(borrow)]
    writer: Cow<'a, str>,
    n: u32,
    lamport: u64,
    wall: u64,
    #[serde(borrow, default, skip_serializing_if = "str::is_empty")]
    by: Cow<'a, str>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    about: Vec<Cow<'a, str>>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    replaces: Vec<Cow<'a, str>>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    strikes: Vec<Cow<'a, str>>,
    #[serde(borrow, default)]
    facts: Vec<Cow<'a, RawValue>>,
}

/// The fields of all kinds of fact.
#[derive(Default, Serialize, Deserialize)]
struct FactV1<'a> {
    /// The kind.
    #[serde(borrow)]
    k: Cow<'a, str>,
    /// The thing that the fact is about.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    of: Option<Cow<'a, str>>,
    /// The end: `near` or `far`.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    side: Option<Cow<'a, str>>,
    /// The leg of a split end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg: Option<u8>,
    /// The pull, unless it is the first.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    pull: Option<Cow<'a, str>>,
    /// Another thing.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    to: Option<Cow<'a, str>>,
    /// A second other thing.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    to2: Option<Cow<'a, str>>,
    /// One word of a closed list, or a code.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    code: Option<Cow<'a, str>>,
    /// A number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    n: Option<u32>,
    /// Words of a person.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    text: Option<Cow<'a, str>>,
    /// A reason or remark of a person.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    note: Option<Cow<'a, str>>,
    /// A place.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    at: Option<PlaceV1<'a>>,
    /// An exact place on a wall.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    spot: Option<SpotV1<'a>>,
    /// The cables of an outlet type.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    cables: Option<Vec<PlannedV1<'a>>>,
}

/// The kind alone, of a fact whose other fields have shapes unknown here.
#[derive(Deserialize)]
struct KindV1<'a> {
    #[serde(borrow)]
    k: Cow<'a, str>,
}

/// A place: `kind` is `jack`, `rear`, `front`, `device` or `joint`.
#[derive(Serialize, Deserialize)]
struct PlaceV1<'a> {
    #[serde(borrow)]
    kind: Cow<'a, str>,
    #[serde(borrow)]
    of: Cow<'a, str>,
    #[serde(borrow)]
    no: Cow<'a, str>,
}

/// An exact place on a wall, lengths in millimetres.
#[derive(Serialize, Deserialize)]
struct SpotV1<'a> {
    #[serde(borrow, default)]
    wall: Cow<'a, str>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    height: Option<i32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    offset: Option<i32>,
    #[serde(borrow, default)]
    from: Cow<'a, str>,
}

/// One cable of an outlet type.
#[derive(Serialize, Deserialize)]
struct PlannedV1<'a> {
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    letter: Option<Cow<'a, str>>,
    #[serde(borrow)]
    medium: Cow<'a, str>,
    #[serde(borrow, default)]
    purpose: Cow<'a, str>,
}

fn ids<T: ToString>(ids: &[T]) -> Vec<Cow<'static, str>> {
    ids.iter().map(|id| Cow::Owned(id.to_string())).collect()
}

pub(super) fn write(act: &Act) -> String {
    let facts = act.facts.iter().filter_map(|fact| {
        let fact = writing::fact(fact);
        // These shapes hold strings and whole numbers alone, which JSON always can.
        serde_json::value::to_raw_value(&fact).ok().map(Cow::Owned)
    });
    let shape = ActV1 {
        v: 1,
        writer: Cow::Owned(act.id.writer.0.to_string()),
        n: act.id.n,
        lamport: act.lamport.get(),
        wall: act.wall.0,
        by: Cow::Borrowed(&act.by),
        about: ids(&act.about),
        replaces: act
            .replaces
            .iter()
            .map(|fact| Cow::Owned(format!("{}.{}", fact.act, fact.fact)))
            .collect(),
        strikes: ids(&act.strikes),
        facts: facts.collect(),
    };
    serde_json::to_string(&shape).unwrap_or_default()
}

pub(super) fn read(line: &str) -> Result<Act, Unreadable> {
    let shape: ActV1<'_> =
        serde_json::from_str(line).map_err(|error| Unreadable(error.to_string()))?;
    if shape.v != 1 {
        let newer = "it is of a stored form that this version does not know";
        return Err(Unreadable(newer.to_owned()));
    }
    let writer = shape
        .writer
        .parse::<Bits80>()
        .map_err(|error| Unreadable(error.to_string()))?;
    if shape.wall > Lamport::MAX.get() {
        return Err(Unreadable("its time is beyond all clocks".to_owned()));
    }
    let lamport = Lamport::new(shape.lamport)
        .ok_or_else(|| Unreadable("its counter is too high".to_owned()))?;
    let replaces = shape
        .replaces
        .iter()
        .map(|text| fact_ref(text))
        .collect::<Result<_, _>>()?;
    Ok(Act {
        id: ActId {
            writer: WriterId(writer),
            n: shape.n,
        },
        lamport,
        wall: WallTime(shape.wall),
        by: shape.by.into_owned(),
        about: parsed::<ThingId>(&shape.about)?,
        replaces,
        strikes: parsed::<ActId>(&shape.strikes)?,
        facts: shape.facts.iter().map(|raw| read_fact(raw)).collect(),
    })
}

fn parsed<T: std::str::FromStr<Err: std::fmt::Display>>(
    texts: &[Cow<'_, str>],
) -> Result<Vec<T>, Unreadable> {
    texts
        .iter()
        .map(|text| {
            text.parse()
                .map_err(|error: T::Err| Unreadable(error.to_string()))
        })
        .collect()
}

fn fact_ref(text: &str) -> Result<FactRef, Unreadable> {
    let bad = || Unreadable(format!("“{text}” names no fact"));
    let (act, fact) = text.split_once('.').ok_or_else(bad)?;
    Ok(FactRef {
        act: act.parse().map_err(|_| bad())?,
        fact: fact.parse().map_err(|_| bad())?,
    })
}

fn read_fact(raw: &RawValue) -> Fact {
    // A field whose type a newer version changed makes the fact unknown, not the act unreadable.
    let kind = match serde_json::from_str::<FactV1<'_>>(raw.get()) {
        Ok(shape) => match reading::fact(&shape) {
            Some(fact) => return fact,
            None => shape.k.into_owned(),
        },
        Err(_) => serde_json::from_str::<KindV1<'_>>(raw.get())
            .map(|shape| shape.k.into_owned())
            .unwrap_or_default(),
    };
    Fact::Unknown { kind }
}
