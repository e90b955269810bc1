//! Facts read one after the other, each turned into a value before the next is read.

use std::fmt;

use serde::de::{Deserialize, Deserializer, SeqAccess, Visitor};

use thin_vec::ThinVec;

use super::object::Object;
use super::{FactV1, known_fact};
use crate::journal::fact::Fact;

/// The facts of an act of which every one has a shape that is known.
#[derive(Default)]
pub(super) struct KnownFacts(pub(super) ThinVec<Fact>);

impl<'de> Deserialize<'de> for KnownFacts {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(FactsVisitor)
    }
}

struct FactsVisitor;

impl<'de> Visitor<'de> for FactsVisitor {
    type Value = KnownFacts;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of facts")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<KnownFacts, A::Error> {
        // Most acts have one fact, and acts are kept for as long as the job is open.
        let mut facts = ThinVec::with_capacity(1);
        while let Some(Object(shape)) = list.next_element::<Object<FactV1<'_>>>()? {
            facts.push(known_fact(shape));
        }
        facts.shrink_to_fit();
        Ok(KnownFacts(facts))
    }
}
