//! The first stored form.
//!
//! An act is an object with the fields of [`ActV1`]; a fact is an object with its kind under `k`
//! and the few fields of [`FactV1`] that this kind uses. `docs/formats.md` lists them.

use std::rc::Rc;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use thin_vec::ThinVec;

use super::Unreadable;
use crate::domain::ids::{ActId, Bits80, ThingId, WriterId};
use crate::journal::act::{Act, FactRef, Lamport, WallTime};
use crate::journal::fact::Fact;

mod ids;
mod known;
mod object;
mod reading;
mod text;
mod words;
mod writing;

use ids::Ids;
use known::KnownFacts;
use object::Object;
use text::Str;

/// An act with a list of facts: as shapes to write, as values or as raw texts to read.
#[derive(Serialize, Deserialize)]
#[serde(bound(deserialize = "L: Deserialize<'de> + Default"))]
struct ActV1<'a, L> {
    v: u32,
    #[serde(borrow)]
    writer: Str<'a>,
    n: u32,
    lamport: u64,
    wall: u64,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    by: Str<'a>,
    #[serde(default, skip_serializing_if = "Ids::is_empty")]
    about: Ids<ThingId>,
    #[serde(default, skip_serializing_if = "Ids::is_empty")]
    replaces: Ids<FactRef>,
    #[serde(default, skip_serializing_if = "Ids::is_empty")]
    strikes: Ids<ActId>,
    #[serde(default)]
    facts: L,
}

/// The fields of all kinds of fact.
#[derive(Default, Serialize, Deserialize)]
struct FactV1<'a> {
    /// The kind.
    #[serde(borrow)]
    k: Str<'a>,
    /// The thing that the fact is about.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    of: Option<Str<'a>>,
    /// The end: `near` or `far`.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    side: Option<Str<'a>>,
    /// The leg of a split end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leg: Option<u8>,
    /// The pull, unless it is the first.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    pull: Option<Str<'a>>,
    /// Another thing.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    to: Option<Str<'a>>,
    /// A second other thing.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    to2: Option<Str<'a>>,
    /// One word of a closed list, or a code.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    code: Option<Str<'a>>,
    /// A number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    n: Option<u32>,
    /// Words of a person.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    text: Option<Str<'a>>,
    /// A reason or remark of a person.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    note: Option<Str<'a>>,
    /// A place.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    at: Option<Box<Object<PlaceV1<'a>>>>,
    /// An exact place on a wall.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    spot: Option<Box<Object<SpotV1<'a>>>>,
    /// The cables of an outlet type.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    cables: Option<Vec<Object<PlannedV1<'a>>>>,
    /// The last act of each writer that was known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    known: Option<Ids<ActId>>,
    /// What is seen where on a picture.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    points: Option<Vec<Object<PointV1<'a>>>>,
}

/// The kind alone, of a fact whose other fields have shapes unknown here.
#[derive(Deserialize)]
struct KindV1<'a> {
    #[serde(borrow)]
    k: Str<'a>,
}

/// A place: `kind` is `jack`, `rear`, `front`, `device` or `joint`.
#[derive(Serialize, Deserialize)]
struct PlaceV1<'a> {
    #[serde(borrow)]
    kind: Str<'a>,
    #[serde(borrow)]
    of: Str<'a>,
    #[serde(borrow)]
    no: Str<'a>,
}

/// An exact place on a wall, lengths in millimetres.
#[derive(Serialize, Deserialize)]
struct SpotV1<'a> {
    #[serde(borrow, default)]
    wall: Str<'a>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    height: Option<i32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    offset: Option<i32>,
    #[serde(borrow, default)]
    from: Str<'a>,
}

/// Something that is seen on a picture: `kind` is `cable` or `outlet`, `x` and `y` are
/// ten-thousandths of the width and the height.
#[derive(Serialize, Deserialize)]
struct PointV1<'a> {
    #[serde(borrow)]
    kind: Str<'a>,
    #[serde(borrow)]
    of: Str<'a>,
    x: u16,
    y: u16,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    offset: Str<'a>,
}

/// One cable of an outlet type.
#[derive(Serialize, Deserialize)]
struct PlannedV1<'a> {
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    letter: Option<Str<'a>>,
    #[serde(borrow)]
    medium: Str<'a>,
    #[serde(borrow, default)]
    purpose: Str<'a>,
}

pub(super) fn write(act: &Act) -> String {
    let facts = act.facts.iter().map(writing::fact).map(Object);
    let shape: ActV1<'_, Vec<Object<FactV1<'_>>>> = ActV1 {
        v: 1,
        writer: Str::from(act.id.writer.0.to_string()),
        n: act.id.n,
        lamport: act.lamport.get(),
        wall: act.wall.0,
        by: Str::from(&*act.by),
        about: Ids::of(&act.about),
        replaces: Ids::of(&act.replaces),
        strikes: Ids::of(&act.strikes),
        facts: facts.collect(),
    };
    // These shapes hold strings and whole numbers alone, which JSON always can.
    serde_json::to_string(&shape).unwrap_or_default()
}

pub(super) fn read(line: &str) -> Result<Act, Unreadable> {
    // Mostly every fact has a shape that is known. Where one has not, the act is read again with
    // its facts apart, so that one unknown fact does not make the act unreadable.
    if let Ok(Object(shape)) = serde_json::from_str::<Object<ActV1<'_, KnownFacts>>>(line) {
        return envelope(shape, |KnownFacts(facts)| facts);
    }
    let Object(shape): Object<ActV1<'_, Vec<&RawValue>>> =
        serde_json::from_str(line).map_err(|_| Unreadable("it has not the fields of one"))?;
    envelope(shape, |facts| facts.into_iter().map(read_fact).collect())
}

fn envelope<L>(
    shape: ActV1<'_, L>,
    facts: impl FnOnce(L) -> ThinVec<Fact>,
) -> Result<Act, Unreadable> {
    if shape.v != 1 {
        let newer = "it is of a stored form that this version does not know";
        return Err(Unreadable(newer));
    }
    let writer = shape.writer.parse::<Bits80>().map_err(|_| BAD_NAME)?;
    if shape.wall > Lamport::MAX.get() {
        return Err(Unreadable("its time is beyond all clocks"));
    }
    let lamport = Lamport::new(shape.lamport).ok_or(Unreadable("its counter is too high"))?;
    Ok(Act {
        id: ActId {
            writer: WriterId(writer),
            n: shape.n,
        },
        lamport,
        wall: WallTime(shape.wall),
        by: Rc::from(&*shape.by),
        about: shape.about.0.ok_or(BAD_NAME)?,
        replaces: shape.replaces.0.ok_or(BAD_NAME)?,
        strikes: shape.strikes.0.ok_or(BAD_NAME)?,
        facts: facts(shape.facts),
    })
}

/// A writer, a thing or something done is named by characters that name none.
const BAD_NAME: Unreadable = Unreadable("one of its names cannot be read");

fn known_fact(shape: FactV1<'_>) -> Fact {
    reading::fact(&shape).unwrap_or_else(|| Fact::Unknown {
        kind: shape.k.into_string(),
    })
}

fn read_fact(raw: &RawValue) -> Fact {
    // A field whose type a newer version changed makes the fact unknown, not the act unreadable.
    if let Ok(Object(shape)) = serde_json::from_str::<Object<FactV1<'_>>>(raw.get()) {
        return known_fact(shape);
    }
    let kind = serde_json::from_str::<Object<KindV1<'_>>>(raw.get());
    Fact::Unknown {
        kind: kind
            .map(|Object(shape)| shape.k.into_string())
            .unwrap_or_default(),
    }
}
